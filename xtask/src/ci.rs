//! `cargo xtask ci`: the whole gate, the same on every machine.

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};

use crate::tidy;

/// Runs every check in turn and stops at the first that fails. The tests come last, so that their
/// closing line is the last of all.
pub(crate) fn ci() -> Result<(), String> {
    cargo(&["fmt", "--all", "--check"])?;
    cargo(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"])?;
    tidy::tidy()?;
    documentation()?;
    deny()?;
    tests()
}

fn documentation() -> Result<(), String> {
    let words = ["doc", "--workspace", "--no-deps", "--document-private-items"];
    say(&words);
    ended(cargo_command(&words).env("RUSTDOCFLAGS", "-D warnings"))
}

/// Licences, bans and sources need no network; advisories only if their list is on this machine.
fn deny() -> Result<(), String> {
    let installed = cargo_command(&["deny", "--version"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success());
    if !installed {
        println!("ci: cargo-deny is not installed; tidy has compared the licences with deny.toml");
        return Ok(());
    }
    cargo(&["deny", "--offline", "check", "licenses", "bans", "sources"])?;
    let lists = std::env::home_dir().map(|home| home.join(".cargo/advisory-dbs"));
    if lists.is_some_and(|lists| lists.is_dir()) {
        cargo(&["deny", "--offline", "check", "advisories"])
    } else {
        println!("ci: no list of advisories on this machine, so they were not checked");
        Ok(())
    }
}

/// Runs all tests, and adds their closing lines up into one.
fn tests() -> Result<(), String> {
    let words = ["test", "--workspace", "--no-fail-fast"];
    say(&words);
    let mut child = cargo_command(&words)
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| format!("ci: cargo could not be run: {error}"))?;
    let (mut passed, mut failed, mut ignored) = (0, 0, 0);
    if let Some(lines) = child.stdout.take() {
        for line in BufReader::new(lines).lines().map_while(Result::ok) {
            let _ = writeln!(std::io::stdout(), "{line}");
            if line.starts_with("test result:") {
                passed += counted(&line, "passed");
                failed += counted(&line, "failed");
                ignored += counted(&line, "ignored");
            }
        }
    }
    let status = child.wait().map_err(|error| format!("ci: {error}"))?;
    println!("\n{passed} passed, {failed} failed, {ignored} skipped");
    if status.success() && failed == 0 { Ok(()) } else { Err("ci: the tests failed".to_owned()) }
}

/// Returns the number before a word in a closing line of `cargo test`.
fn counted(line: &str, what: &str) -> usize {
    let words: Vec<&str> = line.split([' ', ';']).filter(|word| !word.is_empty()).collect();
    words
        .iter()
        .position(|word| *word == what)
        .and_then(|at| words.get(at.checked_sub(1)?)?.parse().ok())
        .unwrap_or(0)
}

fn cargo_command(words: &[&str]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(words).current_dir(tidy::root());
    command
}

fn cargo(words: &[&str]) -> Result<(), String> {
    say(words);
    ended(&mut cargo_command(words))
}

fn say(words: &[&str]) {
    println!("ci: cargo {}", words.join(" "));
}

fn ended(command: &mut Command) -> Result<(), String> {
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("ci: this failed ({status})")),
        Err(error) => Err(format!("ci: cargo could not be run: {error}")),
    }
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn closing_lines_are_added_up() {
        let line =
            "test result: ok. 12 passed; 1 failed; 3 ignored; 0 measured; 0 filtered out; finished in 0.1s";
        assert_eq!((counted(line, "passed"), counted(line, "failed"), counted(line, "ignored")), (12, 1, 3));
    }
}
