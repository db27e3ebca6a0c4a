//! From mentions to items: which of them bring an ingredient in, rates, equalities, choices.

use quartern_knowledge::unit_words;
use quartern_quantity::Ratio;
use quartern_text::Span;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::amount::{Words, any};
use crate::candidates::{Candidate, Draft, Known, candidates};
use crate::lexer::Kind;
use crate::lexicon::Classes;
use crate::model::{self, Feature, feature};
use crate::title::Heading;
use crate::{Amount, Choice, Duration, Item, Name, Part, Rate, Reference, Yield, flat};

/// A mention with its features by name, for training.
#[derive(Clone, Debug)]
pub struct Example {
    /// The item as it would be read.
    pub item: Item,
    /// The features, `tag=value`.
    pub features: Vec<String>,
    /// Was it kept.
    pub kept: bool,
    /// How its amount is stated: `stated`, `vague` or `bare`.
    pub group: &'static str,
}

/// Returns every mention of a text with its features. `keep` decides in the model's place, from the
/// mention's span and features, which are kept: so training sees the history a perfect reader would,
/// and another model can be tried.
pub fn examples(
    text: &str,
    title: Option<&str>,
    keep: &mut dyn FnMut(Span, &[String]) -> bool,
) -> Vec<Example> {
    let tokens = crate::lexer::lex(text);
    let words = Words { text, tokens: &tokens };
    let heading = crate::title::find(words, title);
    let durations = crate::times::durations(words, heading.end);
    let references = crate::pointers::references(words, heading.end);
    let yields = crate::pointers::yields(words, heading.end);
    let mut out = Vec::new();
    decide(words, &heading, &durations, &references, &yields, &mut |item, mention, seen| {
        let mut named = Vec::new();
        describe(words, &heading, mention, seen, &mut |tag, value| named.push(format!("{tag}={value}")));
        let kept = keep(item.span, &named);
        out.push(Example { item: item.clone(), features: named, kept, group: group(mention).as_str() });
        kept
    });
    out
}

/// Reads the items.
pub(crate) fn items(
    words: Words<'_>,
    heading: &Heading,
    durations: &[Duration],
    references: &[Reference],
    yields: &[Yield],
) -> Vec<Item> {
    let mut hashed: Vec<Feature> = Vec::with_capacity(48);
    decide(words, heading, durations, references, yields, &mut |item, mention, seen| {
        hashed.clear();
        describe(words, heading, mention, seen, &mut |tag, value| hashed.push(feature(tag, value)));
        let (keep, sure) = model::score(&hashed);
        item.sure = model::is_sure(sure, group(mention));
        keep > *model::KEEP_ABOVE
    })
}

fn group(mention: &Candidate) -> model::Group {
    match mention.amount {
        Draft::Parts(_) => model::Group::Stated,
        Draft::Vague(..) => model::Group::Vague,
        Draft::Unstated | Draft::SameAs { .. } | Draft::Unread(..) => model::Group::Bare,
    }
}

/// What was brought in before a mention.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "each answers a question of its own")]
pub(crate) struct Seen {
    /// Something of the same name.
    same: bool,
    /// Something whose last word is the same.
    head: bool,
    /// Something of which this is the plain name: `sugar` after `brown sugar`.
    plainer: bool,
    /// A mention of the same name that was not kept.
    passed: bool,
    /// How many items so far, at most 9.
    count: usize,
    /// Was the mention that it is joined to by a comma or "and" kept.
    chain: Option<bool>,
    /// Was the mention before in the same sentence kept.
    sentence: Option<bool>,
    /// The recipe has a list of its ingredients, and how this mention stands to it.
    list: InList,
    /// The same name with the same amount stands before or after.
    again: Again,
}

/// How a mention stands to the recipe's own list of ingredients.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum InList {
    /// There is no list.
    NoList,
    /// It stands in the list.
    Inside,
    /// It stands outside, and the list names it.
    Listed,
    /// It stands outside, and the list does not name it.
    Missing,
}

