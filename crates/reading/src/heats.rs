//! Stated cooking heats: of the oven, the fire, the stove or the fat.

use quartern_text::Span;

use crate::amount::{Words, any};
use crate::lexer::Kind;
use crate::{Heat, HeatClass, HeatOf};

fn class_of(word: &str) -> Option<HeatClass> {
    Some(match word {
        "cool" | "slack" | "slow" | "slowish" | "soft" | "gentle" | "light" | "small" | "low" | "slowe"
        | "softe" => HeatClass::Slow,
        "moderate" | "steady" | "temperate" | "medium" | "warm" | "moderately" | "solid" | "soaking" => {
            HeatClass::Moderate
        }
        "quick" | "brisk" | "hot" | "sharp" | "clear" | "good" | "strong" | "smart" | "hote" | "hotter"
        | "quicke" => HeatClass::Hot,
        "fierce" | "furious" | "violent" => HeatClass::VeryHot,
        _ => return None,
    })
}

fn stronger(class: HeatClass, very: bool) -> HeatClass {
    if !very {
        return class;
    }
    match class {
        HeatClass::VerySlow | HeatClass::Slow => HeatClass::VerySlow,
        HeatClass::Moderate => HeatClass::Moderate,
        HeatClass::Hot | HeatClass::VeryHot => HeatClass::VeryHot,
    }
}

fn head(words: Words<'_>, at: usize) -> Option<HeatOf> {
    let printed = words.printed(at).to_ascii_lowercase();
    Some(match printed.as_str() {
        "oven" | "ovens" | "open" => HeatOf::Oven,
        "fire" | "heat" | "stove" | "coals" | "fyre" | "fier" | "hearth" | "embers" => HeatOf::Fire,
        "fat" | "butter" | "lard" | "dripping" | "drippings" | "oil" => HeatOf::Fat,
        _ => return None,
    })
}

/// Reads every stated heat from a token on.
pub(crate) fn heats(words: Words<'_>, from: usize) -> Vec<Heat> {
    let tokens = words.tokens;
    let mut found: Vec<Heat> = Vec::new();
    for at in from..tokens.len() {
        if let Some(heat) = degrees(words, at) {
            found.push(heat);
            continue;
        }
        let Some(of) = head(words, at) else { continue };
        if of == HeatOf::Fat
            || any!(words, at, ["open"])
                && !any!(words, at.wrapping_sub(1), ["cool", "quick", "moderate", "slow", "hot"])
        {
            continue;
        }
        if let Some(heat) = before(words, from, at, of).or_else(|| after(words, at, of))
            && found.last().is_none_or(|last: &Heat| !last.span.meets(heat.span))
        {
            found.push(heat);
        }
    }
    found
}

/// "a very hot oven", "a slow, steady fire", "not too hot an oven".
fn before(words: Words<'_>, from: usize, at: usize, of: HeatOf) -> Option<Heat> {
    let sentence = words.at(at)?.sentence;
    let mut start = at;
    let mut class: Option<HeatClass> = None;
    let mut doubt = false;
    for back in 1..=7 {
        let Some(here) = at.checked_sub(back) else { break };
        if here < from || words.at(here)?.sentence != sentence {
            break;
        }
        let printed = words.printed(here).to_ascii_lowercase();
        if let Some(this) = class_of(&printed) {
            // "moderately hot" is moderate; of two words the first printed rules.
            doubt |= class.is_some_and(|other| other != this);
            class = Some(this);
            start = here;
            continue;
        }
        match printed.as_str() {
            "very" | "exceedingly" | "extremely" => {
                // "very moderate", "very warm"
                let next = words.printed(here + 1).to_ascii_lowercase();
                class = class.map(|class| {
                    if next == "warm" {
                        HeatClass::Hot
                    } else if next == "good"
                        || next == "gentle" && of == HeatOf::Fire && class == HeatClass::Hot
                    {
                        class
                    } else {
                        stronger(class, true)
                    }
                });
                start = here;
            }
            "too" => {
                let negated = any!(words, here.wrapping_sub(1), ["not", "nor"]);
                if !negated {
                    return None;
                }
                class = Some(HeatClass::Moderate);
                start = here - 1;
                break;
            }
            "rather" | "pretty" | "tolerably" | "quite" | "fairly" | "a" | "an" | "the" | "of" | "and"
            | "," | "but" | "not" | "so" | "scorching" | "baking" | "charcoal" | "wood" | "turf" | "coal" => {
                if printed == "a" || printed == "an" {
                    if class.is_some() {
                        start = here;
                        break;
                    }
                    // "too hot an oven"
                    continue;
                }
                if printed == "the" {
                    break;
                }
                if printed == "rather" && class.is_some() {
                    start = here;
                    if any!(words, here + 1, ["warm"]) {
                        class = Some(HeatClass::Moderate);
                    }
                }
                if (printed == "of" || printed == "and") && class.is_some() {
                    break;
                }
            }
            _ => break,
        }
    }
    let class = class?;
    Some(Heat {
        span: Span::new(words.tokens[start].start, words.tokens[at].end),
        class: Some(class),
        celsius: None,
        of,
        sure: !doubt,
    })
}

