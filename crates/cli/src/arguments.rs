//! What can be asked of the program. Help, man page and completions all follow from this file.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

const EXAMPLES: &str = "\
Examples:
  quartern read recipe.txt --year 1861 --place england
  quartern edition recipe.txt --year 1861 --place england --out editions
  quartern explain \"a gill\" --year 1750 --place northumberland

Exit codes:
  0   all is done
  1   something could not be read, or a term is not known
  2   the command was not given as it should be
  3   the output could not be written
  70  a fault of the program; please report it

Colour is used only on a terminal, and never when NO_COLOR is set.";

const READ_EXAMPLES: &str = "\
Examples:
  quartern read recipe.txt --year 1861 --place england
      Shows the words with what was read in them, then the modern amounts.
  quartern read recipe.txt --source book.toml
      Takes year, place and title from a file about the book.
  quartern read --year 1796 --place london < recipe.txt
      Reads the recipe from standard input.
  quartern read recipe.txt --year 1861 --place england --format json
      Writes the same as one JSON object.
  quartern read --jsonl < recipes.jsonl > readings.jsonl
      Reads many recipes, one JSON object a line, and answers each with a line in the same order.";

const EDITION_EXAMPLES: &str = "\
Examples:
  quartern edition ox-tails.txt --year 1861 --place england --out editions
      Writes editions/<title>.html, .json and .txt.
  quartern edition plate.txt paste.txt --source book.toml --out editions
      The first file is the recipe; the others are at hand for what it refers to.
  quartern edition recipes/*.txt --each --source book.toml --out editions
      Writes an edition of every file, each with the others at hand.
  quartern edition plate.txt --source book.toml --decisions plate.decisions.toml --out editions
      Follows the decisions of an editor, and prints them with their reasons.";

const EXPLAIN_EXAMPLES: &str = "\
Examples:
  quartern explain \"a gill\" --year 1750 --place northumberland
  quartern explain teacup --year 1861 --place england
  quartern explain \"slack oven\" --year 1796 --place england
  quartern explain saleratus --year 1857 --place us
  quartern explain R002
      Says what a notice means and what to do about it.";

const SHELL_EXAMPLES: &str = "\
Example:
  quartern completions bash > ~/.local/share/bash-completion/completions/quartern";

const MAN_EXAMPLES: &str = "\
Examples:
  quartern man > quartern.1
  quartern man read > quartern-read.1";

/// Reads old recipes, reckons modern amounts with honest ranges, and makes editions in which every
/// figure says why.
#[derive(Debug, Parser)]
#[command(name = "quartern", version, max_term_width = 100, after_help = EXAMPLES, disable_help_subcommand = true)]
pub(crate) struct Arguments {
    /// What is to be done.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// What is to be done.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Shows what was read in a recipe, and what it comes to today.
    #[command(after_help = READ_EXAMPLES)]
    Read(Read),
    /// Writes an edition: the page as it was beside the modern recipe.
    #[command(after_help = EDITION_EXAMPLES)]
    Edition(Edition),
    /// Says what a measure, an oven word, an old term or a notice means.
    #[command(after_help = EXPLAIN_EXAMPLES)]
    Explain(Explain),
    /// Prints what a shell needs to complete this program's commands.
    #[command(after_help = SHELL_EXAMPLES)]
    Completions(Completions),
    /// Prints the man page.
    #[command(after_help = MAN_EXAMPLES)]
    Man(Man),
}

/// When and where the words were written: what their measures mean hangs on it.
#[derive(Clone, Debug, Default, Args)]
pub(crate) struct WhenWhere {
    /// The year the words were written in; with --year-last the first of several.
    #[arg(long, value_name = "YEAR", allow_hyphen_values = true)]
    pub(crate) year: Option<String>,
    /// The last year, where only a stretch of years is known.
    #[arg(long, value_name = "YEAR", allow_hyphen_values = true)]
    pub(crate) year_last: Option<String>,
    /// The place whose measures the words mean: a country, county, state or town.
    #[arg(long, value_name = "PLACE")]
    pub(crate) place: Option<String>,
}

/// Arguments of `quartern read`.
#[derive(Debug, Args)]
pub(crate) struct Read {
    /// The recipe, as plain text in UTF-8; standard input if there is none, or it is `-`.
    pub(crate) file: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) when_where: WhenWhere,
    /// A file about the book: title, author, years, place (see the guide).
    #[arg(long, value_name = "FILE", conflicts_with = "jsonl")]
    pub(crate) source: Option<PathBuf>,
    /// The heading of the recipe, if the words don't begin with it.
    #[arg(long, value_name = "HEADING", conflicts_with = "jsonl")]
    pub(crate) title: Option<String>,
    /// How to show it.
    #[arg(long, value_enum, default_value_t = Format::Table, conflicts_with = "jsonl")]
    pub(crate) format: Format,
    /// Read JSON Lines (`id`, `text`, and any of `title`, `year`, `year_first`, `year_last`,
    /// `region`) and answer each line with a line. --year and --place stand in where a line lacks
    /// them; without either it is taken as any year from 1650 to 1920 in the United Kingdom.
    #[arg(long)]
    pub(crate) jsonl: bool,
}

/// How to show a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people.
    Table,
    /// For other programs: one JSON object.
    Json,
}

/// Arguments of `quartern edition`.
#[derive(Debug, Args)]
pub(crate) struct Edition {
    /// The recipe, then any recipes it may refer to.
    #[arg(required = true, value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) when_where: WhenWhere,
    /// A file about the book: title, author, years, place (see the guide).
    #[arg(long, value_name = "FILE")]
    pub(crate) source: Option<PathBuf>,
    /// A file of an editor's decisions, each with its reason (see the guide).
    #[arg(long, value_name = "FILE")]
    pub(crate) decisions: Option<PathBuf>,
    /// Write an edition of every file, each with the others at hand.
    #[arg(long)]
    pub(crate) each: bool,
    /// The folder to write in; it is made if it is not there.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
}

/// Arguments of `quartern explain`.
#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// The term, or the code of a notice.
    #[arg(required = true, value_name = "TERM")]
    pub(crate) term: Vec<String>,
    #[command(flatten)]
    pub(crate) when_where: WhenWhere,
}

/// Arguments of `quartern completions`.
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell.
    #[arg(value_enum)]
    pub(crate) shell: Shell,
}

/// Arguments of `quartern man`.
#[derive(Debug, Args)]
pub(crate) struct Man {
    /// The command whose page is wanted; the program's own page without it.
    #[arg(value_parser = ["read", "edition", "explain", "completions", "man"])]
    pub(crate) command: Option<String>,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_arguments_agree_with_each_other_and_every_command_has_examples() {
        let mut command = super::Arguments::command();
        command.build();
        command.clone().debug_assert();
        for part in command.get_subcommands() {
            let examples = part.get_after_help().map(ToString::to_string).unwrap_or_default();
            assert!(examples.contains("quartern "), "{} has no example", part.get_name());
        }
    }
}
