//! What a term meant, there and then.

use quartern_text::{Within, YearRange};
use quartern_workbench::{Code, explain};

fn at(year: i64, place: &str) -> Within {
    Within {
        years: YearRange::single(year).expect("a year"),
        place: quartern_knowledge::place(place).expect("a place"),
    }
}

#[test]
fn a_measure_is_explained_with_all_its_sizes() {
    let told = explain("half a gill", &at(1750, "northumberland")).expect("a gill is known");
    let gill = told.entries.iter().find(|entry| entry.heading == "gill, a measure").expect("it is a measure");
    assert!(gill.alternatives.iter().any(|other| other.id == "gill-northern-old"));
    // The wine gallon of 231 cubic inches (5 Ann. c. 27; from memory) makes a gill of 118.3 ml.
    let wine = gill.alternatives.iter().find(|other| other.id == "gill-wine").expect("wine was measured so");
    assert_eq!(wine.size, "118.3 ml");
    assert!(gill.alternatives.iter().all(|other| !other.source.is_empty()));
    let whole: u32 = gill.alternatives.iter().map(|other| other.weight).sum();
    assert!((95..=105).contains(&whole), "the weights add to one, but for rounding: {whole}");
    assert!(gill.alternatives.is_sorted_by(|one, two| one.weight >= two.weight));
    // Not of a time when it did not hold.
    let later = explain("gill", &at(1900, "northumberland")).expect("a gill is known");
    assert!(later.entries[0].alternatives.iter().all(|other| other.id != "gill-northern-old"));
}

#[test]
fn heats_old_words_foods_and_codes_are_explained() {
    let headings = |term: &str| -> Vec<String> {
        explain(term, &at(1796, "england"))
            .unwrap_or_else(|unknown| panic!("{unknown}"))
            .entries
            .into_iter()
            .map(|entry| entry.heading)
            .collect()
    };
    assert!(headings("a slow oven").contains(&"slow oven, a heat (slow)".to_owned()));
    assert!(headings("Verjuice").iter().any(|heading| heading.starts_with("verjuice, an ingredient")));
    assert!(headings("the salamander").contains(&"salamander, a vessel".to_owned()));
    assert!(headings("as big as a walnut").contains(&"the size of a walnut, a measure".to_owned()));
    for code in Code::ALL {
        assert!(headings(code.as_str())[0].starts_with(code.as_str()));
    }
}

#[test]
fn an_unknown_term_names_what_is_near() {
    let unknown =
        explain("tablespoonfull", &at(1796, "england")).map(|_| ()).expect_err("spelt so, it is not known");
    assert!(!unknown.nearest.is_empty());
    assert!(unknown.to_string().contains("the nearest known: "));
}
