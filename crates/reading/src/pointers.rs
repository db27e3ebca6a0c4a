//! Pointers to other recipes and pages, and statements of how much a recipe makes.

use quartern_quantity::Ratio;
use quartern_text::Span;

use crate::amount::{Words, any};
use crate::lexer::Kind;
use crate::lexicon::Classes;
use crate::{Reference, ReferenceKind, Yield, flat};

/// Reads every pointer from a token on.
pub(crate) fn references(words: Words<'_>, from: usize) -> Vec<Reference> {
    let mut found: Vec<Reference> = Vec::new();
    let mut at = from;
    // The recipe's own number may stand right after its heading: "--(No. 484.)".
    let own =
        (from..from + 3).find(|here| number(words, *here).is_some() && words.mark(here.wrapping_sub(1), '('));
    if let Some((_, next)) = own.and_then(|here| number(words, here)) {
        at = next;
    }
    while at < words.tokens.len() {
        if let Some((references, next)) = page(words, at).or_else(|| number(words, at)) {
            found.extend(references);
            at = next;
        } else if let Some((reference, next)) = title(words, at).or_else(|| neighbour(words, at)) {
            found.push(reference);
            at = next;
        } else {
            at += 1;
        }
    }
    found
}

fn span(words: Words<'_>, start: usize, end: usize) -> Span {
    Span::new(words.tokens[start].start, words.tokens[end - 1].end)
}

fn whole(kind: Kind) -> Option<u32> {
    match kind {
        Kind::Number(Some(value)) if value.is_integer() => Some(*value.numer()),
        Kind::Number(_) | Kind::Word | Kind::Mark(_) => None,
    }
}

/// "see page 54", "(p. 12)", "page 162".
fn page(words: Words<'_>, at: usize) -> Option<(Vec<Reference>, usize)> {
    let mut here = at;
    let see = any!(words, here, ["see", "vide"]);
    if see {
        here += 1;
    }
    if any!(words, here, ["on", "at"]) {
        here += 1;
    }
    if !any!(words, here, ["page", "pages", "p", "pp", "pag"]) {
        return None;
    }
    here += 1;
    if words.mark(here, '.') {
        here += 1;
    }
    let target = whole(words.at(here)?.kind)?;
    let reference = Reference {
        span: span(words, at, here + 1),
        kind: ReferenceKind::Page,
        target: target.to_string(),
        sure: true,
    };
    Some((vec![reference], here + 1))
}

/// "No. 212", "Nos. 451 and 485", "see Chapter XXIII".
fn number(words: Words<'_>, at: usize) -> Option<(Vec<Reference>, usize)> {
    let mut here = at;
    while any!(words, here, ["see", "recipe", "receipt"]) && here < at + 2 {
        here += 1;
    }
    if any!(words, here, ["chapter", "chap"]) && here > at {
        let mut target = here + 1;
        if words.mark(target, '.') {
            target += 1;
        }
        let token = words.at(target)?;
        let roman = token.word() && words.printed(target).chars().all(|c| "IVXLCivxlc".contains(c));
        if !roman && whole(token.kind).is_none() {
            return None;
        }
        let reference = Reference {
            span: span(words, at, target + 1),
            kind: ReferenceKind::Number,
            target: words.printed(target).to_owned(),
            sure: true,
        };
        return Some((vec![reference], target + 1));
    }
    if !any!(words, here, ["no", "nos", "numb", "number", "numbers"]) || !words.at(here)?.capital {
        return None;
    }
    here += 1;
    if words.mark(here, '.') {
        here += 1;
    }
    let first = whole(words.at(here)?.kind)?;
    let mut end = here + 1;
    let mut target = first.to_string();
    let mut references = Vec::new();
    if any!(words, end, ["to"])
        && let Some(last) = words.at(end + 1).and_then(|token| whole(token.kind))
    {
        target = format!("{first} to {last}");
        end += 2;
    }
    references.push(Reference {
        span: span(words, at, end),
        kind: ReferenceKind::Number,
        target,
        sure: true,
    });
    // "Nos. 451, 485 and 486"
    loop {
        let joined = any!(words, end, ["and", "or"]) || words.mark(end, ',');
        let Some(next) =
            words.at(end + 1).and_then(|token| whole(token.kind)).filter(|number| joined && *number > 3)
        else {
            break;
        };
        let plural = any!(words, end + 2, ["ounces", "pounds", "minutes", "hours", "or"]);
        if plural {
            break;
        }
        references.push(Reference {
            span: span(words, end + 1, end + 2),
            kind: ReferenceKind::Number,
            target: next.to_string(),
            sure: true,
        });
        end += 2;
    }
    Some((references, end))
}

