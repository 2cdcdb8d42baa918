//! What is wrong with rule packs: every problem of every pack, each with its place.

use std::sync::Arc;

use crate::problem::{Gravity, Problem};
use crate::source::SourceFile;

/// Problems of the packs of one run, collected while they load.
#[derive(Debug, Default)]
pub struct PackProblems {
    /// The problems, with the file each is in.
    pub list: Vec<(Arc<SourceFile>, Problem)>,
}

impl PackProblems {
    /// Adds a problem of a file.
    pub fn push(&mut self, file: &Arc<SourceFile>, problem: Problem) {
        self.list.push((Arc::clone(file), problem));
    }

    /// Whether the rules cannot be used.
    pub fn is_fatal(&self) -> bool {
        self.list.iter().any(|(_, problem)| problem.gravity != Gravity::Advice)
    }

    /// In the order of files and places.
    pub fn sort(&mut self) {
        self.list.sort_by(|(a, one), (b, two)| (a.name(), one.span).cmp(&(b.name(), two.span)));
        self.list.dedup_by(|(a, one), (b, two)| a.name() == b.name() && one == two);
    }
}
