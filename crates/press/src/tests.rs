//! What must hold of every format, checked against published standards where there is one.

use std::collections::{BTreeMap, BTreeSet};

use quartern_edition::{Edition, LineAmount, MarkKind};
use quartern_text::Span;
use scraper::{ElementRef, Html, Node, Selector};
use serde_json::Value;

use crate::{html, json, plain, sample};

const NO_ERRORS: [&str; 0] = [];

fn parsed(edition: &Edition) -> Html {
    Html::parse_document(&html::page(edition))
}

fn select<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).expect("a selector")).collect()
}

fn text_of(element: ElementRef<'_>) -> String {
    element.text().collect()
}

/// The words of an element without the signs an editor added.
fn words_of(element: ElementRef<'_>) -> String {
    let mut words = String::new();
    for child in element.children() {
        match (child.value(), ElementRef::wrap(child)) {
            (Node::Text(text), _) => words.push_str(text),
            (_, Some(inner)) if inner.value().name() != "sup" => words.push_str(&words_of(inner)),
            _ => {}
        }
    }
    words
}

/// An edition of untidy input: no figures, marks that overlap or lie outside the words.
fn untidy() -> Edition {
    let mut edition = sample::edition();
    let part = &mut edition.parts[0];
    part.words = "Take ſome ½ pint\r\nof cream.".to_owned();
    for (mark, (start, end)) in
        part.marks.iter_mut().zip([(0, 4), (2, 9), (6, 7), (5, 10), (12, 900), (9, 9)])
    {
        mark.span = Span::new(start, end);
    }
    for step in &mut part.steps {
        step.uses.push(usize::MAX);
    }
    edition.notes[0].authorities.push(usize::MAX);
    edition.title = String::new();
    edition
}

/// WHATWG HTML standard, section 13.2, "Parsing HTML documents": a conforming page raises no parse error.
#[test]
fn the_page_parses_without_errors() {
    for edition in [sample::edition(), untidy()] {
        assert_eq!(parsed(&edition).errors, NO_ERRORS);
    }
    assert_eq!(text_of(select(&parsed(&untidy()), "title")[0]), "A recipe without a heading");
}

/// WHATWG HTML standard, section 3.2.6: an id is unique in its tree.
#[test]
fn ids_are_unique_and_every_link_on_the_page_resolves() {
    let page = parsed(&sample::edition());
    let ids: Vec<&str> = select(&page, "[id]").iter().filter_map(|element| element.value().id()).collect();
    let unique: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), unique.len());
    let links = select(&page, "a[href]");
    assert!(links.len() > 30);
    for link in links {
        let target = link
            .value()
            .attr("href")
            .and_then(|href| href.strip_prefix('#'))
            .expect("a link inside the page");
        assert!(unique.contains(target), "nothing on the page is called {target}");
    }
    for element in select(&page, "[aria-labelledby]") {
        let target = element.value().attr("aria-labelledby").expect("selected by it");
        assert!(unique.contains(target), "nothing on the page is called {target}");
    }
}

/// The attributes that fetch: WHATWG HTML standard, index of attributes, those that hold a URL.
#[test]
fn the_page_fetches_nothing() {
    const FETCHING: [&str; 12] = [
        "src",
        "href",
        "srcset",
        "imagesrcset",
        "poster",
        "data",
        "action",
        "formaction",
        "cite",
        "ping",
        "background",
        "xlink:href",
    ];
    let page = parsed(&sample::edition());
    assert!(select(&page, "link, iframe, object, embed, base, img, meta[http-equiv]").is_empty());
    for element in select(&page, "*") {
        for (name, value) in element.value().attrs() {
            if FETCHING.contains(&name) {
                assert!(value.starts_with('#'), "{name}=\"{value}\" leads outside");
            }
        }
    }
    for code in select(&page, "style, script") {
        let code = text_of(code);
        assert!(!code.contains("http:") && !code.contains("https:") && !code.contains("@import"));
        assert_eq!(code.matches("url(").count(), code.matches("url(data:").count());
    }
}

