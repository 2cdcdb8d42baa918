//! Record types and their fields: what `compile` makes of a schema, for the reader, the checker of rules and the reports.
//!
//! Sections are flattened: a gate is one record whose field `leaf.frame.material` has the sections `leaf` and
//! `leaf.frame` as ancestors. The elements of a list are records of a type of their own.

use super::placeholders::Placeholders;
use crate::quantity::{Quantity, QuantityKind, Reading, Shown, show, tolerance};

/// Index of a record type in its vocabulary; 0 is the document itself.
pub type RecordId = u16;
/// Index of a field in its record type.
pub type FieldId = u16;
/// An interned choice name, the same number for the same name in every field of one vocabulary.
pub type Symbol = u16;

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub enum FieldKind {
    /// A mapping whose fields follow, flattened into the same record.
    Section,
    /// A measured value, ratio, slope or count.
    Quantity(QuantityKind),
    /// `yes`, `no`, `true`, `false`
    YesNo,
    /// Any scalar.
    Text,
    /// `2026-10-19`, `2026-10`, `2026`
    Date,
    /// One of these names.
    Choice(Vec<Symbol>),
    /// A sequence.
    List(ListOf),
    /// A mapping from names of the author's choosing to records (tables and constants of a pack).
    Map(RecordId),
    /// Taken as it stands, for a later reading (the gate of a case).
    Any,
}

/// What the elements of a list are.
#[derive(Debug, Clone, PartialEq)]
pub enum ListOf {
    /// Records of a type.
    Record(RecordId),
    /// Choices.
    Choice(Vec<Symbol>),
    /// Texts.
    Text,
}

/// One declared field.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Dotted path within its record, `leaf.frame.material`.
    pub path: String,
    /// Last part of the path: the key as written.
    pub key: String,
    /// The section it stands in; `None` at the top of the record.
    pub parent: Option<FieldId>,
    /// The words for it in findings: `x-label`, else the key with blanks for underscores.
    pub label: String,
    /// What it means, one sentence.
    pub description: String,
    /// What its value is.
    pub kind: FieldKind,
    /// Whether `n/a` may be written.
    pub not_applicable: bool,
    /// Least value allowed (SI), and whether that value itself is refused.
    pub min: Option<(Quantity, bool)>,
    /// Largest value allowed (SI).
    pub max: Option<Quantity>,
    /// How many elements it may have, where it is a list that has a limit.
    pub most: Option<u32>,
    /// Whether its section must hold it.
    pub required: bool,
    /// Words that show nothing in this field alone, beside those of the whole vocabulary.
    pub placeholders: Placeholders,
    /// Earlier names of the key, read with advice.
    pub was: Vec<String>,
}

impl Field {
    /// The bound that a value breaks, in words; an end that the value does not declare breaks none.
    pub fn broken_bound(&self, kind: QuantityKind, reading: &Reading) -> Option<String> {
        let Quantity { lo, hi, lo_declared, hi_declared, mag } = reading.quantity;
        let any_end = |breaks: &dyn Fn(f64) -> bool| (lo_declared && breaks(lo)) || (hi_declared && breaks(hi));
        let words = |bound: Quantity| show(bound, kind.dimension(), Shown { system: reading.system, extra_digits: 0 });
        // The tolerance of comparisons in rules: a bound converted from another unit is still the bound.
        let slack = |bound: Quantity| tolerance(bound, if mag.is_finite() { reading.quantity } else { bound });
        match (self.min, self.max) {
            (Some((min, true)), _) if any_end(&|end| end <= min.lo) => Some(format!("more than {}", words(min))),
            (Some((min, false)), _) if any_end(&|end| end < min.lo - slack(min)) => {
                Some(format!("at least {}", words(min)))
            }
            (_, Some(max)) if any_end(&|end| end > max.hi + slack(max)) => Some(format!("at most {}", words(max))),
            _ => None,
        }
    }
}

/// One type of record.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordType {
    /// `document`, or the key of the list whose elements it describes: `gates`, `support_posts`.
    pub name: String,
    /// Fields in schema order; a section stands before its fields.
    pub fields: Vec<Field>,
    /// The fields that stand directly at the top (index 0) or in each section (its field, plus 1), sorted by key.
    pub(super) children: Vec<Vec<(String, FieldId)>>,
    /// The field that follows each field in its section, in schema order.
    pub(super) next: Vec<Option<FieldId>>,
}

