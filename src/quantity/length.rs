//! Feet and inches in the text of a submittal: what stands behind the feet.
//!
//! A hyphen counts as a separator only where it touches both numbers. In a rule ` - ` subtracts, so that one text would
//! have two values if a submittal took it for a separator.

use super::amount::{Amount, amount};
use super::measure::unit_behind;
use super::refusal::{self, spaced_hyphen};
use super::token::{Cursor, Fraction, is_blank, is_hyphen};
use super::unit_table::INCH;
use super::{LiteralError, QuantityKind, System};

/// The inches of feet and inches.
pub(super) struct Inches<'a> {
    /// In metres.
    pub(super) value: f64,
    /// A fraction that can be reduced.
    pub(super) unreduced: Option<(Fraction<'a>, usize)>,
}

/// Reads inches behind feet, if there are any: the cursor stands behind the foot mark or unit.
pub(super) fn inches_behind<'a>(
    cursor: &mut Cursor<'a>,
    feet: &Amount<'a>,
) -> Result<Option<Inches<'a>>, LiteralError> {
    let mut ahead = *cursor;
    let gap = ahead.skip_blanks();
    match ahead.peek() {
        Some(hyphen) if is_hyphen(hyphen) => {
            let start = ahead.at();
            let run = ahead.rest.trim_start_matches(|c| is_hyphen(c) || is_blank(c));
            if gap > 0 || ahead.peek_second().is_none_or(is_blank) {
                let end = start + ahead.rest[..ahead.rest.len() - run.len()].trim_end_matches(is_blank).len();
                return Err(spaced_hyphen(start..end));
            }
            let at = start..start + hyphen.len_utf8();
            if hyphen != '-' {
                return Err(LiteralError::unreadable(at, format!("a plain hyphen is expected, `{hyphen}` is found"))
                    .with_help("write 5'-6\" or 5 ft 6 in"));
            }
            if ahead.peek_second().is_none_or(|c| !c.is_ascii_digit()) {
                return Err(LiteralError::unreadable(at, "inches are expected behind the hyphen")
                    .with_help("write 5'-6\", or 5' without the hyphen"));
            }
            ahead.rest = &ahead.rest[1..];
        }
        Some(digit) if digit.is_ascii_digit() => {}
        _ => return Ok(None),
    }
    let inches = amount(&mut ahead, QuantityKind::Length)?;
    let unit_from = ahead.at();
    let Some(unit) = unit_behind(&mut ahead, QuantityKind::Length, &inches)? else {
        return Err(no_mark(feet, &inches));
    };
    let mark = unit_from + (ahead.since(unit_from).len() - ahead.since(unit_from).trim_start_matches(is_blank).len());
    if unit.system == System::Metric {
        return Err(mixed_systems(inches.at.start..ahead.at()));
    }
    if unit.name == "ft" {
        return Err(LiteralError::unreadable(mark..ahead.at(), "inches are expected here, feet are found again")
            .with_help("write 5 ft 6 in"));
    }
    if !feet.whole {
        return Err(LiteralError::unreadable(
            feet.at.clone(),
            format!("feet before inches are a whole number; `{}` is found", feet.text),
        )
        .with_help("write 5.5 ft or 5 ft 6 in"));
    }
    if inches.value >= 12.0 {
        return Err(LiteralError::unreadable(
            inches.at.clone(),
            format!("inches behind feet stay below 12; `{}` is found", inches.text),
        )
        .with_help(carried_over(feet, &inches)));
    }
    *cursor = ahead;
    Ok(Some(Inches { value: inches.value * INCH, unreduced: inches.unreduced }))
}

/// How to write inches of a foot and more: `6 ft 2 in` for 14 in behind 5 ft.
fn carried_over(feet: &Amount<'_>, inches: &Amount<'_>) -> String {
    if !inches.whole {
        return "carry 12 in over to the feet".to_owned();
    }
    let (over, rest) = ((inches.value / 12.0).floor(), inches.value % 12.0);
    format!("write {} ft {rest} in, if `{}` is what is meant", feet.value + over, inches.text)
}

/// `5'6`: is the 6 inches, or the decimals of feet?
fn no_mark(feet: &Amount<'_>, inches: &Amount<'_>) -> LiteralError {
    let (feet, text) = (feet.text, inches.text);
    LiteralError::new(
        refusal::MISSING_UNIT,
        inches.at.clone(),
        format!("`{text}` has no mark: write {feet} ft {text} in"),
    )
    .with_help("a number behind feet is inches only with its mark or unit")
}

/// `5 m 6 in`.
pub(super) fn mixed_systems(at: std::ops::Range<usize>) -> LiteralError {
    LiteralError::unreadable(at, "one value mixes metric and US units")
        .with_help("write it in one system, 5 ft 6 in or 1.676 m")
}
