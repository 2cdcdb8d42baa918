//! What the evaluator keeps for one rule must not change another: a rule says alone what it says among the others, and a
//! figure is what its whole graph comes to, worked out anew.

use std::sync::Arc;

use gatewright::document::{Limits, parse};
use gatewright::expr::{BinderId, GATE, Machine, Op, OpId, StandsAt, Value};
use gatewright::figures::State;
use gatewright::quantity::Quantity;
use gatewright::review::{Judged, Stage, judge};
use gatewright::rule::Over;
use gatewright::source::SourceFile;
use gatewright::submittal::{Mode, read};
use rayon::prelude::*;
use serde_yaml::Value as ValueOfYaml;

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
fn otherwise_alone(submittal: &ValueOfYaml) -> Vec<String> {
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

/// Figures whose value in a rule is not that of their whole graph worked out anew.
fn otherwise_anew(submittal: &ValueOfYaml) -> (usize, Vec<String>) {
    let rules = rules_of_europe();
    let text = serde_yaml::to_string(submittal).unwrap();
    let tree = parse(Arc::new(SourceFile::new("gate.yaml", text)), &Limits::default()).tree;
    let read = read(&tree, tree.documents()[0].root.unwrap(), &rules.vocabulary, 0, Mode::Whole);
    let mut machine = Machine::new(&rules.program, &tree, &read.records, 0);
    let gates = rules.vocabulary.record(0).field("gates").unwrap();
    let (mut compared, mut wrong) = (0, Vec::new());
    let mut compare = |machine: &mut Machine<'_>, element: BinderId| {
        for (number, op) in rules.program.ops.iter().enumerate() {
            let Op::Figure(index) = op.op else { continue };
            let figure = &rules.program.figures[index as usize];
            if figure.element != element {
                continue;
            }
            let Value::Number(kept) = machine.value(OpId(u32::try_from(number).unwrap())) else { continue };
            let anew = match machine.work_out(figure).state {
                State::Computed(value) | State::Bounded(value, _) => value,
                State::Lacking(_) | State::NotValid(_) | State::OverRange(_) => Quantity::unknown(),
            };
            compared += 1;
            let near = |a: f64, b: f64| a == b || (a - b).abs() <= 1e-12 * a.abs().max(b.abs());
            let same = near(kept.lo, anew.lo) && near(kept.hi, anew.hi) && kept.is_shown() == anew.is_shown();
            if !same {
                wrong.push(format!("{}: {kept:?} and {anew:?}", figure.plan.figure.name));
            }
        }
    };
    for gate in read.records.list(read.records.slot(0, gates)) {
        machine.stand_at(GATE, StandsAt::Record(*gate));
        compare(&mut machine, GATE);
        for group in &rules.groups {
            let Over::List(list) = group.over else { continue };
            let elements = read.records.list(machine.slot(list));
            for element in if list.binder == GATE { elements } else { &[] } {
                machine.stand_at(group.binder, StandsAt::Record(*element));
                compare(&mut machine, group.binder);
            }
        }
    }
    (compared, wrong)
}

#[test]
fn a_figure_in_a_rule_is_its_whole_graph_worked_out() {
    let all: Vec<(String, ValueOfYaml)> = submittals();
    let (compared, wrong): (Vec<usize>, Vec<Vec<String>>) = all
        .par_iter()
        .map(|(name, submittal)| {
            let (compared, wrong) = otherwise_anew(submittal);
            (compared, wrong.into_iter().map(|line| format!("{name}: {line}")).collect::<Vec<_>>())
        })
        .unzip();
    let wrong = wrong.concat();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Some 70 figures of gate, posts and splices in each.
    assert!(compared.iter().sum::<usize>() > 50 * all.len(), "{} in {}", compared.iter().sum::<usize>(), all.len());
}

#[test]
fn a_rule_says_alone_what_it_says_among_the_others() {
    let wrong: Vec<String> = submittals()
        .par_iter()
        .map(|(name, submittal)| (name, otherwise_alone(submittal)))
        .filter(|(_, rules)| !rules.is_empty())
        .map(|(name, rules)| format!("{name}: {}", rules.join(", ")))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The clean gates, the same with ranges, and some of the changes.
fn submittals() -> Vec<(String, ValueOfYaml)> {
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
    bases.clone().into_iter().chain(ranged).chain(some).collect()
}
