//! Hazards and old words found in a transcript.

use std::sync::LazyLock;

use aho_corasick::{AhoCorasick, AhoCorasickKind, MatchKind};
use quartern_knowledge::{
    CautionRecord, Gloss, Rule, cautions as caution_records, glosses as gloss_records, within,
};
use quartern_text::{Span, Within};

use crate::cooked::cooked;
use crate::figures::Ledger;
use crate::fold::Folded;
use crate::types::{Caution, GlossedWord};

/// So many old words are explained in one recipe, at most.
const MOST_GLOSSES: usize = 12;

/// Old words that mean to a cook of today what they meant then, or that the figures explain already.
/// Which words are everyday ones is a judgement, not a fact of the kitchen.
const EVERYDAY: &[&str] = &[
    "anchovy",
    "aspic",
    "baste",
    "biscuit",
    "bladder",
    "blancmange",
    "blanch",
    "blood-warm",
    "boil-up",
    "boudin",
    "bouillon",
    "bread-grated",
    "broil",
    "browning",
    "butter-sauce",
    "charcoal-stove",
    "corn",
    "braise",
    "caraways",
    "cayenne",
    "cheesecake",
    "clarify",
    "close",
    "colander",
    "consomme",
    "cordial-water",
    "crumb",
    "currans",
    "devil",
    "dish-up",
    "ditto",
    "doughnut",
    "draw-bird",
    "dredge",
    "dress",
    "drop-batter",
    "fortnight",
    "fool",
    "fricassee",
    "froth",
    "garnish",
    "gelly",
    "giblets",
    "glaze",
    "half-crown-size",
    "handful",
    "hang",
    "hash",
    "heaped",
    "household-bread",
    "infuse",
    "jug",
    "julienne",
    "kisses",
    "knife-point",
    "lard",
    "macaroon",
    "marinade",
    "marmalade",
    "meat",
    "midsummer",
    "molasses",
    "mortar",
    "nutmeg",
    "parboil",
    "paste",
    "penny-loaf",
    "pennyworth",
    "piece-butter",
    "pinch",
    "pistachoes",
    "plums",
    "poach",
    "pound-cake",
    "puff-paste",
    "quantity",
    "rack",
    "range",
    "rasher",
    "raise-dough",
    "receipt",
    "rissole",
    "rose-water",
    "roux",
    "scald",
    "scant",
    "scum-off",
    "shilling-size",
    "short-crust",
    "singe",
    "size-walnut",
    "skillet",
    "sorrel",
    "soy",
    "space-of",
    "sponge",
    "stiff-froth",
    "stock",
    "strew",
    "sweetbread",
    "sweet-butter",
    "syrup",
    "trifle",
    "truss",
    "turnover",
    "vol-au-vent",
    "wafer",
    "weight-of",
    "white-sauce",
    "work-yeast",
    "moderate-oven",
    "quick-oven",
    "slack-oven",
    "clear-fire",
    "soft-fire",
    "gridiron",
    "spit",
    "stewpan",
    "till-next-day",
    "all-night",
    "come-clean",
    "mace",
    "veloute",
    "bechamel",
    "ragout",
];

/// What a found word stands for.
#[derive(Clone, Copy, Debug)]
enum Sign {
    /// A word of a rule: which rule, counted through all cautions.
    Word(usize),
    /// A word that the rule must be without.
    Without(usize),
    /// A word of a gloss.
    Gloss(usize),
}

