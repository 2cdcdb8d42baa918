//! Syntax errors in plain words: what was expected, what stands there, what to do.
//!
//! Called by `parse` with the kind and place that the event parser gives; its own words are for people who know YAML
//! and are never shown.

use granit_parser::ErrorKind;

use super::places::{end_of_line, start_of_line};
use crate::problem::Problem;
use crate::source::Span;

/// What a message may look at beside the place of the error.
pub(super) struct Context<'s> {
    pub(super) text: &'s str,
    /// Up to where everything could be read.
    pub(super) read_to: usize,
    /// The bracket of the innermost flow collection that is open.
    pub(super) bracket: Option<usize>,
}

/// The problem for a syntax error that the parser found at a byte.
pub(super) fn problem(kind: &ErrorKind, at: usize, context: &Context<'_>) -> Problem {
    let at = at.min(context.text.len());
    match kind {
        ErrorKind::UnclosedQuotedScalar
        | ErrorKind::InvalidQuotedScalarIndent
        | ErrorKind::DocumentIndicatorInQuotedScalar => unclosed_quote(at, context),
        ErrorKind::UnclosedFlowCollection { .. } => unclosed_bracket(at, at, context),
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidLowSurrogateHexEscape
        | ErrorKind::InvalidLowSurrogate
        | ErrorKind::MissingLowSurrogate
        | ErrorKind::UnpairedLowSurrogate
        | ErrorKind::InvalidUnicodeEscape => bad_escape(at, context),
        ErrorKind::MismatchedFlowCollectionEnd { open, close } => wrong_bracket(*open, *close, at, context),
        ErrorKind::UnexpectedEofFlowSequence
        | ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping
        | ErrorKind::InvalidIndentation
        | ErrorKind::InvalidFlowScalarIndent => match context.bracket {
            Some(bracket) => unclosed_bracket(bracket, at, context),
            None => misplaced_line(at, context),
        },
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement => stray_colon(at, context),
        ErrorKind::ExpectedBlockMappingKey
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::ExpectedDocumentStart
        | ErrorKind::MappingKeyNotAllowed => misplaced_line(at, context),
        _ => {
            let span = word_at(context.text, culprit(kind, at, context.text));
            let (expected, help) = expectation(kind);
            let found = found(context.text, span);
            Problem::unreadable("syntax", span, format!("expected {expected}, found {found}")).with_help(help)
        }
    }
}

/// The character that an error is about, where the parser points beside it: behind a tab, before a control character.
fn culprit(kind: &ErrorKind, at: usize, text: &str) -> usize {
    match kind {
        ErrorKind::UnexpectedCharacter { character } => text[at..].find(*character).map_or(at, |found| at + found),
        ErrorKind::TabNotAllowed | ErrorKind::TabInBlockIndentation | ErrorKind::TabInIndentation
            if !text[at..].starts_with('\t') =>
        {
            let start = start_of_line(text.as_bytes(), at);
            text[start..at].rfind('\t').map_or(at, |found| start + found)
        }
        _ => at,
    }
}

