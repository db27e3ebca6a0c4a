//! The small model that decides which mentions bring an ingredient in, and of which the reader is sure.
//!
//! Two logistic regressions over named features. Their weights stand in `model/items.csv`, one
//! feature a line, and are made anew by `cargo xtask train` from the marked recipes, bit for bit.

use std::sync::LazyLock;

use rustc_hash::FxHashMap;

/// A feature of a mention: its name is hashed, so that reading costs no memory.
pub(crate) type Feature = u64;

/// Names a feature.
pub(crate) fn feature(tag: &str, value: &str) -> Feature {
    // FNV-1a, 64 bits (parameters as published by Fowler, Noll and Vo; from memory).
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in tag.bytes().chain(std::iter::once(b'=')).chain(value.bytes()) {
        hash ^= u64::from(byte);
        hash = hash.wrapping_mul(0x0100_0000_01b3);
    }
    hash
}

/// The weights of one feature in the two models.
#[derive(Clone, Copy, Debug, Default)]
struct Weights {
    keep: f32,
    sure: f32,
}

static MODEL: LazyLock<FxHashMap<Feature, Weights>> = LazyLock::new(|| {
    let mut model = FxHashMap::default();
    for line in include_str!("../model/items.csv").lines().skip(1) {
        let mut cells = line.rsplitn(3, ',');
        let (Some(sure), Some(keep), Some(name)) = (cells.next(), cells.next(), cells.next()) else {
            continue;
        };
        let (tag, value) = name.split_once('=').unwrap_or((name, ""));
        let weights = Weights { keep: keep.parse().unwrap_or(0.0), sure: sure.parse().unwrap_or(0.0) };
        model.insert(feature(tag, value), weights);
    }
    model
});

/// Returns the log-odds that a mention is an item, and that it is read right if it is.
pub(crate) fn score(features: &[Feature]) -> (f32, f32) {
    let mut sum = (0.0, 0.0);
    for feature in features {
        if let Some(weights) = MODEL.get(feature) {
            sum.0 += weights.keep;
            sum.1 += weights.sure;
        }
    }
    sum
}

/// What an amount is like, for the question how sure the reader can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// A number is stated.
    Stated,
    /// Words without a number.
    Vague,
    /// No amount, or one by comparison.
    Bare,
}

impl Group {
    pub(crate) fn as_str(self) -> &'static str {
        match self {
            Self::Stated => "stated",
            Self::Vague => "vague",
            Self::Bare => "bare",
        }
    }
}

/// The log-odds above which the reader calls itself sure, for each group; set by `cargo xtask train`
/// on books left out.
static SURE_ABOVE: LazyLock<[f32; 3]> = LazyLock::new(|| {
    [Group::Stated, Group::Vague, Group::Bare].map(|group| {
        MODEL.get(&feature("threshold", group.as_str())).map_or(f32::MAX, |weights| weights.sure)
    })
});

/// Is the reader sure at these log-odds.
pub(crate) fn is_sure(odds: f32, group: Group) -> bool {
    odds > SURE_ABOVE[group as usize]
}

/// The log-odds above which a mention is kept.
pub(crate) static KEEP_ABOVE: LazyLock<f32> =
    LazyLock::new(|| MODEL.get(&feature("threshold", "")).map_or(0.0, |weights| weights.keep));
