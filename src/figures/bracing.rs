//! The shear in a panel of the leaf over the travel: its sign says which way a diagonal works.
//!
//! Positive: a diagonal that rises toward the tail is pulled. A panel near the middle of the leaf hangs out when the gate
//! is closed and trails behind when it is open, and its shear reverses on the way.

use super::beam::{Carriages, Leaf};
use super::figure::{Figure, Input, NoValue, Of, Work, not_valid};
use super::inputs::{LIVE_LOAD, SPACING, TRAVEL};
use super::point::Point;
use super::spread::loaded_leaf;
use super::statics::FRONT_CLOSED;
use super::weight::{DENSITIES, LOADS, STATED_WEIGHT, with_loads_along};
use crate::quantity::{Dimension, QuantityKind::Length};

const PLAIN: Figure = Figure {
    source: "statics of a beam on two supports; signs confirmed by a frame program",
    validity: "two carriages, level track; a stiff frame takes a few percent of the shear itself",
    ..Figure::blank(Of::Panel, Dimension::FORCE)
};

const PANEL: Figure = Figure {
    name: "",
    title: "shear in the panel at one of the places of the travel",
    inputs: &with_loads_along::<7, { LOADS + 7 }>([
        STATED_WEIGHT,
        LIVE_LOAD,
        FRONT_CLOSED.one_value(),
        SPACING.one_value(),
        TRAVEL.one_value(),
        Input::of("start", Length, "leading edge to where the panel begins", &["panel.start"]).one_value(),
        Input::of("end", Length, "leading edge to where the panel ends", &["panel.end"]).one_value(),
    ]),
    constants: &DENSITIES,
    formula: "weight and live_load before the middle of start and end, less the reactions of the carriages before it; front_closed and \
              spacing behind it, moved by nothing, by travel, or to either side of a carriage that passes; \
              the weights in proportion to stated_weight where it is given",
    ..PLAIN
};

/// The shear of a panel with the leaf moved to a place, which the travel, and how far the carriages are from the middle of
/// the panel give; before and behind a carriage that stands there, twice the same where none does.
fn shear_at(point: &Point<'_>, place: fn(f64, [f64; 2]) -> f64) -> Result<[f64; 2], NoValue> {
    let [live, front, spacing, travel, start, end] = [1, 2, 3, 4, 5, 6].map(|number| point.number(LOADS + number));
    if spacing <= 0.0 {
        return not_valid("`spacing` can be zero");
    }
    if end <= start {
        return not_valid("the panel ends before it begins");
    }
    let leaf = loaded_leaf(point, point.given(LOADS), live)?;
    let section = (start + end) / 2.0;
    let moved = place(travel, [front - section, front + spacing - section]).min(travel).max(0.0);
    Ok(both_sides(&leaf, section, Carriages { front: front - moved, spacing }))
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

static CLOSED: Figure =
    Figure { name: "panel_shear_closed", work: Work::Point(|point| Ok(shear_at(point, |_, _| 0.0)?[0])), ..PANEL };
static OPEN: Figure = Figure {
    name: "panel_shear_open",
    work: Work::Point(|point| Ok(shear_at(point, |travel, _| travel)?[0])),
    ..PANEL
};
static BEFORE_FRONT: Figure = Figure {
    name: "panel_shear_before_front_carriage",
    work: Work::Point(|point| Ok(shear_at(point, |_, at| at[0])?[0])),
    ..PANEL
};
static BEHIND_FRONT: Figure = Figure {
    name: "panel_shear_behind_front_carriage",
    work: Work::Point(|point| Ok(shear_at(point, |_, at| at[0])?[1])),
    ..PANEL
};
static BEFORE_TAIL: Figure = Figure {
    name: "panel_shear_before_tail_carriage",
    work: Work::Point(|point| Ok(shear_at(point, |_, at| at[1])?[0])),
    ..PANEL
};
static BEHIND_TAIL: Figure = Figure {
    name: "panel_shear_behind_tail_carriage",
    work: Work::Point(|point| Ok(shear_at(point, |_, at| at[1])?[1])),
    ..PANEL
};

/// Between them the shear runs straight over the travel.
static PLACES: [&Figure; 6] = [&CLOSED, &OPEN, &BEFORE_FRONT, &BEHIND_FRONT, &BEFORE_TAIL, &BEHIND_TAIL];
const FORMULA: &str = "of the weights before the middle of the panel, less the reactions of the carriages before it; closed, open, and \
                       on both sides of each carriage passing";

/// The lowest shear.
pub static PANEL_SHEAR_LOW: Figure = Figure {
    name: "panel_shear_low",
    title: "lowest shear in the panel over the travel; negative: a diagonal rising toward the tail is pushed",
    formula: FORMULA,
    work: Work::Smallest(&PLACES),
    ..PLAIN
};

/// The highest shear.
pub static PANEL_SHEAR_HIGH: Figure = Figure {
    name: "panel_shear_high",
    title: "highest shear in the panel over the travel; positive: a diagonal rising toward the tail is pulled",
    formula: FORMULA,
    work: Work::Largest(&PLACES),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 2] = [&PANEL_SHEAR_LOW, &PANEL_SHEAR_HIGH];
