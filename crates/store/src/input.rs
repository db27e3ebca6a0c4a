use std::fs::File;
use std::io::Read;
use std::path::Path;

use quartern_text::{MAX_TRANSCRIPT_BYTES, TranscriptError};

use crate::Error;
use crate::error::Kind;

/// Reads the words in a file, which must be one recipe in UTF-8.
///
/// The length is asked for before anything is read, so a file of a hundred megabytes is refused at
/// once; a pipe or device that has no length is read up to the limit and no further. A byte-order
/// mark at the start is left off, as it is no part of the words.
///
/// # Errors
/// One sentence for each way a file can be wrong; see [`Error`].
pub fn read_file(path: &Path) -> Result<String, Error> {
    let name = path.display().to_string();
    let fail = |kind| Error::new(name.clone(), kind);
    let about = std::fs::metadata(path).map_err(|error| fail(Kind::Reading(error)))?;
    if about.is_dir() {
        return Err(fail(Kind::Folder));
    }
    if about.len() > MAX_TRANSCRIPT_BYTES as u64 {
        return Err(fail(Kind::NoText(TranscriptError::TooLong(
            usize::try_from(about.len()).unwrap_or(usize::MAX),
        ))));
    }
    let file = File::open(path).map_err(|error| fail(Kind::Reading(error)))?;
    read_stream(file, &name)
}

/// Reads the words that a stream brings, under the same rules as [`read_file`]; `name` is what
/// errors call it.
///
/// # Errors
/// See [`read_file`].
pub fn read_stream(stream: impl Read, name: &str) -> Result<String, Error> {
    let mut bytes = Vec::new();
    stream
        .take(MAX_TRANSCRIPT_BYTES as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Error::reading(name, error))?;
    text(bytes).map_err(|kind| Error::new(name, kind))
}

fn text(mut bytes: Vec<u8>) -> Result<String, Kind> {
    if bytes.len() > MAX_TRANSCRIPT_BYTES {
        return Err(Kind::NoText(TranscriptError::TooLong(bytes.len())));
    }
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(Kind::Utf16);
    }
    // Files that people take for texts, by the bytes they begin with.
    for (mark, what) in [
        (b"%PDF".as_slice(), "a PDF"),
        (b"PK\x03\x04".as_slice(), "a word-processor file or an archive"),
        (b"{\\rtf".as_slice(), "a rich-text file"),
        (b"\xD0\xCF\x11\xE0".as_slice(), "a word-processor file"),
        (b"\x89PNG".as_slice(), "a picture"),
        (b"\xFF\xD8\xFF".as_slice(), "a picture"),
    ] {
        if bytes.starts_with(mark) {
            return Err(Kind::Other(what));
        }
    }
    if bytes.contains(&0) {
        return Err(Kind::NoText(TranscriptError::Binary));
    }
    if bytes.starts_with(&[0xEF, 0xBB, 0xBF]) {
        bytes.drain(..3);
    }
    let words = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let before = bytes.get(..at).unwrap_or_default();
        Kind::NotUtf8 {
            position: at + 1,
            line: before.split(|byte| *byte == b'\n').count(),
            byte: bytes.get(at).copied().unwrap_or_default(),
        }
    })?;
    if words.trim().is_empty() {
        return Err(Kind::NoText(TranscriptError::Empty));
    }
    Ok(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sentence(bytes: &[u8]) -> String {
        read_stream(bytes, "the input").expect_err("must be refused").to_string()
    }

    #[test]
    fn every_refusal_says_what_to_do() {
        assert_eq!(sentence(b" \n\n"), "the input is empty; give a file with the words of one recipe");
        assert!(sentence(b"a\0b").contains("not a text"));
        assert!(sentence(b"\xFF\xFEa\0").contains("UTF-16"));
        // ISO 8859-1 writes é as the byte E9; UTF-8 (RFC 3629, section 3) never has it before a letter.
        let latin = sentence(b"Take\na souffl\xE9 dish");
        assert!(latin.contains("byte 14 (0xE9, in line 2)"), "{latin}");
    }

    #[test]
    fn a_byte_order_mark_is_no_part_of_the_words() {
        let words = read_stream(&b"\xEF\xBB\xBFTake eggs"[..], "the input").expect("a text");
        assert_eq!(words, "Take eggs");
    }

    #[test]
    fn a_stream_without_end_is_not_read_to_the_end() {
        let sentence =
            read_stream(std::io::repeat(b'a'), "the input").expect_err("must be refused").to_string();
        assert!(sentence.contains("longer than 16 MiB"), "{sentence}");
    }
}
