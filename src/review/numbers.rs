//! The numbers of one message: each kind in one unit, with digits enough to tell what differs.
//!
//! Two values that differ never print alike, and the larger one prints larger, in both systems: else a value that fails
//! would look sufficient. What is declared stays as it was written; what is computed gets more digits. Called for the
//! messages of rules.

use crate::expr::{Checked, CheckedNode, Machine, Type, Value};
use crate::quantity::{Dimension, Printed, Quantity, Shown, System, Unit, find_unit, printed, tolerance, unit_for};

/// A number of a message.
#[derive(Debug, PartialEq)]
pub(super) struct Number {
    /// Its value.
    pub quantity: Quantity,
    /// Its dimension.
    pub dimension: Dimension,
    /// As its author wrote it, and in which system; none where it is computed.
    pub declared: Option<(String, System)>,
}

/// Digits beyond the usual ones; the tolerance of comparisons lies within them.
const MOST_DIGITS: u8 = 8;
/// How much larger or smaller a computed value may be to take the unit of a declared one beside it.
const SAME_UNIT: f64 = 10.0;

/// The texts of the numbers of a message. `beside` holds what its reader compares them with and the message need not print:
/// the limits that the rule states.
pub(super) fn texts(numbers: &[Number], beside: &[(Quantity, Dimension)], system: System) -> Vec<String> {
    let mut written: Vec<Written<'_>> = numbers.iter().map(|number| Written::new(number, numbers, system)).collect();
    loop {
        let lines: Vec<Line> = written.iter().flat_map(Written::lines).collect();
        let exact = beside.iter().map(|(quantity, dimension)| Line {
            system: None,
            quantity: *quantity,
            dimension: *dimension,
            ends: [quantity.lo, quantity.hi],
        });
        let others: Vec<Line> = lines.iter().copied().chain(exact).collect();
        let mut clear = true;
        for number in &mut written {
            for part in &mut number.parts {
                let misleads = others.iter().any(|other| part.line(number.number).misleads_beside(other));
                if misleads && part.shown.extra_digits < MOST_DIGITS {
                    part.shown.extra_digits += 1;
                    part.printed = part.print(number.number);
                    clear = false;
                }
            }
        }
        if clear {
            return written.iter().map(Written::text).collect();
        }
    }
}

/// The two sides of every comparison of a requirement, outside of lists.
pub(super) fn compared(machine: &mut Machine<'_>, requirement: &Checked) -> Vec<(Quantity, Dimension)> {
    let mut sides = Vec::new();
    let mut open = vec![requirement];
    while let Some(part) = open.pop() {
        match &part.node {
            CheckedNode::List { .. } => continue,
            CheckedNode::Compare(_, left, right) => sides.extend([&**left, &**right]),
            _ => {}
        }
        open.extend(part.parts());
    }
    let number = |side: &Checked| match (machine.value(side.op), &side.ty) {
        (Value::Number(quantity), Type::Number(dimension)) if quantity.is_shown() => Some((quantity, *dimension)),
        _ => None,
    };
    sides.into_iter().filter_map(number).collect()
}

/// A number with the parts of its text that are not the author's.
struct Written<'n> {
    number: &'n Number,
    /// In its own system where it is computed, then in the other one where it has one.
    parts: Vec<Part>,
}

/// A number in one system.
struct Part {
    shown: Shown,
    unit: Option<&'static Unit>,
    printed: Printed,
}

/// What a text says of a number in a system.
#[derive(Debug, Clone, Copy)]
struct Line {
    /// None where it is exact, and to be compared with in both.
    system: Option<System>,
    quantity: Quantity,
    dimension: Dimension,
    ends: [f64; 2],
}

