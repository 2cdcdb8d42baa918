//! A problem in the structure of a file: what is wrong, where, what to do.
//!
//! The located tree, the literal parser, the schema-directed reader and the pack loader all report through this one
//! type, so that every error of a submittal, a rule pack or a project file has a caret and all come in one run.
//! The review turns those of a submittal into findings of the pack `reading`.

use crate::source::Span;

/// How bad a structural problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gravity {
    /// Worth saying; the value was read.
    Advice,
    /// The value, key or file could not be used as written.
    Fault,
    /// The document could not be read (syntax, limits): no rules run on it.
    Unreadable,
}

/// One structural problem, pointing into the file it was found in.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Stable kebab-case name of the kind of problem, `missing-unit`; reported as `reading/missing-unit`.
    pub code: &'static str,
    /// What it means for the document.
    pub gravity: Gravity,
    /// The offending text.
    pub span: Span,
    /// One line that stands alone: what is wrong, what was expected, what was found.
    pub message: String,
    /// What to do about it.
    pub help: Option<String>,
    /// Further places, each with the words beside it.
    pub labels: Vec<(Span, String)>,
}

/// How many problems of one reading are kept, and how many that make a document unreadable beside them.
const MOST: usize = 1_000;
const FIRST_TOO_MANY: usize = MOST + 1;

/// Bounds the problems of one reading: a hostile file must not fill the memory or the report.
#[derive(Debug, Default)]
pub struct Allowance {
    /// Those that came so far: those that make a document unreadable, and the others.
    grave: usize,
    others: usize,
}

impl Allowance {
    /// The problem; in place of the first too many the word that the rest is not listed, and nothing after it.
    pub fn admit(&mut self, problem: Problem) -> Option<Problem> {
        let so_far = if problem.gravity == Gravity::Unreadable { &mut self.grave } else { &mut self.others };
        *so_far += 1;
        match *so_far {
            ..=MOST => Some(problem),
            FIRST_TOO_MANY => {
                let message = format!("more than {MOST} problems in this file; the rest is not listed");
                let rest = Problem::fault("too-many-problems", problem.span, message);
                Some(rest.with_help("mend those listed first, then review the file again"))
            }
            _ => None,
        }
    }
}

impl Problem {
    /// A fault at a place.
    pub fn fault(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Problem { code, gravity: Gravity::Fault, span, message: message.into(), help: None, labels: Vec::new() }
    }

    /// A remark at a place: the value was read all the same.
    pub fn advice(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Problem { gravity: Gravity::Advice, ..Problem::fault(code, span, message) }
    }

    /// A problem that makes the document unreadable.
    pub fn unreadable(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Problem { gravity: Gravity::Unreadable, ..Problem::fault(code, span, message) }
    }

    /// Adds what to do.
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds a further place.
    pub fn with_label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push((span, text.into()));
        self
    }
}
