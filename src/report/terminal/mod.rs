//! The report for people at a terminal, and the only user of miette.
//!
//! Submittal by submittal: what it is, each finding with the lines it stands at, what is not shown, the summary. The
//! report ends with what no review can say.

mod cut;
mod drawing;
mod excerpt;
mod finding;
mod page;
mod questions;
mod summary;

use std::sync::Arc;

use drawing::{Drawn, draw};
use page::Page;

use super::totals::Totals;
use super::{FINDINGS_A_DOCUMENT, Options, text, words};
use crate::problem::{Gravity, Problem};
use crate::review::{Action, Label, Outcome, ProjectRules, Run, SubmittalReview, Weight};
use crate::source::{SourceFile, Span};

/// The whole report of a run.
pub(super) fn write(run: &Run, options: &Options) -> String {
    submittals(run, options) + &ending(&Totals::of(run), options)
}

/// The submittals of a run, or of a part of it, one after the other.
pub(super) fn submittals(run: &Run, options: &Options) -> String {
    let mut page = Page::new(options);
    for submittal in &run.submittals {
        heading(&mut page, run, submittal);
        findings(&mut page, run, submittal);
        questions::write(&mut page, run, submittal);
        summary::write(&mut page, run, submittal);
        page.gap();
    }
    page.finish()
}

/// What the report ends with.
pub(super) fn ending(totals: &Totals, options: &Options) -> String {
    let mut page = Page::new(options);
    if totals.submittals() == 0 {
        page.heading("Nothing was reviewed.");
        page.gap();
    }
    page.across();
    whole(&mut page, totals);
    page.gap();
    page.heading("What this report does not say");
    words::safety(totals).iter().for_each(|sentence| page.item("-", sentence));
    page.finish()
}

/// The problems of packs and project files, each at its place.
pub(super) fn problems(problems: &[(Arc<SourceFile>, Problem)], options: &Options) -> String {
    let mut page = Page::new(options);
    for (file, problem) in problems.iter().take(FINDINGS_A_DOCUMENT) {
        let (word, weight) = match problem.gravity {
            Gravity::Advice => ("ADVICE", Weight::Advice),
            Gravity::Fault | Gravity::Unreadable => ("PROBLEM", Weight::Hazard),
        };
        let label = |(span, text): &(Span, String)| Label { span: *span, text: text.clone() };
        let labels: Vec<Label> = problem.labels.iter().map(label).collect();
        draw(
            &mut page,
            &Drawn {
                head: &format!("{word} {}", problem.code),
                message: &problem.message,
                weight,
                file,
                primary: &Label { span: problem.span, text: String::new() },
                labels: &labels,
            },
        );
        page.entry("Do", problem.help.as_deref().unwrap_or_default());
    }
    more(&mut page, problems.len());
    page.finish()
}

/// Says how many were not printed.
fn more(page: &mut Page, all: usize) {
    let more = all.saturating_sub(FINDINGS_A_DOCUMENT);
    if more > 0 {
        page.gap();
        page.paragraph(2, &format!("... {more} more"));
    }
}

fn heading(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    page.across();
    let document = match submittal.documents {
        0 | 1 => String::new(),
        all => format!(", document {} of {all}", submittal.document),
    };
    page.heading(&format!("{}{document}", submittal.file.name()));
    let or_not_shown = |text: &Option<String>, what: &str| text.clone().unwrap_or(format!("{what} not shown"));
    page.entry("Project", &or_not_shown(&submittal.project, "name"));
    let number = or_not_shown(&submittal.number, "number");
    page.entry("Submittal", &format!("{number}, revision {}", or_not_shown(&submittal.revision, "")));
    page.entry("Stage", submittal.stage.word());
    if let Some(path) = run.projects.get(submittal.under).and_then(|project| project.path.as_ref()) {
        page.entry("Rules", &format!("under the project file {path}"));
    }
    page.entry("Authority", &or_not_shown(&submittal.jurisdiction, "jurisdiction"));
    page.across();
}

/// The findings one by one, but for what is not shown: that is asked as questions.
fn findings(page: &mut Page, run: &Run, submittal: &SubmittalReview) {
    let shown = || submittal.findings.iter().filter(|finding| finding.outcome != Outcome::NotShown);
    for finding in shown().take(FINDINGS_A_DOCUMENT) {
        finding::write(page, run, submittal, finding);
    }
    more(page, shown().count());
}

/// What concerns the run and no submittal of its own.
fn whole(page: &mut Page, totals: &Totals) {
    if totals.submittals() > 1 {
        let counts = Totals::ACTIONS.iter().zip(totals.actions).filter(|(_, n)| *n > 0).map(|(action, n)| {
            let words = action.map_or("no action suggested (stage bid)", Action::words);
            format!("{n}: {words}")
        });
        let title = format!("In all {}", text::count(totals.submittals(), "submittal", "submittals"));
        summary::section(page, &title, counts.collect());
    }
    let left_out = totals.not_reviewed.iter().map(|left| {
        let document = left.document.map(|n| format!(", document {n}")).unwrap_or_default();
        format!("{}{document}: {}", left.path, left.reason)
    });
    summary::section(page, "Left out of the review", left_out.collect());
    totals.projects.iter().for_each(|project| changed(page, project));
}

/// What a project file, or a pack named beside it, changes in the rules for the submittals under it.
fn changed(page: &mut Page, project: &ProjectRules) {
    let under = project.path.as_ref().map(|path| format!(", under {path}")).unwrap_or_default();
    let title = |what: &str| format!("{what}{under}");
    let replaced = project.replaced();
    let replaced = replaced.iter().map(|(rule, by)| format!("{rule}: replaced by {} ({})", by.name, words::source(by)));
    summary::section(page, &title("Rules that packs of your own replace"), replaced.collect());
    let off = project.off.iter().map(|(rule, reason)| format!("{rule}: {reason}"));
    summary::section(page, &title("Rules that are switched off"), off.collect());
    let reweighed = project.reweighed.iter();
    let reweighed =
        reweighed.map(|it| format!("{}: {} instead of {}: {}", it.rule, it.to.word(), it.from.word(), it.reason));
    summary::section(page, &title("Rules that are weighed anew"), reweighed.collect());
}
