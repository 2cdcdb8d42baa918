//! Names and types: a syntax tree to a checked expression, every error in one pass.
//!
//! Wrong dimension cannot happen at run time: what passes here evaluates. A part that is wrong gets the type
//! [`Type::Wrong`], which fits everywhere, so that one mistake gives one message.

use super::ast::{Arithmetic, Comparison, Expr, Node};
use super::binders::Binders;
use super::checked::{Checked, CheckedNode};
use super::error::ExprError;
use super::scope::{BinderId, Bound, GATE, Scope};
use super::ty::Type;
use crate::quantity::{Dimension, Quantity};

/// What the check of one expression found.
#[derive(Debug)]
pub struct Checker<'s, 'a> {
    /// Names in sight.
    pub scope: &'s mut Scope<'a>,
    /// Numbers for what `as` binds.
    pub(super) binders: &'s mut Binders,
    /// Errors so far.
    pub errors: Vec<ExprError>,
    /// Doubtful but allowed: a field twice in one comparison.
    pub warnings: Vec<ExprError>,
    /// Whether the gate was named.
    pub uses_gate: bool,
    /// Whether the list of all gates was named.
    pub uses_gates: bool,
}

impl<'s, 'a> Checker<'s, 'a> {
    /// A checker over a scope.
    pub fn new(scope: &'s mut Scope<'a>, binders: &'s mut Binders) -> Self {
        Checker { scope, binders, errors: Vec::new(), warnings: Vec::new(), uses_gate: false, uses_gates: false }
    }

    /// Checks an expression that must be a condition.
    pub fn condition(&mut self, expr: &Expr) -> Checked {
        self.whole(|this| this.truth(expr))
    }

    /// Checks an expression of any type.
    pub fn value(&mut self, expr: &Expr) -> Checked {
        self.whole(|this| this.expr(expr))
    }

    /// A whole expression. A part that is wrong would make its rule apply nowhere, so that none gets through unsaid.
    fn whole(&mut self, check: impl FnOnce(&mut Self) -> Checked) -> Checked {
        let known = self.errors.len();
        let checked = check(self);
        if let (true, Some(wrong)) = (self.errors.len() == known, checked.first_wrong()) {
            self.error(&wrong.span, "this part has no value where it stands; write the condition another way");
        }
        checked
    }

    /// A part that must be a condition.
    pub(super) fn truth(&mut self, expr: &Expr) -> Checked {
        let checked = self.expr(expr);
        self.expect_truth(&checked, "a condition");
        checked
    }

    /// Checks a part of any type.
    pub fn expr(&mut self, expr: &Expr) -> Checked {
        let (node, ty) = self.node(expr);
        Checked::new(expr.span.clone(), ty, node)
    }

    fn node(&mut self, expr: &Expr) -> (CheckedNode, Type) {
        match &expr.node {
            Node::And(parts) => (CheckedNode::And(self.conditions(parts, "and")), Type::Truth),
            Node::Or(parts) => (CheckedNode::Or(self.conditions(parts, "or")), Type::Truth),
            Node::Not(inner) => {
                let inner = self.expr(inner);
                self.expect_truth(&inner, "a condition after `not`");
                (CheckedNode::Not(Box::new(inner)), Type::Truth)
            }
            Node::Compare(op, left, right) => self.comparison(expr, *op, left, right),
            Node::OneOf { negated, value, set } => self.one_of(*negated, value, set),
            Node::InList { negated, value, list } => self.in_list(*negated, value, list),
            Node::Arithmetic(op, left, right) => self.arithmetic(expr, *op, left, right),
            Node::Negate(inner) => {
                let inner = self.expr(inner);
                let ty = inner.ty.clone();
                if !matches!(ty, Type::Number(_) | Type::Wrong) {
                    self.error(&inner.span, format!("a number is expected after `-`, {ty} is found"));
                    return (CheckedNode::Wrong, Type::Wrong);
                }
                (CheckedNode::Negate(Box::new(inner)), ty)
            }
            Node::Number(number) => {
                let ty = if number.is_date { Type::Date } else { Type::Number(number.dimension) };
                (CheckedNode::Number(Quantity::range(number.lo, number.hi)), ty)
            }
            Node::Text(text) => (CheckedNode::Text(text.clone()), Type::Text),
            Node::Path(parts) => self.path(expr, parts),
            Node::Word(word) => self.word(expr, word),
            Node::List { function, list, binder, filter, body } => {
                self.over_list(expr, *function, list, binder.as_ref(), filter.as_deref(), body.as_deref())
            }
            Node::Call(function, arguments) => self.call(expr, *function, arguments),
        }
    }

