//! The schema-directed reader.

use super::record::Records;
use crate::document::{NodeId, Tree};
use crate::problem::Problem;
use crate::vocabulary::{RecordId, Vocabulary};

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
    let _ = (tree, node, vocabulary, record, mode);
    Read::default()
}
