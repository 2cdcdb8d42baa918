//! Walks an outcome again to say which values decided it.
//!
//! The evaluator keeps no trace; a rule that came out badly is walked from its tree, asking for the value of each part.
//! Inside a list the machine is stood at the element again.

use std::ops::Range;

use super::ast::{Arithmetic, Comparison, ListFunction};
use super::checked::{Checked, CheckedNode};
use super::evaluate::Machine;
use super::figure::FigureRef;
use super::scope::FieldRef;
use super::truth::Truth;
use super::ty::Type;
use super::value::Value;
use crate::submittal::{RecordIndex, Slot};

/// A field of the record it was read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    /// The field.
    pub field: FieldRef,
    /// The record.
    pub record: RecordIndex,
}

/// A sub-expression with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Bytes of the expression's text.
    pub span: Range<usize>,
    /// Its type.
    pub ty: Type,
    /// Its value.
    pub value: Value,
    /// The field it is, where it is one.
    pub field: Option<Seen>,
}

/// The end of a declared range at which a comparison fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FailsAt {
    /// The ranged field.
    pub field: Seen,
    /// Whether it is the upper end.
    pub upper: bool,
}

/// Why a requirement is not met.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Blame {
    /// The fields that took part in what failed, the one to look at first in front.
    pub fields: Vec<Seen>,
    /// The values that took part.
    pub steps: Vec<Step>,
    /// The figures that took part.
    pub figures: Vec<FigureRef>,
    /// Where in a declared range it fails, if it holds elsewhere in the range.
    pub fails_at: Option<FailsAt>,
}

