//! Text from outside made safe to print, and wrapped.
//!
//! A submittal comes from somebody else. Nothing of it may move the cursor, recolor the terminal, reorder the
//! characters around it or hide, so whatever could is printed as an escape. Called by every format for people.

use std::borrow::Cow;
use std::fmt::Write as _;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Symbols that stay on the line of their number.
const UNITS: [&str; 22] = [
    "in", "ft", "yd", "mm", "cm", "m", "lb", "lbf", "kip", "kips", "kg", "N", "kN", "psf", "psi", "ksi", "plf", "Pa",
    "kPa", "MPa", "mph", "deg",
];

/// Whether a character would act on the terminal, reorder its neighbors or not show at all.
pub(super) fn acts_or_hides(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// Appends a character, as an escape where [`acts_or_hides`].
pub(super) fn push_visible(out: &mut String, c: char) {
    match c {
        '\n' => out.push_str("\\n"),
        '\r' => out.push_str("\\r"),
        '\t' => out.push_str("\\t"),
        _ if !acts_or_hides(c) => out.push(c),
        _ => {
            let code = u32::from(c);
            // Writing to a string does not fail.
            let _ = if code < 0x100 { write!(out, "\\x{code:02x}") } else { write!(out, "\\u{{{code:x}}}") };
        }
    }
}

/// The text on one line, with everything that acts or hides as an escape.
pub(super) fn visible(text: &str) -> Cow<'_, str> {
    if !text.chars().any(acts_or_hides) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    text.chars().for_each(|c| push_visible(&mut out, c));
    Cow::Owned(out)
}

/// Columns that a visible text takes.
pub(super) fn columns(text: &str) -> usize {
    text.width()
}

/// Columns that one visible character takes.
pub(super) fn columns_of(c: char) -> usize {
    c.width().unwrap_or(0)
}

/// Breaks a text into lines of at most `width` columns, between words where it can. Line breaks of the text count as
/// blanks; everything else that acts or hides is made visible. An empty text gives no line.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut used = 0;
    for word in words(text) {
        let wide = columns(&word);
        if used > 0 && used + 1 + wide <= width {
            line.push(' ');
            line.push_str(&word);
            used += 1 + wide;
            continue;
        }
        if used > 0 {
            lines.push(std::mem::take(&mut line));
        }
        used = 0;
        for c in word.chars() {
            let wide = columns_of(c);
            if used + wide > width && used > 0 {
                lines.push(std::mem::take(&mut line));
                used = 0;
            }
            line.push(c);
            used += wide;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words of a text made visible; a number and the unit after it are one word: `5 1/2 in`, `139.7 mm),`.
fn words(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let word = visible(word);
        let letters = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let unit = UNITS.contains(&letters);
        let fraction = letters.contains('/') && letters.starts_with(|c: char| c.is_ascii_digit());
        match out.last_mut() {
            Some(before) if (unit || fraction) && before.ends_with(|c: char| c.is_ascii_digit()) => {
                before.push(' ');
                before.push_str(&word);
            }
            _ => out.push(word.into_owned()),
        }
    }
    out
}

/// `1 rule`, `3 rules`.
pub(super) fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The text with a capital at its head.
pub(super) fn sentence(text: &str) -> String {
    let mut rest = text.chars();
    rest.next().map(|first| first.to_uppercase().chain(rest).collect()).unwrap_or_default()
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn list<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [head @ .., last] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", head.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_acts_on_a_terminal_or_hides_becomes_an_escape() {
        assert_eq!(visible("a\x1b[31mb\x07"), "a\\x1b[31mb\\x07");
        assert_eq!(visible("\u{9b}2J\u{202e}x\u{2066}y\u{2069}"), "\\x9b2J\\u{202e}x\\u{2066}y\\u{2069}");
        assert_eq!(visible("one\ntwo\r\tthree\u{2028}"), "one\\ntwo\\r\\tthree\\u{2028}");
        assert_eq!(visible("µ ½ 門"), "µ ½ 門");
    }

    #[test]
    fn every_control_and_bidi_character_is_caught() {
        let controls = (0..0x20).chain(0x7f..0xa0).chain(0x202a..=0x202e).chain(0x2066..=0x2069);
        for c in controls.filter_map(char::from_u32) {
            assert!(visible(&c.to_string()).is_ascii(), "U+{:04X} passed", u32::from(c));
        }
    }

    #[test]
    fn lines_keep_within_the_width_and_long_words_break() {
        assert_eq!(wrap("one two  three\nfour", 9), ["one two", "three", "four"]);
        assert_eq!(wrap("abcdefgh ij", 4), ["abcd", "efgh", "ij"]);
        assert_eq!(wrap("門門門", 4), ["門門", "門"]);
        assert!(wrap(" \n ", 4).is_empty());
        assert_eq!(wrap("the gap is 5 1/2 in, no less", 15), ["the gap is", "5 1/2 in, no", "less"]);
    }

    #[test]
    fn lists_read_as_sentences() {
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(list(&["a"]), "a");
        assert_eq!(count(1, "rule", "rules"), "1 rule");
    }
}
