//! The face of the program: what a cook-historian can do with it, as functions over plain data.
//!
//! Nothing here opens a file, asks the clock or knows a terminal or a page; that is for the adapters.

mod contract;
mod edit;
mod explain;
mod files;
mod titles;
mod work;

pub use contract::{LineError, contract_line, full_object, given_from_json};
pub use edit::edition;
pub use explain::{Entry, EntryAlternative, Explanation, explain};
pub use files::{DecisionsError, SourceError, SourceFile, decisions_from_toml, source_from_toml};
pub use work::{Given, Worked, work, work_figures};

pub use quartern_edition::Edition;
pub use quartern_knowledge::Unknown;
pub use quartern_notice::{Code, Notice, Severity};
pub use quartern_reckoning::{Decision, DecisionKind};
pub use quartern_text::{
    PlaceId, Source, Span, Transcript, TranscriptError, Within, YearRange, YearRangeError,
};
