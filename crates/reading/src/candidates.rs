//! Every mention that may bring an ingredient in, with its amount. Which of them do is decided in
//! `items`, by a small model.

use std::borrow::Cow;

use quartern_knowledge::{Form, Ingredient, unit_words};
use quartern_quantity::{Dimension, Ratio};

use crate::amount::{Amount, AmountPart, Words, any};
use crate::lexer::Token;
use crate::lexicon::{Classes, LEXICON};

/// How well the name is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Known {
    /// It stands in the register.
    Register,
    /// It was put together from names that do.
    Composed,
    /// It does not.
    Unknown,
}

/// The amount of a mention, before it is settled.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Draft {
    Unstated,
    /// The tokens of vague words.
    Vague(usize, usize),
    Parts(Vec<AmountPart>),
    SameAs {
        of: Option<String>,
        factor: Ratio<u32>,
    },
    Unread(usize, usize),
}

/// A mention.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) name_start: usize,
    pub(crate) name_end: usize,
    pub(crate) plain: Cow<'static, str>,
    pub(crate) ingredient: Option<&'static Ingredient>,
    pub(crate) also: Vec<String>,
    pub(crate) choices: Vec<(String, Option<&'static Ingredient>)>,
    pub(crate) known: Known,
    pub(crate) amount: Draft,
    pub(crate) qualifier: Option<(usize, usize)>,
    pub(crate) definite: bool,
    pub(crate) base: bool,
    /// The tokens of the words of a rate on a base.
    pub(crate) rate_words: Option<(usize, usize)>,
    pub(crate) rule: &'static str,
}

/// A name found: which tokens, what it is, and an amount that stood inside it.
struct Found {
    name_start: usize,
    end: usize,
    plain: Cow<'static, str>,
    ingredient: Option<&'static Ingredient>,
    also: Vec<String>,
    known: Known,
    definite: bool,
    inner: Option<Vec<AmountPart>>,
    /// A second part of the same thing: "the juice and rind of a lemon".
    second: Option<(usize, Cow<'static, str>, Option<&'static Ingredient>)>,
    countable: bool,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    AfterUnit,
    AfterCount,
    Vague,
    Bare,
}

fn countable(of: &Ingredient, plural: bool) -> bool {
    plural
        || of.form == Form::Whole
        || of.name.ends_with(" leaf")
        || (matches!(of.form, Form::Pieces | Form::Grains)
            && matches!(
                of.kind,
                "meat" | "offal" | "nut" | "spice" | "dried-fruit" | "confection" | "peel" | "seed" | "pulse"
            ))
        || matches!(
            of.kind,
            "flower"
                | "fruit"
                | "vegetable"
                | "root"
                | "poultry"
                | "game"
                | "fish"
                | "shellfish"
                | "egg"
                | "offal"
                | "mushroom"
        )
}

/// Finds every mention from a token on. `taken` are tokens that belong to times and pointers.
pub(crate) fn candidates(words: Words<'_>, from: usize, taken: &[bool]) -> Vec<Candidate> {
    let mut found: Vec<Candidate> = Vec::new();
    let mut at = from;
    let count = words.tokens.len();
    while at < count {
        if taken[at] {
            at += 1;
            continue;
        }
        let before = found.len();
        let next = step(words, at, &mut found);
        debug_assert!(next > at, "the reader must move on");
        // An amount that reached into a time is none.
        let overlaps = found[before..]
            .iter()
            .any(|mention| taken[mention.start..mention.end].iter().any(|taken| *taken));
        if overlaps {
            found.truncate(before);
        }
        at = next;
    }
    each(words, &mut found);
    found
}

/// "the weight of six eggs in sugar", "the weight of four of flour".
fn weight_of_before(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    let (first, after) = weight_of_some(words, at)?;
    if !any!(words, after, ["in", "of"]) {
        return None;
    }
    let name = noun(words, after + 1, Mode::Vague)?;
    (name.name_start <= after + 4)
        .then(|| push(words, found, first, name, Draft::Unread(first, after), "weight of so many"))
}

