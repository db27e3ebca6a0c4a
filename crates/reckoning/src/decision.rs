//! What an editor decides.

use std::fmt;

use quartern_knowledge::{Ingredient, Measure, ingredients, measure_by_id};
use quartern_notice::{Code, Notice};
use quartern_reading::{Amount, Reading};
use quartern_text::Transcript;

use crate::fold::Folded;

/// An editor's choice, with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    choice: DecisionKind,
    /// Never empty: [`Decision::new`] sees to it.
    reason: String,
    date: String,
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
        /// `heat`, `time`, `amount` or `recipe`.
        gap: String,
        /// What is supplied, as it shall be printed in [square brackets].
        supplied: String,
        /// Its source.
        source: String,
    },
}

/// Why a decision was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DecisionError {
    /// No reason was given.
    NoReason,
    /// A part that must say something is empty; holds its name.
    Empty(&'static str),
    /// A gap is none of `heat`, `time`, `amount`, `recipe`; holds what was given.
    UnknownGap(String),
}

impl fmt::Display for DecisionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoReason => f.write_str("a decision needs a reason, so that a reader can judge it"),
            Self::Empty(part) => write!(f, "a decision of this kind needs `{part}`"),
            Self::UnknownGap(gap) => {
                write!(f, "“{gap}” is no gap that can be filled: give heat, time, amount or recipe")
            }
        }
    }
}

impl std::error::Error for DecisionError {}

impl Decision {
    /// Returns what was decided.
    #[must_use]
    pub fn choice(&self) -> &DecisionKind {
        &self.choice
    }

    /// Returns why; never empty.
    #[must_use]
    pub fn reason(&self) -> &str {
        &self.reason
    }

    /// Returns the day it was made, as given (`1911-05-03`); may be empty.
    #[must_use]
    pub fn date(&self) -> &str {
        &self.date
    }

