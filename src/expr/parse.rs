//! The grammar of the rule language, in nom. It stands word for word in the rule author's guide (a test compares).
//!
//! ```text
//! logic    = negation , ( { "and" , negation } | { "or" , negation } ) ;     (* mixed only with brackets; depth 64, 2,000 bytes *)
//! negation = "not" , negation | relation ;
//! relation = sum , [ ( "<" | "<=" | ">" | ">=" ) , sum | "is" , [ "not" ] , ( "one" , "of" , ( set | path ) | sum ) ] ;
//! set      = "[" , sum , { "," , sum } , "]" ;                               (* values and bound names, no paths *)
//! sum      = product , { B , ( "+" | "-" ) , B , product } ;                 (* B: blank or line end, required on both sides *)
//! product  = factor , { B , ( "*" | "/" ) , B , factor } ;
//! factor   = [ "-" ] , atom ;                                                (* the sign touches its value *)
//! atom     = "(" , logic , ")" | call | date | quantity | number | text | path | word ;
//! call     = ( "count" | "any" | "all" | "sum" | "min" | "max" | "distinct" ) , "(" , path , [ "as" , word , [ "where" , logic ] , [ "," , logic ] ] , ")"
//!          | ( "min" | "max" | "abs" | "agree" | "given" | "shown" | "valid" | "table" ) , "(" , logic , { "," , logic } , ")" ;
//! path     = word , "." , word , { "." , word } ;        (* no indexes *)
//! word     = letter , { letter | digit | "_" } ;         (* none of: and or not is one of where as in to; a bound name is a word *)
//! date     = 4 * digit , "-" , 2 * digit , "-" , 2 * digit ;
//! quantity = ( digits | decimal ) , "'" , [ [ "-" ] , amount , '"' ]         (* no blanks: 5'-6 1/2"; inches below 12 *)
//!          | amount , '"' | digits , " ft " , amount , " in" | amount , [ " " ] , ( "%" | unit , [ "/" , unit ] ) ;
//! amount   = digits , " " , fraction | fraction | decimal | digits ;
//! fraction = digits , "/" , digits ;                     (* proper, denominator 2 to 64, no blanks; needs a unit *)
//! number   = decimal | digits ;   decimal = digits , "." , digits ;   text = '"' , { any - '"' } , '"' ;
//! ```
//!
//! Every error is final: the grammar needs one token of look-ahead, so there is nothing to go back to. An error holds
//! the rest of the input, and its offset is the length of the text less the length of the rest.

use std::cell::Cell;

use nom::IResult;
use nom::bytes::complete::{tag, take_till, take_while, take_while1};
use nom::character::complete::{char, satisfy};
use nom::combinator::{opt, recognize};
use nom::error::{ErrorKind, ParseError};
use nom::multi::many0_count;
use nom::sequence::{pair, preceded};
use nom::{Err, Parser};

use super::ast::{Arithmetic, Expr, Node};
use super::error::ExprError;
use crate::quantity::rule_literal;

/// Nesting that an expression may have.
pub const MAX_DEPTH: usize = 64;
/// Bytes that an expression may have.
pub const MAX_BYTES: usize = 2_000;
/// Words with a meaning of their own; no name may be one of them.
pub const KEYWORDS: [&str; 10] = ["and", "or", "not", "is", "one", "of", "where", "as", "in", "to"];
/// Names that a path begins with; `as` may not bind them.
pub const ROOTS: [&str; 8] = ["project", "submittal", "site", "gate", "gates", "figure", "constant", "review"];

/// Reads one expression.
pub fn parse(text: &str) -> Result<Expr, ExprError> {
    read(text, |grammar| grammar.whole(text))
}

/// Reads a text by a rule of the grammar.
pub(super) fn read<'t, T>(
    text: &'t str,
    rule: impl FnOnce(&Grammar<'t>) -> Result<T, Err<Fault<'t>>>,
) -> Result<T, ExprError> {
    if text.len() > MAX_BYTES {
        return Err(ExprError::new(
            0..text.len(),
            format!("an expression has at most {MAX_BYTES} bytes; this one has {}", text.len()),
        ));
    }
    let grammar = Grammar { text, depth: Cell::new(0) };
    match rule(&grammar) {
        Ok(read) => Ok(read),
        Err(Err::Error(fault) | Err::Failure(fault)) => {
            let start = text.len() - fault.rest.len();
            let mut end = start + fault.len.min(fault.rest.len());
            while !text.is_char_boundary(end) {
                end += 1;
            }
            let error = ExprError::new(start..end, fault.message);
            Err(match fault.help {
                Some(help) => error.with_help(help),
                None => error,
            })
        }
        Err(Err::Incomplete(_)) => Err(ExprError::new(text.len()..text.len(), "the expression ends here")),
    }
}

/// An error with the input that was left when it was met.
#[derive(Debug)]
pub(super) struct Fault<'t> {
    pub(super) rest: &'t str,
    pub(super) len: usize,
    pub(super) message: String,
    pub(super) help: Option<String>,
}

