//! Checks against values that came from outside this project, each with its source beside it.

mod dimensions;
mod end_to_end;
mod examples;
mod figures;
mod geometry;
mod judged;
mod units;
mod yaml_suite;
