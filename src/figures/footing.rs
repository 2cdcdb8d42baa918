//! Footings of posts: embedment as a laterally loaded pole, bearing, uplift, concrete. IBC 1807.3, allowable-stress loads.
//!
//! The lateral bearing pressure grows with depth, S(z) = lateral_bearing x z; the nonconstrained formula takes it at a
//! third of the depth, the constrained one at full depth. Taking it at the full trial depth in the nonconstrained
//! formula is a known slip and gives too little. It grows no further below 12 ft, where the method ends.

use super::carriage_load::LARGEST_CARRIAGE_LOAD;
use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::lateral::{CLAIMED, POST_LATERAL_FREE, POST_LATERAL_LATCHED, POST_LATERAL_OPEN, lateral};
use super::post::{MOMENT_FREE, MOMENT_LATCHED, MOMENT_OPEN, moment};
use super::soil::LATERAL_BEARING;
use crate::quantity::{
    Dimension, FOOT, POUND,
    QuantityKind::{self, Force, Length, SoilGradient},
};

const FORCE: Input = Input::of("lateral_force", Force, "resultant lateral force, allowable-stress level", &[]);
const HEIGHT: Input = Input::of("height", Length, "height of the resultant above grade", &[]);
const DIAMETER: Input =
    Input::figure("diameter", Length, "diameter of a round footing, or the diagonal of a square one", &EFFECTIVE_WIDTH);
const BEARING: Input = Input::figure(
    "lateral_bearing",
    SoilGradient,
    "lateral bearing per depth, with any doubling that is justified already in it",
    &LATERAL_BEARING,
);
const SHAPES: [&str; 2] = ["round", "square"];
const ROUND: usize = 0;
const SHAPE: Input = Input::any("shape", InputKind::Choice(&SHAPES), "shape of the footing", &["post.footing.shape"]);
const WIDTH: Input =
    Input::of("width", Length, "diameter of a round footing, side of a square one", &["post.footing.width"]);
const DEPTH: Input = Input::of("depth", Length, "bottom below grade", &["post.footing.depth"]);

/// 12 ft: IBC 1807.3.2.1 takes the pressure of no greater depth.
const DEEPEST: Constant = Constant {
    value: 12.0 * FOOT,
    dimension: Dimension::LENGTH,
    source: "12 ft: depth to which IBC 1807.3.2.1 lets the lateral pressure grow",
};
/// Concrete.
const CONCRETE: Constant = Constant {
    value: 150.0 * POUND / (FOOT * FOOT * FOOT),
    dimension: Dimension { length: -3, force: 1, ..Dimension::NONE },
    source: "concrete weighs 150 lb/ft3 (common practice, no published source)",
};

const VALIDITY: &str = "to 12 ft of depth; not in layered or sloping ground, frozen or saturated soil, beside an \
                        excavation, or for posts closer than 3 diameters";

const PLAIN: Figure = Figure {
    constants: &[DEEPEST],
    source: "IBC 1807.3.2.1, equation 18-1 (text of a state adoption read)",
    validity: VALIDITY,
    ..Figure::blank(Of::Post, Dimension::LENGTH)
};

/// Width that the soil sees.
pub static EFFECTIVE_WIDTH: Figure = Figure {
    name: "footing_diameter",
    title: "diameter of a round footing, or the diagonal of a square one",
    inputs: &[SHAPE, WIDTH],
    constants: &[],
    formula: "width by shape: as it is for a round one, times the square root of 2 for a square one",
    source: "IBC 1807.3.2.1, definition of b (text of a state adoption read)",
    validity: "a straight shaft",
    work: Work::Point(|point| {
        Ok(if point.choice(0) == ROUND { point.number(1) } else { point.number(1) * std::f64::consts::SQRT_2 })
    }),
    ..PLAIN
};

fn refuse_zero(inputs: &[(f64, &str)]) -> Result<(), NoValue> {
    match inputs.iter().find(|(value, _)| *value <= 0.0) {
        Some((_, name)) => not_valid(format!("`{name}` can be zero")),
        None => Ok(()),
    }
}

/// A depth within the method, or what the capped pressure would ask for beyond it.
fn checked(depth: f64, deepest: f64, capped: impl Fn() -> f64) -> Result<f64, NoValue> {
    if depth <= deepest * (1.0 + 1e-9) {
        return Ok(depth);
    }
    let foot = deepest / 12.0;
    let depth = capped();
    not_valid(format!(
        "{:.2} ft ({depth:.2} m) of embedment is beyond the method, which ends at 12 ft (3.66 m): ask a geotechnical engineer",
        depth / foot
    ))
}

