//! What a review comes to: outcomes, findings, questions, the suggested action.
//!
//! Plain data, made by the review and read by every report format. Places are spans into the submittal's file; lines
//! and columns are worked out when a report is written.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::source::{SourceFile, Span};

/// What a rule is worth, lightest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// Good to follow.
    Advice,
    /// Must be met.
    Requirement,
    /// Someone can be hurt.
    Hazard,
}

impl Weight {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Weight::Advice => "advice",
            Weight::Requirement => "requirement",
            Weight::Hazard => "hazard",
        }
    }

    /// The weight of that word.
    pub fn from_word(word: &str) -> Option<Self> {
        [Weight::Advice, Weight::Requirement, Weight::Hazard].into_iter().find(|weight| weight.word() == word)
    }
}

/// What a rule came to for one gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// The requirement holds.
    Met,
    /// It does not hold, or not for all of a declared range.
    NotMet,
    /// The submittal lacks what the rule needs.
    NotShown,
    /// The rule is not about this gate.
    DoesNotApply,
}

impl Outcome {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Outcome::Met => "met",
            Outcome::NotMet => "not met",
            Outcome::NotShown => "not shown",
            Outcome::DoesNotApply => "does not apply",
        }
    }

    /// The outcome of those words.
    pub fn from_words(words: &str) -> Option<Self> {
        [Outcome::Met, Outcome::NotMet, Outcome::NotShown, Outcome::DoesNotApply]
            .into_iter()
            .find(|outcome| outcome.words() == words)
    }
}

/// The reviewer action that the outcomes suggest. `rejected` is a person's word and never suggested.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Action {
    /// Nothing to correct was found.
    NoExceptionsTaken,
    /// Only advice, or hazards and requirements that an approved deviation answers.
    MakeCorrectionsNoted,
    /// A hazard or requirement stands unanswered, or a gate was not reviewed.
    ReviseAndResubmit,
    /// The document could not be read, or holds no gate that is reviewed.
    NotReviewed,
}

impl Action {
    /// The words of the stamp.
    pub fn words(self) -> &'static str {
        match self {
            Action::NoExceptionsTaken => "no exceptions taken",
            Action::MakeCorrectionsNoted => "make corrections noted",
            Action::ReviseAndResubmit => "revise and resubmit",
            Action::NotReviewed => "not reviewed",
        }
    }
}

/// What the paper is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Before a bid: what is missing is a question, nothing fails for it.
    Bid,
    /// Before steel is cut.
    Submittal,
    /// Before the gate is handed over; asks what `submittal` asks, and more.
    Acceptance,
}

impl Stage {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Stage::Bid => "bid",
            Stage::Submittal => "submittal",
            Stage::Acceptance => "acceptance",
        }
    }

    /// The stage of that word.
    pub fn from_word(word: &str) -> Option<Self> {
        [Stage::Bid, Stage::Submittal, Stage::Acceptance].into_iter().find(|stage| stage.word() == word)
    }
}

/// A place with the words that stand beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is said of it; may be empty.
    pub text: String,
}

/// Something that somebody must act on.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Full name of the rule, `guarding/open-leaf`; structural problems are of pack `reading`.
    pub rule: String,
    /// What the rule is worth.
    pub weight: Weight,
    /// `NotMet` or `NotShown`.
    pub outcome: Outcome,
    /// Mark of the gate it is about; `None` for the submittal as a whole.
    pub gate: Option<String>,
    /// Index of that gate among those of the submittal: several may have one mark.
    pub gate_index: Option<usize>,
    /// Number of the list element it is about (from 1), or the choice that `each` stood at.
    pub element: Option<String>,
    /// What the submittal calls that element, its mark, id or role, where no other of the list is called so.
    pub called: Option<String>,
    /// Dotted path of the field that the primary label stands at, `gate.leaf.bottom_gap`.
    pub field: Option<String>,
    /// One line that stands alone.
    pub message: String,
    /// The place to look at first.
    pub primary: Label,
    /// Further places that took part.
    pub labels: Vec<Label>,
    /// What to do, for structural problems; rules carry theirs in the rule set.
    pub help: Option<String>,
    /// Paths of the fields that are missing (not shown only).
    pub missing: Vec<String>,
    /// Full names of the rules that are undecided until the value it points at can be read (structural problems only).
    pub waiting: Vec<String>,
    /// Values that were assumed, `gate.carriages.tail_margin` with `0 in`.
    pub assumed: Vec<(String, String)>,
    /// Evaluated sub-expressions with their values, at most eight.
    pub because: Vec<(String, String)>,
    /// The figures that it rests on, each with its formula and what was put in.
    pub workings: Vec<String>,
    /// Notes of the rule whose conditions hold.
    pub notes: Vec<String>,
    /// Index of the deviation that answers it, among `SubmittalReview::deviations`.
    pub deviation: Option<usize>,
    /// What names it and no other finding of the submittal, from one revision to the next.
    pub key: String,
}

