//! Counts that reports for people print.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::review::{Outcomes, RuleFacts, SubmittalReview, Weight};

/// Weights as reports list them, heaviest first.
pub(super) const WEIGHTS: [Weight; 3] = [Weight::Hazard, Weight::Requirement, Weight::Advice];

/// Rules by outcome, in the order of [`Tally::HEADINGS`].
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Tally {
    counts: [usize; 4],
}

impl Tally {
    /// What the four counts are of.
    pub(super) const HEADINGS: [&'static str; 4] = ["not met", "not shown", "met", "does not apply"];

    /// The counts of one gate, or of the rules about the submittal as a whole.
    pub(super) fn of(outcomes: &Outcomes) -> Self {
        Tally { counts: lists(outcomes).map(<[Arc<str>]>::len) }
    }

    /// The counts, in the order of the headings.
    pub(super) fn counts(self) -> [usize; 4] {
        self.counts
    }

    /// Whether there is nothing to count.
    pub(super) fn is_empty(self) -> bool {
        self.counts == [0; 4]
    }
}

fn lists(outcomes: &Outcomes) -> [&[Arc<str>]; 4] {
    [&outcomes.not_met, &outcomes.not_shown, &outcomes.met, &outcomes.does_not_apply]
}

/// Outcomes of a submittal and all its gates by weight, in the order of [`WEIGHTS`].
pub(super) fn by_weight(submittal: &SubmittalReview, rules: &BTreeMap<String, RuleFacts>) -> [Tally; 3] {
    let mut tallies = [Tally::default(); 3];
    let gates = submittal.gates.iter().map(|gate| &gate.outcomes);
    for outcomes in std::iter::once(&submittal.outcomes).chain(gates) {
        for (place, names) in lists(outcomes).into_iter().enumerate() {
            for name in names {
                let weight = rules.get(&**name).map(|rule| rule.weight);
                let row = WEIGHTS.iter().position(|&listed| Some(listed) == weight);
                if let Some(tally) = row.and_then(|row| tallies.get_mut(row)) {
                    tally.counts[place] += 1;
                }
            }
        }
    }
    tallies
}

/// `1 hazard, 2 requirements`, without the weights that do not occur.
pub(super) fn weights_in_words(weights: impl Iterator<Item = Weight> + Clone) -> String {
    let parts: Vec<String> = WEIGHTS
        .iter()
        .filter_map(|&weight| {
            let n = weights.clone().filter(|&other| other == weight).count();
            let many = match weight {
                Weight::Hazard => "hazards",
                Weight::Requirement => "requirements",
                Weight::Advice => "advice",
            };
            (n > 0).then(|| super::text::count(n, weight.word(), many))
        })
        .collect();
    parts.join(", ")
}