/// What was expected and what to do, for the kinds that need no look at the text around.
fn expectation(kind: &ErrorKind) -> (&'static str, &'static str) {
    match kind {
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => (
            "a key with a `:` behind it on this line",
            "write `key: value`; indent a text of several lines below its key; a key has at most 1,024 characters",
        ),
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => (
            "the end of the value behind its closing quote",
            "put the quotes around the whole value; inside, write '' in '...' and \\\" in \"...\"",
        ),
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabInIndentation
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::TabInPlainScalar => ("blanks at the head of the line", "replace the tab by blanks"),
        ErrorKind::UnexpectedCharacter { character } if character.is_control() => {
            ("text", "delete the control character; it cannot be seen in most editors")
        }
        ErrorKind::UnexpectedCharacter { .. } => {
            ("a value", "no value can begin with this character; put the whole value in quotes")
        }
        ErrorKind::BlockSequenceEntryNotAllowed
        | ErrorKind::BlockEntryInFlowCollection
        | ErrorKind::InvalidBlockEntryWhitespace
        | ErrorKind::PlainScalarStartsWithDashFlowIndicator => (
            "a value",
            "a list begins on a line of its own below its key, each value behind `- `; inside `[ ]` values have commas",
        ),
        ErrorKind::CommentNotSeparated => ("a blank before `#`", "write a blank before the comment"),
        ErrorKind::MisplacedFlowCollectionEnd => ("a value", "delete the bracket, or add the one that opens the list"),
        ErrorKind::ExpectedFlowMappingSeparator => ("a comma or `}`", "put a comma between the fields"),
        ErrorKind::ExpectedFlowSequenceSeparator => ("a comma or `]`", "put a comma between the values"),
        ErrorKind::MissingAnchorOrAliasName => {
            ("a name directly behind `&` or `*`", "put a text that begins with `&` or `*` in quotes")
        }
        ErrorKind::ZeroBlockScalarIndent
        | ErrorKind::InvalidBlockScalarHeader
        | ErrorKind::InvalidBlockScalarIndent => (
            "nothing but a line end behind `|` or `>`, and the text indented below",
            "write the text on the next lines, all indented alike, or put it in quotes",
        ),
        ErrorKind::InvalidDocumentEnd => ("nothing behind `...`", "delete it, or begin a document with `---`"),
        ErrorKind::BomInsideDocument => ("text", "delete the byte order mark; it cannot be seen in most editors"),
        ErrorKind::UndeclaredTagHandle => ("a value", "delete the tag; a text that begins with `!` needs quotes"),
        ErrorKind::ExpectedNodeContent => ("a value", "write the value, or delete what stands in its place"),
        ErrorKind::DuplicateVersionDirective
        | ErrorKind::UnsupportedYamlMajorVersion
        | ErrorKind::DuplicateTagDirective
        | ErrorKind::MissingDocumentEndBeforeDirective
        | ErrorKind::InvalidDirectiveTerminator
        | ErrorKind::MissingDirectiveName
        | ErrorKind::InvalidDirectiveName
        | ErrorKind::MissingYamlVersion
        | ErrorKind::MissingYamlVersionSeparator
        | ErrorKind::YamlVersionTooLong
        | ErrorKind::DirectiveByteLimitExceeded { .. } => {
            ("a key", "a line that begins with `%` is a directive, which no submittal needs: delete it")
        }
        _ => ("YAML", "put the value in quotes, or compare the line with the ones above it"),
    }
}

fn unclosed_quote(at: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let quote = if text[at..].starts_with(['"', '\'']) { at } else { opening_quote(at, context).unwrap_or(at) };
    let mark = if text[quote..].starts_with('\'') { "'" } else { "\"" };
    let end = quote + text[quote..end_of_line(text.as_bytes(), quote)].trim_end().len();
    let problem = Problem::unreadable(
        "syntax",
        Span::new(quote, end),
        format!("expected a closing {mark} behind the text that begins here, found none"),
    );
    problem.with_help(format!("put {mark} where the text ends; a text of several lines is indented below its key"))
}

/// A backslash in double quotes that begins no escape; the parser points at the quote.
fn bad_escape(quote: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let mut at = quote;
    while let Some(found) = text[at..].find('\\') {
        at += found;
        let behind = &text[at + 1..];
        let digits = match behind.chars().next() {
            Some('x') => 2,
            Some('u') => 4,
            Some('U') => 8,
            Some(letter) if "0abtnvfre \t\n\r\"/\\N_LP".contains(letter) => 0,
            _ => break,
        };
        if behind.bytes().skip(1).take(digits).filter(u8::is_ascii_hexdigit).count() < digits {
            break;
        }
        at += 2;
    }
    let at = if text[at..].starts_with('\\') { at } else { quote };
    let span = word_at(text, at);
    let shown = found(text, span);
    Problem::unreadable("syntax", span, format!("expected an escape such as `\\n` or `\\u00b5`, found {shown}"))
        .with_help("write `\\\\` for a backslash, or use single quotes")
}

/// The first quote that can open a text, between what could be read and the error.
fn opening_quote(at: usize, context: &Context<'_>) -> Option<usize> {
    let bytes = context.text.as_bytes();
    let mut place = context.read_to;
    while place < at {
        let before = place.checked_sub(1).map(|before| bytes[before]);
        let free = before.is_none_or(|byte| byte.is_ascii_whitespace() || b"[{,:".contains(&byte));
        match bytes[place] {
            b'"' | b'\'' if free => return Some(place),
            b'#' if free => place = end_of_line(bytes, place),
            _ => place += 1,
        }
    }
    None
}

