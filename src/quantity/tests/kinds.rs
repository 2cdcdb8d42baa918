//! The kinds of the vocabulary: one text for every unit that a kind takes, and units that it refuses.
//!
//! The SI values come from the exact definitions (NIST SP 811, 2008, appendix B): the inch 0.0254 m, the pound of force
//! 4.4482216152605 N, standard gravity 9.80665 m/s2, the mile 1609.344 m. A year of 365.25 days is common practice, no
//! published source.

use std::f64::consts::PI;

use crate::quantity::QuantityKind::{
    Acceleration, Angle, Area, Count, Force, Inertia, Length, LineLoad, Moment, Pressure, Ratio, Slope, SoilGradient,
    Speed, Time, Volume, Weight,
};
use crate::quantity::{LiteralError, Quantity, QuantityKind, System, find_unit, read, units_of};

const POUND: f64 = 4.4482216152605;

/// Kind, unit, text, SI value.
const ACCEPTED: [(QuantityKind, &str, &str, f64); 61] = [
    (Length, "ft", "24 ft", 7.3152),
    (Length, "in", "2 1/4 in", 0.05715),
    (Length, "mm", "57.15 mm", 0.05715),
    (Length, "cm", "30.48 cm", 0.3048),
    (Length, "m", "7.3 m", 7.3),
    (Area, "in2", "2.5 in2", 2.5 * 0.0254 * 0.0254),
    (Area, "ft2", "10 ft2", 10.0 * 0.09290304),
    (Area, "mm2", "1,600 mm2", 0.0016),
    (Area, "m2", "2 m2", 2.0),
    (Weight, "lb", "800 lb", 800.0 * POUND),
    (Weight, "kg", "100 kg", 980.665),
    (Weight, "kip", "1.5 kip", 1500.0 * POUND),
    (Weight, "N", "3,500 N", 3500.0),
    (Weight, "kN", "3.5 kN", 3500.0),
    (Force, "lb", "50 lb", 50.0 * POUND),
    (Force, "N", "220 N", 220.0),
    (Force, "kip", "2 kip", 2000.0 * POUND),
    (Force, "kN", "0.22 kN", 220.0),
    (Pressure, "psf", "20 psf", 20.0 * POUND / 0.09290304),
    (Pressure, "psi", "3,000 psi", 3000.0 * 6_894.757_293_168_361),
    (Pressure, "ksi", "46 ksi", 46_000.0 * 6_894.757_293_168_361),
    (Pressure, "Pa", "960 Pa", 960.0),
    (Pressure, "kPa", "0.96 kPa", 960.0),
    (Pressure, "MPa", "20 MPa", 2e7),
    (LineLoad, "lb/ft", "25 lb/ft", 25.0 * POUND / 0.3048),
    (LineLoad, "N/m", "365 N/m", 365.0),
    (LineLoad, "kN/m", "0.365 kN/m", 365.0),
    (LineLoad, "kg/m", "10 kg/m", 98.0665),
    (SoilGradient, "psf/ft", "150 psf/ft", 150.0 * POUND / (0.3048 * 0.3048 * 0.3048)),
    (SoilGradient, "kPa/m", "23.5 kPa/m", 23_500.0),
    (Speed, "mph", "115 mph", 115.0 * 1609.344 / 3600.0),
    (Speed, "ft/s", "1 ft/s", 0.3048),
    (Speed, "in/s", "12 in/s", 0.3048),
    (Speed, "ft/min", "60 ft/min", 0.3048),
    (Speed, "m/s", "0.3 m/s", 0.3),
    (Speed, "mm/s", "300 mm/s", 0.3),
    (Speed, "km/h", "36 km/h", 10.0),
    (Acceleration, "ft/s2", "2 ft/s2", 0.6096),
    (Acceleration, "m/s2", "0.5 m/s2", 0.5),
    (Time, "s", "2 s", 2.0),
    (Time, "min", "5 min", 300.0),
    (Time, "ms", "200 ms", 0.2),
    (Time, "months", "6 months", 182.625 * 86_400.0),
    (Time, "years", "2 years", 730.5 * 86_400.0),
    (Angle, "deg", "90 deg", PI / 2.0),
    (Ratio, "%", "40 %", 0.4),
    (Slope, "%", "2 %", 0.02),
    (Moment, "lb-ft", "900 lb-ft", 900.0 * POUND * 0.3048),
    (Moment, "kip-ft", "1.5 kip-ft", 1500.0 * POUND * 0.3048),
    (Moment, "lb-in", "120 lb-in", 120.0 * POUND * 0.0254),
    (Moment, "N-m", "250 N-m", 250.0),
    (Moment, "kN-m", "2.5 kN-m", 2500.0),
    (Moment, "J", "15 J", 15.0),
    (Volume, "in3", "3.9 in3", 3.9 * 0.0254 * 0.0254 * 0.0254),
    (Volume, "yd3", "0.5 yd3", 0.5 * 0.9144 * 0.9144 * 0.9144),
    (Volume, "mm3", "64,000 mm3", 6.4e-5),
    (Volume, "cm3", "64 cm3", 6.4e-5),
    (Volume, "m3", "0.4 m3", 0.4),
    (Inertia, "in4", "7.8 in4", 7.8 * 0.0254 * 0.0254 * 0.0254 * 0.0254),
    (Inertia, "mm4", "3,200,000 mm4", 3.2e-6),
    (Inertia, "cm4", "320 cm4", 3.2e-6),
];

