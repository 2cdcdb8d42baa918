//! Events to the tape.
//!
//! Fed by `parse`, segment by segment: a syntax error ends a segment, and the next one goes on with the same document.

use std::collections::HashMap;
use std::sync::Arc;

use granit_parser::{Event, ScalarStyle as Written, Span as Place};

use super::lost_text;
use super::parse::{Limits, too_deep};
use super::places::indicator;
use super::problems::Problems;
use super::tree::{DocumentRoot, Kind, Node, NodeId, Parsed, ScalarStyle, Tree};
use crate::problem::Problem;
use crate::source::{SourceFile, Span};

/// Keys of a mapping that are compared one by one; beyond, they are hashed, so that a huge mapping stays linear.
const FEW_KEYS: usize = 16;
/// Tags that say what YAML would take a value for anyway.
const CORE_TAGS: [&str; 8] = ["!", "!!str", "!!int", "!!float", "!!bool", "!!null", "!!map", "!!seq"];

/// A collection whose end has not been met.
struct Open {
    id: NodeId,
    expects_key: bool,
    few: Vec<NodeId>,
    many: HashMap<String, NodeId>,
}

pub(super) struct Builder<'s> {
    tree: Tree,
    text: &'s str,
    limits: &'s Limits,
    problems: Problems,
    open: Vec<Open>,
    anchors: HashMap<usize, NodeId>,
    aliases: usize,
    /// Offset of the segment in the text.
    base: usize,
    /// Where the last event ended.
    last: usize,
    yielded: bool,
    /// The root of the document at hand, and whether one was begun.
    root: Option<NodeId>,
    began: bool,
    broken: bool,
    /// Depth inside a part of a later segment that has no place in the document.
    swallowing: usize,
    comments: Vec<usize>,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: Arc<SourceFile>, text: &'s str, limits: &'s Limits) -> Self {
        Builder {
            tree: Tree::new(source),
            text,
            limits,
            problems: Problems::default(),
            open: Vec::new(),
            anchors: HashMap::new(),
            aliases: 0,
            base: 0,
            last: 0,
            yielded: false,
            root: None,
            began: false,
            broken: false,
            swallowing: 0,
            comments: Vec::new(),
        }
    }

    /// Begins to read at an offset.
    pub(super) fn begin_segment(&mut self, start: usize) {
        self.base = start;
        self.last = start;
        self.yielded = false;
        self.anchors.clear();
    }

    /// Whether anything was read since the segment began.
    pub(super) fn segment_yielded(&self) -> bool {
        self.yielded
    }

    /// Where the last event ended.
    pub(super) fn last_event(&self) -> usize {
        self.last
    }

    /// Reports what makes the document at hand unreadable.
    pub(super) fn unreadable(&mut self, problem: Problem) {
        self.began = true;
        self.broken = true;
        let document = self.tree.documents.len();
        self.problems.push(document, problem);
    }

    /// Stops for good: nothing behind this place is read.
    pub(super) fn stop(&mut self, problem: Problem) {
        self.unreadable(problem);
    }

    /// Ends a segment at a syntax error: everything but the document's root mapping is closed.
    pub(super) fn cut(&mut self) {
        self.broken = true;
        self.began = true;
        self.swallowing = 0;
        let keep = usize::from(self.root_is_open_mapping());
        while self.open.len() > keep {
            self.close(self.last);
        }
        self.complete_value();
    }

    fn root_is_open_mapping(&self) -> bool {
        self.open.first().is_some_and(|first| {
            Some(first.id) == self.root && self.tree.nodes[first.id as usize].kind == Kind::Mapping
        })
    }

    /// Gives a key without a value, left by an error, the value nothing.
    fn complete_value(&mut self) {
        let Some(open) = self.open.last() else { return };
        let mapping = self.tree.nodes[open.id as usize].kind == Kind::Mapping;
        if mapping && !open.expects_key {
            let span = self.tree.nodes.last().map_or(Span::default(), |node| node.span);
            self.push(Kind::Scalar(ScalarStyle::Plain), span, true);
            self.completed(self.next_id() - 1);
        }
    }

    /// Takes one event.
    pub(super) fn event(&mut self, event: Event<'_>, place: &Place) -> Result<(), Problem> {
        let range = place.byte_range().unwrap_or(0..0);
        let span = Span::new(self.base + range.start, self.base + range.end);
        match event {
            Event::DocumentStart(explicit, _) => self.document_start(explicit)?,
            Event::DocumentEnd => self.document_end(),
            Event::Comment(..) => {
                self.comments.push(span.start as usize);
                return Ok(());
            }
            Event::Scalar(value, style, anchor, tag) => {
                if self.admits(false) {
                    self.tag(tag.is_some(), place);
                    self.scalar(&value, style, span)?;
                    self.anchor(anchor, self.next_id() - 1);
                }
            }
            Event::Alias(anchor) => {
                if self.admits(false) {
                    self.alias(Some(anchor), span)?;
                }
            }
            Event::UnresolvedAlias(_) => {
                if self.admits(false) {
                    self.alias(None, span)?;
                }
            }
            Event::SequenceStart(_, anchor, tag) => {
                if self.admits(true) {
                    self.tag(tag.is_some(), place);
                    let id = self.collection(Kind::Sequence, span)?;
                    self.anchor(anchor, id);
                }
            }
            Event::MappingStart(_, anchor, tag) => {
                if self.goes_on_with_root() {
                    self.yielded = true;
                    return Ok(());
                }
                if self.admits(true) {
                    self.tag(tag.is_some(), place);
                    let id = self.collection(Kind::Mapping, span)?;
                    self.anchor(anchor, id);
                }
            }
            Event::SequenceEnd | Event::MappingEnd => {
                if self.swallowing > 0 {
                    self.swallowing -= 1;
                } else {
                    self.close(span.end as usize);
                }
            }
            _ => return Ok(()),
        }
        self.last = self.last.max(span.end as usize);
        Ok(())
    }

    /// Whether a node has a place: at the top of a segment that goes on with a document, only a mapping has.
    fn admits(&mut self, collection: bool) -> bool {
        self.yielded = true;
        if self.swallowing > 0 {
            self.swallowing += usize::from(collection);
            return false;
        }
        let stray = self.open.is_empty() && self.root.is_some();
        if stray {
            self.swallowing += usize::from(collection);
        }
        !stray
    }

    /// Whether a mapping that begins here goes on with the root mapping of a document that an error cut.
    fn goes_on_with_root(&self) -> bool {
        self.base > 0 && !self.yielded && self.open.len() == 1 && self.broken && self.root_is_open_mapping()
    }

    fn document_start(&mut self, explicit: bool) -> Result<(), Problem> {
        let goes_on = self.began && self.broken && !explicit && !self.yielded && self.base > 0;
        if goes_on {
            return Ok(());
        }
        if self.began {
            self.end_document();
        }
        if self.tree.documents.len() >= self.limits.documents {
            let limit = self.limits.documents;
            let message = format!("a file holds at most {limit} documents; this one holds more");
            let at = Span::new(self.last, self.last);
            return Err(Problem::unreadable("too-many-documents", at, message).with_help("split the file"));
        }
        self.began = true;
        self.broken = false;
        self.root = None;
        self.anchors.clear();
        Ok(())
    }

    fn document_end(&mut self) {
        self.yielded = true;
        self.end_document();
    }

    fn end_document(&mut self) {
        while !self.open.is_empty() {
            self.close(self.last);
        }
        let span = self.root.map_or(Span::new(self.last, self.last), |root| self.tree.nodes[root as usize].span);
        self.tree.documents.push(DocumentRoot { root: self.root, broken: self.broken, span });
        self.root = None;
        self.began = false;
        self.broken = false;
        self.swallowing = 0;
    }

    fn next_id(&self) -> NodeId {
        u32::try_from(self.tree.nodes.len()).unwrap_or(NodeId::MAX)
    }

    fn push(&mut self, kind: Kind, span: Span, absent: bool) -> NodeId {
        let id = self.next_id();
        self.tree.nodes.push(Node { kind, span, end: id + 1, decoded: Node::AS_WRITTEN, absent });
        if self.root.is_none() {
            self.root = Some(id);
        }
        id
    }

    fn admit_node(&self, span: Span) -> Result<(), Problem> {
        let limit = self.limits.nodes;
        if self.tree.nodes.len() < limit {
            return Ok(());
        }
        let message = format!("a file holds at most {limit} keys and values; this one holds more");
        Err(Problem::unreadable("too-many-nodes", span, message).with_help("split the file into several submittals"))
    }

    fn scalar(&mut self, value: &str, style: Written, span: Span) -> Result<(), Problem> {
        self.admit_node(span)?;
        let limit = self.limits.scalar_bytes;
        if value.len() > limit {
            let message = format!("a single value has at most {limit} bytes; this one has {}", value.len());
            let head = Span::new(span.start as usize, (span.start as usize + 20).min(span.end as usize));
            return Err(Problem::unreadable("scalar-too-long", head, message).with_help("shorten the text"));
        }
        let style = match style {
            Written::Plain => ScalarStyle::Plain,
            Written::SingleQuoted => ScalarStyle::SingleQuoted,
            Written::DoubleQuoted => ScalarStyle::DoubleQuoted,
            Written::Literal => ScalarStyle::Literal,
            Written::Folded => ScalarStyle::Folded,
        };
        let absent = style == ScalarStyle::Plain && span.is_empty();
        let placed = if span.is_empty() { self.place_of_nothing(style, span) } else { span };
        let id = self.push(Kind::Scalar(style), placed, absent);
        if !absent && self.text.get(placed.range()) != Some(value) {
            self.tree.nodes[id as usize].decoded = u32::try_from(self.tree.decoded.len()).unwrap_or(u32::MAX - 1);
            self.tree.decoded.push(value.into());
        }
        self.completed(id);
        Ok(())
    }

    /// A value that is left out stands where its key does; an empty block scalar at its indicator.
    fn place_of_nothing(&self, style: ScalarStyle, span: Span) -> Span {
        let at = span.start as usize;
        if matches!(style, ScalarStyle::Literal | ScalarStyle::Folded) {
            let found = indicator(self.text, self.last, self.text.len(), b"|>");
            return found.map_or(span, |found| Span::new(found, found + 1));
        }
        let key = self
            .open
            .last()
            .filter(|open| self.tree.nodes[open.id as usize].kind == Kind::Mapping && !open.expects_key);
        match (key, self.tree.nodes.last()) {
            (Some(_), Some(key)) => key.span,
            _ => {
                let before = self.text[..at.min(self.text.len())].trim_end().len();
                let start = self.text[..before].char_indices().next_back().map_or(0, |(at, _)| at);
                Span::new(start, before)
            }
        }
    }

    fn alias(&mut self, anchor: Option<usize>, span: Span) -> Result<(), Problem> {
        self.admit_node(span)?;
        self.aliases += 1;
        let limit = self.limits.aliases;
        if self.aliases > limit {
            let message = format!("a file holds at most {limit} aliases; this one holds more");
            return Err(Problem::unreadable("too-many-aliases", span, message).with_help("write the values out"));
        }
        let name = self.text.get(span.range()).unwrap_or("*").trim_start_matches('*').to_owned();
        let target = anchor.and_then(|anchor| self.anchors.get(&anchor)).copied();
        let open = target.is_some_and(|target| self.open.iter().any(|open| open.id == target));
        let kind = match target.filter(|_| !open) {
            Some(target) => Kind::Alias(target),
            None => {
                let message = if open {
                    format!("the alias `*{name}` stands inside the value that it names")
                } else {
                    format!("there is no anchor `&{name}` before this alias")
                };
                let problem = Problem::fault("unknown-alias", span, message);
                let document = self.tree.documents.len();
                self.problems.push(document, problem.with_help("write the value out, or name an anchor above"));
                Kind::BrokenAlias
            }
        };
        let id = self.push(kind, span, false);
        self.completed(id);
        Ok(())
    }

    fn anchor(&mut self, anchor: usize, id: NodeId) {
        if anchor > 0 {
            self.anchors.insert(anchor, id);
        }
    }

    fn tag(&mut self, tagged: bool, place: &Place) {
        if !tagged {
            return;
        }
        let Some(range) = place.tag_span().and_then(|tag| tag.byte_range()) else { return };
        let span = Span::new(self.base + range.start, self.base + range.end);
        let tag = self.text.get(span.range()).unwrap_or_default();
        if CORE_TAGS.contains(&tag) || tag.starts_with("!<tag:yaml.org,2002:") {
            return;
        }
        let message = format!("the tag `{}` means nothing here", super::syntax::quoted(tag));
        let document = self.tree.documents.len();
        self.problems.push(document, Problem::fault("unknown-tag", span, message).with_help("take it out"));
    }

    fn collection(&mut self, kind: Kind, span: Span) -> Result<NodeId, Problem> {
        self.admit_node(span)?;
        if self.open.len() >= self.limits.depth {
            return Err(too_deep(self.text, span.start as usize, self.limits));
        }
        let start = span.start as usize;
        let mut from = start;
        // A list whose dashes stand in its key's column is reported at its first element: look for the dash before it.
        let dashed = kind == Kind::Sequence && !matches!(self.text.as_bytes().get(start), Some(b'[' | b'-'));
        if dashed && let Some(found) = indicator(self.text, self.last, start, b"-") {
            from = found;
        }
        let id = self.push(kind, Span::new(from, span.end as usize), false);
        self.open.push(Open { id, expects_key: true, few: Vec::new(), many: HashMap::new() });
        Ok(id)
    }

    /// Ends the innermost open collection.
    fn close(&mut self, at: usize) {
        self.complete_value();
        let Some(open) = self.open.pop() else { return };
        let end = self.next_id();
        let last = self.tree.nodes.last().map_or(0, |node| node.span.end as usize);
        let flow = matches!(self.text.as_bytes().get(at.wrapping_sub(1)), Some(b']' | b'}'));
        let node = &mut self.tree.nodes[open.id as usize];
        let opened_flow = matches!(self.text.as_bytes().get(node.span.start as usize), Some(b'[' | b'{'));
        let stop = if flow && opened_flow { at.max(last) } else { last };
        node.span = Span::new(node.span.start as usize, stop.max(node.span.end as usize));
        node.end = end;
        self.completed(open.id);
    }

    /// Notes that a node is complete: as a key it is compared with the others of its mapping.
    fn completed(&mut self, id: NodeId) {
        let Some(open) = self.open.last_mut() else { return };
        if self.tree.nodes[open.id as usize].kind != Kind::Mapping {
            return;
        }
        open.expects_key = !open.expects_key;
        if open.expects_key {
            return;
        }
        let Some(name) = self.tree.text(id) else { return };
        let span = self.tree.span(id);
        let document = self.tree.documents.len();
        if name == "<<" {
            let problem = Problem::fault("merge-key", span, "merge keys (`<<`) are not read")
                .with_help("write the section out; an alias of a whole value is fine");
            return self.problems.push(document, problem);
        }
        let first = if open.many.is_empty() {
            open.few.iter().copied().find(|key| self.tree.text(*key) == Some(name))
        } else {
            open.many.get(name).copied()
        };
        if let Some(first) = first {
            let shown = super::syntax::quoted(name);
            let problem = Problem::fault("duplicate-key", span, format!("`{shown}` is written twice in one section"))
                .with_label(self.tree.span(first), "first written here")
                .with_help("keep one of the two");
            return self.problems.push(document, problem);
        }
        if open.many.is_empty() && open.few.len() < FEW_KEYS {
            open.few.push(id);
            return;
        }
        for key in std::mem::take(&mut open.few) {
            open.many.insert(self.tree.text(key).unwrap_or_default().to_owned(), key);
        }
        open.many.insert(name.to_owned(), id);
    }

    pub(super) fn finish(mut self) -> Parsed {
        if self.began || self.broken {
            self.end_document();
        }
        for at in std::mem::take(&mut self.comments) {
            let Some(span) = lost_text::suspect(self.text, at) else { continue };
            if lost_text::follows_value(&self.tree, at) || lost_text::instead_of_value(&self.tree, at) {
                let document = self.tree.documents.iter().position(|document| document.span.end >= span.start);
                let document = document.unwrap_or(self.tree.documents.len().saturating_sub(1));
                self.problems.push(document, lost_text::problem(self.text, span));
            }
        }
        Parsed { tree: self.tree, problems: self.problems.finish() }
    }
}
