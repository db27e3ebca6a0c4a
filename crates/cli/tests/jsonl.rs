//! The contract of `read --jsonl` (docs/decisions/0006): fields, order, errors, exit code.

mod common;

use common::{Ran, fixtures, run_with};
use serde_json::{Value, json};

fn jsonl(input: &str) -> Ran {
    run_with(&["read", "--jsonl"], input.as_bytes())
}

fn answers(ran: &Ran) -> Vec<Value> {
    ran.out.lines().map(|line| serde_json::from_str(line).expect("each line is JSON")).collect()
}

/// The units of the guide beside the marks (`golden/marked/GUIDE.md`, Units).
const UNITS: &str = "pound ounce dram scruple grain stone hundredweight gallon quart pint gill peck bushel quartern \
pottle tablespoon dessertspoon teaspoon saltspoon spoon cup teacup coffeecup breakfastcup wineglass glass tumbler \
bottle handful pinch dash drop slice sprig blade stick clove head bunch leaf sheet cake loaf piece bit knob inch jar \
can box package stalk bowl ladle basin square layer root rib jug keg barrel firkin count pennyworth penny-loaf";

#[track_caller]
fn span_is_true(mark: &Value, text: &str) {
    let at = |key: &str| usize::try_from(mark[key].as_u64().expect("a number")).expect("an offset");
    assert_eq!(text.get(at("start")..at("end")), mark["quote"].as_str(), "{mark}");
}

#[test]
fn every_field_is_there_and_true() {
    let fixtures = fixtures();
    let input: String = fixtures
        .iter()
        .map(|(name, text)| {
            json!({"id": name, "text": text, "year": 1850, "region": "uk"}).to_string() + "\n"
        })
        .collect();
    let ran = jsonl(&input);
    ran.done();
    let answers = answers(&ran);
    assert_eq!(answers.len(), fixtures.len());
    let mut items = 0;
    let mut reckoned = 0;
    for (answer, (name, text)) in answers.iter().zip(&fixtures) {
        assert_eq!(answer["id"], json!(name));
        for list in ["items", "durations", "heats", "references", "yields"] {
            for mark in answer[list].as_array().unwrap_or_else(|| panic!("{name} has no {list}")) {
                span_is_true(mark, text);
            }
        }
        for item in answer["items"].as_array().expect("items") {
            items += 1;
            assert!(item["ingredient"].as_str().is_some_and(|name| !name.is_empty()), "{item}");
            assert!(item["sure"].is_boolean(), "{item}");
            assert!(item["why"].as_str().is_some_and(|why| why.len() > 3), "{item}");
            for part in item["amount"].as_array().expect("an amount, if an empty one") {
                let (low, high) = (part["low"].as_f64().expect("low"), part["high"].as_f64().expect("high"));
                assert!(low <= high, "{item}");
                let unit = part["unit"].as_str().expect("a unit");
                let known = UNITS.split(' ').any(|known| known == unit)
                    || unit.starts_with("size:")
                    || unit.starts_with("lie-on:");
                assert!(known, "{unit} is no unit of the guide");
            }
            let modern = &item["modern"];
            if !modern.is_null() {
                reckoned += 1;
                let figure = |key: &str| modern[key].as_f64().unwrap_or_else(|| panic!("{key}: {item}"));
                assert!(figure("low") <= figure("best") && figure("best") <= figure("high"), "{item}");
                assert!(figure("low") >= 0.0, "{item}");
                assert!(["g", "ml", "count"].contains(&modern["unit"].as_str().unwrap_or("")), "{item}");
            }
        }
        for time in answer["durations"].as_array().expect("durations") {
            assert!(time["low_min"].as_f64() <= time["high_min"].as_f64(), "{time}");
        }
        for heat in answer["heats"].as_array().expect("heats") {
            let class = &heat["class"];
            let classes = ["very-slow", "slow", "moderate", "hot", "very-hot"];
            assert!(class.is_null() || classes.contains(&class.as_str().unwrap_or("")), "{heat}");
        }
        for reference in answer["references"].as_array().expect("references") {
            let kinds = ["page", "number", "title", "neighbour"];
            assert!(kinds.contains(&reference["kind"].as_str().unwrap_or("")), "{reference}");
            assert!(reference["target"].is_string(), "{reference}");
        }
    }
    assert!(items > 80, "the fixtures have more than {items} items");
    assert!(reckoned * 2 > items, "{reckoned} of {items} have a figure");
}

