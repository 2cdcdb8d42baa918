//! Works out operations over one submittal, each when it is asked for and once at each place.
//!
//! The review stands the machine at the document, at each gate and at each element of a list, and asks for what rules
//! say there. A cell keeps the value of an operation together with the turn of the binder that it depends on most deeply:
//! moving a binder gives it a new turn, so that cells of the place before are worked out again when they are asked for.
//! What no rule needs here is never worked out: the requirement of a rule that does not apply, the rest of an `and` that
//! is false already.

use super::ast::ListFunction;
use super::compare;
use super::figure::{Came, Kept};
use super::program::{Absent, Op, OpId, Operands, Program};
use super::scope::{BinderId, FieldRef, KeyType, Table};
use super::text_key::{TextKeys, text_of};
use super::truth::Truth;
use super::value::{TextAt, Value};
use crate::document::{NodeId, Tree};
use crate::quantity::{Quantity, tolerance};
use crate::submittal::{RecordIndex, Records, Slot};
use crate::vocabulary::Symbol;

/// What a binder stands at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StandsAt {
    /// A record.
    Record(RecordIndex),
    /// A choice.
    Choice(Symbol),
    /// A text of a list.
    Text(NodeId),
}

/// The cells of one run, and what its binders stand at.
#[derive(Debug)]
pub struct Machine<'a> {
    /// The rules.
    pub program: &'a Program,
    /// Text of the submittal.
    pub tree: &'a Tree,
    /// Its values.
    pub records: &'a Records,
    /// The stage of the review, as a choice.
    pub stage: Symbol,
    cells: Vec<Cell>,
    truths: Vec<TruthCell>,
    stands: Vec<Stand>,
    /// The last turn that was given out; those of new cells are zero, which none is given.
    last_turn: u32,
    pub(super) kept: Kept,
    keys: TextKeys,
}

/// A value, with the turn of its operation's binder at which it was worked out.
#[derive(Debug, Clone, Copy)]
struct Cell {
    turn: u32,
    value: Value,
}

/// The same for an operation that gives a truth; the value of its `Cell` is not used.
#[derive(Debug, Clone, Copy)]
struct TruthCell {
    turn: u32,
    truth: Truth,
}

/// What a binder stands at, and since which turn.
#[derive(Debug, Clone, Copy)]
struct Stand {
    at: StandsAt,
    turn: u32,
}

impl<'a> Machine<'a> {
    /// A machine for one submittal; every binder stands at the document until it is set.
    pub fn new(program: &'a Program, tree: &'a Tree, records: &'a Records, stage: Symbol) -> Self {
        Machine {
            program,
            tree,
            records,
            stage,
            cells: vec![Cell { turn: 0, value: Value::NotApplicable }; program.ops.len()],
            truths: vec![TruthCell { turn: 0, truth: Truth::NOT_APPLICABLE }; program.ops.len()],
            stands: vec![Stand { at: StandsAt::Record(0), turn: 1 }; program.depths.len()],
            last_turn: 1,
            kept: Kept::of(program),
            keys: TextKeys::default(),
        }
    }

    /// Sets what a binder stands at; everything that depends on it is open again.
    pub fn stand_at(&mut self, binder: BinderId, at: StandsAt) {
        self.last_turn += 1;
        self.stands[binder as usize] = Stand { at, turn: self.last_turn };
    }

    /// The turn of a binder: since when it stands where it does.
    pub(super) fn turn_of(&self, binder: BinderId) -> u32 {
        self.stands[binder as usize].turn
    }

    /// Runs a walk that moves a binder, and puts the binder back to where it stood: someone may be standing in this very
    /// list. What was worked out there, and not again elsewhere since, still holds.
    pub(super) fn moving<T>(&mut self, binder: BinderId, walk: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.stands[binder as usize];
        let found = walk(self);
        self.stands[binder as usize] = before;
        found
    }

