//! A run as version 1 of the JSON report.
//!
//! Nothing is left out and nothing folded: every finding of every document, the rules' texts once each.

use std::collections::BTreeMap;

use super::json_v1 as v1;
use super::text::acts_or_hides;
use crate::review::{
    Action, Deviation, DeviationState, Finding, GateReview, Outcome, Outcomes, ProjectRules, Question, Reweighed,
    RuleFacts, Run, SubmittalReview, SwitchedOff,
};
use crate::source::{SourceFile, Span};

/// The report as JSON text.
pub(super) fn write(run: &Run) -> String {
    pretty(&report(run))
}

/// A value as JSON text with a line break at its end. Characters that act on a terminal or hide stand as JSON escapes, so
/// that the text can be looked at and still reads back unchanged.
pub(super) fn pretty(value: &impl serde::Serialize) -> String {
    // Structs of texts and numbers always serialize.
    let text = serde_json::to_string_pretty(value).unwrap_or_else(|error| error.to_string());
    let mut text = if text.chars().any(needs_escape) { escape(&text) } else { text };
    text.push('\n');
    text
}

/// Line breaks between the values are the only control characters that serde_json leaves.
fn needs_escape(c: char) -> bool {
    c != '\n' && acts_or_hides(c)
}

fn escape(json: &str) -> String {
    let mut out = String::with_capacity(json.len() + 64);
    let mut units = [0; 2];
    for c in json.chars() {
        if needs_escape(c) {
            c.encode_utf16(&mut units).iter().for_each(|unit| out.push_str(&format!("\\u{unit:04x}")));
        } else {
            out.push(c);
        }
    }
    out
}

fn report(run: &Run) -> v1::Report<'_> {
    let all = || run.submittals.iter();
    v1::Report {
        version: v1::VERSION,
        tool: v1::Tool {
            name: env!("CARGO_PKG_NAME"),
            version: env!("CARGO_PKG_VERSION"),
            packs: run.packs.iter().map(|(name, title)| v1::Pack { name, title }).collect(),
        },
        submittals: all().map(|of| submittal(run, of)).collect(),
        findings: all().flat_map(|of| of.findings.iter().map(|it| finding(of, it))).collect(),
        questions: all().flat_map(|of| of.questions.iter().map(|it| question(of, it))).collect(),
        rules: rules(run).into_iter().map(|(name, facts)| (name, rule(facts))).collect(),
        not_reviewed: run
            .not_reviewed
            .iter()
            .map(|it| v1::NotReviewed {
                path: &it.path,
                document: it.document,
                reason: &it.reason,
                failure: it.failure,
            })
            .collect(),
        deviations: all().flat_map(|of| of.deviations.iter().map(|it| deviation(of, it))).collect(),
        switched_off: all().flat_map(|of| of.switched_off.iter().map(|it| switched_off(of, it))).collect(),
        off: under_each(run, |project| {
            let off = project.off.iter();
            off.map(|(rule, reason)| v1::Off { rule, reason, project_file: project.path.as_deref() }).collect()
        }),
        reweighed: under_each(run, |project| {
            let (reweighed, project_file) = (project.reweighed.iter(), project.path.as_deref());
            reweighed
                .map(|Reweighed { rule, from, to, reason }| v1::Reweighed {
                    rule,
                    from: from.word(),
                    to: to.word(),
                    reason,
                    project_file,
                })
                .collect()
        }),
        replaced: under_each(run, |project| {
            let replaced = project.replaced().into_iter();
            let project_file = project.path.as_deref();
            replaced.map(|(rule, by)| v1::Replaced { rule, by: &by.name, project_file }).collect()
        }),
        project_rules: project_rules(run),
    }
}

/// What is said of the rules under each project file, one after the other.
fn under_each<'r, T>(run: &'r Run, of: impl Fn(&'r ProjectRules) -> Vec<T>) -> Vec<T> {
    run.projects.iter().flat_map(|project| of(project)).collect()
}

/// The rules that a finding or a question names; of those that read otherwise under several project files, the first.
fn rules(run: &Run) -> BTreeMap<&str, &RuleFacts> {
    let mut rules = BTreeMap::new();
    for submittal in &run.submittals {
        for (name, facts) in rules_named(run, submittal) {
            rules.entry(name).or_insert(facts);
        }
    }
    rules
}

fn rules_named<'r>(run: &'r Run, of: &'r SubmittalReview) -> impl Iterator<Item = (&'r str, &'r RuleFacts)> {
    let found = of.findings.iter().map(|finding| &finding.rule);
    let asked = of.questions.iter().flat_map(|question| &question.rules);
    let named = found.chain(asked).filter_map(|name| run.rules_of(of).get_key_value(name));
    named.map(|(name, facts)| (name.as_str(), facts))
}

/// For each project file the rules that read otherwise under it than in [`rules`].
fn project_rules(run: &Run) -> Vec<v1::ProjectRules<'_>> {
    let first = rules(run);
    let mut all = Vec::new();
    for (index, project) in run.projects.iter().enumerate() {
        let under = run.submittals.iter().filter(|of| of.under == index);
        let otherwise: BTreeMap<&str, v1::Rule<'_>> = under
            .flat_map(|of| rules_named(run, of))
            .filter(|(name, facts)| first.get(name).is_some_and(|known| known != facts))
            .map(|(name, facts)| (name, rule(facts)))
            .collect();
        if !otherwise.is_empty() {
            all.push(v1::ProjectRules { project_file: project.path.as_deref(), rules: otherwise });
        }
    }
    all
}

