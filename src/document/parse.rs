//! Parser events to the tape.

use std::sync::Arc;

use super::tree::{Parsed, Tree};
use crate::source::SourceFile;

/// Bounds on what one file may ask of us; each has its own message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of one file.
    pub file_bytes: usize,
    /// Nesting of collections.
    pub depth: usize,
    /// Nodes of one file.
    pub nodes: usize,
    /// Aliases of one file.
    pub aliases: usize,
    /// Bytes of one scalar.
    pub scalar_bytes: usize,
    /// Documents of one file.
    pub documents: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits { file_bytes: 16 << 20, depth: 64, nodes: 1_000_000, aliases: 10_000, scalar_bytes: 64 << 10, documents: 1_000 }
    }
}

/// Reads every document of a file, with every problem of its YAML.
pub fn parse(source: Arc<SourceFile>, limits: &Limits) -> Parsed {
    let _ = limits;
    Parsed { tree: Tree::new(source), problems: Vec::new() }
}