    /// The value of an operation at the places where its binders stand.
    pub fn value(&mut self, id: OpId) -> Value {
        let at = id.0 as usize;
        let program = self.program;
        let op = &program.ops[at];
        // What is only read is not kept a second time.
        match op.op {
            Op::Number(index) => return Value::Number(self.program.numbers[index as usize]),
            Op::Choice(symbol) => return Value::Choice(Some(symbol)),
            Op::Field(field, absent) => return load(self.slot(field), absent),
            _ => {}
        }
        if op.gives_truth {
            return as_value(self.truth(id));
        }
        let turn = self.stands[op.home as usize].turn;
        let cell = &self.cells[at];
        if cell.turn == turn {
            return cell.value;
        }
        let value = self.evaluate(&op.op);
        self.cells[at] = Cell { turn, value };
        value
    }

    /// The truth of an operation at the places where its binders stand; of one that gives none, not applicable (the
    /// checker lets no such use through).
    pub fn truth(&mut self, id: OpId) -> Truth {
        let at = id.0 as usize;
        let program = self.program;
        let op = &program.ops[at];
        match op.op {
            Op::Truth(truth) => return truth,
            Op::Shown(field) => return shown(self.slot(field)),
            Op::Is(field, symbol) => return is(self.slot(field), symbol),
            Op::Field(field, absent) => return load(self.slot(field), absent).truth(),
            _ if !op.gives_truth => return Truth::NOT_APPLICABLE,
            _ => {}
        }
        let turn = self.stands[op.home as usize].turn;
        let cell = self.truths[at];
        if cell.turn == turn {
            return cell.truth;
        }
        let truth = self.judge(&op.op);
        self.truths[at] = TruthCell { turn, truth };
        truth
    }

    /// The record that a binder stands at; the document where it stands at a choice.
    pub fn record_at(&self, binder: BinderId) -> RecordIndex {
        match self.stands[binder as usize].at {
            StandsAt::Record(record) => record,
            StandsAt::Choice(_) | StandsAt::Text(_) => 0,
        }
    }

