//! From the bytes of a transcript to words, numbers and marks of punctuation.
//!
//! Nothing is changed: a token is a view with the place it stands at. Page marks, footnote marks and
//! emphasis marks are stepped over.

use quartern_quantity::Ratio;

use crate::lexicon::{Classes, Entry, LEXICON, LexId, UNKNOWN, fold};

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind {
    /// A word.
    Word,
    /// A number in figures; `None` if it is too large to read.
    Number(Option<Ratio<u32>>),
    /// A mark of punctuation; a dash of any length is `—`.
    Mark(char),
}

/// One token.
#[derive(Clone, Copy, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each answers a question of its own")]
pub(crate) struct Token {
    pub(crate) start: u32,
    pub(crate) end: u32,
    pub(crate) kind: Kind,
    /// The key of the words as printed, for asking which word it is.
    pub(crate) key: u64,
    pub(crate) lex: LexId,
    pub(crate) classes: Classes,
    pub(crate) plural: bool,
    /// The spelling was matched by its bones.
    pub(crate) guessed: bool,
    pub(crate) capital: bool,
    /// The first token of a line.
    pub(crate) line_start: bool,
    /// The first token after a blank line, or of the text.
    pub(crate) para_start: bool,
    /// Joined to the token before by a hyphen.
    pub(crate) hyphened: bool,
    /// The sentence it stands in, counted from 0.
    pub(crate) sentence: u32,
    /// The first token of its sentence.
    pub(crate) sentence_start: u32,
    /// The paragraph it stands in, counted from 1.
    pub(crate) paragraph: u32,
    /// The line it stands in, counted from 0.
    pub(crate) line: u32,
    /// It stands in a list of ingredients, a line for each.
    pub(crate) listed: bool,
}

impl Token {
    pub(crate) fn is(&self, class: Classes) -> bool {
        self.classes.has(class)
    }

    pub(crate) fn mark(&self, c: char) -> bool {
        self.kind == Kind::Mark(c)
    }

    pub(crate) fn word(&self) -> bool {
        self.kind == Kind::Word
    }

    pub(crate) fn entry(&self) -> &'static Entry {
        LEXICON.entry(self.lex)
    }
}

fn vulgar(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        _ => return None,
    })
}

fn small_digit(c: char) -> Option<u32> {
    Some(match c {
        '⁰' | '₀' => 0,
        '¹' | '₁' => 1,
        '²' | '₂' => 2,
        '³' | '₃' => 3,
        '⁴' | '₄' => 4,
        '⁵' | '₅' => 5,
        '⁶' | '₆' => 6,
        '⁷' | '₇' => 7,
        '⁸' | '₈' => 8,
        '⁹' | '₉' => 9,
        _ => return None,
    })
}

/// The longest run of digits read as a number; more is noise.
const MOST_DIGITS: usize = 6;

fn digits(text: &str) -> Option<(u32, usize)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    if end == 0 || end > MOST_DIGITS {
        return None;
    }
    text[..end].parse().ok().map(|number| (number, end))
}

/// Reads a fraction at the start of `text`: `1/2`, `½`, `¹⁄₂`, `1⁄2`.
fn fraction(text: &str) -> Option<(Ratio<u32>, usize)> {
    let first = text.chars().next()?;
    if let Some((above, below)) = vulgar(first) {
        return Some((Ratio::new(above, below), first.len_utf8()));
    }
    let (above, used) = if let Some((above, used)) = digits(text) {
        (above, used)
    } else {
        let mut above = 0;
        let mut used = 0;
        for c in text.chars().take(3) {
            let Some(digit) = small_digit(c) else { break };
            above = above * 10 + digit;
            used += c.len_utf8();
        }
        if used == 0 {
            return None;
        }
        (above, used)
    };
    let bar = text[used..].chars().next().filter(|c| matches!(c, '/' | '⁄' | '∕'))?;
    let rest = &text[used + bar.len_utf8()..];
    let (below, more) = if let Some(found) = digits(rest) {
        found
    } else {
        let mut below = 0;
        let mut more = 0;
        for c in rest.chars().take(3) {
            let Some(digit) = small_digit(c) else { break };
            below = below * 10 + digit;
            more += c.len_utf8();
        }
        (below, more)
    };
    if below == 0 || below > 999 || above > 999 {
        return None;
    }
    Some((Ratio::new(above, below), used + bar.len_utf8() + more))
}

