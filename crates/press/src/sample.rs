//! An invented recipe that uses everything an edition can hold. For tests only.

use quartern_edition::{
    Authority, Caution, DecisionLine, Edition, EditorNotice, Fact, GapKind, Gloss, Gravity, Line, LineAmount,
    Mark, MarkKind, ModernAmount, Note, NoteNumber, Part, Step, Supply, YieldLine, kitchen,
};
use quartern_quantity::{Cause, Count, Figure, Mass, Quantity, Volume};
use quartern_text::{PlaceId, Source, Span, Transcript, Within, YearRange};

const CAKE: &str = "A GOOD SEED-CAKE the Lodge Way.\n\
    Take half a pint of thick cream, and a pound and a quarter of fine\n\
    flour well dried; the yolks of six or seven eggs; a tea-cupful of\n\
    loaf sugar beat and sifted, a little rose-water, and carraway feeds\n\
    if you like them. To every pound of flour put a spoonful of good\n\
    yeast; mace to your taste. Add as much of the sirup as before\n\
    directed, & a Flemish kit of barm if it be a cold day.\n\
    \n\
    Mix all together and let it stand by the fire half an hour to rise. Butter your hoop, and bake it \
    in a slow oven till it be of a fine gold colour. It will serve six or seven persons.\n";

const SYRUP: &str = "To make the Sirup of Quinces.\n\
    Take a quart of the juice, and two pounds of sugar; boil it gently\n\
    over a clear fire till it will hang from the spoon.\n";

const FLOUR: &str = "Plain <b>flour</b>";

fn span(words: &str, part: &str) -> Span {
    let start = words.find(part).expect("the part stands in the words");
    Span::new(start as u32, (start + part.len()) as u32)
}

fn volume(low: f64, best: f64, high: f64, cause: Cause) -> Figure {
    let ml = Volume::from_millilitres;
    Figure::Volume(Quantity::new(ml(low), ml(best), ml(high), cause).expect("in order"))
}

fn mass(low: f64, best: f64, high: f64, cause: Cause) -> Figure {
    let g = Mass::from_grams;
    Figure::Mass(Quantity::new(g(low), g(best), g(high), cause).expect("in order"))
}

fn things(low: f64, best: f64, high: f64) -> Figure {
    let n = Count::from_things;
    Figure::Count(Quantity::new(n(low), n(best), n(high), Cause::Printed).expect("in order"))
}

fn reckoned(figure: Figure, household: &str) -> LineAmount {
    LineAmount::Reckoned(ModernAmount {
        figure,
        best: kitchen::best(figure),
        range: kitchen::range(figure),
        household: household.to_owned(),
    })
}

/// A part while it is put together: each addition makes its mark and its note.
struct Writer {
    part: usize,
    words: &'static str,
    marks: Vec<Mark>,
    lines: Vec<Line>,
    notes: Vec<Note>,
    first: u32,
}

impl Writer {
    fn note(&mut self, words: &str, kind: MarkKind, sure: bool, sentences: &[&str]) -> NoteNumber {
        let number = NoteNumber(self.first + self.notes.len() as u32);
        let span = span(self.words, words);
        self.marks.push(Mark { span, kind, note: Some(number), sure });
        self.notes.push(Note {
            number,
            part: self.part,
            span,
            words: words.to_owned(),
            sentences: sentences.iter().map(ToString::to_string).collect(),
            assumption: String::new(),
            alternatives: Vec::new(),
            authorities: Vec::new(),
        });
        number
    }

    fn line(
        &mut self,
        words: &str,
        printed: &str,
        name: &str,
        amount: LineAmount,
        sentences: &[&str],
    ) -> &mut Line {
        let note = self.note(words, MarkKind::Item, true, sentences);
        self.lines.push(Line {
            span: span(self.words, words),
            words: words.to_owned(),
            printed_amount: printed.to_owned(),
            name: name.to_owned(),
            buy: String::new(),
            amount,
            rate: String::new(),
            optional: false,
            sure: true,
            note,
        });
        self.lines.last_mut().expect("just put in")
    }