fn rule(facts: &RuleFacts) -> v1::Rule<'_> {
    v1::Rule {
        title: &facts.title,
        weight: facts.weight.word(),
        why: &facts.why,
        remedy: &facts.remedy,
        local_code: &facts.local_code,
        source: v1::Source {
            standard: &facts.standard,
            clause: &facts.clause,
            edition: &facts.edition,
            authority: &facts.authority,
        },
        replaces: facts.replaces.as_deref(),
    }
}

fn submittal<'r>(run: &'r Run, of: &'r SubmittalReview) -> v1::Submittal<'r> {
    v1::Submittal {
        path: of.file.name(),
        document: of.document,
        documents: of.documents,
        project_file: run.projects.get(of.under).and_then(|project| project.path.as_deref()),
        project: of.project.as_deref(),
        jurisdiction: of.jurisdiction.as_deref(),
        number: of.number.as_deref(),
        revision: of.revision.as_deref(),
        stage: of.stage.word(),
        action: of.action.map(Action::words),
        readable: of.readable,
        gates: of.gates.iter().map(gate).collect(),
        submittal_rules: outcomes(&of.outcomes),
    }
}

fn gate(review: &GateReview) -> v1::Gate<'_> {
    v1::Gate {
        mark: &review.mark,
        reviewed: review.reviewed,
        type_shown: review.type_shown,
        outcomes: outcomes(&review.outcomes),
        met_by_assumption: review
            .met_by_assumption
            .iter()
            .map(|(rule, field, value)| v1::MetByAssumption { rule, field, value })
            .collect(),
        notes: review.notes.iter().map(|(rule, text)| v1::Note { rule, text }).collect(),
    }
}

fn outcomes(of: &Outcomes) -> v1::Outcomes<'_> {
    v1::Outcomes { met: &of.met, not_met: &of.not_met, not_shown: &of.not_shown, does_not_apply: &of.does_not_apply }
}

fn finding<'r>(of: &'r SubmittalReview, it: &'r Finding) -> v1::Finding<'r> {
    let labels = std::iter::once(&it.primary).chain(&it.labels);
    v1::Finding {
        rule: &it.rule,
        weight: it.weight.word(),
        outcome: match it.outcome {
            Outcome::NotShown => "not_shown",
            Outcome::NotMet => "not_met",
            Outcome::Met => "met",
            Outcome::DoesNotApply => "does_not_apply",
        },
        gate: it.gate.as_deref(),
        gate_number: it.gate_index.map(number),
        element: it.element.as_deref(),
        element_name: it.called.as_deref(),
        path: of.file.name(),
        document: of.document,
        field: it.field.as_deref(),
        place: place(&of.file, it.primary.span),
        message: &it.message,
        labels: labels.map(|label| v1::Label { place: place(&of.file, label.span), text: &label.text }).collect(),
        help: it.help.as_deref(),
        missing: &it.missing,
        waiting: &it.waiting,
        assumed: it.assumed.iter().map(|(field, value)| v1::Assumed { field, value }).collect(),
        because: it.because.iter().map(|(expression, value)| v1::Because { expression, value }).collect(),
        notes: it.notes.iter().cloned().chain(it.workings.iter().map(|line| format!("Working: {line}"))).collect(),
        deviation: it.deviation.and_then(|index| of.deviations.get(index)).map(|found| deviation(of, found)),
        key: &it.key,
    }
}

fn question<'r>(of: &'r SubmittalReview, it: &'r Question) -> v1::Question<'r> {
    v1::Question {
        field: &it.field,
        label: &it.label,
        gate: it.gate.as_deref(),
        gate_number: it.gate_index.map(number),
        path: of.file.name(),
        document: of.document,
        place: place(&of.file, it.span),
        word: it.word.as_deref(),
        unreadable: it.unreadable,
        weight: it.weight.word(),
        rules: &it.rules,
    }
}

fn deviation<'r>(of: &'r SubmittalReview, it: &'r Deviation) -> v1::Deviation<'r> {
    v1::Deviation {
        rule: &it.rule,
        gate: it.gate.as_deref(),
        reason: it.reason.as_deref(),
        approval: it.approval.as_deref(),
        state: match it.state {
            DeviationState::Answers => "answers",
            DeviationState::Waiting => "waiting",
            DeviationState::Unmatched => "unmatched",
            DeviationState::Incomplete => "incomplete",
        },
        path: of.file.name(),
        document: of.document,
        place: place(&of.file, it.span),
    }
}

fn switched_off<'r>(of: &'r SubmittalReview, it: &'r SwitchedOff) -> v1::SwitchedOff<'r> {
    v1::SwitchedOff {
        rule: &it.rule,
        gate: it.gate.as_deref(),
        gate_number: it.gate_index.map(number),
        field: &it.field,
        path: of.file.name(),
        document: of.document,
        place: place(&of.file, it.span),
    }
}

/// The number of a gate in the list of the submittal, from 1.
fn number(index: usize) -> usize {
    index + 1
}

fn place(file: &SourceFile, span: Span) -> v1::Place {
    let span = file.clamp(span);
    let (start, end) = (file.position(span.start), file.position(span.end));
    v1::Place { line: start.line, column: start.column, end_line: end.line, end_column: end.column }
}
