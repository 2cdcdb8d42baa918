//! `gatewright explain`: one rule in full.

use super::args::{ExplainArgs, Look};
use super::exit::Exit;
use super::output::{note, print};
use super::resolve::{look, rules};
use crate::report::rule_text;
use crate::review::near_rule;

/// Runs the command.
pub fn run(arguments: &ExplainArgs, how: &Look) -> Exit {
    let loaded = match rules(&arguments.packs, how, true) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    match loaded.rules.find(&arguments.rule) {
        Ok(found) => print(&rule_text(&loaded.rules, &loaded.rules.rules[found], look(how).width)),
        Err(candidates) => {
            let hint = match (candidates.as_slice(), near_rule(&loaded.rules, &arguments.rule)) {
                ([], Some(near)) => format!("did you mean `{near}`?"),
                ([], None) => "`gatewright rules` lists the names".to_owned(),
                (several, _) => format!("it could be {}", several.join(" or ")),
            };
            note(&format!("gatewright: no rule is called `{}`; {hint}", arguments.rule));
            Exit::Usage
        }
    }
}
