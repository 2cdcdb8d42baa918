//! The short way to a figure: single values only, from the top down, with what was worked out before kept.
//!
//! Figures of one gate share most of their graph: the wind behind a footing is the wind behind its neighbor. Rules are
//! judged by this; where a range or a limit comes in, `evaluate` takes over, and reports use it always.

use super::evaluate::RootValue;
use super::figure::{Absent, NoValue, Of};
use super::plan::{Node, Operand, Plan, PointNode};
use super::point::{Cells, Point};
use crate::quantity::Quantity;

/// What the short way came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quick {
    /// A single value.
    Value(f64),
    /// A fact is not shown.
    Lacking,
    /// It takes the long way.
    Long,
}

/// What a short way reads and keeps.
pub trait Known {
    /// The value of a root of the plan at hand.
    fn root(&mut self, root: usize) -> RootValue;
    /// What a figure came to before, at the same gate and element; by its number among all figures.
    fn before(&self, figure: usize, of: Of) -> Option<Quick>;
    /// Keeps what a figure came to.
    fn keep(&mut self, figure: usize, of: Of, quick: Quick);
    /// The range that a figure came to the long way before.
    fn range_before(&self, figure: usize, of: Of) -> Option<Quantity>;
    /// Keeps the range that a figure came to the long way.
    fn keep_range(&mut self, figure: usize, of: Of, range: Quantity);
}

/// Works a figure out the short way.
pub fn quick(plan: &Plan, known: &mut dyn Known) -> Quick {
    of_node(plan, &plan.node, known)
}

fn of_node(plan: &Plan, node: &Node, known: &mut dyn Known) -> Quick {
    match node {
        Node::Point(point) => of_step(plan, point, point.steps.len() - 1, known),
        Node::Largest(parts) => of_parts(plan, parts.iter(), known, f64::max),
        Node::Smallest(parts) => of_parts(plan, parts.iter(), known, f64::min),
        Node::Magnitude(part) => match of_node(plan, part, known) {
            Quick::Value(value) => Quick::Value(value.abs()),
            other => other,
        },
        Node::Claimed { root, parts } => {
            let RootValue::Value(set) = known.root(*root) else { return Quick::Long };
            // A set is stored as a whole sum of powers of two.
            let claimed = set.lo as usize;
            if claimed == 0 {
                return Quick::Long;
            }
            let chosen = parts.iter().enumerate().filter(|(number, _)| claimed & (1 << number) != 0);
            of_parts(plan, chosen.map(|(_, part)| part), known, f64::max)
        }
    }
}

fn of_parts<'n>(
    plan: &Plan,
    parts: impl Iterator<Item = &'n Node>,
    known: &mut dyn Known,
    pick: fn(f64, f64) -> f64,
) -> Quick {
    let mut found: Option<f64> = None;
    for part in parts {
        match of_node(plan, part, known) {
            Quick::Value(value) => found = Some(found.map_or(value, |found| pick(found, value))),
            other => return other,
        }
    }
    found.map_or(Quick::Long, Quick::Value)
}

fn of_step(plan: &Plan, node: &PointNode, number: usize, known: &mut dyn Known) -> Quick {
    let step = &node.steps[number];
    if let Some(quick) = known.before(step.number, step.figure.of) {
        return quick;
    }
    let quick = work_out(plan, node, number, known);
    known.keep(step.number, step.figure.of, quick);
    quick
}

fn work_out(plan: &Plan, node: &PointNode, number: usize, known: &mut dyn Known) -> Quick {
    let step = &node.steps[number];
    let mut cells: Vec<f64> = Vec::with_capacity(step.operands.len() + 8);
    let mut inputs: Vec<Cells> = Vec::with_capacity(step.operands.len());
    // What has no single value stops only a function that reads it.
    let mut stopped: Vec<(usize, Quick)> = Vec::new();
    for (place, (operand, input)) in step.operands.iter().zip(step.figure.inputs).enumerate() {
        let first = cells.len();
        let came = match *operand {
            Operand::Step(other) => of_step(plan, node, other, known),
            Operand::Derived(other) => of_node(plan, &node.derived[other].node, known),
            Operand::Root(root) => match (known.root(root), input.absent) {
                (RootValue::Value(value), _) if value.is_shown() && value.is_point() => Quick::Value(value.lo),
                (RootValue::Rows(rows), _) if rows.iter().all(|cell| cell.is_shown() && cell.is_point()) => {
                    cells.extend(rows.iter().map(|cell| cell.lo));
                    inputs.push(Cells { first, len: cells.len() - first });
                    continue;
                }
                (RootValue::Absent, Absent::Optional) => {
                    inputs.push(Cells { first, len: 0 });
                    continue;
                }
                (RootValue::Absent, Absent::Assume(value, _)) => Quick::Value(value),
                (RootValue::Absent, Absent::Lacking) => Quick::Lacking,
                _ => Quick::Long,
            },
        };
        match came {
            Quick::Value(value) => cells.push(value),
            other => {
                cells.push(f64::NAN);
                stopped.push((place, other));
            }
        }
        inputs.push(Cells { first, len: 1 });
    }
    let point = Point::new(&cells, &inputs, &step.constants);
    let value = step.figure.value(&point);
    if let Some((_, why)) = stopped.into_iter().find(|(place, _)| point.read() & (1 << place) != 0) {
        return why;
    }
    match value {
        Ok(value) if value.is_finite() => Quick::Value(value),
        Err(NoValue::Lacking(_)) => Quick::Lacking,
        _ => Quick::Long,
    }
}
