//! How many recipes a second: reading, reckoning, and JSON Lines to JSON Lines, beside what a
//! general-purpose library needs for a part of the same work; and how long the whole program takes
//! for one recipe. Run by hand: `cargo bench -p quartern-cli`.
//!
//! The recipes are those in `fixtures/`, cut from period books.

use std::hint::black_box;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use criterion::{Criterion, Throughput};
use quartern_workbench::{Given, Within, YearRange, contract_line, given_from_json, work};
use regex::Regex;
use serde_json::{Value, json};

/// What is measured: a name, and one pass over all the recipes.
type Work<'a> = (&'static str, Box<dyn Fn() -> usize + 'a>);

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn texts() -> Vec<String> {
    let mut folders: Vec<PathBuf> = std::fs::read_dir(top().join("fixtures"))
        .expect("the fixtures are there")
        .map(|entry| entry.expect("an entry").path().join("transcript.txt"))
        .collect();
    folders.sort();
    folders.iter().filter_map(|path| std::fs::read_to_string(path).ok()).collect()
}

fn main() {
    let texts = texts();
    let place = quartern_knowledge::place("uk").expect("a place of the register");
    let at = Within { years: YearRange::new(1850, 1859).expect("years"), place };
    let lines: Vec<String> =
        texts.iter().enumerate().map(|(id, text)| json!({"id": id, "text": text}).to_string()).collect();
    let givens: Vec<(Value, Given)> =
        lines.iter().map(|line| given_from_json(line, &at).expect("a recipe")).collect();
    let readings: Vec<_> = givens
        .iter()
        .map(|(_, given)| quartern_reading::read(given.transcript.as_str(), None).value)
        .collect();
    let words =
        Regex::new(r"\d+(?:[./]\d+)?|[½¼¾⅓⅔⅛]|\p{Alphabetic}+(?:['’-]\p{Alphabetic}+)*").expect("a pattern");

    let all: Vec<Work> = vec![
        (
            "reading",
            Box::new(|| texts.iter().map(|text| quartern_reading::read(text, None).value.items.len()).sum()),
        ),
        (
            "reckoning",
            Box::new(|| {
                givens
                    .iter()
                    .zip(&readings)
                    .map(|((_, given), reading)| {
                        quartern_reckoning::reckon(&given.transcript, reading, &given.source, &[])
                            .value
                            .items
                            .len()
                    })
                    .sum()
            }),
        ),
        (
            "JSON Lines to JSON Lines, one thread",
            Box::new(|| {
                lines
                    .iter()
                    .map(|line| {
                        let (id, given) = given_from_json(line, &at).expect("a recipe");
                        contract_line(&id, &given, &work(&given, &[])).len()
                    })
                    .sum()
            }),
        ),
        (
            "yardstick: regex cuts the same texts into words and numbers",
            Box::new(|| texts.iter().map(|text| words.find_iter(text).count()).sum()),
        ),
        (
            "yardstick: serde_json reads the same lines and writes them again",
            Box::new(|| {
                lines
                    .iter()
                    .map(|line| serde_json::from_str::<Value>(line).expect("JSON").to_string().len())
                    .sum()
            }),
        ),
    ];

    let mut criterion = Criterion::default()
        .configure_from_args()
        .sample_size(20)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(3));
    let mut group = criterion.benchmark_group("recipes");
    group.throughput(Throughput::Elements(texts.len() as u64));
    for (name, work) in &all {
        group.bench_function(*name, |bencher| bencher.iter(|| black_box(work())));
    }
    group.finish();
    criterion.final_summary();

    println!(
        "\nRecipes a second ({} recipes, {} bytes):",
        texts.len(),
        texts.iter().map(String::len).sum::<usize>()
    );
    let rates: Vec<f64> = all.iter().map(|(_, work)| rate(work, texts.len())).collect();
    for ((name, _), rate) in all.iter().zip(&rates) {
        println!("{rate:>10.0}  {name}");
    }
    if let [reading, _, lines, words, json] = rates.as_slice() {
        println!("\nReading takes {:.1} times as long as cutting into words and numbers.", words / reading);
        println!(
            "Line to line takes {:.1} times as long as reading and writing the JSON alone.",
            json / lines
        );
    }
    whole_program(&lines);
}

/// Returns recipes a second over about one second.
fn rate(work: &dyn Fn() -> usize, recipes: usize) -> f64 {
    let begun = Instant::now();
    let mut passes = 0;
    while begun.elapsed() < Duration::from_secs(1) {
        black_box(work());
        passes += 1;
    }
    f64::from(passes) * recipes as f64 / begun.elapsed().as_secs_f64()
}

fn whole_program(lines: &[String]) {
    let program = env!("CARGO_BIN_EXE_quartern");
    let recipe = top().join("fixtures/beeton-1861-household-management-stewed-ox-tails/transcript.txt");
    let mut times: Vec<Duration> = (0..60)
        .map(|_| {
            let begun = Instant::now();
            let done = Command::new(program)
                .args(["read", "--year", "1861", "--place", "england"])
                .arg(&recipe)
                .stdout(Stdio::null())
                .status()
                .expect("the program runs");
            assert!(done.success());
            begun.elapsed()
        })
        .collect();
    times.sort();
    println!(
        "\nThe whole program for one recipe, start to finish: {:.1} ms (middle of {}), {:.1} ms at most.",
        times[times.len() / 2].as_secs_f64() * 1000.0,
        times.len(),
        times[times.len() - 1].as_secs_f64() * 1000.0
    );

    let mut many = String::new();
    for line in lines.iter().cycle().take(20_000) {
        many.push_str(line);
        many.push('\n');
    }
    let begun = Instant::now();
    let mut child = Command::new(program)
        .args(["read", "--jsonl", "--year", "1855", "--place", "uk"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("an input").write_all(many.as_bytes()).expect("taken");
    assert!(child.wait().expect("ended").success());
    let seconds = begun.elapsed().as_secs_f64();
    println!("`quartern read --jsonl`, two threads: {:.0} recipes a second over 20000.", 20_000.0 / seconds);
}
