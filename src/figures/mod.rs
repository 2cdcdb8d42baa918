//! Figures: computed quantities, each one registered function of points.
//!
//! A figure has named inputs, an output, its formula in words, its source and its limits of validity. An input comes from
//! a field of the submittal or from another figure; `plan` works out the graph down to the fields, `evaluate` runs it
//! over ranges. Knows nothing of YAML or rules. Called by `gatewright compute` with values from the command line, by rules
//! (`figure.x`, `post.figure.x`) and by the worksheet with the fields of a gate.
//!
//! To add one: a `Figure` in the file of its subject and in that file's `ALL`, its outside values in `tests/reference/figures`.

mod beam;
mod bracing;
mod carriage_load;
mod chain;
mod evaluate;
mod figure;
mod footing;
mod geometry;
mod guides;
mod inputs;
mod lateral;
mod motion;
mod plan;
mod point;
mod post;
mod quick;
mod sag;
mod section;
mod soil;
mod solid_leaf;
mod splice;
mod spread;
mod statics;
mod weight;
mod wind;
mod wind_force;
mod worked;

pub use chain::MOST_RANGES;
pub use evaluate::{Outcome, RootValue, State, chosen, evaluate, evaluate_again};
pub use figure::{Absent, Column, Constant, Figure, Input, InputKind, NoValue, Of, Over, Source, Work};
pub use plan::Plan;
pub use point::Point;
pub use quick::{Known, Quick, quick};
pub use solid_leaf::{ASPECTS, CLEARANCES, COEFFICIENTS};
pub use worked::{Worked, WorkedInput};

/// Every figure, in the order that lists print.
pub fn all() -> impl Iterator<Item = &'static Figure> + Clone {
    let subjects: [&'static [&'static Figure]; 16] = [
        &geometry::ALL,
        &weight::ALL,
        &statics::ALL,
        &wind::ALL,
        &wind_force::ALL,
        &lateral::ALL,
        &guides::ALL,
        &sag::ALL,
        &bracing::ALL,
        &splice::ALL,
        &section::ALL,
        &carriage_load::ALL,
        &post::ALL,
        &soil::ALL,
        &footing::ALL,
        &motion::ALL,
    ];
    subjects.into_iter().flatten().copied()
}

/// The figure of a name.
pub fn find(name: &str) -> Option<&'static Figure> {
    all().find(|figure| figure.name == name)
}
