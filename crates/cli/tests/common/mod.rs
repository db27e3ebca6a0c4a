//! Runs the real program.

#![allow(dead_code, reason = "each test file uses its own part of this")]

use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What the program left behind.
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    /// Checks that the program stopped with a code and one sentence on standard error, and no more.
    #[track_caller]
    pub(crate) fn stopped(&self, code: i32, says: &str) {
        assert_eq!(self.code, code, "standard error: {}", self.err);
        assert!(self.err.starts_with("quartern: "), "{}", self.err);
        assert_eq!(self.err.lines().count(), 1, "more than one line: {}", self.err);
        assert!(self.err.contains(says), "“{says}” is not in: {}", self.err);
        assert!(!self.err.contains("panicked"), "{}", self.err);
    }

    #[track_caller]
    pub(crate) fn done(&self) -> &str {
        assert_eq!((self.code, self.err.as_str()), (0, ""));
        &self.out
    }
}

/// Returns the program, ready to be run without the settings of whoever runs the tests.
pub(crate) fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_quartern"));
    command.env_remove("NO_COLOR").env_remove("COLUMNS").current_dir(top());
    command
}

/// Returns the top folder of the project.
pub(crate) fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().expect("the project's folder")
}

/// Runs the program with words as its input.
pub(crate) fn run_with<S: AsRef<OsStr>>(arguments: &[S], input: &[u8]) -> Ran {
    let mut child = program()
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("an input");
    let input = input.to_vec();
    let writer = std::thread::spawn(move || {
        // The program may stop reading before the end.
        let _ = stdin.write_all(&input);
    });
    let out = child.wait_with_output().expect("the program ends");
    writer.join().expect("the writer ends");
    Ran {
        code: out.status.code().expect("an exit code, not a signal"),
        out: String::from_utf8(out.stdout).expect("the output is UTF-8"),
        err: String::from_utf8(out.stderr).expect("the errors are UTF-8"),
    }
}

/// Runs the program with an empty input.
pub(crate) fn run<S: AsRef<OsStr>>(arguments: &[S]) -> Ran {
    run_with(arguments, b"")
}

/// Returns the names of all that is in a folder.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Returns the texts of the fixtures, cut from period books (see `fixtures/README.md`).
pub(crate) fn fixtures() -> Vec<(String, String)> {
    let folder = top().join("fixtures");
    let mut all: Vec<(String, String)> = names(&folder)
        .into_iter()
        .filter_map(|name| {
            let text = std::fs::read_to_string(folder.join(&name).join("transcript.txt")).ok()?;
            Some((name, text))
        })
        .collect();
    all.sort();
    assert!(all.len() >= 12, "the fixtures are there");
    all
}
