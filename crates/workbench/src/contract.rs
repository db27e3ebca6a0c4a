//! Recipes in and out as JSON: the form of `read --jsonl`.

use std::fmt::{self, Write};

use quartern_knowledge::{Unknown, place, place_name};
use quartern_quantity::Figure;
use quartern_reading::{Amount, Item, Part, Rate, flat};
use quartern_reckoning::words::{capital, stop};
use quartern_text::{PlaceId, Source, Span, Transcript, Within, YearRange};
use serde_json::{Value, json};

use crate::{Given, Worked};

/// A line of input that could not be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct LineError {
    /// The line's `id`, if it has one.
    pub id: Option<Value>,
    /// What is wrong, in one sentence.
    pub message: String,
}

impl fmt::Display for LineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for LineError {}

/// Takes a line of `read --jsonl`: an object with `id` and `text`, and any of `title`, `year` or
/// `year_first` and `year_last`, and `region`. What is missing comes from `defaults`.
///
/// # Errors
/// See [`LineError`].
pub fn given_from_json(line: &str, defaults: &Within) -> Result<(Value, Given), LineError> {
    let parsed: Value = serde_json::from_str(line).map_err(|error| LineError {
        id: None,
        message: format!("The line is not a JSON object: {}.", plainly(&error)),
    })?;
    let Value::Object(mut fields) = parsed else {
        return Err(LineError { id: None, message: "The line is not a JSON object.".to_owned() });
    };
    let id = fields.remove("id").filter(|id| !id.is_null());
    let fail = |message: String| LineError { id: id.clone(), message };
    match &id {
        Some(Value::String(_) | Value::Number(_)) => {}
        Some(_) => return Err(fail("The id is neither text nor a number.".to_owned())),
        None => return Err(fail("The line has no id.".to_owned())),
    }
    let mut text_of = |name: &str| match fields.remove(name) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::String(text)) => Ok(Some(text)),
        Some(_) => Err(fail(format!("The {name} is not text."))),
    };
    let text = text_of("text")?.ok_or_else(|| fail("The line has no text.".to_owned()))?;
    let title = text_of("title")?.filter(|title| !title.trim().is_empty());
    let region = text_of("region")?.filter(|region| !region.trim().is_empty());
    let year = |name: &str| match fields.get(name) {
        None | Some(Value::Null) => Ok(None),
        Some(value) => match value.as_i64() {
            Some(year) => Ok(Some(year)),
            None => Err(fail(format!("The {name} is not a whole number."))),
        },
    };
    let years = match (year("year")?, year("year_first")?, year("year_last")?) {
        (_, Some(first), Some(last)) => YearRange::new(first, last),
        (None, Some(one), None) | (None, None, Some(one)) | (Some(one), _, _) => YearRange::single(one),
        (None, None, None) => Ok(defaults.years),
    }
    .map_err(|error| fail(stop(&capital(&error.to_string()))))?;
    let place = match &region {
        Some(name) => region_place(name).map_err(|unknown| fail(stop(&format!("The region {unknown}"))))?,
        None => defaults.place,
    };
    let transcript =
        Transcript::new(text).map_err(|error| fail(format!("The text cannot be taken: {error}.")))?;
    let source = Source {
        title: String::new(),
        author: String::new(),
        written: Within { years, place },
        printed: None,
        edition: String::new(),
        rights: String::new(),
    };
    let id = id.unwrap_or(Value::Null);
    Ok((id, Given { transcript, title, source }))
}

/// Says what is wrong with JSON, without the position in a line that is the only one.
fn plainly(error: &serde_json::Error) -> String {
    let text = error.to_string();
    text.split(" at line ").next().unwrap_or(&text).to_owned()
}

/// Finds the place of a region; of "uk/ceylon" the first.
fn region_place(name: &str) -> Result<PlaceId, Unknown> {
    place(name.split('/').next().unwrap_or(name))
}

