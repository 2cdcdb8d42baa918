//! A chain of functions of points over ranges: every combination of the ends of the ranged fields under it, and of the breaks
//! inside them.
//!
//! A figure that is monotone in each field has its extremes at corners; where it changes course at a known value, that value
//! is looked at from both sides. What no function reads counts for nothing: it is not lacking, its range is no range of the
//! figure, and its limits are not the figure's. A property test draws points inside random boxes and holds every declaration
//! to it. Called by `evaluate`.

use super::evaluate::{RootValue, Roots, Run, State, add};
use super::figure::{Absent, NoValue, Over};
use super::plan::{Operand, PointNode, Step};
use super::point::{Cells, Point};
use super::quick::Quick;
use crate::quantity::Quantity;

/// Ranged values that one figure may rest on; more would cost too many evaluations.
pub const MOST_RANGES: usize = 6;

/// Why there is no value.
#[derive(Debug, Clone)]
enum Stop {
    /// These roots are not shown.
    Lacking(Vec<usize>),
    NotValid(String),
    OverRange(String),
}

impl Stop {
    fn state(self) -> State {
        match self {
            Stop::Lacking(roots) => State::Lacking(roots),
            Stop::NotValid(reason) => State::NotValid(reason),
            Stop::OverRange(reason) => State::OverRange(reason),
        }
    }
}

/// How an operand, or the step that it is, stands.
#[derive(Debug, Clone)]
enum Stand {
    /// In these cells, resting on these ranges, some of which a function refuses; a bit for each.
    At {
        cells: Cells,
        ranges: u64,
        refused: u64,
    },
    /// An optional root that is not shown.
    Left,
    Stopped(Stop),
}

impl Stand {
    fn single(cells: Cells) -> Stand {
        Stand::At { cells, ranges: 0, refused: 0 }
    }
}

/// A cell that holds a range, and the places in it that are looked at.
struct Ranged {
    cell: usize,
    /// What it is called where there are too many.
    name: &'static str,
    /// What is asked for where a single value is needed.
    asked: &'static str,
    places: Vec<f64>,
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

/// What a chain of functions has to read and to do.
struct Asked {
    steps: Vec<Duty>,
    /// By number among the roots of the plan.
    roots: Vec<bool>,
    /// By number among the derived figures of the node.
    derived: Vec<bool>,
}

/// Everything laid out for the functions: the numbers, what they rest on, and where each step finds its inputs.
struct Desk {
    cells: Vec<f64>,
    ranged: Vec<Ranged>,
    /// The cell of the first step; each has one.
    own: usize,
    steps: Vec<Laid>,
    /// How each step stands, by number.
    stands: Vec<Stand>,
}

/// A step with its inputs.
struct Laid {
    works: bool,
    inputs: Vec<Cells>,
    operands: Vec<Stand>,
}

impl Run<'_> {
    pub(super) fn point(&mut self, node: &PointNode) -> State {
        let mut asked = Asked {
            steps: vec![Duty::None; node.steps.len()],
            roots: vec![false; self.plan.roots.len()],
            derived: vec![false; node.derived.len()],
        };
        let last = node.steps.len() - 1;
        self.ask(node, last, &mut asked);
        // One cell is no number: what is not there is found in it.
        let mut desk =
            Desk { cells: vec![f64::NAN], ranged: Vec::new(), own: 0, steps: Vec::new(), stands: Vec::new() };
        let roots = self.load_roots(node, &asked, &mut desk);
        let derived = self.load_derived(node, &asked, &mut desk);
        desk.own = desk.cells.len();
        desk.cells.resize(desk.own + node.steps.len(), f64::NAN);
        for (number, step) in node.steps.iter().enumerate() {
            match asked.steps[number] {
                Duty::None => desk.leave(Stand::Left),
                Duty::Known(value) => {
                    desk.cells[desk.own + number] = value;
                    desk.leave(Stand::single(Cells { first: desk.own + number, len: 1 }));
                }
                Duty::WorkOut => {
                    let operands = self.operands(step, &roots, &derived, &mut desk);
                    desk.work_out(step, number, operands);
                }
            }
        }
        match desk.stands[last].clone() {
            Stand::At { ranges, refused, .. } => desk.over_corners(node, ranges, refused).unwrap_or_else(Stop::state),
            Stand::Stopped(stop) => stop.state(),
            Stand::Left => State::NotValid("it was not worked out".to_owned()),
        }
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

    /// How each root of the plan stands; one that is not asked for is left.
    fn load_roots(&mut self, node: &PointNode, asked: &Asked, desk: &mut Desk) -> Vec<Stand> {
        let mut stands = vec![Stand::Left; self.plan.roots.len()];
        for (root, course) in &node.roots {
            if !asked.roots[*root] {
                continue;
            }
            let value = self.roots.value(*root);
            let values = match &*value {
                RootValue::Absent => continue,
                RootValue::Value(value) => std::slice::from_ref(value),
                RootValue::Rows(rows) => rows.as_slice(),
            };
            if values.iter().any(|value| !value.is_shown()) {
                stands[*root] = Stand::Stopped(Stop::Lacking(vec![*root]));
                continue;
            }
            let name = self.plan.roots[*root].name;
            let cells = Cells { first: desk.cells.len(), len: values.len() };
            let ranges = values.iter().fold(0, |ranges, value| ranges | desk.put(*value, [name; 2], &course.breaks));
            stands[*root] = Stand::At { cells, ranges, refused: 0 };
        }
        stands
    }

    fn load_derived(&mut self, node: &PointNode, asked: &Asked, desk: &mut Desk) -> Vec<Stand> {
        let mut stands = Vec::with_capacity(node.derived.len());
        for (part, asked) in node.derived.iter().zip(&asked.derived) {
            stands.push(if !asked {
                Stand::Left
            } else {
                match self.node(&part.node) {
                    State::Computed(value) => {
                        let cells = Cells { first: desk.cells.len(), len: 1 };
                        let names = [part.figure.name, self.ranged_root_under(node).unwrap_or(part.figure.name)];
                        Stand::At { cells, ranges: desk.put(value, names, &part.breaks), refused: 0 }
                    }
                    State::Bounded(_, roots) | State::Lacking(roots) => Stand::Stopped(Stop::Lacking(roots)),
                    State::NotValid(reason) => Stand::Stopped(Stop::NotValid(reason)),
                    State::OverRange(reason) => Stand::Stopped(Stop::OverRange(reason)),
                }
            });
        }
        stands
    }

    /// The first root with a range among those that matter by their range alone: nobody can state a figure.
    fn ranged_root_under(&mut self, node: &PointNode) -> Option<&'static str> {
        let under = node.roots.iter().filter(|(_, course)| course.unread && course.one_value);
        for (root, _) in under {
            let value = self.roots.value(*root);
            let ranged = match &*value {
                RootValue::Absent => false,
                RootValue::Value(value) => value.is_shown() && !value.is_point(),
                RootValue::Rows(rows) => rows.iter().any(|value| value.is_shown() && !value.is_point()),
            };
            if ranged {
                return Some(self.plan.roots[*root].name);
            }
        }
        None
    }

