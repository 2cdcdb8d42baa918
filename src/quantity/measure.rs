//! One number with its unit in the text of a submittal, before tolerance, bound or range: `24 ft`, `5'-6 1/2"`,
//! `150 psf/ft`, `1:50`.

use std::ops::Range;

use super::amount::{Amount, amount, hyphenated};
use super::length::inches_behind;
use super::refusal::{self, doubled_mark, head, no_unit, unknown_unit, wrong_unit};
use super::token::{
    Cursor, Fraction, decimal, doubled_foot_mark, is_blank, is_foot_mark, is_hyphen, is_inch_mark, is_vulgar_fraction,
    keyword, unit_spelling, word,
};
use super::{Dimension, LiteralError, QuantityKind, Unit, find_unit};

/// A number with its unit.
#[derive(Debug, Clone)]
pub(super) struct Measure<'a> {
    /// The number before the unit.
    pub(super) amount: Amount<'a>,
    /// The unit, where one stands there.
    pub(super) unit: Option<&'static Unit>,
    /// SI value; of the bare number where no unit stands there.
    pub(super) value: f64,
    /// Where it all stands.
    pub(super) at: Range<usize>,
    /// Several numbers make the value (feet and inches, `1:50`): no unit at its end serves another number.
    pub(super) joined: bool,
    /// A fraction that can be reduced.
    pub(super) unreduced: Option<(Fraction<'a>, usize)>,
}

/// Reads a measure at the cursor.
pub(super) fn measure<'a>(cursor: &mut Cursor<'a>, kind: QuantityKind) -> Result<Measure<'a>, LiteralError> {
    let start = cursor.at();
    if !number_begins(cursor) {
        return Err(no_number(cursor, kind));
    }
    let amount = amount(cursor, kind)?;
    if cursor.peek().is_some_and(is_hyphen)
        && let Some((written, at)) = hyphenated(cursor, &amount)
    {
        return Err(two_numbers(cursor, kind, written, at));
    }
    if kind == QuantityKind::Slope {
        return slope(cursor, amount);
    }
    let unit = unit_behind(cursor, kind, &amount)?;
    if unit.is_none()
        && amount.whole
        && let Some(error) = grouped_by_blanks(*cursor, &amount)
    {
        return Err(error);
    }
    let mut read = Measure {
        value: unit.map_or(amount.value, |unit| amount.value * unit.factor),
        at: start..cursor.at(),
        unreduced: amount.unreduced,
        joined: false,
        unit,
        amount,
    };
    if kind == QuantityKind::Length
        && unit.is_some_and(|unit| unit.name == "ft")
        && let Some(inches) = inches_behind(cursor, &read.amount)?
    {
        read.value += inches.value;
        read.unreduced = inches.unreduced;
        read.joined = true;
        read.at.end = cursor.at();
    }
    Ok(read)
}

/// Whether a digit, or a point with a digit behind it, stands at the cursor.
pub(super) fn number_begins(cursor: &Cursor<'_>) -> bool {
    match cursor.peek() {
        Some('.') => cursor.peek_second().is_some_and(|c| c.is_ascii_digit()),
        Some(c) => c.is_ascii_digit(),
        None => false,
    }
}

/// Reads the unit behind a number, if there is one; words with a meaning of their own are none.
pub(super) fn unit_behind(
    cursor: &mut Cursor<'_>,
    kind: QuantityKind,
    amount: &Amount<'_>,
) -> Result<Option<&'static Unit>, LiteralError> {
    let mut ahead = *cursor;
    ahead.skip_blanks();
    let start = ahead.at();
    let Some(first) = ahead.peek() else {
        return Ok(None);
    };
    let found = if is_foot_mark(first) {
        if ahead.take(doubled_foot_mark).is_some() {
            return Err(doubled_mark(start..ahead.at()));
        }
        ahead.rest = &ahead.rest[first.len_utf8()..];
        find_unit("ft")
    } else if is_inch_mark(first) {
        ahead.rest = &ahead.rest[first.len_utf8()..];
        find_unit("in")
    } else if matches!(first, '%' | '°') {
        ahead.rest = &ahead.rest[first.len_utf8()..];
        find_unit(ahead.since(start))
    } else if is_vulgar_fraction(first) {
        return Err(refusal::vulgar_fraction(first, start));
    } else if first == '×' {
        return Err(crossed(ahead, kind, amount));
    } else {
        let written = if kind == QuantityKind::Slope { ahead.take(word) } else { ahead.take(unit_spelling) };
        let Some(written) = written else {
            return Ok(None);
        };
        if matches!(written, "to" | "max" | "maximum" | "minimum" | "per")
            || (written == "min" && kind != QuantityKind::Time)
        {
            return Ok(None);
        }
        spelled(&mut ahead, start).or_else(|| glued_feet(&mut ahead, start, kind))
    };
    let Some(unit) = found else {
        let written = ahead.since(start);
        if written.trim_start_matches(['x', 'X']).bytes().all(|b| b.is_ascii_digit()) {
            ahead.rest = &ahead.text[start..];
            return Err(crossed(ahead, kind, amount));
        }
        return Err(unknown_unit(kind, written, start..ahead.at()));
    };
    if !(unit.measures(kind) || kind == QuantityKind::Slope && unit.dimension == Dimension::LENGTH) {
        return Err(wrong_unit(kind, unit, ahead.since(start), start..ahead.at()));
    }
    *cursor = ahead;
    Ok(Some(unit))
}

