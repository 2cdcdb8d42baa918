//! Source text and places in it.
//!
//! Everything that is reported points into a [`SourceFile`] by a byte [`Span`]; lines and columns are worked out
//! here and nowhere else, when a report is written. Called by every layer that has something to say about a file.

use std::sync::OnceLock;

/// A half-open range of bytes in the text of one source file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// A span from byte offsets; offsets beyond 4 GiB are clamped (files that large are refused before parsing).
    pub fn new(start: usize, end: usize) -> Self {
        let clamp = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Span { start: clamp(start), end: clamp(end) }
    }

    /// The span as a range for slicing.
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether the span covers no byte.
    pub fn is_empty(self) -> bool {
        self.start >= self.end
    }

    /// The part of this span given by byte offsets relative to its start.
    pub fn part(self, range: std::ops::Range<usize>) -> Self {
        Span::new(self.start as usize + range.start, self.start as usize + range.end)
    }
}

/// A place as people count: lines and columns from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line, from 1.
    pub line: u32,
    /// Column, from 1, in characters (Unicode scalar values).
    pub column: u32,
}

/// One file's text under the name that reports print for it.
#[derive(Debug)]
pub struct SourceFile {
    name: String,
    text: String,
    line_starts: OnceLock<Vec<u32>>,
}

impl SourceFile {
    /// Holds a text; a byte order mark at its head is dropped, so that line 1 counts columns like every other line.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let mut text = text.into();
        if text.starts_with('\u{feff}') {
            text.drain(..'\u{feff}'.len_utf8());
        }
        SourceFile { name: name.into(), text, line_starts: OnceLock::new() }
    }

    /// The path as given, `<stdin>`, or the name of an embedded pack.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text, without a byte order mark.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Brings a span inside the text and onto character boundaries, never empty unless the text is.
    pub fn clamp(&self, span: Span) -> Span {
        let floor = |mut n: usize| {
            n = n.min(self.text.len());
            while !self.text.is_char_boundary(n) {
                n -= 1;
            }
            n
        };
        let ceil = |mut n: usize| {
            n = n.min(self.text.len());
            while !self.text.is_char_boundary(n) {
                n += 1;
            }
            n
        };
        let (mut start, mut end) = (floor(span.start as usize), ceil(span.end as usize));
        if end <= start {
            match self.text[start..].chars().next() {
                Some(next) => end = start + next.len_utf8(),
                None => {
                    end = self.text.len();
                    start = self.text.char_indices().next_back().map_or(0, |(at, _)| at);
                }
            }
        }
        Span::new(start, end)
    }

    /// The text that a span covers, clamped.
    pub fn slice(&self, span: Span) -> &str {
        &self.text[self.clamp(span).range()]
    }

    /// Line and column of a byte offset.
    pub fn position(&self, offset: u32) -> Position {
        let starts = self.line_starts();
        let offset = offset.min(u32::try_from(self.text.len()).unwrap_or(u32::MAX));
        let line = starts.partition_point(|&start| start <= offset).max(1) - 1;
        let start = starts[line] as usize;
        let mut end = offset as usize;
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let column = self.text[start..end.max(start)].chars().count();
        Position { line: to_count(line), column: to_count(column) }
    }

    /// The byte range of a line (from 1) without its line break; `None` past the end.
    pub fn line_span(&self, line: u32) -> Option<Span> {
        let starts = self.line_starts();
        let index = (line as usize).checked_sub(1)?;
        let start = *starts.get(index)? as usize;
        let end = starts.get(index + 1).map_or(self.text.len(), |&next| next as usize);
        let body = self.text[start..end].trim_end_matches(['\n', '\r']);
        Some(Span::new(start, start + body.len()))
    }

    fn line_starts(&self) -> &[u32] {
        self.line_starts.get_or_init(|| {
            let bytes = self.text.as_bytes();
            let mut starts = vec![0];
            for (at, &byte) in bytes.iter().enumerate() {
                // A lone carriage return ends a line in YAML, as does a line feed.
                let ends_line = byte == b'\n' || (byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
                if ends_line {
                    starts.push(u32::try_from(at + 1).unwrap_or(u32::MAX));
                }
            }
            starts
        })
    }
}

fn to_count(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX - 1) + 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_lines_count_every_kind_of_line_break() {
        let file = SourceFile::new("f", "\u{feff}näme: x\r\nb: 1\rc: 2\n");
        assert_eq!(file.position(0), Position { line: 1, column: 1 });
        let x = u32::try_from(file.text().find('x').unwrap()).unwrap();
        assert_eq!(file.position(x), Position { line: 1, column: 7 });
        let c = u32::try_from(file.text().find('c').unwrap()).unwrap();
        assert_eq!(file.position(c), Position { line: 3, column: 1 });
        assert_eq!(file.slice(file.line_span(2).unwrap()), "b: 1");
    }

    #[test]
    fn a_span_is_clamped_onto_characters_and_never_empty() {
        let file = SourceFile::new("f", "aµ");
        assert_eq!(file.slice(Span::new(2, 2)), "µ");
        assert_eq!(file.slice(Span::new(9, 12)), "µ");
        assert_eq!(SourceFile::new("f", "").clamp(Span::new(3, 4)), Span::new(0, 0));
    }
}
