//! A pack as read: its records, with shorthand for what the loader asks of them.

use std::sync::Arc;

use crate::document::{NodeId, Tree};
use crate::submittal::{Read, RecordIndex, Slot};
use crate::vocabulary::Vocabulary;

/// A text of a pack with its node, so that errors in it have a place.
#[derive(Debug, Clone, Copy)]
pub struct Text<'p> {
    /// The decoded text.
    pub text: &'p str,
    /// Its node.
    pub node: NodeId,
}

/// One pack file.
#[derive(Debug)]
pub struct RawPack {
    /// Its tree.
    pub tree: Arc<Tree>,
    /// Its records.
    pub read: Read,
    /// The vocabulary of packs.
    pub words: Arc<Vocabulary>,
}

impl RawPack {
    /// A slot by path.
    pub fn slot(&self, record: RecordIndex, path: &str) -> &Slot {
        let ty = self.read.records.record(record).ty;
        match self.words.record(ty).field(path) {
            Some(field) => self.read.records.slot(record, field),
            None => &Slot::Missing,
        }
    }

    /// A text by path.
    pub fn text(&self, record: RecordIndex, path: &str) -> Option<Text<'_>> {
        match self.slot(record, path) {
            Slot::Text(node) => Some(Text { text: self.tree.text(*node)?.trim_end_matches('\n'), node: *node }),
            _ => None,
        }
    }

    /// A text by path as it is printed; empty where there is none.
    pub fn words_at(&self, record: RecordIndex, path: &str) -> String {
        self.text(record, path).map_or_else(String::new, |text| text.text.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    /// The name of a choice by path.
    pub fn choice(&self, record: RecordIndex, path: &str) -> Option<&str> {
        match self.slot(record, path) {
            Slot::Choice(symbol) => Some(self.words.symbol_name(*symbol)),
            _ => None,
        }
    }

    /// The records of a list or map by path.
    pub fn list(&self, record: RecordIndex, path: &str) -> &[RecordIndex] {
        self.read.records.list(self.slot(record, path))
    }

    /// The texts of a list by path.
    pub fn texts(&self, record: RecordIndex, path: &str) -> Vec<Text<'_>> {
        let Slot::Texts { first, len } = *self.slot(record, path) else { return Vec::new() };
        let nodes = &self.read.records.texts[first as usize..(first + len) as usize];
        nodes.iter().filter_map(|node| Some(Text { text: self.tree.text(*node)?, node: *node })).collect()
    }

    /// A node taken as it stands, by path.
    pub fn any(&self, record: RecordIndex, path: &str) -> Option<NodeId> {
        match self.slot(record, path) {
            Slot::Any(node) => Some(*node),
            _ => None,
        }
    }

    /// The key of a map's entry.
    pub fn key(&self, record: RecordIndex) -> Option<Text<'_>> {
        let node = self.read.records.record(record).key?;
        Some(Text { text: self.tree.text(node)?, node })
    }
}
