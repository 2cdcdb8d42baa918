//! The end of one submittal: the suggested action, the counts, and everything that a count hides.

use std::collections::{BTreeSet, HashSet};
use std::sync::Arc;

use super::page::Page;
use crate::report::tally::{self, Tally, WEIGHTS, weights_in_words};
use crate::report::{text, words};
use crate::review::{Action, Finding, Outcome, Outcomes, Run, SubmittalReview};
use crate::source::Span;

/// Columns that the names of gates and weights get at least.
const NAMES: usize = 16;

/// Writes the summary of a submittal.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    page.gap();
    page.heading("Summary");
    page.entry("Action", &action(submittal));
    page.entries("Findings", &findings(run, submittal));
    counts(page, run, submittal);
    section(page, "Could not be checked", words::not_checked(submittal, run.rules_of(submittal)));
    section(page, "Hazard rules switched off by n/a: confirm that it is so", switched_off(submittal));
    section(page, "Met only on an assumption", assumptions(submittal));
    section(page, "Notes on rules that are met", notes(submittal));
    for (of, met) in checked(submittal) {
        section(page, &format!("Checked and met (each rule is named for the fault it looks for): {of}"), met);
    }
    section(page, "Deviations the submittal claims", deviations(submittal));
}

/// A titled list; nothing where it is empty.
pub(super) fn section(page: &mut Page, title: &str, items: Vec<String>) {
    if items.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(2, title);
    items.iter().for_each(|item| page.item("-", item));
}

fn action(submittal: &SubmittalReview) -> String {
    match submittal.action {
        None => format!("None is suggested at stage {}; the questions are what matters.", submittal.stage.word()),
        Some(Action::NotReviewed) => "Not reviewed.".to_owned(),
        Some(action) => format!("Suggested: {}. A suggestion only; the reviewer decides.", action.words()),
    }
}

/// One line for what is not met, one for what is not shown, one for the structure of the text, one for what that leaves
/// undecided.
fn findings(run: &Run, submittal: &SubmittalReview) -> Vec<String> {
    let reading = |finding: &Finding| finding.rule.starts_with("reading/");
    let count = |what: &str, wanted: &dyn Fn(&Finding) -> bool| {
        let weights = submittal.findings.iter().filter(|finding| wanted(finding)).map(|finding| finding.weight);
        let weights: Vec<_> = weights.collect();
        (!weights.is_empty()).then(|| format!("{what}: {}", weights_in_words(weights.iter().copied())))
    };
    let answered = submittal.findings.iter().filter(|finding| finding.deviation.is_some()).count();
    let mut out: Vec<String> = [
        count("In the text itself", &reading),
        count("Not met", &|finding| !reading(finding) && finding.outcome == Outcome::NotMet),
        count("Not shown", &|finding| !reading(finding) && finding.outcome == Outcome::NotShown),
    ]
    .into_iter()
    .flatten()
    .collect();
    if answered > 0 {
        out.push(format!("Answered by a deviation that the submittal claims: {answered}"));
    }
    let undecided = undecided(submittal);
    if !undecided.is_empty() {
        let rules = run.rules_of(submittal);
        let weights = undecided.into_iter().filter_map(|name| rules.get(name)).map(|rule| rule.weight);
        out.push(format!("Waiting for a value that cannot be read: {}", weights_in_words(weights)));
    }
    if out.is_empty() {
        return vec!["None.".to_owned()];
    }
    out.push("A rule has one for each element of a list that it stops at.".to_owned());
    out
}

/// The rules that wait only for values that cannot be read, once for each gate: they have no finding.
fn undecided(submittal: &SubmittalReview) -> Vec<&str> {
    let not_shown = submittal.findings.iter().filter(|finding| finding.outcome == Outcome::NotShown);
    let found: HashSet<_> = not_shown.map(|finding| (finding.rule.as_str(), finding.gate_index)).collect();
    let mut without = BTreeSet::new();
    for question in submittal.questions.iter().filter(|question| question.unreadable) {
        let rules = question.rules.iter().map(|rule| (rule.as_str(), question.gate_index));
        without
            .extend(rules.filter(|(rule, gate)| !found.contains(&(*rule, *gate)) && !found.contains(&(*rule, None))));
    }
    without.into_iter().map(|(rule, _)| rule).collect()
}

