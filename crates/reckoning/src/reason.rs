//! Reasons in words: one sentence for a table, several for the note of an edition.

use std::fmt::Write;

use quartern_knowledge::{Evidence, Weight};
use quartern_quantity::{Cause, Dimension, Figure};
use quartern_reading::{HeatOf, Part};

use crate::figures::{number, rivals};
use crate::types::{Equal, Ground, HeatGround, HeatReason, Measured, Reason, ReckonedHeat, Shift, Weighing};
use crate::words;

impl Reason {
    /// Returns the reason as one short sentence without a full stop.
    #[must_use]
    pub fn why(&self) -> String {
        words::capital(&self.why_plain())
    }

    fn why_plain(&self) -> String {
        match &self.ground {
            Ground::Unstated => "the source gives no amount".to_owned(),
            Ground::Vague(said) => format!("the source says “{said}” and gives no number"),
            Ground::Unread(said) => format!("the amount “{said}” could not be read"),
            Ground::Counted { parts, weight } => self.why_counted(parts, *weight),
            Ground::Measured(parts) => self.why_measured(parts),
            Ground::SameAs(equal) => self.why_equal(equal),
            Ground::SameAsUnknown(of) => format!("as much as the {of}, whose amount is not known"),
            Ground::NoSize(unit) => {
                format!(
                    "no size is on record for {} {}",
                    words::a_unit(unit),
                    words::then_and_there(&self.at)
                )
            }
            Ground::Money(unit) => {
                format!("{} is a sum of money; what it bought is not known", words::a_unit(unit))
            }
            Ground::Length(unit) => {
                format!("{} is a length; no weight is on record for it", words::a_unit(unit))
            }
            Ground::Mixed => "its parts are of kinds that do not add up".to_owned(),
        }
    }

    fn why_counted(&self, parts: &[Part], weight: Option<&'static Weight>) -> String {
        let printed = joined(parts.iter().map(words::part));
        match (self.figure, weight) {
            (Some(Figure::Mass(_)), Some(weight)) => {
                let unit = parts.first().map_or("count", |part| part.unit);
                format!(
                    "{printed}{}, {} of {} weighing {} ({}), so {}",
                    self.shift_words(),
                    words::a_unit(unit),
                    self.name,
                    span_of(weight.low, weight.best, weight.high, Dimension::Mass),
                    words::brief(&weight.evidence),
                    self.figure_words()
                )
            }
            (_, Some(weight)) => {
                let (low, best, high) = counted(parts);
                format!(
                    "{printed}, as printed; about {} at {} each ({})",
                    span_of(low * weight.low, best * weight.best, high * weight.high, Dimension::Mass),
                    span_of(weight.low, weight.best, weight.high, Dimension::Mass),
                    words::brief(&weight.evidence)
                )
            }
            (_, None) => format!("{printed}, as printed"),
        }
    }

    fn why_measured(&self, parts: &[Measured]) -> String {
        let mut text = String::with_capacity(96);
        for (index, measured) in parts.iter().enumerate() {
            if index > 0 {
                text.push_str(" and ");
            }
            text.push_str(&words::part(&measured.part));
            let first = &measured.size.alternatives[0];
            let told =
                parts[..index].iter().any(|other| other.size.alternatives[0].measure.id == first.measure.id);
            if told || plain_metric(first.measure) {
                continue;
            }
            let _ = write!(
                text,
                ", {} of {} ({}{})",
                first.measure.name,
                words::size(first.measure.best, first.measure.dimension),
                words::brief(&first.measure.evidence),
                if measured.decided.is_some() { "; the editor's choice" } else { "" }
            );
        }
        text.push_str(&self.shift_words());
        match self.weighing {
            Some(Weighing::Density(density)) => {
                let _ = write!(
                    text,
                    ", at {} g a millilitre ({})",
                    words::number(density.best),
                    words::brief(&density.evidence)
                );
            }
            Some(Weighing::One(weight)) => {
                let _ = write!(
                    text,
                    ", {} g each ({})",
                    words::number(weight.best),
                    words::brief(&weight.evidence)
                );
            }
            Some(Weighing::NotOnRecord) => text.push_str(", with no weight by measure on record"),
            None => {}
        }
        let _ = write!(text, ", so {}", self.figure_words());
        text
    }

    /// Writes the word printed with the measure: `, “heaped”`.
    fn shift_words(&self) -> String {
        match &self.shift {
            Some(Shift::Chose(word) | Shift::Up(word) | Shift::Down(word)) => format!(", “{word}”"),
            None => String::new(),
        }
    }

