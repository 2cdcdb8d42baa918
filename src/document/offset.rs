//! From a place in the text of a scalar to the place in the file where it is written.
//!
//! Rules are written in YAML scalars of every style, and an error inside an expression needs its caret on the very
//! characters. Called by the rule loader when an error is reported, never on the way there.

use std::ops::Range;

use super::tree::{Kind, NodeId, ScalarStyle, Tree};
use crate::source::Span;

/// The span in the file of a range of bytes of a scalar's text, aliases followed.
///
/// Where text and source cannot be walked together to the end, and for what is no scalar, the whole node. A range
/// without a character is the place before which it stands, or the last character at the end of the text.
pub fn place_in(tree: &Tree, node: NodeId, range: Range<usize>) -> Span {
    let node = tree.resolve(node);
    let whole = tree.span(node);
    let (Kind::Scalar(style), Some(text)) = (tree.node(node).kind, tree.text(node)) else {
        return whole;
    };
    if text.is_empty() {
        return whole;
    }
    let last = text.char_indices().next_back().map_or(0, |(at, _)| at);
    let start = range.start.min(last);
    let end = range.end.clamp(start + 1, text.len());
    let slice = &tree.source().text()[whole.range()];
    if slice == text {
        return tree.source().clamp(whole.part(start..end));
    }
    let Some(map) = map(style, slice, text) else {
        return whole;
    };
    let from = map[start].start;
    tree.source().clamp(whole.part(from..map[end - 1].end.max(from)))
}

/// For each byte of the text the range of the slice that its character is written in.
fn map(style: ScalarStyle, slice: &str, text: &str) -> Option<Vec<Range<usize>>> {
    let mut walk = Walk { slice, text, at: 0, map: Vec::with_capacity(text.len()) };
    match style {
        ScalarStyle::Plain => walk.flow(slice.len(), Escape::None)?,
        ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => {
            let escape = if style == ScalarStyle::SingleQuoted { Escape::Quote } else { Escape::Backslash };
            walk.at = 1;
            walk.flow(slice.len().checked_sub(1)?, escape)?;
        }
        ScalarStyle::Literal | ScalarStyle::Folded => walk.block(style == ScalarStyle::Folded)?,
    }
    (walk.map.len() == text.len()).then_some(walk.map)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Escape {
    None,
    Quote,
    Backslash,
}

/// Slice and text side by side; what the text has is known, so a step only asks whether the slice agrees.
struct Walk<'t> {
    slice: &'t str,
    text: &'t str,
    at: usize,
    map: Vec<Range<usize>>,
}

