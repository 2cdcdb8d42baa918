//! Figures from the command line: published values in the units they are published in, rows, and inputs of figures below.

use serde_json::Value;

use super::program::{Done, run};

fn compute(name: &str, inputs: &[&str]) -> Done {
    let arguments: Vec<&str> = ["compute", name, "--format", "json"].iter().chain(inputs).copied().collect();
    run(&arguments)
}

/// The value and its unit.
fn value(name: &str, inputs: &[&str]) -> (f64, String) {
    let done = compute(name, inputs);
    assert_eq!((done.code, done.err.as_str()), (0, ""), "{name} {inputs:?}");
    let json: Value = serde_json::from_str(&done.out).unwrap();
    assert_eq!(json["state"], "computed", "{}", done.out);
    (json["value"].as_f64().unwrap(), json["unit"].as_str().unwrap().to_owned())
}

/// The first leaf of `tests/reference/data/figures/statics.json`: its weight and center of gravity given, or rebuilt from an
/// even load, or from rows of it.
#[test]
fn a_reaction_from_the_weight_or_from_what_lies_along_the_leaf() {
    let leaf = ["opening=24 ft", "latch_overlap=6 in", "setback=6 in", "spacing=10 ft"];
    let weights: [&[&str]; 3] = [
        &["weight=730 lb", "centroid=18 ft 3 in"],
        &["line_load=20 lb/ft", "leaf_length=36 ft 6 in"],
        &["load=0 ft to 12 ft, 20 lb/ft", "load=12 ft to 36 ft 6 in, 20 lb/ft"],
    ];
    for weight in weights {
        let inputs: Vec<&str> = leaf.iter().chain(weight).copied().collect();
        let (found, unit) = value("front_reaction_closed", &inputs);
        assert!((found - 1222.75).abs() < 0.01 && unit == "lb", "{weight:?}: {found} {unit}");
    }
    // A concentrated weight is a row too: 200 lb at the leading edge of that leaf.
    let with: Vec<&str> = leaf.iter().chain(weights[2]).copied().chain(["item=200 lb at 0 in"]).collect();
    assert!((value("front_reaction_closed", &with).0 - 1922.75).abs() < 0.01);
}

/// 2000 lb-ft on 1.5 ft in 150 psf/ft: 4.0820 ft (`tests/reference/data/figures/footing.json`, FTG-M).
#[test]
fn an_embedment_under_a_moment_takes_a_moment() {
    let ground = ["diameter=1.5 ft", "lateral_bearing=150 psf/ft"];
    for moment in ["moment=2000 lb-ft", "moment=2 kip-ft", "moment=24,000 lb-in"] {
        let (found, unit) = value("post_embedment_moment", &[moment, ground[0], ground[1]]);
        assert!((found - 4.0820).abs() < 0.001 && unit == "ft", "{moment}: {found}");
    }
    let wrong = compute("post_embedment_moment", &["moment=2000 lb", ground[0], ground[1]]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("a moment is expected"), "{}", wrong.err);
}

#[test]
fn what_is_missing_or_refused_is_said() {
    let none = compute("front_reaction_closed", &["opening=24 ft"]);
    assert_eq!((none.code, none.out.as_str()), (2, ""));
    for name in ["weight", "centroid", "latch_overlap", "setback", "spacing"] {
        assert!(none.err.contains(name), "{name}: {}", none.err);
    }
    let range = compute("bolt_shear", &["bolt_grade=A307", "bolt_diameter=3/8 in to 1/2 in"]);
    assert_eq!(range.code, 1);
    assert!(range.out.contains("`bolt_diameter` is a range; state one value"), "{}", range.out);
    let choice = compute("bolt_shear", &["bolt_grade=A325", "bolt_diameter=1/2 in"]);
    assert!(choice.err.contains("the choices are A307, A325_N, A325_X"), "{}", choice.err);
    let row = compute("leaf_weight", &["load=0 ft and 12 ft: 20 lb/ft"]);
    assert!(row.err.contains("is not a row of the form"), "{}", row.err);
}
