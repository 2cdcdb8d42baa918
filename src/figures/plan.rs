//! The graph under a figure: which fields it rests on in the end, and the figures in between, in order.
//!
//! A range is carried from the fields to the result, not from one figure to the next, so that what hangs together stays
//! together. Built once per figure that rules read or a worksheet prints; `evaluate` runs it.

use std::sync::{Arc, OnceLock};

use super::all;
use super::figure::{Figure, Input, Of, Over, Source, Work};

/// A figure with everything that it rests on.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The figure.
    pub figure: &'static Figure,
    /// The inputs that no other figure gives, each once.
    pub roots: Vec<&'static Input>,
    pub(super) node: Node,
}

/// How a figure is worked out from the roots.
#[derive(Debug, Clone)]
pub(super) enum Node {
    Point(PointNode),
    Largest(Vec<Node>),
    Smallest(Vec<Node>),
    Magnitude(Box<Node>),
    Claimed { root: usize, parts: Vec<Node> },
}

/// Functions of points, one after the other; the last gives the figure.
#[derive(Debug, Clone)]
pub(super) struct PointNode {
    pub steps: Vec<Step>,
    /// Figures whose ranges are taken as they come: the largest, smallest or absolute value of others.
    pub derived: Vec<Derived>,
    /// The roots that the steps read, with the values at which the whole changes its course.
    pub roots: Vec<(usize, Course)>,
}

/// A figure whose range is taken as it comes.
#[derive(Debug, Clone)]
pub(super) struct Derived {
    pub figure: &'static Figure,
    pub node: Node,
    /// Values at which what reads it changes its course.
    pub breaks: Vec<f64>,
}

/// What a chain of functions does over a range of one root.
#[derive(Debug, Clone, Default)]
pub(super) struct Course {
    pub breaks: Vec<f64>,
    pub one_value: bool,
    /// No step reads the root itself: only its range matters.
    pub unread: bool,
}

#[derive(Debug, Clone)]
pub(super) struct Step {
    pub figure: &'static Figure,
    /// Its number among all figures.
    pub number: usize,
    pub operands: Vec<Operand>,
    pub constants: Vec<f64>,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Operand {
    Root(usize),
    Derived(usize),
    Step(usize),
}

impl Operand {
    fn root(self) -> Option<usize> {
        match self {
            Operand::Root(root) => Some(root),
            Operand::Derived(_) | Operand::Step(_) => None,
        }
    }
}

impl Plan {
    /// The plan of a figure, down to the fields.
    pub fn of(figure: &'static Figure) -> Plan {
        Plan::with(figure, &|_| false)
    }

    /// The plan of a figure, made once in the program's life.
    pub fn shared(figure: &'static Figure) -> Arc<Plan> {
        static PLANS: OnceLock<Vec<OnceLock<Arc<Plan>>>> = OnceLock::new();
        let plans = PLANS.get_or_init(|| all().map(|_| OnceLock::new()).collect());
        match number(figure).and_then(|number| plans.get(number)) {
            Some(plan) => Arc::clone(plan.get_or_init(|| Arc::new(Plan::of(figure)))),
            None => Arc::new(Plan::of(figure)),
        }
    }

