//! Numbers and amounts: "half a pint", "two pounds and a half", "1 lb. 6 oz.", "from eight to ten".

use quartern_quantity::Ratio;

use crate::lexer::{Kind, Token};
use crate::lexicon::{Classes, LEXICON};

/// A printed number, low to high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Number {
    pub(crate) low: Ratio<u32>,
    pub(crate) high: Ratio<u32>,
    /// It is only `a` or `an`.
    pub(crate) article: bool,
    /// The token after it.
    pub(crate) next: usize,
}

/// One part of an amount: a number of one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct AmountPart {
    pub(crate) low: Ratio<u32>,
    pub(crate) high: Ratio<u32>,
    /// An index into the register of unit words; nothing for things counted.
    pub(crate) unit: Option<u32>,
}

/// An amount as printed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Amount {
    pub(crate) parts: Vec<AmountPart>,
    /// The tokens of a word printed with the measure, such as `heaping`.
    pub(crate) qualifier: Option<(usize, usize)>,
    pub(crate) article: bool,
    pub(crate) next: usize,
    /// It could not be read whole.
    pub(crate) unread: bool,
}

/// A unit word found: which, the token after it, and the tokens of a word of quality before it.
type UnitFound = (u32, usize, Option<(usize, usize)>);

/// Numbers larger than this are years, weights of oxen, or noise.
const LARGEST: u32 = 10_000;

fn product(one: Ratio<u32>, two: Ratio<u32>) -> Option<Ratio<u32>> {
    let above = one.numer().checked_mul(*two.numer())?;
    let below = one.denom().checked_mul(*two.denom())?;
    (above / below <= LARGEST && below < 100_000).then(|| Ratio::new(above, below))
}

fn sum(one: Ratio<u32>, two: Ratio<u32>) -> Option<Ratio<u32>> {
    let below = one.denom().checked_mul(*two.denom())?;
    let above = one.numer().checked_mul(*two.denom())?.checked_add(two.numer().checked_mul(*one.denom())?)?;
    (above / below <= LARGEST && below < 100_000).then(|| Ratio::new(above, below))
}

/// Returns the key of a word: FNV-1a over its letters in lower case (see `model::feature`).
pub(crate) const fn key(word: &str) -> u64 {
    let bytes = word.as_bytes();
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let mut at = 0;
    while at < bytes.len() {
        hash ^= bytes[at].to_ascii_lowercase() as u64;
        hash = hash.wrapping_mul(0x0100_0000_01b3);
        at += 1;
    }
    hash
}

/// Returns the keys of several words.
pub(crate) const fn keys<const N: usize>(words: [&str; N]) -> [u64; N] {
    let mut keys = [0; N];
    let mut at = 0;
    while at < N {
        keys[at] = key(words[at]);
        at += 1;
    }
    keys
}

/// Asks whether the token at a place is one of some words, as printed and whatever the case.
macro_rules! any {
    ($words:expr, $at:expr, [$($word:literal),+ $(,)?]) => {
        $words.one_of($at, const { &$crate::amount::keys([$($word),+]) })
    };
}
pub(crate) use any;

/// A reader of one text's tokens.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Words<'a> {
    pub(crate) text: &'a str,
    pub(crate) tokens: &'a [Token],
}

