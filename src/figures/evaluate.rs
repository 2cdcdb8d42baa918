//! A figure over ranges: every combination of the ends of its ranged inputs, and of the breaks inside them.
//!
//! A figure that is monotone in each input has its extremes at corners; where it changes course at a known value, that
//! value is looked at from both sides. A property test draws points inside random boxes and holds every declaration to
//! it.

use super::figure::{Figure, Over};
use crate::quantity::Quantity;

/// Ranged inputs that one figure may have; more would cost too many evaluations.
pub const MOST_RANGES: usize = 6;

/// What a figure came to.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// Its value.
    Computed(Quantity),
    /// Inputs that are not shown, by name.
    Lacking(Vec<&'static str>),
    /// Outside its limits, or not to be computed over a range: why.
    NotValid(String),
}

/// What a figure came to, and what was assumed for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The state.
    pub state: State,
    /// Inputs that were assumed, each with the words for the value.
    pub assumed: Vec<(&'static str, &'static str)>,
}

/// Computes a figure from its inputs, in their order; `None` where one is not shown.
pub fn evaluate(figure: &Figure, values: &[Option<Quantity>]) -> Outcome {
    let mut assumed = Vec::new();
    let mut lacking = Vec::new();
    let mut known = Vec::with_capacity(figure.inputs.len());
    for (index, input) in figure.inputs.iter().enumerate() {
        match (values.get(index).copied().flatten(), input.assume) {
            (Some(value), _) if value.is_shown() => known.push(value),
            (None, Some((value, words))) => {
                assumed.push((input.name, words));
                known.push(Quantity::point(value));
            }
            _ => lacking.push(input.name),
        }
    }
    let state = if lacking.is_empty() { over_box(figure, &known) } else { State::Lacking(lacking) };
    Outcome { state, assumed }
}

fn over_box(figure: &Figure, values: &[Quantity]) -> State {
    let mut choices: Vec<Vec<f64>> = Vec::with_capacity(values.len());
    let mut ranged = Vec::new();
    for (input, value) in figure.inputs.iter().zip(values) {
        if value.is_point() {
            choices.push(vec![value.lo]);
            continue;
        }
        ranged.push(input.name);
        let mut places = vec![value.lo, value.hi];
        match input.over {
            Over::Monotone => {}
            Over::OneValue => {
                return State::NotValid(format!("`{}` is a range; state one value", input.name));
            }
            Over::Breaks(breaks) => {
                for at in breaks.iter().filter(|at| value.lo < **at && **at < value.hi) {
                    let nudge = 1e-12 * at.abs();
                    places.extend([at - nudge, *at, at + nudge]);
                }
            }
        }
        choices.push(places);
    }
    if ranged.len() > MOST_RANGES {
        let names = ranged.join(", ");
        return State::NotValid(format!("{} inputs are ranges ({names}); state single values", ranged.len()));
    }
    let constants: Vec<f64> = figure.constants.iter().map(|constant| constant.value).collect();
    let mut at = vec![0; choices.len()];
    let mut found: Option<(f64, f64)> = None;
    loop {
        let point: Vec<f64> = at.iter().zip(&choices).map(|(index, places)| places[*index]).collect();
        match (figure.point)(&point, &constants) {
            Err(reason) => return State::NotValid(reason),
            Ok(value) if !value.is_finite() => {
                return State::NotValid("the value is not finite; check the inputs".to_owned());
            }
            Ok(value) => {
                found = Some(found.map_or((value, value), |(lo, hi)| (lo.min(value), hi.max(value))));
            }
        }
        // The next combination, counting like an odometer.
        let Some(wheel) = (0..at.len()).find(|wheel| at[*wheel] + 1 < choices[*wheel].len()) else { break };
        at[wheel] += 1;
        at[..wheel].fill(0);
    }
    match found {
        Some((lo, hi)) => State::Computed(Quantity::range(lo, hi)),
        None => State::NotValid("the figure has no inputs".to_owned()),
    }
}