    fn why_equal(&self, equal: &Equal) -> String {
        let times = factor(equal, &self.name);
        let so = if self.figure.is_some() {
            let rests = equal.reason.evidence();
            let source =
                rests.first().map_or_else(String::new, |first| format!(" ({})", words::brief(first)));
            format!("{source}, so {}", self.figure_words())
        } else {
            ", whose weight is not known".to_owned()
        };
        format!("{times}{so}")
    }

    /// Writes the figure: `142 ml (118–170 ml)`.
    fn figure_words(&self) -> String {
        let Some(figure) = self.figure else { return "nothing".to_owned() };
        let (low, best, high) = figure.numbers();
        let dimension = words::dimension(figure);
        if high > low {
            format!("{} ({})", words::size(best, dimension), words::sizes(low, high, dimension))
        } else {
            words::size(best, dimension)
        }
    }

    /// Returns the reason as whole sentences, the last of which names the sources.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let mut out = self.telling();
        out.extend(self.sources());
        out
    }

    /// Returns the sentences without the one that names the sources.
    #[must_use]
    pub fn telling(&self) -> Vec<String> {
        let mut out = Vec::new();
        self.tell(&mut out, &mut Vec::new());
        if !self.rate.is_empty() {
            out.push(format!("This is a rate, “{}”: it is given as printed and not multiplied.", self.rate));
        }
        out
    }

    /// Returns the sentence that names the sources, if the figure rests on any.
    #[must_use]
    pub fn sources(&self) -> Option<String> {
        let mut sources = Vec::new();
        self.tell(&mut Vec::new(), &mut sources);
        source_line(&sources)
    }

    fn tell(&self, out: &mut Vec<String>, sources: &mut Vec<(&'static str, Evidence)>) {
        match &self.ground {
            Ground::Unstated => out.push("The source gives no amount, and none is reckoned.".to_owned()),
            Ground::Vague(said) => {
                out.push(format!("The source says “{said}” and gives no number, so none is reckoned."));
            }
            Ground::Unread(said) => {
                out.push(format!(
                    "An amount stands here, “{said}”, that could not be read; nothing is reckoned from it."
                ));
            }
            Ground::Counted { parts, weight } => self.tell_counted(parts, *weight, out, sources),
            Ground::Measured(parts) => self.tell_measured(parts, out, sources),
            Ground::SameAs(equal) => {
                out.push(format!("It is {}.", factor(equal, &self.name)));
                equal.reason.tell(out, sources);
                if let Some(weight) = equal.other {
                    let weighs = span_of(
                        weight.low().grams(),
                        weight.best().grams(),
                        weight.high().grams(),
                        Dimension::Mass,
                    );
                    match equal.reason.figure {
                        Some(Figure::Count(_)) if equal.of == "egg" => {
                            out.push(format!(
                                "In their shells, as they lie in the scale, they weigh about {weighs}."
                            ));
                        }
                        Some(Figure::Volume(_)) => out.push(format!("It weighs about {weighs}.")),
                        Some(Figure::Count(_) | Figure::Mass(_)) | None => {}
                    }
                }
                if self.figure.is_some() {
                    out.push(self.makes().replacen("That makes", "So it is", 1));
                } else {
                    out.push("The weight of the other is not known, so nothing is reckoned.".to_owned());
                }
            }
            Ground::SameAsUnknown(of) => {
                out.push(format!(
                    "It is as much as the {of}, whose amount is not known, so nothing is reckoned."
                ));
            }
            Ground::NoSize(unit) => out.push(format!(
                "The register has no size for {} {}, so nothing is reckoned.",
                words::a_unit(unit),
                words::then_and_there(&self.at)
            )),
            Ground::Money(unit) => out.push(format!(
                "{} is a sum of money; how much it bought is not known, so nothing is reckoned.",
                words::capital(&words::a_unit(unit))
            )),
            Ground::Length(unit) => out.push(format!(
                "{} is a length, and no weight is on record for so long a piece, so nothing is reckoned.",
                words::capital(&words::a_unit(unit))
            )),
            Ground::Mixed => {
                out.push(
                    "The parts of this amount are of kinds that do not add up, so nothing is reckoned."
                        .to_owned(),
                );
            }
        }
    }

    fn tell_counted(
        &self,
        parts: &[Part],
        weight: Option<&'static Weight>,
        out: &mut Vec<String>,
        sources: &mut Vec<(&'static str, Evidence)>,
    ) {
        let printed = joined(parts.iter().map(words::part));
        out.push(format!("Counted as {printed}."));
        let ranged = parts.iter().any(|part| part.high > part.low);
        if ranged && !matches!(self.figure, Some(Figure::Mass(_))) {
            out.push("The source prints a range; the middle is taken.".to_owned());
        }
        let Some(weight) = weight else { return };
        let (low, best, high) = counted(parts);
        let unit = parts.first().map_or("count", |part| part.unit);
        let one = if unit == "count" { "One".to_owned() } else { words::capital(&words::a_unit(unit)) };
        out.push(format!(
            "{one} weighed about {} {}.",
            span_of(weight.low, weight.best, weight.high, Dimension::Mass),
            words::then_and_there(&self.at)
        ));
        push_note(&weight.evidence, out);
        self.tell_shift(out);
        let total = span_of(low * weight.low, best * weight.best, high * weight.high, Dimension::Mass);
        if matches!(self.figure, Some(Figure::Mass(_))) {
            out.push(self.makes());
        } else if best > 1.0 + 1e-9 {
            out.push(format!("Together they come to about {total}."));
        } else if best < 1.0 - 1e-9 {
            out.push(format!("That comes to about {total}."));
        }
        sources.push(("the weight", weight.evidence));
    }

    fn tell_measured(
        &self,
        parts: &[Measured],
        out: &mut Vec<String>,
        sources: &mut Vec<(&'static str, Evidence)>,
    ) {
        out.push(format!("Read as {}.", joined(parts.iter().map(|measured| words::part(&measured.part)))));
        let mut told: Vec<&str> = Vec::new();
        for measured in parts {
            let first = &measured.size.alternatives[0];
            let record = first.measure;
            if plain_metric(record) || told.contains(&record.id) {
                continue;
            }
            told.push(record.id);
            let size = words::size(record.best, record.dimension);
            let unit = words::a_unit(record.unit);
            let range = if record.high > record.low {
                format!(" ({})", words::sizes(record.low, record.high, record.dimension))
            } else {
                String::new()
            };
            let several = !rivals(&measured.size).is_empty();
            let was = match (measured.decided.is_some(), several) {
                (true, _) => "is taken by the editor as",
                (false, true) => "was most likely",
                (false, false) => "was",
            };
            let when = words::then_and_there(&self.at);
            let held = if several { "most likely held" } else { held(record.dimension) };
            let whole = words::unit(record.unit);
            out.push(if measured.decided.is_some() {
                format!("{} {was} the {}, {size}{range}.", words::capital(&unit), record.name)
            } else if record.name.starts_with(&whole) {
                format!("{} {} {held} {size}{range}.", words::capital(&when), words::a(record.name))
            } else {
                format!("{} {unit} {was} the {}, {size}{range}.", words::capital(&when), record.name)
            });
            push_note(&record.evidence, out);
            sources.push(("the measure", record.evidence));
        }
        self.tell_shift(out);
        match self.weighing {
            Some(Weighing::Density(density)) => {
                let packing = match density.form {
                    "" | "liquid" | "powder" | "grains" | "pieces" | "paste" | "whole" => self.name.clone(),
                    form => format!("{}, {form},", self.name),
                };
                let range = if density.high > density.low {
                    format!(" ({}–{})", words::number(density.low), words::number(density.high))
                } else {
                    String::new()
                };
                out.push(format!(
                    "{} weighs {}{range} g a millilitre, as it lies in the measure.",
                    words::capital(&packing),
                    words::number(density.best)
                ));
                push_note(&density.evidence, out);
                sources.push(("the density", density.evidence));
            }
            Some(Weighing::One(weight)) => {
                out.push(format!(
                    "One piece weighs about {}.",
                    span_of(weight.low, weight.best, weight.high, Dimension::Mass)
                ));
                push_note(&weight.evidence, out);
                sources.push(("the weight", weight.evidence));
            }
            Some(Weighing::NotOnRecord) => {
                out.push(
                    "No weight by measure is on record for it, so the figure stays a volume.".to_owned(),
                );
            }
            None => {}
        }
        // "½ pint" wants its sum; one pound of 454 g has been told already.
        let told = match (parts, self.figure) {
            ([only], Some(figure)) => {
                let (low, best, high) = figure.numbers();
                let record = only.size.alternatives[0].measure;
                low.total_cmp(&record.low).is_eq()
                    && best.total_cmp(&record.best).is_eq()
                    && high.total_cmp(&record.high).is_eq()
            }
            _ => false,
        };
        if !told {
            out.push(self.makes());
        }
    }

    fn tell_shift(&self, out: &mut Vec<String>) {
        match &self.shift {
            Some(Shift::Chose(word)) => out.push(format!(
                "“{}” was printed with it, and the size taken is the one for that.",
                words::capital(word)
            )),
            Some(Shift::Up(word)) => out.push(format!(
                "“{}” was printed with it, so the best figure is moved up (common practice, no source).",
                words::capital(word)
            )),
            Some(Shift::Down(word)) => out.push(format!(
                "“{}” was printed with it, so the best figure is moved down (common practice, no source).",
                words::capital(word)
            )),
            None => {}
        }
    }

    /// Says what it comes to, and why there is a range.
    fn makes(&self) -> String {
        let Some(figure) = self.figure else { return "Nothing is reckoned.".to_owned() };
        let (low, best, high) = figure.numbers();
        let dimension = words::dimension(figure);
        if high > low {
            format!(
                "That makes {}, between {}, because {}.",
                words::size(best, dimension),
                words::sizes(low, high, dimension).replace('–', " and "),
                figure.cause().words()
            )
        } else {
            format!("That makes {}.", words::size(best, dimension))
        }
    }

    /// Returns the assumption made, as a sentence; empty where there is none.
    #[must_use]
    pub fn assumption(&self) -> String {
        let mut parts: Vec<String> = Vec::new();
        if let Ground::Measured(measured) = &self.ground {
            if measured.iter().any(|part| part.decided.is_none() && !rivals(&part.size).is_empty()) {
                parts.push("The likeliest size of the measure is taken.".to_owned());
            }
            if let Some(printed) = &self.printed_elsewhere {
                parts.push(format!(
                    "The measures are those of {}, where the author wrote, and not of {}, where this copy was printed.",
                    words::place(self.at.place),
                    words::place(printed.place)
                ));
            }
        }
        if let Some(figure) = self.figure
            && matches!(figure.cause(), Cause::Goods | Cause::MeasureAndGoods)
            && matches!(self.weighing, Some(Weighing::Density(_)))
        {
            parts.push(
                "It is put in lightly and struck off level, unless the words say otherwise.".to_owned(),
            );
        }
        parts.join(" ")
    }

    /// Returns the other sizes the measure may have had, with their likelihood in per cent.
    #[must_use]
    pub fn alternatives(&self) -> Vec<(String, u32)> {
        let Ground::Measured(parts) = &self.ground else { return Vec::new() };
        let mut out = Vec::new();
        for measured in parts {
            for other in rivals(&measured.size) {
                let entry = (
                    format!(
                        "{}, {}",
                        words::named_apart(other.measure, &measured.size).trim_end_matches(','),
                        span_of(
                            other.measure.low,
                            other.measure.best,
                            other.measure.high,
                            other.measure.dimension
                        )
                    ),
                    words::per_cent(other.weight),
                );
                if !out.contains(&entry) {
                    out.push(entry);
                }
            }
        }
        out
    }

    /// Returns what the figure rests on, in the order of the sentences.
    #[must_use]
    pub fn evidence(&self) -> Vec<Evidence> {
        let mut sources = Vec::new();
        self.tell(&mut Vec::new(), &mut sources);
        sources.into_iter().map(|(_, evidence)| evidence).collect()
    }
}

impl ReckonedHeat {
    /// Returns the reason as one short sentence without a full stop.
    #[must_use]
    pub fn why(&self) -> String {
        words::capital(&self.why_plain())
    }

    fn why_plain(&self) -> String {
        match (&self.reason.ground, self.celsius) {
            (HeatGround::Printed, _) => "the degrees are printed".to_owned(),
            (HeatGround::Record(oven), Some(celsius)) => format!(
                "“{}” was {} °C, {}–{} °C ({})",
                self.reason.words,
                words::number(celsius.best().celsius()),
                words::number(celsius.low().celsius()),
                words::number(celsius.high().celsius()),
                words::brief(&oven.evidence)
            ),
            (HeatGround::Record(_) | HeatGround::None, _) => self.reason.nothing().to_owned(),
        }
    }

    /// Returns the reason as whole sentences, the last of which names the source.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        match (&self.reason.ground, self.celsius) {
            (HeatGround::Printed, Some(celsius)) => {
                let (low, high) = (celsius.low().celsius(), celsius.high().celsius());
                vec![if high > low {
                    format!(
                        "The degrees are printed in the source: {}–{} °C.",
                        words::number(low),
                        words::number(high)
                    )
                } else {
                    format!("The degrees are printed in the source: {} °C.", words::number(low))
                }]
            }
            (HeatGround::Record(oven), Some(celsius)) => {
                let mut out = vec![format!(
                    "“{}” is taken, {}, as about {} °C, between {} and {} °C.",
                    words::capital(&self.reason.words),
                    words::then_and_there(&self.reason.at),
                    words::number(celsius.best().celsius()),
                    words::number(celsius.low().celsius()),
                    words::number(celsius.high().celsius())
                )];
                push_note(&oven.evidence, &mut out);
                out.extend(source_line(&[("the heat", oven.evidence)]));
                out
            }
            (HeatGround::Printed | HeatGround::Record(_) | HeatGround::None, _) => {
                vec![words::stop(&words::capital(self.reason.nothing()))]
            }
        }
    }

    /// Returns what the degrees rest on, if there are any.
    #[must_use]
    pub fn evidence(&self) -> Option<Evidence> {
        match self.reason.ground {
            HeatGround::Record(oven) => Some(oven.evidence),
            HeatGround::Printed | HeatGround::None => None,
        }
    }
}

