//! Reviewing many submittals against parsing them alone. Measures and prints; asserts nothing about time.
//!
//! `cargo bench --bench review` makes 10,000 submittals of about 9 KB (a complete gate does not fit 4 KB) from a
//! fixed seed (half of them with findings), in memory, and times four stages on all cores: parsing into the located
//! tree, reading into records, reviewing by every shipped rule, and reviewing with the line report written; each also
//! as the time it takes beyond parsing for 4 KB of text, the measure of its budget. `BENCH_FILES` sets another number.

use std::fmt::Write as _;
use std::sync::Arc;
use std::time::{Duration, Instant};

use gatewright::document::{Limits, parse};
use gatewright::report::{Format, Options, write};
use gatewright::review::{Run, Terms, review_file};
use gatewright::rule::{RuleSet, load, shipped, shipped_names, submittal_vocabulary};
use gatewright::source::SourceFile;
use gatewright::submittal::{Mode, read};
use rayon::prelude::*;

const CLEAN: &str = include_str!("../examples/alder-ridge/rev-2.yaml");
const ROUNDS: usize = 12;

/// A small generator with a fixed seed (SplitMix64, public domain algorithm).
struct Seed(u64);

impl Seed {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % below
    }
}

/// A submittal: the clean example without its comments, with other dimensions and, in half of them, mistakes.
fn submittal(seed: &mut Seed, number: usize) -> String {
    let opening = 19 + seed.next(6);
    let mut text =
        CLEAN.lines().filter(|line| !line.trim_start().starts_with('#')).fold(String::new(), |mut text, line| {
            let _ = writeln!(text, "{}", line.split("  #").next().unwrap_or(line).trim_end());
            text
        });
    // What follows from the opening goes with it: length, weight, place of the center of gravity, run-back.
    let run_back = format!("run_back: {} ft", opening + 14);
    text = text
        .replace("number: 07", &format!("number: {number}"))
        .replace("opening: 24 ft", &format!("opening: {opening} ft"))
        .replace("length: 36 ft 6 in", &format!("length: {} ft 6 in", opening + 12))
        .replace("end: 36 ft 6 in", &format!("end: {} ft 6 in", opening + 12))
        .replace("weight: 840 lb", &format!("weight: {} lb", 23 * (opening + 12) + 12))
        .replace("centroid: 18 ft 3 in", &format!("centroid: {} in", 6 * (opening + 12) + 3))
        .replace("run_back: 38 ft", &run_back);
    if seed.next(2) == 0 {
        let mistakes = [
            ("largest_opening: 2 in, guarded_to", "largest_opening: 2 1/4 in, guarded_to"),
            ("counterbalance: 12 ft", "counterbalance: 9 ft"),
            ("monitored: yes", "monitored: no"),
            (run_back.as_str(), "run_back: 38"),
            ("at_open: physical", "at_open: limit_switch"),
            ("depth: 84 in", "depth: 26 in"),
        ];
        for _ in 0..=seed.next(3) {
            let (from, to) = mistakes[usize::try_from(seed.next(mistakes.len() as u64)).unwrap_or(0)];
            text = text.replacen(from, to, 1);
        }
    }
    text
}

fn rules() -> RuleSet {
    let sources: Vec<_> = shipped_names().filter_map(|name| shipped(name, false)).collect();
    let vocabulary = submittal_vocabulary().unwrap_or_else(|error| panic!("{error}"));
    match load(&sources, Arc::new(vocabulary)) {
        Ok((rules, _)) => rules,
        Err(problems) => panic!("{:?}", problems.list),
    }
}

/// A stage to be timed: its name, and what runs it over all files and counts what it made.
struct Stage<'a> {
    name: &'static str,
    run: Box<dyn Fn() -> usize + 'a>,
    best: Duration,
    count: usize,
}

impl<'a> Stage<'a> {
    fn new(name: &'static str, run: impl Fn() -> usize + 'a) -> Self {
        Self { name, run: Box::new(run), best: Duration::MAX, count: 0 }
    }

    fn time(&mut self) {
        let start = Instant::now();
        self.count = (self.run)();
        self.best = self.best.min(start.elapsed());
    }
}

fn main() {
    let files = std::env::var("BENCH_FILES").ok().and_then(|files| files.parse().ok()).unwrap_or(10_000);
    let mut seed = Seed(20_261_125);
    let texts: Vec<String> = (0..files).map(|number| submittal(&mut seed, number)).collect();
    let bytes: usize = texts.iter().map(String::len).sum();
    let start = Instant::now();
    let rules = rules();
    println!("rules loaded in {:.1} ms ({} rules)", start.elapsed().as_secs_f64() * 1e3, rules.rules.len());
    println!(
        "{files} submittals, {:.1} KB on average, {} cores",
        bytes as f64 / files as f64 / 1e3,
        rayon::current_num_threads()
    );
    for (number, text) in texts.iter().enumerate() {
        let reviewed = review_file(&rules, &Terms::default(), "bench.yaml", text.as_bytes(), true);
        assert!(
            reviewed.submittals.iter().all(|submittal| submittal.readable && !submittal.gates.is_empty()),
            "submittal {number} is not judged, so its time means nothing:\n{text}"
        );
    }
    let source = |text: &String| Arc::new(SourceFile::new("bench.yaml", text.as_str()));
    let review = |text: &String| review_file(&rules, &Terms::default(), "bench.yaml", text.as_bytes(), true);
    let mut stages = [
        Stage::new("parsing", || {
            texts.par_iter().map(|text| parse(source(text), &Limits::default()).tree.documents().len()).sum()
        }),
        Stage::new("and reading", || {
            let one = |text: &String| {
                let parsed = parse(source(text), &Limits::default());
                let root = parsed.tree.documents()[0].root.unwrap_or_default();
                read(&parsed.tree, root, &rules.vocabulary, 0, Mode::Whole).records.slots().len()
            };
            texts.par_iter().map(one).sum()
        }),
        Stage::new("and reviewing", || texts.par_iter().map(|text| review(text).submittals[0].findings.len()).sum()),
        Stage::new("and the line report", || {
            let one = |text: &String| {
                let run = Run { submittals: review(text).submittals, ..Run::default() };
                write(&run, Format::Line, &Options::default()).len()
            };
            texts.par_iter().map(one).sum()
        }),
    ];
    // The stages take turns, so that what else the machine does slows none of them alone.
    for _ in 0..ROUNDS {
        stages.iter_mut().for_each(Stage::time);
    }
    let cores = rayon::current_num_threads() as f64;
    let micros = |time: Duration| time.as_secs_f64() * 1e6 * cores / files as f64;
    let parsing = micros(stages[0].best);
    for Stage { name, best, count, .. } in &stages {
        let each = micros(*best);
        println!(
            "{name:<20} {:>8.0} files/s {:>7.1} us a file and core {:>6.1} us beyond parsing for each 4 KB   ({count})",
            files as f64 / best.as_secs_f64(),
            each,
            (each - parsing) * 4e3 * files as f64 / bytes as f64,
        );
    }
}