    fn last_note(&mut self) -> &mut Note {
        self.notes.last_mut().expect("a note was written")
    }
}

fn step(number: u32, part: &str, words: &str, actions: &[&str], uses: &[usize]) -> Step {
    Step {
        number,
        span: span(part, words),
        words: words.replace('\n', " "),
        actions: actions.iter().map(ToString::to_string).collect(),
        uses: uses.to_vec(),
        times: Vec::new(),
        heats: Vec::new(),
        cues: Vec::new(),
    }
}

fn cake() -> (Part, Vec<Note>) {
    let mut w =
        Writer { part: 0, words: CAKE, marks: Vec::new(), lines: Vec::new(), notes: Vec::new(), first: 1 };
    w.line(
        "half a pint of thick cream",
        "half a pint",
        "double cream",
        reckoned(volume(220.0, 236.6, 250.0, Cause::Measure), "just under a 240 ml cup"),
        &[
            "Half a pint was read as half of the wine pint, an eighth of the gallon of 231 cubic inches.",
            "The measure stands in the register of measures for England before 1826.",
        ],
    )
    .buy = "double cream, 48 % fat".to_owned();
    w.last_note().authorities = vec![0];
    w.last_note().assumption = "A liquid, so the wine measure and not the ale measure".to_owned();
    w.last_note().alternatives =
        vec![("half an ale pint, 288 ml".to_owned(), 12), ("half an imperial pint, 284 ml".to_owned(), 3)];
    w.line(
        "a pound and a quarter of fine\nflour",
        "a pound and a quarter",
        FLOUR,
        reckoned(mass(567.0, 567.0, 567.0, Cause::Exact), ""),
        &["A pound avoirdupois is 453.6 g, by definition."],
    );
    w.last_note().authorities = vec![1];
    w.line(
        "the yolks of six or seven eggs",
        "six or seven",
        "egg yolk",
        reckoned(things(6.0, 6.5, 7.0), "about 110 g"),
        &["The source prints six or seven; the middle is taken."],
    );
    w.line(
        "a tea-cupful of\nloaf sugar",
        "a tea-cupful",
        "loaf sugar, powdered",
        reckoned(mass(101.0, 122.0, 146.0, Cause::MeasureAndGoods), ""),
        &[
            "A tea-cup held between a gill and a third of a pint.",
            "Sifted sugar weighs 0.80 to 0.90 g a millilitre.",
            "Common practice, no source.",
        ],
    )
    .buy = "caster sugar".to_owned();
    w.last_note().authorities = vec![2];
    w.line(
        "a little rose-water",
        "a little",
        "rose-water",
        LineAmount::Vague("a little".to_owned()),
        &["The words give no number, and none is supplied."],
    );
    let seeds = w.line(
        "carraway feeds",
        "",
        "caraway seed",
        LineAmount::Unstated,
        &["No amount stands in the words."],
    );
    seeds.optional = true;
    seeds.sure = false;
    if let Some(mark) = w.marks.last_mut() {
        mark.sure = false;
    }
    w.line(
        "a spoonful of good\nyeast",
        "a spoonful",
        "fresh liquid yeast",
        reckoned(volume(12.0, 15.0, 22.0, Cause::Readings), ""),
        &["A spoonful without another word is a table-spoonful, between 12 and 22 ml."],
    )
    .rate = "To every pound of flour".to_owned();
    w.line("mace to your taste", "", "mace", LineAmount::Unstated, &["No amount stands in the words."]);
    w.note(
        "as before\ndirected",
        MarkKind::Reference,
        true,
        &["The words point to the Sirup of Quinces, printed after this recipe."],
    );
    w.line(
        "a Flemish kit of barm",
        "a Flemish kit",
        "barm",
        LineAmount::Unreckoned("No measure called a kit is known for England in these years".to_owned()),
        &["No measure of this name stands in the register for this place and time."],
    )
    .sure = false;
    let rising = w.note("half an hour", MarkKind::Time, true, &["Half an hour is 30 minutes."]);
    let baking = w.note(
        "a slow oven",
        MarkKind::Heat,
        false,
        &["A slow oven is one in which paper turns yellow in five minutes.", "Common practice, no source."],
    );
    w.last_note().authorities = vec![2];
    let colour = Mark {
        span: span(CAKE, "till it be of a fine gold colour"),
        kind: MarkKind::Cue,
        note: None,
        sure: true,
    };
    let persons =
        Mark { span: span(CAKE, "six or seven persons"), kind: MarkKind::Yield, note: None, sure: true };
    w.marks.extend([colour, persons]);
    let mut rise = step(
        1,
        CAKE,
        "Mix all together and let it stand by the fire half an hour to rise.",
        &["mix", "stand"],
        &[0, 1, 2, 3, 4, 5, 6],
    );
    rise.times.push(Fact { words: "half an hour".to_owned(), modern: "30 minutes".to_owned(), note: rising });
    let mut bake = step(
        2,
        CAKE,
        "Butter your hoop, and bake it in a slow oven till it be of a fine gold colour.",
        &["butter", "bake"],
        &[],
    );
    bake.heats.push(Fact {
        words: "a slow oven".to_owned(),
        modern: "about 150 °C (130–165 °C)".to_owned(),
        note: baking,
    });
    bake.cues.push("till it be of a fine gold colour".to_owned());
    let transcript = Transcript::new(CAKE).expect("words").id();
    let part = Part {
        title: "A GOOD SEED-CAKE the Lodge Way.".to_owned(),
        referred_by: String::new(),
        transcript,
        words: CAKE.to_owned(),
        marks: w.marks,
        lines: w.lines,
        steps: vec![rise, bake],
        yields: vec![YieldLine {
            span: span(CAKE, "six or seven persons"),
            words: "It will serve six or seven persons".to_owned(),
            modern: "6–7 persons".to_owned(),
        }],
    };
    (part, w.notes)
}

