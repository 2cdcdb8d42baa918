//! A figure from what is known of its roots: computed, bounded, lacking, outside its limits, or not over these ranges.
//!
//! The largest, smallest or absolute value of figures is taken from their ranges; a chain of functions of points goes the
//! way of `chain`. Called by rules, worksheets and `compute`.

use std::borrow::Cow;

use super::figure::{Figure, NoValue, Work};
use super::plan::{Node, Operand, Plan, PointNode};
use super::point::{Cells, Point};
use super::quick::{Known, Quick};
use crate::quantity::Quantity;

/// What is known of a root of a plan.
#[derive(Debug, Clone, PartialEq)]
pub enum RootValue {
    /// Not shown.
    Absent,
    /// A measured value, or the number of a choice, a set or a yes.
    Value(Quantity),
    /// Rows of measured values, one after the other.
    Rows(Vec<Quantity>),
}

/// What a figure came to.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// Its value.
    Computed(Quantity),
    /// Not settled, but within these bounds; the roots that would settle it.
    Bounded(Quantity, Vec<usize>),
    /// Roots that are not shown, by their numbers in the plan.
    Lacking(Vec<usize>),
    /// Outside its limits: why.
    NotValid(String),
    /// Not to be computed over the ranges that stand under it: why. Single values would settle it.
    OverRange(String),
}

/// What a figure came to, and what was assumed for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The state.
    pub state: State,
    /// Roots that were assumed, each with the words for the value.
    pub assumed: Vec<(usize, &'static str)>,
}

/// Computes a figure from its roots, in the order of the plan.
pub fn evaluate(plan: &Plan, values: &[RootValue]) -> Outcome {
    let mut run = Run { plan, roots: Roots::Values(values), assumed: Vec::new() };
    let state = run.node(&plan.node);
    Outcome { state, assumed: run.assumed }
}

/// The same for rules, which share most of the graph under their figures: what was worked out before is not again.
pub fn evaluate_again(plan: &Plan, known: &mut dyn Known) -> State {
    Run { plan, roots: Roots::Known(known), assumed: Vec::new() }.node(&plan.node)
}

impl Figure {
    /// The value of a figure of points at given inputs and constants in SI; an input that is not shown has no numbers.
    ///
    /// # Errors
    ///
    /// Where the function has no value there, or the figure is none of points.
    pub fn at(&self, inputs: &[Vec<f64>], constants: &[f64]) -> Result<f64, NoValue> {
        let cells = inputs.concat();
        let mut first = 0;
        let mut at = Vec::with_capacity(inputs.len());
        for input in inputs {
            at.push(Cells { first, len: input.len() });
            first += input.len();
        }
        self.value(&Point::new(&cells, &at, constants))
    }
}

/// The root whose value a figure takes, where it takes that of one of its fields.
pub fn chosen(plan: &Plan, values: &[RootValue]) -> Option<usize> {
    let (Work::Chosen(choose), Node::Point(node)) = (plan.figure.work, &plan.node) else { return None };
    let operands = &node.steps.last()?.operands;
    let (mut cells, mut inputs) = (Vec::new(), Vec::new());
    for operand in operands {
        let Operand::Root(root) = *operand else { return None };
        let first = cells.len();
        if let RootValue::Value(value) = &values[root] {
            cells.push(value.lo);
        }
        inputs.push(Cells { first, len: cells.len() - first });
    }
    match operands.get(choose(&Point::new(&cells, &inputs, &[])).ok()?) {
        Some(Operand::Root(root)) => Some(*root),
        _ => None,
    }
}

/// One figure being worked out.
pub(super) struct Run<'a> {
    pub plan: &'a Plan,
    pub roots: Roots<'a>,
    pub assumed: Vec<(usize, &'static str)>,
}

