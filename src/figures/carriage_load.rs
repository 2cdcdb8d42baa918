//! What the carriage on a post presses on it, closed and open, with and without the live load.
//!
//! A load at the leading edge takes weight off the tail carriage closed and off the front one open, and may not be there:
//! the least and the largest load are looked for among all four. Called by the figures of posts and footings.

use super::figure::{Figure, Input, Of, Work};
use super::lateral::{FULCRUM, ROLE, TAIL};
use super::statics::{
    FRONT_REACTION_CLOSED, FRONT_REACTION_CLOSED_UNLOADED, FRONT_REACTION_OPEN, FRONT_REACTION_OPEN_UNLOADED,
    TAIL_REACTION_CLOSED, TAIL_REACTION_CLOSED_UNLOADED, TAIL_REACTION_OPEN, TAIL_REACTION_OPEN_UNLOADED,
};
use crate::quantity::{Dimension, QuantityKind::Force};

const PLAIN: Figure = Figure {
    source: "statics of a leaf on two carriages, one on each support post",
    validity: "as the reactions of the carriages",
    ..Figure::blank(Of::Post, Dimension::FORCE)
};

const fn reaction(name: &'static str, figure: &'static Figure) -> Input {
    Input::figure(name, Force, "reaction of that carriage", figure)
}

const OF_CARRIAGE: Figure = Figure {
    name: "",
    formula: "by the role of the post: front_reaction, tail_reaction, nothing at the latch",
    work: Work::Point(|point| {
        Ok(match point.choice(0) {
            FULCRUM => point.number(1),
            TAIL => point.number(2),
            _ => 0.0,
        })
    }),
    ..PLAIN
};

const fn of_carriages(front: &'static Figure, tail: &'static Figure) -> [Input; 3] {
    [ROLE, reaction("front_reaction", front), reaction("tail_reaction", tail)]
}

/// The carriage load on a post, closed.
pub static CARRIAGE_LOAD_CLOSED: Figure = Figure {
    name: "carriage_load_closed",
    title: "load of the carriage on this post, gate closed; negative pulls the post up",
    inputs: &of_carriages(&FRONT_REACTION_CLOSED, &TAIL_REACTION_CLOSED),
    ..OF_CARRIAGE
};

/// The carriage load on a post, open.
pub static CARRIAGE_LOAD_OPEN: Figure = Figure {
    name: "carriage_load_open",
    title: "load of the carriage on this post, gate open; negative pulls the post up",
    inputs: &of_carriages(&FRONT_REACTION_OPEN, &TAIL_REACTION_OPEN),
    ..OF_CARRIAGE
};

/// The carriage load on a post, closed, without the live load.
pub static CARRIAGE_LOAD_CLOSED_UNLOADED: Figure = Figure {
    name: "carriage_load_closed_unloaded",
    title: "load of the carriage on this post, gate closed, no live load; negative pulls the post up",
    inputs: &of_carriages(&FRONT_REACTION_CLOSED_UNLOADED, &TAIL_REACTION_CLOSED_UNLOADED),
    ..OF_CARRIAGE
};

/// The carriage load on a post, open, without the live load.
pub static CARRIAGE_LOAD_OPEN_UNLOADED: Figure = Figure {
    name: "carriage_load_open_unloaded",
    title: "load of the carriage on this post, gate open, no live load; negative pulls the post up",
    inputs: &of_carriages(&FRONT_REACTION_OPEN_UNLOADED, &TAIL_REACTION_OPEN_UNLOADED),
    ..OF_CARRIAGE
};

static LOADS: [&Figure; 4] =
    [&CARRIAGE_LOAD_CLOSED, &CARRIAGE_LOAD_OPEN, &CARRIAGE_LOAD_CLOSED_UNLOADED, &CARRIAGE_LOAD_OPEN_UNLOADED];

/// The largest carriage load on a post.
pub static LARGEST_CARRIAGE_LOAD: Figure = Figure {
    name: "largest_carriage_load",
    title: "largest load of the carriage on this post over the travel",
    formula: "the largest load of the carriage closed and open, with and without live load",
    work: Work::Largest(&LOADS),
    ..PLAIN
};

/// The lowest carriage load on a post.
pub static LOWEST_CARRIAGE_LOAD: Figure = Figure {
    name: "lowest_carriage_load",
    title: "lowest load of the carriage on this post over the travel; negative pulls the post up",
    formula: "the smallest load of the carriage closed and open, with and without live load",
    work: Work::Smallest(&LOADS),
    ..PLAIN
};

/// The larger of both without its sign, gate closed.
pub(super) static SIZE_CLOSED: Figure = Figure {
    work: Work::Largest(&[
        &Figure { work: Work::Magnitude(&CARRIAGE_LOAD_CLOSED), ..SIZE },
        &Figure { work: Work::Magnitude(&CARRIAGE_LOAD_CLOSED_UNLOADED), ..SIZE },
    ]),
    ..SIZE
};
/// The larger of both without its sign, gate open.
pub(super) static SIZE_OPEN: Figure = Figure {
    work: Work::Largest(&[
        &Figure { work: Work::Magnitude(&CARRIAGE_LOAD_OPEN), ..SIZE },
        &Figure { work: Work::Magnitude(&CARRIAGE_LOAD_OPEN_UNLOADED), ..SIZE },
    ]),
    ..SIZE
};
const SIZE: Figure = Figure {
    name: "carriage_load_size",
    title: "load of the carriage on this post without its sign, with or without live load, whichever is more",
    formula: "the carriage load without its sign",
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 6] = [
    &CARRIAGE_LOAD_CLOSED,
    &CARRIAGE_LOAD_OPEN,
    &CARRIAGE_LOAD_CLOSED_UNLOADED,
    &CARRIAGE_LOAD_OPEN_UNLOADED,
    &LARGEST_CARRIAGE_LOAD,
    &LOWEST_CARRIAGE_LOAD,
];
