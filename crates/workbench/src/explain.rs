//! What a term meant then and there.

use quartern_edition::kitchen;
use quartern_knowledge::{
    Evidence, Form, Ingredient, Measure, Unknown, all_ovens, cite, density, glosses, ingredients, nearest,
    resolve, short_cite, unit_words, weight_of, within,
};
use quartern_notice::Code;
use quartern_quantity::Dimension;
use quartern_reckoning::words::{a, capital, curly, per_cent, stop, then_and_there};
use quartern_text::Within;

/// What a term meant then and there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explanation {
    /// The term asked for.
    pub term: String,
    /// Everything on record for it; at least one.
    pub entries: Vec<Entry>,
}

/// One thing a term meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What kind of thing, and its name: `gill, a measure`.
    pub heading: String,
    /// Sentences.
    pub lines: Vec<String>,
    /// The sizes it had, likeliest first.
    pub alternatives: Vec<EntryAlternative>,
    /// On whose word; empty where each alternative has its own.
    pub source: String,
}

/// One size of a measure word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryAlternative {
    /// The record's id, as a decision names it.
    pub id: String,
    /// What to call it.
    pub name: String,
    /// The best size with its unit: `142 ml`.
    pub size: String,
    /// The range with its unit; empty where it is exact.
    pub range: String,
    /// How likely, in per cent.
    pub weight: u32,
    /// A remark; may be empty.
    pub note: String,
    /// On whose word.
    pub source: String,
}

/// Explains a term: a measure word, words for a heat, an old word, an ingredient, or the code of a
/// notice.
///
/// # Errors
/// [`Unknown`] with the nearest terms that are known.
pub fn explain(term: &str, at: &Within) -> Result<Explanation, Unknown> {
    let wanted = bare(term);
    let mut entries = Vec::new();
    if let Some(code) = Code::ALL.iter().find(|code| code.as_str().eq_ignore_ascii_case(term.trim())) {
        entries.push(Entry {
            heading: format!("{}, a notice: {}", code.as_str(), code.title()),
            lines: vec![code.explanation().to_owned()],
            alternatives: Vec::new(),
            source: String::new(),
        });
    }
    measure_entries(&wanted, at, &mut entries);
    heat_entries(&wanted, at, &mut entries);
    gloss_entries(&wanted, at, &mut entries);
    ingredient_entries(&wanted, at, &mut entries);
    if entries.is_empty() {
        let known = unit_words()
            .iter()
            .flat_map(|word| word.names.iter().chain(word.abbreviations).copied())
            .chain(all_ovens().iter().flat_map(|oven| oven.words.iter().copied()))
            .chain(glosses().iter().flat_map(|gloss| gloss.words.iter().copied()))
            .chain(ingredients().iter().flat_map(|known| known.names.iter().copied().chain([known.name])));
        return Err(Unknown { name: term.trim().to_owned(), nearest: nearest(&wanted, known) });
    }
    Ok(Explanation { term: term.trim().to_owned(), entries })
}

/// Returns a term without article, number and full stop: "half a gill" is "gill".
fn bare(term: &str) -> String {
    let folded = term.trim().to_lowercase().replace('ſ', "s").replace('’', "'");
    let words: Vec<&str> = folded.split_whitespace().collect();
    let number = |word: &str| {
        matches!(
            word,
            "a" | "an"
                | "the"
                | "half"
                | "quarter"
                | "third"
                | "of"
                | "one"
                | "two"
                | "three"
                | "four"
                | "five"
                | "six"
        ) || word.starts_with(|first: char| first.is_numeric())
    };
    let from = words.iter().position(|word| !number(word)).unwrap_or(0);
    words[from..].join(" ").trim_end_matches('.').to_owned()
}