    fn conditions(&mut self, parts: &[Expr], joint: &str) -> Vec<Checked> {
        parts
            .iter()
            .map(|part| {
                let checked = self.expr(part);
                self.expect_truth(&checked, &format!("a condition on each side of `{joint}`"));
                checked
            })
            .collect()
    }

    pub(super) fn expect_truth(&mut self, checked: &Checked, expected: &str) {
        if !matches!(checked.ty, Type::Truth | Type::Wrong) {
            self.error(&checked.span, format!("{expected} is expected, {} is found", checked.ty));
        }
    }

    fn comparison(&mut self, expr: &Expr, op: Comparison, left: &Expr, right: &Expr) -> (CheckedNode, Type) {
        let wrong = (CheckedNode::Wrong, Type::Truth);
        let equality = matches!(op, Comparison::Is | Comparison::IsNot);
        let Some((left, right)) = self.sides(left, right) else {
            return wrong;
        };
        let (left, right) = match (equality, stated_truth(&left), stated_truth(&right)) {
            (true, Some(value), _) => return asked(right.0, value == (op == Comparison::Is)),
            (true, _, Some(value)) => return asked(left.0, value == (op == Comparison::Is)),
            _ => (left.0, right.0),
        };
        let fits = match (&left.ty, &right.ty) {
            (Type::Wrong, _) | (_, Type::Wrong) => return wrong,
            (Type::Number(a), Type::Number(b)) => a == b,
            (Type::Date, Type::Date) => true,
            (Type::Choice(_), Type::Choice(_)) | (Type::Text, Type::Text) => equality,
            _ => false,
        };
        if !fits {
            self.mismatch(expr, equality, &left, &right);
            return wrong;
        }
        if left.ty.never_the_same_choice(&right.ty) {
            self.error(&expr.span, "the two sides have no choice in common, so that they can never be the same");
            return wrong;
        }
        self.warn_repeated(expr, &left, &right);
        (CheckedNode::Compare(op, Box::new(left), Box::new(right)), Type::Truth)
    }

