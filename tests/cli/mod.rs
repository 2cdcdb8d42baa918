//! The program from outside: commands, exit codes, streams, wrong input.

mod acceptance;
mod compute;
mod examples;
mod found;
mod hazards;
mod judged_by_figures;
mod program;
mod project;
mod readme;
mod rules;
mod streams;
mod undecided;
mod worksheet;
