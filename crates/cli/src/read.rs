//! `quartern read`: one recipe, for people or as one JSON object.

use std::io::{IsTerminal, Write};
use std::path::Path;

use quartern_text::Span;

use crate::arguments::{Format, Read};
use crate::layout::Screen;
use crate::source::{given, source};
use crate::trouble::{Trouble, print};
use crate::{VERSION, show};

/// Shows one recipe.
pub(crate) fn run(wanted: &Read) -> Result<(), Trouble> {
    let told = source(&wanted.when_where, wanted.source.as_deref())?;
    let (words, name) = words(wanted.file.as_deref())?;
    let title = wanted.title.clone().or(told.title);
    let given = given(words, title, &told.source, &name)?;
    match wanted.format {
        Format::Json => {
            let worked = quartern_workbench::work(&given, &[]);
            let object = quartern_workbench::full_object(&given, &worked);
            let mut text = serde_json::to_string_pretty(&object).map_err(|_| Trouble::OurFault)?;
            text.push('\n');
            print(&text)
        }
        Format::Table => {
            let edition = quartern_workbench::edition(std::slice::from_ref(&given), &[], VERSION);
            let reading = quartern_reading::read(given.transcript.as_str(), given.title.as_deref()).value;
            let unread: Vec<Span> = reading
                .items
                .iter()
                .filter(|item| matches!(item.amount, quartern_reading::Amount::Unread(_)))
                .map(|item| item.span)
                .collect();
            print(&show::edition(&edition, &unread, Screen::of_standard_output()))
        }
    }
}

/// Returns the words in a file or on standard input, and what to call it in an error.
pub(crate) fn words(path: Option<&Path>) -> Result<(String, String), Trouble> {
    match path {
        Some(path) if path.as_os_str() != "-" => {
            Ok((quartern_store::read_file(path)?, path.display().to_string()))
        }
        _ => {
            let input = std::io::stdin();
            if input.is_terminal() {
                let hint = "quartern: paste the words of the recipe, then press Ctrl-D on a line of its own";
                let _ = writeln!(std::io::stderr(), "{hint}");
            }
            let name = "the input";
            Ok((quartern_store::read_stream(input.lock(), name)?, name.to_owned()))
        }
    }
}
