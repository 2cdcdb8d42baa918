//! Unit factors against the exact definitions, and against an independent library.

use gatewright::quantity::{QuantityKind, find_unit, units_of};

const PINT: &str = include_str!("data/units_pint.csv");

/// The conversions of an outside sheet in its own words, from the international yard and pound agreement and standard
/// gravity (NIST SP 811, 2008, appendix B; NIST Handbook 44, appendix C).
const EXACT: &str = "in 25.4 mm; ft .3048 m; lb .45359237 kg; lbf 4.4482216152605 N; mph .44704 m/s; \
    psf 47.88025898033584 Pa; psi 6.894757293168361 kPa; pcf .15708746384624618 kN/m3; yd3 .764554857984 m3; \
    in3 16387.064 mm3; in4 416231.4256 mm4; ft-lbf 1.3558179483314004 J; plf 14.593902937206364 N/m; \
    kip 4448.2216152605 N";

/// The factor of a unit that values are written in.
fn factor_of(name: &str) -> f64 {
    find_unit(name).unwrap_or_else(|| panic!("{name} is no unit")).factor
}

#[test]
fn factors_are_the_exact_definitions() {
    let mut compared = 0;
    for line in EXACT.split("; ") {
        let [name, factor, si] = line.split_whitespace().collect::<Vec<_>>()[..] else { panic!("{line}") };
        let (found, expected) = (factor_of(name), factor.parse::<f64>().unwrap() * factor_of(si));
        // The last digit or two that a binary number keeps.
        assert!((found / expected - 1.0).abs() < 4.0 * f64::EPSILON, "{line}: {found} {expected}");
        compared += 1;
    }
    assert_eq!(compared, 14);
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
    // Every unit that a field takes is compared. (A unit test holds that the table has no other units.)
    for (kind, _) in QuantityKind::ALL {
        for name in units_of(kind) {
            assert!(rows.iter().any(|(row, _)| row == name), "{name} is compared with nothing");
        }
    }
}
