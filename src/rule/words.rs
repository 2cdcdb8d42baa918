//! Cases, constants and tables in words, for the rule reference: "opening 20 ft, intrusion not shown".
//!
//! A case is YAML that stands on two layers of given facts. Who reads the reference wants to know what is stated, not how it
//! is nested, so each fact is named by the words that findings use for its field.

use super::raw::RawPack;
use crate::document::{NodeId, Tree};
use crate::submittal::RecordIndex;
use crate::vocabulary::{FieldKind, ListOf, RecordId, Vocabulary};

/// The facts that every case of a rule starts from: the pack's, then the rule's own.
pub(super) fn given(pack: &RawPack, rule: RecordIndex, vocabulary: &Vocabulary) -> Vec<String> {
    let words = Words { tree: &pack.tree, vocabulary };
    let mut facts = Vec::new();
    for node in [pack.any(0, "given"), pack.any(rule, "given")].into_iter().flatten() {
        words.record(node, 0, &mut facts);
    }
    facts
}

/// The facts that a case itself states.
pub(super) fn stated(pack: &RawPack, case: NodeId, vocabulary: &Vocabulary) -> Vec<String> {
    let mut facts = Vec::new();
    Words { tree: &pack.tree, vocabulary }.record(case, 0, &mut facts);
    facts
}

/// The constants and tables of a pack, each with where it comes from.
pub(super) fn numbers(pack: &RawPack) -> Vec<String> {
    let source = |record: RecordIndex| {
        let parts = ["source.standard", "source.clause", "source.edition"].map(|path| pack.words_at(record, path));
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
    };
    let name = |record: RecordIndex| pack.key(record).map_or_else(String::new, |key| key.text.to_owned());
    let mut numbers = Vec::new();
    for record in pack.list(0, "constants") {
        let value = pack.words_at(*record, "value");
        numbers.push(format!("`constant.{}`: {value} ({})", name(*record), source(*record)));
    }
    for record in pack.list(0, "tables") {
        let row = |row: &RecordIndex| {
            let said = |path: &str, before: &str| match pack.words_at(*row, path) {
                words if words.is_empty() => String::new(),
                words => format!("{before}{words} "),
            };
            let key = said("from", "from ") + &said("up_to", "up to ") + &said("is", "");
            format!("{}: {}", key.trim_end(), pack.words_at(*row, "value"))
        };
        let rows: Vec<String> = pack.list(*record, "rows").iter().map(row).collect();
        let by = pack.words_at(*record, "key");
        numbers.push(format!("`{}` by `{by}`: {} ({})", name(*record), rows.join("; "), source(*record)));
    }
    numbers
}

struct Words<'w> {
    tree: &'w Tree,
    vocabulary: &'w Vocabulary,
}

impl Words<'_> {
    fn record(&self, node: NodeId, record: RecordId, facts: &mut Vec<String>) {
        self.section(node, record, "", facts);
    }

    /// The facts of a mapping that is a record or a section of one.
    fn section(&self, node: NodeId, record: RecordId, path: &str, facts: &mut Vec<String>) {
        for (key, value) in self.tree.entries(node) {
            let Some(key) = self.tree.text(key) else { continue };
            match (record, path, key) {
                (0, "", "stage") => facts.push(format!("stage {}", self.tree.text(value).unwrap_or_default())),
                // One gate, for which the list of gates stands.
                (0, "", "gate") => {
                    if let Some(gate) = self.vocabulary.gate() {
                        if self.is_removed(value) {
                            facts.push("gate not shown".to_owned());
                        }
                        self.record(value, gate, facts);
                    }
                }
                _ => self.fact(
                    value,
                    record,
                    &if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") },
                    facts,
                ),
            }
        }
    }

    /// One field; a key that is no field (`expect`, `at`) says nothing.
    fn fact(&self, value: NodeId, record: RecordId, path: &str, facts: &mut Vec<String>) {
        let declared = self.vocabulary.record(record);
        let Some(field) = declared.field(path).map(|field| self.vocabulary.field(record, field)) else {
            return;
        };
        let label = &field.label;
        match &field.kind {
            _ if self.is_removed(value) => facts.push(format!("{label} not shown")),
            FieldKind::Section if self.tree.text(value).is_none() => self.section(value, record, path, facts),
            FieldKind::List(of) if self.tree.text(value).is_none() => {
                facts.push(format!("{label}: {}", self.list(value, of)))
            }
            _ => facts.push(format!("{label} {}", self.tree.text(value).unwrap_or_default())),
        }
    }

    fn list(&self, node: NodeId, of: &ListOf) -> String {
        let item = |item: NodeId| match of {
            ListOf::Record(record) => {
                let mut facts = Vec::new();
                self.record(item, *record, &mut facts);
                format!("({})", facts.join(", "))
            }
            _ => self.tree.text(item).unwrap_or_default().to_owned(),
        };
        let mut items: Vec<(String, usize)> = Vec::new();
        for text in self.tree.items(node).map(item) {
            match items.last_mut() {
                Some((last, times)) if *last == text => *times += 1,
                _ => items.push((text, 1)),
            }
        }
        let times = |(text, times): (String, usize)| if times == 1 { text } else { format!("{times} times {text}") };
        match items.is_empty() {
            true => "none".to_owned(),
            false => items.into_iter().map(times).collect::<Vec<_>>().join(", "),
        }
    }

    /// Whether a value takes back what was given.
    fn is_removed(&self, value: NodeId) -> bool {
        self.tree.is_absent(value) || matches!(self.tree.text(value), Some("~" | "null"))
    }
}
