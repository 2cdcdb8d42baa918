//! Plausible inputs of any figure: SI numbers of the size that gates have, by name and kind. Own choice; nothing is
//! checked against them.

use gatewright::figures::{Absent, Figure, Input, InputKind, Over, Plan, RootValue, Source, Work};
use gatewright::quantity::{Quantity, QuantityKind};

/// Numbers from a seed that proptest draws (splitmix64, public domain).
#[derive(Debug)]
pub struct Chance(pub u64);

impl Chance {
    /// From 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((bits ^ (bits >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn below(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count - 1)
    }

    pub fn between(&mut self, (low, high): (f64, f64)) -> f64 {
        low + (high - low) * self.share()
    }
}

/// Least and largest plausible SI value of an input of a measured value.
fn bounds(figure: &Figure, input: &Input, kind: QuantityKind) -> (f64, f64) {
    let of_wind =
        matches!(input.source, Source::Fields(fields) if fields.iter().any(|field| field.starts_with("site.wind")));
    match input.name {
        "opening" => (3.0, 10.0),
        "latch_overlap" => (0.05, 0.3),
        "counterbalance" => (1.5, 6.0),
        "recess" | "intrusion" => (0.0, 0.4),
        "setback" => (0.1, 0.6),
        "spacing" => (1.5, 4.5),
        "carriage_length" => (0.2, 0.5),
        "leaf_length" | "length" => (6.0, 12.0),
        "leaf_height" => (1.5, 3.0),
        "bottom_gap" => (0.05, 0.2),
        "line_load" => (100.0, 500.0),
        "chord_depth" => (0.05, 0.2),
        "panel_length" => (0.8, 2.0),
        "infill_weight" | "tail_infill_weight" => (10.0, 200.0),
        "solidity" | "tail_solidity" => (0.02, 1.0),
        "rail_solidity" => (0.0, 0.4),
        "tail_margin" | "lead_margin" | "carriage_offset" => (0.0, 0.2),
        "run_back" => (5.0, 20.0),
        "from_opening" => (0.1, 5.0),
        "size" => (0.05, 0.25),
        "wall" | "wall_design" => (0.002, 0.012),
        "leaf_gap" | "thickness" => (0.01, 0.12),
        "offset" => (0.1, 0.3),
        "clear_gap" => (0.005, 0.1),
        "member_width" => (0.002, 0.3),
        "centroid" | "stated_centroid" | "wind_center" => (2.0, 7.0),
        "travel" | "moved" => (0.0, 10.0),
        "front_closed" => (3.2, 10.8),
        "front_open" => (0.05, 0.6),
        "section" => (0.5, 14.0),
        "at" if figure.name == "splice_moment" => (1.0, 12.0),
        "at" => (6.0, 15.0),
        "start" => (0.5, 6.0),
        "end" => (6.1, 8.0),
        "top" => (1.5, 12.0),
        "camber" | "bending_sag" | "shear_sag" | "play" | "play_down" | "play_up" => (0.0, 0.05),
        "speed" if of_wind => (35.0, 75.0),
        "ground_elevation" => (0.0, 2_500.0),
        "exposure_coefficient" | "topographic_factor" | "directionality" | "elevation_factor" => (0.6, 1.4),
        "velocity_pressure" => (100.0, 2_500.0),
        "width" | "diameter" => (0.3, 1.0),
        "depth" => (0.6, 3.0),
        "lateral_force" | "lateral" => (200.0, 4_000.0),
        "carriage_load" | "front_load" | "tail_load" | "wind_force" => (0.0, 9_000.0),
        "front_reaction" | "tail_reaction" | "front_share" | "tail_share" | "latch_share" => (-5_000.0, 9_000.0),
        "height" => (0.5, 3.0),
        "wind_height" => (0.8, 2.0),
        "guide_height" => (1.0, 3.0),
        "lower_height" => (0.05, 0.9),
        "bracket_height" => (0.1, 1.0),
        "axle_diameter" | "bolt_diameter" => (0.009, 0.03),
        "wheel_diameter" => (0.05, 0.2),
        "edge_distance" | "clear_distance" => (0.01, 0.06),
        "eccentricity" => (0.05, 0.4),
        "tensile_strength" | "yield" | "stated_yield" => (2e8, 5e8),
        "stated_vertical" => (5e4, 6e5),
        "rolling_resistance" | "track_slope" => (0.0, 0.06),
        "axial_ratio" => (0.0, 0.6),
        "axial_strength" => (5e4, 1e6),
        "shear_stiffness" => (1e5, 1e8),
        "x" | "y" => (-0.1, 0.1),
        "inertia" => (1e-6, 1e-3),
        "live_load" | "drive_force" | "wind_along" => (0.0, 1_500.0),
        _ => match kind {
            QuantityKind::Length => (0.5, 9.0),
            QuantityKind::Area => (2e-4, 3e-3),
            QuantityKind::Weight | QuantityKind::Force => (100.0, 9_000.0),
            QuantityKind::Pressure => (100.0, 2_500.0),
            QuantityKind::LineLoad => (100.0, 600.0),
            QuantityKind::SoilGradient => (15_000.0, 60_000.0),
            QuantityKind::Speed => (0.1, 0.8),
            QuantityKind::Acceleration => (0.2, 3.0),
            QuantityKind::Time => (0.01, 0.5),
            QuantityKind::Angle | QuantityKind::Ratio | QuantityKind::Slope => (0.01, 0.9),
            QuantityKind::Count => (1.0, 9.0),
            QuantityKind::Moment => (500.0, 20_000.0),
            QuantityKind::Volume => (0.05, 1.5),
            QuantityKind::Inertia => (1e-7, 2e-6),
        },
    }
}

