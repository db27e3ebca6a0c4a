//! Questions to the register, each asked once for a place, years and goods and then remembered.
//!
//! A stream of recipes asks the same few hundred questions over and over. What is remembered never
//! changes an answer.

use std::cell::RefCell;
use std::sync::{Arc, LazyLock};

use quartern_knowledge::{
    Density, Ingredient, Resolved, UnitWord, Weight, density, goods_of, resolve, unit_words, weight_of,
};
use quartern_text::{PlaceId, Within, YearRange};
use rustc_hash::FxHashMap;

/// So many answers are remembered, then all are forgotten: memory does not grow with the input.
const REMEMBERED: usize = 16_384;

/// A unit word or packing, a place, years, and the id of an ingredient.
type Question = (&'static str, PlaceId, YearRange, &'static str);

#[derive(Default)]
struct Answers {
    sizes: FxHashMap<Question, Option<Arc<Resolved>>>,
    weights: FxHashMap<Question, Option<&'static Weight>>,
    densities: FxHashMap<(&'static str, &'static str), Option<&'static Density>>,
}

thread_local! {
    static ANSWERS: RefCell<Answers> = RefCell::default();
}

fn remembered<K: std::hash::Hash + Eq, V: Clone>(
    answers: &mut FxHashMap<K, V>,
    question: K,
    ask: impl FnOnce() -> V,
) -> V {
    if let Some(answer) = answers.get(&question) {
        return answer.clone();
    }
    if answers.len() >= REMEMBERED {
        answers.clear();
    }
    let answer = ask();
    answers.insert(question, answer.clone());
    answer
}

/// Returns the sizes of a unit word there and then for an ingredient.
pub(crate) fn sizes(
    unit: &'static str,
    at: &Within,
    ingredient: Option<&'static Ingredient>,
) -> Option<Arc<Resolved>> {
    let question = (unit, at.place, at.years, ingredient.map_or("", |known| known.id));
    ANSWERS.with_borrow_mut(|answers| {
        remembered(&mut answers.sizes, question, || {
            let goods = ingredient.map(goods_of).unwrap_or_default();
            resolve(unit, at, &goods).map(Arc::new)
        })
    })
}

/// Returns the weight of one `unit` of an ingredient there and then.
pub(crate) fn one(
    ingredient: &'static Ingredient,
    unit: &'static str,
    at: &Within,
) -> Option<&'static Weight> {
    let question = (unit, at.place, at.years, ingredient.id);
    ANSWERS.with_borrow_mut(|answers| {
        remembered(&mut answers.weights, question, || weight_of(ingredient, unit, at))
    })
}

/// Returns the density of an ingredient as it was prepared.
pub(crate) fn dense(ingredient: &'static Ingredient, prepared: &[String]) -> Option<&'static Density> {
    let packing = prepared.iter().find_map(|word| packing(word)).unwrap_or("");
    ANSWERS.with_borrow_mut(|answers| {
        remembered(&mut answers.densities, (ingredient.id, packing), || density(ingredient, packing))
    })
}

static PACKINGS: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
    let mut forms: Vec<&'static str> = quartern_knowledge::densities()
        .iter()
        .map(|density| density.form)
        .filter(|form| !form.is_empty())
        .collect();
    forms.sort_unstable();
    forms.dedup();
    forms
});

/// Returns a word of preparation as the register of densities writes it.
fn packing(word: &str) -> Option<&'static str> {
    let word = match word {
        "minced" | "shred" | "shredded" | "chopt" => "chopped",
        "powdered" | "pulverised" | "pulverized" => "ground",
        "beaten" | "pounded" | "beat" => "pounded",
        _ => word,
    };
    PACKINGS.binary_search(&word).ok().map(|at| PACKINGS[at])
}

static UNITS: LazyLock<FxHashMap<&'static str, &'static UnitWord>> =
    LazyLock::new(|| unit_words().iter().map(|word| (word.unit, word)).collect());

/// Returns a unit word of the register.
pub(crate) fn unit(name: &str) -> Option<&'static UnitWord> {
    UNITS.get(name).copied()
}
