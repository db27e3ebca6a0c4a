//! The edition of a recipe: everything found out about it, in the order of the page.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use quartern_edition as tree;
use quartern_edition::{Edition, GapKind, LineAmount, MarkKind, ModernAmount, NoteNumber, kitchen};
use quartern_knowledge::{Evidence, authority, cite, full, place_name};
use quartern_notice::{Code, Notice};
use quartern_quantity::{Figure, Quantity, Temperature, Time};
use quartern_reading::{Amount, HeatOf, Item, Rate, Ratio, flat};
use quartern_reckoning as reckoned;
use quartern_reckoning::words::capital;
use quartern_reckoning::{Decision, DecisionKind, HeatGround, ReckonedHeat, ReckonedItem};
use quartern_text::Span;

use crate::titles::{Meant, meant};
use crate::{Given, Worked, work};

/// The longest chain of references that is followed.
const MOST_PARTS: usize = 24;

/// A text with more ingredients and steps than this is no list of ingredients with its method.
const MOST_COMPARISONS: usize = 40_000;

/// So many of the words that raised a caution are shown, at most.
const MOST_WORDS: usize = 6;

/// Returns the word for a gap, as decisions write it.
pub(crate) fn gap_word(kind: reckoned::GapKind) -> &'static str {
    match kind {
        reckoned::GapKind::Heat => "heat",
        reckoned::GapKind::Time => "time",
        reckoned::GapKind::Amount => "amount",
        reckoned::GapKind::Recipe => "recipe",
    }
}

/// Returns the word for how grave a hazard is, as the register writes it.
pub(crate) fn severity_word(severity: quartern_knowledge::Severity) -> &'static str {
    match severity {
        quartern_knowledge::Severity::Grave => "grave",
        quartern_knowledge::Severity::Careful => "careful",
    }
}

/// Makes an edition. The first given is the recipe; the others are at hand for its references.
///
/// # Panics
/// If no recipe is given.
#[must_use]
pub fn edition(givens: &[Given], decisions: &[Decision], version: &str) -> Edition {
    let first = givens.first().expect("an edition is made of at least one recipe");
    let mut maker = Maker::new(first, decisions, version);
    let plan = follow(givens, decisions, &mut maker);
    for (index, part) in plan.iter().enumerate() {
        maker.part(index, part);
    }
    maker.finish(&plan)
}

/// A recipe within the edition, worked.
struct Planned<'a> {
    given: &'a Given,
    title: String,
    referred_by: String,
    worked: Worked,
    /// The decisions it was worked with.
    decisions: Vec<Decision>,
    /// References that lead nowhere, with what to say.
    missing: Vec<(Span, String)>,
}

/// Follows the references from the first recipe, each recipe once, in the order of the references.
fn follow<'a>(givens: &'a [Given], decisions: &[Decision], maker: &mut Maker<'_>) -> Vec<Planned<'a>> {
    let titles: Vec<String> = givens.iter().map(heading).collect();
    let mut plan: Vec<Planned<'a>> = Vec::new();
    let mut taken: Vec<usize> = Vec::new();
    let mut left: Vec<Decision> = decisions.to_vec();
    // A recipe, the words that refer to it, and the way there.
    let mut waiting: VecDeque<(usize, String, Vec<usize>)> = VecDeque::from([(0, String::new(), vec![0])]);
    while let Some((index, referred_by, way)) = waiting.pop_front() {
        if taken.contains(&index) || plan.len() >= MOST_PARTS {
            continue;
        }
        taken.push(index);
        let given = &givens[index];
        let worked = work(given, &left);
        let own = left.clone();
        // What fills a gap here fills none in the recipes it refers to.
        let used: Vec<usize> = worked
            .reckoning
            .gaps
            .iter()
            .filter_map(|gap| gap.supplied.as_ref().map(|put| put.decision))
            .collect();
        let mut at = 0;
        left.retain(|_| {
            at += 1;
            !used.contains(&(at - 1))
        });
        let mut missing = Vec::new();
        for reference in &worked.reading.references {
            let words = flat(given.transcript.words(reference.span));
            let around = worked
                .reading
                .steps
                .iter()
                .find(|step| step.span.meets(reference.span))
                .map_or_else(|| words.clone(), |step| flat(given.transcript.words(step.span)));
            match meant(reference, &around, givens, &titles, index) {
                Meant::One(other) if way.contains(&other) => {
                    maker.notice(
                        Code::CircularReference,
                        format!(
                            "“{words}” leads back to “{}”; the ring was cut here.",
                            clean(&titles[other])
                        ),
                        words,
                    );
                }
                Meant::One(other) => {
                    let mut further = way.clone();
                    further.push(other);
                    waiting.push_back((other, words, further));
                }
                Meant::Missing => {
                    maker.notice(
                        Code::MissingReference,
                        format!("The recipe that “{words}” points to was not given."),
                        words.clone(),
                    );
                    missing.push((
                        reference.span,
                        format!("The recipe that “{words}” points to is not at hand."),
                    ));
                }
                Meant::Several(found) => {
                    let names: Vec<String> =
                        found.iter().map(|other| format!("“{}”", clean(&titles[*other]))).collect();
                    maker.notice(
                        Code::SeveralReferences,
                        format!("“{words}” may point to {}; none was taken.", listed(&names, "or")),
                        words.clone(),
                    );
                    missing.push((
                        reference.span,
                        format!("More than one recipe answers to “{words}”, and none was taken."),
                    ));
                }
            }
        }
        plan.push(Planned {
            given,
            title: titles[index].clone(),
            referred_by,
            worked,
            decisions: own,
            missing,
        });
    }
    plan
}

