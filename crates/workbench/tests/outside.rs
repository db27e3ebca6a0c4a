//! Figures checked against things outside the program. Each check names its source beside it.

use std::collections::BTreeMap;
use std::path::Path;

use quartern_knowledge::{Ingredient, all_ovens, density, ingredients, measure_by_id, weights};
use quartern_quantity::{Figure, Ratio};
use quartern_reading::{Amount, Item, Name, Part, Rate, Reading};
use quartern_text::{Source, Span, Transcript, Within, YearRange};
use quartern_workbench::{Given, work};

fn at(year: i64, place: &str) -> Within {
    Within {
        years: YearRange::single(year).expect("a year a book can have"),
        place: quartern_knowledge::place(place).expect("a place in the register"),
    }
}

fn source(written: Within) -> Source {
    Source {
        title: String::new(),
        author: String::new(),
        written,
        printed: None,
        edition: String::new(),
        rights: String::new(),
    }
}

/// Reads and reckons a line of a recipe, and returns the figure of its only item.
fn figure(words: &str, year: i64, place: &str) -> Figure {
    let given = Given {
        transcript: Transcript::new(words).expect("words"),
        title: None,
        source: source(at(year, place)),
    };
    let worked = work(&given, &[]);
    let [only] = worked.reckoning.items.as_slice() else {
        panic!("“{words}” was read as {} items", worked.reckoning.items.len())
    };
    only.figure.unwrap_or_else(|| panic!("nothing was reckoned from “{words}”: {}", only.reason.why()))
}

/// Common practice, no source: what British cooks about 1910 and after take these amounts for, within
/// ordinary kitchen rounding (two parts in a hundred).
#[test]
fn british_kitchen_amounts_about_1910() {
    let taken = [
        ("Take 8 oz. of flour.", 227.0, "g"),
        ("Take 6 oz. of flour.", 170.0, "g"),
        ("Take 5 oz. of flour.", 140.0, "g"),
        ("Take ½ oz. of flour.", 14.0, "g"),
        ("Take ¾ pint of water.", 425.0, "ml"),
        ("Take a gill of milk.", 140.0, "ml"),
        ("Take half a gill of milk.", 70.0, "ml"),
    ];
    for (words, taken_as, unit) in taken {
        let figure = figure(words, 1910, "uk");
        let (_, best, _) = figure.numbers();
        assert_eq!(figure.unit(), unit, "{words}");
        assert!((best / taken_as - 1.0).abs() < 0.02, "{words} came to {best} {unit}, taken as {taken_as}");
    }
}

/// US customary units: the cup of half a US pint (NIST Handbook 44, appendix C: 1 cup = 236.588 2 mL).
#[test]
fn the_us_cup() {
    let figure = figure("Take one cup of milk.", 1918, "us");
    assert_eq!(figure.unit(), "ml");
    let (_, best, _) = figure.numbers();
    assert!((best - 236.588_2).abs() < 1e-3, "{best}");
}

