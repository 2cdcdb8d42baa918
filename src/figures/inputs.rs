//! Inputs that figures of more than one subject read: each with its field and the words for it.

use super::figure::{Input, InputKind, NoValue, not_valid};
use super::point::Point;
use super::{geometry, weight};
use crate::quantity::QuantityKind::{Area, Force, Length, LineLoad, Pressure, Ratio, Speed, Weight};

pub(super) const OPENING: Input =
    Input::figure("opening", Length, "clear opening that the leaf covers", &geometry::COVERED_OPENING);
pub(super) const OVERLAP: Input =
    Input::of("latch_overlap", Length, "leaf past the opening at the latch side, closed", &["gate.leaf.latch_overlap"]);
pub(super) const COUNTERBALANCE: Input =
    Input::of("counterbalance", Length, "opening edge to tail end, closed", &["gate.leaf.counterbalance"]);
const DATUMS: [&str; 3] = ["opening_edge", "front_carriage", "post_center"];
const OPENING_EDGE: usize = 0;
pub(super) const COUNTED_FROM: Input = Input::any(
    "counterbalance_from",
    InputKind::Choice(&DATUMS),
    "from where the counterbalance is measured; the opening edge where it is not shown",
    &["gate.leaf.counterbalance_from"],
)
.optional();

/// A counterbalance measured from elsewhere is another length.
///
/// # Errors
///
/// Where the input at this position says so.
pub(super) fn from_opening_edge(point: &Point<'_>, datum: usize) -> Result<(), NoValue> {
    match point.choice(datum) {
        OPENING_EDGE => Ok(()),
        _ => not_valid("the counterbalance does not count from the opening edge"),
    }
}
pub(super) const RECESS: Input = Input::of(
    "recess",
    Length,
    "leading edge behind the opening edge, open; 0 where it stands in the passage, which is on the safe side",
    &["gate.leaf.recess"],
);
pub(super) const SETBACK: Input =
    Input::of("setback", Length, "opening edge to the center of the front carriage", &["gate.carriages.setback"]);
pub(super) const SPACING: Input =
    Input::of("spacing", Length, "carriage center to center", &["gate.carriages.spacing"]);
pub(super) const CARRIAGE: Input =
    Input::of("carriage_length", Length, "outer wheel to outer wheel of one carriage", &["gate.carriages.length"]);
pub(super) const LEAF_LENGTH: Input =
    Input::of("leaf_length", Length, "overall length of the leaf", &["gate.leaf.length"]);
pub(super) const LEAF_HEIGHT: Input = Input::of("leaf_height", Length, "height of the frame", &["gate.leaf.height"]);
pub(super) const BOTTOM_GAP: Input =
    Input::of("bottom_gap", Length, "clear distance under the closed leaf", &["gate.leaf.bottom_gap"]);
pub(super) const LIVE_LOAD: Input =
    Input::of("live_load", Force, "load at the leading edge", &["gate.leaf.live_load"]).assumed(0.0, "0 lb");
pub(super) const SPEED: Input = Input::of("speed", Speed, "speed of the leaf", &["gate.operator.speed"]);
pub(super) const LINE_LOAD: Input =
    Input::of("line_load", LineLoad, "weight of the leaf per length, items apart", &["gate.leaf.line_load"]);
pub(super) const CHORD_DEPTH: Input = Input::of(
    "chord_depth",
    Length,
    "depth of the top and bottom chords, or tracks, in the plane of the leaf",
    &["gate.leaf.frame.chord_depth"],
);
pub(super) const PANEL_LENGTH: Input =
    Input::of("panel_length", Length, "spacing of the uprights", &["gate.leaf.frame.panel_length"]);
pub(super) const TOP_CHORD: Input =
    Input::of("top_chord_area", Area, "cross section of the top chord", &["gate.leaf.frame.top_chord_area"]);
pub(super) const BOTTOM_CHORD: Input =
    Input::of("bottom_chord_area", Area, "cross section of the bottom chord", &["gate.leaf.frame.bottom_chord_area"]);
pub(super) const DIAGONAL_AREA: Input =
    Input::of("diagonal_area", Area, "cross section of one diagonal", &["gate.leaf.frame.diagonal_area"]);
pub(super) const UPRIGHT_AREA: Input =
    Input::of("upright_area", Area, "cross section of one upright", &["gate.leaf.frame.upright_area"]);
pub(super) const INFILL_WEIGHT: Input =
    Input::of("infill_weight", Pressure, "weight of the infill over its area", &["gate.leaf.infill.weight"]);
pub(super) const SOLIDITY: Input =
    Input::of("solidity", Ratio, "solid over gross area of the leaf", &["gate.leaf.infill.solidity"]);

/// Materials of a frame.
pub(super) const MATERIALS: [&str; 2] = ["steel", "aluminum"];
pub(super) const STEEL: usize = 0;
pub(super) const MATERIAL: Input =
    Input::any("material", InputKind::Choice(&MATERIALS), "material of the frame", &["gate.leaf.frame.material"]);

/// How the diagonals of a leaf work.
pub(super) const PATTERNS: [&str; 3] = ["none", "rigid", "rods"];
pub(super) const NO_DIAGONALS: usize = 0;
pub(super) const RODS: usize = 2;
pub(super) const PATTERN: Input =
    Input::any("pattern", InputKind::Choice(&PATTERNS), "how the diagonals work", &["gate.leaf.bracing.pattern"]);

/// Where the infill runs.
pub(super) const COVERAGES: [&str; 2] = ["whole_leaf", "opening_part"];
pub(super) const WHOLE_LEAF: usize = 0;
pub(super) const COVERS: Input =
    Input::any("infill_covers", InputKind::Choice(&COVERAGES), "where the infill runs", &["gate.leaf.infill.covers"]);

/// What can fill a part of the leaf.
const INFILLS: [&str; 6] = ["none", "pickets", "mesh", "chain_link", "solid", "slats"];
pub(super) const NO_INFILL: usize = 0;
pub(super) const TAIL_KIND: Input =
    Input::any("tail_infill_kind", InputKind::Choice(&INFILLS), "what fills the tail", &["gate.leaf.tail_infill.kind"]);

/// The weight of the leaf, stated or from its parts.
pub(super) const WEIGHT: Input = Input::figure("weight", Weight, "weight of the leaf", &weight::LEAF_WEIGHT);
/// Its center of gravity, stated or from its parts.
pub(super) const CENTROID: Input =
    Input::figure("centroid", Length, "leading edge to the center of gravity", &weight::LEAF_CENTROID);
/// The way of the leaf.
pub(super) const TRAVEL: Input = Input::figure("travel", Length, "travel from closed to open", &geometry::TRAVEL);
