//! Wind on the leaf by ASCE 7: velocity pressure, force coefficient, force.
//!
//! Strength level and allowable level are kept apart: the basic speeds of ASCE 7-10 and later are strength level, those
//! of 7-05 allowable. Allowable is 0.6 of strength. Footings and allowable-stress checks of posts take the allowable
//! force.

use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::inputs::{
    BOTTOM_GAP, COUNTERBALANCE, COVERS, LEAF_HEIGHT, LEAF_LENGTH, OPENING, OVERLAP, SOLIDITY, WHOLE_LEAF,
};
use super::point::Point;
use super::solid_leaf::solid_coefficient;
use crate::quantity::{
    Dimension,
    QuantityKind::{Force, Length, Pressure, Ratio, Speed},
};

const EXPOSURES: [&str; 3] = ["B", "C", "D"];
const EDITIONS: [&str; 4] = ["ASCE_7_05", "ASCE_7_10", "ASCE_7_16", "ASCE_7_22"];
/// The first edition with the newer profile and with Kd in the force instead of the pressure.
const EDITION_05: usize = 0;
const EDITION_10: usize = 1;
const EDITION_22: usize = 3;
const BASES: [&str; 2] = ["strength", "allowable"];
const STRENGTH: usize = 0;
/// Share of the strength-level wind in allowable-stress combinations: ASCE 7 section 2.4.1 (quoted).
const ALLOWABLE: f64 = 0.6;
/// Solidity up to which a leaf counts as open: ASCE 7 fig. 29.3-1 (quoted). `70 %` is as much as `0.7`, whatever the unit
/// leaves of it, so it has the tolerance that comparisons in rules have.
const MOST_OPEN: f64 = 0.7 * (1.0 + 1e-9);
/// Where the force changes its course over the solidity: the steps of the open coefficients, then the rule for solid leaves.
const SOLIDITY_STEPS: [f64; 3] = [0.1, 0.3, MOST_OPEN];
const MEMBERS: [&str; 2] = ["flat", "round"];
const FLAT: usize = 0;

/// Power and gradient height (ft) of the wind profile: K0, then (alpha, zg) for B, C, D.
const PROFILE_16: (f64, [(f64, f64); 3]) = (2.01, [(7.0, 1200.0), (9.5, 900.0), (11.5, 700.0)]);
const PROFILE_22: (f64, [(f64, f64); 3]) = (2.41, [(7.5, 3280.0), (9.8, 2460.0), (11.5, 1935.0)]);

const FOOT: Constant = Constant { value: 0.3048, dimension: Dimension::LENGTH, source: "1 ft" };
/// 0.00256 psf per mph^2.
const AIR: Constant = Constant {
    value: 0.00256 * 4.4482216152605 / (0.3048 * 0.3048) / (0.44704 * 0.44704),
    dimension: Dimension { length: -4, force: 1, time: 2, ..Dimension::NONE },
    source: "0.00256 psf per mph^2, ASCE 7 eq. 26.10-1 (quoted)",
};
/// 16 psf at strength level.
const LEAST: Constant = Constant {
    value: 16.0 * 4.4482216152605 / (0.3048 * 0.3048),
    dimension: Dimension::PRESSURE,
    source: "16 psf at strength level, least design wind load, ASCE 7 section 29.7 (clause from memory, value seen in use)",
};
/// The sub- and supercritical range of round members: D sqrt(q) = 2.5 ft sqrt(psf).
const ROUND: Constant = Constant {
    value: 2.5 * 0.3048,
    dimension: Dimension::LENGTH,
    source: "2.5 ft sqrt(psf): D sqrt(q) up to which round members take the larger coefficients, ASCE 7-16 fig. 29.4-2 (quoted)",
};
const PSF: Constant =
    Constant { value: 4.4482216152605 / (0.3048 * 0.3048), dimension: Dimension::PRESSURE, source: "1 psf" };

const EXPOSURE: Input =
    Input::any("exposure", InputKind::Choice(&EXPOSURES), "exposure category", &["site.wind.exposure"]);
