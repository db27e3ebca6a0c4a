//! Sizes as they stand in the registers, resolved to SI.

use std::collections::BTreeMap;

/// A size in grams, millilitres or millimetres.
pub(crate) struct Size {
    /// The name of the dimension's variant.
    pub(crate) dimension: &'static str,
    pub(crate) low: f64,
    pub(crate) best: f64,
    pub(crate) high: f64,
}

/// Reads `1/8`, `4.5` or `3 1/2`.
pub(crate) fn number(text: &str) -> Option<f64> {
    let text = text.trim();
    if let Some((whole, fraction)) = text.split_once(' ') {
        return Some(number(whole)? + number(fraction)?);
    }
    let value = match text.split_once('/') {
        Some((above, below)) => above.trim().parse::<f64>().ok()? / below.trim().parse::<f64>().ok()?,
        None => text.parse::<f64>().ok()?,
    };
    (value.is_finite() && value >= 0.0).then_some(value)
}

/// Reads `low..best..high` or one number.
pub(crate) fn range(text: &str) -> Option<(f64, f64, f64)> {
    let parts: Vec<&str> = text.split("..").collect();
    let (low, best, high) = match parts.as_slice() {
        [one] => (number(one)?, number(one)?, number(one)?),
        [low, best, high] => (number(low)?, number(best)?, number(high)?),
        _ => return None,
    };
    (low <= best && best <= high && best > 0.0).then_some((low, best, high))
}

/// Resolves a size, following references to other records.
pub(crate) fn resolve(text: &str, table: &BTreeMap<String, String>) -> Result<Size, String> {
    follow(text, table, 0)
}

fn follow(text: &str, table: &BTreeMap<String, String>, depth: u32) -> Result<Size, String> {
    if depth > 20 {
        return Err(format!("sizes refer to each other in a ring: {text}"));
    }
    let (figure, unit) = text.trim().rsplit_once(' ').ok_or_else(|| format!("size has no unit: {text:?}"))?;
    let (low, best, high) = range(figure).ok_or_else(|| format!("size cannot be read: {text:?}"))?;
    let base = |dimension, factor: f64| Size { dimension, low: factor, best: factor, high: factor };
    let base = match unit {
        "mg" => base("Mass", 0.001),
        "g" => base("Mass", 1.0),
        "kg" => base("Mass", 1000.0),
        "ml" => base("Volume", 1.0),
        "l" => base("Volume", 1000.0),
        "mm" => base("Length", 1.0),
        "cm" => base("Length", 10.0),
        "m" => base("Length", 1000.0),
        // The inch is 25.4 mm exactly since 1959; earlier legal inches differ by under 3 parts in a million.
        "in3" => base("Volume", 16.387_064),
        other => {
            let next = table.get(other).ok_or_else(|| format!("size names an unknown record: {other}"))?;
            follow(next, table, depth + 1)?
        }
    };
    Ok(Size {
        dimension: base.dimension,
        low: base.low * low,
        best: base.best * best,
        high: base.high * high,
    })
}
