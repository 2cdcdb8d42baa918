//! The two carriages: the leaf as a statically determinate beam on two supports, with the weight at its center of
//! gravity and a live load at the leading edge.
//!
//! The leading edge is at 0; closed, the front carriage stands at opening + latch_overlap + setback, open at
//! setback - recess. Both reactions run straight over the travel, so that the two end positions hold the extremes. A
//! negative reaction pulls the leaf down: that carriage must be captive.

use super::figure::{Figure, Input, NotValid, Of};
use crate::quantity::{
    Dimension,
    QuantityKind::{Force, Length, Weight},
};

const WEIGHT: Input = Input::of("weight", Weight, "weight of the leaf", Some("gate.leaf.weight"));
const CENTROID: Input =
    Input::of("centroid", Length, "leading edge to the center of gravity", Some("gate.leaf.centroid"));
const OPENING: Input = Input {
    sooner: Some("gate.span"),
    ..Input::of("opening", Length, "clear opening that the leaf covers", Some("gate.opening"))
};
const OVERLAP: Input = Input::of(
    "latch_overlap",
    Length,
    "leaf past the opening at the latch side, closed",
    Some("gate.leaf.latch_overlap"),
);
const RECESS: Input =
    Input::of("recess", Length, "leading edge behind the opening edge, open", Some("gate.leaf.recess"));
const SETBACK: Input =
    Input::of("setback", Length, "opening edge to the center of the front carriage", Some("gate.carriages.setback"));
const SPACING: Input = Input::of("spacing", Length, "carriage center to center", Some("gate.carriages.spacing"));
const LIVE: Input = Input {
    assume: Some((0.0, "0 lb")),
    ..Input::of("live_load", Force, "load at the leading edge", Some("gate.leaf.live_load"))
};

const SOURCE: &str = "statics of a beam on two supports (any text); confirmed by four frame programs";
const VALIDITY: &str = "two carriages, level track; not with a third support or a rest under the open leaf; the weight stands \
                        in its center of gravity";

/// The reaction of the front carriage, standing at `front` from the leading edge.
fn front_reaction(weight: f64, centroid: f64, front: f64, spacing: f64, live: f64) -> Result<f64, NotValid> {
    if spacing <= 0.0 {
        return Err("`spacing` can be zero".to_owned());
    }
    Ok((weight * (front + spacing - centroid) + live * (front + spacing)) / spacing)
}

/// The reaction of the tail carriage.
fn tail_reaction(weight: f64, centroid: f64, front: f64, spacing: f64, live: f64) -> Result<f64, NotValid> {
    if spacing <= 0.0 {
        return Err("`spacing` can be zero".to_owned());
    }
    Ok((weight * (centroid - front) - live * front) / spacing)
}

const CLOSED: [Input; 7] = [WEIGHT, CENTROID, OPENING, OVERLAP, SETBACK, SPACING, LIVE];
const OPEN: [Input; 6] = [WEIGHT, CENTROID, RECESS, SETBACK, SPACING, LIVE];

/// Front carriage, closed.
pub static FRONT_REACTION_CLOSED: Figure = Figure {
    name: "front_reaction_closed",
    title: "load on the front carriage with the gate closed",
    of: Of::Gate,
    inputs: &CLOSED,
    constants: &[],
    output: Dimension::FORCE,
    formula: "(weight (u + spacing - centroid) + live_load (u + spacing)) / spacing, u = opening + latch_overlap + setback",
    source: SOURCE,
    validity: VALIDITY,
    point: |inputs, _| front_reaction(inputs[0], inputs[1], inputs[2] + inputs[3] + inputs[4], inputs[5], inputs[6]),
};

/// Tail carriage, closed.
pub static TAIL_REACTION_CLOSED: Figure = Figure {
    name: "tail_reaction_closed",
    title: "load on the tail carriage with the gate closed; negative pulls the leaf down",
    of: Of::Gate,
    inputs: &CLOSED,
    constants: &[],
    output: Dimension::FORCE,
    formula: "(weight (centroid - u) - live_load u) / spacing, u = opening + latch_overlap + setback",
    source: SOURCE,
    validity: VALIDITY,
    point: |inputs, _| tail_reaction(inputs[0], inputs[1], inputs[2] + inputs[3] + inputs[4], inputs[5], inputs[6]),
};

/// Front carriage, open.
pub static FRONT_REACTION_OPEN: Figure = Figure {
    name: "front_reaction_open",
    title: "load on the front carriage with the gate open; negative pulls the leaf down",
    of: Of::Gate,
    inputs: &OPEN,
    constants: &[],
    output: Dimension::FORCE,
    formula: "(weight (u + spacing - centroid) + live_load (u + spacing)) / spacing, u = setback - recess",
    source: SOURCE,
    validity: VALIDITY,
    point: |inputs, _| front_reaction(inputs[0], inputs[1], inputs[3] - inputs[2], inputs[4], inputs[5]),
};

/// Tail carriage, open.
pub static TAIL_REACTION_OPEN: Figure = Figure {
    name: "tail_reaction_open",
    title: "load on the tail carriage with the gate open",
    of: Of::Gate,
    inputs: &OPEN,
    constants: &[],
    output: Dimension::FORCE,
    formula: "(weight (centroid - u) - live_load u) / spacing, u = setback - recess",
    source: SOURCE,
    validity: VALIDITY,
    point: |inputs, _| tail_reaction(inputs[0], inputs[1], inputs[3] - inputs[2], inputs[4], inputs[5]),
};
