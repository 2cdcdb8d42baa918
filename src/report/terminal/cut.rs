//! One line of a file as it is shown: escapes in place of what acts on a terminal, cut to the page around its labels.
//!
//! A line may be the 64 KB of one scalar. What is kept of it lies around the labels, and only that is copied.

use std::ops::Range;

use super::excerpt::Mark;
use crate::report::text::{columns, columns_of, push_visible, visible, wrap};

/// Columns that words beside a label need before the line is cut on its left to make room for them.
const READABLE: usize = 24;
/// The narrowest column that words beside a label are broken into.
const NARROW: usize = 16;
/// Labels drawn on a line that has to be cut.
const ON_A_CUT_LINE: usize = 3;
/// Lines of words beside one label.
const LABEL_LINES: usize = 6;

/// A line as shown.
pub(super) struct Cut {
    /// Its text.
    pub text: String,
    /// For each mark: where it lies in the text, and its words broken into lines; `None` where it found no room.
    pub marks: Vec<Option<(usize, usize, String)>>,
}

/// Shows a line within `room` columns.
pub(super) fn cut(line: &str, marks: &[&Mark], room: usize, ellipsis: &str) -> Cut {
    let kept = if fits(line, marks, room) {
        std::iter::once(0..line.len()).collect()
    } else {
        windows(line, marks, room, ellipsis)
    };
    let mut text = String::new();
    let mut moved = vec![None; marks.len()];
    let mut done = 0;
    for piece in &kept {
        if piece.start > done {
            text.push_str(ellipsis);
        }
        let mut offsets = Vec::with_capacity(piece.len() + 1);
        for (at, c) in line[piece.clone()].char_indices() {
            offsets.push((piece.start + at, text.len()));
            push_visible(&mut text, c);
        }
        offsets.push((piece.end, text.len()));
        done = piece.end;
        if kept.last() == Some(piece) && done < line.len() {
            text.push_str(ellipsis);
        }
        let find = |byte: usize| offsets.iter().find(|&&(from, _)| from >= byte).map(|&(_, to)| to);
        for (mark, place) in marks.iter().zip(&mut moved) {
            let inside = piece.contains(&mark.start) || (mark.start == piece.end && piece.end == line.len());
            if place.is_none() && inside {
                // A label that goes on behind the cut is drawn up to the end of what is shown.
                let end = find(mark.end).unwrap_or(text.len());
                *place = find(mark.start).map(|start| (start, end.max(start)));
            }
        }
    }
    let words = |(mark, place): (&&Mark, Option<(usize, usize)>)| {
        let (start, end) = place?;
        let bar = (columns(&text[..start]) + columns(&text[..end])) / 2;
        let mut lines = wrap(&mark.text, room.saturating_sub(bar + 4).max(NARROW));
        if lines.len() > LABEL_LINES {
            lines.truncate(LABEL_LINES);
            lines.push(ellipsis.to_owned());
        }
        Some((start, end, lines.join("\n")))
    };
    let marks = marks.iter().zip(moved).map(words).collect();
    Cut { text, marks }
}

fn visible_columns(c: char) -> usize {
    match c {
        ' '..='~' => 1,
        _ => columns(&visible(c.encode_utf8(&mut [0; 4]))).max(columns_of(c)),
    }
}

/// Whether the line fits with the words of its labels beside it.
fn fits(line: &str, marks: &[&Mark], room: usize) -> bool {
    let mut used = 0;
    let mut middles = vec![0; marks.len()];
    for (at, c) in line.char_indices() {
        let wide = visible_columns(c);
        used += wide;
        if used > room {
            return false;
        }
        for (mark, middle) in marks.iter().zip(&mut middles) {
            *middle += if at < mark.start {
                2 * wide
            } else if at < mark.end {
                wide
            } else {
                0
            };
        }
    }
    marks.iter().zip(middles).all(|(mark, middle)| {
        let needs = columns(&visible(&mark.text)).min(READABLE);
        needs == 0 || middle / 2 + 4 + needs <= room
    })
}