/// Returns a recipe's heading as printed, or as given.
fn heading(given: &Given) -> String {
    if let Some(title) = &given.title {
        return flat(title);
    }
    quartern_reading::read(given.transcript.as_str(), None)
        .value
        .title
        .map_or_else(String::new, |span| flat(given.transcript.words(span)))
}

/// Returns a heading without signs of emphasis and its last stop.
fn clean(title: &str) -> String {
    let plain: String = title.chars().filter(|letter| !matches!(letter, '_' | '*' | '#')).collect();
    plain.trim().trim_end_matches(['.', ':', '-', '—', ',']).trim().to_owned()
}

/// Writes names as a list: "the flour, the sugar and the milk".
fn listed(names: &[String], last: &str) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [some @ .., end] => format!("{} {last} {end}", some.join(", ")),
    }
}

/// What a note is about.
enum Noted {
    Item(usize),
    Time(usize),
    Heat(usize),
}

struct Maker<'a> {
    edition: Edition,
    decisions: &'a [Decision],
    glosses_told: Vec<&'static str>,
    told: BTreeSet<(Code, String, String)>,
}

impl<'a> Maker<'a> {
    fn new(first: &Given, decisions: &'a [Decision], version: &str) -> Self {
        Self {
            edition: Edition {
                title: clean(&heading(first)),
                source: first.source.clone(),
                place_name: place_name(first.source.written.place).to_owned(),
                cautions: Vec::new(),
                allergens: Vec::new(),
                parts: Vec::new(),
                supplies: Vec::new(),
                glosses: Vec::new(),
                notes: Vec::new(),
                notices: Vec::new(),
                authorities: Vec::new(),
                decisions: Vec::new(),
                made_with: format!("quartern {version}"),
            },
            decisions,
            glosses_told: Vec::new(),
            told: BTreeSet::new(),
        }
    }

    fn notice(&mut self, code: Code, message: String, words: String) {
        if self.told.insert((code, message.clone(), words.clone())) {
            self.edition.notices.push(tree::EditorNotice { code: code.as_str(), message, words });
        }
    }

    /// Returns the place of an authority in the list, adding it if it is new.
    fn authority(&mut self, evidence: &Evidence) -> usize {
        let (id, citation, seen) = match authority(evidence.authority) {
            Some(known) => (known.id.to_owned(), full(known), known.seen.to_owned()),
            None if evidence.kind == "common practice" => {
                (String::new(), "Common practice, no source.".to_owned(), String::new())
            }
            None => (String::new(), "From memory.".to_owned(), String::new()),
        };
        let entry = tree::Authority { id, citation, seen };
        if let Some(at) = self.edition.authorities.iter().position(|known| *known == entry) {
            return at;
        }
        self.edition.authorities.push(entry);
        self.edition.authorities.len() - 1
    }

