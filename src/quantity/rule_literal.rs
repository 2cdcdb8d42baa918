//! The number and quantity literals of the rule language.
//!
//! Stricter than the text of a submittal: no tolerance, no commas, no `kg`, a hyphen only directly behind a foot mark,
//! because in a rule ` - ` subtracts and `,` separates. A text that both accept has one value (a property test). The
//! expression grammar calls this at every digit.

use std::fmt;

use super::refusal::{doubled_mark, fraction_value, head, vulgar_fraction};
use super::token::{
    Cursor, blanks, decimal, doubled_foot_mark, foot_mark, fraction, inch_mark, is_blank, is_foot_mark, is_inch_mark,
    is_vulgar_fraction, unit_spelling, word,
};
use super::{Dimension, LiteralError, System, Unit, date, find_unit};

/// A literal as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleNumber {
    /// SI value; the first day for a date.
    pub lo: f64,
    /// SI value; the last day for a date.
    pub hi: f64,
    /// Its dimension; none for a date.
    pub dimension: Dimension,
    /// Whether it is a date.
    pub is_date: bool,
    /// The number in its unit: inches for feet and inches, `yyyymmdd` for a date.
    amount: f64,
    unit: Option<&'static Unit>,
}

impl fmt::Display for RuleNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit {
            _ if self.is_date => write!(f, "date{}", self.amount),
            Some(unit) => write!(f, "{}{}", self.amount, unit.name),
            None => write!(f, "{}", self.amount),
        }
    }
}

/// Words that may stand behind a bare number; any other word is taken for a unit and refused.
const BEHIND_A_NUMBER: [&str; 9] = ["and", "or", "not", "is", "one", "of", "where", "as", "to"];

/// Reads the literal at the head of a text, with the bytes it takes; `None` where none begins there.
pub fn rule_literal(input: &str) -> Option<Result<(RuleNumber, usize), LiteralError>> {
    let first = input.chars().next()?;
    if first == '.' {
        let digit = input[1..].starts_with(|c: char| c.is_ascii_digit());
        return digit.then(|| Err(LiteralError::unreadable(0..1, "a digit is expected before the point: write 0.5")));
    }
    first.is_ascii_digit().then(|| read(Cursor::new(input)))
}

fn read(mut cursor: Cursor<'_>) -> Result<(RuleNumber, usize), LiteralError> {
    if let Some(date) = date_literal(cursor.rest) {
        return date.map(|number| (number, 10));
    }
    let (value, is_fraction, whole) = amount(&mut cursor)?;
    if !value.is_finite() {
        return Err(LiteralError::unreadable(0..cursor.at(), "this number is larger than any that can be measured"));
    }
    let behind = cursor.peek();
    if behind.is_some_and(is_vulgar_fraction) {
        return Err(vulgar_fraction(behind.unwrap_or('½'), cursor.at()));
    }
    if behind == Some(',') && cursor.peek_second().is_some_and(|c| c.is_ascii_digit()) {
        let at = cursor.at()..cursor.at() + 1;
        return Err(LiteralError::unreadable(at, "a comma separates values here; write thousands without it"));
    }
    if behind == Some('-') && whole {
        let mut ahead = cursor;
        ahead.rest = &ahead.rest[1..];
        if ahead.take(fraction).is_some() {
            let at = cursor.at()..cursor.at() + 1;
            let written = cursor.text[..cursor.at()].to_owned() + " " + &cursor.rest[1..];
            let written = head_of_mixed(&written);
            return Err(LiteralError::unreadable(at, "a mixed number is written with a blank")
                .with_help(format!("write {written}")));
        }
    }
    if behind.is_some_and(is_foot_mark) {
        return feet(cursor, value, is_fraction);
    }
    let unit = unit(&mut cursor)?;
    let Some(unit) = unit else {
        if is_fraction {
            let at = cursor.at();
            return Err(LiteralError::new("missing-unit", at..at, "a fraction needs a unit")
                .with_help("write 1/2 in, or 0.5 for a plain number"));
        }
        return Ok((plain(value), cursor.at()));
    };
    refuse_tight_operator(&cursor)?;
    if unit.name == "ft"
        && whole
        && let Some(inches) = inches_behind_feet(&mut cursor)?
    {
        return Ok((of_inches(value * 12.0 + inches), cursor.at()));
    }
    Ok((of_unit(value, unit), cursor.at()))
}

