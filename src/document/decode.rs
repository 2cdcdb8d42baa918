//! Bytes of a file to text: UTF-8 only, with a place for the first byte that is none.
//!
//! Called by whoever opens files, before [`super::parse`].

use crate::problem::Problem;
use crate::source::Span;

/// A file that is no UTF-8: what of it can be shown, and the problem that points into that.
#[derive(Debug, Clone, PartialEq)]
pub struct Undecodable {
    /// The file with a replacement character for what could not be read, for the caret to stand in.
    pub text: String,
    /// `not-utf8`, its span in [`Undecodable::text`] as `SourceFile::new` keeps it.
    pub problem: Problem,
}

const BOM: [u8; 3] = [0xEF, 0xBB, 0xBF];

/// Reads a file's bytes as UTF-8.
///
/// # Errors
/// `not-utf8` with the offset of the first byte that is no UTF-8; a file in UTF-16 is told so by name.
pub fn decode(bytes: &[u8]) -> Result<String, Box<Undecodable>> {
    if let Some(text) = utf16(bytes) {
        let end = text.find(['\n', '\r']).unwrap_or(text.len());
        let problem =
            Problem::unreadable("not-utf8", Span::new(0, end), "a file in UTF-8 is expected, UTF-16 is found")
                .with_help("in the editor, choose \"save with encoding\" and UTF-8");
        return Err(Box::new(Undecodable { text, problem }));
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(error) => {
            let at = error.valid_up_to();
            let text = String::from_utf8_lossy(bytes).into_owned();
            // The text before the fault is the same in both, but a byte order mark will be dropped from it.
            let start = if bytes.starts_with(&BOM) { at - BOM.len() } else { at };
            let found = bytes.get(at).copied().unwrap_or_default();
            let message = format!("a file in UTF-8 is expected, the byte 0x{found:02X} is found at byte {at}");
            let problem = Problem::unreadable("not-utf8", Span::new(start, start + '\u{fffd}'.len_utf8()), message)
                .with_help("in the editor, choose \"save with encoding\" and UTF-8");
            Err(Box::new(Undecodable { text, problem }))
        }
    }
}

/// The text of a file in UTF-16, told by its byte order mark or by zero bytes beside two ASCII characters.
fn utf16(bytes: &[u8]) -> Option<String> {
    let little = match bytes {
        [0xFF, 0xFE, ..] => true,
        [0xFE, 0xFF, ..] => false,
        [a, 0, b, 0, ..] if *a > 0 && *b > 0 => true,
        [0, a, 0, b, ..] if *a > 0 && *b > 0 => false,
        _ => return None,
    };
    let pair = |pair: &[u8]| {
        let pair = [pair[0], pair[1]];
        if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) }
    };
    let units: Vec<u16> = bytes.chunks_exact(2).map(pair).collect();
    let text = String::from_utf16_lossy(&units);
    Some(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceFile;

    #[test]
    fn the_first_bad_byte_is_pointed_at() {
        assert_eq!(decode("gap: 5 µm".as_bytes()).unwrap(), "gap: 5 µm");
        let bad = decode(b"\xef\xbb\xbfa: \xff b\n").unwrap_err();
        assert!(bad.problem.message.contains("0xFF is found at byte 6"), "{}", bad.problem.message);
        let file = SourceFile::new("f", bad.text);
        assert_eq!(file.slice(bad.problem.span), "\u{fffd}");
        let cut = decode(b"a: \xc3").unwrap_err();
        assert_eq!(SourceFile::new("f", cut.text).slice(cut.problem.span), "\u{fffd}");
    }

    #[test]
    fn utf16_is_named_with_or_without_a_byte_order_mark() {
        for bytes in [&b"\xff\xfea\0:\0\n\0"[..], b"\xfe\xff\0a\0:\0\n", b"a\0:\0\n\0", b"\0a\0:\0\n"] {
            let bad = decode(bytes).unwrap_err();
            assert_eq!((bad.problem.code, bad.text.as_str()), ("not-utf8", "a:\n"));
            assert!(bad.problem.message.contains("UTF-16"));
        }
    }
}
