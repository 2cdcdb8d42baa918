//! The schema-directed reader: sections, lists and maps. Single values are read in `value`.

use super::record::{Place, Record, RecordIndex, Records, Slot};
use crate::document::{Kind, NodeId, Tree};
use crate::problem::Problem;
use crate::source::Span;
use crate::vocabulary::{FieldId, FieldKind, ListOf, RecordId, RecordType, Symbol, Vocabulary, nearest_name};

/// How strictly to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// A whole document: required fields are asked for.
    Whole,
    /// A part, such as the gate of a case: nothing is required.
    Fragment,
}

/// What was read.
#[derive(Debug, Default)]
pub struct Read {
    /// The records; the first is of the type that was asked for.
    pub records: Records,
    /// Every structural problem, in the order met.
    pub problems: Vec<Problem>,
}

/// Reads a node as a record of a type.
pub fn read(tree: &Tree, node: NodeId, vocabulary: &Vocabulary, record: RecordId, mode: Mode) -> Read {
    let mut reader = Reader { tree, vocabulary, mode, overlay: false, read: Read::default() };
    if tree.kind(node) == Kind::Mapping {
        reader.record(node, record, None);
    } else {
        let message = format!("a section with named fields is expected, {} is found", what(tree, node));
        reader.read.problems.push(Problem::fault("wrong-kind", tree.span(node), message));
        reader.empty_record(node, record, None);
    }
    reader.read
}

/// What a node is, in words.
pub(super) fn what(tree: &Tree, node: NodeId) -> &'static str {
    match tree.kind(node) {
        Kind::Mapping => "a section with named fields",
        Kind::Sequence => "a list",
        Kind::Scalar(_) if tree.is_absent(node) => "nothing",
        Kind::Scalar(_) => "a single value",
        Kind::Alias(_) | Kind::BrokenAlias => "an alias that leads nowhere",
    }
}

pub(super) struct Reader<'a> {
    pub(super) tree: &'a Tree,
    pub(super) vocabulary: &'a Vocabulary,
    pub(super) mode: Mode,
    /// Whether a field that is there already is replaced: the layers of a case.
    pub(super) overlay: bool,
    pub(super) read: Read,
}

impl<'a> Reader<'a> {
    pub(super) fn empty_record(&mut self, node: NodeId, ty: RecordId, key: Option<NodeId>) -> RecordIndex {
        let records = &mut self.read.records;
        let index = to_index(records.records.len());
        let first = to_index(records.slots.len());
        let fields = self.vocabulary.record(ty).fields.len();
        records.records.push(Record { ty, first, node, key });
        records.slots.resize(records.slots.len() + fields, Slot::Missing);
        records.places.resize(records.places.len() + fields, Place::default());
        index
    }

    fn record(&mut self, node: NodeId, ty: RecordId, key: Option<NodeId>) -> RecordIndex {
        let index = self.empty_record(node, ty, key);
        self.section(index, ty, None, node);
        index
    }

    pub(super) fn section(&mut self, record: RecordIndex, ty: RecordId, section: Option<FieldId>, node: NodeId) {
        let (tree, declared) = (self.tree, self.vocabulary.record(ty));
        for (key, value) in tree.entries(node) {
            let Some(name) = tree.text(key) else {
                let message = format!("the name of a field is expected, {} is found", what(tree, key));
                self.problem(Problem::fault("wrong-kind", tree.span(key), message));
                continue;
            };
            if name == "<<" {
                continue; // a merge key: reported with the document's own problems
            }
            match declared.child(section, name) {
                Some(field) => self.field(record, declared, field, key, value),
                None => match self.renamed(declared, section, name) {
                    Some(field) => {
                        let now = &declared.fields[field as usize].key;
                        let problem = Problem::advice("renamed-field", tree.span(key), format!("`{name}` is now called `{now}`"));
                        self.problem(problem.with_help(format!("write `{now}`")));
                        self.field(record, declared, field, key, value);
                    }
                    None => self.unknown_field(declared, section, name, key),
                },
            }
        }
        if self.mode == Mode::Whole {
            self.ask_for_required(record, declared, section, node);
        }
    }