fn measure_entries(wanted: &str, at: &Within, entries: &mut Vec<Entry>) {
    for word in unit_words() {
        let likeness = word.unit.starts_with("size:") || word.unit.starts_with("lie-on:");
        // "egg" is a size only where a thing is as big as one; the plain word asks for the food.
        let named = word.unit == wanted
            || (!likeness && (word.names.contains(&wanted) || word.abbreviations.contains(&wanted)))
            || (likeness && size_of(word.unit, wanted));
        if !named || word.unit == "count" {
            continue;
        }
        let shown = word.unit.trim_start_matches("size:").trim_start_matches("lie-on:");
        let heading = if word.unit.starts_with("size:") {
            format!("the size of {}, a measure", a(shown))
        } else if likeness {
            format!("as much as lies on {}, a measure", a(shown))
        } else {
            format!("{shown}, a measure")
        };
        let mut lines = vec![stop_capital(word.gloss)];
        let mut alternatives = Vec::new();
        match resolve(word.unit, at, &[]) {
            Some(found) => {
                let first = found.alternatives[0];
                lines.push(format!(
                    "{}, the likeliest size was the {}, {}.",
                    capital(&then_and_there(at)),
                    first.measure.name,
                    size(first.measure.best, first.measure.dimension)
                ));
                if found.alternatives.len() > 1 {
                    lines.push("The goods are not known here; for a given ingredient fewer sizes come into question.".to_owned());
                }
                alternatives =
                    found.alternatives.iter().map(|other| alternative(other.measure, other.weight)).collect();
            }
            None if word.dimension.is_none() => {
                lines.push("It is a sum of money; how much it bought is not on record.".to_owned());
            }
            None if word.dimension == Some(Dimension::Count) => {
                lines.push("It is counted; its weight depends on what it is of.".to_owned());
            }
            None => lines.push(format!("No size is on record for it {}.", then_and_there(at))),
        }
        entries.push(Entry { heading, lines, alternatives, source: String::new() });
    }
}

fn size_of(unit: &str, wanted: &str) -> bool {
    let Some((_, thing)) = unit.split_once(':') else { return false };
    let asked = wanted
        .trim_start_matches("size of ")
        .trim_start_matches("as big as ")
        .trim_start_matches("a ")
        .trim_start_matches("an ");
    asked != wanted && asked == thing
}

fn alternative(measure: &Measure, weight: f64) -> EntryAlternative {
    let goods =
        if measure.goods.is_empty() { String::new() } else { format!("For {}. ", measure.goods.join(", ")) };
    EntryAlternative {
        id: measure.id.to_owned(),
        name: measure.name.to_owned(),
        size: size(measure.best, measure.dimension),
        range: if measure.high > measure.low { size_range(measure) } else { String::new() },
        weight: per_cent(weight),
        note: curly(format!("{goods}{}", measure.evidence.note).trim()),
        source: capital(&short_cite(&measure.evidence)),
    }
}

fn heat_entries(wanted: &str, at: &Within, entries: &mut Vec<Entry>) {
    for oven in all_ovens() {
        if !oven.words.contains(&wanted) || !holds(at, oven.first_year, oven.last_year, oven.places) {
            continue;
        }
        let mut lines = vec![format!(
            "About {} °C, between {} and {} °C.",
            kitchen::plain(oven.best),
            kitchen::plain(oven.low),
            kitchen::plain(oven.high)
        )];
        lines.extend(note(&oven.evidence));
        entries.push(Entry {
            heading: format!("{wanted}, a heat ({})", oven.class.replace('-', " ")),
            lines,
            alternatives: Vec::new(),
            source: capital(&cite(&oven.evidence)),
        });
    }
}

fn gloss_entries(wanted: &str, at: &Within, entries: &mut Vec<Entry>) {
    for gloss in glosses() {
        if !gloss.words.contains(&wanted) {
            continue;
        }
        let mut lines = vec![stop_capital(gloss.meaning)];
        if !holds(at, gloss.first_year, gloss.last_year, gloss.places) {
            lines.push(match (gloss.first_year, gloss.last_year) {
                (Some(first), Some(last)) => format!("It is on record from {first} to {last}."),
                (None, Some(last)) => format!("It is on record until {last}."),
                (Some(first), None) => format!("It is on record from {first} on."),
                (None, None) => "It is on record for another place.".to_owned(),
            });
        }
        lines.extend(note(&gloss.evidence));
        let kind = match gloss.kind {
            "oven" | "vessel" | "technique" | "dish" | "ingredient" => format!(", {}", a(gloss.kind)),
            "stage" => ", a stage of cooking".to_owned(),
            "time" => ", a word for a time".to_owned(),
            _ => ", an old word".to_owned(),
        };
        entries.push(Entry {
            heading: format!("{wanted}{kind}"),
            lines,
            alternatives: Vec::new(),
            source: capital(&cite(&gloss.evidence)),
        });
    }
}

