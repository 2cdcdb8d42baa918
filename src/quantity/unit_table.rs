//! The unit table: every unit that a submittal or a rule may be written in.
//!
//! Exact factors are definitions: the international foot, pound and mile and standard gravity (NIST SP 811, 2008,
//! appendix B; NIST Handbook 44, appendix C). Everything else is derived from them here. A test compares the table with
//! an independent unit library.

use super::{Dimension, System, Unit};

/// Metres in an inch: exact, NIST SP 811 appendix B.
pub(crate) const INCH: f64 = 0.0254;
/// Metres in a foot: exact (12 in).
pub(crate) const FOOT: f64 = 0.3048;
/// Newtons in a kilogram under standard gravity: exact, 9.80665 m/s2, 3rd CGPM (1901), NIST SP 811 table 1.
const KILOGRAM: f64 = 9.80665;
/// Newtons in a pound of force: exact, 0.45359237 kg x 9.80665 m/s2, NIST SP 811 appendix B.
pub(crate) const POUND: f64 = 4.448_221_615_260_5;
/// Pascals in a pound per square inch.
const PSI: f64 = POUND / (INCH * INCH);
/// Pascals in a pound per square foot.
const PSF: f64 = POUND / (FOOT * FOOT);
/// Seconds in a year of 365.25 days: common practice for intervals; the calendar year differs by up to a day.
pub(super) const YEAR: f64 = 31_557_600.0;
/// Seconds in a month, a twelfth of a year: common practice, months have 28 to 31 days.
pub(super) const MONTH: f64 = 2_629_800.0;
/// Radians in a degree: exact.
pub(super) const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// Every unit. Capitals stand among the aliases where drawings are lettered in capitals.
pub(super) static UNITS: &[Unit] = &[
    us("in", &["in.", "inch", "inches", "IN", "IN."], Dimension::LENGTH, INCH),
    us("ft", &["ft.", "foot", "feet", "FT", "FT."], Dimension::LENGTH, FOOT),
    metric("mm", &["millimeter", "millimeters", "millimetre", "millimetres"], Dimension::LENGTH, 0.001),
    metric("cm", &["centimeter", "centimeters", "centimetre", "centimetres"], Dimension::LENGTH, 0.01),
    metric("m", &["meter", "meters", "metre", "metres"], Dimension::LENGTH, 1.0),
    us("in2", &["in²", "in^2", "IN2"], Dimension::AREA, INCH * INCH),
    us("ft2", &["ft²", "ft^2", "FT2"], Dimension::AREA, FOOT * FOOT),
    metric("mm2", &["mm²", "mm^2"], Dimension::AREA, 1e-6),
    metric("m2", &["m²", "m^2"], Dimension::AREA, 1.0),
    us(
        "lb",
        &["lbf", "lbs", "lb.", "lbs.", "pound", "pounds", "LB", "LBS", "LB.", "LBS.", "LBF"],
        Dimension::FORCE,
        POUND,
    ),
    us("kip", &["kips", "KIP", "KIPS"], Dimension::FORCE, 1000.0 * POUND),
    metric("N", &[], Dimension::FORCE, 1.0),
    metric("kN", &[], Dimension::FORCE, 1000.0),
    not_in_rules(metric("kg", &["kgs", "kilogram", "kilograms"], Dimension::FORCE, KILOGRAM)),
    us("psf", &["PSF", "lb/ft2", "lbf/ft2", "lb/ft²", "lbf/ft²"], Dimension::PRESSURE, PSF),
    us("psi", &["PSI", "lb/in2", "lbf/in2", "lb/in²", "lbf/in²"], Dimension::PRESSURE, PSI),
    us("ksi", &["KSI"], Dimension::PRESSURE, 1000.0 * PSI),
    metric("Pa", &[], Dimension::PRESSURE, 1.0),
    metric("kPa", &["kN/m2", "kN/m²"], Dimension::PRESSURE, 1000.0),
    metric("MPa", &["N/mm2", "N/mm²"], Dimension::PRESSURE, 1e6),
    us("lb/ft", &["plf", "PLF", "lbf/ft", "lbs/ft", "lb/foot", "lbs/foot"], Dimension::LINE_LOAD, POUND / FOOT),
    metric("N/m", &[], Dimension::LINE_LOAD, 1.0),
    metric("kN/m", &[], Dimension::LINE_LOAD, 1000.0),
    not_in_rules(metric("kg/m", &[], Dimension::LINE_LOAD, KILOGRAM)),
    us(
        "psf/ft",
        &["pcf", "PCF", "PSF/FT", "psf/foot", "lb/ft3", "lbf/ft3", "lb/ft³", "lbf/ft³"],
        Dimension::SOIL_GRADIENT,
        PSF / FOOT,
    ),
    metric("kPa/m", &["kN/m3", "kN/m³"], Dimension::SOIL_GRADIENT, 1000.0),
    // Exact: 1609.344 m in a mile over 3600 s.
    us("mph", &["MPH"], Dimension::SPEED, 0.44704),
    us("ft/s", &["fps", "FPS", "ft/sec"], Dimension::SPEED, FOOT),
    us("in/s", &["ips", "in/sec"], Dimension::SPEED, INCH),
    us("ft/min", &["fpm", "FPM"], Dimension::SPEED, FOOT / 60.0),
    metric("m/s", &["m/sec"], Dimension::SPEED, 1.0),
    metric("mm/s", &["mm/sec"], Dimension::SPEED, 0.001),
    metric("km/h", &[], Dimension::SPEED, 1000.0 / 3600.0),
    us("ft/s2", &["ft/s²", "ft/sec2", "ft/s^2"], Dimension::ACCELERATION, FOOT),
    metric("m/s2", &["m/s²", "m/sec2", "m/s^2"], Dimension::ACCELERATION, 1.0),
    neutral("ms", &["millisecond", "milliseconds"], Dimension::TIME, 0.001),
    neutral("s", &["sec", "sec.", "secs", "second", "seconds", "SEC", "SEC."], Dimension::TIME, 1.0),
    neutral("min", &["mins", "minute", "minutes"], Dimension::TIME, 60.0),
    neutral("months", &["month"], Dimension::TIME, MONTH),
    neutral("years", &["year", "yr", "yrs"], Dimension::TIME, YEAR),
    neutral("deg", &["°", "degree", "degrees", "DEG", "deg."], Dimension::ANGLE, DEGREE),
    not_in_rules(us("lb-ft", &["ft-lb", "ft-lbf", "lbf-ft"], Dimension::MOMENT, POUND * FOOT)),
    not_in_rules(us("kip-ft", &["k-ft", "ft-kip"], Dimension::MOMENT, 1000.0 * POUND * FOOT)),
    not_in_rules(us("lb-in", &["in-lb", "lbf-in"], Dimension::MOMENT, POUND * INCH)),
    not_in_rules(metric("N-m", &["Nm"], Dimension::MOMENT, 1.0)),
    not_in_rules(metric("kN-m", &["kNm"], Dimension::MOMENT, 1000.0)),
    not_in_rules(metric("J", &[], Dimension::MOMENT, 1.0)),
    us("in3", &["in³", "in^3"], Dimension::VOLUME, INCH * INCH * INCH),
    us("yd3", &["yd³", "yd^3"], Dimension::VOLUME, 27.0 * FOOT * FOOT * FOOT),
    metric("mm3", &["mm³", "mm^3"], Dimension::VOLUME, 1e-9),
    metric("cm3", &["cm³", "cm^3"], Dimension::VOLUME, 1e-6),
    metric("m3", &["m³", "m^3"], Dimension::VOLUME, 1.0),
    us("in4", &["in⁴", "in^4"], Dimension::INERTIA, INCH * INCH * INCH * INCH),
    metric("mm4", &["mm⁴", "mm^4"], Dimension::INERTIA, 1e-12),
    metric("cm4", &["cm⁴", "cm^4"], Dimension::INERTIA, 1e-8),
    neutral("%", &["percent", "pct"], Dimension::NONE, 0.01),
];

const fn us(name: &'static str, aliases: &'static [&'static str], dimension: Dimension, factor: f64) -> Unit {
    Unit { name, aliases, dimension, factor, system: System::Us, in_rules: true }
}

const fn metric(name: &'static str, aliases: &'static [&'static str], dimension: Dimension, factor: f64) -> Unit {
    Unit { system: System::Metric, ..us(name, aliases, dimension, factor) }
}

const fn neutral(name: &'static str, aliases: &'static [&'static str], dimension: Dimension, factor: f64) -> Unit {
    Unit { system: System::Neutral, ..us(name, aliases, dimension, factor) }
}

const fn not_in_rules(unit: Unit) -> Unit {
    Unit { in_rules: false, ..unit }
}