impl<'t> ParseError<&'t str> for Fault<'t> {
    fn from_error_kind(rest: &'t str, _: ErrorKind) -> Self {
        Fault { rest, len: 1, message: String::new(), help: None }
    }

    fn append(_: &'t str, _: ErrorKind, other: Self) -> Self {
        other
    }
}

pub(super) type Step<'t, T> = IResult<&'t str, T, Fault<'t>>;

pub(super) fn fail<'t, T>(rest: &'t str, len: usize, message: impl Into<String>) -> Step<'t, T> {
    Err(Err::Failure(Fault { rest, len, message: message.into(), help: None }))
}

/// Skips blanks and line ends.
pub(super) fn skip(input: &str) -> &str {
    let blank: Step<'_, &str> = take_while(|c: char| c.is_ascii_whitespace()).parse(input);
    blank.map_or(input, |(rest, _)| rest)
}

/// A word at the head of the input.
pub(super) fn word(input: &str) -> Option<(&str, &str)> {
    let mut name = recognize(pair(
        satisfy(|c: char| c.is_ascii_alphabetic()),
        take_while(|c: char| c.is_ascii_alphanumeric() || c == '_'),
    ));
    let read: Step<'_, &str> = name.parse(input);
    read.ok().map(|(rest, name)| (name, rest))
}

/// The rest after a word, where the input (blanks skipped) begins with that word.
pub(super) fn after_word<'t>(input: &'t str, expected: &str) -> Option<&'t str> {
    word(skip(input)).filter(|(found, _)| *found == expected).map(|(_, rest)| rest)
}

/// What an error quotes of the input: a word, a run of signs, or one character.
pub(super) fn quote(input: &str) -> &str {
    if let Some((found, _)) = word(input) {
        return found;
    }
    let signs: Step<'_, &str> = take_while1(|c: char| "=!&|<>".contains(c)).parse(input);
    match signs {
        Ok((_, signs)) => signs,
        Err(_) => input.chars().next().map_or("", |c| &input[..c.len_utf8()]),
    }
}

pub(super) struct Grammar<'t> {
    pub(super) text: &'t str,
    depth: Cell<usize>,
}

