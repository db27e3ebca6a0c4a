//! From printed amounts to grams and millilitres.

use std::sync::Arc;

use quartern_knowledge::{Alternative, Density, Form, Ingredient, Resolved};
use quartern_notice::{Code, Notice};
use quartern_quantity::{Cause, Count, Dimension, Figure, Mass, Quantity, Ratio, Volume};
use quartern_reading::{Amount, Item, Part, Rate, Reading, flat};
use quartern_text::{Source, Transcript, Within};

use crate::decision::Chosen;
use crate::lookup;
use crate::types::{Equal, Ground, Measured, Reason, ReckonedItem, Shift, Weighing};
use crate::words;

/// How far a word such as "good" or "scant" moves a figure that has no range of its own, as low,
/// best and high. Common practice, no source: a good pint is understood as up to a tenth over.
const OVER: (f64, f64, f64) = (1.0, 1.05, 1.1);
/// See [`OVER`].
const UNDER: (f64, f64, f64) = (0.85, 0.93, 1.0);

/// An alternative is worth naming if it weighs at least this …
pub(crate) const WORTH_NAMING: f64 = 0.05;
/// … and lies at least this far from the likeliest.
pub(crate) const APART: f64 = 0.02;

/// Equal amounts may lean on each other; no chain in print is longer than this.
const LONGEST_CHAIN: u32 = 6;

/// What the amounts of one recipe are reckoned with.
pub(crate) struct Ledger<'a> {
    pub(crate) transcript: &'a Transcript,
    pub(crate) reading: &'a Reading,
    pub(crate) at: &'a Within,
    pub(crate) elsewhere: Option<&'a Within>,
    pub(crate) chosen: Chosen,
}

impl<'a> Ledger<'a> {
    pub(crate) fn new(
        transcript: &'a Transcript,
        reading: &'a Reading,
        source: &'a Source,
        chosen: Chosen,
    ) -> Self {
        let elsewhere = source.printed.as_ref().filter(|printed| {
            let (here, there) = (source.written.place.as_str(), printed.place.as_str());
            quartern_knowledge::within(here, there).is_none()
                && quartern_knowledge::within(there, here).is_none()
        });
        Self { transcript, reading, at: &source.written, elsewhere, chosen }
    }

