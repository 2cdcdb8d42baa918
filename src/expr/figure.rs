//! Figures in rules: where each of their roots is read from, and what a figure comes to in the gate at hand.
//!
//! The checker resolves a figure's roots once; the machine reads them and runs the figure; `wait` and `explain` ask which
//! fields stand behind it.

use std::sync::{Arc, OnceLock};

use super::checked::{Checked, CheckedNode};
use super::evaluate::{Machine, shown};
use super::explain::Seen;
use super::program::Program;
use super::scope::{BinderId, FieldRef, GATE};
use crate::figures::{
    Absent, Figure, InputKind, Known, Of, Outcome, Plan, Quick, RootValue, State, Work, all, chosen, evaluate,
    evaluate_again, quick,
};
use crate::quantity::Quantity;
use crate::submittal::Slot;
use crate::vocabulary::{FieldId, Symbol};

/// A figure with the fields that its roots are read from.
#[derive(Debug, Clone)]
pub struct FigureRef {
    /// The figure, down to its roots.
    pub plan: Arc<Plan>,
    /// Where each root is read from, in the order of the plan.
    pub roots: Arc<[RootRef]>,
    /// The binder of its element; that of the gate where it is of the gate.
    pub element: BinderId,
    /// The figures that it reads or is taken from, resolved at its first working.
    pub parts: Arc<OnceLock<Vec<Part>>>,
}

/// A figure that another one reads or is taken from; none where it cannot be read there.
pub type Part = (&'static Figure, Option<FigureRef>);

/// Where a root of a figure is read from.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RootRef {
    /// The fields, the first that is shown being read; none where no field gives it.
    pub fields: Vec<FieldRef>,
    /// The choices of the figure, in its order.
    pub symbols: Vec<Symbol>,
    /// The fields of a list's elements, column by column.
    pub columns: Vec<FieldId>,
    /// The number of the choice that stands for the list of the element, which has no such field.
    pub of_list: Option<u8>,
}

impl PartialEq for FigureRef {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self.plan.figure, other.plan.figure) && self.roots == other.roots
    }
}

impl FigureRef {
    /// Whether it may put an assumed value in place of a missing input.
    pub fn assumes(&self) -> bool {
        self.plan.roots.iter().any(|input| matches!(input.absent, Absent::Assume(..)))
    }

    /// Whether its value is always that of one of its fields.
    pub fn is_choice(&self) -> bool {
        matches!(self.plan.figure.work, Work::Chosen(_))
    }

    /// The figures that it reads or is taken from; `resolve` is asked once for each.
    pub fn parts(&self, resolve: impl Fn(&'static Figure) -> Option<FigureRef>) -> &[Part] {
        self.parts.get_or_init(|| self.plan.figure.parts().map(|part| (part, resolve(part))).collect())
    }

    /// Every field that it may read.
    pub fn fields(&self) -> impl Iterator<Item = FieldRef> + '_ {
        self.roots.iter().flat_map(|root| root.fields.iter().copied())
    }
}

/// What a figure of the rules came to, without the words.
#[derive(Debug, Clone, Copy)]
pub(super) enum Came {
    Computed(Quantity),
    Bounded(Quantity),
    Lacking,
    NotValid,
    /// Ranges stand where single values are needed.
    OverRange,
}

/// What figures came to at the gate and elements at hand. Each is kept with the turn of its binder, like a cell.
#[derive(Debug, Default)]
pub(super) struct Kept {
    /// Of the figures that rules read, by their index.
    read: Vec<(u32, Option<Came>)>,
    /// Of the figures below them, the short way: by binder and by number among all figures.
    below: Vec<Vec<(u32, Option<Quick>)>>,
    /// The same the long way, where it gave a range.
    ranges: Vec<Vec<(u32, Option<Quantity>)>>,
}

impl Kept {
    pub(super) fn of(program: &Program) -> Kept {
        let binders = program.depths.len();
        Kept {
            read: vec![(0, None); program.figures.len()],
            below: vec![Vec::new(); binders],
            ranges: vec![Vec::new(); binders],
        }
    }
}

