//! What holds of every text: both dialects give it one value, no reader panics or points outside it, ranges rise.

use proptest::prelude::*;

use crate::quantity::literal::read_by_grammar;
use crate::quantity::plain::plain;
use crate::quantity::unit_table::UNITS;
use crate::quantity::{
    Dimension, LiteralError, Quantity, QuantityKind, Shown, System, read, read_date, rule_literal, show, tolerance,
    units_of,
};

/// Metres in a 64th of an inch, an inch being 25.4 mm by definition (NIST SP 811, appendix B).
const SIXTY_FOURTH: f64 = 0.0254 / 64.0;

/// The value of a text that is a rule literal from end to end, with its dimension.
fn in_rule(text: &str) -> Option<(f64, Dimension)> {
    let (number, used) = rule_literal(text)?.ok()?;
    (used == text.len()).then_some((number.lo, number.dimension))
}

fn in_submittal(kind: QuantityKind, text: &str) -> Option<Quantity> {
    read(kind, text).ok().map(|reading| reading.quantity)
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= tolerance(Quantity::point(a), Quantity::point(b))
}

/// `63/64`, `1/2`: a number of 64ths below 64, reduced.
fn fraction(part: u64) -> String {
    let shift = part.trailing_zeros().min(6);
    format!("{}/{}", part >> shift, 64 >> shift)
}

/// `5 63/64`, `5`, `63/64`, `0`.
fn mixed(sixty_fourths: u64) -> String {
    match (sixty_fourths / 64, sixty_fourths % 64) {
        (whole, 0) => whole.to_string(),
        (0, part) => fraction(part),
        (whole, part) => format!("{whole} {}", fraction(part)),
    }
}

/// The forms of a length that submittals and rules share.
fn shared_forms(sixty_fourths: u64) -> Vec<String> {
    let (feet, rest) = (sixty_fourths / 768, mixed(sixty_fourths % 768));
    let inches = mixed(sixty_fourths);
    vec![
        format!("{feet}'-{rest}\""),
        format!("{feet}'{rest}\""),
        format!("{feet}′-{rest}″"),
        format!("{feet}’-{rest}”"),
        format!("{feet} ft {rest} in"),
        format!("{inches} in"),
        format!("{inches}\""),
        format!("{inches} inches"),
        format!("{} in", sixty_fourths as f64 / 64.0),
        // 1/64 in is 0.396875 mm exactly.
        format!("{}.{:06} mm", sixty_fourths * 396_875 / 1_000_000, sixty_fourths * 396_875 % 1_000_000),
    ]
}

#[test]
fn every_64th_of_an_inch_up_to_60_ft_has_one_value_however_it_is_written_and_reads_back_from_print() {
    for n in 0..=60 * 768u64 {
        let meters = n as f64 * SIXTY_FOURTH;
        // A rule is read once and a submittal often; the prime step keeps the test short and meets every 64th.
        let in_rules_too = n <= 768 || n % 7 == 0;
        for text in shared_forms(n) {
            let submittal = in_submittal(QuantityKind::Length, &text).unwrap_or_else(|| panic!("{text} is refused"));
            assert!(submittal.is_point() && same(submittal.lo, meters), "{text}: {}", submittal.lo);
            if in_rules_too {
                let (rule, dimension) = in_rule(&text).unwrap_or_else(|| panic!("a rule refuses {text}"));
                assert!(dimension == Dimension::LENGTH && same(rule, meters), "{text}: {rule}");
            }
        }
        let value = Quantity::point(meters);
        let print = show(value, Dimension::LENGTH, Shown { system: System::Us, extra_digits: 0 });
        let back = in_submittal(QuantityKind::Length, &print).unwrap_or_else(|| panic!("{print} does not read back"));
        assert!(same(back.lo, meters), "{print}");
        // Millimetres are printed with four digits, so half of the last one is what may be lost.
        let print = show(value, Dimension::LENGTH, Shown { system: System::Metric, extra_digits: 0 });
        let back = in_submittal(QuantityKind::Length, &print).unwrap_or_else(|| panic!("{print} does not read back"));
        assert!((back.lo - meters).abs() <= 0.5e-3 * meters, "{print}: {meters}");
    }
}

#[test]
fn every_spelling_of_a_unit_is_worth_the_same_in_both_dialects() {
    let mut shared = 0;
    for unit in UNITS {
        for spelling in std::iter::once(&unit.name).chain(unit.aliases) {
            let kinds = QuantityKind::ALL.into_iter().map(|(kind, _)| kind);
            for kind in kinds.filter(|kind| units_of(*kind).contains(&unit.name)) {
                for text in [format!("2.5 {spelling}"), format!("40 {spelling}")] {
                    let submittal = in_submittal(kind, &text).unwrap_or_else(|| panic!("{kind:?} refuses {text}"));
                    let Some((rule, dimension)) = in_rule(&text) else { continue };
                    assert!(dimension == kind.dimension() && same(rule, submittal.lo), "{text}: {rule}");
                    shared += 1;
                }
            }
        }
    }
    // Left out are the spellings that rules refuse: `kg`, and those with a full stop or a degree sign.
    assert!(shared > 200, "only {shared} texts were compared");
}

