//! What a recipe of its kind needs and the words do not give.

use std::collections::BTreeMap;

use quartern_notice::{Code, Notice};
use quartern_reading::{Amount, HeatOf, Rate, Reading};
use quartern_text::Span;

use crate::cooked::COOKING;
use crate::decision::{Decision, DecisionKind};
use crate::figures::Ledger;
use crate::fold::Folded;
use crate::types::{Gap, GapKind, Supplied};

/// Kinds of ingredient whose amount a cook needs; salt, spice, herbs and garnish are left to taste.
const MATTERS: &[&str] = &[
    "flour", "grain", "sugar", "syrup", "fat", "dairy", "egg", "leaven", "setting", "wine", "stock", "acid",
    "paste",
];

/// Finds the gaps, and puts the editor's supplies into them. Notices of supplies that fit no gap, and
/// of gaps that stay open, are added.
pub(crate) fn gaps(
    ledger: &Ledger<'_>,
    folded: &Folded,
    decisions: &[Decision],
    notices: &mut Vec<Notice>,
) -> Vec<Gap> {
    let reading = ledger.reading;
    let mut gaps = Vec::new();
    // "The boiling water gets through the linen enough to bake the pudding" is no order to bake.
    let bake = reading.steps.iter().position(|step| {
        step.actions.contains(&"bake")
            && !Folded::new(ledger.transcript.words(step.span)).any(&["enough to bake"])
    });
    heat(reading, folded, bake, &mut gaps);
    time(reading, bake, &mut gaps);
    amounts(ledger, &mut gaps);
    for &index in &ledger.chosen.supplies {
        let DecisionKind::Supply { gap, supplied, source } = decisions[index].choice() else { continue };
        let put = Supplied { what: supplied.clone(), source: source.clone(), decision: index };
        let kind = match gap.as_str() {
            "heat" => GapKind::Heat,
            "time" => GapKind::Time,
            "amount" => GapKind::Amount,
            // Which recipes are at hand is known only where the edition is made.
            _ => {
                if reading.references.is_empty() {
                    notices.push(decisions[index].unfitting("the recipe refers to no other"));
                }
                continue;
            }
        };
        if let Err(why) = fill(ledger, &mut gaps, kind, put) {
            notices.push(decisions[index].unfitting(why));
        }
    }
    for gap in &gaps {
        // An amount left to the cook is common in old print; it is shown, and no doubt is raised.
        if gap.supplied.is_none() && gap.kind != GapKind::Amount {
            notices.push(Notice { code: Code::Gap, span: gap.span, message: gap.missing.clone() });
        }
    }
    gaps
}

fn heat(reading: &Reading, folded: &Folded, bake: Option<usize>, gaps: &mut Vec<Gap>) {
    let oven_said = bake.is_some() || folded.any(&["in the oven", "into the oven", "in an oven"]);
    let has = reading.heats.iter().any(|heat| heat.of == HeatOf::Oven || heat.celsius.is_some());
    if oven_said && !has {
        gaps.push(Gap {
            kind: GapKind::Heat,
            span: bake.map(|at| reading.steps[at].span),
            missing: "No heat is given for the baking.".to_owned(),
            item: None,
            supplied: None,
        });
    }
}

fn time(reading: &Reading, bake: Option<usize>, gaps: &mut Vec<Gap>) {
    let within = |span: Span, inside: Span| span.meets(inside);
    let (span, missing) = if let Some(at) = bake {
        // The time may stand in the next sentence: "… and bake it. An hour will do it."
        let near: Vec<Span> = reading.steps.iter().skip(at).take(2).map(|step| step.span).collect();
        let reach = near.iter().copied().reduce(Span::to);
        let after = reading.steps[at].span;
        let told = reading.durations.iter().any(|duration| {
            reach.is_some_and(|reach| within(reach, duration.span)) || duration.span.start() >= after.start()
        }) || reading.cues.iter().any(|cue| cue.span.start() >= after.start());
        if told {
            return;
        }
        (Some(after), "No time is given for the baking, and no sign that it is done.".to_owned())
    } else {
        let cooking = reading.steps.iter().find_map(|step| {
            step.actions
                .iter()
                .find(|action| COOKING.contains(action) && !passing(action))
                .map(|action| (step.span, *action))
        });
        let Some((span, action)) = cooking else { return };
        if !reading.durations.is_empty() || !reading.cues.is_empty() {
            return;
        }
        (Some(span), format!("No time is given for the {}, and no sign that it is done.", doing(action)))
    };
    gaps.push(Gap { kind: GapKind::Time, span, missing, item: None, supplied: None });
}

/// Heating so short that old print gives no time for it.
fn passing(action: &str) -> bool {
    matches!(action, "scald" | "boil" | "boyle" | "toast" | "blanch" | "brown" | "hash" | "curry" | "brew")
}

