//! The problems of one file with their documents, as the builder of the tree meets them; `parse` hands them out in order.

use crate::problem::{Allowance, Problem};

/// Collects problems with the index of their document.
#[derive(Debug, Default)]
pub(super) struct Problems {
    list: Vec<(usize, Problem)>,
    allowance: Allowance,
}

impl Problems {
    /// Keeps a problem, or says once that there are too many.
    pub(super) fn push(&mut self, document: usize, problem: Problem) {
        self.list.extend(self.allowance.admit(problem).map(|problem| (document, problem)));
    }

    /// The problems in the order of the file.
    pub(super) fn finish(mut self) -> Vec<(usize, Problem)> {
        self.list.sort_by_key(|(document, problem)| (*document, problem.span.start));
        self.list
    }
}
