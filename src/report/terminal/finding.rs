//! One finding as people read it: what is wrong, the lines it stands at, then what to do and why.

use std::fmt;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, Severity, SourceCode};

use super::excerpt::{CONTEXT, Excerpt};
use super::page::Page;
use crate::report::text::wrap;
use crate::report::{Options, words};
use crate::review::{Finding, Run, SubmittalReview, Weight};

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

/// Writes one finding.
pub(super) fn write(page: &mut Page, run: &Run, submittal: &SubmittalReview, finding: &Finding) {
    let options = *page.options();
    let ellipsis = if options.ascii { "..." } else { "…" };
    let excerpt = Excerpt::new(&submittal.file, finding, options.width, ellipsis);
    let left_over: Vec<String> = excerpt
        .left_over
        .iter()
        .map(|(at, text)| {
            format!("line {}, column {}: {text}", at.line, at.column).trim_end_matches([' ', ':']).to_owned()
        })
        .collect();
    let drawing = Drawing {
        head: lines(&head(finding), options.width, HEAD_LINES, ellipsis),
        message: lines(&finding.message, options.width.saturating_sub(6), MESSAGE_LINES, ellipsis),
        weight: finding.weight,
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
    explain(page, run, submittal, finding);
}

/// `HAZARD guarding/open-leaf, gate G1, entry 2`.
fn head(finding: &Finding) -> String {
    let subject = words::subject(finding).map(|subject| format!(", {subject}")).unwrap_or_default();
    format!("{} {}{subject}", finding.weight.word().to_uppercase(), finding.rule)
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

fn explain(page: &mut Page, run: &Run, submittal: &SubmittalReview, finding: &Finding) {
    if let Some(help) = &finding.help {
        page.entry("Do", help);
    }
    if let Some(rule) = run.rules.get(&finding.rule) {
        page.entry("Do", &rule.remedy);
        page.entry("Why", &rule.why);
        page.entry("Source", &words::source(rule));
        let named = submittal.jurisdiction.as_ref().filter(|_| !rule.local_code.trim().is_empty());
        let named = named.map(|name| format!(" The submittal names {name}.")).unwrap_or_default();
        page.entry("Local code", &format!("{}{named}", rule.local_code));
        if let Some(replaced) = &rule.replaces {
            page.entry("Replaces", replaced);
        }
    }
    let pair = |(name, value): &(String, String)| format!("{name}: {value}");
    page.entries("Assumed", &finding.assumed.iter().map(pair).collect::<Vec<_>>());
    page.entries("Working", &finding.because.iter().map(pair).collect::<Vec<_>>());
    page.entries("Note", &finding.notes);
    if let Some(deviation) = finding.deviation.and_then(|index| submittal.deviations.get(index)) {
        let line = submittal.file.position(submittal.file.clamp(deviation.span).start).line;
        let claim = words::claim(deviation);
        page.entry("Deviation", &format!("The submittal says (line {line}): {claim}. This is its claim."));
    }
}
