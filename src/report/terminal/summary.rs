//! The end of one submittal: the suggested action, the counts, and everything that a count hides.

use super::page::Page;
use crate::report::tally::{self, Tally, WEIGHTS, weights_in_words};
use crate::report::{text, words};
use crate::review::{Action, Finding, Outcome, Run, SubmittalReview};
use crate::source::Span;

/// Columns that the names of gates and weights get at least.
const NAMES: usize = 16;

/// Writes the summary of a submittal.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    page.gap();
    page.heading("Summary");
    page.entry("Action", &action(submittal));
    page.entries("Findings", &findings(submittal));
    counts(page, run, submittal);
    section(page, "Could not be checked", words::not_checked(submittal));
    section(page, "Hazard rules switched off by n/a: confirm that it is so", switched_off(submittal));
    section(page, "Met only on an assumption", assumptions(submittal));
    section(page, "Notes on rules that are met", notes(submittal));
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

/// One line for what is not met, one for what is not shown, one for the structure of the text.
fn findings(submittal: &SubmittalReview) -> Vec<String> {
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
    if out.is_empty() {
        out.push("None.".to_owned());
    }
    out
}

/// Rules by weight, then by gate.
fn counts(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    let weights = tally::by_weight(submittal, &run.rules);
    if weights.iter().all(|tally| tally.is_empty()) {
        page.entry("Rules", "No rule ran on this document.");
        return;
    }
    let widest = submittal.gates.iter().map(|gate| text::columns(&gate.mark) + 5).max().unwrap_or(0);
    let label = widest.clamp(NAMES, page.options().width.saturating_sub(Page::ROW).max(NAMES));
    page.gap();
    page.row("Rules", &Tally::HEADINGS.map(str::to_owned), label);
    for (weight, tally) in WEIGHTS.iter().zip(weights) {
        page.row(weight.word(), &numbers(tally), label);
    }
    page.gap();
    for gate in &submittal.gates {
        let name = format!("gate {}", gate.mark);
        let tally = Tally::of(&gate.outcomes);
        if gate.reviewed {
            page.row(&name, &numbers(tally), label);
        } else {
            page.paragraph(2, &format!("{name}: not reviewed, its type has no rules here"));
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

fn assumptions(submittal: &SubmittalReview) -> Vec<String> {
    let each = submittal.gates.iter().flat_map(|gate| gate.met_by_assumption.iter().map(move |met| (gate, met)));
    each.map(|(gate, (rule, field, value))| format!("{rule}, gate {}: {field} taken as {value}", gate.mark)).collect()
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
        format!("{}{}, line {at}: {state}. {claim}.", deviation.rule, for_gate(deviation.gate.as_ref()))
    };
    submittal.deviations.iter().map(say).collect()
}
