//! The program's reading of real recipes against a person's, made from the words alone before any
//! output existed (`fixtures/*/expected.md`, by the rules in `golden/marked/GUIDE.md`).
//!
//! Where the two differ the difference stands in `fixtures/misread.csv`, and only there: a new one
//! fails, and so does one that has been mended and not taken out. Recipes without a difference have
//! a golden file each (`golden/read/`), which therefore holds no known error.
//!
//! To write the golden files anew: `QUARTERN_BLESS=1 cargo test -p quartern-workbench --test by_eye`;
//! then read the difference line by line.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use quartern_reading::{Amount, Item, Rate, Ratio, flat};
use quartern_workbench::{Given, full_object, source_from_toml, work};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn fixtures() -> Vec<(String, PathBuf)> {
    let mut found: Vec<(String, PathBuf)> = std::fs::read_dir(root().join("fixtures"))
        .expect("the folder of fixtures")
        .filter_map(Result::ok)
        .filter(|entry| entry.path().is_dir())
        .map(|entry| (entry.file_name().to_string_lossy().into_owned(), entry.path()))
        .collect();
    found.sort();
    found
}

fn given(folder: &Path) -> Given {
    let source =
        source_from_toml(&text(&folder.join("source.toml"))).expect("a source file that can be read");
    let transcript =
        quartern_text::Transcript::new(text(&folder.join("transcript.txt"))).expect("a transcript");
    Given { transcript, title: None, source: source.source }
}

/// A row of a table in `expected.md`.
fn rows(document: &str, heading: &str) -> Vec<Vec<String>> {
    let start = document.find(&format!("## {heading}")).unwrap_or_else(|| panic!("no part “{heading}”"));
    let part = &document[start + 3..];
    let part = &part[..part.find("\n## ").unwrap_or(part.len())];
    part.lines()
        .filter(|line| line.starts_with("| `"))
        .map(|line| line.trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect())
        .collect()
}

fn quoted(cell: &str) -> String {
    cell.trim_matches('`').to_owned()
}

fn number(words: &str) -> f64 {
    words
        .split_whitespace()
        .map(|part| match part.split_once('/') {
            Some((above, below)) => {
                above.parse::<f64>().expect("a number") / below.parse::<f64>().expect("a number")
            }
            None => part.parse::<f64>().expect("a number"),
        })
        .sum()
}

/// `1 1/2 pound`, `7–8 count`, `1 pound + 4 ounce`, `none`.
fn amount(cell: &str) -> Vec<(i64, i64, String)> {
    let thousandths = |number: f64| (number * 1000.0).round() as i64;
    if cell == "none" {
        return Vec::new();
    }
    cell.split(" + ")
        .map(|part| {
            let (figures, unit) = part.rsplit_once(' ').expect("a number and a unit");
            let (low, high) = figures.split_once('–').unwrap_or((figures, figures));
            (thousandths(number(low)), thousandths(number(high)), unit.to_owned())
        })
        .collect()
}

fn read_amount(item: &Item) -> Vec<(i64, i64, String)> {
    let thousandths =
        |ratio: Ratio<u32>| (f64::from(*ratio.numer()) / f64::from(*ratio.denom()) * 1000.0).round() as i64;
    match &item.amount {
        Amount::Stated(parts) => parts
            .iter()
            .map(|part| (thousandths(part.low), thousandths(part.high), part.unit.to_owned()))
            .collect(),
        Amount::Unstated | Amount::Vague(_) | Amount::Unread(_) | Amount::SameAs { .. } => Vec::new(),
    }
}