/// "the oven should be hot", "the fire be clear", "let your oven be very quick".
fn after(words: Words<'_>, at: usize, of: HeatOf) -> Option<Heat> {
    let sentence = words.at(at)?.sentence;
    let start = if any!(words, at.wrapping_sub(1), ["the", "your", "an", "a"]) { at - 1 } else { at };
    let mut here = at + 1;
    let mut verb = false;
    let mut very = false;
    let mut not = false;
    for _ in 0..7 {
        let token = words.at(here)?;
        // "the oven, which must be quick"
        if here == at + 1 && token.mark(',') && any!(words, here + 1, ["which"]) {
            here += 2;
            continue;
        }
        if token.sentence != sentence || !token.word() {
            return None;
        }
        let printed = words.printed(here).to_ascii_lowercase();
        match printed.as_str() {
            "is" | "be" | "was" | "should" | "must" | "being" | "as" | "it" | "not" | "too" | "rather"
            | "quite" | "pretty" | "a" | "tolerably" => {
                verb |= matches!(printed.as_str(), "is" | "be" | "should" | "must" | "being");
                not |= printed == "not" || printed == "too";
            }
            "very" => very = true,
            other => {
                let class = class_of(other)?;
                // "when the oven is hot enough", "till the fire is low": no statement of a heat to cook at.
                if !verb || any!(words, here + 1, ["enough"]) {
                    return None;
                }
                let class = if not { HeatClass::Moderate } else { stronger(class, very) };
                return Some(Heat {
                    span: Span::new(words.tokens[start].start, token.end),
                    class: Some(class),
                    celsius: None,
                    of,
                    sure: !not,
                });
            }
        }
        here += 1;
    }
    None
}

/// Printed degrees near an oven or fat: "350° F.", "an oven at 400 degrees".
fn degrees(words: Words<'_>, at: usize) -> Option<Heat> {
    let token = words.at(at)?;
    let Kind::Number(Some(value)) = token.kind else { return None };
    let marked = words.mark(at + 1, '°') || any!(words, at + 1, ["degrees", "deg"]);
    if !marked || !value.is_integer() {
        return None;
    }
    let low = f64::from(*value.numer());
    let mut end = at + 1;
    let letter = any!(words, end + 1, ["f", "c", "r", "fahr", "fahrenheit", "fah"]);
    if letter {
        end += 1;
    }
    let sentence = token.sentence;
    let near = |here: usize| words.at(here).is_some_and(|other| other.sentence == sentence);
    let of = (at.saturating_sub(10)..at + 8).filter(|here| near(*here)).find_map(|here| {
        any!(words, here, ["oven", "ovens", "fat", "lard", "oil"]).then(|| head(words, here)).flatten()
    })?;
    // Below 200 °F and without a letter it is a liquid's warmth.
    if !(200.0..=700.0).contains(&low) {
        return None;
    }
    let mut high = low;
    if let Some(before) = at.checked_sub(2)
        && any!(words, before + 1, ["to", "or"])
        && let Kind::Number(Some(first)) = words.tokens[before].kind
    {
        let first = f64::from(*first.numer());
        if first < low {
            high = low;
            return Some(make(words, before, end, first, high, of));
        }
    }
    Some(make(words, at, end, low, high, of))
}

fn make(words: Words<'_>, start: usize, end: usize, low: f64, high: f64, of: HeatOf) -> Heat {
    let celsius = |fahrenheit: f64| ((fahrenheit - 32.0) / 1.8 * 10.0).round() / 10.0;
    Heat {
        span: Span::new(words.tokens[start].start, words.tokens[end.min(words.tokens.len() - 1)].end),
        class: None,
        celsius: Some((celsius(low), celsius(high))),
        of,
        sure: true,
    }
}
