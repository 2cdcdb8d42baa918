//! Texts that are compared, by number: two texts that are the same have the same one.
//!
//! Texts are the same after trimming, folding case and runs of blanks. Ids are compared with ids over and over, so each
//! text is folded once and compared as a number from then on.

use std::collections::HashMap;

use super::value::TextAt;
use crate::document::{NodeId, Tree};

/// The numbers of the texts that were compared so far.
#[derive(Debug, Default)]
pub(super) struct TextKeys {
    /// By node; zero where the text was not looked at yet.
    of_nodes: Vec<u32>,
    /// By constant of the rules.
    of_constants: Vec<u32>,
    numbers: HashMap<String, u32>,
}

impl TextKeys {
    /// The number of a text.
    pub(super) fn key(&mut self, at: TextAt, tree: &Tree, constants: &[String]) -> u32 {
        let known = match at {
            TextAt::Node(node) => self.of_nodes.get(node as usize),
            TextAt::Constant(index) => self.of_constants.get(index as usize),
        };
        match known {
            Some(key) if *key != 0 => *key,
            _ => self.first_key(at, tree, constants),
        }
    }

    /// The number of a text that was not looked at yet.
    #[inline(never)] // most texts were
    fn first_key(&mut self, at: TextAt, tree: &Tree, constants: &[String]) -> u32 {
        let (known, index) = match at {
            TextAt::Node(node) => (&mut self.of_nodes, node as usize),
            TextAt::Constant(index) => (&mut self.of_constants, index as usize),
        };
        if known.len() <= index {
            known.resize(index + 1, 0);
        }
        let text = match at {
            TextAt::Node(node) => text_of(tree, node),
            TextAt::Constant(index) => &constants[index as usize],
        };
        let next = u32::try_from(self.numbers.len() + 1).unwrap_or(u32::MAX);
        known[index] = *self.numbers.entry(folded(text)).or_insert(next);
        known[index]
    }
}

/// The text of a node; none for a node that has no text.
pub(super) fn text_of(tree: &Tree, node: NodeId) -> &str {
    tree.text(node).unwrap_or_default()
}

fn folded(text: &str) -> String {
    let text = text.trim();
    if text.bytes().all(|byte| byte.is_ascii_graphic()) {
        return text.to_ascii_lowercase();
    }
    let mut folded = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.push_str(&word.to_lowercase());
    }
    folded
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::document::{Limits, parse};
    use crate::source::SourceFile;

    #[test]
    fn texts_are_the_same_whatever_their_case_and_blanks() {
        let text = "[EYE-1, ' eye-1 ', Eye  1, \"eye\\t1\", eye-2, ÉCLUSE, écluse, '']";
        let parsed = parse(Arc::new(SourceFile::new("t", text)), &Limits::default());
        let root = parsed.tree.documents()[0].root.unwrap();
        let constants = ["Eye-1".to_owned(), String::new()];
        let mut keys = TextKeys::default();
        let mut of = |at| keys.key(at, &parsed.tree, &constants);
        let nodes: Vec<u32> = parsed.tree.items(root).map(|node| of(TextAt::Node(node))).collect();
        let constants = [of(TextAt::Constant(0)), of(TextAt::Constant(1))];
        assert_eq!(nodes[0], nodes[1]);
        assert_eq!(nodes[2], nodes[3]);
        assert_eq!(nodes[5], nodes[6]);
        assert_eq!(constants, [nodes[0], nodes[7]]);
        let unlike = [nodes[0], nodes[2], nodes[4], nodes[5], nodes[7]];
        for (at, one) in unlike.iter().enumerate() {
            assert!(unlike[at + 1..].iter().all(|other| one != other), "{unlike:?}");
        }
    }
}