fn unclosed_bracket(bracket: usize, at: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let (open, close) = if text[bracket..].starts_with('{') { ("{", "}") } else { ("[", "]") };
    if text[at..].starts_with(close) && at > bracket {
        let message =
            format!("expected `{close}` further to the right than the key of its `{open}`, found it below the key");
        return Problem::unreadable("syntax", Span::new(at, at + 1), message)
            .with_help(format!("indent the `{close}`"))
            .with_label(Span::new(bracket, bracket + 1), "opened here");
    }
    let message = format!("expected `{close}` to close the `{open}` that is opened here, found none");
    let problem = Problem::unreadable("syntax", Span::new(bracket, bracket + 1), message)
        .with_help(format!("put `{close}` behind the last value"));
    if at > bracket && at < text.len() {
        problem.with_label(word_at(text, at), format!("expected `{close}` or a comma before this"))
    } else {
        problem
    }
}

fn wrong_bracket(open: char, close: char, bracket: usize, context: &Context<'_>) -> Problem {
    let wanted = if open == '[' { ']' } else { '}' };
    let at = context.text[bracket..].find(close).map_or(bracket, |found| bracket + found);
    let message = format!("expected `{wanted}` to close the `{open}`, found `{close}`");
    Problem::unreadable("syntax", Span::new(at, at + 1), message)
        .with_help("lists stand in `[ ]`, sections in `{ }`")
        .with_label(Span::new(bracket, bracket + 1), "opened here")
}

/// A `: ` where no key can be: a second one on its line, or a line that belongs to the value above.
fn stray_colon(at: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let start = start_of_line(text.as_bytes(), at);
    if text[start..at].contains(": ") {
        let message = "expected one `key: value` on the line, found a second `: `";
        return Problem::unreadable("syntax", word_at(text, at), message)
            .with_help("put the value in quotes, or begin a new line for the second key");
    }
    let head = start + text[start..at].len() - text[start..at].trim_start().len();
    let span = if head < at { Span::new(head, text[..at].trim_end().len()) } else { word_at(text, at) };
    let shown = found(text, span);
    Problem::unreadable("syntax", span, format!("expected more of the value above, found the key {shown}"))
        .with_help("begin the key in the column of the fields beside it, or indent what belongs to the value above")
}

/// A line, or what follows a value on its line, that fits nothing around it.
fn misplaced_line(at: usize, context: &Context<'_>) -> Problem {
    let text = context.text;
    let start = start_of_line(text.as_bytes(), at);
    let before = &text[start..at];
    let head = start + before.len() - before.trim_start().len();
    if !before.trim_start_matches([' ', '\t', '-', '?']).is_empty() {
        let span = word_at(text, at);
        let shown = found(text, span);
        return Problem::unreadable("syntax", span, format!("expected the end of the value, found {shown}"))
            .with_help("put the whole value in quotes");
    }
    let (column, end) = (text[start..head].chars().count() + 1, word_at(text, at).end as usize);
    let span = if at < text.len() { Span::new(head, end.max(head)) } else { word_at(text, at) };
    let shown = found(text, span);
    let message =
        format!("expected this line in the column of the lines it belongs to, found {shown} in column {column}");
    Problem::unreadable("syntax", span, message)
        .with_help("fields of one section, and the `-` of one list, begin in the same column")
}

/// How a text is shown in a message: short, on one line, between back quotes.
pub(super) fn quoted(text: &str) -> String {
    const SHOWN: usize = 40;
    let mut shown = String::from("`");
    for character in text.chars().take(SHOWN) {
        if character.is_control() {
            shown.extend(character.escape_default());
        } else {
            shown.push(character);
        }
    }
    if text.chars().nth(SHOWN).is_some() {
        shown.push_str("...");
    }
    shown.push('`');
    shown
}

fn found(text: &str, span: Span) -> String {
    match &text[span.range()] {
        "" if span.end as usize >= text.trim_end().len() => "the end of the file".to_owned(),
        "" => "the end of the line".to_owned(),
        word => quoted(word),
    }
}

/// The word at a byte, at most so long that a line can show it; a control character or a tab alone.
/// Empty at the end of a line.
pub(super) fn word_at(text: &str, at: usize) -> Span {
    const WORD: usize = 40;
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let mut characters = text[at..].chars();
    let first = match characters.next() {
        Some('\n' | '\r') | None => return Span::new(at, at),
        Some(first) => first,
    };
    let mut length = first.len_utf8();
    if !first.is_control() && !first.is_whitespace() {
        let more = characters.take(WORD).take_while(|next| !next.is_whitespace() && !next.is_control());
        length += more.map(char::len_utf8).sum::<usize>();
    }
    Span::new(at, at + length)
}
