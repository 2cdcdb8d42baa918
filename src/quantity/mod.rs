//! Quantities: measured values as closed ranges in SI, the units they are written in, and the text people read.
//!
//! Knows nothing of YAML or rules. The vocabulary names kinds from here, the reader turns text into quantities through
//! `literal`, the rule language computes with `Quantity` and reads its own literals through `rule_literal`.

mod amount;
mod arithmetic;
mod count;
mod date;
mod dimension;
mod display;
mod kind;
mod length;
mod literal;
mod measure;
mod plain;
mod range;
mod refusal;
mod rule_literal;
#[cfg(test)]
mod tests;
mod token;
mod unit;
mod unit_table;

pub use arithmetic::tolerance;
pub use date::{read_date, show_date};
pub use dimension::Dimension;
pub use display::{Printed, Shown, in_system, other_system, printed, show, unit_for};
pub use kind::QuantityKind;
pub use literal::{LiteralError, Reading, read};
pub use range::Quantity;
pub use rule_literal::{RuleNumber, rule_literal};
pub use unit::{System, Unit, find_unit, units_of};
pub(crate) use unit_table::{FOOT, INCH, POUND};
