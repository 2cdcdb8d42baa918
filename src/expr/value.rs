//! What a sub-expression is worth while rules run: a cell of the evaluator.

use super::truth::Truth;
use crate::document::NodeId;
use crate::quantity::Quantity;
use crate::vocabulary::Symbol;

/// A text, wherever it is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TextAt {
    /// In the submittal.
    Node(NodeId),
    /// A constant of the rule set.
    Constant(u32),
}

/// A value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// Stated as not applicable.
    NotApplicable,
    /// A number, quantity or date.
    Number(Quantity),
    /// A truth.
    Truth(Truth),
    /// A choice; `None` where it is not shown.
    Choice(Option<Symbol>),
    /// A text; `None` where it is not shown.
    Text(Option<TextAt>),
}

impl Value {
    /// As a truth; anything that is none is not applicable (the checker lets no such use through).
    pub fn truth(self) -> Truth {
        match self {
            Value::Truth(truth) => truth,
            _ => Truth::NOT_APPLICABLE,
        }
    }

    /// As a number; `None` where it does not apply.
    pub fn number(self) -> Option<Quantity> {
        match self {
            Value::Number(number) => Some(number),
            _ => None,
        }
    }
}