/// "as for fricassee", "as directed in the receipt for orgeat", "the same as for shin soup".
fn title(words: Words<'_>, at: usize) -> Option<(Reference, usize)> {
    let mut here = at;
    let lead = if any!(words, here, ["as", "the", "that", "in", "prepared", "done", "dressed"]) {
        here
    } else {
        return None;
    };
    let mut pointed = false;
    if any!(words, here, ["as"]) {
        // "As for the time" at the head of a sentence changes the subject.
        if words.at(here)?.capital && any!(words, here + 1, ["for"]) {
            return None;
        }
        here += 1;
        for _ in 0..6 {
            if any!(
                words,
                here,
                [
                    "directed",
                    "above",
                    "described",
                    "in",
                    "the",
                    "receipt",
                    "recipe",
                    "you",
                    "do",
                    "is",
                    "was",
                    "are",
                    "were",
                    "already",
                    "before",
                    "we",
                    "have",
                    "given",
                    "would",
                    "an",
                    "a",
                    "ordinary",
                    "other",
                    "same",
                    "manner",
                    "receipts",
                    "recipes",
                    "preceding",
                    "instructed",
                    "prepared",
                    "made",
                    "boil",
                    "make",
                    "cook",
                    "dress",
                ]
            ) {
                pointed |= any!(
                    words,
                    here,
                    ["directed", "receipt", "recipe", "described", "given", "making", "instructed"]
                );
                here += 1;
            } else {
                break;
            }
        }
        if any!(words, here, ["making"]) {
            pointed = true;
            here += 1;
        } else if !any!(words, here, ["for", "of"]) {
            return None;
        }
        if any!(words, here, ["of"]) && !pointed {
            return None;
        }
        if any!(words, here, ["for", "of"]) {
            here += 1;
        }
        if any!(words, here - 1, ["for"]) {
            pointed = true;
        }
    } else if any!(words, here, ["in"]) {
        // "in a similar manner to apple custard", "in the same way as for"
        if !(any!(words, here + 1, ["a", "the"])
            && any!(words, here + 2, ["similar", "same"])
            && any!(words, here + 3, ["manner", "way"])
            && any!(words, here + 4, ["to", "as"]))
        {
            return None;
        }
        here += 5;
        if any!(words, here, ["for"]) {
            here += 1;
        }
        pointed = true;
    } else if any!(words, here, ["prepared", "done", "dressed"]) {
        if !any!(words, here + 1, ["like"]) {
            return None;
        }
        here += 2;
        pointed = true;
    } else if any!(words, here, ["the"]) {
        // "the receipt for …" is a pointer only with a word that points.
        if !(any!(words, here + 1, ["receipt", "recipe"])
            && any!(words, here + 2, ["for"])
            && any!(words, at.wrapping_sub(1), ["see", "in", "by", "to", "follow", "per"]))
        {
            return None;
        }
        here += 3;
        pointed = true;
    } else if any!(words, here, ["that"]) {
        if !any!(words, here + 1, ["for"]) || !any!(words, at.wrapping_sub(1), ["to", "as", "like"]) {
            return None;
        }
        here += 2;
        pointed = true;
    } else {
        return None;
    }
    if !pointed {
        return None;
    }
    while any!(words, here, ["the", "a", "an", "your", "other", "making", "any", "common", "ordinary"]) {
        here += 1;
    }
    let start = here;
    let sentence = words.at(start)?.sentence;
    while let Some(token) = words.at(here) {
        let stops = !token.word()
            || token.sentence != sentence
            || token.para_start
            || here > start + 5
            || (token.is(Classes(Classes::PREP.0 | Classes::CONJ.0 | Classes::AUX.0 | Classes::PRONOUN.0))
                && !any!(words, here, ["of", "à", "la"]));
        if stops {
            break;
        }
        here += 1;
    }
    // The target must be a dish, not "as for the rest", "as for baking".
    if here == start
        || any!(
            words,
            start,
            [
                "no", "nos", "time", "rest", "use", "table", "company", "them", "boiling", "baking",
                "frying", "roasting", "serving", "eating", "bread"
            ]
        )
    {
        return None;
    }
    let target = flat(&words.text[words.tokens[start].start as usize..words.tokens[here - 1].end as usize]);
    let reference = Reference {
        span: span(words, lead, here),
        kind: ReferenceKind::Title,
        target: target.trim_matches(['"', '_', '“', '”']).to_owned(),
        sure: any!(words, start, ["the"]) || target.chars().any(char::is_uppercase),
    };
    Some((reference, here))
}

