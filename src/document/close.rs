//! Where documents and collections end: in their own time, or cut short by an error.
//!
//! The second half of the builder. A document that an error cut short stays open, so that what is read behind the
//! error joins what was read before it.

use super::builder::{Builder, OPEN, Open};
use super::refuse;
use super::tree::{DocumentRoot, Kind, Node, NodeId, ScalarStyle};
use crate::problem::Problem;
use crate::source::Span;

/// The document that is being read.
#[derive(Debug, Default)]
pub(super) struct Current {
    pub(super) root: Option<NodeId>,
    pub(super) broken: bool,
    pub(super) start: Option<usize>,
}

impl<'s> Builder<'s> {
    pub(super) fn document_start(&mut self, explicit: bool, end: usize) -> Result<(), Problem> {
        if explicit {
            self.after = self.after.max(end);
        }
        if self.document.as_ref().is_some_and(|document| document.broken) && !explicit {
            self.resumed = true;
            return Ok(());
        }
        self.close_document();
        if self.tree.documents.len() >= self.limits.documents {
            return Err(refuse::too_many_documents(self.text, end, self.limits));
        }
        self.anchors.clear();
        self.document = Some(Current::default());
        Ok(())
    }

    pub(super) fn document_end(&mut self, start: usize, end: usize) {
        self.close_document();
        self.skipping = false;
        self.resumed = false;
        self.ended = end > start;
        self.after = self.after.max(end);
    }

    /// Puts the document that is being read beside those before it.
    pub(super) fn close_document(&mut self) {
        while let Some(open) = self.open.pop() {
            self.close(&open);
        }
        let Some(document) = self.document.take() else {
            return;
        };
        let start = document.start.unwrap_or(self.after);
        let end = self.content_end().max(start);
        let span = Span::new(start, end);
        self.tree.documents.push(DocumentRoot { root: document.root, broken: document.broken, span });
        self.ended = false;
    }

    /// Ends a collection with what it has; a key that an error left alone gets an absent value.
    pub(super) fn close(&mut self, open: &Open<'s>) {
        if open.mapping && open.children % 2 == 1 {
            self.push_absent(open.last);
        }
        let end = NodeId::try_from(self.tree.nodes.len()).unwrap_or(NodeId::MAX);
        let last = Span::new(0, self.content_end()).end;
        let node = &mut self.tree.nodes[open.node as usize];
        node.end = end;
        node.span.end = last.max(node.span.end);
    }

    fn push_absent(&mut self, span: Span) {
        let end = NodeId::try_from(self.tree.nodes.len() + 1).unwrap_or(NodeId::MAX);
        let kind = Kind::Scalar(ScalarStyle::Plain);
        self.tree.nodes.push(Node { kind, span, end, decoded: Node::AS_WRITTEN, absent: true });
    }

    fn content_end(&self) -> usize {
        self.text[..self.after].trim_end_matches([' ', '\t', '\n', '\r']).len()
    }

    /// Reports what makes the document unreadable, and marks it.
    pub(super) fn unreadable(&mut self, problem: Problem) {
        let at = problem.span.start as usize;
        if self.document.is_none() {
            self.document = Some(self.reopen(at).unwrap_or(Current { start: Some(at), ..Current::default() }));
        }
        if let Some(document) = &mut self.document {
            document.broken = true;
        }
        self.problems.push(self.tree.documents.len(), problem);
    }

    /// The last document, where an error behind it stands in its text and not in a document of its own.
    fn reopen(&mut self, at: usize) -> Option<Current> {
        let last = self.tree.documents.last()?;
        let between = self.text.get(last.span.end as usize..at).unwrap_or_default();
        if self.ended || between.split(['\n', '\r']).skip(1).any(|line| line.starts_with("---")) {
            return None;
        }
        let last = self.tree.documents.pop()?;
        Some(Current { root: last.root, broken: true, start: Some(last.span.start as usize) })
    }

    /// A limit ends the reading of the file.
    pub(super) fn stop(&mut self, problem: Problem) {
        self.unreadable(problem);
    }

    /// A syntax error ends everything that is open but the mapping at the root, which may go on behind it.
    pub(super) fn cut(&mut self) {
        self.skipping = false;
        self.resumed = false;
        let mut keys = None;
        while let Some(open) = self.open.pop() {
            self.close(&open);
            keys = Some(open.keys);
        }
        let Some(root) = self.document.as_ref().and_then(|document| document.root) else {
            return;
        };
        let count = self.tree.nodes.len();
        let node = &mut self.tree.nodes[root as usize];
        if node.kind == Kind::Mapping && node.end as usize == count {
            node.end = OPEN;
            let (last, keys) = (node.span, keys.unwrap_or_default());
            self.open.push(Open { node: root, mapping: true, flow: false, children: 0, last, keys });
        }
    }
}
