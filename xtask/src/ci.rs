//! `cargo xtask ci`: the whole gate, the same on every machine.

use std::process::{Command, Stdio};

use crate::tidy;

/// Runs every check in turn and stops at the first that fails.
pub(crate) fn ci() -> Result<(), String> {
    cargo(&["fmt", "--all", "--check"])?;
    cargo(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"])?;
    // Before the tests, whose closing lines shall stand last.
    tidy::tidy()?;
    documentation()?;
    licences_and_bans()?;
    tests()
}

fn tests() -> Result<(), String> {
    if !has("nextest") {
        return cargo(&["test", "--workspace", "--all-targets"])
            .and_then(|()| cargo(&["test", "--workspace", "--doc"]));
    }
    // The tests in docs first, so that the closing line is that of the tests proper.
    cargo(&["test", "--workspace", "--doc"])?;
    cargo(&["nextest", "run", "--workspace"])
}

fn documentation() -> Result<(), String> {
    say(&["doc", "--workspace", "--no-deps", "--document-private-items"]);
    run(cargo_command()
        .args(["doc", "--workspace", "--no-deps", "--document-private-items"])
        .env("RUSTDOCFLAGS", "-D warnings"))
}

/// Licences, bans and sources need no network; advisories only if their list is on this machine.
fn licences_and_bans() -> Result<(), String> {
    if !has("deny") {
        println!("ci: cargo-deny is not installed, so licences of libraries were not checked");
        return Ok(());
    }
    cargo(&["deny", "--offline", "check", "licenses", "bans", "sources"])?;
    let list = std::env::home_dir().map(|home| home.join(".cargo/advisory-dbs"));
    if list.is_some_and(|list| list.is_dir()) {
        cargo(&["deny", "--offline", "check", "advisories"])
    } else {
        println!("ci: no list of advisories on this machine, so they were not checked");
        Ok(())
    }
}

fn has(part: &str) -> bool {
    cargo_command()
        .args([part, "--version"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

fn cargo_command() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(tidy::root());
    command
}

fn cargo(words: &[&str]) -> Result<(), String> {
    say(words);
    run(cargo_command().args(words))
}

fn say(words: &[&str]) {
    println!("ci: cargo {}", words.join(" "));
}

fn run(command: &mut Command) -> Result<(), String> {
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("ci: this failed ({status})")),
        Err(error) => Err(format!("ci: cargo could not be run: {error}")),
    }
}
