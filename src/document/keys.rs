//! The keys of one mapping: which was written twice, and which is a merge key.
//!
//! Called by the builder at every key. Small mappings are compared one by one, large ones by hash, so that a mapping
//! of half a million keys stays linear.

use std::collections::HashMap;

use super::node_problems;
use super::tree::{Kind, NodeId, ScalarStyle, Tree};
use crate::problem::Problem;

/// From how many keys on a hash is worth its memory.
const HASHED_FROM: usize = 16;

/// What is known of the keys of one unfinished mapping.
#[derive(Debug, Default)]
pub(super) struct Keys {
    last: Option<NodeId>,
    count: usize,
    /// First key of each text, once there are many.
    seen: Option<HashMap<Box<str>, NodeId>>,
}

impl Keys {
    /// The key added last.
    pub(super) fn last(&self) -> Option<NodeId> {
        self.last
    }

    /// Takes a key that was just put on the tape; the problem with it, if there is one.
    pub(super) fn add(&mut self, tree: &Tree, mapping: NodeId, key: NodeId) -> Option<Problem> {
        self.last = Some(key);
        self.count += 1;
        let text = tree.text(key)?;
        if text == "<<" && tree.node(key).kind == Kind::Scalar(ScalarStyle::Plain) {
            return Some(node_problems::merge_key(tree.span(key)));
        }
        if self.count <= HASHED_FROM {
            let first = earlier_keys(tree, mapping, key).find(|&earlier| tree.text(earlier) == Some(text))?;
            return Some(node_problems::duplicate_key(tree, key, first));
        }
        let seen = self.seen.get_or_insert_with(|| {
            let mut seen = HashMap::new();
            for earlier in earlier_keys(tree, mapping, key) {
                if let Some(text) = tree.text(earlier) {
                    seen.entry(text.into()).or_insert(earlier);
                }
            }
            seen
        });
        match seen.get(text) {
            Some(&first) => Some(node_problems::duplicate_key(tree, key, first)),
            None => {
                seen.insert(text.into(), key);
                None
            }
        }
    }
}

/// The keys of an unfinished mapping before `key`.
fn earlier_keys(tree: &Tree, mapping: NodeId, key: NodeId) -> impl Iterator<Item = NodeId> + '_ {
    let mut next = mapping + 1;
    std::iter::from_fn(move || {
        let found = (next < key).then_some(next)?;
        next = tree.node(tree.node(found).end).end;
        Some(found)
    })
}
