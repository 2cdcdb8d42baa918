//! What is lacking, assumed, open at one end, or bounded by the cases that are not claimed yet.

use gatewright::figures::{RootValue, State};
use gatewright::quantity::Quantity;

use super::asked::Asked;

#[test]
fn what_is_lacking_and_assumed_is_said() {
    let needed = Asked::own("counterbalance_needed").with_all([("setback", 0.2), ("spacing", 3.0)]);
    let done = needed.clone().with("carriage_length", 0.3).outcome();
    assert!(matches!(done.state, State::Computed(_)), "{done:?}");
    assert_eq!(done.assumed.iter().map(|(_, words)| *words).collect::<Vec<_>>(), ["0 in"]);
    assert_eq!(needed.names(&[done.assumed[0].0]), ["tail_margin"]);
    let State::Lacking(roots) = Asked::own("counterbalance_needed").with("setback", 0.2).outcome().state else {
        panic!("it has no spacing");
    };
    assert_eq!(needed.names(&roots), ["spacing", "carriage_length"]);
    // One open end is not enough, and no value is put in for it.
    for open in [Quantity::at_most(0.3), Quantity::at_least(0.3), Quantity::not_shown()] {
        let asked = needed.clone().value_of("carriage_length", RootValue::Value(open));
        assert_eq!(asked.outcome().state, State::Lacking(vec![2]), "{open:?}");
        let assumed = needed.clone().with("carriage_length", 0.3).value_of("tail_margin", RootValue::Value(open));
        assert_eq!(assumed.outcome().state, State::Lacking(vec![3]), "what is half stated is not assumed");
    }
}

/// Lacking is told down to the fields, each root once.
#[test]
fn what_lacks_under_a_figure_is_told_by_its_fields() {
    let reaction = Asked::whole("front_reaction_closed").with_all([("opening", 7.3), ("spacing", 3.0)]);
    let State::Lacking(roots) = reaction.outcome().state else { panic!("the weight is not known") };
    let names = reaction.names(&roots);
    for name in ["stated_weight", "stated_centroid", "latch_overlap", "setback"] {
        assert!(names.contains(&name), "{names:?}");
    }
    assert!(!names.contains(&"live_load") && !names.contains(&"spacing"), "{names:?}");
}

/// A footing of 0.6 m under a fulcrum post in the wind.
fn embedment() -> Asked {
    Asked::whole("embedment_needed")
        .choose("role", &["fulcrum"])
        .choose("exposure", &["C"])
        .choose("edition", &["ASCE_7_16"])
        .choose("basis", &["strength"])
        .choose("members", &["flat"])
        .choose("shape", &["round"])
        .with_all([
            ("speed", 51.4),
            ("solidity", 0.35),
            ("leaf_height", 1.83),
            ("bottom_gap", 0.1),
            ("opening", 7.32),
            ("latch_overlap", 0.15),
            ("setback", 0.15),
            ("spacing", 3.05),
            ("recess", 0.0),
            ("leaf_length", 11.13),
            ("stated_weight", 3_247.0),
            ("stated_centroid", 5.56),
            ("offset", 0.165),
            ("width", 0.6),
            ("stated_lateral", 23_563.0),
        ])
}

/// The case that asks for least is certain; how much more is asked for depends on the cases claimed.
#[test]
fn while_no_case_is_claimed_the_figure_lies_between_the_least_and_the_worst() {
    let one = |case: &str| embedment().choose("cases", &[case]).value();
    let [latched, free, open] = ["closed_latched", "closed_free", "open_parked"].map(one);
    assert!(latched < free, "a free leading edge asks for more");
    let State::Bounded(bounds, roots) = embedment().outcome().state else { panic!("no case is claimed") };
    assert_eq!(embedment().names(&roots), ["cases"]);
    assert!((bounds.lo - latched).abs() < 1e-12 && (bounds.hi - free.max(open)).abs() < 1e-12, "{bounds:?}");
    assert!(!bounds.lo_declared && !bounds.hi_declared);
    let both = embedment().choose("cases", &["closed_latched", "closed_free"]).value();
    assert_eq!(both, free);
    // What one case cannot be worked out for bounds nothing from above.
    let mut without_length = embedment();
    without_length = without_length.value_of("leaf_length", RootValue::Absent);
    let State::Bounded(bounds, _) = without_length.outcome().state else { panic!("closed cases need no length") };
    assert_eq!(bounds.hi, f64::INFINITY);
    // A case that is claimed and lacks something is lacking.
    let State::Lacking(roots) = without_length.clone().choose("cases", &["open_parked"]).outcome().state else {
        panic!("the open leaf has no length");
    };
    assert_eq!(without_length.names(&roots), ["leaf_length"]);
}

/// What refuses a range names the field, also where the range stands under another figure.
#[test]
fn a_range_is_refused_by_name() {
    let refused = Asked::own("chord_distance").range("leaf_height", 1.5, 1.6).with("chord_depth", 0.1);
    assert!((refused.span().hi - 1.5).abs() < 1e-12);
    let asked = Asked::whole("shear_stiffness")
        .choose("material", &["steel"])
        .choose("pattern", &["rigid"])
        .range("leaf_height", 1.5, 1.6)
        .with_all([("panel_length", 1.5), ("chord_depth", 0.1), ("diagonal_area", 5e-4), ("upright_area", 5e-4)]);
    assert_eq!(asked.refused_range(), "`leaf_height` is a range; state one value");
    let many = Asked::own("travel_time")
        .range("travel", 7.0, 7.1)
        .range("speed", 0.3, 0.31)
        .range("acceleration", 0.3, 0.4)
        .range("deceleration", 0.3, 0.4);
    assert!(many.span().lo < many.span().hi);
}

