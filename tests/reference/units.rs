//! Unit factors against the exact definitions, and against an independent library.

use gatewright::quantity::{QuantityKind, find_unit, units_of};

const PINT: &str = include_str!("data/units_pint.csv");

/// The exact factors of the international yard and pound agreement and of NIST SP 811, appendix B, as an outside sheet
/// of conversions lists them; each is compared to the last digit a binary number keeps.
#[test]
fn factors_are_the_exact_definitions() {
    let exact = [
        ("in", 0.0254),
        ("ft", 0.3048),
        ("lb", 4.4482216152605),
        ("mph", 0.44704),
        ("psf", 47.88025898033584),
        ("psi", 6_894.757_293_168_361),
        // Pound-force per cubic foot: psf/ft as kPa/m.
        ("psf/ft", 157.087_463_846_246_18),
        ("lb/ft", 14.593_902_937_206_364),
        ("kip", 4_448.221_615_260_5),
    ];
    for (name, factor) in exact {
        let unit = find_unit(name).unwrap();
        assert!((unit.factor / factor - 1.0).abs() < 4.0 * f64::EPSILON, "{name}: {} {factor}", unit.factor);
    }
}

#[test]
fn every_unit_agrees_with_an_independent_library() {
    let rows: Vec<(&str, f64)> = PINT
        .lines()
        .skip(1)
        .map(|line| {
            let mut cells = line.split(',');
            (cells.next().unwrap(), cells.next().unwrap().parse().unwrap())
        })
        .collect();
    for (name, factor) in &rows {
        let unit = find_unit(name).unwrap_or_else(|| panic!("{name} is not in the table"));
        assert!((unit.factor / factor - 1.0).abs() < 1e-12, "{name}: {} {factor}", unit.factor);
    }
    // Every unit that a field takes is compared; a month of a twelfth of a year is our own convention.
    for (kind, _) in QuantityKind::ALL {
        for name in units_of(kind).iter().filter(|name| **name != "months") {
            assert!(rows.iter().any(|(row, _)| row == name), "{name} is compared with nothing");
        }
    }
}
