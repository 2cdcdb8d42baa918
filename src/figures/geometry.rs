//! The leaf over its travel: plain arithmetic on declared lengths.
//!
//! Lengths count from the opening edge on the fulcrum side. Both carriages stay on the track over the whole travel where
//! the two end positions allow it; a scan of 4,001 positions confirmed the closed forms.

use super::figure::{Figure, Input, Of};
use crate::quantity::{Dimension, QuantityKind::Length};

const OPENING: Input = Input {
    sooner: Some("gate.span"),
    ..Input::of("opening", Length, "clear opening that the leaf covers", Some("gate.opening"))
};
const PASSAGE: Input = Input::of("opening", Length, "clear opening between the posts", Some("gate.opening"));
const OVERLAP: Input = Input::of(
    "latch_overlap",
    Length,
    "leaf past the opening at the latch side, closed",
    Some("gate.leaf.latch_overlap"),
);
const COUNTERBALANCE: Input =
    Input::of("counterbalance", Length, "opening edge to tail end, closed", Some("gate.leaf.counterbalance"));
const RECESS: Input =
    Input::of("recess", Length, "leading edge behind the opening edge, open", Some("gate.leaf.recess"));
const SETBACK: Input =
    Input::of("setback", Length, "opening edge to the center of the front carriage", Some("gate.carriages.setback"));
const SPACING: Input = Input::of("spacing", Length, "carriage center to center", Some("gate.carriages.spacing"));
const CARRIAGE: Input =
    Input::of("carriage_length", Length, "outer wheel to outer wheel of one carriage", Some("gate.carriages.length"));
const TAIL_MARGIN: Input = Input {
    assume: Some((0.0, "0 in")),
    ..Input::of("tail_margin", Length, "track needed behind the tail carriage", Some("gate.carriages.tail_margin"))
};
const LEAD_MARGIN: Input = Input {
    assume: Some((0.0, "0 in")),
    ..Input::of("lead_margin", Length, "track needed before the front carriage", Some("gate.carriages.lead_margin"))
};
const LENGTH: Input = Input::of("leaf_length", Length, "overall length of the leaf", Some("gate.leaf.length"));
const INTRUSION: Input =
    Input::of("intrusion", Length, "into the passage of leaf, receiver or guides, open", Some("gate.intrusion"));

const SOURCE: &str = "arithmetic on the declared dimensions; closed form confirmed by a scan of the travel";
const NOWHERE: &str = "none; it is as good as the dimensions";

/// Overall length of the leaf.
pub static LEAF_LENGTH: Figure = Figure {
    name: "leaf_length",
    title: "overall length of the leaf",
    of: Of::Gate,
    inputs: &[OPENING, OVERLAP, COUNTERBALANCE],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "opening + latch_overlap + counterbalance",
    source: SOURCE,
    validity: NOWHERE,
    point: |inputs, _| Ok(inputs[0] + inputs[1] + inputs[2]),
};

/// Counterbalance over opening.
pub static COUNTERBALANCE_RATIO: Figure = Figure {
    name: "counterbalance_ratio",
    title: "counterbalance over opening, from the opening edge",
    of: Of::Gate,
    inputs: &[COUNTERBALANCE, OPENING],
    constants: &[],
    output: Dimension::NONE,
    formula: "counterbalance / opening",
    source: SOURCE,
    validity: "only where the counterbalance counts from the opening edge; a ratio is no proof of strength",
    point: |inputs, _| {
        if inputs[1] > 0.0 { Ok(inputs[0] / inputs[1]) } else { Err("the opening can be zero".to_owned()) }
    },
};

/// Travel from closed to open.
pub static TRAVEL: Figure = Figure {
    name: "travel",
    title: "travel of the leaf from closed to open",
    of: Of::Gate,
    inputs: &[OPENING, OVERLAP, RECESS],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "opening + latch_overlap + recess",
    source: SOURCE,
    validity: NOWHERE,
    point: |inputs, _| Ok(inputs[0] + inputs[1] + inputs[2]),
};

/// Counterbalance that keeps the tail carriage on the track.
pub static COUNTERBALANCE_NEEDED: Figure = Figure {
    name: "counterbalance_needed",
    title: "least counterbalance that keeps the tail carriage on the track, closed",
    of: Of::Gate,
    inputs: &[SETBACK, SPACING, CARRIAGE, TAIL_MARGIN],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "setback + spacing + carriage_length / 2 + tail_margin",
    source: SOURCE,
    validity: "only where the counterbalance counts from the opening edge",
    point: |inputs, _| Ok(inputs[0] + inputs[1] + inputs[2] / 2.0 + inputs[3]),
};

/// Recess that keeps the front carriage on the track.
pub static RECESS_ALLOWED: Figure = Figure {
    name: "recess_allowed",
    title: "largest recess that keeps the front carriage on the track, open; negative: the leaf must stay in the passage",
    of: Of::Gate,
    inputs: &[SETBACK, CARRIAGE, LEAD_MARGIN],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "setback - carriage_length / 2 - lead_margin",
    source: SOURCE,
    validity: NOWHERE,
    point: |inputs, _| Ok(inputs[0] - inputs[1] / 2.0 - inputs[2]),
};

/// Clear opening with the gate open.
pub static CLEAR_OPENING: Figure = Figure {
    name: "clear_opening",
    title: "clear opening with the gate open",
    of: Of::Gate,
    inputs: &[PASSAGE, INTRUSION],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "opening - intrusion",
    source: SOURCE,
    validity: NOWHERE,
    point: |inputs, _| Ok(inputs[0] - inputs[1]),
};

/// Run-back that the open leaf takes.
pub static RUN_BACK_NEEDED: Figure = Figure {
    name: "run_back_needed",
    title: "run-back that the open leaf takes, from the opening edge",
    of: Of::Gate,
    inputs: &[LENGTH, RECESS],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "leaf_length + recess",
    source: SOURCE,
    validity: NOWHERE,
    point: |inputs, _| Ok(inputs[0] + inputs[1]),
};