fn syrup(first: u32) -> (Part, Vec<Note>) {
    let mut w =
        Writer { part: 1, words: SYRUP, marks: Vec::new(), lines: Vec::new(), notes: Vec::new(), first };
    w.line(
        "a quart of the juice",
        "a quart",
        "quince juice",
        reckoned(volume(880.0, 946.4, 1000.0, Cause::Measure), ""),
        &["A quart was read as a quarter of the wine gallon of 231 cubic inches."],
    );
    w.last_note().authorities = vec![0];
    w.line(
        "two pounds of sugar",
        "two pounds",
        "sugar",
        reckoned(mass(907.2, 907.2, 907.2, Cause::Exact), ""),
        &["A pound avoirdupois is 453.6 g, by definition."],
    );
    w.last_note().authorities = vec![1];
    let heat = w.note(
        "over a clear fire",
        MarkKind::Heat,
        true,
        &["A clear fire is one that burns without smoke: a strong, steady heat."],
    );
    w.last_note().authorities = vec![2];
    w.marks.push(Mark {
        span: span(SYRUP, "till it will hang from the spoon"),
        kind: MarkKind::Cue,
        note: None,
        sure: true,
    });
    let mut boil = step(
        1,
        SYRUP,
        "boil it gently\nover a clear fire till it will hang from the spoon.",
        &["boil"],
        &[0, 1],
    );
    boil.heats.push(Fact { words: "over a clear fire".to_owned(), modern: String::new(), note: heat });
    boil.cues.push("till it will hang from the spoon".to_owned());
    let part = Part {
        title: "To make the Sirup of Quinces.".to_owned(),
        referred_by: "as before directed".to_owned(),
        transcript: Transcript::new(SYRUP).expect("words").id(),
        words: SYRUP.to_owned(),
        marks: w.marks,
        lines: w.lines,
        steps: vec![boil],
        yields: Vec::new(),
    };
    (part, w.notes)
}

fn within(first: i64, last: i64, place: &'static str) -> Within {
    Within {
        years: YearRange::new(first, last).expect("years in order"),
        place: PlaceId::from_register(place),
    }
}

