//! Comparisons and membership: the rule `relation` of the grammar.

use super::ast::{Comparison, Expr, Node};
use super::parse::{Grammar, Step, after_word, fail, quote, skip, word};

impl<'t> Grammar<'t> {
    pub(super) fn relation(&self, start: &'t str) -> Step<'t, Expr> {
        let (rest, left) = self.sum(start)?;
        let at = skip(rest);
        if let Some(wrong) = self.foreign_operator(at) {
            return wrong;
        }
        let Some((tail, op)) = comparison(at) else {
            return Ok((rest, left));
        };
        let (rest, node) = match after_word(tail, "one").filter(|_| matches!(op, Comparison::Is | Comparison::IsNot)) {
            Some(one) => {
                let Some(of) = after_word(one, "of") else {
                    return fail(skip(one), quote(skip(one)).len(), "`is one of` is expected, `of` is missing");
                };
                self.membership(of, op == Comparison::IsNot, left)?
            }
            None => {
                let (rest, right) = self.sum(tail)?;
                (rest, Node::Compare(op, Box::new(left), Box::new(right)))
            }
        };
        let again = skip(rest);
        if let Some((_, _)) = comparison(again) {
            return fail(again, quote(again).len(), "a comparison has two sides; join two comparisons with `and`");
        }
        Ok((rest, self.expr(start, rest, node)))
    }

    /// `is one of [..]` and `is one of LIST`, after `of`.
    fn membership(&self, input: &'t str, negated: bool, left: Expr) -> Step<'t, Node> {
        let start = skip(input);
        let value = Box::new(left);
        if let Some(mut rest) = start.strip_prefix('[') {
            let mut set = Vec::new();
            loop {
                let (after, item) = self.sum(rest)?;
                if matches!(item.node, Node::Path(_)) {
                    let at = &self.text[item.span.start..];
                    return fail(at, item.span.len(), "values stand in brackets, no paths; compare with `is` and `or`");
                }
                set.push(item);
                let next = skip(after);
                if let Some(tail) = next.strip_prefix(']') {
                    return Ok((tail, Node::OneOf { negated, value, set }));
                }
                let Some(tail) = next.strip_prefix(',') else {
                    return fail(next, quote(next).len(), "`,` or `]` is expected in the list of values");
                };
                if skip(tail).starts_with(']') {
                    return fail(tail, 1, "a comma stands between two values");
                }
                rest = tail;
            }
        }
        match word(start) {
            Some((_, after)) if after.starts_with('.') => {
                let (rest, list) = self.atom(start)?;
                Ok((rest, Node::InList { negated, value, list: Box::new(list) }))
            }
            _ => fail(start, quote(start).len(), "`[` with values or the path of a list is expected after `is one of`"),
        }
    }

    /// Operators of other languages, with the word to write.
    fn foreign_operator(&self, at: &'t str) -> Option<Step<'t, Expr>> {
        let message = match quote(at) {
            "==" | "=" => "write `is`",
            "!=" => "write `is not`",
            "&&" | "&" => "write `and`",
            "||" | "|" => "write `or`",
            "in" => "`in` is inches; write `is one of [...]`",
            _ => return None,
        };
        Some(fail(at, quote(at).len(), message))
    }
}

fn comparison(at: &str) -> Option<(&str, Comparison)> {
    let signs =
        [("<=", Comparison::AtMost), (">=", Comparison::AtLeast), ("<", Comparison::Less), (">", Comparison::Greater)];
    if let Some((sign, op)) = signs.into_iter().find(|(sign, _)| at.starts_with(sign)) {
        return Some((&at[sign.len()..], op));
    }
    let rest = after_word(at, "is")?;
    Some(match after_word(rest, "not") {
        Some(tail) => (tail, Comparison::IsNot),
        None => (rest, Comparison::Is),
    })
}