/// Every difference between what was expected and what was read, as `what: words`.
fn differences(folder: &Path) -> BTreeSet<(String, String)> {
    let given = given(folder);
    let expected = text(&folder.join("expected.md"));
    let words = flat(given.transcript.as_str());
    let reading = work(&given, &[]).reading;
    let said = |span| flat(given.transcript.words(span));
    let mut found = BTreeSet::new();
    let mut note = |what: &str, words: &str| {
        found.insert((what.to_owned(), words.to_owned()));
    };
    let mut used = vec![false; reading.items.len()];
    for row in rows(&expected, "Items") {
        let quote = quoted(&row[0]);
        assert!(words.contains(&quote), "{}: “{quote}” is not in the transcript", folder.display());
        let remark = row.get(3).cloned().unwrap_or_default();
        let hit = (0..reading.items.len()).find(|at| {
            let item = &reading.items[*at];
            let printed = said(item.span);
            let name = said(item.name_span);
            !used[*at]
                && (printed.contains(&quote)
                    || quote.contains(&printed)
                    || quote.contains(&name) && !name.is_empty())
        });
        let Some(at) = hit else {
            // A query marks what another careful reader might leave out.
            if !remark.contains("(?)") {
                note("missed", &quote);
            }
            continue;
        };
        used[at] = true;
        let item = &reading.items[at];
        if read_amount(item) != amount(&row[2]) {
            note("amount", &quote);
        }
        let name_right = item.name.plain == row[1]
            || item.name.plain.replace(' ', "") == row[1].replace(' ', "")
            || remark.split('`').skip(1).step_by(2).any(|other| other == item.name.plain)
            || item.name.also.contains(&row[1])
            // A fuller name is as right: cayenne pepper for cayenne.
            || item.name.plain.starts_with(&format!("{} ", row[1]))
            || item.name.plain.ends_with(&format!(" {}", row[1]));
        if !name_right {
            note("name", &quote);
        }
        if remark.split(|c: char| !c.is_alphabetic()).any(|word| word == "rate")
            == matches!(item.rate, Rate::None)
        {
            note("rate", &quote);
        }
        if remark.contains("equality") != matches!(item.amount, Amount::SameAs { .. }) {
            note("equality", &quote);
        }
    }
    for (item, used) in reading.items.iter().zip(&used) {
        if !used {
            note("extra", &said(item.span));
        }
    }
    let mut times: Vec<(i64, i64)> =
        reading.durations.iter().map(|time| (time.low.round() as i64, time.high.round() as i64)).collect();
    for row in rows(&expected, "Durations") {
        let (low, high) = row[1].split_once('–').expect("low–high");
        let wanted = (number(low).round() as i64, number(high).round() as i64);
        match times.iter().position(|time| *time == wanted) {
            Some(at) => drop(times.remove(at)),
            None => note("time", &quoted(&row[0])),
        }
    }
    for (low, high) in times {
        note("extra time", &format!("{low}–{high} minutes"));
    }
    let mut heats: Vec<String> = reading
        .heats
        .iter()
        .map(|heat| heat.class.map_or("", quartern_reading::HeatClass::as_str).to_owned())
        .collect();
    for row in rows(&expected, "Heats") {
        let class = row[1].split_whitespace().next().unwrap_or("").to_owned();
        match heats.iter().position(|heat| *heat == class) {
            Some(at) => drop(heats.remove(at)),
            // A query marks what another careful reader might leave out.
            None if row[1].contains("(?)") => {}
            None => note("heat", &quoted(&row[0])),
        }
    }
    for heat in heats {
        note("extra heat", &heat);
    }
    let references: Vec<String> = reading.references.iter().map(|reference| said(reference.span)).collect();
    let wanted = rows(&expected, "References");
    for row in &wanted {
        let quote = quoted(&row[0]);
        if !references.iter().any(|printed| quote.contains(printed.as_str()) || printed.contains(&quote)) {
            note("reference", &quote);
        }
    }
    if references.len() > wanted.len() {
        note("extra reference", &references.join("; "));
    }
    let yields: Vec<String> = reading.yields.iter().map(|made| said(made.span)).collect();
    let wanted = rows(&expected, "Yields");
    for row in &wanted {
        let quote = quoted(&row[0]);
        if !yields.iter().any(|printed| quote.contains(printed.as_str()) || printed.contains(&quote)) {
            note("yield", &quote);
        }
    }
    if yields.len() > wanted.len() {
        note("extra yield", &yields.join("; "));
    }
    found
}

/// The differences that are known, by fixture.
fn known(fixture: &str) -> BTreeSet<(String, String)> {
    let path = root().join("fixtures/misread.csv");
    let mut reader = csv::Reader::from_path(&path).expect("the list of misreadings");
    reader
        .records()
        .map(|record| record.expect("a row of the list"))
        .filter(|record| &record[0] == fixture)
        .map(|record| (record[1].to_owned(), record[2].to_owned()))
        .collect()
}

#[test]
fn a_person_and_the_program_read_the_same() {
    let mut faults: Vec<String> = Vec::new();
    for (name, folder) in fixtures() {
        let (found, known) = (differences(&folder), known(&name));
        for (what, words) in found.difference(&known) {
            faults.push(format!("{name},{what},\"{words}\"  differs and is not listed"));
        }
        for (what, words) in known.difference(&found) {
            faults.push(format!("{name},{what},\"{words}\"  is listed and differs no more"));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn recipes_read_right_stay_as_they_are() {
    let bless = std::env::var_os("QUARTERN_BLESS").is_some();
    let folder = root().join("golden/read");
    let mut expected_files = BTreeSet::new();
    for (name, fixture) in fixtures() {
        if !known(&name).is_empty() {
            continue;
        }
        let given = given(&fixture);
        let object = full_object(&given, &work(&given, &[]));
        let mut written = serde_json::to_string_pretty(&object).expect("an object can be written");
        written.push('\n');
        let file = format!("{name}.json");
        let path = folder.join(&file);
        expected_files.insert(file);
        if bless {
            std::fs::create_dir_all(&folder).expect("the folder can be made");
            std::fs::write(&path, &written).expect("the golden file can be written");
        } else {
            let golden = text(&path);
            let differs = golden.lines().zip(written.lines()).position(|(one, two)| one != two);
            assert!(
                golden == written,
                "{name}: the reading is no longer that of {}, from line {}",
                path.display(),
                differs.map_or_else(|| golden.lines().count(), |at| at + 1)
            );
        }
    }
    assert!(expected_files.len() >= 12, "twelve recipes or more are read right; {}", expected_files.len());
    let there: BTreeSet<String> = std::fs::read_dir(&folder)
        .expect("the folder of golden files")
        .filter_map(Result::ok)
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(there, expected_files, "a golden file for each recipe read right, and none else");
}
