//! The schema-directed reader: records, their sections and fields. Lists and maps are read in `list`, single values in
//! `value`; `hint` words what a wrong name was probably meant to be.

use super::budget::Budget;
use super::hint::short;
use super::record::{Place, Record, RecordIndex, Records, Slot};
use crate::document::{Kind, NodeId, Tree};
use crate::problem::{Allowance, Problem};
use crate::source::Span;
use crate::vocabulary::{FieldId, FieldKind, RecordId, RecordType, Vocabulary};

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
    let mut reader = Reader::new(tree, vocabulary, mode, false);
    if tree.kind(node) == Kind::Mapping {
        reader.record(node, record, None);
    } else {
        let message = format!("a section with named fields is expected, {} is found", what(tree, node));
        reader.fault("wrong-kind", node, message);
        reader.empty_record(node, record, None, Slot::Missing);
    }
    reader.read
}

/// Unknown names of one document that get a hint; a file of a million of them is no reason to take a minute.
const MOST_HINTS: u16 = 500;

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
    /// Elements of the lists that are being read, the innermost last.
    pub(super) open: Vec<RecordIndex>,
    /// How many more unknown names are compared with the known ones, which takes longer than all other reading.
    pub(super) hints: u16,
    /// How much was read, which a short file can multiply.
    pub(super) budget: Budget,
    /// How many more problems are kept.
    allowance: Allowance,
}

impl<'a> Reader<'a> {
    pub(super) fn new(tree: &'a Tree, vocabulary: &'a Vocabulary, mode: Mode, overlay: bool) -> Self {
        // A field takes two nodes of the tree, its key and its value; most records have more fields than are written.
        let read = Read { records: Records::with_room(tree.len()), problems: Vec::new() };
        Reader {
            tree,
            vocabulary,
            mode,
            overlay,
            read,
            open: Vec::new(),
            hints: MOST_HINTS,
            budget: Budget::default(),
            allowance: Allowance::default(),
        }
    }

    /// A record whose fields are all in one state.
    pub(super) fn empty_record(&mut self, node: NodeId, ty: RecordId, key: Option<NodeId>, all: Slot) -> RecordIndex {
        let records = &mut self.read.records;
        let index = to_index(records.records.len());
        let first = to_index(records.slots.len());
        let fields = self.vocabulary.record(ty).fields.len();
        records.records.push(Record { ty, first, node, key });
        records.slots.resize(records.slots.len() + fields, all);
        records.places.resize(records.places.len() + fields, Place::default());
        index
    }

    pub(super) fn record(&mut self, node: NodeId, ty: RecordId, key: Option<NodeId>) -> RecordIndex {
        let index = self.empty_record(node, ty, key, Slot::Missing);
        self.section(index, ty, None, node);
        index
    }

    pub(super) fn section(&mut self, record: RecordIndex, ty: RecordId, section: Option<FieldId>, node: NodeId) {
        let (tree, declared) = (self.tree, self.vocabulary.record(ty));
        // Most authors keep the order of the schema: the field after the one just met is tried before the search.
        let mut likely = section.map_or(Some(0), |section| section.checked_add(1));
        for (key, value) in tree.entries(node) {
            let Some(name) = tree.text(key) else {
                let message = format!("the name of a field is expected, {} is found", what(tree, key));
                self.fault("wrong-kind", key, message);
                continue;
            };
            if name == "<<" {
                continue; // a merge key: reported with the document's own problems
            }
            if self.is_field_too_many(key) {
                return;
            }
            let field = likely
                .filter(|likely| is_child(declared, *likely, section, name))
                .or_else(|| declared.child(section, name))
                .or_else(|| self.renamed(declared, section, name, key));
            match field {
                Some(field) => {
                    likely = declared.next(field);
                    self.field(record, declared, field, key, value);
                }
                None => self.unknown_field(ty, section, name, key),
            }
        }
        if self.mode == Mode::Whole {
            self.ask_for_required(record, declared, section, node);
        }
    }

    /// The field of which a key is an earlier name, with the advice to write the new one.
    fn renamed(&mut self, declared: &RecordType, section: Option<FieldId>, name: &str, key: NodeId) -> Option<FieldId> {
        let mut children = declared.children(section).iter().map(|(_, field)| *field);
        let field = children.find(|field| declared.fields[*field as usize].was.iter().any(|was| was == name))?;
        let now = &declared.fields[field as usize].key;
        let problem = Problem::advice("renamed-field", self.tree.span(key), format!("`{name}` is now called `{now}`"));
        self.tell(problem.with_help(format!("write `{now}`")));
        Some(field)
    }

    /// Asks for the required fields of a section that is there.
    fn ask_for_required(&mut self, record: RecordIndex, declared: &RecordType, section: Option<FieldId>, node: NodeId) {
        for (name, field) in declared.children(section) {
            let asked = &declared.fields[*field as usize];
            let slot = *self.read.records.slot(record, *field);
            if !asked.required || !self.says_nothing(slot) {
                continue;
            }
            let meaning = lower_first(&asked.description);
            let (at, state) = match self.read.records.place(record, *field) {
                Place { value: Some(value), .. } if slot != Slot::Missing => {
                    let found = match self.tree.text(value).unwrap_or_default().trim() {
                        "" => "an empty text".to_owned(),
                        word => format!("`{}`", short(word)),
                    };
                    (self.tree.span(self.tree.resolve(value)), format!("has no value ({found} is found)"))
                }
                Place { key: Some(key), .. } => (self.tree.span(key), "has no value".to_owned()),
                Place { key: None, .. } => (self.head(record, section, node), "is missing".to_owned()),
            };
            let problem = Problem::fault("missing-field", at, format!("`{name}` {state}: {meaning}"));
            self.tell(problem.with_help(format!("write `{name}:` with its value")));
        }
    }

