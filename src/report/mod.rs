//! A run as text, one file a format.
//!
//! Every format is a pure function of the run and the options: what the terminal can show, and where the text goes,
//! is decided by the command that calls [`write()`].

mod figure;
mod json;
mod json_v1;
mod line;
mod reference;
mod rules;
mod tally;
mod terminal;
mod text;
mod totals;
mod words;
mod worksheet;

pub use figure::{figure_json, figure_text, figures_json, figures_text};
pub use reference::rules_markdown;
pub use rules::{rule_text, rules_json, rules_text, source_line};
pub use totals::Totals;
pub use worksheet::{SheetFormat, worksheet};

use std::sync::Arc;

use crate::problem::Problem;
use crate::review::Run;
use crate::source::SourceFile;

/// How a report is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Format {
    /// For people: every finding with the text it stands at, questions, a summary, the safety words.
    Terminal,
    /// One line a finding, for editors and `grep`.
    Line,
    /// Version 1 of `schema/report.schema.json`.
    Json,
}

impl Format {
    /// Every format.
    pub const ALL: [Format; 3] = [Format::Terminal, Format::Line, Format::Json];
}

/// What the place that the report goes to can show; only the terminal format asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Columns to keep within, from [`Options::NARROWEST`] to [`Options::WIDEST`].
    pub width: usize,
    /// Draw with ASCII characters only. The submittal's own text stays as written.
    pub ascii: bool,
    /// Use colors. They repeat what the words say and never stand alone.
    pub color: bool,
}

impl Options {
    /// The narrowest report that is still readable, in columns.
    pub const NARROWEST: u16 = 60;
    /// The widest.
    pub const WIDEST: u16 = 400;
}

impl Default for Options {
    fn default() -> Self {
        Options { width: 80, ascii: false, color: false }
    }
}

/// Findings printed for one document by the formats for people and editors; the rest is counted.
pub const FINDINGS_A_DOCUMENT: usize = 200;

/// Writes a part of a run, where the format lets submittals stand one after the other; `None` where it does not. What the
/// report ends with is left to [`end()`].
pub fn write_part(part: &Run, format: Format, options: &Options) -> Option<String> {
    match format {
        Format::Terminal => Some(terminal::submittals(part, options)),
        Format::Line => Some(line::write(part)),
        Format::Json => None,
    }
}

/// What the report of a run written in parts ends with.
pub fn end(totals: &Totals, format: Format, options: &Options) -> String {
    match format {
        Format::Terminal => terminal::ending(totals, options),
        Format::Line | Format::Json => String::new(),
    }
}

/// A text from outside on one line, with escapes in place of what acts on a terminal.
pub fn one_line(text: &str) -> String {
    text::visible(text).into_owned()
}

/// Writes the report of a run.
pub fn write(run: &Run, format: Format, options: &Options) -> String {
    match format {
        Format::Terminal => terminal::write(run, options),
        Format::Line => line::write(run),
        Format::Json => json::write(run),
    }
}

/// Writes the problems of files that are not under review: rule packs, the project file.
pub fn problems_report(problems: &[(Arc<SourceFile>, Problem)], options: &Options) -> String {
    terminal::problems(problems, options)
}
