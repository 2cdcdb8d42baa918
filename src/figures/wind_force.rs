//! Wind on the leaf by ASCE 7: the force on the closed and on the open leaf, and where it acts.

use super::figure::{Constant, Figure, Input, InputKind, NoValue, Work, not_valid};
use super::inputs::{
    COUNTED_FROM, COUNTERBALANCE, COVERS, LEAF_HEIGHT, LEAF_LENGTH, OPENING, OVERLAP, SOLIDITY, WHOLE_LEAF,
    from_opening_edge,
};
use super::point::Point;
use super::wind::{
    DIRECTIONALITY, EDITION, EDITION_22, LEAF_TOP, MEMBER, MEMBERS, MOST_OPEN, PLAIN, SOLIDITY_STEPS,
    VELOCITY_PRESSURE, coefficient_of_solid, open_coefficient,
};
use crate::quantity::{
    Dimension, FOOT, POUND,
    QuantityKind::{Force, Length, Pressure, Ratio},
};

const BASES: [&str; 2] = ["strength", "allowable"];
const STRENGTH: usize = 0;
/// Share of the strength-level wind in allowable-stress combinations: ASCE 7 section 2.4.1 (quoted).
const ALLOWABLE: f64 = 0.6;
/// 16 psf at strength level.
const LEAST: Constant = Constant {
    value: 16.0 * POUND / (FOOT * FOOT),
    dimension: Dimension::PRESSURE,
    source: "16 psf at strength level, least design wind load, ASCE 7 section 29.7 (clause from memory, value seen in use)",
};

const BASIS: Input = Input::any(
    "basis",
    InputKind::Choice(&BASES),
    "whether the speed is strength or allowable level",
    &["site.wind.basis"],
);

/// The reduction of the coefficient of a solid leaf for its openings.
fn for_openings(solidity: f64) -> Result<f64, NoValue> {
    if solidity > 1.0 {
        return not_valid("`solidity` is over 1");
    }
    Ok(1.0 - (1.0 - solidity).powf(1.5))
}

const TAIL_SOLIDITY: Input =
    Input::of("tail_solidity", Ratio, "solid over gross area of the tail", &["gate.leaf.tail_infill.solidity"])
        .optional()
        .breaks(&SOLIDITY_STEPS);
const TAIL_MEMBER: Input = Input::any(
    "tail_members",
    InputKind::Choice(&MEMBERS),
    "whether what meets the wind at the tail is flat-sided or round",
    &["gate.leaf.tail_infill.members"],
)
.optional();
/// Where the inputs of the wind stand in every figure that takes them, and behind them those of the open leaf.
mod at {
    pub const PRESSURE: usize = 0;
    pub const EDITION: usize = 1;
    pub const BASIS: usize = 2;
    pub const DIRECTIONALITY: usize = 3;
    pub const SOLIDITY: usize = 4;
    pub const MEMBERS: usize = 5;
    pub const HEIGHT: usize = 6;
    pub const TOP: usize = 7;
    pub const LENGTH: usize = 8;
    pub const COUNTERBALANCE: usize = 9;
    pub const COVERS: usize = 10;
    pub const TAIL_SOLIDITY: usize = 11;
    pub const TAIL_MEMBERS: usize = 12;
    pub const COUNTED_FROM: usize = 13;
}
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

/// An even part of the leaf in the wind.
struct Part {
    length: f64,
    solidity: f64,
    members: Option<usize>,
    /// The input that says what its members are.
    named: &'static [&'static str],
}

/// The part with the infill.
fn front(point: &Point<'_>, length: f64) -> Part {
    Part {
        length,
        solidity: point.number(at::SOLIDITY),
        members: point.given(at::MEMBERS).map(|_| point.choice(at::MEMBERS)),
        named: &["members"],
    }
}

/// Strength-level force on a part of a leaf whose whole length meets the wind.
fn force_on(point: &Point<'_>, part: &Part, whole: f64) -> Result<f64, NoValue> {
    let q = point.number(at::PRESSURE);
    let q = if point.choice(at::EDITION) == EDITION_22 { q * point.number(at::DIRECTIONALITY) } else { q };
    let strength = if point.choice(at::BASIS) == STRENGTH { q } else { q / ALLOWABLE };
    let [height, top] = [point.number(at::HEIGHT), point.number(at::TOP)];
    let gust = point.constant(1);
    let gross = part.length * height;
    let (coefficient, area) = if part.solidity > MOST_OPEN {
        let openings = for_openings(part.solidity)?;
        (coefficient_of_solid(whole, height, top)? * openings, gross)
    } else {
        let members = part.members.ok_or(NoValue::Lacking(part.named))?;
        (open_coefficient(part.solidity, members, true), part.solidity * gross)
    };
    Ok((strength * gust * coefficient * area).max(point.constant(0) * area))
}