fn ingredient_entries(wanted: &str, at: &Within, entries: &mut Vec<Entry>) {
    for known in ingredients() {
        if known.name != wanted && known.id != wanted && !known.names.contains(&wanted) {
            continue;
        }
        let mut lines = Vec::new();
        if !known.modern.is_empty() {
            lines.push(format!("Today a cook buys {} for it.", known.modern));
        }
        match known.bought_today {
            "no" => lines.push("It is not sold today.".to_owned()),
            "rarely" => lines.push("It is rarely sold today.".to_owned()),
            _ => {}
        }
        lines.extend(weights(known, at));
        if !known.allergens.is_empty() {
            lines.push(format!("Allergens: {}.", known.allergens.join(", ")));
        }
        lines.extend(note(&known.evidence));
        if lines.is_empty() {
            lines.push(format!("{}, of the kind {}.", capital(known.name), known.kind));
        }
        let other = if known.name == wanted { String::new() } else { format!(" ({})", known.name) };
        entries.push(Entry {
            heading: format!("{wanted}{other}, an ingredient"),
            lines,
            alternatives: Vec::new(),
            source: capital(&cite(&known.evidence)),
        });
    }
}

fn weights(known: &Ingredient, at: &Within) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(one) = weight_of(known, "count", at) {
        lines.push(format!(
            "One weighed about {} g, between {} and {} g ({}).",
            number(one.best),
            number(one.low),
            number(one.high),
            short_cite(&one.evidence)
        ));
    }
    if known.form != Form::Liquid
        && let Some(dense) = density(known, "")
    {
        lines.push(format!(
            "A millilitre of it weighs about {} g, between {} and {} g ({}).",
            number(dense.best),
            number(dense.low),
            number(dense.high),
            short_cite(&dense.evidence)
        ));
    }
    lines
}

fn holds(at: &Within, first: Option<i16>, last: Option<i16>, places: &[&str]) -> bool {
    let here = at.place.as_str();
    at.years.share_in(first, last) > 0.0
        && (places.is_empty()
            || places.iter().any(|place| within(here, place).is_some() || within(place, here).is_some()))
}

fn note(evidence: &Evidence) -> Option<String> {
    (!evidence.note.is_empty()).then(|| stop_capital(&curly(evidence.note)))
}

fn size(value: f64, dimension: Dimension) -> String {
    let unit = match dimension {
        Dimension::Mass => "g",
        Dimension::Volume => "ml",
        Dimension::Length => "mm",
        Dimension::Count => "",
        Dimension::Temperature => "°C",
        Dimension::Time => "minutes",
    };
    match dimension {
        Dimension::Mass if value >= 1000.0 => format!("{} kg", number(value / 1000.0)),
        Dimension::Volume if value >= 1000.0 => format!("{} litres", number(value / 1000.0)),
        _ => format!("{} {unit}", number(value)).trim_end().to_owned(),
    }
}

/// Writes the range of a measure with one unit.
fn size_range(measure: &Measure) -> String {
    let high = size(measure.high, measure.dimension);
    let low =
        if high.ends_with("litres") || high.ends_with("kg") { measure.low / 1000.0 } else { measure.low };
    format!("{}–{high}", number(low))
}

/// Writes a number to four places that count.
fn number(value: f64) -> String {
    let places = match value.abs() {
        size if size >= 999.5 => 0,
        size if size >= 99.95 => 1,
        size if size >= 9.995 => 2,
        _ => 3,
    };
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Returns a text as a whole sentence.
fn stop_capital(text: &str) -> String {
    stop(&capital(text.trim()))
}
