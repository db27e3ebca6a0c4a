//! Checks every record in `data/` and compiles it in.
//!
//! A record without a source, with a range out of order, an unknown id or a word in two records
//! stops the build, with the file, the record and the reason.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

mod files;
mod sizes;

use files::{Row, Toml, list};

const EVIDENCE: [&str; 8] = [
    "statute",
    "standard",
    "handbook",
    "period book",
    "open data",
    "reckoned",
    "common practice",
    "from memory",
];

const GOODS: [&str; 14] = [
    "liquid", "dry", "wine", "ale", "milk", "flour", "butter", "bread", "meat", "fruit", "oil", "honey",
    "drug", "paste",
];

const KINDS: &str = "flour grain bread paste sugar syrup fat dairy egg leaven spice herb flower vegetable root mushroom \
    pulse fruit dried-fruit peel nut seed meat offal poultry game fish shellfish wine spirit beer water acid salt sauce \
    stock setting colour scent confection preserve drink drug dish";

const ALLERGENS: &str =
    "gluten crustaceans egg fish peanuts soya milk nuts celery mustard sesame sulphites lupin molluscs";

/// Everything found wrong, told together.
#[derive(Default)]
struct Faults(Vec<String>);

impl Faults {
    fn add(&mut self, place: &str, why: impl AsRef<str>) {
        self.0.push(format!("{place}: {}", why.as_ref()));
    }
}

fn main() {
    let data =
        PathBuf::from(std::env::var("CARGO_MANIFEST_DIR").expect("cargo sets this")).join("../../data");
    println!("cargo:rerun-if-changed={}", data.display());
    println!("cargo:rerun-if-changed=build");
    let mut faults = Faults::default();
    let mut out = String::new();

    let authorities = authorities(&data, &mut out, &mut faults);
    let places = places(&data, &mut out, &mut faults);
    let units = unit_words(&data, &mut out, &mut faults);
    measures(&data, &mut out, &mut faults, &authorities, &places, &units);
    let ingredients = ingredients(&data, &mut out, &mut faults, &authorities, &places);
    densities(&data, &mut out, &mut faults, &authorities, &ingredients);
    weights(&data, &mut out, &mut faults, &authorities, &places, &ingredients, &units);
    ovens(&data, &mut out, &mut faults, &authorities, &places);
    glosses(&data, &mut out, &mut faults, &authorities, &places);
    cautions(&data, &mut out, &mut faults, &authorities, &ingredients);
    words(&data, &mut out, &mut faults);

    if !faults.0.is_empty() {
        let mut message = format!("{} faults in the records of data/:\n", faults.0.len());
        for fault in faults.0.iter().take(80) {
            let _ = writeln!(message, "  {fault}");
        }
        panic!("{message}");
    }
    let to = PathBuf::from(std::env::var("OUT_DIR").expect("cargo sets this")).join("records.rs");
    std::fs::write(to, out).expect("the build folder can be written");
}

fn text(value: &str) -> String {
    format!("{value:?}")
}

fn texts(values: &[String]) -> String {
    let inner: Vec<String> = values.iter().map(|value| text(value)).collect();
    format!("&[{}]", inner.join(", "))
}

fn year(value: Option<i16>) -> String {
    value.map_or_else(|| "None".to_owned(), |year| format!("Some({year})"))
}

fn read_year(row: &Row, column: &str, faults: &mut Faults) -> Option<i16> {
    let cell = row.get(column);
    if cell.is_empty() {
        return None;
    }
    match cell.parse::<i16>() {
        Ok(year) if (900..=2100).contains(&year) => Some(year),
        _ => {
            faults.add(&row.place(), format!("{column} is no year: {cell}"));
            None
        }
    }
}

