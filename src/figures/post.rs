//! What a post has to bear: the carriage on it beside the post, and the wind; against its section.
//!
//! Allowable level throughout. The moment at grade is the wind at its height plus the carriage load at its distance from
//! the post; both turn the post the same way, as the wind may blow either way.

use super::carriage_load::{SIZE_CLOSED, SIZE_OPEN};
use super::figure::{Figure, Input, NoValue, Of, Work, not_valid};
use super::inputs::{BOTTOM_GAP, LEAF_HEIGHT};
use super::lateral::{
    CLAIMED, LATCH, POST_LATERAL_FREE, POST_LATERAL_LATCHED, POST_LATERAL_OPEN, ROLE, WIND_AT, lateral,
};
use super::section::{AXIAL_STRENGTH, BENDING_STRENGTH, SECTION_INERTIA, STEEL_MODULUS};
use crate::quantity::{
    Dimension,
    QuantityKind::{self, Force, Length},
};

const PLAIN: Figure = Figure {
    source: "statics of an embedded post; confirmed by a frame program",
    validity: "an embedded post; no base plate, no holes at the carriage",
    ..Figure::blank(Of::Post, Dimension::FORCE)
};

/// Distance of the leaf from the post.
pub static ECCENTRICITY: Figure = Figure {
    name: "eccentricity",
    title: "middle plane of the leaf to the centerline of the post",
    inputs: &[
        Input::of("offset", Length, "that distance as stated", &["gate.leaf.offset"]).optional(),
        Input::of("size", Length, "outside width or diameter of the post", &["post.size"]).optional(),
        Input::of("leaf_gap", Length, "face of the leaf to the post", &["post.leaf_gap"]).optional(),
        Input::of("thickness", Length, "thickness of the leaf", &["gate.leaf.thickness"]).optional(),
        ROLE.optional(),
    ],
    output: Dimension::LENGTH,
    formula: "offset; where it is not stated, size / 2 + leaf_gap + thickness / 2; by its role a latch post carries no leaf: 0",
    source: "arithmetic on the declared dimensions",
    validity: "none; it is as good as the dimensions",
    work: Work::Point(|point| match (point.given(0), point.given(1), point.given(2), point.given(3)) {
        // No carriage loads a latch post: its distance from the leaf is not asked for.
        _ if point.given(4).is_some() && point.choice(4) == LATCH => Ok(0.0),
        (Some(offset), ..) => Ok(offset),
        (None, Some(size), Some(gap), Some(thickness)) => Ok(size / 2.0 + gap + thickness / 2.0),
        _ => Err(NoValue::Lacking(&["offset"])),
    }),
    ..PLAIN
};

const ECCENTRIC: Input = Input::figure("eccentricity", Length, "leaf to the centerline of the post", &ECCENTRICITY);

const fn carriage(figure: &'static Figure) -> Input {
    Input::figure("carriage_load", Force, "load of the carriage, up or down", figure)
}

/// Moment of a post at grade.
const fn base_moment(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        output: Dimension::MOMENT,
        formula: "lateral wind_height + carriage_load eccentricity",
        work: Work::Point(|point| {
            let [lateral, height, load, eccentricity] = point.numbers();
            Ok(lateral * height + load * eccentricity)
        }),
        ..PLAIN
    }
}

/// Closed and latched.
pub static MOMENT_LATCHED: Figure = base_moment(
    "moment_closed_latched",
    "moment of the post at grade, gate closed and latched",
    &[lateral(&POST_LATERAL_LATCHED), WIND_AT, carriage(&SIZE_CLOSED), ECCENTRIC],
);
/// Closed and free.
pub static MOMENT_FREE: Figure = base_moment(
    "moment_closed_free",
    "moment of the post at grade, gate closed and free",
    &[lateral(&POST_LATERAL_FREE), WIND_AT, carriage(&SIZE_CLOSED), ECCENTRIC],
);
/// Parked open.
pub static MOMENT_OPEN: Figure = base_moment(
    "moment_open_parked",
    "moment of the post at grade, gate parked open",
    &[lateral(&POST_LATERAL_OPEN), WIND_AT, carriage(&SIZE_OPEN), ECCENTRIC],
);

