//! `quartern read --jsonl`: JSON Lines in, JSON Lines out, as a stream.
//!
//! Lines are handed out in small batches to two workers by turns, and taken back in the same turns,
//! so the order is kept without anything piling up. Every queue is short, so however long the input
//! is, the memory stays the same. A batch goes off as soon as no more input is waiting: a person
//! who types one line gets its answer at once.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read as _, Write as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread;

use quartern_workbench::{LineError, Within, contract_line, given_from_json, work_figures};
use serde_json::Value;

use crate::arguments::Read;
use crate::source::when_where_or_any;
use crate::trouble::{Trouble, written};

/// The longest line taken, in bytes (16 MiB). A longer one is answered with an error and skipped.
const LONGEST_LINE: usize = 16 * 1024 * 1024;
/// A batch goes off when it has so many lines,
const BATCH_LINES: usize = 32;
/// or so many bytes.
const BATCH_BYTES: usize = 256 * 1024;
/// Batches that may wait before and behind each worker.
const WAITING: usize = 2;
const WORKERS: usize = 2;

/// Lines of the input, with the number of the first, counted from 1.
#[derive(Debug, Default)]
struct Batch {
    first: usize,
    lines: Vec<Line>,
}

#[derive(Debug)]
enum Line {
    Whole(Vec<u8>),
    TooLong,
}

/// The answers to a batch.
#[derive(Debug, Default)]
struct Answers {
    text: String,
    lines: usize,
    unread: usize,
    faults: usize,
}

/// Answers every line of the input.
pub(crate) fn run(wanted: &Read) -> Result<(), Trouble> {
    let (defaults, _) = when_where_or_any(&wanted.when_where)?;
    match wanted.file.as_deref() {
        Some(path) if path.as_os_str() != "-" => {
            let name = path.display().to_string();
            let input = open(path, &name)?;
            answer_all(BufReader::with_capacity(64 * 1024, input), &name, &defaults)
        }
        _ => answer_all(BufReader::with_capacity(64 * 1024, io::stdin()), "the input", &defaults),
    }
}

fn open(path: &Path, name: &str) -> Result<File, Trouble> {
    let input = File::open(path).map_err(|error| quartern_store::Error::reading(name, error))?;
    if input.metadata().is_ok_and(|about| about.is_dir()) {
        return Err(quartern_store::Error::reading(name, io::ErrorKind::IsADirectory.into()).into());
    }
    Ok(input)
}

fn answer_all(input: impl BufRead + Buffered + Send, name: &str, defaults: &Within) -> Result<(), Trouble> {
    thread::scope(|scope| {
        let mut to_workers: Vec<SyncSender<Batch>> = Vec::with_capacity(WORKERS);
        let mut from_workers: Vec<Receiver<Answers>> = Vec::with_capacity(WORKERS);
        for _ in 0..WORKERS {
            let (send_batch, batches) = sync_channel::<Batch>(WAITING);
            let (send_answers, answers) = sync_channel::<Answers>(WAITING);
            to_workers.push(send_batch);
            from_workers.push(answers);
            scope.spawn(move || {
                for batch in batches {
                    if send_answers.send(answer(&batch, defaults)).is_err() {
                        break;
                    }
                }
            });
        }
        let reader = scope.spawn(move || hand_out(input, &to_workers));
        let done = write_out(&from_workers);
        // Without these the workers stop, and with them the reader.
        drop(from_workers);
        let read = reader.join().unwrap_or(Ok(()));
        let count = done?;
        read.map_err(|error| Trouble::from(quartern_store::Error::reading(name, error)))?;
        count.verdict()
    })
}

#[derive(Debug, Default)]
struct Count {
    lines: usize,
    unread: usize,
    faults: usize,
}

impl Count {
    fn verdict(&self) -> Result<(), Trouble> {
        match (self.faults, self.unread) {
            (0, 0) => Ok(()),
            (0, unread) => Err(Trouble::Input(format!(
                "{unread} of {} line{} could not be read; each such line is answered with an “error” in its place",
                self.lines,
                if self.lines == 1 { "" } else { "s" }
            ))),
            (_, _) => Err(Trouble::OurFault),
        }
    }
}

/// Tells whether more input lies ready.
trait Buffered {
    fn has_more_ready(&self) -> bool;
}

impl<R: io::Read> Buffered for BufReader<R> {
    fn has_more_ready(&self) -> bool {
        self.buffer().contains(&b'\n')
    }
}

