use std::fmt;

use quartern_text::PlaceId;

use crate::places as all;
use crate::records::Place;

/// A name that is not in a register, with the nearest names that are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// The name asked for.
    pub name: String,
    /// The nearest known names, best first, at most three.
    pub nearest: Vec<String>,
}

impl fmt::Display for Unknown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is not known", self.name)?;
        if !self.nearest.is_empty() {
            write!(f, "; the nearest known: {}", self.nearest.join(", "))?;
        }
        Ok(())
    }
}

impl std::error::Error for Unknown {}

/// Returns the known names nearest to a name, best first, at most three.
pub fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut ranked: Vec<(f64, &str)> = known
        .map(|candidate| (strsim::jaro_winkler(name, candidate), candidate))
        .filter(|(likeness, _)| *likeness > 0.75)
        .collect();
    ranked.sort_by(|one, two| two.0.total_cmp(&one.0).then(one.1.cmp(two.1)));
    ranked.dedup_by(|one, two| one.1 == two.1);
    ranked.into_iter().take(3).map(|(_, name)| name.to_owned()).collect()
}

/// Finds a place by any of its names, whatever the case.
///
/// # Errors
/// [`Unknown`] with the nearest names.
pub fn place(name: &str) -> Result<PlaceId, Unknown> {
    let wanted = name.trim().to_lowercase().replace('_', "-");
    let spaced = wanted.replace('-', " ");
    for place in all() {
        if place.names.iter().any(|known| *known == wanted || *known == spaced) {
            return Ok(PlaceId::from_register(place.id));
        }
    }
    let names = all().iter().flat_map(|place| place.names.iter().copied());
    Err(Unknown { name: name.trim().to_owned(), nearest: nearest(&wanted, names) })
}

fn record(id: &str) -> Option<&'static Place> {
    all().iter().find(|place| place.id == id)
}

/// Returns a place's name for people.
#[must_use]
pub fn place_name(place: PlaceId) -> &'static str {
    record(place.as_str()).map_or(place.as_str(), |place| place.name)
}

/// Returns how many steps up from `place` the place `outer` is: 0 for itself, nothing if `place`
/// does not lie within it.
#[must_use]
pub fn within(place: &str, outer: &str) -> Option<u32> {
    let mut at = place;
    for steps in 0..12 {
        if at == outer {
            return Some(steps);
        }
        at = record(at)?.within;
    }
    None
}