/// Rows of `published/historic-units.csv` (computed with GNU units 2.22) and the records they check.
const UNITS: &[(&str, &str)] = &[
    ("1 gill", "gill-us"),
    ("1 brgill", "gill-imperial"),
    ("1 noggin", "noggin-imperial"),
    ("1 pottle", "pottle-imperial"),
    ("1 brpint", "pint-imperial"),
    ("1 uspint", "pint-us"),
    ("1 brquart", "quart-imperial"),
    ("1 brgallon", "gallon-imperial"),
    ("1 usgallon", "gallon-us"),
    ("1 winepint", "pint-wine"),
    ("1 winequart", "quart-wine"),
    ("1 winegallon", "gallon-wine"),
    ("1 winehogshead", "hogshead-wine"),
    ("1 alepint", "pint-ale"),
    ("1 alequart", "quart-ale"),
    ("1 alegallon", "gallon-ale"),
    ("1 beergallon", "gallon-ale"),
    ("1 brpeck", "peck-imperial"),
    ("1 uspeck", "peck-us"),
    ("1 brbushel", "bushel-imperial"),
    ("1 usbushel", "bushel-us"),
    ("1 brfirkin", "firkin-imperial"),
    ("1 kilderkin", "kilderkin-imperial"),
    ("1 brhogshead", "hogshead-imperial-wine"),
    ("1 brfloz", "fluid-ounce-imperial"),
    ("1 usfloz", "fluid-ounce-us"),
    ("1 brdram", "fluid-dram-imperial"),
    ("1 fluiddram", "fluid-dram-us"),
    ("1 brminim", "minim-imperial"),
    ("1 minimvolume", "minim-us"),
    ("1 usteaspoon", "teaspoon-us-level"),
    ("1 ustablespoon", "tablespoon-us-level"),
    ("1 uscup", "cup-us-level"),
    ("1 scotsgill", "gill-scots"),
    ("1 mutchkin", "mutchkin-scots"),
    ("1 choppin", "chopin-scots"),
    ("1 scotspint", "pint-scots"),
    ("1 scotsquart", "quart-scots"),
    ("1 scotsgallon", "gallon-scots"),
    ("1 scotswheatlippy", "forpet-wheat"),
    ("1 scotswheatpeck", "peck-scots-wheat"),
    ("1 scotswheatfirlot", "firlot-wheat"),
    ("1 scotswheatboll", "boll-wheat"),
    ("1 scotsoatlippy", "forpet-oat"),
    ("1 scotsoatpeck", "peck-scots-oat"),
    ("1 scotsoatfirlot", "firlot-oat"),
    ("1 scotsoatboll", "boll-oat"),
    ("1 irishnoggin", "noggin-irish"),
    ("1 irishpint", "pint-irish"),
    ("1 irishquart", "quart-irish"),
    ("1 irishpottle", "pottle-irish"),
    ("1 irishgallon", "gallon-irish"),
    ("1 irishpeck", "peck-irish"),
    ("1 irishbushel", "bushel-irish"),
    ("1 lb", "pound-avoirdupois"),
    ("1 oz", "ounce-avoirdupois"),
    ("1 dram", "dram-avoirdupois"),
    ("1 grain", "grain"),
    ("1 apscruple", "scruple"),
    ("1 apdram", "dram-apothecary"),
    ("1 apounce", "ounce-troy"),
    ("1 appound", "pound-apothecary"),
    ("1 troypound", "pound-troy"),
    ("1 troyounce", "ounce-troy"),
    ("1 pennyweight", "pennyweight"),
    ("1 tronounce", "ounce-tron"),
    ("1 tronpound", "pound-tron"),
    ("1 tronstone", "stone-tron"),
    ("1 trondrop", "dram-tron"),
    ("1 frenchgrain", "grain-france"),
    ("1 frenchpound", "livre-poids-de-marc"),
    ("1 pfund", "pfund-zoll"),
    ("1 funt", "funt-russia"),
    ("1 zolotnik", "zolotnik-russia"),
    ("1 pood", "pood-russia"),
    ("1 stone", "stone-fourteen"),
    ("1 brhundredweight", "hundredweight"),
    ("1 oldcatty", "catty"),
    ("1 tael", "tael"),
    ("1 tola", "tola"),
    ("1 seer", "seer"),
    ("1 etto", "etto"),
];

fn table(name: &str) -> Vec<BTreeMap<String, String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published").join(name);
    let mut reader = csv::Reader::from_path(&path).expect("the published table is beside this file");
    reader.deserialize().map(|row| row.expect("a row of the table")).collect()
}

/// GNU units 2.22, definitions 3.15 (values in `published/historic-units.csv`): every unit that the
/// register has, to one part in five thousand, since some of the values rest on the inch of before
/// 1959 or on rounded definitions; and the gas marks, to a tenth of a degree, as the register has them.
#[test]
fn historic_units() {
    let mut checked = 0;
    let mut wrong = Vec::new();
    for row in table("historic-units.csv") {
        let (inputs, value) = (&row["inputs"], row["value"].parse::<f64>().expect("a number"));
        if row["quantity"] == "gas_mark" {
            let mark = match inputs.trim_start_matches("mark=") {
                "0.25" => "quarter",
                "0.5" => "half",
                whole => whole,
            };
            let oven = all_ovens().iter().find(|oven| oven.id == format!("gas-mark-{mark}"));
            let best = oven.map_or(f64::NAN, |oven| oven.best);
            checked += 1;
            if (best - value).abs() > 0.1 || best.is_nan() {
                wrong.push(format!("gas mark {mark}: {best} °C, published {value}"));
            }
            continue;
        }
        let Some((_, id)) = UNITS.iter().find(|(unit, _)| unit == inputs) else { continue };
        let best = measure_by_id(id).map_or(f64::NAN, |measure| measure.best);
        checked += 1;
        if (best / value - 1.0).abs() > 2e-4 || best.is_nan() {
            wrong.push(format!("{inputs} ({id}): {best}, published {value}"));
        }
    }
    println!("{checked} units checked");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(checked, UNITS.len() + 11, "a row of the table has gone");
}

/// The share of printed equalities that must hold. The books contradict each other in places, so not
/// all can.
const SHARE: f64 = 0.92;

/// A printed equality is a round one ("a pint's a pound"): five parts in a hundred either way are the
/// printer's.
const ROUND: f64 = 0.05;

