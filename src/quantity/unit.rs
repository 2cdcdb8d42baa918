//! Units: what one is, finding one by its spelling, and the units that each kind of field takes.
//!
//! The literal parsers and the rule language look units up here; `unit_table` holds the data.

use super::unit_table::UNITS;
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
    /// Whether the rule language takes it: no mass, and no moment, which it writes as a product.
    pub in_rules: bool,
}

impl Unit {
    /// Whether a field of the kind takes it. A force takes no `kg`: a mass is not a pull or a push.
    pub fn measures(&self, kind: QuantityKind) -> bool {
        match kind {
            QuantityKind::Count => false,
            QuantityKind::Force => self.dimension == Dimension::FORCE && self.in_rules,
            _ => self.dimension == kind.dimension(),
        }
    }
}

/// The unit of that spelling (exact case), compound ones like `psf/ft` included.
pub fn find_unit(name: &str) -> Option<&'static Unit> {
    let mut slot = hash(name.as_bytes());
    while let Some((spelling, unit)) = SPELLINGS[slot] {
        if spelling == name {
            return UNITS.get(unit);
        }
        slot = (slot + 1) % SLOTS;
    }
    None
}

/// The units a kind of field takes, in the order messages list them. The first two are the ones to suggest.
pub fn units_of(kind: QuantityKind) -> &'static [&'static str] {
    match kind {
        QuantityKind::Length => &["ft", "in", "mm", "cm", "m"],
        QuantityKind::Area => &["in2", "ft2", "mm2", "m2"],
        QuantityKind::Weight => &["lb", "kg", "kip", "N", "kN"],
        QuantityKind::Force => &["lb", "N", "kip", "kN"],
        QuantityKind::Pressure => &["psf", "psi", "ksi", "Pa", "kPa", "MPa"],
        QuantityKind::LineLoad => &["lb/ft", "N/m", "kN/m", "kg/m"],
        QuantityKind::SoilGradient => &["psf/ft", "kPa/m"],
        QuantityKind::Speed => &["mph", "ft/s", "in/s", "ft/min", "m/s", "mm/s", "km/h"],
        QuantityKind::Acceleration => &["ft/s2", "m/s2"],
        QuantityKind::Time => &["s", "min", "ms", "months", "years"],
        QuantityKind::Angle => &["deg"],
        QuantityKind::Ratio | QuantityKind::Slope => &["%"],
        QuantityKind::Count => &[],
        QuantityKind::Moment => &["lb-ft", "kip-ft", "lb-in", "N-m", "kN-m", "J"],
        QuantityKind::Volume => &["in3", "yd3", "mm3", "cm3", "m3"],
        QuantityKind::Inertia => &["in4", "mm4", "cm4"],
    }
}

/// Size of the table of spellings: more than twice their number, so that a look-up ends after a step or two.
const SLOTS: usize = 512;

/// Open-addressed table of every spelling with the index of its unit, filled at compile time from the one table of
/// units: a look-up costs one hash of a short text and mostly one comparison.
static SPELLINGS: [Option<(&str, usize)>; SLOTS] = spellings();

const fn spellings() -> [Option<(&'static str, usize)>; SLOTS] {
    let mut table = [None; SLOTS];
    let mut unit = 0;
    while unit < UNITS.len() {
        table = entered(table, UNITS[unit].name, unit);
        let mut alias = 0;
        while alias < UNITS[unit].aliases.len() {
            table = entered(table, UNITS[unit].aliases[alias], unit);
            alias += 1;
        }
        unit += 1;
    }
    table
}

const fn entered(
    mut table: [Option<(&'static str, usize)>; SLOTS],
    spelling: &'static str,
    unit: usize,
) -> [Option<(&'static str, usize)>; SLOTS] {
    let mut slot = hash(spelling.as_bytes());
    while table[slot].is_some() {
        slot = (slot + 1) % SLOTS;
    }
    table[slot] = Some((spelling, unit));
    table
}

/// FNV-1a, folded to the size of the table.
const fn hash(bytes: &[u8]) -> usize {
    let mut state: u32 = 0x811c_9dc5;
    let mut at = 0;
    while at < bytes.len() {
        state = (state ^ bytes[at] as u32).wrapping_mul(0x0100_0193);
        at += 1;
    }
    ((state ^ (state >> 15)) as usize) % SLOTS
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    fn spellings_of(unit: &'static Unit) -> impl Iterator<Item = &'static str> {
        std::iter::once(unit.name).chain(unit.aliases.iter().copied())
    }

    #[test]
    fn no_two_units_share_a_spelling_and_every_spelling_finds_its_unit() {
        let mut seen = HashSet::new();
        for unit in UNITS {
            for spelling in spellings_of(unit) {
                assert!(seen.insert(spelling), "{spelling} stands twice");
                assert_eq!(find_unit(spelling).map(|found| found.name), Some(unit.name), "{spelling}");
            }
        }
        assert!(seen.len() * 2 < SLOTS, "{} spellings crowd the table", seen.len());
        for unknown in ["", "inn", "IN2x", "gate", "psf/", "/ft", "Ft"] {
            assert_eq!(find_unit(unknown), None, "{unknown}");
        }
    }

    #[test]
    fn every_unit_of_a_kind_is_in_the_table_with_the_dimension_of_the_kind() {
        for (kind, name) in QuantityKind::ALL {
            for unit in units_of(kind) {
                let found = find_unit(unit).unwrap_or_else(|| panic!("{name}: {unit}"));
                assert_eq!((found.name, found.dimension), (*unit, kind.dimension()), "{name}");
                assert!(found.measures(kind), "{name}: {unit}");
            }
        }
        let listed: HashSet<&str> = QuantityKind::ALL.iter().flat_map(|(kind, _)| units_of(*kind)).copied().collect();
        for unit in UNITS {
            assert!(listed.contains(unit.name), "no kind lists {}", unit.name);
        }
    }

    #[test]
    fn a_compound_unit_is_worth_what_its_parts_are() {
        for unit in UNITS {
            for spelling in spellings_of(unit) {
                let Some((above, below)) = spelling.split_once('/') else {
                    continue;
                };
                let (Some(above), Some(below)) = (find_unit(above), find_unit(below)) else {
                    continue;
                };
                assert_eq!(above.dimension.over(below.dimension), unit.dimension, "{spelling}");
                let ratio = above.factor / below.factor / unit.factor;
                assert!((ratio - 1.0).abs() < 1e-15, "{spelling}: {ratio}");
            }
        }
    }

    #[test]
    fn kilograms_are_taken_for_a_weight_and_neither_for_a_force_nor_in_rules() {
        let kg = find_unit("kg").unwrap();
        assert!(kg.measures(QuantityKind::Weight));
        assert!(!kg.measures(QuantityKind::Force));
        assert!(!kg.in_rules && !find_unit("kg/m").unwrap().in_rules);
        // Units with a hyphen are none in rules either: a hyphen subtracts there.
        let not_in_rules: Vec<&str> = UNITS.iter().filter(|unit| !unit.in_rules).map(|unit| unit.name).collect();
        assert_eq!(not_in_rules, ["kg", "kg/m", "lb-ft", "kip-ft", "lb-in", "N-m", "kN-m", "J"]);
    }
}
