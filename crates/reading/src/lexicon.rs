//! The words the reader knows: from the registers of ingredients and measures, and the word lists.

use std::sync::{LazyLock, OnceLock};

use quartern_quantity::Ratio;
use rustc_hash::FxHashMap;

/// A word of the lexicon. Spellings and plurals of one word share it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct LexId(pub(crate) u32);

/// A word that is not in the lexicon.
pub(crate) const UNKNOWN: LexId = LexId(0);

/// What a word can be, as bits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Classes(pub(crate) u32);

macro_rules! classes {
    ($($name:ident = $bit:literal, $word:literal;)+) => {
        impl Classes {
            $(pub(crate) const $name: Classes = Classes(1 << $bit);)+

            fn named(word: &str) -> Classes {
                match word { $($word => Self::$name,)+ _ => Self(0) }
            }
        }
    };
}

classes! {
    DET = 0, "the";
    PREP = 1, "prep";
    CONJ = 2, "conj";
    PRONOUN = 3, "pronoun";
    AUX = 4, "aux";
    ADVERB = 5, "adverb";
    ADJ = 6, "adj";
    VERB = 7, "verb";
    VESSEL = 8, "vessel";
    TIME = 9, "time";
    NUMBER = 10, "number";
    MULTIPLE = 11, "multiple";
    FRACTION = 12, "fraction";
    ARTICLE = 13, "article";
    OPTIONAL = 14, "optional";
    INGREDIENT = 15, "(ingredient)";
    UNIT = 16, "(unit)";
    PART = 17, "part";
}

impl Classes {
    pub(crate) fn has(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    fn add(&mut self, other: Self) {
        self.0 |= other.0;
    }

    /// Is it a word of grammar rather than of the kitchen.
    fn grammatical(self) -> bool {
        self.has(Self(
            Self::DET.0
                | Self::PREP.0
                | Self::CONJ.0
                | Self::PRONOUN.0
                | Self::AUX.0
                | Self::ADVERB.0
                | Self::ADJ.0,
        ))
    }
}

/// What the lexicon knows of one word.
#[derive(Clone, Debug, Default)]
pub(crate) struct Entry {
    pub(crate) word: Box<str>,
    pub(crate) classes: Classes,
    /// The value of a number, multiple or fraction word.
    pub(crate) value: Option<Ratio<u32>>,
    /// The minutes of a time word.
    pub(crate) minutes: f64,
    /// The plain name of a word for part of a thing: `yolk`, `rind`.
    pub(crate) part: &'static str,
}

/// Names of several words, found by walking word by word.
#[derive(Debug, Default)]
pub(crate) struct Trie {
    next: FxHashMap<(u32, LexId), u32>,
    value: Vec<u32>,
}

/// What a name of several words names.
#[derive(Clone, Copy)]
enum Names {
    Ingredient,
    Unit,
    Abbreviation,
    Likeness,
}

const NONE: u32 = u32::MAX;

impl Trie {
    fn new() -> Self {
        Self { next: FxHashMap::default(), value: vec![NONE] }
    }

    fn insert(&mut self, words: &[LexId], value: u32) {
        let mut node = 0;
        for word in words {
            let fresh = self.value.len() as u32;
            node = *self.next.entry((node, *word)).or_insert(fresh);
            if node == fresh {
                self.value.push(NONE);
            }
        }
        if let Some(slot) = self.value.get_mut(node as usize)
            && *slot == NONE
        {
            *slot = value;
        }
    }

    /// Steps on from a node by a word.
    pub(crate) fn step(&self, node: u32, word: LexId) -> Option<u32> {
        self.next.get(&(node, word)).copied()
    }

    /// Returns what ends at a node.
    pub(crate) fn at(&self, node: u32) -> Option<u32> {
        self.value.get(node as usize).copied().filter(|value| *value != NONE)
    }