/// Goods of rows that set a raw thing beside what is made of it: no equality of one and the same goods.
const MADE: &[&str] = &["cooked", "to make it"];

/// What 30 period books print about their own measures (`published/measures.csv`): both sides of an
/// equality, reckoned for the year and place of the book, must have a weight or a volume in common.
#[test]
fn printed_equalities() {
    let (mut held, mut not_held, mut uncovered) = (0, Vec::new(), Vec::new());
    for row in table("measures.csv") {
        let region = row["region"].to_lowercase();
        let year: i64 = row["year"].parse().expect("a year");
        let goods = goods(&row["goods"]);
        let sides = [("left_amount", "left_unit"), ("right_amount", "right_unit")]
            .map(|(amount, unit)| side(&row[amount], &row[unit], goods, year, &region, &row["goods"]));
        let said = format!(
            "{} {}: {} {} = {} {} ({}) “{}”",
            row["author"],
            year,
            row["left_amount"],
            row["left_unit"],
            row["right_amount"],
            row["right_unit"],
            row["goods"],
            row["quote"]
        );
        if MADE.iter().any(|word| row["goods"].contains(word)) {
            uncovered.push(said);
            continue;
        }
        let [Some(left), Some(right)] = sides else {
            uncovered.push(said);
            continue;
        };
        match together(left, right, goods) {
            None => uncovered.push(said),
            Some((one, two)) if one.0 <= two.1 * (1.0 + ROUND) && two.0 <= one.1 * (1.0 + ROUND) => held += 1,
            Some((one, two)) => {
                not_held.push(format!("{said}: {:.1}–{:.1} against {:.1}–{:.1}", one.0, one.1, two.0, two.1));
            }
        }
    }
    let checked = held + not_held.len();
    let share = f64::from(held as u32) / f64::from(checked as u32);
    println!(
        "{held} of {checked} printed equalities hold ({:.1} %); {} have no figure on one side",
        share * 100.0,
        uncovered.len()
    );
    for line in &not_held {
        println!("does not hold: {line}");
    }
    for line in &uncovered {
        println!("no figure: {line}");
    }
    assert!(checked >= 400, "only {checked} rows of the table could be checked");
    assert!(share >= SHARE, "only {:.1} % of the printed equalities hold", share * 100.0);
}

/// One side of an equality: the dimension, low and high.
#[derive(Clone, Copy, Debug)]
struct Side {
    unit: &'static str,
    low: f64,
    high: f64,
}

/// Brings both sides to one dimension, by the density of the goods where need be.
fn together(left: Side, right: Side, goods: Option<&'static Ingredient>) -> Option<((f64, f64), (f64, f64))> {
    if left.unit == right.unit {
        return Some(((left.low, left.high), (right.low, right.high)));
    }
    let known = density(goods?, "")?;
    let weigh = |side: Side| match side.unit {
        "ml" => Some((side.low * known.low, side.high * known.high)),
        "g" => Some((side.low, side.high)),
        _ => None,
    };
    Some((weigh(left)?, weigh(right)?))
}

/// Finds the ingredient a table calls goods: "Cheese, cottage" is cottage cheese; else words are left
/// off either end.
fn goods(name: &str) -> Option<&'static Ingredient> {
    let folded = name.to_lowercase();
    let plain = folded.split('(').next().unwrap_or("").trim().to_owned();
    let squeezed = |text: &str| -> String {
        let close: String = text.chars().filter(|letter| !matches!(letter, ' ' | '-')).collect();
        close.strip_suffix('s').map_or(close.clone(), str::to_owned)
    };
    let find = |wanted: &str| {
        let wanted = squeezed(wanted);
        let same = |known: &str| squeezed(known) == wanted;
        ingredients()
            .iter()
            .find(|known| same(known.name))
            .or_else(|| ingredients().iter().find(|known| known.names.iter().any(|other| same(other))))
    };
    let (head, tail) = plain.split_once(", ").unwrap_or((&plain, ""));
    let turned = tail.split(',').next().unwrap_or("");
    if !turned.is_empty()
        && let Some(found) = find(&format!("{turned} {head}"))
    {
        return Some(found);
    }
    let words: Vec<&str> = head.split_whitespace().collect();
    (0..words.len())
        .find_map(|from| find(&words[from..].join(" ")))
        .or_else(|| (1..words.len()).rev().find_map(|to| find(&words[..to].join(" "))))
}

