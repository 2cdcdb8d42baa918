//! What a file costs grows with its length and no faster: twice the file takes less than three times the time, from the
//! bytes to the report in every format. What grows with the square of the length would take four times.
//!
//! The time is that of this thread alone where the system tells it, the least of several runs, so that what else the
//! machine does counts for little.

use std::sync::{Arc, OnceLock};
use std::time::{Duration, Instant};

use gatewright::report::{Format, Options, write};
use gatewright::review::{Run, Terms, review_file};
use gatewright::rule::{RuleSet, load, shipped, shipped_names, submittal_vocabulary};

const RUNS: usize = 2;
/// How often what looks slow is measured again.
const LOOKS: usize = 4;

/// The shipped rules.
pub fn rules() -> &'static RuleSet {
    static RULES: OnceLock<RuleSet> = OnceLock::new();
    RULES.get_or_init(loaded)
}

fn loaded() -> RuleSet {
    let sources: Vec<_> = shipped_names().filter_map(|name| shipped(name, false)).collect();
    match load(&sources, Arc::new(submittal_vocabulary().unwrap())) {
        Ok((rules, _)) => rules,
        Err(problems) => panic!("{} problems in the shipped packs", problems.list.len()),
    }
}

/// The time that this thread has run.
fn ran() -> Duration {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.as_deref().and_then(|told| told.split_whitespace().next()?.parse().ok());
    nanoseconds.map_or_else(since_start, Duration::from_nanos)
}

fn since_start() -> Duration {
    static START: OnceLock<Instant> = OnceLock::new();
    START.get_or_init(Instant::now).elapsed()
}

/// The least time that one of the stages took: the review, then each format.
fn cost(rules: &RuleSet, text: &str) -> [Duration; 4] {
    let mut least = [Duration::MAX; 4];
    for _ in 0..RUNS {
        let begun = ran();
        let reviewed = review_file(rules, &Terms::default(), "long.yaml", text.as_bytes(), true);
        least[0] = least[0].min(ran() - begun);
        let run = Run { submittals: reviewed.submittals, ..Run::default() };
        for (stage, format) in Format::ALL.into_iter().enumerate() {
            let begun = ran();
            assert!(!write(&run, format, &Options::default()).is_empty());
            least[stage + 1] = least[stage + 1].min(ran() - begun);
        }
    }
    least
}

/// A file of so many of something.
type Made = fn(usize) -> String;

fn lines(count: usize, line: impl Fn(usize) -> String) -> String {
    (0..count).map(|number| line(number) + "\n").collect()
}

const FILES: [(&str, usize, Made); 9] = [
    ("gates of which nothing is said", 60, |n| gates(n, |number| format!("mark: G{number}"))),
    ("gates with values that cannot be read", 60, |n| {
        gates(n, |number| format!("mark: G{number}, opening: 24, operation: power, leaf: {{bottom_gap: 5 lb}}"))
    }),
    ("gates that say TBD", 60, |n| gates(n, |number| format!("mark: G{number}, opening: TBD, leaf: {{weight: TBD}}"))),
    ("gates of one mark, in pairs with none", 200, |n| gates(n, |_| "mark: G, type: swing, pair_with: H".to_owned())),
    ("gates behind aliases", 60, |n| {
        let leaf = "leaf: &l {bottom_gap: 5 in, height: 6 ft, infill: {kind: mesh}}";
        gates(n, |number| format!("mark: G{number}, {}", if number == 0 { leaf } else { "leaf: *l" }))
    }),
    ("unknown names", 10_000, |n| "format: 1\ngates: []\n".to_owned() + &lines(n, |number| format!("k{number}: 1"))),
    ("one name again and again", 10_000, |n| "format: 1\ngates: []\n".to_owned() + &lines(n, |_| "site: 1".to_owned())),
    ("errors behind many names", 20_000, |n| {
        let errors = lines(30, |number| format!("a{number}: [1\nb{number}: 2"));
        "format: 1\ngates: []\n".to_owned() + &lines(n, |number| format!("k{number}: 1")) + &errors
    }),
    ("documents", 150, |n| lines(n, |number| format!("---\nformat: 1\ngates: [{{mark: G{number}, type: swing}}]"))),
];

fn gates(count: usize, fields: impl Fn(usize) -> String) -> String {
    "format: 1\ngates:\n".to_owned() + &lines(count, |number| format!("  - {{{}}}", fields(number)))
}

/// The stages in which twice the file takes three times as long and more. What is over in no time is not worth a look: its
/// time is that of the clock.
fn slow(once: &[Duration; 4], twice: &[Duration; 4]) -> impl Iterator<Item = usize> {
    let floor = Duration::from_millis(5);
    let found: Vec<usize> = (0..4).filter(|stage| twice[*stage] > 3 * once[*stage].max(floor)).collect();
    found.into_iter()
}

fn least(one: [Duration; 4], other: [Duration; 4]) -> [Duration; 4] {
    std::array::from_fn(|stage| one[stage].min(other[stage]))
}

#[test]
fn twice_the_file_takes_less_than_thrice_the_time() {
    let rules = rules();
    let mut wrong = Vec::new();
    for (name, count, made) in FILES {
        let (mut once, mut twice) = (cost(rules, &made(count)), cost(rules, &made(2 * count)));
        // What looks slow is measured again: caches and other tests spoil a run, and never make one faster than it is.
        for _ in 0..LOOKS {
            if slow(&once, &twice).next().is_none() {
                break;
            }
            once = least(once, cost(rules, &made(count)));
            twice = least(twice, cost(rules, &made(2 * count)));
        }
        for stage in slow(&once, &twice) {
            let what = ["review", "terminal", "line", "json"][stage];
            wrong.push(format!("{name}, {what}: {:?}, twice as many {:?}", once[stage], twice[stage]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
