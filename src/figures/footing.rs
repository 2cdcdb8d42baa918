//! Embedment of a post as a laterally loaded pole: IBC 1807.3, allowable-stress loads.
//!
//! The lateral bearing pressure grows with depth, S(z) = lateral_bearing x z; the nonconstrained formula takes it at a
//! third of the depth, the constrained one at full depth. Taking it at the full trial depth in the nonconstrained
//! formula is a known slip and gives too little. Beyond 12 ft the method ends.

use super::figure::{Constant, Figure, Input, NotValid, Of};
use crate::quantity::{
    Dimension,
    QuantityKind::{Force, Length, SoilGradient},
};

const FORCE: Input = Input::of("lateral_force", Force, "resultant lateral force, allowable-stress level", None);
const HEIGHT: Input = Input::of("height", Length, "height of the resultant above grade", None);
const DIAMETER: Input = Input::of(
    "diameter",
    Length,
    "diameter of a round footing, or the diagonal of a square one",
    Some("gate.support_posts.footing.width"),
);
const BEARING: Input = Input::of(
    "lateral_bearing",
    SoilGradient,
    "lateral bearing per depth, with any doubling that is justified already in it",
    Some("site.soil.lateral_bearing"),
);

/// 12 ft: IBC 1807.3.2.1 takes the pressure of no greater depth.
const DEEPEST: Constant = Constant {
    value: 12.0 * 0.3048,
    dimension: Dimension::LENGTH,
    source: "12 ft: depth to which IBC 1807.3.2.1 lets the lateral pressure grow",
};

const VALIDITY: &str = "to 12 ft of depth; not in layered or sloping ground, frozen or saturated soil, beside an \
                        excavation, or for posts closer than 3 diameters";

fn beyond(depth: f64, deepest: f64) -> NotValid {
    let feet = depth / 0.3048;
    format!(
        "{feet:.1} ft of embedment is beyond the method, which ends at {:.0} ft: ask a geotechnical engineer",
        deepest / 0.3048
    )
}

fn checked(depth: f64, deepest: f64) -> Result<f64, NotValid> {
    if depth <= deepest * (1.0 + 1e-9) { Ok(depth) } else { Err(beyond(depth, deepest)) }
}

fn refuse_zero(inputs: &[(f64, &str)]) -> Result<(), NotValid> {
    match inputs.iter().find(|(value, _)| *value <= 0.0) {
        Some((_, name)) => Err(format!("`{name}` can be zero")),
        None => Ok(()),
    }
}

/// Embedment without restraint at grade.
pub static POST_EMBEDMENT: Figure = Figure {
    name: "post_embedment",
    title: "embedment of a post without restraint at grade",
    of: Of::Post,
    inputs: &[FORCE, HEIGHT, DIAMETER, BEARING],
    constants: &[DEEPEST],
    output: Dimension::LENGTH,
    formula: "d = A/2 (1 + sqrt(1 + 4.36 height / A)), A = 2.34 lateral_force / (S1 diameter), S1 = lateral_bearing d/3",
    source: "IBC 1807.3.2.1, equation 18-1 (text of a state adoption read)",
    validity: VALIDITY,
    point: |inputs, constants| {
        let [force, height, width, bearing] = [inputs[0], inputs[1], inputs[2], inputs[3]];
        refuse_zero(&[(width, "diameter"), (bearing, "lateral_bearing")])?;
        if force <= 0.0 {
            return Err("`lateral_force` is zero: a moment alone is what post_embedment_moment takes".to_owned());
        }
        checked(embed(force, height, width, bearing), constants[0])
    },
};

/// The depth at which the formula gives itself back: with S1 = bearing d/3 it is the positive root of
/// d^3 - k d - 1.09 k height = 0, k = 7.02 force / (bearing width), found by halving the interval that holds it.
fn embed(force: f64, height: f64, width: f64, bearing: f64) -> f64 {
    let excess = |depth: f64| {
        let a = 2.34 * force / (bearing * depth / 3.0 * width);
        a / 2.0 * (1.0 + (1.0 + 4.36 * height / a).sqrt()) - depth
    };
    let unit = (force / (bearing * width)).sqrt() + height;
    let (mut low, mut high) = (unit * 1e-9, unit);
    while excess(high) > 0.0 {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = low + (high - low) / 2.0;
        if excess(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Embedment with a rigid slab at grade.
pub static POST_EMBEDMENT_CONSTRAINED: Figure = Figure {
    name: "post_embedment_constrained",
    title: "embedment of a post restrained by a rigid slab at grade",
    of: Of::Post,
    inputs: &[FORCE, HEIGHT, DIAMETER, BEARING],
    constants: &[DEEPEST],
    output: Dimension::LENGTH,
    formula: "d = sqrt(4.25 lateral_force height / (S3 diameter)), S3 = lateral_bearing d",
    source: "IBC 1807.3.2.2, equation 18-2 (variables read in a state adoption, the coefficient in a published calculation)",
    validity: VALIDITY,
    point: |inputs, constants| {
        let [force, height, width, bearing] = [inputs[0], inputs[1], inputs[2], inputs[3]];
        refuse_zero(&[(width, "diameter"), (bearing, "lateral_bearing")])?;
        checked((4.25 * force * height / (bearing * width)).cbrt(), constants[0])
    },
};

/// Embedment under a moment without a force.
pub static POST_EMBEDMENT_MOMENT: Figure = Figure {
    name: "post_embedment_moment",
    title: "embedment of a post under a moment alone: force times height, the force going to zero",
    of: Of::Post,
    inputs: &[
        Input::of("force", Force, "force of the couple", None),
        Input::of("arm", Length, "arm of the couple", None),
        DIAMETER,
        BEARING,
    ],
    constants: &[DEEPEST],
    output: Dimension::LENGTH,
    formula: "d^3 = 1.09 x 7.02 force arm / (lateral_bearing diameter)",
    source: "limit of IBC 1807.3.2.1, equation 18-1, for a vanishing force (own algebra, confirmed by iteration)",
    validity: VALIDITY,
    point: |inputs, constants| {
        let [force, arm, width, bearing] = [inputs[0], inputs[1], inputs[2], inputs[3]];
        refuse_zero(&[(width, "diameter"), (bearing, "lateral_bearing")])?;
        checked((1.09 * 7.02 * force * arm / (bearing * width)).cbrt(), constants[0])
    },
};

/// Concrete of a round footing.
pub static FOOTING_VOLUME: Figure = Figure {
    name: "footing_volume",
    title: "concrete of a round footing",
    of: Of::Post,
    inputs: &[DIAMETER, Input::of("depth", Length, "bottom below grade", Some("gate.support_posts.footing.depth"))],
    constants: &[],
    output: Dimension { length: 3, ..Dimension::NONE },
    formula: "pi diameter^2 / 4 x depth",
    source: "arithmetic",
    validity: "a straight shaft; the post's own volume is not taken off",
    point: |inputs, _| Ok(std::f64::consts::PI * inputs[0] * inputs[0] / 4.0 * inputs[1]),
};
