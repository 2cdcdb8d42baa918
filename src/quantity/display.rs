//! Quantities as people read them.
//!
//! Lengths in US units are feet, inches and fractions where that says the value exactly, else decimals; everything else
//! is a decimal in a unit that suits its size. Digits are enough to tell the value from its neighbours on a drawing;
//! `Shown::extra_digits` adds some where two values would print alike.

use super::arithmetic::TOLERANCE;
use super::unit_table::{FOOT, INCH, MONTH, POUND, YEAR};
use super::{Dimension, Quantity, System, Unit, find_unit};

/// How a value is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// System to print in.
    pub system: System,
    /// Digits beyond the usual ones, for two values that would print alike.
    pub extra_digits: u8,
}

/// A value as printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// Its text.
    pub text: String,
    /// What the text says of its lower and its upper end, in SI: the rounded values.
    pub ends: [f64; 2],
}

/// A computed value in one system: `2 1/4 in`, `57.15 mm`, `3 in to 5 1/2 in`, `5 in max`.
pub fn show(quantity: Quantity, dimension: Dimension, shown: Shown) -> String {
    printed(quantity, dimension, shown, None).text
}

/// The same in a unit of that system, where one is given, instead of the one that suits the size.
pub fn printed(quantity: Quantity, dimension: Dimension, shown: Shown, unit: Option<&'static Unit>) -> Printed {
    // What lies within the tolerance of comparisons is noise of the arithmetic: a difference of equal values is 0.
    let noise = TOLERANCE * quantity.mag;
    // Both ends of a range in one unit, that of the larger.
    let of_size = |value: f64, size: f64| {
        let value = if value.abs() <= noise { 0.0 } else { value };
        show_value(value, size, noise, dimension, shown, unit)
    };
    let one = |value: f64, behind: &str| {
        let (text, value) = of_size(value, value.abs());
        Printed { text: text + behind, ends: [value; 2] }
    };
    match (quantity.lo_declared, quantity.hi_declared) {
        (false, true) => one(quantity.hi, " max"),
        (true, false) => one(quantity.lo, " min"),
        _ if quantity.lo == quantity.hi => one(quantity.lo, ""),
        _ if quantity.hi.is_infinite() => one(quantity.lo, " or more"),
        _ => {
            let size = quantity.lo.abs().max(quantity.hi.abs());
            let ((lo, from), (hi, to)) = (of_size(quantity.lo, size), of_size(quantity.hi, size));
            let text = if lo == hi { lo } else { format!("{lo} to {hi}") };
            Printed { text, ends: [from, to] }
        }
    }
}

/// A computed value in one system with the other in brackets.
pub fn in_system(quantity: Quantity, dimension: Dimension, shown: Shown) -> String {
    let text = show(quantity, dimension, shown);
    let other = other_system(quantity, dimension, shown.system);
    if other.is_empty() { text } else { format!("{text} ({other})") }
}

/// The value in the system that its author does not write in; empty where there is none to show.
pub fn other_system(quantity: Quantity, dimension: Dimension, author: System) -> String {
    let system = match author {
        System::Us => System::Metric,
        System::Metric => System::Us,
        System::Neutral => return String::new(),
    };
    let neutral = [Dimension::NONE, Dimension::TIME, Dimension::ANGLE].contains(&dimension);
    if neutral { String::new() } else { show(quantity, dimension, Shown { system, extra_digits: 0 }) }
}

