//! The heading of a recipe.

use quartern_text::Span;

use crate::amount::Words;
use crate::lexicon::Classes;

/// Where the heading stands.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    pub(crate) span: Option<Span>,
    /// The first token after it; 0 where there is none.
    pub(crate) end: usize,
}

/// Finds the heading: the one given, if the text begins with it; else a first line that stands by
/// itself, or words run in before a dash, a colon or a full stop and printed in capitals.
pub(crate) fn find(words: Words<'_>, given: Option<&str>) -> Heading {
    let tokens = words.tokens;
    let none = Heading { span: None, end: 0 };
    let Some(first) = tokens.first() else { return none };
    let make = |end: usize| {
        let last = &tokens[end - 1];
        Heading { span: Some(Span::new(first.start, last.end)), end }
    };
    if let Some(title) = given {
        let letters = |text: &str| -> String {
            text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
        };
        let wanted = letters(title);
        if wanted.is_empty() {
            return none;
        }
        let mut have = String::new();
        for (at, token) in tokens.iter().enumerate().take(60) {
            have.push_str(&letters(&words.text[token.start as usize..token.end as usize]));
            if have.ends_with(&wanted) && (have.len() - wanted.len() < 12) {
                let mut end = at + 1;
                while tokens.get(end).is_some_and(|token| {
                    !token.word()
                        && !matches!(token.kind, crate::lexer::Kind::Number(_))
                        && !token.para_start
                        && !token.mark('(')
                }) {
                    end += 1;
                }
                return make(end);
            }
            if have.len() > wanted.len() + 16 {
                break;
            }
        }
    }
    // A first paragraph of at most two short lines, followed by a blank line.
    let para_end = tokens.iter().skip(1).position(|token| token.para_start).map(|at| at + 1);
    if let Some(end) = para_end {
        let length = tokens[end - 1].end - first.start;
        let lines = tokens[end - 1].line - first.line;
        let begins_like_method = words.class(0, Classes::VERB)
            && words.mark(end - 1, '.')
            && length > 60
            && !words.text[first.start as usize..].starts_with('_');
        if length <= 140
            && lines <= 2
            && !begins_like_method
            && !matches!(first.kind, crate::lexer::Kind::Number(_))
        {
            // A line of credit or amount below it belongs to the body.
            return make(end);
        }
    }
    // Run in: "CREAMED CHICKEN.--Cut up", "_Grillades_: Flatten".
    let mut capitals = 0;
    for (at, token) in tokens.iter().enumerate().take(16) {
        let printed = words.printed(at);
        if token.word()
            && printed.chars().filter(|c| c.is_alphabetic()).all(char::is_uppercase)
            && printed.len() > 1
        {
            capitals += 1;
        }
        let stop = token.mark('—') || token.mark(':') || token.mark('.');
        if stop && at > 0 {
            let enough =
                capitals * 2 > at || token.mark('—') || words.text[..token.start as usize].contains('_');
            let dashed = words.mark(at + 1, '—');
            if enough || dashed {
                return make(at + 1 + usize::from(dashed));
            }
            break;
        }
    }
    // One short line at the top of a list.
    if let Some(end) = tokens.iter().skip(1).position(|token| token.line_start).map(|at| at + 1) {
        let length = tokens[end - 1].end - first.start;
        let next_is_number = matches!(tokens[end].kind, crate::lexer::Kind::Number(_));
        if length <= 60 && next_is_number && !matches!(first.kind, crate::lexer::Kind::Number(_)) {
            return make(end);
        }
    }
    none
}
