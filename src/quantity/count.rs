//! Whole numbers: the text of a count.

use super::amount::amount;
use super::literal::{LiteralError, Reading};
use super::refusal;
use super::token::{Cursor, is_hyphen};
use super::{Quantity, QuantityKind, System};

/// Reads a count; the cursor stands behind the leading blanks.
pub(super) fn read<'a>(mut cursor: Cursor<'a>) -> Result<Reading, LiteralError> {
    let start = cursor.at();
    let rest_at = |cursor: &Cursor<'a>| -> Cursor<'a> {
        let mut behind = *cursor;
        behind.skip_blanks();
        behind
    };
    let whole_expected = |at: std::ops::Range<usize>, found: &str| {
        LiteralError::unreadable(at, format!("a count is one whole number; `{found}` is found"))
            .with_help("write 2; a count has no range and no tolerance")
    };
    let first = cursor.peek();
    if let Some(sign) = first.filter(|c| is_hyphen(*c) || *c == '+') {
        let at = start..start + sign.len_utf8();
        return Err(LiteralError::new(refusal::SIGNED, at, format!("no count carries a sign; `{sign}` is found"))
            .with_help("write 2"));
    }
    if first.is_none() {
        return Err(
            LiteralError::unreadable(start..start, "a count is expected, nothing is found").with_help("write 2")
        );
    }
    if !first.is_some_and(|c| c.is_ascii_digit()) {
        let found = refusal::head(cursor.rest);
        return Err(whole_expected(start..start + found.len(), found));
    }
    let read = amount(&mut cursor, QuantityKind::Count)?;
    if !read.whole {
        let error = whole_expected(read.at, read.text);
        // Beyond this a number is no longer what was written.
        let same = read.value.fract() == 0.0 && read.value < 1e15;
        return Err(if same { error.with_help(format!("write {}", read.value)) } else { error });
    }
    let behind = rest_at(&cursor);
    if !behind.rest.is_empty() {
        let found = refusal::head(behind.rest);
        let at = behind.at()..behind.at() + found.len();
        if super::find_unit(found).is_some() && found != "min" {
            return Err(LiteralError::new(refusal::WRONG_UNIT, at, format!("a count has no unit; `{found}` is found"))
                .with_help("write 2"));
        }
        return Err(whole_expected(at, found));
    }
    Ok(Reading { quantity: Quantity::point(read.value), system: System::Neutral, remarks: Vec::new() })
}
