//! The two carriages: the leaf as a statically determinate beam on two supports, with the weight at its center of
//! gravity and a live load at the leading edge; and the moments along the leaf.
//!
//! The leading edge is at 0; closed, the front carriage stands at opening + latch_overlap + setback, open at
//! setback - recess. Both reactions run straight over the travel, so that the two end positions hold the extremes. A
//! negative reaction pulls the leaf down: that carriage must be captive.

use super::beam::{Carriages, Leaf};
use super::figure::{Figure, Input, NoValue, Of, Work, not_valid};
use super::geometry;
use super::inputs::{CENTROID, LIVE_LOAD, OPENING, OVERLAP, RECESS, SETBACK, SPACING, TRAVEL, WEIGHT};
use super::point::Point;
use super::spread::loaded_leaf;
use super::weight::{DENSITIES, LOADS, STATED_WEIGHT, with_loads, with_loads_along};
use crate::quantity::{Dimension, QuantityKind, QuantityKind::Length};

const SOURCE: &str = "statics of a beam on two supports (any text); confirmed by four frame programs";
const VALIDITY: &str = "two carriages, level track; not with a third support or a rest under the open leaf; the weight stands \
                        in its center of gravity";
const ALONG: &str = "two carriages, level track; not with a third support or a rest under the open leaf; as good as the parts that say \
                     where the weight lies";

/// Where the front carriage stands.
pub(super) const FRONT_CLOSED: Input = Input::figure(
    "front_closed",
    Length,
    "leading edge to the front carriage, closed",
    &geometry::FRONT_CARRIAGE_CLOSED,
);
pub(super) const FRONT_OPEN: Input =
    Input::figure("front_open", Length, "leading edge to the front carriage, open", &geometry::FRONT_CARRIAGE_OPEN);

/// A load at the leading edge takes weight off the tail carriage closed, and off whatever is pulled up open: where it is
/// not there, that must hold too.
const CLOSED_UNLOADED: [Input; 6] = [WEIGHT, CENTROID, OPENING, OVERLAP, SETBACK, SPACING];
const OPEN_UNLOADED: [Input; 5] = [WEIGHT, CENTROID, RECESS, SETBACK, SPACING];
const CLOSED: [Input; 7] = [WEIGHT, CENTROID, OPENING, OVERLAP, SETBACK, SPACING, LIVE_LOAD];
const OPEN: [Input; 6] = [WEIGHT, CENTROID, RECESS, SETBACK, SPACING, LIVE_LOAD];
const HALF: [Input; 8] = [WEIGHT, CENTROID, OPENING, OVERLAP, SETBACK, SPACING, LIVE_LOAD, TRAVEL];

const PLAIN: Figure = Figure { source: SOURCE, validity: VALIDITY, ..Figure::blank(Of::Gate, Dimension::FORCE) };

/// The reactions of the front and the tail carriage, the front one standing at `front` from the leading edge.
fn reactions(weight: f64, centroid: f64, front: f64, spacing: f64, live: f64) -> Result<[f64; 2], NoValue> {
    if spacing <= 0.0 {
        return not_valid("`spacing` can be zero");
    }
    let carried = Leaf { segments: Vec::new(), items: vec![[weight, centroid], [live, 0.0]] };
    Ok(carried.reactions(Carriages { front, spacing }))
}

fn closed(point: &Point<'_>, live: f64) -> Result<[f64; 2], NoValue> {
    let [weight, centroid, opening, overlap, setback, spacing] = point.numbers();
    reactions(weight, centroid, opening + overlap + setback, spacing, live)
}

fn open(point: &Point<'_>, live: f64) -> Result<[f64; 2], NoValue> {
    let [weight, centroid, recess, setback, spacing] = point.numbers();
    reactions(weight, centroid, setback - recess, spacing, live)
}

fn half(point: &Point<'_>) -> Result<[f64; 2], NoValue> {
    let [weight, centroid, opening, overlap, setback, spacing, live, travel] = point.numbers();
    reactions(weight, centroid, opening + overlap + setback - travel / 2.0, spacing, live)
}

/// Front carriage, closed.
pub static FRONT_REACTION_CLOSED: Figure = Figure {
    name: "front_reaction_closed",
    title: "load on the front carriage with the gate closed",
    inputs: &CLOSED,
    formula: "(weight (u + spacing - centroid) + live_load (u + spacing)) / spacing, u = opening + latch_overlap + setback",
    work: Work::Point(|point| Ok(closed(point, point.number(6))?[0])),
    ..PLAIN
};

/// Tail carriage, closed.
pub static TAIL_REACTION_CLOSED: Figure = Figure {
    name: "tail_reaction_closed",
    title: "load on the tail carriage with the gate closed; negative pulls the leaf down",
    inputs: &CLOSED,
    formula: "(weight (centroid - u) - live_load u) / spacing, u = opening + latch_overlap + setback",
    work: Work::Point(|point| Ok(closed(point, point.number(6))?[1])),
    ..PLAIN
};

