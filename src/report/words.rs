//! The sentences that reports for people share: where a number comes from, and what no review can say.

use super::text::{count, list, sentence};
use super::totals::Totals;
use crate::review::{Deviation, DeviationState, Finding, Outcome, RuleFacts, SubmittalReview};

/// `gate G1, entry 2`; nothing for the submittal as a whole.
pub(super) fn subject(finding: &Finding) -> Option<String> {
    let element = finding.element.as_ref().map(|element| {
        let number = element.chars().all(|c| c.is_ascii_digit());
        if number { format!("entry {element}") } else { element.clone() }
    });
    match (&finding.gate, element) {
        (Some(gate), Some(element)) => Some(format!("gate {gate}, {element}")),
        (Some(gate), None) => Some(format!("gate {gate}")),
        (None, element) => element,
    }
}

/// `ASTM F2200 (2011 to 2017), clause 6.1.2; known from a secondary quotation, confirm ...`.
pub(super) fn source(rule: &RuleFacts) -> String {
    let known = authority(&rule.authority);
    let mut out = rule.standard.trim().to_owned();
    // "Common practice" is the standard and the authority at once.
    if known.starts_with(&out.to_lowercase()) {
        out.clear();
    }
    if !rule.edition.is_empty() {
        out.push_str(&format!(" ({})", rule.edition));
    }
    if !rule.clause.is_empty() {
        let numbered = rule.clause.starts_with(|c: char| c.is_ascii_digit());
        out.push_str(if numbered { ", clause " } else { ", " });
        out.push_str(&rule.clause);
    }
    let out = out.trim_start_matches([',', ' ']);
    if out.is_empty() { sentence(known) } else { format!("{out}; {known}") }
}

/// How a number is known, as a sentence that starts small.
fn authority(word: &str) -> &str {
    match word {
        "text" => "read in the source itself",
        "quoted" => "known from a secondary quotation, confirm against the edition in force",
        "memory" => "quoted from memory, confirm against the edition in force",
        "practice" => "common practice, no published source",
        "arithmetic" => "follows from the declared dimensions",
        other => other,
    }
}

/// How a declared deviation fared.
pub(super) fn deviation_state(state: DeviationState) -> &'static str {
    match state {
        DeviationState::Answers => "answers a finding of this review",
        DeviationState::Waiting => "waits: what it departs from is not shown yet",
        DeviationState::Unmatched => "matches no finding of this review",
        DeviationState::Incomplete => {
            "incomplete: needs a reason, an approval that can be looked up and, for a hazard, the gate it is for"
        }
    }
}

/// What a deviation claims, as a clause without a full stop.
pub(super) fn claim(deviation: &Deviation) -> String {
    let given = |text: &Option<String>| text.as_ref().map(|text| text.trim().trim_end_matches('.').to_owned());
    let approval = match given(&deviation.approval) {
        Some(approval) => format!("approved, the submittal says, by {approval}"),
        None => "no approval named".to_owned(),
    };
    match given(&deviation.reason) {
        Some(reason) => format!("{approval}; reason: {reason}"),
        None => format!("{approval}; no reason given"),
    }
}

/// What this run could not check, one sentence each; empty where every declared rule was decided.
pub(super) fn not_checked(submittal: &SubmittalReview) -> Vec<String> {
    let mut out = Vec::new();
    if !submittal.readable {
        out.push("The document could not be read far enough; no rule ran on it.".to_owned());
    }
    let facts = submittal.questions.len();
    if facts > 0 {
        let missing = count(facts, "fact is", "facts are");
        out.push(format!("{missing} not shown, and every rule that needs one is undecided."));
    }
    let others: Vec<&str> =
        submittal.gates.iter().filter(|gate| !gate.reviewed).map(|gate| gate.mark.as_str()).collect();
    if !others.is_empty() {
        let gates = if others.len() == 1 { "Gate" } else { "Gates" };
        out.push(format!("{gates} {} not reviewed: no rules for a gate of that type.", list(&others)));
    }
    let undecided = undecided(submittal);
    if !undecided.is_empty() {
        let waiting = count(undecided.len(), "rule waits", "rules wait");
        out.push(format!("{waiting} for a value that cannot be used as written: {}.", undecided.join(", ")));
    }
    out
}

/// Rules that are not shown although no question names them: each once, in the order of the findings.
fn undecided(submittal: &SubmittalReview) -> Vec<&str> {
    let mut out: Vec<&str> = Vec::new();
    for finding in submittal.findings.iter().filter(|finding| finding.outcome == Outcome::NotShown) {
        let asked = submittal.questions.iter().any(|question| {
            question.rules.contains(&finding.rule) && (question.gate.is_none() || question.gate == finding.gate)
        });
        if !asked && !out.contains(&finding.rule.as_str()) {
            out.push(&finding.rule);
        }
    }
    out
}

/// The words that every report for people ends with: what was not checked in this run, then what no review can say.
pub(super) fn safety(totals: &Totals) -> Vec<String> {
    let mut words = vec![format!(
        "Not checked: anything that no rule names; anything on site. Nothing was measured, loaded or operated. {} \
         A rule that is met is one check passed and says nothing beyond that check.",
        gaps(totals)
    )];
    words.extend(CAUTIONS.iter().map(|caution| (*caution).to_owned()));
    words
}

/// What no review and no worksheet can say.
pub(super) const CAUTIONS: [&str; 4] = [
    "Figures here are checks of declared numbers. They are no design and replace none.",
    "Which edition of a standard applies, and what the local amendments change, is for the authority having \
     jurisdiction to say.",
    "Structural and foundation work belongs to a licensed engineer, electrical work to a licensed electrician, \
     gate operators to trained installers.",
    "Do not run a powered gate before its entrapment protection has been tested on site.",
];

fn gaps(totals: &Totals) -> String {
    let unread = totals.unread + totals.not_reviewed.len();
    let mut parts = Vec::new();
    if totals.facts > 0 {
        parts.push(count(totals.facts, "fact not shown", "facts not shown"));
    }
    if totals.other_gates > 0 {
        parts.push(count(totals.other_gates, "gate of another type", "gates of another type"));
    }
    if unread > 0 {
        parts.push(count(unread, "file or document left out", "files or documents left out"));
    }
    if !totals.off.is_empty() {
        parts.push(count(totals.off.len(), "rule switched off", "rules switched off"));
    }
    if parts.is_empty() { String::new() } else { format!("In this run also: {}.", list(&parts)) }
}