/// Depth without restraint at grade: with S1 = bearing d / 3 the code's formula is the cubic
/// d^3 - k d - 1.09 x 7.02 moment / (bearing width) = 0, k = 7.02 force / (bearing width), which also holds for a moment
/// alone. Below the 12 ft cap the pressure is that of 12 ft, and d^2 - A d - 1.09 A height = 0.
fn nonconstrained(force: f64, moment: f64, width: f64, bearing: f64, deepest: f64) -> Result<f64, NoValue> {
    refuse_zero(&[(width, "diameter"), (bearing, "lateral_bearing")])?;
    if moment <= 0.0 && force <= 0.0 {
        return Ok(0.0);
    }
    // A force at grade without a moment still asks for a depth: the square root of k.
    let k = 7.02 * force / (bearing * width);
    let c = 1.09 * 7.02 * moment.max(0.0) / (bearing * width);
    // From above the cubic falls to its only positive root without crossing it.
    let mut depth = c.cbrt() + k.sqrt();
    for _ in 0..60 {
        let next = depth - (depth.powi(3) - k * depth - c) / (3.0 * depth * depth - k);
        let done = (depth - next).abs() <= 1e-15 * depth;
        depth = next;
        if done {
            break;
        }
    }
    checked(depth, deepest, || {
        let pressure = bearing * deepest / 3.0 * width;
        let a = 2.34 * force / pressure;
        let rest = 1.09 * 2.34 * moment / pressure;
        a / 2.0 + (a * a / 4.0 + rest).sqrt()
    })
}

/// Depth with a rigid slab at grade.
fn constrained(moment: f64, width: f64, bearing: f64, deepest: f64) -> Result<f64, NoValue> {
    refuse_zero(&[(width, "diameter"), (bearing, "lateral_bearing")])?;
    let depth = (4.25 * moment / (bearing * width)).cbrt();
    checked(depth, deepest, || (4.25 * moment / (bearing * deepest * width)).sqrt())
}

/// Embedment without restraint at grade.
pub static POST_EMBEDMENT: Figure = Figure {
    name: "post_embedment",
    title: "embedment of a post without restraint at grade",
    inputs: &[FORCE, HEIGHT, DIAMETER, BEARING],
    formula: "d = A/2 (1 + sqrt(1 + 4.36 height / A)), A = 2.34 lateral_force / (S1 diameter), S1 = lateral_bearing d/3",
    work: Work::Point(|point| {
        let [force, height, width, bearing] = point.numbers();
        if force <= 0.0 {
            return not_valid("`lateral_force` is zero: a moment alone is what post_embedment_moment takes");
        }
        nonconstrained(force, force * height, width, bearing, point.constant(0))
    }),
    ..PLAIN
};

/// Embedment with a rigid slab at grade.
pub static POST_EMBEDMENT_CONSTRAINED: Figure = Figure {
    name: "post_embedment_constrained",
    title: "embedment of a post restrained by a rigid slab at grade",
    inputs: &[FORCE, HEIGHT, DIAMETER, BEARING],
    formula: "d = sqrt(4.25 lateral_force height / (S3 diameter)), S3 = lateral_bearing d",
    source: "IBC 1807.3.2.2, equation 18-2 (variables read in a state adoption, the coefficient in a published calculation)",
    work: Work::Point(|point| {
        let [force, height, width, bearing] = point.numbers();
        constrained(force * height, width, bearing, point.constant(0))
    }),
    ..PLAIN
};

/// Embedment under a moment without a force.
pub static POST_EMBEDMENT_MOMENT: Figure = Figure {
    name: "post_embedment_moment",
    title: "embedment of a post under a moment alone",
    inputs: &[Input::of("moment", QuantityKind::Moment, "moment at grade", &[]), DIAMETER, BEARING],
    formula: "d^3 = 1.09 x 7.02 moment / (lateral_bearing diameter)",
    source: "limit of IBC 1807.3.2.1, equation 18-1, for a vanishing force (own algebra, confirmed by iteration)",
    work: Work::Point(|point| {
        let [moment, width, bearing] = point.numbers();
        nonconstrained(0.0, moment, width, bearing, point.constant(0))
    }),
    ..PLAIN
};

const CONSTRAINED: Input = Input::any(
    "constrained",
    InputKind::YesNo,
    "whether a rigid slab at grade holds the post",
    &["post.footing.constrained"],
)
.assumed(0.0, "no slab at grade");

/// Embedment of a post of a gate in one case of wind.
const fn embedment(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        formula: "d^3 - k d - 1.09 x 7.02 moment / (lateral_bearing diameter) = 0, k = 7.02 lateral / (lateral_bearing diameter): \
                  equation 18-1 with S1 = lateral_bearing d/3; constrained: d^3 = 4.25 moment / (lateral_bearing diameter)",
        source: "IBC 1807.3.2 (text of a state adoption read; the constrained coefficient in a published calculation)",
        work: Work::Point(|point| {
            let [force, moment, width, bearing] = point.numbers();
            if point.yes(4) {
                return constrained(moment, width, bearing, point.constant(0));
            }
            nonconstrained(force, moment, width, bearing, point.constant(0))
        }),
        ..PLAIN
    }
}

