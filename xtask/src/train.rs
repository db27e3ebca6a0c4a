//! `cargo xtask train`: makes the reader's model anew from the marked recipes, bit for bit.
//!
//! Two logistic regressions, fitted in a fixed order. Everything
//! is `f64` arithmetic in one thread, so that the same files give the same weights.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use quartern_reading::examples;

use crate::marked::{Marked, load, meets, whole};

/// A training example: features by index, and the two labels.
struct Case {
    book: String,
    features: Vec<usize>,
    item: bool,
    right: bool,
    group: &'static str,
    /// The words with what stands about them, for a person to look at.
    shown: String,
}

const ROUNDS: usize = 300;
/// Strength of the pull towards zero, chosen by cross-validation over books on the marks trained on.
const PULL: f64 = 2.0;
const FOLDS: usize = 6;
/// How much F1 a threshold must gain for each unit of log-odds that it lies off even odds.
const FLATNESS: f64 = 0.02;
/// Of what is called sure, at most this share may be wrong on books not trained on. One in fifty is
/// the aim; with the marks at hand it would leave seven items in eight unsure.
const MOST_WRONG: f64 = 0.05;
/// A feature seen fewer times than this is left out.
const LEAST: usize = 3;

/// A fitted model.
pub(crate) struct Fitted {
    names: BTreeMap<String, usize>,
    keep: Vec<f64>,
    sure: Vec<f64>,
    keep_above: f64,
    sure_above: [(&'static str, f64); 3],
}

impl Fitted {
    fn odds(&self, weights: &[f64], features: &[String]) -> f64 {
        features.iter().filter_map(|name| self.names.get(name)).map(|at| weights[*at]).sum()
    }

    /// Is a mention with these features an item.
    pub(crate) fn keeps(&self, features: &[String]) -> bool {
        self.odds(&self.keep, features) > self.keep_above
    }

    /// Is the reader sure of it.
    pub(crate) fn is_sure(&self, features: &[String], group: &str) -> bool {
        let above =
            self.sure_above.iter().find(|(name, _)| *name == group).map_or(f64::MAX, |(_, above)| *above);
        self.odds(&self.sure, features) > above
    }
}

/// Reads the marked recipes of the project.
pub(crate) fn marked_recipes() -> Result<Vec<Marked>, String> {
    let path = "golden/marked/recipes.jsonl";
    let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    Ok(load(&text))
}

/// Which of so many folds each book belongs to.
pub(crate) fn folds(marked: &[Marked], folds: usize) -> BTreeMap<String, usize> {
    let mut books: Vec<&str> = marked.iter().map(|recipe| recipe.book.as_str()).collect();
    books.sort_unstable();
    books.dedup();
    books.iter().enumerate().map(|(at, book)| ((*book).to_owned(), at % folds)).collect()
}

/// Trains on all marked recipes and writes `crates/reading/model/items.csv`.
pub(crate) fn train(show: bool) -> Result<(), String> {
    let marked = marked_recipes()?;
    let fitted = fitted(&marked, if show { Tell::Cases } else { Tell::Figures });
    let mut out = String::from("feature,keep,sure\n");
    let _ = writeln!(out, "threshold=,{:.4},0", fitted.keep_above);
    for (group, above) in fitted.sure_above {
        let _ = writeln!(out, "threshold={group},0,{above:.4}");
    }
    for (name, at) in &fitted.names {
        let (keep, sure) = (fitted.keep[*at], fitted.sure[*at]);
        if keep.abs() > 0.004 || sure.abs() > 0.004 {
            let _ = writeln!(out, "{name},{keep:.4},{sure:.4}");
        }
    }
    let to = "crates/reading/model/items.csv";
    std::fs::write(to, out).map_err(|error| format!("{to}: {error}"))
}

/// How much to print of a fit.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tell {
    Nothing,
    Figures,
    /// Also every mention that a model which never saw its book gets wrong.
    Cases,
}

/// Fits a model; its thresholds come from folds of books left out in turn.
pub(crate) fn fitted(marked: &[Marked], tell: Tell) -> Fitted {
    let (names, cases, missed) = cases(marked);
    if tell != Tell::Nothing {
        println!(
            "{} recipes, {} mentions, {} of them items; {missed} marked items no mention met",
            marked.len(),
            cases.len(),
            cases.iter().filter(|case| case.item).count()
        );
    }
    // Log-odds of every case from a model that never saw its book.
    let fold_of = folds(marked, FOLDS);
    let mut odds = vec![(0.0, 0.0); cases.len()];
    for fold in 0..FOLDS {
        let inside = |case: &Case| fold_of.get(case.book.as_str()) != Some(&fold);
        let keep =
            fit(&names, cases.iter().filter(|case| inside(case)).map(|case| (&case.features, case.item)));
        let sure =
            fit(&names, cases.iter().filter(|case| inside(case)).map(|case| (&case.features, case.right)));
        for (case, odds) in cases.iter().zip(&mut odds) {
            if !inside(case) {
                *odds = (sum(&keep, &case.features), sum(&sure, &case.features));
            }
        }
    }
    if tell == Tell::Cases {
        for (case, odds) in cases.iter().zip(&odds) {
            if (odds.0 > 0.0) != case.item {
                println!("{} {:5.1} {}", if case.item { "MISSED" } else { "EXTRA " }, odds.0, case.shown);
            } else if case.item && !case.right {
                println!("WRONG  {:5.1} {}", odds.1, case.shown);
            }
        }
    }
    let keep_above = best_keep(&cases, &odds, tell);
    let sure_above =
        ["stated", "vague", "bare"].map(|group| (group, best_sure(&cases, &odds, keep_above, group, tell)));
    let keep = fit(&names, cases.iter().map(|case| (&case.features, case.item)));
    let sure = fit(&names, cases.iter().map(|case| (&case.features, case.right)));
    Fitted { names, keep, sure, keep_above, sure_above }
}

/// The book, the features by name, is it an item, is it read right, its group, and how it is shown.
type RawCase = (String, Vec<String>, bool, bool, &'static str, String);

fn cases(marked: &[Marked]) -> (BTreeMap<String, usize>, Vec<Case>, usize) {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut raw: Vec<RawCase> = Vec::new();
    let mut missed = 0;
    for recipe in marked {
        let mut used = vec![false; recipe.items.len()];
        let mut met: Vec<Option<usize>> = Vec::new();
        let title = (!recipe.title.is_empty()).then_some(recipe.title.as_str());
        let all = examples(&recipe.text, title, &mut |span, _| {
            let hit = (0..recipe.items.len())
                .filter(|at| !used[*at] && meets(&recipe.items[*at], span.start(), span.end()))
                .max_by_key(|at| {
                    let item = &recipe.items[*at];
                    item.end.min(span.end()).saturating_sub(item.start.max(span.start()))
                });
            if let Some(at) = hit {
                used[at] = true;
            }
            met.push(hit);
            hit.is_some()
        });
        missed += used.iter().filter(|used| !**used).count();
        for (example, met) in all.into_iter().zip(met) {
            let right = met.is_some_and(|at| whole(&recipe.items[at], &example.item));
            for name in &example.features {
                *counts.entry(name.clone()).or_default() += 1;
            }
            let span = example.item.span;
            let text = recipe.text.as_str();
            let mut from = span.start().saturating_sub(50);
            while !text.is_char_boundary(from) {
                from -= 1;
            }
            let mut to = (span.end() + 40).min(text.len());
            while !text.is_char_boundary(to) {
                to += 1;
            }
            let shown = format!(
                "{} | {}[{}]{} | {} | {} | {:?}",
                recipe.book,
                &text[from..span.start()],
                &text[span.start()..span.end()],
                &text[span.end()..to],
                example.item.name.plain,
                example.item.rule,
                example.item.amount,
            )
            .replace('\n', " ");
            raw.push((recipe.book.clone(), example.features, met.is_some(), right, example.group, shown));
        }
    }
    let names: BTreeMap<String, usize> = counts
        .into_iter()
        .filter(|(_, count)| *count >= LEAST)
        .enumerate()
        .map(|(at, (name, _))| (name, at))
        .collect();
    let cases = raw
        .into_iter()
        .map(|(book, features, item, right, group, shown)| Case {
            book,
            features: features.iter().filter_map(|name| names.get(name).copied()).collect(),
            item,
            right,
            group,
            shown,
        })
        .collect();
    (names, cases, missed)
}

fn sum(weights: &[f64], features: &[usize]) -> f64 {
    features.iter().map(|at| weights[*at]).sum()
}

/// Minimises the logistic loss with a quadratic pull towards zero, by Nesterov's method with a step
/// for each weight from the bound on its curvature (a quarter of the squared features).
fn fit<'a>(
    names: &BTreeMap<String, usize>,
    cases: impl Iterator<Item = (&'a Vec<usize>, bool)> + Clone,
) -> Vec<f64> {
    let cases: Vec<(&Vec<usize>, bool)> = cases.collect();
    let mut curvature = vec![PULL; names.len()];
    for (features, _) in &cases {
        for at in *features {
            curvature[*at] += 0.25 * features.len() as f64;
        }
    }
    let mut weights = vec![0.0_f64; names.len()];
    let mut before = weights.clone();
    let mut slope = vec![0.0_f64; names.len()];
    for round in 0..ROUNDS {
        let push = round as f64 / (round as f64 + 3.0);
        let ahead: Vec<f64> =
            weights.iter().zip(&before).map(|(now, then)| now + push * (now - then)).collect();
        for (slope, weight) in slope.iter_mut().zip(&ahead) {
            *slope = PULL * weight;
        }
        for (features, label) in &cases {
            let probability = 1.0 / (1.0 + (-sum(&ahead, features)).exp());
            let error = probability - f64::from(u8::from(*label));
            for at in *features {
                slope[*at] += error;
            }
        }
        before = weights;
        weights = ahead
            .iter()
            .zip(&slope)
            .zip(&curvature)
            .map(|((weight, slope), curvature)| weight - slope / curvature)
            .collect();
    }
    weights
}

/// The log-odds above which keeping gives the best F1, or as good as the best: the top of the curve is
/// flat, and of what is nearly as good the even odds are the least of a fluke.
fn best_keep(cases: &[Case], odds: &[(f64, f64)], tell: Tell) -> f64 {
    let gold = cases.iter().filter(|case| case.item).count() as f64;
    let mut best = (0.0, 0.0);
    for step in -20..=20 {
        let above = f64::from(step) * 0.1;
        let kept: Vec<&Case> =
            cases.iter().zip(odds).filter(|(_, odds)| odds.0 > above).map(|(case, _)| case).collect();
        let hits = kept.iter().filter(|case| case.item).count() as f64;
        let f1 = 2.0 * hits / (gold + kept.len() as f64);
        let score = f1 - FLATNESS * above.abs();
        if score > best.0 + 1e-9 {
            best = (score, above);
        }
    }
    best.0 += FLATNESS * best.1.abs();
    if tell != Tell::Nothing {
        println!("left-out folds: mentions kept F1 {:.4} above {:.1}", best.0, best.1);
    }
    best.1
}

/// The log-odds above which no more than the allowed share is wrong.
fn best_sure(cases: &[Case], odds: &[(f64, f64)], keep_above: f64, group: &str, tell: Tell) -> f64 {
    let kept: Vec<(f64, bool)> = cases
        .iter()
        .zip(odds)
        .filter(|(case, odds)| odds.0 > keep_above && case.group == group)
        .map(|(case, odds)| (odds.1, case.right))
        .collect();
    let wrong_above = |above: f64| {
        let sure: Vec<bool> =
            kept.iter().filter(|(odds, _)| *odds > above).map(|(_, right)| *right).collect();
        let wrong = sure.iter().filter(|right| !**right).count() as f64 / sure.len().max(1) as f64;
        (wrong, sure.len() as f64 / kept.len().max(1) as f64)
    };
    let mut answer = 8.0;
    for step in (-10..=80).rev() {
        let above = f64::from(step) * 0.1;
        if wrong_above(above).0 <= MOST_WRONG {
            answer = above;
        }
    }
    if tell != Tell::Nothing {
        let right = kept.iter().filter(|(_, right)| *right).count() as f64 / kept.len().max(1) as f64;
        let (wrong, share) = wrong_above(answer);
        println!(
            "left-out folds, {group}: {} kept, {right:.4} right in every way; sure above {answer:.1}: {share:.4}, {wrong:.4} of them wrong",
            kept.len()
        );
    }
    answer
}
