//! The edition as plain text, for a letter, a terminal or a braille line.
//!
//! Lines are at most 72 characters, cautions come first, and the numbered notes stand at the end.
//! The words as printed keep their line breaks behind a bar; a line too long is broken, never cut.

use std::fmt::Write;

use quartern_edition::{Edition, Fact, Line, LineAmount, Note, Part, Step};
use quartern_text::Source;

use crate::words;

/// The longest line written, in characters.
const MEASURE: usize = 72;
/// Where the thing stands in a line of the figures.
const AMOUNT_WIDTH: usize = 16;

/// Returns the edition as plain text, with a line end at the end.
#[must_use]
pub fn text(edition: &Edition) -> String {
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
    let title = words::title(title);
    let mut out = String::new();
    put(&mut out, title, "", "");
    out.push_str(&"=".repeat(title.chars().count().clamp(1, MEASURE)));
    out.push('\n');
    put(&mut out, &source_line(source, place_name), "", "");
    put(&mut out, &source.rights, "", "");

    if !cautions.is_empty() {
        heading(&mut out, "Cautions");
    }
    for caution in cautions {
        put(&mut out, &format!("{} ({})", caution.title, words::gravity(caution.gravity)), "! ", "! ");
        let mut body = vec![words::sentence(&caution.says)];
        if !caution.words.is_empty() {
            body.push(format!("The words: {}.", quoted(&caution.words)));
        }
        if !caution.do_instead.is_empty() {
            body.push(format!("Instead: {}", words::sentence(&caution.do_instead)));
        }
        if !caution.ask.is_empty() {
            body.push(format!("Ask: {}", words::sentence(&caution.ask)));
        }
        body.push(words::sentence(&caution.authority));
        put(&mut out, &body.join(" "), "  ", "  ");
    }
    if !allergens.is_empty() {
        heading(&mut out, "Allergens");
        put(&mut out, &words::allergens(allergens), "", "");
    }
    for (index, part) in parts.iter().enumerate() {
        write_part(&mut out, index, part);
    }
    if !supplies.is_empty() {
        heading(&mut out, "What the source leaves unsaid");
    }
    for supply in supplies {
        let supplied = if supply.supplied.is_empty() {
            "Nothing is supplied.".to_owned()
        } else {
            format!("[{}]", supply.supplied)
        };
        let text =
            format!("{} {supplied} {}", words::sentence(&supply.missing), words::sentence(&supply.why));
        put(&mut out, &text, &format!("{}: ", words::gap(supply.gap)), "  ");
    }
    if !glosses.is_empty() {
        heading(&mut out, "Old words");
    }
    for gloss in glosses {
        let text = format!("{} {}", words::sentence(&gloss.meaning), words::sentence(&gloss.authority));
        put(&mut out, &text, &format!("“{}”: ", gloss.word), "  ");
    }
    if !notices.is_empty() {
        heading(&mut out, "For the editor to look at");
    }
    for notice in notices {
        let mut text = words::sentence(&notice.message);
        if !notice.words.is_empty() {
            let _ = write!(text, " “{}”", notice.words);
        }
        put(&mut out, &text, &format!("{} ", notice.code), "  ");
    }
    if !decisions.is_empty() {
        heading(&mut out, "Decisions of the editor");
    }
    for decision in decisions {
        let mut text = words::sentence(&decision.decided);
        if !decision.reason.is_empty() {
            let _ = write!(text, " Reason: {}", words::sentence(&decision.reason));
        }
        put(&mut out, &text, "- ", "  ");
    }
    if !notes.is_empty() {
        heading(&mut out, "Notes");
    }
    for note in notes {
        write_note(&mut out, note, authorities.len());
    }
    if !authorities.is_empty() {
        heading(&mut out, "Sources");
    }
    for (index, authority) in authorities.iter().enumerate() {
        let mut text = words::sentence(&authority.citation);
        if !authority.seen.is_empty() {
            let _ = write!(text, " ({})", authority.seen);
        }
        put(&mut out, &text, &numbered(index + 1), "    ");
    }
    out.push('\n');
    put(&mut out, &format!("Made with {made_with}."), "", "");
    out
}

fn source_line(source: &Source, place_name: &str) -> String {
    let printed = words::printed(source);
    let first = [source.author.as_str(), source.title.as_str(), place_name];
    let mut line = first.iter().filter(|text| !text.is_empty()).copied().collect::<Vec<_>>().join(", ");
    let _ = write!(line, ", {}", source.written.years);
    for more in [printed.as_str(), source.edition.as_str()] {
        if !more.is_empty() {
            let _ = write!(line, "; {more}");
        }
    }
    words::sentence(&line)
}

fn write_part(out: &mut String, index: usize, part: &Part) {
    if index > 0 {
        out.push('\n');
        let rule = "-".repeat(MEASURE);
        put(out, &rule, "", "");
        put(out, words::title(&part.title), "", "");
        if !part.referred_by.is_empty() {
            put(
                out,
                &format!("The recipe above calls for it with the words “{}”.", part.referred_by),
                "",
                "",
            );
        }
    }
    heading(out, "The page as it was");
    for line in part.words.trim_end().lines() {
        if line.trim().is_empty() {
            out.push_str("|\n");
        } else {
            put(out, line, "| ", "|   ");
        }
    }
    heading(out, "The figures");
    for one in &part.yields {
        let mut text = format!("“{}”", one.words);
        if !one.modern.is_empty() {
            let _ = write!(text, ": {}", one.modern);
        }
        put(out, &text, "", "  ");
    }
    for line in &part.lines {
        write_line(out, line);
    }
    if !part.steps.is_empty() {
        heading(out, "The method");
    }
    for step in &part.steps {
        write_step(out, step, &part.lines);
    }
}

