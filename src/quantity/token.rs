//! The tokens that measured values are made of, in nom, shared by the text of submittals and the literals of rules.
//!
//! A token either matches or it does not: `Miss` carries nothing, so that reading a good value builds no text. The
//! readers above know what was expected and write the message.

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while, take_while1};
use nom::character::complete::{char, digit1, satisfy};
use nom::combinator::{not, opt, peek, recognize};
use nom::error::{ErrorKind, ParseError};
use nom::{IResult, Parser};

/// The input does not begin with the token.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Miss;

impl<I> ParseError<I> for Miss {
    fn from_error_kind(_: I, _: ErrorKind) -> Self {
        Miss
    }

    fn append(_: I, _: ErrorKind, _: Self) -> Self {
        Miss
    }
}

pub(super) type Token<'a, T> = IResult<&'a str, T, Miss>;

/// A text being read, with the part that is left.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) rest: &'a str,
}

impl<'a> Cursor<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Cursor { text, rest: text }
    }

    /// Bytes read so far.
    pub(super) fn at(&self) -> usize {
        self.text.len() - self.rest.len()
    }

    pub(super) fn take<T>(&mut self, token: impl Fn(&'a str) -> Token<'a, T>) -> Option<T> {
        let (rest, taken) = token(self.rest).ok()?;
        self.rest = rest;
        Some(taken)
    }

    /// Skips blanks; how many bytes they were.
    pub(super) fn skip_blanks(&mut self) -> usize {
        self.take(blanks).map_or(0, str::len)
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    /// The character behind the next one.
    pub(super) fn peek_second(&self) -> Option<char> {
        self.rest.chars().nth(1)
    }

    /// What was read from a byte on.
    pub(super) fn since(&self, start: usize) -> &'a str {
        &self.text[start..self.at()]
    }
}

/// Blanks of every width: word processors put no-break and thin spaces between a number and its unit.
pub(super) fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r' | '\u{a0}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}')
}

/// A hyphen, or a dash or minus that a word processor made of it.
pub(super) fn is_hyphen(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// `½` and its like.
pub(super) fn is_vulgar_fraction(c: char) -> bool {
    matches!(c, '¼' | '½' | '¾' | '\u{2150}'..='\u{215f}' | '\u{2189}' | '\u{2044}')
}

pub(super) fn is_foot_mark(c: char) -> bool {
    matches!(c, '\'' | '′' | '’')
}

pub(super) fn is_inch_mark(c: char) -> bool {
    matches!(c, '"' | '″' | '”')
}

pub(super) fn blanks(input: &str) -> Token<'_, &str> {
    // Mostly there is one plain blank or none: a look at two bytes settles it.
    let bytes = input.as_bytes();
    let plain = |at: usize| bytes.get(at).is_none_or(|byte| byte.is_ascii_graphic());
    if plain(0) {
        return Ok((input, ""));
    }
    if bytes[0] == b' ' && plain(1) {
        return Ok((&input[1..], &input[..1]));
    }
    take_while(is_blank).parse(input)
}

pub(super) fn foot_mark(input: &str) -> Token<'_, char> {
    satisfy(is_foot_mark).parse(input)
}

pub(super) fn inch_mark(input: &str) -> Token<'_, char> {
    satisfy(is_inch_mark).parse(input)
}

/// Two foot marks in a row, which some type for inches.
pub(super) fn doubled_foot_mark(input: &str) -> Token<'_, &str> {
    recognize((foot_mark, foot_mark)).parse(input)
}

/// How many digits a text begins with.
fn leading_digits(input: &str) -> usize {
    input.bytes().take_while(u8::is_ascii_digit).count()
}

/// Digits with or without a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Decimal<'a> {
    pub(super) text: &'a str,
    pub(super) value: f64,
    /// Without a point.
    pub(super) whole: bool,
}

pub(super) fn decimal(input: &str) -> Token<'_, Decimal<'_>> {
    let digits = leading_digits(input);
    if digits > 0 && input.as_bytes().get(digits) != Some(&b'.') {
        let (text, rest) = input.split_at(digits);
        return Ok((rest, Decimal { text, value: number_of(text), whole: true }));
    }
    let point = || (char('.'), digit1);
    let (rest, text) = alt((recognize((digit1, opt(point()))), recognize(point()))).parse(input)?;
    let whole = !text.contains('.');
    Ok((rest, Decimal { text, value: number_of(text), whole }))
}

/// Digits with commas among them, `3,000` or `1,200.5`; whether the commas stand right is for the caller.
pub(super) fn grouped(input: &str) -> Token<'_, &str> {
    if input.as_bytes().get(leading_digits(input)) != Some(&b',') {
        return Err(nom::Err::Error(Miss));
    }
    recognize((digit1, char(','), digit1, take_while(|c: char| c.is_ascii_digit() || c == ',' || c == '.')))
        .parse(input)
}

/// The value of digits with at most one point; exact rounding, and infinite where it is out of range.
pub(super) fn number_of(text: &str) -> f64 {
    const TENS: [f64; 16] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
    // Up to 15 digits both the digits and the power of ten are exact, so one division rounds once.
    if text.len() > 16 {
        return text.parse().unwrap_or(f64::INFINITY);
    }
    let (mut digits, mut decimals, mut behind_point) = (0u64, 0usize, 0usize);
    for byte in text.bytes() {
        if byte == b'.' {
            behind_point = 1;
        } else {
            digits = digits * 10 + u64::from(byte - b'0');
            decimals += behind_point;
        }
    }
    match TENS.get(decimals) {
        Some(power) if digits < 1 << 53 => digits as f64 / power,
        _ => text.parse().unwrap_or(f64::INFINITY),
    }
}

