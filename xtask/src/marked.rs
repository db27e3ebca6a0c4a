//! The marked recipes, and how a reading compares with them. The rules are those of the guide beside
//! the marks and of its scorer.

use std::collections::BTreeSet;

use quartern_reading::{Amount, Item, Rate};
use serde_json::Value;

/// Low, high (in thousandths) and unit of a part of an amount.
type Part = (i64, i64, String);

/// One marked item.
#[derive(Clone)]
pub(crate) struct MarkedItem {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) names: BTreeSet<String>,
    pub(crate) parts: Vec<Part>,
    pub(crate) same_as: Option<(String, i64)>,
    pub(crate) rate: &'static str,
}

/// One marked recipe.
#[derive(Clone)]
pub(crate) struct Marked {
    pub(crate) book: String,
    pub(crate) title: String,
    pub(crate) text: String,
    pub(crate) items: Vec<MarkedItem>,
    /// Times, heats, references and yields: start, end and value.
    pub(crate) others: [Vec<(usize, usize, String)>; 4],
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
                others: others(&record),
            }
        })
        .collect()
}

fn others(record: &Value) -> [Vec<(usize, usize, String)>; 4] {
    let marks = |kind: &str, value: &dyn Fn(&Value) -> String| {
        record[kind]
            .as_array()
            .into_iter()
            .flatten()
            .map(|mark| {
                let place = |key: &str| mark[key].as_u64().unwrap_or(0) as usize;
                (place("start"), place("end"), value(mark))
            })
            .collect()
    };
    let number = |mark: &Value, key: &str| mark[key].as_f64().unwrap_or(-1.0);
    let text = |mark: &Value, key: &str| mark[key].as_str().unwrap_or("").to_owned();
    [
        marks("durations", &|mark| format!("{:.3}/{:.3}", number(mark, "low_min"), number(mark, "high_min"))),
        marks("heats", &|mark| text(mark, "class")),
        marks("references", &|mark| format!("{}/{}", text(mark, "kind"), plain(&text(mark, "target")))),
        marks("yields", &|mark| {
            // A yield of two and a half pints is the ratio 5/2.
            let ratio = |number: f64| quartern_reading::Ratio::new((number * 12.0).round() as u32, 12);
            format!("{}/{}", ratio(number(mark, "low")), ratio(number(mark, "high")))
        }),
    ]
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
