//! When and where a recipe was written, out of the arguments and a source file.

use std::path::Path;

use quartern_workbench::{Given, Source, SourceFile, Transcript, Within, YearRange};

use crate::arguments::WhenWhere;
use crate::trouble::Trouble;

/// The years taken where none are given: those the registers are made for.
const ANY_YEAR: (i64, i64) = (1650, 1920);
/// The place taken where none is given.
const ANY_PLACE: &str = "uk";

fn year(text: &str, option: &str) -> Result<i64, Trouble> {
    text.trim().parse().map_err(|_| {
        Trouble::Usage(format!("“{text}” is no year; give {option} a number from 1000 to 2100, such as 1861"))
    })
}

/// Returns the years of the arguments, if there are any.
fn years(given: &WhenWhere) -> Result<Option<YearRange>, Trouble> {
    let first = given.year.as_deref().map(|text| year(text, "--year")).transpose()?;
    let last = given.year_last.as_deref().map(|text| year(text, "--year-last")).transpose()?;
    match (first, last) {
        (None, None) => Ok(None),
        (None, Some(last)) => Err(Trouble::Usage(format!(
            "--year-last {last} needs a --year before it; give the first of the years too"
        ))),
        (Some(first), last) => YearRange::new(first, last.unwrap_or(first))
            .map(Some)
            .map_err(|error| Trouble::Usage(error.to_string())),
    }
}

/// Returns the place of the arguments, if there is one.
fn place(given: &WhenWhere) -> Result<Option<quartern_workbench::PlaceId>, Trouble> {
    let Some(name) = &given.place else { return Ok(None) };
    quartern_knowledge::place(name).map(Some).map_err(|unknown| {
        let nearest = match unknown.nearest.as_slice() {
            [] => String::new(),
            near => format!(", the nearest known are {}", near.join(", ")),
        };
        Trouble::Usage(format!(
            "the place “{}” is not known{nearest}; give a country, county, state or town",
            unknown.name
        ))
    })
}

/// Returns the years and place of the arguments, with the whole period and the United Kingdom for
/// what is missing, and whether anything was.
pub(crate) fn when_where_or_any(given: &WhenWhere) -> Result<(Within, bool), Trouble> {
    let (years, place) = (years(given)?, place(given)?);
    let lacking = years.is_none() || place.is_none();
    let any = YearRange::new(ANY_YEAR.0, ANY_YEAR.1).map_err(|_| Trouble::OurFault)?;
    let anywhere = quartern_knowledge::place(ANY_PLACE).map_err(|_| Trouble::OurFault)?;
    Ok((Within { years: years.unwrap_or(any), place: place.unwrap_or(anywhere) }, lacking))
}

/// Returns the source that the arguments and the source file tell of; the arguments come first.
pub(crate) fn source(given: &WhenWhere, file: Option<&Path>) -> Result<SourceFile, Trouble> {
    let (years, place) = (years(given)?, place(given)?);
    let told = match file {
        None => None,
        Some(path) => {
            let text = quartern_store::read_file(path)?;
            let told = quartern_workbench::source_from_toml(&text)
                .map_err(|error| Trouble::Input(format!("{}: {error}", path.display())))?;
            Some(told)
        }
    };
    if let Some(mut told) = told {
        if let Some(years) = years {
            told.source.written.years = years;
        }
        if let Some(place) = place {
            told.source.written.place = place;
        }
        return Ok(told);
    }
    let years = years.ok_or_else(|| {
        Trouble::Usage(
            "the year is missing, and a pint of 1800 is not a pint of 1900; give the year of the words, such as --year 1861"
                .to_owned(),
        )
    })?;
    let place = place.ok_or_else(|| {
        Trouble::Usage(
            "the place is missing, and an American pint is not an English one; give the place of the words, such as --place england"
                .to_owned(),
        )
    })?;
    let source = Source {
        title: String::new(),
        author: String::new(),
        written: Within { years, place },
        printed: None,
        edition: String::new(),
        rights: String::new(),
    };
    Ok(SourceFile { source, title: None, note: String::new() })
}

/// Puts words and their source together.
pub(crate) fn given(
    words: String,
    title: Option<String>,
    source: &Source,
    name: &str,
) -> Result<Given, Trouble> {
    let transcript = Transcript::new(words)
        .map_err(|error| Trouble::Input(format!("{name} can't be taken as a recipe: {error}")))?;
    Ok(Given { transcript, title, source: source.clone() })
}
