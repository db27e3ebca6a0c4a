//! The form of `read --jsonl` is a promise: its fields, their order and their meaning.

use quartern_text::{Within, YearRange};
use quartern_workbench::{contract_line, full_object, given_from_json, work, work_figures};
use serde_json::Value;

fn defaults() -> Within {
    Within {
        years: YearRange::single(1861).expect("a year"),
        place: quartern_knowledge::place("uk").expect("a place"),
    }
}

fn line(input: &str) -> String {
    let (id, given) = given_from_json(input, &defaults()).expect("a good line");
    contract_line(&id, &given, &work_figures(&given, &[]))
}

#[test]
fn a_line_has_the_fields_of_the_guide_and_modern_sure_why() {
    let out = line(
        r#"{"id":"a/1","title":"A \"Pudding\".","text":"A \"Pudding\".\n\nTake half a pint of milk, butter or lard,\na heaped teaspoonful of salt and a little\tsugar; bake it in a slow oven an hour. (See No. 212.) Enough for six persons."}"#,
    );
    assert!(!out.contains('\n'), "one line");
    let read: Value = serde_json::from_str(&out).expect("good JSON");
    let keys = ["id", "items", "durations", "heats", "references", "yields"];
    let places: Vec<usize> =
        keys.iter().map(|key| out.find(&format!("\"{key}\":")).expect("the key is there")).collect();
    assert!(places.is_sorted(), "the order of the keys is fixed");
    assert_eq!(read["id"], "a/1");
    let milk = &read["items"][0];
    assert_eq!(milk["ingredient"], "milk");
    assert_eq!(milk["amount"][0]["low"], 0.5);
    assert_eq!(milk["amount"][0]["unit"], "pint");
    assert_eq!(milk["modern"]["unit"], "ml");
    // Half an Imperial pint of 568.26125 ml, the law of 1861 (GNU units 2.22: brpint).
    assert!((milk["modern"]["best"].as_f64().expect("a number") - 284.130_63).abs() < 1e-4);
    assert!(milk["sure"].is_boolean());
    assert!(milk["why"].as_str().expect("words").starts_with("½ pint, Imperial pint of 568 ml ("));
    for item in read["items"].as_array().expect("a list") {
        let (low, high) = (item["modern"]["low"].as_f64(), item["modern"]["high"].as_f64());
        assert!(item["modern"].is_null() || low <= high);
        assert!(item["why"].as_str().is_some_and(|why| !why.is_empty()));
        assert!(item["start"].as_u64() < item["end"].as_u64());
    }
    assert_eq!(read["durations"][0]["low_min"], 60);
    assert_eq!(read["heats"][0]["class"], "slow");
    assert_eq!(read["yields"][0]["low"], 6);
}

