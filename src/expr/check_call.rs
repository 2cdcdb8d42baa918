//! Names and types of calls, and of functions over a list.

use super::ast::{Binder, Expr, Function, ListFunction, Node};
use super::check::Checker;
use super::checked::{Checked, CheckedNode};
use super::error::ExprError;
use super::resolve_figure::names_figure;
use super::scope::{BinderId, Bound, FieldRef, KeyType};
use super::ty::Type;
use crate::quantity::Dimension;
use crate::vocabulary::{FieldKind, ListOf, RecordId, nearest_name};

const WRONG: (CheckedNode, Type) = (CheckedNode::Wrong, Type::Wrong);

impl Checker<'_, '_> {
    /// A list field of records, from its path.
    pub fn list_of_records(&mut self, list: &Expr) -> Option<(FieldRef, RecordId)> {
        let (field, of) = self.list_field(list)?;
        match of {
            ListOf::Record(record) => Some((field, record)),
            ListOf::Choice(_) | ListOf::Text => {
                self.error(&list.span, "the elements of this list have no fields; use `is one of`, or count them");
                None
            }
        }
    }

    fn list_field(&mut self, list: &Expr) -> Option<(FieldRef, ListOf)> {
        let parts = match &list.node {
            Node::Path(parts) => parts.clone(),
            Node::Word(word) => vec![word.clone()],
            _ => {
                self.error(&list.span, "the path of a list is expected");
                return None;
            }
        };
        let field = self.field(list, &parts)?;
        match &self.scope.vocabulary.field(field.record, field.field).kind {
            FieldKind::List(of) => Some((field, of.clone())),
            _ => {
                self.error(&list.span, format!("`{}` is not a list", parts.join(".")));
                None
            }
        }
    }

    /// `is one of LIST`.
    pub(super) fn in_list(&mut self, negated: bool, value: &Expr, list: &Expr) -> (CheckedNode, Type) {
        let Some((field, of)) = self.list_field(list) else {
            return (CheckedNode::Wrong, Type::Truth);
        };
        let (elements, held) = match of {
            ListOf::Choice(symbols) => (Type::Choice(symbols), "choices"),
            ListOf::Text => (Type::Text, "texts"),
            ListOf::Record(_) => {
                let error = ExprError::new(list.span.clone(), "the elements of this list have fields of their own");
                self.errors
                    .push(error.with_help("name an element and ask for a field of it: any(LIST as x, x.field is ...)"));
                return (CheckedNode::Wrong, Type::Truth);
            }
        };
        let value = self.expr_like(value, &elements);
        let fits = match (&elements, &value.ty) {
            (_, Type::Wrong) | (Type::Choice(_), Type::Choice(_)) => true,
            (elements, found) => elements == found,
        };
        if !fits {
            self.error(&value.span, format!("{} is looked for in a list of {held}", value.ty));
            return (CheckedNode::Wrong, Type::Truth);
        }
        if value.ty.never_the_same_choice(&elements) {
            self.error(&value.span, "this has no choice in common with the list, so that it can never be one of it");
            return (CheckedNode::Wrong, Type::Truth);
        }
        (CheckedNode::InList { negated, value: Box::new(value), list: field }, Type::Truth)
    }

    /// `count(L as x where f, e)` and its kin.
    pub(super) fn over_list(
        &mut self,
        expr: &Expr,
        function: ListFunction,
        list: &Expr,
        binder: Option<&Binder>,
        filter: Option<&Expr>,
        body: Option<&Expr>,
    ) -> (CheckedNode, Type) {
        let Some(name) = binder else {
            if function != ListFunction::Count {
                self.error(&expr.span, format!("`{0}` needs `as NAME`: {0}(list as x, ...)", function.name()));
                return WRONG;
            }
            let Some((field, _)) = self.list_field(list) else {
                return WRONG;
            };
            let bound = self.binder_of(field);
            let node = CheckedNode::List { function, list: field, bound, filter: None, body: None };
            return (node, Type::Number(Dimension::NONE));
        };
        let found = self.list_field(list).map(|(field, of)| (field, self.binder_of(field), of));
        if self.scope.find(&name.name).is_some() {
            self.error(&name.span, format!("`{}` is bound already; take another name", name.name));
        }
        let meaning = match &found {
            Some((_, bound, ListOf::Record(record))) => Bound::Record(*bound, *record),
            Some((_, bound, ListOf::Choice(symbols))) => Bound::Choice(*bound, symbols.clone()),
            Some((_, bound, ListOf::Text)) => Bound::Text(*bound),
            None => Bound::Wrong,
        };
        let (filter, body) = self.with_bound(&name.name, meaning, |this| {
            let filter = filter.map(|filter| Box::new(this.truth(filter)));
            (filter, body.map(|body| Box::new(this.expr(body))))
        });
        let ty = self.list_type(expr, function, body.as_deref());
        match (found, ty) {
            (Some((list, bound, _)), Some(ty)) => (CheckedNode::List { function, list, bound, filter, body }, ty),
            (_, ty) => (CheckedNode::Wrong, ty.unwrap_or(Type::Wrong)),
        }
    }