/// `1/2` as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fraction<'a> {
    pub(super) top: &'a str,
    pub(super) bottom: &'a str,
}

pub(super) fn fraction(input: &str) -> Token<'_, Fraction<'_>> {
    if input.as_bytes().get(leading_digits(input)) != Some(&b'/') {
        return Err(nom::Err::Error(Miss));
    }
    let (rest, (top, _, bottom)) = (digit1, char('/'), digit1).parse(input)?;
    Ok((rest, Fraction { top, bottom }))
}

/// A word that begins with a letter, as a unit does, with the digits of a power: `ft`, `in2`, `gate`.
pub(super) fn word(input: &str) -> Token<'_, &str> {
    // Most words are letters alone, and a blank or the end stands behind them.
    let letters = input.bytes().take_while(u8::is_ascii_alphabetic).count();
    if letters > 0 && matches!(input.as_bytes().get(letters), None | Some(b' ')) {
        let (word, rest) = input.split_at(letters);
        return Ok((rest, word));
    }
    recognize((
        take_while1(|c: char| c.is_alphabetic()),
        take_while(|c: char| c.is_alphanumeric() || matches!(c, '²' | '³' | '^' | '_')),
    ))
    .parse(input)
}

/// A unit's spelling: a word, with another one behind a slash, or a unit behind a hyphen as in `lb-ft`. No blanks.
pub(super) fn unit_spelling(input: &str) -> Token<'_, &str> {
    let behind_hyphen = alt((tag("ft"), tag("in"), tag("lbf"), tag("lb"), tag("kip"), tag("m")));
    let end = peek(not(satisfy(|c: char| c.is_alphanumeric())));
    let product = recognize((char('-'), behind_hyphen, end));
    recognize((word, opt(alt((recognize((char('/'), word)), product))))).parse(input)
}

/// `+/-`, `±`, `+-`.
pub(super) fn tolerance_sign(input: &str) -> Token<'_, &str> {
    alt((tag("+/-"), tag("±"), tag("+-"))).parse(input)
}

/// A keyword, not the beginning of a longer word.
pub(super) fn keyword<'a>(expected: &'static str) -> impl Fn(&'a str) -> Token<'a, &'a str> {
    move |input| {
        let (rest, found) = tag(expected).parse(input)?;
        let (rest, _) = peek(not(satisfy(|c: char| c.is_alphanumeric()))).parse(rest)?;
        Ok((rest, found))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_decimal_has_digits_on_one_side_of_its_point_at_least() {
        let read = |text| decimal(text).map(|(rest, found)| (rest, found.value, found.whole));
        assert_eq!(read("24 ft"), Ok((" ft", 24.0, true)));
        assert_eq!(read("5.5ft"), Ok(("ft", 5.5, false)));
        assert_eq!(read(".188"), Ok(("", 0.188, false)));
        assert_eq!(read("5. in"), Ok((". in", 5.0, true)));
        assert!(read(".").is_err() && read("ft").is_err() && read("").is_err());
        assert_eq!(number_of(&"9".repeat(400)), f64::INFINITY);
    }

    #[test]
    fn words_take_powers_and_one_slash() {
        assert_eq!(unit_spelling("ft/s2 max"), Ok((" max", "ft/s2")));
        assert_eq!(unit_spelling("ft/2"), Ok(("/2", "ft")));
        assert_eq!(unit_spelling("in² x"), Ok((" x", "in²")));
        assert!(unit_spelling("2in").is_err());
        assert!(keyword("to")("to 5").is_ok() && keyword("to")("ton").is_err() && keyword("to")("to").is_ok());
    }

    proptest! {
        /// The short ways through common text end where the grammar ends.
        #[test]
        fn short_ways_end_where_the_grammar_does(text in "[ \u{a0}a-b2/,.²_]{0,8}") {
            let gap = text.len() - text.trim_start_matches(is_blank).len();
            prop_assert_eq!(blanks(&text).map(|(rest, gap)| (rest.len(), gap.len())), Ok((text.len() - gap, gap)));
            let is_part = |c: char| c.is_alphanumeric() || matches!(c, '²' | '_');
            let length = text.find(|c| !is_part(c)).unwrap_or(text.len());
            let expected = text.starts_with(char::is_alphabetic).then_some(length);
            prop_assert_eq!(word(&text).ok().map(|(_, word)| word.len()), expected);
            let digits = text.bytes().take_while(u8::is_ascii_digit).count();
            let behind = |sign: &str| digits > 0 && text[digits..].starts_with(sign) && text[digits + 1..].starts_with('2');
            prop_assert_eq!(fraction(&text).is_ok(), behind("/"));
            prop_assert_eq!(grouped(&text).is_ok(), behind(","));
        }

        #[test]
        fn decimals_round_as_the_standard_library_does(text in "[0-9]{1,18}(\\.[0-9]{1,18})?") {
            prop_assert_eq!(number_of(&text).to_bits(), text.parse::<f64>().unwrap().to_bits());
        }
    }
}