/// Writes one recipe in the form of the contract: one line, without its end.
///
/// It needs no more of `worked` than [`crate::work_figures`] gives.
#[must_use]
pub fn contract_line(id: &Value, given: &Given, worked: &Worked) -> String {
    let mut out = String::with_capacity(256 + worked.reading.items.len() * 400);
    out.push_str("{\"id\":");
    match id {
        Value::String(text) => text_value(&mut out, text),
        other => {
            let _ = write!(out, "{other}");
        }
    }
    let words = |span: Span| given.transcript.words(span);
    out.push_str(",\"items\":[");
    let mut first = true;
    for (index, item) in worked.reading.items.iter().enumerate() {
        if worked.reckoning.set_aside.binary_search(&index).is_ok() {
            continue;
        }
        comma(&mut out, &mut first);
        write_item(&mut out, words(item.span), item, index, worked);
    }
    out.push_str("],\"durations\":[");
    let mut first = true;
    for duration in &worked.reading.durations {
        comma(&mut out, &mut first);
        mark(&mut out, words(duration.span), duration.span);
        out.push_str(",\"low_min\":");
        number(&mut out, duration.low);
        out.push_str(",\"high_min\":");
        number(&mut out, duration.high);
        sure(&mut out, duration.sure);
    }
    out.push_str("],\"heats\":[");
    let mut first = true;
    for heat in &worked.reading.heats {
        comma(&mut out, &mut first);
        mark(&mut out, words(heat.span), heat.span);
        out.push_str(",\"class\":");
        match heat.class {
            Some(class) => text_value(&mut out, class.as_str()),
            None => out.push_str("null"),
        }
        if let Some((low, high)) = heat.celsius {
            out.push_str(",\"low_c\":");
            number(&mut out, low);
            out.push_str(",\"high_c\":");
            number(&mut out, high);
        }
        sure(&mut out, heat.sure);
    }
    out.push_str("],\"references\":[");
    let mut first = true;
    for reference in &worked.reading.references {
        comma(&mut out, &mut first);
        mark(&mut out, words(reference.span), reference.span);
        key_text(&mut out, "kind", reference.kind.as_str());
        key_text(&mut out, "target", &reference.target);
        sure(&mut out, reference.sure);
    }
    out.push_str("],\"yields\":[");
    let mut first = true;
    for made in &worked.reading.yields {
        comma(&mut out, &mut first);
        mark(&mut out, words(made.span), made.span);
        out.push_str(",\"low\":");
        number(&mut out, fraction(made.low));
        out.push_str(",\"high\":");
        number(&mut out, fraction(made.high));
        key_text(&mut out, "what", &made.what);
        out.push('}');
    }
    out.push_str("],\"cautions\":[");
    let mut first = true;
    for caution in &worked.reckoning.cautions {
        comma(&mut out, &mut first);
        out.push_str("{\"id\":");
        text_value(&mut out, caution.record.id);
        key_text(&mut out, "title", caution.record.title);
        key_text(&mut out, "severity", crate::edit::severity_word(caution.record.severity));
        key_text(&mut out, "ask", caution.record.ask);
        out.push_str(",\"words\":[");
        let mut first = true;
        for span in &caution.spans {
            comma(&mut out, &mut first);
            text_value(&mut out, words(*span));
        }
        out.push_str("]}");
    }
    out.push_str("]}");
    out
}

