//! Version 1 of the JSON report, as frozen structs of its own.
//!
//! Programs read this shape, so it never follows the review's own types by accident: a change here is a change of
//! `schema/report.schema.json` and, if a reader could notice, of the version. Every key is always there; what is not
//! known is `null`.
//!
//! Lines, columns and list elements count from 1. Columns count characters (Unicode scalar values). An end is the
//! place just after the last character.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

/// The version of this shape.
pub(super) const VERSION: u32 = 1;

#[derive(Debug, Serialize)]
pub(super) struct Report<'r> {
    pub version: u32,
    pub tool: Tool<'r>,
    pub submittals: Vec<Submittal<'r>>,
    pub findings: Vec<Finding<'r>>,
    pub questions: Vec<Question<'r>>,
    /// Facts of the rules that a finding or a question names.
    pub rules: BTreeMap<&'r str, Rule<'r>>,
    pub not_reviewed: Vec<NotReviewed<'r>>,
    pub deviations: Vec<Deviation<'r>>,
    pub switched_off: Vec<SwitchedOff<'r>>,
    /// Rules that the project file switches off.
    pub off: Vec<Off<'r>>,
    /// Rules that the project file weighs anew.
    pub reweighed: Vec<Reweighed<'r>>,
    /// Rules that packs of one's own replace.
    pub replaced: Vec<Replaced<'r>>,
    /// Rules that read otherwise under a project file than in `rules`.
    pub project_rules: Vec<ProjectRules<'r>>,
}

/// The rules of one project file that another of the run has otherwise.
#[derive(Debug, Serialize)]
pub(super) struct ProjectRules<'r> {
    pub project_file: Option<&'r str>,
    pub rules: BTreeMap<&'r str, Rule<'r>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Tool<'r> {
    pub name: &'static str,
    pub version: &'static str,
    /// The packs that were loaded.
    pub packs: Vec<Pack<'r>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Pack<'r> {
    pub name: &'r str,
    pub title: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct Submittal<'r> {
    pub path: &'r str,
    pub document: u32,
    pub documents: u32,
    /// The project file that it was reviewed under.
    pub project_file: Option<&'r str>,
    pub project: Option<&'r str>,
    pub jurisdiction: Option<&'r str>,
    pub number: Option<&'r str>,
    pub revision: Option<&'r str>,
    pub stage: &'static str,
    /// `None` at stage bid.
    pub action: Option<&'static str>,
    pub readable: bool,
    pub gates: Vec<Gate<'r>>,
    /// Outcomes of the rules about the submittal as a whole.
    pub submittal_rules: Outcomes<'r>,
}

#[derive(Debug, Serialize)]
pub(super) struct Outcomes<'r> {
    pub met: &'r [Arc<str>],
    pub not_met: &'r [Arc<str>],
    pub not_shown: &'r [Arc<str>],
    pub does_not_apply: &'r [Arc<str>],
}

#[derive(Debug, Serialize)]
pub(super) struct Gate<'r> {
    pub mark: &'r str,
    pub reviewed: bool,
    /// Whether its type is shown; it is reviewed as a cantilever slide gate where not.
    pub type_shown: bool,
    #[serde(flatten)]
    pub outcomes: Outcomes<'r>,
    pub met_by_assumption: Vec<MetByAssumption<'r>>,
    pub notes: Vec<Note<'r>>,
}

/// A note of a rule that is met.
#[derive(Debug, Serialize)]
pub(super) struct Note<'r> {
    pub rule: &'r str,
    pub text: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct MetByAssumption<'r> {
    pub rule: &'r str,
    pub field: &'r str,
    pub value: &'r str,
}

/// From the first character to just after the last one.
#[derive(Debug, Clone, Copy, Serialize)]
pub(super) struct Place {
    pub line: u32,
    pub column: u32,
    pub end_line: u32,
    pub end_column: u32,
}

