//! The commands, end to end: what they print, and the same bytes each time.

mod common;

use std::fs;

use common::{fixtures, names, program, run, run_with};

const GILL: &[u8] = b"A PLAIN PASTE\n\nTake half a pound of flour, a gill of milk, a teacupful of sugar and a little salt.\nBake it in a slack oven for half an hour.\n";

fn read(input: &[u8], more: &[&str]) -> String {
    let arguments = [&["read", "--year", "1910", "--place", "england"], more].concat();
    run_with(&arguments, input).done().to_owned()
}

#[test]
fn help_and_version_come_on_standard_output() {
    let help = run(&["--help"]);
    assert!(help.done().contains("Examples:") && help.out.contains("Exit codes:"), "{}", help.out);
    assert!(help.out.lines().all(|line| line.chars().count() <= 100), "{}", help.out);
    for command in ["read", "edition", "explain", "completions", "man"] {
        let help = run(&[command, "--help"]);
        assert!(help.done().contains("Example"), "{command}: {}", help.out);
        assert!(!help.out.contains('\u{1b}'), "colour without a terminal");
    }
    assert_eq!(run(&["--version"]).done(), format!("quartern {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn man_pages_and_completions_are_made_from_the_same_definitions() {
    let page = run(&["man"]);
    assert!(page.done().contains(".TH quartern 1") && page.out.contains("Exit codes"), "{}", page.out);
    assert!(run(&["man", "read"]).done().contains("\\-\\-jsonl"));
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        assert!(run(&["completions", shell]).done().contains("explain"), "{shell}");
    }
}

#[test]
fn the_table_says_what_was_read_and_why() {
    let shown = read(GILL, &[]);
    assert!(shown.contains("A PLAIN PASTE"), "{shown}");
    // Marks under the words, since there is no terminal here.
    let lines: Vec<&str> = shown.lines().collect();
    let flour =
        lines.iter().position(|line| line.starts_with("Take half a pound of flour")).expect("the words");
    assert!(lines[flour + 1].starts_with("     ~~~~~~~~~~~~~~~~~~~~"), "{shown}");
    // Weights and Measures Act 1963, section 1: the pound is 0.45359237 kg, so half of one is 226.8 g.
    // Weights and Measures Act 1824, with the gallon of 4.54609 l (Units of Measurement Regulations
    // 1995): a gill is 1/32 of it, 142.07 ml.
    assert!(shown.contains("227 g"), "{shown}");
    assert!(shown.contains("142 ml"), "{shown}");
    assert!(shown.contains("why:"), "{shown}");
    assert!(shown.contains("no number"), "salt has no number: {shown}");
    assert!(!shown.contains('\u{1b}'), "colour without a terminal");
    assert!(shown.lines().all(|line| line.chars().count() <= 100), "{shown}");
}

#[test]
fn the_json_object_holds_the_same() {
    let object: serde_json::Value = serde_json::from_str(&read(GILL, &["--format", "json"])).expect("JSON");
    let items = object["items"].as_array().expect("items");
    let flour = items.iter().find(|item| item["ingredient"] == "flour").expect("flour");
    let grams = flour["modern"]["best"].as_f64().expect("a figure");
    // Weights and Measures Act 1963, section 1, as above.
    assert!((grams - 226.796).abs() < 0.1, "{flour}");
}

#[test]
fn what_a_recipe_says_can_not_steer_the_terminal() {
    let shown = read(b"PASTE\n\nTake a pound of \x1b[31mflour\x1b[2J and \x07water.\n", &[]);
    assert!(!shown.contains('\u{1b}') && !shown.contains('\u{7}'), "{shown:?}");
}

#[test]
fn two_runs_give_the_same_bytes() {
    for (name, text) in fixtures() {
        for format in ["table", "json"] {
            let one = read(text.as_bytes(), &["--format", format]);
            assert_eq!(one, read(text.as_bytes(), &["--format", format]), "{name}");
        }
    }
    let room = tempfile::tempdir().expect("a folder");
    let arguments = |out: &str| {
        let mut arguments: Vec<String> =
            ["edition", "--each", "--source", "demo/source.toml", "--out"].map(str::to_owned).to_vec();
        arguments.push(room.path().join(out).display().to_string());
        let recipes = common::top().join("demo/recipes");
        arguments.extend(names(&recipes).into_iter().map(|name| recipes.join(name).display().to_string()));
        arguments
    };
    run(&arguments("one")).done();
    run(&arguments("two")).done();
    let files = names(&room.path().join("one"));
    assert_eq!(files.len() % 3, 0, "{files:?}");
    assert!(files.len() >= 15, "{files:?}");
    assert_eq!(files, names(&room.path().join("two")));
    for file in files {
        let bytes = |folder: &str| fs::read(room.path().join(folder).join(&file)).expect("the file");
        assert!(bytes("one") == bytes("two"), "{file} differs from run to run");
    }
}

#[test]
fn an_edition_is_one_page_that_stands_alone_and_the_same_as_json() {
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().display().to_string();
    let ran = run(&[
        "edition",
        "demo/recipes/gooseberry-plate.txt",
        "demo/recipes/short-paste.txt",
        "--source",
        "demo/source.toml",
        "--out",
        &out,
    ]);
    let files: Vec<&str> = ran.done().lines().collect();
    assert_eq!(files.len(), 3, "{files:?}");
    let page = fs::read_to_string(files[0]).expect("the page");
    assert!(page.starts_with("<!DOCTYPE html>") || page.starts_with("<!doctype html>"));
    for outside in ["src=\"http", "href=\"http", "url(http", "@import"] {
        assert!(!page.contains(outside), "the page needs {outside}");
    }
    // Both recipes stand in it: the one asked for, and the paste it refers to.
    assert!(page.contains("clothe a deep plate of ten inches") && page.contains("work"), "the words");
    assert!(
        page.contains("well\nwater, the coldest") || page.contains("coldest you can draw"),
        "the paste it refers to"
    );
    let object: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(files[1]).expect("the object")).expect("JSON");
    assert_eq!(object["parts"].as_array().map(Vec::len), Some(2), "the recipe and the one it refers to");
}