struct Index {
    search: AhoCorasick,
    /// What each pattern stands for.
    signs: Vec<Vec<Sign>>,
    /// Each rule with its caution, in the order of the register.
    rules: Vec<(&'static CautionRecord, &'static Rule)>,
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut patterns: Vec<(String, Sign)> = Vec::new();
    let mut rules = Vec::new();
    for caution in caution_records() {
        for rule in caution.rules {
            let number = rules.len();
            rules.push((caution, rule));
            patterns.extend(rule.words.iter().map(|word| (Folded::new(word).text, Sign::Word(number))));
            patterns.extend(
                rule.without_words.iter().map(|word| (Folded::new(word).text, Sign::Without(number))),
            );
        }
    }
    for (number, gloss) in gloss_records().iter().enumerate() {
        if !EVERYDAY.contains(&gloss.id) {
            patterns.extend(gloss.words.iter().map(|word| (Folded::new(word).text, Sign::Gloss(number))));
        }
    }
    patterns.retain(|(word, _)| !word.trim().is_empty());
    patterns.sort_by(|one, two| one.0.cmp(&two.0));
    let mut texts: Vec<String> = Vec::new();
    let mut signs: Vec<Vec<Sign>> = Vec::new();
    for (word, sign) in patterns {
        if texts.last() != Some(&word) {
            texts.push(word);
            signs.push(Vec::new());
        }
        if let Some(last) = signs.last_mut() {
            last.push(sign);
        }
    }
    let search = AhoCorasick::builder()
        .match_kind(MatchKind::Standard)
        .kind(Some(AhoCorasickKind::NoncontiguousNFA))
        .build(&texts)
        .expect("the register's few thousand words make a small automaton");
    Index { search, signs, rules }
});

/// Every known word found in a transcript, with its place in the folded text.
pub(crate) struct Found {
    words: Vec<(usize, usize, usize)>,
}

/// Searches a transcript for the words of all cautions and glosses at once.
pub(crate) fn search(folded: &Folded) -> Found {
    let words = INDEX
        .search
        .find_overlapping_iter(&folded.text)
        .filter(|found| folded.whole(found.start(), found.end()))
        .map(|found| (found.start(), found.end(), found.pattern().as_usize()))
        .collect();
    Found { words }
}

/// Returns the hazards, gravest first.
pub(crate) fn cautions(folded: &Folded, found: &Found, ledger: &Ledger<'_>) -> Vec<Caution> {
    let index = &*INDEX;
    let mut words: Vec<Vec<Span>> = vec![Vec::new(); index.rules.len()];
    let mut without: Vec<bool> = vec![false; index.rules.len()];
    for &(start, end, pattern) in &found.words {
        for sign in &index.signs[pattern] {
            match sign {
                Sign::Word(rule) => words[*rule].push(folded.span(start, end)),
                Sign::Without(rule) => without[*rule] = true,
                Sign::Gloss(_) => {}
            }
        }
    }
    let cooked = cooked(folded, ledger.reading);
    let mut out: Vec<Caution> = Vec::new();
    for (number, (record, rule)) in index.rules.iter().enumerate() {
        let done = if rule.ingredients.contains(&"egg-white") { cooked.icing } else { cooked.anything };
        if without[number] || (rule.uncooked && done) {
            continue;
        }
        let mut spans: Vec<Span> = Vec::new();
        if !rule.words.is_empty() {
            if words[number].is_empty() {
                continue;
            }
            spans.append(&mut words[number]);
        }
        if !rule.ingredients.is_empty() && !any_item(ledger, rule.ingredients, &mut spans, |known| known.id) {
            continue;
        }
        if !rule.kinds.is_empty() && !any_item(ledger, rule.kinds, &mut spans, |known| known.kind) {
            continue;
        }
        if spans.is_empty() {
            continue;
        }
        match out.iter_mut().find(|caution| caution.record.id == record.id) {
            Some(caution) => caution.spans.append(&mut spans),
            None => out.push(Caution { record, spans }),
        }
    }
    for caution in &mut out {
        tidy(&mut caution.spans);
    }
    out.sort_by(|one, two| {
        one.record.severity.cmp(&two.record.severity).then(one.spans.first().cmp(&two.spans.first()))
    });
    out
}

