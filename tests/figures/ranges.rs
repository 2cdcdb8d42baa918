//! Points inside a box of ranges give values inside the range of the figure, for its own inputs and down to the fields;
//! a narrower box gives a narrower range.

use gatewright::figures::{Figure, MOST_RANGES, Plan, State, Work, all, evaluate};
use gatewright::quantity::Quantity;
use proptest::prelude::*;

use super::plausible::{Box, Chance, any_box, inside, narrower, root_values};

/// The range that a box comes to; what is bounded counts.
fn span(plan: &Plan, ends: &Box) -> Option<Quantity> {
    match evaluate(plan, &root_values(ends)).state {
        State::Computed(range) | State::Bounded(range, _) => Some(range),
        State::Lacking(_) | State::NotValid(_) | State::OverRange(_) => None,
    }
}

/// Room for rounding: a part of the result, and where forces cancel a tiny force.
fn within(plan: &Plan, found: Quantity, range: Quantity) -> bool {
    let floor = if plan.figure.output.force > 0 { 1e-8 } else { 1e-13 };
    let slack = 1e-9 * range.mag + floor;
    range.lo - slack <= found.lo && found.hi <= range.hi + slack
}

fn described(plan: &Plan, ends: &Box) -> String {
    let cell = |(number, cells): (usize, &Vec<(f64, f64)>)| {
        let cells: Vec<String> = cells
            .iter()
            .map(|(low, high)| if low == high { format!("{low:.6}") } else { format!("[{low:.6}..{high:.6}]") })
            .collect();
        format!("{}={}", plan.roots[number].name, cells.join(","))
    };
    let given = ends.iter().enumerate().filter(|(_, cells)| !cells.is_empty());
    given.map(cell).collect::<Vec<_>>().join(" ")
}

/// Draws boxes of at most that many ranges for a plan and holds it to what it declares; the number of boxes in which it had a value.
fn hold(plan: &Plan, ranges: usize, boxes: usize, points: usize, chance: &mut Chance) -> Result<usize, TestCaseError> {
    let mut computed = 0;
    for _ in 0..boxes {
        let ends = any_box(plan, ranges, chance);
        let Some(range) = span(plan, &ends) else { continue };
        computed += 1;
        for _ in 0..points {
            let point = inside(&ends, chance);
            let Some(found) = span(plan, &point) else {
                let why = evaluate(plan, &root_values(&point)).state;
                return Err(TestCaseError::fail(format!(
                    "{}: {why:?} inside {}",
                    plan.figure.name,
                    described(plan, &ends)
                )));
            };
            prop_assert!(
                within(plan, found, range),
                "{}: {found:?} outside {range:?} at {}\nof {}",
                plan.figure.name,
                described(plan, &point),
                described(plan, &ends)
            );
        }
        let less = narrower(&ends, chance);
        if let Some(found) = span(plan, &less) {
            prop_assert!(
                within(plan, found, range),
                "{}: {found:?} outside {range:?} for {}\nof {}",
                plan.figure.name,
                described(plan, &less),
                described(plan, &ends)
            );
        }
    }
    Ok(computed)
}

/// How often each figure is drawn; `GATEWRIGHT_BOXES` draws more.
fn boxes() -> usize {
    std::env::var("GATEWRIGHT_BOXES").ok().and_then(|text| text.parse().ok()).unwrap_or(12)
}

fn each(plans: impl Iterator<Item = Plan>, chance: &mut Chance) -> Result<(), TestCaseError> {
    let mut wrong = Vec::new();
    for plan in plans {
        if let Err(why) = hold(&plan, MOST_RANGES, boxes(), 20, chance) {
            wrong.push(why.to_string());
        }
    }
    prop_assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    Ok(())
}

fn of_points() -> impl Iterator<Item = &'static Figure> {
    all().filter(|figure| matches!(figure.work, Work::Point(_)))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4, max_shrink_iters: 0, ..ProptestConfig::default() })]

    #[test]
    fn points_inside_ranges_of_the_inputs_stay_inside_the_result(seed in any::<u64>()) {
        each(of_points().map(|figure| Plan::with(figure, &|_| true)), &mut Chance(seed))?;
    }

    #[test]
    fn points_inside_ranges_of_the_fields_stay_inside_the_result(seed in any::<u64>()) {
        each(all().map(Plan::of), &mut Chance(seed))?;
    }
}

/// The boxes are such that no figure escapes.
#[test]
fn every_figure_has_values_in_plausible_boxes() {
    let mut chance = Chance(11);
    for figure in all() {
        for plan in [Plan::with(figure, &|_| true), Plan::of(figure)] {
            let computed = hold(&plan, 1, 300, 0, &mut chance).unwrap();
            assert!(computed >= 8, "{}: {computed} of 300", figure.name);
        }
    }
}
