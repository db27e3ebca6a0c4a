//! The files a person writes: a source, and decisions.

use std::fmt;

use quartern_reckoning::Decision;
use quartern_text::Source;

/// A source file: the source, and what else it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// The source.
    pub source: Source,
    /// The heading of the recipe, if the file is about one recipe.
    pub title: Option<String>,
    /// A remark; may be empty.
    pub note: String,
}

/// What is wrong with a source file, in one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceError(pub String);

impl fmt::Display for SourceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for SourceError {}

/// What is wrong with a file of decisions, in one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DecisionsError(pub String);

impl fmt::Display for DecisionsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for DecisionsError {}

/// Reads a source file.
///
/// # Errors
/// See [`SourceError`].
pub fn source_from_toml(_text: &str) -> Result<SourceFile, SourceError> {
    Err(SourceError("to come".to_owned()))
}

/// Reads a file of decisions.
///
/// # Errors
/// See [`DecisionsError`].
pub fn decisions_from_toml(_text: &str) -> Result<Vec<Decision>, DecisionsError> {
    Ok(Vec::new())
}
