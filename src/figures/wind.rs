//! Wind on the leaf by ASCE 7: velocity pressure and force coefficients.
//!
//! Strength level and allowable level are kept apart: the basic speeds of ASCE 7-10 and later are strength level, those
//! of 7-05 allowable. Allowable is 0.6 of strength. Footings and allowable-stress checks of posts take the allowable
//! force.

use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::inputs::{BOTTOM_GAP, LEAF_HEIGHT, SOLIDITY};
use super::point::Point;
use super::solid_leaf::solid_coefficient;
use crate::quantity::{
    Dimension, FOOT, POUND,
    QuantityKind::{Length, Pressure, Ratio, Speed},
};

const EXPOSURES: [&str; 3] = ["B", "C", "D"];
const EDITIONS: [&str; 4] = ["ASCE_7_05", "ASCE_7_10", "ASCE_7_16", "ASCE_7_22"];
const EDITION_05: usize = 0;
const EDITION_10: usize = 1;
/// The first edition with the newer profile and with Kd in the force instead of the pressure.
pub(super) const EDITION_22: usize = 3;
/// Solidity up to which a leaf counts as open: ASCE 7 fig. 29.3-1 (quoted). `70 %` is as much as `0.7`, whatever the unit
/// leaves of it, so it has the tolerance that comparisons in rules have.
pub(super) const MOST_OPEN: f64 = 0.7 * (1.0 + 1e-9);
/// Where the force changes its course over the solidity: the steps of the open coefficients, then the rule for solid leaves.
pub(super) const SOLIDITY_STEPS: [f64; 3] = [0.1, 0.3, MOST_OPEN];
pub(super) const MEMBERS: [&str; 2] = ["flat", "round"];
const FLAT: usize = 0;

/// Power and gradient height (ft) of the wind profile: K0, then (alpha, zg) for B, C, D.
const PROFILE_16: (f64, [(f64, f64); 3]) = (2.01, [(7.0, 1200.0), (9.5, 900.0), (11.5, 700.0)]);
const PROFILE_22: (f64, [(f64, f64); 3]) = (2.41, [(7.5, 3280.0), (9.8, 2460.0), (11.5, 1935.0)]);

const ONE_FOOT: Constant = Constant { value: FOOT, dimension: Dimension::LENGTH, source: "1 ft" };
/// Importance factor of risk categories III and IV: ASCE 7-05 table 6-1 (from memory). That of I is 0.87; 1 is taken for it.
const IMPORTANCE_III: f64 = 1.15;
/// 0.00256 psf per mph^2.
const AIR: Constant = Constant {
    value: 0.00256 * POUND / (FOOT * FOOT) / (0.44704 * 0.44704),
    dimension: Dimension { length: -4, force: 1, time: 2, ..Dimension::NONE },
    source: "0.00256 psf per mph^2, ASCE 7 eq. 26.10-1 (quoted)",
};
/// The sub- and supercritical range of round members: D sqrt(q) = 2.5 ft sqrt(psf).
const ROUND: Constant = Constant {
    value: 2.5 * FOOT,
    dimension: Dimension::LENGTH,
    source: "2.5 ft sqrt(psf): D sqrt(q) up to which round members take the larger coefficients, ASCE 7-16 fig. 29.4-2 (quoted)",
};
const PSF: Constant = Constant { value: POUND / (FOOT * FOOT), dimension: Dimension::PRESSURE, source: "1 psf" };

const EXPOSURE: Input =
    Input::any("exposure", InputKind::Choice(&EXPOSURES), "exposure category", &["site.wind.exposure"]);
pub(super) const EDITION: Input =
    Input::any("edition", InputKind::Choice(&EDITIONS), "edition of ASCE 7", &["site.wind.edition"]);
const CATEGORIES: [&str; 4] = ["I", "II", "III", "IV"];
const CATEGORY_III: usize = 2;
const CATEGORY: Input = Input::any(
    "risk_category",
    InputKind::Choice(&CATEGORIES),
    "risk category, which the edition of 2005 counts in the pressure",
    &["site.wind.risk_category"],
)
.optional();
pub(super) const DIRECTIONALITY: Input =
    Input::of("directionality", Ratio, "factor Kd", &["site.wind.directionality"]).assumed(0.85, "0.85");
pub(super) const MEMBER: Input = Input::any(
    "members",
    InputKind::Choice(&MEMBERS),
    "whether what meets the wind is flat-sided or round",
    &["gate.leaf.infill.members"],
);

pub(super) const PLAIN: Figure = Figure {
    source: "ASCE 7 (quoted, secondary sources)",
    validity: "ordinary ground and a leaf of 60 ft and less above it; no ice, no wake of buildings",
    ..Figure::blank(Of::Gate, Dimension::NONE)
};

