//! The edition: a reconstruction frozen for publication, as one typed tree.
//!
//! Every output format walks this tree and nothing else. Figures are rounded here, once, by the
//! kitchen rules in [`kitchen`]. The tree holds words and figures only; it reckons nothing anew and
//! knows no output format.

pub mod kitchen;

use quartern_quantity::Figure;
use quartern_text::{Source, Span, TranscriptId};

/// A numbered note, counted from 1 in the order of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NoteNumber(pub u32);

/// One recipe ready to publish.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The recipe's heading as printed, without emphasis marks.
    pub title: String,
    /// The source it stands in.
    pub source: Source,
    /// The name of the place, for people.
    pub place_name: String,
    /// Hazards, gravest first. They stand at the top of every output.
    pub cautions: Vec<Caution>,
    /// Allergens in what was read, in the order of the page.
    pub allergens: Vec<Allergen>,
    /// The recipe itself, then each recipe it refers to, in the order of the references.
    pub parts: Vec<Part>,
    /// What the source leaves unsaid, with what was supplied.
    pub supplies: Vec<Supply>,
    /// Old words explained, in the order of the page.
    pub glosses: Vec<Gloss>,
    /// The reason for each figure, in the order of the page; number `n` stands at index `n - 1`.
    pub notes: Vec<Note>,
    /// What the editor should look at before publishing.
    pub notices: Vec<EditorNotice>,
    /// Every authority cited, in the order of first use.
    pub authorities: Vec<Authority>,
    /// Decisions of the editor behind this edition.
    pub decisions: Vec<DecisionLine>,
    /// The program and its version, such as `quartern 0.1.0`.
    pub made_with: String,
}

/// A recipe within an edition: the one asked for, or one it refers to.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its heading as printed.
    pub title: String,
    /// The words by which another part refers to it; empty for the first part.
    pub referred_by: String,
    /// The digest that names the transcript.
    pub transcript: TranscriptId,
    /// All its words as printed. Spans in this part are byte ranges of this text.
    pub words: String,
    /// What was read in the words, in order; marks do not overlap.
    pub marks: Vec<Mark>,
    /// The ingredients, in the order of the words.
    pub lines: Vec<Line>,
    /// The method, in order.
    pub steps: Vec<Step>,
    /// How much it makes or serves, as printed.
    pub yields: Vec<YieldLine>,
}

/// What a marked stretch of the words was read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    /// An ingredient with or without its amount.
    Item,
    /// A length of time.
    Time,
    /// A cooking heat.
    Heat,
    /// A sign that it is done.
    Cue,
    /// A pointer to another recipe.
    Reference,
    /// How much it makes.
    Yield,
}

/// A stretch of the original words in which something was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where.
    pub span: Span,
    /// As what.
    pub kind: MarkKind,
    /// The note that explains it, if it has one.
    pub note: Option<NoteNumber>,
    /// Is the reader sure of it.
    pub sure: bool,
}

/// The modern amount of one ingredient.
#[derive(Clone, Debug, PartialEq)]
pub struct ModernAmount {
    /// The figure as reckoned, not rounded.
    pub figure: Figure,
    /// The best value, rounded by the kitchen rules, with its unit: `140 ml`.
    pub best: String,
    /// The range, rounded by the kitchen rules, with its unit: `118–170 ml`; empty where there is none.
    pub range: String,
    /// The same by weight or by household measure where that helps: `about ⅗ of a 240 ml cup`. May be empty.
    pub household: String,
}

/// How an ingredient's amount is meant.
#[derive(Clone, Debug, PartialEq)]
pub enum LineAmount {
    /// The words give no amount.
    Unstated,
    /// Words without a number, as printed: `a little`.
    Vague(String),
    /// An amount that was read and reckoned.
    Reckoned(ModernAmount),
    /// An amount stands in the words, but nothing was reckoned from it; says why.
    Unreckoned(String),
}

/// One ingredient.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Where it stands in the words.
    pub span: Span,
    /// The words as printed.
    pub words: String,
    /// The amount as printed, without the ingredient: `half a pint`. Empty where none is stated.
    pub printed_amount: String,
    /// The plain name: `egg yolk`.
    pub name: String,
    /// What a cook buys for it today, where that is another name. May be empty.
    pub buy: String,
    /// The amount.
    pub amount: LineAmount,
    /// The words of a rate, `to every pound of fruit`; `base` for what the rate goes by; empty where
    /// there is none.
    pub rate: String,
    /// The source leaves it to the cook.
    pub optional: bool,
    /// Is the reader sure of it.
    pub sure: bool,
    /// The note that says why.
    pub note: NoteNumber,
}