impl<'n> Written<'n> {
    fn new(number: &'n Number, all: &[Number], system: System) -> Written<'n> {
        let own = number.declared.as_ref().map_or(system, |(_, system)| *system);
        let neutral = [Dimension::NONE, Dimension::TIME, Dimension::ANGLE].contains(&number.dimension);
        let other = match own {
            _ if neutral => None,
            System::Us => Some(System::Metric),
            System::Metric => Some(System::Us),
            System::Neutral => None,
        };
        let computed = number.declared.is_none().then_some(own);
        let part = |system: System| {
            let shown = Shown { system, extra_digits: 0 };
            let unit = if neutral { None } else { unit_beside(number, all, system) };
            let printed = printed(number.quantity, number.dimension, shown, unit);
            Part { shown, unit, printed }
        };
        Written { number, parts: computed.into_iter().chain(other).map(part).collect() }
    }

    fn lines(&self) -> impl Iterator<Item = Line> + '_ {
        let Number { quantity, dimension, declared } = self.number;
        let own = declared.as_ref().map(|(_, system)| Line {
            system: Some(*system).filter(|system| *system != System::Neutral),
            quantity: *quantity,
            dimension: *dimension,
            ends: [quantity.lo, quantity.hi],
        });
        own.into_iter().chain(self.parts.iter().map(|part| part.line(self.number)))
    }

    fn text(&self) -> String {
        let declared = self.number.declared.as_ref().map(|(written, _)| written.as_str());
        let mut texts = declared.into_iter().chain(self.parts.iter().map(|part| part.printed.text.as_str()));
        let first = texts.next().unwrap_or_default();
        texts.next().map_or_else(|| first.to_owned(), |other| format!("{first} ({other})"))
    }
}

impl Part {
    fn print(&self, number: &Number) -> Printed {
        printed(number.quantity, number.dimension, self.shown, self.unit)
    }

    fn line(&self, number: &Number) -> Line {
        let system = Some(self.shown.system);
        Line { system, quantity: number.quantity, dimension: number.dimension, ends: self.printed.ends }
    }
}

impl Line {
    /// Whether the two texts say something else of which value is the larger than is so.
    fn misleads_beside(&self, other: &Line) -> bool {
        if self.dimension != other.dimension || !(other.system.is_none() || self.system == other.system) {
            return false;
        }
        let near = tolerance(self.quantity, other.quantity);
        let ends = |line: &Line| [(line.quantity.lo, line.ends[0]), (line.quantity.hi, line.ends[1])];
        ends(self).iter().any(|(value, says)| {
            ends(other).iter().any(|(beside, other_says)| {
                let differ = value.is_finite() && beside.is_finite() && (value - beside).abs() > near;
                differ && (says == other_says || (says < other_says) != (value < beside))
            })
        })
    }
}

/// The unit that a number takes in a system for the sake of those beside it: that of a declared one of about its size; in
/// metric units, millimeters where some would be in meters and others not.
fn unit_beside(number: &Number, all: &[Number], system: System) -> Option<&'static Unit> {
    let size =
        |quantity: Quantity| quantity.lo.abs().max(if quantity.hi.is_finite() { quantity.hi.abs() } else { 0.0 });
    let own = size(number.quantity);
    let alike = || all.iter().filter(|other| other.dimension == number.dimension);
    let declared = alike().filter(|other| {
        let ratio = size(other.quantity) / own;
        (1.0 / SAME_UNIT..=SAME_UNIT).contains(&ratio)
    });
    let units = declared.filter_map(|other| {
        let (written, of) = other.declared.as_ref()?;
        if *of == system { only_unit(written, number.dimension) } else { None }
    });
    units.into_iter().next().or_else(|| {
        let natural = |other: &Number| unit_for(size(other.quantity), other.dimension, system).0;
        let mixed = number.dimension == Dimension::LENGTH
            && system == System::Metric
            && alike().any(|other| natural(other) != natural(number));
        if mixed { find_unit("mm") } else { None }
    })
}

