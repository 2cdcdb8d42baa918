//! Walks an open outcome to find the facts it waits for, the values it assumed, and what was stated not applicable.

use super::ast::{Comparison, ListFunction};
use super::checked::{Checked, CheckedNode};
use super::evaluate::{Machine, shown};
use super::explain::Seen;
use super::figure::FigureRef;
use super::program::Op;
use super::scope::{BinderId, FieldRef};
use super::value::Value;
use crate::figures::{Absent, State};
use crate::submittal::Slot;
use crate::vocabulary::Symbol;

/// What an open outcome waits for.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Waiting {
    /// Fields that are not shown.
    pub missing: Vec<Seen>,
    /// Fields that state one end where the other decides.
    pub one_ended: Vec<Seen>,
    /// Fields that were written and could not be read: reported already.
    pub unreadable: Vec<Seen>,
    /// Lists without an element that counts.
    pub empty: Vec<NoneCounts>,
    /// Other reasons: a divisor that can be zero, a key outside its table.
    pub reasons: Vec<String>,
}

impl Waiting {
    /// Whether only unreadable values stand in the way.
    pub fn is_only_unreadable(&self) -> bool {
        let others = [self.missing.len(), self.one_ended.len(), self.empty.len(), self.reasons.len()];
        !self.unreadable.is_empty() && others == [0; 4]
    }
}

/// A list that is shown, of which no element counts.
#[derive(Debug, Clone, PartialEq)]
pub struct NoneCounts {
    /// The list.
    pub list: Seen,
    /// The choices that an element must have to count, as far as the condition consists of such.
    pub wanted: Vec<(FieldRef, Symbol)>,
}

impl NoneCounts {
    fn of(list: Seen, filter: Option<&Checked>) -> NoneCounts {
        let choice = |part: &Checked| match &part.node {
            CheckedNode::Compare(Comparison::Is, left, right) => match (&left.node, &right.node) {
                (CheckedNode::Field(field), CheckedNode::Choice(symbol)) => Some((*field, *symbol)),
                _ => None,
            },
            _ => None,
        };
        let parts = filter.map(Checked::conjuncts).unwrap_or_default();
        NoneCounts { list, wanted: parts.into_iter().filter_map(choice).collect() }
    }
}

/// A value that was assumed, with the field it stands in for and the words for it.
#[derive(Debug, Clone, PartialEq)]
pub enum Assumed {
    /// The rule states it, in these bytes of the expression's text.
    ByRule {
        /// The field that is missing.
        field: Seen,
        /// The part that states it.
        span: std::ops::Range<usize>,
    },
    /// A figure that the rule rests on assumes it.
    ByFigure {
        /// The field that is missing, where the input is read from one.
        field: Option<Seen>,
        /// The name of the input.
        input: &'static str,
        /// The words for the value.
        words: &'static str,
    },
}

/// The values that a condition may assume.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Assumable {
    /// Fields that are read for one another: the value is assumed where none of them is shown.
    fields: Vec<Vec<FieldRef>>,
    /// Those that are assumed for the elements of a list.
    lists: Vec<AssumableInList>,
}

/// What may be assumed for the elements of a list.
#[derive(Debug, Clone, PartialEq)]
struct AssumableInList {
    list: FieldRef,
    bound: BinderId,
    of_element: Assumable,
}

impl Assumable {
    /// Those of a condition.
    pub fn of(condition: &Checked) -> Assumable {
        let mut all = Assumable::default();
        all.add(condition);
        all
    }

    fn add(&mut self, node: &Checked) {
        match &node.node {
            CheckedNode::List { list, bound, .. } => {
                let mut of_element = Assumable::default();
                node.parts().for_each(|part| of_element.add(part));
                if of_element != Assumable::default() {
                    self.lists.push(AssumableInList { list: *list, bound: *bound, of_element });
                }
                return;
            }
            CheckedNode::Given { field, .. } => self.fields.push(field.fields()),
            CheckedNode::Figure(figure) => {
                let roots = figure.roots.iter().zip(&figure.plan.roots);
                let assumed = roots.filter(|(_, input)| matches!(input.absent, Absent::Assume(..)));
                self.fields.extend(assumed.map(|(root, _)| root.fields.clone()));
            }
            _ => {}
        }
        node.parts().for_each(|part| self.add(part));
    }
}

