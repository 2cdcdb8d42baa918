//! What miette draws: a head, a message and the lines that it is about.
//!
//! Called for the findings of a submittal and for the problems of packs and project files.

use std::fmt;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, Severity, SourceCode};

use super::excerpt::{CONTEXT, Excerpt};
use super::page::Page;
use crate::report::Options;
use crate::report::text::wrap;
use crate::review::{Label, Weight};
use crate::source::SourceFile;

/// Lines of one message; a message may quote a very long value.
const MESSAGE_LINES: usize = 12;
/// Lines of the head; a mark may be as long.
const HEAD_LINES: usize = 4;

/// What miette draws: head, message and snippet.
#[derive(Debug)]
struct Drawing {
    head: String,
    message: String,
    weight: Weight,
    excerpt: Excerpt,
}

impl fmt::Display for Drawing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Drawing {}

impl Diagnostic for Drawing {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(&self.head))
    }

    fn severity(&self) -> Option<Severity> {
        Some(match self.weight {
            Weight::Hazard => Severity::Error,
            Weight::Requirement => Severity::Warning,
            Weight::Advice => Severity::Advice,
        })
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.excerpt)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.excerpt.labels()))
    }
}

/// What is to be drawn.
pub(super) struct Drawn<'d> {
    /// The line above everything.
    pub head: &'d str,
    /// What is wrong.
    pub message: &'d str,
    /// Colors the drawing; the head says it in words.
    pub weight: Weight,
    /// The file it is about.
    pub file: &'d SourceFile,
    /// The place to look at first.
    pub primary: &'d Label,
    /// Further places.
    pub labels: &'d [Label],
}

/// Draws it onto the page.
pub(super) fn draw(page: &mut Page, what: &Drawn<'_>) {
    let options = *page.options();
    let ellipsis = if options.ascii { "..." } else { "…" };
    let primary = marked(what.primary, what.labels);
    let excerpt = Excerpt::new(what.file, &primary, what.labels, options.width, ellipsis);
    let left_over: Vec<String> =
        excerpt.left_over.iter().map(|(at, text)| format!("line {}, column {}: {text}", at.line, at.column)).collect();
    let drawing = Drawing {
        head: lines(what.head, options.width, HEAD_LINES, ellipsis),
        message: lines(what.message, options.width.saturating_sub(6), MESSAGE_LINES, ellipsis),
        weight: what.weight,
        excerpt,
    };
    let mut drawn = String::new();
    if handler(&options).render_report(&mut drawn, &drawing).is_err() {
        // Only a broken excerpt could stop the drawing; the words must reach the reader all the same.
        drawn = format!("{}\n\n  {}\n", drawing.head, drawing.message);
    }
    page.gap();
    page.drawn(&without_trailing_blanks(&drawn));
    page.entries("Also", &left_over);
}

/// The label of the place to look at first, told apart from the others where there are some.
fn marked(primary: &Label, others: &[Label]) -> Label {
    let text = match (others, primary.text.trim()) {
        ([], text) => text.to_owned(),
        (_, "") => "here".to_owned(),
        (_, text) => format!("here: {text}"),
    };
    Label { span: primary.span, text }
}

/// Text broken for the columns that miette leaves it, at most that many lines; miette itself would break at the
/// hyphens of names and print a value of 64 KB in full.
fn lines(text: &str, width: usize, most: usize, ellipsis: &str) -> String {
    let mut lines = wrap(text, width);
    if lines.len() > most {
        lines.truncate(most);
        lines.push(ellipsis.to_owned());
    }
    lines.join("\n")
}

fn handler(options: &Options) -> GraphicalReportHandler {
    let theme = match (options.ascii, options.color) {
        (true, true) => GraphicalTheme::ascii(),
        (true, false) => GraphicalTheme::none(),
        (false, true) => GraphicalTheme::unicode(),
        (false, false) => GraphicalTheme::unicode_nocolor(),
    };
    GraphicalReportHandler::new_themed(theme)
        .with_width(options.width)
        .with_context_lines(CONTEXT as usize)
        .with_links(false)
        .without_syntax_highlighting()
}

/// miette pads empty lines; blanks at the end of a line only make reports differ where nobody sees it.
fn without_trailing_blanks(drawn: &str) -> String {
    let mut out = String::with_capacity(drawn.len());
    for line in drawn.lines() {
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}
