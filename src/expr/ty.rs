//! Types of expressions, with the words for them in messages.
//!
//! The checker gives every part one, so that what is compared or added fits before any submittal is read; tables and
//! constants of a pack have them too, and printing asks which choices a value is one of.

use std::fmt;

use crate::quantity::Dimension;
use crate::vocabulary::Symbol;

/// What an expression is worth.
#[derive(Debug, Clone, PartialEq)]
pub enum Type {
    /// A truth: a comparison, a yes/no field, `and`, `or`, `not`.
    Truth,
    /// A number with a dimension.
    Number(Dimension),
    /// A date.
    Date,
    /// One of these choices.
    Choice(Vec<Symbol>),
    /// A text.
    Text,
    /// Already reported; fits everything, so that one mistake gives one message.
    Wrong,
}

impl Type {
    /// Whether two choices have none in common, so that they can never be the same.
    pub fn never_the_same_choice(&self, other: &Type) -> bool {
        match (self, other) {
            (Type::Choice(own), Type::Choice(others)) => !own.iter().any(|choice| others.contains(choice)),
            _ => false,
        }
    }
}

impl fmt::Display for Type {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Type::Truth => f.write_str("a condition"),
            Type::Number(dimension) => write!(f, "{dimension}"),
            Type::Date => f.write_str("a date"),
            Type::Choice(_) => f.write_str("a choice"),
            Type::Text => f.write_str("a text"),
            Type::Wrong => f.write_str("something unreadable"),
        }
    }
}