/// Kind, text, code, the part that is refused, a phrase of the message.
const REFUSED: [(QuantityKind, &str, &str, &str, &str); 27] = [
    (Length, "24 lb", "wrong-unit", "lb", "a length is expected, `lb` is a weight"),
    (Length, "24 in2", "wrong-unit", "in2", "`in2` is an area"),
    (Length, "24 yd", "unknown-unit", "yd", "`yd` is no unit"),
    (Area, "2.5 in", "wrong-unit", "in", "an area is expected, `in` is a length"),
    (Weight, "800 psi", "wrong-unit", "psi", "a weight is expected, `psi` is a pressure"),
    (Weight, "1 ton", "unknown-unit", "ton", "`ton` is no unit"),
    (Force, "20 kg", "wrong-unit", "kg", "a force is expected, `kg` is a mass"),
    (Force, "20 kilograms", "wrong-unit", "kilograms", "state the force in lb or N"),
    (Force, "20 lb/ft", "wrong-unit", "lb/ft", "`lb/ft` is a line load"),
    (Pressure, "20 lb", "wrong-unit", "lb", "a pressure is expected, `lb` is a weight"),
    (Pressure, "20 pcf", "wrong-unit", "pcf", "`pcf` is a soil gradient"),
    (LineLoad, "25 lb", "wrong-unit", "lb", "a line load is expected, `lb` is a weight"),
    (SoilGradient, "150 psf", "wrong-unit", "psf", "a soil gradient is expected, `psf` is a pressure"),
    (Speed, "2 ft/s2", "wrong-unit", "ft/s2", "a speed is expected, `ft/s2` is an acceleration"),
    (Speed, "115 mi/h", "unknown-unit", "mi/h", "`mi/h` is no unit"),
    (Acceleration, "2 ft/s", "wrong-unit", "ft/s", "an acceleration is expected, `ft/s` is a speed"),
    (Time, "5 in min", "wrong-unit", "in", "a time is expected, `in` is a length"),
    (Time, "2 h", "unknown-unit", "h", "`h` is no unit"),
    (Angle, "5 %", "wrong-unit", "%", "an angle is expected, `%` is a ratio"),
    (Ratio, "0.4 in", "wrong-unit", "in", "a ratio is expected, `in` is a length"),
    (Slope, "5 deg", "wrong-unit", "deg", "a slope is expected, `deg` is an angle"),
    (Slope, "1/4 in", "wrong-unit", "in", "a slope is expected, `in` is a length"),
    (Slope, "1/4 in per lb", "wrong-unit", "in", "a slope is expected"),
    (Count, "2 in", "wrong-unit", "in", "a count has no unit"),
    (Moment, "900 lb", "wrong-unit", "lb", "a moment is expected, `lb` is a weight"),
    (Volume, "3.9 in4", "wrong-unit", "in4", "a volume is expected, `in4` is a moment of inertia"),
    (Inertia, "7.8 in3", "wrong-unit", "in3", "a moment of inertia is expected, `in3` is a volume"),
];

