//! Where the fields of a submittal stand: paths, places to point at, the gates and their marks.

use super::finding::Label;
use crate::document::{Kind, NodeId, Tree};
use crate::expr::Seen;
use crate::source::Span;
use crate::submittal::{RecordIndex, Records, Slot};
use crate::vocabulary::{FieldId, Vocabulary};

/// A submittal as read, with its vocabulary and text.
#[derive(Debug, Clone, Copy)]
pub struct Site<'a> {
    /// The declared fields.
    pub vocabulary: &'a Vocabulary,
    /// The text.
    pub tree: &'a Tree,
    /// The values.
    pub records: &'a Records,
}

impl<'a> Site<'a> {
    /// The records of the gates.
    pub fn gates(self) -> Vec<RecordIndex> {
        match self.vocabulary.record(0).field("gates") {
            Some(field) => self.records.list(self.records.slot(0, field)).to_vec(),
            None => Vec::new(),
        }
    }

    /// A field of a record by path, where its type has it.
    pub fn slot_at(self, record: RecordIndex, path: &str) -> &'a Slot {
        let declared = self.vocabulary.record(self.records.record(record).ty);
        declared.field(path).map_or(&Slot::Missing, |field| self.records.slot(record, field))
    }

    /// The text of a field of a record by path, on one line.
    pub fn text_at(self, record: RecordIndex, path: &str) -> Option<String> {
        let declared = self.vocabulary.record(self.records.record(record).ty);
        let field = declared.field(path)?;
        let slot = self.records.slot(record, field);
        if slot.is_left_out() || *slot == Slot::Unreadable {
            return None;
        }
        let node = self.records.place(record, field).value?;
        let text = self.tree.text(node)?;
        Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    /// Where the value of a field of a record stands, by path.
    pub fn place_at(self, record: RecordIndex, path: &str) -> Option<Span> {
        let declared = self.vocabulary.record(self.records.record(record).ty);
        let value = self.records.place(record, declared.field(path)?).value?;
        Some(self.tree.span(self.tree.resolve(value)))
    }

    /// The mark of a gate, or its number where it has none.
    pub fn mark(self, gate: RecordIndex, number: usize) -> String {
        self.text_at(gate, "mark").filter(|mark| !mark.is_empty()).unwrap_or_else(|| format!("no. {number}"))
    }

    /// The type of a gate, where it is shown.
    pub fn type_of(self, gate: RecordIndex) -> Option<&'a str> {
        match self.slot_at(gate, "type") {
            Slot::Choice(symbol) => Some(self.vocabulary.symbol_name(*symbol)),
            _ => None,
        }
    }

    /// Whether the rules are about gates of this type. One whose type is not shown is reviewed, and its type asked for.
    pub fn is_reviewed(self, gate: RecordIndex) -> bool {
        self.type_of(gate).is_none_or(|name| name == "cantilever_slide")
    }

    /// The value of a field.
    pub fn slot(self, seen: Seen) -> &'a Slot {
        self.records.slot(seen.record, seen.field.field)
    }

    /// The dotted path of a field from the top.
    pub fn path(self, seen: Seen) -> String {
        self.vocabulary.path_of(seen.field.record, seen.field.field)
    }

    /// The words for a field.
    pub fn label(self, seen: Seen) -> &'a str {
        &self.vocabulary.field(seen.field.record, seen.field.field).label
    }

    /// The author's text of a value, on one line; `None` for what is no scalar.
    pub fn written(self, seen: Seen) -> Option<String> {
        let node = self.records.place(seen.record, seen.field.field).value?;
        self.tree.text(node).map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    /// Where a field is to be pointed at, with a second label where it is written as an alias. A missing field is
    /// pointed at where it would stand; nothing at all, at the gate.
    pub fn point(self, seen: Option<Seen>, gate: RecordIndex) -> (Label, Vec<Label>) {
        let Some(seen) = seen else {
            return (Label { span: self.head(gate), text: String::new() }, Vec::new());
        };
        let label = self.label(seen).to_owned();
        match self.slot(seen) {
            Slot::Missing => {
                let top = self.topmost_missing(seen);
                let key = &self.vocabulary.field(seen.field.record, top).key;
                (Label { span: self.parent_place(seen, top), text: format!("no `{key}` here") }, Vec::new())
            }
            Slot::Section | Slot::Records { .. } | Slot::Choices { .. } | Slot::Texts { .. } => {
                let key = self.records.place(seen.record, seen.field.field).key;
                (Label { span: key.map_or(self.head(seen.record), |key| self.tree.span(key)), text: label }, Vec::new())
            }
            _ => match self.records.place(seen.record, seen.field.field).value {
                Some(node) => {
                    let (label, mut used) = self.value_label(node, label);
                    used.extend(
                        self.section_aliases(seen)
                            .map(|alias| Label { span: self.tree.span(alias), text: "used here".to_owned() }),
                    );
                    (label, used)
                }
                None => (Label { span: self.head(seen.record), text: label }, Vec::new()),
            },
        }
    }

    /// The aliases that the sections above a field are written as, its record included.
    fn section_aliases(self, seen: Seen) -> impl Iterator<Item = NodeId> + 'a {
        let declared = self.vocabulary.record(seen.field.record);
        let mut at = declared.fields[seen.field.field as usize].parent;
        let sections = std::iter::from_fn(move || {
            let section = at?;
            at = declared.fields[section as usize].parent;
            Some(self.records.place(seen.record, section).value)
        });
        let record = Some(self.records.record(seen.record).node);
        sections
            .chain(std::iter::once(record))
            .flatten()
            .filter(move |node| matches!(self.tree.node(*node).kind, Kind::Alias(_)))
    }

    fn value_label(self, node: NodeId, label: String) -> (Label, Vec<Label>) {
        match self.tree.node(node).kind {
            Kind::Alias(target) => {
                let used = Label { span: self.tree.span(node), text: "used here".to_owned() };
                (Label { span: self.tree.span(target), text: label }, vec![used])
            }
            _ => (Label { span: self.tree.span(node), text: label }, Vec::new()),
        }
    }

    /// The outermost section above a missing field that is missing itself, or the field: one cause, one question.
    pub fn topmost_missing(self, seen: Seen) -> FieldId {
        let declared = self.vocabulary.record(seen.field.record);
        let mut top = seen.field.field;
        while let Some(parent) = declared.fields[top as usize].parent {
            if *self.records.slot(seen.record, parent) == Slot::Section {
                break;
            }
            top = parent;
        }
        top
    }

    /// The key of the deepest section that is there above a missing field.
    fn parent_place(self, seen: Seen, missing: FieldId) -> Span {
        let declared = self.vocabulary.record(seen.field.record);
        let parent = declared.fields[missing as usize].parent;
        let key = parent.and_then(|parent| self.records.place(seen.record, parent).key);
        key.map_or_else(|| self.head(seen.record), |key| self.tree.span(key))
    }

    /// The first key of a record.
    pub fn head(self, record: RecordIndex) -> Span {
        let node = self.records.record(record).node;
        self.tree.entries(node).next().map_or_else(|| self.tree.span(node), |(key, _)| self.tree.span(key))
    }
}