    /// How the inputs of a step stand, with what is assumed for those that are not shown.
    fn operands(&mut self, step: &Step, roots: &[Stand], derived: &[Stand], desk: &mut Desk) -> Vec<Stand> {
        let mut operands = Vec::with_capacity(step.operands.len());
        for (operand, input) in step.operands.iter().zip(step.figure.inputs) {
            operands.push(match *operand {
                Operand::Derived(number) => derived[number].clone(),
                Operand::Step(number) => desk.stands[number].clone(),
                Operand::Root(root) => match (&roots[root], input.absent) {
                    (Stand::Left, Absent::Assume(value, words)) => {
                        let assumed = (root, words);
                        if !self.assumed.contains(&assumed) {
                            self.assumed.push(assumed);
                        }
                        desk.cells.push(value);
                        Stand::single(Cells { first: desk.cells.len() - 1, len: 1 })
                    }
                    (Stand::Left, Absent::Lacking) => Stand::Stopped(Stop::Lacking(vec![root])),
                    (stand, _) => stand.clone(),
                },
            });
        }
        operands
    }
}

impl Desk {
    /// Puts a value into a cell of its own; says which range it is, if it is one.
    fn put(&mut self, value: Quantity, [name, asked]: [&'static str; 2], breaks: &[f64]) -> u64 {
        let cell = self.cells.len();
        self.cells.push(value.lo);
        if value.is_point() {
            return 0;
        }
        self.ranged.push(Ranged { cell, name, asked, places: places(value, breaks) });
        // Beyond 63 ranges the last bit stands for all that follow; so many are refused.
        1 << (self.ranged.len() - 1).min(63)
    }

    /// A step that is not worked out here.
    fn leave(&mut self, stand: Stand) {
        self.steps.push(Laid { works: false, inputs: Vec::new(), operands: Vec::new() });
        self.stands.push(stand);
    }

    /// Works a step out for the first time, and keeps its inputs for the other corners.
    fn work_out(&mut self, step: &Step, number: usize, operands: Vec<Stand>) {
        let inputs = operands
            .iter()
            .map(|operand| match operand {
                Stand::At { cells, .. } => *cells,
                Stand::Left => Cells { first: 0, len: 0 },
                Stand::Stopped(_) => Cells { first: 0, len: 1 },
            })
            .collect();
        let laid = Laid { works: true, inputs, operands };
        let (value, read) = laid.run(step, &self.cells);
        let stand = match laid.stopped(step, read, &[]) {
            Some(stop) => Stand::Stopped(stop),
            None => match value {
                Ok(value) => {
                    self.cells[self.own + number] = value;
                    let (ranges, refused) = laid.ranges(step, read);
                    Stand::At { cells: Cells { first: self.own + number, len: 1 }, ranges, refused }
                }
                Err(NoValue::NotValid(reason)) => Stand::Stopped(Stop::NotValid(reason)),
                Err(NoValue::Lacking(names)) => Stand::Stopped(Stop::Lacking(step.roots_named(names))),
            },
        };
        self.steps.push(laid);
        self.stands.push(stand);
    }

    /// The range of the last step over every combination of the places of the ranges that it rests on. The cells hold the
    /// first one, worked out.
    fn over_corners(&mut self, node: &PointNode, ranges: u64, refused: u64) -> Result<State, Stop> {
        if ranges == 0 {
            return Ok(State::Computed(Quantity::point(self.cells[self.own + node.steps.len() - 1])));
        }
        let first = self.cells.clone();
        let (mut ranges, mut refused) = (ranges, refused);
        loop {
            self.refuse(ranges, refused)?;
            let (range, more, refused_there) = self.corners(node, ranges)?;
            // A function can take another way at another corner, and read more there.
            if more & !ranges == 0 && refused_there & !refused == 0 {
                return Ok(State::Computed(range));
            }
            ranges |= more;
            refused |= refused_there;
            self.cells.clone_from(&first);
        }
    }

    fn refuse(&self, ranges: u64, refused: u64) -> Result<(), Stop> {
        let of = |bits: u64| self.ranged.iter().enumerate().filter(move |(bit, _)| bits & (1 << (*bit).min(63)) != 0);
        if let Some((_, range)) = of(refused).next() {
            return Err(Stop::OverRange(format!("`{}` is a range; state one value", range.asked)));
        }
        let names: Vec<&str> = of(ranges).map(|(_, range)| range.name).collect();
        if names.len() > MOST_RANGES {
            let all = names.join(", ");
            return Err(Stop::OverRange(format!("it rests on {} ranges ({all}); state single values", names.len())));
        }
        Ok(())
    }

    /// The range, and what all corners together rest on and refuse.
    fn corners(&mut self, node: &PointNode, ranges: u64) -> Result<(Quantity, u64, u64), Stop> {
        let last = self.own + node.steps.len() - 1;
        let ranged: Vec<(usize, Vec<f64>)> = self
            .ranged
            .iter()
            .enumerate()
            .filter(|(bit, _)| ranges & (1 << (*bit).min(63)) != 0)
            .map(|(_, range)| (range.cell, range.places.clone()))
            .collect();
        let mut rests: Vec<(u64, u64)> = self.stands.iter().map(Stand::rests).collect();
        // A step without a value at this corner stops only what reads it.
        let mut failed: Vec<Option<Stop>> = vec![None; node.steps.len()];
        let (mut lo, mut hi) = (self.cells[last], self.cells[last]);
        let (mut all, mut all_refused) = rests[node.steps.len() - 1];
        let mut at = vec![0; ranged.len()];
        // What differs from the combination before; the rest stands.
        let mut moved = vec![false; self.cells.len()];
        // The next combination, counting like an odometer.
        while let Some(wheel) = (0..at.len()).find(|wheel| at[*wheel] + 1 < ranged[*wheel].1.len()) {
            at[wheel] += 1;
            at[..wheel].fill(0);
            moved.fill(false);
            for ((cell, places), place) in ranged.iter().zip(&at).take(wheel + 1) {
                self.cells[*cell] = places[*place];
                moved[*cell] = true;
            }
            for (number, step) in node.steps.iter().enumerate() {
                let laid = &self.steps[number];
                let stands = laid.works && matches!(self.stands[number], Stand::At { .. });
                if !stands || !laid.inputs.iter().any(|at| moved[at.first..at.first + at.len].contains(&true)) {
                    continue;
                }
                let (value, read) = laid.run(step, &self.cells);
                rests[number] = laid.rests_now(step, read, &rests);
                let stop = laid.stopped(step, read, &failed).map(|stop| match stop {
                    Stop::Lacking(_) => Stop::OverRange("what it takes somewhere in the range is not shown".to_owned()),
                    other => other,
                });
                (self.cells[self.own + number], failed[number]) = match (stop, value) {
                    (None, Ok(value)) => (value, None),
                    (Some(stop), _) => (f64::NAN, Some(stop)),
                    (None, Err(NoValue::NotValid(reason))) => (f64::NAN, Some(Stop::NotValid(reason))),
                    (None, Err(NoValue::Lacking(names))) => {
                        let names = names.join(", ");
                        let reason = format!("{names} would be needed somewhere in the range");
                        (f64::NAN, Some(Stop::OverRange(reason)))
                    }
                };
                moved[self.own + number] = true;
            }
            if let Some(stop) = failed[node.steps.len() - 1].take() {
                return Err(stop);
            }
            lo = lo.min(self.cells[last]);
            hi = hi.max(self.cells[last]);
            let (ranges, refused) = rests[node.steps.len() - 1];
            all |= ranges;
            all_refused |= refused;
        }
        Ok((Quantity::range(lo, hi), all, all_refused))
    }
}

impl Stand {
    /// The ranges that it rests on, and those of them that a function refuses.
    fn rests(&self) -> (u64, u64) {
        match self {
            Stand::At { ranges, refused, .. } => (*ranges, *refused),
            Stand::Left | Stand::Stopped(_) => (0, 0),
        }
    }
}

impl Laid {
    /// The function at a corner, and what it read; a value that is not finite is none.
    fn run(&self, step: &Step, cells: &[f64]) -> (Result<f64, NoValue>, u64) {
        let point = Point::new(cells, &self.inputs, &step.constants);
        let value = match step.figure.value(&point) {
            Ok(value) if !value.is_finite() => {
                Err(NoValue::NotValid("the value is not finite; check the inputs".to_owned()))
            }
            other => other,
        };
        (value, point.read())
    }