const EDITION: Input = Input::any("edition", InputKind::Choice(&EDITIONS), "edition of ASCE 7", &["site.wind.edition"]);
const BASIS: Input = Input::any(
    "basis",
    InputKind::Choice(&BASES),
    "whether the speed is strength or allowable level",
    &["site.wind.basis"],
);
const DIRECTIONALITY: Input =
    Input::of("directionality", Ratio, "factor Kd", &["site.wind.directionality"]).assumed(0.85, "0.85");
const MEMBER: Input = Input::any(
    "members",
    InputKind::Choice(&MEMBERS),
    "whether what meets the wind is flat-sided or round",
    &["gate.leaf.infill.members"],
);

const PLAIN: Figure = Figure {
    name: "",
    title: "",
    of: Of::Gate,
    inputs: &[],
    constants: &[],
    output: Dimension::NONE,
    formula: "",
    source: "ASCE 7 (quoted, secondary sources)",
    validity: "ordinary ground and a leaf of 60 ft and less above it; no ice, no wake of buildings",
    work: Work::Point(|_| not_valid("it has no formula")),
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
    constants: &[FOOT],
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
    constants: &[FOOT],
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
    ],
    constants: &[AIR],
    output: Dimension::PRESSURE,
    formula: "0.00256 exposure_coefficient topographic_factor directionality elevation_factor speed^2 (psf, mph); by the edition \
              of 2022 without directionality, which stands in the force there",
    source: "ASCE 7 eq. 26.10-1 (quoted); the move of Kd in 7-22 from memory, the force is the same",
    work: Work::Point(|point| {
        let [speed, kz, kzt, kd, ke] = point.numbers();
        if ke != 1.0 && matches!(point.choice(5), EDITION_05 | EDITION_10) {
            return not_valid("the editions of 2005 and 2010 have no elevation factor");
        }
        let kd = if point.choice(5) == EDITION_22 { 1.0 } else { kd };
        Ok(point.constant(0) * kz * kzt * kd * ke * speed * speed)
    }),
    ..PLAIN
};

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

