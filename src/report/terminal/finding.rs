//! One finding as people read it: what is wrong, the lines it stands at, then what to do and why.

use super::drawing::{Drawn, draw};
use super::page::Page;
use crate::report::words;
use crate::review::{Finding, Run, SubmittalReview};

/// Writes one finding.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview, finding: &Finding) {
    draw(
        page,
        &Drawn {
            head: &head(submittal, finding),
            message: &finding.message,
            weight: finding.weight,
            file: &submittal.file,
            primary: &finding.primary,
            labels: &finding.labels,
        },
    );
    explain(page, run, submittal, finding);
}

/// `HAZARD guarding/open-leaf, gate G1, entry 2, line 48`: the lines below may begin with another that took part.
fn head(submittal: &SubmittalReview, finding: &Finding) -> String {
    let subject = words::subject(finding).map(|subject| format!(", {subject}")).unwrap_or_default();
    let line = submittal.file.position(submittal.file.clamp(finding.primary.span).start).line;
    format!("{} {}{subject}, line {line}", finding.weight.word().to_uppercase(), finding.rule)
}

fn explain(page: &mut Page, run: &Run, submittal: &SubmittalReview, finding: &Finding) {
    if let Some(help) = &finding.help {
        page.entry("Do", help);
    }
    if let Some(rule) = run.rules_of(submittal).get(&finding.rule) {
        page.entry("Do", &rule.remedy);
        page.entry("Why", &rule.why);
        page.entry("Source", &words::source(rule));
        let named = submittal.jurisdiction.as_ref().filter(|_| !rule.local_code.trim().is_empty());
        let named = named.map(|name| format!(" The submittal names {name}.")).unwrap_or_default();
        page.entry("Local code", &format!("{}{named}", rule.local_code));
        if let Some(replaced) = &rule.replaces {
            page.entry("Replaces", replaced);
        }
    }
    if !finding.waiting.is_empty() {
        page.entry("Waiting", &words::waiting(&finding.waiting, run.rules_of(submittal)));
    }
    let pair = |(name, value): &(String, String)| format!("{name}: {value}");
    page.entries("Assumed", &finding.assumed.iter().map(pair).collect::<Vec<_>>());
    let because = finding.because.iter().map(pair);
    page.entries("Working", &because.chain(finding.workings.iter().cloned()).collect::<Vec<_>>());
    page.entries("Note", &finding.notes);
    if let Some(deviation) = finding.deviation.and_then(|index| submittal.deviations.get(index)) {
        let line = submittal.file.position(submittal.file.clamp(deviation.span).start).line;
        let claim = words::claim(deviation);
        page.entry("Deviation", &format!("Line {line}: {claim}. This is its claim."));
    }
}