/// Is any item, or another reading of it, one of these? Adds where it is named.
fn any_item(
    ledger: &Ledger<'_>,
    wanted: &[&str],
    spans: &mut Vec<Span>,
    of: fn(&'static quartern_knowledge::Ingredient) -> &'static str,
) -> bool {
    let mut any = false;
    for (index, item) in ledger.reading.items.iter().enumerate() {
        if ledger.chosen.set_aside.binary_search(&index).is_ok() {
            continue;
        }
        let own = ledger.ingredient(index).is_some_and(|known| wanted.contains(&of(known)));
        let other = ledger.chosen.name(index).is_none()
            && item
                .alternatives
                .iter()
                .filter_map(|choice| choice.ingredient)
                .any(|known| wanted.contains(&of(known)));
        if own || other {
            any = true;
            spans.push(if item.name_span.is_empty() { item.span } else { item.name_span });
        }
    }
    any
}

/// Puts spans in order and drops those that lie within another.
fn tidy(spans: &mut Vec<Span>) {
    spans.sort_by(|one, two| one.start().cmp(&two.start()).then(two.end().cmp(&one.end())));
    let mut reach = 0;
    spans.retain(|span| {
        let keep = span.end() > reach;
        reach = reach.max(span.end());
        keep
    });
}

/// Returns the old words explained, each once, longest match first, in the order of the words.
pub(crate) fn glosses(folded: &Folded, found: &Found, at: &Within) -> Vec<GlossedWord> {
    let index = &*INDEX;
    let records = gloss_records();
    let mut candidates: Vec<(usize, usize, &'static Gloss)> = Vec::new();
    for &(start, end, pattern) in &found.words {
        for sign in &index.signs[pattern] {
            if let Sign::Gloss(number) = sign
                && let Some(gloss) = records.get(*number)
                && fits(gloss, at)
                && !elsewise(gloss, &folded.text[end..])
            {
                candidates.push((start, end, gloss));
            }
        }
    }
    // Longest first; of equal length the earlier, then the one more to the point of time and place.
    candidates.sort_by(|one, two| {
        (two.1 - two.0)
            .cmp(&(one.1 - one.0))
            .then(one.0.cmp(&two.0))
            .then(limits(two.2).cmp(&limits(one.2)))
            .then(one.2.id.cmp(two.2.id))
    });
    let mut taken: Vec<(usize, usize, &'static Gloss)> = Vec::new();
    for candidate in candidates {
        let overlaps = taken.iter().any(|known| candidate.0 < known.1 && known.0 < candidate.1);
        if overlaps {
            continue;
        }
        match taken.iter_mut().find(|known| known.2.id == candidate.2.id) {
            Some(known) if candidate.0 < known.0 => *known = candidate,
            Some(_) => {}
            None => taken.push(candidate),
        }
    }
    // Where there are too many, words for things are kept before words for what is done with them.
    taken.sort_by_key(|(start, _, gloss)| (matches!(gloss.kind, "technique" | "time" | "other"), *start));
    taken.truncate(MOST_GLOSSES);
    taken.sort_by_key(|(start, _, _)| *start);
    taken
        .into_iter()
        .map(|(start, end, gloss)| GlossedWord { span: folded.span(start, end), gloss })
        .collect()
}

/// Do the words after a match show that it means something else? "The cake is enough" is an old
/// phrase, "this is enough to line two plates" is not.
fn elsewise(gloss: &Gloss, after: &str) -> bool {
    gloss.id == "till-enough" && [" to ", " for ", " of "].iter().any(|word| after.starts_with(word))
}

fn limits(gloss: &Gloss) -> usize {
    usize::from(gloss.first_year.is_some())
        + usize::from(gloss.last_year.is_some())
        + usize::from(!gloss.places.is_empty())
}

/// Does a gloss hold there and then?
fn fits(gloss: &Gloss, at: &Within) -> bool {
    let years = at.years.share_in(gloss.first_year, gloss.last_year) > 0.0;
    let here = at.place.as_str();
    let place = gloss.places.is_empty()
        || gloss.places.iter().any(|place| within(here, place).is_some() || within(place, here).is_some());
    years && place
}