    /// Returns what an item is, by the register and the editor's decisions.
    pub(crate) fn ingredient(&self, index: usize) -> Option<&'static Ingredient> {
        match self.chosen.name(index) {
            Some(ingredient) => Some(ingredient),
            None => self.reading.items.get(index)?.name.ingredient,
        }
    }

    pub(crate) fn item(&self, index: usize) -> ReckonedItem {
        let reason = self.reason(index, 0);
        ReckonedItem {
            item: index,
            ingredient: self.ingredient(index),
            renamed: self.chosen.name(index).map(|ingredient| ingredient.name),
            figure: reason.figure,
            reason,
        }
    }

    fn reason(&self, index: usize, depth: u32) -> Reason {
        let item = &self.reading.items[index];
        let ingredient = self.ingredient(index);
        let mut reason = Reason {
            span: item.span,
            name: self
                .chosen
                .name(index)
                .map_or_else(|| item.name.plain.clone(), |known| known.name.to_owned()),
            at: self.at.clone(),
            ground: Ground::Unstated,
            weighing: None,
            shift: None,
            rate: match &item.rate {
                Rate::None | Rate::Base => String::new(),
                Rate::Per(words) => words.clone(),
            },
            printed_elsewhere: None,
            figure: None,
        };
        match &item.amount {
            Amount::Unstated => {}
            Amount::Vague(words) => reason.ground = Ground::Vague(words.clone()),
            Amount::Unread(words) => reason.ground = Ground::Unread(words.clone()),
            Amount::Stated(parts) => self.stated(parts, item, ingredient, &mut reason),
            Amount::SameAs { of, factor } => self.same_as(index, of, *factor, depth, &mut reason),
        }
        if self.elsewhere.is_some() && matches!(reason.ground, Ground::Measured(_)) {
            reason.printed_elsewhere = self.elsewhere.cloned();
        }
        reason
    }

    /// Reckons parts that add up.
    fn stated(
        &self,
        parts: &[Part],
        item: &Item,
        ingredient: Option<&'static Ingredient>,
        reason: &mut Reason,
    ) {
        if parts.iter().all(|part| part.unit == "count") {
            let weight = ingredient.and_then(|known| lookup::one(known, "count", self.at));
            let mut total = Quantity::exact(Count::from_things(0.0));
            for part in parts {
                total = total.plus(things(part));
            }
            reason.ground = Ground::Counted { parts: parts.to_vec(), weight };
            reason.figure = Some(Figure::Count(total));
            return;
        }
        let mut measured = Vec::with_capacity(parts.len());
        let (mut mass, mut volume, mut count) = (None, None, None);
        for part in parts {
            let word = lookup::unit(part.unit);
            match word.map(|word| word.dimension) {
                Some(None) => {
                    reason.ground = Ground::Money(part.unit);
                    return;
                }
                Some(Some(Dimension::Count | Dimension::Length)) | None
                    if !part.unit.starts_with("size:") && !part.unit.starts_with("lie-on:") =>
                {
                    let weight = ingredient.and_then(|known| lookup::one(known, part.unit, self.at));
                    if let Some(weight) = weight {
                        let grams = things(part).into_by(weight.low, weight.best, weight.high, Cause::Goods);
                        add(&mut mass, grams);
                        reason.weighing = Some(Weighing::One(weight));
                        continue;
                    }
                    if matches!(word.and_then(|word| word.dimension), Some(Dimension::Length)) {
                        reason.ground = Ground::Length(part.unit);
                        return;
                    }
                    if word.is_none() {
                        reason.ground = Ground::NoSize(part.unit);
                        return;
                    }
                    add(&mut count, things(part));
                    continue;
                }
                Some(Some(_)) | None => {}
            }
            let Some(found) = lookup::sizes(part.unit, self.at, ingredient) else {
                // A word that measures may still be a thing counted for these goods: a jar, a can.
                reason.ground = Ground::NoSize(part.unit);
                return;
            };
            let (size, decided) = match self.chosen.measure(part.unit) {
                Some((measure, decision)) => (Arc::new(alone(measure)), Some(decision)),
                None => (qualified(found, &item.qualifier, reason), None),
            };
            let (low, high) = (number(part.low), number(part.high));
            match size.dimension {
                Dimension::Mass => add(&mut mass, of::<Mass>(&size).times(low, high)),
                Dimension::Volume => add(&mut volume, of::<Volume>(&size).times(low, high)),
                Dimension::Count | Dimension::Length | Dimension::Temperature | Dimension::Time => {
                    reason.ground = Ground::Length(part.unit);
                    return;
                }
            }
            measured.push(Measured { part: *part, size, decided });
        }
        if reason.shift.is_none() {
            let moved = words::shift(&item.qualifier);
            if let Some(moved) = moved {
                volume = volume.map(|figure| shifted(figure, &moved));
                mass = mass.map(|figure| shifted(figure, &moved));
                if volume.is_some() || mass.is_some() {
                    reason.shift = Some(moved);
                }
            }
        }
        let dry = ingredient.is_some_and(|known| known.form != Form::Liquid);
        if let Some(capacity) = volume
            && dry
        {
            let known = ingredient.and_then(|known| lookup::dense(known, &item.name.prepared));
            if let Some(density) = known {
                add(&mut mass, capacity.into_by(density.low, density.best, density.high, Cause::Goods));
                volume = None;
                reason.weighing = Some(Weighing::Density(density));
            } else {
                reason.weighing = Some(Weighing::NotOnRecord);
            }
        }
        reason.figure = match (mass, volume, count) {
            (Some(mass), None, None) => Some(Figure::Mass(mass)),
            (None, Some(volume), None) => Some(Figure::Volume(volume)),
            (None, None, Some(count)) => Some(Figure::Count(count)),
            _ => None,
        };
        if let (Some(figure), [only]) = (reason.figure, measured.as_slice()) {
            let known = ingredient.and_then(|known| lookup::dense(known, &item.name.prepared));
            reason.figure = Some(widened(figure, only, known));
        }
        reason.ground = match (measured.is_empty(), reason.figure) {
            (_, None) => Ground::Mixed,
            (true, _) => Ground::Counted {
                parts: parts.to_vec(),
                weight: match reason.weighing {
                    Some(Weighing::One(weight)) => Some(weight),
                    _ => None,
                },
            },
            (false, _) => Ground::Measured(measured),
        };
    }

    /// Reckons an amount that is said to be as much as another item.
    fn same_as(&self, index: usize, of: &str, factor: Ratio<u32>, depth: u32, reason: &mut Reason) {
        let Some(other) = self.find(of, index).filter(|_| depth < LONGEST_CHAIN) else {
            reason.ground = Ground::SameAsUnknown(of.to_owned());
            return;
        };
        let item = &self.reading.items[index];
        let said = self.transcript.words(item.span).to_lowercase();
        let by_weight = ["weight", "weigh", "scale", "heavy"].iter().any(|word| said.contains(word));
        let times = number(factor);
        let theirs = self.reason(other, depth + 1);
        let mut weight = None;
        if by_weight {
            weight = self.weight_of(other, &theirs);
            reason.figure = weight.map(|weight| Figure::Mass(weight.times(times, times)));
        } else if self.reading.items[other].name.plain == item.name.plain || theirs.figure.is_none() {
            reason.figure = theirs.figure.map(|figure| figure.times(times, times));
        } else if let Amount::Stated(parts) = &self.reading.items[other].amount {
            // "The same of sugar" after a teacup of flour is a teacup of sugar, not its weight.
            let mut mine = reason.clone();
            self.stated(parts, item, self.ingredient(index), &mut mine);
            reason.figure = mine.figure.map(|figure| figure.times(times, times));
            reason.weighing = mine.weighing;
        } else {
            reason.figure = theirs.figure.map(|figure| figure.times(times, times));
        }
        reason.ground = Ground::SameAs(Box::new(Equal {
            item: other,
            of: theirs.name.clone(),
            printed: self.printed_name(other),
            factor,
            by_weight,
            reason: theirs,
            other: weight,
        }));
    }

    /// Returns the name of an item as printed, or its plain name where that is more than a name.
    fn printed_name(&self, index: usize) -> String {
        let item = &self.reading.items[index];
        let printed = flat(self.transcript.words(item.name_span)).to_lowercase();
        if printed.is_empty() || printed.split(' ').count() > 3 { item.name.plain.clone() } else { printed }
    }

    /// Returns the weight of an item, whatever it was measured by.
    fn weight_of(&self, index: usize, reason: &Reason) -> Option<Quantity<Mass>> {
        let ingredient = self.ingredient(index);
        match reason.figure? {
            Figure::Mass(mass) => Some(mass),
            Figure::Volume(volume) => {
                let known = ingredient?;
                let density = lookup::dense(known, &self.reading.items[index].name.prepared)?;
                Some(volume.into_by(density.low, density.best, density.high, Cause::Goods))
            }
            Figure::Count(count) => {
                let known = ingredient?;
                let one = lookup::one(known, "count", self.at)?;
                let (mut low, mut best, mut high) = (one.low, one.best, one.high);
                // Eggs in the scale are weighed in their shells.
                if known.id == "egg"
                    && let Some(shell) =
                        quartern_knowledge::weights().iter().find(|weight| weight.ingredient == "egg-shell")
                {
                    low += shell.low;
                    best += shell.best;
                    high += shell.high;
                }
                Some(count.into_by(low, best, high, Cause::Goods))
            }
        }
    }

    /// Finds the item that a name means: the nearest before, else the first after.
    fn find(&self, of: &str, index: usize) -> Option<usize> {
        let items = &self.reading.items;
        let is = |at: usize, exact: bool| {
            let name = &items[at].name;
            let amounts =
                !matches!(items[at].amount, Amount::Unstated | Amount::Vague(_) | Amount::Unread(_));
            let same = name.plain == of || name.also.iter().any(|other| other == of);
            let akin =
                name.plain.split(' ').any(|word| word == of) || of.split(' ').any(|word| word == name.plain);
            amounts && if exact { same } else { akin }
        };
        for exact in [true, false] {
            let before = (0..index).rev().find(|at| is(*at, exact));
            if let Some(found) = before.or_else(|| (index + 1..items.len()).find(|at| is(*at, exact))) {
                return Some(found);
            }
        }
        None
    }

    /// Returns the notices that the amounts raise.
    pub(crate) fn notices(&self, items: &[&ReckonedItem]) -> Vec<Notice> {
        let mut notices = Vec::new();
        let mut told: Vec<(&str, &str)> = Vec::new();
        let mut undense: Vec<&str> = Vec::new();
        for reckoned in items {
            let reason = &reckoned.reason;
            let words = || flat(self.transcript.words(reason.span));
            if let Ground::NoSize(unit) = reason.ground {
                notices.push(Notice {
                    code: Code::UnknownMeasure,
                    span: Some(reason.span),
                    message: format!(
                        "No size is on record for {} {}; nothing was reckoned from “{}”.",
                        words::a_unit(unit),
                        words::then_and_there(self.at),
                        words()
                    ),
                });
            }
            if let Ground::Measured(parts) = &reason.ground {
                for part in parts {
                    let first = part.size.alternatives[0].measure;
                    if !rivals(&part.size).is_empty() && !told.contains(&(first.unit, first.id)) {
                        told.push((first.unit, first.id));
                        notices.push(Notice {
                            code: Code::SeveralMeasures,
                            span: Some(reason.span),
                            message: words::several(&part.size, self.at),
                        });
                    }
                }
            }
            if reason.weighing == Some(Weighing::NotOnRecord) && !undense.contains(&reason.name.as_str()) {
                undense.push(&reason.name);
                notices.push(Notice {
                    code: Code::UnknownDensity,
                    span: Some(reason.span),
                    message: format!(
                        "No weight by measure is on record for {}; the figure stays a volume.",
                        reason.name
                    ),
                });
            }
        }
        notices
    }
}