/// Rules by weight, then by gate.
fn counts(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    let weights = tally::by_weight(submittal, run.rules_of(submittal));
    if weights.iter().all(|tally| tally.is_empty()) {
        page.entry("Rules", "No rule ran on this document.");
        return;
    }
    let widest = submittal.gates.iter().map(|gate| text::columns(&gate.mark) + 5).max().unwrap_or(0);
    let label = widest.clamp(NAMES, page.options().width.saturating_sub(Page::ROW).max(NAMES));
    page.gap();
    page.paragraph(2, "Each rule once for each gate, by weight, and the same by gate:");
    page.row("Rules", &Tally::HEADINGS.map(str::to_owned), label);
    for (weight, tally) in WEIGHTS.iter().zip(weights) {
        page.row(weight.word(), &numbers(tally), label);
    }
    page.gap();
    for gate in &submittal.gates {
        let name = format!("gate {}", gate.mark);
        let tally = Tally::of(&gate.outcomes);
        page.row(&name, &numbers(tally), label);
        if !gate.reviewed {
            page.paragraph(2, &format!("{name} was not reviewed: its type has no rules here"));
        }
    }
    let whole = Tally::of(&submittal.outcomes);
    if !whole.is_empty() {
        page.row("whole submittal", &numbers(whole), label);
    }
}

fn numbers(tally: Tally) -> [String; 4] {
    tally.counts().map(|n| n.to_string())
}

fn line(submittal: &SubmittalReview, span: Span) -> u32 {
    submittal.file.position(submittal.file.clamp(span).start).line
}

fn for_gate(gate: Option<&String>) -> String {
    gate.map(|gate| format!(", gate {gate}")).unwrap_or_default()
}

fn switched_off(submittal: &SubmittalReview) -> Vec<String> {
    let say = |off: &crate::review::SwitchedOff| {
        let at = line(submittal, off.span);
        format!("{}{}: {} is n/a, line {at}", off.rule, for_gate(off.gate.as_ref()), off.field)
    };
    submittal.switched_off.iter().map(say).collect()
}

/// Each assumed value once, with the rules that rest on it.
fn assumptions(submittal: &SubmittalReview) -> Vec<String> {
    let mut out: Vec<(String, Vec<&str>)> = Vec::new();
    for gate in &submittal.gates {
        for (rule, field, value) in &gate.met_by_assumption {
            let assumed = format!("gate {}: {field} taken as {value}", gate.mark);
            match out.iter_mut().find(|(known, _)| *known == assumed) {
                Some((_, rules)) => rules.push(rule),
                None => out.push((assumed, vec![rule])),
            }
        }
    }
    out.into_iter().map(|(assumed, rules)| format!("{assumed} ({})", rules.join(", "))).collect()
}

/// Of gates without a finding, and of a submittal without one, the rules that are met, pack by pack.
fn checked(submittal: &SubmittalReview) -> Vec<(String, Vec<String>)> {
    let clean = |outcomes: &Outcomes| outcomes.not_met.is_empty() && outcomes.not_shown.is_empty();
    let gates = submittal.gates.iter().filter(|gate| clean(&gate.outcomes));
    let mut checked: Vec<(String, Vec<String>)> =
        gates.map(|gate| (format!("gate {}", gate.mark), by_pack(&gate.outcomes.met))).collect();
    if checked.len() == submittal.gates.len() && clean(&submittal.outcomes) {
        checked.push(("the submittal as a whole".to_owned(), by_pack(&submittal.outcomes.met)));
    }
    checked
}

/// `pack: rule, rule`, of full names in order.
fn by_pack(names: &[Arc<str>]) -> Vec<String> {
    let mut packs: Vec<(&str, Vec<&str>)> = Vec::new();
    for (pack, rule) in names.iter().filter_map(|name| name.split_once('/')) {
        match packs.last_mut().filter(|(known, _)| *known == pack) {
            Some((_, rules)) => rules.push(rule),
            None => packs.push((pack, vec![rule])),
        }
    }
    packs.into_iter().map(|(pack, rules)| format!("{pack}: {}", rules.join(", "))).collect()
}

fn notes(submittal: &SubmittalReview) -> Vec<String> {
    let each = submittal.gates.iter().flat_map(|gate| gate.notes.iter().map(move |note| (gate, note)));
    each.map(|(gate, (rule, text))| format!("{rule}, gate {}: {}", gate.mark, text::sentence(text))).collect()
}

fn deviations(submittal: &SubmittalReview) -> Vec<String> {
    let say = |deviation: &crate::review::Deviation| {
        let at = line(submittal, deviation.span);
        let state = words::deviation_state(deviation.state);
        let claim = text::sentence(&words::claim(deviation));
        let rule = if deviation.rule.is_empty() { "no rule named" } else { &deviation.rule };
        format!("{rule}{}, line {at}: {state}. {claim}.", for_gate(deviation.gate.as_ref()))
    };
    submittal.deviations.iter().map(say).collect()
}
