//! What is wrong with a text that is no YAML, in plain words and at the place that a person would mend.
//!
//! Called by `parse`; the words of the event parser are never shown.

use granit_parser::ErrorKind;

use super::places::end_of_line;
use crate::problem::Problem;
use crate::source::Span;

/// What else is known where an error is met.
#[derive(Debug)]
pub(super) struct Context<'s> {
    /// The file.
    pub(super) text: &'s str,
    /// The innermost bracket that is still open.
    pub(super) bracket: Option<usize>,
}

/// The word at an offset, for a caret to stand under: never empty unless the text is.
pub(super) fn word_at(text: &str, at: usize) -> Span {
    let mut start = at.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let length = text[start..].bytes().take_while(|byte| !byte.is_ascii_whitespace()).count();
    if length > 0 {
        return Span::new(start, start + length.min(first_chars(&text[start..], 40)));
    }
    // At a blank or the end of a line, the last thing that was written before it.
    let end = text[..start].trim_end().len();
    let last = text[..end].char_indices().next_back().map_or(0, |(last, _)| last);
    Span::new(last, end)
}

/// A text in back quotes, cut where it is long or does not fit one line.
pub(super) fn quoted(text: &str) -> String {
    let line = &text[..end_of_line(text.as_bytes(), 0)];
    let shown = &line[..first_chars(line, 40)];
    let more = if shown.len() < text.len() { "..." } else { "" };
    format!("`{}{more}`", shown.replace(char::is_control, "\u{fffd}"))
}

/// How many bytes the first `count` characters of a text take.
fn first_chars(text: &str, count: usize) -> usize {
    text.char_indices().nth(count).map_or(text.len(), |(at, _)| at)
}

/// The problem for an error of the parser at an offset of the file.
pub(super) fn problem(kind: &ErrorKind, at: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let word = word_at(text, at);
    if let Some(problem) = unclosed_bracket(kind, at, context) {
        return problem;
    }
    let first = text.get(at..).and_then(|rest| rest.chars().next());
    let (span, message, help) = match (kind, first) {
        (_, Some(found)) if found.is_control() && !matches!(found, '\t' | '\n' | '\r') => {
            let message = format!("the control character U+{:04X} is no part of a text", found as u32);
            (Span::new(at, at + found.len_utf8()), message, "take it out".to_owned())
        }
        (_, Some('\t')) if in_indentation(text, at) => (
            Span::new(at, at + 1),
            "a line indented by blanks is expected, a tab is found".to_owned(),
            "replace the tab by blanks".to_owned(),
        ),
        _ => {
            let (message, help) = words(kind);
            (word, message.to_owned(), help.to_owned())
        }
    };
    let span = if *kind == ErrorKind::UnclosedQuotedScalar { Span::new(at, at + 1) } else { span };
    let problem = Problem::unreadable("syntax", span, message).with_help(help);
    match context.bracket {
        Some(bracket) if bracket < at => {
            problem.with_label(Span::new(bracket, bracket + 1), "inside the bracket opened here")
        }
        _ => problem,
    }
}

/// A bracket that is never closed, or closed by one of the other kind: told at the opening one.
fn unclosed_bracket(kind: &ErrorKind, at: usize, context: &Context<'_>) -> Option<Problem> {
    use ErrorKind as E;
    let bytes = context.text.as_bytes();
    let is_opening = |at: usize| matches!(bytes.get(at), Some(b'[' | b'{'));
    let bracket = match kind {
        E::UnclosedFlowCollection { .. } if is_opening(at) => at,
        E::UnclosedFlowCollection { .. }
        | E::UnexpectedEofFlowSequence
        | E::UnexpectedEofFlowMapping
        | E::UnexpectedEofImplicitFlowMapping
        | E::MismatchedFlowCollectionEnd { .. } => context.bracket?,
        _ => return None,
    };
    let (open, close) = if bytes.get(bracket) == Some(&b'{') { ('{', '}') } else { ('[', ']') };
    let span = Span::new(bracket, bracket + 1);
    if let E::MismatchedFlowCollectionEnd { close: found, .. } = kind {
        let message = format!("a `{close}` is expected for the bracket `{open}`, `{found}` is found");
        let found = word_at(context.text, at).start as usize;
        let problem = Problem::unreadable("syntax", Span::new(found, found + 1), message);
        return Some(problem.with_help("close each bracket by its own kind").with_label(span, "opened here"));
    }
    let message = format!("the bracket `{open}` is never closed");
    let help = format!("write `{close}` behind the last item, or put the value in quotes");
    Some(Problem::unreadable("syntax", span, message).with_help(help))
}

fn in_indentation(text: &str, at: usize) -> bool {
    text[..at].trim_end_matches([' ', '\t']).chars().next_back().is_none_or(|before| matches!(before, '\n' | '\r'))
}

