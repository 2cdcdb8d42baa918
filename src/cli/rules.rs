//! `gatewright rules`: the list of rules, and the rule reference.
//!
//! Only the reference needs the cases that rules carry; the lists load the short packs.

use super::args::{Look, RulesArgs, RulesFormat};
use super::exit::Exit;
use super::output::print;
use super::resolve::rules;
use crate::report::{rules_json, rules_markdown, rules_text};

/// Runs the command.
pub fn run(arguments: &RulesArgs, how: &Look) -> Exit {
    let with_cases = arguments.format == RulesFormat::Markdown;
    match rules(&arguments.packs, how, with_cases) {
        Err(exit) => exit,
        Ok(loaded) => print(&match arguments.format {
            RulesFormat::Text => rules_text(&loaded.rules, &loaded.applied.off),
            RulesFormat::Json => rules_json(&loaded.rules, &loaded.applied.off),
            RulesFormat::Markdown => rules_markdown(&loaded.rules),
        }),
    }
}