/// Where the values of the roots come from.
pub(super) enum Roots<'a> {
    /// All of them, with the assumptions wanted.
    Values(&'a [RootValue]),
    /// Read where they are needed, beside what figures came to before, whose assumptions are not kept.
    Known(&'a mut dyn Known),
}

impl Roots<'_> {
    pub fn value(&mut self, root: usize) -> Cow<'_, RootValue> {
        match self {
            Roots::Values(values) => Cow::Borrowed(&values[root]),
            Roots::Known(known) => Cow::Owned(known.root(root)),
        }
    }
}

impl Run<'_> {
    pub fn node(&mut self, node: &Node) -> State {
        match node {
            Node::Point(point) => self.known_or_point(point),
            Node::Largest(parts) => self.extreme(parts.iter(), Quantity::max),
            Node::Smallest(parts) => self.extreme(parts.iter(), Quantity::min),
            Node::Magnitude(part) => match self.node(part) {
                State::Computed(value) => State::Computed(value.abs()),
                State::Bounded(value, lacking) => State::Bounded(value.abs(), lacking),
                other => other,
            },
            Node::Claimed { root, parts } => self.claimed(*root, parts),
        }
    }

    fn extreme<'n>(
        &mut self,
        parts: impl Iterator<Item = &'n Node>,
        pick: fn(Quantity, Quantity) -> Quantity,
    ) -> State {
        let mut found: Option<Quantity> = None;
        let mut lacking: Option<Vec<usize>> = None;
        let mut reason = None;
        for part in parts {
            match self.node(part) {
                State::Computed(value) => found = Some(found.map_or(value, |found| pick(found, value))),
                State::Bounded(_, more) | State::Lacking(more) => add(lacking.get_or_insert_default(), &more),
                other @ (State::NotValid(_) | State::OverRange(_)) => reason = reason.or(Some(other)),
            }
        }
        match (lacking, reason, found) {
            (Some(lacking), ..) => State::Lacking(lacking),
            (_, Some(reason), _) => reason,
            (_, _, Some(value)) => State::Computed(value),
            _ => State::NotValid("there is nothing to take it from".to_owned()),
        }
    }

    fn claimed(&mut self, root: usize, parts: &[Node]) -> State {
        let claimed = match &*self.roots.value(root) {
            // A set is stored as a whole sum of powers of two.
            RootValue::Value(set) => set.lo as usize,
            _ => 0,
        };
        if claimed != 0 {
            let chosen = parts.iter().enumerate().filter(|(number, _)| claimed & (1 << number) != 0);
            return self.extreme(chosen.map(|(_, part)| part), Quantity::max);
        }
        let mut bounds = match parts.first().map(|part| self.node(part)) {
            Some(State::Computed(least)) => least,
            Some(State::Lacking(mut lacking)) => {
                add(&mut lacking, &[root]);
                return State::Lacking(lacking);
            }
            Some(other) => return other,
            None => return State::Lacking(vec![root]),
        };
        for part in &parts[1..] {
            bounds.hi = match self.node(part) {
                State::Computed(value) => bounds.hi.max(value.hi),
                _ => f64::INFINITY,
            };
            if bounds.hi.is_finite() {
                bounds.mag = bounds.mag.max(bounds.hi.abs());
            }
        }
        State::Bounded(Quantity { lo_declared: false, hi_declared: false, ..bounds }, vec![root])
    }

    fn known_or_point(&mut self, node: &PointNode) -> State {
        let Some(last) = node.steps.last() else { return self.point(node) };
        let of = last.figure.of;
        if let Roots::Known(known) = &self.roots {
            if let Some(Quick::Value(value)) = known.before(last.number, of) {
                return State::Computed(Quantity::point(value));
            }
            if let Some(range) = known.range_before(last.number, of) {
                return State::Computed(range);
            }
        }
        let state = self.point(node);
        if let (Roots::Known(known), State::Computed(range)) = (&mut self.roots, &state) {
            known.keep_range(last.number, of, *range);
        }
        state
    }
}

pub(super) fn add(list: &mut Vec<usize>, more: &[usize]) {
    for root in more {
        if !list.contains(root) {
            list.push(*root);
        }
    }
}
