//! Runs the cases that rules carry.
//!
//! Each case is judged like a submittal, by its one rule; what the rule comes to, and where its finding stands, must be
//! what the case expects. Called by `gatewright prove` and by the tests.

use crate::review::{Judged, Outcome, judge};
use crate::rule::{Case, RuleSet};
use crate::source::Span;

/// How a case came out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Proof {
    /// As expected.
    AsExpected,
    /// The rule complains where it should not.
    FalseAlarm,
    /// The rule does not say what it should.
    Missed,
    /// The right outcome, pointed at the wrong field or waiting for another one.
    WrongPlace,
}

impl Proof {
    /// The words for it.
    pub fn words(&self) -> &'static str {
        match self {
            Proof::AsExpected => "as expected",
            Proof::FalseAlarm => "false alarm",
            Proof::Missed => "missed",
            Proof::WrongPlace => "wrong place",
        }
    }
}

/// One case, proved.
#[derive(Debug, Clone)]
pub struct Proved {
    /// Index of its rule.
    pub rule: usize,
    /// Number of the case within its rule, from 1.
    pub case: usize,
    /// Where it is written, in its pack's file.
    pub span: Span,
    /// How it came out.
    pub proof: Proof,
    /// What was expected.
    pub expected: String,
    /// What was found.
    pub found: String,
}

/// Proves every case of the packs that `wanted` names; all packs where it names none.
pub fn prove(rules: &RuleSet, wanted: &[String]) -> Vec<Proved> {
    let mut proved = Vec::new();
    for (index, rule) in rules.rules.iter().enumerate() {
        let pack = &rules.packs[rule.pack];
        if !(wanted.is_empty() || wanted.contains(&pack.name)) {
            continue;
        }
        for (number, case) in rule.cases.iter().enumerate() {
            let judged = judge(rules, &pack.tree, &case.facts, case.stage, &|other| other == index);
            proved.push(compare(index, number + 1, case, &judged));
        }
    }
    proved
}

fn compare(index: usize, number: usize, case: &Case, judged: &Judged) -> Proved {
    let outcome = outcome_of(index, judged);
    let found_at = judged.findings.iter().find(|finding| finding.outcome == outcome);
    let field = found_at.and_then(|finding| finding.field.clone());
    let missing = found_at.map(|finding| finding.missing.clone()).unwrap_or_default();
    let complains = |outcome: Outcome| matches!(outcome, Outcome::NotMet | Outcome::NotShown);
    let proof = if outcome != case.expect {
        if complains(outcome) && !complains(case.expect) { Proof::FalseAlarm } else { Proof::Missed }
    } else {
        let at_fits = case.at.is_none() || case.at == field;
        let missing_fits = case.missing.iter().all(|path| missing.contains(path));
        if at_fits && missing_fits { Proof::AsExpected } else { Proof::WrongPlace }
    };
    let describe = |outcome: Outcome, at: Option<&String>, missing: &[String]| {
        let mut text = outcome.words().to_owned();
        if let (Outcome::NotMet, Some(at)) = (outcome, at) {
            text.push_str(&format!(" at {at}"));
        }
        if outcome == Outcome::NotShown && !missing.is_empty() {
            text.push_str(&format!(", missing {}", missing.join(", ")));
        }
        text
    };
    Proved {
        rule: index,
        case: number,
        span: case.span,
        proof,
        expected: describe(case.expect, case.at.as_ref(), &case.missing),
        found: describe(outcome, field.as_ref(), &missing),
    }
}

/// What the rule came to over all gates of the case, the worst first.
fn outcome_of(index: usize, judged: &Judged) -> Outcome {
    let all = || std::iter::once(&judged.outcomes).chain(judged.gates.iter().map(|gate| &gate.outcomes));
    let worst_first = [Outcome::NotMet, Outcome::NotShown, Outcome::Met];
    let found = worst_first.into_iter().find(|outcome| all().any(|outcomes| outcomes[index] == Some(*outcome)));
    found.unwrap_or(Outcome::DoesNotApply)
}
