//! Records: the values of one document, as slots beside the places they were written.
//!
//! Filled by the reader, then only read: by the machine of `expr` at every field of every rule, so that a field is an index
//! and not a name, and by `review` for the places that findings point at.

use crate::document::NodeId;
use crate::quantity::{Quantity, System};
use crate::vocabulary::{FieldId, RecordId, Symbol};

/// Index of a record among the records of its document; 0 is the document itself.
pub type RecordIndex = u32;

/// The state and value of one field (language: states of a value).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slot {
    /// Key absent, or nothing or `~` after it; or its section is missing.
    Missing,
    /// A word such as `TBD` (or its section or list is one): missing, with the word at the place.
    Placeholder,
    /// Written, and not readable as its kind; a problem was reported. Also below an unreadable section.
    Unreadable,
    /// `n/a` where the vocabulary allows it, or below a section that is `n/a`.
    NotApplicable,
    /// A section that is there.
    Section,
    /// A measured value, ratio, slope, count; or a date as days since 1970-01-01.
    Quantity(Quantity, System),
    /// A choice.
    Choice(Symbol),
    /// A yes or no.
    YesNo(bool),
    /// A text, at its node.
    Text(NodeId),
    /// A list of records, or a map: `len` entries of `Records::elements` from `first`.
    Records {
        /// First entry.
        first: u32,
        /// How many.
        len: u32,
    },
    /// A list of choices: `len` entries of `Records::choices` from `first`.
    Choices {
        /// First entry.
        first: u32,
        /// How many.
        len: u32,
    },
    /// A list of texts: `len` entries of `Records::texts` from `first`.
    Texts {
        /// First entry.
        first: u32,
        /// How many.
        len: u32,
    },
    /// A node taken as it stands.
    Any(NodeId),
}

impl Slot {
    /// Whether nothing is stated: left out, or a word for a value that is still to come.
    pub fn is_left_out(&self) -> bool {
        matches!(self, Slot::Missing | Slot::Placeholder)
    }

    /// How many elements a list has; `None` for what is no list.
    pub fn list_len(&self) -> Option<u32> {
        match *self {
            Slot::Records { len, .. } | Slot::Choices { len, .. } | Slot::Texts { len, .. } => Some(len),
            _ => None,
        }
    }
}

/// Where a field is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Place {
    /// Its key.
    pub key: Option<NodeId>,
    /// Its value, as written (an alias stays an alias).
    pub value: Option<NodeId>,
}

/// One record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Record {
    /// Its type.
    pub ty: RecordId,
    /// Its first slot.
    pub(super) first: u32,
    /// Its mapping, as written.
    pub node: NodeId,
    /// Its name, for an entry of a map.
    pub key: Option<NodeId>,
}

/// All records of one document.
#[derive(Debug, Clone, Default)]
pub struct Records {
    pub(super) records: Vec<Record>,
    pub(super) slots: Vec<Slot>,
    pub(super) places: Vec<Place>,
    /// Elements of the lists of records.
    pub elements: Vec<RecordIndex>,
    /// Elements of the lists of choices, with their nodes.
    pub choices: Vec<(Symbol, NodeId)>,
    /// Elements of the lists of texts.
    pub texts: Vec<NodeId>,
}

impl Records {
    /// No records, with room for so many fields.
    pub(super) fn with_room(fields: usize) -> Records {
        Records {
            records: Vec::with_capacity(fields / 8),
            slots: Vec::with_capacity(fields),
            places: Vec::with_capacity(fields),
            ..Records::default()
        }
    }

    /// A record.
    pub fn record(&self, index: RecordIndex) -> &Record {
        &self.records[index as usize]
    }

    /// Every slot of every record.
    pub fn slots(&self) -> &[Slot] {
        &self.slots
    }

    /// How many records there are.
    pub fn len(&self) -> u32 {
        u32::try_from(self.records.len()).unwrap_or(u32::MAX)
    }

    /// Whether nothing was read.
    pub fn is_empty(&self) -> bool {
        self.records.is_empty()
    }

    /// The slot of a field.
    pub fn slot(&self, record: RecordIndex, field: FieldId) -> &Slot {
        &self.slots[self.records[record as usize].first as usize + field as usize]
    }

    /// Where a field is written.
    pub fn place(&self, record: RecordIndex, field: FieldId) -> Place {
        self.places[self.records[record as usize].first as usize + field as usize]
    }

    /// The records of a list; empty where the slot is no list.
    pub fn list(&self, slot: &Slot) -> &[RecordIndex] {
        match *slot {
            Slot::Records { first, len } => &self.elements[first as usize..(first + len) as usize],
            _ => &[],
        }
    }

    /// How far everything reaches; see [`Records::cut_back`].
    pub(super) fn mark(&self) -> [usize; 6] {
        [
            self.records.len(),
            self.slots.len(),
            self.places.len(),
            self.elements.len(),
            self.choices.len(),
            self.texts.len(),
        ]
    }

    /// Drops what was read since a mark.
    pub(super) fn cut_back(&mut self, [records, slots, places, elements, choices, texts]: [usize; 6]) {
        self.records.truncate(records);
        self.slots.truncate(slots);
        self.places.truncate(places);
        self.elements.truncate(elements);
        self.choices.truncate(choices);
        self.texts.truncate(texts);
    }
}
