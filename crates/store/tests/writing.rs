//! Editions are written whole or not at all.

use std::fs;
use std::path::Path;

use quartern_store::{NewFile, read_file, write_all};

fn file(name: &str, content: &str) -> NewFile {
    NewFile { name: name.to_owned(), content: content.to_owned() }
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn all_files_come_under_their_own_names_and_nothing_else() {
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("a/b");
    let written = write_all(&out, &[file("cake.html", "<p>"), file("cake.json", "{}")]).expect("written");
    assert_eq!(written, [out.join("cake.html"), out.join("cake.json")]);
    assert_eq!(names(&out), ["cake.html", "cake.json"]);
    write_all(&out, &[file("cake.html", "<p>again")]).expect("written over");
    assert_eq!(fs::read_to_string(out.join("cake.html")).expect("there"), "<p>again");
    assert_eq!(names(&out), ["cake.html", "cake.json"]);
}

#[test]
fn when_the_last_file_fails_the_first_is_taken_back() {
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("out");
    fs::create_dir_all(out.join("cake.json")).expect("a folder in the way");
    let error = write_all(&out, &[file("cake.html", "<p>"), file("cake.json", "{}")]).expect_err("refused");
    assert!(error.is_writing() && error.to_string().contains("cake.json can't be written"), "{error}");
    assert_eq!(names(&out), ["cake.json"]);
}

#[test]
fn a_file_in_the_folders_place_is_refused_and_kept() {
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("notes.txt");
    fs::write(&out, "mine").expect("written");
    for wanted in [out.clone(), out.join("deeper")] {
        let error = write_all(&wanted, &[file("cake.html", "<p>")]).expect_err("refused");
        assert!(error.is_writing(), "{error}");
    }
    assert_eq!(fs::read_to_string(&out).expect("there"), "mine");
}

#[test]
fn a_folder_made_for_nothing_is_taken_away() {
    let room = tempfile::tempdir().expect("a folder");
    let long = "x".repeat(300);
    let error = write_all(&room.path().join("a/b"), &[file(&long, "<p>")]).expect_err("the name is too long");
    assert!(error.is_writing(), "{error}");
    assert!(names(room.path()).is_empty());
}

#[test]
fn a_folder_or_a_missing_file_is_no_recipe() {
    let room = tempfile::tempdir().expect("a folder");
    let folder = read_file(room.path()).expect_err("refused").to_string();
    assert!(folder.ends_with("is a folder; give the file of one recipe in it"), "{folder}");
    let missing = read_file(&room.path().join("none.txt")).expect_err("refused").to_string();
    assert!(missing.ends_with("none.txt can't be read: there is no such file; check the name"), "{missing}");
    let long = room.path().join("book.txt");
    fs::File::create(&long).expect("made").set_len(100_000_000).expect("a sparse file of 100 MB");
    let long = read_file(&long).expect_err("refused").to_string();
    assert!(long.contains("longer than 16 MiB"), "{long}");
}
