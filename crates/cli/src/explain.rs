//! `quartern explain`: what a term meant then and there.

use quartern_workbench::{Entry, Explanation, explain};

use crate::arguments::Explain;
use crate::layout::{Screen, length, paragraph, row, widths};
use crate::source::when_where_or_any;
use crate::trouble::{Trouble, print};

/// Explains a term.
pub(crate) fn run(wanted: &Explain) -> Result<(), Trouble> {
    let (at, lacking) = when_where_or_any(&wanted.when_where)?;
    let term = wanted.term.join(" ");
    let explanation = explain(&term, &at).map_err(|unknown| {
        let nearest = match unknown.nearest.as_slice() {
            [] => String::new(),
            near => format!("; the nearest known are {}", near.join(", ")),
        };
        Trouble::Input(format!("nothing is on record for “{}”{nearest}", unknown.name))
    })?;
    let place = quartern_knowledge::place_name(at.place);
    let code = explanation.entries.iter().all(|entry| entry.alternatives.is_empty() && is_code(&term));
    let when = if code { String::new() } else { format!("{place}, {}", at.years) };
    print(&show(&explanation, &when, lacking && !code, Screen::of_standard_output()))
}

/// Tells whether a term looks like the code of a notice: a letter and three digits.
fn is_code(term: &str) -> bool {
    let mut signs = term.trim().chars();
    signs.next().is_some_and(|sign| sign.is_ascii_alphabetic())
        && term.trim().len() == 4
        && signs.all(|sign| sign.is_ascii_digit())
}

fn show(explanation: &Explanation, when: &str, lacking: bool, screen: Screen) -> String {
    let mut out = String::new();
    for (at, entry) in explanation.entries.iter().enumerate() {
        if at > 0 {
            out.push('\n');
        }
        let heading =
            if when.is_empty() { entry.heading.clone() } else { format!("{} ({when})", entry.heading) };
        out.push_str(&screen.heading(&heading));
        show_entry(&mut out, entry, screen);
    }
    if lacking {
        let advice = "No year or no place was given, so the sizes of all of them are mixed here; --year and --place make this narrower.";
        out.push('\n');
        paragraph(&mut out, advice, screen.width, "", "");
    }
    out
}

fn show_entry(out: &mut String, entry: &Entry, screen: Screen) {
    for line in &entry.lines {
        paragraph(out, line, screen.width, "", "");
    }
    if !entry.alternatives.is_empty() {
        let mut rows = vec![["likely", "measure", "size", "from – to", "id"].map(str::to_owned).to_vec()];
        rows.extend(entry.alternatives.iter().map(|one| {
            vec![
                format!("{} %", one.weight),
                one.name.clone(),
                one.size.clone(),
                if one.range.is_empty() { "exact".to_owned() } else { one.range.clone() },
                one.id.clone(),
            ]
        }));
        let widths = widths(&rows, screen.width.saturating_sub(2), 8);
        out.push('\n');
        for (at, cells) in rows.iter().enumerate() {
            let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
            row(out, &cells, &widths);
            if at == 0 {
                let total = widths.iter().sum::<usize>() + 2 * (widths.len() - 1);
                out.push_str(&"─".repeat(total));
                out.push('\n');
            } else if let Some(one) = entry.alternatives.get(at - 1) {
                let margin = " ".repeat(widths.first().copied().unwrap_or_else(|| length("100 %")) + 2);
                if !one.note.is_empty() {
                    paragraph(out, &one.note, screen.width, &margin, &margin);
                }
                if !one.source.is_empty() {
                    paragraph(out, &format!("Source: {}", one.source), screen.width, &margin, &margin);
                }
            }
        }
    }
    if !entry.source.is_empty() {
        paragraph(out, &format!("Source: {}", entry.source), screen.width, "", "  ");
    }
}
