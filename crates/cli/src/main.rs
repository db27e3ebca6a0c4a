//! The program `quartern`: arguments and the terminal, and the joining of everything else.
//!
//! Rules about recipes live below, in the workbench and under it; here is only how they are asked
//! for and shown. Every error is one sentence on standard error and an exit code (see [`trouble`]).

mod arguments;
mod edition;
mod explain;
mod layout;
mod pages;
mod read;
mod show;
mod source;
mod stream;
mod trouble;

use std::ffi::OsString;
use std::io::Write;
use std::panic::catch_unwind;
use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Command};
use crate::trouble::Trouble;

/// The version printed by `--version` and in every edition.
const VERSION: &str = env!("CARGO_PKG_VERSION");

fn main() -> ExitCode {
    // A fault of ours is told in one sentence, not as a trace.
    std::panic::set_hook(Box::new(|_| {}));
    let words: Vec<OsString> = std::env::args_os().collect();
    let done = catch_unwind(move || run(words)).unwrap_or(Err(Trouble::OurFault));
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(trouble) => {
            // Where even this can't be written, the exit code still says it.
            let _ = writeln!(std::io::stderr(), "quartern: {trouble}");
            ExitCode::from(trouble.exit_code())
        }
    }
}

fn run(words: Vec<OsString>) -> Result<(), Trouble> {
    let arguments = match Arguments::try_parse_from(words) {
        Ok(arguments) => arguments,
        Err(error) => return trouble::with_arguments(&error),
    };
    match arguments.command {
        Command::Read(wanted) if wanted.jsonl => stream::run(&wanted),
        Command::Read(wanted) => read::run(&wanted),
        Command::Edition(wanted) => edition::run(&wanted),
        Command::Explain(wanted) => explain::run(&wanted),
        Command::Completions(wanted) => pages::completions(wanted.shell),
        Command::Man(wanted) => pages::man(wanted.command.as_deref()),
    }
}