    /// Why there is no value, where something that was read is not there; `failed` says which steps have none at this corner.
    /// What is not shown is told before what is not valid, and with it every input that the figure cannot do without: a
    /// function that turns back at the first one may need the others too.
    fn stopped(&self, step: &Step, read: u64, failed: &[Option<Stop>]) -> Option<Stop> {
        let stops: Vec<(usize, &Stop)> = self
            .operands
            .iter()
            .enumerate()
            .filter_map(|(input, operand)| match (operand, step.operands[input]) {
                (Stand::Stopped(stop), _) => Some((input, stop)),
                (_, Operand::Step(number)) => Some((input, failed.get(number)?.as_ref()?)),
                _ => None,
            })
            .collect();
        let was_read = |input: usize| read & (1 << input) != 0;
        let mut found = stops.iter().filter(|(input, _)| was_read(*input));
        let first = found.clone().next()?;
        if !found.any(|(_, stop)| matches!(stop, Stop::Lacking(_))) {
            return Some(first.1.clone());
        }
        let mut lacking = Vec::new();
        for (input, stop) in &stops {
            let needed = was_read(*input) || step.figure.inputs[*input].absent != Absent::Optional;
            if let (Stop::Lacking(roots), true) = (stop, needed) {
                add(&mut lacking, roots);
            }
        }
        Some(Stop::Lacking(lacking))
    }

