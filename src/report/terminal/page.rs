//! The page that the terminal report is written on: headings, hanging entries, lists, the colors.

use crate::report::Options;
use crate::report::text::{columns, visible, wrap};

/// Columns before the text of an entry.
const HANG: usize = 14;
/// Lines of one text; a submittal may give 64 KB as a reason.
const TEXT_LINES: usize = 24;

/// A growing report of a fixed width.
pub(super) struct Page {
    out: String,
    options: Options,
}

impl Page {
    /// An empty page.
    pub(super) fn new(options: &Options) -> Self {
        Page { out: String::new(), options: *options }
    }

    /// What the page was made for.
    pub(super) fn options(&self) -> &Options {
        &self.options
    }

    /// The text so far.
    pub(super) fn finish(self) -> String {
        self.out
    }

    /// An empty line, unless there is one already.
    pub(super) fn gap(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    /// Text that is drawn already, line breaks and all.
    pub(super) fn drawn(&mut self, text: &str) {
        self.out.push_str(text);
        if !text.ends_with('\n') {
            self.out.push('\n');
        }
    }

    /// A line across the page.
    pub(super) fn across(&mut self) {
        let stroke = if self.options.ascii { "=" } else { "━" };
        self.out.push_str(&stroke.repeat(self.options.width));
        self.out.push('\n');
    }

    /// A heading on lines of its own.
    pub(super) fn heading(&mut self, text: &str) {
        for line in wrap(text, self.options.width) {
            let (bold, plain) = if self.options.color { ("\u{1b}[1m", "\u{1b}[0m") } else { ("", "") };
            self.out.push_str(&format!("{bold}{line}{plain}\n"));
        }
    }

    /// A paragraph, indented.
    pub(super) fn paragraph(&mut self, indent: usize, text: &str) {
        self.hang(&" ".repeat(indent), indent, text);
    }

    /// `Word      text`, the text hanging beside the word. An empty text prints nothing.
    pub(super) fn entry(&mut self, word: &str, text: &str) {
        let head = format!("  {word}");
        self.hang(&format!("{head:<HANG$}"), HANG, text);
    }

    /// An entry of several lines, the word beside the first.
    pub(super) fn entries(&mut self, word: &str, texts: &[String]) {
        for (at, text) in texts.iter().enumerate() {
            self.entry(if at == 0 { word } else { "" }, text);
        }
    }

    /// A list item behind a mark such as `-` or `2.`.
    pub(super) fn item(&mut self, mark: &str, text: &str) {
        let head = format!("  {} ", visible(mark));
        let hang = columns(&head);
        self.hang(&head, hang, text);
    }

    fn hang(&mut self, head: &str, hang: usize, text: &str) {
        let mut head = head.to_owned();
        if columns(&head) > hang {
            self.out.push_str(head.trim_end());
            self.out.push('\n');
            head = " ".repeat(hang);
        }
        let mut lines = wrap(text, self.options.width.saturating_sub(hang));
        if lines.len() > TEXT_LINES {
            let more = lines.len() - TEXT_LINES;
            lines.truncate(TEXT_LINES);
            lines.push(format!("... {more} more lines"));
        }
        for (at, line) in lines.into_iter().enumerate() {
            if at == 0 {
                self.out.push_str(&head);
            } else {
                self.out.push_str(&" ".repeat(hang));
            }
            self.out.push_str(&line);
            self.out.push('\n');
        }
    }

    /// A row of numbers under right-aligned headings; a label too long for its column gets a line of its own.
    pub(super) fn row(&mut self, label: &str, cells: &[String; 4], label_width: usize) {
        let label = visible(label);
        if columns(&label) > label_width {
            self.paragraph(2, &label);
            self.out.push_str(&" ".repeat(2 + label_width));
        } else {
            let pad = label_width - columns(&label);
            self.out.push_str(&format!("  {label}{:pad$}", ""));
        }
        let [a, b, c, d] = cells;
        let line = format!("{a:>9}{b:>11}{c:>6}{d:>16}");
        self.out.push_str(line.trim_end());
        self.out.push('\n');
    }

    /// Columns of a [`Page::row`] without its label.
    pub(super) const ROW: usize = 2 + 9 + 11 + 6 + 16;
}
