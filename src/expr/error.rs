//! What can be wrong with an expression, as text with a place in it.
//!
//! Grammar, names and types report through this one type; the pack loader turns the place into one in the pack's file.

use std::ops::Range;

/// One error of an expression.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExprError {
    /// The offending bytes of the expression's text.
    pub at: Range<usize>,
    /// What is wrong: expected first, found second.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
}

impl ExprError {
    /// An error at a place.
    pub fn new(at: Range<usize>, message: impl Into<String>) -> Self {
        ExprError { at, message: message.into(), help: None }
    }

    /// Adds what to write instead.
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}