/// A decimal with its unit is read the short way, as the grammar reads it; nothing else is.
#[test]
fn the_short_way_reads_decimals_with_a_unit_as_the_grammar_does() {
    let decimals = ["0", "2", "2.5", "0.75", "007", "00.10", "99999999999999", "123456789.25"];
    let others = [".5", "5.", "1.2.3", "1,5", "5-6", "²", "2 6", "1 1/2", "2 "];
    for unit in UNITS {
        for spelling in std::iter::once(&unit.name).chain(unit.aliases) {
            for (kind, _) in QuantityKind::ALL {
                for number in decimals {
                    let text = format!("{number} {spelling}");
                    let short = plain(kind, &text);
                    assert_eq!(short.is_some(), unit.measures(kind) && kind != QuantityKind::Slope, "{kind:?} {text}");
                    if let Some(short) = short {
                        assert_eq!(Ok(short), read_by_grammar(kind, &text), "{kind:?} {text}");
                    }
                    assert_eq!(plain(kind, &format!("{text} ")), None);
                }
                for number in others {
                    assert_eq!(plain(kind, &format!("{number} {spelling}")), None, "{kind:?} {number} {spelling}");
                }
            }
        }
    }
}

/// Where a rule subtracts, a submittal must not join: `6 ft - 2 in` would be 70 in to one and 74 in to the other.
#[test]
fn a_hyphen_between_blanks_is_never_a_value_of_a_submittal() {
    for text in ["6 ft - 2 in", "5' - 6\"", "5' -6\"", "5'- 6\"", "2 - 1/4 in", "2 ft -1/4 in", "18 in - 2 in"] {
        assert_eq!(in_submittal(QuantityKind::Length, text), None, "{text}");
        assert_eq!(in_rule(text), None, "{text} is one literal of a rule");
    }
}

/// A tolerance as large as its value reaches to zero, however the two round in their units.
#[test]
fn a_tolerance_down_to_zero_in_the_other_system_stays_at_zero() {
    for inches in 1..=400u32 {
        let tenths = inches * 254;
        let text = format!("{inches} in +/- {}.{} mm", tenths / 10, tenths % 10);
        let reach = in_submittal(QuantityKind::Length, &text).unwrap_or_else(|| panic!("{text} is refused"));
        assert!((0.0..1e-9).contains(&reach.lo), "{text}: {}", reach.lo);
    }
}

fn word() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "0",
        "1",
        "5",
        "12",
        "24",
        "6.5",
        ".5",
        "1/2",
        "3/64",
        "1/3",
        "4/8",
        "3,000",
        "1,20",
        "'",
        "\"",
        "’",
        "″",
        "''",
        "½",
        "-",
        "–",
        "−",
        "+",
        "/",
        ":",
        ".",
        ",",
        "%",
        "°",
        "×",
        "x",
        "~",
        "≤",
        "±",
        "+/-",
        " ",
        "  ",
        "\u{a0}",
        "\t",
        "ft",
        "in",
        "in.",
        "mm",
        "m",
        "kg",
        "lb",
        "psi",
        "lb/ft",
        "psf/ft",
        "mph",
        "min",
        "max",
        "to",
        "per",
        "s",
        "years",
        "deg",
        "TBD",
        "é",
        "漢",
        "2026-10-19",
        "2026",
    ])
}

/// Values of all sorts, pieces of values in any order, and plain noise.
fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => prop::collection::vec(word(), 0..9).prop_map(|words| words.concat()),
        3 => prop::collection::vec(word(), 0..7).prop_map(|words| words.join(" ")),
        1 => any::<String>(),
    ]
}

