//! Stated lengths of time.

use quartern_quantity::Ratio;
use quartern_text::Span;

use crate::Duration;
use crate::amount::{Words, any};
use crate::lexicon::Classes;

fn value(ratio: Ratio<u32>) -> f64 {
    f64::from(*ratio.numer()) / f64::from(*ratio.denom())
}

/// Reads every stated length of time from a token on.
pub(crate) fn durations(words: Words<'_>, from: usize) -> Vec<Duration> {
    let mut found: Vec<Duration> = Vec::new();
    let mut at = from;
    while at < words.tokens.len() {
        match one(words, at) {
            Some((low, high, next)) => {
                if !age(words, at, next) {
                    let span = Span::new(words.tokens[at].start, words.tokens[next - 1].end);
                    found.push(Duration { span, low: round(low), high: round(high), sure: true });
                }
                at = next;
            }
            None => at += 1,
        }
    }
    found
}

fn round(minutes: f64) -> f64 {
    (minutes * 1000.0).round() / 1000.0
}

fn minutes(words: Words<'_>, at: usize) -> Option<f64> {
    let token = words.at(at)?;
    (token.word() && token.is(Classes::TIME)).then(|| token.entry().minutes)
}

/// Reads one length of time: low and high in minutes, and the token after it.
fn one(words: Words<'_>, at: usize) -> Option<(f64, f64, usize)> {
    let number = words.number(at)?;
    let (mut low, mut high) = (value(number.low), value(number.high));
    let mut here = number.next;
    // "a couple of minutes"
    if words.is(here, "of") && words.class(here.wrapping_sub(1), Classes::MULTIPLE) {
        here += 1;
    }
    // "half an hour", "three quarters of an hour" are read by the number; "half hour" too.
    if any!(words, here, ["more", "good", "full", "long", "whole"]) {
        here += 1;
    }
    let Some(unit) = minutes(words, here) else {
        // "one hour to an hour and a half" is read below; "ten or fifteen or twenty minutes" is not.
        return None;
    };
    if any!(words, here, ["second", "seconds"]) && (number.article || any!(words, at, ["the"])) {
        return None;
    }
    low *= unit;
    high *= unit;
    here += 1;
    if words.mark(here, '.') && any!(words, here - 1, ["hr", "hrs", "min", "mins"]) {
        here += 1;
    }
    // "an hour and a half", "two hours and three quarters", "an hour or two", "an hour and twenty minutes"
    if any!(words, here, ["and", "&"]) {
        if let Some((more, next)) = words.and_fraction(here) {
            if minutes(words, next).is_none() || unit > 1.0 && minutes(words, next) == Some(unit) {
                low += value(more) * unit;
                high += value(more) * unit;
                here = next;
            }
        } else if let Some((more_low, more_high, next)) = part(words, here + 1, unit) {
            low += more_low;
            high += more_high;
            here = next;
        }
    } else if words.mark(here, ',')
        && let Some((more_low, more_high, next)) = part(words, here + 1, unit)
    {
        low += more_low;
        high += more_high;
        here = next;
    } else if let Some((more_low, more_high, next)) = part(words, here, unit) {
        low += more_low;
        high += more_high;
        here = next;
    }
    if any!(words, here, ["or", "to"])
        && let Some(second) = words.number(here + 1)
    {
        let mut after = second.next;
        if let Some(unit) = minutes(words, after) {
            let mut top = value(second.high) * unit;
            after += 1;
            if any!(words, after, ["and"])
                && let Some((more, next)) = words.and_fraction(after)
            {
                top += value(more) * unit;
                after = next;
            }
            if top > high {
                high = top;
                here = after;
            }
        } else if !second.article
            && value(second.high) * unit > high
            && !words.class(after, Classes::INGREDIENT)
        {
            // "an hour or two"
            high = value(second.high) * unit;
            here = after;
        }
    }
    Some((low, high, here))
}

/// Reads a smaller part of a length of time: "20 minutes" after "1 hour".
fn part(words: Words<'_>, at: usize, unit: f64) -> Option<(f64, f64, usize)> {
    let number = words.number(at)?;
    let smaller = minutes(words, number.next)?;
    (smaller < unit && unit <= 1440.0)
        .then(|| (value(number.low) * smaller, value(number.high) * smaller, number.next + 1))
}

/// Is it the age of a thing or part of the cook's day rather than a length of time.
fn age(words: Words<'_>, at: usize, next: usize) -> bool {
    let old = any!(words, next, ["old", "ago", "since", "previous", "previously"]);
    let of_day = any!(words, next.saturating_sub(1), ["day", "night", "morning", "days", "nights"])
        && (any!(words, at.wrapping_sub(1), ["the", "next", "one", "same", "every", "each"]));
    let times_a = any!(words, at.wrapping_sub(1), ["once", "twice", "times", "thrice"]);
    let hyphened_age = any!(words, next, ["eggs", "egg"]);
    // One night is of the cook's day, and ten years are no cooking.
    let night = any!(words, next.saturating_sub(1), ["night"]);
    let years = any!(words, next.saturating_sub(1), ["years"]);
    old || night || years || of_day || times_a || hyphened_age
}