#[test]
fn the_order_is_kept_however_long_the_recipes_are() {
    let fixtures = fixtures();
    // Long and short ones by turns, so that the two workers are never equally quick.
    let lines: Vec<(String, String)> = (0..400)
        .map(|at| {
            let (name, text) = &fixtures[(at * 7) % fixtures.len()];
            let id = format!("{at}/{name}");
            let text = if at % 3 == 0 { text.repeat(8) } else { text.clone() };
            (id.clone(), json!({"id": id, "text": text, "year_first": 1850, "year_last": 1859}).to_string())
        })
        .collect();
    let mut input = String::new();
    for (_, line) in &lines {
        input.push_str(line);
        input.push('\n');
    }
    let ran = jsonl(&input);
    ran.done();
    let ids: Vec<Value> = answers(&ran).into_iter().map(|answer| answer["id"].clone()).collect();
    assert_eq!(ids, lines.iter().map(|(id, _)| json!(id)).collect::<Vec<_>>());
    assert_eq!(ran.out, jsonl(&input).out, "two runs give the same bytes");
}

#[test]
fn a_bad_line_is_answered_in_its_place_and_the_stream_goes_on() {
    let good = |id: &str| json!({"id": id, "text": "Take a pound of flour.", "year": 1850}).to_string();
    let bad = [
        "{not json",
        "",
        "[1, 2]",
        "null",
        r#"{"id": "no text"}"#,
        r#"{"id": 7, "text": 8}"#,
        r#"{"id": "late", "text": "Take flour.", "year": 99999}"#,
        r#"{"id": "far", "text": "Take flour.", "year": 1850, "region": "atlantis"}"#,
        r#"{"id": "blank", "text": "  "}"#,
        r#"{"id": "backwards", "text": "Take flour.", "year_first": 1860, "year_last": 1850}"#,
    ];
    let mut input = String::new();
    for (at, line) in bad.iter().enumerate() {
        input.push_str(&good(&at.to_string()));
        input.push('\n');
        input.push_str(line);
        input.push('\n');
    }
    let ran = jsonl(&input);
    ran.stopped(1, "10 of 20 lines could not be read");
    let answers = answers(&ran);
    assert_eq!(answers.len(), 20);
    for (at, pair) in answers.chunks(2).enumerate() {
        assert_eq!(pair[0]["id"], json!(at.to_string()));
        assert_eq!(pair[0].get("error"), None, "{}", pair[0]);
        assert!(pair[1]["error"].as_str().is_some_and(|error| error.len() > 8), "{}", pair[1]);
        assert_eq!(pair[1]["line"], json!(2 * at + 2));
    }
    let ids: Vec<Option<&Value>> = answers.iter().skip(1).step_by(2).map(|answer| answer.get("id")).collect();
    assert_eq!(ids[..4], [None, None, None, None]);
    assert_eq!(
        ids[4..],
        ["no text", "", "late", "far", "blank", "backwards"].map(|id| {
            answers
                .iter()
                .map(|answer| &answer["id"])
                .find(|found| if id.is_empty() { **found == json!(7) } else { **found == json!(id) })
        })
    );
}

