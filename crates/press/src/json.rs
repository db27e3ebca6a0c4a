//! The edition as JSON, for other programs.
//!
//! Every field of the tree is here, under the names of the tree. Spans are byte ranges of the part's
//! `words`, end exclusive. A figure is `low`, `best` and `high` in `unit`, as reckoned, with the
//! cause of its spread; the rounded words stand beside it. What is missing is an empty text or
//! `null`, so that every object of one kind has the same keys.
//!
//! [`text`] writes the keys in the order below, cautions before everything that could be cooked.

use quartern_edition as tree;
use quartern_edition::Edition;
use quartern_text::{Source, Span, Within};
use serde::Serialize;

/// Returns the edition as one JSON object.
///
/// # Panics
/// Never: every key is text and every figure is finite.
#[must_use]
pub fn object(edition: &Edition) -> serde_json::Value {
    serde_json::to_value(EditionObject::from(edition)).expect("the objects below have text keys only")
}

/// Returns the edition as JSON text, indented, with a line end at the end.
///
/// # Panics
/// Never: every key is text and every figure is finite.
#[must_use]
pub fn text(edition: &Edition) -> String {
    let mut text = serde_json::to_string_pretty(&EditionObject::from(edition))
        .expect("the objects below have text keys only");
    text.push('\n');
    text
}

#[derive(Serialize)]
struct EditionObject<'a> {
    title: &'a str,
    source: SourceObject<'a>,
    cautions: Vec<CautionObject<'a>>,
    allergens: Vec<AllergenObject<'a>>,
    parts: Vec<PartObject<'a>>,
    supplies: Vec<SupplyObject<'a>>,
    glosses: Vec<GlossObject<'a>>,
    notes: Vec<NoteObject<'a>>,
    notices: Vec<NoticeObject<'a>>,
    decisions: Vec<DecisionObject<'a>>,
    authorities: Vec<AuthorityObject<'a>>,
    made_with: &'a str,
}

#[derive(Serialize)]
struct AllergenObject<'a> {
    name: &'a str,
    ingredients: &'a [String],
}

#[derive(Serialize)]
struct SourceObject<'a> {
    author: &'a str,
    title: &'a str,
    written: WithinObject,
    place_name: &'a str,
    printed: Option<WithinObject>,
    edition: &'a str,
    rights: &'a str,
}

#[derive(Serialize)]
struct WithinObject {
    first_year: i16,
    last_year: i16,
    place: &'static str,
}

#[derive(Serialize)]
struct CautionObject<'a> {
    id: &'a str,
    title: &'a str,
    gravity: &'static str,
    words: &'a [String],
    says: &'a str,
    do_instead: &'a str,
    ask: &'a str,
    authority: &'a str,
}

#[derive(Serialize)]
struct PartObject<'a> {
    title: &'a str,
    referred_by: &'a str,
    transcript: &'a str,
    words: &'a str,
    marks: Vec<MarkObject>,
    lines: Vec<LineObject<'a>>,
    steps: Vec<StepObject<'a>>,
    yields: Vec<YieldObject<'a>>,
}

#[derive(Serialize)]
struct SpanObject {
    start: usize,
    end: usize,
}

#[derive(Serialize)]
struct MarkObject {
    span: SpanObject,
    kind: &'static str,
    note: Option<u32>,
    sure: bool,
}

#[derive(Serialize)]
struct LineObject<'a> {
    span: SpanObject,
    words: &'a str,
    printed_amount: &'a str,
    name: &'a str,
    buy: &'a str,
    amount: AmountObject<'a>,
    rate: &'a str,
    optional: bool,
    sure: bool,
    note: u32,
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum AmountObject<'a> {
    Unstated,
    Vague { words: &'a str },
    Reckoned { figure: FigureObject, best: &'a str, range: &'a str, household: &'a str },
    Unreckoned { why: &'a str },
}

#[derive(Serialize)]
struct FigureObject {
    low: f64,
    best: f64,
    high: f64,
    unit: &'static str,
    cause: &'static str,
}

#[derive(Serialize)]
struct StepObject<'a> {
    number: u32,
    span: SpanObject,
    words: &'a str,
    actions: &'a [String],
    uses: &'a [usize],
    times: Vec<FactObject<'a>>,
    heats: Vec<FactObject<'a>>,
    cues: &'a [String],
}

#[derive(Serialize)]
struct FactObject<'a> {
    words: &'a str,
    modern: &'a str,
    note: u32,
}

