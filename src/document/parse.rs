//! The files' way through the event parser: limits before it, going on after a syntax error.
//!
//! Called by the readers of submittals, rule packs and the project file.

use std::sync::Arc;

use granit_parser::{ErrorKind, Event, Parser, ScanError};

use super::builder::Builder;
use super::node_problems::{too_deep, too_large};
use super::places::next_statement;
use super::syntax;
use super::tree::Parsed;
use crate::problem::Problem;
use crate::source::{SourceFile, Span};

/// Bounds on what one file may ask of us; each has its own message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of one file.
    pub file_bytes: usize,
    /// Nesting of collections.
    pub depth: usize,
    /// Nodes of one file.
    pub nodes: usize,
    /// Aliases of one file.
    pub aliases: usize,
    /// Bytes of one scalar.
    pub scalar_bytes: usize,
    /// Documents of one file.
    pub documents: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            file_bytes: 16 << 20,
            depth: 64,
            nodes: 1_500_000,
            aliases: 10_000,
            scalar_bytes: 64 << 10,
            documents: 1_000,
        }
    }
}

/// How many syntax errors of one file are reported, and how often reading goes on past one.
const MAX_SYNTAX_ERRORS: usize = 50;
/// How often reading is taken up again, counting the places where nothing could be read at all.
const MAX_RESTARTS: usize = 500;

/// Why the event parser was left.
enum Stop {
    Limit(Problem),
    Syntax(ScanError),
}

/// Reads every document of a file, with every problem of its YAML.
///
/// Nothing is refused here but what no reader could use; a document that a syntax error or a limit cut short is
/// marked broken and keeps what could be read on both sides of the error.
pub fn parse(source: Arc<SourceFile>, limits: &Limits) -> Parsed {
    let file = Arc::clone(&source);
    let text = file.text();
    let mut builder = Builder::new(source, text, limits);
    // Spans are 32 bits wide.
    if text.len() > limits.file_bytes.min(u32::MAX as usize) {
        builder.stop(too_large(text, limits));
    } else {
        read(text, limits, &mut builder);
    }
    builder.finish()
}

fn read<'s>(text: &'s str, limits: &'s Limits, builder: &mut Builder<'s>) {
    let (mut start, mut errors, mut stopped) = (0, 0, 0);
    for _ in 0..MAX_RESTARTS {
        builder.begin_segment(start);
        let error = match read_segment(&text[start..], limits, builder) {
            Ok(()) => return,
            Err(Stop::Limit(problem)) => return builder.stop(problem),
            Err(Stop::Syntax(error)) => error,
        };
        let at = start + error.marker().byte_offset().unwrap_or_default();
        if *error.kind() == ErrorKind::RecursionLimitExceeded {
            return builder.stop(too_deep(text, at, limits));
        }
        // Where nothing at all could be read since the last error, this one is its echo.
        if start == 0 || builder.segment_yielded() {
            errors += 1;
            let problem = syntax::problem(error.kind(), at, &builder.context());
            builder.unreadable(problem);
        }
        builder.cut();
        stopped = at.min(text.len());
        if errors == MAX_SYNTAX_ERRORS {
            break;
        }
        match next_statement(text, builder.last_event().max(start)) {
            Some(next) => start = next,
            None => return,
        }
    }
    let message = format!("more than {MAX_SYNTAX_ERRORS} places of this file are no YAML; the rest was not read");
    builder.unreadable(
        Problem::unreadable("syntax", Span::new(stopped, stopped), message).with_help("mend those listed first"),
    );
}

/// Feeds the events of one stretch of text to the builder.
fn read_segment<'s>(text: &'s str, limits: &Limits, builder: &mut Builder<'s>) -> Result<(), Stop> {
    let options = granit_parser::options! {
        strict_indentation: true,
        emit_unresolved_aliases: true,
        emit_anchor_events: true,
        emit_comments: true,
        // A long remark between a key and its value is no reason to refuse a file; its bytes are bounded anyway.
        max_buffered_comment_events: usize::MAX,
        flow_nesting_limit: limits.depth,
        block_nesting_limit: limits.depth,
    };
    let mut parser = Parser::new_from_str_with_options(text, options);
    while let Some(next) = parser.next_event() {
        let (event, span) = next.map_err(Stop::Syntax)?;
        if matches!(event, Event::StreamEnd) {
            break;
        }
        builder.event(event, &span).map_err(Stop::Limit)?;
    }
    Ok(())
}
