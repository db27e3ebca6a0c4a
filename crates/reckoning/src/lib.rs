//! Modern amounts and conditions out of a reading and an editor's decisions, each with its reason.
//!
//! [`reckon`] is pure. It reads no clock and stores nothing; rounding is left to the edition.

use quartern_knowledge::{Authority, CautionRecord, Evidence, Gloss, Ingredient, Measure, Oven};
use quartern_notice::Noticed;
use quartern_quantity::{Figure, Quantity, Temperature};
use quartern_reading::Reading;
use quartern_text::{Source, Span, Transcript};

/// An editor's choice, with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// What was decided.
    pub choice: DecisionKind,
    /// Why. Never empty (checked by [`Decision::new`]).
    pub reason: String,
    /// The day it was made, as given (`1911-05-03`); may be empty.
    pub date: String,
}

/// What an editor can decide.
#[derive(Clone, Debug, PartialEq)]
pub enum DecisionKind {
    /// Take a measure word, wherever it stands in the recipe, as this record of the register.
    TakeMeasure {
        /// The unit word: `gill`.
        unit: String,
        /// The record's id: `gill-northern`.
        measure: String,
    },
    /// Take the words at the first place where they stand as this ingredient.
    TakeName {
        /// The words as printed.
        words: String,
        /// The ingredient's id.
        ingredient: String,
    },
    /// The words bring no ingredient in.
    SetAside {
        /// The words as printed.
        words: String,
    },
    /// Put something into a gap.
    Supply {
        /// `heat`, `time` or `amount`.
        gap: String,
        /// What is supplied, as it shall be printed in [square brackets].
        supplied: String,
        /// Its source.
        source: String,
    },
}

// The lead's outline; whoever completes this file may add types and fields, and keeps these names:
//   Decision::new(kind, reason, date) -> Result<Decision, DecisionError>   (empty reason refused)
//   pub struct Reckoning { items: Vec<ReckonedItem>, heats: Vec<ReckonedHeat>, gaps: Vec<Gap>, cautions: Vec<Caution>, glosses: Vec<GlossedWord>, set_aside: Vec<usize> }
//   pub struct ReckonedItem { item: usize, figure: Option<Figure>, reason: Reason }
//   pub fn reckon(transcript: &Transcript, reading: &Reading, source: &Source, decisions: &[Decision]) -> Noticed<Reckoning>
