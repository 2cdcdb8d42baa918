//! Scaling the units of length, force and time scales a figure as its dimension says: no slip in a formula survives.

use gatewright::figures::{Figure, InputKind, NoValue, Work, all};
use gatewright::quantity::Dimension;
use proptest::prelude::*;

use super::plausible::{Chance, at_a_point};

/// The dimension of each cell of an input.
fn dimensions(kind: InputKind, cells: usize) -> Vec<Dimension> {
    match kind {
        InputKind::Quantity(kind) => vec![kind.dimension(); cells],
        InputKind::Rows(columns) => (0..cells).map(|cell| columns[cell % columns.len()].kind.dimension()).collect(),
        _ => vec![Dimension::NONE; cells],
    }
}

fn points() -> Vec<&'static Figure> {
    all().filter(|figure| matches!(figure.work, Work::Point(_))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn figures_scale_with_their_units(seed in any::<u64>(), scales in prop::array::uniform3(0.2f64..5.0)) {
        let factor = |dimension: Dimension| {
            assert_eq!(dimension.angle, 0, "no figure knows angles");
            scales[0].powi(dimension.length.into())
                * scales[1].powi(dimension.force.into())
                * scales[2].powi(dimension.time.into())
        };
        let mut chance = Chance(seed);
        for figure in points() {
            for _ in 0..4 {
                let inputs = at_a_point(figure, &mut chance);
                let scaled: Vec<Vec<f64>> = inputs.iter().zip(figure.inputs).map(|(cells, input)| {
                    let dimensions = dimensions(input.kind, cells.len());
                    cells.iter().zip(dimensions).map(|(cell, dimension)| cell * factor(dimension)).collect()
                }).collect();
                let constants: Vec<f64> = figure.constants.iter().map(|constant| constant.value).collect();
                let others: Vec<f64> =
                    figure.constants.iter().map(|constant| constant.value * factor(constant.dimension)).collect();
                match (figure.at(&inputs, &constants), figure.at(&scaled, &others)) {
                    (Ok(a), Ok(b)) => {
                        let wanted = a * factor(figure.output);
                        // Forces that cancel leave a tiny force.
                        let floor = if figure.output.force > 0 { 1e-7 } else { 1e-13 };
                        let room = 1e-8 * b.abs() + floor * factor(figure.output);
                        prop_assert!((wanted - b).abs() <= room, "{}: {wanted} {b} {inputs:?}", figure.name);
                    }
                    // The words of a refusal are the same; numbers in brackets are SI and scale.
                    (Err(NoValue::NotValid(a)), Err(NoValue::NotValid(b))) => {
                        prop_assert_eq!(without_brackets(&a), without_brackets(&b));
                    }
                    (Err(a), Err(b)) => prop_assert_eq!(a, b),
                    (a, b) => prop_assert!(false, "{}: {a:?} {b:?} {inputs:?}", figure.name),
                }
            }
        }
    }
}

/// A text without what stands in brackets.
fn without_brackets(text: &str) -> String {
    text.split('(').map(|part| part.split_once(')').map_or(part, |(_, rest)| rest)).collect()
}

/// The sizes of plausible inputs are such that no figure escapes: each has a value at many points.
#[test]
fn every_figure_of_points_has_values_at_plausible_inputs() {
    let mut chance = Chance(7);
    for figure in points() {
        let constants: Vec<f64> = figure.constants.iter().map(|constant| constant.value).collect();
        let computed = (0..300).filter(|_| figure.at(&at_a_point(figure, &mut chance), &constants).is_ok()).count();
        assert!(computed >= 30, "{}: {computed} of 300", figure.name);
    }
}

/// A function is asked though an input is not there, to see whether it reads it: what stands in its place must not panic.
#[test]
fn an_input_that_is_no_number_does_no_harm() {
    let mut chance = Chance(11);
    for figure in points() {
        let constants: Vec<f64> = figure.constants.iter().map(|constant| constant.value).collect();
        for _ in 0..40 {
            let inputs = at_a_point(figure, &mut chance);
            for input in 0..inputs.len() {
                let mut without = inputs.clone();
                without[input] = vec![f64::NAN];
                // It must return; what it returns is not used where the input was read.
                let _ = figure.at(&without, &constants);
            }
            let _ = figure.at(&vec![vec![f64::NAN]; inputs.len()], &constants);
        }
    }
}
