//! The edition as one HTML page that stands alone.
//!
//! Faces, style and the few lines of script are in the page; it fetches nothing. With scripting off
//! nothing is lost: a figure is a link to its note, the note is a link back to the words, and the
//! style sheet lights up what belongs together. The script only lets the Escape key put a note away.

use std::collections::BTreeMap;
use std::fmt::Write;

use askama::Template;
use quartern_edition::{
    Authority, Caution, DecisionLine, Edition, EditorNotice, Fact, Gloss, Gravity, Line, LineAmount, Mark,
    MarkKind, Part, Step, Supply, YieldLine, kitchen,
};
use quartern_quantity::Figure;
use quartern_text::Source;

use crate::words;

const STYLE: &str = include_str!("../templates/style.css");
const SCRIPT: &str = include_str!("../templates/script.js");

const FACES: [(&str, &str, &str, &[u8]); 4] = [
    ("Quartern Text", "normal", "400", include_bytes!("../assets/fonts/text-regular.woff2")),
    ("Quartern Text", "italic", "400", include_bytes!("../assets/fonts/text-italic.woff2")),
    ("Quartern Figures", "normal", "400", include_bytes!("../assets/fonts/figures-regular.woff2")),
    ("Quartern Figures", "normal", "700", include_bytes!("../assets/fonts/figures-bold.woff2")),
];

/// Returns the edition as one HTML page.
///
/// # Panics
/// Never: writing to a `String` cannot fail.
#[must_use]
pub fn page(edition: &Edition) -> String {
    let page = Page::new(edition);
    page.render().expect("writing to a String cannot fail")
}

#[derive(Template)]
#[template(path = "page.html")]
struct Page<'a> {
    title: &'a str,
    place_name: &'a str,
    source: &'a Source,
    /// Printing and edition, where they are known.
    details: String,
    cautions: Vec<CautionView<'a>>,
    allergens: String,
    parts: Vec<PartView<'a>>,
    supplies: Vec<SupplyView<'a>>,
    glosses: &'a [Gloss],
    notes: Vec<NoteView<'a>>,
    notices: &'a [EditorNotice],
    decisions: &'a [DecisionLine],
    authorities: &'a [Authority],
    made_with: &'a str,
    style: String,
    script: &'static str,
}

struct CautionView<'a> {
    caution: &'a Caution,
    class: &'static str,
    gravity: &'static str,
}

struct SupplyView<'a> {
    supply: &'a Supply,
    gap: &'static str,
}

struct PartView<'a> {
    index: usize,
    title: &'a str,
    referred_by: &'a str,
    /// The level of the headings inside.
    level: u8,
    segments: Vec<Segment<'a>>,
    kinds: Vec<(&'static str, &'static str)>,
    lines: Vec<LineView<'a>>,
    steps: Vec<StepView<'a>>,
    yields: &'a [YieldLine],
}

/// A stretch of the original words: as it is, or marked.
enum Segment<'a> {
    Plain(&'a str),
    Marked(MarkView<'a>),
}

struct MarkView<'a> {
    id: String,
    class: &'static str,
    kind: &'static str,
    text: &'a str,
    note: Option<u32>,
    sure: bool,
}

struct LineView<'a> {
    id: String,
    line: &'a Line,
    amount: AmountView<'a>,
    /// Is the amount as printed shown beside the name: not where it already stands as the amount.
    shows_printed: bool,
}

enum AmountView<'a> {
    Unstated,
    Vague(&'a str),
    Reckoned(Box<FigureView<'a>>),
    Unreckoned(&'a str),
}

struct FigureView<'a> {
    number: &'a str,
    unit: &'a str,
    range: &'a str,
    household: &'a str,
    cause: &'static str,
    drawing: Option<RangeLine>,
}

/// The drawing of a range: positions from the left on a scale that starts at nought.
struct RangeLine {
    label: String,
    low: String,
    best: String,
    high: String,
    ticks: Vec<String>,
    end: String,
}

struct StepView<'a> {
    step: &'a Step,
    uses: Vec<UseView<'a>>,
    times: Vec<FactView<'a>>,
    heats: Vec<FactView<'a>>,
}

struct FactView<'a> {
    id: String,
    fact: &'a Fact,
}

struct UseView<'a> {
    amount: &'a str,
    name: &'a str,
    note: u32,
}

