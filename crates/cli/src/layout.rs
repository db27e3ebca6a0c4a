//! Laying words out on a screen: widths, wrapping, columns, and what is drawn under the words.

use std::io::IsTerminal;

/// What the output is shown on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Screen {
    /// How many characters fit in a line.
    pub(crate) width: usize,
    /// How words are set off.
    pub(crate) ink: Ink,
}

/// How words are set off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// By underlining and colour, as a terminal can.
    Terminal,
    /// By signs in a line beneath, as any paper can.
    Signs,
}

/// The width taken where none can be found out.
const USUAL_WIDTH: usize = 100;
/// Below this nothing can be laid out.
const LEAST_WIDTH: usize = 40;
/// Beyond this lines are hard to read.
const MOST_WIDTH: usize = 140;

impl Screen {
    /// Returns what standard output is shown on. Colour only on a terminal, and never against
    /// `NO_COLOR` (when it is set and not empty).
    pub(crate) fn of_standard_output() -> Self {
        let terminal = std::io::stdout().is_terminal();
        let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
        let found = if terminal { terminal_size::terminal_size() } else { None };
        let width = found.map_or(USUAL_WIDTH, |(width, _)| usize::from(width.0));
        let ink = if terminal && !refused && !dumb { Ink::Terminal } else { Ink::Signs };
        Self { width: width.clamp(LEAST_WIDTH, MOST_WIDTH), ink }
    }

    /// Returns a heading, set off.
    pub(crate) fn heading(self, words: &str) -> String {
        match self.ink {
            Ink::Terminal => format!("\u{1b}[1m{}\u{1b}[0m\n", clean(words)),
            Ink::Signs => format!("{0}\n{1}\n", clean(words), "-".repeat(length(words))),
        }
    }
}

/// Returns words without signs that could steer a terminal.
pub(crate) fn clean(words: &str) -> String {
    words
        .chars()
        .map(|sign| match sign {
            '\t' => ' ',
            _ if sign.is_control() => '\u{FFFD}',
            _ => sign,
        })
        .collect()
}

/// Returns how many places words take up.
pub(crate) fn length(words: &str) -> usize {
    words.chars().count()
}

/// Breaks words into lines of at most `width` places, at spaces where there are any.
pub(crate) fn wrap(words: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut used = 0;
    for word in words.split_whitespace() {
        let mut word = clean(word);
        let mut size = length(&word);
        if used > 0 && used + 1 + size > width {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        while size > width {
            let rest: String = word.chars().skip(width).collect();
            lines.push(word.chars().take(width).collect());
            size -= width;
            word = rest;
        }
        line.push_str(&word);
        used += size;
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Writes words as a paragraph: the first line behind `first`, the others behind `next`.
pub(crate) fn paragraph(out: &mut String, words: &str, width: usize, first: &str, next: &str) {
    let room = width.saturating_sub(length(first).max(length(next)));
    for (at, line) in wrap(words, room).iter().enumerate() {
        out.push_str(if at == 0 { first } else { next });
        out.push_str(line);
        out.push('\n');
    }
}

/// Writes one row of a table: cells in columns of the given widths, two places apart, each wrapped.
pub(crate) fn row(out: &mut String, cells: &[&str], widths: &[usize]) {
    let columns: Vec<Vec<String>> =
        cells.iter().zip(widths).map(|(cell, width)| wrap(cell, *width)).collect();
    let height = columns.iter().map(Vec::len).max().unwrap_or(0);
    for at in 0..height {
        let mut line = String::new();
        let mut wanted = 0;
        for (column, width) in columns.iter().zip(widths) {
            let cell = column.get(at).map_or("", String::as_str);
            let behind = wanted - length(&line);
            line.extend(std::iter::repeat_n(' ', behind));
            line.push_str(cell);
            wanted += width + 2;
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// Returns the widths of a table's columns: each as wide as its widest cell, and where that is too
/// much for the screen, the widest made narrower until all fit, none below `least`.
pub(crate) fn widths(rows: &[Vec<String>], screen: usize, least: usize) -> Vec<usize> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut widths: Vec<usize> = (0..columns)
        .map(|at| rows.iter().filter_map(|row| row.get(at)).map(|cell| length(cell)).max().unwrap_or(0))
        .collect();
    let room = screen.saturating_sub(2 * columns.saturating_sub(1));
    while widths.iter().sum::<usize>() > room {
        match widths.iter_mut().max() {
            Some(widest) if *widest > least => *widest -= 1,
            _ => break,
        }
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_the_screen_and_no_word_is_lost() {
        let words = "Take half a pint of incomprehensibilities and ½ a gill";
        for width in 1..60 {
            let lines = wrap(words, width);
            assert!(lines.iter().all(|line| length(line) <= width), "{width}: {lines:?}");
            let together: String = lines.concat().split_whitespace().collect();
            assert_eq!(together, words.split_whitespace().collect::<String>());
        }
    }

    #[test]
    fn nothing_in_a_recipe_can_steer_the_terminal() {
        assert_eq!(wrap("a\u{1b}[31mred\u{7}", 40), ["a\u{FFFD}[31mred\u{FFFD}"]);
    }

    #[test]
    fn a_table_fits_the_screen() {
        let rows = vec![vec!["a".repeat(50), "b".repeat(70), "140 ml".to_owned()]];
        let widths = widths(&rows, 60, 8);
        assert_eq!(widths.iter().sum::<usize>() + 4, 60);
        let mut out = String::new();
        let cells: Vec<&str> = rows[0].iter().map(String::as_str).collect();
        row(&mut out, &cells, &widths);
        assert!(out.lines().all(|line| length(line) <= 60), "{out}");
    }
}
