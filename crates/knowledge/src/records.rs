//! The shapes of the records in `data/`. What each field means stands in `data/formats.md`.

use quartern_quantity::Dimension;

/// On what a record rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// `statute`, `standard`, `handbook`, `period book`, `open data`, `reckoned`, `common practice`
    /// or `from memory`.
    pub kind: &'static str,
    /// The id of an [`Authority`]; empty for common practice and memory.
    pub authority: &'static str,
    /// Where in it; may be empty.
    pub locus: &'static str,
    /// A sentence for the reader of the edition; may be empty.
    pub note: &'static str,
}

/// A book, act, standard or table that records rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Authority {
    /// Its id.
    pub id: &'static str,
    /// The title.
    pub title: &'static str,
    /// The author; may be empty.
    pub author: &'static str,
    /// The year, as text; may be empty.
    pub year: &'static str,
    /// The place; may be empty.
    pub place: &'static str,
    /// `act`, `standard`, `handbook`, `period book`, `open data` or `regulation`.
    pub kind: &'static str,
    /// `opened` while the records were written, or `recalled`.
    pub seen: &'static str,
    /// May it be reprinted.
    pub rights: &'static str,
    /// How to find it.
    pub where_found: &'static str,
    /// A remark.
    pub note: &'static str,
}

/// A place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its id.
    pub id: &'static str,
    /// Its name for people.
    pub name: &'static str,
    /// Every name that stands for it, lower case.
    pub names: &'static [&'static str],
    /// The place it lies in; empty for the outermost.
    pub within: &'static str,
}

/// A word for a measure, whatever its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitWord {
    /// The plain singular name.
    pub unit: &'static str,
    /// Spellings in full.
    pub names: &'static [&'static str],
    /// Abbreviations, without the full stop.
    pub abbreviations: &'static [&'static str],
    /// What it measures; nothing for money.
    pub dimension: Option<Dimension>,
    /// What it is, in short.
    pub gloss: &'static str,
}

/// One size of one unit word at one place and time for some goods.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// Its id.
    pub id: &'static str,
    /// The unit word.
    pub unit: &'static str,
    /// What to call it to a person.
    pub name: &'static str,
    /// The size as it stands in the register.
    pub size: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// The least it is taken for, in g, ml or mm.
    pub low: f64,
    /// The best value.
    pub best: f64,
    /// The most.
    pub high: f64,
    /// The first year it holds.
    pub first_year: Option<i16>,
    /// The last year it holds.
    pub last_year: Option<i16>,
    /// Where it holds; empty for everywhere.
    pub places: &'static [&'static str],
    /// For what goods; empty for any.
    pub goods: &'static [&'static str],
    /// How likely it is against its rivals.
    pub weight: f64,
    /// On what it rests.
    pub evidence: Evidence,
}

/// How an ingredient lies in a measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// It flows.
    Liquid,
    /// Flour, ground spice.
    Powder,
    /// Rice, currants.
    Grains,
    /// Cut up.
    Pieces,
    /// Butter, jam.
    Paste,
    /// Counted.
    Whole,
}

/// An ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ingredient {
    /// Its id.
    pub id: &'static str,
    /// The plain name.
    pub name: &'static str,
    /// Other names and spellings, singular.
    pub names: &'static [&'static str],
    /// Its kind.
    pub kind: &'static str,
    /// How it lies in a measure.
    pub form: Form,
    /// The first year it was to be had.
    pub first_year: Option<i16>,
    /// The last.
    pub last_year: Option<i16>,
    /// Where; empty for everywhere.
    pub places: &'static [&'static str],
    /// What a cook buys for it today; empty where it is the same.
    pub modern: &'static str,
    /// `yes`, `rarely` or `no`.
    pub bought_today: &'static str,
    /// Allergens of Annex II of Regulation (EU) No 1169/2011.
    pub allergens: &'static [&'static str],
    /// On what it rests.
    pub evidence: Evidence,
}

/// Grams to the millilitre, as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Density {
    /// An ingredient's id, or `kind:` and a kind.
    pub ingredient: &'static str,
    /// The packing; may be empty.
    pub form: &'static str,
    /// Least, in g/ml.
    pub low: f64,
    /// Best.
    pub best: f64,
    /// Most.
    pub high: f64,
    /// On what it rests.
    pub evidence: Evidence,
}

/// The weight of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// An ingredient's id, or `kind:` and a kind.
    pub ingredient: &'static str,
    /// One what: `count`, `slice`, `head`.
    pub unit: &'static str,
    /// Least, in grams.
    pub low: f64,
    /// Best.
    pub best: f64,
    /// Most.
    pub high: f64,
    /// The first year it holds.
    pub first_year: Option<i16>,
    /// The last.
    pub last_year: Option<i16>,
    /// Where; empty for everywhere.
    pub places: &'static [&'static str],
    /// On what it rests.
    pub evidence: Evidence,
}

/// Words for a heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oven {
    /// Its id.
    pub id: &'static str,
    /// The words.
    pub words: &'static [&'static str],
    /// `very-slow`, `slow`, `moderate`, `hot` or `very-hot`.
    pub class: &'static str,
    /// Least, in degrees Celsius.
    pub low: f64,
    /// Best.
    pub best: f64,
    /// Most.
    pub high: f64,
    /// The first year it holds.
    pub first_year: Option<i16>,
    /// The last.
    pub last_year: Option<i16>,
    /// Where; empty for everywhere.
    pub places: &'static [&'static str],
    /// On what it rests.
    pub evidence: Evidence,
}

/// An old word explained.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gloss {
    /// Its id.
    pub id: &'static str,
    /// Spellings, lower case.
    pub words: &'static [&'static str],
    /// What it meant.
    pub meaning: &'static str,
    /// `oven`, `technique`, `vessel`, `dish`, `stage`, `ingredient`, `time` or `other`.
    pub kind: &'static str,
    /// The first year it holds.
    pub first_year: Option<i16>,
    /// The last.
    pub last_year: Option<i16>,
    /// Where; empty for everywhere.
    pub places: &'static [&'static str],
    /// On what it rests.
    pub evidence: Evidence,
}

/// How grave a hazard is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Can do lasting harm.
    Grave,
    /// Needs care.
    Careful,
}

/// When a caution holds: every part of one rule that is not empty must be met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Any of these ingredients was read.
    pub ingredients: &'static [&'static str],
    /// Any ingredient of these kinds was read.
    pub kinds: &'static [&'static str],
    /// Any of these words or phrases stands in the transcript, lower case.
    pub words: &'static [&'static str],
    /// None of these stands in it.
    pub without_words: &'static [&'static str],
    /// Nothing is cooked.
    pub uncooked: bool,
}

/// A hazard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionRecord {
    /// Its id.
    pub id: &'static str,
    /// A short title.
    pub title: &'static str,
    /// When it holds: any one rule is enough.
    pub rules: &'static [Rule],
    /// What can happen.
    pub says: &'static str,
    /// What to do instead.
    pub do_instead: &'static str,
    /// Whom to ask.
    pub ask: &'static str,
    /// How grave.
    pub severity: Severity,
    /// On what it rests.
    pub evidence: Evidence,
}
