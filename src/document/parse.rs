//! scaffold
use super::tree::{DocumentRoot, Kind, Node, Parsed, ScalarStyle, Tree};
use crate::problem::Problem;
use crate::source::{SourceFile, Span};
use granit_parser::{Event, Parser, ScalarStyle as S};
use std::sync::Arc;
/// x
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// x
    pub file_bytes: usize,
}
impl Default for Limits {
    fn default() -> Self {
        Limits { file_bytes: 16 << 20 }
    }
}
/// x
pub fn parse(source: Arc<SourceFile>, _limits: &Limits) -> Parsed {
    let file = Arc::clone(&source);
    let text = file.text();
    let mut tree = Tree::new(source);
    let mut problems = Vec::new();
    let options = granit_parser::options! { strict_indentation: true, emit_comments: false };
    let mut stack: Vec<u32> = Vec::new();
    let mut root = None;
    let mut broken = false;
    let mut indoc = false;
    let mut anchors = std::collections::HashMap::new();
    for next in Parser::new_from_str_with_options(text, options) {
        let (event, span) = match next {
            Ok(x) => x,
            Err(e) => {
                let at = e.marker().byte_offset().unwrap_or(0);
                problems
                    .push((tree.documents.len(), Problem::unreadable("syntax", Span::new(at, at + 1), format!("{e}"))));
                broken = true;
                break;
            }
        };
        let range = span.byte_range().unwrap_or(0..0);
        let sp = Span::new(range.start, range.end);
        let id = tree.nodes.len() as u32;
        match event {
            Event::DocumentStart(..) => {
                root = None;
                indoc = true;
            }
            Event::DocumentEnd => {
                tree.documents.push(DocumentRoot { root, broken: false, span: Span::new(0, text.len()) });
                indoc = false;
            }
            Event::Scalar(value, style, anchor, _) => {
                if root.is_none() {
                    root = Some(id);
                }
                if anchor > 0 {
                    anchors.insert(anchor, id);
                }
                let style = match style {
                    S::Plain => ScalarStyle::Plain,
                    S::SingleQuoted => ScalarStyle::SingleQuoted,
                    S::DoubleQuoted => ScalarStyle::DoubleQuoted,
                    S::Literal => ScalarStyle::Literal,
                    S::Folded => ScalarStyle::Folded,
                };
                let absent = sp.is_empty() && style == ScalarStyle::Plain;
                let mut decoded = Node::AS_WRITTEN;
                if text[sp.range()] != *value {
                    decoded = tree.decoded.len() as u32;
                    tree.decoded.push(value.into_owned().into_boxed_str());
                }
                tree.nodes.push(Node { kind: Kind::Scalar(style), span: sp, end: id + 1, decoded, absent });
            }
            Event::SequenceStart(_, anchor, _) | Event::MappingStart(_, anchor, _) => {
                let kind = if matches!(event, Event::SequenceStart(..)) { Kind::Sequence } else { Kind::Mapping };
                if root.is_none() {
                    root = Some(id);
                }
                if anchor > 0 {
                    anchors.insert(anchor, id);
                }
                tree.nodes.push(Node { kind, span: sp, end: id + 1, decoded: Node::AS_WRITTEN, absent: false });
                stack.push(id);
            }
            Event::SequenceEnd | Event::MappingEnd => {
                if let Some(open) = stack.pop() {
                    tree.nodes[open as usize].end = id;
                    let e = tree.nodes.last().map_or(0, |n| n.span.end);
                    tree.nodes[open as usize].span.end = e;
                }
            }
            Event::Alias(a) => {
                tree.nodes.push(Node {
                    kind: anchors.get(&a).map_or(Kind::BrokenAlias, |t| Kind::Alias(*t)),
                    span: sp,
                    end: id + 1,
                    decoded: Node::AS_WRITTEN,
                    absent: false,
                });
            }
            _ => {}
        }
    }
    if broken || indoc {
        let end = tree.nodes.len() as u32;
        for open in stack {
            tree.nodes[open as usize].end = end;
        }
        tree.documents.push(DocumentRoot { root: None, broken: true, span: Span::new(0, text.len()) });
    }
    Parsed { tree, problems }
}