    /// Checks two sides; a bare word takes its meaning from the other side.
    fn sides<'e>(&mut self, left: &'e Expr, right: &'e Expr) -> Option<(Side<'e>, Side<'e>)> {
        let bare = |this: &Self, side: &Expr| match &side.node {
            Node::Word(word) => this.scope.find(word).is_none(),
            Node::Text(_) => true,
            _ => false,
        };
        if bare(self, left) && bare(self, right) {
            self.error(&left.span, "one side of a comparison must name a field");
            return None;
        }
        if bare(self, left) {
            let checked = self.expr(right);
            let other = self.constant_like(left, &checked.ty);
            return Some(((other, left), (checked, right)));
        }
        let checked = self.expr(left);
        let other = if bare(self, right) { self.constant_like(right, &checked.ty) } else { self.expr(right) };
        Some(((checked, left), (other, right)))
    }

    fn one_of(&mut self, negated: bool, value: &Expr, set: &[Expr]) -> (CheckedNode, Type) {
        let value = self.expr(value);
        if value.ty == Type::Truth {
            let error = ExprError::new(value.span.clone(), "yes and no are not asked for as one of a list");
            self.errors.push(error.with_help("write `is yes` or `is no`"));
            return (CheckedNode::Wrong, Type::Truth);
        }
        let set: Vec<Checked> = set.iter().map(|item| self.expr_like(item, &value.ty)).collect();
        for item in &set {
            let fits = match (&value.ty, &item.ty) {
                (Type::Number(a), Type::Number(b)) => a == b,
                (Type::Choice(_), Type::Choice(_)) | (Type::Text, Type::Text) | (Type::Date, Type::Date) => true,
                (Type::Wrong, _) | (_, Type::Wrong) => true,
                _ => false,
            };
            if !fits {
                self.error(&item.span, format!("the list must hold {}s; {} is found", bare_name(&value.ty), item.ty));
            }
        }
        (CheckedNode::OneOf { negated, value: Box::new(value), set }, Type::Truth)
    }

    fn arithmetic(&mut self, expr: &Expr, op: Arithmetic, left: &Expr, right: &Expr) -> (CheckedNode, Type) {
        let (left, right) = (self.expr(left), self.expr(right));
        let mut dimensions = [Dimension::NONE; 2];
        let mut wrong = false;
        for (side, dimension) in [&left, &right].into_iter().zip(&mut dimensions) {
            match &side.ty {
                Type::Number(found) => *dimension = *found,
                Type::Wrong => wrong = true,
                other => {
                    self.error(&side.span, format!("a number is expected to compute with, {other} is found"));
                    wrong = true;
                }
            }
        }
        if wrong {
            return (CheckedNode::Wrong, Type::Wrong);
        }
        let [a, b] = dimensions;
        let dimension = match op {
            Arithmetic::Add | Arithmetic::Subtract if a == b => a,
            Arithmetic::Add | Arithmetic::Subtract => {
                let verb = if op == Arithmetic::Add { "added to" } else { "subtracted from" };
                let error = ExprError::new(expr.span.clone(), format!("{b} cannot be {verb} {a}"));
                self.errors.push(with_unit_hint(error, &left, &right));
                return (CheckedNode::Wrong, Type::Wrong);
            }
            Arithmetic::Multiply => a.times(b),
            Arithmetic::Divide => a.over(b),
        };
        (CheckedNode::Arithmetic(op, Box::new(left), Box::new(right)), Type::Number(dimension))
    }

    fn mismatch(&mut self, expr: &Expr, equality: bool, left: &Checked, right: &Checked) {
        let message = match (&left.ty, &right.ty) {
            (Type::Truth, Type::Truth) if !equality => {
                let error = ExprError::new(expr.span.clone(), "yes and no have no order");
                return self.errors.push(error.with_help("write `is yes` or `is no`"));
            }
            (Type::Choice(_), Type::Choice(_)) | (Type::Text, Type::Text) if !equality => {
                format!("{}s have no order; compare them with `is`", bare_name(&left.ty))
            }
            (a, b) => format!("{a} cannot be compared with {b}"),
        };
        let error = ExprError::new(expr.span.clone(), message);
        self.errors.push(with_unit_hint(error, left, right));
    }

    fn warn_repeated(&mut self, expr: &Expr, left: &Checked, right: &Checked) {
        let mut fields = Vec::new();
        for side in [left, right] {
            measured_fields(side, &mut fields);
        }
        for (index, field) in fields.iter().enumerate() {
            if fields[..index].contains(field) {
                let path = self.path_name(*field);
                self.warnings.push(
                    ExprError::new(
                        expr.span.clone(),
                        format!(
                            "`{path}` stands twice in one comparison; over a range that decides less than it could"
                        ),
                    )
                    .with_help("write the comparison so that it stands there once"),
                );
                return;
            }
        }
    }

    pub(super) fn error(&mut self, at: &std::ops::Range<usize>, message: impl Into<String>) {
        self.errors.push(ExprError::new(at.clone(), message));
    }

    /// Notes which record a field is read from.
    pub(super) fn note_use(&mut self, binder: BinderId) {
        self.uses_gate |= binder == GATE;
    }

    /// Binds a name for the time of a closure.
    pub(super) fn with_bound<T>(&mut self, name: &str, bound: Bound, inner: impl FnOnce(&mut Self) -> T) -> T {
        self.scope.bound.push((name.to_owned(), bound));
        let result = inner(self);
        self.scope.bound.pop();
        result
    }
}

/// A side of a comparison, checked and as written.
type Side<'e> = (Checked, &'e Expr);

/// What a side that is the word `yes` or `no` beside a condition states.
fn stated_truth((checked, written): &Side<'_>) -> Option<bool> {
    match &written.node {
        Node::Word(word) if checked.ty == Type::Truth => yes_no(word),
        _ => None,
    }
}

/// A condition, or its contrary.
fn asked(condition: Checked, holds: bool) -> (CheckedNode, Type) {
    let node = if holds { condition.node } else { CheckedNode::Not(Box::new(condition)) };
    (node, Type::Truth)
}

/// `yes` or `no` as the word of a rule.
pub(super) fn yes_no(word: &str) -> Option<bool> {
    match word {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}

/// The numeric fields that an operand reads, outside the lists that it looks through.
fn measured_fields(part: &Checked, found: &mut Vec<super::scope::FieldRef>) {
    match (&part.node, &part.ty) {
        (CheckedNode::Field(field), Type::Number(_) | Type::Date) => found.push(*field),
        (CheckedNode::List { .. }, _) => {}
        _ => {
            for inner in part.parts() {
                measured_fields(inner, found);
            }
        }
    }
}

/// A type without its article.
fn bare_name(ty: &Type) -> String {
    let name = ty.to_string();
    name.strip_prefix("a ").or_else(|| name.strip_prefix("an ")).map_or(name.clone(), str::to_owned)
}

/// Says to write a unit where one side is a bare number the rule states.
fn with_unit_hint(error: ExprError, left: &Checked, right: &Checked) -> ExprError {
    let stated =
        |side: &Checked| matches!(side.node, CheckedNode::Number(_)) && side.ty == Type::Number(Dimension::NONE);
    if stated(left) || stated(right) {
        return error.with_help("a bare number has no unit: write one, such as 5 in or 0 in");
    }
    error
}
