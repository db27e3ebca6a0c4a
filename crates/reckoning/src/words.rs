//! Numbers, units, places and years as a reader of the edition sees them.

use std::fmt::Write;

use quartern_knowledge::{Evidence, Resolved, authority, place_name, short_cite};
use quartern_quantity::{Dimension, Figure, Ratio};
use quartern_reading::Part;
use quartern_text::{PlaceId, Within};

use crate::figures::{grouped, rivals};
use crate::lookup;
use crate::types::Shift;

/// How a measure was filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Filling {
    Level,
    Heaped,
}

/// Returns how a printed word says that the measure was filled.
pub(crate) fn filling(qualifier: &str) -> Option<Filling> {
    qualifier.split([' ', ',']).find_map(|word| match word {
        "level" | "even" | "struck" | "stroked" | "leveled" | "levelled" | "striked" => Some(Filling::Level),
        "heaped" | "heaping" | "rounded" | "rounding" | "piled" | "heap" | "heapt" | "heaped-up" => {
            Some(Filling::Heaped)
        }
        _ => None,
    })
}

/// Returns which way a printed word moves an amount.
pub(crate) fn shift(qualifier: &str) -> Option<Shift> {
    qualifier.split([' ', ',']).find_map(|word| match word {
        "good" | "large" | "full" | "big" | "liberal" | "generous" | "bumper" | "great" | "goodly"
        | "heaped" | "heaping" | "rounded" | "brimming" | "overflowing" | "plump" => {
            Some(Shift::Up(word.to_owned()))
        }
        "small" | "scant" | "scanty" | "bare" | "short" | "little" | "slight" | "scarce" | "scantly"
        | "barely" | "under" => Some(Shift::Down(word.to_owned())),
        _ => None,
    })
}

