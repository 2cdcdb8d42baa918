//! Checked expressions to operations.
//!
//! Called by the rule loader once per expression; the program grows, and an operation that is there already is used
//! again.

use super::ast::{Arithmetic, Comparison, Function, ListFunction};
use super::checked::{Checked, CheckedNode};
use super::figure::FigureRef;
use super::program::{Absent, Compiled, Op, OpId, Operands, Over, Program};
use super::scope::{BinderId, DOCUMENT, GATE};
use super::truth::Truth;
use super::ty::Type;
use crate::quantity::Quantity;

impl Program {
    /// Compiles an expression, nested in `depth` binders, and notes the operation of each part in it.
    pub fn compile(&mut self, checked: &mut Checked, depth: u16) -> OpId {
        let op = match &mut checked.node {
            CheckedNode::And(parts) => {
                let parts = self.compile_all(parts, depth);
                self.joined(parts, Op::And, Truth::TRUE)
            }
            CheckedNode::Or(parts) => {
                let parts = self.compile_all(parts, depth);
                self.joined(parts, Op::Or, Truth::FALSE)
            }
            CheckedNode::Not(inner) => {
                let inner = self.compile(inner, depth);
                self.add(Op::Not(inner))
            }
            CheckedNode::Compare(comparison, left, right) => {
                let comparison = *comparison;
                let (left, right) = (self.compile(left, depth), self.compile(right, depth));
                self.comparison(comparison, left, right)
            }
            CheckedNode::OneOf { negated, value, set } => {
                let negated = *negated;
                let value = self.compile(value, depth);
                let set = self.compile_all(set, depth);
                let set = self.operands(set);
                let any = self.add(Op::OneOf(value, set));
                if negated { self.add(Op::Not(any)) } else { any }
            }
            CheckedNode::InList { negated, value, list } => {
                let (negated, list) = (*negated, *list);
                let value = self.compile(value, depth);
                let found = self.add(Op::InList(value, list));
                if negated { self.add(Op::Not(found)) } else { found }
            }
            CheckedNode::Arithmetic(operator, left, right) => {
                let operator = *operator;
                let (left, right) = (self.compile(left, depth), self.compile(right, depth));
                self.add(match operator {
                    Arithmetic::Add => Op::Add(left, right),
                    Arithmetic::Subtract => Op::Subtract(left, right),
                    Arithmetic::Multiply => Op::Multiply(left, right),
                    Arithmetic::Divide => Op::Divide(left, right),
                })
            }
            CheckedNode::Negate(inner) => {
                let inner = self.compile(inner, depth);
                self.add(Op::Negate(inner))
            }
            CheckedNode::Number(number) => {
                let index = self.number(*number);
                self.add(Op::Number(index))
            }
            CheckedNode::Choice(symbol) => self.add(Op::Choice(*symbol)),
            CheckedNode::Text(text) => {
                let index = self.text(text);
                self.add(Op::Text(index))
            }
            CheckedNode::Field(field) => self.add(Op::Field(*field, absent(&checked.ty))),
            CheckedNode::Bound(binder) => self.add(Op::Bound(*binder)),
            CheckedNode::Stage => self.add(Op::Stage),
            CheckedNode::Shown(field) => self.add(Op::Shown(*field)),
            CheckedNode::Figure(figure) => {
                let index = self.figure(figure);
                self.add(Op::Figure(index))
            }
            CheckedNode::ShownFigure(figure) => {
                let index = self.figure(figure);
                self.add(Op::ShownFigure(index))
            }
            CheckedNode::ValidFigure(figure) => {
                let index = self.figure(figure);
                self.add(Op::ValidFigure(index))
            }
            CheckedNode::List { function, list, bound, filter, body } => {
                let (function, list, bound) = (*function, *list, *bound);
                self.declare(bound, depth + 1);
                let filter = filter.as_mut().map(|filter| self.compile(filter, depth + 1));
                let body = body.as_mut().map(|body| self.compile(body, depth + 1));
                let over = Over { list, bound, filter, body };
                self.add(Op::List(function, over))
            }
            CheckedNode::Given { field, stand_in } => {
                let value = self.compile(field, depth);
                let stand_in = self.compile(stand_in, depth);
                match field.node {
                    CheckedNode::Field(field) => self.add(Op::Given(field, value, stand_in)),
                    _ => value,
                }
            }
            CheckedNode::Table(table, key) => {
                let table = *table;
                let key = self.compile(key, depth);
                self.add(Op::Table(table, key))
            }
            CheckedNode::Call(function, arguments) => {
                let function = *function;
                let arguments = self.compile_all(arguments, depth);
                self.call(function, &arguments)
            }
            CheckedNode::Wrong => self.add(Op::Truth(Truth::NOT_APPLICABLE)),
        };
        checked.op = op;
        op
    }