/// Returns the sizes a word had, each once with the weights of all records of that size together,
/// the likeliest first.
pub(crate) fn grouped(size: &Resolved) -> Vec<Alternative> {
    let mut groups: Vec<Alternative> = Vec::with_capacity(size.alternatives.len());
    for other in &size.alternatives {
        let same = groups.iter_mut().find(|known| {
            known.measure.dimension == other.measure.dimension
                && (other.measure.best / known.measure.best - 1.0).abs() <= APART
        });
        match same {
            Some(known) => known.weight += other.weight,
            None => groups.push(*other),
        }
    }
    groups
}

/// Returns the sizes that are worth naming beside the one taken.
pub(crate) fn rivals(size: &Resolved) -> Vec<Alternative> {
    if size.alternatives.len() < 2 {
        return Vec::new();
    }
    let mut groups = grouped(size);
    groups.remove(0);
    groups.retain(|other| other.weight >= WORTH_NAMING);
    groups
}

/// Returns a printed number.
pub(crate) fn number(ratio: Ratio<u32>) -> f64 {
    if *ratio.denom() == 0 { 0.0 } else { f64::from(*ratio.numer()) / f64::from(*ratio.denom()) }
}

fn things(part: &Part) -> Quantity<Count> {
    Quantity::exact(Count::from_things(1.0)).times(number(part.low), number(part.high))
}

