//! The drop of the leading edge: elastic sag of the braced leaf, and play in the carriages.
//!
//! The leaf as a beam of two chords with the shear stiffness of its diagonals. Within 7 % of a frame program on seven
//! braced leaves; an unbraced frame needs a frame analysis, and the figure says so.

use super::beam::{Carriages, Leaf};
use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::geometry::CHORD_DISTANCE;
use super::inputs::{
    BOTTOM_CHORD, DIAGONAL_AREA, LEAF_HEIGHT, LEAF_LENGTH, LIVE_LOAD, MATERIAL, NO_DIAGONALS, PANEL_LENGTH, PATTERN,
    RODS, SPACING, STEEL, TOP_CHORD, UPRIGHT_AREA, WEIGHT,
};
use super::point::Point;
use super::section::STEEL_MODULUS;
use super::spread::leaf_of_weight;
use super::statics::FRONT_CLOSED;
use super::weight::{DENSITIES, LOADS, STATED_CENTROID, at, with_loads_along};
use crate::quantity::{
    Dimension, INCH, POUND,
    QuantityKind::{self, Length},
};

const ALUMINUM_MODULUS: Constant = Constant {
    value: 10.1e6 * POUND / (INCH * INCH),
    dimension: Dimension::PRESSURE,
    source: "aluminum: E = 10,100,000 psi (from memory)",
};

const INERTIA: Input = Input::figure("inertia", QuantityKind::Inertia, "moment of inertia of the leaf", &LEAF_INERTIA);
const DISTANCE: Input =
    Input::figure("chord_distance", Length, "distance of the centers of the two chords", &CHORD_DISTANCE);
const KINDS: [&str; 2] = ["single", "crossed"];
const SINGLE: usize = 0;

const PLAIN: Figure = Figure {
    source: "beam with shear deformation; within 7 % of a frame program on seven braced leaves",
    validity: "braced leaf; where its parts are not known, the weight is spread evenly or by its center of gravity; an unbraced frame needs a frame analysis; slip of bolts, welds of aluminum, temperature \
               and the lean of the posts are not covered",
    ..Figure::blank(Of::Gate, Dimension::LENGTH)
};

/// Inertia of the two chords.
pub static LEAF_INERTIA: Figure = Figure {
    name: "leaf_inertia",
    title: "moment of inertia of the leaf's two chords",
    // More metal is stiffer and heavier.
    inputs: &[
        TOP_CHORD.one_value(),
        BOTTOM_CHORD.one_value(),
        DISTANCE,
        Input::of("top_chord_inertia", QuantityKind::Inertia, "the top chord's own", &[]).optional(),
        Input::of("bottom_chord_inertia", QuantityKind::Inertia, "the bottom chord's own", &[]).optional(),
    ],
    output: Dimension::INERTIA,
    formula: "top_chord_area bottom_chord_area / (top_chord_area + bottom_chord_area) chord_distance^2 + the chords' own",
    source: "mechanics",
    work: Work::Point(|point| {
        let [top, bottom, distance, own_top, own_bottom] = point.numbers();
        if top + bottom <= 0.0 {
            return not_valid("the chords have no area");
        }
        Ok(top * bottom / (top + bottom) * distance * distance + own_top + own_bottom)
    }),
    ..PLAIN
};

/// The modulus of the material at a position; `first` is the place of both among the constants.
fn modulus(point: &Point<'_>, material: usize, first: usize) -> f64 {
    point.constant(if point.choice(material) == STEEL { first } else { first + 1 })
}