impl Machine<'_> {
    /// Whether a condition assumes something here, for the elements of its lists too, whether they count or not.
    pub fn may_assume(&mut self, assumable: &Assumable) -> bool {
        let stated = |fields: &Vec<FieldRef>| fields.iter().any(|field| shown(self.slot(*field)).is_true());
        if !assumable.fields.iter().all(stated) {
            return true;
        }
        assumable.lists.iter().any(|within| {
            let slot = self.slot(within.list);
            self.moving(within.bound, |machine| {
                (0..slot.list_len().unwrap_or(0)).any(|number| {
                    machine.stand_at(within.bound, machine.element(slot, number));
                    machine.may_assume(&within.of_element)
                })
            })
        })
    }

    /// The facts that an open condition waits for.
    pub fn waiting(&mut self, condition: &Checked) -> Waiting {
        let mut waiting = Waiting::default();
        self.wait(condition, &mut waiting);
        waiting
    }

    /// The values that a condition assumed in place of missing fields.
    pub fn assumed(&mut self, condition: &Checked) -> Vec<Assumed> {
        let mut found = Vec::new();
        self.visit(condition, &|part| part.assumes, &mut |machine, node| {
            if let CheckedNode::Figure(figure) = &node.node {
                found.extend(machine.assumed_by(figure));
            }
            if let CheckedNode::Given { field, stand_in } = &node.node
                && let CheckedNode::Field(field) = field.node
                && machine.slot(field).is_left_out()
                // Another field that is shown is no assumption: the rule reads that one instead.
                && !matches!(stand_in.node, CheckedNode::Field(other) if shown(machine.slot(other)).is_true())
            {
                let span = stand_in.span.clone();
                let assumed = Assumed::ByRule { field: machine.seen(field), span };
                if !found.contains(&assumed) {
                    found.push(assumed);
                }
            }
        });
        found
    }

    /// The inputs that a figure assumes: those that may be assumed and are not shown.
    fn assumed_by(&self, figure: &FigureRef) -> Vec<Assumed> {
        let mut found = Vec::new();
        for (root, input) in figure.roots.iter().zip(&figure.plan.roots) {
            let Absent::Assume(_, words) = input.absent else { continue };
            let field = self.read_from(root);
            let missing = field.is_none_or(|field| self.slot(field).is_left_out());
            if missing {
                let field = field.map(|field| self.seen(field));
                found.push(Assumed::ByFigure { field, input: input.name, words });
            }
        }
        found
    }

    /// The fields that make a condition not applicable, being stated so.
    pub fn not_applicable(&mut self, condition: &Checked) -> Vec<Seen> {
        let mut found = Vec::new();
        self.stated_off(condition, &mut found);
        found
    }

    /// What does apply has no part in it; the elements of a list have none either, whose list would have to be stated so.
    fn stated_off(&mut self, node: &Checked, found: &mut Vec<Seen>) {
        if self.value(node.op) != Value::NotApplicable {
            return;
        }
        let field = match &node.node {
            CheckedNode::Field(field) => Some(*field),
            CheckedNode::List { list, .. } | CheckedNode::InList { list, .. } => Some(*list),
            _ => None,
        };
        if let Some(field) = field.filter(|field| *self.slot(*field) == Slot::NotApplicable) {
            let seen = self.seen(field);
            if !found.contains(&seen) {
                found.push(seen);
            }
        }
        if !matches!(node.node, CheckedNode::List { .. }) {
            node.parts().for_each(|part| self.stated_off(part, found));
        }
    }

    /// Visits every part that `worth` takes, those of list functions in every element.
    fn visit(
        &mut self,
        node: &Checked,
        worth: &impl Fn(&Checked) -> bool,
        visitor: &mut impl FnMut(&mut Self, &Checked),
    ) {
        if !worth(node) {
            return;
        }
        visitor(self, node);
        if let CheckedNode::List { list, bound, .. } = &node.node {
            return self.moving(*bound, |machine| {
                for element in machine.elements_of(*list).unwrap_or_default() {
                    machine.stand_at(*bound, element);
                    for part in node.parts() {
                        machine.visit(part, worth, visitor);
                    }
                }
            });
        }
        for part in node.parts() {
            self.visit(part, worth, visitor);
        }
    }

    fn wait(&mut self, node: &Checked, waiting: &mut Waiting) {
        if is_settled(self.value(node.op)) {
            return;
        }
        match &node.node {
            CheckedNode::Field(field) | CheckedNode::Shown(field) => self.wait_for(*field, waiting),
            CheckedNode::Figure(figure) | CheckedNode::ShownFigure(figure) | CheckedNode::ValidFigure(figure) => {
                let state = self.work_out(figure).state;
                match state {
                    State::Computed(_) => {}
                    State::NotValid(reason) | State::OverRange(reason) => waiting.add_reason(reason),
                    State::Bounded(_, roots) | State::Lacking(roots) => {
                        for root in roots {
                            for seen in self.unshown(&figure.roots[root]) {
                                self.wait_for_input(seen, waiting);
                            }
                        }
                    }
                }
            }
            CheckedNode::Given { field, stand_in } => {
                let CheckedNode::Field(read) = field.node else {
                    return;
                };
                let part = if self.slot(read).is_left_out() { stand_in } else { field };
                self.wait(part, waiting);
            }
            CheckedNode::List { function, list, bound, filter, body } => {
                let Some(elements) = self.elements_of(*list) else { return self.wait_for(*list, waiting) };
                let mut none_counts = elements.is_empty() || matches!(function, ListFunction::Min | ListFunction::Max);
                self.moving(*bound, |machine| {
                    for element in elements {
                        machine.stand_at(*bound, element);
                        let out = filter.as_ref().is_some_and(|filter| machine.truth(filter.op).is_false());
                        none_counts &= out;
                        for part in [filter, body].into_iter().flatten().filter(|_| !out) {
                            machine.wait(part, waiting);
                        }
                    }
                });
                if none_counts {
                    waiting.add_empty(NoneCounts::of(self.seen(*list), filter.as_deref()));
                }
            }
            CheckedNode::Compare(_, left, right) => {
                let mut own = Waiting::default();
                self.wait(left, &mut own);
                self.wait(right, &mut own);
                // A value with one open end may well do once the other side is known; it is asked for after that.
                if !own.missing.is_empty() {
                    own.one_ended.clear();
                }
                waiting.merge(own);
            }
            CheckedNode::InList { value, list, .. } => {
                self.wait(value, waiting);
                self.wait_for(*list, waiting);
            }
            CheckedNode::Table(table, key) => {
                self.wait(key, waiting);
                if is_settled(self.value(key.op)) {
                    let name = &self.program.tables[*table as usize].name;
                    waiting.add_reason(format!("the value lies outside table `{name}`"));
                }
            }
            _ => {
                for part in node.parts() {
                    self.wait(part, waiting);
                }
                let divides = matches!(self.program.ops[node.op.0 as usize].op, Op::Divide(..));
                if divides && node.parts().all(|part| is_settled(self.value(part.op))) {
                    waiting.add_reason("the divisor can be zero".to_owned());
                }
            }
        }
    }

    fn wait_for(&self, field: FieldRef, waiting: &mut Waiting) {
        self.wait_for_seen(self.seen(field), waiting);
    }

    /// Waits for what a figure is worked out from. What is stated not to apply is no value for it either.
    fn wait_for_input(&self, seen: Seen, waiting: &mut Waiting) {
        match self.records.slot(seen.record, seen.field.field) {
            Slot::NotApplicable if !waiting.missing.contains(&seen) => waiting.missing.push(seen),
            _ => self.wait_for_seen(seen, waiting),
        }
    }

    fn wait_for_seen(&self, seen: Seen, waiting: &mut Waiting) {
        let list = match self.records.slot(seen.record, seen.field.field) {
            slot if slot.is_left_out() => &mut waiting.missing,
            Slot::Unreadable => &mut waiting.unreadable,
            Slot::Quantity(quantity, _) if !quantity.is_shown() => &mut waiting.one_ended,
            Slot::Choices { len: 0, .. } => return waiting.add_empty(NoneCounts::of(seen, None)),
            _ => return,
        };
        if !list.contains(&seen) {
            list.push(seen);
        }
    }
}

impl Waiting {
    fn merge(&mut self, other: Waiting) {
        for (into, from) in [
            (&mut self.missing, other.missing),
            (&mut self.one_ended, other.one_ended),
            (&mut self.unreadable, other.unreadable),
        ] {
            for seen in from {
                if !into.contains(&seen) {
                    into.push(seen);
                }
            }
        }
        other.empty.into_iter().for_each(|empty| self.add_empty(empty));
        for reason in other.reasons {
            self.add_reason(reason);
        }
    }

    fn add_empty(&mut self, empty: NoneCounts) {
        if !self.empty.contains(&empty) {
            self.empty.push(empty);
        }
    }

    fn add_reason(&mut self, reason: String) {
        if !self.reasons.contains(&reason) {
            self.reasons.push(reason);
        }
    }
}

/// Whether nothing about a value is open.
fn is_settled(value: Value) -> bool {
    match value {
        Value::NotApplicable => true,
        Value::Number(number) => number.is_shown(),
        Value::Truth(truth) => !truth.is_open(),
        Value::Choice(choice) => choice.is_some(),
        Value::Text(text) => text.is_some(),
    }
}