#[derive(Serialize)]
struct YieldObject<'a> {
    span: SpanObject,
    words: &'a str,
    modern: &'a str,
}

#[derive(Serialize)]
struct SupplyObject<'a> {
    gap: &'static str,
    missing: &'a str,
    supplied: &'a str,
    why: &'a str,
}

#[derive(Serialize)]
struct GlossObject<'a> {
    word: &'a str,
    meaning: &'a str,
    authority: &'a str,
}

#[derive(Serialize)]
struct NoteObject<'a> {
    number: u32,
    part: usize,
    span: SpanObject,
    words: &'a str,
    sentences: &'a [String],
    assumption: &'a str,
    alternatives: Vec<AlternativeObject<'a>>,
    authorities: &'a [usize],
}

#[derive(Serialize)]
struct AlternativeObject<'a> {
    reading: &'a str,
    weight_percent: u32,
}

#[derive(Serialize)]
struct NoticeObject<'a> {
    code: &'static str,
    message: &'a str,
    words: &'a str,
}

#[derive(Serialize)]
struct AuthorityObject<'a> {
    id: &'a str,
    citation: &'a str,
    seen: &'a str,
}

#[derive(Serialize)]
struct DecisionObject<'a> {
    decided: &'a str,
    reason: &'a str,
}

// Each conversion below takes its type apart by name, so that a field added to the tree does not
// compile until it is written here.

impl<'a> From<&'a Edition> for EditionObject<'a> {
    fn from(edition: &'a Edition) -> Self {
        let Edition {
            title,
            source,
            place_name,
            cautions,
            allergens,
            parts,
            supplies,
            glosses,
            notes,
            notices,
            authorities,
            decisions,
            made_with,
        } = edition;
        Self {
            title,
            source: SourceObject::new(source, place_name),
            cautions: cautions.iter().map(Into::into).collect(),
            allergens: allergens
                .iter()
                .map(|tree::Allergen { name, ingredients }| AllergenObject { name, ingredients })
                .collect(),
            parts: parts.iter().map(Into::into).collect(),
            supplies: supplies.iter().map(Into::into).collect(),
            glosses: glosses
                .iter()
                .map(|tree::Gloss { word, meaning, authority }| GlossObject { word, meaning, authority })
                .collect(),
            notes: notes.iter().map(Into::into).collect(),
            notices: notices
                .iter()
                .map(|tree::EditorNotice { code, message, words }| NoticeObject { code, message, words })
                .collect(),
            decisions: decisions
                .iter()
                .map(|tree::DecisionLine { decided, reason }| DecisionObject { decided, reason })
                .collect(),
            authorities: authorities
                .iter()
                .map(|tree::Authority { id, citation, seen }| AuthorityObject { id, citation, seen })
                .collect(),
            made_with,
        }
    }
}

impl<'a> SourceObject<'a> {
    fn new(source: &'a Source, place_name: &'a str) -> Self {
        let Source { title, author, written, printed, edition, rights } = source;
        Self {
            author,
            title,
            written: written.into(),
            place_name,
            printed: printed.as_ref().map(Into::into),
            edition,
            rights,
        }
    }
}

impl From<&Within> for WithinObject {
    fn from(Within { years, place }: &Within) -> Self {
        Self { first_year: years.first(), last_year: years.last(), place: place.as_str() }
    }
}

impl<'a> From<&'a tree::Caution> for CautionObject<'a> {
    fn from(caution: &'a tree::Caution) -> Self {
        let tree::Caution { id, title, gravity, words, says, do_instead, ask, authority } = caution;
        let gravity = match gravity {
            tree::Gravity::Grave => "grave",
            tree::Gravity::Careful => "careful",
        };
        Self { id, title, gravity, words, says, do_instead, ask, authority }
    }
}

