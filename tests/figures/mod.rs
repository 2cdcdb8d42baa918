//! Figures: values from outside with their sources, dimensions by scaling, ranges by points inside, fields by the schema.

mod outside;

use gatewright::figures::{ALL, Figure, MOST_RANGES, Over, State, evaluate};
use gatewright::quantity::Quantity;
use gatewright::rule::submittal_vocabulary;
use gatewright::vocabulary::FieldKind;
use proptest::prelude::*;

/// The value of a figure at single SI values.
pub fn value(figure: &Figure, inputs: &[f64]) -> Result<f64, String> {
    let values: Vec<_> = inputs.iter().map(|value| Some(Quantity::point(*value))).collect();
    match evaluate(figure, &values).state {
        State::Computed(value) => Ok(value.lo),
        other => Err(format!("{other:?}")),
    }
}

#[test]
fn names_are_unique_and_inputs_are_the_fields_they_say() {
    let vocabulary = submittal_vocabulary().unwrap();
    let mut paths = std::collections::BTreeMap::new();
    for (record, declared) in vocabulary.records.iter().enumerate() {
        for (field, declared) in declared.fields.iter().enumerate() {
            let path = vocabulary.path_of(u16::try_from(record).unwrap(), u16::try_from(field).unwrap());
            paths.insert(path, declared.kind.clone());
        }
    }
    for (index, figure) in ALL.iter().enumerate() {
        assert!(ALL[..index].iter().all(|other| other.name != figure.name), "{}", figure.name);
        for text in [figure.title, figure.formula, figure.source, figure.validity] {
            assert!(!text.is_empty(), "{}", figure.name);
        }
        for input in figure.inputs {
            assert!(figure.formula.contains(input.name), "{}: `{}` is not in the formula", figure.name, input.name);
            let Some(field) = input.field else { continue };
            assert_eq!(paths.get(field), Some(&FieldKind::Quantity(input.kind)), "{}: {field}", figure.name);
        }
    }
}

#[test]
fn what_is_lacking_assumed_or_out_of_bounds_is_said() {
    let needed = gatewright::figures::find("counterbalance_needed").unwrap();
    let some = |value| Some(Quantity::point(value));
    let outcome = evaluate(needed, &[some(0.2), some(3.0), some(0.3), None]);
    assert_eq!(outcome.assumed, [("tail_margin", "0 in")]);
    assert!(matches!(outcome.state, State::Computed(_)));
    let outcome = evaluate(needed, &[some(0.2), None, None, None]);
    assert_eq!(outcome.state, State::Lacking(vec!["spacing", "carriage_length"]));
    let outcome = evaluate(needed, &[some(0.2), some(3.0), Some(Quantity::at_most(0.3)), None]);
    assert_eq!(outcome.state, State::Lacking(vec!["carriage_length"]), "one open end is not enough");
}

/// Plausible SI values of each input of a figure, from numbers between 0 and 1.
fn plausible(figure: &Figure, chances: &[f64]) -> Vec<f64> {
    figure
        .inputs
        .iter()
        .zip(chances)
        .map(|(input, chance)| {
            let (low, high) = match input.name {
                "lateral_force" | "force" | "live_load" => (200.0, 4_000.0),
                "height" | "arm" => (0.5, 2.0),
                "diameter" => (0.3, 1.0),
                "lateral_bearing" => (15_000.0, 60_000.0),
                "weight" => (1_000.0, 9_000.0),
                "speed" => (0.1, 0.8),
                "response" => (0.01, 0.5),
                "acceleration" | "deceleration" => (0.2, 3.0),
                _ => (0.5, 9.0),
            };
            low + (high - low) * chance
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Scaling the units of length, force and time scales a figure as its dimension says: no slip in a formula survives.
    #[test]
    fn figures_scale_with_their_units(
        which in 0usize..ALL.len(),
        chances in prop::collection::vec(0.0f64..1.0, 7),
        scales in prop::array::uniform3(0.2f64..5.0),
    ) {
        let figure = ALL[which];
        let factor = |dimension: gatewright::quantity::Dimension| {
            scales[0].powi(dimension.length.into()) * scales[1].powi(dimension.force.into()) * scales[2].powi(dimension.time.into())
        };
        let inputs = plausible(figure, &chances);
        let constants: Vec<f64> = figure.constants.iter().map(|constant| constant.value).collect();
        let scaled: Vec<f64> =
            inputs.iter().zip(figure.inputs).map(|(value, input)| value * factor(input.kind.dimension())).collect();
        let other: Vec<f64> = figure.constants.iter().map(|constant| constant.value * factor(constant.dimension)).collect();
        match ((figure.point)(&inputs, &constants), (figure.point)(&scaled, &other)) {
            (Ok(a), Ok(b)) => prop_assert!(
                (a * factor(figure.output) - b).abs() <= 1e-9 * b.abs().max(1e-12) + 1e-12,
                "{}: {a} {b}", figure.name
            ),
            (Err(_), Err(_)) => {}
            (a, b) => prop_assert!(false, "{}: {a:?} {b:?}", figure.name),
        }
    }

    /// Points inside a box of ranges give values inside the range of the figure.
    #[test]
    fn points_inside_ranges_stay_inside_the_result(
        which in 0usize..ALL.len(),
        low in prop::collection::vec(0.0f64..1.0, 7),
        more in prop::collection::vec(0.0f64..0.4, 7),
        inside in prop::collection::vec(prop::collection::vec(0.0f64..=1.0, 7), 40),
    ) {
        let figure = ALL[which];
        prop_assume!(figure.inputs.iter().all(|input| input.over != Over::OneValue));
        let from = plausible(figure, &low);
        let to = plausible(figure, &low.iter().zip(&more).map(|(low, more)| low + more).collect::<Vec<_>>());
        // A figure takes six ranges at the most; any further input keeps one value.
        let to: Vec<f64> = to.iter().enumerate().map(|(index, to)| if index < MOST_RANGES { *to } else { from[index] }).collect();
        let values: Vec<_> = from.iter().zip(&to).map(|(from, to)| Some(Quantity::range(*from, *to))).collect();
        let State::Computed(range) = evaluate(figure, &values).state else { return Ok(()) };
        for shares in &inside {
            let point: Vec<f64> = from.iter().zip(&to).zip(shares).map(|((from, to), share)| from + (to - from) * share).collect();
            let found = value(figure, &point).unwrap();
            let slack = 1e-9 * range.mag;
            prop_assert!(range.lo - slack <= found && found <= range.hi + slack, "{}: {found} outside {range:?}", figure.name);
        }
    }

    /// Without restraint the embedment is the root of a cubic (own algebra): the iteration must find it.
    #[test]
    fn embedment_is_the_root_of_its_cubic(chances in prop::collection::vec(0.0f64..1.0, 7)) {
        let figure = gatewright::figures::find("post_embedment").unwrap();
        let inputs = plausible(figure, &chances);
        let Ok(depth) = value(figure, &inputs) else { return Ok(()) };
        let k = 7.02 * inputs[0] / (inputs[3] * inputs[2]);
        let rest = depth.powi(3) - k * depth - 1.09 * k * inputs[1];
        prop_assert!(rest.abs() <= 1e-9 * depth.powi(3), "{rest} at {depth}");
    }
}