fn of<D: quartern_quantity::Measured>(size: &Resolved) -> Quantity<D> {
    Quantity::new(D::of(size.low), D::of(size.best), D::of(size.high), size.cause)
        .unwrap_or_else(|| Quantity::exact(D::of(size.best)))
}

fn add<D: quartern_quantity::Measured>(total: &mut Option<Quantity<D>>, more: Quantity<D>) {
    *total = Some(total.map_or(more, |so_far| so_far.plus(more)));
}

/// Returns one record as the only size a word has.
fn alone(measure: &'static quartern_knowledge::Measure) -> Resolved {
    Resolved {
        dimension: measure.dimension,
        alternatives: vec![Alternative { measure, weight: 1.0 }],
        low: measure.low,
        best: measure.best,
        high: measure.high,
        cause: if measure.high > measure.low { Cause::Measure } else { Cause::Exact },
    }
}

/// Returns the sizes that a printed "level" or "heaped" leaves.
fn qualified(found: Arc<Resolved>, qualifier: &str, reason: &mut Reason) -> Arc<Resolved> {
    if qualifier.is_empty() {
        return found;
    }
    let piled = |alternative: &&Alternative| {
        alternative.measure.id.ends_with("-rounded") || alternative.measure.id.ends_with("-heaped")
    };
    let kept: Vec<Alternative> = match words::filling(qualifier) {
        Some(words::Filling::Level) => found.alternatives.iter().filter(|one| !piled(one)).copied().collect(),
        Some(words::Filling::Heaped) => found.alternatives.iter().filter(piled).copied().collect(),
        None => return found,
    };
    let total: f64 = kept.iter().map(|alternative| alternative.weight).sum();
    let Some(first) = kept.first().copied().filter(|_| total > 0.0) else { return found };
    reason.shift = Some(Shift::Chose(qualifier.to_owned()));
    if kept.len() == found.alternatives.len() {
        return found;
    }
    let kept: Vec<Alternative> = kept
        .into_iter()
        .map(|one| Alternative { measure: one.measure, weight: one.weight / total })
        .collect();
    let dimension = first.measure.dimension;
    let (mut low, mut high) = (first.measure.low, first.measure.high);
    let mut cause = if high > low { Cause::Measure } else { Cause::Exact };
    for other in kept.iter().skip(1) {
        if other.weight >= WORTH_NAMING && other.measure.dimension == dimension {
            if (other.measure.best / first.measure.best - 1.0).abs() > APART {
                cause = Cause::Readings;
            }
            low = low.min(other.measure.low);
            high = high.max(other.measure.high);
        }
    }
    Arc::new(Resolved { dimension, alternatives: kept, low, best: first.measure.best, high, cause })
}

