//! Chores of the project, in Rust: `cargo xtask <chore>`.

use std::process::ExitCode;

mod dump;
mod marked;
mod train;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let has = |flag: &str| words.iter().any(|word| word == flag);
    let done = match words.first().map(String::as_str) {
        Some("dump") => dump::dump(words.get(1).map_or("", String::as_str)),
        Some("train") => train::train(has("--without-left-out")),
        _ => Err("chores: train [--without-left-out]".to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}
