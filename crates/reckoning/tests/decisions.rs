//! What an editor decides is taken, and a decision that fits nothing is told.

use quartern_notice::{Code, Noticed};
use quartern_quantity::Figure;
use quartern_reckoning::{Decision, DecisionKind, GapKind, Ground, Reckoning, reckon};
use quartern_text::{Source, Transcript, Within, YearRange};

fn source(year: i64, place: &str) -> Source {
    Source {
        title: String::new(),
        author: String::new(),
        written: Within {
            years: YearRange::single(year).expect("a year"),
            place: quartern_knowledge::place(place).expect("a place"),
        },
        printed: None,
        edition: String::new(),
        rights: String::new(),
    }
}

fn decide(choice: DecisionKind) -> Decision {
    Decision::new(choice, "The editor knows the house.", "").expect("a reason is given")
}

fn reckoned(words: &str, year: i64, place: &str, decisions: &[Decision]) -> Noticed<Reckoning> {
    let transcript = Transcript::new(words).expect("words");
    let read = quartern_reading::read(words, None);
    reckon(&transcript, &read.value, &source(year, place), decisions)
}

fn best(noticed: &Noticed<Reckoning>, item: usize) -> f64 {
    noticed.value.items[item].figure.map_or(f64::NAN, |figure| figure.numbers().1)
}

fn unfitting(noticed: &Noticed<Reckoning>) -> Vec<&str> {
    noticed
        .notices
        .iter()
        .filter(|notice| notice.code == Code::UnfittingDecision)
        .map(|notice| notice.message.as_str())
        .collect()
}

#[test]
fn a_measure_is_taken_as_the_editor_says() {
    let words = "Take a gill of milk and boil it.";
    // Half an Imperial pint of 568.26125 ml (Weights and Measures Act 1985, schedule 1; from memory).
    let northern = decide(DecisionKind::TakeMeasure { unit: "gill".into(), measure: "gill-northern".into() });
    let with = reckoned(words, 1850, "northumberland", std::slice::from_ref(&northern));
    assert!((best(&with, 0) - 284.130_625).abs() < 1e-6);
    assert_eq!(with.value.items[0].figure.map(Figure::unit), Some("ml"));
    let Ground::Measured(parts) = &with.value.items[0].reason.ground else { panic!("a measure was read") };
    assert_eq!(parts[0].decided, Some(0));
    assert!(with.value.items[0].reason.sentences().iter().any(|told| told.contains("taken by the editor")));
    assert!(unfitting(&with).is_empty());
    let without = reckoned("Take a pint of milk and boil it.", 1850, "northumberland", &[northern]);
    assert_eq!(unfitting(&without).len(), 1);
    assert!(unfitting(&without)[0].contains("there is no gill in this recipe"));
}

#[test]
fn words_are_renamed_and_set_aside() {
    let words = "Take a pound of flour and two pounds of butter.";
    let rename = decide(DecisionKind::TakeName { words: "flour".into(), ingredient: "rye-flour".into() });
    let aside = decide(DecisionKind::SetAside { words: "butter".into() });
    let with = reckoned(words, 1850, "england", &[rename, aside]);
    assert!(unfitting(&with).is_empty(), "{:?}", unfitting(&with));
    assert_eq!(with.value.items[0].renamed, Some("rye flour"));
    assert_eq!(with.value.set_aside, vec![1]);
    let lost = decide(DecisionKind::SetAside { words: "lard".into() });
    let with = reckoned(words, 1850, "england", &[lost]);
    assert_eq!(unfitting(&with).len(), 1);
}