    fn renamed(&self, declared: &RecordType, section: Option<FieldId>, name: &str) -> Option<FieldId> {
        let children = declared.children(section);
        children.iter().map(|(_, field)| *field).find(|field| declared.fields[*field as usize].was.iter().any(|was| was == name))
    }

    fn unknown_field(&mut self, declared: &RecordType, section: Option<FieldId>, name: &str, key: NodeId) {
        let within = section.map_or(String::new(), |section| format!(" in `{}`", declared.fields[section as usize].path));
        let problem = Problem::fault("unknown-field", self.tree.span(key), format!("there is no field `{name}`{within}"));
        let siblings = declared.children(section).iter().map(|(key, _)| key.as_str());
        let elsewhere = || declared.fields.iter().find(|field| field.key == name && field.parent.is_some());
        let help = match nearest_name(name, siblings.clone()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => match elsewhere() {
                Some(field) => format!("it belongs at `{}`", field.path),
                None => {
                    let known: Vec<&str> = siblings.take(12).collect();
                    let more = declared.children(section).len().saturating_sub(known.len());
                    let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
                    format!("the fields here are {}{rest}", known.join(", "))
                }
            },
        };
        self.problem(problem.with_help(help));
    }

    fn ask_for_required(&mut self, record: RecordIndex, declared: &RecordType, section: Option<FieldId>, node: NodeId) {
        for (key, field) in declared.children(section) {
            if declared.fields[*field as usize].required && self.read.records.place(record, *field).key.is_none() {
                let at = self.first_key(node);
                let message = format!("`{key}` is missing: {}", lower_first(&declared.fields[*field as usize].description));
                self.problem(Problem::fault("missing-field", at, message).with_help(format!("add `{key}:`")));
            }
        }
    }

    /// Where to point for something missing in a mapping.
    fn first_key(&self, node: NodeId) -> Span {
        self.tree.entries(node).next().map_or(self.tree.span(node), |(key, _)| self.tree.span(key))
    }

    pub(super) fn field(&mut self, record: RecordIndex, declared: &RecordType, field: FieldId, key: NodeId, value: NodeId) {
        let at = self.read.records.records[record as usize].first as usize + field as usize;
        if self.overlay {
            self.forget(record, declared, field);
        } else if self.read.records.places[at].key.is_some() {
            // Which of the two holds is anybody's guess; the duplicate itself is reported with the document's problems.
            self.read.records.slots[at] = Slot::Unreadable;
            return;
        }
        self.read.records.places[at] = Place { key: Some(key), value: Some(value) };
        let slot = self.slot(record, declared, field, value);
        self.read.records.slots[at] = slot;
        let spread = matches!(slot, Slot::Placeholder | Slot::NotApplicable | Slot::Unreadable)
            || (self.overlay && slot == Slot::Missing);
        if spread && declared.fields[field as usize].kind == FieldKind::Section {
            let first = self.read.records.records[record as usize].first as usize;
            for below in declared.descendants(field) {
                self.read.records.slots[first + below as usize] = slot;
                self.read.records.places[first + below as usize] = Place { key: Some(key), value: Some(value) };
            }
        }
    }

    /// Clears a field before it is replaced, and what stands below it unless a section is laid over a section.
    fn forget(&mut self, record: RecordIndex, declared: &RecordType, field: FieldId) {
        let records = &mut self.read.records;
        let first = records.records[record as usize].first as usize;
        if records.slots[first + field as usize] == Slot::Section {
            return;
        }
        for at in std::iter::once(field).chain(declared.descendants(field)) {
            records.slots[first + at as usize] = Slot::Missing;
            records.places[first + at as usize] = Place::default();
        }
    }

