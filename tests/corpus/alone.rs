//! A rule says alone what it says among the others: what the evaluator keeps for one rule must not change another.

use std::sync::Arc;

use gatewright::document::{Limits, parse};
use gatewright::review::{Judged, Stage, judge};
use gatewright::source::SourceFile;
use gatewright::submittal::{Mode, read};
use rayon::prelude::*;
use serde_yaml::Value;

use super::{bases, cases, changed, rules_of_europe};

/// What one rule came to: outcomes by gate, findings, values assumed, notes, and what an n/a switched off.
fn said(judged: &Judged, index: usize, rule: &str) -> String {
    let findings: Vec<_> = judged.findings.iter().filter(|finding| finding.rule == rule).collect();
    let off: Vec<_> = judged.switched_off.iter().filter(|off| off.rule == rule).collect();
    let gates = judged.gates.iter().map(|gate| {
        let assumed: Vec<_> = gate.met_by_assumption.iter().filter(|(name, ..)| name == rule).collect();
        let notes: Vec<_> = gate.notes.iter().filter(|(name, _)| name == rule).collect();
        format!("{:?} {assumed:?} {notes:?}", gate.outcomes[index])
    });
    format!("{:?} {:?} {findings:?} {off:?}", judged.outcomes[index], gates.collect::<Vec<_>>())
}

/// The rules that say something else alone.
fn otherwise_alone(submittal: &Value) -> Vec<String> {
    let rules = rules_of_europe();
    let text = serde_yaml::to_string(submittal).unwrap();
    let tree = parse(Arc::new(SourceFile::new("gate.yaml", text)), &Limits::default()).tree;
    let read = read(&tree, tree.documents()[0].root.unwrap(), &rules.vocabulary, 0, Mode::Whole);
    let together = judge(rules, &tree, &read, Stage::Submittal, &|_| true);
    let names = rules.rules.iter().map(|rule| rule.facts.name.as_str()).enumerate();
    names
        .filter(|(index, name)| {
            let alone = judge(rules, &tree, &read, Stage::Submittal, &|other| other == *index);
            said(&together, *index, name) != said(&alone, *index, name)
        })
        .map(|(_, name)| name.to_owned())
        .collect()
}

#[test]
fn a_rule_says_alone_what_it_says_among_the_others() {
    // Ranges send every figure the long way, over what other figures left behind.
    let ranges = serde_yaml::from_str(
        "{gates.0.leaf.bottom_gap: 3 in to 4 in, gates.0.carriages.spacing: 9 ft 11 in to 10 ft 1 in, \
         gates.0.leaf.weight: 800 lb to 900 lb, gates.0.leaf.infill.solidity: 20 % to 22 %}",
    )
    .unwrap();
    let bases = bases();
    let ranged = bases.iter().map(|(name, base)| (format!("{name} with ranges"), changed(base, &ranges)));
    // A fifth of the changes, for the time it takes; which of them they are changes as changes are added.
    let some = cases().into_iter().step_by(5).map(|case| (case.name, case.submittal));
    let all: Vec<(String, Value)> = bases.clone().into_iter().chain(ranged).chain(some).collect();
    let wrong: Vec<String> = all
        .par_iter()
        .map(|(name, submittal)| (name, otherwise_alone(submittal)))
        .filter(|(_, rules)| !rules.is_empty())
        .map(|(name, rules)| format!("{name}: {}", rules.join(", ")))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