/// One missing fact with all the rules that wait for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Dotted path of the missing field or section.
    pub field: String,
    /// The words for it.
    pub label: String,
    /// Mark of the gate; `None` for the submittal as a whole.
    pub gate: Option<String>,
    /// Index of that gate among those of the submittal.
    pub gate_index: Option<usize>,
    /// Where it would stand: the key of the deepest section that is there.
    pub span: Span,
    /// The word that stands in its place (`TBD`), as written.
    pub word: Option<String>,
    /// Whether a value is there that cannot be read: a finding says so, and no rule that waits only for it has one.
    pub unreadable: bool,
    /// The heaviest rule that waits.
    pub weight: Weight,
    /// Full names of the rules that wait for it.
    pub rules: Vec<String>,
}

/// The outcomes of every rule for one gate, each list in the order of the names.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outcomes {
    /// Full names of the rules met.
    pub met: Vec<Arc<str>>,
    /// Not met.
    pub not_met: Vec<Arc<str>>,
    /// Not shown.
    pub not_shown: Vec<Arc<str>>,
    /// Not about this gate.
    pub does_not_apply: Vec<Arc<str>>,
}

/// One gate as reviewed.
#[derive(Debug, Clone, PartialEq)]
pub struct GateReview {
    /// Its mark, or `no. 2` where it has none.
    pub mark: String,
    /// Whether its type is one that is reviewed.
    pub reviewed: bool,
    /// Whether its type is shown; where it is not, it was reviewed as a cantilever slide gate.
    pub type_shown: bool,
    /// What each rule came to.
    pub outcomes: Outcomes,
    /// Rules that are met only with an assumed value: rule, field, value.
    pub met_by_assumption: Vec<(String, String, String)>,
    /// Notes of rules that are met: rule, note.
    pub notes: Vec<(String, String)>,
}

/// How a declared deviation fared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeviationState {
    /// It answers at least one finding.
    Answers,
    /// Its rule is not shown: nothing to depart from yet.
    Waiting,
    /// Its rule is met or does not apply, or there is no such rule.
    Unmatched,
    /// It lacks a reason, an approval, or (for a hazard) the gate it is for.
    Incomplete,
}

/// A departure that the submittal itself declares; a claim, printed as such.
#[derive(Debug, Clone, PartialEq)]
pub struct Deviation {
    /// The rule it names, as written.
    pub rule: String,
    /// The gate it names.
    pub gate: Option<String>,
    /// Its reason, as written.
    pub reason: Option<String>,
    /// Its approval, as written.
    pub approval: Option<String>,
    /// Where it stands.
    pub span: Span,
    /// How it fared.
    pub state: DeviationState,
}

/// An `n/a` that switched off a hazard rule.
#[derive(Debug, Clone, PartialEq)]
pub struct SwitchedOff {
    /// Full name of the rule.
    pub rule: String,
    /// Mark of the gate.
    pub gate: Option<String>,
    /// Index of that gate among those of the submittal.
    pub gate_index: Option<usize>,
    /// Path of the field that says `n/a`.
    pub field: String,
    /// Where it says so.
    pub span: Span,
}

