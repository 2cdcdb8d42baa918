//! The shipped packs: every case proved, every rule with the cases that can exist, names that stay.

mod coverage;
mod mutants;
mod packs;
mod vocabulary;

use std::sync::Arc;

use gatewright::prove::{Proof, prove};
use gatewright::review::Outcome;
use gatewright::rule::{RuleSet, load, shipped, shipped_names, submittal_vocabulary};

fn shipped_rules() -> RuleSet {
    let sources: Vec<_> = shipped_names().filter_map(|name| shipped(name, true)).collect();
    match load(&sources, Arc::new(submittal_vocabulary().unwrap())) {
        Ok((rules, advice)) => {
            assert!(advice.list.is_empty(), "{:?}", advice.list);
            rules
        }
        Err(problems) => {
            let said: Vec<String> = problems
                .list
                .iter()
                .map(|(file, problem)| {
                    let at = file.position(problem.span.start);
                    format!("{}:{}:{}: {}", file.name(), at.line, at.column, problem.message)
                })
                .collect();
            panic!("{}", said.join("\n"));
        }
    }
}

#[test]
fn every_case_of_every_shipped_pack_is_as_expected() {
    let rules = shipped_rules();
    let proved = prove(&rules, &[]);
    assert!(proved.len() >= 4 * rules.rules.len(), "{} cases for {} rules", proved.len(), rules.rules.len());
    let wrong: Vec<String> = proved
        .iter()
        .filter(|case| case.proof != Proof::AsExpected)
        .map(|case| {
            let name = &rules.rules[case.rule].facts.name;
            format!(
                "{name}, case {}: {}: expected {}, found {}",
                case.case,
                case.proof.words(),
                case.expected,
                case.found
            )
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Rules for which an outcome cannot exist, each with the reason.
const CANNOT: &[(&str, Outcome, &str)] = &[
    ("paperwork/unstated-operation", Outcome::NotMet, "every choice of the field satisfies it"),
    ("paperwork/unstated-gate-standard", Outcome::NotMet, "every edition that can be named satisfies it"),
    ("leaf/live-load-not-stated", Outcome::NotMet, "every load that is stated satisfies it"),
    ("posts/no-wind-basis", Outcome::NotMet, "every basis that can be stated satisfies it"),
    ("posts/no-soil-basis", Outcome::NotMet, "every soil that can be stated satisfies it"),
    ("posts/soil-value-without-source", Outcome::NotMet, "every source that can be stated satisfies it"),
];

#[test]
fn every_rule_carries_the_cases_that_can_exist() {
    let rules = shipped_rules();
    let mut lacking = Vec::new();
    for rule in &rules.rules {
        for outcome in [Outcome::Met, Outcome::NotMet, Outcome::NotShown] {
            let excused = CANNOT.iter().any(|(name, cannot, _)| *name == rule.facts.name && *cannot == outcome);
            let carried = rule.cases.iter().any(|case| case.expect == outcome);
            assert!(!(excused && carried), "{} is excused and carried for {}", rule.facts.name, outcome.words());
            if !carried && !excused {
                lacking.push(format!("{} has no case that is {}", rule.facts.name, outcome.words()));
            }
        }
    }
    assert!(lacking.is_empty(), "{}", lacking.join("\n"));
}

/// Names are stable for ever: this list only grows, and a rename goes through `was:`.
#[test]
fn rule_names_stay() {
    let rules = shipped_rules();
    let mut names: Vec<String> =
        rules.rules.iter().map(|rule| format!("{} ({})", rule.facts.name, rule.facts.weight.word())).collect();
    names.sort();
    insta::assert_snapshot!(names.join("\n"));
}

#[test]
fn every_rule_says_what_a_reader_needs() {
    for rule in &shipped_rules().rules {
        let facts = &rule.facts;
        for (what, text) in [("why", &facts.why), ("remedy", &facts.remedy), ("local_code", &facts.local_code)] {
            assert!(text.len() > 40, "{}: {what} is too short to help: {text}", facts.name);
        }
        assert!(!facts.standard.is_empty() && !facts.authority.is_empty(), "{} has no source", facts.name);
        let stands_alone = !rule.message.segments.is_empty();
        assert!(stands_alone, "{} has no message", facts.name);
        let verdicts = ["is safe", "complies", "is compliant", "guarantee"];
        let said = format!("{} {} {} {}", facts.title, facts.why, facts.remedy, facts.local_code).to_lowercase();
        assert!(!verdicts.iter().any(|verdict| said.contains(verdict)), "{} gives a verdict", facts.name);
    }
}
