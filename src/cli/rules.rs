//! `gatewright rules`: the list of rules.

use super::args::{ListFormat, Look, RulesArgs};
use super::exit::Exit;
use super::output::print;
use super::resolve::rules;
use crate::report::{rules_json, rules_text};

/// Runs the command.
pub fn run(arguments: &RulesArgs, how: &Look) -> Exit {
    match rules(&arguments.packs, how, None, false) {
        Err(exit) => exit,
        Ok(loaded) => print(&match arguments.format {
            ListFormat::Text => rules_text(&loaded.rules),
            ListFormat::Json => rules_json(&loaded.rules),
        }),
    }
}
