//! The text of a measured value in a submittal.
//!
//! `A`, `A to B`, `A +/- t`, `A max`, `A min`, where A and B are numbers with their units. A bare number where a unit
//! is needed is refused, never guessed at; so is every text that two readers could read differently. The reader of
//! submittals calls `read` for every measured field, so good text is read without building any message.

use std::ops::Range;

use super::amount::amount;
use super::arithmetic::TOLERANCE;
use super::length::mixed_systems;
use super::measure::{Measure, measure, number_begins, unit_behind};
use super::plain::plain;
use super::refusal::{self, head, no_unit, spaced_hyphen};
use super::token::{
    Cursor, Token, fraction, is_blank, is_foot_mark, is_hyphen, is_inch_mark, is_vulgar_fraction, keyword,
    tolerance_sign, word,
};
use super::{Quantity, QuantityKind, System, count};

/// What a text was read as.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The value.
    pub quantity: Quantity,
    /// The system its author writes in.
    pub system: System,
    /// Remarks on text that was read all the same (an unreduced fraction), each with its place in the text.
    pub remarks: Vec<LiteralError>,
}

/// Why a text is not a value of its kind.
#[derive(Debug, Clone, PartialEq)]
pub struct LiteralError {
    /// Stable kebab-case name, `missing-unit`.
    pub code: &'static str,
    /// The offending bytes of the text.
    pub at: Range<usize>,
    /// What is wrong, expected first, found second.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
}

/// Reads the text of a field of a kind.
pub fn read(kind: QuantityKind, text: &str) -> Result<Reading, LiteralError> {
    match plain(kind, text) {
        Some(reading) => Ok(reading),
        None => read_by_grammar(kind, text).map_err(|error| invisible(text).unwrap_or(error)),
    }
}

/// A character that nobody sees, copied in from another program, is the likely reason why a text is not read.
fn invisible(text: &str) -> Option<LiteralError> {
    let is_invisible = |c: char| matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}');
    let (at, found) = text.char_indices().find(|(_, c)| is_invisible(*c))?;
    let message = format!("an invisible character (U+{:04X}) stands in the value", u32::from(found));
    let kept: String = text.chars().filter(|c| !is_invisible(*c)).collect();
    let error = LiteralError::unreadable(at..at + found.len_utf8(), message);
    Some(error.with_help(format!("delete it; without it the text is `{kept}`")))
}

/// The same without the short way through plain text.
pub(super) fn read_by_grammar(kind: QuantityKind, text: &str) -> Result<Reading, LiteralError> {
    let mut cursor = Cursor::new(text);
    cursor.skip_blanks();
    if kind == QuantityKind::Count {
        return count::read(cursor);
    }
    let before = cursor.take(bound);
    if before.is_some() {
        cursor.skip_blanks();
    }
    let mut first = measure(&mut cursor, kind)?;
    let measure_end = cursor;
    cursor.skip_blanks();
    let mut second = None;
    let quantity = if let Some(bound) = before {
        bound.of(needs_unit(kind, &first)?)
    } else if cursor.take(tolerance_sign).is_some() {
        let mut tolerance = behind(&mut cursor, kind, "a tolerance")?;
        share_unit(kind, &mut first, &mut tolerance)?;
        let quantity = with_tolerance(&first, &tolerance)?;
        second = Some(tolerance);
        quantity
    } else if cursor.take(keyword("to")).is_some() {
        let mut upper = behind(&mut cursor, kind, "the upper end of the range")?;
        share_unit(kind, &mut first, &mut upper)?;
        let quantity = range(text, &first, &upper)?;
        second = Some(upper);
        quantity
    } else {
        match cursor.take(bound) {
            Some(bound) => bound.of(needs_unit(kind, &first)?),
            None => {
                cursor = measure_end;
                Quantity::point(needs_unit(kind, &first)?)
            }
        }
    };
    let last = second.as_ref().unwrap_or(&first);
    nothing_behind(cursor, kind, last)?;
    for end in [Some(&first), second.as_ref()].into_iter().flatten() {
        if !end.value.is_finite() {
            return Err(LiteralError::unreadable(end.at.clone(), "this value is larger than any that can be measured"));
        }
    }
    let system = first.unit.or(last.unit).map_or(System::Neutral, |unit| unit.system);
    let remarks = if first.unreduced.is_none() && last.unreduced.is_none() {
        Vec::new()
    } else {
        [Some(&first), second.as_ref()].into_iter().flatten().filter_map(unreduced).collect()
    };
    Ok(Reading { quantity, system, remarks })
}