/// Reckons "4" "heaping tablespoon" of some goods in a year and region.
fn side(
    amount: &str,
    unit: &str,
    goods: Option<&'static Ingredient>,
    mut year: i64,
    region: &str,
    goods_name: &str,
) -> Option<Side> {
    let (low, high) = range(amount)?;
    let mut words: Vec<&str> = unit.split(' ').collect();
    let mut qualifier = "";
    let mut place = region.to_owned();
    words.retain(|word| match *word {
        "heaping" | "heaped" => {
            qualifier = "heaped";
            false
        }
        "round" | "rounded" => {
            qualifier = "rounded";
            false
        }
        "level" => {
            qualifier = "level";
            false
        }
        "generous" | "large" | "full" => {
            qualifier = "large";
            false
        }
        // So called, it is the old measure, whatever the year of the book.
        "Scotch" | "Scots" => {
            "scotland".clone_into(&mut place);
            year = year.min(1820);
            false
        }
        "English" => {
            "england".clone_into(&mut place);
            false
        }
        "common" | "common-sized" | "sized" | "middling-sized" | "medium" | "kitchen" | "measuring"
        | "black" | "wine" | "half-pint" | "half" => false,
        _ => true,
    });
    let name = words.join(" ");
    let unit = match name.as_str() {
        // A cubic inch is 16.387064 ml by the definition of the inch (25.4 mm).
        "cubic inch" => return Some(Side { unit: "ml", low: low * 16.387_064, high: high * 16.387_064 }),
        "drachm" => "dram",
        "choppin" => "chopin",
        "size of an egg" => "size:egg",
        "quartern loaf" => "quartern",
        "fluid drachm" => "fluid-dram",
        "egg" => "count",
        "piece" | "square" | "lemon" | "banana" | "potato" | "egg white" | "egg yolk" | "quarter" | "ton"
        | "sack" => {
            return None;
        }
        other => quartern_knowledge::unit_words().iter().find(|word| word.unit == other)?.unit,
    };
    let ingredient = match unit {
        "quartern" if name == "quartern loaf" => ingredients().iter().find(|known| known.id == "bread"),
        "count" => ingredients().iter().find(|known| known.id == "egg"),
        _ => goods,
    };
    // The tables give numbers with eighths and thirds at most.
    let ratio = |value: f64| Ratio::new((value * 120.0).round() as u32, 120);
    let part = Part { low: ratio(low), high: ratio(high), unit };
    let reading = Reading {
        title: None,
        items: vec![Item {
            span: Span::new(0, 1),
            name_span: Span::new(0, 1),
            name: Name {
                plain: ingredient.map_or_else(|| goods_name.to_owned(), |known| known.name.to_owned()),
                ingredient,
                also: Vec::new(),
                prepared: ["sifted", "chopped", "packed", "melted", "grated", "ground", "broken"]
                    .iter()
                    .filter(|word| goods_name.to_lowercase().contains(**word))
                    .map(ToString::to_string)
                    .collect(),
            },
            amount: Amount::Stated(vec![part]),
            qualifier: qualifier.to_owned(),
            rate: Rate::None,
            optional: false,
            alternatives: Vec::new(),
            sure: true,
            rule: "a table",
        }],
        steps: Vec::new(),
        durations: Vec::new(),
        heats: Vec::new(),
        cues: Vec::new(),
        references: Vec::new(),
        yields: Vec::new(),
    };
    let transcript = Transcript::new("a table").expect("words");
    let reckoned = quartern_reckoning::figures(&transcript, &reading, &source(at(year, &place)), &[]);
    let figure = reckoned.value.items[0].figure?;
    let (low, _, high) = figure.numbers();
    if figure.unit() == "count" {
        let egg = quartern_knowledge::weight_of(ingredient?, "count", &at(year, &place))?;
        // Most books do not say whether the eggs are weighed in their shells.
        let shell = if goods_name.contains("shelled") {
            0.0
        } else {
            weights().iter().find(|weight| weight.ingredient == "egg-shell").map_or(0.0, |weight| weight.high)
        };
        return Some(Side { unit: "g", low: low * egg.low, high: high * (egg.high + shell) });
    }
    Some(Side { unit: figure.unit(), low, high })
}

/// Reads "2", "1/2", "2 2/3", "8-10" or "0.5".
fn range(amount: &str) -> Option<(f64, f64)> {
    let one = |text: &str| -> Option<f64> {
        text.split_whitespace().try_fold(0.0, |sum, piece| {
            let value = match piece.split_once('/') {
                Some((top, bottom)) => top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?,
                None => piece.parse::<f64>().ok()?,
            };
            Some(sum + value)
        })
    };
    match amount.split_once('-') {
        Some((low, high)) => Some((one(low)?, one(high)?)),
        None => one(amount).map(|value| (value, value)),
    }
}
