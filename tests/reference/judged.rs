//! Whole submittals judged by the shipped packs, for the checks whose verdicts come from outside.

use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

use gatewright::review::{Outcome, SubmittalReview, Terms, review_file};
use gatewright::rule::{RuleSet, load, shipped, shipped_names, submittal_vocabulary};

fn rules() -> &'static RuleSet {
    static RULES: OnceLock<RuleSet> = OnceLock::new();
    RULES.get_or_init(|| {
        let sources: Vec<_> = shipped_names().filter_map(|name| shipped(name, false)).collect();
        load(&sources, Arc::new(submittal_vocabulary().unwrap())).expect("the shipped packs load").0
    })
}

/// Reviews one gate, written as the lines below `- mark: G1`, indented by four blanks.
pub fn review_gate(gate: &str) -> SubmittalReview {
    let text = format!("format: 1\ngates:\n  - mark: G1\n    type: cantilever_slide\n{gate}");
    let mut found = review_file(rules(), &Terms::default(), "gate.yaml", text.as_bytes(), true);
    let review = found.submittals.remove(0);
    let reading: Vec<_> = review.findings.iter().filter(|finding| finding.rule.starts_with("reading/")).collect();
    assert!(reading.is_empty(), "{text}\n{reading:?}");
    review
}

/// The rules that are not met, by short name.
pub fn not_met(review: &SubmittalReview) -> BTreeSet<&str> {
    let findings = review.findings.iter().filter(|finding| finding.outcome == Outcome::NotMet);
    findings.map(|finding| finding.rule.split('/').nth(1).unwrap_or_default()).collect()
}

/// What one rule came to for the gate.
pub fn outcome_of(review: &SubmittalReview, rule: &str) -> Outcome {
    let outcomes = &review.gates[0].outcomes;
    let has = |list: &[Arc<str>]| list.iter().any(|name| **name == *rule);
    match () {
        () if has(&outcomes.met) => Outcome::Met,
        () if has(&outcomes.not_met) => Outcome::NotMet,
        () if has(&outcomes.not_shown) => Outcome::NotShown,
        () if has(&outcomes.does_not_apply) => Outcome::DoesNotApply,
        () => panic!("no rule {rule} was run"),
    }
}
