//! `gatewright compute`: lists, choices, figures under a figure, and wrong input.

use serde_json::Value;

use super::program::{Done, run};

fn compute(arguments: &[&str]) -> Done {
    let arguments: Vec<&str> = std::iter::once("compute").chain(arguments.iter().copied()).collect();
    run(&arguments)
}

/// The value of a figure in its own unit.
fn value(arguments: &[&str]) -> f64 {
    let arguments: Vec<&str> = arguments.iter().copied().chain(["--format", "json"]).collect();
    let done = compute(&arguments);
    let figure: Value = serde_json::from_str(&done.out).unwrap_or_else(|_| panic!("{}", done.err));
    figure["value"].as_f64().unwrap_or_else(|| panic!("{}", done.out))
}

const LOADS: [&str; 2] = ["load=0 ft to 28 ft 6 in, 26 lb/ft", "load=28 ft 6 in to 43 ft 3 in, 17 lb/ft"];

#[test]
fn a_repeated_input_is_a_list() {
    // 26 x 28.5 + 17 x 14.75 lb, by hand.
    assert!((value(&["leaf_weight", LOADS[0], LOADS[1]]) - 991.75).abs() < 1e-9);
    // And with 25 lb at the leading edge and 10 lb at 43 ft: (741 x 14.25 + 250.75 x 35.875 + 430) / 1026.75 ft, by hand.
    let centroid = value(&["leaf_centroid", LOADS[0], LOADS[1], "item=25 lb at 0 ft", "item=10 lb at 43 ft"]);
    assert!((centroid - (741.0 * 14.25 + 250.75 * 35.875 + 430.0) / 1026.75).abs() < 1e-9, "{centroid}");
}