impl HeatReason {
    fn nothing(&self) -> &'static str {
        match self.of {
            HeatOf::Oven => "no degrees are on record for these words",
            HeatOf::Fire => "a fire under a pan has no one temperature; no degrees are given",
            HeatOf::Fat => "no degrees are on record for fat described so",
        }
    }
}

/// Is a record a metric unit, which needs no word of explanation?
fn plain_metric(measure: &quartern_knowledge::Measure) -> bool {
    matches!(
        measure.unit,
        "gram" | "kilogram" | "milligram" | "hectogram" | "millilitre" | "litre" | "decilitre" | "centilitre"
    )
}

fn held(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Mass => "weighed",
        Dimension::Volume => "held",
        Dimension::Count | Dimension::Length | Dimension::Temperature | Dimension::Time => "was",
    }
}

/// Says which other item it equals: `the flour has the weight of the eggs`.
fn factor(equal: &Equal, name: &str) -> String {
    let one = number(equal.factor);
    let times = if (one - 1.0).abs() < 1e-9 {
        String::new()
    } else if (one - 0.5).abs() < 1e-9 {
        "half ".to_owned()
    } else {
        format!("{} times ", words::ratio(equal.factor))
    };
    match (equal.by_weight, equal.of == name) {
        (true, _) => format!("{times}the weight of the {}", equal.printed),
        (false, true) => {
            format!("{}of the {}", if times.is_empty() { "all " } else { &times }, equal.printed)
        }
        (false, false) => format!("{times}as much as there is {}", equal.of),
    }
}