    /// A conjunction of conditions compiled before: the pack's `when` and the rule's.
    pub fn both(&mut self, conditions: &[OpId]) -> OpId {
        self.joined(conditions.to_vec(), Op::And, Truth::TRUE)
    }

    fn compile_all(&mut self, parts: &mut [Checked], depth: u16) -> Vec<OpId> {
        parts.iter_mut().map(|part| self.compile(part, depth)).collect()
    }

    fn joined(&mut self, parts: Vec<OpId>, join: fn(Operands) -> Op, empty: Truth) -> OpId {
        match parts.as_slice() {
            [] => self.add(Op::Truth(empty)),
            [one] => *one,
            _ => {
                let operands = self.operands(parts);
                self.add(join(operands))
            }
        }
    }

    fn comparison(&mut self, comparison: Comparison, left: OpId, right: OpId) -> OpId {
        match comparison {
            Comparison::Less => self.add(Op::Less(left, right)),
            Comparison::AtMost => self.add(Op::AtMost(left, right)),
            Comparison::Greater => self.add(Op::Less(right, left)),
            Comparison::AtLeast => self.add(Op::AtMost(right, left)),
            Comparison::Is => self.same(left, right),
            Comparison::IsNot => {
                let same = self.same(left, right);
                self.add(Op::Not(same))
            }
        }
    }

    fn same(&mut self, left: OpId, right: OpId) -> OpId {
        let op = |id: OpId| self.ops[id.0 as usize].op;
        self.add(match (op(left), op(right)) {
            (Op::Field(field, Absent::Choice), Op::Choice(symbol)) => Op::Is(field, symbol),
            _ => Op::Same(left, right),
        })
    }

    fn call(&mut self, function: Function, arguments: &[OpId]) -> OpId {
        match (function, arguments) {
            (Function::Abs, [one, ..]) => self.add(Op::Abs(*one)),
            (Function::Agree, [a, b, t, ..]) => self.add(Op::Agree(*a, *b, *t)),
            (Function::Max, [first, rest @ ..]) => {
                rest.iter().fold(*first, |so_far, next| self.add(Op::Max(so_far, *next)))
            }
            (_, [first, rest @ ..]) => rest.iter().fold(*first, |so_far, next| self.add(Op::Min(so_far, *next))),
            (_, []) => self.add(Op::Truth(Truth::NOT_APPLICABLE)),
        }
    }

    fn add(&mut self, op: Op) -> OpId {
        if let Some(known) = self.known.get(&op) {
            return *known;
        }
        let id = OpId(u32::try_from(self.ops.len()).unwrap_or(u32::MAX));
        let reads = self.reads(op);
        let home = self.deepest(&reads);
        self.ops.push(Compiled { op, home, gives_truth: self.is_truth(op) });
        self.reads.push(reads);
        self.known.insert(op, id);
        id
    }

    /// Whether an operation gives a truth: `judge` of the machine works it out, else `evaluate` does.
    fn is_truth(&self, op: Op) -> bool {
        match op {
            Op::Truth(_) | Op::Shown(_) | Op::ShownFigure(_) | Op::ValidFigure(_) | Op::Not(_) | Op::And(_) => true,
            Op::Or(_) | Op::Less(..) | Op::AtMost(..) | Op::Same(..) | Op::OneOf(..) | Op::InList(..) => true,
            Op::Is(..) => true,
            Op::Agree(..) | Op::Field(_, Absent::Truth) | Op::List(ListFunction::Any | ListFunction::All, _) => true,
            Op::Given(_, value, _) => self.ops[value.0 as usize].gives_truth,
            Op::Number(_) | Op::Choice(_) | Op::Text(_) | Op::Stage | Op::Bound(_) | Op::Field(..) => false,
            Op::Figure(_) | Op::Add(..) | Op::Subtract(..) | Op::Multiply(..) | Op::Divide(..) => false,
            Op::Negate(_) | Op::Min(..) | Op::Max(..) | Op::Abs(_) | Op::Table(..) | Op::List(..) => false,
        }
    }

