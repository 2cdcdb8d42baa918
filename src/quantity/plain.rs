//! The short way through the text that most measured values are: a decimal, a blank and a unit, as in `840 lb`.
//!
//! `literal` tries it first. It takes no text that the grammar reads differently; a property test holds it to that.

use super::token::number_of;
use super::{Quantity, QuantityKind, Reading, find_unit};

/// Digits that are read without looking whether the number is still one that can be measured.
const MOST_DIGITS: usize = 15;

/// Reads a decimal with its unit; `None` leaves the text to the grammar.
pub(super) fn plain(kind: QuantityKind, text: &str) -> Option<Reading> {
    // A slope is a rise over a run, and its units are those of both.
    if matches!(kind, QuantityKind::Slope | QuantityKind::Count) {
        return None;
    }
    let blank = text.bytes().position(|byte| !(byte.is_ascii_digit() || byte == b'.'))?;
    let (number, unit) = (&text[..blank], text[blank..].strip_prefix(' ')?);
    let digits = number.as_bytes();
    let points = digits.iter().filter(|byte| **byte == b'.').count();
    let ends_in_digits = digits.first().zip(digits.last()).is_some_and(|(first, last)| *first != b'.' && *last != b'.');
    if number.len() > MOST_DIGITS || points > 1 || !ends_in_digits {
        return None;
    }
    let unit = find_unit(unit).filter(|unit| unit.measures(kind))?;
    let quantity = Quantity::point(number_of(number) * unit.factor);
    Some(Reading { quantity, system: unit.system, remarks: Vec::new() })
}
