//! Quantities as people read them.

use super::{Dimension, Quantity, System};

/// How a value is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// System to print in.
    pub system: System,
    /// Digits beyond the usual ones, for two values that would print alike.
    pub extra_digits: u8,
}

/// A computed value in one system: `2 1/4 in`, `57.15 mm`, `3 in to 5 1/2 in`.
pub fn show(quantity: Quantity, dimension: Dimension, shown: Shown) -> String {
    let _ = (quantity, dimension, shown);
    String::new()
}

/// A computed value in one system with the other in brackets.
pub fn in_system(quantity: Quantity, dimension: Dimension, shown: Shown) -> String {
    let _ = (quantity, dimension, shown);
    String::new()
}

/// The value in the system that its author does not write in; empty where there is none to show.
pub fn other_system(quantity: Quantity, dimension: Dimension, author: System) -> String {
    let _ = (quantity, dimension, author);
    String::new()
}
