use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

use crate::Error;
use crate::error::Kind;

/// A file to be written: its name within the folder, and what it shall hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFile {
    /// The name, without any path.
    pub name: String,
    /// What it holds.
    pub content: String,
}

/// Writes files into a folder, all of them or none, and returns where they stand.
///
/// Each is written beside its place under another name, flushed to the disk, and only then given
/// its own name, so a reader never sees half a file. When anything fails, whatever this call made
/// is taken away again, the folder included; a file of the same name that stood there stays.
///
/// # Errors
/// One sentence if the folder or a file can't be written; see [`Error`].
pub fn write_all(folder: &Path, files: &[NewFile]) -> Result<Vec<PathBuf>, Error> {
    let made = make_folder(folder)?;
    let done = write_into(folder, files);
    if done.is_err() {
        for folder in made.iter().rev() {
            // Only an empty folder goes, so nothing of the user's can be lost.
            let _ = fs::remove_dir(folder);
        }
    }
    done
}

/// Makes the folder and returns the folders that were not there before, outermost first.
fn make_folder(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    if folder.exists() && !folder.is_dir() {
        return Err(Error::new(folder.display().to_string(), Kind::NotAFolder));
    }
    let mut missing: Vec<PathBuf> = folder
        .ancestors()
        .take_while(|part| !part.as_os_str().is_empty() && !part.exists())
        .map(Path::to_owned)
        .collect();
    missing.reverse();
    fs::create_dir_all(folder).map_err(|error| {
        for made in missing.iter().rev() {
            let _ = fs::remove_dir(made);
        }
        Error::new(folder.display().to_string(), Kind::Writing(error))
    })?;
    Ok(missing)
}

fn write_into(folder: &Path, files: &[NewFile]) -> Result<Vec<PathBuf>, Error> {
    let mut parts: Vec<PathBuf> = Vec::with_capacity(files.len());
    let mut placed: Vec<(PathBuf, bool)> = Vec::with_capacity(files.len());
    let done = files
        .iter()
        .enumerate()
        .try_for_each(|(at, file)| {
            let part = folder.join(format!(".{}.{}-{at}.part", short(&file.name), std::process::id()));
            let to = folder.join(&file.name);
            let written = write_one(&part, file.content.as_bytes());
            parts.push(part);
            written.map_err(|error| Error::new(to.display().to_string(), Kind::Writing(error)))
        })
        .and_then(|()| {
            files.iter().zip(&parts).try_for_each(|(file, part)| {
                let to = folder.join(&file.name);
                let was_there = to.exists();
                fs::rename(part, &to)
                    .map_err(|error| Error::new(to.display().to_string(), Kind::Writing(error)))?;
                placed.push((to, was_there));
                Ok(())
            })
        });
    match done {
        Ok(()) => Ok(placed.into_iter().map(|(path, _)| path).collect()),
        Err(error) => {
            for part in &parts {
                let _ = fs::remove_file(part);
            }
            for (path, was_there) in &placed {
                if !was_there {
                    let _ = fs::remove_file(path);
                }
            }
            Err(error)
        }
    }
}

fn write_one(path: &Path, content: &[u8]) -> std::io::Result<()> {
    let mut file: File = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(content)?;
    file.sync_all()
}

/// Cuts a name so that the working name is never longer than a file system allows.
fn short(name: &str) -> String {
    name.chars().take(60).collect()
}
