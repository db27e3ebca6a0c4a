//! What can go wrong, sorted by whose it is to mend, with the exit code of each.

use std::fmt;
use std::io::{self, Write};

use clap::error::{ContextKind, ContextValue, ErrorKind};

/// Why the program stops. Shown as one sentence that says what happened and what to do.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// Something in the input could not be read, or a term is not known: exit code 1.
    Input(String),
    /// The command was not given as it should be: exit code 2.
    Usage(String),
    /// The output could not be written: exit code 3.
    Writing(String),
    /// A fault of the program: exit code 70.
    OurFault,
}

impl Trouble {
    /// Returns the exit code.
    pub(crate) fn exit_code(&self) -> u8 {
        match self {
            Self::Input(_) => 1,
            Self::Usage(_) => 2,
            Self::Writing(_) => 3,
            Self::OurFault => 70,
        }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(sentence) | Self::Usage(sentence) | Self::Writing(sentence) => {
                f.write_str(&one_line(sentence))
            }
            Self::OurFault => f.write_str(
                "this is a fault of the program, not of your recipe, and nothing of yours was changed; please report it with the recipe that led to it",
            ),
        }
    }
}

/// Puts a sentence on one line and takes out whatever could steer a terminal.
fn one_line(sentence: &str) -> String {
    let flat: Vec<&str> = sentence.split_whitespace().collect();
    flat.join(" ").chars().map(|sign| if sign.is_control() { '\u{FFFD}' } else { sign }).collect()
}

impl From<quartern_store::Error> for Trouble {
    fn from(error: quartern_store::Error) -> Self {
        if error.is_writing() { Self::Writing(error.to_string()) } else { Self::Input(error.to_string()) }
    }
}

/// Writes to standard output. A reader that has gone away (`| head`) is no trouble.
pub(crate) fn print(text: &str) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    written(out.write_all(text.as_bytes()).and_then(|()| out.flush())).map(|_| ())
}

/// Tells whether the output still has a reader, or why it can't be written.
pub(crate) fn written(done: io::Result<()>) -> Result<bool, Trouble> {
    match done {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(false),
        Err(error) => Err(quartern_store::Error::writing("the output", error).into()),
    }
}

/// Answers `--help` and `--version`, and says in one sentence what is wrong with the arguments.
pub(crate) fn with_arguments(error: &clap::Error) -> Result<(), Trouble> {
    if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        return written(error.print().and_then(|()| io::stdout().flush())).map(|_| ());
    }
    Err(Trouble::Usage(sentence(error)))
}

fn sentence(error: &clap::Error) -> String {
    let context = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => text.clone(),
        Some(ContextValue::Strings(all)) => all.join(", "),
        Some(ContextValue::StyledStr(text)) => text.to_string(),
        _ => String::new(),
    };
    let given = context(ContextKind::InvalidArg);
    let value = context(ContextKind::InvalidValue);
    let help = "`quartern --help` shows how";
    let nearest = [ContextKind::SuggestedArg, ContextKind::SuggestedSubcommand, ContextKind::SuggestedValue]
        .into_iter()
        .map(context)
        .find(|near| !near.is_empty());
    let meant = nearest.map_or_else(|| help.to_owned(), |near| format!("did you mean {near}? {help}"));
    match error.kind() {
        ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            format!("say what is to be done: read, edition or explain; {help}")
        }
        ErrorKind::InvalidSubcommand => {
            format!("there is no command “{}”; {meant}", context(ContextKind::InvalidSubcommand))
        }
        ErrorKind::UnknownArgument => format!("there is no “{given}” here; {meant}"),
        ErrorKind::MissingRequiredArgument => format!("{given} is missing; {help}"),
        ErrorKind::InvalidValue if value.is_empty() => format!("{given} needs a value; {help}"),
        ErrorKind::InvalidValue => {
            format!("“{value}” is no value for {given}; it can be: {}", context(ContextKind::ValidValue))
        }
        ErrorKind::ValueValidation => format!("“{value}” is no value for {given}; {help}"),
        ErrorKind::ArgumentConflict => {
            format!("{given} can't be used with {}; leave one out", context(ContextKind::PriorArg))
        }
        ErrorKind::InvalidUtf8 => format!("an argument is not UTF-8 text; {help}"),
        _ => format!("the command can't be understood; {help}"),
    }
}