/// Reads what stands at a token; returns the token to go on from.
fn step(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> usize {
    if let Some(next) = weight_of_before(words, at, found) {
        return next;
    }
    if let Some(next) = rate_base(words, at, found) {
        return next;
    }
    if let Some(next) = same_as(words, at, found) {
        return next;
    }
    if let Some(next) = vague(words, at, found) {
        return next;
    }
    if let Some(next) = stated(words, at, found) {
        return next;
    }
    if let Some(next) = bare(words, at, found) {
        return next;
    }
    at + 1
}

fn push(
    words: Words<'_>,
    found: &mut Vec<Candidate>,
    start: usize,
    mut name: Found,
    amount: Draft,
    rule: &'static str,
) -> usize {
    let mut end = name.end;
    let mut choices = Vec::new();
    let mut also = std::mem::take(&mut name.also);
    // "butter or lard": a choice without an amount of its own.
    if any!(words, end, ["or"]) && words.at(end + 1).is_some_and(Token::word) {
        let other = end + 1;
        let own_amount = words.number(other).is_some_and(|number| !number.article);
        if !own_amount && let Some(second) = noun(words, other, Mode::Bare) {
            let adjacent = second.name_start <= other + 3;
            if adjacent && second.inner.is_none() && second.plain != name.plain {
                end = second.end;
                also.push(second.plain.clone().into_owned());
                // "beef or mutton suet": the last word belongs to both.
                if let Some((_, head)) = second.plain.rsplit_once(' ')
                    && !name.plain.contains(' ')
                    && words.at(end - 1).is_some_and(Token::word)
                {
                    let both = format!("{} {head}", name.plain);
                    let ids: Vec<_> =
                        crate::lexicon::words_of(&both).iter().map(|word| LEXICON.id(word)).collect();
                    if let Some(index) = LEXICON.ingredients.get(&ids) {
                        let (of, given) = LEXICON.named(index);
                        also.push(head.to_owned());
                        name.plain = Cow::Borrowed(given);
                        name.ingredient = Some(of);
                    }
                }
                choices.push((second.plain.into_owned(), second.ingredient));
            }
        }
    }
    // "butter and lard mixed", "equal parts of": one thing made of two.
    if any!(words, end, ["and"])
        && let Some(second) = noun(words, end + 1, Mode::Bare)
        && second.name_start <= end + 2
        && (any!(words, second.end, ["mixed"])
            || words.mark(second.end, ',') && any!(words, second.end + 1, ["mixed"]))
        && !matches!(amount, Draft::Unstated)
    {
        end = second.end;
        also.push(second.plain.clone().into_owned());
        choices.push((second.plain.into_owned(), second.ingredient));
    }
    let definite = name.definite || words.class(start, Classes::DET) && !words.class(start, Classes::NUMBER);
    let mut mention = Candidate {
        start,
        end,
        name_start: name.name_start,
        name_end: name.end,
        plain: name.plain,
        ingredient: name.ingredient,
        also,
        choices,
        known: name.known,
        amount,
        qualifier: None,
        definite,
        base: false,
        rate_words: None,
        rule,
    };
    size_of(words, &mut mention);
    // "a lemon or two"
    if let Draft::Parts(parts) = &mut mention.amount
        && let [part] = parts.as_mut_slice()
        && part.low == part.high
        && any!(words, mention.end, ["or"])
        && any!(words, mention.end + 1, ["two", "three", "four", "more"])
        && words
            .at(mention.end + 2)
            .is_none_or(|token| !token.word() || !token.is(Classes(Classes::UNIT.0 | Classes::INGREDIENT.0)))
    {
        if let Some(number) = words.number(mention.end + 1)
            && number.low > part.high
        {
            part.high = number.low;
        }
        mention.end += 2;
    }
    let mut next = mention.end;
    // "flour, two pounds": the amount after the name; "of almonds take half a pound".
    let from = if words.is(start.wrapping_sub(1), "of") && any!(words, mention.end, ["take"]) {
        mention.end + 1
    } else {
        mention.end
    };
    if mention.amount == Draft::Unstated
        && let Some((amount, after)) = amount_after(words, from)
    {
        mention.qualifier = amount.qualifier;
        mention.amount = Draft::Parts(amount.parts);
        mention.end = after;
        mention.rule = "amount after the name";
        next = after;
    }
    // "flour, the weight of four eggs": an amount, but none that is reckoned.
    if mention.amount == Draft::Unstated
        && let Some((first, after)) = weight_of_some(words, mention.end)
    {
        mention.amount = Draft::Unread(first, after);
        mention.end = after;
        mention.rule = "weight of so many";
        next = after;
    }
    if mention.amount == Draft::Unstated
        && let Some(after) = to_taste(words, mention.end)
    {
        mention.amount = Draft::Vague(after.0, after.1);
        mention.rule = "to taste";
        next = after.1;
    }
    let second = name.second.map(|(name_start, plain, of)| Candidate {
        start: name_start,
        name_start,
        plain,
        ingredient: of,
        also: Vec::new(),
        choices: Vec::new(),
        rule: "second part of the same thing",
        ..mention.clone()
    });
    found.push(mention);
    found.extend(second);
    next
}

/// "the weight of four", "only the weight of six eggs": from which token to which.
fn weight_of_some(words: Words<'_>, at: usize) -> Option<(usize, usize)> {
    let mut here = at + usize::from(words.mark(at, ','));
    here += usize::from(any!(words, here, ["only", "but", "just"]));
    if !any!(words, here, ["the"]) || !any!(words, here + 1, ["weight"]) || !words.is(here + 2, "of") {
        return None;
    }
    let number = words.number(here + 3)?;
    let eggs = usize::from(any!(words, number.next, ["eggs", "egg"]));
    Some((here, number.next + eggs))
}

/// "to taste", "to your taste" right after a name.
fn to_taste(words: Words<'_>, at: usize) -> Option<(usize, usize)> {
    let mut here = at;
    if words.mark(here, ',') || words.mark(here, '(') {
        here += 1;
    }
    if !any!(words, here, ["to"]) {
        return None;
    }
    if any!(words, here + 1, ["taste"]) {
        return Some((here, here + 2));
    }
    if any!(words, here + 1, ["your", "the", "one's"]) && any!(words, here + 2, ["taste", "liking"]) {
        return Some((here, here + 3));
    }
    None
}

/// "butter, two ounces", "Sugar 1 lb.", "Best butter melted, one pound": in a list, after a comma.
fn amount_after(words: Words<'_>, at: usize) -> Option<(Amount, usize)> {
    let mut here = at;
    let mut comma = false;
    // Words of preparation may stand between.
    for _ in 0..6 {
        if words.mark(here, ',') || words.mark(here, '—') || words.mark(here, ':') {
            comma = true;
            here += 1;
        } else if between_name_and_amount(words, at, here, comma) {
            here += 1;
        } else {
            break;
        }
    }
    if any!(words, here, ["about"]) {
        here += 1;
    }
    let line = words.at(at.checked_sub(1)?)?.line;
    let first = words.at(here)?;
    if first.para_start || first.line > line + 1 {
        return None;
    }
    let amount = words.amount(here)?;
    if amount.unread || amount.article || amount.parts.iter().all(|part| part.unit.is_none()) && !comma {
        return None;
    }
    let unit = amount.parts.first().and_then(|part| part.unit);
    // The amount must end here: not "butter, two ounces of sugar", nor "flour two eggs".
    let after = amount.next;
    let closes = match words.at(after) {
        None => true,
        Some(token) => {
            token.line_start && (token.listed || in_columns(words, here))
                || !token.word()
                || (token.is(Classes(Classes::CONJ.0 | Classes::AUX.0)) && !words.is(after, "of"))
                || any!(words, after, ["in", "to"])
        }
    };
    if !closes || any!(words, after, ["each"]) {
        return None;
    }
    // Without a unit it is a number of things only at the end of a line of a list.
    if unit.is_none() {
        let ends = words.at(after).is_none_or(|token| token.line_start || token.mark(';'));
        if !ends {
            return None;
        }
    }
    // "and", then another amount of the same unit kind, is left to the grammar of amounts.
    let timed = words.class(after, Classes::TIME);
    (!timed).then_some((amount, after))
}

/// Is an amount set off from what stands before it by three spaces or more.
fn in_columns(words: Words<'_>, at: usize) -> bool {
    let (Some(before), Some(token)) = (words.at(at.wrapping_sub(1)), words.at(at)) else { return false };
    words.text.get(before.end as usize..token.start as usize).is_some_and(|gap| gap.ends_with("   "))
}

/// May a word stand between a name and its amount: a preparation ("melted", "new and tender"), or any
/// word in a line of a list in columns ("Mace, in fine powder   1 oz.").
fn between_name_and_amount(words: Words<'_>, from: usize, at: usize, comma: bool) -> bool {
    let Some(token) = words.at(at) else { return false };
    if !token.word() || token.line_start {
        return false;
    }
    if comma && token.listed && words.number(at).is_none() {
        return true;
    }
    if any!(words, at, ["and"]) {
        return at > from
            && words.class(at - 1, Classes::ADJ)
            && words.class(at + 1, Classes::ADJ)
            && words.number(at + 1).is_none();
    }
    !token.is(Classes::CONJ) && (token.is(Classes::ADJ) || words.printed(at).ends_with("ed"))
}

/// "the size of a walnut", "as big as an egg", "as much as will lie on a sixpence".
fn size_of(words: Words<'_>, mention: &mut Candidate) {
    let mut here = mention.end;
    if words.mark(here, ',') {
        here += 1;
    }
    for _ in 0..2 {
        if any!(words, here, ["about", "of", "cut", "pieces", "in"]) {
            here += 1;
        }
    }
    if any!(words, here, ["the"]) {
        here += 1;
    }
    let thing = if any!(words, here, ["size", "bigness", "bignesse", "bulk", "biggness"]) {
        let mut here = here + 1;
        if any!(words, here, ["of"]) {
            here += 1;
        }
        here
    } else if any!(words, here, ["as"])
        && any!(words, here + 1, ["big", "large", "bigge"])
        && any!(words, here + 2, ["as"])
    {
        here + 3
    } else if any!(words, here, ["as"])
        && any!(words, here + 1, ["much"])
        && any!(words, here + 2, ["as"])
        && any!(words, here + 3, ["will"])
        && any!(words, here + 4, ["lie", "lye", "lay"])
    {
        let coin = here + 5 + usize::from(any!(words, here + 5, ["on", "upon"]));
        let coin = coin + usize::from(any!(words, coin, ["a", "an"]));
        lie_on(words, mention, coin);
        return;
    } else {
        return;
    };
    let thing = if any!(words, thing, ["a", "an", "small", "large"]) { thing + 1 } else { thing };
    let thing =
        if any!(words, thing, ["small", "large", "good", "hen's", "pigeon's", "common", "little", "great"])
            && words.at(thing + 1).is_some_and(Token::word)
        {
            thing + 1
        } else {
            thing
        };
    let Some(token) = words.at(thing) else { return };
    if !token.word() || token.is(Classes(Classes::DET.0 | Classes::PREP.0 | Classes::PRONOUN.0)) {
        return;
    }
    let named = thing_name(words, thing);
    let Some(unit) =
        unit_words().iter().position(|word| word.unit.strip_prefix("size:") == Some(named.as_str()))
    else {
        return;
    };
    let number = match &mention.amount {
        Draft::Parts(parts) => match parts.as_slice() {
            [part] => {
                // Only a piece, bit or lump of it has the size; "two ounces, the size of" does not.
                let of_size = part.unit.is_none_or(|unit| {
                    unit_words()
                        .get(unit as usize)
                        .is_some_and(|word| matches!(word.unit, "piece" | "bit" | "knob" | "slice"))
                });
                if !of_size {
                    return;
                }
                (part.low, part.high)
            }
            _ => return,
        },
        Draft::Unstated | Draft::Vague(..) => (Ratio::from_integer(1), Ratio::from_integer(1)),
        Draft::SameAs { .. } | Draft::Unread(..) => return,
    };
    mention.amount =
        Draft::Parts(vec![AmountPart { low: number.0, high: number.1, unit: Some(unit as u32) }]);
    mention.end = thing + 1;
    mention.rule = "size by likeness";
}

fn thing_name(words: Words<'_>, at: usize) -> String {
    let token = &words.tokens[at];
    if token.lex == crate::lexicon::UNKNOWN {
        words.printed(at).to_lowercase()
    } else {
        token.entry().word.to_string()
    }
}

fn lie_on(words: Words<'_>, mention: &mut Candidate, at: usize) {
    if words.at(at).is_none() {
        return;
    }
    let wanted = format!("lie-on:{}", thing_name(words, at));
    if let Some(unit) = unit_words().iter().position(|word| word.unit == wanted) {
        let one = Ratio::from_integer(1);
        mention.amount = Draft::Parts(vec![AmountPart { low: one, high: one, unit: Some(unit as u32) }]);
        mention.end = at + 1;
        mention.rule = "heap on a coin";
    }
}

/// "to every pound of fruit", "to each pint of juice", "to a pound of sugar".
fn rate_base(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    if !any!(words, at, ["to", "for", "with", "in", "into", "on", "unto"]) {
        return None;
    }
    let mut here = at + 1;
    let distributive = any!(words, here, ["every", "each"]);
    let plain_to = any!(words, at, ["to", "unto"]);
    let definite = any!(words, here, ["the"]);
    if distributive || definite {
        here += 1;
    }
    if !distributive && !plain_to {
        return None;
    }
    let one = Ratio::from_integer(1);
    let (parts, after, qualifier) = if let Some(amount) = words.amount(here)
        && !amount.unread
    {
        let unitless = amount.parts.iter().all(|part| part.unit.is_none());
        if unitless && (amount.article || definite) {
            return None;
        }
        (amount.parts, amount.next, amount.qualifier)
    } else {
        // "to every pound": a unit without a number.
        let (unit, next) =
            words.longest(&LEXICON.units, here).or_else(|| words.longest(&LEXICON.abbreviations, here))?;
        if !distributive && !definite {
            return None;
        }
        let next = next
            + usize::from(words.mark(next, '.') && words.at(next + 1).is_some_and(|token| !token.capital));
        (vec![AmountPart { low: one, high: one, unit: Some(unit) }], next, None)
    };
    let has_unit = parts.iter().any(|part| part.unit.is_some());
    let mode = if has_unit { Mode::AfterUnit } else { Mode::AfterCount };
    // "to a quart" with nothing after is a boiling down, not a rate, unless distributive or right
    // after an amount of something: "six bay leaves to a quart".
    let beside = found.last().is_some_and(|last| last.end == at && matches!(last.amount, Draft::Parts(_)));
    let stops = words.at(after).is_none_or(|token| !token.word());
    let name = noun(words, after, mode).filter(|name| name.known != Known::Unknown || distributive);
    if name.is_none() && !distributive && !(beside && stops && has_unit) {
        return None;
    }
    let Some(name) = name else {
        // The base names no thing: "to every pint". The rate still holds for what follows.
        let mut end = after;
        if words.is(end, "of") && any!(words, end + 1, ["it", "them", "this", "these", "liquor"]) {
            end += 2;
        }
        found.push(Candidate {
            start: here,
            end,
            name_start: here,
            name_end: end,
            plain: Cow::Borrowed(""),
            ingredient: None,
            also: Vec::new(),
            choices: Vec::new(),
            known: Known::Unknown,
            amount: Draft::Parts(parts),
            qualifier,
            definite: false,
            base: true,
            rate_words: Some((at, end)),
            rule: "rate without a thing",
        });
        return Some(end);
    };
    let start = if distributive { here - 1 } else { here };
    let next = push(words, found, start, name, Draft::Parts(parts), "base of a rate");
    if let Some(last) = found.last_mut() {
        last.base = true;
        last.qualifier = qualifier;
        last.rate_words = Some((at, last.end));
        // "To a pound of flour put …" states amounts one beside the other; whether it is meant as a
        // rate is settled with the sentence.
        if !distributive {
            last.rule = "to an amount of a thing";
        }
    }
    Some(next)
}

/// "their weight in sugar", "the same of butter", "half as much milk", "an equal quantity of".
fn same_as(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    let one = Ratio::from_integer(1);
    let mut factor = one;
    let mut here = at;
    // half / twice / three times / nearly
    if any!(words, here, ["nearly", "about", "just", "near"]) {
        here += 1;
    }
    if any!(words, here, ["twice", "double"]) {
        factor = Ratio::from_integer(2);
        here += 1;
    } else if any!(words, here, ["half"]) && (any!(words, here + 1, ["as", "the", "its", "their", "that"])) {
        factor = Ratio::new(1, 2);
        here += 1;
    } else if let Some(number) = words.number(here)
        && any!(words, number.next, ["times"])
        && any!(words, number.next + 1, ["as"])
    {
        factor = number.low;
        here = number.next + 1;
    } else if let Some(number) = words.number(here)
        && number.low < one
        && any!(words, number.next, ["the"])
        && any!(words, number.next + 1, ["same", "quantity", "weight", "bulk"])
    {
        factor = number.low;
        here = number.next;
    }
    let mut of_named = None;
    let noun_at;
    if any!(words, here, ["as", "so"]) && any!(words, here + 1, ["much", "many"]) {
        // "as much as will cover it" is vague, "as much again" is none.
        if any!(words, here + 2, ["as", "again"]) {
            return None;
        }
        noun_at = here + 2;
    } else if any!(words, here, ["the", "a", "an", "their", "its", "same", "that", "equal"]) {
        let mut next = here;
        if any!(words, next, ["the", "a", "an", "that"]) {
            next += 1;
        }
        let weight_of = any!(words, next, ["its", "their"]);
        if weight_of {
            next += 1;
            if any!(words, next, ["own"]) {
                next += 1;
            }
            if !any!(words, next, ["weight", "bulk", "measure"]) {
                return None;
            }
            next += 1;
            if !any!(words, next, ["in", "of"]) {
                return None;
            }
            noun_at = next + 1;
        } else {
            let same = any!(words, next, ["same", "equal", "like", "laſt"]);
            if same {
                next += 1;
            }
            let quantity = any!(
                words,
                next,
                [
                    "quantity",
                    "weight",
                    "amount",
                    "proportion",
                    "measure",
                    "bulk",
                    "number",
                    "quantities",
                    "parts"
                ]
            );
            if quantity {
                next += 1;
            }
            if !same && !(quantity && factor != one) {
                return None;
            }
            if !quantity && !words.is(next, "of") {
                return None;
            }
            if words.is(next, "of") || any!(words, next, ["in"]) {
                next += 1;
            } else {
                return None;
            }
            noun_at = next;
        }
    } else if any!(words, at, ["half", "remaining", "rest"]) && any!(words, at + 1, ["the", "of"]) {
        return part_of_listed(words, at, found);
    } else {
        return None;
    }
    let name = noun(words, noun_at, Mode::Vague)?;
    if name.name_start > noun_at + 5 {
        return None;
    }
    // "as much water as macaroni"; but "as much water as will cover it" is vague.
    let mut end = name.end;
    if any!(words, end, ["as", "to"]) && any!(words, here, ["as", "so"]) {
        match noun(words, end + 1, Mode::Bare) {
            Some(other) if other.name_start <= end + 3 && any!(words, end, ["as"]) => {
                of_named = Some(other.plain.into_owned());
                end = other.end;
            }
            _ => return None,
        }
    }
    if of_named.is_none() && any!(words, here, ["as", "so"]) && as_will(words, end) {
        return None;
    }
    if of_named.is_none() && found.is_empty() {
        return None;
    }
    let name_end = name.end;
    let next = push(words, found, at, name, Draft::SameAs { of: of_named, factor }, "as much as another");
    if let Some(last) = found.last_mut() {
        last.end = last.end.max(end);
        last.name_end = name_end;
        return Some(last.end);
    }
    Some(next)
}

/// Does "as will …" follow within the clause: "as much milk, made a little warm, as will work into".
fn as_will(words: Words<'_>, at: usize) -> bool {
    let Some(sentence) = words.at(at).map(|token| token.sentence) else { return false };
    (at..at + 9)
        .take_while(|here| {
            words.at(*here).is_some_and(|token| token.sentence == sentence && !token.mark(';'))
        })
        .any(|here| {
            any!(words, here, ["as"])
                && any!(words, here + 1, ["will", "you", "is", "it", "they", "may", "can", "shall", "would"])
        })
}

/// "half the sugar": a part of an amount already listed.
fn part_of_listed(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    if !any!(words, at, ["half"]) {
        return None;
    }
    let the = if words.is(at + 1, "of") { at + 2 } else { at + 1 };
    if !any!(words, the, ["the"]) {
        return None;
    }
    let name = noun(words, the + 1, Mode::Bare)?;
    if name.name_start > the + 2 {
        return None;
    }
    let listed = found
        .iter()
        .rev()
        .take(60)
        .any(|other| other.plain == name.plain && matches!(other.amount, Draft::Parts(_)));
    if !listed {
        return None;
    }
    let of = name.plain.clone().into_owned();
    Some(push(
        words,
        found,
        at,
        name,
        Draft::SameAs { of: Some(of), factor: Ratio::new(1, 2) },
        "part of what is listed",
    ))
}

/// "a little salt", "some butter", "enough milk", "as much flour as will make a paste".
fn vague(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    let mut here = at;
    let mut words_end;
    if any!(words, here, ["a", "an"]) {
        here += 1;
        while any!(
            words,
            here,
            [
                "very",
                "good",
                "small",
                "sufficient",
                "large",
                "due",
                "proper",
                "considerable",
                "moderate",
                "fair",
                "sufficient"
            ]
        ) {
            here += 1;
        }
        if any!(
            words,
            here,
            [
                "little",
                "few",
                "trifle",
                "quantity",
                "proportion",
                "portion",
                "squeeze",
                "dust",
                "suspicion",
                "part",
                "bit"
            ]
        ) && !(any!(words, here, ["bit"]))
        {
            // "a few drops of", "a little piece of": the unit is part of the vague words.
            here += 1;
            words_end = here;
            if let Some((_, next)) = words.longest(&LEXICON.units, here)
                && words.is(next, "of")
            {
                words_end = next;
                here = next;
            } else if any!(words, here - 1, ["little"])
                && words.class(here, Classes::ADJ)
                && any!(words, here, ["more", "less"])
            {
                words_end = here + 1;
                here += 1;
            }
        } else {
            return None;
        }
    } else if any!(
        words,
        here,
        ["some", "enough", "sufficient", "plenty", "several", "any", "few", "little", "much"]
    ) {
        if any!(words, here, ["little", "few", "any", "much"])
            && !words.at(here)?.line_start
            && any!(words, here, ["much"])
        {
            return None;
        }
        here += 1;
        words_end = here;
        if any!(words, here, ["few", "little", "more", "good"]) {
            here += 1;
            words_end = here;
        }
    } else if any!(words, here, ["as", "so"])
        && any!(words, here + 1, ["much", "many"])
        && !any!(words, here + 2, ["as", "again"])
    {
        // "as much flour as will make a paste": vague, where "as will" follows; else an equality.
        let name = noun(words, here + 2, Mode::Vague)?;

        return Some(push(words, found, at, name, Draft::Vague(at, here + 2), "vague amount"));
    } else {
        return None;
    }
    let mode = Mode::Vague;
    let name = noun(words, here, mode)?;
    if name.name_start > here + 6 {
        return None;
    }
    words_end = words_end.max(at + 1);
    Some(push(words, found, at, name, Draft::Vague(at, words_end), "vague amount"))
}

/// An amount and the thing it is of.
fn stated(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    // "pinch of salt", "juice of one": a unit without a number at the head of a line or clause.
    let Some(amount) = words.amount(at) else { return unit_alone(words, at, found) };
    if amount.unread {
        let name = noun(words, amount.next, Mode::AfterUnit)?;
        return Some(push(words, found, at, name, Draft::Unread(at, amount.next), "amount not read"));
    }
    let has_unit = amount.parts.iter().any(|part| part.unit.is_some());
    let mut here = amount.next;
    // "half a pound each of sugar and butter" is settled in `each`; the name follows all the same.
    if !has_unit && words.is(here, "of") && words.class(here.wrapping_sub(1), Classes::MULTIPLE) {
        here += 1;
    }
    let each = any!(words, here, ["each"]) || (words.is(here, "of") && any!(words, here + 1, ["each"]));
    if each {
        here += if any!(words, here, ["each"]) { 1 } else { 2 };
        if words.mark(here, ',') || words.mark(here, ':') {
            here += 1;
        }
    }
    let mode = if has_unit { Mode::AfterUnit } else { Mode::AfterCount };
    // In a list in columns the amount ends its line, and the next line is another thing.
    let ends_line = words.tokens[at].listed
        && !words.tokens[at].line_start
        && words.at(here).is_some_and(|next| next.line_start && next.listed)
        && !words.is(here, "of");
    if ends_line {
        return None;
    }
    if let Some(name) = noun(words, here, mode) {
        if each && name.known == Known::Unknown {
            return None;
        }
        // A sentence or a line of a list ends before the name.
        let broken = words.tokens[name.name_start].sentence != words.tokens[at].sentence;
        if !broken {
            let inner = name.inner.clone();
            // "half milk" is half of what is drunk, not half a thing.
            let bare_half = !has_unit
                && words.class(at, Classes::FRACTION)
                && amount.next == at + 1
                && !any!(words, at + 1, ["a", "an"]);
            let plural_mismatch =
                amount.article && !has_unit && !name.countable || bare_half && !name.countable;
            // "in two waters": water is not counted.
            let flows = name.ingredient.is_some_and(|of| of.form == Form::Liquid && of.kind == "water");
            if !has_unit && !amount.article && flows {
                return None;
            }
            let draft = if let (Some(inner), false) = (&inner, has_unit) {
                // "two yolks of eggs" counts the yolks; "the yolks of two eggs" came by `bare`.
                if amount.article { Draft::Parts(inner.clone()) } else { Draft::Parts(amount.parts.clone()) }
            } else if plural_mismatch {
                Draft::Unstated
            } else {
                Draft::Parts(amount.parts.clone())
            };
            let cakes = unit_words().iter().position(|word| word.unit == "cake");
            let (draft, name) = match (draft, cakes) {
                (Draft::Parts(mut parts), Some(cake))
                    if !has_unit
                        && name.ingredient.is_some_and(|of| of.kind == "leaven")
                        && any!(words, name.end - 1, ["cake", "cakes"]) =>
                {
                    for part in &mut parts {
                        part.unit = Some(cake as u32);
                    }
                    let mut name = name;
                    name.also.push(std::mem::replace(&mut name.plain, Cow::Borrowed("yeast")).into_owned());
                    (Draft::Parts(parts), name)
                }
                (draft, _) => (draft, name),
            };
            let rule = match (has_unit, name.known) {
                (true, Known::Unknown) => "amount of a thing not in the register",
                (true, _) => "amount and name",
                (false, _) if amount.article => "a thing",
                (false, _) => "number of things",
            };
            let start = at;
            let next = push(words, found, start, name, draft, rule);
            let second = found.len();
            if let Some(last) = found.last_mut()
                && last.qualifier.is_none()
            {
                last.qualifier = amount.qualifier;
            }
            if each && let Some(first) = found.get_mut(second - 1) {
                first.rule = "amount each";
            }
            return Some(next);
        }
    }
    // "three gallons of water, one of honey": the unit goes on.
    if !has_unit
        && !amount.article
        && words.is(here, "of")
        && !words.class(here + 1, Classes::DET)
        && let Some(name) = noun(words, here + 1, Mode::Vague)
        && name.name_start <= here + 4
    {
        let sentence = words.tokens[at].sentence;
        let unit = found
            .iter()
            .rev()
            .take(30)
            .take_while(|other| words.tokens[other.start].sentence == sentence)
            .find_map(|other| match &other.amount {
                Draft::Parts(parts) => parts.first().and_then(|part| part.unit),
                _ => None,
            });
        if let Some(unit) = unit {
            let mut parts = amount.parts.clone();
            for part in &mut parts {
                part.unit = Some(unit);
            }
            return Some(push(words, found, at, name, Draft::Parts(parts), "unit carried on"));
        }
    }
    None
}

/// "Pinch of salt", "Juice of one lemon" at the head of a line; the number is one.
fn unit_alone(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    let token = words.at(at)?;
    let heads = token.line_start
        || words.mark(at.wrapping_sub(1), ',')
        || words.mark(at.wrapping_sub(1), ';')
        || any!(words, at.wrapping_sub(1), ["and", "the", "add"]);
    if !heads || token.plural || words.printed(at).ends_with('s') {
        return None;
    }
    let (unit, next) = words.longest(&LEXICON.units, at)?;
    if !words.is(next, "of") && !(token.line_start && words.longest(&LEXICON.ingredients, next).is_some()) {
        return None;
    }
    if words.longest(&LEXICON.ingredients, at).is_some_and(|(_, end)| end > next) {
        return None;
    }
    let dimension = unit_words()[unit as usize].dimension;
    if matches!(dimension, Some(Dimension::Length | Dimension::Time) | None) {
        return None;
    }
    let name = noun(words, next, Mode::AfterUnit)?;
    if name.known == Known::Unknown {
        return None;
    }
    let one = Ratio::from_integer(1);
    let parts = vec![AmountPart { low: one, high: one, unit: Some(unit) }];
    Some(push(words, found, at, name, Draft::Parts(parts), "unit without a number"))
}

/// A name without an amount.
fn bare(words: Words<'_>, at: usize, found: &mut Vec<Candidate>) -> Option<usize> {
    let token = words.at(at)?;
    if !token.word() || token.is(Classes(Classes::PREP.0 | Classes::CONJ.0)) && !token.is(Classes::INGREDIENT)
    {
        return None;
    }
    let name = noun(words, at, Mode::Bare)?;
    if words.tokens[name.name_start].sentence != token.sentence {
        return None;
    }
    let draft = name.inner.clone().map_or(Draft::Unstated, Draft::Parts);
    let rule = if name.inner.is_some() { "part of so many" } else { "name alone" };
    Some(push(words, found, at, name, draft, rule))
}

/// Reads the name of a thing, with the words before it that only praise or prepare it.
fn noun(words: Words<'_>, at: usize, mode: Mode) -> Option<Found> {
    let mut here = at;
    let mut definite = false;
    if mode != Mode::Bare && mode != Mode::AfterCount && words.is(here, "of") {
        here += 1;
    }
    if words.class(here, Classes::DET) && !words.class(here, Classes::INGREDIENT) {
        definite = any!(words, here, ["the", "this", "these", "those", "your", "ye", "that"]);
        here += 1;
    } else if here > at && any!(words, here, ["a", "an"]) {
        here += 1;
    }
    let first = here;
    let line = words.at(first)?.line;
    let mut skipped_adjective = false;
    for _ in 0..8 {
        let token = words.at(here)?;
        if token.para_start && here > at {
            break;
        }
        // In a list each line is a thing of its own.
        if token.line_start && here > at && token.line > line && list_like(words, here) {
            break;
        }
        if let Some(found) = part_phrase(words, here, mode, definite) {
            return Some(found);
        }
        if let Some((index, end)) = joined(words, here).or_else(|| words.longest(&LEXICON.ingredients, here))
        {
            let (mut index, mut end) = (index, end);
            // "stale bread crumbs": a name that begins within and reaches further rules.
            let mut begin = here;
            let further = (here + 1..end).find_map(|inner| {
                let (other, further) = words.longest(&LEXICON.ingredients, inner)?;
                (further > end && token.is(Classes::ADJ)).then_some((other, further, inner))
            });
            if let Some(longer) = further {
                (index, end, begin) = longer;
            }
            here = begin;
            let adjective_only = end == here + 1
                && token.is(Classes::ADJ)
                && words.longest(&LEXICON.ingredients, end).is_some();
            // "tea-spoonful" is no tea, and "blood-warm" no blood.
            let hyphened = words.at(end).filter(|next| next.hyphened && next.word());
            let measure = hyphened.is_some()
                && words.longest(&LEXICON.units, here).is_some_and(|(_, further)| further > end);
            let likened = hyphened.is_some_and(|next| next.is(Classes::ADJ))
                && words.longest(&LEXICON.ingredients, end).is_none();
            if measure || likened {
                return None;
            }
            // "orange marmalade dish", "butter dish": the name belongs to a vessel.
            let vessel_next = words.class(end, Classes::VESSEL)
                && !words.at(end).is_some_and(|next| {
                    next.line_start || next.is(Classes(Classes::PREP.0 | Classes::INGREDIENT.0))
                });
            if vessel_next && (mode != Mode::AfterUnit || words.at(end).is_some_and(|next| next.hyphened)) {
                return None;
            }
            if !adjective_only {
                return Some(compound(words, here, end, index, definite, mode));
            }
        }
        let word = token.word();
        let describing = word
            && (token.is(Classes(Classes::ADJ.0 | Classes::ADVERB.0))
                || participle(words, here)
                || (mode != Mode::Bare
                    && (token.lex == crate::lexicon::UNKNOWN
                        || token.classes == Classes::INGREDIENT
                        || token.classes.0 == 0)
                    && names_soon(words, here + 1)));
        if describing && !token.is(Classes::TIME) {
            skipped_adjective = true;
            here += 1;
            continue;
        }
        // "clean, well-washed currants", "good and fresh butter"
        let joins = skipped_adjective
            && (token.mark(',') || any!(words, here, ["and", "or"]))
            && words.at(here + 1).is_some_and(|next| {
                next.word()
                    && (next.is(Classes(Classes::ADJ.0 | Classes::ADVERB.0)) || participle(words, here + 1))
                    && words.longest(&LEXICON.ingredients, here + 1).is_none()
            })
            && names_soon(words, here + 2);
        if joins && mode != Mode::Bare {
            here += 1;
            continue;
        }
        break;
    }
    if mode == Mode::AfterUnit {
        return unknown(words, first, definite);
    }
    None
}

/// Reads a name printed with a hyphen that the register writes as one word: "cod-fish".
fn joined(words: Words<'_>, at: usize) -> Option<(u32, usize)> {
    let next = words.at(at + 1)?;
    if !next.hyphened || !next.word() {
        return None;
    }
    if words.longest(&LEXICON.ingredients, at).is_some_and(|(_, end)| end > at + 1) {
        return None;
    }
    let mut whole = words.printed(at).to_lowercase();
    whole.push_str(&words.printed(at + 1).to_lowercase());
    let (id, _, guessed) = LEXICON.look_up(&whole);
    if guessed || id == crate::lexicon::UNKNOWN {
        return None;
    }
    LEXICON.ingredients.get(&[id]).map(|index| (index, at + 2))
}

/// Is the line that a token ends long enough to have been wrapped.
fn full_line(words: Words<'_>, at: usize) -> bool {
    let Some(token) = words.at(at) else { return false };
    let before = &words.text.as_bytes()[..token.end as usize];
    let start = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |newline| newline + 1);
    token.end as usize - start >= 46
}

