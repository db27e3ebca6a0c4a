//! Recipes in and out as JSON.

use std::fmt;

use quartern_text::Within;
use serde_json::{Value, json};

use crate::{Given, Worked};

/// A line of input that could not be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct LineError {
    /// The line's `id`, if it has one.
    pub id: Option<Value>,
    /// What is wrong, in one sentence.
    pub message: String,
}

impl fmt::Display for LineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for LineError {}

/// Takes a line of `read --jsonl`.
///
/// # Errors
/// See [`LineError`].
pub fn given_from_json(_line: &str, _defaults: &Within) -> Result<(Value, Given), LineError> {
    Err(LineError { id: None, message: "to come".to_owned() })
}

/// Writes one recipe in the form of the contract: one line, without its end.
#[must_use]
pub fn contract_line(_id: &Value, _given: &Given, _worked: &Worked) -> String {
    String::from("{}")
}

/// Returns one recipe with all that was found out about it.
#[must_use]
pub fn full_object(_given: &Given, _worked: &Worked) -> Value {
    json!({})
}