/// The short way for one figure of a machine.
struct Short<'s, 'a> {
    machine: &'s Machine<'a>,
    figure: &'s FigureRef,
    kept: &'s mut Kept,
}

impl Short<'_, '_> {
    fn place(&self, of: Of) -> (usize, u32) {
        let binder = if of == Of::Gate { GATE } else { self.figure.element };
        (binder as usize, self.machine.turn_of(binder))
    }
}

impl Known for Short<'_, '_> {
    fn root(&mut self, root: usize) -> RootValue {
        self.machine.root_value(&self.figure.roots[root], self.figure.plan.roots[root].kind)
    }

    fn before(&self, figure: usize, of: Of) -> Option<Quick> {
        let (binder, now) = self.place(of);
        kept_at(&self.kept.below[binder], figure, now)
    }

    fn keep(&mut self, figure: usize, of: Of, quick: Quick) {
        let (binder, now) = self.place(of);
        keep_at(&mut self.kept.below[binder], figure, now, quick);
    }

    fn range_before(&self, figure: usize, of: Of) -> Option<Quantity> {
        let (binder, now) = self.place(of);
        kept_at(&self.kept.ranges[binder], figure, now)
    }

    fn keep_range(&mut self, figure: usize, of: Of, range: Quantity) {
        let (binder, now) = self.place(of);
        keep_at(&mut self.kept.ranges[binder], figure, now, range);
    }
}

/// What was kept for a figure at this turn.
fn kept_at<T: Copy>(kept: &[(u32, Option<T>)], figure: usize, now: u32) -> Option<T> {
    let (turn, value) = *kept.get(figure)?;
    value.filter(|_| turn == now)
}

/// Keeps something for a figure; room for all of them is made at the first.
fn keep_at<T: Copy>(kept: &mut Vec<(u32, Option<T>)>, figure: usize, now: u32, value: T) {
    if kept.is_empty() {
        kept.resize(all().count(), (0, None));
    }
    if let Some(place) = kept.get_mut(figure) {
        *place = (now, Some(value));
    }
}

impl<'a> Machine<'a> {
    /// What a figure of the rules comes to: the short way, else the long one.
    pub(super) fn figure(&mut self, index: u32) -> Came {
        let figure = &self.program.figures[index as usize];
        let now = self.turn_of(figure.element);
        if let (turn, Some(came)) = self.kept.read[index as usize]
            && turn == now
        {
            return came;
        }
        let mut kept = std::mem::take(&mut self.kept);
        let mut short = Short { machine: self, figure, kept: &mut kept };
        let came = match quick(&figure.plan, &mut short) {
            Quick::Value(value) => Came::Computed(Quantity::point(value)),
            Quick::Lacking => Came::Lacking,
            Quick::Long => match evaluate_again(&figure.plan, &mut short) {
                State::Computed(value) => Came::Computed(value),
                State::Bounded(value, _) => Came::Bounded(value),
                State::Lacking(_) => Came::Lacking,
                State::NotValid(_) => Came::NotValid,
                State::OverRange(_) => Came::OverRange,
            },
        };
        kept.read[index as usize] = (now, Some(came));
        self.kept = kept;
        came
    }

    /// The value of a figure in the gate, and at the element, at hand, where it has one.
    pub fn value_of(&self, figure: &FigureRef) -> Option<Quantity> {
        self.value_at_hand(figure).or_else(|| match self.work_out(figure).state {
            State::Computed(value) => Some(value),
            State::Bounded(..) | State::Lacking(_) | State::NotValid(_) | State::OverRange(_) => None,
        })
    }

    /// The value that it came to on the way to another figure.
    fn value_at_hand(&self, figure: &FigureRef) -> Option<Quantity> {
        let (number, of) = figure.plan.number()?;
        let binder = if of == Of::Gate { GATE } else { figure.element };
        let now = self.turn_of(binder);
        let binder = binder as usize;
        match kept_at(self.kept.below.get(binder)?, number, now) {
            Some(Quick::Value(value)) => Some(Quantity::point(value)),
            _ => kept_at(self.kept.ranges.get(binder)?, number, now),
        }
    }

