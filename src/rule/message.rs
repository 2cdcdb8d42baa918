//! Message templates: text with `{expression}` in it, checked when the pack loads.

use super::set::Expression;
use crate::expr::{Checker, ExprError, Program, parse};

/// A part of a template.
#[derive(Debug, Clone)]
pub enum Segment {
    /// Text as it stands.
    Text(String),
    /// The value of an expression.
    Value(Expression),
}

/// A checked template.
#[derive(Debug, Clone, Default)]
pub struct Template {
    /// Its parts.
    pub segments: Vec<Segment>,
}

/// Splits a template and checks its expressions; errors have their place in the template's text.
pub fn check_template(text: &str, checker: &mut Checker<'_, '_>) -> Template {
    let mut segments = Vec::new();
    let mut plain = String::new();
    let mut at = 0;
    while let Some(found) = text[at..].find(['{', '}']) {
        let open = at + found;
        plain.push_str(&text[at..open]);
        let brace = &text[open..=open];
        if text[open + 1..].starts_with(brace) {
            plain.push_str(brace);
            at = open + 2;
            continue;
        }
        if brace == "}" {
            checker.errors.push(
                ExprError::new(open..open + 1, "`}` closes nothing").with_help("write }} for a brace in the text"),
            );
            at = open + 1;
            continue;
        }
        let Some(length) = text[open..].find('}') else {
            checker.errors.push(
                ExprError::new(open..open + 1, "`{` is not closed").with_help("write {{ for a brace in the text"),
            );
            at = text.len();
            break;
        };
        let inner = &text[open + 1..open + length];
        if let Some(expression) = placeholder(inner, open + 1, checker) {
            if !plain.is_empty() {
                segments.push(Segment::Text(std::mem::take(&mut plain)));
            }
            segments.push(Segment::Value(expression));
        }
        at = open + length + 1;
    }
    plain.push_str(&text[at.min(text.len())..]);
    if !plain.is_empty() {
        segments.push(Segment::Text(plain));
    }
    Template { segments }
}

fn placeholder(text: &str, offset: usize, checker: &mut Checker<'_, '_>) -> Option<Expression> {
    let known = checker.errors.len();
    let checked = match parse(text) {
        Ok(expr) => Some(checker.value(&expr)),
        Err(error) => {
            checker.errors.push(error);
            None
        }
    };
    for error in &mut checker.errors[known..] {
        error.at = error.at.start + offset..error.at.end + offset;
    }
    checked.map(|checked| Expression { text: text.to_owned(), checked })
}

impl Template {
    /// Compiles the expressions of a template.
    pub fn compile(&mut self, program: &mut Program, depth: u16) {
        for segment in &mut self.segments {
            if let Segment::Value(expression) = segment {
                program.compile(&mut expression.checked, depth);
            }
        }
    }
}
