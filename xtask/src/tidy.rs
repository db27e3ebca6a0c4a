//! `cargo xtask tidy`: what no compiler checks. Which crate may use which, that the core stays away
//! from the world, that no file names the machine it was written on, that every folder of data says
//! under what licence it stands, and that every library has its reason written down.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// What a crate of this workspace may use of the others.
struct Room {
    /// The folder under `crates/`.
    name: &'static str,
    /// The crates it may use.
    may_use: &'static [&'static str],
    /// Whether it may touch files, clock, environment, network or other programs.
    world: World,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum World {
    /// It is pure: words and figures in, words and figures out.
    KeptOut,
    /// It is an adapter at the edge.
    LetIn,
}

/// The direction of every dependency: each crate uses only crates above it. `ARCHITECTURE.md` draws
/// the same table.
const ROOMS: &[Room] = &[
    Room { name: "text", may_use: &[], world: World::KeptOut },
    Room { name: "quantity", may_use: &[], world: World::KeptOut },
    Room { name: "notice", may_use: &["text"], world: World::KeptOut },
    Room { name: "knowledge", may_use: &["text", "quantity"], world: World::KeptOut },
    Room { name: "reading", may_use: &["text", "quantity", "notice", "knowledge"], world: World::KeptOut },
    Room {
        name: "reckoning",
        may_use: &["text", "quantity", "notice", "knowledge", "reading"],
        world: World::KeptOut,
    },
    Room { name: "edition", may_use: &["text", "quantity", "notice"], world: World::KeptOut },
    Room { name: "press", may_use: &["text", "quantity", "notice", "edition"], world: World::KeptOut },
    Room {
        name: "workbench",
        may_use: &["text", "quantity", "notice", "knowledge", "reading", "reckoning", "edition", "press"],
        world: World::KeptOut,
    },
    Room { name: "store", may_use: &["text", "workbench"], world: World::LetIn },
    Room {
        name: "cli",
        may_use: &["text", "knowledge", "reading", "reckoning", "edition", "press", "workbench", "store"],
        world: World::LetIn,
    },
];

/// Names by which a source file would reach for the world.
const WORLD: &[&str] = &[
    "std::fs",
    "std::env",
    "std::time",
    "std::net",
    "std::process",
    "std::thread",
    "std::io::stdin",
    "SystemTime",
    "Instant::now",
    "println!",
    "eprintln!",
];

/// Folders of data and texts that are not code, and so need a word on their licence.
const DATA_FOLDERS: &[&str] = &["data", "demo", "fixtures", "golden/marked", "crates/press/assets/fonts"];

/// Runs every check and prints what is wrong.
pub(crate) fn tidy() -> Result<(), String> {
    let faults = faults(&root())?;
    for fault in &faults {
        eprintln!("tidy: {fault}");
    }
    match faults.len() {
        0 => {
            println!("tidy: {} crates point the right way; nothing to mend", ROOMS.len());
            Ok(())
        }
        many => Err(format!("tidy: {many} to mend")),
    }
}

/// Returns the top folder of the project.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap_or(Path::new(".")).to_owned()
}

fn faults(root: &Path) -> Result<Vec<String>, String> {
    let metadata = metadata(root)?;
    let files = tracked(root)?;
    let mut faults = arrows(&metadata);
    faults.extend(libraries(&metadata, root));
    faults.extend(library_licences(root)?);
    faults.extend(the_world(root, &files));
    faults.extend(machine_names(root, &files));
    faults.extend(licences(root, &files));
    Ok(faults)
}

fn metadata(root: &Path) -> Result<Value, String> {
    let out = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .args(["metadata", "--format-version=1", "--no-deps", "--offline"])
        .current_dir(root)
        .output()
        .map_err(|error| format!("cargo metadata: {error}"))?;
    if !out.status.success() {
        return Err(format!("cargo metadata: {}", String::from_utf8_lossy(&out.stderr)));
    }
    serde_json::from_slice(&out.stdout).map_err(|error| format!("cargo metadata: {error}"))
}

