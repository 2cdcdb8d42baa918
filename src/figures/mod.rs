//! Figures: computed quantities, each one registered function of points.
//!
//! A figure has named inputs, an output, its formula in words, its source and its limits of validity. It is a function of
//! single values; over ranges it is evaluated at every combination of their ends (`evaluate`). Knows nothing of YAML or
//! rules. `gatewright compute` calls it with values from the command line, rules with the fields of a gate (`figure.x`), so a
//! figure names the field that each input is read from. The worksheet is to call the same registry.
//!
//! To add one: a function and a `Figure` in the file of its subject, an entry in `ALL`, its outside values in
//! `tests/figures`.

mod evaluate;
mod figure;
mod footing;
mod geometry;
mod motion;
mod statics;

pub use evaluate::{MOST_RANGES, Outcome, State, evaluate};
pub use figure::{Constant, Figure, Input, NotValid, Of, Over};

/// Every figure, in the order that lists print.
pub const ALL: [&Figure; 18] = [
    &geometry::LEAF_LENGTH,
    &geometry::COUNTERBALANCE_RATIO,
    &geometry::TRAVEL,
    &geometry::COUNTERBALANCE_NEEDED,
    &geometry::RECESS_ALLOWED,
    &geometry::CLEAR_OPENING,
    &geometry::RUN_BACK_NEEDED,
    &statics::FRONT_REACTION_CLOSED,
    &statics::TAIL_REACTION_CLOSED,
    &statics::FRONT_REACTION_OPEN,
    &statics::TAIL_REACTION_OPEN,
    &footing::POST_EMBEDMENT,
    &footing::POST_EMBEDMENT_CONSTRAINED,
    &footing::POST_EMBEDMENT_MOMENT,
    &footing::FOOTING_VOLUME,
    &motion::KINETIC_ENERGY,
    &motion::STOPPING_DISTANCE,
    &motion::TRAVEL_TIME,
];

/// The figure of a name.
pub fn find(name: &str) -> Option<&'static Figure> {
    ALL.into_iter().find(|figure| figure.name == name)
}