/// Reads a number in figures at the start of `text`; says how many bytes it takes.
fn figures(text: &str) -> Option<(Option<Ratio<u32>>, usize)> {
    if let Some((value, used)) = fraction(text) {
        return Some((Some(value), used));
    }
    let run = text.bytes().take_while(u8::is_ascii_digit).count();
    if run == 0 {
        return None;
    }
    let Some((whole, used)) = digits(text) else { return Some((None, run)) };
    let rest = &text[used..];
    // 1-1/2, 1 1/2, 1½, 1 ½, 1-½
    for skip in [0, 1] {
        if skip == 1 && !rest.starts_with([' ', '-', '\u{a0}']) {
            continue;
        }
        let skip = if skip == 0 { 0 } else { rest.chars().next().map_or(1, char::len_utf8) };
        // "12/3" is a fraction of its own, never 1 and 2/3: directly after a digit only signs count.
        let tail = &rest[skip..];
        if skip == 0 && tail.starts_with(|c: char| c.is_ascii_digit()) {
            continue;
        }
        if let Some((part, more)) = fraction(tail)
            && part < Ratio::from_integer(1)
        {
            return Some((Some(Ratio::from_integer(whole) + part), used + skip + more));
        }
    }
    // 1.5, and 2,000
    if let Some(after) = rest.strip_prefix('.')
        && let Some((part, more)) = digits(after)
        && more <= 2
    {
        let below = 10_u32.pow(more as u32);
        return Some((Some(Ratio::from_integer(whole) + Ratio::new(part, below)), used + 1 + more));
    }
    if let Some(after) = rest.strip_prefix(',')
        && let Some((part, 3)) = digits(after)
        && whole < 1000
        && used <= 3
    {
        return Some((Some(Ratio::from_integer(whole * 1000 + part)), used + 4));
    }
    Some((Some(Ratio::from_integer(whole)), used))
}

/// Is a bracket at the start of `text` a page mark or a footnote mark; its length if so.
fn bracket_mark(text: &str) -> Option<usize> {
    let end = text.get(..40.min(text.len())).map_or_else(|| text.find(']'), |_| text.find(']'))?;
    if end > 40 {
        return None;
    }
    let inner = &text[1..end];
    let page = inner.strip_prefix("Page ").or_else(|| inner.strip_prefix("Pg "));
    let page = page.is_some_and(|number| number.len() <= 8);
    let foot = !inner.is_empty()
        && inner.len() <= 7
        && inner.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '*' | '†' | '‡' | 'A'..='H'));
    (page || foot).then_some(end + 1)
}

/// Abbreviations after which a full stop does not end a sentence.
fn abbreviation(word: &str) -> bool {
    matches!(
        word,
        "oz" | "ozs"
            | "lb"
            | "lbs"
            | "qt"
            | "qts"
            | "pt"
            | "pts"
            | "gal"
            | "gals"
            | "tsp"
            | "tbsp"
            | "no"
            | "nos"
            | "p"
            | "pp"
            | "mrs"
            | "mr"
            | "dr"
            | "st"
            | "min"
            | "mins"
            | "hr"
            | "hrs"
            | "doz"
            | "i"
            | "e"
            | "viz"
            | "do"
            | "fig"
            | "vol"
            | "c"
            | "dwt"
            | "drs"
            | "gr"
            | "grs"
            | "pk"
            | "bu"
            | "ib"
            | "t"
            | "ft"
            | "in"
            | "cwt"
            | "drm"
            | "gall"
            | "galls"
    )
}