/// Returns the files of the project: those git knows of or would take, or all that are there where
/// there is no git.
fn tracked(root: &Path) -> Result<Vec<PathBuf>, String> {
    let listed = Command::new("git")
        .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        .current_dir(root)
        .output();
    if let Ok(out) = listed
        && out.status.success()
    {
        let names = String::from_utf8_lossy(&out.stdout).into_owned();
        return Ok(names.split('\0').filter(|name| !name.is_empty()).map(PathBuf::from).collect());
    }
    let mut files = Vec::new();
    walk(root, Path::new(""), &mut files)?;
    files.sort();
    Ok(files)
}

fn walk(root: &Path, within: &Path, files: &mut Vec<PathBuf>) -> Result<(), String> {
    let folder = root.join(within);
    let entries = std::fs::read_dir(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    for entry in entries.flatten() {
        let name = entry.file_name();
        if [".git", "target", "out"].iter().any(|skipped| name == **skipped) {
            continue;
        }
        let path = within.join(&name);
        if entry.path().is_dir() {
            walk(root, &path, files)?;
        } else {
            files.push(path);
        }
    }
    Ok(())
}

/// Checks the direction of every dependency, the ones for tests and build scripts too.
fn arrows(metadata: &Value) -> Vec<String> {
    let rooms: BTreeMap<&str, &Room> = ROOMS.iter().map(|room| (room.name, room)).collect();
    let mut faults = Vec::new();
    for (at, room) in ROOMS.iter().enumerate() {
        for used in room.may_use {
            if !ROOMS.iter().take(at).any(|above| above.name == *used) {
                faults.push(format!(
                    "the table lets `{}` use `{used}`, which does not stand above it",
                    room.name
                ));
            }
        }
    }
    for package in metadata["packages"].as_array().into_iter().flatten() {
        let Some(name) = package["name"].as_str().and_then(|name| name.strip_prefix("quartern-")) else {
            continue;
        };
        let Some(room) = rooms.get(name) else {
            faults.push(format!("the crate `{name}` has no place in the table of rooms (xtask/src/tidy.rs)"));
            continue;
        };
        for dependency in package["dependencies"].as_array().into_iter().flatten() {
            let Some(used) = dependency["name"].as_str().and_then(|name| name.strip_prefix("quartern-"))
            else {
                continue;
            };
            if !room.may_use.contains(&used) {
                faults.push(format!("`{name}` must not use `{used}`: the arrow points the wrong way"));
            }
        }
    }
    faults
}

/// Checks that every outside library has a line that says what it saves and how to leave it.
fn libraries(metadata: &Value, root: &Path) -> Vec<String> {
    let record = "docs/decisions/0005-libraries.md";
    let Ok(text) = std::fs::read_to_string(root.join(record)) else {
        return vec![format!("{record} is missing")];
    };
    let mut faults = Vec::new();
    for package in metadata["packages"].as_array().into_iter().flatten() {
        for dependency in package["dependencies"].as_array().into_iter().flatten() {
            let name = dependency["name"].as_str().unwrap_or("");
            if !name.starts_with("quartern-") && !text.contains(&format!("`{name}`")) {
                faults.push(format!("the library `{name}` has no line in {record}"));
            }
        }
    }
    faults.sort();
    faults.dedup();
    faults
}

/// Checks that the licence of every library built in here is among those `deny.toml` allows.
fn library_licences(root: &Path) -> Result<Vec<String>, String> {
    let deny =
        std::fs::read_to_string(root.join("deny.toml")).map_err(|error| format!("deny.toml: {error}"))?;
    let deny: toml::Table = deny.parse().map_err(|error| format!("deny.toml: {error}"))?;
    let allowed: Vec<&str> = deny
        .get("licenses")
        .and_then(|part| part.get("allow"))
        .and_then(toml::Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(toml::Value::as_str)
        .collect();
    let out = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .args([
            "tree",
            "--workspace",
            "--prefix=none",
            "--format={p}|{l}",
            "--edges=normal,build,dev",
            "--offline",
        ])
        .current_dir(root)
        .output()
        .map_err(|error| format!("cargo tree: {error}"))?;
    if !out.status.success() {
        return Err(format!("cargo tree: {}", String::from_utf8_lossy(&out.stderr)));
    }
    let tree = String::from_utf8_lossy(&out.stdout);
    let mut faults: Vec<String> = tree
        .lines()
        .filter_map(|line| line.trim_end_matches(" (*)").split_once('|'))
        .filter(|(package, licence)| !package.contains("(/") && !allows(&allowed, licence))
        .map(|(package, licence)| {
            format!("{package}: the licence “{licence}” is not among those of deny.toml")
        })
        .collect();
    faults.sort();
    faults.dedup();
    Ok(faults)
}

/// Tells whether a licence expression (SPDX 2.3, annex D; `/` is an old spelling of OR) can be met
/// with the allowed licences alone.
fn allows(allowed: &[&str], expression: &str) -> bool {
    let expression = expression.trim();
    let inner = expression.strip_prefix('(').and_then(|rest| rest.strip_suffix(')'));
    if let Some(inner) = inner
        && !inner.contains('(')
    {
        return allows(allowed, inner);
    }
    for (sign, all) in [(" OR ", false), ("/", false), (" AND ", true)] {
        let parts = outside_brackets(expression, sign);
        if parts.len() > 1 {
            return if all {
                parts.iter().all(|part| allows(allowed, part))
            } else {
                parts.iter().any(|part| allows(allowed, part))
            };
        }
    }
    allowed.contains(&expression)
}

/// Cuts an expression at a sign wherever that stands outside brackets.
fn outside_brackets<'a>(expression: &'a str, sign: &str) -> Vec<&'a str> {
    let mut parts = Vec::new();
    let (mut depth, mut from) = (0_usize, 0);
    for (at, letter) in expression.char_indices() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ if depth == 0 && at >= from && expression[at..].starts_with(sign) => {
                parts.push(&expression[from..at]);
                from = at + sign.len();
            }
            _ => {}
        }
    }
    parts.push(&expression[from..]);
    parts
}

