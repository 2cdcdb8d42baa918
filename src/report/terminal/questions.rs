//! What the submittal does not show, one question a missing fact.
//!
//! Sixty rules that wait for one length are one thing to answer, so people see the question and not the findings.

use super::page::Page;
use crate::report::{FINDINGS_A_DOCUMENT, tally, text};
use crate::review::{Question, Run, SubmittalReview};

/// Rules named at one question; the rest is counted.
const RULES_NAMED: usize = 6;

/// Writes the questions of a submittal; nothing where there are none.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    if submittal.questions.is_empty() {
        return;
    }
    page.gap();
    page.heading(&format!("Not shown in this submittal ({})", submittal.questions.len()));
    for (index, question) in submittal.questions.iter().take(FINDINGS_A_DOCUMENT).enumerate() {
        let mark = format!("{}.", index + 1);
        page.item(&mark, &fact(submittal, question));
        page.paragraph(mark.len() + 3, &waiting(run, question));
    }
    let more = submittal.questions.len().saturating_sub(FINDINGS_A_DOCUMENT);
    if more > 0 {
        page.paragraph(2, &format!("... {more} more"));
    }
}

/// `Gate G1: counterbalance length (gate.leaf.counterbalance), at line 9, where "TBD" stands`.
fn fact(submittal: &SubmittalReview, question: &Question) -> String {
    let line = submittal.file.position(submittal.file.clamp(question.span).start).line;
    let gate = question.gate.as_ref().map(|gate| format!("Gate {gate}: ")).unwrap_or_default();
    let name = match question.label.trim() {
        "" => question.field.clone(),
        label => format!("{label} ({})", question.field),
    };
    let word = question.word.as_ref().map(|word| format!(", where \"{word}\" stands")).unwrap_or_default();
    format!("{gate}{name}, at line {line}{word}")
}

/// `Waiting: 1 hazard, 2 requirements (leaf/short-tail, ...)`.
fn waiting(run: &Run, question: &Question) -> String {
    let weights = question.rules.iter().map(|name| run.rules.get(name).map_or(question.weight, |rule| rule.weight));
    let weights = tally::weights_in_words(weights);
    let named: Vec<&str> = question.rules.iter().take(RULES_NAMED).map(String::as_str).collect();
    let more = match question.rules.len().saturating_sub(RULES_NAMED) {
        0 => String::new(),
        more => format!(" and {}", text::count(more, "other", "others")),
    };
    match named.is_empty() {
        true => format!("Weight: {}", question.weight.word()),
        false => format!("Waiting: {weights} ({}{more})", named.join(", ")),
    }
}
