//! From a unit word, a place, years and goods to sizes with weights.

use std::sync::LazyLock;

use quartern_quantity::{Cause, Dimension};
use quartern_text::Within;
use rustc_hash::FxHashMap;

use crate::records::{Authority, Density, Evidence, Form, Ingredient, Measure, Oven, Weight};
use crate::{all_ovens, authority, densities, measures, weights, within};

/// One possible size of a unit word, with its weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alternative {
    /// The record.
    pub measure: &'static Measure,
    /// How likely, 0 to 1; the weights of all alternatives add to one.
    pub weight: f64,
}

/// The sizes a unit word had at a place and time for some goods, likeliest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Resolved {
    /// What it measures.
    pub dimension: Dimension,
    /// At least one.
    pub alternatives: Vec<Alternative>,
    /// The 5 % point, in g, ml or mm.
    pub low: f64,
    /// The best value: that of the likeliest alternative.
    pub best: f64,
    /// The 95 % point.
    pub high: f64,
    /// Why there is a spread.
    pub cause: Cause,
}

static BY_UNIT: LazyLock<FxHashMap<&'static str, Vec<&'static Measure>>> = LazyLock::new(|| {
    let mut map: FxHashMap<&'static str, Vec<&'static Measure>> = FxHashMap::default();
    for measure in measures() {
        map.entry(measure.unit).or_default().push(measure);
    }
    map
});

static DENSITY: LazyLock<FxHashMap<&'static str, Vec<&'static Density>>> = LazyLock::new(|| {
    let mut map: FxHashMap<&'static str, Vec<&'static Density>> = FxHashMap::default();
    for density in densities() {
        map.entry(density.ingredient).or_default().push(density);
    }
    map
});

static WEIGHT: LazyLock<FxHashMap<(&'static str, &'static str), Vec<&'static Weight>>> =
    LazyLock::new(|| {
        let mut map: FxHashMap<(&'static str, &'static str), Vec<&'static Weight>> = FxHashMap::default();
        for weight in weights() {
            map.entry((weight.ingredient, weight.unit)).or_default().push(weight);
        }
        map
    });

/// A place that only contains the record's places might mean any of them; each then weighs less.
/// Tuned by hand on nothing but sense: it only orders rivals.
const BROADER_PLACE: f64 = 0.02;

/// What a size for particular goods weighs where the goods are not known.
/// Tuned by hand on nothing but sense: it only orders rivals.
const UNKNOWN_GOODS: f64 = 0.3;

/// Returns how well a record's years and places fit, 0 for not at all.
fn fit(at: &Within, first: Option<i16>, last: Option<i16>, places: &[&str]) -> f64 {
    let years = at.years.share_in(first, last);
    if years == 0.0 {
        return 0.0;
    }
    if places.is_empty() {
        return years;
    }
    let here = at.place.as_str();
    if places.iter().any(|place| within(here, place).is_some()) {
        years
    } else if places.iter().any(|place| within(place, here).is_some()) {
        years * BROADER_PLACE
    } else {
        0.0
    }
}

/// Returns the goods words that hold of an ingredient, for matching against a measure's goods.
#[must_use]
pub fn goods_of(ingredient: &Ingredient) -> Vec<&'static str> {
    let mut goods = Vec::new();
    match ingredient.kind {
        "wine" | "spirit" => goods.push("wine"),
        "beer" => goods.push("ale"),
        "flour" => goods.push("flour"),
        "bread" => goods.push("bread"),
        "meat" | "offal" | "poultry" | "game" => goods.push("meat"),
        "fruit" | "vegetable" | "root" | "pulse" => goods.push("fruit"),
        "drug" => goods.push("drug"),
        "dairy" if ingredient.form == Form::Liquid => goods.push("milk"),
        "fat" if ingredient.form == Form::Liquid => goods.push("oil"),
        _ => {}
    }
    match ingredient.id {
        "butter" => goods.push("butter"),
        "honey" => goods.push("honey"),
        _ => {}
    }
    match ingredient.form {
        Form::Liquid => goods.push("liquid"),
        Form::Paste => goods.extend(["paste", "dry"]),
        Form::Powder | Form::Grains | Form::Pieces | Form::Whole => goods.push("dry"),
    }
    goods
}

/// Returns the sizes that a unit word had there and then for those goods; nothing if the register
/// has none. `goods` empty means: not known.
#[must_use]
pub fn resolve(unit: &str, at: &Within, goods: &[&str]) -> Option<Resolved> {
    let mut found: Vec<Alternative> = Vec::new();
    for measure in BY_UNIT.get(unit)? {
        let fits = fit(at, measure.first_year, measure.last_year, measure.places);
        let suits = if measure.goods.is_empty() {
            1.0
        } else if goods.is_empty() {
            UNKNOWN_GOODS
        } else if measure.goods.iter().any(|word| goods.contains(word)) {
            1.0
        } else {
            0.0
        };
        if fits > 0.0 && suits > 0.0 {
            found.push(Alternative { measure, weight: fits * suits * measure.weight });
        }
    }
    let total: f64 = found.iter().map(|alternative| alternative.weight).sum();
    for alternative in &mut found {
        alternative.weight /= total;
    }
    found.sort_by(|one, two| two.weight.total_cmp(&one.weight).then(one.measure.id.cmp(two.measure.id)));
    let first = found.first()?;
    let dimension = first.measure.dimension;
    let best = first.measure.best;
    let (mut low, mut high) = (first.measure.low, first.measure.high);
    let mut cause = if high > low { Cause::Measure } else { Cause::Exact };
    for other in &found[1..] {
        // Below one in twenty an alternative lies outside what low and high are meant to hold.
        if other.weight >= 0.05 && other.measure.dimension == dimension {
            if (other.measure.best / best - 1.0).abs() > 0.02 {
                cause = Cause::Readings;
            }
            low = low.min(other.measure.low);
            high = high.max(other.measure.high);
        }
    }
    Some(Resolved { dimension, alternatives: found, low, best, high, cause })
}