const VALIDITY: &str = "rigid leaf; solid rule over 70 % solidity, open rule up to it; case C of a solid leaf is not covered; \
                        round members count as thin, which is the larger force; no ice, no wet screen";
const OPEN_LEAF: &str = "rigid leaf; solid rule over 70 % solidity, open rule up to it, by part; a tail filled otherwise has members \
                         of its own; case C of a solid leaf is not covered; round members count as thin, which is the larger \
                         force; no ice, no wet screen";

const FORCE: Figure = Figure {
    constants: &FORCE_CONSTANTS,
    output: Dimension::FORCE,
    source: "ASCE 7 sections 29.3, 29.4 and 29.7 (quoted); strength is allowable over 0.6",
    validity: VALIDITY,
    ..PLAIN
};

const fn with_wind<const N: usize, const ALL: usize>(more: [Input; N]) -> [Input; ALL] {
    assert!(WIND.len() + N == ALL);
    let mut all = [EDITION; ALL];
    let mut place = 0;
    while place < ALL {
        all[place] = if place < WIND.len() { WIND[place] } else { more[place - WIND.len()] };
        place += 1;
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
        force_on(point, &front(point, length), length)
    }),
    ..FORCE
};

/// Force on the open leaf.
pub static WIND_FORCE_OPEN: Figure = Figure {
    name: "wind_force_open",
    title: "wind force on the open leaf, over its whole length, strength level",
    inputs: &with_wind::<6, 14>([
        LEAF_LENGTH,
        COUNTERBALANCE.optional(),
        COVERS.optional(),
        TAIL_SOLIDITY,
        TAIL_MEMBER,
        COUNTED_FROM,
    ]),
    formula: "as wind_force_closed, from velocity_pressure, edition, basis, directionality, solidity, members, leaf_height and top, over \
              leaf_length; where infill_covers says that the tail is filled otherwise, the tail of the counterbalance, by counterbalance_from, with \
              tail_solidity and tail_members",
    work: Work::Point(|point| {
        let length = point.number(at::LENGTH);
        let (front, tail) = parts_of_open_leaf(point)?;
        let on_tail = tail.map_or(Ok(0.0), |tail| force_on_tail(point, &tail, length))?;
        Ok(force_on(point, &front, length)? + on_tail)
    }),
    validity: OPEN_LEAF,
    ..FORCE
};

/// The part with the infill and the tail that is filled otherwise.
fn parts_of_open_leaf(point: &Point<'_>) -> Result<(Part, Option<Part>), NoValue> {
    let length = point.number(at::LENGTH);
    let whole = point.given(at::COVERS).is_none_or(|_| point.choice(at::COVERS) == WHOLE_LEAF);
    if whole {
        return Ok((front(point, length), None));
    }
    let tail = point.given(at::COUNTERBALANCE).ok_or(NoValue::Lacking(&["counterbalance"]))?;
    from_opening_edge(point, at::COUNTED_FROM)?;
    if tail > length {
        return not_valid("the counterbalance is longer than the leaf");
    }
    let front = front(point, length - tail);
    if tail <= 0.0 {
        return Ok((front, None));
    }
    let solidity = point.given(at::TAIL_SOLIDITY).ok_or(NoValue::Lacking(&["tail_solidity"]))?;
    let members = point.given(at::TAIL_MEMBERS).map(|_| point.choice(at::TAIL_MEMBERS));
    Ok((front, Some(Part { length: tail, solidity, members, named: &["tail_members"] })))
}

/// A tail with nothing in it meets no wind, whatever its members.
fn force_on_tail(point: &Point<'_>, tail: &Part, whole: f64) -> Result<f64, NoValue> {
    if tail.solidity <= 0.0 { Ok(0.0) } else { force_on(point, tail, whole) }
}