    /// The slot of a field of what its binder stands at.
    pub fn slot(&self, field: FieldRef) -> &'a Slot {
        self.records.slot(self.record_at(field.binder), field.field)
    }

    /// What the elements of a list that is there would be stood at, by number.
    pub(super) fn element(&self, list: &Slot, number: u32) -> StandsAt {
        match *list {
            Slot::Choices { first, .. } => StandsAt::Choice(self.records.choices[(first + number) as usize].0),
            Slot::Texts { first, .. } => StandsAt::Text(self.records.texts[(first + number) as usize]),
            Slot::Records { first, .. } => StandsAt::Record(self.records.elements[(first + number) as usize]),
            _ => StandsAt::Record(0),
        }
    }

    /// The elements of a list, where it is there.
    pub(super) fn elements_of(&self, list: FieldRef) -> Option<Vec<StandsAt>> {
        let slot = self.slot(list);
        slot.list_len().map(|len| (0..len).map(|number| self.element(slot, number)).collect())
    }

    /// The text behind a value.
    pub fn text(&self, text: TextAt) -> &str {
        match text {
            TextAt::Node(node) => text_of(self.tree, node),
            TextAt::Constant(index) => &self.program.texts[index as usize],
        }
    }

    /// Whether two texts are the same, whatever their case and blanks.
    pub(super) fn same_text(&mut self, a: TextAt, b: TextAt) -> bool {
        let mut key = |text| self.keys.key(text, self.tree, &self.program.texts);
        key(a) == key(b)
    }

    /// The value of an operation that gives no truth.
    #[inline(never)] // as for `judge`
    fn evaluate(&mut self, op: &Op) -> Value {
        match *op {
            Op::Text(index) => Value::Text(Some(TextAt::Constant(index))),
            Op::Stage => Value::Choice(Some(self.stage)),
            Op::Bound(binder) => match self.stands[binder as usize].at {
                StandsAt::Text(node) => Value::Text(Some(TextAt::Node(node))),
                StandsAt::Choice(symbol) => Value::Choice(Some(symbol)),
                StandsAt::Record(_) => Value::NotApplicable,
            },
            Op::Figure(index) => Value::Number(match self.figure(index) {
                Came::Computed(value) | Came::Bounded(value) => value,
                Came::Lacking | Came::NotValid | Came::OverRange => Quantity::unknown(),
            }),
            Op::Given(field, value, stand_in) => {
                let id = self.given(field, value, stand_in);
                self.value(id)
            }
            Op::Add(a, b) => self.numbers(a, b, |a, b| Some(a.plus(b))),
            Op::Subtract(a, b) => self.numbers(a, b, |a, b| Some(a.minus(b))),
            Op::Multiply(a, b) => self.numbers(a, b, |a, b| Some(a.times(b))),
            Op::Divide(a, b) => self.numbers(a, b, Quantity::over),
            Op::Min(a, b) => self.numbers(a, b, |a, b| Some(a.min(b))),
            Op::Max(a, b) => self.numbers(a, b, |a, b| Some(a.max(b))),
            Op::Negate(a) => self.numbers(a, a, |a, _| Some(a.negated())),
            Op::Abs(a) => self.numbers(a, a, |a, _| Some(a.abs())),
            Op::Table(table, key) => look_up(&self.program.tables[table as usize], self.value(key)),
            Op::List(function, over) => self.moving(over.bound, |machine| machine.number_over(function, over)),
            // What is only read is read by `value`, what gives a truth is worked out by `judge`.
            Op::Number(_) | Op::Choice(_) | Op::Field(..) => Value::NotApplicable,
            Op::Truth(_) | Op::Shown(_) | Op::ShownFigure(_) | Op::ValidFigure(_) | Op::Not(_) | Op::And(_) => {
                Value::NotApplicable
            }
            Op::Or(_) | Op::Less(..) | Op::AtMost(..) | Op::Same(..) | Op::OneOf(..) | Op::InList(..) => {
                Value::NotApplicable
            }
            Op::Agree(..) | Op::Is(..) => Value::NotApplicable,
        }
    }

    /// The truth of an operation that gives one.
    #[inline(never)] // most truths are read or known, and need none of the room that this takes
    fn judge(&mut self, op: &Op) -> Truth {
        match *op {
            Op::ShownFigure(index) => {
                Truth::known(matches!(self.figure(index), Came::Computed(_) | Came::NotValid | Came::OverRange))
            }
            Op::ValidFigure(index) => match self.figure(index) {
                Came::Computed(_) | Came::Bounded(_) => Truth::TRUE,
                Came::NotValid => Truth::FALSE,
                Came::Lacking | Came::OverRange => Truth::FALSE_OR_TRUE,
            },
            Op::Given(field, value, stand_in) => {
                let id = self.given(field, value, stand_in);
                self.truth(id)
            }
            Op::Not(a) => self.truth(a).not(),
            Op::And(operands) => self.fold(operands, Truth::and, Truth::FALSE),
            Op::Or(operands) => self.fold(operands, Truth::or, Truth::TRUE),
            Op::Less(a, b) => self.compare(a, b, compare::less),
            Op::AtMost(a, b) => self.compare(a, b, compare::at_most),
            Op::Same(a, b) => self.same(a, b),
            Op::OneOf(value, set) => self.one_of(value, set),
            Op::InList(value, list) => self.in_list(value, list),
            Op::Agree(a, b, t) => match (self.value(a), self.value(b), self.value(t)) {
                (Value::Number(a), Value::Number(b), Value::Number(t)) => compare::agree(a, b, t),
                _ => Truth::NOT_APPLICABLE,
            },
            Op::List(function, over) => {
                self.moving(over.bound, |machine| machine.any_or_all(over, function == ListFunction::All))
            }
            // What is only read is read by `truth`, what gives no truth is worked out by `evaluate`.
            Op::Truth(_) | Op::Field(..) | Op::Shown(_) | Op::Is(..) => Truth::NOT_APPLICABLE,
            Op::Number(_) | Op::Choice(_) | Op::Text(_) | Op::Stage | Op::Bound(_) | Op::Figure(_) => {
                Truth::NOT_APPLICABLE
            }
            Op::Add(..) | Op::Subtract(..) | Op::Multiply(..) | Op::Divide(..) | Op::Negate(_) | Op::Min(..) => {
                Truth::NOT_APPLICABLE
            }
            Op::Max(..) | Op::Abs(_) | Op::Table(..) => Truth::NOT_APPLICABLE,
        }
    }

    /// The operation that stands for a field that may be missing.
    fn given(&self, field: FieldRef, value: OpId, stand_in: OpId) -> OpId {
        if self.slot(field).is_left_out() { stand_in } else { value }
    }

    /// Joins truths until one decides.
    fn fold(&mut self, operands: Operands, join: fn(Truth, Truth) -> Truth, decides: Truth) -> Truth {
        let program = self.program;
        let mut joined = Truth::NOT_APPLICABLE;
        for part in program.operands_of(operands) {
            joined = join(joined, self.truth(*part));
            if joined == decides {
                break;
            }
        }
        joined
    }

    fn compare(&mut self, a: OpId, b: OpId, compare: fn(Quantity, Quantity) -> Truth) -> Truth {
        match (self.value(a), self.value(b)) {
            (Value::Number(a), Value::Number(b)) => compare(a, b),
            _ => Truth::NOT_APPLICABLE,
        }
    }

    fn numbers(&mut self, a: OpId, b: OpId, compute: fn(Quantity, Quantity) -> Option<Quantity>) -> Value {
        match (self.value(a), self.value(b)) {
            (Value::Number(a), Value::Number(b)) => Value::Number(compute(a, b).unwrap_or_else(Quantity::unknown)),
            _ => Value::NotApplicable,
        }
    }

    fn same(&mut self, a: OpId, b: OpId) -> Truth {
        let value = self.value(a);
        self.same_as(value, b)
    }

    fn same_as(&mut self, a: Value, b: OpId) -> Truth {
        match (a, self.value(b)) {
            (Value::Number(a), Value::Number(b)) => compare::same(a, b),
            (Value::Choice(Some(a)), Value::Choice(Some(b))) => Truth::known(a == b),
            (Value::Text(Some(a)), Value::Text(Some(b))) => Truth::known(self.same_text(a, b)),
            (Value::Choice(_), Value::Choice(_)) | (Value::Text(_), Value::Text(_)) => Truth::FALSE_OR_TRUE,
            _ => Truth::NOT_APPLICABLE,
        }
    }

    fn one_of(&mut self, value: OpId, set: Operands) -> Truth {
        let program = self.program;
        let value = self.value(value);
        let mut found = Truth::NOT_APPLICABLE;
        for other in program.operands_of(set) {
            let same = match (value, program.ops[other.0 as usize].op) {
                (Value::Choice(Some(symbol)), Op::Choice(choice)) => Truth::known(symbol == choice),
                _ => self.same_as(value, *other),
            };
            found = found.or(same);
            if found.is_true() {
                break;
            }
        }
        found
    }

    fn in_list(&mut self, value: OpId, list: FieldRef) -> Truth {
        let value = self.value(value);
        if value == Value::NotApplicable {
            return Truth::NOT_APPLICABLE;
        }
        match (self.slot(list), value) {
            (Slot::NotApplicable, _) => Truth::NOT_APPLICABLE,
            (Slot::Choices { len: 0, .. } | Slot::Texts { len: 0, .. }, _) => Truth::FALSE,
            (Slot::Choices { first, len }, Value::Choice(Some(symbol))) => {
                let listed = &self.records.choices[*first as usize..(*first + *len) as usize];
                Truth::known(listed.iter().any(|(known, _)| *known == symbol))
            }
            (Slot::Texts { first, len }, Value::Text(Some(text))) => {
                let listed = &self.records.texts[*first as usize..(*first + *len) as usize];
                Truth::known(listed.iter().any(|node| self.same_text(TextAt::Node(*node), text)))
            }
            _ => Truth::FALSE_OR_TRUE,
        }
    }
}