#[test]
fn a_gap_is_found_and_filled() {
    let words = "Mix a pound of flour with half a pound of butter, and bake it.";
    let open = reckoned(words, 1850, "england", &[]);
    let kinds: Vec<GapKind> = open.value.gaps.iter().map(|gap| gap.kind).collect();
    assert_eq!(kinds, vec![GapKind::Heat, GapKind::Time]);
    assert_eq!(open.notices.iter().filter(|notice| notice.code == Code::Gap).count(), 2);
    let heat = decide(DecisionKind::Supply {
        gap: "heat".into(),
        supplied: "a moderate oven".into(),
        source: "the next recipe in the book".into(),
    });
    let filled = reckoned(words, 1850, "england", &[heat.clone(), heat]);
    let put = filled.value.gaps[0].supplied.as_ref().expect("it was supplied");
    assert_eq!((put.what.as_str(), put.decision), ("a moderate oven", 0));
    assert_eq!(unfitting(&filled).len(), 1, "a second heat fits no gap");
    assert_eq!(filled.notices.iter().filter(|notice| notice.code == Code::Gap).count(), 1);
}

#[test]
fn printed_degrees_are_kept_and_a_fire_has_none() {
    let noticed = reckoned("Boil a pint of milk over a slow fire for an hour.", 1800, "england", &[]);
    assert_eq!(noticed.value.heats.len(), 1);
    assert_eq!(noticed.value.heats[0].celsius, None);
    let noticed = reckoned("Bake a pound of dough in a slow oven for an hour.", 1800, "england", &[]);
    let celsius = noticed.value.heats[0].celsius.expect("a slow oven has degrees on record");
    // Common practice, no source: a slow oven lies between 100 and 180 °C.
    assert!(celsius.low().celsius() >= 100.0 && celsius.high().celsius() <= 180.0);
}

#[test]
fn a_hazard_is_found_over_a_line_break_and_a_near_word_is_none() {
    let found = |words: &str| -> Vec<&str> {
        reckoned(words, 1750, "england", &[]).value.cautions.iter().map(|caution| caution.record.id).collect()
    };
    assert!(
        found("Rub the beef with two ounces of salt-\npetre and of ſaltpetre one ounce.")
            .contains(&"saltpetre")
    );
    assert!(
        found("Whip the whites of three eggs with a pound of sugar; serve it cold.").contains(&"raw-egg")
    );
    assert!(!found("Beat three eggs with a pint of milk and boil them half an hour.").contains(&"raw-egg"));
    assert!(found("Cut the rarebit in four.").is_empty());
}

#[test]
fn an_old_word_is_explained_once_and_the_longest_match_wins() {
    let noticed =
        reckoned("Take verjuice, and more verjuice, and orange-flower water.", 1700, "england", &[]);
    let ids: Vec<&str> = noticed.value.glosses.iter().map(|gloss| gloss.gloss.id).collect();
    assert_eq!(ids.iter().filter(|id| **id == "verjuice").count(), 1);
    assert!(ids.contains(&"orange-flower-water"), "{ids:?}");
}

#[test]
fn level_and_heaped_choose_among_sizes() {
    let of = |words: &str| best(&reckoned(words, 1880, "england", &[]), 0);
    let (plain, level, heaped) = (
        of("Take a tablespoonful of flour."),
        of("Take a level tablespoonful of flour."),
        of("Take a heaped tablespoonful of flour."),
    );
    assert!(level < heaped, "{level} {heaped}");
    assert!(level <= plain && plain <= heaped, "{level} {plain} {heaped}");
}

#[test]
fn equal_weight_and_equal_measure_differ() {
    let weight = reckoned("Take a pint of treacle, and its weight in flour.", 1850, "england", &[]);
    let measure = reckoned("Take a teacupful of sugar, and the same of flour.", 1850, "england", &[]);
    assert_eq!(weight.value.items.len(), 2);
    assert_eq!(measure.value.items.len(), 2);
    // A pint of treacle weighs more than a pint of flour: the weight is the treacle's.
    assert!(best(&weight, 1) > 568.0, "{}", best(&weight, 1));
    // A teacup of flour weighs less than a teacup of sugar.
    assert!(best(&measure, 1) < best(&measure, 0));
}