    fn slot(&mut self, record: RecordIndex, declared: &RecordType, field: FieldId, value: NodeId) -> Slot {
        let declared_field = &declared.fields[field as usize];
        let ty = self.read.records.records[record as usize].ty;
        match (self.tree.kind(value), &declared_field.kind) {
            (Kind::BrokenAlias, _) => Slot::Unreadable,
            (_, FieldKind::Any) => Slot::Any(value),
            (Kind::Scalar(_), _) => self.value(declared_field, value),
            (Kind::Mapping, FieldKind::Section) => {
                self.section(record, ty, Some(field), value);
                Slot::Section
            }
            (Kind::Mapping, FieldKind::Map(entry)) => self.map(*entry, value),
            (Kind::Sequence, FieldKind::List(of)) => match of {
                ListOf::Record(element) => self.list_of_records(&declared_field.label, *element, value),
                ListOf::Choice(choices) => self.list_of_choices(&declared_field.label, choices, value),
                ListOf::Text => self.list_of_texts(&declared_field.label, value),
            },
            _ => self.wrong_kind(declared_field, value),
        }
    }

    fn map(&mut self, entry: RecordId, node: NodeId) -> Slot {
        let mut entries = Vec::new();
        for (key, value) in self.tree.entries(node) {
            if self.tree.kind(value) == Kind::Mapping {
                entries.push(self.record(value, entry, Some(key)));
            } else {
                let message = format!("a section with named fields is expected, {} is found", what(self.tree, value));
                self.problem(Problem::fault("wrong-kind", self.tree.span(value), message));
            }
        }
        self.elements(&entries)
    }

    fn list_of_records(&mut self, label: &str, element: RecordId, node: NodeId) -> Slot {
        let mut elements = Vec::new();
        for (index, item) in self.tree.items(node).enumerate() {
            if self.tree.kind(item) == Kind::Mapping {
                elements.push(self.record(item, element, None));
            } else if self.tree.kind(item) != Kind::BrokenAlias {
                let found = what(self.tree, item);
                let message = format!("{label}: element {} must be a section with named fields; {found} is found", index + 1);
                self.problem(Problem::fault("wrong-kind", self.tree.span(item), message));
            }
        }
        self.elements(&elements)
    }

    pub(super) fn elements(&mut self, elements: &[RecordIndex]) -> Slot {
        let first = to_index(self.read.records.elements.len());
        self.read.records.elements.extend_from_slice(elements);
        Slot::Records { first, len: to_index(elements.len()) }
    }

    fn list_of_choices(&mut self, label: &str, choices: &[Symbol], node: NodeId) -> Slot {
        let first = to_index(self.read.records.choices.len());
        let mut readable = true;
        for item in self.tree.items(node) {
            match self.choice(label, choices, item) {
                Some(symbol) => self.read.records.choices.push((symbol, item)),
                None => readable = false,
            }
        }
        let len = to_index(self.read.records.choices.len()) - first;
        if readable { Slot::Choices { first, len } } else { Slot::Unreadable }
    }

    fn list_of_texts(&mut self, label: &str, node: NodeId) -> Slot {
        let first = to_index(self.read.records.texts.len());
        for item in self.tree.items(node) {
            if self.tree.text(item).is_some() {
                self.read.records.texts.push(item);
            } else {
                let message = format!("{label}: a single value is expected, {} is found", what(self.tree, item));
                self.problem(Problem::fault("wrong-kind", self.tree.span(item), message));
            }
        }
        Slot::Texts { first, len: to_index(self.read.records.texts.len()) - first }
    }

    pub(super) fn problem(&mut self, problem: Problem) {
        self.read.problems.push(problem);
    }
}

fn to_index(len: usize) -> u32 {
    u32::try_from(len).unwrap_or(u32::MAX)
}

fn lower_first(text: &str) -> String {
    let text = text.trim_end_matches('.');
    let mut chars = text.chars();
    match chars.next() {
        Some(first) if !chars.as_str().starts_with(|c: char| c.is_uppercase()) => {
            first.to_lowercase().chain(chars).collect()
        }
        _ => text.to_owned(),
    }
}