/// A truth as a value: the empty set is not applicable.
pub(super) fn as_value(truth: Truth) -> Value {
    if truth.is_not_applicable() { Value::NotApplicable } else { Value::Truth(truth) }
}

/// Whether a slot holds something its author wrote.
pub fn shown(slot: &Slot) -> Truth {
    match slot {
        slot if slot.is_left_out() => Truth::FALSE,
        Slot::Unreadable => Truth::FALSE_OR_TRUE,
        _ => Truth::TRUE,
    }
}

/// Whether a slot holds a choice.
fn is(slot: &Slot, symbol: Symbol) -> Truth {
    match slot {
        Slot::Choice(choice) => Truth::known(*choice == symbol),
        Slot::NotApplicable => Truth::NOT_APPLICABLE,
        _ => Truth::FALSE_OR_TRUE,
    }
}

fn load(slot: &Slot, absent: Absent) -> Value {
    match (slot, absent) {
        (Slot::NotApplicable, _) => Value::NotApplicable,
        (Slot::Quantity(quantity, _), _) => Value::Number(*quantity),
        (Slot::Choice(symbol), _) => Value::Choice(Some(*symbol)),
        (Slot::YesNo(yes), _) => Value::Truth(Truth::known(*yes)),
        (Slot::Text(node), _) => Value::Text(Some(TextAt::Node(*node))),
        (_, Absent::Number) => Value::Number(Quantity::not_shown()),
        (_, Absent::Truth) => Value::Truth(Truth::FALSE_OR_TRUE),
        (_, Absent::Choice) => Value::Choice(None),
        (_, Absent::Text) => Value::Text(None),
    }
}