    fn add_note(
        &mut self,
        part: usize,
        span: Span,
        words: String,
        sentences: Vec<String>,
        evidence: &[Evidence],
    ) -> NoteNumber {
        let number = NoteNumber(self.edition.notes.len() as u32 + 1);
        let mut authorities = Vec::new();
        for one in evidence {
            let at = self.authority(one);
            if !authorities.contains(&at) {
                authorities.push(at);
            }
        }
        self.edition.notes.push(tree::Note {
            number,
            part,
            span,
            words,
            sentences,
            assumption: String::new(),
            alternatives: Vec::new(),
            authorities,
        });
        number
    }

    fn part(&mut self, index: usize, planned: &Planned<'_>) {
        let Planned { given, worked, .. } = planned;
        let reading = &worked.reading;
        let kept = |item: &usize| worked.reckoning.set_aside.binary_search(item).is_err();
        for at in (0..reading.items.len()).filter(kept) {
            self.allergens(
                &name(&reading.items[at], &worked.reckoning.items[at]),
                &worked.reckoning.items[at],
            );
        }
        let mut noted: Vec<(Span, Noted)> = Vec::new();
        noted.extend(
            (0..reading.items.len()).filter(kept).map(|at| (reading.items[at].span, Noted::Item(at))),
        );
        noted.extend(
            reading.durations.iter().enumerate().map(|(at, duration)| (duration.span, Noted::Time(at))),
        );
        noted.extend(reading.heats.iter().enumerate().map(|(at, heat)| (heat.span, Noted::Heat(at))));
        noted.sort_by_key(|(span, _)| (span.start(), span.end()));
        let mut lines = Vec::new();
        let mut line_of: Vec<Option<usize>> = vec![None; reading.items.len()];
        let mut item_notes: Vec<Option<NoteNumber>> = vec![None; reading.items.len()];
        let mut time_notes: Vec<Option<NoteNumber>> = vec![None; reading.durations.len()];
        let mut heat_notes: Vec<Option<NoteNumber>> = vec![None; reading.heats.len()];
        for (span, what) in &noted {
            let words = flat(given.transcript.words(*span));
            match what {
                Noted::Item(at) => {
                    let Some(reckoned) = worked.reckoning.items.get(*at) else { continue };
                    let note = self.item_note(index, planned, *at, reckoned, words.clone());
                    line_of[*at] = Some(lines.len());
                    item_notes[*at] = Some(note);
                    lines.push(line(planned, *at, reckoned, words, note));
                }
                Noted::Time(at) => {
                    let duration = &reading.durations[*at];
                    let modern =
                        kitchen::time(Time::from_minutes(duration.low), Time::from_minutes(duration.high));
                    let said = format!("The source gives the time: {modern}.");
                    time_notes[*at] = Some(self.add_note(index, *span, words, vec![said], &[]));
                }
                Noted::Heat(at) => {
                    let Some(reckoned) = worked.reckoning.heats.get(*at) else { continue };
                    let evidence: Vec<Evidence> = reckoned.evidence().into_iter().collect();
                    heat_notes[*at] =
                        Some(self.add_note(index, *span, words, reckoned.sentences(), &evidence));
                }
            }
        }
        let steps = steps(planned, &line_of, &time_notes, &heat_notes);
        let marks = marks(planned, &item_notes, &time_notes, &heat_notes);
        let yields = reading
            .yields
            .iter()
            .map(|made| tree::YieldLine {
                span: made.span,
                words: flat(&given.transcript.words(made.span).replace('_', "")),
                modern: made_modern(made.low, made.high, &made.what),
            })
            .collect();
        self.edition.parts.push(tree::Part {
            title: if index == 0 { self.edition.title.clone() } else { clean(&planned.title) },
            referred_by: planned.referred_by.clone(),
            transcript: given.transcript.id(),
            words: given.transcript.as_str().to_owned(),
            marks,
            lines,
            steps,
            yields,
        });
        self.supplies(index, planned);
        self.glosses(planned);
        self.cautions(planned);
    }