impl<'t> Walk<'t> {
    /// What is left of the slice.
    fn rest(&self) -> &'t str {
        &self.slice[self.at..]
    }

    /// What is left of the text.
    fn left(&self) -> &'t str {
        &self.text[self.map.len()..]
    }

    /// The next character of the text is written in the next `length` bytes of the slice.
    fn take(&mut self, length: usize) -> Option<()> {
        let character = self.left().chars().next()?;
        let written = self.at..self.at + length;
        self.map.extend(std::iter::repeat_n(written, character.len_utf8()));
        self.at += length;
        Some(())
    }

    /// Plain and quoted texts: lines are joined by a blank, empty lines stay as line feeds.
    fn flow(&mut self, end: usize, escape: Escape) -> Option<()> {
        while self.at < end {
            let rest = &self.slice[self.at..end];
            let first = rest.chars().next()?;
            let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
            if line_break(&rest[blanks..]) > 0 {
                self.at += blanks;
                self.fold(end)?;
            } else if escape == Escape::Quote && rest.starts_with("''") {
                self.take(2)?;
            } else if escape == Escape::Backslash && first == '\\' {
                self.escape(end)?;
            } else {
                (self.left().chars().next()? == first).then_some(())?;
                self.take(first.len_utf8())?;
            }
        }
        Some(())
    }

    /// Line breaks with the blanks around them against one blank, or against one line feed less than there are.
    fn fold(&mut self, end: usize) -> Option<()> {
        let (start, mut lengths) = (self.at, Vec::new());
        while self.at < end {
            let rest = &self.slice[self.at..end];
            let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
            let length = line_break(&rest[blanks..]);
            self.at += blanks + length;
            if length == 0 {
                break;
            }
            lengths.push(blanks + length);
        }
        let behind = self.at;
        self.at = start;
        // The first break is dropped where others follow; the blank or the line feeds stand for the rest.
        let kept = if lengths.len() > 1 {
            self.at += lengths[0];
            &lengths[1..]
        } else {
            &lengths[..]
        };
        for &length in kept {
            self.text[self.map.len()..].starts_with([' ', '\n']).then_some(())?;
            self.take(length)?;
        }
        self.at = behind;
        Some(())
    }

    /// An escape sequence; one that ends a line stands for nothing and takes the next line's indentation along.
    fn escape(&mut self, end: usize) -> Option<()> {
        let rest = &self.slice[self.at..end];
        let broken = line_break(&rest[1..]);
        if broken > 0 {
            // Empty lines behind it are still line feeds.
            self.at += 1 + broken;
            loop {
                let rest = &self.slice[self.at..end];
                let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
                let length = line_break(&rest[blanks..]);
                if length == 0 {
                    self.at += blanks;
                    return Some(());
                }
                self.take(blanks + length)?;
            }
        }
        let letter = rest[1..].chars().next()?;
        let length = match letter {
            'x' => 4,
            'U' => 10,
            // A pair of surrogates is one character.
            'u' if matches!(rest.get(2..4)?.to_ascii_lowercase().as_str(), "d8" | "d9" | "da" | "db") => 12,
            'u' => 6,
            _ => 1 + letter.len_utf8(),
        };
        self.take(length.min(rest.len()))
    }

    /// Block texts, line by line: a line of the text is the end of a line of the slice.
    fn block(&mut self, folded: bool) -> Option<()> {
        // Empty lines at the head are in the text and before the slice.
        while self.left().starts_with('\n') {
            self.take(0)?;
        }
        while self.at < self.slice.len() {
            let rest = self.rest();
            let line = &rest[..rest.find(['\n', '\r']).unwrap_or(rest.len())];
            let body =
                if folded { self.folded_body(line) } else { self.left().find('\n').unwrap_or(self.left().len()) };
            let (indentation, written) = line.split_at_checked(line.len().checked_sub(body)?)?;
            let fits = indentation.bytes().all(|byte| byte == b' ') && self.left().starts_with(written);
            fits.then_some(())?;
            self.at += indentation.len();
            for character in written.chars() {
                self.take(character.len_utf8())?;
            }
            if folded { self.folded_breaks()? } else { self.literal_break()? }
        }
        // What the chomping kept stands behind the slice.
        while self.left().starts_with(['\n', ' ', '\t']) {
            self.take(0)?;
        }
        Some(())
    }

    /// How much of a folded line is text: all but the indentation, less what the text itself begins with.
    fn folded_body(&self, line: &str) -> usize {
        let content = line.trim_start_matches(' ').len();
        let extra = self.left().len() - self.left().trim_start_matches(' ').len();
        content + extra.min(line.len() - content)
    }

    fn literal_break(&mut self) -> Option<()> {
        let length = line_break(self.rest());
        if length > 0 {
            self.left().starts_with('\n').then_some(())?;
            self.take(length)?;
        }
        Some(())
    }

    /// The breaks and empty lines up to the next line with text against one blank or some line feeds.
    fn folded_breaks(&mut self) -> Option<()> {
        let (start, mut breaks) = (self.at, 0);
        loop {
            let blanks = self.rest().len() - self.rest().trim_start_matches(' ').len();
            let length = line_break(&self.rest()[blanks..]);
            if length == 0 {
                break;
            }
            breaks += 1;
            self.at += blanks + length;
        }
        let (behind, left) = (self.at, self.left());
        if breaks == 0 {
            return Some(());
        }
        let kept = left.len() - left.trim_start_matches('\n').len();
        let fits = (kept == 0 && breaks == 1 && left.starts_with(' ')) || kept == breaks || kept + 1 == breaks;
        fits.then_some(())?;
        for _ in 0..kept.max(1) {
            self.at = start;
            self.take(behind - start)?;
        }
        Some(())
    }
}