/// Returns an invented edition with a range, an exact figure, a rate, an optional, a vague, an
/// unstated and an unreckoned amount, alternatives, supplies, glosses, cautions and two parts.
///
/// One ingredient and one caution hold HTML signs on purpose.
pub(crate) fn edition() -> Edition {
    let (cake, mut notes) = cake();
    let (syrup, more) = syrup(notes.len() as u32 + 1);
    notes.extend(more);
    Edition {
        title: "A Good Seed-Cake the Lodge Way".to_owned(),
        source: Source {
            title: "The Invented Housekeeper".to_owned(),
            author: "Mrs. A. Nonesuch".to_owned(),
            written: within(1790, 1799, "england"),
            printed: Some(within(1803, 1803, "united-states")),
            edition: "an invented book, made for this example, leaf 12".to_owned(),
            rights: "Invented for testing; may be reprinted freely.".to_owned(),
        },
        place_name: "England".to_owned(),
        cautions: vec![
            Caution {
                id: "example-grave".to_owned(),
                title: "An invented grave hazard".to_owned(),
                gravity: Gravity::Grave,
                words: vec!["by the fire".to_owned(), "over a clear fire".to_owned()],
                says: "Said here only to show how a grave caution looks; hot sirup burns deeply".to_owned(),
                do_instead: "Keep children away from the pan & <wear sleeves>".to_owned(),
                ask: "Whoever minds the fire".to_owned(),
                authority: "Common practice, no source".to_owned(),
            },
            Caution {
                id: "example-egg".to_owned(),
                title: "Contains egg, milk and wheat".to_owned(),
                gravity: Gravity::Careful,
                words: vec!["eggs".to_owned(), "cream".to_owned(), "flour".to_owned()],
                says: "Some people must not eat these.".to_owned(),
                do_instead: String::new(),
                ask: "Each guest".to_owned(),
                authority: "Common practice, no source.".to_owned(),
            },
        ],
        allergens: vec![quartern_edition::Allergen {
            name: "egg".to_owned(),
            ingredients: vec!["egg".to_owned(), "egg white".to_owned()],
        }],
        parts: vec![cake, syrup],
        supplies: vec![
            Supply {
                gap: GapKind::Time,
                missing: "No time is given for the baking.".to_owned(),
                supplied: "60–75 minutes, tried with a skewer".to_owned(),
                why: "A cake of this weight in a slow oven; common practice, no source.".to_owned(),
            },
            Supply {
                gap: GapKind::Amount,
                missing: "No amount is given for the mace.".to_owned(),
                supplied: String::new(),
                why: "No comparable recipe is at hand.".to_owned(),
            },
        ],
        glosses: vec![
            Gloss {
                word: "hoop".to_owned(),
                meaning: "a ring of wood or tin without a bottom, set on buttered paper to bake a cake in"
                    .to_owned(),
                authority: "From memory.".to_owned(),
            },
            Gloss {
                word: "barm".to_owned(),
                meaning: "the yeasty froth of working ale.".to_owned(),
                authority: "From memory".to_owned(),
            },
        ],
        notes,
        notices: vec![EditorNotice {
            code: "R002",
            message: "This may be a misprint for “seeds”.".to_owned(),
            words: "carraway feeds".to_owned(),
        }],
        authorities: vec![
            Authority {
                id: "example-gallon".to_owned(),
                citation: "An invented table of measures, for this example".to_owned(),
                seen: "invented".to_owned(),
            },
            Authority {
                id: "example-pound".to_owned(),
                citation: "An invented table of weights, for this example.".to_owned(),
                seen: "invented".to_owned(),
            },
            Authority {
                id: String::new(),
                citation: "Common practice, no source.".to_owned(),
                seen: String::new(),
            },
        ],
        decisions: vec![DecisionLine {
            decided: "Take the pint as the wine pint".to_owned(),
            reason: "The book prints its table of measures so".to_owned(),
        }],
        made_with: "quartern 0.0.0".to_owned(),
    }
}
