//! Which recipe a reference means.

use quartern_reading::{Reference, ReferenceKind};

use crate::Given;

/// What a reference leads to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Meant {
    /// One recipe: its place among the givens.
    One(usize),
    /// None of those at hand.
    Missing,
    /// Several: their places.
    Several(Vec<usize>),
}

/// Words that do not tell one title from another.
const COMMON: &[&str] = &[
    "a", "an", "the", "to", "make", "of", "for", "receipt", "recipe", "how", "your", "my", "with", "in",
    "as", "and", "or", "another", "way", "good", "fine", "very", "do", "dress", "prepare", "see", "on", "by",
];

/// Returns the words that tell a title from others, singular and folded, in order, each once.
fn telling(title: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let folded = title.to_lowercase().replace('ſ', "s").replace('’', "'");
    for word in folded.split(|letter: char| !letter.is_alphanumeric() && letter != '\'') {
        let word = word.trim_matches('\'');
        if word.is_empty() || COMMON.contains(&word) {
            continue;
        }
        let word = singular(word);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

fn singular(word: &str) -> String {
    let word = word.strip_suffix("'s").unwrap_or(word);
    if word.len() > 4 && word.ends_with("ies") {
        return format!("{}y", &word[..word.len() - 3]);
    }
    if word.len() > 4 && ["oes", "shes", "ches", "xes", "sses"].iter().any(|end| word.ends_with(end)) {
        return word[..word.len() - 2].to_owned();
    }
    if word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") && !word.ends_with("us") {
        return word[..word.len() - 1].to_owned();
    }
    word.to_owned()
}

/// Finds which recipe a reference means. `around` are the words of the sentence it stands in, for a
/// reference that names nothing itself.
pub(crate) fn meant(
    reference: &Reference,
    around: &str,
    givens: &[Given],
    titles: &[String],
    own: usize,
) -> Meant {
    let by_words = |words: &[String]| {
        let mut exact = Vec::new();
        let mut holding = Vec::new();
        let mut held = Vec::new();
        for (index, title) in titles.iter().enumerate().take(givens.len()) {
            let telling = telling(title);
            if telling.is_empty() {
                continue;
            }
            let all = |inner: &[String], outer: &[String]| inner.iter().all(|word| outer.contains(word));
            let (within, beyond) = (all(words, &telling), all(&telling, words));
            match (within, beyond) {
                (true, true) => exact.push(index),
                (true, false) => holding.push(index),
                (false, true) => held.push(index),
                (false, false) => {}
            }
        }
        [exact, holding, held].into_iter().find(|found| !found.is_empty()).unwrap_or_default()
    };
    let found: Vec<usize> = match reference.kind {
        ReferenceKind::Title => {
            let words = telling(&reference.target);
            if words.is_empty() { Vec::new() } else { by_words(&words) }
        }
        ReferenceKind::Number => {
            let number: String = reference.target.chars().filter(char::is_ascii_digit).collect();
            titles
                .iter()
                .enumerate()
                .filter(|(_, title)| !number.is_empty() && leading_number(title) == number)
                .map(|(index, _)| index)
                .collect()
        }
        // A page tells nothing of a recipe given by itself; the sentence may name it.
        ReferenceKind::Page | ReferenceKind::Neighbour => {
            let words = telling(around);
            titles
                .iter()
                .enumerate()
                .filter(|(index, title)| {
                    let telling = telling(title);
                    *index != own && !telling.is_empty() && telling.iter().all(|word| words.contains(word))
                })
                .map(|(index, _)| index)
                .collect()
        }
    };
    match found.as_slice() {
        [] => Meant::Missing,
        [one] => Meant::One(*one),
        several => Meant::Several(several.to_vec()),
    }
}

/// Returns the number a heading begins with: "212. To stew eels", "No. 212".
fn leading_number(title: &str) -> String {
    let folded = title.trim().trim_start_matches(['_', '*', '#', '§', '(', ' ']);
    let bare =
        ["No.", "NO.", "no.", "N°", "№"].iter().find_map(|sign| folded.strip_prefix(sign)).unwrap_or(folded);
    bare.trim_start().chars().take_while(char::is_ascii_digit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use quartern_text::{PlaceId, Source, Span, Transcript, Within, YearRange};

    fn given() -> Given {
        Given {
            transcript: Transcript::new("Take flour.").expect("words"),
            title: None,
            source: Source {
                title: String::new(),
                author: String::new(),
                written: Within {
                    years: YearRange::single(1800).expect("a year"),
                    place: PlaceId::from_register("england"),
                },
                printed: None,
                edition: String::new(),
                rights: String::new(),
            },
        }
    }

    fn to(kind: ReferenceKind, target: &str) -> Reference {
        Reference { span: Span::new(0, 1), kind, target: target.to_owned(), sure: true }
    }

    #[test]
    fn titles_are_found_whatever_their_articles_and_plurals() {
        let givens = vec![given(), given(), given()];
        let titles: Vec<String> =
            ["A Gooseberry Plate", "A SHORT PASTE for Plates and Tarts.", "212. To stew Eels"]
                .map(str::to_owned)
                .to_vec();
        let find = |kind, target: &str, around: &str| meant(&to(kind, target), around, &givens, &titles, 0);
        assert_eq!(find(ReferenceKind::Title, "the Short Paste for Plates and Tarts", ""), Meant::One(1));
        assert_eq!(find(ReferenceKind::Title, "short paste", ""), Meant::One(1));
        assert_eq!(find(ReferenceKind::Title, "plate", ""), Meant::Several(vec![0, 1]));
        assert_eq!(find(ReferenceKind::Title, "puff paste", ""), Meant::Missing);
        assert_eq!(find(ReferenceKind::Number, "212", ""), Meant::One(2));
        assert_eq!(find(ReferenceKind::Neighbour, "", "make a paste as before"), Meant::Missing);
    }
}
