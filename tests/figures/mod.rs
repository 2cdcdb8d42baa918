//! Figures: what they declare against the vocabulary, dimensions by scaling, ranges by points inside, and laws that hold
//! whatever the numbers. Values from outside are in `tests/reference/figures`.

pub mod asked;
mod lateral;
mod laws;
mod plausible;
mod ranges;
mod registry;
mod scaling;
mod spread;
mod states;
mod weight;
mod wind;