/// Shear stiffness of a braced panel.
pub static SHEAR_STIFFNESS: Figure = Figure {
    name: "shear_stiffness",
    title: "shear stiffness of the leaf's panels",
    // Steep and flat diagonals are both soft: the stiffest panel lies in between.
    inputs: &[
        PANEL_LENGTH.one_value(),
        DISTANCE.one_value(),
        DIAGONAL_AREA.optional().one_value(),
        UPRIGHT_AREA.one_value(),
        MATERIAL,
        PATTERN,
        Input::any("diagonals", InputKind::Choice(&KINDS), "one diagonal in a panel or two", &[])
            .assumed(0.0, "single"),
    ],
    constants: &[STEEL_MODULUS, ALUMINUM_MODULUS],
    output: Dimension::FORCE,
    formula: "single diagonals, and rods: E diagonal_area panel_length h^2 / (d^3 (1 + diagonal_area h^3 / (upright_area d^3))); crossed and both \
              working, of a rigid pattern: 2 E diagonal_area panel_length h^2 / d^3; h = chord_distance, d^2 = panel_length^2 + h^2, E of the material; \
              the pattern must not be none",
    source: "EN 1993-1-1 fig. 6.9 (formula from memory, mechanics derived again)",
    work: Work::Point(|point| {
        if point.choice(5) == NO_DIAGONALS {
            return not_valid(
                "an unbraced frame needs a frame analysis: this method overstates its sag by half and more",
            );
        }
        // An unbraced leaf has no diagonal to state; it is told why first.
        if point.given(2).is_none() {
            return Err(NoValue::Lacking(&["diagonal_area"]));
        }
        let [panel, height, diagonal, upright] = point.numbers();
        let length = panel.hypot(height).powi(3);
        if length <= 0.0 || diagonal <= 0.0 || upright <= 0.0 {
            return not_valid("panels and diagonals have sizes above zero");
        }
        let one = modulus(point, 4, 0) * diagonal * panel * height * height / length;
        // Of two crossed rods one is slack.
        Ok(if point.choice(6) == SINGLE || point.choice(5) == RODS {
            one / (1.0 + diagonal * height.powi(3) / (upright * length))
        } else {
            2.0 * one
        })
    }),
    ..PLAIN
};

/// How many inputs a sagging leaf has besides its loads.
const BEAM: usize = 5;

/// Where the weight lies, how much it is, and how the leaf stands. Lengths that move weight past a carriage, which may lift
/// the leading edge or not, take one value.
const fn with_beam<const N: usize, const ALL: usize>(more: [Input; N]) -> [Input; ALL] {
    assert!(LOADS + BEAM + N == ALL);
    let beam: [Input; LOADS + BEAM] =
        with_loads_along([WEIGHT, STATED_CENTROID, FRONT_CLOSED, SPACING.one_value(), LIVE_LOAD]);
    let mut all = [WEIGHT; ALL];
    let mut place = 0;
    while place < ALL {
        all[place] = if place < LOADS + BEAM { beam[place] } else { more[place - LOADS - BEAM] };
        place += 1;
    }
    all[at::LENGTH] = LEAF_LENGTH.one_value();
    all[at::HEIGHT] = LEAF_HEIGHT.optional().one_value();
    all
}

/// The leaf with its live load, its carriages, and the moments over the front and the tail one.
fn beam(point: &Point<'_>) -> Result<(Leaf, Carriages, [f64; 2]), NoValue> {
    let [weight, front, spacing, live] = [0, 2, 3, 4].map(|number| point.number(LOADS + number));
    if spacing <= 0.0 {
        return not_valid("`spacing` can be zero");
    }
    let leaf = leaf_of_weight(point, [weight, point.number(at::LENGTH)], point.given(LOADS + 1), live)?;
    // Own arithmetic: further back the span between the carriages bends the overhang up before more of it bends it down, so
    // that the worst place would lie inside a range. Of 4,000 leaves with loads at random the first turned round where the
    // center stood 0.26 of the spacing behind.
    if leaf.weight() * (front + spacing / 4.0) < leaf.moment() {
        return not_valid(
            "the center of gravity stands more than a quarter of the carriage spacing behind the front carriage",
        );
    }
    let carriages = Carriages { front, spacing };
    let moments = [front, front + spacing].map(|at| leaf.hogging(at, carriages));
    if moments[1] > moments[0] {
        return not_valid(
            "the tail behind its carriage pulls more on the leaf than what hangs out before the front one",
        );
    }
    Ok((leaf, carriages, moments))
}

