//! The disk: reading recipes out of files, and writing editions into a folder.
//!
//! Input is guarded before it is believed (length, encoding, is it text at all), and output is
//! written whole or not at all. This crate decides nothing about recipes, and formats nothing.

mod error;
mod input;
mod output;

pub use error::Error;
pub use input::{read_file, read_stream};
pub use output::{NewFile, write_all};