    /// Returns what stands for exactly these words.
    pub(crate) fn get(&self, words: &[LexId]) -> Option<u32> {
        let mut node = 0;
        for word in words {
            node = self.step(node, *word)?;
        }
        self.at(node)
    }
}

/// One name of an ingredient.
#[derive(Debug)]
struct Named {
    ingredient: u32,
    /// As it stands in the register.
    listed: &'static str,
    /// The name to give, worked out when it is first met: most names never are.
    given: OnceLock<&'static str>,
}

/// The lexicon.
#[derive(Debug)]
pub(crate) struct Lexicon {
    words: FxHashMap<Box<str>, LexId>,
    /// Words by the bones of their spelling; `None` where two words share them.
    bones: FxHashMap<Box<str>, Option<LexId>>,
    pub(crate) entries: Vec<Entry>,
    /// Values are indexes into `named`.
    pub(crate) ingredients: Trie,
    /// Values are indexes into `quartern_knowledge::unit_words()`.
    pub(crate) units: Trie,
    /// The ingredients by each of their names: which one, and the name to give a mention printed so.
    named: Vec<Named>,
    /// The same for abbreviations, which count only after figures.
    pub(crate) abbreviations: Trie,
}

/// The one lexicon, built from the compiled records when first asked for.
pub(crate) static LEXICON: LazyLock<Lexicon> = LazyLock::new(Lexicon::build);

impl Lexicon {
    pub(crate) fn entry(&self, id: LexId) -> &Entry {
        &self.entries[id.0 as usize]
    }

    /// Returns the id of a word of the lexicon; `UNKNOWN` if it is none.
    pub(crate) fn id(&self, word: &str) -> LexId {
        self.words.get(word).copied().unwrap_or(UNKNOWN)
    }

    /// Returns the ingredient that a value of the trie stands for, and the name to give it.
    pub(crate) fn named(&self, index: u32) -> (&'static quartern_knowledge::Ingredient, &'static str) {
        let named = &self.named[index as usize];
        let ingredient = &quartern_knowledge::ingredients()[named.ingredient as usize];
        (ingredient, named.given.get_or_init(|| given_name(ingredient, named.listed)))
    }

    /// Looks up a word as printed, already in lower case: itself, its singular, or by the bones of
    /// its spelling. Says whether it is plural and whether the spelling was guessed.
    pub(crate) fn look_up(&self, word: &str) -> (LexId, bool, bool) {
        if let Some(id) = self.words.get(word) {
            return (*id, false, false);
        }
        for ending in singulars(word) {
            if let Some(id) = self.words.get(ending.as_str())
                && !self.entry(*id).classes.grammatical()
            {
                return (*id, true, false);
            }
        }
        if word.len() >= 4 && word.is_ascii() {
            let bones = bones(word);
            if let Some(Some(id)) = self.bones.get(bones.as_str()) {
                return (*id, word.ends_with('s') && !self.entry(*id).word.ends_with('s'), true);
            }
        }
        (UNKNOWN, word.ends_with('s'), false)
    }

    fn add(&mut self, word: &str) -> LexId {
        if let Some(id) = self.words.get(word) {
            return *id;
        }
        let id = LexId(self.entries.len() as u32);
        self.entries.push(Entry { word: word.into(), ..Entry::default() });
        self.words.insert(word.into(), id);
        id
    }