/// A table's value: over a ranged key the hull of every row it touches; where any of the key is outside the rows, unknown.
fn look_up(table: &Table, key: Value) -> Value {
    let found = match (table.key, key) {
        (_, Value::NotApplicable) => return Value::NotApplicable,
        (KeyType::Choice, Value::Choice(Some(symbol))) => {
            table.rows.iter().find(|row| row.choice == Some(symbol)).map(|row| row.value)
        }
        // Whatever the choice turns out to be, the value lies among those of the rows.
        (KeyType::Choice, _) => table.rows.iter().map(|row| row.value).reduce(Quantity::hull).map(|every| Quantity {
            lo_declared: false,
            hi_declared: false,
            ..every
        }),
        (KeyType::Number(_), Value::Number(key)) => look_up_range(table, key),
        _ => None,
    };
    Value::Number(found.unwrap_or_else(Quantity::not_shown))
}

fn look_up_range(table: &Table, key: Quantity) -> Option<Quantity> {
    if !key.is_shown() {
        return None;
    }
    let slack = tolerance(key, key);
    let mut found: Option<Quantity> = None;
    let mut below = f64::NEG_INFINITY;
    // How far the rows so far cover the key without a gap.
    let mut covered = key.lo;
    for row in &table.rows {
        let from = row.from.unwrap_or(below);
        // The upper end of a row belongs to it, so a key just above the row before begins here.
        let begins_after = row.from.is_none() && key.hi <= from + slack;
        let begins_late = row.from.is_some() && key.hi < from - slack;
        let ended = key.lo > row.up_to + slack;
        if !(begins_after || begins_late || ended) {
            if from > covered + slack {
                return None;
            }
            covered = row.up_to;
            found = Some(found.map_or(row.value, |so_far| so_far.hull(row.value)));
        }
        below = row.up_to;
    }
    found.filter(|_| key.hi <= covered + slack)
}
