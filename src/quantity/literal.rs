//! The text of a measured value in a submittal.

use std::ops::Range;

use super::{Quantity, QuantityKind, System};

/// What a text was read as.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The value.
    pub quantity: Quantity,
    /// The system its author writes in.
    pub system: System,
    /// Remarks on text that was read all the same (an unreduced fraction), each with its place in the text.
    pub remarks: Vec<LiteralError>,
}

/// Why a text is not a value of its kind.
#[derive(Debug, Clone, PartialEq)]
pub struct LiteralError {
    /// Stable kebab-case name, `missing-unit`.
    pub code: &'static str,
    /// The offending bytes of the text.
    pub at: Range<usize>,
    /// What is wrong, expected first, found second.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
}

/// Reads the text of a field of a kind.
pub fn read(kind: QuantityKind, text: &str) -> Result<Reading, LiteralError> {
    let _ = kind;
    Err(LiteralError { code: "unread", at: 0..text.len(), message: String::new(), help: None })
}
