//! The number before a unit in the text of a submittal: `24`, `2 1/4`, `2-1/4`, `66.5`, `3,000`.

use std::ops::Range;

use super::refusal::{fraction_value, vulgar_fraction};
use super::token::{Cursor, Fraction, blanks, decimal, fraction, grouped, is_hyphen, is_vulgar_fraction, number_of};
use super::{LiteralError, QuantityKind};

/// A number as written.
#[derive(Debug, Clone)]
pub(super) struct Amount<'a> {
    pub(super) text: &'a str,
    pub(super) at: Range<usize>,
    pub(super) value: f64,
    /// Digits without point or fraction.
    pub(super) whole: bool,
    /// The fraction where it can be reduced, and where it stands.
    pub(super) unreduced: Option<(Fraction<'a>, usize)>,
}

/// Reads a number; the cursor stands on a digit, or on a point with a digit behind.
pub(super) fn amount<'a>(cursor: &mut Cursor<'a>, kind: QuantityKind) -> Result<Amount<'a>, LiteralError> {
    let start = cursor.at();
    if let Some(read) = cursor.take(fraction) {
        return finished(cursor, start, 0.0, Some((read, start)));
    }
    if let Some(written) = cursor.take(grouped) {
        let value = ungrouped(written, kind, start)?;
        return finished(cursor, start, value, None).map(|amount| Amount { whole: !written.contains('.'), ..amount });
    }
    let Some(number) = cursor.take(decimal) else {
        return Err(LiteralError::unreadable(start..start, "a number is expected"));
    };
    if !number.value.is_finite() {
        return Err(LiteralError::unreadable(
            start..cursor.at(),
            "this number is larger than any that can be measured",
        ));
    }
    if let Some((read, at)) = fraction_behind(cursor) {
        if !number.whole {
            return Err(LiteralError::unreadable(
                start..cursor.at(),
                format!("`{}` has a decimal point and a fraction: write one of them", cursor.since(start)),
            )
            .with_help("write 6.5 in or 6 1/2 in"));
        }
        return finished(cursor, start, number.value, Some((read, at)));
    }
    finished(cursor, start, number.value, None).map(|amount| Amount { whole: number.whole, ..amount })
}

/// The fraction of a mixed number, behind blanks or a tight hyphen.
fn fraction_behind<'a>(cursor: &mut Cursor<'a>) -> Option<(Fraction<'a>, usize)> {
    let mut ahead = *cursor;
    if ahead.skip_blanks() == 0 {
        ahead.rest = ahead.rest.strip_prefix('-')?;
    }
    let at = ahead.at();
    let read = ahead.take(fraction)?;
    *cursor = ahead;
    Some((read, at))
}

fn finished<'a>(
    cursor: &Cursor<'a>,
    start: usize,
    whole: f64,
    written: Option<(Fraction<'a>, usize)>,
) -> Result<Amount<'a>, LiteralError> {
    let mut value = whole;
    let mut unreduced = None;
    if let Some((fraction, at)) = written {
        value += fraction_value(fraction, at)?;
        // Denominators are powers of two: an even numerator can be halved.
        if matches!(fraction.top.as_bytes().last(), Some(b'0' | b'2' | b'4' | b'6' | b'8')) {
            unreduced = Some((fraction, at));
        }
    }
    let end = cursor.at();
    match cursor.peek() {
        Some('.') => {
            let help = format!("write {}, or digits behind the point", cursor.since(start));
            Err(LiteralError::unreadable(end..end + 1, "digits are expected behind the point").with_help(help))
        }
        Some('/') if cursor.peek_second().is_some_and(|c| c.is_ascii_digit()) => {
            let digits = 1 + cursor.rest[1..].bytes().take_while(u8::is_ascii_digit).count();
            Err(LiteralError::unreadable(
                end..end + digits,
                format!("`{}` is a second fraction: a number has one", &cursor.rest[..digits]),
            )
            .with_help("write 6 1/2 in"))
        }
        Some(c) if is_vulgar_fraction(c) => Err(vulgar_fraction(c, end)),
        _ => Ok(Amount { text: cursor.since(start), at: start..end, value, whole: false, unreduced }),
    }
}

/// The value of a number with commas in threes; a length has none.
fn ungrouped(written: &str, kind: QuantityKind, start: usize) -> Result<f64, LiteralError> {
    let at = start..start + written.len();
    if kind == QuantityKind::Length {
        return Err(LiteralError::unreadable(
            at,
            format!("a comma in a length can be a thousand or a decimal: `{written}` is refused"),
        )
        .with_help(without_commas(written)));
    }
    let (integer, decimals) = written.split_once('.').unwrap_or((written, "0"));
    let mut groups = integer.split(',');
    let first = groups.next().map_or(0, str::len);
    let in_threes = (1..=3).contains(&first) && groups.all(|group| group.len() == 3);
    let plain_decimals = !decimals.is_empty() && decimals.bytes().all(|b| b.is_ascii_digit());
    if !in_threes || !plain_decimals {
        return Err(LiteralError::unreadable(at, format!("commas group digits in threes; `{written}` is found"))
            .with_help("write 3,000 or 3000; a decimal has a point"));
    }
    let value = number_of(&written.replace(',', ""));
    if value.is_finite() {
        Ok(value)
    } else {
        Err(LiteralError::unreadable(at, "this number is larger than any that can be measured"))
    }
}

/// What to write for a length with commas: `1,200` can be either, `7,3` only a decimal.
fn without_commas(written: &str) -> String {
    let decimal = written.replacen(',', ".", 1);
    let behind = written.rsplit(',').next().unwrap_or_default();
    match (written.matches(',').count(), behind.len(), written.contains('.')) {
        (1, 3, false) if !written.starts_with('0') => format!("write {} or {decimal}", written.replace(',', "")),
        (1, _, false) => format!("write {decimal}: a decimal has a point"),
        _ => format!("write {} without commas", written.replace(',', "")),
    }
}

/// The number at the cursor with a tight hyphen and another number behind it: `5-6`, which can be feet and inches or
/// a range. The cursor moves behind it.
pub(super) fn hyphenated<'a>(cursor: &mut Cursor<'a>, first: &Amount<'a>) -> Option<(&'a str, Range<usize>)> {
    let mut ahead = *cursor;
    let hyphen = ahead.peek().filter(|c| is_hyphen(*c))?;
    ahead.rest = &ahead.rest[hyphen.len_utf8()..];
    ahead.take(decimal)?;
    *cursor = ahead;
    cursor.take(blanks)?;
    let at = first.at.start..ahead.at();
    Some((&ahead.text[at.clone()], at))
}
