//! The loaded rule set: checked rules over one compiled program.

use std::sync::Arc;

use crate::document::Tree;
use crate::expr::{Assumable, BinderId, Checked, FieldRef, OpId, Program};
use crate::review::{Outcome, RuleFacts, Stage};
use crate::source::Span;
use crate::submittal::Read;
use crate::vocabulary::{RecordId, Symbol, Vocabulary, nearest_name};

use super::message::Template;

/// An expression of a pack with its text.
#[derive(Debug, Clone)]
pub struct Expression {
    /// As written.
    pub text: String,
    /// As checked and compiled.
    pub checked: Checked,
}

/// What a rule runs over, besides the gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// The elements of a list.
    List(FieldRef),
    /// The choices of a field: index into `RuleSet::choices`.
    Choices(usize),
}

/// An `each:`, shared by the rules that run over the same list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Group {
    /// The binder that stands at the element.
    pub binder: BinderId,
    /// What it runs over.
    pub over: Over,
    /// Whether it is run for each gate.
    pub per_gate: bool,
}

/// A remark of a rule.
#[derive(Debug, Clone)]
pub struct Note {
    /// When it is made; always where absent.
    pub when: Option<Expression>,
    /// The remark.
    pub text: Template,
}

/// A case that a rule carries.
#[derive(Debug)]
pub struct Case {
    /// The outcome expected.
    pub expect: Outcome,
    /// Where the primary label is expected.
    pub at: Option<String>,
    /// The fields expected to be missing.
    pub missing: Vec<String>,
    /// The stage of the review.
    pub stage: Stage,
    /// Its facts.
    pub facts: Read,
    /// What it states itself, in words.
    pub stated: Vec<String>,
    /// Where it is written.
    pub span: Span,
}

/// A checked rule.
#[derive(Debug)]
pub struct Rule {
    /// What reports say of it; `facts.name` is the full name.
    pub facts: RuleFacts,
    /// Index of its pack.
    pub pack: usize,
    /// Whether it runs for each gate rather than once per submittal.
    pub per_gate: bool,
    /// Index of its group, where it runs per element.
    pub group: Option<usize>,
    /// The pack's condition and its own, as far as there are any.
    pub when: Vec<Expression>,
    /// Both together.
    pub when_op: OpId,
    /// What must hold.
    pub require: Expression,
    /// The values that the requirement may assume.
    pub assumable: Assumable,
    /// Where a finding points, if not where the requirement fails.
    pub at: Option<FieldRef>,
    /// What a finding says.
    pub message: Template,
    /// Its remarks.
    pub notes: Vec<Note>,
    /// Earlier names.
    pub was: Vec<String>,
    /// The facts that its cases start from, in words; empty where the pack was loaded without cases.
    pub given: Vec<String>,
    /// Its cases.
    pub cases: Vec<Case>,
    /// Where its name is written in the pack.
    pub span: Span,
}

/// A loaded pack.
#[derive(Debug)]
pub struct Pack {
    /// Its name.
    pub name: String,
    /// What it is about.
    pub title: String,
    /// The standards that it rests on, each with its edition.
    pub basis: Vec<String>,
    /// Its constants and tables, in words.
    pub numbers: Vec<String>,
    /// Its text, with spans.
    pub tree: Arc<Tree>,
    /// Whether it came with the program.
    pub shipped: bool,
}

/// Everything that a review needs of the rules.
#[derive(Debug)]
pub struct RuleSet {
    /// The declared fields.
    pub vocabulary: Arc<Vocabulary>,
    /// Record type of a gate.
    pub gate: RecordId,
    /// The compiled expressions.
    pub program: Program,
    /// Rules, in the order of their packs.
    pub rules: Vec<Rule>,
    /// Packs, in the order loaded.
    pub packs: Vec<Pack>,
    /// Groups of rules that run per element.
    pub groups: Vec<Group>,
    /// Choices that groups run over.
    pub choices: Vec<Vec<Symbol>>,
    pub(super) members: Vec<[Vec<usize>; 2]>,
    pub(super) by_name: Vec<(usize, Arc<str>)>,
}

impl RuleSet {
    /// Indexes of the rules that run over the elements of a group, or over none; about the gate, or the whole submittal.
    pub fn members(&self, group: Option<usize>, per_gate: bool) -> &[usize] {
        &self.members[group.map_or(0, |group| group + 1)][usize::from(per_gate)]
    }

    /// The rules by index, with their full names, in the order of the names, in which reports list them.
    pub fn by_name(&self) -> &[(usize, Arc<str>)] {
        &self.by_name
    }

    /// The rule of a full name, an unambiguous short name, or an earlier name. `Err` holds the full names it could mean.
    ///
    /// # Errors
    /// No rule, or more than one, has that name.
    pub fn find(&self, name: &str) -> Result<usize, Vec<&str>> {
        let name = name.trim();
        if let Some(found) = self.rules.iter().position(|rule| rule.facts.name == name) {
            return Ok(found);
        }
        let by = |matches: &dyn Fn(&Rule) -> bool| -> Vec<usize> {
            self.rules.iter().enumerate().filter(|(_, rule)| matches(rule)).map(|(index, _)| index).collect()
        };
        let short = by(&|rule| rule.facts.name.rsplit('/').next() == Some(name));
        let earlier = by(&|rule| {
            let pack = rule.facts.name.split('/').next().unwrap_or_default();
            rule.was.iter().any(|was| was == name || format!("{pack}/{was}") == name)
        });
        match (short.as_slice(), earlier.as_slice()) {
            ([one], _) | ([], [one]) => Ok(*one),
            (several, _) => Err(several.iter().map(|index| self.rules[*index].facts.name.as_str()).collect()),
        }
    }

    /// What is wrong with a name that [`RuleSet::find`] finds no rule for, and what to do.
    pub fn no_rule(&self, name: &str) -> (String, String) {
        if let Err(candidates) = self.find(name)
            && !candidates.is_empty()
        {
            return (
                format!("`{name}` is the short name of several rules"),
                format!("it could be {}", candidates.join(" or ")),
            );
        }
        let help = match self.near(name) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`gatewright rules` lists the names".to_owned(),
        };
        (format!("no rule is called `{name}`"), help)
    }

    /// The full name nearest to a misspelt one, which may lack its pack.
    fn near(&self, name: &str) -> Option<&str> {
        let full = || self.rules.iter().map(|rule| rule.facts.name.as_str());
        if name.contains('/') {
            return nearest_name(name, full());
        }
        let short = |name: &str| name.rfind('/').map_or(0, |slash| slash + 1);
        let near = nearest_name(name, full().map(|full| &full[short(full)..]))?;
        full().find(|full| &full[short(full)..] == near)
    }
}