/// One step of the method.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Counted from 1 within the part.
    pub number: u32,
    /// Where it stands in the words.
    pub span: Span,
    /// The words as printed, line breaks made spaces.
    pub words: String,
    /// What is done, as plain verbs in order: `mix`, `bake`.
    pub actions: Vec<String>,
    /// What goes in here: indexes into the part's `lines`.
    pub uses: Vec<usize>,
    /// Times stated, in words a cook of today reads: `30 minutes`.
    pub times: Vec<Fact>,
    /// Heats stated: `a slow oven` with `about 150 °C (130–165 °C)`.
    pub heats: Vec<Fact>,
    /// Signs that it is done, as printed.
    pub cues: Vec<String>,
}

/// Words as printed with what they come to today.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// As printed.
    pub words: String,
    /// In modern terms.
    pub modern: String,
    /// The note that says why.
    pub note: NoteNumber,
}

/// How much it makes.
#[derive(Clone, Debug, PartialEq)]
pub struct YieldLine {
    /// Where.
    pub span: Span,
    /// As printed.
    pub words: String,
    /// In modern terms: `6–7 persons`.
    pub modern: String,
}

/// What kind of thing the source leaves unsaid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GapKind {
    /// No heat for the oven or the fire.
    Heat,
    /// No length of time.
    Time,
    /// An ingredient without an amount.
    Amount,
    /// A recipe referred to that is not at hand.
    Recipe,
}

/// A gap, and what was put into it.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// What is missing.
    pub gap: GapKind,
    /// The gap in one sentence: `No heat is given for the baking.`
    pub missing: String,
    /// What is supplied, to be shown in [square brackets]. Empty where nothing could be supplied.
    pub supplied: String,
    /// Why that, in one sentence that ends in a source.
    pub why: String,
}

/// An old word explained.
#[derive(Clone, Debug, PartialEq)]
pub struct Gloss {
    /// The word as printed.
    pub word: String,
    /// What it meant then and there.
    pub meaning: String,
    /// On whose word.
    pub authority: String,
}

/// The reason for one figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Its number.
    pub number: NoteNumber,
    /// Which part of the edition it belongs to, counted from 0.
    pub part: usize,
    /// Where the words stand.
    pub span: Span,
    /// The words the figure was read from.
    pub words: String,
    /// The reason as readable sentences, the last of which names the source.
    pub sentences: Vec<String>,
    /// The assumption made, if any.
    pub assumption: String,
    /// Other ways to read it, each with its weight in per cent.
    pub alternatives: Vec<(String, u32)>,
    /// The authorities it rests on: indexes into the edition's `authorities`.
    pub authorities: Vec<usize>,
}

/// How grave a hazard is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gravity {
    /// Can do lasting harm.
    Grave,
    /// Needs care.
    Careful,
}

/// A hazard found, its cause, and the authority to ask.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// The record in the register of cautions.
    pub id: String,
    /// A short title.
    pub title: String,
    /// How grave.
    pub gravity: Gravity,
    /// The words that raised it, as printed.
    pub words: Vec<String>,
    /// What can happen.
    pub says: String,
    /// What to do instead.
    pub do_instead: String,
    /// Whom to ask.
    pub ask: String,
    /// On whose word.
    pub authority: String,
}

/// A substance that can cause allergies or intolerances, of those that must be named by law.
#[derive(Clone, Debug, PartialEq)]
pub struct Allergen {
    /// Its name: `gluten`, `milk`.
    pub name: String,
    /// The ingredients that hold it, by their plain names.
    pub ingredients: Vec<String>,
}

/// Something the editor should look at.
#[derive(Clone, Debug, PartialEq)]
pub struct EditorNotice {
    /// The code, such as `R002`.
    pub code: &'static str,
    /// One sentence.
    pub message: String,
    /// The words it is about; may be empty.
    pub words: String,
}

/// An authority cited.
#[derive(Clone, Debug, PartialEq)]
pub struct Authority {
    /// Its id in the bibliography; empty for common practice and memory.
    pub id: String,
    /// The citation in full, as one sentence.
    pub citation: String,
    /// Was it opened while the record was written, or recalled.
    pub seen: String,
}

/// A decision of the editor.
#[derive(Clone, Debug, PartialEq)]
pub struct DecisionLine {
    /// What was decided.
    pub decided: String,
    /// The reason given.
    pub reason: String,
}
