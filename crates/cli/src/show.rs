//! One recipe on a screen: cautions, the words with what was read in them, the modern amounts with
//! their reasons, and what is open.

use quartern_edition::{Edition, Gravity, Line, LineAmount, Mark, MarkKind, Note, Part};
use quartern_text::Span;

use crate::layout::{Ink, Screen, clean, length, paragraph, row, widths};

/// What an unsure reading is marked with.
const UNSURE: &str = "(?)";

/// Returns a recipe as it is shown on a screen. `unread` are the items whose amount could not be read.
pub(crate) fn edition(edition: &Edition, unread: &[Span], screen: Screen) -> String {
    let mut out = String::new();
    let title = if edition.title.trim().is_empty() { "A recipe without a heading" } else { &edition.title };
    out.push_str(&screen.heading(title));
    paragraph(&mut out, &source_line(edition), screen.width, "", "");
    cautions(&mut out, edition, screen);
    allergens(&mut out, edition, screen);
    if let Some(part) = edition.parts.first() {
        words(&mut out, part, screen);
        ingredients(&mut out, part, &edition.notes, unread, screen);
        times_and_heats(&mut out, part, &edition.notes, screen);
    }
    open_ends(&mut out, edition, screen);
    out
}

fn section(out: &mut String, heading: &str, screen: Screen) {
    out.push('\n');
    out.push_str(&screen.heading(heading));
}

