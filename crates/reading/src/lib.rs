//! What the words say: items, steps, times, heats, cues, references and yields, each with its span.
//!
//! [`read`] is pure and cannot fail: broken print still gives a reading, plus notices. It never
//! changes the transcript, converts nothing, and guesses nothing silently: what it is not sure of
//! says so.

mod amount;
mod candidates;
mod heats;
mod items;
mod lexer;
mod lexicon;
mod model;
mod pointers;
mod steps;
mod times;
mod title;

use quartern_knowledge::Ingredient;
use quartern_notice::{Code, Notice, Noticed};
pub use quartern_quantity::Ratio;
use quartern_text::Span;

pub use items::{Example, examples};

/// What a transcript was read as.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The heading, if there is one.
    pub title: Option<Span>,
    /// The ingredients brought in, in the order of the words.
    pub items: Vec<Item>,
    /// The method, in the order of the words.
    pub steps: Vec<Step>,
    /// Every stated length of time.
    pub durations: Vec<Duration>,
    /// Every stated cooking heat.
    pub heats: Vec<Heat>,
    /// Every sign that something is done.
    pub cues: Vec<Cue>,
    /// Every pointer to another recipe or page.
    pub references: Vec<Reference>,
    /// Every statement of how much it makes.
    pub yields: Vec<Yield>,
}

/// A mention that brings an ingredient in.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The words that name it, with its amount.
    pub span: Span,
    /// The words of the name alone.
    pub name_span: Span,
    /// What it is.
    pub name: Name,
    /// How much.
    pub amount: Amount,
    /// A word printed with the measure: `heaped`, `small`; empty where there is none.
    pub qualifier: String,
    /// Whether it is part of a rate.
    pub rate: Rate,
    /// It is left to the cook.
    pub optional: bool,
    /// Other things it may be, by the words' own choice ("butter or lard"), with weights.
    pub alternatives: Vec<Choice>,
    /// Is the reader sure of it.
    pub sure: bool,
    /// The rule that read it, in a few words.
    pub rule: &'static str,
}

/// Another reading of the same words.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The plain name.
    pub plain: String,
    /// The ingredient, if it is in the register.
    pub ingredient: Option<&'static Ingredient>,
    /// How likely, in per cent.
    pub weight: u32,
}

/// The name of an ingredient.
#[derive(Clone, Debug, PartialEq)]
pub struct Name {
    /// Plain, singular, lower case, modern spelling.
    pub plain: String,
    /// The ingredient, if it is in the register.
    pub ingredient: Option<&'static Ingredient>,
    /// Other names that would be as right.
    pub also: Vec<String>,
    /// Words of preparation printed with it, lower case: `grated`, `sifted`.
    pub prepared: Vec<String>,
}

/// How much of an ingredient, as printed.
#[derive(Clone, Debug, PartialEq)]
pub enum Amount {
    /// Nothing is said.
    Unstated,
    /// Words without a number: `a little`.
    Vague(String),
    /// Parts that add up; at least one.
    Stated(Vec<Part>),
    /// As much as something else: its weight, half of it.
    SameAs {
        /// The plain name of the other ingredient.
        of: String,
        /// How many times as much.
        factor: Ratio<u32>,
    },
    /// An amount stands here, but it could not be read; holds the words.
    Unread(String),
}

/// A number of one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The least.
    pub low: Ratio<u32>,
    /// The most.
    pub high: Ratio<u32>,
    /// The unit word; `count` for things counted.
    pub unit: &'static str,
}

/// Whether an item is part of a rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Rate {
    /// It is not.
    None,
    /// It is what the rate is reckoned on: the pound in "to every pound of fruit".
    Base,
    /// It is so much to the base; holds the words of the rate.
    Per(String),
}

/// A stated length of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Duration {
    /// Where.
    pub span: Span,
    /// The least, in minutes.
    pub low: f64,
    /// The most, in minutes.
    pub high: f64,
    /// Is the reader sure of it.
    pub sure: bool,
}

/// How hot, in five steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeatClass {
    /// Very slow.
    VerySlow,
    /// Slow, slack, cool, gentle.
    Slow,
    /// Moderate, steady.
    Moderate,
    /// Quick, brisk, hot.
    Hot,
    /// Very quick, fierce.
    VeryHot,
}

impl HeatClass {
    /// Returns the class as the `read --jsonl` contract writes it.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::VerySlow => "very-slow",
            Self::Slow => "slow",
            Self::Moderate => "moderate",
            Self::Hot => "hot",
            Self::VeryHot => "very-hot",
        }
    }
}