/// The length of the line break at the head of a text, 0 where there is none.
fn line_break(text: &str) -> usize {
    match text.as_bytes() {
        [b'\r', b'\n', ..] => 2,
        [b'\n' | b'\r', ..] => 1,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::document::{Limits, parse};
    use crate::source::SourceFile;

    /// What the file has where the text has `part`, in the value of the only key.
    fn written(yaml: &str, part: &str) -> String {
        let tree = parse(Arc::new(SourceFile::new("f", yaml)), &Limits::default()).tree;
        let root = tree.documents()[0].root.unwrap();
        let (_, value) = tree.entries(root).next().unwrap();
        let text = tree.text(value).unwrap();
        let at = text.find(part).unwrap_or_else(|| panic!("{part:?} is not in {text:?}"));
        tree.source().slice(place_in(&tree, value, at..at + part.len())).to_owned()
    }

    #[test]
    fn plain_texts_on_one_line_and_on_several() {
        assert_eq!(written("a: gate.x < 5 in\n", "x < 5"), "x < 5");
        assert_eq!(written("a: one\n  two\n\n\n  thrée four\n", "thrée"), "thrée");
        assert_eq!(written("a: one\r\n  two three\r\n", "e two t"), "e\r\n  two t");
        assert_eq!(written("a: one\r  two three\r", "three"), "three");
    }

    #[test]
    fn single_quotes_count_as_two() {
        assert_eq!(written("a: '5'' - 6\" tall'\n", "5'"), "5''");
        assert_eq!(written("a: '5'' - 6\" tall'\n", "tall"), "tall");
        assert_eq!(written("a: 'one\n  it''s\n\n  three'\n", "s\nt"), "s\n\n  t");
    }

    #[test]
    fn an_escape_maps_to_its_backslash() {
        let escaped = r#"a: "5 \u00b5m \" \x41 \U0001F6AA end""#;
        assert_eq!(written(escaped, "µ"), r"\u00b5");
        assert_eq!(written(escaped, "A"), r"\x41");
        assert_eq!(written(escaped, "🚪 e"), r"\U0001F6AA e");
        assert_eq!(written(r#"a: "\ud83d\udeaa end""#, "end"), "end");
        assert_eq!(written("a: \"one \\\n   two\n  three\"\n", "two"), "two");
        assert_eq!(written("a: \"one \\\n   two\n\n  three\"\n", "three"), "three");
    }

    #[test]
    fn literal_blocks_lose_their_indentation() {
        assert_eq!(written("a: |\n  one\n    two\n\n  three\n", "two"), "two");
        assert_eq!(written("a: |\n  one\n    two\n\n  three\n", "\nthree"), "\n  three");
        assert_eq!(written("a: |2\n\n     one\n  two\n", "one\ntwo"), "one\n  two");
        assert_eq!(written("a: |\r\n  one\r\n  two\r\n", "wo"), "wo");
        assert_eq!(written("a: |+\n  one\n  two\n\n\n", "wo"), "wo");
        assert_eq!(written("a: |\n  one \n  two \n", "two "), "two ");
    }

    #[test]
    fn folded_blocks_join_their_lines() {
        assert_eq!(written("a: >\n  one\n  two\n  three\n", "two three"), "two\n  three");
        let indented = "a: >-\n\n  one\n\n\n  two\n    three\n  four\n";
        assert_eq!(written(indented, "three"), "three");
        assert_eq!(written(indented, "four"), "four");
        assert_eq!(written("a: >\r\n  gate.a\r\n  and gate.b\r\n", "gate.b"), "gate.b");
    }

    #[test]
    fn the_end_of_a_text_and_what_is_no_text_have_a_place_too() {
        let file = Arc::new(SourceFile::new("f", "a: 'it''s'\nb: [1]\nc: ''\n"));
        let tree = parse(file, &Limits::default()).tree;
        let values: Vec<_> = tree.entries(0).map(|(_, value)| value).collect();
        let shown = |id, range| tree.source().slice(place_in(&tree, id, range)).to_owned();
        assert_eq!(shown(values[0], 4..4), "s");
        assert_eq!(shown(values[0], 90..99), "s");
        assert_eq!(shown(values[1], 0..1), "[1]");
        assert_eq!(shown(values[2], 0..0), "''");
    }
}
