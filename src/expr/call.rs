//! Calls: functions of values, and functions over a list with `as`, `where` and a body.

use super::ast::{Binder, Expr, Function, ListFunction, Node};
use super::parse::{Fault, Grammar, KEYWORDS, ROOTS, Step, fail, skip, word};

impl<'t> Grammar<'t> {
    /// A call, after its opening bracket.
    pub(super) fn call(&self, start: &'t str, name: &'t str, input: &'t str) -> Step<'t, Expr> {
        let over_list = ListFunction::ALL.iter().find(|(_, known)| *known == name).map(|(function, _)| *function);
        let of_values = Function::ALL.iter().find(|(_, known)| *known == name).map(|(function, _)| *function);
        match (over_list, of_values) {
            (None, None) => unknown_function(start, name),
            (Some(function), None) => self.deeper(input, |grammar, input| {
                let (rest, list) = grammar.logic(input)?;
                grammar.over_list(start, function, list, rest)
            }),
            (None, Some(function)) => self.deeper(input, |grammar, input| {
                let (rest, first) = grammar.logic(input)?;
                grammar.of_values(start, function, first, rest)
            }),
            // `min(list as x, ..)` and `min(a, b)`: the word behind the first part tells them apart.
            (Some(of_list), Some(of_values)) => self.deeper(input, |grammar, input| {
                let (rest, first) = grammar.logic(input)?;
                match word(skip(rest)) {
                    Some(("as" | "where", _)) => grammar.over_list(start, of_list, first, rest),
                    _ => grammar.of_values(start, of_values, first, rest),
                }
            }),
        }
    }

    fn of_values(&self, start: &'t str, function: Function, first: Expr, rest: &'t str) -> Step<'t, Expr> {
        let mut arguments = vec![first];
        let mut rest = skip(rest);
        while let Some(tail) = rest.strip_prefix(',') {
            let (after, argument) = self.logic(tail)?;
            arguments.push(argument);
            rest = skip(after);
        }
        let rest = close(rest)?.0;
        Ok((rest, self.expr(start, rest, Node::Call(function, arguments))))
    }

    fn over_list(&self, start: &'t str, function: ListFunction, list: Expr, rest: &'t str) -> Step<'t, Expr> {
        if !matches!(list.node, Node::Path(_) | Node::Word(_)) {
            let at = &self.text[list.span.start..];
            return fail(at, list.span.len(), format!("`{}` takes the path of a list", function.name()));
        }
        let mut rest = skip(rest);
        let mut binder = None;
        let mut filter = None;
        let mut body = None;
        if word(rest).is_some_and(|(found, _)| found == "where") {
            return fail(rest, 5, "`where` needs `as NAME` before it, so that fields and choices are told apart");
        }
        if let Some((_, tail)) = word(rest).filter(|(found, _)| *found == "as") {
            let (after, bound) = self.binder(tail)?;
            binder = Some(bound);
            rest = skip(after);
            if let Some((_, tail)) = word(rest).filter(|(found, _)| *found == "where") {
                let (after, expr) = self.logic(tail)?;
                filter = Some(Box::new(expr));
                rest = skip(after);
            }
        }
        if let Some(tail) = rest.strip_prefix(',') {
            if binder.is_none() {
                return fail(rest, 1, "a value per element needs `as NAME` before it");
            }
            let (after, expr) = self.logic(tail)?;
            body = Some(Box::new(expr));
            rest = skip(after);
        }
        let rest = close(rest)?.0;
        Ok((rest, self.expr(start, rest, Node::List { function, list: Box::new(list), binder, filter, body })))
    }

    /// The name after `as`.
    pub(super) fn binder(&self, input: &'t str) -> Step<'t, Binder> {
        let at = skip(input);
        match word(at) {
            Some((name, _)) if KEYWORDS.contains(&name) || ROOTS.contains(&name) || matches!(name, "yes" | "no") => {
                fail(at, name.len(), format!("`{name}` has a meaning of its own; take another name"))
            }
            Some((name, rest)) => {
                Ok((rest, Binder { name: name.to_owned(), span: self.offset(at)..self.offset(rest) }))
            }
            None => fail(at, 1, "a name is expected after `as`"),
        }
    }
}

fn unknown_function<'t>(start: &'t str, name: &str) -> Step<'t, Expr> {
    let of_lists = ListFunction::ALL.iter().map(|(_, name)| *name);
    let known: Vec<&str> = of_lists.chain(Function::ALL.iter().map(|(_, name)| *name)).collect();
    Err(nom::Err::Failure(Fault {
        rest: start,
        len: name.len(),
        message: format!("there is no function `{name}`"),
        help: Some(format!("the functions are {}", known.join(", "))),
    }))
}

fn close(rest: &str) -> Step<'_, ()> {
    match rest.strip_prefix(')') {
        Some(tail) => Ok((tail, ())),
        None => fail(rest, 1, "`)` or `,` is expected"),
    }
}
