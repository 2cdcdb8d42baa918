//! From a place in the text of a scalar to the place in the file where it is written.
//!
//! Called when something inside a value is reported: an error of an expression, a unit, a part of a dimension. Quotes,
//! escapes and folded lines make the two differ; where the walk does not come out even, the whole scalar is shown.

use std::ops::Range;

use super::tree::{Kind, NodeId, ScalarStyle, Tree};
use crate::source::Span;

/// Where a part of a scalar's text is written, the part given in bytes of [`Tree::text`].
///
/// Aliases are followed. The whole span of the node is given for what is no scalar and where text and file cannot be
/// laid side by side.
pub fn place_in(tree: &Tree, node: NodeId, text_range: Range<usize>) -> Span {
    let node = tree.resolve(node);
    let span = tree.span(node);
    let (Kind::Scalar(style), Some(text)) = (tree.kind(node), tree.text(node)) else {
        return span;
    };
    if tree.node(node).absent || text_range.start > text_range.end || text_range.end > text.len() {
        return span;
    }
    let slice = &tree.source().text()[span.range()];
    if slice == text {
        return span.part(text_range);
    }
    match walk(slice, text, style) {
        Some(places) => {
            let end = text_range.end.checked_sub(1).map_or(0, |last| places[last].end);
            // An empty part stands before what follows it, or at the end.
            let start = places.get(text_range.start).map_or(end, |place| place.start);
            span.part(start..if text_range.is_empty() { start } else { end })
        }
        None => span,
    }
}

const BLANKS: [char; 4] = [' ', '\t', '\n', '\r'];

/// Where in the slice each byte of the text is written; `None` where they do not fit.
fn walk(slice: &str, text: &str, style: ScalarStyle) -> Option<Vec<Range<usize>>> {
    let quoted = matches!(style, ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted);
    let (mut at, end) = if quoted { (1, slice.len().checked_sub(1)?) } else { (0, slice.len()) };
    let mut places: Vec<Range<usize>> = Vec::with_capacity(text.len());
    while places.len() < text.len() {
        let (rest, wanted) = (slice.get(at..end)?, &text[places.len()..]);
        let skipped = if style == ScalarStyle::DoubleQuoted { escaped_break(rest) } else { 0 };
        if skipped > 0 {
            at += skipped;
            continue;
        }
        let (taken, given) = step(rest, wanted, style)?;
        places.extend(std::iter::repeat_n(at..at + taken, given));
        at += taken;
    }
    while style == ScalarStyle::DoubleQuoted && escaped_break(slice.get(at..end)?) > 0 {
        at += escaped_break(&slice[at..end]);
    }
    slice.get(at..end)?.trim_matches(BLANKS).is_empty().then_some(places)
}

/// How many bytes of the slice stand for how many of the text.
fn step(rest: &str, wanted: &str, style: ScalarStyle) -> Option<(usize, usize)> {
    let gap = run(rest);
    if rest[..gap].contains(['\n', '\r']) || (rest.is_empty() && run(wanted) > 0) {
        // A line end with the blanks around it stands for a blank or for line breaks.
        let given = if style == ScalarStyle::DoubleQuoted { folded(&rest[..gap], wanted)? } else { run(wanted) };
        return Some((gap, given)).filter(|_| given > 0);
    }
    let expected = wanted.chars().next()?;
    let taken = match style {
        ScalarStyle::SingleQuoted if rest.starts_with("''") => 2,
        ScalarStyle::DoubleQuoted if rest.starts_with('\\') => {
            return Some((escape(rest, expected)?, expected.len_utf8()));
        }
        _ => expected.len_utf8(),
    };
    rest.starts_with(expected).then_some((taken, expected.len_utf8()))
}

/// How many bytes of blanks and line breaks a text begins with.
fn run(text: &str) -> usize {
    text.len() - text.trim_start_matches(BLANKS).len()
}

/// How many bytes of the text a line end in double quotes gives; blanks behind it may come from an escape.
fn folded(gap: &str, wanted: &str) -> Option<usize> {
    let breaks = gap.bytes().filter(|&byte| byte == b'\n').count();
    let breaks = if breaks == 0 { gap.matches('\r').count() } else { breaks };
    let given = breaks.saturating_sub(1).max(1);
    let expected = if breaks > 1 { b'\n' } else { b' ' };
    let found = wanted.as_bytes().get(..given)?;
    found.iter().all(|&byte| byte == expected).then_some(given)
}

