//! What a term meant then and there.

use quartern_knowledge::Unknown;
use quartern_text::Within;

/// What a term meant then and there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explanation {
    /// The term asked for.
    pub term: String,
    /// Everything on record for it; at least one.
    pub entries: Vec<Entry>,
}

/// One thing a term meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What kind of thing, and its name: `gill, a measure`.
    pub heading: String,
    /// Sentences.
    pub lines: Vec<String>,
    /// The sizes it had, likeliest first.
    pub alternatives: Vec<EntryAlternative>,
    /// On whose word; may be empty where each alternative has its own.
    pub source: String,
}

/// One size of a measure word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryAlternative {
    /// The record's id, as a decision names it.
    pub id: String,
    /// What to call it.
    pub name: String,
    /// The best size with its unit: `142 ml`.
    pub size: String,
    /// The range with its unit; empty where it is exact.
    pub range: String,
    /// How likely, in per cent.
    pub weight: u32,
    /// A remark; may be empty.
    pub note: String,
    /// On whose word.
    pub source: String,
}

/// Explains a term.
///
/// # Errors
/// [`Unknown`] with the nearest terms that are known.
pub fn explain(term: &str, _at: &Within) -> Result<Explanation, Unknown> {
    Err(Unknown { name: term.to_owned(), nearest: Vec::new() })
}