fn write_line(out: &mut String, line: &Line) {
    let amount = match &line.amount {
        LineAmount::Reckoned(modern) => modern.best.clone(),
        LineAmount::Vague(words) => format!("“{words}”"),
        LineAmount::Unstated => "no amount".to_owned(),
        LineAmount::Unreckoned(_) => "not reckoned".to_owned(),
    };
    let mut text = line.name.clone();
    if !line.sure {
        text.push_str(" (?)");
    }
    if !line.printed_amount.is_empty() && line.amount != LineAmount::Vague(line.printed_amount.clone()) {
        let _ = write!(text, ", “{}”", line.printed_amount);
    }
    if let LineAmount::Reckoned(modern) = &line.amount {
        if modern.range.is_empty() {
            let _ = write!(text, "; {}", modern.figure.cause().words());
        } else {
            let _ = write!(text, "; {}", modern.range);
        }
        if !modern.household.is_empty() {
            let _ = write!(text, "; {}", modern.household);
        }
    }
    if line.rate == "base" {
        text.push_str("; what the rate goes by, not the whole batch");
    } else if !line.rate.is_empty() {
        let _ = write!(text, "; at the rate “{}”, not multiplied", line.rate);
    }
    if !line.buy.is_empty() {
        let _ = write!(text, "; buy: {}", line.buy);
    }
    if line.optional {
        text.push_str("; the source leaves it to the cook");
    }
    if let LineAmount::Unreckoned(why) = &line.amount {
        let _ = write!(text, "; {}", why.trim_end_matches('.'));
    }
    let _ = write!(text, " (note {})", line.note.0);
    let indent = " ".repeat(AMOUNT_WIDTH);
    let amount = flat(&amount);
    let room = AMOUNT_WIDTH - 2;
    if amount.chars().count() <= room {
        put(out, &text, &format!("{amount:>room$}  "), &indent);
    } else {
        put(out, &amount, "", "  ");
        put(out, &text, &indent, &indent);
    }
}

fn write_step(out: &mut String, step: &Step, lines: &[Line]) {
    put(out, &format!("“{}”", step.words), &numbered(step.number as usize), "    ");
    let mut entry = |name: &str, text: &str| {
        if !text.is_empty() {
            put(out, text, &format!("    {name}: "), "      ");
        }
    };
    let used: Vec<String> = step
        .uses
        .iter()
        .filter_map(|&index| lines.get(index))
        .map(|line| match &line.amount {
            LineAmount::Reckoned(modern) => format!("{} {}", modern.best, line.name),
            LineAmount::Vague(_) | LineAmount::Unstated | LineAmount::Unreckoned(_) => line.name.clone(),
        })
        .collect();
    entry("Put in", &used.join(", "));
    entry("Heat", &facts(&step.heats));
    entry("Until", &quoted(&step.cues));
    entry("Time", &facts(&step.times));
}

fn facts(facts: &[Fact]) -> String {
    let one = |fact: &Fact| {
        let modern = if fact.modern.is_empty() { String::new() } else { format!(": {}", fact.modern) };
        format!("“{}”{modern} (note {})", fact.words, fact.note.0)
    };
    facts.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn write_note(out: &mut String, note: &Note, n_authorities: usize) {
    let mut text = format!("“{}” ", note.words);
    text.push_str(&note.sentences.iter().map(|one| words::sentence(one)).collect::<Vec<_>>().join(" "));
    if !note.assumption.is_empty() {
        let _ = write!(text, " Assumed: {}", words::sentence(&note.assumption));
    }
    if !note.alternatives.is_empty() {
        let others: Vec<String> =
            note.alternatives.iter().map(|(reading, weight)| format!("{reading} ({weight} %)")).collect();
        let _ = write!(text, " Can also be read as: {}.", others.join("; "));
    }
    let rests: Vec<String> = note
        .authorities
        .iter()
        .filter(|&&index| index < n_authorities)
        .map(|index| format!("source {}", index + 1))
        .collect();
    if !rests.is_empty() {
        let _ = write!(text, " Rests on {}.", rests.join(", "));
    }
    put(out, &text, &numbered(note.number.0 as usize), "    ");
}

fn quoted(texts: &[String]) -> String {
    texts.iter().map(|text| format!("“{text}”")).collect::<Vec<_>>().join(", ")
}

fn numbered(number: usize) -> String {
    format!("{:<4}", format!("{number}."))
}

fn heading(out: &mut String, text: &str) {
    out.push('\n');
    out.push_str(&text.to_uppercase());
    out.push_str("\n\n");
}

/// Returns a text with line ends and other white space made single spaces.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Writes a text in lines of at most [`MEASURE`] characters, `first` before the first and `later`
/// before each other; writes nothing for an empty text.
fn put(out: &mut String, text: &str, first: &str, later: &str) {
    let mut line = first.to_owned();
    let mut width = first.chars().count();
    let mut fresh = true;
    let mut any = false;
    for word in text.split_whitespace() {
        any = true;
        let length = word.chars().count();
        if !fresh && width + 1 + length > MEASURE {
            out.push_str(line.trim_end());
            out.push('\n');
            line.clear();
            line.push_str(later);
            width = later.chars().count();
            fresh = true;
        }
        if !fresh {
            line.push(' ');
            width += 1;
        }
        line.push_str(word);
        width += length;
        fresh = false;
    }
    if any {
        out.push_str(line.trim_end());
        out.push('\n');
    }
}