#[test]
fn explain_answers_for_measures_and_notices_and_says_what_is_near() {
    // A gallon of ale is 282 cubic inches, one of wine 231 (National Institute of Standards and
    // Technology, Handbook 44, appendix C, for the 231; the 282 is from memory): half an ale pint is
    // 288.8 ml, a quarter of a wine pint 118.3 ml.
    let gill = run(&["explain", "a gill", "--year", "1750", "--place", "northumberland"]);
    assert!(gill.done().contains("288.8 ml") && gill.out.contains("118.3 ml"), "{}", gill.out);
    let notice = run(&["explain", "R002"]);
    assert!(notice.done().to_lowercase().contains("not sure of this item"), "{}", notice.out);
    let unknown = run(&["explain", "gil1", "--year", "1750", "--place", "england"]);
    unknown.stopped(1, "gill");
}

#[test]
fn no_colour_is_honoured_where_there_is_no_terminal_and_where_it_is_refused() {
    let with = program().args(["explain", "R001"]).env("NO_COLOR", "1").output().expect("ran");
    let without = program().args(["explain", "R001"]).output().expect("ran");
    assert_eq!(with.stdout, without.stdout);
    assert!(!with.stdout.contains(&0x1b));
}

#[test]
fn an_editor_s_decisions_are_followed_and_printed_with_their_reasons() {
    let room = tempfile::tempdir().expect("a folder");
    let decisions = room.path().join("decisions.toml");
    let reason = "The book was written in Northumberland.";
    let text = format!(
        "[[decision]]\nkind = \"take-measure\"\nunit = \"gill\"\nmeasure = \"gill-northern-old\"\nreason = \"{reason}\"\n"
    );
    fs::write(&decisions, &text).expect("written");
    let edition = |out: &str| {
        run(&[
            "edition",
            "demo/recipes/short-paste.txt",
            "--source",
            "demo/source.toml",
            "--decisions",
            &decisions.display().to_string(),
            "--out",
            &room.path().join(out).display().to_string(),
        ])
    };
    edition("out").done();
    let plain =
        fs::read_to_string(room.path().join("out/a-short-paste-for-plates-and-tarts.txt")).expect("there");
    // Half a pint of ale: a sixteenth of 282 cubic inches of 16.387064 ml (the 282 from memory).
    assert!(plain.contains("289 ml  water"), "{plain}");
    assert!(plain.split_whitespace().collect::<Vec<_>>().join(" ").contains(reason), "{plain}");
    // Without a reason nothing is decided, and nothing is written.
    fs::write(&decisions, text.replace(reason, " ")).expect("written");
    edition("none").stopped(1, "needs a reason");
    assert!(!room.path().join("none").exists());
}
