//! The files a person writes: a source, and decisions.

use std::fmt;

use quartern_knowledge::place;
use quartern_reckoning::words::capital;
use quartern_reckoning::{Decision, DecisionKind};
use quartern_text::{Source, Within, YearRange};
use toml::{Table, Value};

/// A source file: the source, and what else it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// The source.
    pub source: Source,
    /// The heading of the recipe, if the file is about one recipe.
    pub title: Option<String>,
    /// A remark; may be empty.
    pub note: String,
}

/// What is wrong with a source file, in one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceError(pub String);

impl fmt::Display for SourceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for SourceError {}

/// What is wrong with a file of decisions, in one sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DecisionsError(pub String);

impl fmt::Display for DecisionsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for DecisionsError {}

/// The fields a source file may have. `book_title` is the book where `title` is the recipe.
const SOURCE_FIELDS: &[&str] = &[
    "title",
    "book_title",
    "book",
    "author",
    "year",
    "year_first",
    "year_last",
    "written_first",
    "written_last",
    "written_place",
    "place",
    "printed",
    "printed_first",
    "printed_last",
    "printed_place",
    "edition",
    "page",
    "rights",
    "where",
    "note",
    "kind",
    "style",
    "byte_start",
    "byte_end",
];

/// Reads a source file.
///
/// It gives the years the author wrote in as `written_first` and `written_last`, or `year_first` and
/// `year_last`, or one `year`; the place as `written_place` or `place`; of the printing
/// `printed_first`, `printed_last` and `printed_place`; and `title`, `author`, `edition`, `page`,
/// `rights`, `where` and `note`. Where there is a `book_title`, `title` is the heading of the recipe.
///
/// # Errors
/// See [`SourceError`].
pub fn source_from_toml(text: &str) -> Result<SourceFile, SourceError> {
    let table: Table = text.parse().map_err(|error| SourceError(broken(&error)))?;
    if let Some(unknown) = table.keys().find(|key| !SOURCE_FIELDS.contains(&key.as_str())) {
        let near = quartern_knowledge::nearest(unknown, SOURCE_FIELDS.iter().copied());
        let hint = near.first().map_or_else(String::new, |near| format!(" Did you mean {near}?"));
        return Err(SourceError(format!("A source has no field “{unknown}”.{hint}")));
    }
    let string = |name: &str| match table.get(name) {
        None => Ok(String::new()),
        Some(Value::String(text)) => Ok(text.trim().to_owned()),
        Some(Value::Integer(number)) if name == "page" || name == "edition" => Ok(number.to_string()),
        Some(_) => Err(SourceError(format!("The field {name} must be text."))),
    };
    let year = |name: &str| match table.get(name) {
        None => Ok(None),
        Some(Value::Integer(year)) => Ok(Some(*year)),
        Some(Value::String(text)) if text.trim().is_empty() => Ok(None),
        Some(Value::String(text)) => text
            .trim()
            .parse::<i64>()
            .map(Some)
            .map_err(|_| SourceError(format!("The field {name} must be a year, such as 1861."))),
        Some(_) => Err(SourceError(format!("The field {name} must be a year, such as 1861."))),
    };
    let range = |first: Option<i64>, last: Option<i64>| {
        match (first, last) {
            (None, None) => Ok(None),
            (Some(one), None) | (None, Some(one)) => YearRange::single(one).map(Some),
            (Some(first), Some(last)) => YearRange::new(first, last).map(Some),
        }
        .map_err(|error| SourceError(capital(&format!("{error}."))))
    };
    let find = |name: &str| place(name).map_err(|unknown| SourceError(format!("The place {unknown}.")));

    // A book of which only the printing is known was written then, as far as anyone knows.
    let printed_years = (year("printed_first")?, year("printed_last")?);
    let stated =
        (year("written_first")?.or(year("year_first")?), year("written_last")?.or(year("year_last")?));
    let (first, last) =
        if stated == (None, None) && year("year")?.is_none() { printed_years } else { stated };
    let written = match range(first, last)? {
        Some(years) => years,
        None => range(year("year")?, None)?.ok_or_else(|| {
            SourceError(
                "The source gives no years: write written_first and written_last, or year.".to_owned(),
            )
        })?,
    };
    let place_text =
        Some(string("written_place")?).filter(|text| !text.is_empty()).map_or_else(|| string("place"), Ok)?;
    if place_text.is_empty() {
        return Err(SourceError(
            "The source gives no place: write written_place, such as england.".to_owned(),
        ));
    }
    let written_place = find(&place_text)?;
    let printed_place = string("printed_place")?;
    let printed_years = range(year("printed_first")?, year("printed_last")?)?;
    let printed = if printed_place.is_empty() && printed_years.is_none() {
        None
    } else {
        let place = if printed_place.is_empty() { written_place } else { find(&printed_place)? };
        Some(Within { years: printed_years.unwrap_or(written), place })
    };
    let written = Within { years: written, place: written_place };
    let printed = printed.filter(|printed| *printed != written);
    let book_title = string("book_title")?;
    let own_title = string("title")?;
    let (title, recipe) = if book_title.is_empty() {
        (own_title, None)
    } else {
        (book_title, Some(own_title).filter(|title| !title.is_empty()))
    };
    let mut edition: Vec<String> = Vec::new();
    for (name, before) in [("edition", ""), ("page", "page "), ("where", "")] {
        let text = string(name)?;
        if !text.is_empty() {
            edition.push(format!("{before}{text}"));
        }
    }
    Ok(SourceFile {
        source: Source {
            title,
            author: string("author")?,
            written,
            printed,
            edition: edition.join("; "),
            rights: string("rights")?,
        },
        title: recipe,
        note: string("note")?,
    })
}