    /// The deepest of the binders that an operation depends on: its home.
    fn deepest(&self, reads: &[BinderId]) -> BinderId {
        reads.iter().copied().max_by_key(|binder| self.depths[*binder as usize]).unwrap_or(DOCUMENT)
    }

    /// The binders that an operation depends on, itself or through its operands. A function over a list depends on what
    /// its list, its filter and its body do, but for its own element.
    fn reads(&self, op: Op) -> Vec<BinderId> {
        let mut reads = match op {
            Op::Number(_) | Op::Truth(_) | Op::Choice(_) | Op::Text(_) | Op::Stage => Vec::new(),
            Op::Bound(binder) => vec![binder],
            Op::Field(read, _) | Op::Shown(read) | Op::Is(read, _) => vec![read.binder],
            Op::Figure(figure) | Op::ShownFigure(figure) | Op::ValidFigure(figure) => {
                let fields = self.figures[figure as usize].fields();
                fields.map(|field| field.binder).chain([GATE]).collect()
            }
            Op::Given(read, value, stand_in) => self.all_read([value, stand_in], [read.binder]),
            Op::InList(value, list) => self.all_read([value], [list.binder]),
            Op::Not(a) | Op::Negate(a) | Op::Abs(a) | Op::Table(_, a) => self.all_read([a], []),
            Op::And(operands) | Op::Or(operands) => self.all_read(self.operands_of(operands).iter().copied(), []),
            Op::OneOf(value, set) => self.all_read(self.operands_of(set).iter().copied().chain([value]), []),
            Op::Less(a, b)
            | Op::AtMost(a, b)
            | Op::Same(a, b)
            | Op::Add(a, b)
            | Op::Subtract(a, b)
            | Op::Multiply(a, b)
            | Op::Divide(a, b)
            | Op::Min(a, b)
            | Op::Max(a, b) => self.all_read([a, b], []),
            Op::Agree(a, b, c) => self.all_read([a, b, c], []),
            Op::List(_, over) => {
                let mut reads = self.all_read([over.filter, over.body].into_iter().flatten(), [over.list.binder]);
                reads.retain(|binder| *binder != over.bound);
                reads
            }
        };
        reads.sort_unstable();
        reads.dedup();
        reads
    }

    /// Some binders, and what some operations depend on.
    fn all_read<const N: usize>(&self, ops: impl IntoIterator<Item = OpId>, own: [BinderId; N]) -> Vec<BinderId> {
        let below = ops.into_iter().flat_map(|id| self.reads[id.0 as usize].iter().copied());
        own.into_iter().chain(below).collect()
    }

    /// The operands of an `And` or `Or`.
    pub(super) fn operands_of(&self, operands: Operands) -> &[OpId] {
        &self.operands[operands.first as usize..(operands.first + operands.len) as usize]
    }

    fn operands(&mut self, parts: Vec<OpId>) -> Operands {
        if let Some(known) = self.known_operands.get(&parts) {
            return *known;
        }
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let operands = Operands { first: count(self.operands.len()), len: count(parts.len()) };
        self.operands.extend_from_slice(&parts);
        self.known_operands.insert(parts, operands);
        operands
    }

    fn number(&mut self, number: Quantity) -> u32 {
        let next = u32::try_from(self.numbers.len()).unwrap_or(u32::MAX);
        let index = *self.known_numbers.entry([number.lo.to_bits(), number.hi.to_bits()]).or_insert(next);
        if index == next {
            self.numbers.push(number);
        }
        index
    }

    fn figure(&mut self, figure: &FigureRef) -> u32 {
        let known = self.figures.iter().position(|known| known == figure);
        let index = known.unwrap_or_else(|| {
            self.figures.push(figure.clone());
            self.figures.len() - 1
        });
        u32::try_from(index).unwrap_or(u32::MAX)
    }

    fn text(&mut self, text: &str) -> u32 {
        let found = self.texts.iter().position(|known| known == text);
        let index = found.unwrap_or_else(|| {
            self.texts.push(text.to_owned());
            self.texts.len() - 1
        });
        u32::try_from(index).unwrap_or(u32::MAX)
    }
}

fn absent(ty: &Type) -> Absent {
    match ty {
        Type::Truth => Absent::Truth,
        Type::Choice(_) => Absent::Choice,
        Type::Text => Absent::Text,
        Type::Number(_) | Type::Date | Type::Wrong => Absent::Number,
    }
}