/// Returns a verb as the name of what is done.
fn doing(action: &str) -> String {
    match action {
        "bake" | "bak" => "baking".to_owned(),
        "frie" | "fry" => "frying".to_owned(),
        "seeth" | "seethe" => "seething".to_owned(),
        "stew" | "roast" | "broil" | "poach" | "steam" | "cook" | "grill" | "parboil" | "simmer" => {
            format!("{action}ing")
        }
        "braise" | "coddle" => format!("{}ing", action.trim_end_matches('e')),
        _ => "cooking".to_owned(),
    }
}

/// Words of a sentence in which fat or flour keeps things from sticking, or fries: no cook needs its
/// amount.
const FOR_THE_PAN: &[&str] = &[
    "grease",
    "greased",
    "rub the",
    "dust",
    "dredge",
    "fry",
    "frying",
    "fried",
    "baste",
    "roll",
    "rolled",
    "board",
    "buttered",
    "flour your",
    "sprinkle",
    "brush",
    "paper",
    "line",
];

/// Is the fat or flour of an item for the pan or the board?
fn for_the_pan(ledger: &Ledger<'_>, step: Option<usize>, kind: &str) -> bool {
    matches!(kind, "fat" | "flour")
        && step
            .and_then(|step| ledger.reading.steps.get(step))
            .is_some_and(|step| Folded::new(ledger.transcript.words(step.span)).any(FOR_THE_PAN))
}

fn amounts(ledger: &Ledger<'_>, gaps: &mut Vec<Gap>) {
    let mut step_of: BTreeMap<usize, usize> = BTreeMap::new();
    for (number, step) in ledger.reading.steps.iter().enumerate() {
        for item in &step.items {
            step_of.entry(*item).or_insert(number);
        }
    }
    // The first place of each name, and whether it has an amount anywhere.
    let mut names: BTreeMap<&str, (usize, bool)> = BTreeMap::new();
    for (index, item) in ledger.reading.items.iter().enumerate() {
        let stated = !matches!(item.amount, Amount::Unstated | Amount::Vague(_));
        names.entry(&item.name.plain).or_insert((index, false)).1 |= stated;
    }
    for (index, item) in ledger.reading.items.iter().enumerate() {
        let said = match &item.amount {
            Amount::Unstated | Amount::Vague(_) => false,
            Amount::Stated(_) | Amount::SameAs { .. } | Amount::Unread(_) => true,
        };
        let aside = ledger.chosen.set_aside.binary_search(&index).is_ok();
        if said || aside || item.optional || item.rate == Rate::Base {
            continue;
        }
        let Some(ingredient) = ledger.ingredient(index) else { continue };
        if MATTERS.contains(&ingredient.kind)
            && ingredient.id != "water"
            && names.get(item.name.plain.as_str()) == Some(&(index, false))
            && !for_the_pan(ledger, step_of.get(&index).copied(), ingredient.kind)
        {
            gaps.push(Gap {
                kind: GapKind::Amount,
                span: Some(item.span),
                missing: format!("No amount is given for the {}.", name(ledger, index)),
                item: Some(index),
                supplied: None,
            });
        }
    }
}

fn name<'a>(ledger: &'a Ledger<'_>, index: usize) -> &'a str {
    ledger.chosen.name(index).map_or(ledger.reading.items[index].name.plain.as_str(), |known| known.name)
}

fn fill(ledger: &Ledger<'_>, gaps: &mut Vec<Gap>, kind: GapKind, put: Supplied) -> Result<(), &'static str> {
    if kind == GapKind::Amount {
        let said = put.what.to_lowercase();
        let is_said = |index: usize| said.contains(&name(ledger, index).to_lowercase());
        let named = gaps
            .iter_mut()
            .find(|gap| gap.kind == kind && gap.supplied.is_none() && gap.item.is_some_and(is_said));
        if let Some(gap) = named {
            gap.supplied = Some(put);
            return Ok(());
        }
        // An editor may supply what the program does not miss: the salt, the spice.
        let open = ledger.reading.items.iter().enumerate().find(|(index, item)| {
            matches!(item.amount, Amount::Unstated | Amount::Vague(_) | Amount::Unread(_)) && is_said(*index)
        });
        if let Some((index, item)) = open {
            gaps.push(Gap {
                kind,
                span: Some(item.span),
                missing: format!("No amount is given for the {}.", name(ledger, index)),
                item: Some(index),
                supplied: Some(put),
            });
            return Ok(());
        }
    }
    match gaps.iter_mut().find(|gap| gap.kind == kind && gap.supplied.is_none()) {
        Some(gap) => {
            gap.supplied = Some(put);
            Ok(())
        }
        None => Err(match kind {
            GapKind::Heat => "no heat is missing",
            GapKind::Time => "no time is missing",
            GapKind::Amount => "no amount is missing",
            GapKind::Recipe => "no recipe is missing",
        }),
    }
}
