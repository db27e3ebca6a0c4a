//! The marked recipes, and how a reading compares with them. The rules are those of the guide beside
//! the marks and of its scorer.

use std::collections::BTreeSet;

use quartern_reading::{Amount, Item, Rate};
use serde_json::Value;

/// Books whose marks are not trained on when figures are to be reported. Chosen by the digest of
/// their names, a third of all, before anything was read.
pub(crate) const LEFT_OUT: [&str; 18] = [
    "abbot-1790-housekeepers-valuable-present",
    "accum-1821-good-and-wholesome-bread",
    "bury-1844-ladys-own-cookery-book",
    "civic-league-1913-cook-book",
    "clayton-1883-quaker-cook-book",
    "cobbett-1851-english-housekeeper",
    "curer-1864-art-and-mystery-of-curing",
    "eales-1733-receipts",
    "farmer-1910-boston-cooking-school",
    "fletcher-1896-candy-makers-guide",
    "handy-1918-war-time-breads",
    "houston-1918-foods-that-will-win-the-war",
    "leslie-1857-new-cookery-book",
    "parloa-1880-new-cook-book",
    "philadelphia-housewife-1855",
    "rundell-1807-new-system-of-domestic-cookery",
    "waters-1901-cooks-decameron",
    "wright-1915-candy-making-at-home",
];

/// A printed part: low and high in thousandths, and its unit.
type Part = (i64, i64, String);

/// One marked item.
pub(crate) struct MarkedItem {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) names: BTreeSet<String>,
    pub(crate) parts: Vec<Part>,
    pub(crate) same_as: Option<(String, i64)>,
    pub(crate) rate: &'static str,
}

/// One marked recipe.
pub(crate) struct Marked {
    pub(crate) book: String,
    pub(crate) title: String,
    pub(crate) text: String,
    pub(crate) items: Vec<MarkedItem>,
}

fn thousandths(value: &Value) -> i64 {
    (value.as_f64().unwrap_or(-1.0) * 1000.0).round() as i64
}

/// Reads the marked recipes.
pub(crate) fn load(text: &str) -> Vec<Marked> {
    text.lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .map(|record| {
            let field = |key: &str| record[key].as_str().unwrap_or("").to_owned();
            let items = record["items"].as_array().cloned().unwrap_or_default();
            Marked {
                book: field("book"),
                title: field("title"),
                text: field("text"),
                items: items.iter().map(item).collect(),
            }
        })
        .collect()
}

fn item(value: &Value) -> MarkedItem {
    let mut names: BTreeSet<String> =
        value["also"].as_array().into_iter().flatten().filter_map(Value::as_str).map(plain).collect();
    names.insert(plain(value["ingredient"].as_str().unwrap_or("")));
    let mut parts: Vec<Part> = value["amount"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|part| {
            (
                thousandths(&part["low"]),
                thousandths(&part["high"]),
                part["unit"].as_str().unwrap_or("").to_lowercase(),
            )
        })
        .collect();
    parts.sort();
    let same = value.get("same_as").filter(|same| same.is_object());
    let rate = match value.get("per").and_then(Value::as_str) {
        None => "",
        Some("base") => "base",
        Some(_) => "rate",
    };
    MarkedItem {
        start: value["start"].as_u64().unwrap_or(0) as usize,
        end: value["end"].as_u64().unwrap_or(0) as usize,
        names,
        parts,
        same_as: same.map(|same| (plain(same["of"].as_str().unwrap_or("")), thousandths(&same["factor"]))),
        rate,
    }
}

/// Folds a name the way the scorer does.
pub(crate) fn plain(text: &str) -> String {
    let lower = text.to_lowercase().replace('-', " ").replace("'s", "s");
    let letters: String =
        lower.chars().map(|c| if c.is_ascii_lowercase() || c == ' ' { c } else { ' ' }).collect();
    let words: Vec<String> = letters
        .split_whitespace()
        .map(|word| match word {
            "leaves" => "leaf".to_owned(),
            "loaves" => "loaf".to_owned(),
            "halves" => "half".to_owned(),
            "knives" => "knife".to_owned(),
            "geese" => "goose".to_owned(),
            _ if word.len() > 4 && word.ends_with("ies") => format!("{}y", &word[..word.len() - 3]),
            _ if word.len() > 4
                && ["oes", "shes", "ches", "xes", "sses"].iter().any(|end| word.ends_with(end)) =>
            {
                word[..word.len() - 2].to_owned()
            }
            _ if word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") && !word.ends_with("us") => {
                word[..word.len() - 1].to_owned()
            }
            _ => word.to_owned(),
        })
        .collect();
    words.join(" ")
}

/// Do two spans overlap enough to be the same mention.
pub(crate) fn meets(item: &MarkedItem, start: usize, end: usize) -> bool {
    let shared = item.end.min(end).saturating_sub(item.start.max(start));
    let shorter = (item.end - item.start).min(end - start);
    shared > 0 && shared * 2 >= shorter
}

/// Is an item read right in every way.
pub(crate) fn whole(marked: &MarkedItem, item: &Item) -> bool {
    let number = |ratio: quartern_reading::Ratio<u32>| {
        (f64::from(*ratio.numer()) / f64::from(*ratio.denom()) * 1000.0).round() as i64
    };
    let (mut parts, same): (Vec<Part>, Option<(String, i64)>) = match &item.amount {
        Amount::Unstated | Amount::Vague(_) | Amount::Unread(_) => (Vec::new(), None),
        Amount::Stated(parts) => (
            parts.iter().map(|part| (number(part.low), number(part.high), part.unit.to_owned())).collect(),
            None,
        ),
        Amount::SameAs { of, factor } => (Vec::new(), Some((plain(of), number(*factor)))),
    };
    parts.sort();
    let rate = match item.rate {
        Rate::None => "",
        Rate::Base => "base",
        Rate::Per(_) => "rate",
    };
    parts == marked.parts
        && same == marked.same_as
        && rate == marked.rate
        && marked.names.contains(&plain(&item.name.plain))
}
