//! The program from outside: commands, exit codes, streams, wrong input.

mod acceptance;
mod compute;
mod examples;
mod hazards;
mod program;
mod project;
mod readme;