impl Machine<'_> {
    /// Why a condition that cannot be true is not.
    pub fn blame(&mut self, condition: &Checked) -> Blame {
        let mut blame = Blame::default();
        self.walk(condition, true, &mut blame);
        blame
    }

    /// The field as read from what its binder stands at.
    pub fn seen(&self, field: FieldRef) -> Seen {
        Seen { field, record: self.record_at(field.binder) }
    }

    fn falls_short(&mut self, part: &Checked, wanted: bool) -> bool {
        let truth = self.truth(part.op);
        let reachable = if wanted { truth.may_be_true() } else { truth.may_be_false() };
        !reachable && !truth.is_not_applicable()
    }

    fn walk(&mut self, node: &Checked, wanted: bool, blame: &mut Blame) {
        match &node.node {
            CheckedNode::Not(inner) => self.walk(inner, !wanted, blame),
            CheckedNode::And(parts) | CheckedNode::Or(parts) => {
                // What one part can spoil is blamed on the first part that spoils it; what all must fail, on the first.
                let first = parts.iter().find(|part| self.falls_short(part, wanted)).or(parts.first());
                if let Some(first) = first {
                    self.walk(first, wanted, blame);
                }
            }
            CheckedNode::List { function: ListFunction::All, list, bound, filter, body: Some(body) } if wanted => {
                self.walk_elements(*list, *bound, blame, |machine, blame| {
                    let filter = filter.as_ref().map_or(Truth::TRUE, |filter| machine.truth(filter.op));
                    let fails =
                        !filter.not().or(machine.truth(body.op)).may_be_true() && machine.falls_short(body, true);
                    if fails {
                        machine.walk(body, true, blame);
                    }
                    fails
                });
            }
            CheckedNode::List { function: ListFunction::Any, list, bound, filter, body } if !wanted => {
                self.walk_elements(*list, *bound, blame, |machine, blame| {
                    let parts = [filter.as_deref(), body.as_deref()];
                    let holds = parts.into_iter().flatten().all(|part| machine.falls_short(part, false));
                    if let (true, Some(part)) = (holds, body.as_deref().or(filter.as_deref())) {
                        machine.walk(part, false, blame);
                    }
                    holds
                });
            }
            CheckedNode::Compare(comparison, left, right) => {
                self.look(left, blame);
                self.look(right, blame);
                if blame.fails_at.is_none() && self.truth(node.op).may_vary() {
                    blame.fails_at = self.failing_end(*comparison, wanted, left, right);
                }
            }
            _ => self.look(node, blame),
        }
    }

    /// Visits the elements of a list until one is to blame; blames the list where none is.
    fn walk_elements(
        &mut self,
        list: FieldRef,
        bound: super::scope::BinderId,
        blame: &mut Blame,
        mut visit: impl FnMut(&mut Self, &mut Blame) -> bool,
    ) {
        let found = self.moving(bound, |machine| {
            machine.elements_of(list).unwrap_or_default().into_iter().any(|element| {
                machine.stand_at(bound, element);
                visit(machine, blame)
            })
        });
        if !found {
            blame.add(self.seen(list));
        }
    }

    /// Notes the fields and the value of an operand.
    fn look(&mut self, node: &Checked, blame: &mut Blame) {
        match &node.node {
            CheckedNode::Number(_) | CheckedNode::Choice(_) | CheckedNode::Text(_) | CheckedNode::Wrong => return,
            CheckedNode::Field(field) | CheckedNode::Shown(field) => {
                let seen = self.seen(*field);
                blame.add(seen);
                blame.steps.push(self.step(node, Some(seen)));
                return;
            }
            CheckedNode::List { function, list, bound, body, .. } => {
                let value = self.value(node.op);
                let picks = matches!(function, ListFunction::Min | ListFunction::Max);
                match body.as_deref().filter(|_| picks) {
                    Some(body) => self.walk_elements(*list, *bound, blame, |machine, blame| {
                        let chosen = machine.value(body.op) == value;
                        if chosen {
                            machine.look(body, blame);
                        }
                        chosen
                    }),
                    None => blame.add(self.seen(*list)),
                }
                blame.steps.push(Step { span: node.span.clone(), ty: node.ty.clone(), value, field: None });
                return;
            }
            CheckedNode::Given { field, stand_in } => {
                let missing = match field.node {
                    CheckedNode::Field(read) => self.slot(read).is_left_out(),
                    _ => false,
                };
                return self.look(if missing { stand_in } else { field }, blame);
            }
            CheckedNode::Figure(figure) if figure.is_choice() => {
                let chosen = self.chosen_root(figure).and_then(|root| self.read_from(&figure.roots[root]));
                let seen = chosen.map(|field| self.seen(field));
                if let Some(seen) = seen {
                    blame.add(seen);
                }
                let step = self.step(node, seen);
                blame.steps.push(step);
                return;
            }
            CheckedNode::Figure(figure) | CheckedNode::ShownFigure(figure) | CheckedNode::ValidFigure(figure) => {
                for field in figure.roots.iter().filter_map(|root| self.read_from(root)) {
                    let slot = self.slot(field);
                    if !slot.is_left_out() && *slot != Slot::Unreadable {
                        blame.add(self.seen(field));
                    }
                }
                let step = self.step(node, None);
                blame.steps.push(step);
                if !blame.figures.contains(figure) {
                    blame.figures.push(figure.clone());
                }
                return;
            }
            CheckedNode::InList { value, list, .. } => {
                self.look(value, blame);
                blame.add(self.seen(*list));
                return;
            }
            _ => {}
        }
        let before = blame.steps.len();
        for part in node.parts() {
            self.look(part, blame);
        }
        // The sums inside a sum say nothing that the fields and the whole do not.
        let mut at = 0;
        blame.steps.retain(|step| {
            at += 1;
            at <= before || step.field.is_some()
        });
        let step = self.step(node, None);
        blame.steps.push(step);
    }

    fn step(&mut self, node: &Checked, field: Option<Seen>) -> Step {
        Step { span: node.span.clone(), ty: node.ty.clone(), value: self.value(node.op), field }
    }

    /// The ranged field of a comparison that varies, with the end at which it fails.
    fn failing_end(
        &mut self,
        comparison: Comparison,
        wanted: bool,
        left: &Checked,
        right: &Checked,
    ) -> Option<FailsAt> {
        let left_upper = match comparison {
            Comparison::Less | Comparison::AtMost => wanted,
            Comparison::Greater | Comparison::AtLeast => !wanted,
            Comparison::Is | Comparison::IsNot => return None,
        };
        let field = |side: &Checked| matches!(side.node, CheckedNode::Field(_));
        let mut found = Vec::new();
        self.ranged(left, left_upper, &mut found);
        if found.is_empty() || !field(left) {
            self.ranged(right, !left_upper, &mut found);
        }
        // With several ranges in a sum, no end of one of them tells where it fails.
        match found.as_slice() {
            [only] => *only,
            _ => None,
        }
    }

    /// The ranges in a sum or difference, each with its end at which the whole is largest (`upper`) or least; `None` stands
    /// for one in another kind of expression.
    fn ranged(&mut self, node: &Checked, upper: bool, found: &mut Vec<Option<FailsAt>>) {
        match &node.node {
            CheckedNode::Field(field) => {
                if let Slot::Quantity(quantity, _) = self.slot(*field)
                    && quantity.lo < quantity.hi
                {
                    found.push(Some(FailsAt { field: self.seen(*field), upper }));
                }
            }
            CheckedNode::Arithmetic(Arithmetic::Add, left, right) => {
                self.ranged(left, upper, found);
                self.ranged(right, upper, found);
            }
            CheckedNode::Arithmetic(Arithmetic::Subtract, left, right) => {
                self.ranged(left, upper, found);
                self.ranged(right, !upper, found);
            }
            CheckedNode::Arithmetic(Arithmetic::Multiply | Arithmetic::Divide, left, right) if is_positive(right) => {
                self.ranged(left, upper, found);
            }
            CheckedNode::Arithmetic(Arithmetic::Multiply, left, right) if is_positive(left) => {
                self.ranged(right, upper, found);
            }
            CheckedNode::Negate(inner) => self.ranged(inner, !upper, found),
            _ => {
                if matches!(self.value(node.op), Value::Number(number) if number.lo < number.hi) {
                    found.push(None);
                }
            }
        }
    }
}

fn is_positive(node: &Checked) -> bool {
    matches!(node.node, CheckedNode::Number(number) if number.lo > 0.0)
}

impl Blame {
    fn add(&mut self, seen: Seen) {
        if !self.fields.contains(&seen) {
            self.fields.push(seen);
        }
    }
}
