//! Words that more than one format needs, so that all formats say the same.

use quartern_edition::{GapKind, Gravity, MarkKind};
use quartern_text::{PlaceId, Source, Within};

/// Returns the heading of a recipe, or what to call it where the source prints none.
pub(crate) fn title(title: &str) -> &str {
    if title.trim().is_empty() { "A recipe without a heading" } else { title }
}

/// Returns the name of a kind of mark.
pub(crate) fn mark_kind(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::Item => "ingredient",
        MarkKind::Time => "time",
        MarkKind::Heat => "heat",
        MarkKind::Cue => "sign that it is done",
        MarkKind::Reference => "reference",
        MarkKind::Yield => "yield",
    }
}

/// Returns the name of a kind of gap.
pub(crate) fn gap(gap: GapKind) -> &'static str {
    match gap {
        GapKind::Heat => "Heat",
        GapKind::Time => "Time",
        GapKind::Amount => "Amount",
        GapKind::Recipe => "Recipe",
    }
}

/// Returns what a gravity means.
pub(crate) fn gravity(gravity: Gravity) -> &'static str {
    match gravity {
        Gravity::Grave => "can do lasting harm",
        Gravity::Careful => "needs care",
    }
}

/// Writes a name of the register of places for people: `united-states` is `United States`.
fn place(place: PlaceId) -> String {
    let mut words = Vec::new();
    for word in place.as_str().split('-') {
        let small = !words.is_empty() && matches!(word, "of" | "and" | "the");
        let mut letters = word.chars();
        words.push(match letters.next() {
            Some(first) if !small => first.to_uppercase().chain(letters).collect::<String>(),
            _ => word.to_owned(),
        });
    }
    words.join(" ")
}

/// Returns where and when the source was printed, if that differs from where it was written.
pub(crate) fn printed(source: &Source) -> String {
    match &source.printed {
        Some(Within { years, place: printed }) if source.printed.as_ref() != Some(&source.written) => {
            format!("printed {years}, {}", place(*printed))
        }
        _ => String::new(),
    }
}

/// Ends a sentence with a full stop, unless it ends in a stop or is empty.
pub(crate) fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.is_empty()
        || text.ends_with(['.', '!', '?', '…'])
        || text.ends_with([')', '’', '”']) && stopped(text)
    {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// Does a text that ends in a closing sign have its stop before that sign.
fn stopped(text: &str) -> bool {
    text.trim_end_matches([')', '’', '”']).ends_with(['.', '!', '?', '…'])
}

/// Reads a rounded range aloud: `118–170 ml` is `from 118 to 170 ml`.
pub(crate) fn spoken_range(range: &str, best: &str) -> String {
    match range.split_once('–') {
        Some((low, high)) => format!("from {low} to {high}, best {best}"),
        None => format!("best {best}"),
    }
}

/// Writes the allergens as one sentence; empty where none was found.
pub(crate) fn allergens(found: &[quartern_edition::Allergen]) -> String {
    if found.is_empty() {
        return String::new();
    }
    let each: Vec<String> =
        found.iter().map(|one| format!("{} ({})", one.name, one.ingredients.join(", "))).collect();
    format!(
        "Of the fourteen that Regulation (EU) No 1169/2011 names, by the register of ingredients: {}. \
        What was not read is not in this list, and what you buy may hold others: read its label.",
        each.join("; ")
    )
}