/// `digits`, `decimal`, `fraction` or `digits fraction`: value, whether a fraction is in it, whether it is whole.
fn amount(cursor: &mut Cursor<'_>) -> Result<(f64, bool, bool), LiteralError> {
    let start = cursor.at();
    if let Some(read) = cursor.take(fraction) {
        return Ok((fraction_value(read, start)?, true, false));
    }
    let Some(number) = cursor.take(decimal) else {
        return Err(LiteralError::unreadable(start..start, "a number is expected"));
    };
    if number.whole {
        let mut ahead = *cursor;
        if ahead.take(blanks).is_some_and(|gap| !gap.is_empty()) {
            let at = ahead.at();
            if let Some(read) = ahead.take(fraction) {
                let value = number.value + fraction_value(read, at)?;
                *cursor = ahead;
                return Ok((value, true, false));
            }
        }
    }
    Ok((number.value, false, number.whole))
}

/// The unit behind a number, with at most one blank before it.
fn unit(cursor: &mut Cursor<'_>) -> Result<Option<&'static Unit>, LiteralError> {
    let mut ahead = *cursor;
    if ahead.take(inch_mark).is_some() {
        *cursor = ahead;
        return Ok(find_unit("in"));
    }
    let gap = ahead.skip_blanks();
    let at = ahead.at();
    if ahead.peek() == Some('%') {
        ahead.rest = &ahead.rest[1..];
        *cursor = ahead;
        return Ok(find_unit("%"));
    }
    let mut spelled = ahead;
    if let Some(unit) = spelled.take(unit_spelling).and_then(find_unit) {
        refuse_where_not_in_rules(unit, cursor, at..spelled.at())?;
        *cursor = spelled;
        return Ok(Some(unit));
    }
    let Some(first) = ahead.take(word) else { return Ok(None) };
    match find_unit(first) {
        // `24 ft/gate.opening`: the word behind the slash is what is wrong.
        Some(unit) => {
            refuse_where_not_in_rules(unit, cursor, at..ahead.at())?;
            if let Some(below) = ahead.rest.strip_prefix('/').and_then(|rest| word(rest).ok()) {
                let from = ahead.at() + 1;
                if find_unit(below.1).is_some() {
                    let message = format!("`{first}/{}` is no unit", below.1);
                    return Err(LiteralError::new("unknown-unit", at..from + below.1.len(), message)
                        .with_help("divide by a value with its unit, and write a space on each side of `/`"));
                }
                let message = format!("`{}` is no unit; to divide, write a space on each side of `/`", below.1);
                return Err(LiteralError::new("unknown-unit", from..from + below.1.len(), message));
            }
            *cursor = ahead;
            Ok(Some(unit))
        }
        None if gap > 0 && (BEHIND_A_NUMBER.contains(&first) || first == "in") => Ok(None),
        None => {
            let written = head(first);
            let message = format!("`{written}` is no unit");
            Err(LiteralError::new("unknown-unit", at..at + first.len(), message))
        }
    }
}

/// A mass is no force, and a moment is a product, which a rule writes as one. The cursor stands behind the number.
fn refuse_where_not_in_rules(unit: &Unit, cursor: &Cursor<'_>, at: std::ops::Range<usize>) -> Result<(), LiteralError> {
    if unit.in_rules {
        return Ok(());
    }
    let written = &cursor.text[at.clone()];
    let refused = |message: String| LiteralError::new("wrong-unit", at.clone(), message);
    Err(match unit.dimension {
        Dimension::MOMENT => {
            let (force, arm) = unit.name.split_once('-').unwrap_or(("N", "m"));
            let why = if written.contains('-') { "; a hyphen subtracts in a rule" } else { "" };
            let number = &cursor.text[..cursor.at()];
            refused(format!("`{written}` is no unit of a rule{why}"))
                .with_help(format!("write {number} {force} * 1 {arm}"))
        }
        Dimension::LINE_LOAD => refused(mass(written)).with_help("write lb/ft or N/m"),
        _ => refused(mass(written)).with_help("write lbf or N"),
    })
}

fn mass(written: &str) -> String {
    format!("rules state forces; `{written}` is a mass")
}

/// `5 ft-6 in`, `24 ft/2`: an operator needs a space on each side.
fn refuse_tight_operator(cursor: &Cursor<'_>) -> Result<(), LiteralError> {
    match cursor.peek() {
        Some(sign @ ('-' | '+' | '*' | '/')) => {
            let at = cursor.at();
            Err(LiteralError::unreadable(at..at + 1, format!("`{sign}` needs a space on each side")))
        }
        _ => Ok(()),
    }
}

/// Behind a foot mark: nothing, or inches without blanks, `5'-6 1/2"`.
fn feet(mut cursor: Cursor<'_>, feet: f64, is_fraction: bool) -> Result<(RuleNumber, usize), LiteralError> {
    let start = cursor.at();
    if let Some(marks) = cursor.take(doubled_foot_mark) {
        let second = start + marks.chars().next().map_or(1, char::len_utf8);
        return Err(doubled_mark(start..second.max(cursor.at())));
    }
    if is_fraction {
        return Err(LiteralError::unreadable(0..start, "feet are a whole number or a decimal; write inches"));
    }
    cursor.take(foot_mark);
    let mut ahead = cursor;
    let hyphen_at = ahead.at();
    let hyphen = ahead.peek() == Some('-');
    if hyphen {
        ahead.rest = &ahead.rest[1..];
    }
    if !ahead.peek().is_some_and(|c| c.is_ascii_digit()) {
        if hyphen {
            let at = hyphen_at..hyphen_at + 1;
            return Err(LiteralError::unreadable(at, "inches are expected behind `-`, which is no minus here")
                .with_help("write 5'-6\"; to subtract, write a space on each side"));
        }
        return Ok((of_unit(feet, foot()?), cursor.at()));
    }
    let inches_at = ahead.at();
    let (inches, ..) = amount(&mut ahead)?;
    if !ahead.peek().is_some_and(is_inch_mark) {
        let at = ahead.at();
        if ahead.rest.strip_prefix('-').is_some_and(|rest| fraction(rest).is_ok()) {
            return Err(LiteralError::unreadable(at..at + 1, "a mixed number is written with a blank")
                .with_help("write 5'-6 1/2\""));
        }
        return Err(LiteralError::new("missing-unit", at..at, "these inches have no mark").with_help("write 5'-6\""));
    }
    ahead.take(inch_mark);
    below_twelve(inches, inches_at..ahead.at())?;
    Ok((of_inches(feet * 12.0 + inches), ahead.at()))
}

/// `5 ft 6 in`: inches behind feet, one blank between.
fn inches_behind_feet(cursor: &mut Cursor<'_>) -> Result<Option<f64>, LiteralError> {
    let mut ahead = *cursor;
    if ahead.skip_blanks() == 0 || !ahead.peek().is_some_and(|c| c.is_ascii_digit()) {
        return Ok(None);
    }
    let at = ahead.at();
    let Ok((inches, ..)) = amount(&mut ahead) else { return Ok(None) };
    let unit_at = ahead.at();
    match unit(&mut ahead) {
        Ok(Some(unit)) if unit.name == "in" && ahead.text[unit_at..].starts_with(is_blank) => {
            below_twelve(inches, at..ahead.at())?;
            refuse_tight_operator(&ahead)?;
            *cursor = ahead;
            Ok(Some(inches))
        }
        _ => Ok(None),
    }
}

fn below_twelve(inches: f64, at: std::ops::Range<usize>) -> Result<(), LiteralError> {
    if inches < 12.0 {
        return Ok(());
    }
    Err(LiteralError::unreadable(at, "inches behind feet stay below 12"))
}

fn date_literal(input: &str) -> Option<Result<RuleNumber, LiteralError>> {
    let text = input.get(..10)?;
    let shape = text.bytes().enumerate().all(|(at, byte)| match at {
        4 | 7 => byte == b'-',
        _ => byte.is_ascii_digit(),
    });
    if !shape || input[10..].starts_with(|c: char| c.is_ascii_alphanumeric()) {
        return None;
    }
    Some(date::read_date(text).map(|days| RuleNumber {
        lo: days.lo,
        hi: days.hi,
        dimension: Dimension::NONE,
        is_date: true,
        amount: text.replace('-', "").parse().unwrap_or_default(),
        unit: None,
    }))
}

fn foot() -> Result<&'static Unit, LiteralError> {
    find_unit("ft").ok_or_else(|| LiteralError::unreadable(0..0, "the unit table has no foot"))
}