fn write_item(out: &mut String, quote: &str, item: &Item, index: usize, worked: &Worked) {
    mark(out, quote, item.span);
    let reckoned = worked.reckoning.items.get(index);
    let name = reckoned.and_then(|reckoned| reckoned.renamed).unwrap_or(&item.name.plain);
    key_text(out, "ingredient", name);
    out.push_str(",\"also\":[");
    let mut first = true;
    let others = item.name.also.iter().chain(item.alternatives.iter().map(|choice| &choice.plain));
    let mut told: Vec<&str> = Vec::new();
    for other in others {
        if other != name && !told.contains(&other.as_str()) {
            told.push(other);
            comma(out, &mut first);
            text_value(out, other);
        }
    }
    out.push_str("],\"amount\":[");
    if let Amount::Stated(parts) = &item.amount {
        let mut first = true;
        for part in parts {
            comma(out, &mut first);
            write_part(out, part);
        }
    }
    out.push(']');
    if !item.qualifier.is_empty() {
        key_text(out, "qualifier", &item.qualifier);
    }
    match &item.amount {
        Amount::Vague(said) => key_text(out, "vague", said),
        Amount::Unread(said) => key_text(out, "unread", said),
        Amount::SameAs { of, factor } => {
            out.push_str(",\"same_as\":{\"of\":");
            text_value(out, of);
            out.push_str(",\"factor\":");
            number(out, fraction(*factor));
            out.push('}');
        }
        Amount::Unstated | Amount::Stated(_) => {}
    }
    match &item.rate {
        Rate::None => {}
        Rate::Base => key_text(out, "per", "base"),
        Rate::Per(said) => key_text(out, "per", said),
    }
    if item.optional {
        out.push_str(",\"optional\":true");
    }
    out.push_str(",\"modern\":");
    match reckoned.and_then(|reckoned| reckoned.figure) {
        Some(figure) => write_figure(out, figure),
        None => out.push_str("null"),
    }
    let _ = write!(out, ",\"sure\":{}", item.sure);
    out.push_str(",\"why\":");
    text_value(out, &reckoned.map(|reckoned| reckoned.reason.why()).unwrap_or_default());
    out.push('}');
}

fn write_part(out: &mut String, part: &Part) {
    out.push_str("{\"low\":");
    number(out, fraction(part.low));
    out.push_str(",\"high\":");
    number(out, fraction(part.high));
    out.push_str(",\"unit\":");
    text_value(out, part.unit);
    out.push('}');
}

fn write_figure(out: &mut String, figure: Figure) {
    let (low, best, high) = figure.numbers();
    out.push_str("{\"low\":");
    number(out, low);
    out.push_str(",\"best\":");
    number(out, best);
    out.push_str(",\"high\":");
    number(out, high);
    out.push_str(",\"unit\":");
    text_value(out, figure.unit());
    out.push('}');
}

/// Opens an object with the words of a mark and where they stand.
fn mark(out: &mut String, quote: &str, span: Span) {
    out.push_str("{\"quote\":");
    text_value(out, quote);
    let _ = write!(out, ",\"start\":{},\"end\":{}", span.start(), span.end());
}

fn sure(out: &mut String, sure: bool) {
    let _ = write!(out, ",\"sure\":{sure}}}");
}

fn key_text(out: &mut String, key: &str, text: &str) {
    out.push_str(",\"");
    out.push_str(key);
    out.push_str("\":");
    text_value(out, text);
}

fn comma(out: &mut String, first: &mut bool) {
    if *first {
        *first = false;
    } else {
        out.push(',');
    }
}

fn fraction(ratio: quartern_reading::Ratio<u32>) -> f64 {
    f64::from(*ratio.numer()) / f64::from((*ratio.denom()).max(1))
}

/// Writes a number to five places after the point at most: a figure's sixth says nothing.
fn number(out: &mut String, value: f64) {
    let rounded = (value * 1e5).round() / 1e5;
    let _ = write!(out, "{}", if rounded.is_finite() { rounded } else { 0.0 });
}

/// Writes text as JSON.
fn text_value(out: &mut String, text: &str) {
    out.push('"');
    let mut plain = 0;
    for (at, byte) in text.bytes().enumerate() {
        let escape = match byte {
            b'"' => "\\\"",
            b'\\' => "\\\\",
            b'\n' => "\\n",
            b'\r' => "\\r",
            b'\t' => "\\t",
            0..=0x1F => "",
            _ => continue,
        };
        out.push_str(&text[plain..at]);
        if escape.is_empty() {
            let _ = write!(out, "\\u{byte:04x}");
        } else {
            out.push_str(escape);
        }
        plain = at + 1;
    }
    out.push_str(&text[plain..]);
    out.push('"');
}

