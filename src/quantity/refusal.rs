//! Why a text is no value, in words: every message that more than one part of the literal readers gives.

use std::ops::Range;

use super::token::{Fraction, is_blank, is_vulgar_fraction};
use super::{Dimension, LiteralError, QuantityKind, Unit, find_unit, units_of};

/// The value is malformed or can be read in two ways.
pub(super) const UNREADABLE: &str = "unreadable-value";
/// No unit stands behind a number that needs one.
pub(super) const MISSING_UNIT: &str = "missing-unit";
/// The unit measures something else.
pub(super) const WRONG_UNIT: &str = "wrong-unit";
/// Nothing is known by that name.
pub(super) const UNKNOWN_UNIT: &str = "unknown-unit";
/// A sign stands before the value.
pub(super) const SIGNED: &str = "signed-value";
/// The ends of a range are the wrong way round.
pub(super) const NOT_A_RANGE: &str = "not-a-range";
/// A fraction was read that can be reduced.
pub(super) const UNREDUCED: &str = "unreduced-fraction";

impl LiteralError {
    pub(super) fn new(code: &'static str, at: Range<usize>, message: impl Into<String>) -> Self {
        LiteralError { code, at, message: message.into(), help: None }
    }

    pub(super) fn unreadable(at: Range<usize>, message: impl Into<String>) -> Self {
        LiteralError::new(UNREADABLE, at, message)
    }

    pub(super) fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// A value of the kind, as messages show one.
pub(super) fn example(kind: QuantityKind) -> &'static str {
    match kind {
        QuantityKind::Length => "24 ft",
        QuantityKind::Area => "2.5 in2",
        QuantityKind::Weight => "800 lb",
        QuantityKind::Force => "50 lb",
        QuantityKind::Pressure => "20 psf",
        QuantityKind::LineLoad => "25 lb/ft",
        QuantityKind::SoilGradient => "150 psf/ft",
        QuantityKind::Speed => "1 ft/s or 115 mph",
        QuantityKind::Acceleration => "2 ft/s2",
        QuantityKind::Time => "2 s",
        QuantityKind::Angle => "5 deg",
        QuantityKind::Ratio => "40 %",
        QuantityKind::Slope => "2 %",
        QuantityKind::Count => "2",
        QuantityKind::Moment => "900 lb-ft",
        QuantityKind::Volume => "3.9 in3",
        QuantityKind::Inertia => "7.8 in4",
    }
}

/// `a length`, `an area`.
pub(super) fn a_kind(kind: QuantityKind) -> String {
    let name = kind.name();
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// The units that a kind takes: `a length takes ft, in, mm, cm or m`.
pub(super) fn takes(kind: QuantityKind) -> String {
    match (kind, units_of(kind)) {
        (QuantityKind::Ratio, _) => "a ratio is written 40 % or 0.4".to_owned(),
        (QuantityKind::Slope, _) => "a slope is written 2 %, 1:50 or 1/4 in per ft".to_owned(),
        (_, []) => format!("{} has no unit", a_kind(kind)),
        (_, [only]) => format!("{} takes {only}", a_kind(kind)),
        (_, [first @ .., last]) => format!("{} takes {} or {last}", a_kind(kind), first.join(", ")),
    }
}

/// A number that needs a unit has none: `24 has no unit: write 24 ft or 24 in`.
pub(super) fn no_unit(kind: QuantityKind, number: &str, at: Range<usize>) -> LiteralError {
    let message = match (kind, units_of(kind)) {
        (QuantityKind::Slope, _) => {
            let unit = if number.contains('/') { "in per ft" } else { "%" };
            format!("`{number}` has no unit: write {number} {unit}")
        }
        // A fraction is of inches: nobody means 1 1/2 feet by 1 1/2.
        (QuantityKind::Length, _) if number.contains('/') => {
            format!("`{number}` has no unit: write {number} in")
        }
        (_, [first, second, ..]) => {
            format!("`{number}` has no unit: write {number} {first} or {number} {second}")
        }
        (_, [only]) => format!("`{number}` has no unit: write {number} {only}"),
        _ => format!("`{number}` has no unit"),
    };
    LiteralError::new(MISSING_UNIT, at, message).with_help(takes(kind))
}

/// A unit of another kind: `a length is expected, lb is a weight`.
pub(super) fn wrong_unit(kind: QuantityKind, unit: &Unit, written: &str, at: Range<usize>) -> LiteralError {
    let message = if kind == QuantityKind::Force && unit.dimension == Dimension::FORCE {
        format!("a force is expected, `{written}` is a mass: state the force in lb or N")
    } else {
        format!("{} is expected, `{written}` is {}", a_kind(kind), what_it_measures(unit))
    };
    LiteralError::new(WRONG_UNIT, at, message).with_help(takes(kind))
}

fn what_it_measures(unit: &Unit) -> String {
    if unit.dimension == Dimension::FORCE {
        "a weight".to_owned()
    } else if unit.dimension.is_none() {
        "a ratio".to_owned()
    } else {
        unit.dimension.to_string()
    }
}

/// No unit of that name.
pub(super) fn unknown_unit(kind: QuantityKind, written: &str, at: Range<usize>) -> LiteralError {
    let message = match nearest(kind, written) {
        Some(near) => format!("{} is expected, `{written}` is no unit: did you mean `{near}`?", a_kind(kind)),
        None => format!("{} is expected, `{written}` is no unit", a_kind(kind)),
    };
    LiteralError::new(UNKNOWN_UNIT, at, message).with_help(takes(kind))
}

/// The spelling of a unit of the kind that comes nearest, if any comes near.
fn nearest(kind: QuantityKind, written: &str) -> Option<&'static str> {
    const MOST_LETTERS_OFF: usize = 3;
    let spellings = units_of(kind)
        .iter()
        .filter_map(|name| find_unit(name))
        .filter(|unit| unit.measures(kind))
        .flat_map(|unit| std::iter::once(&unit.name).chain(unit.aliases));
    // Known units in a combination that is not known, `lb/in`, are no misspelling: another unit is another value.
    let combined =
        written.split_once('/').and_then(|(over, under)| Some(find_unit(over)?.factor / find_unit(under)?.factor));
    let is_same_value = |spelling: &str| {
        combined.is_none_or(|value| find_unit(spelling).is_some_and(|unit| (unit.factor / value - 1.0).abs() < 1e-9))
    };
    let folded = written.to_lowercase();
    spellings
        .filter(|spelling| is_same_value(spelling))
        .map(|spelling| {
            let likeness = strsim::jaro_winkler(&spelling.to_lowercase(), &folded);
            (likeness, *spelling)
        })
        // Two words that begin alike are not one misspelt: `mile` is no `millimeter`.
        .filter(|(likeness, spelling)| *likeness > 0.8 && spelling.len().abs_diff(written.len()) <= MOST_LETTERS_OFF)
        .fold(None, |best: Option<(f64, &'static str)>, candidate| match best {
            Some(best) if best.0 >= candidate.0 => Some(best),
            _ => Some(candidate),
        })
        .map(|(_, spelling)| spelling)
}

