//! The edition of a recipe.

use quartern_edition::Edition;
use quartern_knowledge::place_name;
use quartern_reckoning::Decision;

use crate::Given;

/// Makes an edition. The first given is the recipe; the others are at hand for its references.
///
/// # Panics
/// If no recipe is given.
#[must_use]
pub fn edition(givens: &[Given], _decisions: &[Decision], version: &str) -> Edition {
    let given = givens.first().expect("an edition is made of at least one recipe");
    Edition {
        title: given.title.clone().unwrap_or_default(),
        source: given.source.clone(),
        place_name: place_name(given.source.written.place).to_owned(),
        cautions: Vec::new(),
        parts: Vec::new(),
        supplies: Vec::new(),
        glosses: Vec::new(),
        notes: Vec::new(),
        notices: Vec::new(),
        authorities: Vec::new(),
        decisions: Vec::new(),
        made_with: format!("quartern {version}"),
    }
}
