//! Questions: one missing fact with all the rules that wait for it.
//!
//! A section that is missing is one question, not one for each field in it; so is a field that several elements of a
//! list lack.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::finding::Question;
use super::judge::Judged;
use super::site::Site;
use crate::expr::Seen;
use crate::submittal::Slot;

/// Folds what the findings wait for into questions, in the order of the file.
pub fn questions(site: Site<'_>, judged: &Judged) -> Vec<Question> {
    let mut questions = Questions::default();
    for wait in &judged.waits {
        let finding = &judged.findings[wait.finding];
        let gate_record =
            judged.gates.iter().find(|gate| Some(&gate.mark) == finding.gate.as_ref()).map_or(0, |gate| gate.record);
        let mut asked = 0;
        for seen in wait.waiting.missing.iter().chain(&wait.waiting.one_ended) {
            let (field, label, word) = fact(site, *seen);
            let span = site.point(Some(*seen), gate_record).0.span;
            // A rule about the whole submittal may wait for a fact of one gate, which that gate's own rules ask for too.
            let of_gate = || judged.gates.iter().find(|gate| gate.record == seen.record).map(|gate| gate.mark.clone());
            questions.add(Question {
                field,
                label,
                gate: finding.gate.clone().or_else(of_gate).filter(|_| seen.field.record != 0),
                span,
                word,
                weight: finding.weight,
                rules: vec![finding.rule.clone()],
            });
            asked += 1;
        }
        if asked == 0 {
            questions.add(Question {
                field: finding.field.clone().unwrap_or_else(|| finding.rule.clone()),
                label: wait.waiting.reasons.join("; "),
                gate: finding.gate.clone(),
                span: finding.primary.span,
                word: None,
                weight: finding.weight,
                rules: vec![finding.rule.clone()],
            });
        }
    }
    let mut list = questions.list;
    for question in &mut list {
        question.rules.sort();
        question.rules.dedup();
    }
    list
}

/// The questions so far, to be found by field and gate.
#[derive(Default)]
struct Questions {
    list: Vec<Question>,
    at: HashMap<(String, Option<String>), usize>,
}

/// Path and words of the fact to ask for, and the word or text that stands in its place.
fn fact(site: Site<'_>, seen: Seen) -> (String, String, Option<String>) {
    let top = match site.slot(seen) {
        Slot::Missing => site.topmost_missing(seen),
        Slot::Placeholder => {
            // A section given as a placeholder hands its place down to its fields: ask for the section.
            let declared = site.vocabulary.record(seen.field.record);
            let place = site.records.place(seen.record, seen.field.field);
            let mut top = seen.field.field;
            while let Some(parent) = declared.fields[top as usize].parent {
                if site.records.place(seen.record, parent) != place {
                    break;
                }
                top = parent;
            }
            top
        }
        _ => seen.field.field,
    };
    let path = site.vocabulary.path_of(seen.field.record, top);
    let label = site.vocabulary.field(seen.field.record, top).label.clone();
    let word = match site.slot(seen) {
        Slot::Missing => None,
        _ => site.written(seen),
    };
    (path, label, word)
}

impl Questions {
    fn add(&mut self, new: Question) {
        match self.at.entry((new.field.clone(), new.gate.clone())) {
            Entry::Occupied(known) => {
                let known = &mut self.list[*known.get()];
                known.weight = known.weight.max(new.weight);
                known.rules.extend(new.rules);
                if new.span.start < known.span.start {
                    known.span = new.span;
                    known.word = new.word;
                }
            }
            Entry::Vacant(free) => {
                free.insert(self.list.len());
                self.list.push(new);
            }
        }
    }
}
