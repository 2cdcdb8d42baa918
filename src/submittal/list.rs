//! Lists and maps. A list that is written is complete: an element that cannot be read is still an element, so it counts,
//! and all that it would show is unreadable.

use super::read::{Reader, to_index, what};
use super::record::{RecordIndex, Slot};
use crate::document::{Kind, NodeId};
use crate::problem::Problem;
use crate::vocabulary::{FieldId, ListOf, RecordId, Symbol};

impl<'a> Reader<'a> {
    /// Whether a list has more elements than its field may have, which is told. Rules hold the elements of a list against
    /// each other, so that the time they take grows with its square, and each element has room for all its fields.
    pub(super) fn is_too_long(&mut self, record: RecordIndex, field: FieldId, list: NodeId) -> bool {
        let declared = self.vocabulary.field(self.read.records.record(record).ty, field);
        let Some(most) = declared.most else { return false };
        // Not counted to its end, which a thousand aliases may lead to.
        if self.tree.items(list).nth(most as usize).is_none() {
            return false;
        }
        let at = self.read.records.place(record, field).key.unwrap_or(list);
        let message = format!("{}: expected a list of at most {most} elements, found more", declared.label);
        let problem = Problem::unreadable("list-too-long", self.tree.span(at), message);
        self.tell(problem.with_help("look for elements that repeat, or split the gate or the submittal"));
        true
    }

    pub(super) fn list(&mut self, label: &str, of: &ListOf, node: NodeId) -> Slot {
        match of {
            ListOf::Record(element) => self.list_of_records(label, *element, node),
            ListOf::Choice(choices) => self.list_of_choices(label, choices, node),
            ListOf::Text => self.list_of_texts(label, node),
        }
    }

    pub(super) fn map(&mut self, label: &str, entry: RecordId, node: NodeId) -> Slot {
        let (tree, outer) = (self.tree, self.open.len());
        for (key, value) in tree.entries(node) {
            let Some(name) = tree.text(key) else {
                self.fault("wrong-kind", key, format!("{label}: a name is expected, {} is found", what(tree, key)));
                continue;
            };
            if name == "<<" {
                continue; // a merge key: reported with the document's own problems
            }
            if self.is_element_too_many(key) {
                break;
            }
            let record = self.through(value, |reader| match tree.kind(value) {
                Kind::Mapping => reader.record(value, entry, Some(key)),
                _ => reader.no_section(&format!("{label}: `{name}`"), entry, value, Some(key)),
            });
            self.open.push(record);
        }
        self.close(outer)
    }

    fn list_of_records(&mut self, label: &str, element: RecordId, node: NodeId) -> Slot {
        let (tree, outer) = (self.tree, self.open.len());
        for (index, item) in tree.items(node).enumerate() {
            if self.is_element_too_many(item) {
                break;
            }
            let record = self.through(item, |reader| match tree.kind(item) {
                Kind::Mapping => reader.record(item, element, None),
                _ => reader.no_section(&format!("{label}: element {}", index + 1), element, item, None),
            });
            self.open.push(record);
        }
        self.close(outer)
    }

    /// An element or entry that is no section: a record whose fields are all unreadable.
    fn no_section(&mut self, named: &str, ty: RecordId, node: NodeId, key: Option<NodeId>) -> RecordIndex {
        if self.tree.kind(node) != Kind::BrokenAlias {
            let message = format!("{named} must be a section with named fields; {} is found", self.found(node));
            self.fault("wrong-kind", node, message);
        }
        self.empty_record(node, ty, key, Slot::Unreadable)
    }

    /// A list of one record.
    pub(super) fn list_of(&mut self, element: RecordIndex) -> Slot {
        let outer = self.open.len();
        self.open.push(element);
        self.close(outer)
    }

    /// Moves the elements read since a list was begun to the elements of all lists.
    fn close(&mut self, outer: usize) -> Slot {
        let first = to_index(self.read.records.elements.len());
        let len = to_index(self.open.len() - outer);
        self.read.records.elements.extend(self.open.drain(outer..));
        Slot::Records { first, len }
    }

    fn list_of_choices(&mut self, label: &str, choices: &[Symbol], node: NodeId) -> Slot {
        let (tree, first) = (self.tree, to_index(self.read.records.choices.len()));
        let mut readable = true;
        for item in tree.items(node) {
            if self.is_element_too_many(item) {
                break;
            }
            match self.single(label, "choice", item).and_then(|text| self.choice(label, choices, text, item)) {
                Some(symbol) => self.read.records.choices.push((symbol, item)),
                None => readable = false,
            }
        }
        let len = to_index(self.read.records.choices.len()) - first;
        if readable { Slot::Choices { first, len } } else { Slot::Unreadable }
    }

    fn list_of_texts(&mut self, label: &str, node: NodeId) -> Slot {
        let (tree, first) = (self.tree, to_index(self.read.records.texts.len()));
        let mut readable = true;
        for item in tree.items(node) {
            if self.is_element_too_many(item) {
                break;
            }
            match self.single(label, "text", item) {
                Some(text) => {
                    self.warn_yaml_1_1(label, text, item);
                    self.read.records.texts.push(item);
                }
                None => readable = false,
            }
        }
        let len = to_index(self.read.records.texts.len()) - first;
        if readable { Slot::Texts { first, len } } else { Slot::Unreadable }
    }

    /// The text of an element that must be a single value; `None`, and a problem, where it shows none.
    fn single(&mut self, label: &str, expected: &str, node: NodeId) -> Option<&'a str> {
        let tree = self.tree;
        let text = tree.text(node).filter(|text| !self.is_nothing(node, text) && !self.is_placeholder(text));
        if text.is_none() && tree.kind(node) != Kind::BrokenAlias {
            let found = self.found(node);
            let message = format!("{label}: a {expected} is expected, {found} is found");
            let help = "a list that is written is complete: name each element, or leave the list out";
            let problem = self.fault_at("wrong-kind", node, message);
            self.report(node, problem.with_help(help));
        }
        text
    }

    /// What an element is, with the word that it says where it is a placeholder.
    fn found(&self, node: NodeId) -> String {
        match self.tree.text(node) {
            Some(text) if self.is_nothing(node, text) => "nothing".to_owned(),
            Some(text) if self.is_placeholder(text) => format!("`{}`", text.trim()),
            _ => what(self.tree, node).to_owned(),
        }
    }
}