/// The text of one value, with what it says.
fn show_value(
    value: f64,
    size: f64,
    noise: f64,
    dimension: Dimension,
    shown: Shown,
    unit: Option<&'static Unit>,
) -> (String, f64) {
    if dimension == Dimension::LENGTH && shown.system != System::Metric {
        let in_inches = unit.is_some_and(|unit| unit.factor == INCH);
        let (text, length) = us_length(value.abs(), noise, shown.extra_digits, in_inches);
        return if value < 0.0 { (format!("-{text}"), -length) } else { (text, length) };
    }
    let (name, factor) = match (unit, unit_for(size, dimension, shown.system)) {
        _ if dimension.is_none() => (String::new(), 1.0),
        (Some(unit), _) => (unit.name.to_owned(), unit.factor),
        (None, ("SI", _)) => composed_unit(dimension, shown.system),
        (None, (unit, factor)) => (unit.to_owned(), factor),
    };
    let number = decimal(value / factor, 4, shown.extra_digits);
    let says = number.parse::<f64>().map_or(value, |rounded| rounded * factor);
    (format!("{number} {name}").trim_end().to_owned(), says)
}

/// A unit made of the base units of a system, for a dimension that no unit of the table has: `lb in2`, `N/mm`.
fn composed_unit(dimension: Dimension, system: System) -> (String, f64) {
    let metric = system == System::Metric;
    let bases = [
        (dimension.force, if metric { ("N", 1.0) } else { ("lb", POUND) }),
        (dimension.length, if metric { ("mm", 0.001) } else { ("in", INCH) }),
        (dimension.time, ("s", 1.0)),
        (dimension.angle, ("rad", 1.0)),
    ];
    let (mut above, mut below, mut factor) = (Vec::new(), Vec::new(), 1.0);
    for (exponent, (name, size)) in bases.into_iter().filter(|(exponent, _)| *exponent != 0) {
        factor *= f64::powi(size, i32::from(exponent));
        let part = match exponent.unsigned_abs() {
            1 => name.to_owned(),
            power => format!("{name}{power}"),
        };
        if exponent > 0 { above.push(part) } else { below.push(part) }
    }
    let above = if above.is_empty() { "1".to_owned() } else { above.join(" ") };
    let text = below.into_iter().fold(above, |text, part| format!("{text}/{part}"));
    (text, factor)
}

/// The unit that suits a value of a size (SI), with its SI value. For a dimension without a unit of its own, `SI`.
pub fn unit_for(size: f64, dimension: Dimension, system: System) -> (&'static str, f64) {
    /// 1 ft3.
    const SMALL_VOLUME: f64 = FOOT * FOOT * FOOT;
    let metric = system == System::Metric;
    let unit = match (dimension, metric) {
        // A section modulus is far smaller than the concrete of a footing, which is ordered by the cubic yard.
        (Dimension::VOLUME, true) if size < SMALL_VOLUME => "cm3",
        (Dimension::VOLUME, true) => "m3",
        (Dimension::VOLUME, false) if size < SMALL_VOLUME => "in3",
        (Dimension::VOLUME, false) => "yd3",
        (Dimension::MOMENT, true) if size >= 10_000.0 => "kN-m",
        (Dimension::MOMENT, true) => "N-m",
        (Dimension::MOMENT, false) if size >= 10_000.0 * FOOT * POUND => "kip-ft",
        (Dimension::MOMENT, false) => "lb-ft",
        (Dimension::INERTIA, true) => "cm4",
        (Dimension::INERTIA, false) => "in4",
        (Dimension::TIME, _) if size >= YEAR => "years",
        (Dimension::TIME, _) if size >= MONTH => "months",
        (Dimension::TIME, _) if size >= 120.0 => "min",
        (Dimension::TIME, _) => "s",
        (Dimension::ANGLE, _) => "deg",
        (Dimension::LENGTH, true) if size >= 3.0 => "m",
        (Dimension::LENGTH, true) => "mm",
        (Dimension::LENGTH, false) if size >= 24.0 * INCH => "ft",
        (Dimension::LENGTH, false) => "in",
        (Dimension::AREA, true) if size >= 0.1 => "m2",
        (Dimension::AREA, true) => "mm2",
        (Dimension::AREA, false) if size >= FOOT * FOOT => "ft2",
        (Dimension::AREA, false) => "in2",
        (Dimension::FORCE, true) if size >= 10_000.0 => "kN",
        (Dimension::FORCE, true) => "N",
        (Dimension::FORCE, false) if size >= 20_000.0 * POUND => "kip",
        (Dimension::FORCE, false) => "lb",
        (Dimension::PRESSURE, true) if size >= 1e6 => "MPa",
        (Dimension::PRESSURE, true) => "kPa",
        (Dimension::PRESSURE, false) if size >= 10_000.0 * POUND / (INCH * INCH) => "ksi",
        // 50 psi: soil and wind are spoken of in psf, concrete in psi, steel in ksi.
        (Dimension::PRESSURE, false) if size >= 50.0 * POUND / (INCH * INCH) => "psi",
        (Dimension::PRESSURE, false) => "psf",
        (Dimension::LINE_LOAD, true) => "N/m",
        (Dimension::LINE_LOAD, false) => "lb/ft",
        (Dimension::SOIL_GRADIENT, true) => "kPa/m",
        (Dimension::SOIL_GRADIENT, false) => "psf/ft",
        (Dimension::SPEED, true) => "m/s",
        (Dimension::SPEED, false) if size >= 10.0 * 0.44704 => "mph",
        (Dimension::SPEED, false) => "ft/s",
        (Dimension::ACCELERATION, true) => "m/s2",
        (Dimension::ACCELERATION, false) => "ft/s2",
        _ => return ("SI", 1.0),
    };
    find_unit(unit).map_or(("SI", 1.0), |found| (found.name, found.factor))
}