    /// The number for the elements of a list that a function here runs over.
    fn binder_of(&mut self, list: FieldRef) -> BinderId {
        self.binders.of_list(list, self.scope.bound.len())
    }

    fn list_type(&mut self, expr: &Expr, function: ListFunction, body: Option<&Checked>) -> Option<Type> {
        let name = function.name();
        match (function, body) {
            (ListFunction::Count, None) => Some(Type::Number(Dimension::NONE)),
            (ListFunction::Count, Some(body)) => {
                self.error(&body.span, "`count` takes no value; say which elements with `where`");
                None
            }
            (ListFunction::Any, None) => Some(Type::Truth),
            (ListFunction::Any | ListFunction::All, Some(body)) => {
                self.expect_truth(body, &format!("a condition in `{name}`"));
                Some(Type::Truth)
            }
            (_, None) => {
                self.error(&expr.span, format!("`{name}` needs a value per element: {name}(list as x, x.field)"));
                None
            }
            (ListFunction::Sum | ListFunction::Min | ListFunction::Max, Some(body)) => match &body.ty {
                Type::Number(_) | Type::Wrong => Some(body.ty.clone()),
                other => {
                    self.error(&body.span, format!("a number is expected in `{name}`, {other} is found"));
                    None
                }
            },
            (ListFunction::Distinct, Some(body)) => {
                if body.ty == Type::Truth {
                    self.error(&body.span, "a choice, text or number is expected in `distinct`");
                    return None;
                }
                Some(Type::Number(Dimension::NONE))
            }
        }
    }

    /// A function of values.
    pub(super) fn call(&mut self, expr: &Expr, function: Function, arguments: &[Expr]) -> (CheckedNode, Type) {
        let (least, most) = match function {
            Function::Min | Function::Max => (2, usize::MAX),
            Function::Abs | Function::Shown | Function::Valid => (1, 1),
            Function::Given | Function::Table => (2, 2),
            Function::Agree => (3, 3),
        };
        if arguments.len() < least || arguments.len() > most {
            let expected = if most == usize::MAX { format!("{least} or more") } else { least.to_string() };
            let name = function.name();
            self.error(&expr.span, format!("`{name}` takes {expected} values; {} found", arguments.len()));
            return WRONG;
        }
        match function {
            Function::Shown => self.shown(&arguments[0]),
            Function::Valid => match &arguments[0].node {
                Node::Path(parts) if names_figure(parts) => match self.figure(&arguments[0], parts) {
                    Some((figure, _)) => (CheckedNode::ValidFigure(figure), Type::Truth),
                    None => WRONG,
                },
                _ => {
                    self.error(&arguments[0].span, "a figure is expected in `valid`, as in valid(figure.travel)");
                    WRONG
                }
            },
            Function::Given => self.given(&arguments[0], &arguments[1]),
            Function::Table => self.table(&arguments[0], &arguments[1]),
            Function::Min | Function::Max | Function::Abs | Function::Agree => self.numbers(expr, function, arguments),
        }
    }