/// Returns a measure by its id.
#[must_use]
pub fn measure_by_id(id: &str) -> Option<&'static Measure> {
    measures().iter().find(|measure| measure.id == id)
}

/// Returns the density of an ingredient in a packing: its own record if there is one, else the one
/// of its kind.
#[must_use]
pub fn density(ingredient: &Ingredient, form: &str) -> Option<&'static Density> {
    let of = |key: &str| -> Option<&'static Density> {
        let records = DENSITY.get(key)?;
        records
            .iter()
            .find(|record| record.form == form)
            .or_else(|| records.iter().find(|record| record.form.is_empty()))
            .or_else(|| records.first())
            .copied()
    };
    let kind = format!("kind:{}", ingredient.kind);
    let own_form = || {
        DENSITY.get(kind.as_str())?.iter().find(|record| record.form == form_word(ingredient.form)).copied()
    };
    of(ingredient.id).or_else(own_form).or_else(|| of(&kind))
}

fn form_word(form: Form) -> &'static str {
    match form {
        Form::Liquid => "liquid",
        Form::Powder => "powder",
        Form::Grains => "grains",
        Form::Pieces => "pieces",
        Form::Paste => "paste",
        Form::Whole => "whole",
    }
}

/// Returns the weight of one `unit` of an ingredient there and then.
#[must_use]
pub fn weight_of(ingredient: &Ingredient, unit: &str, at: &Within) -> Option<&'static Weight> {
    let of = |key: &str| -> Option<&'static Weight> {
        let records = WEIGHT.get(&(key, unit))?;
        let mut best: Option<(f64, &'static Weight)> = None;
        for &record in records {
            let fits = fit(at, record.first_year, record.last_year, record.places);
            // A record with years or a place of its own is more to the point than one without.
            let own = u8::from(record.first_year.is_some() || record.last_year.is_some())
                + u8::from(!record.places.is_empty());
            let fits = fits * (1.0 + f64::from(own));
            if fits > 0.0 && best.is_none_or(|(so_far, _)| fits > so_far) {
                best = Some((fits, record));
            }
        }
        best.map(|(_, record)| record)
    };
    of(ingredient.id).or_else(|| of(&format!("kind:{}", ingredient.kind)))
}

/// Returns the heats of a class, or whose words are given, that hold there and then, best fit first.
#[must_use]
pub fn ovens(words: &str, class: &str, at: &Within) -> Vec<&'static Oven> {
    let words = words.to_lowercase();
    let mut found: Vec<(bool, f64, &'static Oven)> = all_ovens()
        .iter()
        .filter_map(|oven| {
            let named = oven.words.iter().any(|known| words.contains(known));
            let fits = fit(at, oven.first_year, oven.last_year, oven.places);
            (fits > 0.0 && (named || (!class.is_empty() && oven.class == class)))
                .then_some((named, fits, oven))
        })
        .collect();
    found.sort_by(|one, two| {
        let longest = |oven: &Oven| {
            oven.words
                .iter()
                .filter(|known| words.contains(**known))
                .map(|known| known.len())
                .max()
                .unwrap_or(0)
        };
        two.0
            .cmp(&one.0)
            .then(longest(two.2).cmp(&longest(one.2)))
            .then(two.1.total_cmp(&one.1))
            .then(one.2.id.cmp(two.2.id))
    });
    found.into_iter().map(|(_, _, oven)| oven).collect()
}

/// Writes an authority as one citation.
#[must_use]
pub fn full(authority: &Authority) -> String {
    let mut parts: Vec<&str> = Vec::new();
    for part in [authority.author, authority.title, authority.place, authority.year, authority.where_found] {
        if !part.is_empty() {
            parts.push(part);
        }
    }
    format!("{}.", parts.join(", "))
}

/// Writes what a record rests on as the end of a sentence, in full.
#[must_use]
pub fn cite(evidence: &Evidence) -> String {
    match authority(evidence.authority) {
        Some(authority) => {
            let mut text = full(authority).trim_end_matches('.').to_owned();
            if !evidence.locus.is_empty() {
                text.push_str(", ");
                text.push_str(evidence.locus);
            }
            text
        }
        None if evidence.kind == "common practice" => "common practice, no source".to_owned(),
        None => evidence.kind.to_owned(),
    }
}

/// Writes what a record rests on as a few words: author or title, and year.
#[must_use]
pub fn short_cite(evidence: &Evidence) -> String {
    match authority(evidence.authority) {
        Some(authority) => {
            let surname = authority.author.rsplit(' ').next().unwrap_or("");
            let name = if surname.is_empty() || authority.author.len() > 40 || authority.kind != "period book"
            {
                authority.title
            } else {
                surname
            };
            let mut text = name.to_owned();
            if !authority.year.is_empty() && !authority.title.contains(authority.year) {
                text.push(' ');
                text.push_str(authority.year);
            }
            if !evidence.locus.is_empty() {
                text.push_str(", ");
                text.push_str(evidence.locus);
            }
            text
        }
        None if evidence.kind == "common practice" => "common practice, no source".to_owned(),
        None => evidence.kind.to_owned(),
    }
}
