//! Bad input gets one clear sentence and an exit code; nothing half-written is left behind.

mod common;

use std::fs::{self, File};
use std::path::Path;

use common::{names, program, run, run_with};

const WHEN: [&str; 4] = ["--year", "1861", "--place", "england"];
const RECIPE: &[u8] = b"A PLAIN PASTE\n\nTake half a pound of flour and a gill of water.\n";

fn read(file: &Path) -> common::Ran {
    let mut arguments = vec!["read".to_owned(), file.display().to_string()];
    arguments.extend(WHEN.map(str::to_owned));
    run(&arguments)
}

fn edition(file: &Path, out: &Path) -> common::Ran {
    let mut arguments = vec!["edition".to_owned(), file.display().to_string()];
    arguments.extend(WHEN.map(str::to_owned));
    arguments.extend(["--out".to_owned(), out.display().to_string()]);
    run(&arguments)
}

#[test]
fn files_that_are_no_recipe() {
    let room = tempfile::tempdir().expect("a folder");
    let file = |name: &str, bytes: &[u8]| {
        let path = room.path().join(name);
        fs::write(&path, bytes).expect("written");
        path
    };
    read(&file("empty.txt", b"")).stopped(1, "is empty; give a file");
    read(&file("blank.txt", b" \n\t\n")).stopped(1, "is empty; give a file");
    // The first bytes of a PNG picture (ISO/IEC 15948, 5.2) and of its header.
    read(&file("picture.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")).stopped(1, "is a picture, not plain text");
    // The first bytes of a PDF (ISO 32000-1, 7.5.2).
    read(&file("page.pdf", b"%PDF-1.7\n")).stopped(1, "is a PDF, not plain text");
    read(&file("zeros.txt", b"Take\0flour")).stopped(1, "is not a text");
    read(&file("latin.txt", b"A souffl\xE9\n")).stopped(1, "byte 9 (0xE9, in line 1)");
    read(&file("utf16.txt", b"\xFF\xFEA\0\n\0")).stopped(1, "is UTF-16 text; save it as UTF-8");
    read(room.path()).stopped(1, "is a folder; give the file of one recipe");
    read(&room.path().join("none.txt")).stopped(1, "there is no such file");
    let book = room.path().join("book.txt");
    File::create(&book).expect("made").set_len(100 * 1024 * 1024).expect("100 MiB");
    read(&book).stopped(1, "far more than one recipe");
}

#[test]
fn a_hundred_megabytes_on_standard_input() {
    let input = b"Take a pound of flour. ".repeat(4_500_000);
    run_with(&[&["read"][..], &WHEN].concat(), &input).stopped(1, "far more than one recipe");
}

#[test]
fn years_and_places_that_cannot_be() {
    for (arguments, says) in [
        (&["--year", "99999", "--place", "england"][..], "the year 99999"),
        (&["--year", "-5", "--place", "england"], "the year -5"),
        (&["--year", "soon", "--place", "england"], "“soon” is no year"),
        (&["--year", "1861", "--year-last", "1850", "--place", "england"], "run backwards"),
        (&["--year-last", "1850", "--place", "england"], "needs a --year before it"),
        (&["--year", "1861", "--place", "nortumberland"], "northumberland"),
        (&["--year", "1861"], "the place is missing"),
        (&["--place", "england"], "the year is missing"),
        (&[], "the year is missing"),
    ] {
        let ran = run_with(&[&["read"][..], arguments].concat(), RECIPE);
        ran.stopped(2, says);
        assert_eq!(ran.out, "");
        run_with(&[&["edition", "-", "--out", "nowhere"][..], arguments].concat(), RECIPE).stopped(2, says);
    }
    assert!(!common::top().join("nowhere").exists());
}

#[test]
fn commands_that_are_not_as_they_should_be() {
    for (arguments, says) in [
        (&[][..], "say what is to be done"),
        (&["reed"], "there is no command “reed”; did you mean read?"),
        (&["read", "--yaer", "1861"], "there is no “--yaer” here; did you mean --year?"),
        (&["read", "--format", "table", "--jsonl"], "can't be used with"),
        (&["read", "--format", "xml"], "it can be: table, json"),
        (&["read", "--year"], "needs a value"),
        (&["edition"], "is missing"),
        (&["explain"], "is missing"),
        (&["completions", "abacus"], "it can be: bash"),
    ] {
        run(arguments).stopped(2, says);
    }
}

