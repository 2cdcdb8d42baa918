//! One line a finding, complete in itself: `path:line:column: weight: gate G1: message [pack/rule]`.
//!
//! For editors that jump to `path:line:column`, for `grep` and for logs. What is not shown is printed as such, finding
//! by finding, so that nothing has to be looked up elsewhere.

use std::fmt::Write as _;

use super::text::visible;
use super::{FINDINGS_A_DOCUMENT, words};
use crate::review::{Finding, Outcome, Run, SubmittalReview};

/// Every finding of the run, in the order given.
pub(super) fn write(run: &Run) -> String {
    let mut out = String::new();
    for submittal in &run.submittals {
        for finding in printed(&submittal.findings) {
            out.push_str(&line(run, submittal, finding));
            out.push('\n');
        }
        let more = submittal.findings.len().saturating_sub(FINDINGS_A_DOCUMENT);
        if more > 0 {
            let document = match submittal.documents {
                0 | 1 => String::new(),
                _ => format!(" document {}:", submittal.document),
            };
            // Writing to a string does not fail.
            let _ = writeln!(out, "{}:{document} ... {more} more", visible(submittal.file.name()));
        }
    }
    out
}

/// The findings that are printed, in their order. Where there are too many, what is written and wrong goes before what is
/// not shown, and a heavier weight before a lighter one.
fn printed(findings: &[Finding]) -> Vec<&Finding> {
    if findings.len() <= FINDINGS_A_DOCUMENT {
        return findings.iter().collect();
    }
    let mut ranked: Vec<usize> = (0..findings.len()).collect();
    ranked.sort_by_key(|at| (findings[*at].outcome == Outcome::NotShown, std::cmp::Reverse(findings[*at].weight)));
    ranked.truncate(FINDINGS_A_DOCUMENT);
    ranked.sort_unstable();
    ranked.into_iter().map(|at| &findings[at]).collect()
}

fn line(run: &Run, submittal: &SubmittalReview, finding: &Finding) -> String {
    let at = submittal.file.position(submittal.file.clamp(finding.primary.span).start);
    let outcome = match finding.outcome {
        Outcome::NotShown => ", not shown",
        _ => "",
    };
    let subject = words::subject(finding).map(|subject| format!("{subject}: ")).unwrap_or_default();
    let answered = finding.deviation.and_then(|index| submittal.deviations.get(index)).map(|deviation| {
        let line = submittal.file.position(submittal.file.clamp(deviation.span).start).line;
        format!(" (the submittal claims an approved deviation, line {line})")
    });
    let waiting = match finding.waiting.as_slice() {
        [] => String::new(),
        rules => format!("; waiting for it: {}", words::waiting_in_short(rules, run.rules_of(submittal))),
    };
    let whole = format!(
        "{}:{}:{}: {}{outcome}: {subject}{}{waiting}{} [{}]",
        submittal.file.name(),
        at.line,
        at.column,
        finding.weight.word(),
        finding.message,
        answered.unwrap_or_default(),
        finding.rule,
    );
    visible(&whole).into_owned()
}
