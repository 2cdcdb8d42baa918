//! The review of one document of a file.

use std::sync::Arc;

use super::action::action;
use super::deviation::deviations;
use super::finding::{Finding, GateReview, Outcome, Outcomes, Stage, SubmittalReview};
use super::judge::{Judged, judge};
use super::key::set_keys;
use super::question::{questions, tell_waiting};
use super::reading::{finding_of, idle_placeholders};
use super::site::Site;
use crate::document::{DocumentRoot, Tree};
use crate::problem::{Gravity, Problem};
use crate::rule::RuleSet;
use crate::source::Span;
use crate::submittal::{Mode, Read, check, is_of_open_format, read};

/// What the run asks for, whatever a submittal says.
#[derive(Debug, Clone, Default)]
pub struct Terms {
    /// The stage, over what the submittal says.
    pub stage: Option<Stage>,
    /// Rules that the project file switches off, by index.
    pub off: Vec<usize>,
}

/// Reviews one document; `problems` are those of its YAML.
pub fn review_document(
    rules: &RuleSet,
    terms: &Terms,
    tree: &Tree,
    number: usize,
    document: &DocumentRoot,
    problems: Vec<Problem>,
) -> SubmittalReview {
    let file = Arc::clone(tree.source());
    let vocabulary = &rules.vocabulary;
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let mut review = SubmittalReview::new(file, count(number + 1), count(tree.documents().len()));
    let mut problems = problems;
    let mut read_in = match document.root {
        Some(root) => read(tree, root, vocabulary, 0, Mode::Whole),
        None => Read::default(),
    };
    problems.append(&mut read_in.problems);
    let broken =
        |problems: &[Problem]| document.broken || problems.iter().any(|problem| problem.gravity == Gravity::Unreadable);
    // What a document that is cut off does not hold, nobody knows.
    if !read_in.records.is_empty() && !broken(&problems) {
        problems.extend(check(tree, vocabulary, &read_in));
    }
    let unreadable = broken(&problems);
    let readable = !(unreadable || read_in.records.is_empty());
    review.readable = readable && !is_of_open_format(tree, vocabulary, &read_in);
    if read_in.records.is_empty() {
        review.findings = problems.into_iter().map(|problem| finding_of(problem, None)).collect();
        set_keys(tree, document.root, &[], &mut review.findings);
        review.action = action(stage_of(terms, None), false, &[], &[], &[]);
        return review;
    }
    let site = Site { vocabulary, tree, records: &read_in.records };
    describe(&mut review, site);
    let stage = stage_of(terms, site.text_at(0, "submittal.stage").as_deref().and_then(Stage::from_word));
    review.stage = stage;
    let mut judged = if review.readable {
        judge(rules, tree, &read_in, stage, &|index| !terms.off.contains(&index))
    } else {
        Judged::default()
    };
    let asked: Vec<_> = judged.waits.iter().flat_map(|wait| wait.waiting.missing.iter().copied()).collect();
    if review.readable {
        let (list, of_deviations) = deviations(site, rules, &mut judged);
        review.deviations = list;
        problems.extend(of_deviations);
        problems.extend(idle_placeholders(site, &asked));
    }
    let gates = GatesByPlace::of(site);
    let mut reading: Vec<Finding> = problems
        .into_iter()
        .map(|problem| (gates.at(problem.span.start), problem))
        .map(|(gate, problem)| finding_of(problem, gate))
        .collect();
    let asked = questions(site, &judged);
    tell_waiting(&mut reading, &asked);
    review.questions = asked.into_iter().map(|asked| asked.question).collect();
    review.outcomes = named(rules, &judged.outcomes);
    review.switched_off = judged.switched_off;
    review.findings = judged.findings;
    review.findings.extend(reading);
    sort(&mut review.findings);
    set_keys(tree, document.root, &gates.marks, &mut review.findings);
    review.gates = judged
        .gates
        .into_iter()
        .map(|gate| GateReview {
            mark: gate.mark,
            reviewed: gate.reviewed,
            type_shown: gate.type_shown,
            outcomes: named(rules, &gate.outcomes),
            met_by_assumption: gate.met_by_assumption,
            notes: gate.notes,
        })
        .collect();
    let reviewed: Vec<bool> = review.gates.iter().map(|gate| gate.reviewed).collect();
    review.action = action(stage, review.readable, &reviewed, &review.findings, &review.deviations);
    review
}

/// The gates of a submittal, to be found by what stands in them.
struct GatesByPlace {
    /// Their marks.
    marks: Vec<String>,
    /// Where each stands, with its index, in the order of the text.
    spans: Vec<(Span, usize)>,
}

impl GatesByPlace {
    fn of(site: Site<'_>) -> GatesByPlace {
        let gates = site.gates();
        let span = |gate| site.tree.span(site.tree.resolve(site.records.record(gate).node));
        let mut spans: Vec<(Span, usize)> = gates.iter().map(|gate| span(*gate)).zip(0..).collect();
        // A gate that is written once and used twice stands where it is written; the first of the two is named.
        spans.sort_unstable();
        spans.dedup_by_key(|(span, _)| *span);
        let marks = gates.iter().enumerate().map(|(index, gate)| site.mark(*gate, index + 1)).collect();
        GatesByPlace { marks, spans }
    }

    /// The gate that an offset lies in, with its mark.
    fn at(&self, offset: u32) -> Option<(usize, String)> {
        let before = self.spans.partition_point(|(span, _)| span.start <= offset).checked_sub(1)?;
        let (span, index) = self.spans[before];
        (offset < span.end).then(|| (index, self.marks[index].clone()))
    }
}

fn describe(review: &mut SubmittalReview, site: Site<'_>) {
    review.project = site.text_at(0, "project.name");
    review.jurisdiction = site.text_at(0, "project.jurisdiction");
    review.number = site.text_at(0, "submittal.number");
    review.revision = site.text_at(0, "submittal.revision");
}

fn stage_of(terms: &Terms, declared: Option<Stage>) -> Stage {
    terms.stage.or(declared).unwrap_or(Stage::Submittal)
}

/// The outcomes of the rules by name.
fn named(rules: &RuleSet, outcomes: &[Option<Outcome>]) -> Outcomes {
    let mut named = Outcomes::default();
    for (index, name) in rules.by_name() {
        let list = match outcomes.get(*index).copied().flatten() {
            Some(Outcome::Met) => &mut named.met,
            Some(Outcome::NotMet) => &mut named.not_met,
            Some(Outcome::NotShown) => &mut named.not_shown,
            Some(Outcome::DoesNotApply) => &mut named.does_not_apply,
            None => continue,
        };
        list.push(Arc::clone(name));
    }
    named
}

/// Report order: the submittal's own findings, then gate by gate; by place, weight, rule, element. Duplicates once.
fn sort(findings: &mut Vec<Finding>) {
    // Findings are large: their order is sorted, and each is moved once.
    let mut order: Vec<usize> = (0..findings.len()).collect();
    order.sort_by(|a, b| {
        let key = |at: usize| {
            let of = &findings[at];
            let Span { start, end } = of.primary.span;
            (of.gate_index, start, std::cmp::Reverse(of.weight), &of.rule, &of.element, end)
        };
        key(*a).cmp(&key(*b))
    });
    let mut unsorted: Vec<Option<Finding>> = findings.drain(..).map(Some).collect();
    findings.extend(order.into_iter().filter_map(|at| unsorted[at].take()));
    findings.dedup();
}
