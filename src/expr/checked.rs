//! A checked expression: names resolved, types right, ready to be compiled.
//!
//! Made by `check`; `compile` adds the number of the operation that computes each part, by which `explain` reads the
//! part's value back.

use std::ops::Range;

use super::ast::{Arithmetic, Comparison, Function, ListFunction};
use super::figure::FigureRef;
use super::program::OpId;
use super::scope::{BinderId, FieldRef};
use super::ty::Type;
use crate::quantity::Quantity;
use crate::vocabulary::Symbol;

/// A part with its place, its type and its operation.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// Bytes of the expression's text.
    pub span: Range<usize>,
    /// What it is worth.
    pub ty: Type,
    /// What it is.
    pub node: CheckedNode,
    /// The operation that computes it; set by `compile`.
    pub op: OpId,
    /// Whether it, or a part of it, may put an assumed value in place of a missing field.
    pub assumes: bool,
}

/// The kinds of checked expression.
#[derive(Debug, Clone, PartialEq)]
pub enum CheckedNode {
    /// All of these.
    And(Vec<Checked>),
    /// One of these.
    Or(Vec<Checked>),
    /// The contrary.
    Not(Box<Checked>),
    /// Two values of one type compared.
    Compare(Comparison, Box<Checked>, Box<Checked>),
    /// A value among others, or (true) not among them.
    OneOf {
        /// `is not one of`
        negated: bool,
        /// The value.
        value: Box<Checked>,
        /// The others.
        set: Vec<Checked>,
    },
    /// A choice or text in a list field, or (true) not in it.
    InList {
        /// `is not one of`
        negated: bool,
        /// The value.
        value: Box<Checked>,
        /// The list.
        list: FieldRef,
    },
    /// Two numbers computed with.
    Arithmetic(Arithmetic, Box<Checked>, Box<Checked>),
    /// A number with its sign changed.
    Negate(Box<Checked>),
    /// A number, quantity or date that the rule states.
    Number(Quantity),
    /// A choice that the rule states.
    Choice(Symbol),
    /// A text that the rule states.
    Text(String),
    /// A field.
    Field(FieldRef),
    /// The choice or text that a binder stands at.
    Bound(BinderId),
    /// The stage of the review.
    Stage,
    /// A function over a list.
    List {
        /// Which function.
        function: ListFunction,
        /// The list.
        list: FieldRef,
        /// The binder of its elements.
        bound: BinderId,
        /// Which elements.
        filter: Option<Box<Checked>>,
        /// What of each.
        body: Option<Box<Checked>>,
    },
    /// A field, or a stand-in where it is missing.
    Given {
        /// The field.
        field: Box<Checked>,
        /// What stands in.
        stand_in: Box<Checked>,
    },
    /// Whether a field is shown.
    Shown(FieldRef),
    /// A figure of the gate.
    Figure(FigureRef),
    /// Whether the inputs of a figure are shown.
    ShownFigure(FigureRef),
    /// Whether a figure is within its limits.
    ValidFigure(FigureRef),
    /// A table's value at a key.
    Table(u32, Box<Checked>),
    /// `min`, `max`, `abs`, `agree`.
    Call(Function, Vec<Checked>),
    /// Already reported: `Checker::condition` and `Checker::value` see to it.
    Wrong,
}

impl Checked {
    /// A part that is not compiled yet.
    pub(super) fn new(span: Range<usize>, ty: Type, node: CheckedNode) -> Checked {
        let mut checked = Checked { span, ty, node, op: OpId::default(), assumes: false };
        checked.assumes = match &checked.node {
            CheckedNode::Given { .. } => true,
            CheckedNode::Figure(figure) => figure.assumes(),
            _ => checked.parts().any(|part| part.assumes),
        };
        checked
    }

    /// The parts directly below, in the order they are written.
    pub fn parts(&self) -> impl Iterator<Item = &Checked> + Clone {
        let (first, second, rest): (Option<&Checked>, Option<&Checked>, &[Checked]) = match &self.node {
            CheckedNode::And(parts) | CheckedNode::Or(parts) | CheckedNode::Call(_, parts) => (None, None, parts),
            CheckedNode::Not(inner) | CheckedNode::Negate(inner) | CheckedNode::Table(_, inner) => {
                (Some(inner), None, &[])
            }
            CheckedNode::Compare(_, left, right) | CheckedNode::Arithmetic(_, left, right) => {
                (Some(left), Some(right), &[])
            }
            CheckedNode::OneOf { value, set, .. } => (Some(value), None, set),
            CheckedNode::InList { value, .. } => (Some(value), None, &[]),
            CheckedNode::Given { field, stand_in } => (Some(field), Some(stand_in), &[]),
            CheckedNode::List { filter, body, .. } => (filter.as_deref(), body.as_deref(), &[]),
            CheckedNode::Number(_)
            | CheckedNode::Choice(_)
            | CheckedNode::Text(_)
            | CheckedNode::Field(_)
            | CheckedNode::Bound(_)
            | CheckedNode::Stage
            | CheckedNode::Shown(_)
            | CheckedNode::Figure(_)
            | CheckedNode::ShownFigure(_)
            | CheckedNode::ValidFigure(_)
            | CheckedNode::Wrong => (None, None, &[]),
        };
        first.into_iter().chain(second).chain(rest)
    }

    /// The first part that is wrong.
    pub fn first_wrong(&self) -> Option<&Checked> {
        match self.node {
            CheckedNode::Wrong => Some(self),
            _ => self.parts().find_map(Checked::first_wrong),
        }
    }

    /// The conditions that must all hold, one by one; itself where it is one.
    pub fn conjuncts(&self) -> Vec<&Checked> {
        match &self.node {
            CheckedNode::And(parts) => parts.iter().flat_map(Checked::conjuncts).collect(),
            _ => vec![self],
        }
    }

    /// The figures that it reads outside of lists, each once.
    pub fn figures(&self) -> Vec<FigureRef> {
        let mut found = Vec::new();
        self.collect_figures(&mut found);
        found
    }

    fn collect_figures(&self, found: &mut Vec<FigureRef>) {
        match &self.node {
            CheckedNode::Figure(figure) if !found.contains(figure) => found.push(figure.clone()),
            CheckedNode::List { .. } => return,
            _ => {}
        }
        for part in self.parts() {
            part.collect_figures(found);
        }
    }

    /// Every field it reads, lists included, in the order they are written; a field of a list element too.
    pub fn fields(&self) -> Vec<FieldRef> {
        let mut found = Vec::new();
        self.collect_fields(&mut found);
        found
    }

    fn collect_fields(&self, found: &mut Vec<FieldRef>) {
        match &self.node {
            CheckedNode::Field(field) | CheckedNode::Shown(field) => found.push(*field),
            CheckedNode::Figure(figure) | CheckedNode::ShownFigure(figure) | CheckedNode::ValidFigure(figure) => {
                found.extend(figure.fields());
            }
            CheckedNode::List { list, .. } => found.push(*list),
            _ => {}
        }
        for part in self.parts() {
            part.collect_fields(found);
        }
        if let CheckedNode::InList { list, .. } = &self.node {
            found.push(*list);
        }
    }
}