#[test]
fn every_note_is_called_for_and_every_call_has_its_note() {
    let edition = sample::edition();
    let numbers: BTreeSet<u32> = edition.notes.iter().map(|note| note.number.0).collect();
    assert_eq!(numbers.len(), edition.notes.len());

    let page = parsed(&edition);
    let calls: BTreeSet<u32> = select(&page, "[data-note]")
        .iter()
        .map(|element| {
            element.value().attr("data-note").and_then(|text| text.parse().ok()).expect("a number")
        })
        .collect();
    assert_eq!(calls, numbers);
    let shown: BTreeSet<u32> = select(&page, ".note")
        .iter()
        .filter_map(|element| element.value().id()?.strip_prefix("note-")?.parse().ok())
        .collect();
    assert_eq!(shown, numbers);

    let object = json::object(&edition);
    let mut calls = BTreeSet::new();
    collect_numbers(&object["parts"], "note", &mut calls);
    assert_eq!(calls, numbers);

    let text = plain::text(&edition);
    let (body, notes) = text.split_once("\nNOTES\n").expect("a section of notes");
    let flat = body.split_whitespace().collect::<Vec<_>>().join(" ");
    let called: BTreeSet<u32> =
        flat.split("(note ").skip(1).filter_map(|rest| rest.split(')').next()?.parse().ok()).collect();
    // A reference has a note and no figure; in plain text it is called for by the note itself.
    let references: BTreeSet<u32> = edition
        .parts
        .iter()
        .flat_map(|part| &part.marks)
        .filter(|mark| mark.kind == MarkKind::Reference)
        .filter_map(|mark| mark.note.map(|note| note.0))
        .collect();
    assert_eq!(called, numbers.difference(&references).copied().collect());
    for number in &numbers {
        assert!(notes.contains(&format!("\n{number}. ")), "note {number} is missing");
    }
}