impl<'a> From<&'a tree::Part> for PartObject<'a> {
    fn from(part: &'a tree::Part) -> Self {
        let tree::Part { title, referred_by, transcript, words, marks, lines, steps, yields } = part;
        Self {
            title,
            referred_by,
            transcript: transcript.as_str(),
            words,
            marks: marks.iter().map(Into::into).collect(),
            lines: lines.iter().map(Into::into).collect(),
            steps: steps.iter().map(Into::into).collect(),
            yields: yields
                .iter()
                .map(|tree::YieldLine { span, words, modern }| YieldObject {
                    span: (*span).into(),
                    words,
                    modern,
                })
                .collect(),
        }
    }
}

impl From<Span> for SpanObject {
    fn from(span: Span) -> Self {
        Self { start: span.start(), end: span.end() }
    }
}

impl From<&tree::Mark> for MarkObject {
    fn from(&tree::Mark { span, kind, note, sure }: &tree::Mark) -> Self {
        let kind = match kind {
            tree::MarkKind::Item => "item",
            tree::MarkKind::Time => "time",
            tree::MarkKind::Heat => "heat",
            tree::MarkKind::Cue => "cue",
            tree::MarkKind::Reference => "reference",
            tree::MarkKind::Yield => "yield",
        };
        Self { span: span.into(), kind, note: note.map(|note| note.0), sure }
    }
}

impl<'a> From<&'a tree::Line> for LineObject<'a> {
    fn from(line: &'a tree::Line) -> Self {
        let tree::Line { span, words, printed_amount, name, buy, amount, rate, optional, sure, note } = line;
        Self {
            span: (*span).into(),
            words,
            printed_amount,
            name,
            buy,
            amount: amount.into(),
            rate,
            optional: *optional,
            sure: *sure,
            note: note.0,
        }
    }
}

impl<'a> From<&'a tree::LineAmount> for AmountObject<'a> {
    fn from(amount: &'a tree::LineAmount) -> Self {
        match amount {
            tree::LineAmount::Unstated => Self::Unstated,
            tree::LineAmount::Vague(words) => Self::Vague { words },
            tree::LineAmount::Reckoned(tree::ModernAmount { figure, best, range, household }) => {
                let (low, middle, high) = figure.numbers();
                let figure = FigureObject {
                    low,
                    best: middle,
                    high,
                    unit: figure.unit(),
                    cause: figure.cause().words(),
                };
                Self::Reckoned { figure, best, range, household }
            }
            tree::LineAmount::Unreckoned(why) => Self::Unreckoned { why },
        }
    }
}

impl<'a> From<&'a tree::Step> for StepObject<'a> {
    fn from(step: &'a tree::Step) -> Self {
        let tree::Step { number, span, words, actions, uses, times, heats, cues } = step;
        Self {
            number: *number,
            span: (*span).into(),
            words,
            actions,
            uses,
            times: times.iter().map(Into::into).collect(),
            heats: heats.iter().map(Into::into).collect(),
            cues,
        }
    }
}

impl<'a> From<&'a tree::Fact> for FactObject<'a> {
    fn from(tree::Fact { words, modern, note }: &'a tree::Fact) -> Self {
        Self { words, modern, note: note.0 }
    }
}

impl<'a> From<&'a tree::Supply> for SupplyObject<'a> {
    fn from(supply: &'a tree::Supply) -> Self {
        let tree::Supply { gap, missing, supplied, why } = supply;
        let gap = match gap {
            tree::GapKind::Heat => "heat",
            tree::GapKind::Time => "time",
            tree::GapKind::Amount => "amount",
            tree::GapKind::Recipe => "recipe",
        };
        Self { gap, missing, supplied, why }
    }
}

impl<'a> From<&'a tree::Note> for NoteObject<'a> {
    fn from(note: &'a tree::Note) -> Self {
        let tree::Note { number, part, span, words, sentences, assumption, alternatives, authorities } = note;
        Self {
            number: number.0,
            part: *part,
            span: (*span).into(),
            words,
            sentences,
            assumption,
            alternatives: alternatives
                .iter()
                .map(|(reading, weight)| AlternativeObject { reading, weight_percent: *weight })
                .collect(),
            authorities,
        }
    }
}
