//! The facts of a rule's case: what the pack gives, what the rule gives, what the case says, laid over each other.
//!
//! Sections are merged, lists replaced, `~` removes. Called by the pack loader; a structural error has its place in the
//! pack's file like every other.

use super::read::{Mode, Read, Reader};
use super::record::{RecordIndex, Slot};
use crate::document::{Kind, NodeId, Tree};
use crate::vocabulary::Vocabulary;

/// Keys of a case that are no facts.
const ABOUT_THE_CASE: [&str; 5] = ["expect", "at", "missing", "stage", "note"];

/// Reads layers, the later over the earlier, as one submittal with one gate unless a layer lists `gates`. The gate is a
/// cantilever slide gate unless a layer says otherwise.
pub fn read_layers(tree: &Tree, vocabulary: &Vocabulary, layers: &[NodeId]) -> Read {
    let mut reader = Reader::new(tree, vocabulary, Mode::Fragment, true);
    let root = layers.first().copied().unwrap_or_default();
    reader.empty_record(root, 0, None, Slot::Missing);
    let document = vocabulary.record(0);
    let (Some(gates), Some(gate_type)) = (document.field("gates"), vocabulary.gate()) else {
        return reader.read;
    };
    let gate = reader.empty_record(root, gate_type, None, Slot::Missing);
    reader.assume_cantilever(gate);
    let only_gate = reader.list_of(gate);
    reader.read.records.slots[gates as usize] = only_gate;
    for layer in layers {
        for (key, value) in tree.entries(*layer) {
            match tree.text(key) {
                Some("gate") if tree.kind(value) == Kind::Mapping => reader.section(gate, gate_type, None, value),
                Some(name) if ABOUT_THE_CASE.contains(&name) => {}
                Some(name) => match document.child(None, name) {
                    Some(field) => reader.field(0, document, field, key, value),
                    None => {
                        let message =
                            format!("facts stand under project, submittal, site, gate or gates; `{name}` is found");
                        reader.fault("unknown-field", key, message);
                    }
                },
                None => {}
            }
        }
    }
    let listed: Vec<RecordIndex> = reader.read.records.list(&reader.read.records.slots[gates as usize]).to_vec();
    for listed in listed {
        reader.assume_cantilever(listed);
    }
    reader.read
}

impl Reader<'_> {
    /// Makes a gate whose type was never mentioned a cantilever slide gate.
    fn assume_cantilever(&mut self, gate: RecordIndex) {
        let record = *self.read.records.record(gate);
        let Some(field) = self.vocabulary.record(record.ty).field("type") else {
            return;
        };
        let at = record.first as usize + field as usize;
        let untouched = self.read.records.slots[at] == Slot::Missing && self.read.records.places[at].key.is_none();
        if let (true, Some(symbol)) = (untouched, self.vocabulary.symbol("cantilever_slide")) {
            self.read.records.slots[at] = Slot::Choice(symbol);
        }
    }
}