fn plain(value: f64) -> RuleNumber {
    RuleNumber { lo: value, hi: value, dimension: Dimension::NONE, is_date: false, amount: value, unit: None }
}

fn of_unit(amount: f64, unit: &'static Unit) -> RuleNumber {
    let value = amount * unit.factor;
    RuleNumber { lo: value, hi: value, dimension: unit.dimension, is_date: false, amount, unit: Some(unit) }
}

fn of_inches(inches: f64) -> RuleNumber {
    match find_unit("in") {
        Some(unit) => of_unit(inches, unit),
        None => plain(inches),
    }
}

/// The mixed number at the head of a text, with its unit.
fn head_of_mixed(text: &str) -> String {
    text.split_whitespace().take(3).collect::<Vec<_>>().join(" ")
}

impl RuleNumber {
    /// The system it is written in.
    pub fn system(&self) -> System {
        self.unit.map_or(System::Neutral, |unit| unit.system)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> (String, usize) {
        let (number, used) = rule_literal(text).unwrap().unwrap();
        (number.to_string(), used)
    }

    #[test]
    fn literals_end_where_their_unit_ends() {
        assert_eq!(value("18 ft 6 1/2 in - 1/2 in"), ("222.5in".to_owned(), 14));
        assert_eq!(value("5'-6 1/2\" + 1'"), ("66.5in".to_owned(), 9));
        assert_eq!(value("6 ft - 2 in"), ("6ft".to_owned(), 4));
        assert_eq!(value("5 min and"), ("5min".to_owned(), 5));
        assert_eq!(value("2 and x"), ("2".to_owned(), 1));
        assert_eq!(value("2016 - 01"), ("2016".to_owned(), 4));
        assert_eq!(value("2016-01-12)"), ("date20160112".to_owned(), 10));
        assert_eq!(value("20 lb/ft * x"), ("20lb/ft".to_owned(), 8));
        assert_eq!(value("40%"), ("40%".to_owned(), 3));
        assert!(rule_literal("x").is_none() && rule_literal(". in").is_none());
    }

    #[test]
    fn what_only_looks_like_a_literal_is_refused_at_its_place() {
        let endless = "9".repeat(400);
        for (text, at, phrase) in [
            (endless.as_str(), 0..400, "larger than any"),
            ("1 in/ft * x", 2..7, "`in/ft` is no unit"),
            ("24 ft/gate.opening", 6..10, "`gate` is no unit"),
            ("5'-6-1/2\"", 4..5, "mixed number"),
        ] {
            let error = rule_literal(text).unwrap().unwrap_err();
            assert_eq!(error.at, at, "{text}");
            assert!(error.message.contains(phrase), "{text}: {}", error.message);
        }
    }

    #[test]
    fn units_that_rules_do_not_take_are_refused_with_what_to_write() {
        for (text, at, message, help) in [
            ("5 kg", 2..4, "`kg` is a mass", "lbf or N"),
            ("5 kg/m", 2..6, "`kg/m` is a mass", "lb/ft or N/m"),
            ("5 lb-ft", 2..7, "`lb-ft` is no unit of a rule; a hyphen subtracts", "write 5 lb * 1 ft"),
            ("2.5 in-lb", 4..9, "`in-lb` is no unit of a rule; a hyphen", "write 2.5 lb * 1 in"),
            ("5 kNm", 2..5, "`kNm` is no unit of a rule", "write 5 kN * 1 m"),
            ("5 J", 2..3, "`J` is no unit of a rule", "write 5 N * 1 m"),
        ] {
            let error = rule_literal(text).unwrap().unwrap_err();
            assert_eq!((error.code, error.at), ("wrong-unit", at), "{text}");
            assert!(error.message.contains(message), "{text}: {}", error.message);
            assert!(error.help.as_deref().is_some_and(|said| said.contains(help)), "{text}: {:?}", error.help);
        }
    }

    #[test]
    fn a_bad_date_is_refused() {
        assert!(rule_literal("2016-02-30").unwrap().is_err());
    }
}
