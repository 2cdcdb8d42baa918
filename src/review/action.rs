//! The reviewer action that the outcomes suggest.

use super::finding::{Action, Deviation, DeviationState, Finding, Outcome, Question, Stage, SubmittalReview, Weight};

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

/// Whether a submittal makes a run fail: a finding weighs enough and no deviation answers it, or a rule that is undecided
/// weighs enough, which at stage bid is a question. What was not reviewed passes at no weight.
pub fn fails(submittal: &SubmittalReview, fail_on: Weight) -> bool {
    let is_found = |finding: &Finding| {
        finding.outcome != Outcome::NotShown && finding.weight >= fail_on && finding.deviation.is_none()
    };
    let is_open = |question: &Question| submittal.stage != Stage::Bid && question.weight >= fail_on;
    let reviewed = submittal.gates.iter().filter(|gate| gate.reviewed).count();
    let left_out = reviewed == 0 || reviewed < submittal.gates.len();
    left_out || submittal.findings.iter().any(is_found) || submittal.questions.iter().any(is_open)
}