/// The unit of a written value, where it has one of that dimension and no other: `56 in`, not `4 ft 8 in`.
fn only_unit(written: &str, dimension: Dimension) -> Option<&'static Unit> {
    let names = written.split_whitespace().map(|word| word.trim_start_matches(|c: char| !c.is_alphabetic()));
    let mut units = names.filter_map(find_unit).filter(|unit| unit.dimension == dimension && unit.in_rules);
    let first = units.next()?;
    units.all(|other| other.name == first.name).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{QuantityKind, read};

    fn declared(kind: QuantityKind, text: &str) -> Number {
        let reading = read(kind, text).unwrap();
        let declared = Some((text.to_owned(), reading.system));
        Number { quantity: reading.quantity, dimension: kind.dimension(), declared }
    }

    fn computed(kind: QuantityKind, text: &str) -> Number {
        Number { declared: None, ..declared(kind, text) }
    }

    #[test]
    fn what_differs_prints_in_its_order() {
        use QuantityKind::{Length, Pressure, Ratio, Weight};
        for (numbers, system, expected) in [
            // The failing value would look sufficient: 1780 lb under a rating of 1,780.4 lb. 1 lb is 4.44822 N.
            (
                vec![declared(Weight, "1,780.4 lb"), computed(Weight, "1780.46 lb")],
                System::Us,
                vec!["1,780.4 lb (7919.6 N)", "1780.5 lb (7919.9 N)"],
            ),
            (
                vec![declared(Weight, "1,780 lb"), computed(Weight, "1780.04 lb")],
                System::Us,
                vec!["1,780 lb (7917.8 N)", "1780.04 lb (7918 N)"],
            ),
            // 1 psf is 47.880 Pa; both are computed.
            (
                vec![computed(Pressure, "1056.04 psf"), computed(Pressure, "1056 psf")],
                System::Us,
                vec!["1056.04 psf (50.563 kPa)", "1056 psf (50.562 kPa)"],
            ),
            // 438 9/64 in are 11.1288 m, 438 in are 11.1252 m.
            (
                vec![computed(Length, "36 ft 6 9/64 in"), declared(Length, "36 ft 6 in")],
                System::Us,
                vec!["36 ft 6 9/64 in (11.129 m)", "36 ft 6 in (11.125 m)"],
            ),
            (vec![computed(Ratio, "0.5"), computed(Ratio, "0.5")], System::Us, vec!["0.5", "0.5"]),
        ] {
            assert_eq!(texts(&numbers, &[], system), expected);
        }
    }

    #[test]
    fn a_limit_that_the_words_state_counts_as_printed() {
        let ratio =
            |value: f64| Number { quantity: Quantity::point(value), dimension: Dimension::NONE, declared: None };
        let one = [(Quantity::point(1.0), Dimension::NONE)];
        assert_eq!(texts(&[ratio(1.00004)], &[], System::Us), ["1"]);
        assert_eq!(texts(&[ratio(1.00004)], &one, System::Us), ["1.00004"]);
        assert_eq!(texts(&[ratio(1.25)], &one, System::Us), ["1.25"]);
    }

    #[test]
    fn lengths_of_a_message_keep_to_one_unit() {
        use QuantityKind::Length;
        for (numbers, system, expected) in [
            // 57.858 in is 1469.6 mm.
            (
                vec![declared(Length, "56 in"), computed(Length, "57.858 in")],
                System::Us,
                vec!["56 in (1422 mm)", "57.86 in (1470 mm)"],
            ),
            (
                vec![declared(Length, "6096 mm"), computed(Length, "6094 mm")],
                System::Metric,
                vec!["6096 mm (20 ft)", "6094 mm (19.993 ft)"],
            ),
            // Beside 24 ft a gap of some inches stays one; its millimeters take those of the opening along.
            (
                vec![declared(Length, "24 ft"), computed(Length, "3 in")],
                System::Us,
                vec!["24 ft (7315 mm)", "3 in (76.2 mm)"],
            ),
            (
                vec![declared(Length, "4 ft 8 in"), computed(Length, "60 in")],
                System::Us,
                vec!["4 ft 8 in (1422 mm)", "5 ft (1524 mm)"],
            ),
        ] {
            assert_eq!(texts(&numbers, &[], system), expected);
        }
    }
}