/// Returns one recipe with all that was found out about it: the fields of the contract and more.
#[must_use]
pub fn full_object(given: &Given, worked: &Worked) -> Value {
    let line = contract_line(&Value::Null, given, worked);
    let Ok(Value::Object(mut object)) = serde_json::from_str::<Value>(&line) else { return Value::Null };
    let words = |span: Span| flat(given.transcript.words(span));
    let at =
        |span: Span| json!({"quote": given.transcript.words(span), "start": span.start(), "end": span.end()});
    object.remove("id");
    let title = worked.reading.title.map(words).or_else(|| given.title.clone());
    object.insert("title".to_owned(), json!(title));
    object.insert("text".to_owned(), json!(given.transcript.as_str()));
    object.insert("transcript".to_owned(), json!(given.transcript.id().as_str()));
    let within = |within: &Within| {
        json!({
            "year_first": within.years.first(),
            "year_last": within.years.last(),
            "place": within.place.as_str(),
            "place_name": place_name(within.place),
        })
    };
    object.insert(
        "source".to_owned(),
        json!({
            "title": given.source.title,
            "author": given.source.author,
            "written": within(&given.source.written),
            "printed": given.source.printed.as_ref().map(within),
            "edition": given.source.edition,
            "rights": given.source.rights,
        }),
    );
    if let Some(Value::Array(heats)) = object.get_mut("heats") {
        for (index, heat) in heats.iter_mut().enumerate() {
            let Some(reckoned) = worked.reckoning.heats.get(index) else { continue };
            heat["modern"] = match reckoned.celsius {
                Some(celsius) => json!({
                    "low": celsius.low().celsius(),
                    "best": celsius.best().celsius(),
                    "high": celsius.high().celsius(),
                    "unit": "°C",
                }),
                None => Value::Null,
            };
            heat["why"] = json!(reckoned.why());
        }
    }
    if let Some(Value::Array(items)) = object.get_mut("items") {
        let kept = (0..worked.reading.items.len())
            .filter(|index| worked.reckoning.set_aside.binary_search(index).is_err());
        for (item, index) in items.iter_mut().zip(kept) {
            let Some(reckoned) = worked.reckoning.items.get(index) else { continue };
            item["reason"] = json!(reckoned.reason.sentences());
            item["assumption"] = json!(reckoned.reason.assumption());
            item["alternatives"] = reckoned
                .reason
                .alternatives()
                .into_iter()
                .map(|(name, weight)| json!({"reading": name, "per_cent": weight}))
                .collect();
            item["cause"] = json!(reckoned.figure.map(|figure| figure.cause().words()));
        }
    }
    object.insert(
        "steps".to_owned(),
        worked
            .reading
            .steps
            .iter()
            .map(|step| {
                let mut entry = at(step.span);
                entry["actions"] = json!(step.actions);
                entry["items"] = json!(step.items);
                entry
            })
            .collect(),
    );
    object.insert("cues".to_owned(), worked.reading.cues.iter().map(|cue| at(cue.span)).collect());
    object.insert(
        "gaps".to_owned(),
        worked
            .reckoning
            .gaps
            .iter()
            .map(|gap| {
                json!({
                    "gap": crate::edit::gap_word(gap.kind),
                    "missing": gap.missing,
                    "supplied": gap.supplied.as_ref().map(|put| json!({"what": put.what, "source": put.source})),
                })
            })
            .collect(),
    );
    object.insert(
        "cautions".to_owned(),
        worked
            .reckoning
            .cautions
            .iter()
            .map(|caution| {
                let record = caution.record;
                json!({
                    "id": record.id,
                    "title": record.title,
                    "severity": crate::edit::severity_word(record.severity),
                    "says": record.says,
                    "do_instead": record.do_instead,
                    "ask": record.ask,
                    "words": caution.spans.iter().map(|span| at(*span)).collect::<Vec<_>>(),
                    "source": quartern_knowledge::cite(&record.evidence),
                })
            })
            .collect(),
    );
    object.insert(
        "glosses".to_owned(),
        worked
            .reckoning
            .glosses
            .iter()
            .map(|gloss| {
                let mut entry = at(gloss.span);
                entry["meaning"] = json!(gloss.gloss.meaning);
                entry["source"] = json!(quartern_knowledge::cite(&gloss.gloss.evidence));
                entry
            })
            .collect(),
    );
    object.insert(
        "notices".to_owned(),
        worked
            .notices
            .iter()
            .map(|notice| {
                json!({
                    "code": notice.code.as_str(),
                    "message": notice.message,
                    "span": notice.span.map(at),
                })
            })
            .collect(),
    );
    Value::Object(object)
}
