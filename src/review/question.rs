//! Questions: one missing fact with all the rules that wait for it.
//!
//! A section that is missing is one question, not one for each field in it; so is a field that several elements of a
//! list lack. A value that cannot be read is one as well: its finding says which rules wait for it.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::finding::{Finding, Question, Weight};
use super::judge::{Judged, Wait};
use super::print::none_counts;
use super::site::Site;
use crate::document::{Kind, NodeId};
use crate::expr::Seen;
use crate::source::Span;
use crate::submittal::{RecordIndex, Slot};

/// A question, with the place of the key whose value it asks for.
pub struct Asked {
    /// The question.
    pub question: Question,
    /// From the key to the end of its value, where one stands there that cannot be read.
    unreadable: Vec<Span>,
}

/// Folds what the rules wait for into questions, in the order of the file.
pub fn questions(site: Site<'_>, judged: &Judged) -> Vec<Asked> {
    let gates = judged.gates.iter().enumerate().map(|(index, gate)| (gate.record, index)).collect();
    let mut questions = Questions { site, judged, gates, list: Vec::new(), at: HashMap::new() };
    for wait in &judged.waits {
        questions.of(wait);
    }
    let mut list = questions.list;
    for Asked { question, .. } in &mut list {
        question.rules.sort();
        question.rules.dedup();
    }
    list.sort_by_key(|asked| asked.question.span.start);
    list
}

/// Tells the findings of values that cannot be read which rules wait for them.
pub fn tell_waiting(findings: &mut [Finding], asked: &[Asked]) {
    let faults = findings.iter().enumerate().filter(|(_, finding)| finding.weight > Weight::Advice);
    // A key that stands twice is reported where it stands again, with a label where it stands first.
    let mut places: Vec<(u32, usize)> = faults
        .flat_map(|(index, finding)| {
            let spans = std::iter::once(&finding.primary).chain(&finding.labels);
            spans.map(move |label| (label.span.start, index))
        })
        .collect();
    places.sort_unstable();
    for Asked { question, unreadable } in asked {
        for span in unreadable {
            let first = places.partition_point(|(start, _)| *start < span.start);
            for (_, index) in places[first..].iter().take_while(|(start, _)| *start <= span.end) {
                let waiting = &mut findings[*index].waiting;
                waiting.extend(question.rules.iter().cloned());
                waiting.sort();
                waiting.dedup();
            }
        }
    }
}

/// The questions so far, to be found by field, words and gate.
struct Questions<'a> {
    site: Site<'a>,
    judged: &'a Judged,
    /// Indexes of the gates by their records.
    gates: HashMap<RecordIndex, usize>,
    list: Vec<Asked>,
    at: HashMap<(String, String, Option<usize>), usize>,
}

impl Questions<'_> {
    fn of(&mut self, wait: &Wait) {
        let (site, waiting) = (self.site, &wait.waiting);
        let mut asked = false;
        for seen in waiting.missing.iter().chain(&waiting.one_ended).chain(&waiting.unreadable) {
            self.ask(wait, *seen, fact(site, *seen));
            asked = true;
        }
        for none in &waiting.empty {
            let label = none_counts(site, none);
            self.ask(wait, none.list, Fact { field: site.path(none.list), label, word: None, unreadable: None });
            asked = true;
        }
        let Some(finding) = wait.finding.filter(|_| !asked).map(|index| &self.judged.findings[index]) else { return };
        self.add(Asked {
            question: Question {
                field: finding.field.clone().unwrap_or_else(|| finding.rule.clone()),
                label: waiting.reasons.join("; "),
                gate: finding.gate.clone(),
                gate_index: finding.gate_index,
                span: finding.primary.span,
                word: None,
                unreadable: false,
                weight: wait.weight,
                rules: vec![wait.rule.clone()],
            },
            unreadable: Vec::new(),
        });
    }

    fn ask(&mut self, wait: &Wait, seen: Seen, fact: Fact) {
        // A rule about the whole submittal may wait for a fact of one gate, which that gate's own rules ask for too.
        let of_gate = wait.gate.or_else(|| self.gates.get(&seen.record).copied());
        let gate_index = of_gate.filter(|_| seen.field.record != 0);
        let gate_record = wait.gate.map_or(0, |gate| self.judged.gates[gate].record);
        self.add(Asked {
            question: Question {
                field: fact.field,
                label: fact.label,
                gate: gate_index.map(|gate| self.judged.gates[gate].mark.clone()),
                gate_index,
                span: self.site.point(Some(seen), gate_record).0.span,
                word: fact.word,
                unreadable: fact.unreadable.is_some(),
                weight: wait.weight,
                rules: vec![wait.rule.clone()],
            },
            unreadable: fact.unreadable.into_iter().collect(),
        });
    }

    fn add(&mut self, new: Asked) {
        let of = &new.question;
        match self.at.entry((of.field.clone(), of.label.clone(), of.gate_index)) {
            Entry::Occupied(known) => {
                let known = &mut self.list[*known.get()];
                for span in new.unreadable {
                    if !known.unreadable.contains(&span) {
                        known.unreadable.push(span);
                    }
                }
                let (known, new) = (&mut known.question, new.question);
                known.weight = known.weight.max(new.weight);
                known.rules.extend(new.rules);
                // What one element lacks and another has unreadable is still to be asked for.
                known.unreadable &= new.unreadable;
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

/// A fact to ask for.
struct Fact {
    field: String,
    label: String,
    /// The word or text that stands in its place.
    word: Option<String>,
    /// From its key to the end of its value, where that cannot be read.
    unreadable: Option<Span>,
}

fn fact(site: Site<'_>, seen: Seen) -> Fact {
    let slot = site.slot(seen);
    let place = site.records.place(seen.record, seen.field.field);
    let top = match slot {
        Slot::Missing => site.topmost_missing(seen),
        Slot::Placeholder | Slot::Unreadable => {
            // A section given as a single value hands its place down to its fields: ask for the section.
            let declared = site.vocabulary.record(seen.field.record);
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
    let unreadable = match (slot, place.key, place.value) {
        (Slot::Unreadable, Some(key), Some(value)) => Some(unreadable_at(site, key, value)),
        // An element that is no section has fields without a place of their own.
        (Slot::Unreadable, ..) => Some(site.tree.span(site.records.record(seen.record).node)),
        _ => None,
    };
    Fact {
        field: site.vocabulary.path_of(seen.field.record, top),
        label: site.vocabulary.field(seen.field.record, top).label.clone(),
        word: if *slot == Slot::Missing { None } else { site.written(seen) },
        unreadable,
    }
}

/// Where the faults of a value stand: from its key to its end. Those in a section are of its fields.
fn unreadable_at(site: Site<'_>, key: NodeId, value: NodeId) -> Span {
    let value = site.tree.resolve(value);
    let Span { start, end } = site.tree.span(value);
    let end = if site.tree.kind(value) == Kind::Mapping { start } else { end };
    // What an alias stands for is written elsewhere, before its key.
    let key = site.tree.span(key).start;
    Span { start: start.min(key), end }
}