    fn item_note(
        &mut self,
        part: usize,
        planned: &Planned<'_>,
        at: usize,
        reckoned: &ReckonedItem,
        words: String,
    ) -> NoteNumber {
        let item = &planned.worked.reading.items[at];
        let mut sentences = reckoned.reason.telling();
        if !item.alternatives.is_empty() {
            let mut names = vec![name(item, reckoned)];
            names.extend(item.alternatives.iter().map(|choice| choice.plain.clone()));
            sentences.push(format!("The words leave a choice: {}.", listed(&names, "or")));
        }
        if let Some(modern) = modern(reckoned)
            && modern.figure.cause() != quartern_quantity::Cause::Exact
            && !matches!(modern.figure, Figure::Count(_))
            && !sentences.iter().any(|told| told.contains(&modern.best))
        {
            sentences.push(format!("Rounded for the scales and the jug: {}.", modern.best));
        }
        if let Some(record) = reckoned.ingredient {
            if !record.modern.is_empty() && record.modern != record.name {
                sentences.push(format!("A cook of today buys {} for it.", record.modern));
            }
            if record.bought_today == "no" {
                sentences.push(format!("{} is not sold today.", capital(record.name)));
            }
        }
        if !item.sure {
            sentences
                .push("The reader is not sure of these words; compare them with what was read.".to_owned());
        }
        sentences.extend(reckoned.reason.sources());
        let evidence = reckoned.reason.evidence();
        let number = self.add_note(part, item.span, words, sentences, &evidence);
        if let Some(note) = self.edition.notes.last_mut() {
            note.assumption = reckoned.reason.assumption();
            note.alternatives = reckoned.reason.alternatives();
        }
        number
    }

    fn supplies(&mut self, index: usize, planned: &Planned<'_>) {
        let within = |missing: &str| {
            if index == 0 {
                missing.to_owned()
            } else {
                format!("In “{}”: {}", clean(&planned.title), lower(missing))
            }
        };
        let mut open: Vec<&reckoned::Gap> = Vec::new();
        for gap in &planned.worked.reckoning.gaps {
            match &gap.supplied {
                Some(put) => {
                    let reason = planned.decisions.get(put.decision).map_or("", Decision::reason);
                    self.edition.supplies.push(tree::Supply {
                        gap: gap_kind(gap.kind),
                        missing: within(&gap.missing),
                        supplied: put.what.clone(),
                        why: format!(
                            "{}; source: {}.",
                            reason.trim_end_matches('.'),
                            put.source.trim_end_matches('.')
                        ),
                    });
                }
                None if gap.kind == reckoned::GapKind::Amount => open.push(gap),
                None => self.edition.supplies.push(tree::Supply {
                    gap: gap_kind(gap.kind),
                    missing: within(&gap.missing),
                    supplied: String::new(),
                    why: "It stays open until the editor supplies it from a comparable source.".to_owned(),
                }),
            }
        }
        if !open.is_empty() {
            let names: Vec<String> = open
                .iter()
                .filter_map(|gap| gap.item)
                .filter_map(|at| {
                    Some(format!(
                        "the {}",
                        name(planned.worked.reading.items.get(at)?, planned.worked.reckoning.items.get(at)?)
                    ))
                })
                .collect();
            self.edition.supplies.push(tree::Supply {
                gap: GapKind::Amount,
                missing: within(&format!("No amount is given for {}.", listed(&names, "and"))),
                supplied: String::new(),
                why: "The source leaves it to the cook.".to_owned(),
            });
        }
        let mut given: Vec<&Decision> = planned
            .decisions
            .iter()
            .filter(
                |decision| matches!(decision.choice(), DecisionKind::Supply { gap, .. } if gap == "recipe"),
            )
            .collect();
        for (_, missing) in &planned.missing {
            let put = if given.is_empty() { None } else { Some(given.remove(0)) };
            let (supplied, why) = match put {
                Some(decision) => match decision.choice() {
                    DecisionKind::Supply { supplied, source, .. } => (
                        supplied.clone(),
                        format!(
                            "{}; source: {}.",
                            decision.reason().trim_end_matches('.'),
                            source.trim_end_matches('.')
                        ),
                    ),
                    DecisionKind::TakeMeasure { .. }
                    | DecisionKind::TakeName { .. }
                    | DecisionKind::SetAside { .. } => (String::new(), String::new()),
                },
                None => (
                    String::new(),
                    "It stays open until the editor supplies it from a comparable source.".to_owned(),
                ),
            };
            self.edition.supplies.push(tree::Supply {
                gap: GapKind::Recipe,
                missing: within(missing),
                supplied,
                why,
            });
        }
    }