#[test]
fn what_is_not_stated_is_null_and_says_why() {
    let out = line(r#"{"id":7,"text":"Take some butter and beat it with flour."}"#);
    let read: Value = serde_json::from_str(&out).expect("good JSON");
    assert_eq!(read["id"], 7);
    for item in read["items"].as_array().expect("a list") {
        assert!(item["modern"].is_null());
        assert!(item["why"].as_str().expect("words").starts_with("The source "));
    }
}

#[test]
fn a_line_says_year_and_place_or_takes_the_defaults() {
    let given = |input: &str| given_from_json(input, &defaults()).expect("a good line").1.source.written;
    let written =
        given(r#"{"id":"x","text":"Boil it.","year_first":1790,"year_last":1799,"region":"uk/ceylon"}"#);
    assert_eq!((written.years.first(), written.years.last(), written.place.as_str()), (1790, 1799, "uk"));
    let written = given(r#"{"id":"x","text":"Boil it.","year":1904,"region":"new-zealand"}"#);
    assert_eq!((written.years.first(), written.place.as_str()), (1904, "new-zealand"));
    assert_eq!(given(r#"{"id":"x","text":"Boil it.","region":null}"#), defaults());
}

#[test]
fn a_bad_line_gives_one_sentence_and_its_id() {
    let bad = |input: &str| given_from_json(input, &defaults()).expect_err("a bad line");
    for (input, id, starts) in [
        ("", None, "The line is not a JSON object"),
        ("[1]", None, "The line is not a JSON object."),
        ("{\"id\":\"x\"", None, "The line is not a JSON object"),
        (r#"{"text":"Boil it."}"#, None, "The line has no id."),
        (r#"{"id":{},"text":"Boil it."}"#, Some("{}"), "The id is neither text nor a number."),
        (r#"{"id":"x"}"#, Some("\"x\""), "The line has no text."),
        (r#"{"id":"x","text":7}"#, Some("\"x\""), "The text is not text."),
        (r#"{"id":"x","text":" \n"}"#, Some("\"x\""), "The text cannot be taken: there are no words in it."),
        (r#"{"id":"x","text":"a","year":99999}"#, Some("\"x\""), "The year 99999 is not one"),
        (r#"{"id":"x","text":"a","year":"1800"}"#, Some("\"x\""), "The year is not a whole number."),
        (
            r#"{"id":"x","text":"a","year_first":1800,"year_last":1700}"#,
            Some("\"x\""),
            "The years 1800 to 1700",
        ),
        (r#"{"id":"x","text":"a","region":"atlantis"}"#, Some("\"x\""), "The region “atlantis” is not known"),
    ] {
        let error = bad(input);
        assert_eq!(error.id.map(|id| id.to_string()).as_deref(), id, "{input}");
        assert!(error.message.starts_with(starts), "{input}: {}", error.message);
        assert!(error.message.ends_with('.'), "{}", error.message);
    }
}

#[test]
fn the_full_object_holds_the_line_and_more() {
    let input = r#"{"id":"a/1","text":"Take half a pint of milk and boil it in a brass pan with two ounces of saltpetre."}"#;
    let (id, given) = given_from_json(input, &defaults()).expect("a good line");
    let worked = work(&given, &[]);
    let full = full_object(&given, &worked);
    let line: Value = serde_json::from_str(&contract_line(&id, &given, &worked)).expect("good JSON");
    for key in ["durations", "references", "yields"] {
        assert_eq!(full[key], line[key], "{key}");
    }
    for (item, short) in
        full["items"].as_array().expect("a list").iter().zip(line["items"].as_array().expect("a list"))
    {
        assert_eq!(item["modern"], short["modern"]);
        assert_eq!(item["why"], short["why"]);
        assert!(item["reason"].as_array().is_some_and(|told| !told.is_empty()));
    }
    for key in ["steps", "cues", "gaps", "cautions", "glosses", "notices"] {
        assert!(full[key].is_array(), "{key}");
    }
    assert!(full["cautions"].as_array().expect("a list").iter().any(|caution| caution["id"] == "saltpetre"));
    assert_eq!(full["source"]["written"]["place"], "uk");
}

mod any_text {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn comes_back_as_it_was_in_the_quotes(text in "\\PC{0,40}[a-z \"\\\\\n\t\u{1}ſ½]{1,120}\\PC{0,40}") {
            prop_assume!(!text.trim().is_empty());
            let input = serde_json::json!({"id": text, "text": text}).to_string();
            let (id, given) = given_from_json(&input, &defaults()).expect("a good line");
            let out = contract_line(&id, &given, &work_figures(&given, &[]));
            let read: Value = serde_json::from_str(&out).expect("good JSON");
            prop_assert_eq!(read["id"].as_str(), Some(text.as_str()));
            for item in read["items"].as_array().expect("a list") {
                let (start, end) = (item["start"].as_u64().expect("a number"), item["end"].as_u64().expect("a number"));
                prop_assert_eq!(item["quote"].as_str(), text.get(start as usize..end as usize));
            }
        }
    }
}
