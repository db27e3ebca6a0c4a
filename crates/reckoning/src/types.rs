//! What a reckoning holds.

use std::sync::Arc;

use quartern_knowledge::{CautionRecord, Density, Gloss, Ingredient, Oven, Resolved, Weight};
use quartern_quantity::{Figure, Mass, Quantity, Temperature};
use quartern_reading::{HeatOf, Part, Ratio};
use quartern_text::{Span, Within};

/// Modern amounts and conditions, with what the editor should know.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reckoning {
    /// One for each item of the reading, in the same order.
    pub items: Vec<ReckonedItem>,
    /// One for each heat of the reading, in the same order.
    pub heats: Vec<ReckonedHeat>,
    /// What the source leaves unsaid.
    pub gaps: Vec<Gap>,
    /// Hazards, gravest first.
    pub cautions: Vec<Caution>,
    /// Old words explained, in the order of the words.
    pub glosses: Vec<GlossedWord>,
    /// Items that the editor set aside: indexes into the reading's items, in order.
    pub set_aside: Vec<usize>,
}

/// The amount of one item.
#[derive(Clone, Debug, PartialEq)]
pub struct ReckonedItem {
    /// Which item of the reading.
    pub item: usize,
    /// The ingredient, by the register and the editor's decisions.
    pub ingredient: Option<&'static Ingredient>,
    /// The plain name, if the editor's decision changed it.
    pub renamed: Option<&'static str>,
    /// The figure; nothing where none can be reckoned.
    pub figure: Option<Figure>,
    /// Why.
    pub reason: Reason,
}

/// Why a figure is what it is: from the words to the measure, the goods and the assumption.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The words it was read from.
    pub span: Span,
    /// The plain name of the ingredient.
    pub name: String,
    /// When and where the words were written.
    pub at: Within,
    /// What the words say, and what was made of it.
    pub ground: Ground,
    /// How a volume, or things counted, became a weight.
    pub weighing: Option<Weighing>,
    /// A word printed with the measure, and what it did.
    pub shift: Option<Shift>,
    /// The words of the rate it is part of; empty where there is none.
    pub rate: String,
    /// Where it was printed, if that is another place than where it was written.
    pub printed_elsewhere: Option<Within>,
    /// The figure it leads to.
    pub figure: Option<Figure>,
}

/// What the words say of an amount, and what was made of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Ground {
    /// Nothing is said.
    Unstated,
    /// Words without a number.
    Vague(String),
    /// An amount that could not be read.
    Unread(String),
    /// Things counted; the weight of one, if it is on record.
    Counted {
        /// The parts as printed.
        parts: Vec<Part>,
        /// The weight of one.
        weight: Option<&'static Weight>,
    },
    /// Measured parts that add up.
    Measured(Vec<Measured>),
    /// As much as another item.
    SameAs(Box<Equal>),
    /// As much as something that was not found among the items.
    SameAsUnknown(String),
    /// The unit has no size on record there and then.
    NoSize(&'static str),
    /// The unit is a sum of money.
    Money(&'static str),
    /// The unit is a length, which is no amount.
    Length(&'static str),
    /// The parts are of kinds that do not add up.
    Mixed,
}

/// One printed part with its measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// As printed.
    pub part: Part,
    /// The sizes the word had.
    pub size: Arc<Resolved>,
    /// The editor's decision that chose among them: an index into the decisions.
    pub decided: Option<usize>,
}

/// As much as another item.
#[derive(Clone, Debug, PartialEq)]
pub struct Equal {
    /// The other item: an index into the reading's items.
    pub item: usize,
    /// Its plain name.
    pub of: String,
    /// Its name as printed.
    pub printed: String,
    /// How many times as much.
    pub factor: Ratio<u32>,
    /// Is it by weight, whatever the measure.
    pub by_weight: bool,
    /// Why the other is what it is.
    pub reason: Reason,
    /// The other's weight, where `by_weight`.
    pub other: Option<Quantity<Mass>>,
}

/// How a volume, or things counted, became a weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weighing {
    /// By the density of the goods.
    Density(&'static Density),
    /// By the weight of one.
    One(&'static Weight),
    /// Not at all: no density is on record, so the figure stays a volume.
    NotOnRecord,
}

/// A word printed with the measure, and what it did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shift {
    /// It chose among the sizes: `heaped`, `level`.
    Chose(String),
    /// It moved the figure up.
    Up(String),
    /// It moved the figure down.
    Down(String),
}

/// The heat of one statement.
#[derive(Clone, Debug, PartialEq)]
pub struct ReckonedHeat {
    /// Which heat of the reading.
    pub heat: usize,
    /// Degrees; nothing where none can be given.
    pub celsius: Option<Quantity<Temperature>>,
    /// Why.
    pub reason: HeatReason,
}

/// Why a heat is what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatReason {
    /// The words.
    pub words: String,
    /// When and where they were written.
    pub at: Within,
    /// What is hot.
    pub of: HeatOf,
    /// What it rests on.
    pub ground: HeatGround,
}

/// What a heat rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HeatGround {
    /// Printed degrees.
    Printed,
    /// A record of the register of heats.
    Record(&'static Oven),
    /// Nothing: no degrees are on record for these words.
    None,
}

/// What kind of thing the source leaves unsaid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum GapKind {
    /// No heat for the oven.
    Heat,
    /// No length of time and no sign that it is done.
    Time,
    /// An ingredient that matters, without an amount.
    Amount,
    /// A recipe referred to that is not at hand.
    Recipe,
}

/// Something the source leaves unsaid.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    /// What is missing.
    pub kind: GapKind,
    /// The words where it is missed.
    pub span: Option<Span>,
    /// The gap in one sentence.
    pub missing: String,
    /// The item it is about, for an amount.
    pub item: Option<usize>,
    /// What the editor put into it.
    pub supplied: Option<Supplied>,
}

/// What the editor put into a gap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supplied {
    /// As it shall be printed in [square brackets].
    pub what: String,
    /// Its source.
    pub source: String,
    /// The decision: an index into the decisions.
    pub decision: usize,
}

/// A hazard found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The record.
    pub record: &'static CautionRecord,
    /// The words that raised it, in order, at least one.
    pub spans: Vec<Span>,
}

/// An old word with what it meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlossedWord {
    /// Where it stands first.
    pub span: Span,
    /// The record.
    pub gloss: &'static Gloss,
}
