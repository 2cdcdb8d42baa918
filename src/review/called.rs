//! What a submittal calls the elements of a list: the posts by their roles, the sensors by their ids.
//!
//! A number changes when an element is put in before it; a name stays. Called where findings are made and where they get
//! their keys.

use std::collections::HashMap;

use crate::document::{NodeId, Tree};

/// Fields that name an element, the first that is there before the others.
const NAMES: [&str; 3] = ["mark", "id", "role"];

/// The name of each element; `None` where it has none, or another of the list has the same.
pub(super) fn names(tree: &Tree, elements: &[NodeId]) -> Vec<Option<String>> {
    let names: Vec<Option<String>> = elements.iter().map(|element| name(tree, *element)).collect();
    let mut bearers: HashMap<&str, usize> = HashMap::new();
    for name in names.iter().flatten() {
        *bearers.entry(name).or_default() += 1;
    }
    let alone: Vec<bool> =
        names.iter().map(|name| name.as_deref().is_some_and(|name| bearers.get(name) == Some(&1))).collect();
    names.into_iter().zip(alone).map(|(name, alone)| name.filter(|_| alone)).collect()
}

fn name(tree: &Tree, element: NodeId) -> Option<String> {
    let written = |field: &str| {
        let (_, value) = tree.entries(element).find(|(key, _)| tree.text(*key) == Some(field))?;
        let text = tree.text(value)?.split_whitespace().collect::<Vec<_>>().join(" ");
        (!text.is_empty()).then_some(text)
    };
    NAMES.into_iter().find_map(written)
}
