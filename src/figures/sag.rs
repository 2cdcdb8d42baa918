//! The drop of the leading edge: elastic sag of the braced leaf, and play in the carriages.
//!
//! The leaf as a beam of two chords with the shear stiffness of its diagonals. Within 7 % of a frame program on seven
//! braced leaves; an unbraced frame needs a frame analysis, and the figure says so.

use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::geometry::CHORD_DISTANCE;
use super::inputs::{
    BOTTOM_CHORD, DIAGONAL_AREA, LEAF_LENGTH, LIVE_LOAD, MATERIAL, NO_DIAGONALS, PANEL_LENGTH, PATTERN, RODS, SPACING,
    STEEL, TOP_CHORD, UPRIGHT_AREA, WEIGHT,
};
use super::point::Point;
use super::statics::FRONT_CLOSED;
use crate::quantity::{
    Dimension,
    QuantityKind::{self, Length},
};

const STEEL_MODULUS: Constant = Constant {
    value: 29e6 * 4.4482216152605 / (0.0254 * 0.0254),
    dimension: Dimension::PRESSURE,
    source: "steel: E = 29,000,000 psi (AISC 360)",
};
const ALUMINUM_MODULUS: Constant = Constant {
    value: 10.1e6 * 4.4482216152605 / (0.0254 * 0.0254),
    dimension: Dimension::PRESSURE,
    source: "aluminum: E = 10,100,000 psi (from memory)",
};

const INERTIA: Input = Input::figure("inertia", QuantityKind::Inertia, "moment of inertia of the leaf", &LEAF_INERTIA);
const DISTANCE: Input =
    Input::figure("chord_distance", Length, "distance of the centers of the two chords", &CHORD_DISTANCE);
const KINDS: [&str; 2] = ["single", "crossed"];
const SINGLE: usize = 0;

const PLAIN: Figure = Figure {
    name: "",
    title: "",
    of: Of::Gate,
    inputs: &[],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "",
    source: "beam with shear deformation; within 7 % of a frame program on seven braced leaves",
    validity: "braced leaf of even weight; an unbraced frame needs a frame analysis; slip of bolts, welds of aluminum, temperature \
               and the lean of the posts are not covered",
    work: Work::Point(|_| not_valid("it has no formula")),
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

fn modulus(point: &Point<'_>, material: usize) -> f64 {
    point.constant(if point.choice(material) == STEEL { 0 } else { 1 })
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
        let one = modulus(point, 4) * diagonal * panel * height * height / length;
        // Of two crossed rods one is slack.
        Ok(if point.choice(6) == SINGLE || point.choice(5) == RODS {
            one / (1.0 + diagonal * height.powi(3) / (upright * length))
        } else {
            2.0 * one
        })
    }),
    ..PLAIN
};

/// A longer leaf and a wider spacing move weight behind the tail carriage, which may lift the leading edge or not.
const BEAM: [Input; 7] =
    [WEIGHT, LEAF_LENGTH.one_value(), FRONT_CLOSED, SPACING.one_value(), LIVE_LOAD, MATERIAL, INERTIA];

/// Even load, overhang, spacing, tail behind the tail carriage, live load.
fn beam(point: &Point<'_>) -> Result<[f64; 5], NoValue> {
    let [weight, length, front, spacing, live] = point.numbers();
    if length <= 0.0 || spacing <= 0.0 {
        return not_valid("length and spacing are more than zero");
    }
    let tail = (length - front - spacing).max(0.0);
    if tail > front {
        return not_valid("more of the leaf hangs out behind the tail carriage than before the front one");
    }
    Ok([weight / length, front, spacing, tail, live])
}

/// Sag from bending.
pub static BENDING_SAG: Figure = Figure {
    name: "bending_sag",
    title: "drop of the leading edge from bending, closed",
    inputs: &BEAM,
    constants: &[STEEL_MODULUS, ALUMINUM_MODULUS],
    formula: "w c^4 / (8 E I) + live_load c^3 / (3 E I) + c (s (2 MA + MB) / (6 E I) - w s^3 / (24 E I)); w = weight / leaf_length, c = \
              front_closed, s = spacing, MA = w c^2/2 + live_load c, MB = w t^2/2, t = leaf_length - c - s, E of the material, I = inertia",
    source: "beam on two supports with an overhang; AISC table 3-23 for its plain case (quoted)",
    work: Work::Point(|point| {
        let [w, c, s, t, live] = beam(point)?;
        // Own arithmetic: at about a quarter of the spacing the span between the carriages bends the overhang up before
        // more of it bends it down, so that the worst place would lie inside a range.
        if c < s / 3.0 {
            return not_valid("the leaf hangs out by less than a third of the carriage spacing");
        }
        let stiffness = modulus(point, 5) * point.number(6);
        if stiffness <= 0.0 {
            return not_valid("the chords have no stiffness");
        }
        let (ma, mb) = (w * c * c / 2.0 + live * c, w * t * t / 2.0);
        let turn = s * (2.0 * ma + mb) / 6.0 - w * s.powi(3) / 24.0;
        Ok((w * c.powi(4) / 8.0 + live * c.powi(3) / 3.0 + c * turn) / stiffness)
    }),
    ..PLAIN
};

/// Sag from shear.
pub static SHEAR_SAG: Figure = Figure {
    name: "shear_sag",
    title: "drop of the leading edge from the give of the panels, closed",
    inputs: &[
        WEIGHT,
        LEAF_LENGTH.one_value(),
        FRONT_CLOSED,
        SPACING.one_value(),
        LIVE_LOAD,
        Input::figure("shear_stiffness", QuantityKind::Force, "shear stiffness of the panels", &SHEAR_STIFFNESS),
    ],
    formula: "(MA + c (MA - MB) / s) / shear_stiffness; w = weight / leaf_length, c = front_closed, s = spacing, MA = w c^2/2 + live_load \
              c, MB = w t^2/2, t = leaf_length - c - s",
    work: Work::Point(|point| {
        let [w, c, s, t, live] = beam(point)?;
        let stiffness = point.number(5);
        if stiffness <= 0.0 {
            return not_valid("the panels have no stiffness");
        }
        let (ma, mb) = (w * c * c / 2.0 + live * c, w * t * t / 2.0);
        Ok((ma + c * (ma - mb) / s) / stiffness)
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
