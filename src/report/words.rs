//! The sentences that reports for people share: where a number comes from, and what no review can say.

use std::collections::BTreeMap;

use super::FINDINGS_A_DOCUMENT;
use super::tally::weights_in_words;
use super::text::{count, list, sentence};
use super::totals::Totals;
use crate::review::{Deviation, DeviationState, Finding, Question, RuleFacts, SubmittalReview, Weight};

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
pub(super) fn not_checked(submittal: &SubmittalReview, rules: &BTreeMap<String, RuleFacts>) -> Vec<String> {
    let mut out = Vec::new();
    if !submittal.readable {
        out.push("The document could not be read far enough; no rule ran on it.".to_owned());
    }
    let facts = submittal.questions.iter().filter(|question| !question.unreadable).count();
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
    let untyped: Vec<&str> =
        submittal.gates.iter().filter(|gate| !gate.type_shown).map(|gate| gate.mark.as_str()).collect();
    match untyped.as_slice() {
        [] => {}
        [gate] => {
            out.push(format!("Gate {gate}: its type is not shown; it was reviewed as a cantilever slide gate."));
        }
        gates => {
            let gates = list(gates);
            out.push(format!("Gates {gates}: their type is not shown; they were reviewed as cantilever slide gates."));
        }
    }
    let unreadable = || submittal.questions.iter().filter(|question| question.unreadable);
    for question in unreadable().take(FINDINGS_A_DOCUMENT) {
        let at = submittal.file.position(submittal.file.clamp(question.span).start).line;
        out.push(format!(
            "{}, line {at}: what is written cannot be used. Waiting for it: {}.",
            asked_for(question),
            waiting(&question.rules, rules)
        ));
    }
    let more = unreadable().count().saturating_sub(FINDINGS_A_DOCUMENT);
    if more > 0 {
        out.push(format!("... {more} more"));
    }
    out
}

/// `Gate G1: counterbalance length (gate.leaf.counterbalance)`.
pub(super) fn asked_for(question: &Question) -> String {
    let gate = question.gate.as_ref().map(|gate| format!("Gate {gate}: ")).unwrap_or_default();
    match question.label.trim() {
        "" => format!("{gate}{}", question.field),
        label => format!("{gate}{label} ({})", question.field),
    }
}

/// `1 hazard, 2 requirements (leaf/short-tail, ... and 3 others)`: the rules that wait for a fact, the heaviest first.
pub(super) fn waiting(waiting: &[String], rules: &BTreeMap<String, RuleFacts>) -> String {
    let weight = |name: &&String| rules.get(*name).map(|rule| rule.weight);
    let mut names: Vec<&String> = waiting.iter().collect();
    names.sort_by_key(|name| std::cmp::Reverse(weight(name)));
    let weights = weights_in_words(names.iter().filter_map(weight));
    format!("{weights} ({})", first_of(&names))
}

/// `1 hazard (guarding/open-leaf), 2 requirements`: the same where there is a line for it at most.
pub(super) fn waiting_in_short(waiting: &[String], rules: &BTreeMap<String, RuleFacts>) -> String {
    let weight = |name: &&String| rules.get(*name).map(|rule| rule.weight);
    let (hazards, others): (Vec<&String>, Vec<&String>) =
        waiting.iter().partition(|name| weight(name) == Some(Weight::Hazard));
    let others = weights_in_words(others.iter().filter_map(weight));
    if hazards.is_empty() {
        return others;
    }
    let hazards = format!("{} ({})", count(hazards.len(), "hazard", "hazards"), first_of(&hazards));
    if others.is_empty() { hazards } else { format!("{hazards}, {others}") }
}

/// The first names; the rest is counted.
fn first_of(names: &[&String]) -> String {
    const NAMED: usize = 6;
    let named: Vec<&str> = names.iter().take(NAMED).map(|name| name.as_str()).collect();
    let more = match names.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(" and {}", count(more, "other", "others")),
    };
    format!("{}{more}", named.join(", "))
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

/// What a worksheet does not check.
pub(super) const SHEET_GAP: &str = "Not checked: whether a figure suffices, which rules and their reviewer say; anything \
     without a figure; anything on site. Nothing was measured, loaded or operated.";

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
    if totals.unreadable > 0 {
        parts.push(count(
            totals.unreadable,
            "value that cannot be used as written",
            "values that cannot be used as written",
        ));
    }
    if totals.other_gates > 0 {
        parts.push(count(totals.other_gates, "gate of another type", "gates of another type"));
    }
    if unread > 0 {
        parts.push(count(unread, "file or document left out", "files or documents left out"));
    }
    let off = totals.projects.iter().map(|project| project.off.len()).sum();
    if off > 0 {
        parts.push(count(off, "rule switched off", "rules switched off"));
    }
    if parts.is_empty() { String::new() } else { format!("In this run also: {}.", list(&parts)) }
}