/// Does the line that starts at this token look like one of a list.
fn list_like(words: Words<'_>, at: usize) -> bool {
    use crate::lexer::Kind;
    let Some(token) = words.at(at) else { return false };
    token.listed
        || matches!(token.kind, Kind::Number(_))
            && words.at(at.wrapping_sub(1)).is_none_or(|before| !before.word())
}

fn names_soon(words: Words<'_>, at: usize) -> bool {
    for here in at..at + 3 {
        let Some(token) = words.at(here) else { return false };
        if !token.word()
            || token.is(Classes(Classes::PREP.0 | Classes::CONJ.0 | Classes::AUX.0 | Classes::PRONOUN.0))
        {
            return false;
        }
        if words.longest(&LEXICON.ingredients, here).is_some() {
            return true;
        }
    }
    false
}

fn participle(words: Words<'_>, at: usize) -> bool {
    let printed = words.printed(at);
    let lower = printed.to_ascii_lowercase();
    (lower.ends_with("est")
        || lower.ends_with("ed")
        || lower.ends_with("'d")
        || lower.ends_with("’d")
        || lower.ends_with("ly"))
        && lower.len() > 4
}

/// Joins names that stand side by side: "walnut catchup", "currant jelly".
fn compound(words: Words<'_>, start: usize, end: usize, index: u32, definite: bool, mode: Mode) -> Found {
    let (of, given) = LEXICON.named(index);
    let last_plural = words.tokens[end - 1].plural;
    let mut found = Found {
        name_start: start,
        end,
        plain: Cow::Borrowed(given),
        ingredient: Some(of),
        also: if given == of.name { Vec::new() } else { vec![of.name.to_owned()] },
        known: Known::Register,
        definite,
        inner: None,
        second: None,
        countable: countable(of, last_plural),
    };
    let Some(next) = words.at(end) else { return found };
    // "sage flours": flowers, by their old spelling.
    if matches!(of.kind, "herb" | "flower" | "fruit") && any!(words, end, ["flours", "floures", "flowers"]) {
        let (plain, named, known) = compose(of.name, "flower", Some(of));
        found.plain = plain;
        found.ingredient = named;
        found.known = known;
        found.end = end + 1;
        found.countable = true;
        return found;
    }
    let same_line = !next.line_start || (!list_like(words, end) && full_line(words, end - 1));
    if next.word()
        && same_line
        && next.sentence == words.tokens[start].sentence
        && !words.tokens[end - 1].plural
        && !next.is(Classes(Classes::PREP.0 | Classes::CONJ.0))
        && mode != Mode::Vague
        && let Some((index, after)) = words.longest(&LEXICON.ingredients, end)
        && (next.hyphened || !next.is(Classes::VERB))
    {
        let (head, head_given) = LEXICON.named(index);
        found.also.push(head_given.to_owned());
        found.plain = Cow::Owned(format!("{given} {head_given}"));
        found.ingredient = Some(head);
        found.known = Known::Composed;
        found.end = after;
        found.countable = countable(head, words.tokens[after - 1].plural);
    }
    found
}