    /// The ranges that what was read rests on, and those that this step or one below refuses.
    fn ranges(&self, step: &Step, read: u64) -> (u64, u64) {
        self.gather(step, read, |_, operand| operand.rests())
    }

    /// The same at another corner, where the steps below may rest on more.
    fn rests_now(&self, step: &Step, read: u64, rests: &[(u64, u64)]) -> (u64, u64) {
        self.gather(step, read, |input, operand| match step.operands[input] {
            Operand::Step(number) => rests[number],
            Operand::Root(_) | Operand::Derived(_) => operand.rests(),
        })
    }

    fn gather(&self, step: &Step, read: u64, rests: impl Fn(usize, &Stand) -> (u64, u64)) -> (u64, u64) {
        let (mut ranges, mut refused) = (0, 0);
        for (number, (operand, input)) in self.operands.iter().zip(step.figure.inputs).enumerate() {
            if read & (1 << number) == 0 {
                continue;
            }
            let (of_input, refused_there) = rests(number, operand);
            ranges |= of_input;
            refused |= refused_there;
            if input.over == Over::OneValue {
                refused |= of_input;
            }
        }
        (ranges, refused)
    }
}

impl Step {
    /// The roots of the inputs with these names.
    fn roots_named(&self, names: &[&str]) -> Vec<usize> {
        let named = self.operands.iter().zip(self.figure.inputs).filter(|(_, input)| names.contains(&input.name));
        named
            .filter_map(|(operand, _)| match operand {
                Operand::Root(root) => Some(*root),
                Operand::Derived(_) | Operand::Step(_) => None,
            })
            .collect()
    }
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
