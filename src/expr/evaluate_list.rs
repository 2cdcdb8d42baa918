//! Functions over a list.
//!
//! A list that is there is complete; one that is not shown gives an unknown; one that does not apply gives not
//! applicable. An element counts as certain where its filter is true, as open where the filter may be true, and is
//! left out where it is false or does not apply.

use super::ast::ListFunction;
use super::evaluate::Machine;
use super::program::Over;
use super::truth::Truth;
use super::value::Value;
use crate::quantity::Quantity;
use crate::submittal::Slot;

/// How many elements a list has, or why there are none to look at.
enum Elements {
    Listed(u32),
    Missing,
    NotApplicable,
}

impl<'a> Machine<'a> {
    fn elements(&self, over: Over) -> (&'a Slot, Elements) {
        let slot = self.slot(over.list);
        let elements = match (slot.list_len(), slot) {
            (Some(len), _) => Elements::Listed(len),
            (None, Slot::NotApplicable) => Elements::NotApplicable,
            (None, _) => Elements::Missing,
        };
        (slot, elements)
    }

    /// Stands at an element; gives the truth of its filter.
    fn stand(&mut self, over: Over, list: &Slot, number: u32) -> Truth {
        self.stand_at(over.bound, self.element(list, number));
        over.filter.map_or(Truth::TRUE, |filter| self.truth(filter))
    }

    /// A function over a list that gives a number.
    pub(super) fn number_over(&mut self, function: ListFunction, over: Over) -> Value {
        match function {
            ListFunction::Count => self.count(over),
            ListFunction::Sum => self.sum(over),
            ListFunction::Min => self.extreme(over, Quantity::min),
            ListFunction::Max => self.extreme(over, Quantity::max),
            ListFunction::Distinct => self.distinct(over),
            ListFunction::Any | ListFunction::All => Value::NotApplicable,
        }
    }

    fn count(&mut self, over: Over) -> Value {
        let (mut certain, mut open, mut unknown) = (0u32, 0u32, false);
        match self.elements(over) {
            (_, Elements::NotApplicable) => return Value::NotApplicable,
            (_, Elements::Missing) => return Value::Number(Quantity::not_shown()),
            (list, Elements::Listed(len)) => {
                for number in 0..len {
                    let filter = self.stand(over, list, number);
                    match filter {
                        Truth::TRUE => certain += 1,
                        Truth::FALSE | Truth::NOT_APPLICABLE => {}
                        _ => {
                            open += 1;
                            unknown |= filter.is_open();
                        }
                    }
                }
            }
        }
        Value::Number(counted(certain, open, unknown))
    }

    pub(super) fn any_or_all(&mut self, over: Over, all: bool) -> Truth {
        let (list, len) = match self.elements(over) {
            (_, Elements::NotApplicable) => return Truth::NOT_APPLICABLE,
            (_, Elements::Missing) => return Truth::UNKNOWN,
            (list, Elements::Listed(len)) => (list, len),
        };
        let mut result = Truth::known(all);
        // One element that is certain to hold decides `any`, one that is certain not to decides `all`.
        let decided = Truth::known(!all);
        for number in 0..len {
            if result == decided {
                break;
            }
            let filter = self.stand(over, list, number);
            // An element that is out leaves the result as it is, whatever its body says.
            if filter.is_not_applicable() || filter.is_false() {
                continue;
            }
            let holds = over.body.map_or(Truth::TRUE, |body| self.truth(body));
            if holds.is_not_applicable() {
                continue;
            }
            result = if all { result.and(filter.not().or(holds)) } else { result.or(filter.and(holds)) };
        }
        result
    }

    /// The bodies of the elements that count, each with whether it is certain to count.
    fn bodies(&mut self, over: Over) -> Result<Vec<(Value, bool, bool)>, Value> {
        let (list, len) = match self.elements(over) {
            (_, Elements::NotApplicable) => return Err(Value::NotApplicable),
            (_, Elements::Missing) => return Err(Value::Number(Quantity::not_shown())),
            (list, Elements::Listed(len)) => (list, len),
        };
        let mut bodies = Vec::with_capacity(len as usize);
        for number in 0..len {
            let filter = self.stand(over, list, number);
            if filter.is_false() || filter.is_not_applicable() {
                continue;
            }
            let body = over.body.map(|body| self.value(body));
            if let Some(body) = body.filter(|body| *body != Value::NotApplicable) {
                bodies.push((body, filter.is_true(), filter.is_open()));
            }
        }
        Ok(bodies)
    }

    fn sum(&mut self, over: Over) -> Value {
        let bodies = match self.bodies(over) {
            Ok(bodies) => bodies,
            Err(value) => return value,
        };
        let mut total = Quantity::point(0.0);
        for (body, certain, unknown) in bodies {
            let Some(part) = body.number() else { continue };
            let part = if certain { part } else { undeclared(part.hull(Quantity::point(0.0)), unknown) };
            total = total.plus(part);
        }
        Value::Number(total)
    }

    fn extreme(&mut self, over: Over, pick: fn(Quantity, Quantity) -> Quantity) -> Value {
        let bodies = match self.bodies(over) {
            Ok(bodies) => bodies,
            Err(value) => return value,
        };
        let numbers = || bodies.iter().filter_map(|(body, certain, open)| Some((body.number()?, *certain, *open)));
        let of = |wanted: bool| numbers().filter(|(_, certain, _)| *certain || !wanted).map(|(n, ..)| n).reduce(pick);
        let unknown = numbers().any(|(_, certain, open)| !certain && open);
        Value::Number(match (of(true), of(false)) {
            (Some(certain), Some(every)) => undeclared(certain.hull(every), unknown),
            // Nothing is certain to count: there may be no element at all.
            (None, Some(every)) => undeclared(every, true),
            (_, None) => Quantity::unknown(),
        })
    }

    fn distinct(&mut self, over: Over) -> Value {
        let bodies = match self.bodies(over) {
            Ok(bodies) => bodies,
            Err(value) => return value,
        };
        let mut seen: Vec<Value> = Vec::new();
        for (body, certain, _) in &bodies {
            if *certain && is_known(*body) && !seen.iter().any(|known| self.alike(*known, *body)) {
                seen.push(*body);
            }
        }
        let mut open = 0;
        let mut unknown = false;
        for (body, certain, filter_open) in &bodies {
            let counted_already = is_known(*body) && seen.iter().any(|known| self.alike(*known, *body));
            if !counted_already {
                open += 1;
                unknown |= !is_known(*body) || (!certain && *filter_open);
            }
        }
        let certain = u32::try_from(seen.len()).unwrap_or(u32::MAX);
        Value::Number(counted(certain, open, unknown))
    }

    fn alike(&mut self, a: Value, b: Value) -> bool {
        match (a, b) {
            (Value::Text(Some(a)), Value::Text(Some(b))) => self.same_text(a, b),
            _ => a == b,
        }
    }
}

fn counted(certain: u32, open: u32, unknown: bool) -> Quantity {
    let (lo, hi) = (f64::from(certain), f64::from(certain) + f64::from(open));
    undeclared(Quantity::range(lo, hi), unknown && open > 0)
}

fn undeclared(quantity: Quantity, unknown: bool) -> Quantity {
    if unknown { Quantity { lo_declared: false, hi_declared: false, ..quantity } } else { quantity }
}

fn is_known(value: Value) -> bool {
    match value {
        Value::Choice(choice) => choice.is_some(),
        Value::Text(text) => text.is_some(),
        Value::Number(number) => number.is_shown(),
        Value::Truth(_) | Value::NotApplicable => false,
    }
}