/// A stated cooking heat.
#[derive(Clone, Debug, PartialEq)]
pub struct Heat {
    /// Where.
    pub span: Span,
    /// How hot; nothing where only degrees are printed.
    pub class: Option<HeatClass>,
    /// Printed degrees in Celsius, low and high, to one decimal.
    pub celsius: Option<(f64, f64)>,
    /// What is hot.
    pub of: HeatOf,
    /// Is the reader sure of it.
    pub sure: bool,
}

/// What is hot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeatOf {
    /// An oven.
    Oven,
    /// A fire, stove, coals or "heat".
    Fire,
    /// Fat for frying.
    Fat,
}

/// A sign that something is done: "till it will coat the spoon".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// Where.
    pub span: Span,
}

/// What kind of pointer a reference is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ReferenceKind {
    /// To a page.
    Page,
    /// To a numbered recipe.
    Number,
    /// To a recipe by its title.
    Title,
    /// To the recipe before or after, or to something said before.
    Neighbour,
}

impl ReferenceKind {
    /// Returns the kind as the `read --jsonl` contract writes it.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Number => "number",
            Self::Title => "title",
            Self::Neighbour => "neighbour",
        }
    }
}

/// A pointer to another recipe or page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reference {
    /// Where.
    pub span: Span,
    /// Of what kind.
    pub kind: ReferenceKind,
    /// The number or title as printed; empty for a neighbour.
    pub target: String,
    /// Is the reader sure of it.
    pub sure: bool,
}

/// A statement of how much a recipe makes or serves.
#[derive(Clone, Debug, PartialEq)]
pub struct Yield {
    /// Where.
    pub span: Span,
    /// The least.
    pub low: Ratio<u32>,
    /// The most.
    pub high: Ratio<u32>,
    /// Of what: `persons`, `loaves`, `quarts`.
    pub what: String,
}

/// One step of the method: a sentence of the words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Where.
    pub span: Span,
    /// What is done, as plain verbs in order.
    pub actions: Vec<&'static str>,
    /// Indexes of the items named in it.
    pub items: Vec<usize>,
}

/// Reads a recipe. `title` is its heading if that is known apart from the text.
#[must_use]
pub fn read(text: &str, title: Option<&str>) -> Noticed<Reading> {
    let tokens = lexer::lex(text);
    let words = amount::Words { text, tokens: &tokens };
    let heading = title::find(words, title);
    let durations = times::durations(words, heading.end);
    let heats = heats::heats(words, heading.end);
    let references = pointers::references(words, heading.end);
    let yields = pointers::yields(words, heading.end);
    let items = items::items(words, &heading, &durations, &references, &yields);
    let (steps, cues) = steps::steps(words, heading.end, &items);
    let mut notices = Vec::new();
    if items.is_empty() {
        notices.push(Notice {
            code: Code::NothingRead,
            span: None,
            message: "No ingredient was found in these words.".to_owned(),
        });
    }
    for item in &items {
        if let Amount::Unread(printed) = &item.amount {
            notices.push(Notice {
                code: Code::UnreadAmount,
                span: Some(item.span),
                message: format!("The amount “{printed}” could not be read."),
            });
        }
        if !item.sure {
            notices.push(Notice {
                code: Code::UnsureItem,
                span: Some(item.span),
                message: unsure(&flat(slice(text, item.span)), item),
            });
        }
    }
    notices.sort_by_key(|notice| notice.span.map_or(0, Span::start));
    let reading = Reading { title: heading.span, items, steps, durations, heats, cues, references, yields };
    Noticed { value: reading, notices }
}

/// Says what the reader is not sure of.
fn unsure(words: &str, item: &Item) -> String {
    match &item.amount {
        Amount::Stated(_) | Amount::Unread(_) => {
            format!("“{words}” was read as an amount of {}; compare it with the words.", item.name.plain)
        }
        Amount::SameAs { of, .. } => {
            format!(
                "“{words}” was read as {} by the measure of the {of}; compare it with the words.",
                item.name.plain
            )
        }
        Amount::Unstated | Amount::Vague(_) => {
            format!(
                "“{words}” may not be an ingredient brought in here; it was taken as {}.",
                item.name.plain
            )
        }
    }
}

/// Returns the words of a span.
pub(crate) fn slice(text: &str, span: Span) -> &str {
    text.get(span.start()..span.end()).unwrap_or("")
}

/// Returns words with every run of white space made one space.
#[must_use]
pub fn flat(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for part in words.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(part);
    }
    out
}
