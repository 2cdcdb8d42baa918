//! From a place in a scalar's decoded text to the place in the file.
//!
//! Rule packs hold expressions in plain, quoted and block scalars; an error inside one has a caret on the very word. The
//! map is made only when an error is printed.

use std::ops::Range;

use super::tree::{Kind, NodeId, ScalarStyle, Tree};
use crate::source::Span;

/// The place in the file of a range of a scalar's text; the whole scalar where the two cannot be walked side by side.
pub fn place_in(tree: &Tree, node: NodeId, range: Range<usize>) -> Span {
    let node = tree.resolve(node);
    let span = tree.span(node);
    let (Some(text), Kind::Scalar(style)) = (tree.text(node), tree.kind(node)) else { return span };
    let slice = tree.source().slice(span);
    if slice == text {
        return span.part(range.start.min(text.len())..range.end.min(text.len()));
    }
    let Some(map) = walk(slice, text, style) else { return span };
    let at = |offset: usize| map[offset.min(map.len() - 1)];
    let start = at(range.start);
    // The end is that of the last character covered: behind it the text may go on with skipped blanks.
    let end = if range.end > range.start { at(range.end - 1) + 1 } else { start };
    span.part(start..end.max(start))
}

/// For each byte of the text, and for its end, the byte of the slice it came from.
fn walk(slice: &str, text: &str, style: ScalarStyle) -> Option<Vec<usize>> {
    let body = match style {
        ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => 1..slice.len().checked_sub(1)?,
        _ => 0..slice.len(),
    };
    let bytes = slice.as_bytes();
    let mut map = Vec::with_capacity(text.len() + 1);
    let mut at = body.start;
    for (offset, wanted) in text.char_indices() {
        let (from, next) = match_one(slice, at, body.end, wanted, style)?;
        map.extend(std::iter::repeat_n(from, wanted.len_utf8()));
        debug_assert_eq!(map.len(), offset + wanted.len_utf8());
        at = next;
    }
    // What is left may only be line ends, indentation and blanks that the style drops.
    let rest = &bytes[at.min(body.end)..body.end];
    rest.iter().all(u8::is_ascii_whitespace).then(|| {
        map.push(body.end);
        map
    })
}

/// Where in the slice the next character of the text stands, and where the one after it begins.
fn match_one(slice: &str, at: usize, end: usize, wanted: char, style: ScalarStyle) -> Option<(usize, usize)> {
    let rest = slice.get(at..end)?;
    if style == ScalarStyle::DoubleQuoted && rest.starts_with('\\') {
        return Some((at, at + escape_length(rest)?));
    }
    if style == ScalarStyle::SingleQuoted && wanted == '\'' && rest.starts_with("''") {
        return Some((at, at + 2));
    }
    let folded = style != ScalarStyle::Literal;
    if wanted == ' ' || wanted == '\n' {
        let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
        let behind = &rest[blanks..];
        let ends_line = behind.starts_with(['\n', '\r']);
        if folded && ends_line {
            // One line end is a blank, each further one is itself; indentation is dropped.
            let line = behind.strip_prefix("\r\n").or_else(|| behind.get(1..)).unwrap_or_default();
            let indent = if line.trim_start_matches([' ', '\t']).starts_with(['\n', '\r']) && wanted == '\n' {
                0
            } else {
                line.len() - line.trim_start_matches([' ', '\t']).len()
            };
            return Some((at + blanks, end - line.len() + indent));
        }
        if wanted == '\n' && ends_line {
            let line = behind.strip_prefix("\r\n").or_else(|| behind.get(1..)).unwrap_or_default();
            let indent = line.len() - line.trim_start_matches(' ').len();
            return Some((at + blanks, end - line.len() + indent));
        }
        return rest.starts_with(wanted).then_some((at, at + 1));
    }
    let skipped = rest.len() - rest.trim_start_matches([' ', '\t', '\n', '\r']).len();
    let behind = &rest[skipped..];
    let fits = behind.starts_with(wanted) && (skipped == 0 || wanted != ' ');
    fits.then(|| (at + skipped, at + skipped + wanted.len_utf8()))
}

/// Bytes of an escape sequence, which maps to its backslash.
fn escape_length(rest: &str) -> Option<usize> {
    let kind = rest[1..].chars().next()?;
    Some(match kind {
        'x' => 4,
        'u' => 6,
        'U' => 10,
        '\n' | '\r' => {
            let line = rest[1..].strip_prefix("\r\n").or_else(|| rest.get(2..)).unwrap_or_default();
            rest.len() - line.trim_start_matches([' ', '\t']).len()
        }
        other => 1 + other.len_utf8(),
    })
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::document::{Limits, parse};
    use crate::source::SourceFile;

    /// The slice of the file at which a word of a value's text is found.
    fn found(yaml: &str, word: &str) -> String {
        let file = Arc::new(SourceFile::new("f", yaml));
        let parsed = parse(Arc::clone(&file), &Limits::default());
        assert!(parsed.problems.is_empty(), "{:?}", parsed.problems);
        let tree = parsed.tree;
        let root = tree.documents()[0].root.unwrap();
        let (_, value) = tree.entries(root).next().unwrap();
        let at = tree.text(value).unwrap().find(word).unwrap();
        let span = place_in(&tree, value, at..at + word.len());
        let line = file.position(span.start).line;
        format!("{line}:{}", file.slice(span))
    }

    #[test]
    fn a_word_is_found_in_every_style() {
        assert_eq!(found("a: one two\n", "two"), "1:two");
        assert_eq!(found("a: 'it''s two'\n", "two"), "1:two");
        assert_eq!(found("a: \"x\\ty \\u00e9 two\"\n", "two"), "1:two");
        assert_eq!(found("a: >-\n  one\n  two\n  three\n", "three"), "4:three");
        assert_eq!(found("a: |\n  one\n  two\n", "two"), "3:two");
        assert_eq!(found("a: one\n  two\n  three\n", "three"), "3:three");
        assert_eq!(found("a: \"one\n  two\"\n", "two"), "2:two");
        assert_eq!(found("a: >-\n  one\n\n  two µ three\n", "three"), "4:three");
    }
}