/// Where the force on the open leaf acts.
pub static WIND_CENTER_OPEN: Figure = Figure {
    name: "wind_center_open",
    title: "leading edge to the wind force on the open leaf",
    // Force times its lever turns round where the leaf grows past its carriages, and the height of a solid tail changes its
    // coefficient but not that of an open front.
    inputs: &{
        let mut inputs = with_wind::<6, 14>([
            LEAF_LENGTH.one_value(),
            COUNTERBALANCE.optional().one_value(),
            COVERS.optional(),
            TAIL_SOLIDITY,
            TAIL_MEMBER,
            COUNTED_FROM,
        ]);
        inputs[at::HEIGHT] = LEAF_HEIGHT.one_value();
        inputs
    },
    output: Dimension::LENGTH,
    formula: "leaf_length / 2; where infill_covers says that the tail is filled otherwise, the center of both forces, each from \
              velocity_pressure, edition, basis, directionality, solidity, members, leaf_height and top, that on the tail of the \
              counterbalance, by counterbalance_from, with tail_solidity and tail_members",
    source: "statics",
    work: Work::Point(|point| {
        let length = point.number(at::LENGTH);
        let (front, tail) = parts_of_open_leaf(point)?;
        let Some(tail) = tail else { return Ok(length / 2.0) };
        let (on_front, on_tail) = (force_on(point, &front, length)?, force_on_tail(point, &tail, length)?);
        if on_front + on_tail <= 0.0 {
            return not_valid("the leaf meets no wind");
        }
        Ok((on_front * front.length / 2.0 + on_tail * (front.length + tail.length / 2.0)) / (on_front + on_tail))
    }),
    validity: OPEN_LEAF,
    ..FORCE
};

const ECCENTRICITY: Figure = Figure {
    constants: &[Constant {
        value: 0.2,
        dimension: Dimension::NONE,
        source: "0.2 of the length: eccentricity of case B, ASCE 7 fig. 29.3-1 (from public transcriptions)",
    }],
    output: Dimension::LENGTH,
    source: "ASCE 7 fig. 29.3-1, case B (from public transcriptions)",
    validity: "case B of a solid leaf; an open leaf has its force in the middle of its parts; case C is not covered",
    ..PLAIN
};

/// Case B on the closed leaf.
pub static WIND_ECCENTRICITY_CLOSED: Figure = Figure {
    name: "wind_eccentricity_closed",
    title: "how far off its middle the wind can act on a closed leaf that is solid, to either side",
    inputs: &[SOLIDITY.breaks(&SOLIDITY_STEPS), OPENING, OVERLAP],
    formula: "0.2 (opening + latch_overlap) where solidity is over 0.7, else nothing",
    work: Work::Point(|point| {
        let [solidity, opening, overlap] = point.numbers();
        Ok(if solidity > MOST_OPEN { point.constant(0) * (opening + overlap) } else { 0.0 })
    }),
    ..ECCENTRICITY
};

/// Case B on the open leaf.
pub static WIND_ECCENTRICITY_OPEN: Figure = Figure {
    name: "wind_eccentricity_open",
    title: "how far off its middle the wind can act on an open leaf that is solid in any part, to either side",
    inputs: &[SOLIDITY.breaks(&SOLIDITY_STEPS), LEAF_LENGTH, COVERS.optional(), TAIL_SOLIDITY],
    formula: "0.2 leaf_length where solidity is over 0.7, or, where infill_covers says that the tail is filled otherwise, \
              tail_solidity; else nothing",
    work: Work::Point(|point| {
        let whole = point.given(2).is_none_or(|_| point.choice(2) == WHOLE_LEAF);
        let tail = if whole { 0.0 } else { point.given(3).ok_or(NoValue::Lacking(&["tail_solidity"]))? };
        Ok(if point.number(0).max(tail) > MOST_OPEN { point.constant(0) * point.number(1) } else { 0.0 })
    }),
    ..ECCENTRICITY
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
pub static ALL: [&Figure; 8] = [
    &FORCE_COEFFICIENT,
    &WIND_FORCE_CLOSED,
    &WIND_FORCE_CLOSED_ALLOWABLE,
    &WIND_FORCE_OPEN,
    &WIND_FORCE_OPEN_ALLOWABLE,
    &WIND_CENTER_OPEN,
    &WIND_ECCENTRICITY_CLOSED,
    &WIND_ECCENTRICITY_OPEN,
];
