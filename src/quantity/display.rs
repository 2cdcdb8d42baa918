//! Quantities as people read them.
//!
//! Lengths in US units are feet, inches and fractions where that says the value exactly, else decimals; everything else
//! is a decimal in a unit that suits its size. Digits are enough to tell the value from its neighbours on a drawing;
//! `Shown::extra_digits` adds some where two values would print alike.

use super::unit_table::{FOOT, INCH, POUND};
use super::{Dimension, Quantity, System, find_unit};

/// How a value is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// System to print in.
    pub system: System,
    /// Digits beyond the usual ones, for two values that would print alike.
    pub extra_digits: u8,
}

/// A computed value in one system: `2 1/4 in`, `57.15 mm`, `3 in to 5 1/2 in`, `5 in max`.
pub fn show(quantity: Quantity, dimension: Dimension, shown: Shown) -> String {
    let one = |value: f64| show_value(value, dimension, shown);
    match (quantity.lo_declared, quantity.hi_declared) {
        (false, true) => format!("{} max", one(quantity.hi)),
        (true, false) => format!("{} min", one(quantity.lo)),
        _ if quantity.lo == quantity.hi => one(quantity.lo),
        _ if quantity.hi.is_infinite() => format!("{} or more", one(quantity.lo)),
        _ => {
            let (lo, hi) = (one(quantity.lo), one(quantity.hi));
            if lo == hi { lo } else { format!("{lo} to {hi}") }
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

fn show_value(value: f64, dimension: Dimension, shown: Shown) -> String {
    if dimension == Dimension::LENGTH && shown.system != System::Metric && value >= 0.0 {
        return us_length(value, shown.extra_digits);
    }
    if dimension.is_none() {
        return decimal(value, 4, shown.extra_digits);
    }
    let (unit, factor) = unit_for(value.abs(), dimension, shown.system);
    format!("{} {unit}", decimal(value / factor, 4, shown.extra_digits))
}

/// The unit that suits a value of a size (SI), with its SI value. For a dimension without a unit of its own, `SI`.
pub fn unit_for(size: f64, dimension: Dimension, system: System) -> (&'static str, f64) {
    const VOLUME: Dimension = Dimension { length: 3, ..Dimension::NONE };
    const ENERGY: Dimension = Dimension { length: 1, force: 1, ..Dimension::NONE };
    let metric = system == System::Metric;
    let unit = match (dimension, metric) {
        (VOLUME, true) => return ("m3", 1.0),
        // 27 ft3: concrete is ordered by the cubic yard.
        (VOLUME, false) => return ("yd3", 27.0 * FOOT * FOOT * FOOT),
        (ENERGY, true) => return ("J", 1.0),
        (ENERGY, false) => return ("ft-lbf", FOOT * POUND),
        (Dimension::TIME, _) if size >= 31_557_600.0 => "years",
        (Dimension::TIME, _) if size >= 2_629_800.0 => "months",
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
        (Dimension::FORCE, false) => "lb",
        (Dimension::PRESSURE, true) if size >= 1e6 => "MPa",
        (Dimension::PRESSURE, true) => "kPa",
        // 50 psi: soil and wind are spoken of in psf, concrete and steel in psi.
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

/// Feet, inches and 64ths where they say the value exactly; inches with decimals otherwise.
fn us_length(value: f64, extra_digits: u8) -> String {
    let inches = value / INCH;
    let sixty_fourths = (inches * 64.0).round();
    let exact = (inches * 64.0 - sixty_fourths).abs() <= 1e-7 * sixty_fourths.abs().max(1.0);
    if !exact || !(0.0..=1e12).contains(&sixty_fourths) {
        if inches.abs() >= 24.0 {
            return format!("{} ft", decimal(value / FOOT, 5, extra_digits));
        }
        return format!("{} in", decimal(inches, 4, extra_digits));
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
    if whole < 24 {
        return small(whole);
    }
    let (feet, rest) = (whole / 12, whole % 12);
    if rest == 0 && part == 0 { format!("{feet} ft") } else { format!("{feet} ft {}", small(rest)) }
}

/// A decimal with some significant digits, never fewer than the whole ones, without trailing zeros.
fn decimal(value: f64, significant: i32, extra: u8) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".to_owned() } else { "unbounded".to_owned() };
    }
    let magnitude = value.abs().log10().floor() as i32;
    let places = (significant - 1 - magnitude + i32::from(extra)).clamp(i32::from(extra > 0), 12);
    let places = usize::try_from(places).unwrap_or(0);
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
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
    fn extra_digits_tell_near_values_apart() {
        let (a, b) = (Quantity::point(0.0571500), Quantity::point(0.0571501));
        let with = |quantity, extra_digits| show(quantity, Dimension::LENGTH, Shown { extra_digits, ..METRIC });
        assert_eq!(with(a, 0), with(b, 0));
        assert_ne!(with(a, 3), with(b, 3));
    }
}