    /// Notes which allergens an ingredient holds, by the register.
    fn allergens(&mut self, plain: &str, reckoned: &ReckonedItem) {
        let Some(ingredient) = reckoned.ingredient else { return };
        for allergen in ingredient.allergens {
            let list = &mut self.edition.allergens;
            let at = list.iter().position(|known| known.name == *allergen).unwrap_or_else(|| {
                list.push(tree::Allergen { name: (*allergen).to_owned(), ingredients: Vec::new() });
                list.len() - 1
            });
            let ingredients = &mut list[at].ingredients;
            if !ingredients.iter().any(|known| known == plain) {
                ingredients.push(plain.to_owned());
            }
        }
    }

    fn glosses(&mut self, planned: &Planned<'_>) {
        for gloss in &planned.worked.reckoning.glosses {
            if self.glosses_told.contains(&gloss.gloss.id) {
                continue;
            }
            self.glosses_told.push(gloss.gloss.id);
            self.edition.glosses.push(tree::Gloss {
                word: flat(planned.given.transcript.words(gloss.span)),
                meaning: gloss.gloss.meaning.to_owned(),
                authority: match gloss.gloss.evidence.kind {
                    // The book prints the word; what it meant is said here.
                    "period book" => format!("The word is printed in {}", cite(&gloss.gloss.evidence)),
                    _ => capital(&cite(&gloss.gloss.evidence)),
                },
            });
        }
    }

    fn cautions(&mut self, planned: &Planned<'_>) {
        for caution in &planned.worked.reckoning.cautions {
            let mut words: Vec<String> = Vec::new();
            for span in &caution.spans {
                let said = flat(planned.given.transcript.words(*span));
                if !words.iter().any(|known| known.eq_ignore_ascii_case(&said)) {
                    words.push(said);
                }
            }
            let record = caution.record;
            if let Some(known) = self.edition.cautions.iter_mut().find(|known| known.id == record.id) {
                for said in words {
                    if known.words.len() < MOST_WORDS
                        && !known.words.iter().any(|other| other.eq_ignore_ascii_case(&said))
                    {
                        known.words.push(said);
                    }
                }
                continue;
            }
            words.truncate(MOST_WORDS);
            self.edition.cautions.push(tree::Caution {
                id: record.id.to_owned(),
                title: record.title.to_owned(),
                gravity: match record.severity {
                    quartern_knowledge::Severity::Grave => tree::Gravity::Grave,
                    quartern_knowledge::Severity::Careful => tree::Gravity::Careful,
                },
                words,
                says: record.says.to_owned(),
                do_instead: record.do_instead.to_owned(),
                ask: capital(record.ask),
                authority: capital(&cite(&record.evidence)),
            });
        }
        self.edition.cautions.sort_by_key(|caution| caution.gravity);
    }