struct NoteView<'a> {
    number: u32,
    /// The anchor of the words it explains.
    back: String,
    /// The anchor of the figure it is the reason of.
    figure: Option<String>,
    words: &'a str,
    sentences: Vec<String>,
    assumption: String,
    alternatives: &'a [(String, u32)],
    authorities: Vec<(usize, &'a Authority)>,
}

impl<'a> Page<'a> {
    fn new(edition: &'a Edition) -> Self {
        let Edition {
            title,
            source,
            place_name,
            cautions,
            allergens,
            parts,
            supplies,
            glosses,
            notes,
            notices,
            authorities,
            decisions,
            made_with,
        } = edition;
        let (backs, figures) = (first_marks(parts), first_figures(parts));
        let notes: Vec<NoteView<'_>> = notes
            .iter()
            .map(|note| NoteView {
                number: note.number.0,
                back: backs.get(&note.number.0).cloned().unwrap_or_else(|| format!("words-{}", note.part)),
                figure: figures.get(&note.number.0).cloned(),
                words: &note.words,
                sentences: note.sentences.iter().map(|text| words::sentence(text)).collect(),
                assumption: words::sentence(&note.assumption),
                alternatives: &note.alternatives,
                authorities: note
                    .authorities
                    .iter()
                    .filter_map(|&index| authorities.get(index).map(|authority| (index + 1, authority)))
                    .collect(),
            })
            .collect();
        let parts = parts.iter().enumerate().map(|(index, part)| PartView::new(index, part)).collect();
        Self {
            title: words::title(title),
            place_name,
            source,
            details: [words::printed(source), source.edition.clone()]
                .into_iter()
                .filter(|text| !text.is_empty())
                .collect::<Vec<_>>()
                .join("; "),
            allergens: words::allergens(allergens),
            cautions: cautions
                .iter()
                .map(|caution| CautionView {
                    caution,
                    class: match caution.gravity {
                        Gravity::Grave => "grave",
                        Gravity::Careful => "careful",
                    },
                    gravity: words::gravity(caution.gravity),
                })
                .collect(),
            parts,
            supplies: supplies
                .iter()
                .map(|supply| SupplyView { supply, gap: words::gap(supply.gap) })
                .collect(),
            glosses,
            style: style(&notes),
            notes,
            notices,
            decisions,
            authorities,
            made_with,
            script: SCRIPT,
        }
    }
}

impl<'a> PartView<'a> {
    fn new(index: usize, part: &'a Part) -> Self {
        let segments = segments(index, part);
        let mut kinds: Vec<MarkKind> = part.marks.iter().map(|mark| mark.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        Self {
            index,
            title: words::title(&part.title),
            referred_by: &part.referred_by,
            level: if index == 0 { 2 } else { 3 },
            segments,
            kinds: kinds.into_iter().map(|kind| (class(kind), words::mark_kind(kind))).collect(),
            lines: part
                .lines
                .iter()
                .enumerate()
                .map(|(number, line)| LineView {
                    id: line_id(index, number),
                    line,
                    amount: amount(&line.amount),
                    shows_printed: !line.printed_amount.is_empty()
                        && line.amount != LineAmount::Vague(line.printed_amount.clone()),
                })
                .collect(),
            steps: part.steps.iter().map(|step| step_view(index, step, &part.lines)).collect(),
            yields: &part.yields,
        }
    }
}

fn class(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::Item => "item",
        MarkKind::Time => "time",
        MarkKind::Heat => "heat",
        MarkKind::Cue => "cue",
        MarkKind::Reference => "reference",
        MarkKind::Yield => "yield",
    }
}

fn mark_id(part: usize, mark: usize) -> String {
    format!("mark-{part}-{mark}")
}

fn line_id(part: usize, line: usize) -> String {
    format!("line-{part}-{line}")
}

fn fact_id(part: usize, step: u32, kind: &str, fact: usize) -> String {
    format!("{kind}-{part}-{step}-{fact}")
}

/// Returns the marks that can be shown: in order, inside the words, not overlapping.
fn marks(part: &Part) -> impl Iterator<Item = (usize, &Mark, &str)> {
    let mut shown_to = 0;
    part.marks.iter().enumerate().filter_map(move |(number, mark)| {
        let text = part.words.get(mark.span.start()..mark.span.end())?;
        if text.is_empty() || mark.span.start() < shown_to {
            return None;
        }
        shown_to = mark.span.end();
        Some((number, mark, text))
    })
}