fn points_inside(error: &LiteralError, text: &str) -> bool {
    error.at.start <= error.at.end && text.get(error.at.clone()).is_some()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn no_text_makes_a_reader_panic_and_every_error_lies_inside_its_text(text in any_text()) {
        for (kind, _) in QuantityKind::ALL {
            if let Some(short) = plain(kind, &text) {
                prop_assert_eq!(Ok(short), read_by_grammar(kind, &text), "{:?} {:?}", kind, text);
            }
            match read(kind, &text) {
                Ok(reading) => {
                    let Quantity { lo, hi, mag, .. } = reading.quantity;
                    prop_assert!(0.0 <= lo && lo <= hi && lo.is_finite() && mag.is_finite(), "{:?} {:?}", kind, text);
                    prop_assert!(reading.remarks.iter().all(|remark| points_inside(remark, &text)), "{:?}", text);
                }
                Err(error) => {
                    prop_assert!(points_inside(&error, &text), "{:?} {:?}: {:?}", kind, text, error);
                    // Only a text of nothing has nothing to point at.
                    prop_assert!(!error.at.is_empty() || text.trim().is_empty(), "{:?} {:?}: {:?}", kind, text, error);
                    prop_assert!(!error.message.is_empty());
                }
            }
        }
        match rule_literal(&text) {
            Some(Ok((number, used))) => {
                prop_assert!(used > 0 && text.get(..used).is_some(), "{:?}: {}", text, used);
                prop_assert!(number.lo <= number.hi, "{:?}", text);
            }
            Some(Err(error)) => prop_assert!(points_inside(&error, &text), "{:?}: {:?}", text, error),
            None => {}
        }
        match read_date(&text) {
            Ok(days) => prop_assert!(days.lo <= days.hi),
            Err(error) => prop_assert!(points_inside(&error, &text), "{:?}: {:?}", text, error),
        }
    }

    #[test]
    fn a_text_that_both_dialects_accept_has_one_value(
        feet in 0u32..60, inches in 0u32..14, top in 0u32..70, shift in 0u32..8,
        mark in prop::sample::select(vec!["'", " '", "′", "’", " ft", "ft", " ft.", " feet", " FT", "''"]),
        joint in prop::sample::select(vec!["", " ", "-", " - ", "- ", " -", "\u{a0}", "  "]),
        gap in prop::sample::select(vec![" ", "-", "", "  "]),
        end in prop::sample::select(vec!["\"", " in", "in", "″", "", " mm", " in.", " inches", " ft"]),
    ) {
        let bottom = 1u32 << shift;
        let fraction = if top == 0 { String::new() } else { format!("{gap}{top}/{bottom}") };
        let texts = [
            format!("{feet}{mark}{joint}{inches}{fraction}{end}"),
            format!("{feet}.{inches}{mark}"),
            format!("{inches}{fraction}{end}"),
            format!("{feet}{mark}{joint}{top}/{bottom}{end}"),
            format!("{feet}{mark}"),
        ];
        for text in texts {
            if let (Some((rule, _)), Some(submittal)) = (in_rule(&text), in_submittal(QuantityKind::Length, &text)) {
                prop_assert!(same(rule, submittal.lo), "{}: {} and {}", text, rule, submittal.lo);
                prop_assert!(submittal.is_point(), "{}", text);
            }
        }
    }

    #[test]
    fn ranges_rise_and_a_falling_one_is_refused(
        kind in prop::sample::select(QuantityKind::ALL.map(|(kind, _)| kind).to_vec()),
        pick in any::<prop::sample::Index>(), a in 0u32..4000, b in 0u32..4000, shared in any::<bool>(),
    ) {
        prop_assume!(kind != QuantityKind::Count);
        let unit = *pick.get(units_of(kind));
        let one = |n: u32| format!("{} {unit}", f64::from(n) / 8.0);
        let text = if shared && kind != QuantityKind::Slope && kind != QuantityKind::Ratio {
            format!("{} to {}", f64::from(a) / 8.0, one(b))
        } else {
            format!("{} to {}", one(a), one(b))
        };
        let (low, high) = (in_submittal(kind, &one(a)).unwrap(), in_submittal(kind, &one(b)).unwrap());
        match read(kind, &text) {
            Ok(reading) => {
                prop_assert!(a <= b, "{}", text);
                prop_assert_eq!((reading.quantity.lo, reading.quantity.hi), (low.lo, high.lo), "{}", text);
                prop_assert!(reading.quantity.is_shown());
            }
            Err(error) => prop_assert!(a > b && error.code == "not-a-range", "{}: {:?}", text, error),
        }
    }

    #[test]
    fn tolerances_and_bounds_keep_their_ends_in_order(
        kind in prop::sample::select(QuantityKind::ALL.map(|(kind, _)| kind).to_vec()),
        pick in any::<prop::sample::Index>(), a in 0u32..4000, t in 0u32..4000,
    ) {
        prop_assume!(kind != QuantityKind::Count);
        let unit = *pick.get(units_of(kind));
        let one = |n: u32| format!("{} {unit}", f64::from(n) / 8.0);
        let value = in_submittal(kind, &one(a)).unwrap().lo;
        let text = format!("{} +/- {}", one(a), one(t));
        match read(kind, &text) {
            Ok(reading) => {
                let Quantity { lo, hi, .. } = reading.quantity;
                prop_assert!(t <= a && 0.0 <= lo && lo <= value && value <= hi, "{}: {} to {}", text, lo, hi);
                prop_assert!(reading.quantity.is_shown());
            }
            Err(error) => prop_assert!(t > a && error.code == "signed-value", "{}: {:?}", text, error),
        }
        let at_most = in_submittal(kind, &format!("{} max", one(a))).unwrap();
        prop_assert_eq!(at_most, Quantity::at_most(value));
        let at_least = in_submittal(kind, &format!("{} min", one(a))).unwrap();
        prop_assert_eq!(at_least, Quantity::at_least(value));
        prop_assert_eq!(in_submittal(kind, &format!("max {}", one(a))), Some(at_most));
        prop_assert_eq!(in_submittal(kind, &format!("min {}", one(a))), Some(at_least));
    }
}
