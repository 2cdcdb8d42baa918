//! Events of the parser to the flat tape, with exact spans.
//!
//! Called by `parse` alone. The parser's places are exact for scalars and brackets; those of absent values, of empty
//! block scalars and of dashes are looked up here between the nodes. Nothing recurses: what is open is a list.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Arc;

use granit_parser::{Event, ScalarStyle as Style, Span as Place, StructureStyle, Tag};

use super::close::Current;
use super::keys::Keys;
use super::lost_text;
use super::parse::Limits;
use super::places::{indicator, next_content};
use super::problems::Problems;
use super::refuse;
use super::syntax::Context;
use super::tree::{Kind, Node, NodeId, Parsed, ScalarStyle, Tree};
use crate::problem::Problem;
use crate::source::{SourceFile, Span};

/// The `end` of a collection that is still open.
pub(super) const OPEN: NodeId = 0;

/// A collection whose end has not been met.
#[derive(Debug)]
pub(super) struct Open<'s> {
    pub(super) node: NodeId,
    pub(super) mapping: bool,
    pub(super) flow: bool,
    pub(super) children: usize,
    /// Where its last key or item is, or for a list in block style its last dash.
    pub(super) last: Span,
    pub(super) keys: Keys<'s>,
}

/// What a node is to the collection around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Root,
    Item,
    Key,
    Value,
}

