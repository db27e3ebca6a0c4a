//! Notices: things about the words or the figures that an editor should look at.
//!
//! A notice stops nothing. Hazards are not notices but cautions (`quartern-edition`), and trouble
//! with a file or a disk is an error. This crate knows no terminal and no page.

use quartern_text::Span;

/// How much a notice matters. Fixed by the code of the notice, never by the place that raises it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing.
    Hint,
    /// Look at this before relying on the figures.
    Doubt,
}

macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $code:literal, $severity:ident, $title:literal, $help:literal;)+) => {
        /// What a notice is about. Codes are never used again for something else.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code { $($(#[doc = $doc])+ $name),+ }

        impl Code {
            /// All codes, in the order of their numbers.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Returns the code as people see it: the letter of the room and three digits.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$name => $code),+ }
            }

            /// Returns how much it matters.
            #[must_use]
            pub fn severity(self) -> Severity {
                match self { $(Self::$name => Severity::$severity),+ }
            }

            /// Returns a short title.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title),+ }
            }

            /// Returns why it matters in the kitchen, and what to do.
            #[must_use]
            pub fn explanation(self) -> &'static str {
                match self { $(Self::$name => $help),+ }
            }
        }
    };
}

codes! {
    /// An amount stands in the words but could not be read.
    UnreadAmount = "R001", Doubt, "amount not read",
        "An amount stands here that the program could not read. It is shown as unread and nothing is reckoned from it. Read the words yourself and give the amount in the notes of the edition.";
    /// The reader found something but is not sure of it.
    UnsureItem = "R002", Hint, "not sure of this item",
        "The words were read by a rule that is sometimes wrong, or name something that is not in the register of ingredients. Compare the words with what was read.";
    /// A pointer to another recipe that was not among the recipes given.
    MissingReference = "R003", Doubt, "the recipe referred to is not at hand",
        "The recipe sends the cook to another recipe. It was not among the files given, so what it adds is missing from the figures. Give that recipe as well.";
    /// Several recipes answer to the title referred to.
    SeveralReferences = "R004", Doubt, "several recipes answer to this reference",
        "More than one of the recipes given could be meant. None was taken. Name the one you mean by giving only that one.";
    /// Recipes refer to each other in a ring.
    CircularReference = "R005", Doubt, "the recipes refer to each other",
        "Following the references comes back to the same recipe. The ring was cut here.";
    /// No words of an ingredient were found.
    NothingRead = "R006", Doubt, "no ingredient was read",
        "No ingredient was found in these words. Is it a recipe, and one recipe only?";
    /// A decision of the editor fits nothing in the recipe any more.
    UnfittingDecision = "D001", Doubt, "a decision fits nothing here",
        "The decision names words, a measure or a gap that this recipe does not have. It changed nothing. Correct it or take it back.";
    /// A measure word has several sizes at this place and time.
    SeveralMeasures = "K001", Hint, "the measure can be read several ways",
        "At this place and time the word meant more than one size. The likeliest was taken and the range covers it; the others are listed with their weights.";
    /// A measure word has no size on record for this place and time.
    UnknownMeasure = "K002", Doubt, "no size on record for this measure here and then",
        "The register of measures has no record of this word for the place and years of the source, so nothing was reckoned from it.";
    /// A volume could not be turned to weight.
    UnknownDensity = "K003", Hint, "no weight on record for this ingredient by measure",
        "The register has no density for this ingredient, so the figure stays a volume.";
    /// The years lie outside those the registers are made for.
    YearsOutOfReach = "K004", Doubt, "the registers are made for about 1650 to 1920",
        "Measures, ingredients, ovens and eggs are recorded for about 1650 to 1920. For other years the records without a date are taken as they stand, and may be wrong. Check each figure against a source of its own time.";
    /// Something the cook needs is not said.
    Gap = "G001", Doubt, "the source leaves this unsaid",
        "A recipe of this kind needs this and the words do not give it. What is supplied for it stands in [square brackets] with its own source; what has no supply stays open.";
}

/// Something about the words or figures that an editor should look at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// What kind of thing it is.
    pub code: Code,
    /// The words it is about, if any.
    pub span: Option<Span>,
    /// One short sentence that stands alone.
    pub message: String,
}

/// A value with everything noticed on the way to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Noticed<T> {
    /// The value; there always is one.
    pub value: T,
    /// All notices, in the order of the words.
    pub notices: Vec<Notice>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_unique_and_explained() {
        let mut seen = std::collections::BTreeSet::new();
        for code in Code::ALL {
            assert!(seen.insert(code.as_str()), "{} stands twice", code.as_str());
            assert!(code.explanation().len() > 40 && code.explanation().ends_with(['.', '?']));
        }
    }
}