/// Height of the one force that would turn the post as much. A taller leaf lifts the wind and dilutes the carriage: over
/// ranges its lowest value lies inside.
const fn resultant(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        output: Dimension::LENGTH,
        formula: "moment / lateral",
        validity: "none where no wind acts: then there is a moment alone",
        work: Work::Point(|point| {
            let [moment, lateral] = point.numbers();
            if lateral > 0.0 { Ok(moment / lateral) } else { not_valid("no wind acts on this post in this case") }
        }),
        ..PLAIN
    }
}

/// Closed and latched.
pub static RESULTANT_LATCHED: Figure = resultant(
    "resultant_height_closed_latched",
    "height of the resultant above grade, gate closed and latched",
    &[moment(&MOMENT_LATCHED).one_value(), lateral(&POST_LATERAL_LATCHED).one_value()],
);
/// Closed and free.
pub static RESULTANT_FREE: Figure = resultant(
    "resultant_height_closed_free",
    "height of the resultant above grade, gate closed and free",
    &[moment(&MOMENT_FREE).one_value(), lateral(&POST_LATERAL_FREE).one_value()],
);
/// Parked open.
pub static RESULTANT_OPEN: Figure = resultant(
    "resultant_height_open_parked",
    "height of the resultant above grade, gate parked open",
    &[moment(&MOMENT_OPEN).one_value(), lateral(&POST_LATERAL_OPEN).one_value()],
);

const BENDING: Input =
    Input::figure("bending_strength", QuantityKind::Moment, "allowable bending strength", &BENDING_STRENGTH);
const AXIAL: Input = Input::figure("axial_strength", Force, "allowable axial strength", &AXIAL_STRENGTH);

/// The moment at grade, as the figures of the section and of the footing read it.
pub(super) const fn moment(figure: &'static Figure) -> Input {
    Input::figure("moment", QuantityKind::Moment, "moment at grade", figure)
}

/// Bending against its strength.
const fn bending_ratio(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        output: Dimension::NONE,
        formula: "moment / bending_strength",
        source: "AISC 360-16 chapter F (quoted), allowable-stress design",
        work: Work::Point(|point| {
            let [moment, strength] = point.numbers();
            if strength > 0.0 { Ok(moment / strength) } else { not_valid("the post has no strength") }
        }),
        ..PLAIN
    }
}

/// Closed and latched.
pub static BENDING_RATIO_LATCHED: Figure = bending_ratio(
    "bending_ratio_closed_latched",
    "bending over strength of the post, gate closed and latched",
    &[moment(&MOMENT_LATCHED), BENDING],
);
/// Closed and free.
pub static BENDING_RATIO_FREE: Figure = bending_ratio(
    "bending_ratio_closed_free",
    "bending over strength of the post, gate closed and free",
    &[moment(&MOMENT_FREE), BENDING],
);
/// Parked open.
pub static BENDING_RATIO_OPEN: Figure = bending_ratio(
    "bending_ratio_open_parked",
    "bending over strength of the post, gate parked open",
    &[moment(&MOMENT_OPEN), BENDING],
);

/// Axial load over strength.
const fn axial_ratio(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        output: Dimension::NONE,
        formula: "carriage_load / axial_strength",
        source: "AISC 360-16 section E3 (quoted), allowable-stress design",
        work: Work::Point(|point| {
            let [load, strength] = point.numbers();
            if strength > 0.0 { Ok(load / strength) } else { not_valid("the post has no strength") }
        }),
        ..PLAIN
    }
}

/// Closed.
pub static AXIAL_RATIO_CLOSED: Figure = axial_ratio(
    "axial_ratio_closed",
    "axial load over strength of the post, gate closed",
    &[carriage(&SIZE_CLOSED), AXIAL],
);
/// Open.
pub static AXIAL_RATIO_OPEN: Figure =
    axial_ratio("axial_ratio_open", "axial load over strength of the post, gate open", &[carriage(&SIZE_OPEN), AXIAL]);

