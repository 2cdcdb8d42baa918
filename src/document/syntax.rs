//! Syntax errors in plain words.

use granit_parser::ErrorKind;

use crate::problem::Problem;
use crate::source::Span;

/// A syntax error at an offset of the text; `from` is where the last thing that could be read ends.
pub(super) fn problem(kind: &ErrorKind, at: usize, from: usize, text: &str) -> Problem {
    // Such an error is met lines below its cause, which is the quote that was not closed.
    let in_quotes = matches!(
        kind,
        ErrorKind::UnclosedQuotedScalar
            | ErrorKind::InvalidQuotedScalarIndent
            | ErrorKind::DocumentIndicatorInQuotedScalar
    );
    let tab = matches!(kind, ErrorKind::TabNotAllowed | ErrorKind::TabInBlockIndentation | ErrorKind::TabInIndentation);
    let at = text.get(at..).filter(|_| tab).and_then(|rest| rest.find('\t')).map_or(at, |found| at + found);
    let opening = text.get(from..at).filter(|_| in_quotes).and_then(|passed| passed.find(['"', '\'']));
    let at = opening.map_or(at, |opening| from + opening);
    let (message, help) = words(kind);
    let message = message.map_or_else(|| format!("this is no YAML: {kind}"), str::to_owned);
    let problem = Problem::unreadable("syntax", word_at(text, at), message);
    match help {
        Some(help) => problem.with_help(help),
        None => problem,
    }
}

/// What is wrong, and what to do.
fn words(kind: &ErrorKind) -> (Option<&'static str>, Option<&'static str>) {
    match kind {
        ErrorKind::UnclosedFlowCollection { open: '[' } | ErrorKind::UnexpectedEofFlowSequence => {
            (Some("`[` is opened here and never closed"), Some("write `]` at the end of the list"))
        }
        ErrorKind::UnclosedFlowCollection { .. }
        | ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping => {
            (Some("`{` is opened here and never closed"), Some("write `}` at the end of the section"))
        }
        ErrorKind::ExpectedFlowSequenceSeparator => {
            (Some("`,` or `]` is expected in this list"), Some("a text with a comma or `: ` in it needs quotes"))
        }
        ErrorKind::ExpectedFlowMappingSeparator => {
            (Some("`,` or `}` is expected in this section"), Some("a text with a comma or `: ` in it needs quotes"))
        }
        ErrorKind::MismatchedFlowCollectionEnd { .. } => {
            (Some("this bracket closes another kind than was opened"), Some("`[` is closed by `]`, `{` by `}`"))
        }
        ErrorKind::MisplacedFlowCollectionEnd => (Some("this bracket closes nothing"), Some("take it out")),
        ErrorKind::UnclosedQuotedScalar
        | ErrorKind::DocumentIndicatorInQuotedScalar
        | ErrorKind::InvalidQuotedScalarIndent => {
            (Some("this quote is opened and never closed"), Some("write the closing quote on the same line"))
        }
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => {
            (Some("text follows a closed quote"), Some("put the whole value into quotes, as in '5''-6 1/2\"'"))
        }
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidUnicodeEscape => {
            (Some("this backslash begins no escape"), Some("use single quotes, where a backslash is a backslash"))
        }
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabInIndentation
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::TabInPlainScalar => (Some("a tab stands where only blanks may"), Some("indent with blanks")),
        ErrorKind::InvalidIndentation
        | ErrorKind::ExpectedBlockMappingKey
        | ErrorKind::UnexpectedEofBlockMapping
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::UnexpectedEofBlockSequence => (
            Some("this line fits neither the section above nor a new one"),
            Some("line it up with the other fields of its section"),
        ),
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement | ErrorKind::InvalidSimpleKey => (
            Some("a second `: ` stands on this line, or the key before it is not closed"),
            Some("put a text that holds `: ` into quotes"),
        ),
        ErrorKind::SimpleKeyExpected => (
            Some("`:` is expected behind this key"),
            Some("write `key: value`, or indent the line as part of the text above"),
        ),
        ErrorKind::BlockSequenceEntryNotAllowed | ErrorKind::BlockEntryInFlowCollection => {
            (Some("`- ` cannot stand here"), Some("begin the list on a line of its own"))
        }
        ErrorKind::CommentNotSeparated => {
            (Some("`#` stands directly behind a value"), Some("write a blank before `#`"))
        }
        ErrorKind::UnexpectedCharacter { .. } | ErrorKind::PlainScalarStartsWithDashFlowIndicator => (
            Some("a value cannot begin with this character, or it may not stand in a text"),
            Some("put the text into quotes"),
        ),
        ErrorKind::UndeclaredTagHandle => (Some("this tag means nothing here"), Some("take it out")),
        ErrorKind::MissingAnchorOrAliasName => {
            (Some("a name is expected behind `&` or `*`"), Some("put the text into quotes if it is none"))
        }
        _ => (None, None),
    }
}

/// The word at an offset, or the last character where the text ends there.
pub(super) fn word_at(text: &str, at: usize) -> Span {
    let mut start = at.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let length = text[start..].find(|c: char| c.is_whitespace() || ",]}".contains(c)).unwrap_or(text.len() - start);
    let shortest = text[start..].chars().next().map_or(0, char::len_utf8);
    const LONGEST: usize = 40;
    let mut end = start + length.max(shortest).min(LONGEST);
    while !text.is_char_boundary(end) {
        end += 1;
    }
    Span::new(start, end)
}

/// A piece of the file as messages quote it: on one line, and short.
pub(super) fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST {
        return line;
    }
    line.chars().take(MOST).collect::<String>() + "..."
}