/// Top of the leaf.
pub static LEAF_TOP: Figure = Figure {
    name: "leaf_top",
    title: "top of the leaf above grade",
    inputs: &[BOTTOM_GAP, LEAF_HEIGHT],
    output: Dimension::LENGTH,
    formula: "bottom_gap + leaf_height",
    source: "arithmetic on the declared dimensions",
    validity: "none; it is as good as the dimensions",
    work: Work::Point(|point| {
        let [gap, height] = point.numbers();
        Ok(gap + height)
    }),
    ..PLAIN
};

/// Where the wind acts.
pub static WIND_HEIGHT: Figure = Figure {
    name: "wind_height",
    title: "height of the wind force above grade: mid-height of the leaf",
    inputs: &[BOTTOM_GAP, LEAF_HEIGHT],
    output: Dimension::LENGTH,
    formula: "bottom_gap + leaf_height / 2",
    source: "arithmetic on the declared dimensions",
    validity: "an evenly filled leaf; ASCE 7 lifts it by 0.05 of the height where a solid leaf reaches the ground",
    work: Work::Point(|point| {
        let [gap, height] = point.numbers();
        Ok(gap + height / 2.0)
    }),
    ..PLAIN
};

/// Kz.
pub static EXPOSURE_COEFFICIENT: Figure = Figure {
    name: "exposure_coefficient",
    title: "velocity pressure exposure coefficient Kz at the top of the leaf",
    inputs: &[EXPOSURE, EDITION, Input::figure("top", Length, "height above grade", &LEAF_TOP)],
    constants: &[ONE_FOOT],
    formula: "K0 (z / zg)^(2/alpha) by exposure and edition, z = top, not under 15 ft",
    source: "ASCE 7 table 26.11-1 and 26.10-1 note (constants of 7-05 to 7-16 quoted; of 7-22 from public transcriptions)",
    work: Work::Point(|point| {
        let (k0, rows) = if point.choice(1) == EDITION_22 { PROFILE_22 } else { PROFILE_16 };
        let (alpha, zg) = rows[point.choice(0).min(2)];
        let feet = (point.number(2) / point.constant(0)).max(15.0);
        if feet > 60.0 {
            return not_valid("the leaf is higher than 60 ft");
        }
        Ok(k0 * (feet / zg).powf(2.0 / alpha))
    }),
    ..PLAIN
};

/// Ke.
pub static ELEVATION_FACTOR: Figure = Figure {
    name: "elevation_factor",
    title: "ground elevation factor Ke",
    inputs: &[Input::of("ground_elevation", Length, "site above sea level", &["site.wind.ground_elevation"])],
    constants: &[ONE_FOOT],
    formula: "exp(-0.0000362 ground_elevation in ft)",
    source: "ASCE 7-16 table 26.9-1 note (quoted); 1 is always permitted",
    work: Work::Point(|point| Ok((-0.0000362 * point.number(0) / point.constant(0)).exp())),
    ..PLAIN
};

/// q.
pub static VELOCITY_PRESSURE: Figure = Figure {
    name: "velocity_pressure",
    title: "velocity pressure at the top of the leaf, as the edition defines it, at the level of the speed",
    inputs: &[
        Input::of("speed", Speed, "basic wind speed", &["site.wind.speed"]),
        Input::figure("exposure_coefficient", Ratio, "Kz", &EXPOSURE_COEFFICIENT),
        Input::of("topographic_factor", Ratio, "factor Kzt", &["site.wind.topographic_factor"])
            .assumed(1.0, "1 (flat ground)"),
        DIRECTIONALITY,
        Input::of("elevation_factor", Ratio, "factor Ke", &[]).assumed(1.0, "1 (always permitted)"),
        EDITION,
        CATEGORY,
    ],
    constants: &[AIR],
    output: Dimension::PRESSURE,
    formula: "0.00256 exposure_coefficient topographic_factor directionality elevation_factor speed^2 (psf, mph); by the edition \
              of 2022 without directionality, which stands in the force there; by that of 2005 x 1.15 for risk_category III and IV",
    source: "ASCE 7 eq. 26.10-1 (quoted); the move of Kd in 7-22 from memory, the force is the same; the importance factor of 7-05 \
             eq. 6-15 and table 6-1 from memory",
    validity: "ordinary ground and a leaf of 60 ft and less above it; no ice, no wake of buildings; the 0.87 of the edition of 2005 for \
               risk_category I is not taken, which is on the safe side; later editions have the category in the speed",
    work: Work::Point(|point| {
        let [speed, kz, kzt, kd, ke] = point.numbers();
        if ke != 1.0 && matches!(point.choice(5), EDITION_05 | EDITION_10) {
            return not_valid("the editions of 2005 and 2010 have no elevation factor");
        }
        let kd = if point.choice(5) == EDITION_22 { 1.0 } else { kd };
        Ok(point.constant(0) * kz * kzt * kd * ke * speed * speed * importance(point)?)
    }),
    ..PLAIN
};