/// Feet, inches and 64ths where they say the value exactly; decimals otherwise; with what they say. The value is not
/// negative.
fn us_length(value: f64, noise: f64, extra_digits: u8, in_inches: bool) -> (String, f64) {
    let inches = value / INCH;
    let sixty_fourths = (inches * 64.0).round();
    let exact = (inches * 64.0 - sixty_fourths).abs() * INCH / 64.0 <= noise.max(TOLERANCE * value);
    if !exact || sixty_fourths > 1e12 {
        let (number, unit, factor) = if inches >= 24.0 && !in_inches {
            (off_the_64ths(value / FOOT, 5, extra_digits, 12.0 * 64.0), "ft", FOOT)
        } else {
            (off_the_64ths(inches, 4, extra_digits, 64.0), "in", INCH)
        };
        let says = number.parse::<f64>().map_or(value, |rounded| rounded * factor);
        return (format!("{number} {unit}"), says);
    }
    let sixty_fourths = sixty_fourths as u64;
    let (whole, part) = (sixty_fourths / 64, sixty_fourths % 64);
    let fraction = |part: u64| {
        let shift = part.trailing_zeros().min(6);
        format!("{}/{}", part >> shift, 64 >> shift)
    };
    let small = |whole: u64| match (whole, part) {
        (whole, 0) => format!("{whole} in"),
        (0, part) => format!("{} in", fraction(part)),
        (whole, part) => format!("{whole} {} in", fraction(part)),
    };
    let (feet, rest) = (whole / 12, whole % 12);
    let text = match (rest, part) {
        _ if whole < 24 || in_inches => small(whole),
        (0, 0) => format!("{feet} ft"),
        _ => format!("{feet} ft {}", small(rest)),
    };
    (text, value)
}

/// A decimal that does not round to a 64th of an inch: the value is none, and `2.25 in` for 2.2501 in would read like
/// the `2 1/4 in` it is compared with. `per_unit` is how many 64ths of an inch the unit has.
fn off_the_64ths(value: f64, significant: i32, extra_digits: u8, per_unit: f64) -> String {
    let digits = (extra_digits..=extra_digits.saturating_add(9)).map(|extra| decimal(value, significant, extra));
    let mut last = String::new();
    for text in digits {
        let rounded = text.parse::<f64>().unwrap_or(value) * per_unit;
        last = text;
        if (rounded - rounded.round()).abs() > TOLERANCE * rounded {
            break;
        }
    }
    last
}

