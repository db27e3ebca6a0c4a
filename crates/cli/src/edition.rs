//! `quartern edition`: editions written into a folder.

use std::collections::BTreeSet;
use std::path::Path;

use quartern_store::NewFile;
use quartern_workbench::{Decision, Given};

use crate::arguments::Edition;
use crate::source::{given, source};
use crate::trouble::{Trouble, print};
use crate::{VERSION, read};

/// Writes one edition of the first file, or one of each.
pub(crate) fn run(wanted: &Edition) -> Result<(), Trouble> {
    let told = source(&wanted.when_where, wanted.source.as_deref())?;
    let decisions = decisions(wanted.decisions.as_deref())?;
    let mut givens: Vec<Given> = Vec::with_capacity(wanted.files.len());
    for (at, path) in wanted.files.iter().enumerate() {
        let (words, name) = read::words(Some(path))?;
        // A source file about one recipe names that recipe, which is the first.
        let title = if at == 0 { told.title.clone() } else { None };
        givens.push(given(words, title, &told.source, &name)?);
    }
    let editions = if wanted.each { givens.len() } else { 1 };
    let mut files = Vec::with_capacity(editions * 3);
    let mut names = BTreeSet::new();
    for path in wanted.files.iter().take(editions) {
        add(&mut files, &mut names, &givens, &decisions, path)?;
        givens.rotate_left(1);
    }
    let written = quartern_store::write_all(&wanted.out, &files)?;
    let mut list = String::new();
    for path in &written {
        list.push_str(&path.display().to_string());
        list.push('\n');
    }
    print(&list)
}

fn add(
    files: &mut Vec<NewFile>,
    names: &mut BTreeSet<String>,
    givens: &[Given],
    decisions: &[Decision],
    path: &Path,
) -> Result<(), Trouble> {
    let edition = quartern_workbench::edition(givens, decisions, VERSION);
    let mut name = file_name(&edition.title);
    if name.is_empty() {
        name = file_name(&path.file_stem().unwrap_or_default().to_string_lossy());
    }
    if name.is_empty() {
        "recipe".clone_into(&mut name);
    }
    if !names.insert(name.clone()) {
        return Err(Trouble::Input(format!(
            "two of the recipes are called “{}”, so that one edition would take the place of the other; write them into folders of their own",
            edition.title
        )));
    }
    let mut json = quartern_press::json::text(&edition);
    if !json.ends_with('\n') {
        json.push('\n');
    }
    files.push(NewFile { name: format!("{name}.html"), content: quartern_press::html::page(&edition) });
    files.push(NewFile { name: format!("{name}.json"), content: json });
    files.push(NewFile { name: format!("{name}.txt"), content: quartern_press::plain::text(&edition) });
    Ok(())
}

fn decisions(path: Option<&Path>) -> Result<Vec<Decision>, Trouble> {
    let Some(path) = path else { return Ok(Vec::new()) };
    let text = quartern_store::read_file(path)?;
    quartern_workbench::decisions_from_toml(&text)
        .map_err(|error| Trouble::Input(format!("{}: {error}", path.display())))
}

/// Makes a file name of a heading: small letters, digits and hyphens, at most sixty.
fn file_name(heading: &str) -> String {
    let mut name = String::new();
    for sign in heading.chars().flat_map(char::to_lowercase) {
        let plain = match sign {
            'ſ' => "s",
            'æ' => "ae",
            'œ' => "oe",
            'à' | 'â' | 'á' | 'ä' => "a",
            'ç' => "c",
            'è' | 'é' | 'ê' | 'ë' => "e",
            'î' | 'ï' | 'í' => "i",
            'ô' | 'ö' | 'ó' => "o",
            'û' | 'ü' | 'ù' | 'ú' => "u",
            // An apostrophe joins: "cook's" is "cooks".
            '\'' | '’' => continue,
            _ if sign.is_ascii_alphanumeric() => {
                name.push(sign);
                continue;
            }
            _ => "-",
        };
        if plain != "-" || !(name.is_empty() || name.ends_with('-')) {
            name.push_str(plain);
        }
    }
    let cut: String = name.chars().take(60).collect();
    cut.trim_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn headings_become_file_names_that_every_disk_takes() {
        assert_eq!(file_name("STEWED OX-TAILS."), "stewed-ox-tails");
        assert_eq!(file_name("A Cook’s Soufflé, the beſt"), "a-cooks-souffle-the-best");
        assert_eq!(file_name("../../etc/passwd"), "etc-passwd");
        assert_eq!(file_name("湯"), "");
        assert!(file_name(&"long ".repeat(40)).len() <= 60);
    }
}