impl<'t> Grammar<'t> {
    fn whole(&self, input: &'t str) -> Result<Expr, Err<Fault<'t>>> {
        let (rest, expr) = self.logic(input)?;
        let rest = skip(rest);
        if rest.is_empty() {
            return Ok(expr);
        }
        let found = quote(rest);
        let message = match found {
            ")" => "`)` closes nothing".to_owned(),
            "&&" | "&" => "write `and`".to_owned(),
            "||" | "|" => "write `or`".to_owned(),
            "%" => "`%` follows a number and means a hundredth; there is no remainder".to_owned(),
            _ => format!("an operator or the end is expected, `{found}` is found"),
        };
        fail(rest, found.len(), message).map(|(_, never): (&str, Expr)| never)
    }

    pub(super) fn offset(&self, rest: &str) -> usize {
        self.text.len() - rest.len()
    }

    pub(super) fn expr(&self, from: &str, to: &str, node: Node) -> Expr {
        Expr { span: self.offset(from)..self.offset(to), node }
    }

    /// Runs a rule one level deeper.
    pub(super) fn deeper<T>(&self, input: &'t str, rule: impl FnOnce(&Self, &'t str) -> Step<'t, T>) -> Step<'t, T> {
        if self.depth.get() >= MAX_DEPTH {
            return fail(input, 1, format!("an expression is nested at most {MAX_DEPTH} deep"));
        }
        self.depth.set(self.depth.get() + 1);
        let result = rule(self, input);
        self.depth.set(self.depth.get() - 1);
        result
    }

    pub(super) fn logic(&self, input: &'t str) -> Step<'t, Expr> {
        let start = skip(input);
        let (mut rest, first) = self.negation(start)?;
        let mut joint = "";
        let mut parts = vec![first];
        while let Some((found, tail)) = word(skip(rest)).filter(|(found, _)| matches!(*found, "and" | "or")) {
            if !joint.is_empty() && joint != found {
                return fail(
                    skip(rest),
                    found.len(),
                    "`and` and `or` are mixed only with brackets that say which goes first",
                );
            }
            joint = found;
            let (after, part) = self.negation(tail)?;
            parts.push(part);
            rest = after;
        }
        if parts.len() == 1 {
            return Ok((rest, parts.remove(0)));
        }
        let node = if joint == "and" { Node::And(parts) } else { Node::Or(parts) };
        Ok((rest, self.expr(start, rest, node)))
    }

    fn negation(&self, input: &'t str) -> Step<'t, Expr> {
        let start = skip(input);
        match after_word(start, "not") {
            Some(rest) => {
                let (rest, inner) = self.deeper(rest, Self::negation)?;
                Ok((rest, self.expr(start, rest, Node::Not(Box::new(inner)))))
            }
            None => self.relation(start),
        }
    }

    pub(super) fn sum(&self, input: &'t str) -> Step<'t, Expr> {
        self.chain(input, &[("+", Arithmetic::Add), ("-", Arithmetic::Subtract)], Self::product)
    }

    fn product(&self, input: &'t str) -> Step<'t, Expr> {
        self.chain(input, &[("*", Arithmetic::Multiply), ("/", Arithmetic::Divide)], Self::factor)
    }

    /// Operands joined by operators of one rank, from the left.
    fn chain(
        &self,
        input: &'t str,
        operators: &[(&str, Arithmetic)],
        operand: fn(&Self, &'t str) -> Step<'t, Expr>,
    ) -> Step<'t, Expr> {
        let start = skip(input);
        let (mut rest, mut left) = operand(self, start)?;
        loop {
            let at = skip(rest);
            let Some((sign, op)) = operators.iter().find(|(sign, _)| at.starts_with(*sign)) else {
                return Ok((rest, left));
            };
            let tail = &at[sign.len()..];
            let blank_before = at.len() < rest.len();
            let blank_after = tail.starts_with(|c: char| c.is_ascii_whitespace());
            if !blank_before && *sign == "-" && matches!(left.node, Node::Path(_) | Node::Word(_)) {
                return fail(at, 1, "names have no `-`; to subtract, write a space on each side");
            }
            if !blank_before || !(blank_after || tail.is_empty()) {
                return fail(at, 1, format!("`{sign}` needs a space on each side"));
            }
            let (after, right) = operand(self, tail)?;
            left = self.expr(start, after, Node::Arithmetic(*op, Box::new(left), Box::new(right)));
            rest = after;
        }
    }

    fn factor(&self, input: &'t str) -> Step<'t, Expr> {
        let start = skip(input);
        let (rest, sign): (&str, Option<char>) = opt(char('-')).parse(start)?;
        if sign.is_none() {
            return self.atom(start);
        }
        if rest.starts_with(|c: char| c.is_ascii_whitespace()) {
            return fail(start, 1, "a sign stands directly before its value");
        }
        let (rest, inner) = self.atom(rest)?;
        Ok((rest, self.expr(start, rest, Node::Negate(Box::new(inner)))))
    }

    pub(super) fn atom(&self, start: &'t str) -> Step<'t, Expr> {
        let Some(first) = start.chars().next() else {
            return fail(start, 0, "the expression ends here; a value is expected");
        };
        match first {
            '(' => self.deeper(&start[1..], |grammar, input| {
                let (rest, mut inner) = grammar.logic(input)?;
                let close = skip(rest);
                let Some(rest) = close.strip_prefix(')') else {
                    return fail(close, quote(close).len(), "`)` is expected");
                };
                inner.span = grammar.offset(start)..grammar.offset(rest);
                Ok((rest, inner))
            }),
            '"' => self.text(start),
            '.' | '0'..='9' => self.number(start),
            _ => match word(start) {
                Some((name, rest)) => self.name(start, name, rest),
                None => fail(start, first.len_utf8(), format!("`{first}` cannot begin a value")),
            },
        }
    }

    fn text(&self, start: &'t str) -> Step<'t, Expr> {
        let body: Step<'t, &str> = preceded(char('"'), take_till(|c| c == '"')).parse(start);
        if let Ok((rest, text)) = body
            && let Some(rest) = rest.strip_prefix('"')
        {
            return Ok((rest, self.expr(start, rest, Node::Text(text.to_owned()))));
        }
        fail(start, start.len(), "this text has no closing quote")
    }

    fn number(&self, start: &'t str) -> Step<'t, Expr> {
        match rule_literal(start) {
            Some(Ok((number, used))) => {
                let rest = &start[used..];
                Ok((rest, self.expr(start, rest, Node::Number(number))))
            }
            Some(Err(error)) => {
                let rest = start.get(error.at.start..).unwrap_or(start);
                Err(Err::Failure(Fault { rest, len: error.at.len().max(1), message: error.message, help: error.help }))
            }
            None => fail(start, 1, format!("`{}` cannot begin a value", quote(start))),
        }
    }

    pub(super) fn name(&self, start: &'t str, name: &'t str, rest: &'t str) -> Step<'t, Expr> {
        if name == "in" {
            return fail(start, 2, "`in` is inches and stands behind a number");
        }
        if KEYWORDS.contains(&name) {
            return fail(start, name.len(), format!("`{name}` cannot begin a value"));
        }
        if let Some(arguments) = rest.strip_prefix('(') {
            return self.call(start, name, arguments);
        }
        let more: Step<'t, usize> = many0_count(recognize(pair(
            tag("."),
            pair(
                satisfy(|c: char| c.is_ascii_alphabetic()),
                take_while(|c: char| c.is_ascii_alphanumeric() || c == '_'),
            ),
        )))
        .parse(rest);
        let (after, count) = more?;
        if after.starts_with('[') {
            return fail(after, 1, "there is no index; name an element with `as`, or use `each:`");
        }
        if after.starts_with('.') {
            return fail(after, 1, "a name is expected after `.`");
        }
        let node = if count == 0 {
            Node::Word(name.to_owned())
        } else {
            Node::Path(start[..start.len() - after.len()].split('.').map(str::to_owned).collect())
        };
        Ok((after, self.expr(start, after, node)))
    }
}
