//! The sample in the README is what the program shows. To renew it after a change that is meant:
//! `QUARTERN_RENEW=1 cargo test -p quartern-cli --test readme`.

mod common;

use std::fs;

use common::{run, top};

/// The rows shown, by how they begin; the rest of the table is left out.
const ROWS: [&str; 2] = ["2 oz. of sweet lard", "a gill of well water"];

fn sample() -> String {
    let shown = run(&["read", "demo/recipes/short-paste.txt", "--source", "demo/source.toml"]);
    let lines: Vec<&str> = shown.done().lines().collect();
    let at = |heading: &str| lines.iter().position(|line| line.starts_with(heading)).expect("the heading");
    let (words, table) = (at("The words, with"), at("The ingredients"));
    let mut sample: Vec<&str> = lines[words..words + 13].to_vec();
    sample.extend(["…", ""]);
    sample.extend(&lines[table..table + 4]);
    for row in ROWS {
        let from = table + lines[table..].iter().position(|line| line.starts_with(row)).expect("the row");
        let why = lines[from + 1..].iter().take_while(|line| line.starts_with("    ")).count();
        sample.extend(&lines[from..=from + why]);
    }
    sample.join("\n")
}

#[test]
fn the_sample_in_the_readme_is_what_the_program_shows() {
    let path = top().join("README.md");
    let text = fs::read_to_string(&path).expect("the README");
    let (before, rest) = text.split_once("```text\n").expect("the sample");
    let (printed, after) = rest.split_once("\n```").expect("the end of the sample");
    let shown = sample();
    if std::env::var_os("QUARTERN_RENEW").is_some() {
        fs::write(&path, format!("{before}```text\n{shown}\n```{after}")).expect("written");
        return;
    }
    assert!(
        printed == shown,
        "the README shows something else than the program; the program shows:\n{shown}"
    );
}