/// Reads a file of decisions: tables `[[decision]]`, each with a `kind`, what it decides, and a
/// `reason`; a `date` may stand beside them.
///
/// | kind | fields |
/// | --- | --- |
/// | `take-measure` | `unit`, `measure` |
/// | `take-name` | `words`, `ingredient` |
/// | `set-aside` | `words` |
/// | `supply` | `gap`, `supplied`, `source` |
///
/// # Errors
/// See [`DecisionsError`].
pub fn decisions_from_toml(text: &str) -> Result<Vec<Decision>, DecisionsError> {
    let table: Table = text.parse().map_err(|error| DecisionsError(broken(&error)))?;
    if let Some(unknown) = table.keys().find(|key| key.as_str() != "decision") {
        return Err(DecisionsError(format!(
            "“{unknown}” is not known here: each decision is a table headed [[decision]]."
        )));
    }
    let Some(entries) = table.get("decision") else { return Ok(Vec::new()) };
    let Some(entries) = entries.as_array() else {
        return Err(DecisionsError("Each decision is a table headed [[decision]].".to_owned()));
    };
    entries.iter().enumerate().map(|(index, entry)| decision(index + 1, entry)).collect()
}

fn decision(number: usize, entry: &Value) -> Result<Decision, DecisionsError> {
    let fail = |why: String| DecisionsError(format!("Decision {number}: {why}."));
    let Some(table) = entry.as_table() else {
        return Err(fail("it is not a table headed [[decision]]".to_owned()));
    };
    let field = |name: &str| -> Result<String, DecisionsError> {
        match table.get(name) {
            None => Ok(String::new()),
            Some(Value::String(text)) => Ok(text.trim().to_owned()),
            Some(Value::Datetime(date)) if name == "date" => Ok(date.to_string()),
            Some(_) => Err(fail(format!("the field {name} must be text"))),
        }
    };
    let kind = field("kind")?;
    let (choice, fields): (DecisionKind, &[&str]) = match kind.as_str() {
        "take-measure" => (
            DecisionKind::TakeMeasure { unit: field("unit")?, measure: field("measure")? },
            &["unit", "measure"],
        ),
        "take-name" => (
            DecisionKind::TakeName { words: field("words")?, ingredient: field("ingredient")? },
            &["words", "ingredient"],
        ),
        "set-aside" => (DecisionKind::SetAside { words: field("words")? }, &["words"]),
        "supply" => (
            DecisionKind::Supply {
                gap: field("gap")?,
                supplied: field("supplied")?,
                source: field("source")?,
            },
            &["gap", "supplied", "source"],
        ),
        "" => {
            return Err(fail("it has no kind; give take-measure, take-name, set-aside or supply".to_owned()));
        }
        other => {
            return Err(fail(format!(
                "the kind “{other}” is not known; give take-measure, take-name, set-aside or supply"
            )));
        }
    };
    match &choice {
        DecisionKind::TakeMeasure { unit, measure } => {
            let sizes =
                || quartern_knowledge::measures().iter().filter(|record| record.unit == unit.as_str());
            if !sizes().any(|record| record.id == measure.as_str()) {
                let near = quartern_knowledge::nearest(measure, sizes().map(|record| record.id));
                let hint = if near.is_empty() {
                    String::new()
                } else {
                    format!("; the nearest: {}", near.join(", "))
                };
                return Err(fail(format!("the register has no {unit} called “{measure}”{hint}")));
            }
        }
        DecisionKind::TakeName { ingredient, .. } => {
            let ids = || quartern_knowledge::ingredients().iter().map(|record| record.id);
            if !ids().any(|id| id == ingredient) {
                let near = quartern_knowledge::nearest(ingredient, ids());
                let hint = if near.is_empty() {
                    String::new()
                } else {
                    format!("; the nearest: {}", near.join(", "))
                };
                return Err(fail(format!("the register has no ingredient called “{ingredient}”{hint}")));
            }
        }
        DecisionKind::SetAside { .. } | DecisionKind::Supply { .. } => {}
    }
    let known = |key: &&String| {
        !fields.contains(&key.as_str()) && !["kind", "reason", "date"].contains(&key.as_str())
    };
    if let Some(unknown) = table.keys().find(known) {
        return Err(fail(format!("a decision of the kind {kind} has no field “{unknown}”")));
    }
    Decision::new(choice, field("reason")?, field("date")?).map_err(|error| fail(error.to_string()))
}