#[test]
fn a_source_file_that_can_not_be_used() {
    let room = tempfile::tempdir().expect("a folder");
    let source = room.path().join("source.toml");
    fs::write(&source, "title = [").expect("written");
    let arguments = ["read", "--source", &source.display().to_string()];
    run_with(&arguments, RECIPE).stopped(1, "source.toml: ");
    run_with(&["read", "--source", "nowhere.toml"], RECIPE).stopped(1, "there is no such file");
}

#[test]
fn a_full_disk() {
    // The device is one of Linux; it takes nothing and answers that the disk is full.
    let full = Path::new("/dev/full");
    if !full.exists() {
        return;
    }
    for arguments in [&["--help"][..], &["man"], &["completions", "bash"], &["explain", "R002"]] {
        let out = File::options().write(true).open(full).expect("opened");
        let ran = program().args(arguments).stdout(out).output().expect("the program ends");
        let err = String::from_utf8_lossy(&ran.stderr);
        assert_eq!(ran.status.code(), Some(3), "{arguments:?}: {err}");
        assert_eq!(err, "quartern: the output can't be written: the disk is full; make room and try again\n");
    }
    let room = tempfile::tempdir().expect("a folder");
    let recipe = room.path().join("paste.txt");
    fs::write(&recipe, RECIPE).expect("written");
    for format in ["table", "json"] {
        let out = File::options().write(true).open(full).expect("opened");
        let ran = program()
            .args(["read", "--format", format])
            .arg(&recipe)
            .args(WHEN)
            .stdout(out)
            .output()
            .expect("the program ends");
        assert_eq!(ran.status.code(), Some(3), "{}", String::from_utf8_lossy(&ran.stderr));
    }
}

#[test]
fn a_reader_that_goes_away_is_no_trouble() {
    let mut child = program()
        .args(["man", "read"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let ran = child.wait_with_output().expect("the program ends");
    assert_eq!((ran.status.code(), String::from_utf8_lossy(&ran.stderr).as_ref()), (Some(0), ""));
}

#[test]
fn a_folder_that_can_not_be_written_in() {
    let room = tempfile::tempdir().expect("a folder");
    let recipe = room.path().join("paste.txt");
    fs::write(&recipe, RECIPE).expect("written");
    // Whoever runs this may be allowed to write everywhere, so a file stands where a folder should.
    let file = room.path().join("file");
    fs::write(&file, "mine").expect("written");
    edition(&recipe, &file).stopped(3, "is a file; give a folder");
    edition(&recipe, &file.join("deeper")).stopped(3, "can't be written");
    assert_eq!(fs::read_to_string(&file).expect("there"), "mine");
    // Nobody can make a folder among the processes of Linux.
    if Path::new("/proc/self").exists() {
        edition(&recipe, Path::new("/proc/quartern")).stopped(3, "can't be written");
    }
    assert_eq!(names(room.path()), ["file", "paste.txt"]);
}

#[test]
fn nothing_half_written_is_left_behind() {
    let room = tempfile::tempdir().expect("a folder");
    let recipe = room.path().join("paste.txt");
    fs::write(&recipe, RECIPE).expect("written");
    let out = room.path().join("out");
    // A folder stands where the last of the three files should go.
    fs::create_dir_all(out.join("a-plain-paste.txt")).expect("made");
    edition(&recipe, &out).stopped(3, "a-plain-paste.txt can't be written");
    assert_eq!(names(&out), ["a-plain-paste.txt"]);
    // A bad recipe among good ones: no edition at all, and no folder.
    let bad = room.path().join("bad.txt");
    fs::write(&bad, b"\0").expect("written");
    let new = room.path().join("new");
    let mut arguments: Vec<String> = [&recipe, &bad]
        .iter()
        .map(|path| path.display().to_string())
        .chain(WHEN.map(str::to_owned))
        .collect();
    arguments.insert(0, "edition".to_owned());
    arguments.extend(["--each".to_owned(), "--out".to_owned(), new.display().to_string()]);
    run(&arguments).stopped(1, "bad.txt is not a text");
    assert!(!new.exists());
}