/// Checks that the core reaches for no file, clock, environment, network, program or terminal.
fn the_world(root: &Path, files: &[PathBuf]) -> Vec<String> {
    let mut faults = Vec::new();
    for room in ROOMS.iter().filter(|room| room.world == World::KeptOut) {
        let folder = Path::new("crates").join(room.name).join("src");
        for file in files.iter().filter(|file| {
            file.starts_with(&folder)
                && file.extension().is_some_and(|end| end == "rs")
                && file.file_name().is_some_and(|name| name != "tests.rs")
        }) {
            let Ok(text) = std::fs::read_to_string(root.join(file)) else { continue };
            // Tests may read files; they stand last in a file.
            let code = text.split("#[cfg(test)]").next().unwrap_or("");
            for (at, line) in code.lines().enumerate() {
                let line = line.split("//").next().unwrap_or("");
                for name in reaches_for(line) {
                    faults.push(format!("{}:{}: the core must not use `{name}`", file.display(), at + 1));
                }
            }
        }
    }
    faults
}

fn reaches_for(line: &str) -> Vec<&'static str> {
    let grouped = line.trim_start().strip_prefix("use std::{").map(|rest| rest.trim_end_matches(['}', ';']));
    WORLD
        .iter()
        .copied()
        .filter(|name| {
            line.contains(name)
                || grouped.is_some_and(|group| {
                    group.split(',').any(|part| name.strip_prefix("std::") == part.trim().split("::").next())
                })
        })
        .collect()
}

/// Checks that no file names the machine, folders or people it was written among.
fn machine_names(root: &Path, files: &[PathBuf]) -> Vec<String> {
    // Put together here, so that this file does not hold what it looks for.
    let names: Vec<String> = ["work", "tmp", "root", "home"]
        .iter()
        .map(|folder| format!("/{folder}/"))
        .chain(["shared".to_owned() + "/"])
        .collect();
    let mut faults = Vec::new();
    for file in files {
        let Ok(text) = std::fs::read_to_string(root.join(file)) else { continue };
        for (at, line) in text.lines().enumerate() {
            for name in names.iter().filter(|name| stands_alone(line, name)) {
                faults.push(format!("{}:{}: names the machine (`{name}`)", file.display(), at + 1));
            }
        }
    }
    faults
}

