//! The reviewer action that the outcomes suggest.

use super::finding::{Action, DeviationState, Finding, Outcome, Stage, Weight};
use super::finding::Deviation;

/// What a submittal's findings suggest; nothing at stage bid.
pub fn action(
    stage: Stage,
    readable: bool,
    gates_reviewed: &[bool],
    findings: &[Finding],
    deviations: &[Deviation],
) -> Option<Action> {
    if stage == Stage::Bid {
        return None;
    }
    if !readable || !gates_reviewed.contains(&true) {
        return Some(Action::NotReviewed);
    }
    let open = |weight: Weight| findings.iter().any(|finding| finding.weight == weight && finding.deviation.is_none());
    if open(Weight::Hazard) || open(Weight::Requirement) || gates_reviewed.contains(&false) {
        return Some(Action::ReviseAndResubmit);
    }
    let claims = deviations.iter().any(|deviation| deviation.state == DeviationState::Answers);
    if findings.is_empty() && !claims { Some(Action::NoExceptionsTaken) } else { Some(Action::MakeCorrectionsNoted) }
}

/// Whether a finding makes a run fail: it weighs enough, no deviation answers it, and at stage bid it is no question.
pub fn fails(finding: &Finding, stage: Stage, fail_on: Weight) -> bool {
    let question = stage == Stage::Bid && finding.outcome == Outcome::NotShown;
    finding.weight >= fail_on && finding.deviation.is_none() && !question
}