/// "as before", "as above", "as in the last", "the preceding receipt", "the same way".
fn neighbour(words: Words<'_>, at: usize) -> Option<(Reference, usize)> {
    let make = |end: usize, sure: bool| {
        Some((
            Reference {
                span: span(words, at, end),
                kind: ReferenceKind::Neighbour,
                target: String::new(),
                sure,
            },
            end,
        ))
    };
    if any!(words, at, ["as"]) {
        let mut here = at + 1;
        let mut skipped = 0;
        while skipped < 5
            && any!(
                words,
                here,
                [
                    "directed",
                    "described",
                    "in",
                    "the",
                    "mentioned",
                    "i",
                    "have",
                    "explained",
                    "is",
                    "you",
                    "did",
                    "was",
                    "we",
                    "said",
                    "those"
                ]
            )
        {
            here += 1;
            skipped += 1;
        }
        if any!(
            words,
            here,
            [
                "before",
                "above",
                "aforesaid",
                "aforeſaid",
                "preceding",
                "last",
                "foregoing",
                "former",
                "previous",
                "others",
                "abovesaid"
            ]
        ) {
            // "as before" after nothing: "as before mentioned" too.
            let mut end = here + 1;
            if any!(words, end, ["recipe", "receipt", "one", "mentioned", "directed", "described"]) {
                end += 1;
            }
            // "as above a pound" cannot be told from "as" + "above"; ask for a stop after it.
            if skipped == 0 && any!(words, here, ["above"]) {
                return None;
            }
            return make(end, skipped > 0 || !words.class(end, Classes::NUMBER));
        }
        return None;
    }
    if any!(words, at, ["in"])
        && any!(words, at + 1, ["the"])
        && any!(words, at + 2, ["last", "laſt", "preceding", "foregoing", "former", "previous", "above"])
    {
        let end = at + 3;
        if any!(words, end, ["recipe", "receipt"]) {
            return make(end + 1, true);
        }
        let stops = words.at(end).is_none_or(|token| !token.word());
        if stops {
            return make(end, false);
        }
        return None;
    }
    if any!(words, at, ["the"])
        && any!(words, at + 1, ["preceding", "foregoing", "previous", "above"])
        && any!(words, at + 2, ["recipe", "receipt", "one"])
        && any!(words, at.wrapping_sub(1), ["in", "as", "to", "by", "see", "follow", "like"])
    {
        return make(at + 3, true);
    }
    if any!(words, at, ["made"])
        && any!(words, at + 1, ["the"])
        && any!(words, at + 2, ["same"])
        && any!(words, at + 3, ["way"])
        && !any!(words, at + 4, ["as", "that"])
    {
        return make(at + 4, false);
    }
    None
}

