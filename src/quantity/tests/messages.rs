//! What refused texts are told: the place, what was expected and found, and what to write.

use crate::quantity::{QuantityKind, read};

/// Text of a length, code, the part the caret stands under, a phrase of the message, a phrase of the advice.
const REFUSED: [(&str, &str, &str, &str, &str); 36] = [
    ("24\u{200b}ft", "unreadable-value", "\u{200b}", "an invisible character (U+200B)", "`24ft`"),
    ("\u{feff}24 ft", "unreadable-value", "\u{feff}", "an invisible character (U+FEFF)", "`24 ft`"),
    ("", "unreadable-value", "", "a length is expected, nothing is found", "write 24 ft"),
    ("min", "unreadable-value", "min", "a length is expected, only `min` is found", "write 24 ft"),
    ("5 in to", "unreadable-value", "to", "the upper end of the range is expected", "leave `to` out"),
    ("5\u{a0}in\u{a0}to\u{a0}", "unreadable-value", "to", "the text ends here", "leave `to` out"),
    ("5 in +/-", "unreadable-value", "+/-", "a tolerance is expected, the text ends here", "leave `+/-` out"),
    ("4 in +/- 6 in", "signed-value", "6 in", "reaches below zero", "no larger than the value"),
    ("4 in +/- 1/2", "missing-unit", "1/2", "`1/2` has no unit", "ft, in"),
    ("5 in to 3 in", "not-a-range", "5 in to 3 in", "a range rises", "the smaller value first"),
    ("3 in-5 in", "unreadable-value", "-", "a range or a minus", "`to` for a range"),
    ("3-5 in", "unreadable-value", "3-5", "feet and inches or a range", "3 in to 5 in"),
    ("5'–6\"", "unreadable-value", "–", "a plain hyphen is expected, `–` is found", "5 ft 6 in"),
    ("5'-", "unreadable-value", "-", "a hyphen beside a blank", "write 6 ft 2 in"),
    ("5'-x", "unreadable-value", "-", "inches are expected behind the hyphen", "5'-6\""),
    ("5'-14\"", "unreadable-value", "14", "stay below 12", "write 6 ft 2 in, if `14`"),
    ("5'-12 1/2\"", "unreadable-value", "12 1/2", "stay below 12", "carry 12 in over"),
    ("5 ft 6 ft", "unreadable-value", "ft", "inches are expected here, feet are found again", "5 ft 6 in"),
    ("1 ½ in", "unreadable-value", "½", "one character", ""),
    ("5. in", "unreadable-value", ".", "digits are expected behind the point", "write 5,"),
    ("3/5 in", "unreadable-value", "5", "a denominator is 2, 4, 8, 16, 32 or 64; `5` is found", "as a decimal"),
    ("9/8 in", "unreadable-value", "9/8", "between 0 and 1; `9/8` is found", "2 3/4 in"),
    ("5 inchs", "unknown-unit", "inchs", "did you mean `inches`?", "a length takes ft, in, mm, cm or m"),
    ("6 in typ", "unreadable-value", "typ", "nothing is expected behind the value; `typ` is found", "only the value"),
    ("12 in 6 ft", "unreadable-value", "6", "a second one, `6`", "write only one"),
    ("≤ 5 in", "unreadable-value", "≤", "a number is expected, `≤` is found", "5 in max"),
    ("about 5 in", "unreadable-value", "about", "makes it a guess", "a tolerance"),
    ("7-8 m", "unreadable-value", "7-8", "a range or a difference", "write 7 m to 8 m"),
    ("7,3 m", "unreadable-value", "7,3", "`7,3` is refused", "write 7.3: a decimal has a point"),
    ("1,200 mm", "unreadable-value", "1,200", "a thousand or a decimal", "write 1200 or 1.200"),
    ("1 000 mm", "unreadable-value", "1 000", "`1 000` is found", "write 1000"),
    ("12 345 678 mm", "unreadable-value", "12 345 678", "the digits of a number stand together", "write 12345678"),
    ("24 600 6 in", "unreadable-value", "24 600", "the digits of a number stand together", "write 24600"),
    ("0,125 in", "unreadable-value", "0,125", "`0,125` is refused", "write 0.125: a decimal"),
    ("1 000.5 mm", "unreadable-value", "1 000", "stand together", "write 1000 with what follows behind it"),
    ("−5 in", "signed-value", "−", "no value carries a sign; `−` is found", "a field of its own"),
];

#[test]
fn a_refused_length_is_told_where_and_what_to_write() {
    for (text, code, part, phrase, advice) in REFUSED {
        let error = read(QuantityKind::Length, text).expect_err(text);
        assert_eq!((error.code, &text[error.at.clone()]), (code, part), "{text}: {}", error.message);
        assert!(error.message.contains(phrase), "{text}: {}", error.message);
        assert!(error.help.clone().unwrap_or_default().contains(advice), "{text}: {:?}", error.help);
    }
}

/// Advice that would change the value by its unit is worse than none.
#[test]
fn no_other_value_is_advised() {
    let of = |kind, text| read(kind, text).expect_err(text);
    let per_inch = of(QuantityKind::LineLoad, "10 lb/in");
    assert!(!per_inch.message.contains("did you mean"), "{}", per_inch.message);
    assert_eq!(per_inch.help.as_deref(), Some("a line load takes lb/ft, N/m, kN/m or kg/m"));
    for (same, unit) in [("10 LB/FT", "lb/ft"), ("10 lbs/feet", "lbs/ft")] {
        let error = of(QuantityKind::LineLoad, same);
        assert!(error.message.contains(&format!("did you mean `{unit}`")), "{same}: {}", error.message);
    }
    let misspelt = of(QuantityKind::LineLoad, "10 lbs/ftt");
    assert!(misspelt.message.contains("did you mean"), "{}", misspelt.message);
    assert_eq!(of(QuantityKind::Count, "1.0").help.as_deref(), Some("write 1"));
    let large = of(QuantityKind::Count, "99999999999999999999.0").help;
    assert_eq!(large.as_deref(), Some("write 2; a count has no range and no tolerance"));
    assert_eq!(of(QuantityKind::Count, "1.5").help.as_deref(), Some("write 2; a count has no range and no tolerance"));
}

#[test]
fn an_unreduced_fraction_is_read_and_remarked_on_at_its_place() {
    for (text, part, phrase) in [
        ("4/8 in", "4/8", "read as 1/2"),
        ("5'-6 2/4\"", "2/4", "read as 1/2"),
        ("1/2 in to 6/8 in", "6/8", "read as 3/4"),
    ] {
        let reading = read(QuantityKind::Length, text).unwrap();
        assert_eq!(reading.remarks.len(), 1, "{text}");
        let remark = &reading.remarks[0];
        assert_eq!((remark.code, &text[remark.at.clone()]), ("unreduced-fraction", part));
        assert!(remark.message.contains(phrase), "{text}: {}", remark.message);
    }
    assert_eq!(read(QuantityKind::Length, "2/4 in to 6/8 in").unwrap().remarks.len(), 2);
}

/// A run that is read as endless would make the slope flat.
#[test]
fn a_run_larger_than_any_number_is_refused() {
    let endless = "9".repeat(400);
    for slope in [format!("1:{endless}"), format!("1/4 in per {endless} ft"), format!("1 in / {endless} in")] {
        let error = read(QuantityKind::Slope, &slope).expect_err(&slope);
        assert!(error.message.contains("this run is larger than any"), "{}", error.message);
        assert!(slope[error.at.clone()].contains(&endless), "{:?}", error.at);
    }
    assert!(read(QuantityKind::Slope, "1:999").is_ok());
}