/// The parts of a line that are shown, in order and apart from each other.
fn windows(line: &str, marks: &[&Mark], room: usize, ellipsis: &str) -> Vec<Range<usize>> {
    if marks.is_empty() {
        return std::iter::once(0..forward(line, 0, line.len(), room.saturating_sub(columns(ellipsis))).0).collect();
    }
    let mut drawn: Vec<&&Mark> = marks.iter().filter(|mark| mark.primary).collect();
    drawn.extend(marks.iter().filter(|mark| !mark.primary).take(ON_A_CUT_LINE - drawn.len().min(1)));
    drawn.sort_by_key(|mark| mark.start);
    let budget = (room / drawn.len().max(1)).saturating_sub(2 * columns(ellipsis)).max(8);
    let mut kept: Vec<Range<usize>> = Vec::new();
    for mark in drawn {
        let (shown, used) = forward(line, mark.start, mark.end, budget * 2 / 3);
        let (from, lead) = back(line, mark.start, ((budget - used.min(budget)) / 2).min(room / 3));
        let to = match shown < mark.end {
            true => shown,
            false => forward(line, shown, line.len(), budget.saturating_sub(used + lead)).0,
        };
        match kept.last_mut() {
            Some(before) if from <= before.end => before.end = before.end.max(to),
            _ => kept.push(from..to),
        }
    }
    kept
}

/// How far `columns` columns reach from a byte on, at most to `end`; and how many were used.
fn forward(line: &str, from: usize, end: usize, columns: usize) -> (usize, usize) {
    let mut used = 0;
    for (at, c) in line[from..end].char_indices() {
        let wide = visible_columns(c);
        if used + wide > columns {
            return (from + at, used);
        }
        used += wide;
    }
    (end, used)
}

/// How far `columns` columns reach back from a byte; and how many were used.
fn back(line: &str, from: usize, columns: usize) -> (usize, usize) {
    let mut used = 0;
    let mut start = from;
    for (at, c) in line[..from].char_indices().rev() {
        let wide = visible_columns(c);
        if used + wide > columns {
            break;
        }
        used += wide;
        start = at;
    }
    (start, used)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(start: usize, end: usize, text: &str, primary: bool) -> Mark {
        Mark { line: 1, line_start: 0, start, end, text: text.to_owned(), primary }
    }

    fn under(shown: &Cut, index: usize) -> &str {
        let (start, end, _) = shown.marks[index].as_ref().unwrap();
        &shown.text[*start..*end]
    }

    #[test]
    fn a_line_that_fits_stays_whole_and_its_labels_stay_on_their_text() {
        let line = "a: \x1b[31m5 in";
        let shown = cut(line, &[&mark(8, 12, "gap", true)], 40, "...");
        assert_eq!(shown.text, "a: \\x1b[31m5 in");
        assert_eq!(under(&shown, 0), "5 in");
    }

    #[test]
    fn a_long_line_is_cut_around_its_label() {
        let line = format!("{}5 in{}", "x".repeat(3000), "y".repeat(3000));
        let shown = cut(&line, &[&mark(3000, 3004, "the gap", true)], 60, "...");
        assert_eq!(under(&shown, 0), "5 in");
        assert!(columns(&shown.text) <= 60, "{}", shown.text);
        assert!(shown.text.starts_with("...x") && shown.text.ends_with("y..."), "{}", shown.text);
    }

    #[test]
    fn a_label_longer_than_the_page_is_drawn_up_to_the_cut() {
        let line = format!("notes: {}", "門".repeat(20_000));
        let shown = cut(&line, &[&mark(7, line.len(), "too long", true)], 60, "…");
        assert!(columns(&shown.text) <= 60);
        assert!(shown.text.starts_with("notes: 門") && shown.text.ends_with('…'));
        assert!(under(&shown, 0).starts_with('門') && under(&shown, 0).ends_with('…'));
    }

    #[test]
    fn the_line_gives_up_its_left_side_where_words_need_room() {
        let line = format!("{}5 in", " ".repeat(50));
        let shown = cut(&line, &[&mark(50, 54, "the gap below the closed leaf", true)], 60, "...");
        assert_eq!(under(&shown, 0), "5 in");
        let (start, _, _) = shown.marks[0].as_ref().unwrap();
        assert!(*start <= 24, "starts at {start}");
    }

    #[test]
    fn every_escape_fits_too() {
        let line = "\u{202e}".repeat(200);
        let shown = cut(&line, &[&mark(300, 303, "here", true)], 60, "...");
        assert_eq!(under(&shown, 0), "\\u{202e}");
        assert!(columns(&shown.text) <= 60);
    }
}
