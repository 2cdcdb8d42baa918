//! The wind that the guides of the leaf pass to a post: the upper guide rollers, and the lower guide or carriage.
//!
//! The leaf stands between an upper and a lower guide and hands its wind to both, by their heights. Called by nobody but the
//! rules and the worksheet.

use super::figure::{Figure, Input, Of, Work, not_valid};
use super::lateral::{CLAIMED, POST_LATERAL_FREE, POST_LATERAL_LATCHED, POST_LATERAL_OPEN, WIND_AT, lateral};
use crate::quantity::{Dimension, QuantityKind::Length};

const PLAIN: Figure =
    Figure { source: "statics of the leaf on an upper and a lower guide", ..Figure::blank(Of::Post, Dimension::FORCE) };

const GUIDE_HEIGHT: Input =
    Input::of("guide_height", Length, "upper guide rollers above grade", &["gate.guide_rollers.height"]);
const LOWER_HEIGHT: Input =
    Input::of("lower_height", Length, "lower guide above grade", &["gate.guide_rollers.lower_height"]);
/// The upper guide's share of the wind on a post.
const fn guide(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        formula: "lateral (wind_height - lower_height) / (guide_height - lower_height)",
        validity: "the wind acts above the lower guide; an off-center leaf adds to it",
        work: Work::Point(|point| {
            let [lateral, wind, upper, lower] = point.numbers();
            if upper <= lower {
                return not_valid("the upper guide is not above the lower one");
            }
            if wind < lower {
                return not_valid("the wind acts below the lower guide");
            }
            Ok(lateral * (wind - lower) / (upper - lower))
        }),
        ..PLAIN
    }
}

/// Upper guide, closed and latched.
pub static GUIDE_LATCHED: Figure = guide(
    "guide_closed_latched",
    "force on the upper guide rollers, gate closed and latched",
    &[lateral(&POST_LATERAL_LATCHED), WIND_AT, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// Upper guide, closed and free.
pub static GUIDE_FREE: Figure = guide(
    "guide_closed_free",
    "force on the upper guide rollers, gate closed and free",
    &[lateral(&POST_LATERAL_FREE), WIND_AT, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// Upper guide, parked open.
pub static GUIDE_OPEN: Figure = guide(
    "guide_open_parked",
    "force on the upper guide rollers, gate parked open",
    &[lateral(&POST_LATERAL_OPEN), WIND_AT, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// The lower guide's share of the wind on a post.
const fn lower(name: &'static str, title: &'static str, inputs: &'static [Input]) -> Figure {
    Figure {
        name,
        title,
        inputs,
        formula: "lateral (guide_height - wind_height) / (guide_height - lower_height)",
        validity: "negative: the wind acts above the upper guide; an off-center leaf takes from it",
        work: Work::Point(|point| {
            let [lateral, wind, upper, lower] = point.numbers();
            if upper <= lower {
                return not_valid("the upper guide is not above the lower one");
            }
            Ok(lateral * (upper - wind) / (upper - lower))
        }),
        ..PLAIN
    }
}

/// A higher leaf catches more wind and holds it nearer to the upper guide: the worst height can lie inside a range.
const WIND_AT_ONE: Input = WIND_AT.one_value();

/// Lower guide, closed and latched.
pub static LOWER_LATCHED: Figure = lower(
    "lower_guide_closed_latched",
    "sideways force on the lower guide or carriage, gate closed and latched",
    &[lateral(&POST_LATERAL_LATCHED), WIND_AT_ONE, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// Lower guide, closed and free.
pub static LOWER_FREE: Figure = lower(
    "lower_guide_closed_free",
    "sideways force on the lower guide or carriage, gate closed and free",
    &[lateral(&POST_LATERAL_FREE), WIND_AT_ONE, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// Lower guide, parked open.
pub static LOWER_OPEN: Figure = lower(
    "lower_guide_open_parked",
    "sideways force on the lower guide or carriage, gate parked open",
    &[lateral(&POST_LATERAL_OPEN), WIND_AT_ONE, GUIDE_HEIGHT, LOWER_HEIGHT],
);
/// Upper guide over the cases claimed.
pub static GUIDE_FORCE: Figure = Figure {
    name: "guide_force",
    title: "force on the upper guide rollers, worst of the cases claimed",
    validity: "as the forces of the cases",
    formula: "the largest of guide_closed_latched, guide_closed_free, guide_open_parked among the cases claimed",
    work: Work::Claimed(&CLAIMED, &[&GUIDE_LATCHED, &GUIDE_FREE, &GUIDE_OPEN]),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 7] =
    [&GUIDE_LATCHED, &GUIDE_FREE, &GUIDE_OPEN, &GUIDE_FORCE, &LOWER_LATCHED, &LOWER_FREE, &LOWER_OPEN];