    /// Takes a choice with its reason and day.
    ///
    /// # Errors
    /// See [`DecisionError`].
    pub fn new(
        choice: DecisionKind,
        reason: impl Into<String>,
        date: impl Into<String>,
    ) -> Result<Self, DecisionError> {
        let reason = reason.into();
        if reason.trim().is_empty() {
            return Err(DecisionError::NoReason);
        }
        let parts: [(&'static str, &str); 3] = match &choice {
            DecisionKind::TakeMeasure { unit, measure } => {
                [("unit", unit), ("measure", measure), ("measure", measure)]
            }
            DecisionKind::TakeName { words, ingredient } => {
                [("words", words), ("ingredient", ingredient), ("ingredient", ingredient)]
            }
            DecisionKind::SetAside { words } => [("words", words), ("words", words), ("words", words)],
            DecisionKind::Supply { gap, supplied, source } => {
                [("gap", gap), ("supplied", supplied), ("source", source)]
            }
        };
        if let Some((name, _)) = parts.iter().find(|(_, text)| text.trim().is_empty()) {
            return Err(DecisionError::Empty(name));
        }
        if let DecisionKind::Supply { gap, .. } = &choice
            && !matches!(gap.as_str(), "heat" | "time" | "amount" | "recipe")
        {
            return Err(DecisionError::UnknownGap(gap.clone()));
        }
        Ok(Self { choice, reason, date: date.into() })
    }

    /// Returns what was decided, as a sentence without its full stop.
    #[must_use]
    pub fn decided(&self) -> String {
        match &self.choice {
            DecisionKind::TakeMeasure { unit, measure } => {
                let name = measure_by_id(measure).map_or(measure.as_str(), |record| record.name);
                format!("“{unit}” is taken as the {name}")
            }
            DecisionKind::TakeName { words, ingredient } => {
                format!("“{words}” is taken as {}", ingredient.replace('-', " "))
            }
            DecisionKind::SetAside { words } => format!("“{words}” is taken to bring no ingredient in"),
            DecisionKind::Supply { gap, supplied, source } => {
                format!("[{supplied}] is supplied for the {gap} ({source})")
            }
        }
    }
}

/// The editor's decisions made ready for one recipe.
#[derive(Clone, Debug, Default)]
pub(crate) struct Chosen {
    measures: Vec<(&'static str, &'static Measure, usize)>,
    names: Vec<(usize, &'static Ingredient)>,
    pub(crate) set_aside: Vec<usize>,
    pub(crate) supplies: Vec<usize>,
    /// Raised by decisions that fit nothing here.
    pub(crate) notices: Vec<Notice>,
}

impl Chosen {
    /// Finds what each decision is about.
    pub(crate) fn new(transcript: &Transcript, reading: &Reading, decisions: &[Decision]) -> Self {
        let mut chosen = Self::default();
        if decisions.is_empty() {
            return chosen;
        }
        let folded = Folded::new(transcript.as_str());
        let items_at = |words: &str| -> Vec<usize> {
            let Some(span) = folded.find(words) else { return Vec::new() };
            let inside: Vec<usize> = (0..reading.items.len())
                .filter(|at| {
                    let item = &reading.items[*at];
                    span.holds(item.span) || item.span.holds(span) || item.name_span.meets(span)
                })
                .collect();
            // Words that lie in the name of one item alone mean that one.
            let named: Vec<usize> =
                inside.iter().copied().filter(|at| reading.items[*at].name_span.meets(span)).collect();
            if named.is_empty() { inside } else { named }
        };
        for (index, decision) in decisions.iter().enumerate() {
            let fits = match &decision.choice {
                DecisionKind::TakeMeasure { unit, measure } => {
                    let record = measure_by_id(measure).filter(|record| record.unit == unit.as_str());
                    let used = reading.items.iter().any(|item| match &item.amount {
                        Amount::Stated(parts) => parts.iter().any(|part| part.unit == unit.as_str()),
                        Amount::Unstated | Amount::Vague(_) | Amount::Unread(_) | Amount::SameAs { .. } => {
                            false
                        }
                    });
                    match record {
                        Some(record) if used => {
                            chosen.measures.retain(|(known, _, _)| *known != record.unit);
                            chosen.measures.push((record.unit, record, index));
                            Ok(())
                        }
                        Some(_) => Err(format!("there is no {unit} in this recipe")),
                        None => Err(format!("the register has no {unit} called “{measure}”")),
                    }
                }
                DecisionKind::TakeName { words, ingredient } => {
                    let record = ingredients().iter().find(|record| record.id == ingredient.as_str());
                    match (record, items_at(words).first()) {
                        (Some(record), Some(item)) => {
                            chosen.names.retain(|(known, _)| known != item);
                            chosen.names.push((*item, record));
                            Ok(())
                        }
                        (None, _) => Err(format!("the register has no ingredient called “{ingredient}”")),
                        (_, None) => Err(format!("no ingredient was read in “{words}”")),
                    }
                }
                DecisionKind::SetAside { words } => {
                    let items = items_at(words);
                    if items.is_empty() {
                        Err(format!("no ingredient was read in “{words}”"))
                    } else {
                        chosen.set_aside.extend(items);
                        Ok(())
                    }
                }
                DecisionKind::Supply { .. } => {
                    chosen.supplies.push(index);
                    Ok(())
                }
            };
            if let Err(why) = fits {
                chosen.notices.push(decision.unfitting(&why));
            }
        }
        chosen.set_aside.sort_unstable();
        chosen.set_aside.dedup();
        chosen
    }

    /// Returns the record an editor took a unit word as, and the decision.
    pub(crate) fn measure(&self, unit: &str) -> Option<(&'static Measure, usize)> {
        self.measures
            .iter()
            .find(|(known, _, _)| *known == unit)
            .map(|(_, measure, decision)| (*measure, *decision))
    }

    /// Returns what an editor took an item as.
    pub(crate) fn name(&self, item: usize) -> Option<&'static Ingredient> {
        self.names.iter().find(|(known, _)| *known == item).map(|(_, ingredient)| *ingredient)
    }
}

impl Decision {
    /// Says that a decision fits nothing here.
    pub(crate) fn unfitting(&self, why: &str) -> Notice {
        Notice {
            code: Code::UnfittingDecision,
            span: None,
            message: format!("The decision that {} fits nothing here: {why}.", self.decided()),
        }
    }
}