/// Checks evidence and source, and returns them as Rust.
fn evidence(row: &Row, faults: &mut Faults, authorities: &BTreeSet<String>) -> String {
    let (evidence, source) = (row.get("evidence"), row.get("source"));
    if !EVIDENCE.contains(&evidence) {
        faults.add(&row.place(), format!("unknown evidence: {evidence:?}"));
    }
    let id = source.split(',').next().unwrap_or("").trim();
    if id.is_empty() {
        if evidence != "common practice" && evidence != "from memory" && evidence != "reckoned" {
            faults.add(&row.place(), format!("evidence {evidence:?} needs a source"));
        }
    } else if !authorities.contains(id) {
        faults.add(&row.place(), format!("source is not in the bibliography: {id}"));
    }
    let locus = source.split_once(',').map_or("", |(_, rest)| rest.trim());
    format!(
        "evidence: Evidence {{ kind: {}, authority: {}, locus: {}, note: {} }}",
        text(evidence),
        text(id),
        text(locus),
        text(row.get("note"))
    )
}

fn check_places(row: &Row, faults: &mut Faults, places: &BTreeSet<String>) -> Vec<String> {
    let named = list(row.get("places"));
    for place in &named {
        if !places.contains(place) {
            faults.add(&row.place(), format!("unknown place: {place}"));
        }
    }
    named
}

fn authorities(data: &Path, out: &mut String, faults: &mut Faults) -> BTreeSet<String> {
    let mut ids = BTreeSet::new();
    let mut rows = Vec::new();
    for record in Toml::folder(&data.join("bibliography"), faults) {
        if !ids.insert(record.id.clone()) {
            faults.add(&record.place(), "id stands twice in the bibliography");
        }
        let seen = record.text("seen");
        if seen != "opened" && seen != "recalled" {
            faults.add(&record.place(), "seen must be opened or recalled");
        }
        rows.push(format!(
            "Authority {{ id: {}, title: {}, author: {}, year: {}, place: {}, kind: {}, seen: {}, rights: {}, where_found: {}, note: {} }}",
            text(&record.id),
            text(&record.text("title")),
            text(&record.text("author")),
            text(&record.text("year")),
            text(&record.text("place")),
            text(&record.text("kind")),
            text(&seen),
            text(&record.text("rights")),
            text(&record.text("where")),
            text(&record.text("note")),
        ));
    }
    rows.sort();
    let _ = writeln!(out, "pub(crate) static AUTHORITIES: &[Authority] = &[{}];", rows.join(",\n"));
    ids
}

fn places(data: &Path, out: &mut String, faults: &mut Faults) -> BTreeSet<String> {
    let rows = Row::file(&data.join("measures/places.csv"), faults);
    let ids: BTreeSet<String> = rows.iter().map(|row| row.get("id").to_owned()).collect();
    let mut names = BTreeMap::new();
    let mut written = Vec::new();
    for row in &rows {
        let within = row.get("within");
        if !within.is_empty() && !ids.contains(within) {
            faults.add(&row.place(), format!("lies within an unknown place: {within}"));
        }
        let mut all = list(row.get("names"));
        all.push(row.get("name").to_owned());
        all.push(row.get("id").to_owned());
        let mut all: Vec<String> = all.iter().map(|name| name.to_lowercase()).collect();
        all.sort();
        all.dedup();
        for name in &all {
            if let Some(other) = names.insert(name.clone(), row.get("id").to_owned()) {
                faults.add(&row.place(), format!("the name {name:?} also stands for {other}"));
            }
        }
        written.push(format!(
            "Place {{ id: {}, name: {}, names: {}, within: {} }}",
            text(row.get("id")),
            text(row.get("name")),
            texts(&all),
            text(within)
        ));
    }
    let _ = writeln!(out, "pub(crate) static PLACES: &[Place] = &[{}];", written.join(",\n"));
    ids
}

