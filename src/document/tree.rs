//! The located tree: a flat preorder tape of nodes.
//!
//! Flat, so that no depth of nesting can exhaust the stack, and so that a node is an index. Built by `parse`, read by
//! the schema-directed reader.

use std::sync::Arc;

use crate::problem::Problem;
use crate::source::{SourceFile, Span};

/// Index of a node in its tree.
pub type NodeId = u32;

/// How a scalar was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScalarStyle {
    /// No quotes.
    Plain,
    /// `'...'`
    SingleQuoted,
    /// `"..."`
    DoubleQuoted,
    /// `|` block
    Literal,
    /// `>` block
    Folded,
}

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A scalar; its text is [`Tree::text`].
    Scalar(ScalarStyle),
    /// A sequence; its items follow on the tape.
    Sequence,
    /// A mapping; keys and values alternate on the tape.
    Mapping,
    /// An alias of an earlier, finished node of the same document.
    Alias(NodeId),
    /// An alias that names no anchor, or one that is still open; a problem was reported.
    BrokenAlias,
}

/// One node of the tape.
#[derive(Debug, Clone, Copy)]
pub struct Node {
    /// What it is.
    pub kind: Kind,
    /// Its text in the file: for a scalar with its quotes, for a collection from first to last byte of content.
    pub span: Span,
    /// One past the last node below this one.
    pub end: NodeId,
    /// Index into the decoded texts where the text differs from the slice; [`Node::AS_WRITTEN`] where it does not.
    pub(super) decoded: u32,
    /// Whether the value was left out (`key:` with nothing after it); its span is then that of the key.
    pub absent: bool,
}

impl Node {
    /// The text is the slice.
    pub(super) const AS_WRITTEN: u32 = u32::MAX;
    /// The `end` of a collection that is not finished; no finished node ends at the first.
    pub(super) const OPEN: NodeId = 0;
}

/// One YAML document of a file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DocumentRoot {
    /// Its root node; `None` where nothing could be read or the document is empty.
    pub root: Option<NodeId>,
    /// Whether a syntax error or a limit cut it short: no rules run on it.
    pub broken: bool,
    /// From its first to its last byte of content.
    pub span: Span,
}

/// The documents of one file, as far as they could be read.
#[derive(Debug)]
pub struct Tree {
    source: Arc<SourceFile>,
    pub(super) nodes: Vec<Node>,
    pub(super) decoded: Vec<Box<str>>,
    pub(super) documents: Vec<DocumentRoot>,
}

/// A tree with the problems met while reading it.
#[derive(Debug)]
pub struct Parsed {
    /// What could be read.
    pub tree: Tree,
    /// Syntax errors, limits, duplicate keys, broken aliases, tags, merge keys; each with the index of its document.
    pub problems: Vec<(usize, Problem)>,
}

impl Tree {
    pub(super) fn new(source: Arc<SourceFile>) -> Self {
        // A node for every ten bytes is usual.
        let room = source.text().len() / 10;
        Tree { source, nodes: Vec::with_capacity(room), decoded: Vec::new(), documents: Vec::new() }
    }

    /// The file it was read from.
    pub fn source(&self) -> &Arc<SourceFile> {
        &self.source
    }

    /// How many nodes there are.
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// The documents, in order.
    pub fn documents(&self) -> &[DocumentRoot] {
        &self.documents
    }

    /// A node as it stands, aliases not followed.
    pub fn node(&self, id: NodeId) -> &Node {
        &self.nodes[id as usize]
    }

    /// What a node is once an alias is followed.
    pub fn kind(&self, id: NodeId) -> Kind {
        self.node(self.resolve(id)).kind
    }

    /// The node that an alias stands for, or the node itself. Never an alias: `parse` resolves chains.
    pub fn resolve(&self, id: NodeId) -> NodeId {
        match self.node(id).kind {
            Kind::Alias(target) => target,
            _ => id,
        }
    }

    /// Where a node is written (an alias: the `*name`).
    pub fn span(&self, id: NodeId) -> Span {
        self.node(id).span
    }

    /// The decoded text of a scalar, aliases followed; `None` for anything else.
    pub fn text(&self, id: NodeId) -> Option<&str> {
        let node = self.node(self.resolve(id));
        match node.kind {
            Kind::Scalar(_) if node.absent => Some(""),
            Kind::Scalar(_) if node.decoded == Node::AS_WRITTEN => Some(&self.source.text()[node.span.range()]),
            Kind::Scalar(_) => Some(&self.decoded[node.decoded as usize]),
            _ => None,
        }
    }

    /// Whether a value was left out.
    pub fn is_absent(&self, id: NodeId) -> bool {
        self.node(self.resolve(id)).absent
    }

    /// Keys and values of a mapping, aliases followed; empty for anything else.
    pub fn entries(&self, id: NodeId) -> Entries<'_> {
        let id = self.resolve(id);
        let node = self.node(id);
        let end = if node.kind == Kind::Mapping { node.end } else { id + 1 };
        Entries { tree: self, next: id + 1, end }
    }

    /// Items of a sequence, aliases followed; empty for anything else.
    pub fn items(&self, id: NodeId) -> Items<'_> {
        let id = self.resolve(id);
        let node = self.node(id);
        let end = if node.kind == Kind::Sequence { node.end } else { id + 1 };
        Items { tree: self, next: id + 1, end }
    }
}

/// Walks the entries of a mapping.
#[derive(Debug, Clone)]
pub struct Entries<'t> {
    tree: &'t Tree,
    next: NodeId,
    end: NodeId,
}

impl Iterator for Entries<'_> {
    type Item = (NodeId, NodeId);

    fn next(&mut self) -> Option<(NodeId, NodeId)> {
        if self.next >= self.end {
            return None;
        }
        let key = self.next;
        let value = self.tree.node(key).end;
        // A mapping cut short by a syntax error may end after a key; `parse` closes it with an absent value.
        self.next = self.tree.node(value).end;
        Some((key, value))
    }
}

/// Walks the items of a sequence.
#[derive(Debug, Clone)]
pub struct Items<'t> {
    tree: &'t Tree,
    next: NodeId,
    end: NodeId,
}

impl Iterator for Items<'_> {
    type Item = NodeId;

    fn next(&mut self) -> Option<NodeId> {
        if self.next >= self.end {
            return None;
        }
        let item = self.next;
        self.next = self.tree.node(item).end;
        Some(item)
    }
}