/// Widens a figure to hold the readings of its word that measure in another way: a peck of flour by
/// weight and by the vessel, an ounce of milk by the scales and by the glass.
fn widened(figure: Figure, part: &Measured, density: Option<&'static Density>) -> Figure {
    let Some(density) = density else { return figure };
    let (low, high) = (number(part.part.low), number(part.part.high.max(part.part.low)));
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut take = |from: f64, to: f64| {
        least = least.min(from * low);
        most = most.max(to * high);
    };
    for other in rivals(&part.size) {
        let record = other.measure;
        match (figure, record.dimension, part.size.dimension) {
            (Figure::Mass(_), Dimension::Volume, Dimension::Mass) => {
                take(record.low * density.low, record.high * density.high);
            }
            (Figure::Mass(_), Dimension::Mass, Dimension::Volume) => take(record.low, record.high),
            (Figure::Volume(_), Dimension::Mass, Dimension::Volume) => {
                take(record.low / density.high, record.high / density.low);
            }
            _ => {}
        }
    }
    if !(least.is_finite() && most.is_finite()) {
        return figure;
    }
    match figure {
        Figure::Mass(mass) => Figure::Mass(spread(mass, least, most)),
        Figure::Volume(volume) => Figure::Volume(spread(volume, least, most)),
        Figure::Count(_) => figure,
    }
}

fn spread<D: quartern_quantity::Measured>(figure: Quantity<D>, least: f64, most: f64) -> Quantity<D> {
    let low = figure.low().number().min(least);
    let high = figure.high().number().max(most);
    Quantity::new(D::of(low), figure.best(), D::of(high), figure.cause().with(Cause::Readings))
        .unwrap_or(figure)
}

/// Moves a figure within its range, or gives it a narrow one if it has none.
fn shifted<D: quartern_quantity::Measured>(figure: Quantity<D>, shift: &Shift) -> Quantity<D> {
    let (low, best, high) = (figure.low().number(), figure.best().number(), figure.high().number());
    let made = match (shift, high > low) {
        (Shift::Chose(_), _) => return figure,
        (Shift::Up(_), true) => (low, f64::midpoint(best, high), high),
        (Shift::Down(_), true) => (low, f64::midpoint(low, best), high),
        (Shift::Up(_), false) => (best * OVER.0, best * OVER.1, best * OVER.2),
        (Shift::Down(_), false) => (best * UNDER.0, best * UNDER.1, best * UNDER.2),
    };
    let cause = figure.cause().with(Cause::Measure);
    Quantity::new(D::of(made.0), D::of(made.1), D::of(made.2), cause).unwrap_or(figure)
}