/// The bytes of an escaped line break and the blanks behind it, which stand for nothing.
fn escaped_break(rest: &str) -> usize {
    match rest.strip_prefix('\\') {
        Some(behind) if behind.starts_with(['\n', '\r']) => 1 + run(behind),
        _ => 0,
    }
}

/// How many bytes an escape takes: one beyond the basic plane may be written as a pair.
fn escape(rest: &str, gives: char) -> Option<usize> {
    let kind = rest[1..].chars().next()?;
    let taken = match kind {
        'x' => 4,
        'u' if gives.len_utf8() == 4 => 12,
        'u' => 6,
        'U' => 10,
        _ => 1 + kind.len_utf8(),
    };
    rest.is_char_boundary(taken).then_some(taken)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::document::{Limits, parse};
    use crate::source::SourceFile;

    /// What stands in the file for the first `part` of the text of the value of `a`.
    fn written(yaml: &str, part: &str) -> String {
        let parsed = parse(Arc::new(SourceFile::new("f", yaml)), &Limits::default());
        assert!(parsed.problems.is_empty(), "{:?}", parsed.problems);
        let root = parsed.tree.documents()[0].root.unwrap();
        let (_, value) = parsed.tree.entries(root).next().unwrap();
        let text = parsed.tree.text(value).unwrap();
        let at = text.find(part).unwrap_or_else(|| panic!("no {part:?} in {text:?}"));
        let span = place_in(&parsed.tree, value, at..at + part.len());
        yaml[span.range()].to_owned()
    }

    #[test]
    fn plain_text_is_where_it_stands() {
        assert_eq!(written("a: 5 µm wide", "µm"), "µm");
        assert_eq!(written("a: one\n   two\n\n   three", "two"), "two");
        assert_eq!(written("a: one\r\n   two\r\n   three", "three"), "three");
        assert_eq!(written("a: one\n   two", "one two"), "one\n   two");
    }

    #[test]
    fn a_doubled_quote_is_one_character() {
        assert_eq!(written("a: 'it''s 5 in'", "5 in"), "5 in");
        assert_eq!(written("a: 'it''s 5 in'", "'"), "''");
        assert_eq!(written("a: 'it''s\n  5 in '", "5 in"), "5 in");
    }

    #[test]
    fn an_escape_maps_to_its_backslash() {
        assert_eq!(written(r#"a: "5\" \u00b5m \x41 \U0001F6AA end""#, "µ"), r"\u00b5");
        assert_eq!(written(r#"a: "5\" \u00b5m \x41 \U0001F6AA end""#, "end"), "end");
        assert_eq!(written(r#"a: "5\"x""#, "\""), "\\\"");
        assert_eq!(written(r#"a: "\ud83d\udeaa gate""#, "gate"), "gate");
        assert_eq!(written("a: \"one \\\n    two\n    \\tthree\"", "two"), "two");
        assert_eq!(written("a: \"one \\\n    two\n    \\tthree\"", "three"), "three");
        assert_eq!(written("a: \"one\n\n    two\"", "two"), "two");
    }

    #[test]
    fn block_text_leaves_out_its_indentation() {
        assert_eq!(written("a: |\n  one\n    two\n  three\n", "two"), "two");
        assert_eq!(written("a: |\n  one\n    two\n  three\n", "three\n"), "three");
        assert_eq!(written("a: >\n  one\n  two\n\n  three\n    more\n  end\n", "three"), "three");
        assert_eq!(written("a: >-\n  one\n  two\n\n  three\n    more\n  end\n", "end"), "end");
        assert_eq!(written("a: |\n   x\n    y\n", "y"), "y");
        assert_eq!(written("a: |2\n   x\n  y\n", "y"), "y");
    }

    #[test]
    fn what_does_not_fit_is_shown_whole() {
        assert_eq!(walk("'abc'", "abd", ScalarStyle::SingleQuoted), None);
        assert_eq!(walk("'abc'", "ab", ScalarStyle::SingleQuoted), None);
        assert_eq!(walk("\"", "", ScalarStyle::DoubleQuoted), None);
        assert_eq!(written("a: 'it''s'", ""), "");
    }
}