/// Parts a text into tokens.
pub(crate) fn lex(text: &str) -> Vec<Token> {
    let mut tokens: Vec<Token> = Vec::with_capacity(text.len() / 5 + 4);
    let bytes = text.as_bytes();
    let mut at = 0;
    let mut newlines = 2;
    let mut line = 0;
    let mut hyphened = false;
    let mut word = String::with_capacity(24);
    while at < bytes.len() {
        let byte = bytes[at];
        if byte == b'\n' {
            newlines += 1;
            line += 1;
            at += 1;
            continue;
        }
        if byte == b' ' || byte == b'\r' || byte == b'\t' || byte == b'_' {
            at += 1;
            continue;
        }
        if byte == 0xC2 && bytes.get(at + 1) == Some(&0xA0) {
            // A no-break space.
            at += 2;
            continue;
        }
        let rest = &text[at..];
        if byte == b'['
            && let Some(length) = bracket_mark(rest)
        {
            // A page mark stands between two halves of a sentence: the blank lines about it count for nothing.
            let mut after = at + length;
            let own_line = newlines > 0 && text[after..].trim_start_matches([' ', '\r']).starts_with('\n');
            if own_line && newlines < 3 {
                while after < bytes.len() && matches!(bytes[after], b'\n' | b' ' | b'\r') {
                    line += u32::from(bytes[after] == b'\n');
                    after += 1;
                }
                newlines = 1;
            }
            at = after;
            continue;
        }
        let Some(first) = rest.chars().next() else { break };
        let mut token = Token {
            start: at as u32,
            end: at as u32,
            kind: Kind::Mark(first),
            key: 0,
            lex: UNKNOWN,
            classes: Classes::default(),
            plural: false,
            guessed: false,
            capital: false,
            line_start: newlines > 0,
            para_start: newlines > 1,
            hyphened,
            sentence: 0,
            sentence_start: 0,
            paragraph: 0,
            line,
            listed: false,
        };
        hyphened = false;
        if (first.is_ascii_digit() || vulgar(first).is_some() || small_digit(first).is_some())
            && let Some((value, used)) = figures(rest)
        {
            token.kind = Kind::Number(value);
            at += used;
        } else if first.is_alphabetic()
            || first == '•'
            || first == '℔'
            || first == '℥'
            || first == 'ʒ'
            || first == '℈'
        {
            word.clear();
            let mut end = at;
            for (offset, c) in rest.char_indices() {
                let inside = c.is_alphabetic()
                    || c == '•'
                    || matches!(c, '℔' | '℥' | '℈')
                    || (matches!(c, '\'' | '’')
                        && rest[offset + c.len_utf8()..].starts_with(|next: char| next.is_alphabetic()));
                if !inside {
                    break;
                }
                fold(c, &mut word);
                end = at + offset + c.len_utf8();
            }
            // "calves' feet": the mark of a plural owner belongs to its word.
            if word.ends_with('s') {
                let tail = &text[end..];
                if let Some(mark) = tail.chars().next().filter(|c| matches!(c, '\'' | '’'))
                    && tail[mark.len_utf8()..].starts_with([' ', '\n'])
                {
                    end += mark.len_utf8();
                }
            }
            token.kind = Kind::Word;
            token.capital = first.is_uppercase();
            // A word parted at the end of a line: "cin-\nnamon".
            let mut looked = LEXICON.look_up(&word);
            if bytes.get(end) == Some(&b'-') && matches!(bytes.get(end + 1), Some(b'\n' | b'\r')) {
                let tail = text[end + 1..].trim_start_matches(['\r', '\n', ' ']);
                let length: usize = tail.chars().take_while(|c| c.is_alphabetic()).map(char::len_utf8).sum();
                let mut joined = word.clone();
                tail[..length].chars().for_each(|c| fold(c, &mut joined));
                let whole = LEXICON.look_up(&joined);
                if length > 0 && whole.0 != UNKNOWN && !whole.2 {
                    looked = whole;
                    end = text.len() - tail.len() + length;
                    line += 1;
                }
            }
            if looked.0 == UNKNOWN
                && let Some(stem) = word.strip_suffix("'s")
            {
                looked = LEXICON.look_up(stem);
            }
            (token.lex, token.plural, token.guessed) = looked;
            token.classes = LEXICON.entry(token.lex).classes;
            at = end;
            if bytes.get(at) == Some(&b'-')
                && text[at + 1..].trim_start_matches(['\r', '\n']).starts_with(|c: char| c.is_alphabetic())
                && bytes.get(at + 1) != Some(&b'-')
            {
                hyphened = true;
                at += 1;
            }
        } else if first == '&' {
            token.kind = Kind::Word;
            let etcetera = rest[1..].starts_with('c');
            token.lex = LEXICON.id(if etcetera { "etc" } else { "and" });
            token.classes = LEXICON.entry(token.lex).classes;
            at += if etcetera { 2 } else { 1 };
        } else if matches!(first, '-' | '–' | '—' | '―') {
            let run: usize =
                rest.chars().take_while(|c| matches!(c, '-' | '–' | '—' | '―')).map(char::len_utf8).sum();
            // A single hyphen between figures is a range, between words it was taken above.
            token.kind = Kind::Mark(if run == 1 || first == '–' { '-' } else { '—' });
            at += run;
        } else {
            at += first.len_utf8();
        }
        token.end = at.max(token.start as usize + 1) as u32;
        if token.word() && hyphened {
            token.end -= 1;
        }
        newlines = 0;
        token.key = crate::amount::key(&text[token.start as usize..token.end as usize]);
        tokens.push(token);
    }
    sentences(text, &mut tokens);
    lists(&mut tokens);
    tokens
}

