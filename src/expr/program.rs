//! The compiled rule set: one flat array of operations, equal sub-expressions shared over all rules.
//!
//! An operation's operands come before it. Each operation belongs to the deepest of the things that it depends on, its
//! home: the document, the gate, the element that `each` or `as` binds. Its value holds until that is moved.

use std::collections::HashMap;

use super::ast::ListFunction;
use super::figure::FigureRef;
use super::scope::{BinderId, FieldRef, Table};
use super::truth::Truth;
use crate::quantity::Quantity;
use crate::vocabulary::Symbol;

/// Number of an operation and of its cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct OpId(pub u32);

impl Default for OpId {
    /// Not compiled yet.
    fn default() -> Self {
        OpId(u32::MAX)
    }
}

/// What a field gives when it is not shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Absent {
    /// Any number from zero up.
    Number,
    /// False or true.
    Truth,
    /// Any choice.
    Choice,
    /// Any text.
    Text,
}

/// A run of operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Operands {
    /// First of `Program::operands`.
    pub first: u32,
    /// How many.
    pub len: u32,
}

/// The range of a function over a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Over {
    /// The list.
    pub list: FieldRef,
    /// The binder that its elements are bound to.
    pub bound: BinderId,
    /// The `where`.
    pub filter: Option<OpId>,
    /// The value per element.
    pub body: Option<OpId>,
}

/// One operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Op {
    /// A number, by index into `Program::numbers`.
    Number(u32),
    /// A truth.
    Truth(Truth),
    /// A choice.
    Choice(Symbol),
    /// A text, by index into `Program::texts`.
    Text(u32),
    /// The stage of the review.
    Stage,
    /// The choice or text that a binder stands at.
    Bound(BinderId),
    /// A field.
    Field(FieldRef, Absent),
    /// Whether a field is shown.
    Shown(FieldRef),
    /// A figure, by index into `Program::figures`.
    Figure(u32),
    /// Whether the inputs of a figure are shown.
    ShownFigure(u32),
    /// Whether a figure is within its limits.
    ValidFigure(u32),
    /// A field, or a stand-in where it is missing.
    Given(FieldRef, OpId, OpId),
    /// A field is a choice.
    Is(FieldRef, Symbol),
    /// Whether a value is one of others.
    OneOf(OpId, Operands),
    /// The contrary.
    Not(OpId),
    /// All of these.
    And(Operands),
    /// One of these.
    Or(Operands),
    /// `a < b`
    Less(OpId, OpId),
    /// `a <= b`
    AtMost(OpId, OpId),
    /// `a is b`
    Same(OpId, OpId),
    /// A value in a list field.
    InList(OpId, FieldRef),
    /// Sum.
    Add(OpId, OpId),
    /// Difference.
    Subtract(OpId, OpId),
    /// Product.
    Multiply(OpId, OpId),
    /// Quotient; unknown where the divisor can be zero.
    Divide(OpId, OpId),
    /// Sign changed.
    Negate(OpId),
    /// Smaller.
    Min(OpId, OpId),
    /// Larger.
    Max(OpId, OpId),
    /// Magnitude.
    Abs(OpId),
    /// Within a tolerance.
    Agree(OpId, OpId, OpId),
    /// A table's value at a key.
    Table(u32, OpId),
    /// A function over a list.
    List(ListFunction, Over),
}

/// An operation with what the evaluator needs to know of it beforehand.
#[derive(Debug, Clone, Copy)]
pub struct Compiled {
    /// The operation.
    pub op: Op,
    /// The deepest binder that it depends on.
    pub home: BinderId,
    /// Whether it gives a truth.
    pub gives_truth: bool,
}

/// A compiled rule set.
#[derive(Debug, Default)]
pub struct Program {
    /// Every operation.
    pub ops: Vec<Compiled>,
    /// Operands of `And` and `Or`.
    pub operands: Vec<OpId>,
    /// Depth of each binder: the document 0, the gate 1, below it as many more as names are bound around it.
    pub depths: Vec<u16>,
    /// Number constants.
    pub numbers: Vec<Quantity>,
    /// Text constants.
    pub texts: Vec<String>,
    /// Figures that rules read.
    pub figures: Vec<FigureRef>,
    /// Tables of all packs.
    pub tables: Vec<Table>,
    /// The binders that each operation depends on, itself or through its operands.
    pub(super) reads: Vec<Vec<BinderId>>,
    pub(super) known: HashMap<Op, OpId>,
    pub(super) known_numbers: HashMap<[u64; 2], u32>,
    pub(super) known_operands: HashMap<Vec<OpId>, Operands>,
}

impl Program {
    /// An empty program with the binders of the document and the gate.
    pub fn new() -> Self {
        Program { depths: vec![0, 1], ..Program::default() }
    }

    /// Makes room for a binder nested at a depth.
    pub fn declare(&mut self, binder: BinderId, depth: u16) {
        let needed = binder as usize + 1;
        if self.depths.len() < needed {
            self.depths.resize(needed, 0);
        }
        self.depths[binder as usize] = depth;
    }
}
