//! Structural problems as findings of the pack `reading`.

use std::collections::HashSet;

use super::finding::{Finding, Label, Outcome, Weight};
use super::site::Site;
use crate::document::NodeId;
use crate::expr::{FieldRef, Seen};
use crate::problem::{Gravity, Problem};
use crate::submittal::{RecordIndex, Slot};

/// A problem as a finding; `gate` is the index and the mark of the gate it stands in.
pub fn finding_of(problem: Problem, gate: Option<(usize, String)>) -> Finding {
    let (gate_index, gate) = gate.unzip();
    Finding {
        rule: format!("reading/{}", problem.code),
        weight: if problem.gravity == Gravity::Advice { Weight::Advice } else { Weight::Requirement },
        outcome: Outcome::NotMet,
        gate,
        gate_index,
        element: None,
        called: None,
        field: None,
        message: problem.message,
        primary: Label { span: problem.span, text: String::new() },
        labels: problem.labels.into_iter().map(|(span, text)| Label { span, text }).collect(),
        help: problem.help,
        missing: Vec::new(),
        waiting: Vec::new(),
        assumed: Vec::new(),
        because: Vec::new(),
        workings: Vec::new(),
        notes: Vec::new(),
        deviation: None,
        key: String::new(),
    }
}

/// Placeholder words that no rule waits for, each as advice; a field that must have a value is the reader's.
pub fn idle_placeholders(site: Site<'_>, asked: &[Seen]) -> Vec<Problem> {
    let mut found = Vec::new();
    let value_of = |seen: &Seen| Some((seen.record, site.records.place(seen.record, seen.field.field).value?));
    let asked: HashSet<(RecordIndex, NodeId)> = asked.iter().filter_map(value_of).collect();
    for record in 0..site.records.len() {
        let ty = site.records.record(record).ty;
        let declared = site.vocabulary.record(ty);
        for (index, field) in declared.fields.iter().enumerate() {
            let id = u16::try_from(index).unwrap_or(u16::MAX);
            if *site.records.slot(record, id) != Slot::Placeholder {
                continue;
            }
            let place = site.records.place(record, id);
            if field.required {
                continue; // reported as missing by the reader
            }
            let inherited = field.parent.is_some_and(|parent| site.records.place(record, parent) == place);
            let Some(value) = place.value.filter(|_| !inherited) else {
                continue;
            };
            if !asked.contains(&(record, value)) {
                let seen = Seen { field: FieldRef { binder: 0, record: ty, field: id }, record };
                let word = site.written(seen).unwrap_or_default();
                let message = format!("{} says `{word}`: nothing is shown yet", field.label);
                found.push(Problem::advice("placeholder", site.tree.span(value), message));
            }
        }
    }
    found
}