/// The importance factor that the edition of 2005 has in its pressure.
fn importance(point: &Point<'_>) -> Result<f64, NoValue> {
    if point.choice(5) != EDITION_05 {
        return Ok(1.0);
    }
    point.given(6).ok_or(NoValue::Lacking(&["risk_category"]))?;
    Ok(if point.choice(6) >= CATEGORY_III { IMPORTANCE_III } else { 1.0 })
}

/// Cf of a solid leaf.
pub static SOLID_COEFFICIENT: Figure = Figure {
    name: "solid_force_coefficient",
    title: "force coefficient of a solid or nearly solid leaf, without the reduction for openings",
    inputs: &[
        Input::of("length", Length, "length that meets the wind", &[]).one_value(),
        LEAF_HEIGHT.one_value(),
        Input::figure("top", Length, "top above grade", &LEAF_TOP),
    ],
    formula: "ASCE 7 fig. 29.3-1, cases A and B, by length / leaf_height and leaf_height / top; linear between cells",
    source: "ASCE 7 fig. 29.3-1 (quoted from three transcriptions that agree; every cell reproduced by the commentary's fit)",
    validity: "case C (zones from the windward end) is not covered: it governs a free-standing solid leaf of two heights or longer",
    work: Work::Point(|point| {
        let [length, height, top] = point.numbers();
        coefficient_of_solid(length, height, top)
    }),
    ..PLAIN
};

pub(super) fn coefficient_of_solid(length: f64, height: f64, top: f64) -> Result<f64, NoValue> {
    if height <= 0.0 || top <= 0.0 || length <= 0.0 {
        return not_valid("the leaf has no area");
    }
    Ok(solid_coefficient(length / height, height / top))
}

/// Cf of an open leaf.
pub static OPEN_COEFFICIENT: Figure = Figure {
    name: "open_force_coefficient",
    title: "force coefficient of an open leaf, on its solid area",
    inputs: &[
        SOLIDITY.breaks(&SOLIDITY_STEPS),
        MEMBER,
        Input::of("member_width", Length, "width of one member", &["gate.leaf.infill.member_width"]).optional(),
        Input::figure("velocity_pressure", Pressure, "velocity pressure", &VELOCITY_PRESSURE),
    ],
    constants: &[ROUND, PSF],
    formula: "2.0, 1.8, 1.6 flat-sided; 1.2, 1.3, 1.5 round (0.8, 0.9, 1.1 where member_width sqrt(velocity_pressure) is over 2.5 \
              ft sqrt(psf)); for solidity under 0.1, to 0.29, to 0.7, by the members",
    source: "ASCE 7-16 fig. 29.4-2 (quoted twice)",
    validity: "solidity of 0.7 and less; the step between 0.29 and 0.30 is taken at 0.30",
    work: Work::Point(|point| {
        let [width, q] = [2, 3].map(|input| point.number(input));
        if point.number(0) > MOST_OPEN {
            return not_valid("over 0.7 solid the rule for solid leaves holds: solid_force_coefficient");
        }
        // Where the width is not shown the larger coefficients hold.
        let small = width * (q / point.constant(1)).sqrt() <= point.constant(0);
        Ok(open_coefficient(point.number(0), point.choice(1), small))
    }),
    ..PLAIN
};

/// `small`: the members are thin enough for the larger coefficients of round ones.
pub(super) fn open_coefficient(solidity: f64, members: usize, small: bool) -> f64 {
    let row = if solidity < 0.1 {
        0
    } else if solidity < 0.3 {
        1
    } else {
        2
    };
    match (members, small) {
        (FLAT, _) => [2.0, 1.8, 1.6][row],
        (_, true) => [1.2, 1.3, 1.5][row],
        (_, false) => [0.8, 0.9, 1.1][row],
    }
}

/// Every figure of this subject.
pub static ALL: [&Figure; 7] = [
    &LEAF_TOP,
    &WIND_HEIGHT,
    &EXPOSURE_COEFFICIENT,
    &ELEVATION_FACTOR,
    &VELOCITY_PRESSURE,
    &SOLID_COEFFICIENT,
    &OPEN_COEFFICIENT,
];