impl RecordType {
    /// The field of a dotted path.
    pub fn field(&self, path: &str) -> Option<FieldId> {
        self.fields.iter().position(|field| field.path == path).and_then(|index| FieldId::try_from(index).ok())
    }

    /// The fields that stand directly in a section (`None`: at the top), sorted by key.
    pub fn children(&self, section: Option<FieldId>) -> &[(String, FieldId)] {
        self.children.get(section.map_or(0, |field| field as usize + 1)).map_or(&[], Vec::as_slice)
    }

    /// The field of a key in a section.
    pub fn child(&self, section: Option<FieldId>, key: &str) -> Option<FieldId> {
        let children = self.children(section);
        children.binary_search_by(|(known, _)| known.as_str().cmp(key)).ok().map(|index| children[index].1)
    }

    /// The field that follows a field in its section, in schema order: mostly the next one that is written.
    pub fn next(&self, field: FieldId) -> Option<FieldId> {
        self.next.get(field as usize).copied().flatten()
    }

    /// The fields below a section, at any depth: they follow it.
    pub fn descendants(&self, section: FieldId) -> impl Iterator<Item = FieldId> + '_ {
        let prefix = format!("{}.", self.fields[section as usize].path);
        (section + 1..).take_while(move |field| {
            self.fields.get(*field as usize).is_some_and(|field| field.path.starts_with(&prefix))
        })
    }
}

/// A compiled schema.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    /// Record types; the first is the document.
    pub records: Vec<RecordType>,
    /// Names of the choices, by symbol.
    pub symbols: Vec<String>,
    /// Words that stand for a value not yet decided (`TBD`, `by others`).
    pub placeholders: Placeholders,
    /// The choice fields whose names read badly in a sentence, with the words for each of them.
    pub(super) words: Vec<(Vec<Symbol>, Vec<String>)>,
    /// Dotted path of each record type, `gate.support_posts`; empty for the document.
    pub(super) bases: Vec<String>,
}

impl Vocabulary {
    /// A record type.
    pub fn record(&self, id: RecordId) -> &RecordType {
        &self.records[id as usize]
    }

    /// A field of a record type.
    pub fn field(&self, record: RecordId, field: FieldId) -> &Field {
        &self.record(record).fields[field as usize]
    }

    /// The record type of a gate; `None` where a document of this vocabulary lists none.
    pub fn gate(&self) -> Option<RecordId> {
        self.element_of(0, "gates")
    }

    /// The record type of the elements of a list.
    fn element_of(&self, record: RecordId, path: &str) -> Option<RecordId> {
        let declared = self.record(record);
        match declared.fields[declared.field(path)? as usize].kind {
            FieldKind::List(ListOf::Record(element)) => Some(element),
            _ => None,
        }
    }

    /// The field of a path that begins with `gate.`, with the name of an element of one of the gate's `lists`, or at the
    /// top.
    pub fn field_behind(&self, path: &str, lists: &[(&str, &str)]) -> Option<&Field> {
        let field =
            |record: RecordId, path: &str| self.record(record).field(path).map(|field| self.field(record, field));
        let (head, rest) = path.split_once('.')?;
        if head == "gate" {
            return field(self.gate()?, rest);
        }
        match lists.iter().find(|(name, _)| *name == head) {
            Some((_, list)) => field(self.element_of(self.gate()?, list)?, rest),
            None => field(0, path),
        }
    }

    /// The dotted path of a field from the top, without indexes: `gate.support_posts.size`, `site.frost_depth`.
    pub fn path_of(&self, record: RecordId, field: FieldId) -> String {
        let path = &self.field(record, field).path;
        match self.bases.get(record as usize).map(String::as_str) {
            None | Some("") => path.clone(),
            Some(base) => format!("{base}.{path}"),
        }
    }

    /// The name of a choice.
    pub fn symbol_name(&self, symbol: Symbol) -> &str {
        &self.symbols[symbol as usize]
    }

    /// A choice of these in a sentence: its words (`x-words`) where the field has them.
    pub fn choice_words(&self, choices: &[Symbol], symbol: Symbol) -> Option<&str> {
        let (_, words) = self.words.iter().find(|(of, _)| of == choices)?;
        choices.iter().position(|choice| *choice == symbol).map(|index| words[index].as_str())
    }

    /// The symbol of a choice name, exact case.
    pub fn symbol(&self, name: &str) -> Option<Symbol> {
        self.symbols.iter().position(|known| known == name).and_then(|index| Symbol::try_from(index).ok())
    }
}