    fn build() -> Self {
        let mut lexicon = Self {
            words: FxHashMap::default(),
            bones: FxHashMap::default(),
            entries: vec![Entry::default()],
            ingredients: Trie::new(),
            units: Trie::new(),
            abbreviations: Trie::new(),
            named: Vec::new(),
        };
        for (word, class) in quartern_knowledge::words() {
            let (class, value) = class.split_once(' ').unwrap_or((class, ""));
            // A list entry of several words is only a spelling of them joined by hyphens.
            let joined: String = word.chars().filter(|c| *c != '-').collect();
            for spelling in [(*word).to_owned(), joined] {
                let id = lexicon.add(&spelling);
                let entry = &mut lexicon.entries[id.0 as usize];
                entry.classes.add(Classes::named(class));
                if class == "part" {
                    entry.part = value;
                } else if class == "time" {
                    entry.minutes = value.parse().unwrap_or(0.0);
                } else if !value.is_empty() {
                    let (above, below) = value.split_once('/').unwrap_or((value, "1"));
                    if let (Ok(above), Ok(below)) = (above.parse(), below.parse::<u32>())
                        && below > 0
                    {
                        entry.value = Some(Ratio::new(above, below));
                    }
                }
            }
        }
        // Every word of every name first, so that plurals can find their singulars.
        let mut names: Vec<(Vec<String>, u32, Names)> = Vec::new();
        for (at, ingredient) in quartern_knowledge::ingredients().iter().enumerate() {
            for name in std::iter::once(&ingredient.name).chain(ingredient.names) {
                let words = words_of(name);
                let index = lexicon.named.len() as u32;
                lexicon.named.push(Named { ingredient: at as u32, listed: name, given: OnceLock::new() });
                if let [one, two] = words.as_slice()
                    && one.len() + two.len() >= 7
                {
                    names.push((vec![format!("{one}{two}")], index, Names::Ingredient));
                }
                names.push((words, index, Names::Ingredient));
            }
        }
        for (at, unit) in quartern_knowledge::unit_words().iter().enumerate() {
            // Likenesses and coins have plain names ("egg", "shilling") that count only after
            // "the size of" or "lie on".
            if unit.unit.contains(':') {
                for name in unit.names {
                    names.push((words_of(name), 0, Names::Likeness));
                }
                continue;
            }
            for name in unit.names {
                names.push((words_of(name), at as u32, Names::Unit));
            }
            for name in unit.abbreviations {
                names.push((words_of(name), at as u32, Names::Abbreviation));
            }
        }
        // A name that is a word of grammar ("the", an old spelling of tea) would be seen everywhere.
        names.retain(|(words, _, kind)| match (words.as_slice(), kind) {
            ([only], Names::Ingredient | Names::Likeness) => {
                !lexicon.entry(lexicon.id(only)).classes.grammatical()
            }
            _ => true,
        });
        for (words, _, _) in &names {
            for word in words {
                lexicon.add(word);
            }
        }
        let mut plurals = Vec::new();
        for word in names.iter().flat_map(|(words, _, _)| words) {
            if lexicon.entry(lexicon.id(word)).classes.0 != 0 {
                continue;
            }
            let single = singulars(word)
                .into_iter()
                .map(|single| lexicon.id(&single))
                .find(|single| *single != UNKNOWN && !lexicon.entry(*single).classes.grammatical());
            if let Some(single) = single {
                plurals.push((word.as_str(), single));
            }
        }
        for (word, single) in plurals {
            lexicon.words.insert(word.into(), single);
        }
        for (words, at, kind) in names {
            let ids: Vec<LexId> = words.iter().map(|word| lexicon.id(word)).collect();
            let Some(first) = ids.first() else { continue };
            let (class, trie) = match kind {
                Names::Ingredient => (Classes::INGREDIENT, &mut lexicon.ingredients),
                Names::Unit => (Classes::UNIT, &mut lexicon.units),
                Names::Abbreviation => (Classes::UNIT, &mut lexicon.abbreviations),
                Names::Likeness => continue,
            };
            trie.insert(&ids, at);
            lexicon.entries[first.0 as usize].classes.add(class);
        }
        let mut spellings: Vec<(Box<str>, LexId)> =
            lexicon.words.iter().map(|(word, id)| (word.clone(), *id)).collect();
        spellings.sort();
        for (word, id) in spellings {
            if word.len() < 4 || !word.is_ascii() {
                continue;
            }
            let slot = lexicon.bones.entry(bones(&word).into()).or_insert(Some(id));
            if *slot != Some(id) {
                *slot = None;
            }
        }
        lexicon
    }
}

/// Returns the name to give a thing printed by one of its names: the register's plain name where the
/// printed one is only another spelling of it, else the printed one ("espagnole sauce" stays so).
fn given_name(ingredient: &'static quartern_knowledge::Ingredient, name: &'static str) -> &'static str {
    if ingredient.kind == "egg" || name == ingredient.name {
        return ingredient.name;
    }
    if name.contains(" of ") {
        return ingredient.name;
    }
    let (mut one, mut two) = (words_of(name), words_of(ingredient.name));
    one.retain(|word| word != "of");
    two.retain(|word| word != "of");
    // "bay" for "bay leaf": a shorter form of the plain name.
    if one.iter().all(|word| two.contains(word)) {
        return ingredient.name;
    }
    // "sifted sugar", "sugar boiled": what the plain name means, prepared.
    let bare: Vec<&String> = one.iter().filter(|word| !word.ends_with("ed")).collect();
    if !bare.is_empty() && bare.len() < one.len() && bare.iter().all(|word| two.contains(word)) {
        return ingredient.name;
    }
    if one.concat() == two.concat() {
        return ingredient.name;
    }
    // A name that only adds words before the plain one is no name of its own.
    if one.len() > two.len() && one.ends_with(&two) {
        return ingredient.name;
    }
    let alike = |a: &String, b: &String| spelled_alike(a, b);
    let same = one.len() == two.len()
        && one.iter().all(|a| two.iter().any(|b| alike(a, b)))
        && two.iter().all(|b| one.iter().any(|a| alike(a, b)));
    if same || strsim::normalized_damerau_levenshtein(&one.concat(), &two.concat()) >= 0.8 {
        ingredient.name
    } else {
        name
    }
}

