//! Finding indicators in the text between two nodes, which the event parser does not point at.
//!
//! The parser gives an absent value, an empty block scalar or a list in its key's column a place beside its
//! indicator, not on it; the builder looks the indicator up here. Each gap is walked once, so the whole stays linear.

/// The first of the wanted indicators at or after `from` and before `to`; comments, anchors and tags are stepped over.
/// `None` where anything else stands in between.
pub(super) fn indicator(text: &str, from: usize, to: usize, wanted: &[u8]) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut at = from;
    while at < to.min(bytes.len()) {
        match bytes[at] {
            byte if wanted.contains(&byte) => return Some(at),
            b' ' | b'\t' | b'\n' | b'\r' | b':' | b'?' | b',' | b'-' => at += 1,
            b'#' => at = end_of_line(bytes, at),
            b'&' | b'!' => at += bytes[at..].iter().take_while(|byte| !byte.is_ascii_whitespace()).count(),
            _ => return None,
        }
    }
    None
}

/// The offset of the line break that ends the line of `at`, or the end of the text.
pub(super) fn end_of_line(bytes: &[u8], at: usize) -> usize {
    let rest = bytes.get(at..).unwrap_or_default();
    at + rest.iter().take_while(|&&byte| byte != b'\n' && byte != b'\r').count()
}

/// The offset of the first byte of the line of `at`.
pub(super) fn start_of_line(bytes: &[u8], at: usize) -> usize {
    let before = bytes.get(..at).unwrap_or(bytes);
    before.iter().rposition(|&byte| byte == b'\n' || byte == b'\r').map_or(0, |found| found + 1)
}

/// Whether a line break ends at `at`, so that a line begins there.
fn begins_line(bytes: &[u8], at: usize) -> bool {
    match at.checked_sub(1).map(|before| bytes[before]) {
        None | Some(b'\n') => true,
        Some(b'\r') => bytes.get(at) != Some(&b'\n'),
        _ => false,
    }
}

/// The next line after `after` on which reading can go on: one that begins in the first column with something that
/// can be a key, or a document mark.
pub(super) fn next_statement(text: &str, after: usize) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut at = after;
    loop {
        at = end_of_line(bytes, at) + 1;
        while at < bytes.len() && !begins_line(bytes, at) {
            at += 1;
        }
        match bytes.get(at)? {
            b'-' if is_document_mark(&bytes[at..]) => return Some(at),
            b' ' | b'\t' | b'\n' | b'\r' | b'#' | b'-' | b']' | b'}' => {}
            _ => return Some(at),
        }
    }
}

/// Whether a text begins with `---` that stands alone.
fn is_document_mark(bytes: &[u8]) -> bool {
    bytes.starts_with(b"---") && bytes.get(3).is_none_or(u8::is_ascii_whitespace)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_indicator_is_found_past_comments_anchors_and_tags() {
        let text = "e: &x !t # - no\n- 1";
        assert_eq!(indicator(text, 1, text.len(), b"-"), Some(16));
        assert_eq!(indicator(text, 1, text.len(), b":"), Some(1));
        assert_eq!(indicator("a b:", 1, 4, b":"), None);
    }

    #[test]
    fn reading_goes_on_at_keys_and_document_marks_only() {
        let text = "a: [\n 1\n]\n# c\n- x\n--- \nb: 1\r\r\nc: 2\rd: 3";
        let places: Vec<_> = std::iter::successors(next_statement(text, 0), |&at| next_statement(text, at)).collect();
        let found: Vec<_> = places.iter().map(|&at| &text[at..at + 1]).collect();
        assert_eq!(found, ["-", "b", "c", "d"]);
    }

    #[test]
    fn the_bounds_of_a_line_are_found() {
        let bytes = b"ab\r\ncd\n";
        assert_eq!((start_of_line(bytes, 5), end_of_line(bytes, 4)), (4, 6));
        assert_eq!((start_of_line(bytes, 1), end_of_line(bytes, 1)), (0, 2));
    }
}