/// A hyphen with a blank beside it: a separator to one reader, a minus to the next, a range to a third.
pub(super) fn spaced_hyphen(at: Range<usize>) -> LiteralError {
    LiteralError::unreadable(at, "a hyphen beside a blank can mean a separator, a minus or a range")
        .with_help("write 6 ft 2 in, or `to` for a range")
}

/// The value of a fraction, once it is one that dimensions are written in: between 0 and 1, over a power of two up to
/// 64. `start` is where its first digit stands.
pub(super) fn fraction_value(fraction: Fraction<'_>, start: usize) -> Result<f64, LiteralError> {
    let Fraction { top, bottom } = fraction;
    let bottom_at = start + top.len() + 1;
    let number = |digits: &str| digits.parse::<u32>().unwrap_or(u32::MAX);
    let (above, below) = (number(top), number(bottom));
    if !matches!(below, 2 | 4 | 8 | 16 | 32 | 64) {
        return Err(LiteralError::unreadable(
            bottom_at..bottom_at + bottom.len(),
            format!("a denominator is 2, 4, 8, 16, 32 or 64; `{bottom}` is found"),
        )
        .with_help("write other fractions as a decimal"));
    }
    if above == 0 || above >= below {
        return Err(LiteralError::unreadable(
            start..bottom_at + bottom.len(),
            format!("a fraction lies between 0 and 1; `{top}/{bottom}` is found"),
        )
        .with_help("write a whole number and a fraction, as in 2 3/4 in"));
    }
    Ok(f64::from(above) / f64::from(below))
}

/// `1/2` for `½`.
pub(super) fn vulgar_fraction(c: char, at: usize) -> LiteralError {
    debug_assert!(is_vulgar_fraction(c));
    LiteralError::unreadable(at..at + c.len_utf8(), format!("`{c}` is one character: write the fraction as 1/2"))
}

/// `''` stands for feet twice or for inches.
pub(super) fn doubled_mark(at: Range<usize>) -> LiteralError {
    LiteralError::unreadable(at, "two foot marks can mean feet or inches: write ft or in")
}

/// The last word of a text, for a text that ends too early.
pub(super) fn last_word(text: &str) -> Range<usize> {
    let end = text.trim_end_matches(is_blank).len();
    let start = text[..end].char_indices().rfind(|(_, c)| is_blank(*c)).map_or(0, |(at, blank)| at + blank.len_utf8());
    start..end
}

/// The first word, number or character of a text, as messages quote it.
pub(super) fn head(text: &str) -> &str {
    let is_part = |c: char| c.is_alphanumeric() || matches!(c, '_' | '/' | '.');
    let end = match text.chars().next() {
        Some(c) if is_part(c) => text.find(|c| !is_part(c)).unwrap_or(text.len()),
        Some(c) => c.len_utf8(),
        None => 0,
    };
    let longest = text.char_indices().nth(24).map_or(text.len(), |(at, _)| at);
    &text[..end.min(longest)]
}
