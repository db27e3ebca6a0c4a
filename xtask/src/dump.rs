//! `cargo xtask dump FILE`: the items of marked recipes as the scorer reads them, without modern amounts.

use quartern_reading::{Amount, Rate, read};
use serde_json::{Value, json};

/// Prints a line for each recipe of a JSON Lines file.
pub(crate) fn dump(path: &str) -> Result<(), String> {
    let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    for line in text.lines() {
        let record: Value = serde_json::from_str(line).map_err(|error| error.to_string())?;
        let words = record["text"].as_str().unwrap_or("");
        let title = record["title"].as_str().filter(|title| !title.is_empty());
        let reading = read(words, title).value;
        let ratio = |r: quartern_reading::Ratio<u32>| f64::from(*r.numer()) / f64::from(*r.denom());
        let items: Vec<Value> = reading
            .items
            .iter()
            .map(|item| {
                let mut parts = Vec::new();
                let mut same = Value::Null;
                match &item.amount {
                    Amount::Stated(all) => {
                        parts = all
                            .iter()
                            .map(|part| json!({"low": ratio(part.low), "high": ratio(part.high), "unit": part.unit}))
                            .collect();
                    }
                    Amount::SameAs { of, factor } => same = json!({"of": of, "factor": ratio(*factor)}),
                    Amount::Unstated | Amount::Vague(_) | Amount::Unread(_) => {}
                }
                let per = match &item.rate {
                    Rate::None => Value::Null,
                    Rate::Base => json!("base"),
                    Rate::Per(words) => json!(words),
                };
                json!({"quote": &words[item.span.start()..item.span.end()], "ingredient": item.name.plain, "amount": parts,
                    "start": item.span.start(), "end": item.span.end(), "per": per, "same_as": same, "sure": item.sure, "rule": item.rule})
            })
            .collect();
        let durations: Vec<Value> = reading
            .durations
            .iter()
            .map(|d| json!({"quote": &words[d.span.start()..d.span.end()], "start": d.span.start(), "end": d.span.end(), "low_min": d.low, "high_min": d.high}))
            .collect();
        let heats: Vec<Value> = reading
            .heats
            .iter()
            .map(|h| {
                let mut heat = json!({"quote": &words[h.span.start()..h.span.end()], "start": h.span.start(), "end": h.span.end(), "class": h.class.map(quartern_reading::HeatClass::as_str)});
                if let Some((low, high)) = h.celsius {
                    heat["low_c"] = json!(low);
                    heat["high_c"] = json!(high);
                }
                heat
            })
            .collect();
        let references: Vec<Value> = reading
            .references
            .iter()
            .map(|r| json!({"quote": &words[r.span.start()..r.span.end()], "start": r.span.start(), "end": r.span.end(), "kind": r.kind.as_str(), "target": r.target}))
            .collect();
        let yields: Vec<Value> = reading
            .yields
            .iter()
            .map(|y| json!({"quote": &words[y.span.start()..y.span.end()], "start": y.span.start(), "end": y.span.end(), "low": ratio(y.low), "high": ratio(y.high), "what": y.what}))
            .collect();
        println!(
            "{}",
            json!({"id": record["id"], "items": items, "durations": durations, "heats": heats, "references": references, "yields": yields})
        );
    }
    Ok(())
}
