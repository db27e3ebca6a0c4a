//! Modern amounts and conditions out of a reading and an editor's decisions, each with its reason.
//!
//! [`reckon`] is pure. It reads no clock and stores nothing; rounding is left to the edition.
//! [`figures()`] does the amounts and the hazards alone, for a stream of many recipes.

mod cooked;
mod decision;
mod figures;
mod fold;
mod gaps;
mod hazards;
mod heats;
mod lookup;
mod reason;
mod types;
pub mod words;

pub use decision::{Decision, DecisionError, DecisionKind};
pub use types::{
    Caution, Equal, Gap, GapKind, GlossedWord, Ground, HeatGround, HeatReason, Measured, Reason,
    ReckonedHeat, ReckonedItem, Reckoning, Shift, Supplied, Weighing,
};

use quartern_notice::{Code, Notice, Noticed};
use quartern_reading::Reading;
use quartern_text::{Source, Span, Transcript};

use decision::Chosen;
use figures::Ledger;
use fold::Folded;

/// Reckons a reading: amounts, heats, gaps, cautions and glosses.
#[must_use]
pub fn reckon(
    transcript: &Transcript,
    reading: &Reading,
    source: &Source,
    decisions: &[Decision],
) -> Noticed<Reckoning> {
    let (ledger, mut noticed) = amounts(transcript, reading, source, decisions);
    let folded = Folded::new(transcript.as_str());
    let found = hazards::search(&folded);
    if let Some(notice) = out_of_reach(source) {
        noticed.notices.push(notice);
    }
    noticed.value.heats = heats::heats(transcript, reading, &source.written);
    noticed.value.gaps = gaps::gaps(&ledger, &folded, decisions, &mut noticed.notices);
    noticed.value.cautions = hazards::cautions(&folded, &found, &ledger);
    noticed.value.glosses = hazards::glosses(&folded, &found, &source.written);
    noticed.notices.sort_by_key(|notice| notice.span.map_or(0, Span::start));
    noticed
}

/// Reckons the amounts of a reading and finds its hazards: heats, gaps and glosses stay empty.
#[must_use]
pub fn figures(
    transcript: &Transcript,
    reading: &Reading,
    source: &Source,
    decisions: &[Decision],
) -> Noticed<Reckoning> {
    let (ledger, mut noticed) = amounts(transcript, reading, source, decisions);
    let folded = Folded::new(transcript.as_str());
    noticed.value.cautions = hazards::cautions(&folded, &hazards::search(&folded), &ledger);
    noticed
}

/// The years that the registers are made for; a little wider than the books at hand, 1653 to 1918.
const REACH: (i16, i16) = (1600, 1930);

fn out_of_reach(source: &Source) -> Option<Notice> {
    let years = source.written.years;
    (years.first() < REACH.0 || years.last() > REACH.1).then(|| Notice {
        code: Code::YearsOutOfReach,
        span: None,
        message: format!("The registers are made for about 1650 to 1920; for {years} every figure needs a check of its own."),
    })
}

fn amounts<'a>(
    transcript: &'a Transcript,
    reading: &'a Reading,
    source: &'a Source,
    decisions: &[Decision],
) -> (Ledger<'a>, Noticed<Reckoning>) {
    let mut chosen = Chosen::new(transcript, reading, decisions);
    let mut notices = std::mem::take(&mut chosen.notices);
    let set_aside = chosen.set_aside.clone();
    let ledger = Ledger::new(transcript, reading, source, chosen);
    let items: Vec<ReckonedItem> = (0..reading.items.len()).map(|index| ledger.item(index)).collect();
    let about: Vec<&ReckonedItem> =
        items.iter().filter(|item| set_aside.binary_search(&item.item).is_err()).collect();
    notices.extend(ledger.notices(&about));
    let reckoning = Reckoning { items, set_aside, ..Reckoning::default() };
    (ledger, Noticed { value: reckoning, notices })
}
