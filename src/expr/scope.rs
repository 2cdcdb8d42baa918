//! Names that an expression can see: the roots, what `each` and `as` bind, the pack's tables and constants.

use std::collections::BTreeMap;

use super::ty::Type;
use crate::quantity::{Dimension, Quantity};
use crate::vocabulary::{FieldId, RecordId, Symbol, Vocabulary};

/// Number of a bound record or choice: which element a field is read from.
pub type BinderId = u32;

/// The document itself.
pub const DOCUMENT: BinderId = 0;
/// The gate under review.
pub const GATE: BinderId = 1;

/// A field of a bound record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct FieldRef {
    /// Which record.
    pub binder: BinderId,
    /// Type of that record.
    pub record: RecordId,
    /// Which field.
    pub field: FieldId,
}

/// What a name stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Bound {
    /// An element of a list of records.
    Record(BinderId, RecordId),
    /// One of the choices of a field.
    Choice(BinderId, Vec<Symbol>),
    /// An element of a list of texts.
    Text(BinderId),
    /// Already reported.
    Wrong,
}

/// A table of a pack, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// What its key measures.
    pub key: KeyType,
    /// Dimension of its values.
    pub value: Dimension,
    /// Rows in rising order.
    pub rows: Vec<TableRow>,
}

/// What a table is looked up by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyType {
    /// A number of this dimension.
    Number(Dimension),
    /// A choice.
    Choice,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// Largest key of the row, included; unused in a table by choice.
    pub up_to: f64,
    /// Least key of the row, where the table says one.
    pub from: Option<f64>,
    /// The choice of the row, in a table by choice.
    pub choice: Option<Symbol>,
    /// Its value.
    pub value: Quantity,
}

/// A constant of a pack.
#[derive(Debug, Clone, PartialEq)]
pub struct Constant {
    /// Its value.
    pub value: Quantity,
    /// Its type.
    pub ty: Type,
    /// Its text as written.
    pub text: String,
}

/// Tables and constants of one pack.
#[derive(Debug, Clone, Default)]
pub struct PackNames {
    /// Indexes into the rule set's tables, by name.
    pub tables: BTreeMap<String, u32>,
    /// Constants by name.
    pub constants: BTreeMap<String, Constant>,
}

/// What a rule can see.
#[derive(Debug)]
pub struct Scope<'a> {
    /// The declared fields.
    pub vocabulary: &'a Vocabulary,
    /// Record type of a gate.
    pub gate: RecordId,
    /// Tables of the whole rule set.
    pub tables: &'a [Table],
    /// Names of the pack.
    pub pack: &'a PackNames,
    /// Names that `each` and `as` bind, innermost last.
    pub bound: Vec<(String, Bound)>,
}

impl Scope<'_> {
    /// What a bound name stands for.
    pub fn find(&self, name: &str) -> Option<&Bound> {
        self.bound.iter().rev().find(|(known, _)| known == name).map(|(_, bound)| bound)
    }
}
