//! `gatewright prove`: the cases of rules, as expected or not.

use super::args::{Look, ProveArgs};
use super::exit::Exit;
use super::output::{note, print};
use super::resolve::rules;
use crate::prove::{Proof, prove};
use crate::report::one_line;

/// Runs the command.
pub fn run(arguments: &ProveArgs, how: &Look) -> Exit {
    let loaded = match rules(&arguments.packs, how, true) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let rules = &loaded.rules;
    for name in &arguments.names {
        if !rules.packs.iter().any(|pack| pack.name == *name) {
            let known: Vec<&str> = rules.packs.iter().map(|pack| pack.name.as_str()).collect();
            note(&format!("gatewright: no pack is called `{name}`; loaded are {}", known.join(", ")));
            return Exit::Usage;
        }
    }
    let proved = prove(rules, &arguments.names);
    let mut text = String::new();
    for case in proved.iter().filter(|case| case.proof != Proof::AsExpected) {
        let rule = &rules.rules[case.rule];
        let file = rules.packs[rule.pack].tree.source();
        let at = file.position(case.span.start);
        let line = format!(
            "{}:{}:{}: {}, case {}: {}: expected {}; found {}",
            file.name(),
            at.line,
            at.column,
            rule.facts.name,
            case.case,
            case.proof.words(),
            case.expected,
            case.found
        );
        text.push_str(&(one_line(&line) + "\n"));
    }
    for pack in rules.packs.iter().filter(|pack| arguments.names.is_empty() || arguments.names.contains(&pack.name)) {
        let of_pack = || proved.iter().filter(|case| rules.packs[rules.rules[case.rule].pack].name == pack.name);
        let good = of_pack().filter(|case| case.proof == Proof::AsExpected).count();
        let count = rules.rules.iter().filter(|rule| rules.packs[rule.pack].name == pack.name).count();
        text.push_str(&format!(
            "{}: {}, {} of {} as expected\n",
            one_line(&pack.name),
            plural(count, "rule"),
            good,
            plural(of_pack().count(), "case")
        ));
    }
    let failed = proved.iter().any(|case| case.proof != Proof::AsExpected);
    print(&text).first_of(if failed { Exit::Findings } else { Exit::Clean })
}

fn plural(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}
