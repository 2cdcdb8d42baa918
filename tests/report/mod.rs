//! Reports of runs built by hand: the review that makes them is tested elsewhere.

mod escapes;
mod json;
mod line;
mod sample;
mod terminal;