/// Marks the paragraphs that are lists: two lines or more, most of them short or beginning with a
/// number.
fn lists(tokens: &mut [Token]) {
    let mut start = 0;
    while start < tokens.len() {
        let end = (start + 1..tokens.len()).find(|at| tokens[*at].para_start).unwrap_or(tokens.len());
        let lines = tokens[end - 1].line.saturating_sub(tokens[start].line) + 1;
        let starts: Vec<usize> = (start..end).filter(|at| tokens[*at].line_start).collect();
        let numbered = starts
            .iter()
            .filter(|at| matches!(tokens[**at].kind, Kind::Number(_)) || tokens[**at].is(Classes::NUMBER))
            .count();
        let mut short = 0;
        for (at, first) in starts.iter().enumerate() {
            let last = starts.get(at + 1).map_or(end, |next| *next) - 1;
            if tokens[last].end - tokens[*first].start < 46 {
                short += 1;
            }
        }
        if lines >= 2 && starts.len() >= 2 && (numbered * 2 >= starts.len() || short == starts.len()) {
            for token in &mut tokens[start..end] {
                token.listed = true;
            }
        }
        start = end;
    }
}

/// Numbers the sentences.
fn sentences(text: &str, tokens: &mut [Token]) {
    let mut sentence = 0;
    let mut first = 0;
    let mut paragraph = 0;
    for at in 0..tokens.len() {
        paragraph += u32::from(tokens[at].para_start);
        if at > 0 {
            let before = tokens[at - 1];
            let this = tokens[at];
            let stop = match before.kind {
                Kind::Mark('.') => {
                    let after_word = at >= 2 && {
                        let previous = tokens[at - 2];
                        previous.word()
                            && previous.end == before.start
                            && abbreviation(
                                &text[previous.start as usize..previous.end as usize].to_lowercase(),
                            )
                    };
                    !after_word || this.para_start
                }
                Kind::Mark('!' | '?') => true,
                _ => false,
            };
            let stop = stop && (this.capital || !this.word() || this.para_start);
            if stop || this.para_start {
                sentence += 1;
                first = at as u32;
            }
        }
        tokens[at].sentence = sentence;
        tokens[at].sentence_start = first;
        tokens[at].paragraph = paragraph;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<Option<Ratio<u32>>> {
        lex(text)
            .into_iter()
            .filter_map(|token| match token.kind {
                Kind::Number(value) => Some(value),
                Kind::Word | Kind::Mark(_) => None,
            })
            .collect()
    }

    #[test]
    fn figures_with_fractions() {
        let half = Ratio::new(3_u32, 2);
        for text in ["1-1/2 cups", "1 1/2 cups", "1½ cups", "1 ½ cups", "1¹⁄₂ cups", "1.5 cups"] {
            assert_eq!(values(text), [Some(half)], "{text}");
        }
        assert_eq!(values("3/4 lb, ¹⁄₃ cup"), [Some(Ratio::new(3, 4)), Some(Ratio::new(1, 3))]);
        assert_eq!(values("99999999999 eggs"), [None]);
    }

    #[test]
    fn spans_give_back_the_words() {
        let text = "Rose-water, cin-\nnamon [Page 12] ſugar";
        let words: Vec<&str> =
            lex(text).iter().map(|token| &text[token.start as usize..token.end as usize]).collect();
        assert_eq!(words, ["Rose", "water", ",", "cin-\nnamon", "ſugar"]);
    }
}
