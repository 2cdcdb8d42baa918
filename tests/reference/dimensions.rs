//! Dimension text against a reference grammar with exact rational values (data/c08_dimensions.*; the accept rows also
//! agree with pint 0.25.3 where pint can read them).
//!
//! Each reject row has the reason of the reference beside it: the code, the offending part, a phrase of the message.
//! Where the reference reads a hyphen between blanks as a separator we refuse it: in a rule the same text subtracts,
//! and one text must not have two values.

use gatewright::quantity::{QuantityKind, read};

const ACCEPT: &str = include_str!("data/c08_dimensions.csv");
const ROWS: &str = include_str!("data/c08_dimensions.json");

/// The rows of the csv: text in quotes where it holds quotes, then the exact inches as a fraction, then decimals.
fn accept_rows() -> Vec<(String, f64)> {
    ACCEPT
        .lines()
        .skip(1)
        .map(|line| {
            let (text, rest) = match line.strip_prefix('"') {
                Some(quoted) => {
                    let end = quoted.find("\",").unwrap();
                    (quoted[..end].replace("\"\"", "\""), &quoted[end + 2..])
                }
                None => {
                    let (text, rest) = line.split_once(',').unwrap();
                    (text.to_owned(), rest)
                }
            };
            let exact = rest.split(',').next().unwrap();
            let (top, bottom) = exact.split_once('/').unwrap_or((exact, "1"));
            (text, top.parse::<f64>().unwrap() / bottom.parse::<f64>().unwrap())
        })
        .collect()
}

#[test]
fn every_accept_row_has_its_exact_value() {
    let rows = accept_rows();
    assert_eq!(rows.len(), 27);
    for (text, inches) in rows {
        let reading = read(QuantityKind::Length, &text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
        let meters = inches * 0.0254;
        assert!(reading.quantity.is_point(), "{text}");
        assert!((reading.quantity.lo - meters).abs() <= 1e-15 * meters, "{text}: {} {meters}", reading.quantity.lo);
        assert!(reading.remarks.is_empty(), "{text}: {:?}", reading.remarks);
    }
}

/// Text, code, offending part, phrase of the message or of the advice. Two rows are cut short by the hyphen that this
/// reader refuses and the reference skips: `5 ft -6 in -` and `12 ' - - 6"` point at the first one.
const REJECT: [(&str, &str, &str, &str); 32] = [
    // No unit, or half a unit: are the inches inches, or decimals of feet?
    ("24", "missing-unit", "24", "no unit"),
    ("1 1/2", "missing-unit", "1 1/2", "no unit"),
    ("5-6", "missing-unit", "5-6", "feet and inches or a range"),
    ("24x6 ft", "missing-unit", "24x6", "two numbers"),
    ("24'0", "missing-unit", "0", "no mark"),
    ("5'6", "missing-unit", "6", "no mark"),
    ("5'-6", "missing-unit", "6", "no mark"),
    // Inches of 12 and more behind feet.
    ("5'-14\"", "unreadable-value", "14", "6 ft 2 in"),
    ("5'-12\"", "unreadable-value", "12", "write 6 ft 0 in"),
    // Fractions that no rule has: denominators are powers of two up to 64, fractions are proper and not zero.
    ("2 1/3\"", "unreadable-value", "3", "denominator"),
    ("1/128\"", "unreadable-value", "128", "denominator"),
    ("3/0 in", "unreadable-value", "0", "denominator"),
    ("2 4/4\"", "unreadable-value", "4/4", "between 0 and 1"),
    ("2 5/4\"", "unreadable-value", "5/4", "between 0 and 1"),
    ("0/4\"", "unreadable-value", "0/4", "between 0 and 1"),
    ("6 1/2/4\"", "unreadable-value", "/4", "second fraction"),
    // Misplaced parts.
    ("5' 6' ", "unreadable-value", "'", "feet are found again"),
    ("\"6", "unreadable-value", "\"", "before its mark"),
    ("6\"'", "unreadable-value", "'", "second mark"),
    ("24’ 0″0", "unreadable-value", "0", "second one"),
    ("5'-6\" 1/2", "unreadable-value", "1/2", "before the inch mark"),
    ("5.5'-6\"", "unreadable-value", "5.5", "whole number"),
    ("5'-6.5 1/2\"", "unreadable-value", "6.5 1/2", "decimal point and a fraction"),
    // Signs, separators, guesses, tolerances that are none.
    ("-5 ft", "signed-value", "-", "sign"),
    ("5 ft -6 in -", "unreadable-value", "-", "hyphen"),
    ("12 ' - - 6\"", "unreadable-value", "- -", "hyphen"),
    ("1,200 mm", "unreadable-value", "1,200", "comma"),
    ("~24 ft", "unreadable-value", "~", "guess"),
    ("24 ft.-6 in +", "unreadable-value", "+", "+/-"),
    // Mixed systems, words, a fraction in one character.
    ("5 m 6 in", "unreadable-value", "6 in", "mixes"),
    ("twelve feet", "unreadable-value", "twelve", "digits"),
    ("5'-6½\"", "unreadable-value", "½", "1/2"),
];

#[test]
fn every_reject_row_is_refused_for_its_reason_at_its_place() {
    let data: serde_json::Value = serde_json::from_str(ROWS).unwrap();
    let listed: Vec<&str> = data["reject"].as_array().unwrap().iter().map(|row| row.as_str().unwrap()).collect();
    assert_eq!(listed.len(), REJECT.len());
    for text in listed {
        let (_, code, part, phrase) =
            REJECT.iter().find(|row| row.0 == text).unwrap_or_else(|| panic!("{text} has no reason beside it"));
        let error = read(QuantityKind::Length, text).expect_err(text);
        let said = format!("{} {}", error.message, error.help.clone().unwrap_or_default());
        assert_eq!((error.code, &text[error.at.clone()]), (*code, *part), "{text}: {said}");
        assert!(said.contains(phrase), "{text}: {said}");
        // Every refusal says what to write, in its message or behind it.
        assert!(said.contains("write") || said.contains("leave") || said.contains("state"), "{text}: {said}");
    }
}

#[test]
fn a_hyphen_between_blanks_has_no_value_here_because_it_subtracts_in_a_rule() {
    for text in ["6 ft - 2 in", "5' - 6\"", "3 in - 5 in"] {
        let error = read(QuantityKind::Length, text).expect_err(text);
        let said = format!("{} {}", error.message, error.help.unwrap_or_default());
        assert!(said.contains("`to` for a range"), "{text}: {said}");
    }
}
