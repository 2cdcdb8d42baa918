//! Random conditions over ranges and missing values: what is said to hold, or not to, does so for every value that the
//! ranges and the missing fields can take.
//!
//! A submittal with ranges and gaps is judged; then its gaps and ranges are filled with single values, many times over,
//! and judged again. `met` and `not met` without a range must never change; `not shown` may become anything.

use gatewright::review::Outcome;
use proptest::prelude::*;

use super::evaluation::{outcome, rules};

/// Six numeric fields, two yes/no fields and a choice.
const LENGTHS: [&str; 6] = ["opening", "intrusion", "run_back", "leaf.height", "leaf.bottom_gap", "leaf.recess"];
const TRUTHS: [&str; 2] = ["fire_access", "egress"];

fn number() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        (0usize..6).prop_map(|field| format!("gate.{}", LENGTHS[field])),
        (0u32..9).prop_map(|inches| format!("{inches} in")),
    ];
    leaf.prop_recursive(2, 8, 2, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("({a} + {b})")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("({a} - {b})")),
            (inner.clone(), 1u32..4).prop_map(|(a, n)| format!("({a} * {n})")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("min({a}, {b})")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("max({a}, {b})")),
            inner.prop_map(|a| format!("abs({a})")),
        ]
    })
}

fn condition() -> impl Strategy<Value = String> {
    let order = prop::sample::select(vec!["<", "<=", ">", ">="]);
    let leaf = prop_oneof![
        4 => (number(), order, number()).prop_map(|(a, op, b)| format!("{a} {op} {b}")),
        1 => (0usize..2).prop_map(|field| format!("gate.{}", TRUTHS[field])),
        1 => prop::sample::select(vec!["gate.hand is left", "gate.hand is not left", "gate.hand is one of [left, right]"])
            .prop_map(str::to_owned),
    ];
    leaf.prop_recursive(3, 12, 3, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 2..4).prop_map(|parts| format!("({})", parts.join(" and "))),
            prop::collection::vec(inner.clone(), 2..4).prop_map(|parts| format!("({})", parts.join(" or "))),
            inner.prop_map(|part| format!("(not {part})")),
        ]
    })
}

/// A value of a length field: missing, one value, or a range; in inches.
#[derive(Debug, Clone, Copy)]
enum Shown {
    Missing,
    Range(u32, u32),
    AtMost(u32),
}

impl Shown {
    fn text(self) -> Option<String> {
        match self {
            Shown::Missing => None,
            Shown::Range(lo, hi) if lo == hi => Some(format!("{lo} in")),
            Shown::Range(lo, hi) => Some(format!("{lo} in to {hi} in")),
            Shown::AtMost(hi) => Some(format!("{hi} in max")),
        }
    }

    /// One value that it can turn out to be; never zero, which some of these fields refuse.
    fn pick(self, chance: u32) -> u32 {
        match self {
            Shown::Missing => 1 + chance % 13,
            Shown::Range(lo, hi) => lo + chance % (hi - lo + 1),
            Shown::AtMost(hi) => 1 + chance % hi,
        }
    }

    /// A stated range varies as a whole; a value that is open turns out to be one value.
    fn is_open(self) -> bool {
        !matches!(self, Shown::Range(..))
    }
}

fn shown() -> impl Strategy<Value = Shown> {
    prop_oneof![
        1 => Just(Shown::Missing),
        3 => (1u32..9).prop_map(|value| Shown::Range(value, value)),
        2 => (1u32..9, 1u32..4).prop_map(|(lo, more)| Shown::Range(lo, lo + more)),
        1 => (1u32..9).prop_map(Shown::AtMost),
    ]
}

fn gate(lengths: &[Option<String>], truths: &[Option<bool>], left: Option<bool>) -> String {
    let mut top = vec!["mark: G".to_owned()];
    let mut leaf = Vec::new();
    for (name, value) in LENGTHS.iter().zip(lengths) {
        if let Some(value) = value {
            match name.strip_prefix("leaf.") {
                Some(key) => leaf.push(format!("{key}: {value}")),
                None => top.push(format!("{name}: {value}")),
            }
        }
    }
    for (name, value) in TRUTHS.iter().zip(truths) {
        if let Some(value) = value {
            top.push(format!("{name}: {}", if *value { "yes" } else { "no" }));
        }
    }
    if let Some(left) = left {
        top.push(format!("hand: {}", if left { "left" } else { "right" }));
    }
    top.push(format!("leaf: {{{}}}", leaf.join(", ")));
    format!("{{{}}}", top.join(", "))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn what_is_certain_stays_so_whatever_the_values_turn_out_to_be(
        condition in condition(),
        lengths in prop::collection::vec(shown(), 6),
        truths in prop::collection::vec(prop::option::of(any::<bool>()), 2),
        left in prop::option::of(any::<bool>()),
        chances in prop::collection::vec((prop::collection::vec(0u32..1_000, 6), any::<[bool; 3]>()), 24),
    ) {
        // The second part is false whatever the opening is, and makes it a rule about the gate.
        let rules = rules(&format!("    require: >-\n      ({condition}) or gate.opening < 0 in\n"), "");
        let written: Vec<Option<String>> = lengths.iter().map(|shown| shown.text()).collect();
        let before = outcome(&rules, &gate(&written, &truths, left));
        let single = |chances: &[u32]| -> Vec<Option<String>> {
            lengths.iter().zip(chances).map(|(shown, chance)| Some(format!("{} in", shown.pick(*chance)))).collect()
        };
        for (chances, flips) in &chances {
            let filled: Vec<Option<bool>> = truths.iter().zip(flips).map(|(known, flip)| known.or(Some(*flip))).collect();
            let point = outcome(&rules, &gate(&single(chances), &filled, left.or(Some(flips[2]))));
            if before == Outcome::Met {
                prop_assert_eq!(point, Outcome::Met, "{}", condition);
            }
            // Not met without any stated range: it fails whatever the open values turn out to be.
            let no_ranges = lengths.iter().all(|shown| shown.is_open() || matches!(shown, Shown::Range(lo, hi) if lo == hi));
            let no_bounds = lengths.iter().all(|shown| !matches!(shown, Shown::AtMost(_)));
            if before == Outcome::NotMet && no_ranges && no_bounds {
                prop_assert_eq!(point, Outcome::NotMet, "{}", condition);
            }
        }
        prop_assert!(before != Outcome::DoesNotApply);
    }
}