/// Closed and latched.
pub static EMBEDMENT_LATCHED: Figure = embedment(
    "embedment_closed_latched",
    "embedment that the wind asks for, gate closed and latched",
    &[lateral(&POST_LATERAL_LATCHED), moment(&MOMENT_LATCHED), DIAMETER, BEARING, CONSTRAINED],
);
/// Closed and free.
pub static EMBEDMENT_FREE: Figure = embedment(
    "embedment_closed_free",
    "embedment that the wind asks for, gate closed and free",
    &[lateral(&POST_LATERAL_FREE), moment(&MOMENT_FREE), DIAMETER, BEARING, CONSTRAINED],
);
/// Parked open.
pub static EMBEDMENT_OPEN: Figure = embedment(
    "embedment_open_parked",
    "embedment that the wind asks for, gate parked open",
    &[lateral(&POST_LATERAL_OPEN), moment(&MOMENT_OPEN), DIAMETER, BEARING, CONSTRAINED],
);
/// Over the cases claimed.
pub static EMBEDMENT_NEEDED: Figure = Figure {
    name: "embedment_needed",
    title: "embedment that the wind asks for, worst of the cases claimed",
    constants: &[],
    formula: "the largest of embedment_closed_latched, embedment_closed_free, embedment_open_parked among the cases claimed",
    source: "IBC 1807.3.2 (text of a state adoption read; the constrained coefficient in a published calculation)",
    work: Work::Claimed(&CLAIMED, &[&EMBEDMENT_LATCHED, &EMBEDMENT_FREE, &EMBEDMENT_OPEN]),
    ..PLAIN
};

/// Plan area.
pub static FOOTING_AREA: Figure = Figure {
    name: "footing_area",
    title: "plan area of the footing",
    inputs: &[SHAPE, WIDTH],
    constants: &[],
    output: Dimension::AREA,
    formula: "by shape: pi width^2 / 4, or width^2",
    source: "arithmetic",
    validity: "a straight shaft",
    work: Work::Point(|point| {
        let square = point.number(1) * point.number(1);
        Ok(if point.choice(0) == ROUND { std::f64::consts::FRAC_PI_4 * square } else { square })
    }),
    ..PLAIN
};

const AREA: Input = Input::figure("area", QuantityKind::Area, "plan area of the footing", &FOOTING_AREA);

/// Concrete.
pub static FOOTING_VOLUME: Figure = Figure {
    name: "footing_volume",
    title: "concrete of the footing",
    inputs: &[AREA, DEPTH],
    constants: &[],
    output: Dimension::VOLUME,
    formula: "area x depth",
    source: "arithmetic",
    validity: "a straight shaft; the post's own volume is not taken off",
    work: Work::Point(|point| Ok(point.number(0) * point.number(1))),
    ..PLAIN
};

const VOLUME: Input = Input::figure("volume", QuantityKind::Volume, "concrete of the footing", &FOOTING_VOLUME);

/// Pressure under the footing.
pub static FOOTING_PRESSURE: Figure = Figure {
    name: "footing_pressure",
    title: "pressure under the footing, end bearing alone",
    inputs: &[
        Input::figure("load", Force, "largest load of the carriage on the post", &LARGEST_CARRIAGE_LOAD),
        VOLUME,
        AREA,
    ],
    constants: &[CONCRETE],
    output: Dimension::PRESSURE,
    formula: "(load + 150 lb/ft3 volume) / area",
    source: "statics (own arithmetic)",
    validity: "no shaft friction, no displaced soil taken off, the post's own weight left out",
    work: Work::Point(|point| {
        let [load, volume, area] = point.numbers();
        if area <= 0.0 {
            return not_valid("the footing has no area");
        }
        Ok((load + point.constant(0) * volume) / area)
    }),
    ..PLAIN
};

/// What the footing holds down.
pub static FOOTING_HOLD: Figure = Figure {
    name: "footing_hold",
    title: "uplift that the weight of the footing holds",
    inputs: &[VOLUME],
    constants: &[CONCRETE],
    output: Dimension::FORCE,
    formula: "0.6 x 150 lb/ft3 volume",
    source: "0.6 of the dead weight, ASCE 7 section 2.4.1 (quoted)",
    validity: "no shaft friction, the post's own weight left out",
    work: Work::Point(|point| Ok(0.6 * point.constant(0) * point.number(0))),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 12] = [
    &EFFECTIVE_WIDTH,
    &POST_EMBEDMENT,
    &POST_EMBEDMENT_CONSTRAINED,
    &POST_EMBEDMENT_MOMENT,
    &EMBEDMENT_LATCHED,
    &EMBEDMENT_FREE,
    &EMBEDMENT_OPEN,
    &EMBEDMENT_NEEDED,
    &FOOTING_AREA,
    &FOOTING_VOLUME,
    &FOOTING_PRESSURE,
    &FOOTING_HOLD,
];
