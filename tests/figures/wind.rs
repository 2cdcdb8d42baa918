//! Wind where its rules change: the solidity at which a leaf counts as solid.

use gatewright::figures::State;

use super::asked::Asked;

/// A leaf of 24 ft by 6 ft, its top at 6.33 ft, flat-sided, in 24 psf of strength level.
fn closed() -> Asked {
    Asked::own("wind_force_closed")
        .choose("edition", &["ASCE_7_16"])
        .choose("basis", &["strength"])
        .choose("members", &["flat"])
        .with_all([
            ("velocity_pressure", 1149.13),
            ("leaf_height", 1.8288),
            ("top", 1.9294),
            ("opening", 7.1628),
            ("latch_overlap", 0.1524),
        ])
}

/// Seventy hundredths are 0.7, though 70 x 0.01 is 0.7000000000000001 in binary. Open: 1.6 x 0.7 = 1.12 of the gross area;
/// solid: 1.40 x (1 - 0.3^1.5) = 1.17 (table at 0.95 and 4: 1.40).
#[test]
fn seventy_percent_is_an_open_leaf_however_it_is_written() {
    let [decimal, percent] = [0.7, 70.0 * 0.01].map(|solidity| closed().with("solidity", solidity).value());
    assert!(70.0 * 0.01 > 0.7 && (decimal / percent - 1.0).abs() < 1e-12, "{decimal} {percent}");
    let gross = 7.3152 * 1.8288 * 1149.13 * 0.85;
    assert!((percent / gross - 1.12).abs() < 1e-9, "{}", percent / gross);
    let solid = closed().with("solidity", 0.7001).value();
    assert!(solid / gross > 1.16, "{}", solid / gross);
    let coefficient = Asked::own("force_coefficient").choose("members", &["flat"]).with_all([
        ("solidity", 70.0 * 0.01),
        ("leaf_height", 1.8288),
        ("top", 1.9294),
        ("opening", 7.1628),
        ("latch_overlap", 0.1524),
    ]);
    assert!((coefficient.value() - 1.6).abs() < 1e-12);
    let open = Asked::own("open_force_coefficient").choose("members", &["flat"]);
    let open = open.with_all([("solidity", 70.0 * 0.01), ("velocity_pressure", 1149.13)]);
    assert!(matches!(open.outcome().state, State::Computed(_)), "{:?}", open.outcome());
}

/// A range over the step has both rules in it.
#[test]
fn a_range_over_the_step_is_looked_at_from_both_sides() {
    let span = closed().range("solidity", 0.6999, 0.7001).span();
    let [open, solid] = [0.7, 0.7001].map(|solidity| closed().with("solidity", solidity).value());
    assert!(span.lo < open && (span.hi - solid).abs() < 1e-9 * solid, "{span:?}");
}
