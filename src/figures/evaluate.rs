//! A figure over ranges: every combination of the ends of the ranged fields under it, and of the breaks inside them.
//!
//! A figure that is monotone in each field has its extremes at corners; where it changes course at a known value, that
//! value is looked at from both sides. The largest, smallest or absolute value of figures is taken from their ranges. A
//! property test draws points inside random boxes and holds every declaration to it.

use std::borrow::Cow;

use super::figure::{Absent, Figure, NoValue, Work};
use super::plan::{Node, Operand, Plan, PointNode};
use super::point::{Cells, Point};
use super::quick::{Known, Quick};
use crate::quantity::Quantity;

/// Ranged fields that one figure may rest on; more would cost too many evaluations.
pub const MOST_RANGES: usize = 6;

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
    /// Outside its limits, or not to be computed over a range: why.
    NotValid(String),
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
        self.value(&Point { cells: &cells, inputs: &at, constants })
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
    match operands.get(choose(&Point { cells: &cells, inputs: &inputs, constants: &[] }).ok()?) {
        Some(Operand::Root(root)) => Some(*root),
        _ => None,
    }
}

struct Run<'a> {
    plan: &'a Plan,
    roots: Roots<'a>,
    assumed: Vec<(usize, &'static str)>,
}

/// Where the values of the roots come from.
enum Roots<'a> {
    /// All of them, with the assumptions wanted.
    Values(&'a [RootValue]),
    /// Read where they are needed, beside what figures came to before, whose assumptions are not kept.
    Known(&'a mut dyn Known),
}

impl Roots<'_> {
    fn value(&mut self, root: usize) -> Cow<'_, RootValue> {
        match self {
            Roots::Values(values) => Cow::Borrowed(&values[root]),
            Roots::Known(known) => Cow::Owned(known.root(root)),
        }
    }
}

