//! The method: its sentences in order, what is done in each, and the signs that it is done.

use quartern_text::Span;

use crate::amount::{Words, any};
use crate::lexicon::Classes;
use crate::{Cue, Item, Step};

/// A sign that it is done is no longer than this many tokens.
const LONGEST_CUE: usize = 40;

/// Reads the steps and the cues from a token on.
///
/// A step is one sentence that does something, or that states a time, a heat or a sign. Lines of a list of ingredients are no steps.
pub(crate) fn steps(words: Words<'_>, from: usize, items: &[Item]) -> (Vec<Step>, Vec<Cue>) {
    let tokens = words.tokens;
    let mut steps = Vec::new();
    let mut cues = Vec::new();
    let mut at = from;
    let mut next_item = 0;
    let mut ingredients_in = 0;
    while at < tokens.len() {
        let sentence = tokens[at].sentence;
        let end = (at..tokens.len()).find(|here| tokens[*here].sentence != sentence).unwrap_or(tokens.len());
        let mut actions: Vec<&'static str> = Vec::new();
        for here in at..end {
            let token = &tokens[here];
            if token.word() && token.is(Classes::VERB) && !idle(words, here) && acts(words, at, here) {
                let verb: &'static str = &token.entry().word;
                if actions.last() != Some(&verb) {
                    actions.push(verb);
                }
            }
            if any!(words, here, ["till", "until", "untill"]) && here + 1 < end {
                let stop = (here + 1..end.min(here + LONGEST_CUE))
                    .find(|next| {
                        let token = &tokens[*next];
                        token.mark(';')
                            || token.mark(':')
                            || token.mark(',')
                            || token.mark('.')
                            || token.mark(')')
                            || any!(words, *next, ["then"])
                    })
                    .unwrap_or(end.min(here + LONGEST_CUE));
                if stop > here + 1 {
                    cues.push(Cue { span: Span::new(tokens[here].start, tokens[stop - 1].end) });
                }
            }
        }
        let span = Span::new(tokens[at].start, tokens[end - 1].end);
        let mut inside: Vec<usize> = Vec::new();
        while next_item < items.len() && items[next_item].name_span.end() <= span.start() {
            next_item += 1;
        }
        for (index, item) in items.iter().enumerate().skip(next_item) {
            if item.span.start() >= span.end() {
                break;
            }
            if span.holds(item.span) || (span.meets(item.span) && span.holds(item.name_span)) {
                inside.push(index);
            }
        }
        let headed =
            tokens[at].para_start && (at..end.min(at + 4)).any(|here| any!(words, here, ["ingredients"]));
        if headed {
            ingredients_in = tokens[at].paragraph;
        }
        let told = tokens[at..end].iter().any(crate::lexer::Token::word);
        if told && !tokens[at].listed && tokens[at].paragraph != ingredients_in {
            steps.push(Step { span, actions, items: inside });
        }
        at = end;
    }
    (steps, cues)
}

/// Verbs that say nothing of what is done.
fn idle(words: Words<'_>, at: usize) -> bool {
    // "Do not cut it while it is hot."
    let forbidden = (1..=2).any(|back| any!(words, at.wrapping_sub(back), ["not", "never"]));
    forbidden
        || any!(
            words,
            at,
            [
                "let", "make", "have", "get", "give", "do", "try", "allow", "use", "begin", "commence",
                "continue"
            ]
        )
}

/// Is a word that can be a verb one here: at the start of a clause, or after another action.
fn acts(words: Words<'_>, start: usize, at: usize) -> bool {
    if at == start {
        return true;
    }
    let before = at - 1;
    let after_mark = words.mark(before, ';')
        || words.mark(before, ':')
        || words.mark(before, ',')
        || words.mark(before, '.')
        || words.mark(before, '—');
    let joined =
        any!(words, before, ["and", "then", "or", "to", "not", "you", "must", "may", "should", "let"]);
    let noun_follows = words.class(at, Classes::INGREDIENT)
        && (any!(words, at + 1, ["and", "or", "to", "in", "with"])
            || words.mark(at + 1, ',')
            || words.mark(at + 1, '.'));
    // "when nearly cold stir into it"
    let directs = words.class(before, Classes::ADJ)
        && !words.class(at, Classes::INGREDIENT)
        && words.class(at + 1, Classes(Classes::PREP.0 | Classes::DET.0 | Classes::PRONOUN.0));
    (after_mark || joined || directs || words.class(before, Classes::ADVERB)) && !noun_follows
}