/// "the yolks of six eggs", "juice of half a lemon", "grated rind of one", "six yolks".
fn part_phrase(words: Words<'_>, at: usize, mode: Mode, definite: bool) -> Option<Found> {
    let token = words.at(at)?;
    if !token.word() || !token.is(Classes::PART) {
        return None;
    }
    let part = token.entry().part;
    // A name of the register that begins here and is longer rules: "white wine", "oil of almonds".
    let egg_part = matches!(part, "yolk" | "white");
    let of_phrase =
        words.is(at + 1, "of") && matches!(part, "yolk" | "white" | "juice" | "rind" | "peel" | "crumb");
    if let Some((_, end)) = words.longest(&LEXICON.ingredients, at)
        && end > at + 1
        && !of_phrase
    {
        return None;
    }
    let mut here = at + 1;
    let mut second = None;
    // "juice and rind of", "juice and grated rind 1 lemon"
    if any!(words, here, ["and", "or"]) || words.mark(here, ',') {
        let mut next = here + 1;
        if any!(words, next, ["the"]) {
            next += 1;
        }
        while words.class(next, Classes::ADJ) || participle(words, next) && !words.class(next, Classes::PART)
        {
            next += 1;
        }
        if next < here + 5
            && words.class(next, Classes::PART)
            && (words.is(next + 1, "of") || words.number(next + 1).is_some())
        {
            second = Some(next);
            here = next + 1;
        }
    }
    let of = words.is(here, "of");
    if of {
        here += 1;
    }
    let mut inner = None;
    if words.class(here, Classes::DET) {
        here += 1;
    }
    if part == "crumb"
        && of
        && let Some(amount) = words.amount(here)
        && let [AmountPart { unit: Some(unit), .. }] = amount.parts.as_slice()
        && unit_words().get(*unit as usize).is_some_and(|word| word.unit.contains("loaf"))
    {
        let (plain, named, known) = compose("bread", "crumb", None);
        return Some(Found {
            name_start: at,
            end: amount.next,
            plain,
            ingredient: named,
            also: Vec::new(),
            known,
            definite: false,
            inner: Some(amount.parts),
            second: None,
            countable: true,
        });
    }
    if (of || !egg_part || second.is_some())
        && let Some(number) = words.number(here)
    {
        inner = Some(vec![AmountPart { low: number.low, high: number.high, unit: None }]);
        here = number.next;
        if !of && number.article {
            return None;
        }
    }
    let mut whole: Option<(&'static Ingredient, &'static str, usize)> = None;
    if of || inner.is_some() {
        let mut look = here;
        for _ in 0..5 {
            if let Some((index, end)) = words.longest(&LEXICON.ingredients, look) {
                let (of, given) = LEXICON.named(index);
                whole = Some((of, given, end));
                break;
            }
            let Some(token) = words.at(look) else { break };
            let skip = token.word()
                && (token.is(Classes(Classes::ADJ.0 | Classes::ADVERB.0))
                    || participle(words, look)
                    || token.is(Classes::FRACTION));
            if !skip {
                break;
            }
            look += 1;
        }
    }
    let (of_what, end) = match whole {
        // "two lemons, three whites": a white is of an egg, whatever follows.
        Some((whole, _, _)) if egg_part && whole.kind != "egg" => {
            if of {
                return None;
            }
            ("egg", at + 1)
        }
        // "the yolk of a hard egg" is of an egg, however it is cooked.
        Some((whole, _, end)) if egg_part && whole.kind == "egg" => ("egg", end),
        Some((_, given, end)) => (given, end),
        None if egg_part => {
            // "the white of": nothing follows; "two whites", "yolks": of eggs.
            if of && inner.is_none() {
                return None;
            }
            // "white" alone is a colour; "one white" is none, unless of an onion.
            let counted = mode == Mode::AfterCount && !names_soon(words, at + 1);
            if part == "white" && !token.plural && !any!(words, at, ["whites"]) && !of && !counted {
                return None;
            }
            ("egg", here)
        }
        // "rind of one": the fruit was named before.
        None if of && inner.is_some() && matches!(part, "juice" | "rind" | "peel") => ("", here),
        None => return None,
    };
    if of_what.is_empty() {
        let plain = part;
        return Some(Found {
            name_start: at,
            end,
            plain: Cow::Borrowed(plain),
            ingredient: None,
            also: Vec::new(),
            known: Known::Composed,
            definite,
            inner,
            second: None,
            countable: true,
        });
    }
    let (plain, named, known) = compose(of_what, part, whole.map(|(whole, _, _)| whole));
    let second = second.map(|next| {
        let (plain, named, _) =
            compose(of_what, words.tokens[next].entry().part, whole.map(|(whole, _, _)| whole));
        (next, plain, named)
    });
    let definite_part = definite && inner.is_none() && !of;
    Some(Found {
        name_start: at,
        end,
        plain,
        ingredient: named,
        also: Vec::new(),
        known,
        definite: definite_part,
        inner,
        second,
        countable: true,
    })
}