/// Returns the anchor of the first mark of each note.
fn first_marks(parts: &[Part]) -> BTreeMap<u32, String> {
    let mut found = BTreeMap::new();
    for (index, part) in parts.iter().enumerate() {
        for (number, mark, _) in marks(part) {
            if let Some(note) = mark.note {
                found.entry(note.0).or_insert_with(|| mark_id(index, number));
            }
        }
    }
    found
}

/// Returns the anchor of the first figure of each note.
fn first_figures(parts: &[Part]) -> BTreeMap<u32, String> {
    let mut found = BTreeMap::new();
    for (index, part) in parts.iter().enumerate() {
        for (number, line) in part.lines.iter().enumerate() {
            found.entry(line.note.0).or_insert_with(|| line_id(index, number));
        }
        for step in &part.steps {
            for (kind, facts) in [("time", &step.times), ("heat", &step.heats)] {
                for (number, fact) in facts.iter().enumerate() {
                    found.entry(fact.note.0).or_insert_with(|| fact_id(index, step.number, kind, number));
                }
            }
        }
    }
    found
}

fn segments(index: usize, part: &Part) -> Vec<Segment<'_>> {
    let mut segments = Vec::new();
    let mut shown_to = 0;
    for (number, mark, text) in marks(part) {
        if let Some(before) = part.words.get(shown_to..mark.span.start()).filter(|text| !text.is_empty()) {
            segments.push(Segment::Plain(before));
        }
        segments.push(Segment::Marked(MarkView {
            id: mark_id(index, number),
            class: class(mark.kind),
            kind: words::mark_kind(mark.kind),
            text,
            note: mark.note.map(|note| note.0),
            sure: mark.sure,
        }));
        shown_to = mark.span.end();
    }
    if let Some(rest) = part.words.get(shown_to..).filter(|text| !text.is_empty()) {
        segments.push(Segment::Plain(rest));
    }
    segments
}

fn amount(amount: &LineAmount) -> AmountView<'_> {
    match amount {
        LineAmount::Unstated => AmountView::Unstated,
        LineAmount::Vague(words) => AmountView::Vague(words),
        LineAmount::Unreckoned(why) => AmountView::Unreckoned(why),
        LineAmount::Reckoned(modern) => {
            let (number, unit) = modern.best.split_once(' ').unwrap_or((&modern.best, ""));
            AmountView::Reckoned(Box::new(FigureView {
                number,
                unit,
                range: &modern.range,
                household: &modern.household,
                cause: modern.figure.cause().words(),
                drawing: (!modern.range.is_empty())
                    .then(|| range_line(modern.figure, words::spoken_range(&modern.range, &modern.best)))
                    .flatten(),
            }))
        }
    }
}

/// The length of the scale in the drawing, in its own units.
const SCALE: f64 = 160.0;
/// Where the scale begins, so that the mark at nought is not cut off.
const MARGIN: f64 = 4.0;

/// Draws a range on a scale from nought to a round number, graduated as a jug or a scale pan is.
fn range_line(figure: Figure, label: String) -> Option<RangeLine> {
    // A round number for the end of the scale, and into how many equal parts a cook sees it divided.
    const ENDS: [(f64, u32); 9] =
        [(1.0, 5), (1.5, 3), (2.0, 4), (2.5, 5), (3.0, 3), (4.0, 4), (5.0, 5), (6.0, 3), (8.0, 4)];
    let (low, best, high) = figure.numbers();
    if low < 0.0 || high <= low || high > 1e9 {
        return None;
    }
    let mut power = 0.001;
    while power * 10.0 < high {
        power *= 10.0;
    }
    let (end, divisions) = ENDS
        .iter()
        .map(|&(number, divisions)| (number * power, divisions))
        .find(|&(end, _)| end >= high)
        .unwrap_or((10.0 * power, 5));
    let at = |value: f64| format!("{:.1}", MARGIN + SCALE * value / end);
    let (divisor, unit) = match figure {
        Figure::Mass(_) if end >= 1000.0 => (1000.0, " kg"),
        Figure::Mass(_) => (1.0, " g"),
        Figure::Volume(_) if end >= 1000.0 => (1000.0, " litres"),
        Figure::Volume(_) => (1.0, " ml"),
        Figure::Count(_) => (1.0, ""),
    };
    let unit = if unit == " litres" && end <= 1000.0 { " litre" } else { unit };
    Some(RangeLine {
        label,
        low: at(low),
        best: at(best),
        high: at(high),
        ticks: (0..=divisions).map(|n| at(end * f64::from(n) / f64::from(divisions))).collect(),
        end: format!("{}{unit}", kitchen::plain(end / divisor)),
    })
}