#[test]
fn an_input_that_is_a_figure_takes_its_value_or_its_own_inputs() {
    let common = ["opening=24 ft", "latch_overlap=6 in", "setback=6 in", "spacing=10 ft"];
    let with = |more: &[&'static str]| value(&[&["front_reaction_closed"], &common[..], more].concat());
    // An even leaf of 730 lb over 36.5 ft: 1222.75 lb (four frame programs agree).
    assert!((with(&["weight=730 lb", "centroid=18 ft 3 in"]) - 1222.75).abs() < 0.01);
    assert!((with(&["load=0 ft to 36 ft 6 in, 20 lb/ft"]) - 1222.75).abs() < 0.01);
    assert!((with(&["line_load=20 lb/ft", "leaf_length=36 ft 6 in"]) - 1222.75).abs() < 0.01);
    // A weight that is given stands, whatever lies along the leaf says of the center.
    assert!((with(&["weight=1460 lb", "line_load=20 lb/ft", "leaf_length=36 ft 6 in"]) - 2445.5).abs() < 0.02);
}

#[test]
fn a_figure_of_cases_is_bounded_until_a_case_is_named() {
    let inputs = [
        "embedment_needed",
        "role=fulcrum",
        "speed=115 mph",
        "edition=ASCE_7_16",
        "basis=strength",
        "exposure=C",
        "solidity=35 %",
        "members=flat",
        "leaf_height=6 ft",
        "bottom_gap=0.33 ft",
        "opening=24 ft",
        "latch_overlap=6 in",
        "setback=6 in",
        "spacing=10 ft",
        "recess=0 in",
        "leaf_length=36 ft 6 in",
        "line_load=20 lb/ft",
        "offset=6.5 in",
        "shape=round",
        "width=2 ft",
        "stated_lateral=150 psf/ft",
    ];
    // 8.878 ft closed and free, 4.893 ft latched (an engineering fact sheet's end-to-end example).
    let depth = value(&[&inputs[..], &["cases=closed_latched, closed_free"]].concat());
    assert!((depth - 8.878).abs() < 0.0005, "{depth}");
    let open = compute(&inputs);
    assert_eq!(open.code, 1);
    assert!(
        open.out.contains("not settled") && open.out.contains("4.89") && open.out.contains("cases"),
        "{}",
        open.out
    );
}

/// A name stands for one value wherever it is read: 730 lb, half open, 328.5 lb in front (own arithmetic: travel 24 ft 6 in,
/// front carriage at 12 ft 9 in, tail carriage at 22 ft 9 in, center of gravity at 18 ft 3 in).
#[test]
fn a_value_is_taken_wherever_the_figures_below_read_it() {
    let leaf = ["weight=730 lb", "centroid=18.25 ft", "opening=24 ft", "latch_overlap=6 in", "setback=6 in"];
    let half = [&["front_reaction_half"], &leaf[..], &["spacing=10 ft", "recess=0 in"]].concat();
    assert!((value(&half) - 328.5).abs() < 0.01);
    // 730 lb at 1 ft/s against 400 N: 2 x 15.381 J / 400 N = 0.0769 m (an engineering fact sheet's table).
    let edge = value(&["edge_travel", "weight=730 lb", "speed=1 ft/s", "force_limit=400 N"]);
    assert!((edge * 0.0254 - 0.0769).abs() < 0.0001, "{edge}");
    // What is given is not worked out again from parts.
    let twice = [&["pull_closed", "stated_weight=900 lb"], &leaf[..]].concat();
    let done = compute(&twice);
    assert!(done.code == 2 && done.err.contains("no input `stated_weight`"), "{}", done.err);
}

#[test]
fn wrong_input_is_told_all_at_once() {
    for (arguments, said) in [
        (
            &["travel", "opening=24", "bar", "foo=3"][..],
            &["`24` has no unit", "`bar` is no input", "no input `foo`"][..],
        ),
        (&["travel", "opening=24 ft"], &["not given: latch_overlap, recess"]),
        (&["travel", "opening=24 ft max", "latch_overlap=6 in", "recess=0 in"], &["leaves one end open"]),
        (&["travel", "opening=24 ft", "opening=25 ft"], &["`opening` is given twice"]),
        (&["travel", "opening", "=3 ft"], &["`opening` has no value; write opening=", "no name stands before `=3 ft`"]),
        (&["travel", "openning=24 ft"], &["did you mean `opening`?"]),
        (&["leaf_weight", "load=0 ft to 5 ft"], &["is no row; one is written like `0 ft to 20 ft, 26 lb/ft`"]),
        (&["leaf_weight", "load=0 to 5 ft, 20 lb/ft"], &["from: "]),
        (&["leaf_weight"], &["not given: stated_weight"]),
        (&["bolt_shear", "bolt_grade=A325", "bolt_diameter=1/2 in"], &["`A325` is no choice", "A325_N"]),
        (&["embedment_closed_free", "constrained=perhaps"], &["yes or no is expected"]),
        (&["trvael"], &["did you mean `travel`?"]),
        // The bounds of the fields of a submittal: a leaf covers no more than its area, Kd is at most 1.
        (&["velocity_pressure", "directionality=850 %"], &["directionality: at most 1 is expected, `850 %` is found"]),
        (&["travel", "opening=0 ft", "latch_overlap=0 in", "recess=0 in"], &["opening: more than 0 in is expected"]),
        (&["wind_force_closed", "solidity=120 %"], &["solidity: at most 1 is expected"]),
        (&["bolt_shear", "bolt_grade=A325_N", "bolt_diameter=0 in"], &["bolt_diameter: more than 0 in is expected"]),
    ] {
        let done = compute(arguments);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{arguments:?}");
        for words in said {
            assert!(done.err.contains(words), "{arguments:?}: {}", done.err);
        }
    }
    // Outside its limits a figure has no value, and says why.
    for (arguments, said) in [
        (&["bolt_shear", "bolt_grade=SAE_8", "bolt_diameter=1/2 in"][..], "no shear value is known here"),
        (&["soil_lateral_bearing", "class=peat"], "no presumptive value"),
        (&["leaf_weight", "load=5 ft to 4 ft, 20 lb/ft"], "ends before it begins"),
    ] {
        let done = compute(arguments);
        assert_eq!(done.code, 1, "{arguments:?}");
        assert!(done.out.contains(said), "{}", done.out);
    }
}

#[test]
fn the_list_of_figures_names_inputs_units_and_where_they_come_from() {
    let listed = compute(&[]);
    assert_eq!(listed.code, 0);
    for words in ["embedment_needed (a length, of a post)", "or the inputs of leaf_weight", "0 lb where it is left out"]
    {
        assert!(listed.out.contains(words), "{words}");
    }
    let listed: Value = serde_json::from_str(&compute(&["--format", "json"]).out).unwrap();
    assert!(listed.as_array().unwrap().iter().any(|figure| figure["name"] == "wind_force_closed"));
}

/// 2000 lb-ft on 1.5 ft in 150 psf/ft: 4.0820 ft (`tests/reference/data/figures/footing.json`, FTG-M).
#[test]
fn an_embedment_under_a_moment_takes_a_moment() {
    let ground = ["diameter=1.5 ft", "lateral_bearing=150 psf/ft"];
    for moment in ["moment=2000 lb-ft", "moment=2 kip-ft", "moment=24,000 lb-in"] {
        let found = value(&["post_embedment_moment", moment, ground[0], ground[1]]);
        assert!((found - 4.0820).abs() < 0.001, "{moment}: {found}");
    }
    let wrong = compute(&["post_embedment_moment", "moment=2000 lb", ground[0], ground[1]]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("a moment is expected"), "{}", wrong.err);
}

#[test]
fn a_range_where_one_value_is_wanted_is_refused_with_the_input() {
    let range = compute(&["bolt_shear", "bolt_grade=A307", "bolt_diameter=3/8 in to 1/2 in"]);
    assert_eq!(range.code, 1);
    assert!(range.out.contains("`bolt_diameter` is a range; state one value"), "{}", range.out);
}