/// Names a part of a thing: the register's name for it, or the two words.
fn compose(
    of_what: &'static str,
    part: &'static str,
    whole: Option<&'static Ingredient>,
) -> (Cow<'static, str>, Option<&'static Ingredient>, Known) {
    let name = format!("{of_what} {part}");
    let ids: Vec<_> = crate::lexicon::words_of(&name).iter().map(|word| LEXICON.id(word)).collect();
    if let Some(index) = LEXICON.ingredients.get(&ids) {
        let (of, given) = LEXICON.named(index);
        return (Cow::Borrowed(given), Some(of), Known::Register);
    }
    (Cow::Owned(name), whole, Known::Composed)
}

/// A thing that is not in the register: up to three words before what must end it.
fn unknown(words: Words<'_>, at: usize, definite: bool) -> Option<Found> {
    let stop = Classes(
        Classes::PREP.0
            | Classes::CONJ.0
            | Classes::AUX.0
            | Classes::PRONOUN.0
            | Classes::DET.0
            | Classes::NUMBER.0
            | Classes::ARTICLE.0
            | Classes::TIME.0,
    );
    let mut here = at;
    while words.at(here).is_some_and(|token| {
        token.word() && (token.is(Classes(Classes::ADJ.0 | Classes::ADVERB.0)) || participle(words, here))
    }) && here < at + 5
    {
        here += 1;
    }
    let start = here;
    while let Some(token) = words.at(here) {
        if !token.word()
            || token.is(stop)
            || here >= start + 3
            || (here > start && (token.line_start && list_like(words, here)))
        {
            break;
        }
        if here > start && participle(words, here) {
            break;
        }
        here += 1;
    }
    let only_verb = here == start + 1 && words.class(start, Classes::VERB);
    if here == start || words.class(start, Classes::VESSEL) || only_verb {
        return None;
    }
    let mut plain = String::new();
    for at in start..here {
        if !plain.is_empty() {
            plain.push(' ');
        }
        plain.push_str(&words.printed(at).to_lowercase());
    }
    let mut also = Vec::new();
    if let Some(single) = plain.strip_suffix('s')
        && !single.ends_with('s')
        && single.len() > 3
    {
        also.push(plain.clone());
        plain = single.to_owned();
    }
    Some(Found {
        name_start: start,
        end: here,
        plain: Cow::Owned(plain),
        ingredient: None,
        also,
        known: Known::Unknown,
        definite,
        inner: None,
        second: None,
        countable: false,
    })
}