/// The unit spelled from `start` to the cursor, with the full stop of an abbreviation if one stands behind.
fn spelled(ahead: &mut Cursor<'_>, start: usize) -> Option<&'static Unit> {
    if ahead.peek() == Some('.') {
        let mut dotted = *ahead;
        dotted.rest = &dotted.rest[1..];
        if let Some(unit) = find_unit(dotted.since(start)) {
            *ahead = dotted;
            return Some(unit);
        }
    }
    find_unit(ahead.since(start))
}

/// The feet of `18ft6in`, where inches follow without a blank.
fn glued_feet(ahead: &mut Cursor<'_>, start: usize, kind: QuantityKind) -> Option<&'static Unit> {
    if kind != QuantityKind::Length {
        return None;
    }
    let written = ahead.since(start);
    let letters = written.find(|c: char| c.is_ascii_digit())?;
    let unit = find_unit(&written[..letters]).filter(|unit| unit.name == "ft")?;
    ahead.rest = &ahead.text[start + letters..];
    Some(unit)
}

/// What follows the number of a slope: `%`, `:50`, `in per ft`.
fn slope<'a>(cursor: &mut Cursor<'a>, amount: Amount<'a>) -> Result<Measure<'a>, LiteralError> {
    let kind = QuantityKind::Slope;
    let start = amount.at.start;
    let percent = find_unit("%");
    if cursor.peek() == Some(':') {
        cursor.rest = &cursor.rest[1..];
        let at = cursor.at();
        let run = cursor.take(decimal).map_or(0.0, |run| run.value);
        if run <= 0.0 {
            let end = at.max(cursor.at());
            let found = cursor.text[start..end].to_owned();
            return Err(LiteralError::unreadable(
                start..end,
                format!("the run of a slope is a number above 0; `{found}` is found"),
            )
            .with_help("write 1:50, or 2 %"));
        }
        refuse_endless_run(run, at..cursor.at())?;
        let (value, unreduced) = (amount.value / run, amount.unreduced);
        return Ok(Measure { value, at: start..cursor.at(), joined: true, unit: percent, unreduced, amount });
    }
    let unit_from = cursor.at();
    let unit = unit_behind(cursor, kind, &amount)?;
    let (value, joined) = match unit {
        Some(rise) if rise.dimension == Dimension::LENGTH => {
            let run_from = cursor.at();
            let run = run_behind(cursor).ok_or_else(|| {
                let written = cursor.since(unit_from).trim();
                wrong_unit(kind, rise, written, cursor.at() - written.len()..cursor.at())
            })?;
            refuse_endless_run(run, run_from..cursor.at())?;
            (amount.value * rise.factor / run, true)
        }
        Some(percent) => (amount.value * percent.factor, false),
        None => (amount.value, false),
    };
    Ok(Measure { value, at: start..cursor.at(), joined, unit, unreduced: amount.unreduced, amount })
}

/// A run with more digits than a number holds would make any slope flat.
fn refuse_endless_run(run: f64, at: Range<usize>) -> Result<(), LiteralError> {
    if run.is_finite() {
        return Ok(());
    }
    Err(LiteralError::unreadable(at, "this run is larger than any that can be measured"))
}

/// The run of a slope in metres: `per ft`, `/ft`, `per 10 ft`.
fn run_behind(cursor: &mut Cursor<'_>) -> Option<f64> {
    let mut ahead = *cursor;
    ahead.skip_blanks();
    match ahead.rest.strip_prefix('/') {
        Some(rest) => ahead.rest = rest,
        None => {
            ahead.take(keyword("per"))?;
        }
    }
    ahead.skip_blanks();
    let count = ahead.take(decimal).map_or(1.0, |number| number.value);
    ahead.skip_blanks();
    let start = ahead.at();
    let unit = match ahead.peek().filter(|c| is_foot_mark(*c)) {
        Some(mark) => {
            ahead.rest = &ahead.rest[mark.len_utf8()..];
            find_unit("ft")
        }
        None => {
            ahead.take(word)?;
            spelled(&mut ahead, start)
        }
    };
    let run = count * unit.filter(|unit| unit.dimension == Dimension::LENGTH)?.factor;
    *cursor = ahead;
    (run > 0.0).then_some(run)
}

/// Why no value begins at the cursor.
fn no_number(cursor: &Cursor<'_>, kind: QuantityKind) -> LiteralError {
    let start = cursor.at();
    let Some(first) = cursor.peek() else {
        let at = refusal::last_word(cursor.text);
        let found = match &cursor.text[at.clone()] {
            "" => "nothing is found".to_owned(),
            word => format!("only `{word}` is found"),
        };
        return LiteralError::unreadable(at, format!("{} is expected, {found}", refusal::a_kind(kind)))
            .with_help(format!("write {}", refusal::example(kind)));
    };
    let at = start..start + first.len_utf8();
    let number_follows = cursor.rest.contains(|c: char| c.is_ascii_digit());
    if (is_hyphen(first) || first == '+') && number_follows {
        return LiteralError::new(refusal::SIGNED, at, format!("no value carries a sign; `{first}` is found"))
            .with_help("leave the sign out; a direction is stated by a field of its own");
    }
    if is_foot_mark(first) || is_inch_mark(first) {
        return LiteralError::unreadable(at, format!("a number stands before its mark; `{first}` is found first"))
            .with_help("write 6\" or 6 in");
    }
    if is_vulgar_fraction(first) {
        return refusal::vulgar_fraction(first, start);
    }
    let word = head(cursor.rest);
    if matches!(first, '~' | '≈' | '±')
        || matches!(word, "about" | "approx" | "approx." | "approximately" | "ca." | "circa")
    {
        return LiteralError::unreadable(
            start..start + word.len(),
            format!("a stated value is expected, `{word}` makes it a guess"),
        )
        .with_help("state the value, a range (3 in to 5 in) or a tolerance (4 in +/- 1/2 in)");
    }
    if matches!(first, '<' | '>' | '≤' | '≥' | '=') {
        return LiteralError::unreadable(at, format!("a number is expected, `{first}` is found"))
            .with_help("write 5 in max or 3 in min");
    }
    LiteralError::unreadable(start..start + word.len(), format!("a number in digits is expected, `{word}` is found"))
        .with_help(format!("write {}", refusal::example(kind)))
}

/// `1 000`: digits in threes with blanks between them.
fn grouped_by_blanks(mut cursor: Cursor<'_>, amount: &Amount<'_>) -> Option<LiteralError> {
    let mut end = cursor.at();
    while cursor.skip_blanks() > 0 {
        let digits = cursor.rest.bytes().take_while(u8::is_ascii_digit).count();
        if digits != 3 {
            break;
        }
        cursor.rest = &cursor.rest[digits..];
        end = cursor.at();
    }
    let written = &cursor.text[amount.at.start..end];
    if end == amount.at.end || amount.text.len() > 3 || amount.text.starts_with('0') {
        return None;
    }
    let together: String = written.split_whitespace().collect();
    let message = format!("the digits of a number stand together; `{written}` is found");
    // A decimal or a fraction behind the groups is part of the number.
    let more = cursor.text[end..]
        .trim_start_matches(is_blank)
        .starts_with(|c: char| matches!(c, '.' | ',') || c.is_ascii_digit());
    let help = if more { format!("write {together} with what follows behind it") } else { format!("write {together}") };
    Some(LiteralError::unreadable(amount.at.start..end, message).with_help(help))
}

/// `5-6`: two numbers with a tight hyphen.
fn two_numbers(cursor: &Cursor<'_>, kind: QuantityKind, written: &str, at: Range<usize>) -> LiteralError {
    let code = if cursor.rest.is_empty() { refusal::MISSING_UNIT } else { refusal::UNREADABLE };
    let (a, b) = written.split_once(is_hyphen).unwrap_or((written, ""));
    let no_unit = if cursor.rest.is_empty() { " has no unit and" } else { "" };
    let unit = head(cursor.rest);
    let measures = find_unit(unit).is_some_and(|unit| unit.measures(kind));
    if measures && !matches!(find_unit(unit), Some(unit) if matches!(unit.name, "ft" | "in")) {
        LiteralError::new(code, at, format!("`{written}` can mean a range or a difference"))
            .with_help(format!("write {a} {unit} to {b} {unit}"))
    } else if kind == QuantityKind::Length {
        LiteralError::new(code, at, format!("`{written}`{no_unit} can mean feet and inches or a range"))
            .with_help(format!("write {a} ft {b} in, or {a} in to {b} in"))
    } else {
        LiteralError::new(code, at, format!("`{written}`{no_unit} can mean a range or a difference"))
            .with_help(format!("write {a} to {b} with the unit behind"))
    }
}

/// `24x6`: two sizes in one value.
fn crossed(cursor: Cursor<'_>, kind: QuantityKind, amount: &Amount<'_>) -> LiteralError {
    let tail = cursor.rest.trim_start_matches(['x', 'X', '×']);
    let digits = tail.find(|c: char| !(c.is_ascii_digit() || c == ' ')).unwrap_or(tail.len());
    let end = cursor.text.len() - tail[digits..].len();
    let end = amount.at.start + cursor.text[amount.at.start..end].trim_end().len();
    let written = &cursor.text[amount.at.start..end];
    let mut error = no_unit(kind, amount.text, amount.at.start..end);
    error.message = format!("one value is expected, `{written}` is two numbers and the first has no unit");
    error.help = Some(format!("write one value with its unit, as in {}", refusal::example(kind)));
    error
}