#[derive(Debug, Serialize)]
pub(super) struct Finding<'r> {
    pub rule: &'r str,
    pub weight: &'static str,
    pub outcome: &'static str,
    pub gate: Option<&'r str>,
    /// Its number in the list of gates: several may have one mark.
    pub gate_number: Option<usize>,
    pub element: Option<&'r str>,
    /// What the submittal calls that element, where no other of the list is called so.
    pub element_name: Option<&'r str>,
    pub path: &'r str,
    pub document: u32,
    pub field: Option<&'r str>,
    #[serde(flatten)]
    pub place: Place,
    pub message: &'r str,
    /// Every place that took part; the first is the one the finding stands at.
    pub labels: Vec<Label<'r>>,
    /// What to do, for structural problems; rules carry a remedy.
    pub help: Option<&'r str>,
    pub missing: &'r [String],
    /// Rules that are undecided until the value at the place can be read.
    pub waiting: &'r [String],
    pub assumed: Vec<Assumed<'r>>,
    pub because: Vec<Because<'r>>,
    /// Those of the rule, then the figures that it rests on, each behind `Working: `.
    pub notes: Vec<String>,
    pub deviation: Option<Deviation<'r>>,
    /// `rule|gate|element|field`: the same from one revision of a submittal to the next, and of no other finding in it.
    pub key: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct Label<'r> {
    #[serde(flatten)]
    pub place: Place,
    pub text: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct Assumed<'r> {
    pub field: &'r str,
    pub value: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct Because<'r> {
    pub expression: &'r str,
    pub value: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct Question<'r> {
    pub field: &'r str,
    /// The words for the field.
    pub label: &'r str,
    pub gate: Option<&'r str>,
    pub gate_number: Option<usize>,
    pub path: &'r str,
    pub document: u32,
    #[serde(flatten)]
    pub place: Place,
    /// What stands in the place of the value, such as `TBD`.
    pub word: Option<&'r str>,
    /// Whether a value stands there that cannot be read; a finding says so.
    pub unreadable: bool,
    pub weight: &'static str,
    pub rules: &'r [String],
}

#[derive(Debug, Serialize)]
pub(super) struct Rule<'r> {
    pub title: &'r str,
    pub weight: &'static str,
    pub why: &'r str,
    pub remedy: &'r str,
    pub local_code: &'r str,
    pub source: Source<'r>,
    pub replaces: Option<&'r str>,
}

#[derive(Debug, Serialize)]
pub(super) struct Source<'r> {
    pub standard: &'r str,
    pub clause: &'r str,
    pub edition: &'r str,
    pub authority: &'r str,
}

#[derive(Debug, Serialize)]
pub(super) struct NotReviewed<'r> {
    pub path: &'r str,
    pub document: Option<u32>,
    pub reason: &'r str,
    pub failure: bool,
}

#[derive(Debug, Serialize)]
pub(super) struct Deviation<'r> {
    pub rule: &'r str,
    pub gate: Option<&'r str>,
    pub reason: Option<&'r str>,
    pub approval: Option<&'r str>,
    pub state: &'static str,
    pub path: &'r str,
    pub document: u32,
    #[serde(flatten)]
    pub place: Place,
}

#[derive(Debug, Serialize)]
pub(super) struct SwitchedOff<'r> {
    pub rule: &'r str,
    pub gate: Option<&'r str>,
    pub gate_number: Option<usize>,
    pub field: &'r str,
    pub path: &'r str,
    pub document: u32,
    #[serde(flatten)]
    pub place: Place,
}

#[derive(Debug, Serialize)]
pub(super) struct Off<'r> {
    pub rule: &'r str,
    pub reason: &'r str,
    pub project_file: Option<&'r str>,
}

#[derive(Debug, Serialize)]
pub(super) struct Reweighed<'r> {
    pub rule: &'r str,
    pub from: &'static str,
    pub to: &'static str,
    pub reason: &'r str,
    pub project_file: Option<&'r str>,
}

#[derive(Debug, Serialize)]
pub(super) struct Replaced<'r> {
    pub rule: &'r str,
    pub by: &'r str,
    pub project_file: Option<&'r str>,
}