fn coefficient_of_solid(length: f64, height: f64, top: f64) -> Result<f64, NoValue> {
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

/// The reduction of the coefficient of a solid leaf for its openings.
fn for_openings(solidity: f64) -> Result<f64, NoValue> {
    if solidity > 1.0 {
        return not_valid("`solidity` is over 1");
    }
    Ok(1.0 - (1.0 - solidity).powf(1.5))
}

/// `small`: the members are thin enough for the larger coefficients of round ones.
fn open_coefficient(solidity: f64, members: usize, small: bool) -> f64 {
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

const TAIL_SOLIDITY: Input =
    Input::of("tail_solidity", Ratio, "solid over gross area of the tail", &["gate.leaf.tail_infill.solidity"])
        .optional()
        .breaks(&SOLIDITY_STEPS);
const WIND: [Input; 8] = [
    Input::figure("velocity_pressure", Pressure, "velocity pressure", &VELOCITY_PRESSURE),
    EDITION,
    BASIS,
    DIRECTIONALITY,
    SOLIDITY.breaks(&SOLIDITY_STEPS),
    MEMBER.optional(),
    LEAF_HEIGHT,
    Input::figure("top", Length, "top above grade", &LEAF_TOP),
];

const FORCE_CONSTANTS: [Constant; 2] = [
    LEAST,
    Constant {
        value: 0.85,
        dimension: Dimension::NONE,
        source: "gust effect factor 0.85 of a rigid leaf, ASCE 7 section 26.11.1 (quoted)",
    },
];

/// Strength-level force on an even part of the leaf.
fn force_on(point: &Point<'_>, length: f64, whole: f64, solidity: f64) -> Result<f64, NoValue> {
    let q = point.number(0);
    let q = if point.choice(1) == EDITION_22 { q * point.number(3) } else { q };
    let strength = if point.choice(2) == STRENGTH { q } else { q / ALLOWABLE };
    let [height, top] = [point.number(6), point.number(7)];
    let gust = point.constant(1);
    let gross = length * height;
    let (coefficient, area) = if solidity > MOST_OPEN {
        let openings = for_openings(solidity)?;
        (coefficient_of_solid(whole, height, top)? * openings, gross)
    } else {
        if point.given(5).is_none() {
            return Err(NoValue::Lacking(&["members"]));
        }
        (open_coefficient(solidity, point.choice(5), true), solidity * gross)
    };
    Ok((strength * gust * coefficient * area).max(point.constant(0) * area))
}

const FORCE: Figure = Figure {
    constants: &FORCE_CONSTANTS,
    output: Dimension::FORCE,
    source: "ASCE 7 sections 29.3, 29.4 and 29.7 (quoted); strength is allowable over 0.6",
    validity: "rigid leaf; solid rule over 70 % solidity, open rule up to it; case C of a solid leaf is not covered; \
               round members count as thin, which is the larger force; no ice, no wet screen",
    ..PLAIN
};

const fn with_wind<const N: usize, const ALL: usize>(more: [Input; N]) -> [Input; ALL] {
    assert!(WIND.len() + N == ALL);
    let mut all = [EDITION; ALL];
    let mut at = 0;
    while at < ALL {
        all[at] = if at < WIND.len() { WIND[at] } else { more[at - WIND.len()] };
        at += 1;
    }
    all
}

/// Force on the closed leaf.
pub static WIND_FORCE_CLOSED: Figure = Figure {
    name: "wind_force_closed",
    title: "wind force on the closed leaf, over opening and overlap, strength level",
    inputs: &with_wind::<2, 10>([OPENING, OVERLAP]),
    formula: "velocity_pressure (at strength level by basis; with directionality by the edition of 2022) x 0.85 x Cf x area, at least \
              16 psf x area; area = (opening + latch_overlap) leaf_height, times solidity up to 0.7; Cf by solidity, members, \
              leaf_height and top",
    work: Work::Point(|point| {
        let length = point.number(8) + point.number(9);
        force_on(point, length, length, point.number(4))
    }),
    ..FORCE
};

/// Force on the open leaf.
pub static WIND_FORCE_OPEN: Figure = Figure {
    name: "wind_force_open",
    title: "wind force on the open leaf, over its whole length, strength level",
    inputs: &with_wind::<4, 12>([LEAF_LENGTH, COUNTERBALANCE.optional(), COVERS.optional(), TAIL_SOLIDITY]),
    formula: "as wind_force_closed, from velocity_pressure, edition, basis, directionality, solidity, members, leaf_height and top, over \
              leaf_length; where infill_covers says that the tail is filled otherwise, the tail of the counterbalance with \
              tail_solidity",
    work: Work::Point(|point| {
        let length = point.number(8);
        let [front, tail] = parts_of_open_leaf(point)?;
        let tail_solidity = if tail > 0.0 { point.given(11).ok_or(NoValue::Lacking(&["tail_solidity"]))? } else { 0.0 };
        let tail_force = if tail > 0.0 { force_on(point, tail, length, tail_solidity)? } else { 0.0 };
        Ok(force_on(point, front, length, point.number(4))? + tail_force)
    }),
    ..FORCE
};

/// Lengths of the part with the infill and of the tail that is filled otherwise.
fn parts_of_open_leaf(point: &Point<'_>) -> Result<[f64; 2], NoValue> {
    let length = point.number(8);
    let whole = point.given(10).is_none_or(|_| point.choice(10) == WHOLE_LEAF);
    if whole {
        return Ok([length, 0.0]);
    }
    let tail = point.given(9).ok_or(NoValue::Lacking(&["counterbalance"]))?;
    if tail > length { not_valid("the counterbalance is longer than the leaf") } else { Ok([length - tail, tail]) }
}

/// Where the force on the open leaf acts.
pub static WIND_CENTER_OPEN: Figure = Figure {
    name: "wind_center_open",
    title: "leading edge to the wind force on the open leaf",
    // Force times its lever turns round where the leaf grows past its carriages, and the height of a solid tail changes its
    // coefficient but not that of an open front.
    inputs: &{
        let mut inputs = with_wind::<4, 12>([
            LEAF_LENGTH.one_value(),
            COUNTERBALANCE.optional().one_value(),
            COVERS.optional(),
            TAIL_SOLIDITY,
        ]);
        inputs[6] = LEAF_HEIGHT.one_value();
        inputs
    },
    output: Dimension::LENGTH,
    formula: "leaf_length / 2; where infill_covers says that the tail is filled otherwise, the center of both forces, each from \
              velocity_pressure, edition, basis, directionality, solidity, members, leaf_height and top",
    source: "statics",
    work: Work::Point(|point| {
        let length = point.number(8);
        let [front, tail] = parts_of_open_leaf(point)?;
        if tail <= 0.0 {
            return Ok(length / 2.0);
        }
        let tail_solidity = point.given(11).ok_or(NoValue::Lacking(&["tail_solidity"]))?;
        let [on_front, on_tail] =
            [force_on(point, front, length, point.number(4))?, force_on(point, tail, length, tail_solidity)?];
        if on_front + on_tail <= 0.0 {
            return not_valid("the leaf meets no wind");
        }
        Ok((on_front * front / 2.0 + on_tail * (front + tail / 2.0)) / (on_front + on_tail))
    }),
    ..FORCE
};

const fn allowable(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        constants: &[],
        output: Dimension::FORCE,
        formula: "0.6 wind_force",
        source: "0.6 of the strength-level wind, ASCE 7 section 2.4.1 (quoted)",
        work: Work::Point(|point| Ok(ALLOWABLE * point.number(0))),
        ..FORCE
    }
}

/// Force on the closed leaf, allowable level.
pub static WIND_FORCE_CLOSED_ALLOWABLE: Figure = allowable(
    "wind_force_closed_allowable",
    "wind force on the closed leaf, allowable level",
    &[Input::figure("wind_force", Force, "wind on the closed leaf, strength level", &WIND_FORCE_CLOSED)],
);
/// Force on the open leaf, allowable level.
pub static WIND_FORCE_OPEN_ALLOWABLE: Figure = allowable(
    "wind_force_open_allowable",
    "wind force on the open leaf, allowable level",
    &[Input::figure("wind_force", Force, "wind on the open leaf, strength level", &WIND_FORCE_OPEN)],
);

/// Force coefficient as used on the closed leaf.
pub static FORCE_COEFFICIENT: Figure = Figure {
    name: "force_coefficient",
    title: "force coefficient Cf of the closed leaf, with the reduction for openings where the solid rule holds",
    // A taller leaf is both shorter for its height and nearer to the ground for it, which work against each other.
    inputs: &[
        SOLIDITY.breaks(&SOLIDITY_STEPS),
        MEMBER.optional(),
        LEAF_HEIGHT.one_value(),
        Input::figure("top", Length, "top above grade", &LEAF_TOP),
        OPENING,
        OVERLAP,
    ],
    constants: &[],
    output: Dimension::NONE,
    formula: "by solidity: over 0.7 the solid coefficient, by (opening + latch_overlap) / leaf_height and leaf_height / top, x (1 - \
              (1 - solidity)^1.5); else the open one by members",
    work: Work::Point(|point| {
        let [solidity, _, height, top, opening, overlap] = point.numbers();
        if solidity > MOST_OPEN {
            // Higher up the coefficient no longer falls evenly with the length.
            if top > 2.0 * height {
                return not_valid("the leaf hangs higher above grade than it is tall");
            }
            let openings = for_openings(solidity)?;
            return Ok(coefficient_of_solid(opening + overlap, height, top)? * openings);
        }
        if point.given(1).is_none() {
            return Err(NoValue::Lacking(&["members"]));
        }
        Ok(open_coefficient(solidity, point.choice(1), true))
    }),
    ..FORCE
};

/// Every figure of this subject.
pub static ALL: [&Figure; 13] = [
    &LEAF_TOP,
    &WIND_HEIGHT,
    &EXPOSURE_COEFFICIENT,
    &ELEVATION_FACTOR,
    &VELOCITY_PRESSURE,
    &SOLID_COEFFICIENT,
    &OPEN_COEFFICIENT,
    &FORCE_COEFFICIENT,
    &WIND_FORCE_CLOSED,
    &WIND_FORCE_CLOSED_ALLOWABLE,
    &WIND_FORCE_OPEN,
    &WIND_FORCE_OPEN_ALLOWABLE,
    &WIND_CENTER_OPEN,
];
