//! The kitchen rules for rounding: the one place where figures are rounded.
//!
//! | up to | a figure with a range, to the nearest | a figure without, to the nearest |
//! | ---: | ---: | ---: |
//! | 1 | 0.1 g or ml | 0.1 g or ml |
//! | 10 | 0.5 | 0.5 |
//! | 50 | 1 | 1 |
//! | 250 | 5 | 1 |
//! | 1000 | 10 | 1 |
//! | above | 50 | 5 |
//!
//! Common practice, no source: what a kitchen scale and a measuring jug can show. Best values are
//! rounded to the nearest, ranges outwards, so that a rounded range is never narrower than the
//! reckoned one.

use quartern_quantity::{Figure, Time};

/// Which way to round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Nearest,
    Down,
    Up,
}

/// Has the figure a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Spread {
    None,
    Some,
}

fn step(number: f64, spread: Spread) -> f64 {
    match (number.abs(), spread) {
        (n, _) if n < 1.0 => 0.1,
        (n, _) if n < 10.0 => 0.5,
        (n, _) if n < 50.0 => 1.0,
        (n, Spread::None) if n < 1000.0 => 1.0,
        (_, Spread::None) => 5.0,
        (n, Spread::Some) if n < 250.0 => 5.0,
        (n, Spread::Some) if n < 1000.0 => 10.0,
        (_, Spread::Some) => 50.0,
    }
}

fn round(number: f64, spread: Spread, way: Way) -> f64 {
    let step = step(number, spread);
    let steps = number / step;
    // A hair of slack, so that 140.0000001 does not become 145 when rounded up.
    let slack = 1e-6;
    let steps = match way {
        Way::Nearest => (steps + slack).round(),
        Way::Down => (steps + slack).floor(),
        Way::Up => (steps - slack).ceil(),
    };
    steps * step
}

/// Writes a number without needless zeros, at most one decimal.
#[must_use]
pub fn plain(number: f64) -> String {
    let tenths = (number * 10.0).round();
    if (tenths / 10.0 - (tenths / 10.0).round()).abs() < 1e-9 {
        format!("{:.0}", tenths / 10.0)
    } else {
        format!("{:.1}", tenths / 10.0)
    }
}

fn with_unit(low: f64, high: Option<f64>, volume: bool) -> String {
    let (small, large) = if volume { ("ml", "litres") } else { ("g", "kg") };
    let top = high.unwrap_or(low);
    let (divisor, unit) = if top >= 1000.0 { (1000.0, large) } else { (1.0, small) };
    let show = |n: f64| {
        let n = n / divisor;
        if divisor > 1.0 {
            let text = format!("{n:.3}");
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            plain(n)
        }
    };
    match high {
        Some(high) if show(high) != show(low) => format!("{}–{} {unit}", show(low), show(high)),
        _ => {
            let one = show(low);
            let unit = if unit == "litres" && one == "1" { "litre" } else { unit };
            format!("{one} {unit}")
        }
    }
}

/// Returns the best value with its unit, rounded.
#[must_use]
pub fn best(figure: Figure) -> String {
    let (low, best, high) = figure.numbers();
    let spread = if high > low { Spread::Some } else { Spread::None };
    match figure {
        Figure::Mass(_) => with_unit(round(best, spread, Way::Nearest), None, false),
        Figure::Volume(_) => with_unit(round(best, spread, Way::Nearest), None, true),
        Figure::Count(_) => count(best),
    }
}

/// Returns the range with its unit, rounded outwards; empty where low and high come out the same.
#[must_use]
pub fn range(figure: Figure) -> String {
    let (low, _, high) = figure.numbers();
    if high <= low {
        return String::new();
    }
    let written = |volume| {
        let (low, high) = (round(low, Spread::Some, Way::Down), round(high, Spread::Some, Way::Up));
        if high > low { with_unit(low, Some(high), volume) } else { String::new() }
    };
    match figure {
        Figure::Mass(_) => written(false),
        Figure::Volume(_) => written(true),
        Figure::Count(_) => format!("{}–{}", count(low), count(high)),
    }
}

/// Writes a number of things, with the fractions a cook uses.
#[must_use]
pub fn count(number: f64) -> String {
    const FRACTIONS: [(f64, &str); 7] =
        [(0.25, "¼"), (0.5, "½"), (0.75, "¾"), (1.0 / 3.0, "⅓"), (2.0 / 3.0, "⅔"), (0.125, "⅛"), (0.2, "⅕")];
    let whole = number.floor();
    let rest = number - whole;
    for (value, sign) in FRACTIONS {
        if (rest - value).abs() < 0.004 {
            return if whole > 0.0 { format!("{whole:.0}{sign}") } else { sign.to_owned() };
        }
    }
    plain(number)
}

/// Writes a length of time, low to high, as a cook reads it.
#[must_use]
pub fn time(low: Time, high: Time) -> String {
    let (low, high) = (low.minutes(), high.minutes());
    let (divisor, one, many) = match high {
        m if m < 120.0 && m > 0.0 => (1.0, "minute", "minutes"),
        m if m < 2880.0 => (60.0, "hour", "hours"),
        m if m < 20160.0 => (1440.0, "day", "days"),
        m if m < 86400.0 => (10080.0, "week", "weeks"),
        _ => (43200.0, "month", "months"),
    };
    let (a, b) = (count(low / divisor), count(high / divisor));
    if a == b {
        format!("{a} {}", if high / divisor <= 1.0 { one } else { many })
    } else {
        format!("{a}–{b} {many}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quartern_quantity::{Cause, Mass, Quantity, Volume};

    fn grams(low: f64, best: f64, high: f64) -> Figure {
        Figure::Mass(
            Quantity::new(
                Mass::from_grams(low),
                Mass::from_grams(best),
                Mass::from_grams(high),
                Cause::Measure,
            )
            .expect("in order"),
        )
    }

    #[test]
    fn rounding_follows_the_scale_pan() {
        assert_eq!(best(grams(226.8, 226.8, 226.8)), "227 g");
        assert_eq!(range(grams(226.8, 226.8, 226.8)), "");
        assert_eq!(range(grams(101.0, 120.0, 142.0)), "100–145 g");
        let litre = Figure::Volume(Quantity::exact(Volume::from_millilitres(1136.5)));
        assert_eq!(best(litre), "1.135 litres");
        assert_eq!(time(Time::from_minutes(90.0), Time::from_minutes(90.0)), "90 minutes");
        assert_eq!(time(Time::from_minutes(120.0), Time::from_minutes(180.0)), "2–3 hours");
        assert_eq!(count(0.5), "½");
    }
}
