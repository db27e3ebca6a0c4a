//! Chores of the project, in Rust: `cargo xtask <chore>`.

use std::process::ExitCode;

mod ci;
mod figures;
mod marked;
mod tidy;
mod train;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let has = |flag: &str| words.iter().any(|word| word == flag);
    let done = match words.first().map(String::as_str) {
        Some("ci") => ci::ci(),
        Some("figures") => figures::figures(),
        Some("tidy") => tidy::tidy(),
        Some("train") => train::train(has("--show")),
        _ => Err("chores: ci | tidy | train [--show] | figures".to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}