fn counted(parts: &[Part]) -> (f64, f64, f64) {
    let low: f64 = parts.iter().map(|part| number(part.low)).sum();
    let high: f64 = parts.iter().map(|part| number(part.high.max(part.low))).sum();
    (low, f64::midpoint(low, high), high)
}

fn span_of(low: f64, best: f64, high: f64, dimension: Dimension) -> String {
    if high > low {
        format!("{} ({})", words::size(best, dimension), words::sizes(low, high, dimension))
    } else {
        words::size(best, dimension)
    }
}

fn push_note(evidence: &Evidence, out: &mut Vec<String>) {
    if !evidence.note.is_empty() {
        out.push(words::stop(&words::capital(&words::curly(evidence.note))));
    }
}

fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(" and ")
}

/// Writes the sources as one sentence.
fn source_line(sources: &[(&'static str, Evidence)]) -> Option<String> {
    let mut entries: Vec<(Vec<&'static str>, String)> = Vec::new();
    for (what, evidence) in sources {
        let cited = words::brief(evidence);
        match entries.iter_mut().find(|(_, known)| *known == cited) {
            Some((whats, _)) if whats.contains(what) => {}
            Some((whats, _)) => whats.push(what),
            None => entries.push((vec![what], cited)),
        }
    }
    match entries.as_slice() {
        [] => None,
        [(whats, cited)] if cited.starts_with("common practice") || cited == "from memory" => {
            let are = if whats.len() > 1 { "are" } else { "is" };
            let what = words::capital(&whats.join(" and "));
            Some(if cited == "from memory" {
                format!("{what} {are} given from memory.")
            } else {
                format!("{what} {are} common practice, no source.")
            })
        }
        [(_, cited)] => Some(format!("Source: {}.", words::capital(cited))),
        several => {
            let told: Vec<String> = several
                .iter()
                .map(|(whats, cited)| format!("for {}, {cited}", whats.join(" and ")))
                .collect();
            Some(format!("Sources: {}.", told.join("; ")))
        }
    }
}