/// Builds the tape of one file.
pub(super) struct Builder<'s> {
    pub(super) tree: Tree,
    pub(super) text: &'s str,
    pub(super) limits: &'s Limits,
    pub(super) problems: Problems,
    pub(super) open: Vec<Open<'s>>,
    pub(super) document: Option<Current>,
    /// Whether the last document ended with `...`, so that what follows is none of it.
    pub(super) ended: bool,
    /// Whether a document that was cut short goes on and its first node has not come.
    pub(super) resumed: bool,
    /// Whether the nodes that come belong nowhere, until the end of their document.
    pub(super) skipping: bool,
    pub(super) anchors: HashMap<Cow<'s, str>, NodeId>,
    pub(super) last_node: Option<NodeId>,
    aliases: usize,
    /// Comments with text directly behind their `#`.
    pub(super) comments: Vec<(usize, usize)>,
    pub(super) base: usize,
    pub(super) yielded: bool,
    pub(super) last_event: usize,
    /// One past the last byte of content, indicators included.
    pub(super) after: usize,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: Arc<SourceFile>, text: &'s str, limits: &'s Limits) -> Self {
        Builder {
            tree: Tree::new(source),
            text,
            limits,
            problems: Problems::default(),
            open: Vec::new(),
            document: None,
            ended: false,
            resumed: false,
            skipping: false,
            anchors: HashMap::new(),
            last_node: None,
            aliases: 0,
            comments: Vec::new(),
            base: 0,
            yielded: false,
            last_event: 0,
            after: 0,
        }
    }

    /// The parser starts anew at an offset of the file.
    pub(super) fn begin_segment(&mut self, start: usize) {
        self.base = start;
        self.after = start;
        self.yielded = false;
    }

    /// Whether the stretch of text that is being read gave anything.
    pub(super) fn segment_yielded(&self) -> bool {
        self.yielded
    }

    /// The last byte of the last node that was met.
    pub(super) fn last_event(&self) -> usize {
        self.last_event
    }

    /// What a syntax error is told by, beside its own place.
    pub(super) fn context(&self) -> Context<'s> {
        let bracket = self.open.iter().rev().find(|open| open.flow).map(|open| self.tree.span(open.node));
        Context { text: self.text, bracket: bracket.map(|span| span.start as usize) }
    }

    /// Takes one event.
    ///
    /// # Errors
    /// The limit that it breaks.
    pub(super) fn event(&mut self, event: Event<'s>, place: &Place) -> Result<(), Problem> {
        let range = place.byte_range().unwrap_or_default();
        let (start, end) = (self.base + range.start, self.base + range.end);
        match event {
            Event::DocumentStart(explicit, _) => return self.document_start(explicit, end),
            Event::DocumentEnd => self.document_end(start, end),
            Event::Comment(..) => {
                if lost_text::suspect(self.text, start).is_some() {
                    self.comments.push((self.tree.documents.len(), start));
                }
            }
            Event::Anchor(_, name) => {
                if let Some(node) = self.last_node {
                    self.anchors.insert(name, node);
                }
            }
            Event::Alias(_) | Event::UnresolvedAlias(_) => return self.alias(start, end),
            Event::Scalar(value, style, _, tag) => {
                self.tag(tag.as_deref(), place);
                return self.scalar(value, style, start, end);
            }
            Event::SequenceStart(style, _, tag) => {
                self.tag(tag.as_deref(), place);
                return self.collection(Kind::Sequence, style, start, end);
            }
            Event::MappingStart(style, _, tag) => {
                self.tag(tag.as_deref(), place);
                return self.collection(Kind::Mapping, style, start, end);
            }
            Event::SequenceEnd | Event::MappingEnd => self.collection_end(end),
            _ => {}
        }
        Ok(())
    }

    /// Finds the place of a node in the open collections; `None` where it belongs nowhere.
    fn enter(&mut self, start: usize, end: usize) -> Result<Option<Role>, Problem> {
        self.last_event = self.last_event.max(end.saturating_sub(1)).max(start);
        self.last_node = None;
        if self.resumed && !self.open.is_empty() {
            self.skipping = true;
        }
        self.resumed = false;
        if self.skipping {
            return Ok(None);
        }
        if self.tree.nodes.len() >= self.limits.nodes {
            return Err(refuse::too_many_nodes(self.text, start, self.limits));
        }
        self.yielded = true;
        let Some(parent) = self.open.last_mut() else {
            return Ok(Some(Role::Root));
        };
        parent.children += 1;
        if parent.mapping {
            return Ok(Some(if parent.children % 2 == 1 { Role::Key } else { Role::Value }));
        }
        if !parent.flow && parent.children > 1 {
            if let Some(dash) = indicator(self.text, self.after, self.text.len(), b"-") {
                parent.last = Span::new(dash, dash + 1);
                self.after = dash + 1;
            }
        }
        Ok(Some(Role::Item))
    }

    /// Puts a node on the tape.
    fn push(&mut self, role: Role, kind: Kind, span: Span) -> NodeId {
        // The limit of nodes keeps the tape far below what an index can hold.
        let id = NodeId::try_from(self.tree.nodes.len()).unwrap_or(NodeId::MAX);
        let end = if matches!(kind, Kind::Sequence | Kind::Mapping) { OPEN } else { id + 1 };
        self.tree.nodes.push(Node { kind, span, end, decoded: Node::AS_WRITTEN, absent: false });
        self.last_node = Some(id);
        if let (Role::Root, Some(document)) = (role, &mut self.document) {
            document.root = Some(id);
            document.start.get_or_insert(span.start as usize);
        }
        if let (Role::Key, Some(parent)) = (role, self.open.last_mut()) {
            parent.last = span;
        }
        id
    }

    fn scalar(&mut self, value: Cow<'s, str>, style: Style, start: usize, end: usize) -> Result<(), Problem> {
        let style = match style {
            Style::Plain => ScalarStyle::Plain,
            Style::SingleQuoted => ScalarStyle::SingleQuoted,
            Style::DoubleQuoted => ScalarStyle::DoubleQuoted,
            Style::Literal => ScalarStyle::Literal,
            Style::Folded => ScalarStyle::Folded,
        };
        // The parser gives an absent value the text `~`, told from a written one by its empty place alone.
        let absent = style == ScalarStyle::Plain && start == end;
        if absent && self.open.is_empty() {
            self.last_node = None;
            return Ok(());
        }
        if value.len() > self.limits.scalar_bytes {
            return Err(refuse::scalar_too_long(self.text, start, value.len(), self.limits));
        }
        let Some(role) = self.enter(start, end)? else {
            return Ok(());
        };
        let span = match style {
            _ if absent => self.absent(role, start),
            ScalarStyle::Literal | ScalarStyle::Folded => self.block_scalar(start, end),
            _ => Span::new(start, end),
        };
        if !absent {
            self.after = span.end as usize;
        }
        let id = self.push(role, Kind::Scalar(style), span);
        self.tree.nodes[id as usize].absent = absent;
        if !absent && self.text[span.range()] != *value {
            self.tree.nodes[id as usize].decoded = u32::try_from(self.tree.decoded.len()).unwrap_or(NodeId::MAX);
            self.tree.decoded.push(Box::from(&*value));
        }
        if role == Role::Key && !absent {
            if style == ScalarStyle::Plain && value == "<<" {
                self.problems.push(self.tree.documents.len(), refuse::merge_key(span));
            }
            self.key(value, id);
        }
        Ok(())
    }

    /// The place of a value that was left out: its key, its dash, or the `:` of a key that was left out.
    fn absent(&mut self, role: Role, start: usize) -> Span {
        let last = self.open.last().map_or(Span::new(start, start), |open| open.last);
        match role {
            Role::Key => {
                let Some(at) = indicator(self.text, self.after, self.text.len(), b"?:") else {
                    return Span::new(start, start);
                };
                self.after = if self.text.as_bytes()[at] == b'?' { at + 1 } else { at };
                return Span::new(at, at + 1);
            }
            Role::Value => {
                let at = next_content(self.text, self.after);
                if self.text.as_bytes().get(at) == Some(&b':') {
                    self.after = at + 1;
                }
            }
            Role::Item | Role::Root => {}
        }
        if let Some(lost) = lost_text::instead_of_value(self.text, self.after) {
            self.problems.push(self.tree.documents.len(), lost_text::problem(self.text, lost));
        }
        last
    }

    /// The content of a block scalar without its last line break, or its indicator where it has none.
    fn block_scalar(&self, start: usize, end: usize) -> Span {
        let length = self.text[start..end].trim_end_matches(['\n', '\r']).len();
        if length > 0 {
            return Span::new(start, start + length);
        }
        let Some(at) = indicator(self.text, self.after, self.text.len(), b"|>") else {
            return Span::new(start, start);
        };
        let header = self.text[at..].bytes().take_while(|byte| !byte.is_ascii_whitespace()).count();
        Span::new(at, at + header)
    }

    fn key(&mut self, text: Cow<'s, str>, id: NodeId) {
        let first = self.open.last_mut().and_then(|open| open.keys.insert(text, id));
        if let Some(first) = first {
            let problem = refuse::duplicate_key(self.text, self.tree.span(first), self.tree.span(id));
            self.problems.push(self.tree.documents.len(), problem);
        }
    }

    fn alias(&mut self, start: usize, end: usize) -> Result<(), Problem> {
        self.aliases += 1;
        if self.aliases > self.limits.aliases {
            return Err(refuse::too_many_aliases(Span::new(start, end), self.limits));
        }
        let Some(role) = self.enter(start, end)? else {
            return Ok(());
        };
        self.after = end;
        let name = self.text.get(start + 1..end).unwrap_or_default();
        let target = self.anchors.get(name).copied();
        let kind = match target {
            Some(target) if self.tree.node(target).end != OPEN => Kind::Alias(target),
            _ => Kind::BrokenAlias,
        };
        let id = self.push(role, kind, Span::new(start, end));
        if kind == Kind::BrokenAlias {
            let problem = refuse::unknown_alias(name, Span::new(start, end), target.map(|open| self.tree.span(open)));
            self.problems.push(self.tree.documents.len(), problem);
        }
        if role == Role::Key {
            if let Some(text) = self.tree.text(id).map(str::to_owned) {
                self.key(Cow::Owned(text), id);
            }
        }
        Ok(())
    }

    fn collection(&mut self, kind: Kind, style: StructureStyle, start: usize, end: usize) -> Result<(), Problem> {
        let (mapping, flow) = (kind == Kind::Mapping, style == StructureStyle::Flow);
        if self.resumed && mapping && !flow && !self.open.is_empty() {
            // The rest of a mapping that a syntax error cut: its entries join those before the error.
            self.resumed = false;
            return Ok(());
        }
        let Some(role) = self.enter(start, start)? else {
            return Ok(());
        };
        if self.open.len() >= self.limits.depth {
            return Err(super::parse::too_deep(self.text, start, self.limits));
        }
        let mut begin = start;
        if flow && end > start && matches!(self.text.as_bytes().get(start), Some(b'[' | b'{')) {
            self.after = end;
        } else if !mapping && !flow {
            if let Some(dash) = indicator(self.text, self.after, self.text.len(), b"-") {
                begin = dash;
                self.after = dash + 1;
            }
        }
        let span = Span::new(begin, begin + 1);
        let node = self.push(role, kind, span);
        self.open.push(Open { node, mapping, flow, children: 0, last: span, keys: Keys::default() });
        Ok(())
    }

    fn collection_end(&mut self, end: usize) {
        if self.skipping {
            return;
        }
        let Some(open) = self.open.pop() else {
            return;
        };
        // A pair without braces in a list in brackets ends with its value; there the parser's place is empty.
        let bracket = end.checked_sub(1).and_then(|at| self.text.as_bytes().get(at));
        let opened = self.text.as_bytes().get(self.tree.span(open.node).start as usize);
        if open.flow && matches!((opened, bracket), (Some(b'['), Some(b']')) | (Some(b'{'), Some(b'}'))) {
            self.after = self.after.max(end);
        }
        self.last_event = self.last_event.max(self.after.saturating_sub(1));
        self.close(&open);
    }

    fn tag(&mut self, tag: Option<&Tag>, place: &Place) {
        if tag.is_none_or(Tag::is_yaml_core_schema) {
            return;
        }
        let range = place.tag_span().and_then(|tag| tag.byte_range()).or(place.byte_range()).unwrap_or_default();
        let span = Span::new(self.base + range.start, self.base + range.end);
        self.problems.push(self.tree.documents.len(), refuse::unknown_tag(&self.text[span.range()], span));
    }

    /// The tree and its problems.
    pub(super) fn finish(mut self) -> Parsed {
        self.close_document();
        self.comments.sort_by_key(|(_, at)| *at);
        self.comments.dedup_by_key(|(_, at)| *at);
        for (document, at) in std::mem::take(&mut self.comments) {
            if let Some(lost) = lost_text::suspect(self.text, at) {
                if lost_text::follows_value(&self.tree, at) {
                    self.problems.push(document, lost_text::problem(self.text, lost));
                }
            }
        }
        Parsed { tree: self.tree, problems: self.problems.finish() }
    }
}