/// Does the same name with the same amount stand elsewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Again {
    No,
    Before,
    After,
}

/// The fruit that the heading names, if it names one.
fn titled_fruit(words: Words<'_>, heading: &Heading) -> Option<&'static str> {
    (0..heading.end).find_map(|at| {
        // The fruit alone, though "currant jelly" is a name too.
        let lex = words.at(at)?.lex;
        let index = crate::lexicon::LEXICON.ingredients.get(&[lex])?;
        let (of, _) = crate::lexicon::LEXICON.named(index);
        (of.kind == "fruit" && of.id != "fruit").then_some(of.name)
    })
}

/// Says for each mention how it stands to the recipe's list. A list is a paragraph of short lines,
/// what follows "Ingredients", or a run of "flour, 1 lb.; butter, 6 oz." in one sentence.
fn in_list(words: Words<'_>, mentions: &[Candidate]) -> Vec<InList> {
    let mut inside = vec![false; mentions.len()];
    for (at, mention) in mentions.iter().enumerate() {
        inside[at] = words.tokens[mention.start].listed;
    }
    // "INGREDIENTS.—4 lbs. of flour, 6 eggs.": to the end of the paragraph.
    let mut headed = false;
    for (at, token) in words.tokens.iter().enumerate() {
        if any!(words, at, ["ingredients"])
            && (token.para_start
                || words.mark(at + 1, '.')
                || words.mark(at + 1, ':')
                || words.mark(at + 1, '—'))
        {
            let end = (at + 1..words.tokens.len())
                .find(|here| words.tokens[*here].para_start)
                .unwrap_or(words.tokens.len());
            for (index, mention) in mentions.iter().enumerate() {
                let here = mention.start > at && mention.end <= end;
                headed |= here;
                inside[index] |= here;
            }
        }
    }
    let mut from = 0;
    while from < mentions.len() {
        let sentence = words.tokens[mentions[from].start].sentence;
        let to = (from..mentions.len())
            .find(|at| words.tokens[mentions[*at].start].sentence != sentence)
            .unwrap_or(mentions.len());
        let after =
            mentions[from..to].iter().filter(|mention| mention.rule == "amount after the name").count();
        if after >= 2 {
            // From there to the end of the paragraph.
            let paragraph = words.tokens[mentions[from].start].paragraph;
            let end = (to..mentions.len())
                .find(|at| words.tokens[mentions[*at].start].paragraph != paragraph)
                .unwrap_or(mentions.len());
            inside[from..end].iter_mut().for_each(|inside| *inside = true);
            from = end;
            continue;
        }
        from = to;
    }
    let stated = (0..mentions.len())
        .filter(|at| inside[*at] && !matches!(mentions[*at].amount, Draft::Unstated))
        .count();
    if stated < 3 && !headed {
        return vec![InList::NoList; mentions.len()];
    }
    let names: FxHashSet<&str> =
        (0..mentions.len()).filter(|at| inside[*at]).map(|at| mentions[at].plain.as_ref()).collect();
    let heads: FxHashSet<&str> =
        (0..mentions.len()).filter(|at| inside[*at]).map(|at| head(mentions[at].plain.as_ref())).collect();
    mentions
        .iter()
        .zip(&inside)
        .map(|(mention, inside)| {
            let plain = mention.plain.as_ref();
            if *inside {
                InList::Inside
            } else if names.contains(plain) || heads.contains(head(plain)) {
                InList::Listed
            } else {
                InList::Missing
            }
        })
        .collect()
}

fn again(mentions: &[Candidate]) -> Vec<Again> {
    // The places of every name with an amount, so that a long text costs no more than its length.
    let mut places: FxHashMap<(&str, String), (usize, usize)> = FxHashMap::default();
    let key = |mention: &Candidate| match &mention.amount {
        Draft::Parts(parts) => Some(format!("{parts:?}")),
        Draft::Unstated | Draft::Vague(..) | Draft::SameAs { .. } | Draft::Unread(..) => None,
    };
    let mut keys: Vec<Option<String>> = Vec::with_capacity(mentions.len());
    for (at, mention) in mentions.iter().enumerate() {
        let key = key(mention);
        if let Some(key) = &key {
            places
                .entry((mention.plain.as_ref(), key.clone()))
                .and_modify(|place| place.1 = at)
                .or_insert((at, at));
        }
        keys.push(key);
    }
    mentions
        .iter()
        .zip(keys)
        .enumerate()
        .map(|(at, (mention, key))| {
            let place = key.and_then(|key| places.get(&(mention.plain.as_ref(), key)).copied());
            match place {
                Some((first, _)) if first < at => Again::Before,
                Some((_, last)) if last > at => Again::After,
                _ => Again::No,
            }
        })
        .collect()
}

type Judge<'j> = dyn FnMut(&mut Item, &Candidate, Seen) -> bool + 'j;

/// Walks the mentions and keeps those that the judge keeps.
fn decide(
    words: Words<'_>,
    heading: &Heading,
    durations: &[Duration],
    references: &[Reference],
    yields: &[Yield],
    judge: &mut Judge<'_>,
) -> Vec<Item> {
    let mut taken = vec![false; words.tokens.len()];
    let spans = durations
        .iter()
        .map(|duration| duration.span)
        .chain(references.iter().map(|reference| reference.span))
        .chain(yields.iter().map(|line| line.span));
    for span in spans {
        let first = words.tokens.partition_point(|token| (token.end as usize) <= span.start());
        for (at, token) in words.tokens.iter().enumerate().skip(first) {
            if token.start as usize >= span.end() {
                break;
            }
            taken[at] = true;
        }
    }
    let mentions = candidates(words, heading.end, &taken);
    let fruit = titled_fruit(words, heading);
    let rates = rates(words, &mentions);
    let lists = in_list(words, &mentions);
    let mut items: Vec<Item> = Vec::new();
    let again = again(&mentions);
    let mut history = History::default();
    let mut last: Option<(usize, bool)> = None;
    let mut last_sentence = u32::MAX;
    for (at, (mention, rate)) in mentions.iter().zip(rates).enumerate() {
        if mention.plain.is_empty() {
            continue;
        }
        let mut item = settle(words, mention, rate, &items);
        // "a pint of juice" is of the fruit in the heading.
        if let Some(fruit) = fruit
            && let part @ ("juice" | "pulp") =
                item.name.plain.strip_prefix("fruit ").unwrap_or(&item.name.plain)
        {
            item.name.plain = format!("{fruit} {part}");
        }
        let mut seen = history.seen(&item.name.plain);
        seen.list = lists[at];
        seen.again = again[at];
        seen.chain = last.and_then(|(end, kept)| {
            let gap = end..mention.start;
            let joined = gap.len() <= 3
                && !gap.is_empty()
                && gap.clone().all(|here| {
                    words.mark(here, ',') || any!(words, here, ["and", "or", "the", "&", "with"])
                });
            joined.then_some(kept)
        });
        let sentence = words.tokens[mention.start].sentence;
        seen.sentence = last.filter(|_| sentence == last_sentence).map(|(_, kept)| kept);
        last_sentence = sentence;
        // What the recipe's own list states is not brought in again where the method repeats it.
        let repeated = seen.list == InList::Listed && seen.again != Again::No;
        let kept = !repeated && judge(&mut item, mention, seen);
        last = Some((mention.end, kept));
        if kept {
            history.keep(&item.name);
            items.push(item);
        } else {
            history.passed.insert(mention.plain.clone().into_owned());
        }
    }
    items
}

/// The names brought in so far, and those passed over.
#[derive(Default)]
struct History {
    /// Names and other names of items.
    names: FxHashSet<String>,
    /// Last words of names.
    heads: FxHashSet<String>,
    /// Beginnings and ends of names of several words: `sugar` of `brown sugar`.
    shorter: FxHashSet<String>,
    /// Names of mentions that were not kept.
    passed: FxHashSet<String>,
    count: usize,
}

impl History {
    fn keep(&mut self, name: &Name) {
        let plain = name.plain.as_str();
        self.names.insert(plain.to_owned());
        self.names.extend(name.also.iter().cloned());
        self.heads.insert(head(plain).to_owned());
        for (at, _) in plain.match_indices(' ') {
            self.shorter.insert(plain[..at].to_owned());
            self.shorter.insert(plain[at + 1..].to_owned());
        }
        self.count += 1;
    }

    fn seen(&self, plain: &str) -> Seen {
        Seen {
            same: self.names.contains(plain),
            head: self.heads.contains(head(plain)),
            plainer: self.shorter.contains(plain),
            passed: self.passed.contains(plain),
            count: self.count.min(9),
            chain: None,
            sentence: None,
            list: InList::NoList,
            again: Again::No,
        }
    }
}

fn head(plain: &str) -> &str {
    plain.rsplit(' ').next().unwrap_or(plain)
}

/// Says for each mention whether it is part of a rate, as the sentence states it.
fn rates(words: Words<'_>, mentions: &[Candidate]) -> Vec<Rate> {
    let mut rates = vec![Rate::None; mentions.len()];
    let sentence = |at: usize| words.tokens[mentions[at].start].sentence;
    for at in 0..mentions.len() {
        let base = &mentions[at];
        if !base.base {
            continue;
        }
        let here = sentence(at);
        if base.rule == "to an amount of a thing" && !meant_as_rate(words, mentions, at) {
            continue;
        }

        let (start, end) = base.rate_words.unwrap_or((base.start, base.end));
        let printed =
            flat(&words.text[words.tokens[start].start as usize..words.tokens[end - 1].end as usize]);
        rates[at] = Rate::Base;
        // It reaches over the rest of its sentence; before it, only over what it stands beside.
        for other in at + 1..mentions.len().min(at + 60) {
            if sentence(other) != here {
                break;
            }
            if mentions[other].base {
                continue;
            }
            if !matches!(mentions[other].amount, Draft::Unstated) {
                rates[other] = Rate::Per(printed.clone());
            }
        }
        if at > 0
            && sentence(at - 1) == here
            && rates[at - 1] == Rate::None
            && mentions[at - 1].end + 3 >= start
            && matches!(mentions[at - 1].amount, Draft::Parts(_))
        {
            rates[at - 1] = Rate::Per(printed.clone());
        }
    }
    rates
}

/// Is "to a pound of flour" a rate here: beside an amount, or at the head of its sentence with
/// "put", "allow" or "take" after it.
fn meant_as_rate(words: Words<'_>, mentions: &[Candidate], at: usize) -> bool {
    let base = &mentions[at];
    let (start, _) = base.rate_words.unwrap_or((base.start, base.end));
    let stated = |other: &Candidate| matches!(other.amount, Draft::Parts(_));
    let beside = at > 0
        && mentions[at - 1].end == start
        && stated(&mentions[at - 1])
        && words.tokens[mentions[at - 1].start].sentence == words.tokens[start].sentence;
    let sentence = words.tokens[start].sentence;
    // "To five quarts of honey, allow forty quarts of water": the base heads its sentence.
    let heads = start == 0 || words.tokens[start - 1].sentence != sentence;
    let (_, end) = base.rate_words.unwrap_or((base.start, base.end));
    let given = (end..end + 3).any(|here| any!(words, here, ["allow", "put"]));
    let measured =
        matches!(&base.amount, Draft::Parts(parts) if parts.iter().all(|part| part.unit.is_some()));
    if heads && given && measured && any!(words, start, ["to"]) {
        return true;
    }
    beside && any!(words, start, ["to"]) && !any!(words, start.wrapping_sub(1), ["add"])
}

/// Settles one mention as an item.
fn settle(words: Words<'_>, mention: &Candidate, rate: Rate, before: &[Item]) -> Item {
    let bytes = |start: usize, end: usize| Span::new(words.tokens[start].start, words.tokens[end - 1].end);
    let printed = |start: usize, end: usize| flat(crate::slice(words.text, bytes(start, end)));
    let amount = match &mention.amount {
        Draft::Unstated => Amount::Unstated,
        Draft::Vague(start, end) => Amount::Vague(printed(*start, *end)),
        Draft::Unread(start, end) => Amount::Unread(printed(*start, *end)),
        Draft::Parts(parts) => Amount::Stated(
            parts
                .iter()
                .map(|part| Part {
                    low: part.low,
                    high: part.high,
                    unit: part.unit.map_or("count", |unit| unit_words()[unit as usize].unit),
                })
                .collect(),
        ),
        Draft::SameAs { of, factor } => Amount::SameAs {
            of: of
                .clone()
                .or_else(|| {
                    before
                        .iter()
                        .rev()
                        .find(|item| !matches!(item.amount, Amount::Unstated | Amount::Vague(_)))
                        .or(before.last())
                        .map(|item| item.name.plain.clone())
                })
                .unwrap_or_default(),
            factor: *factor,
        },
    };
    let plain = match (mention.plain.as_ref(), mention.known) {
        // "the rind of one": the fruit named last.
        (part @ ("juice" | "rind" | "peel"), Known::Composed) => before
            .iter()
            .rev()
            .find_map(|item| {
                let of = item
                    .name
                    .plain
                    .strip_suffix(" juice")
                    .or_else(|| item.name.plain.strip_suffix(" rind"))
                    .or_else(|| item.name.plain.strip_suffix(" peel"));
                of.or_else(|| {
                    item.name.ingredient.filter(|known| known.kind == "fruit").map(|known| known.name)
                })
            })
            .map_or_else(|| part.to_owned(), |fruit| format!("{fruit} {part}")),
        (plain, _) => plain.to_owned(),
    };
    let mut prepared = Vec::new();
    for at in mention.start..mention.name_start {
        let word = words.printed(at).to_lowercase();
        if matches!(
            word.as_str(),
            "grated"
                | "sifted"
                | "chopped"
                | "minced"
                | "melted"
                | "ground"
                | "pounded"
                | "sliced"
                | "powdered"
                | "shredded"
                | "packed"
                | "boiled"
                | "dried"
        ) {
            prepared.push(word);
        }
    }
    let weight = 100 / (mention.choices.len() as u32 + 1);
    Item {
        span: bytes(mention.start, mention.end),
        name_span: bytes(mention.name_start, mention.name_end),
        name: Name { plain, ingredient: mention.ingredient, also: mention.also.clone(), prepared },
        amount,
        qualifier: mention.qualifier.map_or_else(String::new, |(start, end)| {
            match printed(start, end).to_lowercase().as_str() {
                "heaping" => "heaped".to_owned(),
                other => other.to_owned(),
            }
        }),
        rate,
        optional: optional(words, mention),
        alternatives: mention
            .choices
            .iter()
            .map(|(plain, ingredient)| Choice { plain: plain.clone(), ingredient: *ingredient, weight })
            .collect(),
        sure: false,
        rule: mention.rule,
    }
}

/// Is the mention left to the cook: "if liked", "may be added", "or not, as you please".
fn optional(words: Words<'_>, mention: &Candidate) -> bool {
    let sentence = words.tokens[mention.start].sentence;
    let same = |at: usize| words.at(at).is_some_and(|token| token.sentence == sentence);
    // Back to the start of the clause.
    let mut start = mention.start;
    while start > 0
        && mention.start - start < 14
        && same(start - 1)
        && !words.mark(start - 1, ';')
        && !words.mark(start - 1, ':')
    {
        start -= 1;
    }
    let mut end = mention.end;
    while end < words.tokens.len()
        && end - mention.end < 12
        && same(end)
        && !words.mark(end, ';')
        && !words.mark(end, ':')
    {
        end += 1;
    }
    for at in start..end {
        if any!(words, at, ["if"]) {
            let liked = any!(words, at + 1, ["liked", "desired", "preferred", "wished", "approved"])
                || (any!(words, at + 1, ["you", "they"])
                    && any!(words, at + 2, ["like", "please", "choose", "wish", "have", "will", "prefer"]))
                || (any!(words, at + 1, ["the"])
                    && any!(words, at + 3, ["is", "be"])
                    && any!(words, at + 4, ["liked"]));
            if liked {
                return true;
            }
        }
        if any!(words, at, ["optional", "optionally"]) {
            return true;
        }
        if any!(words, at, ["may", "might"])
            && at >= mention.end
            && at <= mention.end + 3
            && (any!(words, at + 1, ["be"])
                && any!(words, at + 2, ["added", "used", "put", "introduced", "mixed"]))
        {
            return true;
        }
        if any!(words, at, ["may"]) && at < mention.start && any!(words, at + 1, ["add"]) {
            return true;
        }
    }
    false
}

/// Names the features of a mention.
fn describe(
    words: Words<'_>,
    heading: &Heading,
    mention: &Candidate,
    seen: Seen,
    emit: &mut dyn FnMut(&str, &str),
) {
    let amount = match &mention.amount {
        Draft::Unstated => "none",
        Draft::Vague(..) => "vague",
        Draft::Unread(..) => "unread",
        Draft::SameAs { .. } => "same",
        Draft::Parts(parts) => {
            if parts.iter().any(|part| part.unit.is_some()) {
                "unit"
            } else if mention.rule == "a thing" {
                "article"
            } else {
                "count"
            }
        }
    };
    let known = match mention.known {
        Known::Register => "register",
        Known::Composed => "composed",
        Known::Unknown => "unknown",
    };
    let first = &words.tokens[mention.start];
    let definite = if mention.definite { "the" } else { "-" };
    let history = match (seen.same, seen.head, seen.plainer) {
        (true, _, _) => "same",
        (_, _, true) => "plainer",
        (_, true, _) => "head",
        _ => "new",
    };
    let mut buffer = String::with_capacity(48);
    let mut pair = |emit: &mut dyn FnMut(&str, &str), tag: &str, parts: &[&str]| {
        buffer.clear();
        for (at, part) in parts.iter().enumerate() {
            if at > 0 {
                buffer.push('+');
            }
            buffer.push_str(part);
        }
        emit(tag, &buffer);
    };
    emit("bias", "");
    pair(emit, "amount", &[amount, known]);
    pair(emit, "seen", &[amount, definite, history]);
    emit("rule", mention.rule);
    let list = match seen.list {
        InList::NoList => "no-list",
        InList::Inside => "inside",
        InList::Listed => "listed",
        InList::Missing => "missing",
    };
    pair(emit, "list", &[amount, list]);
    pair(emit, "list-seen", &[list, history, definite]);
    let bare_word = if amount == "none" { "bare" } else { "amount" };
    let again = match seen.again {
        Again::No => "",
        Again::Before => "before",
        Again::After => "after",
    };
    if !again.is_empty() {
        pair(emit, "again", &[again, list]);
    }
    match seen.sentence {
        Some(true) => pair(emit, "sentence-before", &["kept", bare_word]),
        Some(false) => pair(emit, "sentence-before", &["dropped", bare_word]),
        None => {}
    }
    match seen.chain {
        Some(true) => pair(emit, "chain", &["kept", amount, history]),
        Some(false) => pair(emit, "chain", &["dropped", amount, history]),
        None => {}
    }
    if mention.base {
        emit("base", amount);
    }
    let kind = mention.ingredient.map_or("-", |ingredient| ingredient.kind);
    pair(emit, "kind", &[kind, amount]);
    pair(emit, "kind-seen", &[kind, history, definite]);
    pair(emit, "kind-the", &[kind, definite, if amount == "none" { "bare" } else { "amount" }]);
    if amount == "none" || amount == "article" || amount == "vague" {
        pair(emit, "name", &[mention.plain.as_ref()]);
        pair(emit, "name-seen", &[mention.plain.as_ref(), history]);
    }
    let short = |at: usize| -> &str {
        words.at(at).map_or("(end)", |token| match token.kind {
            Kind::Number(_) => "(number)",
            Kind::Mark(';') => ";",
            Kind::Mark(',') => ",",
            Kind::Mark('.') => ".",
            Kind::Mark(':') => ":",
            Kind::Mark('(') => "(",
            Kind::Mark('—') => "—",
            Kind::Mark(_) => "(mark)",
            Kind::Word => {
                if token.lex == crate::lexicon::UNKNOWN {
                    "(word)"
                } else {
                    &token.entry().word
                }
            }
        })
    };
    let class = |at: usize| -> &'static str {
        let Some(token) = words.at(at) else { return "end" };
        if !token.word() {
            return "mark";
        }
        for (class, name) in [
            (Classes::PREP, "prep"),
            (Classes::DET, "det"),
            (Classes::CONJ, "conj"),
            (Classes::AUX, "aux"),
            (Classes::PRONOUN, "pronoun"),
            (Classes::VESSEL, "vessel"),
            (Classes::INGREDIENT, "food"),
            (Classes::VERB, "verb"),
            (Classes::ADVERB, "adverb"),
            (Classes::ADJ, "adj"),
            (Classes::NUMBER, "number"),
            (Classes::UNIT, "unit"),
        ] {
            if token.is(class) {
                return name;
            }
        }
        "word"
    };
    let bare = if amount == "none" { "bare" } else { "amount" };
    let previous = if mention.start == 0 || first.para_start { "(start)" } else { short(mention.start - 1) };
    pair(emit, "before", &[bare, previous]);
    pair(emit, "before-kind", &[bare, previous, kind]);
    if mention.start >= 2 {
        pair(emit, "before2", &[bare, short(mention.start - 2), previous]);
    }
    pair(emit, "after", &[bare, short(mention.end)]);
    pair(emit, "after-class", &[bare, class(mention.end), class(mention.end + 1)]);
    pair(
        emit,
        "before-class",
        &[bare, if mention.start == 0 { "start" } else { class(mention.start - 1) }, definite],
    );
    let clause_start =
        previous == "(start)" || matches!(previous, ";" | "." | ":" | "and" | "then" | "," | "to");
    if words.class(mention.name_start, Classes::VERB) && mention.start == mention.name_start {
        pair(emit, "verb", &[if clause_start { "head" } else { "inside" }, class(mention.end), bare]);
    }
    if first.line_start {
        pair(emit, "line", &[bare, if first.para_start { "para" } else { "line" }, class(mention.end)]);
        let alone = words.at(mention.end).is_none_or(|token| token.line_start);
        if alone {
            emit("line-alone", bare);
        }
    }
    if words.tokens[mention.name_end - 1].plural {
        pair(emit, "plural", &[bare, definite]);
    }
    if words.tokens[mention.name_start].guessed {
        emit("spelling", "guessed");
    }
    if mention.name_start > mention.start + 1 {
        emit("described", bare);
    }
    if words.at(mention.end).is_some_and(|token| token.hyphened) || words.tokens[mention.start].hyphened {
        emit("hyphen", bare);
    }
    // Is the thing named in the heading.
    let in_title = words.tokens[..heading.end].iter().any(|token| {
        token.lex != crate::lexicon::UNKNOWN && token.lex == words.tokens[mention.name_end - 1].lex
    });
    if in_title {
        pair(emit, "title", &[bare, definite, history]);
    }
    if first.capital && !first.line_start {
        pair(emit, "capital", &[bare]);
    }
    let mut verb = "";
    for back in 1..=8 {
        let Some(at) = mention.start.checked_sub(back) else { break };
        let token = &words.tokens[at];
        if token.sentence != first.sentence || token.mark(';') || token.mark(':') {
            break;
        }
        if token.word() && token.is(Classes::VERB) {
            verb = &token.entry().word;
            break;
        }
    }
    // How the sentence begins tells a direction from a remark.
    let sentence_start = first.sentence_start as usize;
    pair(emit, "sentence", &[bare, class(sentence_start)]);
    pair(emit, "sentence-word", &[bare, short(sentence_start)]);
    let mut remark = false;
    let mut unlike = "";
    for back in 1..=12 {
        let Some(at) = mention.start.checked_sub(back) else { break };
        let token = &words.tokens[at];
        if token.sentence != first.sentence || token.mark(';') {
            break;
        }
        if any!(words, at, ["should", "would", "is", "are", "has", "have", "was", "were"]) {
            remark = true;
        }
        if back <= 4
            && any!(
                words,
                at,
                [
                    "without",
                    "no",
                    "not",
                    "like",
                    "than",
                    "instead",
                    "thickness",
                    "taste",
                    "tasted",
                    "consistency",
                    "colour",
                    "color",
                    "size",
                    "till",
                    "until",
                    "from",
                    "remove",
                    "of"
                ]
            )
        {
            unlike = &token.entry().word;
        }
    }
    // "in a pan of ice water"
    if previous == "of" && mention.start >= 2 && words.class(mention.start - 2, Classes::VESSEL) {
        pair(emit, "vessel-of", &[bare, kind]);
    }
    if let Draft::Parts(parts) = &mention.amount
        && words.class(mention.start + 1, Classes::VESSEL)
        && parts.iter().any(|part| part.unit.is_some())
    {
        pair(emit, "vessel-of", &["amount", kind]);
    }
    if remark {
        pair(emit, "remark", &[bare, definite]);
    }
    if !unlike.is_empty() {
        pair(emit, "unlike", &[bare, unlike]);
    }
    let paragraph = first.paragraph;
    pair(
        emit,
        "paragraph",
        &[
            bare,
            match paragraph {
                0..=2 => "early",
                3..=4 => "middle",
                _ => "late",
            },
        ],
    );
    pair(emit, "after2", &[bare, short(mention.end), short(mention.end + 1)]);
    pair(emit, "verb-before", &[bare, verb, definite]);
    pair(
        emit,
        "count",
        &[
            bare,
            if seen.count == 0 {
                "0"
            } else if seen.count < 3 {
                "few"
            } else {
                "many"
            },
            history,
        ],
    );
    if seen.passed {
        emit("passed-before", bare);
    }
    if words.mark(mention.start.wrapping_sub(1), '(') {
        emit("bracket", bare);
    }
    let whole_range = |ratio: Ratio<u32>| *ratio.numer() > 1000;
    if let Draft::Parts(parts) = &mention.amount {
        if parts.len() > 1 {
            emit("parts", "several");
        }
        if parts.iter().any(|part| whole_range(part.high)) {
            emit("parts", "large");
        }
        if parts.iter().any(|part| part.low != part.high) {
            emit("parts", "range");
        }
        if let [part] = parts.as_slice() {
            pair(emit, "unit", &[part.unit.map_or("count", |unit| unit_words()[unit as usize].unit), known]);
        }
    }
    if !mention.choices.is_empty() {
        emit("choice", bare);
    }
    if mention.qualifier.is_some() {
        emit("qualifier", "");
    }
}
