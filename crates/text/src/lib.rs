//! What was printed, and where: sources, transcripts and spans.
//!
//! A [`Transcript`] holds the words of one recipe as printed and is never changed; a [`Span`] is a
//! stretch of it in UTF-8 bytes; a [`Source`] says which book, when and where. This crate knows
//! nothing about food or measures, and has no way to alter a transcript.

mod source;
mod span;
mod transcript;

pub use source::{PlaceId, Source, Within, YearRange, YearRangeError};
pub use span::Span;
pub use transcript::{MAX_TRANSCRIPT_BYTES, Transcript, TranscriptError, TranscriptId};