fn hand_out(mut input: impl BufRead + Buffered, workers: &[SyncSender<Batch>]) -> io::Result<()> {
    let mut number = 1;
    let mut batch = Batch { first: 1, lines: Vec::new() };
    let mut bytes = 0;
    for worker in workers.iter().cycle() {
        let ended = loop {
            let Some(mut line) = next_line(&mut input)? else { break true };
            if number == 1
                && let Line::Whole(words) = &mut line
                && words.starts_with(b"\xEF\xBB\xBF")
            {
                words.drain(..3);
            }
            if let Line::Whole(words) = &line {
                bytes += words.len();
            }
            number += 1;
            batch.lines.push(line);
            if batch.lines.len() >= BATCH_LINES || bytes >= BATCH_BYTES || !input.has_more_ready() {
                break false;
            }
        };
        if !batch.lines.is_empty() {
            let full = std::mem::replace(&mut batch, Batch { first: number, lines: Vec::new() });
            bytes = 0;
            if worker.send(full).is_err() {
                return Ok(());
            }
        }
        if ended {
            break;
        }
    }
    Ok(())
}

/// Reads a line without its end; one that is too long is passed over to its end.
fn next_line(input: &mut impl BufRead) -> io::Result<Option<Line>> {
    let mut line = Vec::new();
    let limit = LONGEST_LINE as u64 + 1;
    if input.by_ref().take(limit).read_until(b'\n', &mut line)? == 0 {
        return Ok(None);
    }
    if line.last() == Some(&b'\n') {
        line.pop();
        return Ok(Some(Line::Whole(line)));
    }
    if line.len() <= LONGEST_LINE {
        // The last line may lack its end.
        return Ok(Some(Line::Whole(line)));
    }
    drop(line);
    loop {
        let waiting = input.fill_buf()?;
        if waiting.is_empty() {
            return Ok(Some(Line::TooLong));
        }
        let end = waiting.iter().position(|byte| *byte == b'\n');
        let used = end.map_or(waiting.len(), |at| at + 1);
        input.consume(used);
        if end.is_some() {
            return Ok(Some(Line::TooLong));
        }
    }
}

fn answer(batch: &Batch, defaults: &Within) -> Answers {
    let mut answers = Answers { lines: batch.lines.len(), ..Answers::default() };
    for (at, line) in batch.lines.iter().enumerate() {
        let done = match line {
            Line::TooLong => Err(no_id("the line is longer than 16 MiB; one line is one recipe")),
            Line::Whole(bytes) => match std::str::from_utf8(bytes) {
                Err(error) => Err(no_id(&format!(
                    "the line is not UTF-8 text: byte {} of it is part of no character",
                    error.valid_up_to() + 1
                ))),
                Ok(line) if line.trim().is_empty() => {
                    Err(no_id("the line is empty; each line must be one JSON object"))
                }
                Ok(line) => catch_unwind(AssertUnwindSafe(|| {
                    let (id, given) = given_from_json(line, defaults)?;
                    Ok(contract_line(&id, &given, &work_figures(&given, &[])))
                }))
                .unwrap_or_else(|_| {
                    answers.faults += 1;
                    Err(no_id(
                        "the program failed on this line, which is a fault of the program; please report it",
                    ))
                }),
            },
        };
        match done {
            Ok(line) => answers.text.push_str(&line),
            Err(error) => {
                answers.unread += 1;
                write_error(&mut answers.text, &error, batch.first + at);
            }
        }
        answers.text.push('\n');
    }
    answers
}

fn no_id(message: &str) -> LineError {
    LineError { id: None, message: message.to_owned() }
}

/// Writes an error in the place of an answer: `id` if there is one, `error`, and the line's number.
fn write_error(text: &mut String, error: &LineError, line: usize) {
    text.push('{');
    if let Some(id) = &error.id {
        let _ = write!(text, "\"id\":{id},");
    }
    let _ = write!(text, "\"error\":{},\"line\":{line}}}", Value::from(error.message.as_str()));
}

fn write_out(workers: &[Receiver<Answers>]) -> Result<Count, Trouble> {
    let mut out = io::stdout().lock();
    let mut count = Count::default();
    for worker in workers.iter().cycle() {
        let Ok(answers) = worker.recv() else { break };
        count.lines += answers.lines;
        count.unread += answers.unread;
        count.faults += answers.faults;
        if !written(out.write_all(answers.text.as_bytes()).and_then(|()| out.flush()))? {
            return Ok(Count::default());
        }
    }
    Ok(count)
}
