//! What is read through aliases: a file of a thousand lines can name a list of a thousand elements a thousand times.

use super::read::Reader;
use crate::document::{Kind, NodeId};
use crate::problem::Problem;

/// Elements of lists that one document may reach through aliases.
pub(super) const MOST_ALIASED: u32 = 100_000;

/// The elements that were reached so far.
#[derive(Debug, Default)]
pub(super) struct Aliased {
    /// The outermost alias that is being read.
    at: Option<NodeId>,
    elements: u32,
}

impl Reader<'_> {
    /// Reads a node that may be an alias.
    pub(super) fn through<T>(&mut self, node: NodeId, read: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.aliased.at;
        if matches!(self.tree.node(node).kind, Kind::Alias(_)) {
            self.aliased.at = outer.or(Some(node));
        }
        let done = read(self);
        self.aliased.at = outer;
        done
    }

    /// Counts one more element; true where it is reached through an alias and is one too many, which is told once.
    pub(super) fn is_beyond_limit(&mut self) -> bool {
        let Some(alias) = self.aliased.at else {
            return false;
        };
        if self.aliased.elements < MOST_ALIASED {
            self.aliased.elements += 1;
            return false;
        }
        if self.aliased.elements == MOST_ALIASED {
            self.aliased.elements += 1;
            let message = format!(
                "expected at most {MOST_ALIASED} elements of lists that are reached through aliases, found more; this \
                 alias reaches the first too many"
            );
            let problem = Problem::unreadable("too-many-elements", self.tree.span(alias), message);
            self.read.problems.push(problem.with_help("split the file into several, each with its own gates"));
        }
        true
    }
}