/// The cells of an input, each with its least and largest value; a word or a yes has no range.
pub fn cells(figure: &Figure, input: &Input, chance: &mut Chance) -> Vec<(f64, f64)> {
    let word = |count: usize, chance: &mut Chance| {
        let number = chance.below(count) as f64;
        vec![(number, number)]
    };
    match input.kind {
        InputKind::Quantity(kind) => vec![bounds(figure, input, kind)],
        InputKind::Choice(words) => word(words.len(), chance),
        InputKind::Choices(words) => word(1 << words.len(), chance),
        InputKind::YesNo => word(2, chance),
        InputKind::Stated => vec![(1.0, 1.0)],
        InputKind::Rows(columns) => {
            let rows = if input.name == "bolt" { 4 } else { 2 };
            let cell = |column: &gatewright::figures::Column| match column.name {
                "from" => (0.0, 6.0),
                "to" => (7.0, 12.0),
                "at" => (0.0, 12.0),
                "weight" => (50.0, 500.0),
                "load" => (100.0, 500.0),
                _ => (-0.1, 0.1),
            };
            (0..rows).flat_map(|_| columns.iter().map(cell)).collect()
        }
    }
}

/// Single values of every input of a figure of points; an optional one may be absent.
pub fn at_a_point(figure: &Figure, chance: &mut Chance) -> Vec<Vec<f64>> {
    let one = |input: &Input, chance: &mut Chance| {
        if input.absent == Absent::Optional && chance.share() < 0.4 {
            return Vec::new();
        }
        cells(figure, input, chance).into_iter().map(|bounds| chance.between(bounds)).collect()
    };
    figure.inputs.iter().map(|input| one(input, chance)).collect()
}

/// A box of the roots of a plan: the ends of every cell, empty where a root is absent.
pub type Box = Vec<Vec<(f64, f64)>>;

