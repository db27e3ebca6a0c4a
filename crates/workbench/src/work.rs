//! One recipe read and reckoned.

use quartern_notice::Notice;
use quartern_reading::Reading;
use quartern_reckoning::{Decision, Reckoning};
use quartern_text::{Source, Span, Transcript};

/// One recipe given to the program.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Its words.
    pub transcript: Transcript,
    /// Its heading, if that is known apart from the words.
    pub title: Option<String>,
    /// The source it stands in.
    pub source: Source,
}

/// Reading and reckoning of one recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// What the words say.
    pub reading: Reading,
    /// What they come to.
    pub reckoning: Reckoning,
    /// What the editor should look at, in the order of the words.
    pub notices: Vec<Notice>,
}

/// Reads and reckons one recipe.
#[must_use]
pub fn work(given: &Given, decisions: &[Decision]) -> Worked {
    with(given, decisions, quartern_reckoning::reckon)
}

/// Reads one recipe, reckons its amounts and finds its hazards: no heats, gaps or glosses. This is all
/// that [`crate::contract_line`] needs, and quick enough for a stream of many recipes.
#[must_use]
pub fn work_figures(given: &Given, decisions: &[Decision]) -> Worked {
    with(given, decisions, quartern_reckoning::figures)
}

type Reckon = fn(&Transcript, &Reading, &Source, &[Decision]) -> quartern_notice::Noticed<Reckoning>;

fn with(given: &Given, decisions: &[Decision], reckon: Reckon) -> Worked {
    let read = quartern_reading::read(given.transcript.as_str(), given.title.as_deref());
    let reckoned = reckon(&given.transcript, &read.value, &given.source, decisions);
    let mut notices = read.notices;
    notices.extend(reckoned.notices);
    notices.sort_by_key(|notice| notice.span.map_or(0, Span::start));
    Worked { reading: read.value, reckoning: reckoned.value, notices }
}
