//! The shear in a panel of the leaf over the travel: its sign says which way a diagonal works.
//!
//! Positive: a diagonal that rises toward the tail is pulled. A panel near the middle of the leaf hangs out when the gate
//! is closed and trails behind when it is open, and its shear reverses on the way.

use super::beam::{Carriages, Leaf};
use super::figure::{Figure, Input, NoValue, Of, Work, not_valid};
use super::inputs::{LIVE_LOAD, SPACING, TRAVEL};
use super::point::Point;
use super::statics::{FRONT_CLOSED, loaded_leaf};
use super::weight::{DENSITIES, LOADS, with_loads};
use crate::quantity::{Dimension, QuantityKind::Length};

const ALL_INPUTS: usize = LOADS + 6;
const INPUTS: [Input; ALL_INPUTS] = with_loads::<6, ALL_INPUTS>([
    LIVE_LOAD,
    FRONT_CLOSED,
    SPACING.one_value(),
    TRAVEL.one_value(),
    Input::of("start", Length, "leading edge to where the panel begins", &["panel.start"]).one_value(),
    Input::of("end", Length, "leading edge to where the panel ends", &["panel.end"]).one_value(),
]);

const PLAIN: Figure = Figure {
    name: "",
    title: "",
    of: Of::Panel,
    inputs: &INPUTS,
    constants: &DENSITIES,
    output: Dimension::FORCE,
    formula: "weight and live_load before the middle of start and end, less the reactions of the carriages before it; closed, open \
              after travel, and on both sides of each carriage (front_closed; spacing behind it) passing",
    source: "statics of a beam on two supports; signs confirmed by a frame program",
    validity: "two carriages, level track; a stiff frame takes a few percent of the shear itself",
    work: Work::Point(|_| not_valid("it has no formula")),
};

/// The lowest and the highest shear of a panel over the travel.
fn extremes(point: &Point<'_>) -> Result<[f64; 2], NoValue> {
    let [live, front, spacing, travel, start, end] = [0, 1, 2, 3, 4, 5].map(|number| point.number(LOADS + number));
    if spacing <= 0.0 {
        return not_valid("`spacing` can be zero");
    }
    if end <= start {
        return not_valid("the panel ends before it begins");
    }
    let leaf = loaded_leaf(point, live)?;
    let section = (start + end) / 2.0;
    let places = [0.0, travel, front - section, front + spacing - section];
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for moved in places.into_iter().filter(|moved| (0.0..=travel).contains(moved)) {
        for shear in both_sides(&leaf, section, Carriages { front: front - moved, spacing }) {
            low = low.min(shear);
            high = high.max(shear);
        }
    }
    Ok([low, high])
}

/// The shear just before and just behind a carriage that stands at the section; twice the same where none does.
fn both_sides(leaf: &Leaf, section: f64, carriages: Carriages) -> [f64; 2] {
    let before = leaf.shear(section, carriages);
    let reactions = leaf.reactions(carriages);
    let stands = |at: f64| (at - section).abs() <= 1e-9 * section.abs();
    let tail = carriages.front + carriages.spacing;
    let passing = [(carriages.front, reactions[0]), (tail, reactions[1])];
    // A carriage at the section counts or does not; rounding may have put it on either side already.
    let step: f64 = passing
        .iter()
        .filter(|(at, _)| stands(*at))
        .map(|(at, reaction)| if *at < section { *reaction } else { -reaction })
        .sum();
    [before, before + step]
}

/// The lowest shear.
pub static PANEL_SHEAR_LOW: Figure = Figure {
    name: "panel_shear_low",
    title: "lowest shear in the panel over the travel; negative: a diagonal rising toward the tail is pushed",
    work: Work::Point(|point| Ok(extremes(point)?[0])),
    ..PLAIN
};

/// The highest shear.
pub static PANEL_SHEAR_HIGH: Figure = Figure {
    name: "panel_shear_high",
    title: "highest shear in the panel over the travel; positive: a diagonal rising toward the tail is pulled",
    work: Work::Point(|point| Ok(extremes(point)?[1])),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 2] = [&PANEL_SHEAR_LOW, &PANEL_SHEAR_HIGH];