/// Says where a file is no TOML.
fn broken(error: &toml::de::Error) -> String {
    let why = error.message().trim().replace('\n', ", ");
    format!("The file cannot be understood: {why}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_source_needs_years_and_a_place() {
        let file = source_from_toml("title = \"A Book\"\nyear = 1796\nplace = \"england\"\npage = 12")
            .expect("a source");
        assert_eq!(file.source.written.years.first(), 1796);
        assert_eq!(file.source.edition, "page 12");
        assert_eq!(file.title, None);
        let error = source_from_toml("year = 99999\nplace = \"england\"").expect_err("no such year");
        assert!(error.0.starts_with("The year 99999"), "{error}");
        let error = source_from_toml("year = 1800\nplace = \"nowhereshire\"").expect_err("no such place");
        assert!(error.0.contains("nowhereshire"), "{error}");
        let error =
            source_from_toml("year = 1800\nplace = \"england\"\nauthr = \"A\"").expect_err("no such field");
        assert!(error.0.ends_with("Did you mean author?"), "{error}");
    }

    #[test]
    fn a_decision_needs_a_reason() {
        let text = "[[decision]]\nkind = \"set-aside\"\nwords = \"butter\"\n";
        let error = decisions_from_toml(text).expect_err("no reason");
        assert!(error.0.starts_with("Decision 1: a decision needs a reason"), "{error}");
        let text = format!("{text}reason = \"It greases the tin.\"\ndate = 1911-05-03\n");
        let decisions = decisions_from_toml(&text).expect("one decision");
        assert_eq!(decisions.len(), 1);
        assert_eq!(decisions[0].date(), "1911-05-03");
    }
}