/// Front carriage, half open.
pub static FRONT_REACTION_HALF: Figure = Figure {
    name: "front_reaction_half",
    title: "load on the front carriage with the gate half open; negative pulls the leaf down",
    inputs: &HALF,
    formula: "(weight (u + spacing - centroid) + live_load (u + spacing)) / spacing, u = opening + latch_overlap + setback - travel / 2",
    work: Work::Point(|point| Ok(half(point)?[0])),
    ..PLAIN
};

/// Tail carriage, half open.
pub static TAIL_REACTION_HALF: Figure = Figure {
    name: "tail_reaction_half",
    title: "load on the tail carriage with the gate half open; negative pulls the leaf down",
    inputs: &HALF,
    formula: "(weight (centroid - u) - live_load u) / spacing, u = opening + latch_overlap + setback - travel / 2",
    work: Work::Point(|point| Ok(half(point)?[1])),
    ..PLAIN
};

/// Front carriage, open.
pub static FRONT_REACTION_OPEN: Figure = Figure {
    name: "front_reaction_open",
    title: "load on the front carriage with the gate open; negative pulls the leaf down",
    inputs: &OPEN,
    formula: "(weight (u + spacing - centroid) + live_load (u + spacing)) / spacing, u = setback - recess",
    work: Work::Point(|point| Ok(open(point, point.number(5))?[0])),
    ..PLAIN
};

/// Tail carriage, open.
pub static TAIL_REACTION_OPEN: Figure = Figure {
    name: "tail_reaction_open",
    title: "load on the tail carriage with the gate open",
    inputs: &OPEN,
    formula: "(weight (centroid - u) - live_load u) / spacing, u = setback - recess",
    work: Work::Point(|point| Ok(open(point, point.number(5))?[1])),
    ..PLAIN
};

/// Front carriage, closed, nobody at the leading edge.
pub static FRONT_REACTION_CLOSED_UNLOADED: Figure = Figure {
    name: "front_reaction_closed_unloaded",
    title: "load on the front carriage with the gate closed and no live load",
    inputs: &CLOSED_UNLOADED,
    formula: "weight (u + spacing - centroid) / spacing, u = opening + latch_overlap + setback",
    work: Work::Point(|point| Ok(closed(point, 0.0)?[0])),
    ..PLAIN
};

/// Tail carriage, closed, nobody at the leading edge.
pub static TAIL_REACTION_CLOSED_UNLOADED: Figure = Figure {
    name: "tail_reaction_closed_unloaded",
    title: "load on the tail carriage with the gate closed and no live load; negative pulls the leaf down",
    inputs: &CLOSED_UNLOADED,
    formula: "weight (centroid - u) / spacing, u = opening + latch_overlap + setback",
    work: Work::Point(|point| Ok(closed(point, 0.0)?[1])),
    ..PLAIN
};

/// Front carriage, open, nobody at the leading edge.
pub static FRONT_REACTION_OPEN_UNLOADED: Figure = Figure {
    name: "front_reaction_open_unloaded",
    title: "load on the front carriage with the gate open and no live load; negative pulls the leaf down",
    inputs: &OPEN_UNLOADED,
    formula: "weight (u + spacing - centroid) / spacing, u = setback - recess",
    work: Work::Point(|point| Ok(open(point, 0.0)?[0])),
    ..PLAIN
};

/// Tail carriage, open, nobody at the leading edge.
pub static TAIL_REACTION_OPEN_UNLOADED: Figure = Figure {
    name: "tail_reaction_open_unloaded",
    title: "load on the tail carriage with the gate open and no live load",
    inputs: &OPEN_UNLOADED,
    formula: "weight (centroid - u) / spacing, u = setback - recess",
    work: Work::Point(|point| Ok(open(point, 0.0)?[1])),
    ..PLAIN
};

static ENDS: [&Figure; 8] = [
    &FRONT_REACTION_CLOSED,
    &TAIL_REACTION_CLOSED,
    &FRONT_REACTION_OPEN,
    &TAIL_REACTION_OPEN,
    &FRONT_REACTION_CLOSED_UNLOADED,
    &TAIL_REACTION_CLOSED_UNLOADED,
    &FRONT_REACTION_OPEN_UNLOADED,
    &TAIL_REACTION_OPEN_UNLOADED,
];

/// The largest load of a carriage.
pub static LARGEST_REACTION: Figure = Figure {
    name: "largest_reaction",
    title: "largest load on a carriage anywhere in the travel",
    formula: "the largest of the reactions of both carriages, closed and open, with and without live load: they run straight in between",
    work: Work::Largest(&ENDS),
    ..PLAIN
};