/// Writes a number to three places that count, without needless zeros.
pub(crate) fn number(value: f64) -> String {
    let places = match value.abs() {
        size if size >= 99.5 => 0,
        size if size >= 9.95 => 1,
        size if size >= 0.995 => 2,
        _ => 3,
    };
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Writes a printed number as a cook writes it: `1½`.
pub(crate) fn ratio(value: Ratio<u32>) -> String {
    let (top, bottom) = (*value.numer(), (*value.denom()).max(1));
    let (whole, rest) = (top / bottom, top % bottom);
    if rest == 0 {
        return whole.to_string();
    }
    let sign = match (rest, bottom) {
        (1, 2) => "½",
        (1, 4) => "¼",
        (3, 4) => "¾",
        (1, 3) => "⅓",
        (2, 3) => "⅔",
        (1, 8) => "⅛",
        (3, 8) => "⅜",
        (5, 8) => "⅝",
        (7, 8) => "⅞",
        (1, 5) => "⅕",
        (2, 5) => "⅖",
        (3, 5) => "⅗",
        (4, 5) => "⅘",
        (1, 6) => "⅙",
        (5, 6) => "⅚",
        _ => "",
    };
    match (sign.is_empty(), whole) {
        (false, 0) => sign.to_owned(),
        (false, _) => format!("{whole}{sign}"),
        (true, 0) => format!("{rest}/{bottom}"),
        (true, _) => format!("{whole} {rest}/{bottom}"),
    }
}

/// Writes a size or figure with its unit: `142 ml`, `1.14 litres`.
pub(crate) fn size(value: f64, dimension: Dimension) -> String {
    match dimension {
        Dimension::Mass if value >= 1000.0 => format!("{} kg", number(value / 1000.0)),
        Dimension::Mass => format!("{} g", number(value)),
        Dimension::Volume if value >= 1000.0 => format!("{} litres", number(value / 1000.0)),
        Dimension::Volume => format!("{} ml", number(value)),
        Dimension::Count => number(value),
        Dimension::Length => format!("{} mm", number(value)),
        Dimension::Temperature => format!("{} °C", number(value)),
        Dimension::Time => format!("{} minutes", number(value)),
    }
}

/// Writes two sizes with one unit: `110–200 ml`.
pub(crate) fn sizes(low: f64, high: f64, dimension: Dimension) -> String {
    let large = |value: f64| value >= 1000.0 && matches!(dimension, Dimension::Mass | Dimension::Volume);
    match (large(low), large(high)) {
        (true, _) => format!("{}–{}", number(low / 1000.0), size(high, dimension)),
        // "946 ml–1.16 litres": each end as a jug or a scale shows it.
        (false, true) => format!("{}–{}", size(low, dimension), size(high, dimension)),
        (false, false) => format!("{}–{}", number(low), size(high, dimension)),
    }
}

/// Returns the dimension of a figure.
pub(crate) fn dimension(figure: Figure) -> Dimension {
    match figure {
        Figure::Mass(_) => Dimension::Mass,
        Figure::Volume(_) => Dimension::Volume,
        Figure::Count(_) => Dimension::Count,
    }
}

/// Returns a unit word for people, singular: `size:walnut` is `piece the size of a walnut`.
pub(crate) fn unit(unit: &str) -> String {
    if let Some(thing) = unit.strip_prefix("size:") {
        return match lookup::unit(unit).map(|word| word.gloss) {
            Some(gloss) if gloss.ends_with("ful") => thing.replace(' ', "-") + "ful",
            _ => format!("piece the size of {}", a(thing)),
        };
    }
    if let Some(thing) = unit.strip_prefix("lie-on:") {
        return format!("heap that lies on {}", a(thing));
    }
    match unit {
        "spoon" => "spoonful".to_owned(),
        _ => unit.replace('-', " "),
    }
}

/// Returns a word with its article.
#[must_use]
pub fn a(word: &str) -> String {
    let vowel = word.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    let exception = ["uni", "one", "eu"].iter().any(|start| word.starts_with(start));
    if vowel && !exception { format!("an {word}") } else { format!("a {word}") }
}

/// Returns a unit word with its article.
pub(crate) fn a_unit(name: &str) -> String {
    a(&unit(name))
}

/// Returns the plural of a unit word for people.
fn units(name: &str) -> String {
    let word = unit(name);
    if let Some(rest) = word.strip_prefix("piece ") {
        return format!("pieces {rest}");
    }
    if let Some(rest) = word.strip_prefix("heap ") {
        return format!("heaps {rest}");
    }
    match word.as_str() {
        "leaf" => "leaves".to_owned(),
        "loaf" => "loaves".to_owned(),
        "penny loaf" => "penny loaves".to_owned(),
        "hundredweight" | "stone" => word,
        _ if word.ends_with(['s', 'x']) || word.ends_with("ch") || word.ends_with("sh") => {
            format!("{word}es")
        }
        _ => format!("{word}s"),
    }
}

/// Writes a printed part: `½ pint`, `2–3 pounds`, `6`.
pub(crate) fn part(part: &Part) -> String {
    let mut text = ratio(part.low);
    if part.high > part.low {
        text.push('–');
        text.push_str(&ratio(part.high));
    }
    if part.unit != "count" {
        let many = part.high > Ratio::from_integer(1);
        let word = if many { units(part.unit) } else { unit(part.unit) };
        text.push(' ');
        text.push_str(&word);
    }
    text
}

/// Writes where: `in Northumberland`.
#[must_use]
pub fn place(place: PlaceId) -> String {
    let name = place_name(place);
    let article =
        matches!(place.as_str(), "uk" | "us" | "west-indies" | "netherlands" | "borders" | "highlands");
    if article { format!("the {name}") } else { name.to_owned() }
}

/// Writes when and where: `in Northumberland about 1810`.
#[must_use]
pub fn then_and_there(at: &Within) -> String {
    let place = place(at.place);
    if at.years.first() == at.years.last() {
        format!("in {place} about {}", at.years)
    } else {
        format!("in {place} between {} and {}", at.years.first(), at.years.last())
    }
}

/// Returns a text with its first letter large.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Returns a text with its straight quotation marks made curly, opening and closing in turn.
#[must_use]
pub fn curly(text: &str) -> String {
    let mut opens = true;
    let mut before = ' ';
    text.chars()
        .map(|letter| {
            // After a number that no quotation holds, it is the sign of inches.
            let sign = match (letter, opens, before.is_ascii_digit()) {
                ('"', true, true) => '″',
                ('"', true, false) => '“',
                ('"', false, _) => '”',
                _ => letter,
            };
            if matches!(sign, '“' | '”') {
                opens = sign == '”';
            }
            before = letter;
            sign
        })
        .collect()
}

/// Returns a text with a full stop, unless it has one or is empty.
#[must_use]
pub fn stop(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?']) || text.ends_with(".\"") || text.ends_with(".”") {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// The longest title that is cited whole in a table.
const LONGEST_TITLE: usize = 56;

/// Writes what a record rests on as briefly as is clear: a long title is cut at a comma or a colon.
#[must_use]
pub fn brief(evidence: &Evidence) -> String {
    let Some(known) = authority(evidence.authority).filter(|known| known.title.len() > LONGEST_TITLE) else {
        return short_cite(evidence);
    };
    if known.kind == "period book" && !known.author.is_empty() {
        return short_cite(evidence);
    }
    let head =
        known.title.char_indices().take_while(|(at, _)| *at < LONGEST_TITLE).last().map_or(0, |(at, _)| at);
    let cut = known.title[..head].rfind([',', ':', ';']).unwrap_or(known.title.len());
    let mut text = known.title[..cut].to_owned();
    let year: String = known.year.chars().take_while(char::is_ascii_digit).collect();
    if !year.is_empty() && !text.contains(&year) {
        text.push(' ');
        text.push_str(&year);
    }
    if !evidence.locus.is_empty() {
        text.push_str(", ");
        text.push_str(evidence.locus);
    }
    text
}

/// Returns a likelihood in per cent.
#[must_use]
pub fn per_cent(weight: f64) -> u32 {
    (weight * 100.0).round().clamp(0.0, 100.0) as u32
}

/// Writes the name of a measure, with its years where a rival has the same name.
pub(crate) fn named_apart(measure: &quartern_knowledge::Measure, found: &Resolved) -> String {
    let shared = found
        .alternatives
        .iter()
        .any(|other| other.measure.id != measure.id && other.measure.name == measure.name);
    match (measure.first_year, measure.last_year) {
        (Some(first), Some(last)) if shared => format!("{}, {first} to {last},", measure.name),
        (Some(first), None) if shared => format!("{} from {first} on,", measure.name),
        (None, Some(last)) if shared => format!("{} before {},", measure.name, last + 1),
        _ => measure.name.to_owned(),
    }
}

/// Writes the sizes a word had, for a notice.
pub(crate) fn several(found: &Resolved, at: &Within) -> String {
    let groups = grouped(found);
    let first = &groups[0];
    let one = |alternative: &quartern_knowledge::Alternative| {
        format!(
            "{} of {} ({} in 100)",
            named_apart(alternative.measure, found),
            size(alternative.measure.best, alternative.measure.dimension),
            per_cent(alternative.weight)
        )
    };
    let mut text =
        format!("{} {} can be the {}", capital(&a_unit(first.measure.unit)), then_and_there(at), one(first));
    let others: Vec<String> = rivals(found).iter().map(one).collect();
    for (index, other) in others.iter().enumerate() {
        text.push_str(if index + 1 == others.len() { " or the " } else { ", the " });
        text.push_str(other);
    }
    let _ = write!(text, "; the first was taken.");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_a_cook_writes_them() {
        assert_eq!(number(142.065), "142");
        assert_eq!(number(28.3495), "28.3");
        assert_eq!(number(0.49), "0.49");
        assert_eq!(number(12.0), "12");
        assert_eq!(ratio(Ratio::new(3, 2)), "1½");
        assert_eq!(ratio(Ratio::new(5, 16)), "5/16");
        assert_eq!(size(1136.5, Dimension::Volume), "1.14 litres");
        assert_eq!(sizes(110.0, 200.0, Dimension::Volume), "110–200 ml");
        assert_eq!(stop(&curly("\"of water.\"")), "“of water.”");
        assert_eq!(curly("2-1/2\" wide, \"3\""), "2-1/2″ wide, “3”");
        assert_eq!(unit("size:walnut"), "piece the size of a walnut");
        let part_of = Part { low: Ratio::from_integer(2), high: Ratio::from_integer(3), unit: "size:egg" };
        assert_eq!(part(&part_of), "2–3 pieces the size of an egg");
    }
}
