//! The unit table.

use super::{Dimension, QuantityKind};

/// System of units of a text, for showing the other one beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum System {
    /// US customary.
    Us,
    /// Metric.
    Metric,
    /// Both or neither (seconds, degrees, ratios).
    Neutral,
}

/// One unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Name as printed; other spellings are in `aliases`.
    pub name: &'static str,
    /// Other accepted spellings.
    pub aliases: &'static [&'static str],
    /// Dimension.
    pub dimension: Dimension,
    /// SI value of one unit.
    pub factor: f64,
    /// System it belongs to.
    pub system: System,
    /// Whether the rule language takes it (`kg` it refuses).
    pub in_rules: bool,
}

/// The unit of that spelling (exact case), compound ones like `psf/ft` included.
pub fn find_unit(name: &str) -> Option<&'static Unit> {
    let _ = name;
    None
}

/// The units a kind of field takes, in the order messages list them.
pub fn units_of(kind: QuantityKind) -> &'static [&'static str] {
    let _ = kind;
    &[]
}