/// The lowest load of a carriage.
pub static LOWEST_REACTION: Figure = Figure {
    name: "lowest_reaction",
    title: "lowest load on a carriage anywhere in the travel; negative pulls the leaf down",
    formula: "the smallest of the reactions of both carriages, closed and open, with and without live load: they run straight in between",
    work: Work::Smallest(&ENDS),
    ..PLAIN
};

/// How far the gate opens before the tail carriage is loaded.
pub static TAIL_UPLIFT_ENDS: Figure = Figure {
    name: "tail_uplift_ends",
    title: "travel from closed at which the tail carriage ceases to be pulled up; negative: it is never pulled",
    inputs: &[WEIGHT, CENTROID, OPENING, OVERLAP, SETBACK, LIVE_LOAD],
    output: Dimension::LENGTH,
    formula: "opening + latch_overlap + setback - weight centroid / (weight + live_load)",
    work: Work::Point(|point| {
        let [weight, centroid, opening, overlap, setback, live] = point.numbers();
        if weight + live <= 0.0 {
            return not_valid("the leaf weighs nothing");
        }
        Ok(opening + overlap + setback - weight * centroid / (weight + live))
    }),
    ..PLAIN
};

/// How far the gate opens before the front carriage is pulled up.
pub static FRONT_UPLIFT_BEGINS: Figure = Figure {
    name: "front_uplift_begins",
    title: "travel from closed at which the front carriage begins to be pulled up, nobody at the leading edge",
    inputs: &[CENTROID, OPENING, OVERLAP, SETBACK, SPACING],
    output: Dimension::LENGTH,
    formula: "opening + latch_overlap + setback + spacing - centroid",
    work: Work::Point(|point| {
        let [centroid, opening, overlap, setback, spacing] = point.numbers();
        Ok(opening + overlap + setback + spacing - centroid)
    }),
    ..PLAIN
};

/// What a load at the leading edge adds to the front carriage.
pub static LIVE_LOAD_FACTOR: Figure = Figure {
    name: "live_load_factor",
    title: "what a load at the leading edge becomes at the front carriage, closed, as a multiple",
    inputs: &[FRONT_CLOSED, SPACING],
    output: Dimension::NONE,
    formula: "(front_closed + spacing) / spacing",
    work: Work::Point(|point| {
        let [front, spacing] = point.numbers();
        if spacing > 0.0 { Ok((front + spacing) / spacing) } else { not_valid("`spacing` can be zero") }
    }),
    ..PLAIN
};

/// A weight at the tail end that unloads the tail carriage, closed.
pub static TAIL_COUNTERWEIGHT: Figure = Figure {
    name: "tail_counterweight",
    title: "weight at the tail that would end the pull on the tail carriage, closed; for comparison, hardly ever practical",
    inputs: &[
        WEIGHT,
        CENTROID,
        FRONT_CLOSED,
        Input::of("at", Length, "leading edge to that weight", &["gate.leaf.length"]),
        LIVE_LOAD,
    ],
    formula: "(weight (front_closed - centroid) + live_load front_closed) / (at - front_closed)",
    work: Work::Point(|point| {
        let [weight, centroid, front, at, live] = point.numbers();
        if at <= front {
            return not_valid("the weight would stand before the front carriage");
        }
        Ok((weight * (front - centroid) + live * front) / (at - front))
    }),
    ..PLAIN
};

/// The moment at the front carriage, closed.
pub static FRONT_MOMENT_CLOSED: Figure = Figure {
    name: "front_moment_closed",
    title: "moment of the leaf at the front carriage, closed; pulls on the top chord",
    inputs: &with_loads::<3, { LOADS + 3 }>([STATED_WEIGHT, LIVE_LOAD, FRONT_CLOSED]),
    constants: &DENSITIES,
    output: Dimension::MOMENT,
    formula: "live_load front_closed + each weight before the front carriage x its distance from front_closed; \
              the weights in proportion to stated_weight where it is given",
    work: Work::Point(|point| {
        let leaf = loaded_leaf(point, point.given(LOADS), point.number(LOADS + 1))?;
        let front = point.number(LOADS + 2);
        Ok(leaf.hogging(front, Carriages { front, spacing: front }))
    }),
    validity: ALONG,
    ..PLAIN
};

/// The moment at the tail carriage, open.
pub static TAIL_MOMENT_OPEN: Figure = Figure {
    name: "tail_moment_open",
    title: "moment of the leaf at the tail carriage, open; pulls on the top chord",
    inputs: &with_loads::<4, { LOADS + 4 }>([STATED_WEIGHT, LIVE_LOAD, FRONT_OPEN, SPACING]),
    constants: &DENSITIES,
    output: Dimension::MOMENT,
    formula: "each weight behind the tail carriage x its distance from front_open + spacing; live_load does not reach it; \
              the weights in proportion to stated_weight where it is given",
    work: Work::Point(|point| {
        let [live, front, spacing] = [1, 2, 3].map(|number| point.number(LOADS + number));
        if spacing <= 0.0 {
            return not_valid("`spacing` can be zero");
        }
        let leaf = loaded_leaf(point, point.given(LOADS), live)?;
        Ok(leaf.hogging(front + spacing, Carriages { front, spacing }))
    }),
    validity: ALONG,
    ..PLAIN
};

