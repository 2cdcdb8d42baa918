//! Keys of findings: what names a finding among those of its submittal, from one revision to the next.
//!
//! A key is made of the rule, the gate, the element and the field, never of a line; a structural problem, which has no
//! field, is named by the place of its text: `gates.G1.support_posts.tail.size`. Called once the findings of a document
//! are in order.

use std::collections::{HashMap, HashSet};

use super::called::names;
use super::finding::Finding;
use crate::document::{Kind, NodeId, Tree};

/// Gives each finding its key.
pub(super) fn set_keys(tree: &Tree, root: Option<NodeId>, marks: &[String], findings: &mut [Finding]) {
    let mut bearers: HashMap<&str, usize> = HashMap::new();
    for mark in marks {
        *bearers.entry(mark).or_default() += 1;
    }
    let places = Places::of(tree, root.filter(|_| findings.iter().any(|finding| finding.field.is_none())));
    let mut seen: HashMap<String, usize> = HashMap::new();
    let mut taken: HashSet<String> = HashSet::new();
    for finding in findings {
        let gate = match (&finding.gate, finding.gate_index) {
            (Some(mark), Some(index)) if bearers.get(mark.as_str()) != Some(&1) => format!("{mark} no. {}", index + 1),
            (gate, _) => gate.clone().unwrap_or_default(),
        };
        let element = finding.called.as_deref().or(finding.element.as_deref()).unwrap_or_default();
        let field = match &finding.field {
            Some(field) => field.clone(),
            None => places.path(finding.primary.span.start),
        };
        let key = format!("{}|{gate}|{element}|{field}", finding.rule);
        let times = seen.entry(key.clone()).or_default();
        // A mark, an id or a key of the author may look like another one with its number.
        finding.key = loop {
            *times += 1;
            let numbered = if *times == 1 { key.clone() } else { format!("{key}|{times}") };
            if taken.insert(numbered.clone()) {
                break numbered;
            }
        };
    }
}

/// Every key and element of a document in the order of the text, each with the one above it.
struct Places(Vec<(u32, Option<usize>, String)>);

impl Places {
    fn of(tree: &Tree, root: Option<NodeId>) -> Places {
        let mut places = Places(Vec::new());
        if let Some(root) = root {
            places.collect(tree, root, None);
        }
        places
    }

    /// Adds what stands below a node; behind an alias stands nothing of its own.
    fn collect(&mut self, tree: &Tree, node: NodeId, above: Option<usize>) {
        match tree.node(node).kind {
            Kind::Mapping => {
                for (key, value) in tree.entries(node) {
                    let name = tree.text(key).unwrap_or_default().to_owned();
                    self.add(tree, key, value, above, name);
                }
            }
            Kind::Sequence => {
                let items: Vec<NodeId> = tree.items(node).collect();
                for (index, (item, name)) in items.iter().zip(names(tree, &items)).enumerate() {
                    let name = name.unwrap_or_else(|| (index + 1).to_string());
                    self.add(tree, *item, *item, above, name);
                }
            }
            _ => {}
        }
    }

    fn add(&mut self, tree: &Tree, head: NodeId, below: NodeId, above: Option<usize>, name: String) {
        self.0.push((tree.span(head).start, above, name));
        self.collect(tree, below, Some(self.0.len() - 1));
    }

    /// The path of what stands at an offset: keys and elements with points between them.
    fn path(&self, offset: u32) -> String {
        let mut at = self.0.partition_point(|(start, _, _)| *start <= offset).checked_sub(1);
        let mut parts = Vec::new();
        while let Some((_, above, name)) = at.map(|at| &self.0[at]) {
            parts.push(name.as_str());
            at = *above;
        }
        parts.reverse();
        parts.join(".")
    }
}