fn source_line(edition: &Edition) -> String {
    let source = &edition.source;
    let years = source.written.years.to_string();
    let parts = [source.author.as_str(), source.title.as_str(), edition.place_name.as_str(), years.as_str()];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

fn allergens(out: &mut String, edition: &Edition, screen: Screen) {
    if edition.allergens.is_empty() {
        return;
    }
    section(out, "Allergens", screen);
    let each: Vec<String> = edition
        .allergens
        .iter()
        .map(|one| format!("{} ({})", one.name, one.ingredients.join(", ")))
        .collect();
    paragraph(
        out,
        &format!("{}. Only what was read is listed; what you buy may hold others.", each.join("; ")),
        screen.width,
        "",
        "",
    );
}

fn cautions(out: &mut String, edition: &Edition, screen: Screen) {
    if edition.cautions.is_empty() {
        return;
    }
    section(out, "Cautions", screen);
    for caution in &edition.cautions {
        let gravity = match caution.gravity {
            Gravity::Grave => "can do lasting harm",
            Gravity::Careful => "needs care",
        };
        let words = caution.words.iter().map(|words| format!("“{words}”")).collect::<Vec<_>>().join(", ");
        let from = if words.is_empty() { String::new() } else { format!(": {words}") };
        paragraph(out, &format!("{} ({gravity}){from}", caution.title), screen.width, "! ", "  ");
        for text in [&caution.says, &caution.do_instead] {
            paragraph(out, text, screen.width, "  ", "  ");
        }
        if !caution.ask.is_empty() {
            paragraph(out, &format!("Ask: {}", caution.ask), screen.width, "  ", "  ");
        }
        if !caution.authority.is_empty() {
            paragraph(out, &format!("Source: {}", caution.authority), screen.width, "  ", "  ");
        }
    }
}

/// What stands under a mark on paper, and how a terminal draws it (select graphic rendition, ECMA-48,
/// 8.3.117: 4 is underlined, 31 to 36 are colours).
fn drawn(kind: MarkKind) -> (char, &'static str, &'static str) {
    match kind {
        MarkKind::Item => ('~', "4;32", "ingredient"),
        MarkKind::Time => ('.', "4;33", "time"),
        MarkKind::Heat => ('^', "4;31", "heat"),
        MarkKind::Cue => ('-', "4;35", "sign that it is done"),
        MarkKind::Reference => ('>', "4;34", "points to another recipe"),
        MarkKind::Yield => ('=', "4;36", "how much it makes"),
    }
}

const KINDS: [MarkKind; 6] =
    [MarkKind::Item, MarkKind::Time, MarkKind::Heat, MarkKind::Cue, MarkKind::Reference, MarkKind::Yield];

fn words(out: &mut String, part: &Part, screen: Screen) {
    section(out, "The words, with what was read in them", screen);
    for line in lines(&part.words, screen.width) {
        match screen.ink {
            Ink::Terminal => underlined(out, part, line),
            Ink::Signs => signed(out, part, line),
        }
    }
    let key: Vec<String> = KINDS
        .into_iter()
        .filter(|kind| part.marks.iter().any(|mark| mark.kind == *kind))
        .map(|kind| {
            let (sign, colour, name) = drawn(kind);
            match screen.ink {
                Ink::Terminal => format!("\u{1b}[{colour}m{name}\u{1b}[0m"),
                Ink::Signs => format!("{sign} {name}"),
            }
        })
        .collect();
    if !key.is_empty() {
        out.push_str("\nKey: ");
        out.push_str(&key.join("   "));
        let unsure = part.marks.iter().any(|mark| !mark.sure);
        if unsure && screen.ink == Ink::Signs {
            out.push_str("   ? not sure");
        }
        out.push('\n');
    }
}

/// Cuts a text into lines that fit the screen, as byte ranges; the words themselves stay as printed.
fn lines(text: &str, width: usize) -> Vec<(usize, &str)> {
    let mut lines = Vec::new();
    let mut at = 0;
    for printed in text.trim_end().split('\n') {
        let mut rest = printed.trim_end_matches('\r');
        let mut from = at;
        while length(rest) > width {
            let full = rest.char_indices().nth(width).map_or(rest.len(), |(at, _)| at);
            let head = rest.get(..full).unwrap_or(rest);
            // A space that falls just behind the full line is a place to break as well.
            let space = if rest.get(full..).is_some_and(|tail| tail.starts_with(' ')) {
                Some(full)
            } else {
                head.rfind(' ').filter(|space| *space > full / 3)
            };
            let (end, next) = space.map_or((full, full), |space| (space, space + 1));
            lines.push((from, rest.get(..end).unwrap_or("")));
            from += next;
            rest = rest.get(next..).unwrap_or("");
        }
        lines.push((from, rest));
        at += printed.len() + 1;
    }
    lines
}

fn mark_at(part: &Part, at: usize) -> Option<&Mark> {
    let next = part.marks.partition_point(|mark| mark.span.end() <= at);
    part.marks.get(next).filter(|mark| mark.span.start() <= at)
}

fn underlined(out: &mut String, part: &Part, (from, line): (usize, &str)) {
    let mut open: Option<MarkKind> = None;
    for (at, sign) in line.char_indices() {
        let here = mark_at(part, from + at).map(|mark| mark.kind);
        if here != open {
            if open.is_some() {
                out.push_str("\u{1b}[0m");
            }
            if let Some(kind) = here {
                out.push_str("\u{1b}[");
                out.push_str(drawn(kind).1);
                out.push('m');
            }
            open = here;
        }
        out.push_str(&clean(sign.encode_utf8(&mut [0; 4])));
    }
    if open.is_some() {
        out.push_str("\u{1b}[0m");
    }
    out.push('\n');
}

fn signed(out: &mut String, part: &Part, (from, line): (usize, &str)) {
    out.push_str(clean(line).trim_end());
    out.push('\n');
    let mut signs = String::new();
    for (at, sign) in line.char_indices() {
        let place = from + at;
        signs.push(match mark_at(part, place) {
            None => ' ',
            Some(mark) if !mark.sure && place + sign.len_utf8() == mark.span.end() => '?',
            Some(mark) => drawn(mark.kind).0,
        });
    }
    let signs = signs.trim_end();
    if !signs.is_empty() {
        out.push_str(signs);
        out.push('\n');
    }
}

fn ingredients(out: &mut String, part: &Part, notes: &[Note], unread: &[Span], screen: Screen) {
    section(out, "The ingredients", screen);
    if part.lines.is_empty() {
        out.push_str("No ingredient was read in these words.\n");
        return;
    }
    let mut rows =
        vec![["words", "as printed", "what it is", "today", "from – to"].map(str::to_owned).to_vec()];
    rows.extend(part.lines.iter().map(|line| cells(line, unread)));
    let widths = widths(&rows, screen.width, 10);
    for (at, cells) in rows.iter().enumerate() {
        let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
        row(out, &cells, &widths);
        if at == 0 {
            let total: usize = widths.iter().sum::<usize>() + 2 * (widths.len() - 1);
            out.push_str(&"─".repeat(total));
            out.push('\n');
        } else if let Some(line) = part.lines.get(at - 1) {
            reason(out, &why(line, notes), screen);
        }
    }
}

fn cells(line: &Line, unread: &[Span]) -> Vec<String> {
    let (best, range) = match &line.amount {
        LineAmount::Unstated => ("not said".to_owned(), String::new()),
        LineAmount::Vague(_) => ("no number".to_owned(), String::new()),
        LineAmount::Reckoned(modern) => (
            modern.best.clone(),
            if modern.range.is_empty() { "exact".to_owned() } else { modern.range.clone() },
        ),
        LineAmount::Unreckoned(_) if unread.contains(&line.span) => ("not read".to_owned(), String::new()),
        LineAmount::Unreckoned(_) => ("not reckoned".to_owned(), String::new()),
    };
    let printed = match &line.amount {
        LineAmount::Vague(words) if line.printed_amount.is_empty() => words.clone(),
        _ => line.printed_amount.clone(),
    };
    let mut name = line.name.clone();
    if !line.sure {
        name.push(' ');
        name.push_str(UNSURE);
    }
    vec![line.words.clone(), printed, name, best, range]
}

fn note(notes: &[Note], number: quartern_edition::NoteNumber) -> Option<&Note> {
    notes.get((number.0 as usize).checked_sub(1)?)
}

/// Writes a reason under its row, fainter on a terminal (ECMA-48, 8.3.117: 2 is faint).
fn reason(out: &mut String, why: &str, screen: Screen) {
    if why.is_empty() {
        return;
    }
    if screen.ink == Ink::Terminal {
        out.push_str("\u{1b}[2m");
    }
    paragraph(out, why, screen.width, "    why: ", "         ");
    if screen.ink == Ink::Terminal {
        out.push_str("\u{1b}[0m");
    }
}

/// Puts the reason for an amount together. The note of the edition comes first; what stands in the
/// line itself is added only where the note does not say it already.
fn why(line: &Line, notes: &[Note]) -> String {
    let mut said = note(notes, line.note).map(note_sentences).unwrap_or_default().join(" ");
    let said_so_far = said.clone();
    let mut add = |part: &str, sentence: &str| {
        if !part.is_empty() && !said.contains(part) {
            if !said.is_empty() {
                said.push(' ');
            }
            said.push_str(sentence);
        }
    };
    if let LineAmount::Unreckoned(why) = &line.amount {
        add(why.trim_end_matches('.'), &sentence(why));
    }
    // The note tells what so many come to, before it is rounded.
    let told = ["Together they come to", "That comes to"].iter().any(|words| said_so_far.contains(words));
    if let LineAmount::Reckoned(modern) = &line.amount
        && !told
    {
        add(&modern.household, &sentence(&format!("That is {}", modern.household)));
    }
    if line.rate == "base" {
        add("goes by", "This is what the rate goes by, not the whole batch.");
    } else {
        add(&line.rate, &format!("A rate: “{}”.", line.rate));
    }
    add(&line.buy, &sentence(&format!("Today: {}", line.buy)));
    if line.optional {
        add("left to the cook", "It is left to the cook.");
    }
    if !line.sure {
        add("not sure", "The reader is not sure of this; compare it with the words.");
    }
    said
}

fn note_sentences(note: &Note) -> Vec<String> {
    let mut said: Vec<String> = note.sentences.iter().map(|text| sentence(text)).collect();
    if !note.assumption.is_empty() {
        said.push(sentence(&note.assumption));
    }
    if !note.alternatives.is_empty() {
        let others: Vec<String> =
            note.alternatives.iter().map(|(name, weight)| format!("{name} ({weight} %)")).collect();
        said.push(format!("It may also be: {}.", others.join("; ")));
    }
    said
}

fn sentence(words: &str) -> String {
    let words = words.trim();
    if words.is_empty() || words.ends_with(['.', '!', '?', '…']) {
        words.to_owned()
    } else {
        format!("{words}.")
    }
}

fn times_and_heats(out: &mut String, part: &Part, notes: &[Note], screen: Screen) {
    let mut rows: Vec<(Vec<String>, String)> = Vec::new();
    for step in &part.steps {
        for (kind, facts) in [("time", &step.times), ("heat", &step.heats)] {
            for fact in facts {
                let why = match note(notes, fact.note) {
                    // A time is what it says; only a heat needs its reason.
                    Some(note) if kind == "heat" => note_sentences(note).join(" "),
                    _ => String::new(),
                };
                rows.push((vec![kind.to_owned(), fact.words.clone(), fact.modern.clone()], why));
            }
        }
        for cue in &step.cues {
            rows.push((vec!["done when".to_owned(), cue.clone(), String::new()], String::new()));
        }
    }
    for one in &part.yields {
        rows.push((vec!["makes".to_owned(), one.words.clone(), one.modern.clone()], String::new()));
    }
    if rows.is_empty() {
        return;
    }
    section(out, "Times, heats and signs", screen);
    let table: Vec<Vec<String>> = rows.iter().map(|(cells, _)| cells.clone()).collect();
    let widths = widths(&table, screen.width, 10);
    for (cells, why) in &rows {
        let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
        row(out, &cells, &widths);
        reason(out, why, screen);
    }
}

fn open_ends(out: &mut String, edition: &Edition, screen: Screen) {
    if !edition.supplies.is_empty() {
        section(out, "What the words leave unsaid", screen);
        for supply in &edition.supplies {
            let supplied = if supply.supplied.is_empty() {
                String::new()
            } else {
                format!(" [{}] {}", supply.supplied, sentence(&supply.why))
            };
            paragraph(out, &format!("{}{supplied}", sentence(&supply.missing)), screen.width, "- ", "  ");
        }
    }
    if !edition.glosses.is_empty() {
        section(out, "Old words", screen);
        for gloss in &edition.glosses {
            let text =
                format!("“{}”: {} {}", gloss.word, sentence(&gloss.meaning), sentence(&gloss.authority));
            paragraph(out, &text, screen.width, "- ", "  ");
        }
    }
    if !edition.notices.is_empty() {
        section(out, "Worth looking at (`quartern explain CODE` says more)", screen);
        for notice in &edition.notices {
            paragraph(out, &sentence(&notice.message), screen.width, &format!("{} ", notice.code), "     ");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_cut_at_spaces_and_keep_every_byte_in_place() {
        let text = "Take half a pint of cream\nand ½ a gill\n";
        for (from, line) in lines(text, 10) {
            assert!(length(line) <= 10, "{line}");
            assert_eq!(text.get(from..from + line.len()), Some(line));
        }
    }
}
