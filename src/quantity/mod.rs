//! Quantities: measured values as closed ranges in SI, the units they are written in, and the text people read.
//!
//! Knows nothing of YAML or rules. The vocabulary names kinds from here, the reader turns text into quantities through
//! `literal`, the rule language computes with `Quantity` and looks units up in `unit`.

mod dimension;
mod display;
mod kind;
mod literal;
mod range;
mod unit;

pub use dimension::Dimension;
pub use display::{Shown, in_system, other_system, show};
pub use kind::QuantityKind;
pub use literal::{LiteralError, Reading, read};
pub use range::Quantity;
pub use unit::{System, Unit, find_unit, units_of};
mod arithmetic;
mod rule_literal;
pub use arithmetic::tolerance;
pub use rule_literal::{RuleNumber, read_date, rule_literal, show_date};