    /// The plan of a figure in which the inputs that `given` takes, its own and those of figures below it, are values,
    /// though another figure could give them.
    pub fn with(figure: &'static Figure, given: &dyn Fn(&Input) -> bool) -> Plan {
        let mut roots = Vec::new();
        let node = node(figure, &mut roots, given);
        Plan { figure, roots, node }
    }
}

impl Plan {
    /// The number of the figure among all, with what it is of, where it is a function of points.
    pub fn number(&self) -> Option<(usize, Of)> {
        let Node::Point(point) = &self.node else { return None };
        point.steps.last().map(|step| (step.number, step.figure.of))
    }
}

/// The number of a figure among all.
fn number(figure: &'static Figure) -> Option<usize> {
    all().position(|known| std::ptr::eq(known, figure))
}

fn node(figure: &'static Figure, roots: &mut Vec<&'static Input>, given: &dyn Fn(&Input) -> bool) -> Node {
    let mut parts = |figures: &[&'static Figure]| -> Vec<Node> {
        figures.iter().map(|figure| node(figure, roots, given)).collect()
    };
    match figure.work {
        Work::Largest(figures) => Node::Largest(parts(figures)),
        Work::Smallest(figures) => Node::Smallest(parts(figures)),
        Work::Magnitude(of) => Node::Magnitude(Box::new(node(of, roots, given))),
        Work::Claimed(cases, figures) => {
            let parts = parts(figures);
            Node::Claimed { root: root(cases, roots), parts }
        }
        Work::Point(_) | Work::Chosen(_) => {
            let mut point = PointNode { steps: Vec::new(), derived: Vec::new(), roots: Vec::new() };
            step(figure, &mut point, roots, given);
            let operands = point.steps.iter().flat_map(|step| &step.operands);
            let read: Vec<usize> = operands.filter_map(|operand| operand.root()).collect();
            for (root, course) in &mut point.roots {
                course.unread = !read.contains(root);
            }
            Node::Point(point)
        }
    }
}

/// Appends the step of a figure after those that it rests on; says which one it is.
fn step(
    figure: &'static Figure,
    point: &mut PointNode,
    roots: &mut Vec<&'static Input>,
    given: &dyn Fn(&Input) -> bool,
) -> usize {
    if let Some(known) = point.steps.iter().position(|step| std::ptr::eq(step.figure, figure)) {
        return known;
    }
    let mut operands = Vec::with_capacity(figure.inputs.len());
    for input in figure.inputs {
        operands.push(match input.source {
            Source::Figure(other) if !given(input) => {
                let operand = match other.work {
                    Work::Point(_) | Work::Chosen(_) => Operand::Step(step(other, point, roots, given)),
                    _ => Operand::Derived(derived(other, input.over, point, roots, given)),
                };
                if input.over == Over::OneValue {
                    for under in Plan::with(other, given).roots {
                        let root = root(under, roots);
                        point.read(root, Over::OneValue);
                    }
                }
                operand
            }
            _ => {
                let root = root(input, roots);
                point.read(root, input.over);
                Operand::Root(root)
            }
        });
    }
    let constants = figure.constants.iter().map(|constant| constant.value).collect();
    let number = number(figure).unwrap_or(usize::MAX);
    point.steps.push(Step { figure, number, operands, constants });
    point.steps.len() - 1
}

fn derived(
    figure: &'static Figure,
    over: Over,
    point: &mut PointNode,
    roots: &mut Vec<&'static Input>,
    given: &dyn Fn(&Input) -> bool,
) -> usize {
    let known = point.derived.iter().position(|derived| std::ptr::eq(derived.figure, figure));
    let at = known.unwrap_or_else(|| {
        let node = node(figure, roots, given);
        point.derived.push(Derived { figure, node, breaks: Vec::new() });
        point.derived.len() - 1
    });
    if let Over::Breaks(breaks) = over {
        point.derived[at].breaks.extend(breaks);
    }
    at
}

/// The root of an input: the same fields, or the same name where no field gives it, are one root.
fn root(input: &'static Input, roots: &mut Vec<&'static Input>) -> usize {
    let same = |known: &&'static Input| {
        known.kind == input.kind
            && match (known.source, input.source) {
                (Source::Fields(a), Source::Fields(b)) => a == b,
                // Given on a command line, where a name stands for one value wherever it is read.
                (Source::Figure(_), Source::Figure(_)) => known.name == input.name,
                (Source::CommandLine, Source::CommandLine) => known.name == input.name,
                _ => false,
            }
    };
    if let Some(known) = roots.iter().position(same) {
        return known;
    }
    roots.push(input);
    roots.len() - 1
}

impl PointNode {
    fn read(&mut self, root: usize, over: Over) {
        let at = match self.roots.iter().position(|(known, _)| *known == root) {
            Some(at) => at,
            None => {
                self.roots.push((root, Course::default()));
                self.roots.len() - 1
            }
        };
        let course = &mut self.roots[at].1;
        match over {
            Over::Monotone => {}
            Over::OneValue => course.one_value = true,
            Over::Breaks(breaks) => {
                let new = breaks.iter().filter(|at| !course.breaks.contains(at)).copied().collect::<Vec<_>>();
                course.breaks.extend(new);
            }
        }
    }
}