    fn numbers(&mut self, expr: &Expr, function: Function, arguments: &[Expr]) -> (CheckedNode, Type) {
        let arguments: Vec<Checked> = arguments.iter().map(|argument| self.expr(argument)).collect();
        let mut ty = Type::Wrong;
        for argument in &arguments {
            match (&ty, &argument.ty) {
                (_, Type::Wrong) => return WRONG,
                (Type::Wrong, Type::Number(_)) => ty = argument.ty.clone(),
                (known, found) if known == found => {}
                (Type::Wrong, found) => {
                    self.error(
                        &argument.span,
                        format!("a number is expected in `{}`, {found} is found", function.name()),
                    );
                    return WRONG;
                }
                (known, found) => {
                    let message = format!("`{}` takes values of one kind: {known} and {found} found", function.name());
                    self.error(&expr.span, message);
                    return WRONG;
                }
            }
        }
        let result = if function == Function::Agree { Type::Truth } else { ty };
        (CheckedNode::Call(function, arguments), result)
    }

    fn shown(&mut self, argument: &Expr) -> (CheckedNode, Type) {
        let parts = match &argument.node {
            Node::Path(parts) => parts.clone(),
            Node::Word(word) => vec![word.clone()],
            _ => {
                self.error(&argument.span, "the path of a field is expected in `shown`");
                return WRONG;
            }
        };
        if names_figure(&parts) {
            return match self.figure(argument, &parts) {
                Some((figure, _)) => (CheckedNode::ShownFigure(figure), Type::Truth),
                None => WRONG,
            };
        }
        match self.field(argument, &parts) {
            Some(field) => (CheckedNode::Shown(field), Type::Truth),
            None => WRONG,
        }
    }

    fn given(&mut self, field: &Expr, stand_in: &Expr) -> (CheckedNode, Type) {
        let field = self.expr(field);
        if !matches!(field.node, CheckedNode::Field(_) | CheckedNode::Wrong) {
            self.error(&field.span, "the path of a field is expected in `given`");
            return WRONG;
        }
        let stand_in = match (&stand_in.node, &field.ty) {
            (Node::Word(word), _) if self.scope.find(word).is_none() => self.constant_like(stand_in, &field.ty),
            _ => self.expr(stand_in),
        };
        let fits = match (&field.ty, &stand_in.ty) {
            (Type::Wrong, _) | (_, Type::Wrong) => return WRONG,
            (Type::Choice(_), Type::Choice(_)) => true,
            (a, b) => a == b,
        };
        if !fits {
            let message = format!("{} is expected in place of the field, {} is found", field.ty, stand_in.ty);
            self.error(&stand_in.span, message);
            return WRONG;
        }
        let ty = field.ty.clone();
        (CheckedNode::Given { field: Box::new(field), stand_in: Box::new(stand_in) }, ty)
    }

    fn table(&mut self, name: &Expr, key: &Expr) -> (CheckedNode, Type) {
        let key = self.expr(key);
        let Node::Word(word) = &name.node else {
            self.error(&name.span, "the name of a table of this pack is expected");
            return WRONG;
        };
        let Some(index) = self.scope.pack.tables.get(word).copied() else {
            let known: Vec<&str> = self.scope.pack.tables.keys().map(String::as_str).collect();
            let error = ExprError::new(name.span.clone(), format!("this pack has no table `{word}`"));
            self.errors.push(match nearest_name(word, known.iter().copied()) {
                Some(near) => error.with_help(format!("did you mean `{near}`?")),
                None => error,
            });
            return WRONG;
        };
        let table = &self.scope.tables[index as usize];
        let value = Type::Number(table.value);
        let fits = match (&table.key, &key.ty) {
            (_, Type::Wrong) => return WRONG,
            (KeyType::Number(expected), Type::Number(found)) => expected == found,
            (KeyType::Choice, Type::Choice(symbols)) => {
                let covered = |symbol| table.rows.iter().any(|row| row.choice == Some(symbol));
                let missing: Vec<&str> = symbols
                    .iter()
                    .filter(|symbol| !covered(**symbol))
                    .map(|symbol| self.scope.vocabulary.symbol_name(*symbol))
                    .collect();
                if !missing.is_empty() {
                    self.error(&key.span, format!("table `{word}` has no row for {}", missing.join(", ")));
                    return WRONG;
                }
                true
            }
            _ => false,
        };
        if !fits {
            let expected = match table.key {
                KeyType::Number(dimension) => dimension.to_string(),
                KeyType::Choice => "a choice".to_owned(),
            };
            self.error(&key.span, format!("table `{word}` is looked up by {expected}; {} is found", key.ty));
            return WRONG;
        }
        (CheckedNode::Table(index, Box::new(key)), value)
    }
}
