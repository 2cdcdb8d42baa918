//! The lines of a submittal that one finding shows, made safe to print, with every label moved along.
//!
//! The snippet never shows the file as it is. Each line that carries a label, and one line on either side, is copied
//! with escapes in place of whatever acts on a terminal; a line too long for the page is cut around its labels.
//! Offsets and lines come from the file's own line index, so a finding costs the same in a file of any size.

use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};

use super::cut::{Cut, cut};
use crate::report::text::visible;
use crate::review::Label;
use crate::source::{Position, SourceFile};

/// Lines shown before and after a line with a label.
pub(super) const CONTEXT: u32 = 1;

/// Labels drawn for one finding; further ones are named below the snippet.
const DRAWN: usize = 8;

/// One label within one line of the file.
#[derive(Debug, Clone)]
pub(super) struct Mark {
    /// Its line, from 1.
    pub line: u32,
    /// First byte of that line within the file.
    pub line_start: u32,
    /// First byte within the line.
    pub start: usize,
    /// One past the last byte within the line.
    pub end: usize,
    /// The words beside it.
    pub text: String,
    /// Whether the finding stands here.
    pub primary: bool,
}

/// One line as shown.
#[derive(Debug)]
struct Line {
    /// Its number in the file, from 0.
    number: usize,
    /// Where it begins in the excerpt.
    start: usize,
    /// One past its line break.
    end: usize,
}

/// The lines that a finding shows.
#[derive(Debug)]
pub(super) struct Excerpt {
    name: String,
    text: String,
    lines: Vec<Line>,
    /// Labels on the excerpt, with their places in the file.
    labels: Vec<(LabeledSpan, Position)>,
    /// Labels that found no room, with their places.
    pub(super) left_over: Vec<(Position, String)>,
}

impl Excerpt {
    /// The excerpt for a page of that many columns.
    pub(super) fn new(file: &SourceFile, primary: &Label, further: &[Label], width: usize, ellipsis: &str) -> Self {
        let (marks, beyond) = marks(file, primary, further);
        let mut numbers: Vec<u32> = marks
            .iter()
            .flat_map(|mark| mark.line.saturating_sub(CONTEXT)..=mark.line.saturating_add(CONTEXT))
            .filter(|&number| number > 0)
            .collect();
        numbers.sort_unstable();
        numbers.dedup();

        let digits = numbers.last().map_or(1, |number| number.to_string().len());
        // miette draws a blank, the line number, a blank, a bar and a blank before each line.
        let room = width.saturating_sub(digits + 4);
        let mut excerpt = Excerpt {
            name: visible(file.name()).into_owned(),
            text: String::new(),
            lines: Vec::new(),
            labels: Vec::new(),
            left_over: beyond.into_iter().map(|mark| (mark.position(file), mark.text)).collect(),
        };
        for number in numbers {
            let Some(span) = file.line_span(number) else {
                continue;
            };
            let here: Vec<&Mark> = marks.iter().filter(|mark| mark.line == number).collect();
            // A line without a label says nothing when it is blank at the end of the file.
            if here.is_empty() && span.is_empty() && file.line_span(number + 1).is_none() {
                continue;
            }
            let shown = cut(&file.text()[span.range()], &here, room, ellipsis);
            excerpt.push(file, number, &here, shown);
        }
        excerpt
    }

    fn push(&mut self, file: &SourceFile, number: u32, marks: &[&Mark], shown: Cut) {
        let start = self.text.len();
        self.text.push_str(&shown.text);
        if shown.text.is_empty() {
            self.text.push(' ');
        }
        self.text.push('\n');
        self.lines.push(Line { number: number as usize - 1, start, end: self.text.len() });
        for (mark, place) in marks.iter().zip(shown.marks) {
            match place {
                Some((from, to, text)) => {
                    let text = (!text.is_empty()).then_some(text);
                    let span = SourceSpan::new((start + from).into(), to - from);
                    let label = match mark.primary {
                        true => LabeledSpan::new_primary_with_span(text, span),
                        false => LabeledSpan::new_with_span(text, span),
                    };
                    self.labels.push((label, mark.position(file)));
                }
                None => self.left_over.push((mark.position(file), mark.text.clone())),
            }
        }
    }

