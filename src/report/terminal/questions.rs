//! What the submittal does not show, one question a missing fact.
//!
//! Sixty rules that wait for one length are one thing to answer, so people see the question and not the findings.

use super::page::Page;
use crate::report::{FINDINGS_A_DOCUMENT, text, words};
use crate::review::{Question, Run, SubmittalReview};

/// Writes the questions of a submittal; nothing where there are none. What is written and cannot be read has a finding.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    let missing = || submittal.questions.iter().filter(|question| !question.unreadable);
    let facts = missing().count();
    if facts == 0 {
        return;
    }
    page.gap();
    page.heading(&format!("Not shown in this submittal ({})", text::count(facts, "fact", "facts")));
    for (index, question) in missing().take(FINDINGS_A_DOCUMENT).enumerate() {
        let mark = format!("{}.", index + 1);
        page.item(&mark, &fact(submittal, question));
        page.paragraph(
            mark.len() + 3,
            &format!("Waiting: {}", words::waiting(&question.rules, run.rules_of(submittal))),
        );
    }
    let more = facts.saturating_sub(FINDINGS_A_DOCUMENT);
    if more > 0 {
        page.paragraph(2, &format!("... {more} more"));
    }
}

/// `Gate G1: counterbalance length (gate.leaf.counterbalance), at line 9, where "TBD" stands`.
fn fact(submittal: &SubmittalReview, question: &Question) -> String {
    let line = submittal.file.position(submittal.file.clamp(question.span).start).line;
    let word = question.word.as_ref().map(|word| format!(", where \"{word}\" stands")).unwrap_or_default();
    format!("{}, at line {line}{word}", words::asked_for(question))
}