/// Taken as a range of its own, because the interaction changes its course at a value of it.
const AXIAL_SPAN: Figure = Figure {
    name: "axial_ratio",
    title: "axial load over strength of the post",
    output: Dimension::NONE,
    formula: "the axial ratio, closed or open",
    ..PLAIN
};
static AXIAL_SPAN_CLOSED: Figure = Figure { work: Work::Largest(&[&AXIAL_RATIO_CLOSED]), ..AXIAL_SPAN };
static AXIAL_SPAN_OPEN: Figure = Figure { work: Work::Largest(&[&AXIAL_RATIO_OPEN]), ..AXIAL_SPAN };

const fn along(figure: &'static Figure) -> Input {
    Input::figure("axial_ratio", QuantityKind::Ratio, "axial load over strength", figure).breaks(&[0.2])
}

/// Bending and axial together.
const fn interaction(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        output: Dimension::NONE,
        formula: "m = moment / bending_strength; axial_ratio / 2 + m where axial_ratio is under 0.2, else axial_ratio + 8/9 m",
        source: "AISC 360-16 section H1.1 (quoted), allowable-stress design",
        validity: "an embedded post bent about one axis; a push along the fence line adds to it",
        work: Work::Point(|point| {
            let [moment, bending, along] = point.numbers();
            if bending <= 0.0 {
                return not_valid("the post has no strength");
            }
            let across = moment / bending;
            Ok(if along < 0.2 { along / 2.0 + across } else { along + across * 8.0 / 9.0 })
        }),
        ..PLAIN
    }
}

/// Closed and latched.
pub static STRESS_LATCHED: Figure = interaction(
    "stress_closed_latched",
    "bending and axial over strength of the post, gate closed and latched",
    &[moment(&MOMENT_LATCHED), BENDING, along(&AXIAL_SPAN_CLOSED)],
);
/// Closed and free.
pub static STRESS_FREE: Figure = interaction(
    "stress_closed_free",
    "bending and axial over strength of the post, gate closed and free",
    &[moment(&MOMENT_FREE), BENDING, along(&AXIAL_SPAN_CLOSED)],
);
/// Parked open.
pub static STRESS_OPEN: Figure = interaction(
    "stress_open_parked",
    "bending and axial over strength of the post, gate parked open",
    &[moment(&MOMENT_OPEN), BENDING, along(&AXIAL_SPAN_OPEN)],
);
/// Over the cases claimed.
pub static POST_STRESS: Figure = Figure {
    name: "post_stress",
    title: "bending and axial over strength of the post, worst of the cases claimed",
    output: Dimension::NONE,
    formula: "the largest of stress_closed_latched, stress_closed_free, stress_open_parked among the cases claimed",
    source: "AISC 360-16 section H1.1 (quoted), allowable-stress design",
    work: Work::Claimed(&CLAIMED, &[&STRESS_LATCHED, &STRESS_FREE, &STRESS_OPEN]),
    ..PLAIN
};

const HEIGHT: Input = Input::of("height", Length, "height of the post above grade", &["post.height"]);
const INERTIA: Input =
    Input::figure("inertia", QuantityKind::Inertia, "moment of inertia of the post", &SECTION_INERTIA);
const BRACKET: Input =
    Input::of("bracket_height", Length, "height of the carriage bracket", &["gate.carriages.bracket_height"])
        .assumed(0.0, "0 in");

const GUIDE: Input =
    Input::of("guide_height", Length, "upper guide rollers above grade", &["gate.guide_rollers.height"]).optional();
const LOWER_GUIDE: Input =
    Input::of("lower_height", Length, "lower guide above grade", &["gate.guide_rollers.lower_height"]).optional();

/// The deflection of the top of a post of a height under a force at another, times E I.
fn bent(force: f64, at: f64, height: f64) -> f64 {
    if at <= height {
        force * at * at * (3.0 * height - at) / 6.0
    } else {
        // Above its top the post leans straight on: the force turns the top as well.
        force * height * height * (3.0 * at - height) / 6.0
    }
}

