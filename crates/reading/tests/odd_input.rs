//! The reader on what no printer ever set: it must come through, quickly, with spans that hold.

use proptest::prelude::*;
use quartern_reading::{Reading, read};

fn spans(reading: &Reading) -> Vec<quartern_text::Span> {
    let mut spans = Vec::new();
    spans.extend(reading.title);
    for item in &reading.items {
        spans.extend([item.span, item.name_span]);
    }
    spans.extend(reading.steps.iter().map(|step| step.span));
    spans.extend(reading.durations.iter().map(|duration| duration.span));
    spans.extend(reading.heats.iter().map(|heat| heat.span));
    spans.extend(reading.cues.iter().map(|cue| cue.span));
    spans.extend(reading.references.iter().map(|reference| reference.span));
    spans.extend(reading.yields.iter().map(|line| line.span));
    spans
}

fn check(text: &str) {
    let reading = read(text, None).value;
    for span in spans(&reading) {
        assert!(
            text.get(span.start()..span.end()).is_some_and(|words| !words.is_empty()),
            "{span:?} is no stretch of {text:?}"
        );
    }
    for pair in reading.items.windows(2) {
        assert!(
            pair[0].name_span.start() <= pair[1].name_span.start(),
            "items run in the order of the words"
        );
    }
}

/// Pieces that period recipes are made of, and some that they are not.
fn pieces() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        Just("a pound of sugar"),
        Just("half a pint of cream,"),
        Just("six eggs"),
        Just("the yolks of four"),
        Just("to every"),
        Just("pound"),
        Just("of each"),
        Just("as much"),
        Just("the same of"),
        Just("till it be"),
        Just("No. 12"),
        Just("see page"),
        Just("1-1/2"),
        Just("½"),
        Just("3¹⁄₂"),
        Just("999999999999"),
        Just("["),
        Just("]"),
        Just("("),
        Just("\n\n"),
        Just("\n"),
        Just("-"),
        Just("—"),
        Just("ſugar"),
        Just("œufs"),
        Just("•••"),
        Just("שלום"),
        Just("مرحبا"),
        Just("🍰"),
        Just("\u{301}"),
        Just("do."),
        Just("a couple of"),
        Just("or two"),
        Just("&c."),
        Just("as big as a"),
        Just("walnut"),
        Just("’"),
        Just("\u{a0}"),
        Just("an hour and a half"),
        Just("in a slow oven"),
        Just("Sufficient for"),
        Just("persons"),
        Just("and"),
        Just("a"),
    ];
    proptest::collection::vec(piece, 0..40).prop_map(|pieces| pieces.join(" "))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read(text in any::<String>()) {
        check(&text);
    }

    #[test]
    fn any_pieces_are_read(text in pieces()) {
        check(&text);
    }

    #[test]
    fn reading_twice_is_the_same(text in pieces()) {
        prop_assert_eq!(read(&text, None), read(&text, None));
    }
}

#[test]
fn long_and_odd_texts_are_read() {
    // A reader whose cost grew with the square of the length would all but stand still
    // here: each is some two hundred kilobytes, the length of a small book.
    for piece in [
        "a pound of sugar and ",
        "1 ",
        "((((",
        "of each ",
        "to every pound of flour ",
        "to every pound ",
        "sugar ",
        "butter, ",
        "the same of ",
        "as much milk, ",
        "half the sugar ",
        "or ",
        "a-",
        "½",
        "\n",
        "and a half ",
        "No. 12, 13, ",
        "one of honey ",
        "do. ",
        "till ",
    ] {
        check(&piece.repeat(200_000 / piece.len()));
    }
}