/// A box in which at most that many cells are ranges.
pub fn any_box(plan: &Plan, most: usize, chance: &mut Chance) -> Box {
    let mut found: Box = Vec::with_capacity(plan.roots.len());
    let mut places = Vec::new();
    for (number, root) in plan.roots.iter().enumerate() {
        if root.absent != Absent::Lacking && chance.share() < 0.25 && !needed(plan, plan.figure, root) {
            found.push(Vec::new());
            continue;
        }
        let bounds = cells(plan.figure, root, chance);
        if !one_value(plan.figure, root) {
            places
                .extend((0..bounds.len()).filter(|cell| bounds[*cell].0 < bounds[*cell].1).map(|cell| (number, cell)));
        }
        let at = |bounds| {
            let value = chance.between(bounds);
            (value, value)
        };
        found.push(bounds.into_iter().map(at).collect());
    }
    let ranges = 1 + chance.below(most);
    for _ in 0..ranges.min(places.len()) {
        let (root, cell) = places.swap_remove(chance.below(places.len()));
        let all = cells(plan.figure, plan.roots[root], chance);
        let Some((low, high)) = all.get(cell).copied() else { continue };
        let (from, wide) = (chance.between((low, high)), chance.between((0.0, 0.4)) * (high - low));
        found[root][cell] = (from, (from + wide).min(high));
    }
    found
}

/// A box or a point as the roots of a plan.
pub fn root_values(ends: &Box) -> Vec<RootValue> {
    let quantity = |(low, high): &(f64, f64)| Quantity::range(*low, *high);
    ends.iter()
        .map(|cells| match &cells[..] {
            [] => RootValue::Absent,
            [one] => RootValue::Value(quantity(one)),
            many => RootValue::Rows(many.iter().map(quantity).collect()),
        })
        .collect()
}

/// A point inside a box, at an end of a range now and then.
pub fn inside(ends: &Box, chance: &mut Chance) -> Box {
    let mut cell = |(low, high): &(f64, f64)| {
        let share = match chance.below(8) {
            0 => 0.0,
            1 => 1.0,
            _ => chance.share(),
        };
        let value = (low + (high - low) * share).min(*high);
        (value, value)
    };
    ends.iter().map(|cells| cells.iter().map(&mut cell).collect()).collect()
}

/// A box inside a box.
pub fn narrower(ends: &Box, chance: &mut Chance) -> Box {
    let mut cell = |(low, high): &(f64, f64)| {
        if low == high {
            return (*low, *high);
        }
        let (one, other) = (chance.between((*low, *high)), chance.between((*low, *high)));
        (one.min(other), one.max(other))
    };
    ends.iter().map(|cells| cells.iter().map(&mut cell).collect()).collect()
}

/// Whether an input is read from where a root is.
fn same(input: &Input, root: &Input) -> bool {
    input.name == root.name
        && match (input.source, root.source) {
            (Source::Fields(a), Source::Fields(b)) => a == b,
            (Source::CommandLine, Source::CommandLine) => true,
            (Source::Figure(a), Source::Figure(b)) => std::ptr::eq(a, b),
            _ => false,
        }
}

/// Whether a figure, or one that it rests on, cannot do without a root, though the first to read it can: without it nothing
/// comes out.
fn needed(plan: &Plan, figure: &Figure, root: &Input) -> bool {
    let read = |input: &Input| match input.source {
        Source::Figure(other) if !plan.roots.iter().any(|given| same(given, input)) => needed(plan, other, root),
        _ => input.absent == Absent::Lacking && same(input, root),
    };
    figure.inputs.iter().any(read) || figure.taken_from().any(|part| needed(plan, part, root))
}

/// Whether a figure, or one that it rests on, refuses a range of a root: of the input itself, or of a figure over it.
fn one_value(figure: &Figure, root: &Input) -> bool {
    let own = figure.inputs.iter().any(|input| {
        let refused = input.over == Over::OneValue;
        let under = match input.source {
            Source::Figure(other) => {
                one_value(other, root) || refused && Plan::of(other).roots.iter().any(|input| same(input, root))
            }
            _ => false,
        };
        refused && same(input, root) || under
    });
    own || match figure.work {
        Work::Point(_) | Work::Chosen(_) => false,
        Work::Largest(parts) | Work::Smallest(parts) | Work::Claimed(_, parts) => {
            parts.iter().any(|part| one_value(part, root))
        }
        Work::Magnitude(part) => one_value(part, root),
    }
}