fn unit_words(data: &Path, out: &mut String, faults: &mut Faults) -> BTreeMap<String, String> {
    let mut units = BTreeMap::new();
    let mut spellings: BTreeMap<String, String> = BTreeMap::new();
    let mut written = Vec::new();
    for row in Row::file(&data.join("measures/unit-words.csv"), faults) {
        let unit = row.get("unit").to_owned();
        let dimension = row.get("dimension");
        let variant = match dimension {
            "mass" => "Some(Dimension::Mass)",
            "volume" => "Some(Dimension::Volume)",
            "length" => "Some(Dimension::Length)",
            "count" => "Some(Dimension::Count)",
            "time" => "Some(Dimension::Time)",
            "money" => "None",
            _ => {
                faults.add(&row.place(), format!("unknown dimension: {dimension:?}"));
                "None"
            }
        };
        let mut names = list(row.get("names"));
        // The bare name counts as a spelling unless another unit's spellings claim it (`pinte`, `stop`).
        if !unit.contains(':') && !names.contains(&unit) && names.is_empty() {
            names.push(unit.clone());
        }
        for name in names.iter().chain(&list(row.get("abbreviations"))) {
            if let Some(other) = spellings.insert(name.to_lowercase(), unit.clone())
                && other != unit
            {
                faults.add(&row.place(), format!("the spelling {name:?} also stands for {other}"));
            }
        }
        written.push(format!(
            "UnitWord {{ unit: {}, names: {}, abbreviations: {}, dimension: {variant}, gloss: {} }}",
            text(&unit),
            texts(&names),
            texts(&list(row.get("abbreviations"))),
            text(row.get("of_what"))
        ));
        if units.insert(unit, dimension.to_owned()).is_some() {
            faults.add(&row.place(), "unit stands twice");
        }
    }
    let _ = writeln!(out, "pub(crate) static UNIT_WORDS: &[UnitWord] = &[{}];", written.join(",\n"));
    units
}

fn measures(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    places: &BTreeSet<String>,
    units: &BTreeMap<String, String>,
) {
    let rows = Row::file(&data.join("measures/measures.csv"), faults);
    let mut ids = BTreeSet::new();
    let table: BTreeMap<String, String> =
        rows.iter().map(|row| (row.get("id").to_owned(), row.get("size").to_owned())).collect();
    let mut written = Vec::new();
    for row in &rows {
        if !ids.insert(row.get("id").to_owned()) {
            faults.add(&row.place(), "id stands twice");
        }
        if !units.contains_key(row.get("unit")) {
            faults.add(&row.place(), format!("unknown unit word: {}", row.get("unit")));
        }
        let size = match sizes::resolve(row.get("size"), &table) {
            Ok(size) => size,
            Err(why) => {
                faults.add(&row.place(), why);
                continue;
            }
        };
        let goods = list(row.get("goods"));
        for word in &goods {
            if !GOODS.contains(&word.as_str()) {
                faults.add(&row.place(), format!("unknown goods: {word}"));
            }
        }
        let weight: f64 = row.get("weight").parse().unwrap_or(1.0);
        if !(weight > 0.0 && weight.is_finite()) {
            faults.add(&row.place(), "weight must be above zero");
        }
        let (first, last) = (read_year(row, "first_year", faults), read_year(row, "last_year", faults));
        let named = check_places(row, faults, places);
        let proof = evidence(row, faults, authorities);
        written.push(format!(
            "Measure {{ id: {}, unit: {}, name: {}, size: {}, dimension: Dimension::{}, low: {:?}, best: {:?}, high: {:?}, first_year: {}, last_year: {}, places: {}, goods: {}, weight: {weight:?}, {proof} }}",
            text(row.get("id")),
            text(row.get("unit")),
            text(row.get("name")),
            text(row.get("size")),
            size.dimension,
            size.low,
            size.best,
            size.high,
            year(first),
            year(last),
            texts(&named),
            texts(&goods),
        ));
    }
    for row in Row::file(&data.join("measures/likeness.csv"), faults) {
        if !ids.insert(row.get("id").to_owned()) {
            faults.add(&row.place(), "id stands twice");
        }
        let Some((low, best, high)) = sizes::range(row.get("volume")) else {
            faults.add(&row.place(), format!("volume cannot be read: {}", row.get("volume")));
            continue;
        };
        let (first, last) = (read_year(&row, "first_year", faults), read_year(&row, "last_year", faults));
        let named = check_places(&row, faults, places);
        let proof = evidence(&row, faults, authorities);
        written.push(format!(
            "Measure {{ id: {}, unit: {}, name: {}, size: {}, dimension: Dimension::Volume, low: {low:?}, best: {best:?}, high: {high:?}, first_year: {}, last_year: {}, places: {}, goods: &[], weight: 1.0, {proof} }}",
            text(row.get("id")),
            text(row.get("unit")),
            text(row.get("name")),
            text(&format!("{} ml", row.get("volume"))),
            year(first),
            year(last),
            texts(&named),
        ));
    }
    let _ = writeln!(out, "pub(crate) static MEASURES: &[Measure] = &[{}];", written.join(",\n"));
}