/// Sag from bending.
pub static BENDING_SAG: Figure = Figure {
    name: "bending_sag",
    title: "drop of the leading edge from bending, closed",
    inputs: &{
        let mut inputs = with_beam::<1, { LOADS + BEAM + 1 }>([INERTIA]);
        inputs[at::MATERIAL] = MATERIAL;
        inputs
    },
    constants: &[DENSITIES[0], DENSITIES[1], STEEL_MODULUS, ALUMINUM_MODULUS],
    formula: "each weight P at x from the leading edge gives P (c - x)^2 (2 c + x) / 6 + P c (c - x) s / 3 before the front carriage, - P c z \
              (s - z) (2 s - z) / (6 s) with z = x - c between the carriages, P (x - c - s) s c / 6 behind them; their sum and that of \
              live_load at 0, over E of the material and inertia; c = front_closed, s = spacing; weight lies as the parts lie, else \
              with each item in its place and the rest in two even halves with stated_centroid, else evenly over leaf_length",
    source: "beam on two supports with an overhang, by reciprocity; AISC table 3-23 for its plain case (quoted)",
    work: Work::Point(|point| {
        let (leaf, carriages, _) = beam(point)?;
        let stiffness = modulus(point, at::MATERIAL, DENSITIES.len()) * point.number(LOADS + BEAM);
        if stiffness <= 0.0 {
            return not_valid("the chords have no stiffness");
        }
        Ok(leaf.drop_by_bending(carriages) / stiffness)
    }),
    ..PLAIN
};

/// Sag from shear.
pub static SHEAR_SAG: Figure = Figure {
    name: "shear_sag",
    title: "drop of the leading edge from the give of the panels, closed",
    inputs: &with_beam::<1, { LOADS + BEAM + 1 }>([Input::figure(
        "shear_stiffness",
        QuantityKind::Force,
        "shear stiffness of the panels",
        &SHEAR_STIFFNESS,
    )]),
    constants: &DENSITIES,
    formula: "(MA + c (MA - MB) / s) / shear_stiffness; c = front_closed, s = spacing, MA and MB the moments of the leaf over the front and \
              the tail carriage, of live_load and of the weight, which lies as the parts lie, else with each item in its \
              place and the rest in two even halves with stated_centroid, else evenly over leaf_length",
    work: Work::Point(|point| {
        let (_, carriages, [front, tail]) = beam(point)?;
        let stiffness = point.number(LOADS + BEAM);
        if stiffness <= 0.0 {
            return not_valid("the panels have no stiffness");
        }
        Ok((front + carriages.front * (front - tail) / carriages.spacing) / stiffness)
    }),
    ..PLAIN
};

/// Drop from play.
pub static CARRIAGE_PLAY: Figure = Figure {
    name: "carriage_play",
    title: "drop of the leading edge from play in the carriages, closed",
    inputs: &[
        Input::of("play_down", Length, "drop at the front carriage", &["gate.carriages.play_down"]),
        Input::of("play_up", Length, "rise at the tail carriage", &["gate.carriages.play_up"]),
        FRONT_CLOSED,
        SPACING,
    ],
    formula: "play_down + (play_down + play_up) front_closed / spacing",
    source: "geometry (own arithmetic)",
    validity: "two carriages; play is clearance in the track, wear adds to it",
    work: Work::Point(|point| {
        let [down, up, front, spacing] = point.numbers();
        if spacing <= 0.0 {
            return not_valid("`spacing` can be zero");
        }
        Ok(down + (down + up) * front / spacing)
    }),
    ..PLAIN
};

/// All together.
pub static LEADING_EDGE_DROP: Figure = Figure {
    name: "leading_edge_drop",
    title: "drop of the leading edge below level, closed; the camber is taken off",
    inputs: &[
        Input::figure("bending_sag", Length, "drop from bending", &BENDING_SAG),
        Input::figure("shear_sag", Length, "drop from the give of the panels", &SHEAR_SAG),
        Input::figure("play", Length, "drop from play in the carriages", &CARRIAGE_PLAY),
        Input::of("camber", Length, "how far the leading edge is built above level", &["gate.leaf.camber"])
            .assumed(0.0, "0 in"),
    ],
    formula: "bending_sag + shear_sag + play - camber",
    work: Work::Point(|point| {
        let [bending, shear, play, camber] = point.numbers();
        Ok(bending + shear + play - camber)
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 6] =
    [&LEAF_INERTIA, &SHEAR_STIFFNESS, &BENDING_SAG, &SHEAR_SAG, &CARRIAGE_PLAY, &LEADING_EDGE_DROP];