fn value(kind: QuantityKind, text: &str) -> Quantity {
    read(kind, text).unwrap_or_else(|error| panic!("{text}: {error:?}")).quantity
}

fn refused(kind: QuantityKind, text: &str) -> LiteralError {
    read(kind, text).expect_err(text)
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-14 * b.abs()
}

#[test]
fn every_unit_of_every_kind_has_a_text_and_its_value() {
    for (kind, unit, text, si) in ACCEPTED {
        let reading = read(kind, text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
        assert!(reading.quantity.is_point() && close(reading.quantity.lo, si), "{text}: {}", reading.quantity.lo);
        assert!(reading.remarks.is_empty(), "{text}");
        assert_eq!(reading.system, find_unit(unit).unwrap().system, "{text}");
    }
    for (kind, name) in QuantityKind::ALL {
        for unit in units_of(kind) {
            assert!(ACCEPTED.iter().any(|row| row.0 == kind && row.1 == *unit), "{name}: {unit} has no text here");
        }
        assert!(REFUSED.iter().any(|row| row.0 == kind), "{name}: no unit is refused here");
    }
}

#[test]
fn every_kind_refuses_the_units_of_the_others() {
    for (kind, text, code, part, phrase) in REFUSED {
        let error = refused(kind, text);
        assert_eq!((error.code, &text[error.at.clone()]), (code, part), "{text}: {}", error.message);
        assert!(error.message.contains(phrase), "{text}: {}", error.message);
        assert!(error.help.is_some(), "{text} gets no advice");
    }
    // Whatever the table of units holds: a unit is taken by the kinds of its dimension alone.
    for (kind, name) in QuantityKind::ALL.into_iter().filter(|(kind, _)| *kind != Count) {
        for (other, unit, ..) in ACCEPTED {
            // `1 min` as a ratio states a lower end.
            if (kind, unit) == (Ratio, "min") {
                continue;
            }
            let taken = read(kind, &format!("1 {unit}")).is_ok();
            let kilograms = kind == Force && unit == "kg";
            assert_eq!(taken, other.dimension() == kind.dimension() && !kilograms, "{name}: 1 {unit}");
        }
    }
}

#[test]
fn a_number_without_a_unit_is_refused_by_every_kind_but_ratio_and_count() {
    for (kind, name) in QuantityKind::ALL {
        match kind {
            Ratio | Count => assert_eq!(value(kind, "2"), Quantity::point(2.0), "{name}"),
            _ => {
                let error = refused(kind, "24");
                assert_eq!((error.code, error.at.clone()), ("missing-unit", 0..2), "{name}");
                let first = units_of(kind)[0];
                assert!(error.message.contains(&format!("write 24 {first}")), "{name}: {}", error.message);
            }
        }
    }
}

#[test]
fn a_slope_is_a_percentage_a_ratio_or_a_rise_per_run() {
    for (text, slope, system) in [
        ("2 %", 0.02, System::Neutral),
        ("1:50", 0.02, System::Neutral),
        ("1/4:12", 1.0 / 48.0, System::Neutral),
        ("1/4 in per ft", 1.0 / 48.0, System::Us),
        ("1/4\" per foot", 1.0 / 48.0, System::Us),
        ("1/4 in/ft", 1.0 / 48.0, System::Us),
        ("3 in per 10 ft", 0.025, System::Us),
        ("20 mm per m", 0.02, System::Metric),
    ] {
        let reading = read(Slope, text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
        assert!(reading.quantity.is_point() && close(reading.quantity.lo, slope), "{text}: {}", reading.quantity.lo);
        assert_eq!(reading.system, system, "{text}");
    }
    assert_eq!(value(Slope, "1:100 to 1:50"), Quantity::range(0.01, 0.02));
    assert_eq!(value(Slope, "1:50 max"), Quantity::at_most(0.02));
    for (text, code, part) in [
        ("1:0", "unreadable-value", "1:0"),
        ("1:", "unreadable-value", "1:"),
        ("1 : 50", "missing-unit", "1"),
        ("1 in 50", "wrong-unit", "in"),
        ("1/8 to 1/4 in per ft", "missing-unit", "1/8"),
    ] {
        let error = refused(Slope, text);
        assert_eq!((error.code, &text[error.at.clone()]), (code, part), "{text}: {}", error.message);
    }
    assert!(refused(Slope, "1/8 to 1/4 in per ft").message.contains("write 1/8 in per ft"));
}

#[test]
fn thousands_are_grouped_in_threes_outside_lengths() {
    assert_eq!(value(Pressure, "3,000 psi"), value(Pressure, "3000 psi"));
    assert_eq!(value(Weight, "1,234,567.5 lb"), value(Weight, "1234567.5 lb"));
    assert_eq!(value(Pressure, "2,500 to 3,000 psi"), value(Pressure, "2500 psi to 3000 psi"));
    assert_eq!(value(Count, "1,000"), Quantity::point(1000.0));
    for (kind, text, part, phrase) in [
        (Pressure, "3,00 psi", "3,00", "in threes"),
        (Pressure, "3000,000 psi", "3000,000", "in threes"),
        (Pressure, "3,000, psi", "3,000,", "in threes"),
        (Pressure, "2,5 psi", "2,5", "in threes"),
        (Length, "1,200 mm", "1,200", "thousand or a decimal"),
        (Length, "1,2 m", "1,2", "thousand or a decimal"),
    ] {
        let error = refused(kind, text);
        assert_eq!((error.code, &text[error.at.clone()]), ("unreadable-value", part), "{text}");
        assert!(error.message.contains(phrase) && error.help.is_some(), "{text}: {}", error.message);
    }
}

/// `min` is a unit of time directly behind a number, and a bound everywhere else.
#[test]
fn min_is_minutes_behind_the_number_of_a_time_and_a_bound_elsewhere() {
    assert_eq!(value(Time, "5 min"), Quantity::point(300.0));
    assert_eq!(value(Time, "5 min min"), Quantity::at_least(300.0));
    assert_eq!(value(Time, "min 5 min"), Quantity::at_least(300.0));
    assert_eq!(value(Time, "5 s min"), Quantity::at_least(5.0));
    assert_eq!(value(Length, "5 in min"), Quantity::at_least(0.127));
    assert_eq!(value(Length, "5 in max."), Quantity::at_most(0.127));
    assert_eq!(value(Ratio, "0.4 min"), Quantity::at_least(0.4));
    let error = refused(Length, "5 min");
    assert_eq!((error.code, error.at.clone()), ("missing-unit", 0..1), "{}", error.message);
}

#[test]
fn a_count_is_one_whole_number() {
    assert_eq!(value(Count, " 2 "), Quantity::point(2.0));
    for (text, code, part) in [
        ("2.0", "unreadable-value", "2.0"),
        ("1/2", "unreadable-value", "1/2"),
        ("two", "unreadable-value", "two"),
        ("2 to 3", "unreadable-value", "to"),
        ("2 max", "unreadable-value", "max"),
        ("2 min", "unreadable-value", "min"),
        ("-2", "signed-value", "-"),
        ("−2", "signed-value", "−"),
        ("", "unreadable-value", ""),
    ] {
        let error = refused(Count, text);
        assert_eq!((error.code, &text[error.at.clone()]), (code, part), "{text}: {}", error.message);
        assert!(error.help.is_some(), "{text}");
    }
}

#[test]
fn a_ratio_is_a_decimal_or_a_percentage_and_never_both() {
    assert_eq!(value(Ratio, "40 %"), value(Ratio, "0.4"));
    assert_eq!(value(Ratio, "30 to 40 %"), Quantity::range(0.3, 0.4));
    assert_eq!(refused(Ratio, "0.3 to 40 %").code, "missing-unit");
    let half = refused(Ratio, "1/2");
    assert_eq!((half.code, half.help.as_deref()), ("unreadable-value", Some("write 0.5 or 50 %")));
}
