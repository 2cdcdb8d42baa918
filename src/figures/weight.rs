//! Weight and center of gravity of the leaf: stated, or from what lies along it.

use super::beam::{Leaf, Segment};
use super::figure::{Column, Constant, Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::inputs::{
    BOTTOM_CHORD, COUNTED_FROM, COUNTERBALANCE, COVERS, DIAGONAL_AREA, INFILL_WEIGHT, LEAF_HEIGHT, LEAF_LENGTH,
    LINE_LOAD, MATERIAL, NO_DIAGONALS, NO_INFILL, PANEL_LENGTH, PATTERN, STEEL, TAIL_KIND, TOP_CHORD, UPRIGHT_AREA,
    WHOLE_LEAF, from_opening_edge,
};
use super::point::Point;
use crate::quantity::{
    Dimension, FOOT, INCH, POUND,
    QuantityKind::{self, Length, Pressure, Ratio, Weight},
};

const LOAD: Input = Input::any(
    "load",
    InputKind::Rows(&[
        Column { name: "from", kind: Length, field: "", after: "" },
        Column { name: "to", kind: Length, field: "", after: " to " },
        Column { name: "load", kind: QuantityKind::LineLoad, field: "", after: "," },
    ]),
    "even load over a part of the leaf, from the leading edge",
    &[],
)
.optional()
.one_value();
const ITEM: Input = Input::any(
    "item",
    InputKind::Rows(&[
        Column { name: "weight", kind: Weight, field: "weight", after: "" },
        Column { name: "at", kind: Length, field: "at", after: " at " },
    ]),
    "concentrated weight, from the leading edge",
    &["gate.leaf.items"],
)
.optional();
const TAIL_INFILL: Input = Input::of(
    "tail_infill_weight",
    Pressure,
    "weight of the tail's infill over its area",
    &["gate.leaf.tail_infill.weight"],
)
.optional();

/// How many inputs say what lies along the leaf; they come first in every figure that reads them.
pub(super) const LOADS: usize = 18;
/// Where each of them stands.
pub(super) mod at {
    pub const LOAD: usize = 0;
    pub const ITEM: usize = 1;
    pub const LINE_LOAD: usize = 2;
    pub const LENGTH: usize = 3;
    pub const HEIGHT: usize = 4;
    pub const COUNTERBALANCE: usize = 5;
    pub const COVERS: usize = 6;
    pub const INFILL: usize = 7;
    pub const TAIL_INFILL: usize = 8;
    pub const MATERIAL: usize = 9;
    pub const TOP_CHORD: usize = 10;
    pub const BOTTOM_CHORD: usize = 11;
    pub const UPRIGHT: usize = 12;
    pub const PANEL: usize = 13;
    pub const DIAGONAL: usize = 14;
    pub const TAIL_KIND: usize = 15;
    pub const PATTERN: usize = 16;
    pub const COUNTED_FROM: usize = 17;
}
/// Where a load ends, its moment about a carriage can turn round: the lengths along the leaf take one value.
const LOAD_INPUTS: [Input; LOADS] = [
    LOAD,
    ITEM,
    LINE_LOAD.optional(),
    LEAF_LENGTH.optional().one_value(),
    LEAF_HEIGHT.optional(),
    COUNTERBALANCE.optional().one_value(),
    COVERS.optional(),
    INFILL_WEIGHT.optional(),
    TAIL_INFILL,
    MATERIAL.optional(),
    TOP_CHORD.optional(),
    BOTTOM_CHORD.optional(),
    UPRIGHT_AREA.optional(),
    PANEL_LENGTH.optional(),
    DIAGONAL_AREA.optional(),
    TAIL_KIND.optional(),
    PATTERN.optional(),
    COUNTED_FROM,
];

/// Densities of the frame.
pub(super) const DENSITIES: [Constant; 2] = [
    Constant {
        value: 490.0 * POUND / (FOOT * FOOT * FOOT),
        dimension: Dimension { length: -3, force: 1, ..Dimension::NONE },
        source: "steel weighs 490 lb/ft3 (as the AISC tables reckon)",
    },
    Constant {
        value: 0.098 * POUND / (INCH * INCH * INCH),
        dimension: Dimension { length: -3, force: 1, ..Dimension::NONE },
        source: "aluminum weighs 0.098 lb/in3 (handbook value, from memory)",
    },
];

/// Inputs that say what lies along the leaf, and then some more.
pub(super) const fn with_loads<const N: usize, const ALL: usize>(more: [Input; N]) -> [Input; ALL] {
    assert!(LOADS + N == ALL);
    let mut all = [LOAD; ALL];
    let mut place = 0;
    while place < ALL {
        all[place] = if place < LOADS { LOAD_INPUTS[place] } else { more[place - LOADS] };
        place += 1;
    }
    all
}

/// The same for moments and shears at a section: a weight that moves past the section turns them round.
pub(super) const fn with_loads_along<const N: usize, const ALL: usize>(more: [Input; N]) -> [Input; ALL] {
    let mut all = with_loads(more);
    all[at::ITEM] = ITEM.one_value();
    all
}

/// Why an even line load places nothing.
pub(super) const UNEVEN: &str = "the infill ends at the opening, so an even line load does not say where the weight lies; state the weights of \
                      infill and tail and the areas of the frame";

/// What lies along the leaf, from the first `LOADS` inputs. Rows of loads go first, then the line load, then the parts.
pub(super) fn leaf(point: &Point<'_>) -> Result<Leaf, NoValue> {
    let mut leaf = Leaf { segments: Vec::new(), items: point.rows::<2>(at::ITEM).collect() };
    leaf.segments.extend(point.rows::<3>(at::LOAD).map(|[from, to, load]| Segment { from, to, load }));
    if !leaf.segments.is_empty() {
        return match leaf.segments.iter().find(|part| part.to <= part.from) {
            Some(_) => not_valid("a row of `load` ends before it begins"),
            None => Ok(leaf),
        };
    }
    let opening_part_only = covers_opening_only(point);
    if let Some(load) = point.given(at::LINE_LOAD) {
        let length = point.given(at::LENGTH).ok_or(NoValue::Lacking(&["leaf_length"]))?;
        if !opening_part_only {
            leaf.segments.push(Segment { from: 0.0, to: length, load });
            return Ok(leaf);
        }
        // A line load is a mean: where the infill ends at the opening it says how much lies there, and the parts say where.
        return match parts(point, Leaf::default(), opening_part_only) {
            Ok(parts) if parts.weight() > 0.0 => {
                leaf.segments = parts.weighing(load * length).segments;
                Ok(leaf)
            }
            _ => Err(NoValue::Lacking(&["centroid"])),
        };
    }
    parts(point, leaf, opening_part_only)
}

/// Whether the infill ends at the opening.
pub(super) fn covers_opening_only(point: &Point<'_>) -> bool {
    point.given(at::COVERS).is_some_and(|_| point.choice(at::COVERS) != WHOLE_LEAF)
}

/// Infill over the area it covers, chords, uprights and diagonals.
fn parts(point: &Point<'_>, mut leaf: Leaf, opening_part_only: bool) -> Result<Leaf, NoValue> {
    const NEEDED: [usize; 8] =
        [at::LENGTH, at::HEIGHT, at::INFILL, at::MATERIAL, at::TOP_CHORD, at::BOTTOM_CHORD, at::UPRIGHT, at::PANEL];
    if NEEDED.iter().any(|input| point.given(*input).is_none()) {
        return Err(NoValue::Lacking(&["line_load"]));
    }
    refuse_unknown(point, opening_part_only)?;
    let [length, height, infill, panel] =
        [at::LENGTH, at::HEIGHT, at::INFILL, at::PANEL].map(|input| point.number(input));
    if panel <= 0.0 {
        return not_valid("`panel_length` can be zero");
    }
    let density = point.constant(if point.choice(at::MATERIAL) == STEEL { 0 } else { 1 });
    let chords = point.number(at::TOP_CHORD) + point.number(at::BOTTOM_CHORD);
    let uprights = point.number(at::UPRIGHT) * height / panel;
    let diagonals = point.number(at::DIAGONAL) * panel.hypot(height) / panel;
    leaf.segments.push(Segment { from: 0.0, to: length, load: density * (chords + uprights + diagonals) });
    if opening_part_only {
        let tail = point.given(at::COUNTERBALANCE).ok_or(NoValue::Lacking(&["counterbalance"]))?;
        from_opening_edge(point, at::COUNTED_FROM)?;
        if tail > length {
            return not_valid("the counterbalance is longer than the leaf");
        }
        let front = length - tail;
        leaf.segments.push(Segment { from: 0.0, to: front, load: infill * height });
        leaf.segments.push(Segment { from: front, to: length, load: point.number(at::TAIL_INFILL) * height });
    } else {
        leaf.segments.push(Segment { from: 0.0, to: length, load: infill * height });
    }
    Ok(leaf)
}

/// What is not shown weighs nothing only where the submittal says that it is not there.
fn refuse_unknown(point: &Point<'_>, opening_part_only: bool) -> Result<(), NoValue> {
    let is = |input: usize, word: usize| point.given(input).is_some() && point.choice(input) == word;
    let tail = opening_part_only && point.given(at::TAIL_INFILL).is_none() && !is(at::TAIL_KIND, NO_INFILL);
    let diagonals = point.given(at::DIAGONAL).is_none() && !is(at::PATTERN, NO_DIAGONALS);
    match (tail, diagonals) {
        (true, true) => Err(NoValue::Lacking(&["tail_infill_weight", "diagonal_area"])),
        (true, false) => Err(NoValue::Lacking(&["tail_infill_weight"])),
        (false, true) => Err(NoValue::Lacking(&["diagonal_area"])),
        (false, false) => Ok(()),
    }
}

const FORMULA: &str = "sum of load x (to - from) and item; without load rows, line_load x leaf_length + item; without a \
                       line_load, leaf_height x (infill_weight x covered length + tail_infill_weight x the rest, as \
                       infill_covers, counterbalance and counterbalance_from say) + density of the material x (top_chord_area + bottom_chord_area + \
                       upright_area leaf_height / panel_length + diagonal_area per panel) x leaf_length + item";
const SOURCE: &str = "sum of the parts (arithmetic); densities as stated";
const VALIDITY: &str = "as good as the weights stated; zinc, fasteners and welds are not added; a tail weighs nothing only where \
                        tail_infill_kind is none, diagonals only where pattern is none";

const PLAIN: Figure = Figure {
    constants: &DENSITIES,
    formula: FORMULA,
    source: SOURCE,
    validity: VALIDITY,
    ..Figure::blank(Of::Gate, Dimension::FORCE)
};

/// The same loads, of which only the sum is wanted: it goes evenly with the lengths, which may be ranges.
const fn summed<const ALL: usize>(mut loads: [Input; ALL]) -> [Input; ALL] {
    loads[at::LENGTH] = LEAF_LENGTH.optional();
    loads[at::COUNTERBALANCE] = COUNTERBALANCE.optional();
    loads
}

/// An even line load weighs what it weighs, wherever the weight lies.
fn rebuilt(point: &Point<'_>) -> Result<f64, NoValue> {
    match leaf(point) {
        Ok(leaf) => Ok(leaf.weight()),
        Err(NoValue::Lacking(["centroid"])) => {
            let items: f64 = point.rows::<2>(at::ITEM).map(|[weight, _]| weight).sum();
            Ok(point.number(at::LINE_LOAD) * point.number(at::LENGTH) + items)
        }
        Err(other) => Err(other),
    }
}

/// The weight of the leaf from its parts alone.
pub static LEAF_WEIGHT_REBUILT: Figure = Figure {
    name: "leaf_weight_rebuilt",
    title: "weight of the leaf, rebuilt from what lies along it",
    inputs: &summed(LOAD_INPUTS),
    work: Work::Point(rebuilt),
    ..PLAIN
};

pub(super) const STATED_WEIGHT: Input =
    Input::of("stated_weight", Weight, "weight of the whole leaf as stated", &["gate.leaf.weight"]).optional();
pub(super) const STATED_CENTROID: Input =
    Input::of("stated_centroid", Length, "center of gravity as stated, from the leading edge", &["gate.leaf.centroid"])
        .optional();

/// The weight of the leaf.
pub static LEAF_WEIGHT: Figure = Figure {
    name: "leaf_weight",
    title: "weight of the leaf: stated, else rebuilt",
    inputs: &summed(with_loads::<1, { LOADS + 1 }>([STATED_WEIGHT])),
    formula: "stated_weight; where it is not stated, sum of load x (to - from) and item; without load rows, line_load x \
              leaf_length + item; without a line_load, leaf_height x (infill_weight, tail_infill_weight over what \
              infill_covers, counterbalance and counterbalance_from say) + density of the material x (top_chord_area + bottom_chord_area + \
              upright_area leaf_height / panel_length + diagonal_area per panel) x leaf_length + item",
    work: Work::Point(|point| match point.given(LOADS) {
        Some(stated) => Ok(stated),
        None => rebuilt(point).map_err(|why| match why {
            NoValue::Lacking(["line_load"]) => NoValue::Lacking(&["stated_weight"]),
            other => other,
        }),
    }),
    ..PLAIN
};

/// Where the parts put the center of gravity.
fn rebuilt_centroid(point: &Point<'_>) -> Result<f64, NoValue> {
    let leaf = leaf(point)?;
    if leaf.weight() > 0.0 { Ok(leaf.moment() / leaf.weight()) } else { not_valid("the leaf weighs nothing") }
}

const CENTROID_FORMULA: &str = "sum of weight x distance over sum of weight of load rows and item; without load rows, of line_load over \
                                leaf_length and item; without a line_load, of the parts: leaf_height x (infill_weight, \
                                tail_infill_weight over what infill_covers, counterbalance and counterbalance_from say), material x \
                                (top_chord_area, bottom_chord_area, upright_area, diagonal_area by panel_length)";

/// The center of gravity from the parts alone.
pub static LEAF_CENTROID_REBUILT: Figure = Figure {
    name: "leaf_centroid_rebuilt",
    title: "leading edge to the center of gravity, rebuilt from what lies along the leaf",
    inputs: &LOAD_INPUTS,
    output: Dimension::LENGTH,
    formula: CENTROID_FORMULA,
    work: Work::Point(|point| {
        rebuilt_centroid(point).map_err(|why| match why {
            NoValue::Lacking(["centroid"]) => NoValue::NotValid(UNEVEN.to_owned()),
            other => other,
        })
    }),
    ..PLAIN
};

/// The center of gravity of the leaf.
pub static LEAF_CENTROID: Figure = Figure {
    name: "leaf_centroid",
    title: "leading edge to the center of gravity: stated, else from what lies along the leaf",
    inputs: &with_loads::<1, { LOADS + 1 }>([STATED_CENTROID]),
    output: Dimension::LENGTH,
    formula: "stated_centroid; where it is not stated, sum of weight x distance over sum of weight of load rows and item; \
              without load rows, of line_load over leaf_length and item; without a line_load, of the parts: leaf_height \
              x (infill_weight, tail_infill_weight over what infill_covers, counterbalance and counterbalance_from say), material x \
              (top_chord_area, bottom_chord_area, upright_area, diagonal_area by panel_length)",
    validity: "never taken at half the length where the infill ends at the opening; as good as the weights stated; a tail weighs \
               nothing only where tail_infill_kind is none, diagonals only where pattern is none",
    work: Work::Point(|point| match point.given(LOADS) {
        Some(stated) => Ok(stated),
        None => rebuilt_centroid(point).map_err(|why| match why {
            NoValue::Lacking(["centroid" | "line_load"]) => NoValue::Lacking(&["stated_centroid"]),
            other => other,
        }),
    }),
    ..PLAIN
};

/// Solidity of a mesh.
pub static MESH_SOLIDITY: Figure = Figure {
    name: "mesh_solidity",
    title: "solid over gross area of a square mesh",
    inputs: &[
        Input::of("clear_gap", Length, "clear distance between wires", &["gate.leaf.infill.clear_gap"]),
        Input::of("member_width", Length, "width of one wire", &["gate.leaf.infill.member_width"]),
    ],
    constants: &[],
    output: Dimension::NONE,
    formula: "1 - (clear_gap / (clear_gap + member_width))^2",
    source: "arithmetic on the mesh",
    validity: "infill alone, without frame and rails; published tables differ by up to 0.02 where they count center to center",
    work: Work::Point(|point| {
        let [gap, width] = point.numbers();
        if gap + width <= 0.0 {
            return not_valid("the mesh has no size");
        }
        Ok(1.0 - (gap / (gap + width)).powi(2))
    }),
    ..PLAIN
};

/// Solidity of pickets or slats.
pub static PICKET_SOLIDITY: Figure = Figure {
    name: "picket_solidity",
    title: "solid over gross area of pickets or slats",
    inputs: &[
        Input::of("member_width", Length, "width of one picket", &["gate.leaf.infill.member_width"]),
        Input::of("clear_gap", Length, "clear distance between pickets", &["gate.leaf.infill.clear_gap"]),
        Input::of("rail_solidity", Ratio, "share of the gross area that rails take", &[]).assumed(0.0, "0"),
    ],
    constants: &[],
    output: Dimension::NONE,
    formula: "1 - (1 - member_width / (member_width + clear_gap)) (1 - rail_solidity)",
    source: "arithmetic on the infill",
    validity: "members of one width and even gaps",
    work: Work::Point(|point| {
        let [width, gap, rails] = point.numbers();
        if gap + width <= 0.0 {
            return not_valid("the infill has no size");
        }
        Ok(1.0 - (1.0 - width / (width + gap)) * (1.0 - rails))
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 6] =
    [&LEAF_WEIGHT_REBUILT, &LEAF_WEIGHT, &LEAF_CENTROID_REBUILT, &LEAF_CENTROID, &MESH_SOLIDITY, &PICKET_SOLIDITY];
