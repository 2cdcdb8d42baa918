//! The `each:` of a rule: `gate.support_posts as post`, or `choices(gate.entrapment_zones.zone) as place`.
//!
//! The pack loader asks for it before the rule's expressions, which see the name that it binds. Its parts are those of the
//! expression grammar, so that a name that no expression could use is refused here too.

use super::ast::{Binder, Expr, Node};
use super::error::ExprError;
use super::parse::{Grammar, Step, after_word, fail, quote, read, skip, word};

/// A parsed `each:`.
#[derive(Debug, Clone, PartialEq)]
pub struct Each {
    /// Whether it runs over the choices of a field rather than the elements of a list.
    pub choices: bool,
    /// The list, or the choice field.
    pub path: Expr,
    /// The name.
    pub binder: Binder,
}

const SHAPE: &str = "`LIST as NAME` or `choices(FIELD) as NAME` is expected";

/// Reads an `each:`.
pub fn parse_each(text: &str) -> Result<Each, ExprError> {
    read(text, |grammar| grammar.each(text).map(|(_, each)| each))
}

impl<'t> Grammar<'t> {
    fn each(&self, input: &'t str) -> Step<'t, Each> {
        let start = skip(input);
        let inner = after_word(start, "choices").and_then(|rest| rest.strip_prefix('('));
        let path_at = skip(inner.unwrap_or(start));
        let Some((name, rest)) = word(path_at) else {
            return fail(path_at, quote(path_at).len(), SHAPE);
        };
        let (mut rest, path) = self.name(path_at, name, rest)?;
        if !matches!(path.node, Node::Path(_) | Node::Word(_)) {
            return fail(path_at, path.span.len(), SHAPE);
        }
        if inner.is_some() {
            let close = skip(rest);
            rest = match close.strip_prefix(')') {
                Some(rest) => rest,
                None => return fail(close, quote(close).len(), "`)` is expected"),
            };
        }
        let Some(name_at) = after_word(rest, "as") else {
            let found = skip(rest);
            return fail(found, quote(found).len(), SHAPE);
        };
        let (rest, binder) = self.binder(name_at)?;
        let end = skip(rest);
        if !end.is_empty() {
            return fail(end, quote(end).len(), format!("the end is expected, `{}` is found", quote(end)));
        }
        Ok((end, Each { choices: inner.is_some(), path, binder }))
    }
}
