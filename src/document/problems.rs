//! The problems of one file, bounded: a hostile file must not fill the report.

use crate::problem::{Gravity, Problem};

/// How many problems of one file are kept; those that make a document unreadable are kept beyond it, since they
/// are few (see `parse`) and say why no rules ran.
const MAX_PROBLEMS: usize = 1_000;

/// Collects problems with the index of their document.
#[derive(Debug, Default)]
pub(super) struct Problems {
    list: Vec<(usize, Problem)>,
    overflowed: bool,
}

impl Problems {
    /// Keeps a problem, or says once that there are too many.
    pub(super) fn push(&mut self, document: usize, problem: Problem) {
        if self.list.len() < MAX_PROBLEMS || problem.gravity == Gravity::Unreadable {
            self.list.push((document, problem));
        } else if !self.overflowed {
            self.overflowed = true;
            let message = format!("more than {MAX_PROBLEMS} problems in this file; the rest is not listed");
            let rest = Problem::fault("too-many-problems", problem.span, message)
                .with_help("mend those listed first, then review the file again");
            self.list.push((document, rest));
        }
    }

    /// The problems in the order of the file.
    pub(super) fn finish(mut self) -> Vec<(usize, Problem)> {
        self.list.sort_by_key(|(document, problem)| (*document, problem.span.start));
        self.list
    }
}