/// More ranges than the corners allow are refused with their names.
#[test]
fn too_many_ranges_are_refused() {
    let names = ["weight", "centroid", "opening", "latch_overlap", "setback", "spacing", "live_load"];
    let mut asked = Asked::own("front_reaction_closed");
    for name in names {
        asked = asked.range(name, 2.0, 2.1);
    }
    let reason = asked.refused_range();
    assert!(reason.starts_with("it rests on 7 ranges") && names.iter().all(|name| reason.contains(name)), "{reason}");
    assert!(asked.with("live_load", 2.0).span().lo > 0.0, "six are taken");
}

/// Zero where a figure divides is a reason, not an infinity.
#[test]
fn a_division_by_zero_is_a_reason() {
    let leaf = |name: &str| {
        Asked::own(name).with_all([
            ("weight", 3_000.0),
            ("centroid", 5.0),
            ("opening", 7.0),
            ("latch_overlap", 0.1),
            ("setback", 0.2),
            ("spacing", 0.0),
        ])
    };
    for name in ["front_reaction_closed", "tail_reaction_closed"] {
        assert!(leaf(name).refusal().contains("spacing"), "{name}");
    }
    let energy = Asked::own("edge_travel").with_all([("kinetic_energy", 15.0), ("force_limit", 0.0)]);
    assert!(energy.refusal().contains("force_limit"));
}

/// 24 ft, 6 in and 12 ft make 36.5 ft from the opening edge alone; from a carriage or a post 12 ft are another length.
#[test]
fn a_counterbalance_from_elsewhere_is_not_taken_for_one_from_the_opening_edge() {
    let asked = |figure: &str, names: &[(&str, f64)]| {
        names.iter().fold(Asked::own(figure), |asked, (name, value)| asked.with(name, *value))
    };
    for (asked, expected) in [
        (asked("leaf_length", &[("opening", 24.0), ("latch_overlap", 0.5), ("counterbalance", 12.0)]), 36.5),
        (asked("counterbalance_ratio", &[("opening", 24.0), ("counterbalance", 12.0)]), 0.5),
        (
            asked(
                "tail_track_left",
                &[("counterbalance", 12.0), ("setback", 0.5), ("spacing", 10.0), ("carriage_length", 1.0)],
            ),
            1.0,
        ),
    ] {
        assert_eq!(asked.value(), expected);
        assert_eq!(asked.clone().choose("counterbalance_from", &["opening_edge"]).value(), expected);
        for datum in ["front_carriage", "post_center"] {
            let refused = asked.clone().choose("counterbalance_from", &[datum]).refusal();
            assert_eq!(refused, "the counterbalance does not count from the opening edge");
        }
    }
}

/// Nobody reads the parts of a leaf whose weight is stated: neither their ranges nor what is missing of them counts.
#[test]
fn what_a_function_does_not_read_stops_it_by_nothing() {
    let stated = Asked::whole("leaf_weight").with("stated_weight", 3_500.0);
    assert_eq!(stated.clone().range("counterbalance", 3.6, 3.7).value(), 3_500.0);
    let open = RootValue::Value(Quantity::at_least(11.0));
    assert_eq!(stated.clone().value_of("leaf_length", open.clone()).value(), 3_500.0);
    // Without the stated weight both count.
    let parts = Asked::whole("leaf_weight").with("line_load", 300.0);
    assert!(matches!(parts.clone().value_of("leaf_length", open).outcome().state, State::Lacking(_)));
    let weight = parts.clone().range("leaf_length", 11.0, 11.2).span();
    assert!((weight.lo - 3_300.0).abs() < 1e-9 && (weight.hi - 3_360.0).abs() < 1e-9, "{weight:?}");
    let center = Asked::whole("leaf_centroid").with("line_load", 300.0);
    let reason = center.range("leaf_length", 11.0, 11.2).refused_range();
    assert!(reason.contains("`leaf_length` is a range; state one value"), "{reason}");
}

/// By its role a latch post carries no leaf, whatever the leaf weighs. By hand: the moment is the wind at its height.
#[test]
fn a_latch_post_does_not_wait_for_the_weight_of_the_leaf() {
    let post = |role: &str| Asked::own("carriage_load_closed").choose("role", &[role]).with("front_reaction", 8_000.0);
    assert_eq!(post("latch").value(), 0.0);
    let State::Lacking(roots) = post("tail").outcome().state else { panic!("the tail carriage's load is not known") };
    assert_eq!(post("tail").names(&roots), ["tail_reaction"]);
}

/// A figure that turns back at the first fact that it lacks tells all that it cannot do without, so that one answer is
/// enough; of what it can do without only what it read.
#[test]
fn what_lacks_is_told_at_once() {
    let stiffness = Asked::whole("shear_stiffness");
    let State::Lacking(roots) = stiffness.outcome().state else { panic!("nothing is known") };
    let names = stiffness.names(&roots);
    for name in ["pattern", "material", "panel_length", "upright_area"] {
        assert!(names.contains(&name), "{name} in {names:?}");
    }
    let open = |value: f64| RootValue::Value(Quantity::at_most(value));
    let weight = Asked::whole("leaf_weight_rebuilt").with("leaf_length", 11.0);
    let weight = weight.value_of("line_load", open(300.0)).value_of("infill_weight", open(50.0));
    let State::Lacking(roots) = weight.outcome().state else { panic!("the line load is open") };
    assert_eq!(weight.names(&roots), ["line_load"]);
}