fn collect_numbers(value: &Value, key: &str, found: &mut BTreeSet<u32>) {
    match value {
        Value::Object(fields) => {
            for (name, field) in fields {
                if name == key {
                    found.extend(field.as_u64().and_then(|number| u32::try_from(number).ok()));
                }
                collect_numbers(field, key, found);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| collect_numbers(item, key, found)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn every_caution_stands_before_the_first_ingredient() {
    let edition = sample::edition();
    let ingredient = &edition.parts[0].lines[0].name;
    for text in [html::page(&edition), json::text(&edition), plain::text(&edition)] {
        let first = text.find(ingredient.as_str()).expect("the ingredient is in it");
        assert!(!edition.cautions.is_empty());
        for caution in &edition.cautions {
            let at = text.find(&caution.title).expect("the caution is in it");
            assert!(at < first, "“{}” stands after the first ingredient", caution.title);
        }
    }
}

/// The transcript is never changed: not by marks, not by signs, not by the page.
///
/// Line ends: WHATWG HTML standard, section 13.2.3.5, makes CR LF a LF.
#[test]
fn the_words_on_the_page_are_the_words_as_printed() {
    for edition in [sample::edition(), untidy()] {
        let page = parsed(&edition);
        let shown: Vec<String> = select(&page, ".words").into_iter().map(words_of).collect();
        let printed: Vec<String> =
            edition.parts.iter().map(|part| part.words.replace("\r\n", "\n")).collect();
        assert_eq!(shown, printed);
    }
}

#[test]
fn what_is_doubtful_or_supplied_is_marked_as_such() {
    let edition = sample::edition();
    let page = parsed(&edition);
    let doubtful: Vec<_> =
        edition.parts.iter().flat_map(|part| &part.marks).filter(|mark| !mark.sure).collect();
    assert_eq!(select(&page, ".words .query").len(), doubtful.len());
    let unsure = edition.parts.iter().flat_map(|part| &part.lines).filter(|line| !line.sure).count();
    assert_eq!(select(&page, ".line .query").len(), unsure);
    let plain = plain::text(&edition).split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(plain.matches(" (?)").count(), unsure);
    let supplied = format!("[{}]", edition.supplies[0].supplied);
    assert_eq!(
        select(&page, "ins.supplied").into_iter().map(text_of).collect::<Vec<_>>(),
        [supplied.as_str()]
    );
    assert!(plain.contains(&supplied));
}

#[test]
fn nothing_in_a_recipe_becomes_part_of_the_page() {
    const ATTACK: &str = "</style><script>alert(1)</script><img src=x onerror='a(\"b\")'>&amp;";
    let mut edition = sample::edition();
    let evil = || ATTACK.to_owned();
    edition.title = evil();
    edition.place_name = evil();
    edition.made_with = evil();
    edition.source.title = evil();
    edition.source.author = evil();
    edition.source.edition = evil();
    edition.source.rights = evil();
    for caution in &mut edition.cautions {
        (caution.title, caution.says, caution.ask) = (evil(), evil(), evil());
        caution.words = vec![evil()];
    }
    for part in &mut edition.parts {
        (part.title, part.words, part.referred_by) = (evil(), evil(), evil());
        for line in &mut part.lines {
            (line.name, line.buy, line.rate, line.printed_amount) = (evil(), evil(), evil(), evil());
            match &mut line.amount {
                LineAmount::Reckoned(modern) => {
                    (modern.best, modern.range, modern.household) = (evil(), evil(), evil());
                }
                LineAmount::Vague(text) | LineAmount::Unreckoned(text) => *text = evil(),
                LineAmount::Unstated => {}
            }
        }
        for step in &mut part.steps {
            step.words = evil();
            step.actions = vec![evil()];
            step.cues = vec![evil()];
            for fact in step.times.iter_mut().chain(&mut step.heats) {
                (fact.words, fact.modern) = (evil(), evil());
            }
        }
    }
    for note in &mut edition.notes {
        (note.words, note.assumption) = (evil(), evil());
        note.sentences = vec![evil()];
        note.alternatives = vec![(evil(), 5)];
    }
    for supply in &mut edition.supplies {
        (supply.missing, supply.supplied, supply.why) = (evil(), evil(), evil());
    }
    let page = parsed(&edition);
    assert_eq!(page.errors, NO_ERRORS);
    assert_eq!(select(&page, "script").len(), 1);
    assert_eq!(select(&page, "style").len(), 1);
    assert!(select(&page, "img, [onerror]").is_empty());
    assert_eq!(text_of(select(&page, "h1")[0]), ATTACK);
    assert_eq!(words_of(select(&page, ".words")[0]), ATTACK);
}

#[test]
fn the_same_edition_gives_the_same_bytes() {
    for press in [html::page, json::text, plain::text] {
        assert_eq!(press(&sample::edition()), press(&sample::edition()));
    }
    assert_eq!(json::object(&sample::edition()), json::object(&sample::edition()));
}

/// WCAG 2.2, success criteria 1.3.1, 2.4.6 and 3.1.1, and technique G141: one main heading, no level
/// skipped, landmarks, and a language.
#[test]
fn headings_and_landmarks_are_in_order() {
    let page = parsed(&sample::edition());
    let levels: Vec<u32> = select(&page, "h1, h2, h3, h4, h5, h6")
        .iter()
        .filter_map(|heading| heading.value().name().strip_prefix('h')?.parse().ok())
        .collect();
    assert_eq!(levels.first(), Some(&1));
    assert_eq!(levels.iter().filter(|&&level| level == 1).count(), 1);
    assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "a level is skipped in {levels:?}");
    for landmark in ["html[lang='en-GB']", "body > header", "body > main", "body > footer"] {
        assert_eq!(select(&page, landmark).len(), 1, "{landmark}");
    }
}

/// WAI-ARIA 1.2, role `img`: an accessible name is required.
#[test]
fn every_drawing_can_be_read_aloud() {
    let edition = sample::edition();
    let page = parsed(&edition);
    let ranges = edition
        .parts
        .iter()
        .flat_map(|part| &part.lines)
        .filter(|line| matches!(&line.amount, LineAmount::Reckoned(modern) if !modern.range.is_empty()));
    let labels: Vec<&str> = select(&page, "svg[role='img']")
        .iter()
        .map(|drawing| drawing.value().attr("aria-label").expect("a name"))
        .collect();
    assert_eq!(labels.len(), ranges.count());
    assert_eq!(labels[0], "from 220 to 250 ml, best 235 ml");
    assert_eq!(labels.len(), select(&page, "svg").len());
}

fn channel(hex: &str, at: usize) -> f64 {
    f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("two hexadecimal digits"))
}

fn colour(hex: &str) -> [f64; 3] {
    [channel(hex, 1), channel(hex, 3), channel(hex, 5)]
}

fn mixed(share: f64, one: [f64; 3], other: [f64; 3]) -> [f64; 3] {
    [0, 1, 2].map(|n| share * one[n] + (1.0 - share) * other[n])
}

/// WCAG 2.2, definition of relative luminance.
fn luminance(colour: [f64; 3]) -> f64 {
    let [red, green, blue] = colour.map(|value| {
        let value = value / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// WCAG 2.2, definition of contrast ratio.
fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1, in both palettes, also where things light up.
#[test]
fn ink_and_pencil_can_be_read_on_paper() {
    // The mixes below are those of the style sheet; black on white gives 21 by definition.
    assert!((contrast([0.0; 3], [255.0; 3]) - 21.0).abs() < 1e-9);
    let style = include_str!("../templates/style.css");
    let role = |from: &str, name: &str| {
        let at = from.find(&format!("{name}: #")).expect("the role has a colour") + name.len() + 2;
        colour(&from[at..at + 7])
    };
    let dark_at = style.find("prefers-color-scheme: dark").expect("a dark palette");
    for (palette, quiet, lit) in [(style, 0.74, 0.17), (&style[dark_at..], 0.74, 0.24)] {
        let [paper, ink, pencil] = ["--paper", "--ink", "--pencil"].map(|name| role(palette, name));
        let (quiet, lit) = (mixed(quiet, ink, paper), mixed(lit, pencil, paper));
        for front in [ink, pencil, quiet] {
            for back in [paper, lit] {
                assert!(contrast(front, back) >= 4.5, "{front:?} on {back:?}: {:.2}", contrast(front, back));
            }
        }
    }
}

#[test]
fn plain_lines_are_at_most_72_characters() {
    for edition in [sample::edition(), untidy()] {
        for line in plain::text(&edition).lines() {
            assert!(line.chars().count() <= 72, "{line}");
            assert_eq!(line.trim_end(), line);
        }
    }
}

#[test]
fn json_figures_are_in_order_and_spans_lie_in_the_words() {
    let edition = sample::edition();
    let object = json::object(&edition);
    let mut n_figures = 0;
    for (part, tree) in object["parts"].as_array().expect("a list").iter().zip(&edition.parts) {
        for line in part["lines"].as_array().expect("a list") {
            let at = |key| usize::try_from(line["span"][key].as_u64().expect("a number")).expect("small");
            assert_eq!(line["words"].as_str(), tree.words.get(at("start")..at("end")));
            if line["amount"]["kind"] == "reckoned" {
                let figure = &line["amount"]["figure"];
                let [low, best, high] =
                    ["low", "best", "high"].map(|key| figure[key].as_f64().expect("a number"));
                assert!(low <= best && best <= high);
                assert!(["g", "ml", "count"].contains(&figure["unit"].as_str().expect("text")));
                assert!(!figure["cause"].as_str().expect("text").is_empty());
                n_figures += 1;
            }
        }
    }
    assert_eq!(n_figures, 7);
}

/// RFC 8259: the text is JSON, and says what the object says.
#[test]
fn json_text_and_object_are_one() {
    let edition = sample::edition();
    let text = json::text(&edition);
    assert!(text.ends_with("}\n"));
    assert_eq!(serde_json::from_str::<Value>(&text).expect("JSON"), json::object(&edition));
}

#[test]
fn json_objects_of_one_kind_have_the_same_keys() {
    let object = json::object(&sample::edition());
    let mut keys: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let lists = object.as_object().expect("an object").iter();
    let inner =
        object["parts"].as_array().expect("a list").iter().flat_map(|part| part.as_object().expect("one"));
    for (name, list) in lists.chain(inner).filter(|(_, value)| value.is_array()) {
        for item in list.as_array().expect("a list") {
            let found: BTreeSet<String> = item.as_object().expect("an object").keys().cloned().collect();
            assert_eq!(keys.entry(name.clone()).or_insert_with(|| found.clone()), &found, "in {name}");
        }
    }
    assert_eq!(keys.len(), 13);
}

/// W3C WOFF File Format 2.0, section 4.1: the signature of a font file.
#[test]
fn faces_are_woff2_and_small() {
    let style = text_of(select(&parsed(&sample::edition()), "style")[0]);
    let faces: Vec<&str> = style.split("base64,").skip(1).filter_map(|rest| rest.split(')').next()).collect();
    assert_eq!(faces.len(), 4);
    // "d09GMg" is base 64 of the four signs wOF2 and two bits of the next.
    assert!(faces.iter().all(|face| face.starts_with("d09GM")));
    assert!(faces.iter().map(|face| face.len() * 3 / 4).sum::<usize>() < 200_000);
}
