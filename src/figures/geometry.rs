//! The leaf over its travel: plain arithmetic on declared lengths.
//!
//! Lengths count from the opening edge on the fulcrum side. Both carriages stay on the track over the whole travel where
//! the two end positions allow it; a scan of 4,001 positions confirmed the closed forms.

use super::figure::{Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::inputs::{
    CARRIAGE, CHORD_DEPTH, COUNTED_FROM, COUNTERBALANCE, LEAF_HEIGHT, LEAF_LENGTH as LENGTH, OPENING, OVERLAP, RECESS,
    SETBACK, SPACING, from_opening_edge,
};
use crate::quantity::{
    Dimension,
    QuantityKind::{Count, Length},
};

const PASSAGE: Input = Input::of("opening", Length, "clear opening between the posts", &["gate.opening"]);
const TAIL_MARGIN: Input =
    Input::of("tail_margin", Length, "track needed behind the tail carriage", &["gate.carriages.tail_margin"])
        .assumed(0.0, "0 in");
const LEAD_MARGIN: Input =
    Input::of("lead_margin", Length, "track needed before the front carriage", &["gate.carriages.lead_margin"])
        .assumed(0.0, "0 in");
const INTRUSION: Input =
    Input::of("intrusion", Length, "into the passage of leaf, receiver or guides, open", &["gate.intrusion"]);
const RUN_BACK: Input =
    Input::of("run_back", Length, "opening edge to the first obstruction along the fence line", &["gate.run_back"]);

const SOURCE: &str = "arithmetic on the declared dimensions; closed form confirmed by a scan of the travel";
const NOWHERE: &str = "none; it is as good as the dimensions";
const FROM_EDGE: &str = "only where the counterbalance counts from the opening edge";

/// What is left of a length; declared lengths that cancel leave nothing, whatever their units leave of them.
fn less(from: f64, parts: &[f64]) -> f64 {
    let rest = from - parts.iter().sum::<f64>();
    let size = from.abs() + parts.iter().map(|part| part.abs()).sum::<f64>();
    if rest.abs() <= 1e-12 * size { 0.0 } else { rest }
}

const PLAIN: Figure = Figure { source: SOURCE, validity: NOWHERE, ..Figure::blank(Of::Gate, Dimension::LENGTH) };

/// What one leaf covers of the opening.
pub static COVERED_OPENING: Figure = Figure {
    name: "covered_opening",
    title: "clear opening that one leaf covers",
    inputs: &[
        Input::of("span", Length, "part of the opening that this leaf covers", &["gate.span"]).optional(),
        Input::of("opening", Length, "clear opening between the posts", &["gate.opening"]).optional(),
        Input::any("pair_with", InputKind::Stated, "the other leaf of a pair", &["gate.pair_with"]).optional(),
        Input::of("leaves", Count, "leaves alike that meet", &["gate.leaves"]).optional().one_value(),
    ],
    formula: "span; without one the opening, unless pair_with or two leaves make it a pair",
    source: "the declared dimensions",
    work: Work::Chosen(|point| {
        const SPAN: usize = 0;
        const WHOLE: usize = 1;
        let is_pair = point.given(2).is_some() || point.given(3).is_some_and(|leaves| leaves > 1.0);
        match (point.given(SPAN), point.given(WHOLE)) {
            (Some(_), _) => Ok(SPAN),
            // A leaf of a pair is never reckoned with the whole opening.
            (None, _) if is_pair => Err(NoValue::Lacking(&["span"])),
            (None, Some(_)) => Ok(WHOLE),
            (None, None) => Err(NoValue::Lacking(&["opening"])),
        }
    }),
    ..PLAIN
};

/// Overall length of the leaf.
pub static LEAF_LENGTH: Figure = Figure {
    name: "leaf_length",
    title: "overall length of the leaf",
    inputs: &[OPENING, OVERLAP, COUNTERBALANCE, COUNTED_FROM],
    formula: "opening + latch_overlap + counterbalance",
    validity: FROM_EDGE,
    work: Work::Point(|point| {
        from_opening_edge(point, 3)?;
        let [opening, overlap, counterbalance] = point.numbers();
        Ok(opening + overlap + counterbalance)
    }),
    ..PLAIN
};

/// Counterbalance over opening.
pub static COUNTERBALANCE_RATIO: Figure = Figure {
    name: "counterbalance_ratio",
    title: "counterbalance over opening, from the opening edge",
    inputs: &[COUNTERBALANCE, OPENING, COUNTED_FROM],
    output: Dimension::NONE,
    formula: "counterbalance / opening",
    validity: "only where the counterbalance counts from the opening edge; a ratio is no proof of strength",
    work: Work::Point(|point| {
        from_opening_edge(point, 2)?;
        let [counterbalance, opening] = point.numbers();
        if opening > 0.0 { Ok(counterbalance / opening) } else { not_valid("the opening can be zero") }
    }),
    ..PLAIN
};

/// Travel from closed to open.
pub static TRAVEL: Figure = Figure {
    name: "travel",
    title: "travel of the leaf from closed to open",
    inputs: &[OPENING, OVERLAP, RECESS],
    formula: "opening + latch_overlap + recess",
    work: Work::Point(|point| {
        let [opening, overlap, recess] = point.numbers();
        Ok(opening + overlap + recess)
    }),
    ..PLAIN
};

/// Where the front carriage stands under the closed leaf.
pub static FRONT_CARRIAGE_CLOSED: Figure = Figure {
    name: "front_carriage_closed",
    title: "leading edge to the front carriage, closed",
    inputs: &[OPENING, OVERLAP, SETBACK],
    formula: "opening + latch_overlap + setback",
    work: Work::Point(|point| {
        let [opening, overlap, setback] = point.numbers();
        Ok(opening + overlap + setback)
    }),
    ..PLAIN
};

/// Where the front carriage stands under the open leaf.
pub static FRONT_CARRIAGE_OPEN: Figure = Figure {
    name: "front_carriage_open",
    title: "leading edge to the front carriage, open",
    inputs: &[SETBACK, RECESS],
    formula: "setback - recess",
    work: Work::Point(|point| {
        let [setback, recess] = point.numbers();
        Ok(less(setback, &[recess]))
    }),
    ..PLAIN
};

/// Counterbalance that keeps the tail carriage on the track.
pub static COUNTERBALANCE_NEEDED: Figure = Figure {
    name: "counterbalance_needed",
    title: "least counterbalance that keeps the tail carriage on the track, closed",
    inputs: &[SETBACK, SPACING, CARRIAGE, TAIL_MARGIN],
    formula: "setback + spacing + carriage_length / 2 + tail_margin",
    validity: FROM_EDGE,
    work: Work::Point(|point| {
        let [setback, spacing, carriage, margin] = point.numbers();
        Ok(setback + spacing + carriage / 2.0 + margin)
    }),
    ..PLAIN
};

/// Track left behind the tail carriage.
pub static TAIL_TRACK_LEFT: Figure = Figure {
    name: "tail_track_left",
    title: "track behind the tail carriage with the gate closed; negative: the carriage is off the track",
    inputs: &[COUNTERBALANCE, SETBACK, SPACING, CARRIAGE, COUNTED_FROM],
    formula: "counterbalance - setback - spacing - carriage_length / 2",
    validity: FROM_EDGE,
    work: Work::Point(|point| {
        from_opening_edge(point, 4)?;
        let [counterbalance, setback, spacing, carriage] = point.numbers();
        Ok(less(counterbalance, &[setback, spacing, carriage / 2.0]))
    }),
    ..PLAIN
};

/// Recess that keeps the front carriage on the track.
pub static RECESS_ALLOWED: Figure = Figure {
    name: "recess_allowed",
    title: "largest recess that keeps the front carriage on the track, open; negative: the leaf must stay in the passage",
    inputs: &[SETBACK, CARRIAGE, LEAD_MARGIN],
    formula: "setback - carriage_length / 2 - lead_margin",
    work: Work::Point(|point| {
        let [setback, carriage, margin] = point.numbers();
        Ok(less(setback, &[carriage / 2.0, margin]))
    }),
    ..PLAIN
};

/// Track left before the front carriage.
pub static LEAD_TRACK_LEFT: Figure = Figure {
    name: "lead_track_left",
    title: "track before the front carriage with the gate open; negative: the carriage is off the track",
    inputs: &[SETBACK, CARRIAGE, RECESS],
    formula: "setback - carriage_length / 2 - recess",
    work: Work::Point(|point| {
        let [setback, carriage, recess] = point.numbers();
        Ok(less(setback, &[carriage / 2.0, recess]))
    }),
    ..PLAIN
};

/// Clear opening with the gate open.
pub static CLEAR_OPENING: Figure = Figure {
    name: "clear_opening",
    title: "clear opening with the gate open",
    inputs: &[PASSAGE, INTRUSION],
    formula: "opening - intrusion",
    work: Work::Point(|point| {
        let [opening, intrusion] = point.numbers();
        Ok(less(opening, &[intrusion]))
    }),
    ..PLAIN
};

/// Run-back that the open leaf takes.
pub static RUN_BACK_NEEDED: Figure = Figure {
    name: "run_back_needed",
    title: "run-back that the open leaf takes, from the opening edge",
    inputs: &[LENGTH, RECESS],
    formula: "leaf_length + recess",
    work: Work::Point(|point| {
        let [length, recess] = point.numbers();
        Ok(length + recess)
    }),
    ..PLAIN
};

/// The part of the run-back behind the tail carriage.
pub static RUN_BACK_BEHIND_CARRIAGE: Figure = Figure {
    name: "run_back_behind_carriage",
    title: "run-back that the open leaf takes behind the tail carriage",
    inputs: &[LENGTH, RECESS, SETBACK, SPACING],
    formula: "leaf_length + recess - setback - spacing",
    work: Work::Point(|point| {
        let [length, recess, setback, spacing] = point.numbers();
        Ok(less(length + recess, &[setback, spacing]))
    }),
    ..PLAIN
};

/// Fence line that the gate takes.
pub static FENCE_LINE: Figure = Figure {
    name: "fence_line",
    title: "fence line that opening and run-back take together, latch post apart",
    inputs: &[OPENING, LENGTH, RECESS],
    formula: "opening + leaf_length + recess",
    work: Work::Point(|point| {
        let [opening, length, recess] = point.numbers();
        Ok(opening + length + recess)
    }),
    ..PLAIN
};

/// Room behind the tail of the open leaf.
pub static TAIL_ROOM: Figure = Figure {
    name: "tail_room",
    title: "room between the tail of the open leaf and the first obstruction behind it",
    inputs: &[RUN_BACK, LENGTH, RECESS],
    formula: "run_back - leaf_length - recess",
    work: Work::Point(|point| {
        let [run_back, length, recess] = point.numbers();
        Ok(less(run_back, &[length, recess]))
    }),
    ..PLAIN
};

/// Where a post's carriage stands.
pub static CARRIAGE_PLACE: Figure = Figure {
    name: "carriage_place",
    title: "opening edge to the carriage on this post",
    of: Of::Post,
    inputs: &[
        Input::of("from_opening", Length, "opening edge to the center of the post", &["post.from_opening"]),
        Input::of(
            "carriage_offset",
            Length,
            "center of the carriage beyond that of the post",
            &["post.carriage_offset"],
        )
        .assumed(0.0, "0 in"),
    ],
    formula: "from_opening + carriage_offset",
    validity: "only for a support post whose carriage stands on it or behind it",
    work: Work::Point(|point| {
        let [from, offset] = point.numbers();
        Ok(from + offset)
    }),
    ..PLAIN
};

/// Distance of a post's centerline from the plane of the leaf.
pub static LEAF_OFFSET: Figure = Figure {
    name: "leaf_offset",
    title: "middle plane of the leaf to the centerline of the post",
    of: Of::Post,
    inputs: &[
        Input::of("size", Length, "outside width or diameter of the post", &["post.size"]),
        Input::of("leaf_gap", Length, "face of the leaf to the post", &["post.leaf_gap"]),
        Input::of("thickness", Length, "thickness of the leaf", &["gate.leaf.thickness"]),
    ],
    formula: "size / 2 + leaf_gap + thickness / 2",
    work: Work::Point(|point| {
        let [size, gap, thickness] = point.numbers();
        Ok(size / 2.0 + gap + thickness / 2.0)
    }),
    ..PLAIN
};

/// Distance of the chords' centers.
pub static CHORD_DISTANCE: Figure = Figure {
    name: "chord_distance",
    title: "distance of the centers of the top and bottom chords",
    inputs: &[LEAF_HEIGHT, CHORD_DEPTH],
    formula: "leaf_height - chord_depth",
    validity: "chords of one depth at the top and bottom of the frame",
    work: Work::Point(|point| {
        let [height, depth] = point.numbers();
        if height > depth { Ok(height - depth) } else { not_valid("the chords fill the height of the frame") }
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 18] = [
    &COVERED_OPENING,
    &CHORD_DISTANCE,
    &LEAF_LENGTH,
    &COUNTERBALANCE_RATIO,
    &TRAVEL,
    &FRONT_CARRIAGE_CLOSED,
    &FRONT_CARRIAGE_OPEN,
    &COUNTERBALANCE_NEEDED,
    &TAIL_TRACK_LEFT,
    &RECESS_ALLOWED,
    &LEAD_TRACK_LEFT,
    &CLEAR_OPENING,
    &RUN_BACK_NEEDED,
    &RUN_BACK_BEHIND_CARRIAGE,
    &FENCE_LINE,
    &TAIL_ROOM,
    &CARRIAGE_PLACE,
    &LEAF_OFFSET,
];