fn ingredients(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    places: &BTreeSet<String>,
) -> BTreeSet<String> {
    let kinds: BTreeSet<&str> = KINDS.split_whitespace().collect();
    let allergens: BTreeSet<&str> = ALLERGENS.split_whitespace().collect();
    let mut ids = BTreeSet::new();
    let mut names: BTreeMap<String, String> = BTreeMap::new();
    let mut written = Vec::new();
    for row in Row::file(&data.join("ingredients/ingredients.csv"), faults) {
        let id = row.get("id").to_owned();
        if !ids.insert(id.clone()) {
            faults.add(&row.place(), "id stands twice");
        }
        if !kinds.contains(row.get("kind")) {
            faults.add(&row.place(), format!("unknown kind: {}", row.get("kind")));
        }
        let form = match row.get("form") {
            "liquid" => "Liquid",
            "powder" => "Powder",
            "grains" => "Grains",
            "pieces" => "Pieces",
            "paste" => "Paste",
            "whole" => "Whole",
            other => {
                faults.add(&row.place(), format!("unknown form: {other:?}"));
                "Whole"
            }
        };
        let other_names = list(row.get("names"));
        for name in std::iter::once(&row.get("name").to_owned()).chain(&other_names) {
            if let Some(other) = names.insert(name.to_lowercase(), id.clone())
                && other != id
            {
                faults.add(&row.place(), format!("the name {name:?} also stands for {other}"));
            }
        }
        let of = list(row.get("allergens"));
        for allergen in &of {
            if !allergens.contains(allergen.as_str()) {
                faults.add(&row.place(), format!("unknown allergen: {allergen}"));
            }
        }
        let (first, last) = (read_year(&row, "first_year", faults), read_year(&row, "last_year", faults));
        let named = check_places(&row, faults, places);
        let proof = evidence(&row, faults, authorities);
        written.push(format!(
            "Ingredient {{ id: {}, name: {}, names: {}, kind: {}, form: Form::{form}, first_year: {}, last_year: {}, places: {}, modern: {}, bought_today: {}, allergens: {}, {proof} }}",
            text(&id),
            text(row.get("name")),
            texts(&other_names),
            text(row.get("kind")),
            year(first),
            year(last),
            texts(&named),
            text(row.get("modern")),
            text(row.get("bought_today")),
            texts(&of),
        ));
    }
    let _ = writeln!(out, "pub(crate) static INGREDIENTS: &[Ingredient] = &[{}];", written.join(",\n"));
    ids
}

fn known_goods(row: &Row, faults: &mut Faults, ingredients: &BTreeSet<String>) {
    let ingredient = row.get("ingredient");
    let known = match ingredient.strip_prefix("kind:") {
        Some(kind) => KINDS.split_whitespace().any(|known| known == kind),
        None => ingredients.contains(ingredient),
    };
    if !known {
        faults.add(&row.place(), format!("unknown ingredient: {ingredient}"));
    }
}

fn densities(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    ingredients: &BTreeSet<String>,
) {
    let mut written = Vec::new();
    for row in Row::file(&data.join("ingredients/densities.csv"), faults) {
        known_goods(&row, faults, ingredients);
        let Some((low, best, high)) = sizes::range(row.get("density")) else {
            faults.add(&row.place(), format!("density cannot be read: {}", row.get("density")));
            continue;
        };
        if !(0.02..=3.0).contains(&low) || high > 3.0 {
            faults.add(&row.place(), "a density outside 0.02 to 3 grams to the millilitre");
        }
        let proof = evidence(&row, faults, authorities);
        written.push(format!(
            "Density {{ ingredient: {}, form: {}, low: {low:?}, best: {best:?}, high: {high:?}, {proof} }}",
            text(row.get("ingredient")),
            text(row.get("form")),
        ));
    }
    let _ = writeln!(out, "pub(crate) static DENSITIES: &[Density] = &[{}];", written.join(",\n"));
}