/// What is said of an error, and what to do.
fn words(kind: &ErrorKind) -> (&'static str, &'static str) {
    use ErrorKind as E;
    match kind {
        E::UnclosedQuotedScalar => {
            ("this quote is never closed", "close it at the end of the value, or write two of it for one that is meant")
        }
        E::DocumentIndicatorInQuotedScalar => {
            ("a closing quote is expected, a line `---` or `...` is found", "close the quote at the end of its value")
        }
        E::InvalidTrailingSingleQuotedScalar | E::InvalidTrailingDoubleQuotedScalar => (
            "nothing more is expected behind the closing quote, more text is found",
            "put the whole value between the quotes; write a quote inside it twice, or use the other kind around it",
        ),
        E::UnknownQuotedScalarEscape
        | E::InvalidQuotedScalarHexEscape
        | E::InvalidLowSurrogateHexEscape
        | E::InvalidLowSurrogate
        | E::MissingLowSurrogate
        | E::UnpairedLowSurrogate
        | E::InvalidUnicodeEscape => (
            "this `\\` stands before something it has no meaning for",
            "write `\\\\` for a backslash, or use single quotes",
        ),
        E::TabNotAllowed
        | E::TabInBlockIndentation
        | E::TabInIndentation
        | E::TabAtBlockScalarStart
        | E::TabInPlainScalar => ("blanks are expected, a tab is found", "replace the tab by blanks"),
        E::InvalidIndentation
        | E::InvalidQuotedScalarIndent
        | E::InvalidBlockScalarIndent
        | E::InvalidFlowScalarIndent => (
            "this line stands too far left or right for what it belongs to",
            "indent it like its neighbours, deeper than the key above it",
        ),
        E::MappingValueNotAllowed | E::InvalidColonPlacement | E::InvalidMappingValueWhitespace => (
            "a second `:` is found where a value is expected",
            "put the value in quotes, or begin a new line for a new key",
        ),
        E::FlowMappingValueAdjacentCollection => ("a `:` is found where none is expected", "put the value in quotes"),
        E::SimpleKeyExpected | E::InvalidSimpleKey | E::ExpectedBlockMappingKey => (
            "a line `key: value` is expected, something else is found",
            "write a `:` and a blank behind the key, and indent the lines of one section alike",
        ),
        E::MappingKeyNotAllowed => ("no key is expected here", "begin a new line for it"),
        E::BlockSequenceEntryNotAllowed | E::BlockEntryInFlowCollection | E::InvalidBlockEntryWhitespace => (
            "no list item is expected here, a `-` is found",
            "begin a new line for the list, or put the value in quotes",
        ),
        E::ExpectedBlockSequenceEntry => {
            ("a list item with `-` is expected, something else is found", "indent the items of one list alike")
        }
        E::ExpectedFlowMappingSeparator | E::ExpectedFlowSequenceSeparator => (
            "a comma or the closing bracket is expected, something else is found",
            "close the bracket, or put the value in quotes",
        ),
        E::MisplacedFlowCollectionEnd => ("this bracket closes nothing", "take it out, or put the value in quotes"),
        E::UnexpectedCharacter { .. } | E::PlainScalarStartsWithDashFlowIndicator | E::UnexpectedEndOfPlainScalar => {
            ("no value begins with this character", "put the value in quotes")
        }
        E::CommentNotSeparated | E::CommentInterceptedScalar => (
            "a comment is found inside a value",
            "write the comment on a line of its own before the key, with a blank before its `#`",
        ),
        E::MissingAnchorOrAliasName => {
            ("a name is expected behind the `&` or `*`", "put the value in quotes if it begins with that character")
        }
        E::ZeroBlockScalarIndent | E::InvalidBlockScalarHeader => {
            ("nothing but an indentation is expected behind the `|` or `>`", "begin the text on the next line")
        }
        E::ExpectedTagBang
        | E::InvalidTagTerminator
        | E::MissingTagUri
        | E::UnclosedVerbatimTag
        | E::InvalidTagEscape
        | E::InvalidTagUtf8LeadingByte
        | E::InvalidTagUtf8TrailingByte
        | E::InvalidTagUtf8
        | E::InvalidGlobalTagCharacter
        | E::UndeclaredTagHandle => ("this tag is malformed", "put the value in quotes if it begins with `!`"),
        E::ExpectedDocumentStart | E::InvalidDocumentEnd | E::MissingDocumentEndBeforeDirective => (
            "the document has ended here, more text is found",
            "indent it like the rest, or begin a new document with a line `---`",
        ),
        E::UnsupportedYamlMajorVersion | E::DuplicateVersionDirective | E::DuplicateTagDirective => {
            ("this line `%` is not understood", "take it out")
        }
        E::DirectiveDisallowed
        | E::InvalidDirectiveTerminator
        | E::MissingYamlVersionSeparator
        | E::MissingDirectiveName
        | E::InvalidDirectiveName
        | E::YamlVersionTooLong
        | E::MissingYamlVersion => {
            ("this line `%` is not understood", "take it out, or put the value in quotes if it begins with `%`")
        }
        E::UnexpectedEof | E::UnexpectedEofBlockMapping | E::UnexpectedEofBlockSequence => {
            ("more text is expected, the end of the file is found", "look whether the file was cut")
        }
        E::BomInsideDocument => ("a byte order mark is found inside the file", "take it out"),
        _ => ("this is no YAML", "put the value in quotes, and indent the lines of one section alike"),
    }
}