/// The largest moment of the leaf.
pub static LARGEST_LEAF_MOMENT: Figure = Figure {
    name: "largest_leaf_moment",
    title: "largest moment of the leaf anywhere along it and over the travel; pulls on the top chord",
    output: Dimension::MOMENT,
    formula: "the larger of the moments at the front carriage closed and at the tail carriage open",
    work: Work::Largest(&[&FRONT_MOMENT_CLOSED, &TAIL_MOMENT_OPEN]),
    validity: ALONG,
    ..PLAIN
};

/// The moment anywhere along the leaf, at any place of the travel.
pub static LEAF_MOMENT: Figure = Figure {
    name: "leaf_moment",
    title: "moment of the leaf at one section and one place of the travel; positive pulls on the top chord",
    inputs: &with_loads_along::<6, { LOADS + 6 }>([
        STATED_WEIGHT,
        LIVE_LOAD,
        FRONT_CLOSED.one_value(),
        SPACING.one_value(),
        Input::of("section", Length, "leading edge to the section", &[]).one_value(),
        Input::of("moved", Length, "how far the leaf has moved from closed", &[]).one_value(),
    ]),
    constants: &DENSITIES,
    output: Dimension::MOMENT,
    formula: "each weight and live_load before the section x its distance, less the reaction of each carriage before it x its \
              distance; the carriages stand at front_closed - moved and spacing behind it; the weights in proportion to stated_weight where it is given",
    work: Work::Point(|point| {
        let [live, front, spacing, section, moved] = [1, 2, 3, 4, 5].map(|number| point.number(LOADS + number));
        if spacing <= 0.0 {
            return not_valid("`spacing` can be zero");
        }
        let leaf = loaded_leaf(point, point.given(LOADS), live)?;
        Ok(leaf.hogging(section, Carriages { front: front - moved, spacing }))
    }),
    validity: ALONG,
    ..PLAIN
};

/// Force in a chord.
pub static CHORD_FORCE: Figure = Figure {
    name: "chord_force",
    title: "force in a chord from the largest moment of the leaf",
    inputs: &[
        Input::figure("moment", QuantityKind::Moment, "largest moment of the leaf", &LARGEST_LEAF_MOMENT),
        Input::figure("chord_distance", Length, "distance of the centers of the two chords", &geometry::CHORD_DISTANCE),
    ],
    ..CHORD_FORCE_PLAIN
};

const CHORD_FORCE_PLAIN: Figure = Figure {
    formula: "moment / chord_distance",
    work: Work::Point(|point| {
        let [moment, distance] = point.numbers();
        if distance > 0.0 { Ok(moment / distance) } else { not_valid("`chord_distance` can be zero") }
    }),
    ..PLAIN
};

/// Force in a chord over the front carriage.
pub static FRONT_CHORD_FORCE: Figure = Figure {
    name: "front_chord_force",
    title: "force in a chord at the front carriage, closed",
    inputs: &[
        Input::figure("moment", QuantityKind::Moment, "moment at the front carriage, closed", &FRONT_MOMENT_CLOSED),
        Input::figure("chord_distance", Length, "distance of the centers of the two chords", &geometry::CHORD_DISTANCE),
    ],
    ..CHORD_FORCE_PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 22] = [
    &FRONT_CHORD_FORCE,
    &FRONT_REACTION_CLOSED,
    &TAIL_REACTION_CLOSED,
    &FRONT_REACTION_HALF,
    &TAIL_REACTION_HALF,
    &FRONT_REACTION_OPEN,
    &TAIL_REACTION_OPEN,
    &FRONT_REACTION_CLOSED_UNLOADED,
    &TAIL_REACTION_CLOSED_UNLOADED,
    &FRONT_REACTION_OPEN_UNLOADED,
    &TAIL_REACTION_OPEN_UNLOADED,
    &LARGEST_REACTION,
    &LOWEST_REACTION,
    &TAIL_UPLIFT_ENDS,
    &FRONT_UPLIFT_BEGINS,
    &LIVE_LOAD_FACTOR,
    &TAIL_COUNTERWEIGHT,
    &FRONT_MOMENT_CLOSED,
    &TAIL_MOMENT_OPEN,
    &LARGEST_LEAF_MOMENT,
    &LEAF_MOMENT,
    &CHORD_FORCE,
];