/// Tells whether a folder name stands in a line as a folder, not as the end of another word.
fn stands_alone(line: &str, name: &str) -> bool {
    line.match_indices(name).any(|(at, _)| {
        let before = line.get(..at).and_then(|before| before.chars().next_back());
        !before.is_some_and(char::is_alphanumeric)
    })
}

/// Checks that every folder of data says where it comes from and under what licence it stands.
fn licences(root: &Path, files: &[PathBuf]) -> Vec<String> {
    let mut faults = Vec::new();
    for licence in ["LICENSE-MIT", "LICENSE-APACHE"] {
        if !root.join(licence).is_file() {
            faults.push(format!("{licence} is missing"));
        }
    }
    for folder in DATA_FOLDERS {
        if !files.iter().any(|file| file.starts_with(folder)) {
            continue;
        }
        let says = ["README.md", "LICENSE", "GUIDE.md", "formats.md"].iter().any(|name| {
            std::fs::read_to_string(root.join(folder).join(name)).is_ok_and(|text| {
                ["CC0", "licence", "Licence", "license", "License", "public domain"]
                    .iter()
                    .any(|word| text.contains(word))
            })
        });
        if !says {
            faults.push(format!("{folder}/ has no README.md or LICENSE that names its licence"));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_dependency_points_the_right_way() {
        let metadata = metadata(&root()).expect("cargo metadata answers");
        assert!(metadata["packages"].as_array().is_some_and(|all| all.len() > ROOMS.len()));
        assert_eq!(arrows(&metadata), Vec::<String>::new());
    }

    #[test]
    fn a_dependency_that_points_the_wrong_way_is_found() {
        let wrong = serde_json::json!({"packages": [
            {"name": "quartern-reading", "dependencies": [{"name": "quartern-press"}, {"name": "serde"}]},
            {"name": "quartern-cellar", "dependencies": []},
        ]});
        let faults = arrows(&wrong);
        assert_eq!(faults.len(), 2, "{faults:?}");
        assert!(faults[0].contains("`reading` must not use `press`"), "{faults:?}");
        assert!(faults[1].contains("`cellar` has no place"), "{faults:?}");
    }

    #[test]
    fn the_rest_is_tidy() {
        assert_eq!(faults(&root()).expect("the project can be read"), Vec::<String>::new());
    }

    #[test]
    fn a_licence_is_allowed_if_it_can_be_met() {
        let allowed = ["MIT", "Unicode-3.0", "Apache-2.0 WITH LLVM-exception"];
        assert!(allows(&allowed, "(MIT OR Apache-2.0) AND Unicode-3.0"));
        assert!(allows(&allowed, "Apache-2.0 WITH LLVM-exception OR BSL-1.0"));
        assert!(allows(&allowed, "Unlicense/MIT"));
        assert!(!allows(&allowed, "MIT AND GPL-3.0"));
        assert!(allows(&allowed, "GPL-3.0 AND Zlib OR MIT"));
        assert!(!allows(&allowed, "Apache-2.0"));
        assert!(!allows(&allowed, ""));
    }

    #[test]
    fn reaching_for_the_world_is_seen_in_every_spelling() {
        assert_eq!(reaches_for("use std::fs::File;"), ["std::fs"]);
        assert_eq!(reaches_for("use std::{fmt, fs};"), ["std::fs"]);
        assert_eq!(reaches_for("let now = std::time::Instant::now();"), ["std::time", "Instant::now"]);
        assert!(reaches_for("include!(concat!(env!(\"OUT_DIR\"), \"/records.rs\"));").is_empty());
        assert!(stands_alone("see /tm\u{70}/x", &format!("/{}/", "tmp")));
        assert!(!stands_alone(&format!("frame/{}/", "work"), &format!("/{}/", "work")));
    }
}
