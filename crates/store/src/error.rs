use std::fmt;
use std::io;

use quartern_text::{MAX_TRANSCRIPT_BYTES, TranscriptError};

/// Why a file could not be read or written, as one plain sentence that says what to do.
#[derive(Debug)]
pub struct Error {
    name: String,
    kind: Kind,
}

#[derive(Debug)]
pub(crate) enum Kind {
    /// The system refused to open or read it.
    Reading(io::Error),
    /// It is a folder.
    Folder,
    /// It holds no words, or is no text.
    NoText(TranscriptError),
    /// It is a file of another kind, named here.
    Other(&'static str),
    /// It is UTF-16, as some word processors save text.
    Utf16,
    /// A byte that is part of no UTF-8 character: its position, line and value.
    NotUtf8 { position: usize, line: usize, byte: u8 },
    /// The system refused to write it.
    Writing(io::Error),
    /// A folder was wanted for the output, and a file has its name.
    NotAFolder,
}

impl Error {
    pub(crate) fn new(name: impl Into<String>, kind: Kind) -> Self {
        Self { name: name.into(), kind }
    }

    /// Returns the error for something that an adapter was writing itself, such as the standard output.
    #[must_use]
    pub fn writing(name: &str, error: io::Error) -> Self {
        Self::new(name, Kind::Writing(error))
    }

    /// Returns the error for something that an adapter was reading itself, such as the standard input.
    #[must_use]
    pub fn reading(name: &str, error: io::Error) -> Self {
        let kind =
            if error.kind() == io::ErrorKind::IsADirectory { Kind::Folder } else { Kind::Reading(error) };
        Self::new(name, kind)
    }

    /// Returns true if something could not be written; otherwise it could not be read.
    #[must_use]
    pub fn is_writing(&self) -> bool {
        matches!(self.kind, Kind::Writing(_) | Kind::NotAFolder)
    }
}

/// Says in plain words why the system refused.
fn because(error: &io::Error, missing: &str) -> String {
    use io::ErrorKind as K;
    match error.kind() {
        K::NotFound => missing.to_owned(),
        K::PermissionDenied => "you are not allowed to; look at its permissions".to_owned(),
        K::StorageFull | K::QuotaExceeded | K::FileTooLarge => {
            "the disk is full; make room and try again".to_owned()
        }
        K::ReadOnlyFilesystem => "the disk can only be read; choose another folder".to_owned(),
        K::NotADirectory => "a part of its path is a file, not a folder; choose another folder".to_owned(),
        K::IsADirectory => "a folder has that name; move it away or choose another folder".to_owned(),
        K::InvalidFilename => "the name is too long or has a character that is not allowed".to_owned(),
        _ => format!("the system says “{error}”"),
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = &self.name;
        match &self.kind {
            Kind::Reading(error) => {
                write!(f, "{name} can't be read: {}", because(error, "there is no such file; check the name"))
            }
            Kind::Folder => write!(f, "{name} is a folder; give the file of one recipe in it"),
            Kind::NoText(TranscriptError::Empty) => {
                write!(f, "{name} is empty; give a file with the words of one recipe")
            }
            Kind::NoText(TranscriptError::TooLong(_)) => write!(
                f,
                "{name} is longer than {} MiB, far more than one recipe; give one recipe, not a whole book",
                MAX_TRANSCRIPT_BYTES / (1024 * 1024)
            ),
            Kind::NoText(TranscriptError::Binary) => write!(
                f,
                "{name} is not a text (it holds zero bytes, as pictures and word-processor files do); save the words as plain text in UTF-8"
            ),
            Kind::NoText(TranscriptError::NotUtf8(at)) => {
                write!(
                    f,
                    "{name} is not UTF-8 text: byte {} is part of no character; save it as UTF-8",
                    at + 1
                )
            }
            Kind::Other(what) => write!(f, "{name} is {what}, not plain text; save its words as UTF-8 text"),
            Kind::Utf16 => write!(f, "{name} is UTF-16 text; save it as UTF-8"),
            Kind::NotUtf8 { position, line, byte } => write!(
                f,
                "{name} is not UTF-8 text: byte {position} (0x{byte:02X}, in line {line}) is part of no character; save it as UTF-8"
            ),
            Kind::Writing(error) => {
                write!(
                    f,
                    "{name} can't be written: {}",
                    because(error, "its folder is not there; choose another")
                )
            }
            Kind::NotAFolder => write!(f, "{name} is a file; give a folder for the edition to be written in"),
        }
    }
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.kind {
            Kind::Reading(error) | Kind::Writing(error) => Some(error),
            Kind::NoText(error) => Some(error),
            Kind::Folder | Kind::Other(_) | Kind::Utf16 | Kind::NotUtf8 { .. } | Kind::NotAFolder => None,
        }
    }
}
