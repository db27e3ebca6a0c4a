//! Rows of CSV files and tables of TOML files, each knowing where it stands.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::Faults;

/// Parts a cell at ` | `.
pub(crate) fn list(cell: &str) -> Vec<String> {
    cell.split('|').map(str::trim).filter(|part| !part.is_empty()).map(str::to_owned).collect()
}

/// One row of a CSV file.
pub(crate) struct Row {
    file: String,
    line: u64,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// Reads a whole file; a missing file is a fault.
    pub(crate) fn file(path: &Path, faults: &mut Faults) -> Vec<Self> {
        let name = short(path);
        let mut reader = match csv::ReaderBuilder::new().trim(csv::Trim::All).from_path(path) {
            Ok(reader) => reader,
            Err(error) => {
                faults.add(&name, error.to_string());
                return Vec::new();
            }
        };
        let headers = match reader.headers() {
            Ok(headers) => headers.clone(),
            Err(error) => {
                faults.add(&name, error.to_string());
                return Vec::new();
            }
        };
        let mut rows = Vec::new();
        for record in reader.records() {
            match record {
                Ok(record) => {
                    let line = record.position().map_or(0, csv::Position::line);
                    let cells =
                        headers.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect();
                    rows.push(Self { file: name.clone(), line, cells });
                }
                Err(error) => faults.add(&name, error.to_string()),
            }
        }
        rows
    }

    /// Returns a cell, empty if the column is not there.
    pub(crate) fn get(&self, column: &str) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }

    /// Returns file and line for a message.
    pub(crate) fn place(&self) -> String {
        format!("{}:{}", self.file, self.line)
    }
}

/// One table of a TOML file.
pub(crate) struct Toml {
    /// The table's name.
    pub(crate) id: String,
    file: String,
    table: toml::Table,
}

impl Toml {
    /// Reads every TOML file of a folder, in the order of their names.
    pub(crate) fn folder(path: &Path, faults: &mut Faults) -> Vec<Self> {
        let mut paths: Vec<PathBuf> = std::fs::read_dir(path)
            .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect())
            .unwrap_or_default();
        paths.retain(|path| path.extension().is_some_and(|end| end == "toml"));
        paths.sort();
        let mut records = Vec::new();
        for path in paths {
            let name = short(&path);
            let text = std::fs::read_to_string(&path).unwrap_or_default();
            match text.parse::<toml::Table>() {
                Ok(all) => {
                    for (id, value) in all {
                        match value {
                            toml::Value::Table(table) => records.push(Self { id, file: name.clone(), table }),
                            _ => faults.add(&name, format!("{id} is no record")),
                        }
                    }
                }
                Err(error) => faults.add(&name, error.to_string()),
            }
        }
        records
    }

    /// Returns a text field, empty if it is not there; numbers become text.
    pub(crate) fn text(&self, key: &str) -> String {
        match self.table.get(key) {
            Some(toml::Value::String(text)) => text.trim().to_owned(),
            Some(toml::Value::Integer(number)) => number.to_string(),
            Some(toml::Value::Array(parts)) => {
                parts.iter().filter_map(toml::Value::as_str).collect::<Vec<_>>().join(" | ")
            }
            _ => String::new(),
        }
    }

    /// Returns a list of texts.
    pub(crate) fn texts(&self, key: &str) -> Vec<String> {
        strings(self.table.get(key))
    }

    /// Returns a list of tables whose fields are texts or lists of texts.
    pub(crate) fn tables(&self, key: &str) -> Vec<BTreeMap<String, Vec<String>>> {
        let Some(toml::Value::Array(parts)) = self.table.get(key) else { return Vec::new() };
        parts
            .iter()
            .filter_map(toml::Value::as_table)
            .map(|table| table.iter().map(|(key, value)| (key.clone(), strings(Some(value)))).collect())
            .collect()
    }

    /// Returns some fields as a row, so that both kinds of file are checked alike.
    pub(crate) fn as_row(&self, columns: &[&str]) -> Row {
        Row {
            file: format!("{} [{}]", self.file, self.id),
            line: 0,
            cells: columns.iter().map(|column| ((*column).to_owned(), self.text(column))).collect(),
        }
    }

    /// Returns file and record for a message.
    pub(crate) fn place(&self) -> String {
        format!("{} [{}]", self.file, self.id)
    }
}

fn strings(value: Option<&toml::Value>) -> Vec<String> {
    match value {
        Some(toml::Value::String(text)) => vec![text.clone()],
        Some(toml::Value::Array(parts)) => {
            parts.iter().filter_map(toml::Value::as_str).map(str::to_owned).collect()
        }
        _ => Vec::new(),
    }
}

fn short(path: &Path) -> String {
    let parts: Vec<_> =
        path.components().rev().take(2).map(|part| part.as_os_str().to_string_lossy()).collect();
    format!("data/{}/{}", parts.get(1).map_or("", |part| part), parts.first().map_or("", |part| part))
}
