//! How much of one document is read: a file of a thousand lines can name a section of a thousand fields a thousand times
//! through aliases, and each element of a list has room for all its fields, written or not.
//!
//! The readers of sections (`read`) and of lists and maps (`list`) ask here before each entry.

use super::read::Reader;
use crate::document::{Kind, NodeId};
use crate::problem::Problem;

/// Elements of lists that one document may have, and fields that it may reach through aliases, in all.
pub(super) const MOST_ENTRIES: u32 = 100_000;

/// The entries that were read so far.
#[derive(Debug, Default)]
pub(super) struct Budget {
    /// The outermost alias that is being read.
    alias: Option<NodeId>,
    entries: u32,
}

impl Reader<'_> {
    /// Reads a node that may be an alias.
    pub(super) fn through<T>(&mut self, node: NodeId, read: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.budget.alias;
        if matches!(self.tree.node(node).kind, Kind::Alias(_)) {
            self.budget.alias = outer.or(Some(node));
        }
        let done = read(self);
        self.budget.alias = outer;
        done
    }

    /// Counts one more field where it is reached through an alias; whether it is one too many. All others are as many as
    /// stand in the file.
    pub(super) fn is_field_too_many(&mut self, key: NodeId) -> bool {
        self.budget.alias.is_some() && self.is_element_too_many(key)
    }

    /// Counts one more element of a list; whether it is one too many, which is told once.
    pub(super) fn is_element_too_many(&mut self, node: NodeId) -> bool {
        if self.budget.entries > MOST_ENTRIES {
            return true;
        }
        self.budget.entries += 1;
        if self.budget.entries <= MOST_ENTRIES {
            return false;
        }
        let message = format!(
            "expected at most {MOST_ENTRIES} elements of lists, and fields that are reached through aliases, in one \
             document; found more, of which this is the first too many"
        );
        let at = self.tree.span(self.budget.alias.unwrap_or(node));
        let problem = Problem::unreadable("too-many-elements", at, message);
        self.tell(problem.with_help("split the file into several, each with its own gates"));
        true
    }
}