impl<'a> Words<'a> {
    pub(crate) fn at(&self, at: usize) -> Option<&'a Token> {
        self.tokens.get(at)
    }

    /// Returns a token's words as printed.
    pub(crate) fn printed(&self, at: usize) -> &'a str {
        self.tokens.get(at).map_or("", |token| &self.text[token.start as usize..token.end as usize])
    }

    /// Is the token this word of the lexicon.
    pub(crate) fn is(&self, at: usize, word: &str) -> bool {
        self.tokens
            .get(at)
            .is_some_and(|token| token.word() && token.lex.0 != 0 && &*token.entry().word == word)
    }

    /// Is the token one of these words, as printed and whatever the case. Asked through [`any!`],
    /// which works out the keys of the words when the program is compiled.
    pub(crate) fn one_of(&self, at: usize, keys: &[u64]) -> bool {
        self.tokens.get(at).is_some_and(|token| keys.contains(&token.key))
    }

    pub(crate) fn class(&self, at: usize, class: Classes) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is(class))
    }

    pub(crate) fn mark(&self, at: usize, mark: char) -> bool {
        self.tokens.get(at).is_some_and(|token| token.mark(mark))
    }

    /// Walks a trie from a token on, over hyphens and line ends; returns what the longest name
    /// stands for and the token after it.
    pub(crate) fn longest(&self, trie: &crate::lexicon::Trie, at: usize) -> Option<(u32, usize)> {
        let mut node = 0;
        let mut best = None;
        let mut here = at;
        while let Some(token) = self.tokens.get(here) {
            if !token.word() || token.lex.0 == 0 || (here > at && token.para_start) {
                break;
            }
            let Some(next) = trie.step(node, token.lex) else { break };
            node = next;
            here += 1;
            if let Some(value) = trie.at(node) {
                best = Some((value, here));
            }
        }
        best
    }

    /// Reads one number without a range.
    fn single(&self, at: usize) -> Option<(Ratio<u32>, bool, usize)> {
        let token = self.at(at)?;
        let one = Ratio::from_integer(1);
        match token.kind {
            Kind::Number(value) => {
                let value = value?;
                if let Some(next) = self.at(at + 1)
                    && next.is(Classes::MULTIPLE)
                    && let Some(times) = next.entry().value
                {
                    return Some((product(value, times)?, false, at + 2));
                }
                // "½ a lemon", "1/2 of a pint"
                if value < one {
                    let article = at + 1 + usize::from(self.is(at + 1, "of"));
                    if any!(self, article, ["a", "an"]) {
                        return Some((value, false, article + 1));
                    }
                }
                Some((value, false, at + 1))
            }
            Kind::Mark(_) => None,
            Kind::Word => {
                let article = any!(self, at, ["a", "an"]);
                if !article
                    && !token.is(Classes(Classes::NUMBER.0 | Classes::FRACTION.0 | Classes::MULTIPLE.0))
                {
                    return None;
                }
                if token.is(Classes::FRACTION) && !article {
                    return self.fraction(at, one);
                }
                let mut value = if article { one } else { token.entry().value? };
                let mut here = at + 1;
                if token.is(Classes::MULTIPLE) && !article {
                    return Some((value, false, here));
                }
                // twenty-five
                if value >= Ratio::from_integer(20)
                    && let Some(next) = self.at(here)
                    && next.is(Classes::NUMBER)
                    && let Some(units) = next.entry().value
                    && units < Ratio::from_integer(10)
                    && value.is_integer()
                    && value.numer() % 10 == 0
                {
                    value += units;
                    here += 1;
                }
                // four-and-twenty
                if !article
                    && value < Ratio::from_integer(10)
                    && self.is(here, "and")
                    && let Some(tens) = self.at(here + 1)
                    && tens.is(Classes::NUMBER)
                    && let Some(more) = tens.entry().value
                    && more >= Ratio::from_integer(20)
                    && more.is_integer()
                    && more.numer() % 10 == 0
                {
                    value += more;
                    here += 2;
                }
                if let Some(next) = self.at(here) {
                    if next.is(Classes::MULTIPLE)
                        && let Some(times) = next.entry().value
                    {
                        return Some((product(value, times)?, false, here + 1));
                    }
                    // three quarters, one half, a quarter; not "a third egg".
                    if next.is(Classes::FRACTION) && next.entry().value? < one {
                        let ordinal =
                            any!(self, here, ["third", "fourth", "fifth", "sixth", "eighth", "tenth"]);
                        let of_next =
                            self.is(here + 1, "of") || self.longest(&LEXICON.units, here + 1).is_some();
                        let part_next = any!(self, here + 1, ["part", "parts"]);
                        if !ordinal || !article || of_next {
                            let found = self.fraction(here, value)?;
                            let next = if part_next { found.2 + 1 } else { found.2 };
                            return Some((found.0, false, next));
                        }
                    }
                }
                Some((value, article, here))
            }
        }
    }

    /// Reads what follows a fraction word: "half a dozen", "half of a", "quarter of a".
    fn fraction(&self, at: usize, times: Ratio<u32>) -> Option<(Ratio<u32>, bool, usize)> {
        let value = product(times, self.at(at)?.entry().value?)?;
        let mut here = at + 1;
        let of = self.is(here, "of");
        let article = here + usize::from(of);
        if any!(self, article, ["a", "an"]) {
            if let Some(next) = self.at(article + 1)
                && next.is(Classes::MULTIPLE)
                && let Some(count) = next.entry().value
            {
                return Some((product(value, count)?, false, article + 2));
            }
            here = article + 1;
        } else if let Some(next) = self.at(here)
            && next.is(Classes::MULTIPLE)
            && !of
            && let Some(count) = next.entry().value
        {
            return Some((product(value, count)?, false, here + 1));
        }
        Some((value, false, here))
    }

    /// Reads a number with what may follow: "one and a half", "two or three", "from 8 to 10".
    pub(crate) fn number(&self, at: usize) -> Option<Number> {
        let between = any!(self, at, ["from", "between", "betwixt"]);
        let start = at + usize::from(between);
        let (mut low, article, mut here) = self.single(start)?;
        // one and a half; but "one and a half pint" keeps its own unit, told apart by the caller.
        if self.is(here, "and")
            && let Some((more, next)) = self.and_fraction(here)
        {
            low = sum(low, more)?;
            here = next;
        }
        let mut high = low;
        let joined = any!(self, here, ["or", "to", "@"])
            || (between && self.is(here, "and"))
            || (self.mark(here, '-')
                && matches!(self.at(here + 1).map(|token| token.kind), Some(Kind::Number(_))));
        if joined && !(article && !between) {
            let mut second = here + 1;
            if any!(self, second, ["at"]) && any!(self, second + 1, ["most"]) {
                second += 2;
            }
            if let Some((other, other_article, next)) = self.single(second)
                && other >= low
                && (!other_article)
            {
                high = other;
                here = next;
                if self.is(here, "and")
                    && let Some((more, next)) = self.and_fraction(here)
                {
                    high = sum(high, more)?;
                    here = next;
                }
            }
        }
        // two, three, or four
        if high == low
            && self.mark(here, ',')
            && let Some((second, false, next)) = self.single(here + 1)
            && second > low
            && (any!(self, next, ["or", "to"]) || (self.mark(next, ',') && any!(self, next + 1, ["or"])))
        {
            let or = if self.mark(next, ',') { next + 1 } else { next };
            if let Some((third, false, after)) = self.single(or + 1)
                && third > second
            {
                high = third;
                here = after;
            }
        }
        Some(Number { low, high, article: article && here == start + 1, next: here })
    }

    /// Reads "and a half", "and three quarters", "and 1/2" from the `and` on.
    pub(crate) fn and_fraction(&self, at: usize) -> Option<(Ratio<u32>, usize)> {
        let one = Ratio::from_integer(1);
        let mut here = at + 1;
        if let Some(token) = self.at(here)
            && let Kind::Number(Some(value)) = token.kind
        {
            return (value < one).then_some((value, here + 1));
        }
        let mut times = one;
        if any!(self, here, ["a", "an", "one"]) {
            here += 1;
        } else if let Some(token) = self.at(here)
            && token.is(Classes::NUMBER)
            && let Some(value) = token.entry().value
        {
            times = value;
            here += 1;
        }
        let token = self.at(here)?;
        if !token.is(Classes::FRACTION) {
            return None;
        }
        let value = product(times, token.entry().value?)?;
        // "and half a pint", "and a quarter of a pound": an amount of its own.
        let mut after = here + 1;
        if self.is(after, "of") {
            after += 1;
        }
        if any!(self, after, ["a", "an"]) {
            return None;
        }
        if self.longest(&LEXICON.units, after).is_some() && self.is(here + 1, "of") {
            return None;
        }
        (value < one).then_some((value, here + 1))
    }

    /// Reads "do." or "ditto" after a number: the unit of the amount before.
    fn ditto(&self, at: usize) -> Option<(u32, usize)> {
        if !any!(self, at, ["do", "ditto"]) {
            return None;
        }
        let next = at + 1 + usize::from(self.mark(at + 1, '.'));
        (1..at.min(24)).find_map(|back| {
            let here = at - back;
            if any!(self, here, ["do", "ditto"]) {
                return None;
            }
            let (unit, end) =
                self.longest(&LEXICON.units, here).or_else(|| self.longest(&LEXICON.abbreviations, here))?;
            let counted =
                self.class(
                    here.wrapping_sub(1),
                    Classes(Classes::NUMBER.0 | Classes::ARTICLE.0 | Classes::FRACTION.0),
                ) || matches!(self.at(here.wrapping_sub(1)).map(|token| token.kind), Some(Kind::Number(_)));
            (counted && end > here).then_some((unit, next))
        })
    }

    /// Reads a unit word, with what may stand between it and the number: "a heaping", "good".
    fn unit(&self, at: usize, after_figures: bool) -> Option<UnitFound> {
        let mut here = at;
        let first = here;
        if let Some((unit, next)) = self.ditto(at) {
            return Some((unit, next, None));
        }
        for _ in 0..4 {
            let mut found = self.longest(&LEXICON.units, here);
            if found.is_none()
                && (after_figures
                    || any!(
                        self,
                        here,
                        ["lb", "lbs", "oz", "ozs", "qt", "qts", "pt", "pts", "gal", "℔", "℥", "ʒ"]
                    ))
            {
                found = self.longest(&LEXICON.abbreviations, here);
            }
            if let Some((unit, mut next)) = found {
                // "1 lb." and "2 oz.": the full stop belongs to the abbreviation.
                if self.mark(next, '.')
                    && self.at(next).is_some_and(|dot| {
                        self.at(next + 1).is_some_and(|after| after.sentence == dot.sentence)
                    })
                    && self.longest(&LEXICON.abbreviations, here).is_some()
                {
                    next += 1;
                }
                // "a tea-cup full of yeast"
                if any!(self, next, ["full"]) {
                    next += 1;
                }
                let qualifier = (here > first).then_some((first, here));
                return Some((unit, next, qualifier));
            }
            let token = self.at(here)?;
            let skip = token.word()
                && (token.is(Classes::ADJ)
                    || token.is(Classes::ADVERB)
                    || any!(self, here, ["sized", "heaped"]))
                && !token.para_start;
            if !skip {
                return None;
            }
            here += 1;
        }
        None
    }

    /// Reads an amount. A word that can also be an ingredient (clove, cake, head) is a unit only
    /// where something follows that it is of.
    pub(crate) fn amount(&self, at: usize) -> Option<Amount> {
        let token = self.at(at)?;
        if token.kind == Kind::Number(None) {
            return Some(Amount {
                parts: Vec::new(),
                qualifier: None,
                article: false,
                next: at + 1,
                unread: true,
            });
        }
        let number = self.number(at)?;
        let figures =
            matches!(self.at(number.next.saturating_sub(1)).map(|last| last.kind), Some(Kind::Number(_)))
                || matches!(token.kind, Kind::Number(_));
        let (mut low, mut high) = (number.low, number.high);
        let mut here = number.next;
        let mut article = number.article;
        // "a couple of ounces", "half a hundred of": the count's own "of".
        if self.is(here, "of") && self.class(here.wrapping_sub(1), Classes::MULTIPLE) {
            here += 1;
        }
        let Some((unit, next, mut qualifier)) = self.unit(here, figures) else {
            return Some(Amount {
                parts: vec![AmountPart { low, high, unit: None }],
                qualifier: None,
                article,
                next: here,
                unread: false,
            });
        };
        if !self.good_unit(unit, here, next, article) {
            return Some(Amount {
                parts: vec![AmountPart { low, high, unit: None }],
                qualifier: None,
                article,
                next: here,
                unread: false,
            });
        }
        here = next;
        article = false;
        // "a pint and a half", "two pounds and three quarters"
        if self.is(here, "and")
            && let Some((more, after)) = self.and_fraction(here)
            && self.longest(&LEXICON.units, after).is_none()
        {
            low = sum(low, more)?;
            high = sum(high, more)?;
            here = after;
        } else if any!(self, here, ["or"])
            && let Some(more) =
                (here + 1..here + 4).find(|at| any!(self, *at, ["more", "less", "so", "upwards"]))
            && (here + 1..more).all(|at| any!(self, at, ["even", "rather", "a", "little", "something"]))
        {
            // "a pound or more", "a quart or even more"
            here = more + 1;
        } else if any!(self, here, ["or"])
            && let Some((other, false, after)) = self.single(here + 1)
            && other > high
            && (self.is(after, "of") || !self.at(after).is_some_and(Token::word))
            && self.longest(&LEXICON.units, after).is_none()
        {
            // "a pint or two of"
            high = other;
            here = after;
        } else if any!(self, here, ["or", "to"])
            && let Some(other) = self.number(here + 1)
            && let Some((second, after, _)) = self.unit(other.next, false)
            && second == unit
            && other.low > high
        {
            // "a pint or a pint and a half", "half a pound to a pound"
            high = other.high;
            here = after;
            if self.is(here, "and")
                && let Some((more, next)) = self.and_fraction(here)
                && self.longest(&LEXICON.units, next).is_none()
            {
                high = sum(high, more)?;
                here = next;
            }
        }
        let mut parts = vec![AmountPart { low, high, unit: Some(unit) }];
        // "1 lb. 6 oz.", "a pint and a gill"
        let dimension =
            |unit: u32| quartern_knowledge::unit_words().get(unit as usize).and_then(|word| word.dimension);
        for _ in 0..2 {
            let mut start = here;
            let and = self.is(start, "and");
            if and || self.mark(start, ',') {
                start += 1;
            }
            let Some(more) = self.number(start) else { break };
            let more_figures = matches!(self.at(start).map(|token| token.kind), Some(Kind::Number(_)));
            let Some((small, after, extra)) = self.unit(more.next, more_figures) else { break };
            let same = dimension(small) == dimension(unit)
                && small != unit
                && matches!(
                    dimension(unit),
                    Some(quartern_quantity::Dimension::Mass | quartern_quantity::Dimension::Volume)
                );
            // What follows must be the goods, or the first part had no goods of its own.
            if !same || extra.is_some() || self.at(start).is_some_and(|token| token.line_start && !and) {
                break;
            }
            parts.push(AmountPart { low: more.low, high: more.high, unit: Some(small) });
            here = after;
        }
        if qualifier.is_none()
            && at > 0
            && any!(
                self,
                at - 1,
                ["scant", "heaping", "heaped", "generous", "good", "large", "small", "full"]
            )
        {
            qualifier = Some((at - 1, at));
        }
        Some(Amount { parts, qualifier, article, next: here, unread: false })
    }

    /// Decides whether a word that is both a unit and something else is a unit here.
    fn good_unit(&self, unit: u32, at: usize, next: usize, article: bool) -> bool {
        let Some(word) = quartern_knowledge::unit_words().get(unit as usize) else { return false };
        let of = self.is(next, "of");
        let dimension = word.dimension;
        // "two cloves", "a loaf", "six cakes": things by themselves unless something follows "of".
        let also_food = self.longest(&LEXICON.ingredients, at).is_some_and(|(_, end)| end >= next);
        if also_food {
            if let Some((_, end)) = self.longest(&LEXICON.ingredients, at)
                && end > next
                && !of
            {
                return false;
            }
            return of || self.longest(&LEXICON.ingredients, next).is_some();
        }
        let vessel = self.class(at, Classes::VESSEL);
        if vessel && dimension != Some(quartern_quantity::Dimension::Mass) {
            // "a bowl of flour" but not "a bowl and"; "a glass dish".
            let spoon_or_cup = matches!(
                word.unit,
                "spoon"
                    | "cup"
                    | "teaspoon"
                    | "tablespoon"
                    | "teacup"
                    | "coffeecup"
                    | "breakfastcup"
                    | "wineglass"
                    | "dessertspoon"
                    | "saltspoon"
            );
            if !of && !(spoon_or_cup && !self.plain_vessel(at, next)) {
                return self.food_soon(next) && !article;
            }
        }
        if matches!(dimension, Some(quartern_quantity::Dimension::Length)) {
            return of;
        }
        true
    }

    /// Is the unit word printed as the vessel itself ("a cup", "the spoon") with nothing in it.
    fn plain_vessel(&self, at: usize, next: usize) -> bool {
        let ful = (at..next).any(|here| {
            let printed = self.printed(here).to_ascii_lowercase();
            printed.contains("ful") || printed.ends_with("full")
        });
        !ful && !self.food_soon(next)
    }

    fn food_soon(&self, at: usize) -> bool {
        (at..at + 4).any(|here| self.longest(&LEXICON.ingredients, here).is_some())
            && self.at(at).is_some_and(Token::word)
            && !self.class(at, Classes(Classes::CONJ.0 | Classes::AUX.0))
    }
}
