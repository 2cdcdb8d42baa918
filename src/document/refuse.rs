//! The words for what YAML allows and this project does not: limits, aliases, tags, keys written twice.
//!
//! Called by the builder.

use super::parse::Limits;
use super::syntax::{quoted, word_at};
use crate::problem::Problem;
use crate::source::Span;

pub(super) fn too_many_nodes(text: &str, at: usize, limits: &Limits) -> Problem {
    let message = format!("at most {} keys and values are expected in one file, more are found", limits.nodes);
    Problem::unreadable("too-many-nodes", word_at(text, at), message)
        .with_help("split it into several files, each with its own gates")
}

pub(super) fn too_many_aliases(span: Span, limits: &Limits) -> Problem {
    let message = format!("at most {} aliases are expected in one file, more are found", limits.aliases);
    Problem::unreadable("too-many-aliases", span, message).with_help("write the values out")
}

pub(super) fn scalar_too_long(text: &str, at: usize, found: usize, limits: &Limits) -> Problem {
    let limit = limits.scalar_bytes;
    let message = format!("a value of at most {limit} bytes is expected, {found} bytes are found");
    Problem::unreadable("scalar-too-long", word_at(text, at), message)
        .with_help("look for a quote that is closed too late, or keep the text in a file of its own")
}

pub(super) fn too_many_documents(text: &str, at: usize, limits: &Limits) -> Problem {
    let message = format!("at most {} documents are expected in one file, more are found", limits.documents);
    Problem::unreadable("too-many-documents", word_at(text, at), message).with_help("split it into several files")
}

pub(super) fn unknown_alias(name: &str, span: Span, open: Option<Span>) -> Problem {
    let shown = quoted(name);
    match open {
        None => Problem::fault("unknown-alias", span, format!("no `&` with the name {shown} stands before this `*`"))
            .with_help("write the value itself, or in quotes where it begins with `*`"),
        Some(anchor) => {
            Problem::fault("unknown-alias", span, format!("the alias {shown} stands inside the value it repeats"))
                .with_help("write the value itself")
                .with_label(Span::new(anchor.start as usize, anchor.start as usize + 1), "this value")
        }
    }
}

pub(super) fn merge_key(span: Span) -> Problem {
    Problem::fault("merge-key", span, "the merge key `<<` is not read: it is no part of YAML 1.2")
        .with_help("write the merged keys out")
}

pub(super) fn unknown_tag(tag: &str, span: Span) -> Problem {
    Problem::fault("unknown-tag", span, format!("the tag {} is unknown", quoted(tag)))
        .with_help("take it out, or put the value in quotes where it begins with `!`")
}

pub(super) fn duplicate_key(text: &str, first: Span, second: Span) -> Problem {
    let shown = quoted(&text[second.range()]);
    Problem::fault("duplicate-key", second, format!("the key {shown} is written twice"))
        .with_help("keep one of the two")
        .with_label(first, "first written here")
}