    /// Adds what belongs to the edition as a whole.
    fn finish(mut self, plan: &[Planned<'_>]) -> Edition {
        for planned in plan {
            for Notice { code, span, message } in &planned.worked.notices {
                // A decision may be about another recipe of the edition.
                if *code == Code::UnfittingDecision
                    && !plan
                        .iter()
                        .all(|other| other.worked.notices.iter().any(|one| one.message == *message))
                {
                    continue;
                }
                let words = span.map_or_else(String::new, |span| flat(planned.given.transcript.words(span)));
                self.notice(*code, message.clone(), words);
            }
        }
        self.edition.notices.sort_by_key(|notice| {
            // What asks for a look comes before what is merely worth knowing; else the order of the page.
            Code::ALL
                .iter()
                .find(|code| code.as_str() == notice.code)
                .is_some_and(|code| code.severity() == quartern_notice::Severity::Hint)
        });
        for decision in self.decisions {
            let decided = decision.decided();
            // A decision that fits nothing changed nothing, and must not read as if it had.
            let idle = self.edition.notices.iter().any(|notice| {
                notice.code == Code::UnfittingDecision.as_str() && notice.message.contains(&decided)
            });
            self.edition.decisions.push(tree::DecisionLine {
                decided: if idle {
                    format!("Not applied, since it fits nothing here: {decided}")
                } else {
                    decided
                },
                reason: if decision.date().is_empty() {
                    decision.reason().to_owned()
                } else {
                    format!("{} ({})", decision.reason().trim_end_matches('.'), decision.date())
                },
            });
        }
        self.edition
    }
}

fn gap_kind(kind: reckoned::GapKind) -> GapKind {
    match kind {
        reckoned::GapKind::Heat => GapKind::Heat,
        reckoned::GapKind::Time => GapKind::Time,
        reckoned::GapKind::Amount => GapKind::Amount,
        reckoned::GapKind::Recipe => GapKind::Recipe,
    }
}

fn name(item: &Item, reckoned: &ReckonedItem) -> String {
    reckoned.renamed.map_or_else(|| item.name.plain.clone(), str::to_owned)
}

fn modern(reckoned: &ReckonedItem) -> Option<ModernAmount> {
    let figure = reckoned.figure?;
    let household = match (&reckoned.reason.ground, figure) {
        (reckoned::Ground::Counted { weight: Some(weight), .. }, Figure::Count(count)) => {
            let grams: Quantity<quartern_quantity::Mass> =
                count.into_by(weight.low, weight.best, weight.high, quartern_quantity::Cause::Goods);
            let figure = Figure::Mass(grams);
            let range = kitchen::range(figure);
            if range.is_empty() {
                format!("about {}", kitchen::best(figure))
            } else {
                format!("about {} ({range})", kitchen::best(figure))
            }
        }
        _ => String::new(),
    };
    Some(ModernAmount { figure, best: kitchen::best(figure), range: kitchen::range(figure), household })
}

fn line(
    planned: &Planned<'_>,
    at: usize,
    reckoned: &ReckonedItem,
    words: String,
    note: NoteNumber,
) -> tree::Line {
    let item = &planned.worked.reading.items[at];
    let amount = match (modern(reckoned), &item.amount) {
        (Some(modern), _) => LineAmount::Reckoned(modern),
        (None, Amount::Unstated) => LineAmount::Unstated,
        (None, Amount::Vague(said)) => LineAmount::Vague(said.clone()),
        (None, Amount::Stated(_) | Amount::SameAs { .. } | Amount::Unread(_)) => {
            LineAmount::Unreckoned(reckoned.reason.why())
        }
    };
    let buy = reckoned
        .ingredient
        .map(|known| known.modern)
        .filter(|modern| !modern.is_empty() && *modern != item.name.plain)
        .unwrap_or_default()
        .to_owned();
    tree::Line {
        span: item.span,
        printed_amount: printed_amount(planned, item, &words),
        words,
        name: name(item, reckoned),
        buy,
        amount,
        rate: match &item.rate {
            Rate::None => String::new(),
            Rate::Base => "base".to_owned(),
            Rate::Per(said) => said.clone(),
        },
        optional: item.optional,
        sure: item.sure,
        note,
    }
}

/// Returns the amount as printed, without the words of the ingredient.
fn printed_amount(planned: &Planned<'_>, item: &Item, words: &str) -> String {
    match &item.amount {
        Amount::Unstated => return String::new(),
        Amount::Vague(said) | Amount::Unread(said) => return said.clone(),
        Amount::Stated(_) | Amount::SameAs { .. } => {}
    }
    let transcript = &planned.given.transcript;
    let piece = |start: usize, end: usize| {
        if start < end { flat(transcript.words(Span::new(start as u32, end as u32))) } else { String::new() }
    };
    let before = piece(item.span.start(), item.name_span.start().min(item.span.end()));
    let after = piece(item.name_span.end().max(item.span.start()), item.span.end());
    // "a pound and a half of fine": what follows "of" belongs to the name.
    let cut = |text: &str| -> String {
        let before_name = text.strip_suffix(" of");
        let cut = before_name.unwrap_or_else(|| text.rfind(" of ").map_or(text, |at| &text[..at]));
        cut.trim().trim_end_matches([',', ';', '(', '—', '-']).trim().to_owned()
    };
    if matches!(item.amount, Amount::SameAs { .. }) {
        let said = format!("{before} {after}");
        let said = said.trim().trim_end_matches(" in").trim_end_matches(" of").trim();
        return if said.is_empty() { words.to_owned() } else { said.to_owned() };
    }
    let amount = cut(&before);
    if !amount.is_empty() && amount != "the" {
        return amount;
    }
    // "of sweet almonds take half a pound"
    let after = after.strip_prefix("take ").unwrap_or(&after);
    let trailing =
        after.trim_start_matches([',', ';', '(', '—', '-', ':', ' ']).trim_end_matches([')', '.', ' ']);
    // "black pepper and juniper berries, one ounce each": the amount stands elsewhere.
    if trailing.is_empty() && item.span == item.name_span {
        return String::new();
    }
    if trailing.is_empty() { words.to_owned() } else { trailing.to_owned() }
}

fn steps(
    planned: &Planned<'_>,
    line_of: &[Option<usize>],
    time_notes: &[Option<NoteNumber>],
    heat_notes: &[Option<NoteNumber>],
) -> Vec<tree::Step> {
    let reading = &planned.worked.reading;
    let transcript = &planned.given.transcript;
    // What stands between two steps belongs to the one before it.
    let step_at = |span: Span| {
        reading.steps.partition_point(|step| step.span.start() <= span.start()).saturating_sub(1)
    };
    let mut steps: Vec<tree::Step> = reading
        .steps
        .iter()
        .enumerate()
        .map(|(index, step)| tree::Step {
            number: index as u32 + 1,
            span: step.span,
            words: flat(transcript.words(step.span)).trim_start_matches(['-', '—', ' ']).to_owned(),
            actions: step.actions.iter().map(ToString::to_string).collect(),
            uses: step.items.iter().filter_map(|item| line_of.get(*item).copied().flatten()).collect(),
            times: Vec::new(),
            heats: Vec::new(),
            cues: Vec::new(),
        })
        .collect();
    used_by_name(planned, line_of, &mut steps);
    for (duration, note) in reading.durations.iter().zip(time_notes) {
        if let (Some(step), Some(note)) = (steps.get_mut(step_at(duration.span)), note) {
            step.times.push(tree::Fact {
                words: flat(transcript.words(duration.span)),
                modern: kitchen::time(Time::from_minutes(duration.low), Time::from_minutes(duration.high)),
                note: *note,
            });
        }
    }
    for ((index, heat), note) in reading.heats.iter().enumerate().zip(heat_notes) {
        let reckoned = planned.worked.reckoning.heats.get(index);
        if let (Some(step), Some(note)) = (steps.get_mut(step_at(heat.span)), note) {
            step.heats.push(tree::Fact {
                words: flat(transcript.words(heat.span)),
                modern: reckoned.map_or_else(String::new, heat_modern),
                note: *note,
            });
        }
    }
    for cue in &reading.cues {
        if let Some(step) = steps.get_mut(step_at(cue.span)) {
            step.cues.push(flat(transcript.words(cue.span)));
        }
    }
    steps
}

/// Where the ingredients stand in a list, the method only names them: each goes in where it is first
/// named, by its whole name or by the last word of it.
fn used_by_name(planned: &Planned<'_>, line_of: &[Option<usize>], steps: &mut [tree::Step]) {
    let folded = |text: &str| {
        let plain: String = text
            .to_lowercase()
            .chars()
            .map(|letter| if letter.is_alphanumeric() { letter } else { ' ' })
            .collect();
        format!(" {} ", flat(&plain))
    };
    let in_list = (0..line_of.len()).filter(|item| line_of[*item].is_some()).count();
    if steps.len().saturating_mul(in_list) > MOST_COMPARISONS {
        return;
    }
    let texts: Vec<String> = steps.iter().map(|step| folded(&step.words)).collect();
    let named = |text: &str, name: &str| {
        let name = name.trim();
        !name.is_empty()
            && (text.contains(&format!(" {name} "))
                || text.contains(&format!(" {name}s "))
                || text.contains(&format!(" {name}es ")))
    };
    for (item, line) in planned.worked.reading.items.iter().zip(line_of) {
        let Some(line) = *line else { continue };
        if steps.iter().any(|step| step.uses.contains(&line)) {
            continue;
        }
        let printed = folded(planned.given.transcript.words(item.name_span));
        let plain = folded(&item.name.plain);
        let last = plain.trim().rsplit(' ').next().unwrap_or("").to_owned();
        let found = [printed.as_str(), plain.as_str(), last.as_str()]
            .into_iter()
            .find_map(|name| texts.iter().position(|text| named(text, name)));
        if let Some(step) = found.and_then(|at| steps.get_mut(at)) {
            step.uses.push(line);
        }
    }
    for step in steps {
        step.uses.sort_unstable();
    }
}

/// Writes degrees, to the nearest five.
fn heat_modern(heat: &ReckonedHeat) -> String {
    let Some(celsius) = heat.celsius else { return String::new() };
    let five = |temperature: Temperature| kitchen::plain((temperature.celsius() / 5.0).round() * 5.0);
    let (low, best, high) = (five(celsius.low()), five(celsius.best()), five(celsius.high()));
    let as_for = match (heat.reason.of, heat.reason.ground) {
        (HeatOf::Fire, HeatGround::Record(_)) => "as an oven of ",
        _ => "",
    };
    match (heat.reason.ground, low == high) {
        (HeatGround::Printed, true) => format!("{best} °C"),
        (HeatGround::Printed, false) => format!("{low}–{high} °C"),
        (HeatGround::Record(_) | HeatGround::None, true) => format!("{as_for}about {best} °C"),
        (HeatGround::Record(_) | HeatGround::None, false) => {
            format!("{as_for}about {best} °C ({low}–{high} °C)")
        }
    }
}

fn made_modern(low: Ratio<u32>, high: Ratio<u32>, what: &str) -> String {
    let number =
        |ratio: Ratio<u32>| kitchen::count(f64::from(*ratio.numer()) / f64::from((*ratio.denom()).max(1)));
    if low == high {
        format!("{} {what}", number(low))
    } else {
        format!("{}–{} {what}", number(low), number(high))
    }
    .trim()
    .to_owned()
}

/// Collects the marks so that none lies over another: what has a note goes before what has none.
fn marks(
    planned: &Planned<'_>,
    item_notes: &[Option<NoteNumber>],
    time_notes: &[Option<NoteNumber>],
    heat_notes: &[Option<NoteNumber>],
) -> Vec<tree::Mark> {
    let reading = &planned.worked.reading;
    // By where each starts; as none lies over another, only the last that starts before the end of a
    // stretch can lie over it.
    let mut taken: BTreeMap<usize, tree::Mark> = BTreeMap::new();
    let covered = |taken: &BTreeMap<usize, tree::Mark>, span: Span| {
        taken.range(..span.end()).next_back().is_some_and(|(_, mark)| mark.span.end() > span.start())
    };
    let mut put = |spans: &[Span], kind: MarkKind, note: Option<NoteNumber>, sure: bool| {
        for span in spans {
            if !span.is_empty() && !covered(&taken, *span) {
                taken.insert(span.start(), tree::Mark { span: *span, kind, note, sure });
                return;
            }
        }
    };
    for (item, note) in reading.items.iter().zip(item_notes) {
        if note.is_some() {
            put(&[item.span, item.name_span], MarkKind::Item, *note, item.sure);
        }
    }
    for (heat, note) in reading.heats.iter().zip(heat_notes) {
        put(&[heat.span], MarkKind::Heat, *note, heat.sure);
    }
    for (duration, note) in reading.durations.iter().zip(time_notes) {
        put(&[duration.span], MarkKind::Time, *note, duration.sure);
    }
    for reference in &reading.references {
        put(&[reference.span], MarkKind::Reference, None, reference.sure);
    }
    for made in &reading.yields {
        put(&[made.span], MarkKind::Yield, None, true);
    }
    for cue in &reading.cues {
        let end = taken
            .range(cue.span.start() + 1..cue.span.end().max(cue.span.start() + 1))
            .next()
            .map_or(cue.span.end(), |(start, _)| *start);
        let words = planned.given.transcript.words(Span::new(cue.span.start() as u32, end as u32));
        let free = Span::new(cue.span.start() as u32, (cue.span.start() + words.trim_end().len()) as u32);
        // A word or two before another mark say nothing by themselves.
        if free.len() >= 8 && !covered(&taken, free) {
            taken
                .insert(free.start(), tree::Mark { span: free, kind: MarkKind::Cue, note: None, sure: true });
        }
    }
    taken.into_values().collect()
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