    /// The labels, moved onto the excerpt.
    pub(super) fn labels(&self) -> impl Iterator<Item = LabeledSpan> + '_ {
        self.labels.iter().map(|(label, _)| label.clone())
    }

    fn line_at(&self, offset: usize) -> Option<usize> {
        self.lines.iter().position(|line| (line.start..line.end).contains(&offset))
    }

    fn follows(&self, index: usize) -> bool {
        match (self.lines.get(index), self.lines.get(index + 1)) {
            (Some(line), Some(next)) => next.number == line.number + 1,
            _ => false,
        }
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let last_byte = (span.offset() + span.len()).saturating_sub(1).max(span.offset());
        let (Some(mut first), Some(mut last)) = (self.line_at(span.offset()), self.line_at(last_byte)) else {
            return Err(MietteError::OutOfBounds);
        };
        // Lines on either side of a gap are never drawn as neighbors.
        if !(first..last).all(|index| self.follows(index)) {
            return Err(MietteError::OutOfBounds);
        }
        for _ in 0..before {
            if first > 0 && self.follows(first - 1) {
                first -= 1;
            }
        }
        for _ in 0..after {
            if self.follows(last) {
                last += 1;
            }
        }
        let (start, end) = (self.lines[first].start, self.lines[last].end);
        // Asked without context, miette wants the line and column of the label itself, for the head of the snippet.
        let own = self.labels.iter().find(|(label, _)| before + after == 0 && label.inner() == span);
        let column = own.map_or(0, |(_, at)| at.column as usize - 1);
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            &self.text.as_bytes()[start..end],
            SourceSpan::new(start.into(), end - start),
            self.lines[first].number,
            column,
            last + 1 - first,
        )))
    }
}

impl Mark {
    /// A label over several lines is drawn on its first and says where it ends.
    fn new(file: &SourceFile, label: &Label, primary: bool) -> Self {
        let span = file.clamp(label.span);
        let number = file.position(span.start).line;
        let line = file.line_span(number).unwrap_or(span);
        let start = span.start.clamp(line.start, line.end);
        let end = span.end.clamp(start, line.end);
        let mut text = label.text.trim().to_owned();
        let last = file.position(span.end.saturating_sub(1)).line;
        if last > number {
            let more = format!("to line {last}");
            text = if text.is_empty() { more } else { format!("{text} ({more})") };
        }
        Mark {
            line: number,
            line_start: line.start,
            start: (start - line.start) as usize,
            end: (end - line.start) as usize,
            text,
            primary,
        }
    }

    fn position(&self, file: &SourceFile) -> Position {
        file.position(self.line_start.saturating_add(u32::try_from(self.start).unwrap_or(u32::MAX)))
    }
}

/// The labels of a finding, each within one line, none over another; and those beyond the number that is drawn.
fn marks(file: &SourceFile, primary: &Label, further: &[Label]) -> (Vec<Mark>, Vec<Mark>) {
    let mut marks: Vec<Mark> = Vec::new();
    let mut beyond = Vec::new();
    let all = std::iter::once((primary, true)).chain(further.iter().map(|label| (label, false)));
    for (label, primary) in all {
        let mark = Mark::new(file, label, primary);
        if marks.len() < DRAWN {
            place(&mut marks, mark);
        } else {
            beyond.push(mark);
        }
    }
    marks.sort_by_key(|mark| (mark.line, mark.start));
    (marks, beyond)
}

/// Adds a mark beside those placed already. Where it overlaps one of them it gives way; if nothing is left of it, its
/// words go to the one that covers it.
fn place(marks: &mut Vec<Mark>, mut mark: Mark) {
    let mut covered_by = None;
    for (index, other) in marks.iter().enumerate().filter(|(_, other)| other.line == mark.line) {
        let same = mark.start == other.start && mark.end == other.end;
        let apart = mark.end <= other.start || mark.start >= other.end;
        if apart && !same {
            continue;
        }
        covered_by.get_or_insert(index);
        if mark.start < other.start {
            mark.end = other.start;
        } else {
            mark.start = other.end;
        }
        if mark.end <= mark.start {
            break;
        }
    }
    match covered_by.and_then(|index| marks.get_mut(index)) {
        Some(other) if mark.end <= mark.start => {
            if !mark.text.is_empty() && other.text != mark.text {
                let both = format!("{}; {}", other.text, mark.text);
                other.text = if other.text.is_empty() { mark.text } else { both };
            }
        }
        _ => marks.push(mark),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(start: usize, end: usize, text: &str) -> Mark {
        Mark { line: 1, line_start: 0, start, end, text: text.to_owned(), primary: false }
    }

    fn placed(all: &[(usize, usize, &str)]) -> Vec<(usize, usize, String)> {
        let mut marks = Vec::new();
        all.iter().for_each(|&(start, end, text)| place(&mut marks, mark(start, end, text)));
        marks.into_iter().map(|mark| (mark.start, mark.end, mark.text)).collect()
    }

    #[test]
    fn a_later_label_gives_way_to_an_earlier_one() {
        let text = str::to_owned;
        assert_eq!(placed(&[(5, 9, "a"), (7, 12, "b")]), [(5, 9, text("a")), (9, 12, text("b"))]);
        assert_eq!(placed(&[(5, 9, "a"), (0, 20, "b")]), [(5, 9, text("a")), (0, 5, text("b"))]);
        assert_eq!(placed(&[(5, 9, "a"), (6, 7, "b")]), [(5, 9, text("a; b"))]);
        assert_eq!(placed(&[(5, 9, "a"), (5, 9, "a")]), [(5, 9, text("a"))]);
        assert_eq!(placed(&[(5, 9, ""), (5, 9, "b")]), [(5, 9, text("b"))]);
        assert_eq!(placed(&[(4, 4, "a"), (4, 4, "b")]), [(4, 4, text("a; b"))]);
    }
}
