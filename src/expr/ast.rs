//! The syntax tree of an expression, as written: nothing is resolved yet.
//!
//! Made by `parse`, consumed by `check`. `Display` prints it with every operator in front, for tests of the grammar.

use std::fmt;
use std::ops::Range;

use crate::quantity::RuleNumber;

/// An expression with its place in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Expr {
    /// Bytes of the text.
    pub span: Range<usize>,
    /// What it is.
    pub node: Node,
}

/// Comparison operators.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Comparison {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    Greater,
    /// `>=`
    AtLeast,
    /// `is`
    Is,
    /// `is not`
    IsNot,
}

/// Arithmetic operators.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Arithmetic {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

/// Functions over a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ListFunction {
    /// How many elements.
    Count,
    /// Whether one element holds.
    Any,
    /// Whether every element holds.
    All,
    /// Sum of the bodies.
    Sum,
    /// Least body.
    Min,
    /// Largest body.
    Max,
    /// How many different bodies.
    Distinct,
}

/// Functions of values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Function {
    /// Least of two or more.
    Min,
    /// Largest of two or more.
    Max,
    /// Magnitude.
    Abs,
    /// Whether two values agree within a tolerance.
    Agree,
    /// A field, or a stand-in where it is missing.
    Given,
    /// Whether a field or figure is shown.
    Shown,
    /// Whether a figure is within its limits of validity.
    Valid,
    /// A value of a table of the pack.
    Table,
}

impl ListFunction {
    /// Every list function with its name.
    pub const ALL: [(ListFunction, &'static str); 7] = [
        (ListFunction::Count, "count"),
        (ListFunction::Any, "any"),
        (ListFunction::All, "all"),
        (ListFunction::Sum, "sum"),
        (ListFunction::Min, "min"),
        (ListFunction::Max, "max"),
        (ListFunction::Distinct, "distinct"),
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        Self::ALL.iter().find(|(function, _)| *function == self).map_or("", |(_, name)| name)
    }
}

impl Function {
    /// Every function with its name.
    pub const ALL: [(Function, &'static str); 8] = [
        (Function::Min, "min"),
        (Function::Max, "max"),
        (Function::Abs, "abs"),
        (Function::Agree, "agree"),
        (Function::Given, "given"),
        (Function::Shown, "shown"),
        (Function::Valid, "valid"),
        (Function::Table, "table"),
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        Self::ALL.iter().find(|(function, _)| *function == self).map_or("", |(_, name)| name)
    }
}

/// A name that `as` binds.
#[derive(Debug, Clone, PartialEq)]
pub struct Binder {
    /// The name.
    pub name: String,
    /// Where it stands.
    pub span: Range<usize>,
}

/// The kinds of expression.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// All of these.
    And(Vec<Expr>),
    /// One of these.
    Or(Vec<Expr>),
    /// The contrary.
    Not(Box<Expr>),
    /// Two values compared.
    Compare(Comparison, Box<Expr>, Box<Expr>),
    /// A value among others, or (true) not among them.
    OneOf { negated: bool, value: Box<Expr>, set: Vec<Expr> },
    /// A value in a list field, or (true) not in it.
    InList { negated: bool, value: Box<Expr>, list: Box<Expr> },
    /// Two numbers computed with.
    Arithmetic(Arithmetic, Box<Expr>, Box<Expr>),
    /// A number with its sign changed.
    Negate(Box<Expr>),
    /// A number, quantity or date.
    Number(RuleNumber),
    /// A quoted text.
    Text(String),
    /// `gate.leaf.bottom_gap`
    Path(Vec<String>),
    /// A choice, `yes`, `no`, or a bound name.
    Word(String),
    /// `count(list as x where f, e)`
    List { function: ListFunction, list: Box<Expr>, binder: Option<Binder>, filter: Option<Box<Expr>>, body: Option<Box<Expr>> },
    /// `abs(e)`
    Call(Function, Vec<Expr>),
}

impl fmt::Display for Expr {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.node {
            Node::And(parts) => group(f, "and", parts),
            Node::Or(parts) => group(f, "or", parts),
            Node::Not(inner) => write!(f, "(not {inner})"),
            Node::Compare(op, left, right) => {
                let name = match op {
                    Comparison::Less => "<",
                    Comparison::AtMost => "<=",
                    Comparison::Greater => ">",
                    Comparison::AtLeast => ">=",
                    Comparison::Is => "is",
                    Comparison::IsNot => "isnt",
                };
                write!(f, "({name} {left} {right})")
            }
            Node::OneOf { negated, value, set } => {
                write!(f, "({} {value} [", if *negated { "notin" } else { "oneof" })?;
                for (index, item) in set.iter().enumerate() {
                    write!(f, "{}{item}", if index > 0 { " " } else { "" })?;
                }
                f.write_str("])")
            }
            Node::InList { negated, value, list } => {
                write!(f, "({} {value} {list})", if *negated { "notin" } else { "oneof" })
            }
            Node::Arithmetic(op, left, right) => {
                let name = match op {
                    Arithmetic::Add => "+",
                    Arithmetic::Subtract => "-",
                    Arithmetic::Multiply => "*",
                    Arithmetic::Divide => "/",
                };
                write!(f, "({name} {left} {right})")
            }
            Node::Negate(inner) => write!(f, "(neg {inner})"),
            Node::Number(number) => write!(f, "{number}"),
            Node::Text(text) => write!(f, "\"{text}\""),
            Node::Path(parts) => f.write_str(&parts.join(".")),
            Node::Word(word) => f.write_str(word),
            Node::List { function, list, binder, filter, body } => {
                write!(f, "({} {list}", function.name())?;
                if let Some(binder) = binder {
                    write!(f, " as {}", binder.name)?;
                }
                if let Some(filter) = filter {
                    write!(f, " where {filter}")?;
                }
                if let Some(body) = body {
                    write!(f, " : {body}")?;
                }
                f.write_str(")")
            }
            Node::Call(function, arguments) => group(f, function.name(), arguments),
        }
    }
}

fn group(f: &mut fmt::Formatter<'_>, name: &str, parts: &[Expr]) -> fmt::Result {
    write!(f, "({name}")?;
    for part in parts {
        write!(f, " {part}")?;
    }
    f.write_str(")")
}
