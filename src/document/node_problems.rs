//! What is said about nodes that are no syntax errors and yet no plain data, and about limits.
//!
//! Called by the builder; the texts stand here so that it reads as a machine.

use super::parse::Limits;
use super::places::end_of_line;
use super::syntax::{quoted, word_at};
use super::tree::{NodeId, Tree};
use crate::problem::Problem;
use crate::source::Span;

pub(super) fn duplicate_key(tree: &Tree, key: NodeId, first: NodeId) -> Problem {
    let name = quoted(tree.text(key).unwrap_or_default());
    let message = format!("expected each key once in its section, found {name} a second time");
    Problem::fault("duplicate-key", tree.span(key), message)
        .with_help("delete one of the two; two values cannot both be right")
        .with_label(tree.span(first), "first written here")
}

pub(super) fn merge_key(span: Span) -> Problem {
    Problem::fault("merge-key", span, "expected the name of a field, found the merge key `<<`")
        .with_help("write the section out in full; `<<` is not carried out, so its fields would be missing")
}

/// `open` is the place of the value that the alias stands in, where that is what is wrong.
pub(super) fn unknown_alias(text: &str, span: Span, open: Option<Span>) -> Problem {
    let alias = &text[span.range()];
    let name = quoted(&alias.replacen('*', "&", 1));
    let shown = quoted(alias);
    match open {
        None => {
            let message = format!("expected a value marked {name} above this place, found none for {shown}");
            Problem::fault("unknown-alias", span, message)
                .with_help("write the value out; a text that begins with `*` needs quotes")
        }
        Some(open) => {
            let message = format!("expected the value of {shown} to be finished, found it inside itself");
            let opening = Span::new(open.start as usize, open.start as usize);
            Problem::fault("unknown-alias", span, message)
                .with_help("write the value out")
                .with_label(opening, format!("the value marked {name} begins here"))
        }
    }
}

pub(super) fn unknown_tag(text: &str, span: Span) -> Problem {
    let message = format!("expected a plain value, found the tag {}", quoted(&text[span.range()]));
    Problem::fault("unknown-tag", span, message).with_help("delete the tag; a text that begins with `!` needs quotes")
}

pub(super) fn too_large(text: &str, limits: &Limits) -> Problem {
    let (found, limit) = (text.len(), limits.file_bytes);
    let message = format!("expected a file of at most {limit} bytes, found {found} bytes");
    Problem::unreadable("too-large", Span::new(0, end_of_line(text.as_bytes(), 0).min(80)), message)
        .with_help("split it into several files, each with its own gates")
}

/// Collections nested too deep at `at`.
pub(super) fn too_deep(text: &str, at: usize, limits: &Limits) -> Problem {
    let limit = limits.depth;
    let message = format!("expected lists and sections nested at most {limit} deep, found one that is nested deeper");
    Problem::unreadable("too-deep", word_at(text, at), message)
        .with_help("a submittal nests about six deep; look for a bracket or a `-` that repeats")
}

pub(super) fn too_many_nodes(span: Span, limit: usize) -> Problem {
    let message = format!("expected at most {limit} keys and values in a file, found more; this is the first too many");
    Problem::unreadable("too-many-nodes", span, message).with_help("split it into several files")
}

pub(super) fn too_many_aliases(span: Span, limit: usize) -> Problem {
    let message = format!("expected at most {limit} aliases in a file, found more; this is the first too many");
    Problem::unreadable("too-many-aliases", span, message)
        .with_help("write the values out, or split the file into several")
}

pub(super) fn too_many_documents(span: Span, limit: usize) -> Problem {
    let message = format!("expected at most {limit} documents in a file, found more; this is the first too many");
    Problem::unreadable("too-many-documents", span, message).with_help("split it into several files")
}

pub(super) fn scalar_too_long(text: &str, span: Span, found: usize, limit: usize) -> Problem {
    let found = found.max(span.range().len());
    let message = format!("expected a text of at most {limit} bytes, found one of {found} bytes");
    Problem::unreadable("scalar-too-long", word_at(text, span.start as usize), message)
        .with_help("shorten it, or look for a quote that is closed much too late")
}
