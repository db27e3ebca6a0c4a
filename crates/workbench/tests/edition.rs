//! An edition holds together: every figure has its note, marks do not overlap, references are
//! followed, decisions are shown.

use quartern_edition::{Edition, GapKind, LineAmount};
use quartern_text::{Source, Transcript, Within, YearRange};
use quartern_workbench::{Decision, DecisionKind, Given, edition};

fn given(title: &str, text: &str) -> Given {
    Given {
        transcript: Transcript::new(format!("{title}\n\n{text}")).expect("words"),
        title: Some(title.to_owned()),
        source: Source {
            title: "An invented book".to_owned(),
            author: String::new(),
            written: Within {
                years: YearRange::single(1820).expect("a year"),
                place: quartern_knowledge::place("england").expect("a place"),
            },
            printed: None,
            edition: String::new(),
            rights: String::new(),
        },
    }
}

/// Checks what must hold of every edition.
fn sound(edition: &Edition) {
    for (index, note) in edition.notes.iter().enumerate() {
        assert_eq!(note.number.0 as usize, index + 1, "notes are numbered in the order of the page");
        assert!(!note.sentences.is_empty(), "note {}", index + 1);
        let part = &edition.parts[note.part];
        assert!(part.words.get(note.span.start()..note.span.end()).is_some());
        assert!(note.authorities.iter().all(|authority| *authority < edition.authorities.len()));
        for sentence in &note.sentences {
            assert!(sentence.ends_with(['.', '"', '”', '?', '!']), "“{sentence}”");
            assert!(!sentence.contains("  ") && !sentence.contains(".."), "“{sentence}”");
        }
    }
    let last = edition.notes.len() as u32;
    for part in &edition.parts {
        let mut reach = 0;
        for mark in &part.marks {
            assert!(mark.span.start() >= reach, "marks overlap");
            reach = mark.span.end();
        }
        for line in &part.lines {
            assert!((1..=last).contains(&line.note.0));
            if let LineAmount::Reckoned(modern) = &line.amount {
                let (low, best, high) = modern.figure.numbers();
                assert!(low <= best && best <= high && !modern.best.is_empty());
            }
        }
        for step in &part.steps {
            assert!(step.uses.iter().all(|line| *line < part.lines.len()));
            assert!(step.times.iter().chain(&step.heats).all(|fact| (1..=last).contains(&fact.note.0)));
        }
    }
}

#[test]
fn references_are_followed_and_rings_are_cut() {
    let tart = given(
        "A Plum Tart",
        "Take a pound of plums and half a pound of sugar. Make a paste as in the receipt for Tart Paste.",
    );
    let paste = given(
        "TART PASTE.",
        "Take a pound of flour, half a pound of butter and a gill of water; serve it as in the receipt for Plum Tart.",
    );
    let edition = edition(&[tart, paste], &[], "0.0.0");
    sound(&edition);
    assert_eq!(edition.parts.len(), 2, "{:?}", edition.notices);
    assert_eq!(edition.parts[1].title, "TART PASTE");
    assert!(!edition.parts[1].referred_by.is_empty());
    assert!(edition.notices.iter().any(|notice| notice.code == "R005"));
    assert_eq!(edition.made_with, "quartern 0.0.0");
}

#[test]
fn what_is_not_at_hand_is_a_gap_that_can_be_filled() {
    let tart = || {
        given(
            "A Plum Tart",
            "Take a pound of plums. Make a paste as in the receipt for Tart Paste, and bake it an hour.",
        )
    };
    let open = edition(&[tart()], &[], "0.0.0");
    sound(&open);
    assert!(open.notices.iter().any(|notice| notice.code == "R003"));
    let gap = open.supplies.iter().find(|supply| supply.gap == GapKind::Recipe).expect("a gap");
    assert_eq!(gap.supplied, "");
    let supply = |gap: &str, supplied: &str| {
        Decision::new(
            DecisionKind::Supply {
                gap: gap.into(),
                supplied: supplied.into(),
                source: "common practice".into(),
            },
            "The dish needs it.",
            "1911-05-03",
        )
        .expect("a reason is given")
    };
    let decisions = [supply("recipe", "any short paste"), supply("heat", "190 °C")];
    let filled = edition(&[tart()], &decisions, "0.0.0");
    sound(&filled);
    let put: Vec<(&str, &str)> =
        filled.supplies.iter().map(|supply| (supply.supplied.as_str(), supply.why.as_str())).collect();
    assert!(put.contains(&("any short paste", "The dish needs it; source: common practice.")), "{put:?}");
    assert!(put.contains(&("190 °C", "The dish needs it; source: common practice.")), "{put:?}");
    assert_eq!(filled.decisions.len(), 2);
    assert!(filled.decisions[0].reason.ends_with("(1911-05-03)"));
    let both = [
        given("A Plum Tart", "Make a paste as in the receipt for paste."),
        given("Tart Paste", "Flour."),
        given("Short Paste", "Flour."),
    ];
    let several = edition(&both, &[], "0.0.0");
    assert!(several.notices.iter().any(|notice| notice.code == "R004"), "{:?}", several.notices);
}

#[test]
fn a_decision_may_be_about_any_part() {
    let tart = given("A Plum Tart", "Take a pound of plums. Make a paste as in the receipt for Tart Paste.");
    let paste = given("Tart Paste", "Take a pound of flour and a gill of water.");
    let take = Decision::new(
        DecisionKind::TakeMeasure { unit: "gill".into(), measure: "gill-ale".into() },
        "A brewing house.",
        "",
    )
    .expect("a reason is given");
    let lost = Decision::new(DecisionKind::SetAside { words: "lard".into() }, "A slip.", "")
        .expect("a reason is given");
    let made = edition(&[tart, paste], &[take, lost], "0.0.0");
    sound(&made);
    let unfitting: Vec<&str> = made
        .notices
        .iter()
        .filter(|notice| notice.code == "D001")
        .map(|notice| notice.message.as_str())
        .collect();
    assert_eq!(unfitting.len(), 1, "{unfitting:?}");
    assert!(unfitting[0].contains("lard"));
}

#[test]
fn cautions_of_every_part_stand_at_the_top_gravest_first() {
    let beef = given("Beef", "Rub it with an ounce of saltpetre. Make a sauce as in the receipt for Whip.");
    let whip = given("Whip", "Whip the whites of three eggs with a pound of sugar, and serve it cold.");
    let made = edition(&[beef, whip], &[], "0.0.0");
    sound(&made);
    let ids: Vec<&str> = made.cautions.iter().map(|caution| caution.id.as_str()).collect();
    assert!(ids.contains(&"saltpetre") && ids.contains(&"raw-egg"), "{ids:?}");
    assert!(made.cautions.is_sorted_by_key(|caution| caution.gravity));
    assert!(made.cautions.iter().all(|caution| !caution.words.is_empty() && !caution.says.is_empty()));
}

#[test]
fn the_same_recipe_gives_the_same_edition() {
    let recipe = || {
        given(
            "Cake",
            "Take a pound of flour, a pint of milk and a heaped teaspoonful of salt; bake it in a quick oven an hour.",
        )
    };
    assert_eq!(edition(&[recipe()], &[], "0.0.0"), edition(&[recipe()], &[], "0.0.0"));
}