/// Shares "of each half an ounce" and "a pound each of" among the things of their list.
fn each(words: Words<'_>, found: &mut [Candidate]) {
    // "salt, pepper and cayenne to taste"
    for at in (1..found.len()).rev() {
        let (Draft::Vague(start, end), "to taste") = (&found[at].amount, found[at].rule) else { continue };
        let taste = Draft::Vague(*start, *end);
        let gap = found[at - 1].end..found[at].start;
        let joined = (1..=2).contains(&gap.len())
            && gap.clone().all(|here| words.mark(here, ',') || any!(words, here, ["and"]));
        if joined && found[at - 1].amount == Draft::Unstated {
            found[at - 1].amount = taste;
            found[at - 1].rule = "to taste";
        }
    }
    // Forward: "a pound each of sugar and butter".
    for at in 0..found.len() {
        if found[at].rule != "amount each" {
            continue;
        }
        let amount = found[at].amount.clone();
        let mut last = found[at].end;
        for next in &mut found[at + 1..] {
            let gap = last..next.start;
            let joined = gap.len() <= 3
                && gap.clone().all(|here| words.mark(here, ',') || any!(words, here, ["and", "of", "the"]))
                && next.amount == Draft::Unstated;
            if !joined {
                break;
            }
            next.amount = amount.clone();
            next.rule = "amount each";
            last = next.end;
        }
    }
    // Backward: "cinnamon, mace, nutmegs, of each half an ounce".
    let tokens = words.tokens;
    for at in 0..tokens.len() {
        let lead = if words.is(at, "of") && any!(words, at + 1, ["each", "either"]) {
            at + 2
        } else if words.is(at, "of")
            && (any!(words, at + 1, ["every"]) && any!(words, at + 2, ["one"])
                || any!(words, at + 1, ["them"]) && any!(words, at + 2, ["each"]))
        {
            at + 3
        } else if any!(words, at, ["each"]) && !words.is(at.wrapping_sub(1), "of") {
            at + 1
        } else {
            continue;
        };
        let lead = lead + usize::from(words.mark(lead, ','));
        // "half an ounce of each" puts the amount before.
        let (parts, begins) = if let Some(amount) = words.amount(lead)
            && !amount.unread
            && amount.parts.iter().any(|part| part.unit.is_some())
            && !words.is(amount.next, "of")
        {
            (amount.parts, at)
        } else if let Some(amount) = words.amount(lead)
            && !amount.unread
            && !amount.article
            && words.at(amount.next).is_none_or(|token| !token.word() || token.is(Classes::CONJ))
        {
            (amount.parts, at)
        } else if let Some((start, amount)) =
            (1..=6).filter_map(|back| at.checked_sub(back)).find_map(|start| {
                let amount = words.amount(start)?;
                (amount.next == at && !amount.unread).then_some((start, amount))
            })
            && !found[..found.partition_point(|other| other.start <= start)]
                .last()
                .is_some_and(|other| other.end > start)
        {
            (amount.parts, start)
        } else {
            continue;
        };
        let mut limit = begins;
        let upto = found.partition_point(|mention| mention.start < begins);
        for mention in found[..upto].iter_mut().rev() {
            if mention.end > limit {
                break;
            }
            let gap = mention.end..limit;
            let joined = gap.len() <= 6
                && gap.clone().all(|here| {
                    !words.mark(here, '.') && !words.mark(here, ';') && words.number(here).is_none()
                })
                && tokens[mention.start].sentence == tokens[at].sentence
                && matches!(mention.amount, Draft::Unstated);
            if !joined {
                break;
            }
            mention.amount = Draft::Parts(parts.clone());
            mention.rule = "amount each";
            limit = mention.start;
        }
    }
}