fn weights(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    places: &BTreeSet<String>,
    ingredients: &BTreeSet<String>,
    units: &BTreeMap<String, String>,
) {
    let mut written = Vec::new();
    for row in Row::file(&data.join("ingredients/weights.csv"), faults) {
        known_goods(&row, faults, ingredients);
        let unit = row.get("unit");
        if unit != "count" && !units.contains_key(unit) {
            faults.add(&row.place(), format!("unknown unit word: {unit}"));
        }
        let Some((low, best, high)) = sizes::range(row.get("grams")) else {
            faults.add(&row.place(), format!("grams cannot be read: {}", row.get("grams")));
            continue;
        };
        let (first, last) = (read_year(&row, "first_year", faults), read_year(&row, "last_year", faults));
        let named = check_places(&row, faults, places);
        let proof = evidence(&row, faults, authorities);
        written.push(format!(
            "Weight {{ ingredient: {}, unit: {}, low: {low:?}, best: {best:?}, high: {high:?}, first_year: {}, last_year: {}, places: {}, {proof} }}",
            text(row.get("ingredient")),
            text(unit),
            year(first),
            year(last),
            texts(&named),
        ));
    }
    let _ = writeln!(out, "pub(crate) static WEIGHTS: &[Weight] = &[{}];", written.join(",\n"));
}

fn ovens(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    places: &BTreeSet<String>,
) {
    let mut written = Vec::new();
    for row in Row::file(&data.join("heats/ovens.csv"), faults) {
        if !["very-slow", "slow", "moderate", "hot", "very-hot"].contains(&row.get("class")) {
            faults.add(&row.place(), format!("unknown class: {}", row.get("class")));
        }
        let Some((low, best, high)) = sizes::range(row.get("celsius")) else {
            faults.add(&row.place(), format!("celsius cannot be read: {}", row.get("celsius")));
            continue;
        };
        let (first, last) = (read_year(&row, "first_year", faults), read_year(&row, "last_year", faults));
        let named = check_places(&row, faults, places);
        let proof = evidence(&row, faults, authorities);
        written.push(format!(
            "Oven {{ id: {}, words: {}, class: {}, low: {low:?}, best: {best:?}, high: {high:?}, first_year: {}, last_year: {}, places: {}, {proof} }}",
            text(row.get("id")),
            texts(&list(row.get("words"))),
            text(row.get("class")),
            year(first),
            year(last),
            texts(&named),
        ));
    }
    let _ = writeln!(out, "pub(crate) static OVENS: &[Oven] = &[{}];", written.join(",\n"));
}

fn glosses(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    places: &BTreeSet<String>,
) {
    let mut written = Vec::new();
    let mut ids = BTreeSet::new();
    for record in Toml::folder(&data.join("glosses"), faults) {
        if !ids.insert(record.id.clone()) {
            faults.add(&record.place(), "id stands twice");
        }
        let row = record.as_row(&["first_year", "last_year", "places", "evidence", "source", "note"]);
        let (first, last) = (read_year(&row, "first_year", faults), read_year(&row, "last_year", faults));
        let named = check_places(&row, faults, places);
        let proof = evidence(&row, faults, authorities);
        let words: Vec<String> = record.texts("words").iter().map(|word| word.to_lowercase()).collect();
        if words.is_empty() || record.text("meaning").is_empty() {
            faults.add(&record.place(), "a gloss needs words and a meaning");
        }
        written.push(format!(
            "Gloss {{ id: {}, words: {}, meaning: {}, kind: {}, first_year: {}, last_year: {}, places: {}, {proof} }}",
            text(&record.id),
            texts(&words),
            text(&record.text("meaning")),
            text(&record.text("kind")),
            year(first),
            year(last),
            texts(&named),
        ));
    }
    let _ = writeln!(out, "pub(crate) static GLOSSES: &[Gloss] = &[{}];", written.join(",\n"));
}

