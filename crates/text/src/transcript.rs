use std::fmt;

use sha2::{Digest, Sha256};

use crate::Span;

/// The longest transcript taken as one recipe, in bytes (16 MiB).
///
/// The longest receipt in the period books at hand is below 40 kB; more than this is a mistake.
pub const MAX_TRANSCRIPT_BYTES: usize = 16 * 1024 * 1024;

/// The words of one recipe as printed. Nothing changes them once they are in here.
///
/// Not empty, at most [`MAX_TRANSCRIPT_BYTES`] long, and free of NUL bytes.
#[derive(Clone, PartialEq, Eq)]
pub struct Transcript {
    words: String,
}

/// The name of a transcript: the SHA-256 digest of its bytes, in hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TranscriptId(String);

impl TranscriptId {
    /// Returns the digest in hexadecimal, 64 characters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Why words could not become a transcript.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TranscriptError {
    /// There is nothing but white space.
    Empty,
    /// It is longer than [`MAX_TRANSCRIPT_BYTES`]; holds the length in bytes.
    TooLong(usize),
    /// It holds NUL bytes, so it is no text.
    Binary,
    /// It is not UTF-8; holds the offset of the first bad byte.
    NotUtf8(usize),
}

impl fmt::Display for TranscriptError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "there are no words in it"),
            Self::TooLong(bytes) => write!(
                f,
                "it is {} MB long, and one recipe may have at most {} MB: give one recipe, not a whole book",
                bytes / 1_000_000,
                MAX_TRANSCRIPT_BYTES / 1_000_000
            ),
            Self::Binary => {
                write!(f, "it holds NUL bytes, so it is not a text (a picture or a word-processor file?)")
            }
            Self::NotUtf8(at) => write!(
                f,
                "it is not UTF-8 text (byte {at} is not part of any character): save it as UTF-8 and try again"
            ),
        }
    }
}

impl std::error::Error for TranscriptError {}

impl Transcript {
    /// Takes words as printed.
    ///
    /// # Errors
    /// See [`TranscriptError`].
    pub fn new(words: impl Into<String>) -> Result<Self, TranscriptError> {
        let words = words.into();
        if words.len() > MAX_TRANSCRIPT_BYTES {
            return Err(TranscriptError::TooLong(words.len()));
        }
        if words.as_bytes().contains(&0) {
            return Err(TranscriptError::Binary);
        }
        if words.trim().is_empty() {
            return Err(TranscriptError::Empty);
        }
        Ok(Self { words })
    }

    /// Takes the bytes of a file. A byte-order mark at the start is kept as part of the text.
    ///
    /// # Errors
    /// See [`TranscriptError`].
    pub fn from_bytes(bytes: Vec<u8>) -> Result<Self, TranscriptError> {
        if bytes.len() > MAX_TRANSCRIPT_BYTES {
            return Err(TranscriptError::TooLong(bytes.len()));
        }
        if bytes.contains(&0) {
            return Err(TranscriptError::Binary);
        }
        let words = String::from_utf8(bytes)
            .map_err(|error| TranscriptError::NotUtf8(error.utf8_error().valid_up_to()))?;
        Self::new(words)
    }

    /// Returns all the words.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.words
    }

    /// Returns the words of a span; empty if the span does not belong to this transcript.
    #[must_use]
    pub fn words(&self, span: Span) -> &str {
        self.words.get(span.start()..span.end()).unwrap_or("")
    }

    /// Returns the whole as a span.
    #[must_use]
    pub fn span(&self) -> Span {
        Span::new(0, self.words.len() as u32)
    }

    /// Returns the digest that names this transcript.
    #[must_use]
    pub fn id(&self) -> TranscriptId {
        let digest = Sha256::digest(self.words.as_bytes());
        let mut name = String::with_capacity(64);
        for byte in digest {
            use fmt::Write;
            write!(name, "{byte:02x}").expect("writing to a String cannot fail");
        }
        TranscriptId(name)
    }
}

impl fmt::Debug for Transcript {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Transcript({} bytes)", self.words.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_is_no_text() {
        assert_eq!(Transcript::new(" \n"), Err(TranscriptError::Empty));
        assert_eq!(Transcript::from_bytes(vec![b'a', 0]), Err(TranscriptError::Binary));
        assert_eq!(Transcript::from_bytes(vec![b'a', 0xE9, b'b']), Err(TranscriptError::NotUtf8(1)));
    }

    #[test]
    fn digest_is_sha_256() {
        // FIPS 180-4, example for the one-block message "abc" (value from memory, widely printed).
        let abc = Transcript::new("abc").expect("three letters are a text");
        assert_eq!(abc.id().as_str(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
