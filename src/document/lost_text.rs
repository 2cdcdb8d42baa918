//! Text that a person meant and YAML drops: `bars: (6) #4` reads as `(6)`.
//!
//! Only a `#` with something directly behind it is suspect, on a line with a value or where one is missing;
//! `gap: 5 in # max` is a comment, and so is a ruled line of `##`.

use crate::problem::Problem;
use crate::source::Span;

use super::places::end_of_line;
use super::tree::{Kind, Tree};

/// The problem, where a comment that begins at `at` has text directly behind its `#`.
pub(super) fn suspect(text: &str, at: usize) -> Option<Span> {
    let next = text[at..].strip_prefix('#')?.chars().next()?;
    if next.is_whitespace() || next == '#' {
        return None;
    }
    let end = at + text[at..end_of_line(text.as_bytes(), at)].trim_end().len();
    Some(Span::new(at, end))
}

/// The comment that stands where a value was expected, when `after` is the offset behind the `:` or `-`.
pub(super) fn instead_of_value(text: &str, after: usize) -> Option<Span> {
    let rest = text.get(after..)?;
    let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
    if blanks == 0 { None } else { suspect(text, after + blanks) }
}

/// Whether a comment that begins at `comment` follows a value on its line.
pub(super) fn follows_value(tree: &Tree, comment: usize) -> bool {
    let text = tree.source().text();
    let end = text[..comment].trim_end_matches([' ', '\t']).len();
    // Brackets and commas cannot end anything but a value here.
    if matches!(text.as_bytes()[..end].last(), Some(b']' | b'}' | b',')) {
        return true;
    }
    // Starts rise along the tape, so the last node that begins before the comment is the one that could end there.
    let after = tree.nodes.partition_point(|node| (node.span.start as usize) < end);
    after.checked_sub(1).map(|last| &tree.nodes[last]).is_some_and(|node| {
        let leaf = matches!(node.kind, Kind::Scalar(_) | Kind::Alias(_) | Kind::BrokenAlias);
        leaf && !node.absent && node.span.end as usize == end
    })
}

/// What is said about it.
pub(super) fn problem(text: &str, span: Span) -> Problem {
    let shown = super::syntax::quoted(&text[span.range()]);
    let message = format!("the text {shown} is lost: what stands behind ` #` is a comment");
    Problem::fault("lost-text", span, message)
        .with_help("put the whole value in quotes, or, if it is a comment, write a blank behind the `#`")
}
