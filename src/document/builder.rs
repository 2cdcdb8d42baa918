//! Parser events to the tape.
//!
//! Called by `parse`, one event after the other; never recursive, so that no nesting can exhaust the stack. A stretch
//! of text that begins after a syntax error is a segment: its keys go on in the root mapping of the broken document.

use std::collections::HashMap;
use std::sync::Arc;

use granit_parser as yaml;
use granit_parser::Event;

use super::keys::Keys;
use super::parse::Limits;
use super::places::{end_of_line, indicator};
use super::problems::Problems;
use super::syntax::Context;
use super::tree::{DocumentRoot, Kind, Node, NodeId, Parsed, ScalarStyle, Tree};
use super::{lost_text, node_problems};
use crate::problem::Problem;
use crate::source::{SourceFile, Span};

/// A collection that is not finished.
struct Frame {
    node: NodeId,
    mapping: bool,
    flow: bool,
    /// Keys and values, or items, so far.
    children: usize,
    keys: Keys,
}

/// How the root of the running segment is taken.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Segment {
    /// As the root of its document.
    Plain,
    /// It goes on with the document that a syntax error broke; its root has not come yet.
    GoesOn,
    /// It has no place in the broken document; so many collections of it are open.
    Skipped(usize),
}

/// The tape under construction.
pub(super) struct Builder<'s> {
    text: &'s str,
    limits: &'s Limits,
    tree: Tree,
    problems: Problems,
    frames: Vec<Frame>,
    /// The outermost collection that was finished last: a segment goes on in it with the keys that it knows.
    outermost: Option<Frame>,
    anchors: HashMap<&'s str, NodeId>,
    aliases: usize,
    /// The node that an anchor event speaks of.
    newest: Option<NodeId>,
    /// Where the running segment begins in the text; the parser counts from there.
    base: usize,
    segment: Segment,
    yielded: bool,
    /// Ends of the last content that belongs to a node, and of the last event of any kind.
    last: usize,
    last_event: usize,
    /// Comments that may hold lost text, with their documents; judged when the tape is complete.
    suspects: Vec<(usize, Span)>,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: Arc<SourceFile>, text: &'s str, limits: &'s Limits) -> Self {
        Builder {
            text,
            limits,
            tree: Tree::new(source),
            problems: Problems::default(),
            frames: Vec::new(),
            outermost: None,
            anchors: HashMap::new(),
            aliases: 0,
            newest: None,
            base: 0,
            segment: Segment::Plain,
            yielded: false,
            last: 0,
            last_event: 0,
            suspects: Vec::new(),
        }
    }

    /// A parser begins at `base`, with text that goes on after a syntax error unless it is the head of the file.
    pub(super) fn begin_segment(&mut self, base: usize) {
        self.base = base;
        self.segment = if base == 0 { Segment::Plain } else { Segment::GoesOn };
        self.yielded = false;
        self.last = base;
    }

    /// Whether anything of this segment found its place.
    pub(super) fn segment_yielded(&self) -> bool {
        self.yielded
    }

    /// One past the last byte that the parser made an event of.
    pub(super) fn last_event(&self) -> usize {
        self.last_event
    }

    /// What a message about a syntax error may look at.
    pub(super) fn context(&self) -> Context<'s> {
        // A single pair in a list is a flow mapping without a bracket of its own.
        let mut flow = self.frames.iter().rev().take_while(|frame| frame.flow);
        let start = |frame: &Frame| self.tree.node(frame.node).span.start as usize;
        let bracket = flow.find_map(|frame| Some(start(frame)).filter(|&at| self.text[at..].starts_with(['[', '{'])));
        Context { text: self.text, read_to: self.last, bracket }
    }

    /// Ends what is open and marks the document as broken; made up where there is none yet.
    pub(super) fn cut(&mut self) {
        while !self.frames.is_empty() {
            self.close();
        }
        if self.tree.documents.is_empty() {
            self.open_document(Span::new(self.base, self.base));
        }
        if let Some(document) = self.tree.documents.last_mut() {
            document.broken = true;
        }
        self.end_document();
    }

    /// A syntax error: the document is broken, reading may go on.
    pub(super) fn unreadable(&mut self, problem: Problem) {
        let document = self.document();
        self.problems.push(document, problem);
    }

    /// A limit was met: nothing further is read of this file.
    pub(super) fn stop(&mut self, problem: Problem) {
        self.unreadable(problem);
        self.cut();
    }

    pub(super) fn finish(mut self) -> Parsed {
        for (document, span) in std::mem::take(&mut self.suspects) {
            if lost_text::follows_value(&self.tree, span.start as usize) {
                self.problems.push(document, lost_text::problem(self.text, span));
            }
        }
        Parsed { tree: self.tree, problems: self.problems.finish() }
    }

    /// Takes one event.
    ///
    /// # Errors
    /// The limit that it exceeds.
    pub(super) fn event(&mut self, event: Event<'s>, span: &yaml::Span) -> Result<(), Problem> {
        let at = self.place(span);
        self.last_event = self.last_event.max(at.end as usize);
        if let Segment::Skipped(depth) = self.segment {
            self.skip(&event, depth);
            return Ok(());
        }
        let unknown_tag = event.tag().is_some_and(|tag| tag.core_suffix().is_none());
        let tag_span = span.tag_span().map(|tag| self.place(&tag));
        match event {
            Event::DocumentStart(explicit, _) => return self.document_start(explicit, at),
            Event::DocumentEnd => self.end_document(),
            Event::Comment(_, yaml::Placement::Right) => self.comment(at),
            Event::Anchor(..) => self.anchor(at),
            Event::Alias(_) | Event::UnresolvedAlias(_) => self.alias(at)?,
            Event::Scalar(decoded, style, ..) => self.scalar(&decoded, scalar_style(style), at, tag_span)?,
            Event::SequenceStart(style, ..) => self.open(false, style, at)?,
            Event::MappingStart(style, ..) => self.open(true, style, at)?,
            Event::SequenceEnd | Event::MappingEnd => {
                self.last = self.last.max(if at.is_empty() { 0 } else { at.end as usize });
                self.close();
            }
            _ => {}
        }
        if let Some(span) = tag_span {
            self.last = self.last.max(span.end as usize);
            if unknown_tag {
                self.report(node_problems::unknown_tag(self.text, span));
            }
        }
        Ok(())
    }

    fn place(&self, span: &yaml::Span) -> Span {
        let range = span.byte_range().unwrap_or_default();
        Span::new(self.base + range.start, self.base + range.end)
    }

    fn document(&self) -> usize {
        self.tree.documents.len().saturating_sub(1)
    }

    fn report(&mut self, problem: Problem) {
        let document = self.document();
        self.problems.push(document, problem);
    }

    fn document_start(&mut self, explicit: bool, at: Span) -> Result<(), Problem> {
        if self.segment == Segment::GoesOn && !explicit {
            return Ok(());
        }
        self.segment = Segment::Plain;
        self.yielded = true;
        let full = self.tree.documents.len() >= self.limits.documents;
        self.open_document(at);
        if full { Err(node_problems::too_many_documents(at, self.limits.documents)) } else { Ok(()) }
    }

    fn open_document(&mut self, span: Span) {
        self.anchors.clear();
        self.last = self.last.max(span.end as usize);
        self.tree.documents.push(DocumentRoot { root: None, broken: false, span });
    }

    fn end_document(&mut self) {
        if let Some(document) = self.tree.documents.last_mut()
            && let Some(root) = document.root
        {
            document.span = self.tree.nodes[root as usize].span;
        }
    }

    fn skip(&mut self, event: &Event<'s>, depth: usize) {
        match event {
            Event::SequenceStart(..) | Event::MappingStart(..) => self.segment = Segment::Skipped(depth + 1),
            Event::SequenceEnd | Event::MappingEnd => self.segment = Segment::Skipped(depth.saturating_sub(1)),
            // A later document of the same stretch has nothing to do with the broken one.
            Event::DocumentEnd => self.segment = Segment::Plain,
            _ => {}
        }
    }

    /// Finds the place of a segment's root; true where the event is used up by that.
    fn go_on(&mut self, block_mapping: bool, collection: bool) -> bool {
        if self.segment != Segment::GoesOn {
            return false;
        }
        let Some(root) = self.tree.documents.last().and_then(|document| document.root) else {
            self.segment = Segment::Plain;
            return false;
        };
        match self.outermost.take_if(|frame| block_mapping && frame.mapping && frame.node == root) {
            Some(frame) => {
                self.segment = Segment::Plain;
                self.tree.nodes[root as usize].end = Node::OPEN;
                self.newest = Some(root);
                self.frames.push(Frame { flow: false, ..frame });
            }
            None => self.segment = Segment::Skipped(usize::from(collection)),
        }
        true
    }

    fn comment(&mut self, at: Span) {
        let document = self.document();
        self.suspects.extend(lost_text::suspect(self.text, at.start as usize).map(|span| (document, span)));
    }

    fn anchor(&mut self, at: Span) {
        self.last = self.last.max(at.end as usize);
        if let Some(node) = self.newest {
            self.anchors.insert(&self.text[at.start as usize + 1..at.end as usize], node);
        }
    }

    fn alias(&mut self, at: Span) -> Result<(), Problem> {
        if self.go_on(false, false) {
            return Ok(());
        }
        self.aliases += 1;
        if self.aliases > self.limits.aliases {
            return Err(node_problems::too_many_aliases(at, self.limits.aliases));
        }
        self.last = at.end as usize;
        let target = self.anchors.get(&self.text[at.start as usize + 1..at.end as usize]).copied();
        let open = target.filter(|&target| self.tree.node(target).end == Node::OPEN);
        let kind = match (target, open) {
            (Some(target), None) => Kind::Alias(target),
            (_, open) => {
                let anchor = open.map(|open| self.tree.span(open));
                self.report(node_problems::unknown_alias(self.text, at, anchor));
                Kind::BrokenAlias
            }
        };
        self.push(kind, at, false, Node::AS_WRITTEN)?;
        Ok(())
    }

    fn scalar(&mut self, decoded: &str, style: ScalarStyle, at: Span, tag: Option<Span>) -> Result<(), Problem> {
        if self.go_on(false, false) {
            return Ok(());
        }
        if style == ScalarStyle::Plain && at.is_empty() {
            return self.absent(at, tag);
        }
        if decoded.len().max(at.range().len()) > self.limits.scalar_bytes {
            return Err(node_problems::scalar_too_long(self.text, at, decoded.len(), self.limits.scalar_bytes));
        }
        let at = match style {
            ScalarStyle::Literal | ScalarStyle::Folded => self.block_scalar_span(at),
            _ => at,
        };
        self.last = self.last.max(at.end as usize);
        let index = if &self.text[at.range()] == decoded {
            Node::AS_WRITTEN
        } else {
            self.tree.decoded.push(decoded.into());
            (self.tree.decoded.len() - 1) as u32
        };
        self.push(Kind::Scalar(style), at, false, index)
    }

    /// A block scalar without the line breaks behind it; an empty one stands at its `|` or `>`.
    fn block_scalar_span(&self, at: Span) -> Span {
        let start = at.start as usize;
        let length = self.text[at.range()].trim_end().len();
        if length > 0 {
            return Span::new(start, end_of_line(self.text.as_bytes(), start + length));
        }
        let sign = indicator(self.text, self.last, self.text.len(), b"|>");
        sign.map_or(self.tree.source().clamp(at), |sign| Span::new(sign, sign + 1))
    }

    /// A value, item or key that was left out.
    fn absent(&mut self, at: Span, tag: Option<Span>) -> Result<(), Problem> {
        let Some(frame) = self.frames.last() else {
            // An empty document has no root.
            self.newest = None;
            return Ok(());
        };
        let limit = tag.map_or(at.start, |tag| tag.start) as usize + 1;
        let (key, wanted): (Option<NodeId>, &[u8]) = match (frame.mapping, frame.children % 2) {
            (true, 1) => (Some(self.last_child(frame)), b":"),
            (true, _) => (None, b"?:"),
            (false, _) => (None, b"-"),
        };
        let sign = indicator(self.text, self.last, limit, wanted);
        if let Some(sign) = sign {
            self.last = sign + 1;
            if let Some(span) = lost_text::instead_of_value(self.text, sign + 1) {
                self.report(lost_text::problem(self.text, span));
            }
        }
        let span = match (key, sign) {
            (Some(key), _) => self.tree.span(key),
            (None, Some(sign)) => Span::new(sign, sign + 1),
            (None, None) => self.tree.source().clamp(at),
        };
        self.push(Kind::Scalar(ScalarStyle::Plain), span, true, Node::AS_WRITTEN)
    }

    /// The key that waits for its value: the last child that began.
    fn last_child(&self, frame: &Frame) -> NodeId {
        frame.keys.last().unwrap_or(frame.node)
    }

    fn open(&mut self, mapping: bool, style: yaml::StructureStyle, at: Span) -> Result<(), Problem> {
        let block = style == yaml::StructureStyle::Block;
        if self.go_on(mapping && block, true) {
            return Ok(());
        }
        let mut start = at.start as usize;
        // The parser lets a list in its key's column start at its first item, which may begin with a `-` of its own.
        let in_mapping = self.frames.last().is_some_and(|frame| frame.mapping);
        if !mapping && block && (in_mapping || !self.text[start..].starts_with('-')) {
            start = indicator(self.text, self.last, start + 1, b"-").unwrap_or(start);
        }
        if self.frames.len() >= self.limits.depth {
            return Err(node_problems::too_deep(self.text, start, self.limits));
        }
        self.last = self.last.max(start);
        let kind = if mapping { Kind::Mapping } else { Kind::Sequence };
        let node = self.tree.nodes.len() as NodeId;
        self.push(kind, Span::new(start, start), false, Node::AS_WRITTEN)?;
        self.frames.push(Frame { node, mapping, flow: !block, children: 0, keys: Keys::default() });
        Ok(())
    }

    /// Ends the innermost collection; a key without a value gets an absent one.
    fn close(&mut self) {
        let Some(mut frame) = self.frames.pop() else {
            return;
        };
        if frame.mapping && frame.children % 2 == 1 {
            let span = self.tree.span(self.last_child(&frame));
            let end = self.tree.nodes.len() as NodeId + 1;
            let kind = Kind::Scalar(ScalarStyle::Plain);
            self.tree.nodes.push(Node { kind, span, end, decoded: Node::AS_WRITTEN, absent: true });
            frame.children += 1;
        }
        let end = self.tree.nodes.len() as NodeId;
        // Cut short before its first child, it is the bracket or dash that opened it.
        let start = self.tree.span(frame.node).start as usize;
        let span = self.tree.source().clamp(Span::new(start, self.last.max(start)));
        let node = &mut self.tree.nodes[frame.node as usize];
        (node.end, node.span) = (end, span);
        if self.frames.is_empty() {
            self.outermost = Some(frame);
        }
    }

    fn push(&mut self, kind: Kind, span: Span, absent: bool, decoded: u32) -> Result<(), Problem> {
        if self.tree.nodes.len() >= self.limits.nodes {
            return Err(node_problems::too_many_nodes(self.tree.source().clamp(span), self.limits.nodes));
        }
        let id = self.tree.nodes.len() as NodeId;
        let leaf = !matches!(kind, Kind::Sequence | Kind::Mapping);
        let end = if leaf { id + 1 } else { Node::OPEN };
        self.tree.nodes.push(Node { kind, span, end, decoded, absent });
        self.newest = Some(id);
        self.yielded = true;
        match self.frames.last_mut() {
            Some(frame) => {
                frame.children += 1;
                if frame.mapping
                    && frame.children % 2 == 1
                    && let Some(problem) = frame.keys.add(&self.tree, frame.node, id)
                {
                    self.report(problem);
                }
            }
            None => {
                if let Some(document) = self.tree.documents.last_mut() {
                    document.root = Some(id);
                }
            }
        }
        Ok(())
    }
}

fn scalar_style(style: yaml::ScalarStyle) -> ScalarStyle {
    match style {
        yaml::ScalarStyle::Plain => ScalarStyle::Plain,
        yaml::ScalarStyle::SingleQuoted => ScalarStyle::SingleQuoted,
        yaml::ScalarStyle::DoubleQuoted => ScalarStyle::DoubleQuoted,
        yaml::ScalarStyle::Literal => ScalarStyle::Literal,
        yaml::ScalarStyle::Folded => ScalarStyle::Folded,
    }
}