    /// Whether a field that must have a value has none: it is left out, or its text is empty or a word for "not yet".
    fn says_nothing(&self, slot: Slot) -> bool {
        match slot {
            Slot::NotApplicable => true,
            Slot::Text(node) => self.tree.text(node).is_some_and(|text| text.trim().is_empty()),
            slot => slot.is_left_out(),
        }
    }

    /// Where to point for something missing: the key of the section or of the map's entry, else the first key.
    fn head(&self, record: RecordIndex, section: Option<FieldId>, node: NodeId) -> Span {
        let records = &self.read.records;
        let key = match section {
            Some(section) => records.place(record, section).key,
            None => records.record(record).key,
        };
        let first = || self.tree.entries(node).next().map(|(key, _)| key);
        self.tree.span(key.or_else(first).unwrap_or(node))
    }

    pub(super) fn field(
        &mut self,
        record: RecordIndex,
        declared: &RecordType,
        field: FieldId,
        key: NodeId,
        value: NodeId,
    ) {
        let at = self.read.records.records[record as usize].first as usize + field as usize;
        if self.overlay {
            self.forget(record, declared, field);
        } else if let Some(earlier) = self.read.records.places[at].key {
            self.twice(record, declared, field, (earlier, key), value);
            return;
        }
        self.read.records.places[at] = Place { key: Some(key), value: Some(value) };
        let slot = self.through(value, |reader| reader.slot(record, declared, field, value));
        self.read.records.slots[at] = slot;
        let spread = matches!(slot, Slot::Placeholder | Slot::NotApplicable | Slot::Unreadable)
            || (self.overlay && slot == Slot::Missing);
        if spread {
            self.spread(record, declared, field, slot);
        }
    }

    /// Gives the fields below a section its state and its place.
    fn spread(&mut self, record: RecordIndex, declared: &RecordType, section: FieldId, slot: Slot) {
        if declared.fields[section as usize].kind != FieldKind::Section {
            return;
        }
        let first = self.read.records.records[record as usize].first as usize;
        let place = self.read.records.places[first + section as usize];
        for below in declared.descendants(section) {
            self.read.records.slots[first + below as usize] = slot;
            self.read.records.places[first + below as usize] = place;
        }
    }

    /// A field that is written twice: which of the two holds is anybody's guess. A key that stands twice is reported with
    /// the document's problems; an earlier name beside the present one is not the same key.
    fn twice(
        &mut self,
        record: RecordIndex,
        declared: &RecordType,
        field: FieldId,
        (earlier, key): (NodeId, NodeId),
        value: NodeId,
    ) {
        let (one, other) = (self.tree.text(earlier), self.tree.text(key));
        if one != other {
            let (one, other) = (one.unwrap_or_default(), other.unwrap_or_default());
            let message = format!("`{other}` and `{one}` are the same field");
            let problem = Problem::fault("duplicate-key", self.tree.span(key), message)
                .with_label(self.tree.span(earlier), "first written here")
                .with_help(format!("keep one of them, as `{}`", declared.fields[field as usize].key));
            self.tell(problem);
        }
        // Read aside, for the problems in it alone.
        let before = self.read.records.mark();
        let aside = self.empty_record(value, self.read.records.record(record).ty, None, Slot::Missing);
        self.field(aside, declared, field, key, value);
        self.read.records.cut_back(before);
        let at = self.read.records.records[record as usize].first as usize + field as usize;
        self.read.records.slots[at] = Slot::Unreadable;
        self.spread(record, declared, field, Slot::Unreadable);
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
            (Kind::Mapping, FieldKind::Map(entry)) => self.map(&declared_field.label, *entry, value),
            (Kind::Sequence, FieldKind::List(_)) if self.is_too_long(record, field, value) => Slot::Unreadable,
            (Kind::Sequence, FieldKind::List(of)) => self.list(&declared_field.label, of, value),
            _ => self.wrong_kind(declared_field, value),
        }
    }

    /// Reports a fault at a key or value.
    pub(super) fn fault(&mut self, code: &'static str, node: NodeId, message: String) {
        let problem = self.fault_at(code, node, message);
        self.report(node, problem);
    }

    /// A fault at a key or value; behind an alias, at the anchor's text.
    pub(super) fn fault_at(&self, code: &'static str, node: NodeId, message: String) -> Problem {
        Problem::fault(code, self.tree.span(self.tree.resolve(node)), message)
    }

    /// Reports a problem of a value, with the alias that it was reached by.
    pub(super) fn report(&mut self, node: NodeId, mut problem: Problem) {
        if let Kind::Alias(_) = self.tree.node(node).kind {
            problem = problem.with_label(self.tree.span(node), "used here");
        }
        self.tell(problem);
    }

    /// Keeps a problem, unless there are too many.
    pub(super) fn tell(&mut self, problem: Problem) {
        self.read.problems.extend(self.allowance.admit(problem));
    }
}

fn is_child(declared: &RecordType, field: FieldId, section: Option<FieldId>, name: &str) -> bool {
    declared.fields.get(field as usize).is_some_and(|field| field.parent == section && field.key == name)
}

pub(super) fn to_index(len: usize) -> u32 {
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