#[test]
fn bytes_that_are_no_text_and_lines_without_end() {
    let mut input = b"\xEF\xBB\xBF{\"id\":1,\"text\":\"Take a pound of flour.\",\"year\":1850}\n".to_vec();
    input.extend(b"{\"id\":2,\"text\":\"souffl\xE9\"}\n");
    input.extend(b"{\"id\":3,\"text\":\"");
    input.extend(std::iter::repeat_n(b'a', 17 * 1024 * 1024));
    input.extend(b"\"}\r\n{\"id\":4,\"text\":\"Take a pound of flour.\",\"year\":1850}\r\n");
    // The last line has no end.
    input.extend(b"{\"id\":5,\"text\":\"Take a pound of flour.\",\"year\":1850}");
    let ran = run_with(&["read", "--jsonl"], &input);
    ran.stopped(1, "2 of 5 lines");
    let answers = answers(&ran);
    let ids: Vec<&Value> = answers.iter().map(|answer| &answer["id"]).collect();
    assert_eq!(ids, [&json!(1), &Value::Null, &Value::Null, &json!(4), &json!(5)]);
    assert!(answers[1]["error"].as_str().is_some_and(|error| error.contains("byte 23")), "{}", answers[1]);
    assert!(answers[2]["error"].as_str().is_some_and(|error| error.contains("16 MiB")), "{}", answers[2]);
}

#[test]
fn an_id_comes_back_as_it_was_given() {
    let line = |id: &Value| json!({"id": id, "text": "Take a pound of flour.", "year": 1850}).to_string();
    for id in [json!("a\"b\\ü"), json!(12), json!("")] {
        let ran = jsonl(&line(&id));
        ran.done();
        assert_eq!(answers(&ran)[0]["id"], id);
    }
    // An id must be text or a number.
    for id in [json!(null), json!([1, {"x": "y"}])] {
        jsonl(&line(&id)).stopped(1, "1 of 1 line could not be read");
    }
}

#[test]
fn years_and_places_come_from_the_line_first() {
    // An Imperial pint is an eighth of 4.54609 l (Units of Measurement Regulations 1995), 568.26 ml; an
    // American one an eighth of 231 cubic inches (NIST Handbook 44, appendix C), 473.18 ml.
    let line = |region: &str| {
        json!({"id": region, "text": "Take a pint of milk.", "year": 1880, "region": region}).to_string()
    };
    let input =
        format!("{}\n{}\n{}\n", line("us"), line("uk"), json!({"id": "", "text": "Take a pint of milk."}));
    let ran = run_with(&["read", "--jsonl", "--year", "1880", "--place", "us"], input.as_bytes());
    ran.done();
    let best: Vec<f64> = answers(&ran)
        .iter()
        .map(|answer| answer["items"][0]["modern"]["best"].as_f64().expect("a figure"))
        .collect();
    assert!(
        (best[0] - 473.18).abs() < 0.5 && (best[1] - 568.26).abs() < 0.5 && (best[2] - 473.18).abs() < 0.5,
        "{best:?}"
    );
}

#[test]
fn a_full_disk_and_a_reader_that_goes_away() {
    let lines =
        (json!({"id": 1, "text": "Take a pound of flour.", "year": 1850}).to_string() + "\n").repeat(2000);
    let room = tempfile::tempdir().expect("a folder");
    let file = room.path().join("in.jsonl");
    std::fs::write(&file, lines).expect("written");
    let ask = || {
        let mut command = common::program();
        command.args(["read", "--jsonl"]).arg(&file);
        command
    };
    if let Ok(full) = std::fs::File::options().write(true).open("/dev/full") {
        let ran = ask().stdout(full).output().expect("ran");
        assert_eq!(ran.status.code(), Some(3), "{}", String::from_utf8_lossy(&ran.stderr));
    }
    let mut child = ask()
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let ran = child.wait_with_output().expect("the program ends");
    assert_eq!((ran.status.code(), String::from_utf8_lossy(&ran.stderr).as_ref()), (Some(0), ""));
    let none = run_with(&["read", "--jsonl", "nowhere.jsonl"], b"");
    none.stopped(1, "there is no such file");
    run_with(&["read", "--jsonl", &room.path().display().to_string()], b"").stopped(1, "is a folder");
}

#[test]
fn nothing_in_nothing_out() {
    let ran = jsonl("");
    assert_eq!(ran.done(), "");
}
