//! Expressions of a pack: parsed, checked, their errors mapped into the pack's file.

use super::error::PackProblems;
use super::message::{Template, check_template};
use super::raw::{RawPack, Text};
use super::set::{Expression, Note};
use crate::document::{NodeId, place_in};
use crate::expr::{Checker, ExprError, FieldRef, Node, parse};
use crate::problem::{Gravity, Problem};
use crate::submittal::RecordIndex;

/// Reports the errors of one pack's expressions.
pub(super) struct Reporter<'p, 'q> {
    pub(super) pack: &'p RawPack,
    pub(super) problems: &'q mut PackProblems,
    /// In a shipped pack a doubtful expression is an error.
    pub(super) shipped: bool,
}

impl Reporter<'_, '_> {
    /// A condition; `None` where it has errors.
    pub(super) fn condition(&mut self, checker: &mut Checker<'_, '_>, text: Text<'_>) -> Option<Expression> {
        let expr = match parse(text.text) {
            Ok(expr) => expr,
            Err(error) => {
                self.errors(text.node, vec![error], Vec::new());
                return None;
            }
        };
        let checked = checker.condition(&expr);
        let sound = self.drain(checker, text.node);
        sound.then(|| Expression { text: text.text.to_owned(), checked })
    }

    /// The path of a field, for `at:`.
    pub(super) fn place(&mut self, checker: &mut Checker<'_, '_>, text: Text<'_>) -> Option<FieldRef> {
        let parsed = parse(text.text);
        let path = match parsed {
            Ok(expr) => match &expr.node {
                Node::Path(parts) => checker.field(&expr, parts),
                _ => {
                    checker.errors.push(ExprError::new(expr.span.clone(), "the path of a field is expected"));
                    None
                }
            },
            Err(error) => {
                checker.errors.push(error);
                None
            }
        };
        self.drain(checker, text.node);
        path
    }

    /// A message template.
    pub(super) fn template(&mut self, checker: &mut Checker<'_, '_>, text: Text<'_>) -> Template {
        let template = check_template(text.text, checker);
        self.drain(checker, text.node);
        template
    }

    /// The notes of a rule.
    pub(super) fn notes(&mut self, checker: &mut Checker<'_, '_>, record: RecordIndex) -> Vec<Note> {
        let pack = self.pack;
        let mut notes = Vec::new();
        for note in pack.list(record, "note") {
            let condition = pack.text(*note, "when");
            let when = condition.and_then(|text| self.condition(checker, text));
            let text = pack.text(*note, "text").map(|text| self.template(checker, text));
            if condition.is_none() || when.is_some() {
                notes.push(Note { when, text: text.unwrap_or_default() });
            }
        }
        notes
    }

    /// Takes the checker's errors; whether there were none.
    fn drain(&mut self, checker: &mut Checker<'_, '_>, node: NodeId) -> bool {
        let (errors, warnings) = (std::mem::take(&mut checker.errors), std::mem::take(&mut checker.warnings));
        let sound = errors.is_empty();
        self.errors(node, errors, warnings);
        sound
    }

    /// Reports errors of the expression at a node.
    pub(super) fn errors(&mut self, node: NodeId, errors: Vec<ExprError>, warnings: Vec<ExprError>) {
        let doubt = if self.shipped { Gravity::Fault } else { Gravity::Advice };
        let all = errors.into_iter().map(|error| (error, Gravity::Fault));
        for (error, gravity) in all.chain(warnings.into_iter().map(|warning| (warning, doubt))) {
            let span = place_in(&self.pack.tree, node, error.at);
            let problem =
                Problem { code: "expression", gravity, span, message: error.message, help: error.help, labels: Vec::new() };
            self.problems.push(self.pack.tree.source(), problem);
        }
    }

    /// Reports a fault at a node.
    pub(super) fn fault(&mut self, code: &'static str, node: NodeId, message: impl Into<String>) {
        let span = self.pack.tree.span(node);
        self.problems.push(self.pack.tree.source(), Problem::fault(code, span, message));
    }
}
