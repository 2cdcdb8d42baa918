//! `gatewright explain`: one rule in full.

use super::args::{ExplainArgs, Look};
use super::exit::Exit;
use super::output::{note, print};
use super::resolve::{look, rules};
use crate::report::rule_text;

/// Runs the command.
pub fn run(arguments: &ExplainArgs, how: &Look) -> Exit {
    let loaded = match rules(&arguments.packs, how, true) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    match loaded.rules.find(&arguments.rule) {
        Ok(found) => print(&rule_text(&loaded.rules, &loaded.rules.rules[found], look(how).width)),
        Err(_) => {
            let (problem, help) = loaded.rules.no_rule(&arguments.rule);
            note(&format!("gatewright: {problem}; {help}"));
            Exit::Usage
        }
    }
}
