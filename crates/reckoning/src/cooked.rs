//! Is anything in a recipe cooked, and how.

use quartern_reading::Reading;

use crate::fold::Folded;

/// Verbs that cook.
pub(crate) const COOKING: &[&str] = &[
    "bake",
    "boil",
    "roast",
    "fry",
    "stew",
    "simmer",
    "broil",
    "poach",
    "steam",
    "scald",
    "cook",
    "toast",
    "braise",
    "grill",
    "fricassee",
    "hash",
    "boyle",
    "seeth",
    "seethe",
    "frie",
    "bak",
    "parboil",
    "coddle",
    "brew",
    "brown",
    "blanch",
    "curry",
    "distil",
    "distill",
];

/// Phrases that tell of cooking where no verb of it begins a clause.
const PHRASES: &[&str] = &[
    "over the fire",
    "on the fire",
    "upon the fire",
    "over a fire",
    "over hot water",
    "on the stove",
    "over the coals",
    "over a slow fire",
    "over a gentle fire",
    "over a clear fire",
    "to the boil",
    "chafing-dish",
    "be baked",
    "be boiled",
    "be fried",
    "be roasted",
    "be stewed",
    "be steamed",
    "be cooked",
    "is baked",
    "are baked",
    "is boiled",
    "are boiled",
    "is cooked",
    "are cooked",
    "when baked",
    "when boiled",
    "it boil",
    "it boils",
    "them boil",
    "they boil",
    "it boyle",
    "it seethe",
    "it simmer",
    "it stew",
    "will boil",
    "well boiled",
    "bake it",
    "bake them",
    "bake in",
    "boil it",
    "boil them",
    "and bake",
    "and boil",
    "and fry",
    "boiling milk",
    "boiling cream",
    "simmer",
    "simmering",
    "boyl",
    "boyle",
    "poaching",
    "boiling point",
    "boiling-point",
    "to a boil",
    "boiled an hour",
    "boiled for",
    "and boiled",
    "boiled half",
    "boiled two",
    "boiled three",
    "pot of boiling water",
    "hard boil",
    "on fire",
];

/// Phrases of an oven, which dries an icing without cooking it.
const OVEN: &[&str] =
    &["in the oven", "into the oven", "in an oven", "in a slow oven", "in a quick oven", "oven"];
const ICING: &[&str] = &["icing", "iceing", "frosting", "ice the cake", "ice it", "to ice"];

/// How far a recipe cooks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Cooked {
    /// Something is cooked.
    pub(crate) anything: bool,
    /// Even where the oven may only dry an icing, something is cooked.
    pub(crate) icing: bool,
}

/// Does anything in a recipe get cooked?
pub(crate) fn cooked(folded: &Folded, reading: &Reading) -> Cooked {
    let plainly = reading.steps.iter().any(|step| step.actions.iter().any(|action| COOKING.contains(action)))
        || folded.any(PHRASES);
    let oven = !reading.heats.is_empty() || folded.any(OVEN);
    Cooked { anything: plainly || oven, icing: plainly || (oven && !folded.any(ICING)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(words: &str) -> Cooked {
        cooked(&Folded::new(words), &quartern_reading::read(words, None).value)
    }

    #[test]
    fn cooking_is_known_by_verbs_and_phrases() {
        assert!(of("Take two eggs and a pint of milk; boil them together.").anything);
        assert!(of("The pudding should be put into a pot of boiling water.").anything);
        assert!(!of("Beat two yolks with half a pound of sugar. Flavour.").anything);
        let icing =
            of("Icing for a cake. Take the whites of four eggs and sugar; set it in the oven to dry.");
        assert!(icing.anything && !icing.icing);
    }
}