impl Run<'_> {
    fn node(&mut self, node: &Node) -> State {
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
        let mut lacking: Vec<usize> = Vec::new();
        let mut reason = None;
        for part in parts {
            match self.node(part) {
                State::Computed(value) => found = Some(found.map_or(value, |found| pick(found, value))),
                State::Bounded(_, more) | State::Lacking(more) => add(&mut lacking, &more),
                State::NotValid(why) => reason = reason.or(Some(why)),
            }
        }
        match (found, reason) {
            _ if !lacking.is_empty() => State::Lacking(lacking),
            (_, Some(reason)) => State::NotValid(reason),
            (Some(value), None) => State::Computed(value),
            (None, None) => State::NotValid("there is nothing to take it from".to_owned()),
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

    /// What has to be done for a step, with what it reads and has not been asked for before: a step that is known is not
    /// worked out again, nor what only such steps read.
    fn ask(&self, node: &PointNode, number: usize, asked: &mut Asked) {
        let step = &node.steps[number];
        if let Roots::Known(known) = &self.roots
            && let Some(Quick::Value(value)) = known.before(step.number, step.figure.of)
        {
            asked.steps[number] = Duty::Known(value);
            return;
        }
        asked.steps[number] = Duty::WorkOut;
        for operand in &step.operands {
            match *operand {
                Operand::Root(root) => asked.roots[root] = true,
                Operand::Derived(other) => asked.derived[other] = true,
                Operand::Step(other) if asked.steps[other] == Duty::None => self.ask(node, other, asked),
                Operand::Step(_) => {}
            }
        }
    }

    fn point(&mut self, node: &PointNode) -> State {
        let mut asked = Asked {
            steps: vec![Duty::None; node.steps.len()],
            roots: vec![false; self.plan.roots.len()],
            derived: vec![false; node.derived.len()],
        };
        self.ask(node, node.steps.len() - 1, &mut asked);
        let mut lacking: Vec<usize> = Vec::new();
        let mut reason: Option<String> = None;
        let mut cells: Vec<f64> = Vec::with_capacity(64);
        let mut ranged: Vec<Ranged> = Vec::new();
        let mut roots = vec![Loaded::Absent; self.plan.roots.len()];
        for (root, course) in &node.roots {
            if !(asked.roots[*root] || course.unread) {
                continue;
            }
            let value = self.roots.value(*root);
            let values = match &*value {
                RootValue::Absent => continue,
                RootValue::Value(value) => std::slice::from_ref(value),
                RootValue::Rows(rows) => rows.as_slice(),
            };
            if values.iter().any(|value| !value.is_shown()) {
                roots[*root] = Loaded::Open;
                continue;
            }
            roots[*root] = Loaded::At(Cells { first: cells.len(), len: values.len() });
            for value in values {
                if !value.is_point() {
                    if course.one_value {
                        let name = self.plan.roots[*root].name;
                        reason = reason.or(Some(format!("`{name}` is a range; state one value")));
                    }
                    ranged.push(Ranged {
                        cell: cells.len(),
                        name: self.plan.roots[*root].name,
                        places: places(*value, &course.breaks),
                    });
                }
                cells.push(value.lo);
            }
        }
        let mut derived = Vec::with_capacity(node.derived.len());
        for (number, part) in node.derived.iter().enumerate() {
            if !asked.derived[number] {
                derived.push(None);
                continue;
            }
            derived.push(match self.node(&part.node) {
                State::Computed(value) => {
                    if !value.is_point() {
                        ranged.push(Ranged {
                            cell: cells.len(),
                            name: part.figure.name,
                            places: places(value, &part.breaks),
                        });
                    }
                    cells.push(value.lo);
                    Some(Cells { first: cells.len() - 1, len: 1 })
                }
                State::Bounded(_, more) | State::Lacking(more) => {
                    add(&mut lacking, &more);
                    None
                }
                State::NotValid(why) => {
                    reason = reason.or(Some(why));
                    None
                }
            });
        }
        // One cell for each step's own value, then where each step finds its inputs; `None`: it cannot be worked out.
        let own = cells.len();
        cells.resize(own + node.steps.len(), f64::NAN);
        let mut inputs: Vec<Cells> = Vec::with_capacity(node.steps.len() * 8);
        let mut steps: Vec<Option<Cells>> = Vec::with_capacity(node.steps.len());
        for (number, step) in node.steps.iter().enumerate() {
            let first = inputs.len();
            match asked.steps[number] {
                Duty::WorkOut => {}
                Duty::Known(value) => {
                    cells[own + number] = value;
                    steps.push(Some(Cells { first, len: 0 }));
                    continue;
                }
                Duty::None => {
                    cells[own + number] = 0.0;
                    steps.push(None);
                    continue;
                }
            }
            let mut complete = true;
            for (operand, input) in step.operands.iter().zip(step.figure.inputs) {
                let at = match *operand {
                    Operand::Derived(number) => derived[number],
                    Operand::Step(number) => steps[number].map(|_| Cells { first: own + number, len: 1 }),
                    Operand::Root(root) => match (roots[root], input.absent) {
                        (Loaded::At(at), _) => Some(at),
                        (Loaded::Absent, Absent::Optional) => Some(Cells { first: 0, len: 0 }),
                        (Loaded::Absent, Absent::Assume(value, words)) => {
                            let assumed = (root, words);
                            if !self.assumed.contains(&assumed) {
                                self.assumed.push(assumed);
                            }
                            cells.push(value);
                            Some(Cells { first: cells.len() - 1, len: 1 })
                        }
                        _ => {
                            add(&mut lacking, &[root]);
                            None
                        }
                    },
                };
                complete &= at.is_some();
                inputs.extend(at);
            }
            // What a function finds lacking shows at the first point already.
            if complete {
                match run(step, &cells, &inputs[first..]) {
                    Ok(value) => cells[own + number] = value,
                    Err(NoValue::NotValid(why)) => {
                        reason = reason.or(Some(why));
                        complete = false;
                    }
                    Err(NoValue::Lacking(names)) => {
                        for (operand, input) in step.operands.iter().zip(step.figure.inputs) {
                            if let (Operand::Root(root), true) = (operand, names.contains(&input.name)) {
                                add(&mut lacking, &[*root]);
                            }
                        }
                        complete = false;
                    }
                }
            }
            steps.push(complete.then_some(Cells { first, len: inputs.len() - first }));
        }
        if !lacking.is_empty() {
            return State::Lacking(lacking);
        }
        if let Some(reason) = reason {
            return State::NotValid(reason);
        }
        if ranged.len() > MOST_RANGES {
            let names: Vec<&str> = ranged.iter().map(|ranged| ranged.name).collect();
            let names = names.join(", ");
            return State::NotValid(format!("it rests on {} ranges ({names}); state single values", ranged.len()));
        }
        let values = &cells[own..own + node.steps.len()];
        if values.iter().any(|value| !value.is_finite()) {
            return not_finite();
        }
        // A step that is not worked out here reads nothing.
        let none = Cells { first: 0, len: 0 };
        let of_steps: Vec<&[Cells]> =
            steps.into_iter().map(|at| at.unwrap_or(none)).map(|at| &inputs[at.first..at.first + at.len]).collect();
        over_corners(node, &of_steps, cells, own, &ranged)
    }
}

/// The range of the last step over every combination of the places of the ranged cells. The cells hold the first one,
/// worked out.
fn over_corners(node: &PointNode, inputs: &[&[Cells]], mut cells: Vec<f64>, own: usize, ranged: &[Ranged]) -> State {
    let last = own + node.steps.len() - 1;
    let (mut lo, mut hi) = (cells[last], cells[last]);
    let mut at = vec![0; ranged.len()];
    // What differs from the combination before; the rest stands.
    let mut moved = vec![false; cells.len()];
    // The next combination, counting like an odometer.
    while let Some(wheel) = (0..at.len()).find(|wheel| at[*wheel] + 1 < ranged[*wheel].places.len()) {
        at[wheel] += 1;
        at[..wheel].fill(0);
        moved.fill(false);
        for (ranged, place) in ranged.iter().zip(&at).take(wheel + 1) {
            cells[ranged.cell] = ranged.places[*place];
            moved[ranged.cell] = true;
        }
        for (number, step) in node.steps.iter().enumerate() {
            if !inputs[number].iter().any(|at| moved[at.first..at.first + at.len].contains(&true)) {
                continue;
            }
            match run(step, &cells, inputs[number]) {
                Ok(value) if !value.is_finite() => return not_finite(),
                Ok(value) => {
                    cells[own + number] = value;
                    moved[own + number] = true;
                }
                Err(NoValue::NotValid(reason)) => return State::NotValid(reason),
                Err(NoValue::Lacking(names)) => {
                    return State::NotValid(format!("{} would be needed somewhere in the range", names.join(", ")));
                }
            }
        }
        lo = lo.min(cells[last]);
        hi = hi.max(cells[last]);
    }
    State::Computed(Quantity::range(lo, hi))
}

fn not_finite() -> State {
    State::NotValid("the value is not finite; check the inputs".to_owned())
}

fn run(step: &super::plan::Step, cells: &[f64], inputs: &[Cells]) -> Result<f64, NoValue> {
    step.figure.value(&Point { cells, inputs, constants: &step.constants })
}

/// A root as its cells were laid out.
#[derive(Debug, Clone, Copy)]
enum Loaded {
    Absent,
    /// One end of it is not declared.
    Open,
    At(Cells),
}

/// What a chain of functions has to read and to do.
struct Asked {
    steps: Vec<Duty>,
    /// By number among the roots of the plan.
    roots: Vec<bool>,
    /// By number among the derived figures of the node.
    derived: Vec<bool>,
}

/// What a step has to do.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Duty {
    /// Nothing: what reads it is known.
    None,
    /// It came to a single value before.
    Known(f64),
    WorkOut,
}

struct Ranged {
    cell: usize,
    name: &'static str,
    places: Vec<f64>,
}

/// The ends of a range, and the breaks inside it from both sides.
fn places(value: Quantity, breaks: &[f64]) -> Vec<f64> {
    let mut places = vec![value.lo, value.hi];
    for at in breaks.iter().filter(|at| value.lo < **at && **at < value.hi) {
        // At a break of 0 the width of the range says how near is near.
        let nudge = 1e-12 * at.abs().max(value.hi - value.lo);
        places.extend([at - nudge, *at, at + nudge]);
    }
    places
}

fn add(list: &mut Vec<usize>, more: &[usize]) {
    for root in more {
        if !list.contains(root) {
            list.push(*root);
        }
    }
}
