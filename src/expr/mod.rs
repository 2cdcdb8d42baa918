//! The rule language: text to a checked, compiled program, its evaluation, and the explanation of an outcome.
//!
//! `parse` (grammar) -> `check` (names, types) -> `compile` (operations) happen once, when packs load; `evaluate` runs
//! for every submittal; `explain` walks a bad outcome again to say which values decided it. `rule` calls the first
//! three, `review` the last two.

mod ast;
mod binders;
mod call;
mod check;
mod check_call;
mod checked;
mod compare;
mod compile;
mod each;
mod error;
mod evaluate;
mod evaluate_list;
mod explain;
mod figure;
mod parse;
mod program;
mod relation;
mod resolve;
mod resolve_figure;
mod scope;
mod text_key;
mod truth;
mod ty;
mod value;
mod wait;

pub use ast::{Arithmetic, Binder, Comparison, Expr, Function, ListFunction, Node};
pub use binders::Binders;
pub use check::Checker;
pub use checked::{Checked, CheckedNode};
pub use each::{Each, parse_each};
pub use error::ExprError;
pub use evaluate::{Machine, StandsAt, shown};
pub use explain::{Blame, FailsAt, Seen, Step};
pub use figure::{FigureRef, Part, RootRef};
pub use parse::{KEYWORDS, MAX_BYTES, MAX_DEPTH, ROOTS, parse};
pub use program::{Absent, Compiled, Op, OpId, Operands, Over, Program};
pub use resolve_figure::{ELEMENT_LISTS, Element, NoField};
pub use scope::{BinderId, Bound, Constant, DOCUMENT, FieldRef, GATE, KeyType, PackNames, Scope, Table, TableRow};
pub use truth::Truth;
pub use ty::Type;
pub use value::{TextAt, Value};
pub use wait::{Assumable, Assumed, NoneCounts, Waiting};