/// A bound that one end is declared by.
#[derive(Debug, Clone, Copy)]
enum Bound {
    AtMost,
    AtLeast,
}

impl Bound {
    fn of(self, value: f64) -> Quantity {
        match self {
            Bound::AtMost => Quantity::at_most(value),
            Bound::AtLeast => Quantity::at_least(value),
        }
    }
}

/// `max`, `min` and their longer forms.
fn bound(input: &str) -> Token<'_, Bound> {
    let (rest, written) = word(input)?;
    let bound = match written {
        "max" | "maximum" | "MAX" => Bound::AtMost,
        "min" | "minimum" | "MIN" => Bound::AtLeast,
        _ => return Err(nom::Err::Error(super::token::Miss)),
    };
    Ok((rest.strip_prefix('.').unwrap_or(rest), bound))
}

/// The measure behind `to` or `+/-`.
fn behind<'a>(cursor: &mut Cursor<'a>, kind: QuantityKind, what: &str) -> Result<Measure<'a>, LiteralError> {
    cursor.skip_blanks();
    if cursor.rest.is_empty() {
        let at = refusal::last_word(cursor.text);
        let sign = &cursor.text[at.clone()];
        return Err(LiteralError::unreadable(at.clone(), format!("{what} is expected, the text ends here"))
            .with_help(format!("write it behind `{sign}`, or leave `{sign}` out")));
    }
    measure(cursor, kind)
}

/// A unit may stand only at the end: `110 to 120 mph`.
fn share_unit(kind: QuantityKind, first: &mut Measure<'_>, second: &mut Measure<'_>) -> Result<(), LiteralError> {
    match (first.unit, second.unit) {
        (None, Some(unit)) if !second.joined => {
            // 0.3 to 40 %: a ratio is written both ways, and a small number can be either.
            if kind == QuantityKind::Ratio && first.value <= 1.0 {
                return Err(LiteralError::new(
                    refusal::MISSING_UNIT,
                    first.at.clone(),
                    format!("`{}` can be a ratio or a percentage: write % behind both numbers", first.amount.text),
                )
                .with_help("write 30 % to 40 %, or 0.3 to 0.4"));
            }
            first.value = first.amount.value * unit.factor;
            first.unit = Some(unit);
            Ok(())
        }
        (None, Some(_)) => Err(no_unit(kind, first.amount.text, first.amount.at.clone())),
        (Some(_), None) => Err(no_unit(kind, second.amount.text, second.amount.at.clone())),
        (None, None) => needs_unit(kind, second).map(drop),
        (Some(_), Some(_)) => Ok(()),
    }
}

/// The value of a measure, once it has the unit that its kind needs.
fn needs_unit(kind: QuantityKind, measure: &Measure<'_>) -> Result<f64, LiteralError> {
    if measure.unit.is_some() {
        return Ok(measure.value);
    }
    if kind != QuantityKind::Ratio {
        return Err(no_unit(kind, measure.amount.text, measure.amount.at.clone()));
    }
    if measure.amount.text.contains('/') {
        let text = measure.amount.text;
        return Err(LiteralError::unreadable(
            measure.amount.at.clone(),
            format!("a ratio is a decimal or a percentage; `{text}` is found"),
        )
        .with_help(format!("write {} or {} %", measure.value, measure.value * 100.0)));
    }
    Ok(measure.value)
}

fn with_tolerance(nominal: &Measure<'_>, tolerance: &Measure<'_>) -> Result<Quantity, LiteralError> {
    let (lo, hi) = (nominal.value - tolerance.value, nominal.value + tolerance.value);
    let noise = TOLERANCE * nominal.value;
    if lo < -noise {
        return Err(LiteralError::new(
            refusal::SIGNED,
            tolerance.at.clone(),
            "the tolerance reaches below zero, and no value carries a sign",
        )
        .with_help("write a tolerance that is no larger than the value"));
    }
    Ok(Quantity::range(lo.max(0.0), hi))
}

