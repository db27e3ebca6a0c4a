//! What is known of measures, foods, words and hazards, and where each fact comes from.
//!
//! The records stand in `data/`, are checked and compiled in at build time, and are asked here by
//! name, place and year. No figure about a food or a measure is written in Rust.

mod places;
mod records;
mod resolve;

pub use places::{Unknown, nearest, place, place_name, within};
pub use records::{
    Authority, CautionRecord, Density, Evidence, Form, Gloss, Ingredient, Measure, Oven, Place, Rule,
    Severity, UnitWord, Weight,
};
pub use resolve::{
    Alternative, Resolved, cite, density, full, goods_of, measure_by_id, ovens, resolve, short_cite,
    weight_of,
};

mod generated {
    #![allow(clippy::all, clippy::pedantic, reason = "written by the build script")]
    use crate::records::*;
    use quartern_quantity::Dimension;
    include!(concat!(env!("OUT_DIR"), "/records.rs"));
}

/// Returns every authority, in the order of their ids.
#[must_use]
pub fn authorities() -> &'static [Authority] {
    generated::AUTHORITIES
}

/// Returns an authority by its id.
#[must_use]
pub fn authority(id: &str) -> Option<&'static Authority> {
    generated::AUTHORITIES
        .binary_search_by(|authority| authority.id.cmp(id))
        .ok()
        .map(|at| &generated::AUTHORITIES[at])
}

/// Returns every place.
#[must_use]
pub fn places() -> &'static [Place] {
    generated::PLACES
}

/// Returns every unit word.
#[must_use]
pub fn unit_words() -> &'static [UnitWord] {
    generated::UNIT_WORDS
}

/// Returns the size records of all measures.
#[must_use]
pub fn measures() -> &'static [Measure] {
    generated::MEASURES
}

/// Returns every ingredient.
#[must_use]
pub fn ingredients() -> &'static [Ingredient] {
    generated::INGREDIENTS
}

/// Returns every density.
#[must_use]
pub fn densities() -> &'static [Density] {
    generated::DENSITIES
}

/// Returns every weight of one thing.
#[must_use]
pub fn weights() -> &'static [Weight] {
    generated::WEIGHTS
}

/// Returns every heat.
#[must_use]
pub fn all_ovens() -> &'static [Oven] {
    generated::OVENS
}

/// Returns every gloss.
#[must_use]
pub fn glosses() -> &'static [Gloss] {
    generated::GLOSSES
}

/// Returns every caution.
#[must_use]
pub fn cautions() -> &'static [CautionRecord] {
    generated::CAUTIONS
}

/// Returns the reader's word lists as pairs of word and class, in order.
#[must_use]
pub fn words() -> &'static [(&'static str, &'static str)] {
    generated::WORDS
}
