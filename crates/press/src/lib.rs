//! Prints an edition: one module a format, each a pure function over [`quartern_edition::Edition`].
//!
//! Every module walks the same tree and writes the same content: [`html`] one page that stands
//! alone, [`json`] the tree for other programs, [`plain`] words for a letter or a terminal. Nothing
//! here reckons or rounds a figure, opens a file, or asks the clock: same edition, same bytes.

pub mod html;
pub mod json;
pub mod plain;

mod words;

#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;
