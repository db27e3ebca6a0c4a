//! Is anything in a recipe cooked, and how.

use quartern_reading::Reading;

use crate::fold::Folded;

/// Verbs that cook.
pub(crate) const COOKING: &[&str] = &[
    "bake", "boil", "roast", "fry", "stew", "simmer", "broil", "poach", "steam", "scald", "cook", "toast", "braise",
    "grill", "fricassee", "hash", "boyle", "seeth", "seethe", "frie", "bak", "parboil", "coddle", "brew", "brown",
    "blanch", "curry", "distil", "distill",
];

/// Phrases that tell of cooking where no verb of it begins a clause.
const PHRASES: &[&str] = &[
    "over the fire", "on the fire", "upon the fire", "over a fire", "over hot water", "on the stove", "over the coals",
    "over a slow fire", "over a gentle fire", "over a clear fire", "to the boil", "chafing-dish", "be baked", "be boiled",
    "be fried", "be roasted", "be stewed", "be steamed", "be cooked", "is baked", "are baked", "is boiled", "are boiled",
    "is cooked", "are cooked", "when baked", "when boiled", "it boil", "it boils", "them boil", "they boil", "it boyle",
    "it seethe", "it simmer", "it stew", "will boil", "well boiled", "bake it", "bake them", "bake in", "boil it",
    "boil them", "and bake", "and boil", "and fry", "boiling milk", "boiling cream",
];

/// Phrases of an oven, which dries an icing without cooking it.
const OVEN: &[&str] = &["in the oven", "into the oven", "in an oven", "in a slow oven", "in a quick oven", "oven"];
const ICING: &[&str] = &["icing", "iceing", "frosting", "ice the cake", "ice it", "to ice"];

/// Does anything in a recipe get cooked?
pub(crate) fn is_cooked(folded: &Folded, reading: &Reading) -> bool {
    reading.steps.iter().any(|step| step.actions.iter().any(|action| COOKING.contains(action)))
        || folded.any(PHRASES)
        || ((!reading.heats.is_empty() || folded.any(OVEN)) && !folded.any(ICING))
}
