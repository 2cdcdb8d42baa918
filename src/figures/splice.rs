//! Joints in the tracks: the worst moment over the travel, and what bolts and wall bear.
//!
//! The worst place of the travel is one of four: closed, open, and the two where a carriage stands at the joint. A scan of
//! 20,001 places on 20 joints confirmed it.

use super::beam::Carriages;
use super::figure::{Column, Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::geometry::CHORD_DISTANCE;
use super::inputs::{LIVE_LOAD, SPACING, TRAVEL};
use super::point::Point;
use super::spread::loaded_leaf;
use super::statics::FRONT_CLOSED;
use super::weight::{DENSITIES, LOADS, STATED_WEIGHT, with_loads_along};
use crate::quantity::{
    Dimension, INCH, POUND,
    QuantityKind::{self, Count, Force, Length, Pressure},
};

const KSI: Constant = Constant {
    value: 1000.0 * POUND / (INCH * INCH),
    dimension: Dimension::PRESSURE,
    source: "nominal shear stress A307 27, A325 54 with threads in the plane, 68 without, in ksi (AISC 360-16 table J3.2, quoted)",
};
const SIXTEENTH: Constant = Constant {
    value: INCH / 16.0,
    dimension: Dimension::LENGTH,
    source: "a standard hole is 1/16 in wider than the bolt, 1/8 in from bolts of 1 in (AISC 360-16 table J3.3, from memory)",
};
const LARGE_BOLT: Constant = Constant {
    value: INCH,
    dimension: Dimension::LENGTH,
    source: "bolt from which the standard hole is 1/8 in wider (AISC 360-16 table J3.3, from memory)",
};
const GRADES: [&str; 6] = ["A307", "A325_N", "A325_X", "SAE_5", "SAE_8", "stainless"];
/// Nominal shear stress in ksi; the last three grades have none here.
const SHEAR: [f64; 3] = [27.0, 54.0, 68.0];
/// Nominal tensile stress in ksi.
const TENSION: [f64; 3] = [45.0, 90.0, 90.0];
const PLATES: [&str; 3] = ["none", "one_side", "both_sides"];
const BOTH_SIDES: usize = 2;

const DIAMETER: Input =
    Input::of("bolt_diameter", Length, "nominal diameter of the bolts", &["splice.bolt_diameter"]).one_value();
const GRADE: Input = Input::any("bolt_grade", InputKind::Choice(&GRADES), "grade of the bolts", &["splice.bolt_grade"]);

const PLAIN: Figure = Figure {
    source: "AISC 360-16 section J3 (quoted), allowable-stress design, Omega 2.00",
    validity: "steel; slip, fatigue and eccentric plates are not covered",
    ..Figure::blank(Of::Splice, Dimension::FORCE)
};

const JOINT: Figure = Figure {
    name: "",
    title: "moment at the joint at one of the four places of the travel",
    inputs: &with_loads_along::<6, { LOADS + 6 }>([
        STATED_WEIGHT,
        LIVE_LOAD,
        FRONT_CLOSED.one_value(),
        SPACING.one_value(),
        TRAVEL.one_value(),
        Input::of("at", Length, "leading edge to the joint", &["splice.at"]).one_value(),
    ]),
    constants: &DENSITIES,
    output: Dimension::MOMENT,
    formula: "each weight and live_load before `at` x its distance, less the reaction of each carriage before it x its distance; \
              front_closed and spacing behind it, moved by nothing, by travel, or to where a carriage stands at the joint; the weights in proportion to stated_weight where it is given",
    source: "statics of a beam on two supports",
    validity: "two carriages, level track",
    ..PLAIN
};

/// The moment at a joint with the leaf moved to a place, which front, spacing, travel and the joint give.
fn moment_at(point: &Point<'_>, place: fn([f64; 4]) -> f64) -> Result<f64, NoValue> {
    let [live, front, spacing, travel, at] = [1, 2, 3, 4, 5].map(|number| point.number(LOADS + number));
    if spacing <= 0.0 {
        return not_valid("`spacing` can be zero");
    }
    let leaf = loaded_leaf(point, point.given(LOADS), live)?;
    let moved = place([front, spacing, travel, at]).min(travel).max(0.0);
    Ok(leaf.hogging(at, Carriages { front: front - moved, spacing }))
}

static JOINT_CLOSED: Figure =
    Figure { name: "splice_moment_closed", work: Work::Point(|point| moment_at(point, |_| 0.0)), ..JOINT };
static JOINT_OPEN: Figure = Figure {
    name: "splice_moment_open",
    work: Work::Point(|point| moment_at(point, |[_, _, travel, _]| travel)),
    ..JOINT
};
static JOINT_AT_FRONT: Figure = Figure {
    name: "splice_moment_at_front_carriage",
    work: Work::Point(|point| moment_at(point, |[front, _, _, at]| front - at)),
    ..JOINT
};
static JOINT_AT_TAIL: Figure = Figure {
    name: "splice_moment_at_tail_carriage",
    work: Work::Point(|point| moment_at(point, |[front, spacing, _, at]| front + spacing - at)),
    ..JOINT
};

/// The worst moment at a joint. Each place is linear in the loads, the worst of them is not: so it is taken from the four.
pub static SPLICE_MOMENT: Figure = Figure {
    name: "splice_moment",
    title: "largest moment at the joint anywhere in the travel; pulls on the top chord",
    output: Dimension::MOMENT,
    formula: "the largest moment at the joint closed, open, and with a carriage standing at it (or as near as the travel lets it); \
              weights and a live load before the joint x their distances, less the reactions of carriages before it; the weights in proportion to what is stated as their sum",
    source: "statics of a beam on two supports; four places of the travel confirmed by a scan",
    validity: "two carriages, level track",
    work: Work::Largest(&[&JOINT_CLOSED, &JOINT_OPEN, &JOINT_AT_FRONT, &JOINT_AT_TAIL]),
    ..PLAIN
};

/// The force in the chord at a joint.
pub static SPLICE_FORCE: Figure = Figure {
    name: "splice_force",
    title: "force in the chord at the joint, from its largest moment",
    inputs: &[
        Input::figure("moment", QuantityKind::Moment, "largest moment at the joint", &SPLICE_MOMENT),
        Input::figure("chord_distance", Length, "distance of the centers of the two chords", &CHORD_DISTANCE),
    ],
    formula: "moment / chord_distance",
    source: "statics of a leaf with two chords",
    work: Work::Point(|point| {
        let [moment, distance] = point.numbers();
        if distance > 0.0 { Ok(moment / distance) } else { not_valid("the chords touch") }
    }),
    ..PLAIN
};

fn area(diameter: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * diameter * diameter
}

/// Shear of a bolt.
pub static BOLT_SHEAR: Figure = Figure {
    name: "bolt_shear",
    title: "allowable shear of one bolt in one plane",
    inputs: &[GRADE, DIAMETER],
    constants: &[KSI],
    formula: "nominal shear stress of bolt_grade x pi bolt_diameter^2 / 4 / 2.00",
    validity: "A307 and A325; no values are known here for SAE and stainless grades",
    work: Work::Point(|point| match SHEAR.get(point.choice(0)) {
        Some(stress) => Ok(stress * point.constant(0) * area(point.number(1)) / 2.0),
        None => not_valid(
            "no shear value is known here for this grade of bolt; the submittal must give one with its source",
        ),
    }),
    ..PLAIN
};

/// Tension of a bolt.
pub static BOLT_TENSION: Figure = Figure {
    name: "bolt_tension",
    title: "allowable tension of one bolt",
    inputs: &[GRADE, DIAMETER],
    constants: &[Constant {
        source: "nominal tensile stress A307 45, A325 90 ksi (AISC 360-16 table J3.2, quoted)",
        ..KSI
    }],
    formula: "nominal tensile stress of bolt_grade x pi bolt_diameter^2 / 4 / 2.00",
    validity: "A307 and A325; no values are known here for SAE and stainless grades",
    work: Work::Point(|point| match TENSION.get(point.choice(0)) {
        Some(stress) => Ok(stress * point.constant(0) * area(point.number(1)) / 2.0),
        None => not_valid(
            "no tensile value is known here for this grade of bolt; the submittal must give one with its source",
        ),
    }),
    ..PLAIN
};

/// Clear distance of the last bolt.
pub static CLEAR_DISTANCE: Figure = Figure {
    name: "clear_distance",
    title: "clear distance from the last hole to the end, along the force",
    inputs: &[
        Input::of("edge_distance", Length, "center of the last bolt to the end", &["splice.edge_distance"]),
        DIAMETER,
    ],
    constants: &[SIXTEENTH, LARGE_BOLT],
    output: Dimension::LENGTH,
    formula: "edge_distance - (bolt_diameter + 1/16 in) / 2; from bolt_diameter 1 in with 1/8 in",
    source: "arithmetic; standard hole of AISC 360-16 table J3.3 (from memory)",
    work: Work::Point(|point| {
        let [edge, bolt] = point.numbers();
        let wider = if bolt < point.constant(1) { 1.0 } else { 2.0 };
        Ok((edge - (bolt + wider * point.constant(0)) / 2.0).max(0.0))
    }),
    ..PLAIN
};

/// Bearing of a bolt.
pub static BOLT_BEARING: Figure = Figure {
    name: "bolt_bearing",
    title: "allowable bearing of one bolt on one wall, tearing out included",
    inputs: &[
        DIAMETER,
        Input::of("wall", Length, "wall thickness that the bolt bears on", &["splice.wall"]),
        Input::of("tensile_strength", Pressure, "tensile strength of that wall", &["splice.tensile_strength"]),
        Input::figure("clear_distance", Length, "clear distance along the force", &CLEAR_DISTANCE),
    ],
    formula: "the smaller of 2.4 bolt_diameter wall tensile_strength and 1.2 clear_distance wall tensile_strength, / 2.00",
    work: Work::Point(|point| {
        let [diameter, wall, strength, clear] = point.numbers();
        Ok((2.4 * diameter).min(1.2 * clear) * wall * strength / 2.0)
    }),
    ..PLAIN
};

/// What a joint bears.
pub static SPLICE_STRENGTH: Figure = Figure {
    name: "splice_strength",
    title: "allowable force of the bolts on one side of the joint",
    inputs: &[
        Input::of("bolts", Count, "bolts on one side of the joint", &["splice.bolts_each_side"]),
        Input::figure("bolt_shear", Force, "allowable shear of one bolt", &BOLT_SHEAR),
        Input::figure("bolt_bearing", Force, "allowable bearing of one bolt", &BOLT_BEARING),
        Input::any("plates", InputKind::Choice(&PLATES), "on which sides plates lie", &["splice.plates"]),
    ],
    formula: "bolts x the smaller of bolt_shear and bolt_bearing, twice where plates lie on both sides",
    validity: "steel; the plates themselves, slip and fatigue are not covered; every bolt counted with the end distance of the last",
    work: Work::Point(|point| {
        let [bolts, shear, bearing] = point.numbers();
        let planes = if point.choice(3) == BOTH_SIDES { 2.0 } else { 1.0 };
        Ok(bolts * planes * shear.min(bearing))
    }),
    ..PLAIN
};

/// The worst bolt of a group.
pub static BOLT_GROUP_FORCE: Figure = Figure {
    name: "bolt_group_force",
    title: "force on the worst bolt of an eccentrically loaded group",
    inputs: &[
        Input::of("load", Force, "load on the group", &[]),
        Input::of("eccentricity", Length, "load to the center of the group, square to the load", &[]),
        Input::any(
            "bolt",
            InputKind::Rows(&[
                Column { name: "x", kind: Length, field: "", after: "" },
                Column { name: "y", kind: Length, field: "", after: "," },
            ]),
            "place of a bolt: square to the load and along it, from any corner",
            &[],
        )
        .one_value(),
    ],
    formula: "load / n and load eccentricity r / sum r^2, added as vectors, for the bolt where it is largest",
    source: "elastic method (published examples of three codes reproduced)",
    validity: "bolts of one size, rigid plates",
    work: Work::Point(|point| {
        let bolts: Vec<[f64; 2]> = point.rows::<2>(2).collect();
        let count = bolts.len() as f64;
        let center = |axis: usize| bolts.iter().map(|bolt| bolt[axis]).sum::<f64>() / count;
        let (cx, cy) = (center(0), center(1));
        let polar: f64 = bolts.iter().map(|[x, y]| (x - cx).powi(2) + (y - cy).powi(2)).sum();
        if polar <= 0.0 {
            return not_valid("the bolts stand in one place");
        }
        let [load, eccentricity] = [point.number(0), point.number(1)];
        let turn = load * eccentricity / polar;
        let force = |[x, y]: &[f64; 2]| (turn * (y - cy)).hypot(load / count + turn * (x - cx));
        Ok(bolts.iter().map(force).fold(0.0, f64::max))
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 8] = [
    &SPLICE_MOMENT,
    &SPLICE_FORCE,
    &BOLT_SHEAR,
    &BOLT_TENSION,
    &CLEAR_DISTANCE,
    &BOLT_BEARING,
    &SPLICE_STRENGTH,
    &BOLT_GROUP_FORCE,
];