fn cautions(
    data: &Path,
    out: &mut String,
    faults: &mut Faults,
    authorities: &BTreeSet<String>,
    ingredients: &BTreeSet<String>,
) {
    let mut written = Vec::new();
    let mut ids = BTreeSet::new();
    for record in Toml::folder(&data.join("cautions"), faults) {
        if !ids.insert(record.id.clone()) {
            faults.add(&record.place(), "id stands twice");
        }
        let row = record.as_row(&["evidence", "source", "note"]);
        let proof = evidence(&row, faults, authorities);
        let severity = match record.text("severity").as_str() {
            "grave" => "Grave",
            "careful" => "Careful",
            other => {
                faults.add(&record.place(), format!("severity must be grave or careful, not {other:?}"));
                "Careful"
            }
        };
        for field in ["title", "says", "do_instead", "ask"] {
            if record.text(field).is_empty() {
                faults.add(&record.place(), format!("{field} is missing"));
            }
        }
        let mut rules = Vec::new();
        for rule in record.tables("when") {
            let part = |key: &str| rule.get(key).cloned().unwrap_or_default();
            for id in part("ingredients") {
                if !ingredients.contains(&id) {
                    faults.add(&record.place(), format!("unknown ingredient: {id}"));
                }
            }
            for kind in part("kinds") {
                if !KINDS.split_whitespace().any(|known| known == kind) {
                    faults.add(&record.place(), format!("unknown kind: {kind}"));
                }
            }
            for key in rule.keys() {
                if !["ingredients", "kinds", "words", "without_words", "needs"].contains(&key.as_str()) {
                    faults.add(&record.place(), format!("unknown part of a rule: {key}"));
                }
            }
            let needs = part("needs");
            if needs.iter().any(|need| need != "uncooked") {
                faults.add(&record.place(), "needs may only be \"uncooked\"");
            }
            rules.push(format!(
                "Rule {{ ingredients: {}, kinds: {}, words: {}, without_words: {}, uncooked: {} }}",
                texts(&part("ingredients")),
                texts(&part("kinds")),
                texts(&part("words")),
                texts(&part("without_words")),
                !needs.is_empty()
            ));
        }
        if rules.is_empty() {
            faults.add(&record.place(), "no rule says when it holds");
        }
        written.push(format!(
            "CautionRecord {{ id: {}, title: {}, rules: &[{}], says: {}, do_instead: {}, ask: {}, severity: Severity::{severity}, {proof} }}",
            text(&record.id),
            text(&record.text("title")),
            rules.join(", "),
            text(&record.text("says")),
            text(&record.text("do_instead")),
            text(&record.text("ask")),
        ));
    }
    let _ = writeln!(out, "pub(crate) static CAUTIONS: &[CautionRecord] = &[{}];", written.join(",\n"));
}

/// The word lists of the reader, as pairs of word and class.
fn words(data: &Path, out: &mut String, faults: &mut Faults) {
    let mut all = BTreeSet::new();
    let mut paths: Vec<PathBuf> = std::fs::read_dir(data.join("words"))
        .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect())
        .unwrap_or_default();
    paths.sort();
    for path in paths.iter().filter(|path| path.extension().is_some_and(|end| end == "csv")) {
        for row in Row::file(path, faults) {
            let (word, class) = (row.get("word"), row.get("class"));
            if word.is_empty() || class.is_empty() {
                faults.add(&row.place(), "word and class are both needed");
            }
            if !all.insert((word.to_lowercase(), class.to_owned())) {
                faults.add(&row.place(), format!("{word:?} stands twice as {class}"));
            }
        }
    }
    let written: Vec<String> =
        all.iter().map(|(word, class)| format!("({}, {})", text(word), text(class))).collect();
    let _ = writeln!(out, "pub(crate) static WORDS: &[(&str, &str)] = &[{}];", written.join(",\n"));
}