fn step_view<'a>(part: usize, step: &'a Step, lines: &'a [Line]) -> StepView<'a> {
    StepView {
        step,
        uses: step
            .uses
            .iter()
            .filter_map(|&index| lines.get(index))
            .map(|line| UseView {
                amount: match &line.amount {
                    LineAmount::Reckoned(modern) => &modern.best,
                    LineAmount::Unstated | LineAmount::Vague(_) | LineAmount::Unreckoned(_) => "",
                },
                name: &line.name,
                note: line.note.0,
            })
            .collect(),
        times: facts(part, step.number, "time", &step.times),
        heats: facts(part, step.number, "heat", &step.heats),
    }
}

fn facts<'a>(part: usize, step: u32, kind: &str, facts: &'a [Fact]) -> Vec<FactView<'a>> {
    facts
        .iter()
        .enumerate()
        .map(|(number, fact)| FactView { id: fact_id(part, step, kind, number), fact })
        .collect()
}

/// Returns the style sheet: faces, look, and for each note which things light up together.
fn style(notes: &[NoteView<'_>]) -> String {
    let mut style = String::new();
    for (family, slope, weight, bytes) in FACES {
        let _ = writeln!(
            style,
            "@font-face{{font-family:\"{family}\";font-style:{slope};font-weight:{weight};font-display:swap;\
             src:url(data:font/woff2;base64,{}) format(\"woff2\")}}",
            base64(bytes)
        );
    }
    style.push_str(STYLE);
    for NoteView { number, .. } in notes {
        let _ = writeln!(
            style,
            ":root:has(#note-{number}:target,[data-note=\"{number}\"]:is(:target,:hover,:focus-visible)) \
             [data-note=\"{number}\"]{{background:var(--lit)}}"
        );
    }
    style
}

/// Writes bytes in base 64 (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let group =
            chunk.iter().fold(0_u32, |group, &byte| group << 8 | u32::from(byte)) << (8 * (3 - chunk.len()));
        for place in 0..4 {
            if place <= chunk.len() {
                let sign = SIGNS[(group >> (18 - 6 * place) & 63) as usize];
                text.push(char::from(sign));
            } else {
                text.push('=');
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use quartern_quantity::{Cause, Quantity, Volume};

    #[test]
    fn base64_follows_the_published_vectors() {
        // RFC 4648, section 10.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    fn line(low: f64, best: f64, high: f64) -> Option<RangeLine> {
        let ml = Volume::from_millilitres;
        let figure =
            Figure::Volume(Quantity::new(ml(low), ml(best), ml(high), Cause::Measure).expect("in order"));
        range_line(figure, String::new())
    }

    #[test]
    fn a_range_is_drawn_on_a_scale_that_ends_in_a_round_number() {
        let drawn = line(118.0, 140.0, 170.0).expect("a range");
        assert_eq!(drawn.end, "200 ml");
        // 160 units for 200 ml from a margin of 4, worked by hand.
        assert_eq!(
            (drawn.low.as_str(), drawn.best.as_str(), drawn.high.as_str()),
            ("98.4", "116.0", "140.0")
        );
        assert_eq!(drawn.ticks, ["4.0", "44.0", "84.0", "124.0", "164.0"]);
        assert_eq!(line(800.0, 950.0, 1000.0).expect("a range").end, "1 litre");
        assert_eq!(line(800.0, 950.0, 1100.0).expect("a range").end, "1.5 litres");
        assert_eq!(line(0.5, 0.8, 0.9).expect("a range").end, "1 ml");
    }

    #[test]
    fn nothing_is_drawn_where_there_is_no_range() {
        assert!(line(140.0, 140.0, 140.0).is_none());
        assert!(line(-1.0, 0.0, 1.0).is_none());
        assert!(line(1.0, 2.0, 1e12).is_none());
    }
}