/// A decimal with some significant digits, never fewer than the whole ones, without trailing zeros.
fn decimal(value: f64, significant: i32, extra: u8) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".to_owned() } else { "unbounded".to_owned() };
    }
    let magnitude = value.abs().log10().floor() as i32;
    let places = (significant - 1 - magnitude + i32::from(extra)).clamp(i32::from(extra > 0), 18);
    let places = usize::try_from(places).unwrap_or(0);
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::quantity::{QuantityKind, read};

    const US: Shown = Shown { system: System::Us, extra_digits: 0 };
    const METRIC: Shown = Shown { system: System::Metric, extra_digits: 0 };

    fn quantity(kind: QuantityKind, text: &str) -> Quantity {
        read(kind, text).unwrap().quantity
    }

    #[test]
    fn lengths_in_both_systems() {
        let length = |text: &str| quantity(QuantityKind::Length, text);
        for (text, us, metric) in [
            ("2 1/4 in", "2 1/4 in", "57.15 mm"),
            ("24 ft", "24 ft", "7.315 m"),
            ("6 ft 6 1/2 in", "6 ft 6 1/2 in", "1994 mm"),
            ("18 in", "18 in", "457.2 mm"),
            ("1/64 in", "1/64 in", "0.3969 mm"),
            ("57 mm", "2.244 in", "57 mm"),
            ("2.5 m", "8.2021 ft", "2500 mm"),
            ("3 in to 5 1/2 in", "3 in to 5 1/2 in", "76.2 mm to 139.7 mm"),
            ("5 in max", "5 in max", "127 mm max"),
            ("3 in min", "3 in min", "76.2 mm min"),
            ("0 in", "0 in", "0 mm"),
        ] {
            assert_eq!(show(length(text), Dimension::LENGTH, US), us, "{text}");
            assert_eq!(show(length(text), Dimension::LENGTH, METRIC), metric, "{text}");
        }
        assert_eq!(in_system(length("2 1/4 in"), Dimension::LENGTH, US), "2 1/4 in (57.15 mm)");
        assert_eq!(other_system(length("57.15 mm"), Dimension::LENGTH, System::Metric), "2 1/4 in");
    }

    #[test]
    fn other_kinds_take_a_unit_of_their_size() {
        for (kind, text, us, metric) in [
            (QuantityKind::Pressure, "2500 psi", "2500 psi", "17.24 MPa"),
            (QuantityKind::Pressure, "20 psf", "20 psf", "0.9576 kPa"),
            (QuantityKind::Weight, "800 lb", "800 lb", "3559 N"),
            (QuantityKind::LineLoad, "26 lb/ft", "26 lb/ft", "379.4 N/m"),
            (QuantityKind::SoilGradient, "150 psf/ft", "150 psf/ft", "23.56 kPa/m"),
            (QuantityKind::Speed, "115 mph", "115 mph", "51.41 m/s"),
            (QuantityKind::Speed, "1 ft/s", "1 ft/s", "0.3048 m/s"),
            (QuantityKind::Area, "2.5 in2", "2.5 in2", "1613 mm2"),
        ] {
            assert_eq!(show(quantity(kind, text), kind.dimension(), US), us, "{text}");
            assert_eq!(show(quantity(kind, text), kind.dimension(), METRIC), metric, "{text}");
        }
        assert_eq!(other_system(Quantity::point(2.0), Dimension::TIME, System::Us), "");
    }

    #[test]
    fn a_value_that_is_no_64th_is_not_printed_like_one() {
        let inches = |value: f64| show(Quantity::point(value * INCH), Dimension::LENGTH, US);
        assert_eq!(inches(2.25), "2 1/4 in");
        assert_eq!(inches(2.2501), "2.2501 in");
        assert_eq!(inches(2.250_000_01), "2.25000001 in");
        assert_eq!(inches(2.251), "2.251 in");
        // 288.0012 in is 24.0001 ft.
        assert_eq!(inches(288.0012), "24.0001 ft");
        // A binary number near 1/64 in from below 1 part in 1e9 is that 64th.
        assert_eq!(inches(0.015_625 * (1.0 + 1e-12)), "1/64 in");
    }

    #[test]
    fn computed_differences_carry_a_sign_and_no_noise() {
        let length = |text: &str| quantity(QuantityKind::Length, text);
        let below = length("1 ft").minus(length("7 ft 2 in"));
        assert_eq!(show(below, Dimension::LENGTH, US), "-6 ft 2 in");
        assert_eq!(show(below, Dimension::LENGTH, METRIC), "-1880 mm");
        let nothing = length("0.3 m").minus(length("0.1 m")).minus(length("0.2 m"));
        assert_ne!(nothing.lo, 0.0);
        assert_eq!(show(nothing, Dimension::LENGTH, US), "0 in");
        assert_eq!(show(nothing, Dimension::LENGTH, METRIC), "0 mm");
    }

    #[test]
    fn large_forces_and_strengths_take_the_thousand() {
        assert_eq!(show(quantity(QuantityKind::Pressure, "50 ksi"), Dimension::PRESSURE, US), "50 ksi");
        assert_eq!(show(quantity(QuantityKind::Force, "25 kip"), Dimension::FORCE, US), "25 kip");
        assert_eq!(show(quantity(QuantityKind::Force, "12000 lb"), Dimension::FORCE, US), "12000 lb");
    }

    /// 144 psf are 1 psi.
    #[test]
    fn both_ends_of_a_range_are_in_one_unit() {
        let range = |text: &str, kind| show(quantity(kind, text), kind.dimension(), US);
        assert_eq!(range("144 psf to 200 psi", QuantityKind::Pressure), "1 psi to 200 psi");
        assert_eq!(range("144 psf to 300 psf", QuantityKind::Pressure), "144 psf to 300 psf");
        let metric = quantity(QuantityKind::Length, "900 mm to 4 m");
        assert_eq!(show(metric, Dimension::LENGTH, METRIC), "0.9 m to 4 m");
        // Feet and inches are one way of writing, not two units.
        assert_eq!(range("6 in to 2 ft 6 in", QuantityKind::Length), "6 in to 2 ft 6 in");
    }

    #[test]
    fn a_dimension_without_a_unit_of_its_own_is_made_of_base_units() {
        let stiffness = Dimension { force: 1, length: 2, ..Dimension::NONE };
        // 1 lb in2 is 4.4482216 N x 645.16 mm2 = 2869.8 N mm2.
        let one = Quantity::point(POUND * INCH * INCH);
        assert_eq!(show(one, stiffness, US), "1 lb in2");
        assert_eq!(show(one, stiffness, METRIC), "2870 N mm2");
        let rate = Dimension { time: -1, ..Dimension::NONE };
        assert_eq!(show(Quantity::point(2.0), rate, US), "2 1/s");
    }

    proptest! {
        /// Six digits beyond the four usual ones tell apart what a comparison tells apart.
        #[test]
        fn values_that_differ_can_be_told_apart(
            size in -3.0..3.0f64, step in -8.6..-2.0f64, kind in 0usize..QuantityKind::ALL.len(), metric: bool
        ) {
            let dimension = QuantityKind::ALL[kind].0.dimension();
            let system = if metric { System::Metric } else { System::Us };
            let (value, step) = (10f64.powf(size), 10f64.powf(step));
            let (a, b) = (Quantity::point(value), Quantity::point(value * (1.0 + step)));
            let text = |quantity, extra_digits| show(quantity, dimension, Shown { system, extra_digits });
            prop_assert!((0..=6).any(|extra| text(a, extra) != text(b, extra)), "{}", text(a, 6));
        }
    }

    #[test]
    fn extra_digits_tell_near_values_apart() {
        let (a, b) = (Quantity::point(0.0571500), Quantity::point(0.0571501));
        let with = |quantity, extra_digits| show(quantity, Dimension::LENGTH, Shown { extra_digits, ..METRIC });
        assert_eq!(with(a, 0), with(b, 0));
        assert_ne!(with(a, 3), with(b, 3));
    }
}