/// Do two words look like spellings of one: their bones are the same, or they differ by less than
/// two letters in five (edit distance; the share was set by eye on the register's own names).
fn spelled_alike(one: &str, two: &str) -> bool {
    one == two
        || (one.is_ascii() && two.is_ascii() && bones(one) == bones(two))
        || (one.len() > 3 && two.len() > 3 && strsim::normalized_damerau_levenshtein(one, two) >= 0.6)
}

/// Parts a name into words as the lexer would.
pub(crate) fn words_of(name: &str) -> Vec<String> {
    name.split([' ', '-'])
        .map(|word| {
            let mut out = String::new();
            for c in word.chars() {
                fold(c, &mut out);
            }
            out
        })
        .filter(|word| !word.is_empty())
        .collect()
}

/// Writes a letter the way words are compared: lower case, long s as s, no accents or ligatures.
pub(crate) fn fold(c: char, out: &mut String) {
    match c {
        'ſ' => out.push('s'),
        'æ' | 'Æ' => out.push_str("ae"),
        'œ' | 'Œ' => out.push_str("oe"),
        'ﬁ' => out.push_str("fi"),
        'ﬂ' => out.push_str("fl"),
        'ﬀ' => out.push_str("ff"),
        'ﬅ' | 'ﬆ' => out.push_str("st"),
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' | 'À' | 'Â' => out.push('a'),
        'è' | 'é' | 'ê' | 'ë' | 'È' | 'É' | 'Ê' => out.push('e'),
        'ì' | 'í' | 'î' | 'ï' => out.push('i'),
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' => out.push('o'),
        'ù' | 'ú' | 'û' | 'ü' => out.push('u'),
        'ç' | 'Ç' => out.push('c'),
        'ñ' => out.push('n'),
        '’' | '‘' | '\'' | 'ʼ' => out.push('\''),
        other if other.is_ascii() => out.push(other.to_ascii_lowercase()),
        other => out.extend(other.to_lowercase()),
    }
}

/// Returns the singulars a plural may have, likeliest first.
fn singulars(word: &str) -> Vec<String> {
    let mut found = Vec::new();
    let Some(stem) = word.strip_suffix('s') else {
        return match word {
            "feet" => vec!["foot".to_owned()],
            "geese" => vec!["goose".to_owned()],
            "teeth" => vec!["tooth".to_owned()],
            _ => found,
        };
    };
    if stem.len() < 2 || stem.ends_with('s') {
        return found;
    }
    // Measures in -ful have plurals within: spoonsful, cupsful.
    found.push(stem.to_owned());
    if let Some(short) = stem.strip_suffix("ie") {
        found.push(format!("{short}y"));
    }
    if let Some(short) = stem.strip_suffix('e') {
        found.push(short.to_owned());
    }
    if let Some(short) = stem.strip_suffix("ve") {
        found.push(format!("{short}f"));
        found.push(format!("{short}fe"));
    }
    if let Some(short) = stem.strip_suffix('\'') {
        found.push(short.to_owned());
    }
    found
}

/// Returns the bones of a spelling: what old spellings of a word mostly keep.
///
/// `y` as `i`, doubled letters single, final `e` and `s` dropped, `ck` as `k`, `ph` as `f`, `ie` as
/// `i`, `ou` as `o`. Made by hand from the spellings in period print.
pub(crate) fn bones(word: &str) -> String {
    let bytes = word.as_bytes();
    let mut out = String::with_capacity(word.len());
    let mut at = 0;
    while at < bytes.len() {
        let (this, next) = (bytes[at], bytes.get(at + 1).copied());
        let (letter, skip) = match (this, next) {
            (b'i' | b'y', Some(b'e')) | (b'e', Some(b'y')) => ('i', 2),
            (b'o', Some(b'u')) => ('o', 2),
            (b'p', Some(b'h')) => ('f', 2),
            (b'c', Some(b'k')) => ('k', 2),
            (b'e', Some(b'a' | b'e')) => ('e', 2),
            (b'a', Some(b'i' | b'y')) => ('a', 2),
            (b'\'', _) => {
                at += 1;
                continue;
            }
            (b'y', _) => ('i', 1),
            (b'c', Some(b'a' | b'o' | b'u' | b'r' | b'l')) => ('k', 1),
            (other, _) => (char::from(other), 1),
        };
        if !out.ends_with(letter) {
            out.push(letter);
        }
        at += skip;
    }
    while out.len() > 3 && (out.ends_with('e') || out.ends_with('s')) {
        out.pop();
    }
    out
}