    /// What a figure comes to in the gate, and at the element, at hand.
    pub fn work_out(&self, figure: &FigureRef) -> Outcome {
        evaluate(&figure.plan, &self.root_values(figure))
    }

    /// The root of a figure that takes the value of one of its fields.
    pub fn chosen_root(&self, figure: &FigureRef) -> Option<usize> {
        figure.is_choice().then(|| chosen(&figure.plan, &self.root_values(figure))).flatten()
    }

    fn root_values(&self, figure: &FigureRef) -> Vec<RootValue> {
        let roots = figure.roots.iter().zip(&figure.plan.roots);
        roots.map(|(root, input)| self.root_value(root, input.kind)).collect()
    }

    /// Why the figure that an expression names does not hold here.
    pub fn not_valid(&self, node: &Checked) -> Option<String> {
        let CheckedNode::Figure(figure) = &node.node else { return None };
        match self.work_out(figure).state {
            State::NotValid(reason) | State::OverRange(reason) => Some(reason),
            State::Computed(_) | State::Bounded(..) | State::Lacking(_) => None,
        }
    }

    /// The field that a root is read from here: the first that is shown, else the last.
    pub fn read_from(&self, root: &RootRef) -> Option<FieldRef> {
        match root.fields[..] {
            [only] => Some(only),
            _ => {
                let first = root.fields.iter().copied().find(|field| shown(self.slot(*field)).is_true());
                first.or(root.fields.last().copied())
            }
        }
    }

    fn root_value(&self, root: &RootRef, kind: InputKind) -> RootValue {
        let number = |number: f64| RootValue::Value(Quantity::point(number));
        let Some(field) = self.read_from(root) else {
            return root.of_list.map_or(RootValue::Absent, |choice| number(f64::from(choice)));
        };
        let position = |symbol: Symbol| root.symbols.iter().position(|known| *known == symbol);
        match (self.slot(field), kind) {
            (Slot::Quantity(quantity, _), _) => RootValue::Value(*quantity),
            (Slot::YesNo(yes), _) => number(f64::from(u8::from(*yes))),
            (Slot::Choice(symbol), _) => position(*symbol).map_or(RootValue::Absent, |at| number(at as f64)),
            (Slot::Choices { first, len }, _) => {
                let listed = &self.records.choices[*first as usize..(*first + *len) as usize];
                let set = listed.iter().filter_map(|(symbol, _)| position(*symbol)).fold(0u32, |set, at| set | 1 << at);
                number(f64::from(set))
            }
            (Slot::Text(node), InputKind::Stated) => {
                let empty = self.tree.text(*node).unwrap_or_default().trim().is_empty();
                if empty { RootValue::Absent } else { number(1.0) }
            }
            (slot @ Slot::Records { .. }, _) => {
                let cells = self.records.list(slot).iter().flat_map(|element| {
                    root.columns.iter().map(|column| match self.records.slot(*element, *column) {
                        Slot::Quantity(quantity, _) => *quantity,
                        _ => Quantity::not_shown(),
                    })
                });
                RootValue::Rows(cells.collect())
            }
            // What was written and could not be read is not the same as what was left out.
            (Slot::Unreadable, _) => RootValue::Value(Quantity::not_shown()),
            _ => RootValue::Absent,
        }
    }

    /// The fields behind a root that are not shown, those of a list's elements one by one.
    pub fn unshown(&self, root: &RootRef) -> Vec<Seen> {
        let Some(field) = self.read_from(root) else { return Vec::new() };
        let seen = self.seen(field);
        let slot = self.slot(field);
        if !matches!(slot, Slot::Records { .. }) {
            return vec![seen];
        }
        let mut found = Vec::new();
        for element in self.records.list(slot) {
            for column in &root.columns {
                let shown =
                    matches!(self.records.slot(*element, *column), Slot::Quantity(quantity, _) if quantity.is_shown());
                if !shown {
                    let record = self.records.record(*element).ty;
                    let field = FieldRef { binder: field.binder, record, field: *column };
                    found.push(Seen { field, record: *element });
                }
            }
        }
        found
    }
}
