//! A transcript made easy to search: lower case, plain letters, single spaces.

use quartern_text::Span;

/// A transcript folded, with the way back to its bytes.
#[derive(Clone, Debug)]
pub(crate) struct Folded {
    /// Lower case, long s as s, every run of white space one space, all hyphens and apostrophes plain.
    pub(crate) text: String,
    /// For each byte of `text`, where the character it comes from starts in the transcript.
    starts: Vec<u32>,
    /// And where it ends.
    ends: Vec<u32>,
}

impl Folded {
    pub(crate) fn new(words: &str) -> Self {
        let mut folded = Self {
            text: String::with_capacity(words.len()),
            starts: Vec::with_capacity(words.len()),
            ends: Vec::with_capacity(words.len()),
        };
        let mut letters = words.char_indices().peekable();
        while let Some((at, letter)) = letters.next() {
            let mut end = at + letter.len_utf8();
            match letter {
                // A soft hyphen and the signs of italics are no part of a word.
                '\u{AD}' | '_' => {}
                'ſ' => folded.push('s', at, end),
                '’' | '‘' | 'ʼ' => folded.push('\'', at, end),
                '‐' | '‑' => folded.push('-', at, end),
                '-' if letters.peek().is_some_and(|(_, next)| *next == '-') => {
                    while let Some((next, _)) = letters.next_if(|(_, next)| *next == '-') {
                        end = next + 1;
                    }
                    folded.push('—', at, end);
                }
                _ if letter.is_whitespace() => {
                    if !folded.text.ends_with(' ') {
                        folded.push(' ', at, end);
                    }
                }
                _ if letter.is_ascii() => folded.push(letter.to_ascii_lowercase(), at, end),
                _ => {
                    for lower in letter.to_lowercase() {
                        folded.push(lower, at, end);
                    }
                }
            }
        }
        folded
    }

    fn push(&mut self, letter: char, start: usize, end: usize) {
        self.text.push(letter);
        for _ in 0..letter.len_utf8() {
            self.starts.push(start as u32);
            self.ends.push(end as u32);
        }
    }

    /// Returns where a stretch of the folded text stands in the transcript.
    pub(crate) fn span(&self, start: usize, end: usize) -> Span {
        let first = self.starts.get(start).copied().unwrap_or(0);
        let last = end.checked_sub(1).and_then(|last| self.ends.get(last)).copied().unwrap_or(first);
        Span::new(first, last)
    }

    /// Is a stretch made of whole words? A hyphen or an apostrophe before a letter is part of a word.
    pub(crate) fn whole(&self, start: usize, end: usize) -> bool {
        let mut before = self.text[..start].chars().rev();
        let joined_before = match before.next() {
            Some('-' | '\'') => before.next().is_some_and(char::is_alphanumeric),
            Some(letter) => letter.is_alphanumeric(),
            None => false,
        };
        let mut after = self.text[end..].chars();
        let joined_after = match after.next() {
            Some('-' | '\'') => after.next().is_some_and(char::is_alphanumeric),
            Some(letter) => letter.is_alphanumeric(),
            None => false,
        };
        !joined_before && !joined_after
    }

    /// Returns the first place where words stand as whole words.
    pub(crate) fn find(&self, words: &str) -> Option<Span> {
        let wanted = Self::new(words.trim()).text;
        if wanted.is_empty() {
            return None;
        }
        self.text
            .match_indices(&wanted)
            .find(|(at, found)| self.whole(*at, at + found.len()))
            .map(|(at, found)| self.span(at, at + found.len()))
    }

    /// Does any of these words stand in the text as whole words?
    pub(crate) fn any(&self, words: &[&str]) -> bool {
        words
            .iter()
            .any(|wanted| self.text.match_indices(wanted).any(|(at, found)| self.whole(at, at + found.len())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_words_over_a_line_break_and_with_long_s() {
        let words = "Take ſome\nSalt-petre, and ſteep it";
        let folded = Folded::new(words);
        assert_eq!(folded.text, "take some salt-petre, and steep it");
        let span = folded.find("some salt-petre").expect("it stands there");
        assert_eq!(&words[span.start()..span.end()], "ſome\nSalt-petre");
        assert!(folded.find("salt").is_none(), "a hyphen is part of a word");
        assert!(folded.find("teep").is_none());
        assert!(Folded::new("cut it--boil it").any(&["boil"]));
    }
}