fn range(text: &str, lower: &Measure<'_>, upper: &Measure<'_>) -> Result<Quantity, LiteralError> {
    if upper.value < lower.value {
        let at = lower.at.start..upper.at.end;
        let (a, b) = (&text[lower.at.clone()], &text[upper.at.clone()]);
        return Err(LiteralError::new(refusal::NOT_A_RANGE, at, format!("a range rises: `{a}` is more than `{b}`"))
            .with_help("write the smaller value first"));
    }
    Ok(Quantity::range(lower.value, upper.value))
}

fn unreduced(measure: &Measure<'_>) -> Option<LiteralError> {
    let (fraction, at) = measure.unreduced?;
    let (top, bottom) = (fraction.top.parse::<u32>().ok()?, fraction.bottom.parse::<u32>().ok()?);
    let shift = top.trailing_zeros().min(bottom.trailing_zeros());
    let end = at + fraction.top.len() + 1 + fraction.bottom.len();
    Some(
        LiteralError::new(
            refusal::UNREDUCED,
            at..end,
            format!("{top}/{bottom} is not reduced: it was read as {}/{}", top >> shift, bottom >> shift),
        )
        .with_help("check that no digit is missing"),
    )
}

/// Refuses anything behind a complete value.
fn nothing_behind(mut cursor: Cursor<'_>, kind: QuantityKind, last: &Measure<'_>) -> Result<(), LiteralError> {
    let gap = cursor.skip_blanks();
    let start = cursor.at();
    let Some(first) = cursor.peek() else {
        return Ok(());
    };
    let at = start..start + first.len_utf8();
    if is_hyphen(first) {
        if gap > 0 || cursor.peek_second().is_none_or(is_blank) {
            return Err(spaced_hyphen(at));
        }
        return Err(LiteralError::unreadable(at, format!("`{first}` here can mean a range or a minus"))
            .with_help("write `to` for a range"));
    }
    if is_vulgar_fraction(first) {
        return Err(refusal::vulgar_fraction(first, start));
    }
    if is_foot_mark(first) || is_inch_mark(first) {
        return Err(LiteralError::unreadable(
            at,
            format!("the value has its unit already; a second mark `{first}` is found"),
        )
        .with_help("leave one mark, ' for feet or \" for inches"));
    }
    if first == '+' {
        return Err(LiteralError::unreadable(at, "a tolerance is written +/- with one value for both directions")
            .with_help("write 4 in +/- 1/2 in, or a range"));
    }
    if number_begins(&cursor) {
        return Err(number_behind(cursor, kind, last));
    }
    let written = head(cursor.rest);
    Err(LiteralError::unreadable(
        start..start + written.len(),
        format!("nothing is expected behind the value; `{written}` is found"),
    )
    .with_help(format!("write only the value, as in {}", refusal::example(kind))))
}

/// Why a number stands behind a complete value.
fn number_behind(mut cursor: Cursor<'_>, kind: QuantityKind, last: &Measure<'_>) -> LiteralError {
    let start = cursor.at();
    let is_fraction = fraction(cursor.rest).is_ok();
    let read = match amount(&mut cursor, kind) {
        Ok(read) => read,
        Err(error) => return error,
    };
    let at = read.at.clone();
    let unit = unit_behind(&mut cursor, kind, &read).ok().flatten();
    let other = |unit: &super::Unit| last.unit.is_some_and(|known| known.system != unit.system);
    if unit.is_some_and(other) {
        return mixed_systems(start..cursor.at());
    }
    let text = read.text;
    if is_fraction && last.unit.is_some_and(|known| known.name == "in" || known.name == "ft" && last.joined) {
        return LiteralError::unreadable(
            at,
            format!("a fraction stands before the inch mark; `{text}` is found behind it"),
        )
        .with_help("write 5'-6 1/2\"");
    }
    let place = if last.unit.is_some() { "behind the unit" } else { "behind the number" };
    LiteralError::unreadable(at, format!("one number is expected; a second one, `{text}`, is found {place}"))
        .with_help(format!("write only one, as in {}", refusal::example(kind)))
}