/// The review of one document.
#[derive(Debug, Clone)]
pub struct SubmittalReview {
    /// Its file.
    pub file: Arc<SourceFile>,
    /// Its number within the file, from 1.
    pub document: u32,
    /// How many documents the file holds.
    pub documents: u32,
    /// Index of the rules that it was judged by, among `Run::projects`.
    pub under: usize,
    /// Project name, as written.
    pub project: Option<String>,
    /// The authority having jurisdiction, as written.
    pub jurisdiction: Option<String>,
    /// Submittal number, as written.
    pub number: Option<String>,
    /// Revision, as written.
    pub revision: Option<String>,
    /// The stage it was reviewed at.
    pub stage: Stage,
    /// The suggested action; none at stage bid.
    pub action: Option<Action>,
    /// Whether it could be read well enough for rules to run.
    pub readable: bool,
    /// Outcomes of the rules about the submittal as a whole.
    pub outcomes: Outcomes,
    /// Its gates.
    pub gates: Vec<GateReview>,
    /// Findings in report order.
    pub findings: Vec<Finding>,
    /// Questions in report order.
    pub questions: Vec<Question>,
    /// Declared deviations.
    pub deviations: Vec<Deviation>,
    /// Hazard rules that an `n/a` switched off.
    pub switched_off: Vec<SwitchedOff>,
}

impl SubmittalReview {
    /// The review of a document of a file, with nothing in it yet; documents count from 1.
    pub fn new(file: Arc<SourceFile>, document: u32, documents: u32) -> Self {
        SubmittalReview {
            file,
            document,
            documents,
            under: 0,
            project: None,
            jurisdiction: None,
            number: None,
            revision: None,
            stage: Stage::Submittal,
            action: None,
            readable: false,
            outcomes: Outcomes::default(),
            gates: Vec::new(),
            findings: Vec::new(),
            questions: Vec::new(),
            deviations: Vec::new(),
            switched_off: Vec::new(),
        }
    }
}

/// A file or document that was left out of the review.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotReviewed {
    /// Its path.
    pub path: String,
    /// Number of the document, where only one of several was left out.
    pub document: Option<u32>,
    /// Why.
    pub reason: String,
    /// Whether it counts as a reading failure (exit code 4).
    pub failure: bool,
}

/// What a report needs to know of a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleFacts {
    /// Full name.
    pub name: String,
    /// What is wrong when it is not met.
    pub title: String,
    /// What it is worth.
    pub weight: Weight,
    /// Why it matters.
    pub why: String,
    /// What to do.
    pub remedy: String,
    /// What the authority having jurisdiction decides.
    pub local_code: String,
    /// Standard.
    pub standard: String,
    /// Clause.
    pub clause: String,
    /// Edition.
    pub edition: String,
    /// How the number is known: `text`, `quoted`, `memory`, `practice`, `arithmetic`.
    pub authority: String,
    /// The rule it replaces, for a pack of one's own.
    pub replaces: Option<String>,
}

/// The whole run, as every report format gets it.
#[derive(Debug, Clone, Default)]
pub struct Run {
    /// The reviews, by path and document.
    pub submittals: Vec<SubmittalReview>,
    /// What was left out.
    pub not_reviewed: Vec<NotReviewed>,
    /// The rules as they stand under each project file of the run.
    pub projects: Vec<Arc<ProjectRules>>,
    /// Titles of the loaded packs, by name.
    pub packs: Vec<(String, String)>,
}

/// The rules as they stand under one project file, or under none.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ProjectRules {
    /// The project file.
    pub path: Option<String>,
    /// Facts of every loaded rule, by name.
    pub rules: BTreeMap<String, RuleFacts>,
    /// Rules that the project file switches off, with the reason given.
    pub off: Vec<(String, String)>,
    /// Rules that the project file weighs anew.
    pub reweighed: Vec<Reweighed>,
}

/// A rule that the project file weighs anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Reweighed {
    /// Full name of the rule.
    pub rule: String,
    /// What its pack gives it.
    pub from: Weight,
    /// What it has in this project.
    pub to: Weight,
    /// Why, as the project file has it.
    pub reason: String,
}

static NO_RULES: BTreeMap<String, RuleFacts> = BTreeMap::new();

impl Run {
    /// Facts of the rules that a submittal of this run was judged by.
    pub fn rules_of(&self, submittal: &SubmittalReview) -> &BTreeMap<String, RuleFacts> {
        self.projects.get(submittal.under).map_or(&NO_RULES, |project| &project.rules)
    }
}

impl ProjectRules {
    /// Rules that other rules stand in for, each with the one that replaces it; in the order of the names replaced.
    pub fn replaced(&self) -> Vec<(&str, &RuleFacts)> {
        let mut pairs: Vec<(&str, &RuleFacts)> =
            self.rules.values().filter_map(|facts| Some((facts.replaces.as_deref()?, facts))).collect();
        pairs.sort_by_key(|(replaced, _)| *replaced);
        pairs
    }
}
