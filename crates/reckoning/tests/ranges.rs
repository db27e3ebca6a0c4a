//! What must hold of every figure, whatever was printed: low ≤ best ≤ high, finite and not below
//! nought; twice as much printed is twice as much reckoned; the same words give the same figure.

use proptest::prelude::*;
use quartern_knowledge::{Ingredient, ingredients, places, unit_words};
use quartern_quantity::{Figure, Ratio};
use quartern_reading::{Amount, Item, Name, Part, Rate, Reading};
use quartern_reckoning::{Ground, figures, reckon};
use quartern_text::{PlaceId, Source, Span, Transcript, Within, YearRange};

const QUALIFIERS: &[&str] = &["", "heaped", "level", "rounded", "scant", "good", "large", "small", "full"];

fn item(plain: &str, ingredient: Option<&'static Ingredient>, amount: Amount, qualifier: &str) -> Item {
    Item {
        span: Span::new(0, 4),
        name_span: Span::new(0, 4),
        name: Name { plain: plain.to_owned(), ingredient, also: Vec::new(), prepared: Vec::new() },
        amount,
        qualifier: qualifier.to_owned(),
        rate: Rate::None,
        optional: false,
        alternatives: Vec::new(),
        sure: true,
        rule: "made for a test",
    }
}

fn reading(items: Vec<Item>) -> Reading {
    Reading {
        title: None,
        items,
        steps: Vec::new(),
        durations: Vec::new(),
        heats: Vec::new(),
        cues: Vec::new(),
        references: Vec::new(),
        yields: Vec::new(),
    }
}

fn source(first: i64, last: i64, place: usize) -> Source {
    let place = PlaceId::from_register(places()[place % places().len()].id);
    Source {
        title: String::new(),
        author: String::new(),
        written: Within { years: YearRange::new(first, last).expect("in order and in bounds"), place },
        printed: None,
        edition: String::new(),
        rights: String::new(),
    }
}

fn figure(
    parts: Vec<Part>,
    ingredient: &'static Ingredient,
    qualifier: &str,
    source: &Source,
) -> Option<Figure> {
    let transcript = Transcript::new("some words").expect("words");
    let reading = reading(vec![item(ingredient.name, Some(ingredient), Amount::Stated(parts), qualifier)]);
    let noticed = figures(&transcript, &reading, source, &[]);
    let reckoned = &noticed.value.items[0];
    assert_eq!(reckoned.figure, reckoned.reason.figure);
    assert!(!reckoned.reason.why().is_empty());
    assert!(!reckoned.reason.sentences().is_empty());
    if reckoned.figure.is_none() {
        assert!(!matches!(reckoned.reason.ground, Ground::Measured(_) | Ground::Counted { .. }));
    }
    reckoned.figure
}

proptest! {
    #[test]
    fn a_figure_is_in_order(
        numbers in prop::collection::vec((0_u32..500, 1_u32..17, 0_u32..40, any::<prop::sample::Index>()), 1..4),
        goods in any::<prop::sample::Index>(),
        qualifier in prop::sample::select(QUALIFIERS),
        first in 1000_i64..2100,
        years in 0_i64..120,
        place in 0_usize..400,
    ) {
        let parts: Vec<Part> = numbers
            .iter()
            .map(|(top, bottom, more, unit)| Part {
                low: Ratio::new(*top, *bottom),
                high: Ratio::new(*top + *more, *bottom),
                unit: unit_words()[unit.index(unit_words().len())].unit,
            })
            .collect();
        let ingredient = &ingredients()[goods.index(ingredients().len())];
        let source = source(first, (first + years).min(2100), place);
        let one = figure(parts.clone(), ingredient, qualifier, &source);
        prop_assert_eq!(one, figure(parts, ingredient, qualifier, &source));
        if let Some(figure) = one {
            let (low, best, high) = figure.numbers();
            prop_assert!(low.is_finite() && best.is_finite() && high.is_finite());
            prop_assert!(0.0 <= low && low <= best && best <= high, "{low} {best} {high}");
        }
    }

    #[test]
    fn twice_as_much_is_twice_as_much(
        top in 1_u32..200,
        bottom in 1_u32..9,
        unit in any::<prop::sample::Index>(),
        goods in any::<prop::sample::Index>(),
        year in 1600_i64..1920,
    ) {
        let unit = unit_words()[unit.index(unit_words().len())].unit;
        let ingredient = &ingredients()[goods.index(ingredients().len())];
        let source = source(year, year, 1);
        let part = |top: u32| vec![Part { low: Ratio::new(top, bottom), high: Ratio::new(top, bottom), unit }];
        let (once, twice) = (figure(part(top), ingredient, "", &source), figure(part(2 * top), ingredient, "", &source));
        match (once, twice) {
            (Some(once), Some(twice)) => {
                let (one, two) = (once.numbers(), twice.numbers());
                for (single, double) in [(one.0, two.0), (one.1, two.1), (one.2, two.2)] {
                    prop_assert!((double - 2.0 * single).abs() <= 1e-9 * double.abs().max(1.0), "{single} {double}");
                }
            }
            (None, None) => {}
            (once, twice) => prop_assert!(false, "{:?} but {:?}", once, twice),
        }
    }

    #[test]
    fn any_words_can_be_reckoned(words in "[a-zA-Z½¼ſ’—,.;\n -]{1,300}") {
        prop_assume!(!words.trim().is_empty());
        let transcript = Transcript::new(words.as_str()).expect("words");
        let read = quartern_reading::read(&words, None);
        let reckoning = reckon(&transcript, &read.value, &source(1780, 1820, 2), &[]).value;
        prop_assert_eq!(reckoning.items.len(), read.value.items.len());
        prop_assert_eq!(reckoning.heats.len(), read.value.heats.len());
        for span in reckoning.cautions.iter().flat_map(|caution| &caution.spans) {
            prop_assert!(words.get(span.start()..span.end()).is_some_and(|found| !found.is_empty()));
        }
        for gloss in &reckoning.glosses {
            prop_assert!(words.get(gloss.span.start()..gloss.span.end()).is_some_and(|found| !found.is_empty()));
        }
    }
}

#[test]
fn equal_amounts_may_lean_on_each_other_in_a_ring() {
    let equal = |of: &str| Amount::SameAs { of: of.to_owned(), factor: Ratio::from_integer(1) };
    let reading =
        reading(vec![item("sugar", None, equal("butter"), ""), item("butter", None, equal("sugar"), "")]);
    let transcript = Transcript::new("their weight each of the other").expect("words");
    let reckoning = figures(&transcript, &reading, &source(1800, 1800, 1), &[]).value;
    assert!(reckoning.items.iter().all(|reckoned| reckoned.figure.is_none()));
}