/// Reads every statement of how much the recipe makes or serves.
pub(crate) fn yields(words: Words<'_>, from: usize) -> Vec<Yield> {
    let mut found = Vec::new();
    let one = Ratio::from_integer(1);
    for at in 0..words.tokens.len() {
        let sentence = words.tokens[at].sentence;
        let people = |here: usize| {
            any!(
                words,
                here,
                ["persons", "people", "person", "guests", "men", "covers", "servings", "portions"]
            )
        };
        // "sufficient for 6 or 7 persons", "serves four", "for 80 men"
        if any!(words, at, ["serves", "serve", "sufficient", "enough", "for"]) {
            let start = at + 1;
            let start =
                if any!(words, start, ["for"]) && !any!(words, at, ["for"]) { start + 1 } else { start };
            let start = if any!(words, start, ["about", "from"]) { start + 1 } else { start };
            if let Some(number) = words.number(start)
                && words.at(start).is_some_and(|token| token.sentence == sentence)
            {
                let end = if any!(words, number.next, ["or"]) && any!(words, number.next + 1, ["more"]) {
                    number.next + 2
                } else {
                    number.next
                };
                if people(end) {
                    let what = words.printed(end).to_ascii_lowercase();
                    let first = if any!(words, at, ["for"]) { start } else { at };
                    found.push(Yield {
                        span: span(words, first, end + 1),
                        low: number.low,
                        high: number.high,
                        what,
                    });
                    continue;
                }
            }
        }
        if at < from {
            continue;
        }
        // "it will content seven or eight persons"
        if !any!(words, at.wrapping_sub(1), ["or", "to", "from", "and"])
            && let Some(number) = words.number(at)
            && !number.article
            && words.at(number.next).is_some_and(|token| token.sentence == sentence)
            && any!(words, number.next, ["persons", "guests", "servings"])
        {
            let what = words.printed(number.next).to_ascii_lowercase();
            found.push(Yield {
                span: span(words, at, number.next + 1),
                low: number.low,
                high: number.high,
                what,
            });
            continue;
        }
        // "Sufficient to make 2 dozen rusks", "sufficient for 3 or 4 soles"
        if any!(words, at, ["sufficient"])
            && (any!(words, at + 1, ["for"]) || any!(words, at + 1, ["to"]) && any!(words, at + 2, ["make"]))
        {
            let start = if any!(words, at + 1, ["for"]) { at + 2 } else { at + 3 };
            let start = start + usize::from(any!(words, start, ["about"]));
            if let Some(number) = words.number(start)
                && !number.article
                && let Some(noun) = words.at(number.next)
                && noun.word()
            {
                let what = words.printed(number.next).to_ascii_lowercase();
                found.push(Yield {
                    span: span(words, start, number.next + 1),
                    low: number.low,
                    high: number.high,
                    what,
                });
                continue;
            }
        }
        // "this makes two loaves", "this recipe makes one quart", "will make six cakes"
        let makes = any!(words, at, ["makes", "make"])
            && (any!(
                words,
                at.wrapping_sub(1),
                ["this", "recipe", "receipt", "will", "quantity", "which", "these", "should"]
            ));
        if makes {
            let start = at + 1 + usize::from(any!(words, at + 1, ["about", "nearly"]));
            if let Some(number) = words.number(start)
                && words.at(start).is_some_and(|token| token.sentence == sentence)
            {
                let mut here = number.next;
                while words.at(here).is_some_and(|token| {
                    token.word() && (token.is(Classes::ADJ) || token.is(Classes::ADVERB))
                }) || (any!(words, here, ["sized"]))
                {
                    here += 1;
                }
                let Some(noun) = words.at(here) else { continue };
                if !noun.word() || noun.is(Classes(Classes::PREP.0 | Classes::CONJ.0 | Classes::TIME.0)) {
                    continue;
                }
                // "which will make a very good sauce" says what it becomes, not how much.
                if number.article
                    && number.low == one
                    && !noun.is(Classes::UNIT)
                    && !any!(words, here, ["loaf", "cake", "tureen", "dish"])
                {
                    continue;
                }
                let what = words.printed(here).to_ascii_lowercase();
                found.push(Yield {
                    span: span(words, start, here + 1),
                    low: number.low,
                    high: number.high,
                    what,
                });
            }
        }
    }
    found.dedup_by(|one, two| one.span.meets(two.span));
    found
}
