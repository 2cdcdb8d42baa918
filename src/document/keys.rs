//! The keys of one mapping as they are met, to find one that is written twice.
//!
//! Called by the builder. Few keys are compared one by one, many through a hash, so that a mapping of half a million
//! keys costs no more for each than one of ten.

use std::borrow::Cow;
use std::collections::HashMap;

use super::tree::NodeId;

/// From how many keys on a hash is kept.
const HASH_AFTER: usize = 16;

/// The keys of one mapping with the nodes that hold them.
#[derive(Debug, Default)]
pub(super) struct Keys<'s> {
    few: Vec<(Cow<'s, str>, NodeId)>,
    many: HashMap<Cow<'s, str>, NodeId>,
}

impl<'s> Keys<'s> {
    /// Takes a key; gives the node of an earlier one with the same text.
    pub(super) fn insert(&mut self, text: Cow<'s, str>, node: NodeId) -> Option<NodeId> {
        if self.many.is_empty() {
            if let Some((_, first)) = self.few.iter().find(|(known, _)| *known == text) {
                return Some(*first);
            }
            self.few.push((text, node));
            if self.few.len() > HASH_AFTER {
                self.many.extend(self.few.drain(..));
            }
            return None;
        }
        if let Some(first) = self.many.get(&text) {
            return Some(*first);
        }
        self.many.insert(text, node);
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_repeated_key_is_found_among_few_and_among_many() {
        let mut keys = Keys::default();
        for node in 0..40 {
            assert_eq!(keys.insert(Cow::Owned(format!("k{node}")), node), None);
            assert_eq!(keys.insert(Cow::Borrowed("k0"), 99), Some(0));
            assert_eq!(keys.insert(Cow::Owned(format!("k{node}")), 99), Some(node));
        }
    }
}