const fn sway_inputs(lateral: Input, carriage: Input) -> [Input; 12] {
    [
        lateral,
        WIND_AT,
        carriage,
        ECCENTRIC,
        HEIGHT,
        INERTIA,
        BRACKET,
        GUIDE,
        LOWER_GUIDE,
        ROLE.optional(),
        BOTTOM_GAP,
        LEAF_HEIGHT,
    ]
}

const SWAY: Figure = Figure {
    constants: &[STEEL_MODULUS],
    output: Dimension::LENGTH,
    formula: "(carriage_load eccentricity bracket_height (2 height - bracket_height) / 2 + sum of F z^2 (3 height - z) / 6) / (E \
                  inertia), with F the shares of lateral at the guides, z = guide_height and lower_height, else bottom_gap + \
                  leaf_height and bottom_gap, that act at wind_height together; at the latch by role all of it at wind_height",
    validity: "the post alone, fixed at grade; the footing turns too; a guide whose height is not stated is taken at its end \
                   of the leaf, bottom or top, the worst place",
    work: Work::Point(|point| {
        let [lateral, wind, load, eccentricity, height, inertia, bracket] = point.numbers();
        if inertia <= 0.0 {
            return not_valid("the post has no stiffness");
        }
        let bracket = bracket.min(height);
        let carriage = load * eccentricity * bracket * (2.0 * height - bracket) / 2.0;
        let side = if point.given(9).is_some() && point.choice(9) == LATCH {
            bent(lateral, wind, height)
        } else {
            let (gap, leaf) = (point.number(10), point.number(11));
            let (upper, lower) = (point.given(7).unwrap_or(gap + leaf), point.given(8).unwrap_or(gap));
            if upper <= lower {
                return not_valid("the upper guide is not above the lower one");
            }
            let at_top = lateral * (wind - lower) / (upper - lower);
            bent(at_top, upper, height) + bent(lateral - at_top, lower, height)
        };
        Ok((carriage + side) / (point.constant(0) * inertia))
    }),
    ..PLAIN
};

/// Closed and latched.
pub static SWAY_LATCHED: Figure = Figure {
    name: "sway_closed_latched",
    title: "deflection of the top of the post, gate closed and latched",
    inputs: &sway_inputs(lateral(&POST_LATERAL_LATCHED), carriage(&SIZE_CLOSED)),
    ..SWAY
};
/// Closed and free.
pub static SWAY_FREE: Figure = Figure {
    name: "sway_closed_free",
    title: "deflection of the top of the post, gate closed and free",
    inputs: &sway_inputs(lateral(&POST_LATERAL_FREE), carriage(&SIZE_CLOSED)),
    ..SWAY
};
/// Parked open.
pub static SWAY_OPEN: Figure = Figure {
    name: "sway_open_parked",
    title: "deflection of the top of the post, gate parked open",
    inputs: &sway_inputs(lateral(&POST_LATERAL_OPEN), carriage(&SIZE_OPEN)),
    ..SWAY
};
/// Over the cases claimed.
pub static POST_SWAY: Figure = Figure {
    name: "post_sway",
    title: "deflection of the top of the post, worst of the cases claimed",
    output: Dimension::LENGTH,
    formula: "the largest of sway_closed_latched, sway_closed_free, sway_open_parked among the cases claimed",
    validity: "the post alone, fixed at grade; the footing turns too",
    work: Work::Claimed(&CLAIMED, &[&SWAY_LATCHED, &SWAY_FREE, &SWAY_OPEN]),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 20] = [
    &ECCENTRICITY,
    &MOMENT_LATCHED,
    &MOMENT_FREE,
    &MOMENT_OPEN,
    &RESULTANT_LATCHED,
    &RESULTANT_FREE,
    &RESULTANT_OPEN,
    &BENDING_RATIO_LATCHED,
    &BENDING_RATIO_FREE,
    &BENDING_RATIO_OPEN,
    &AXIAL_RATIO_CLOSED,
    &AXIAL_RATIO_OPEN,
    &STRESS_LATCHED,
    &STRESS_FREE,
    &STRESS_OPEN,
    &POST_STRESS,
    &SWAY_LATCHED,
    &SWAY_FREE,
    &SWAY_OPEN,
    &POST_SWAY,
];
