//! `gatewright worksheet`: what it prints, and what it does with wrong input.

use super::program::{run, run_with_input};

const GATE: &str = include_str!("../reference/data/end_to_end.yaml");

#[test]
fn a_worksheet_for_people_shows_formula_values_and_source() {
    let done = run_with_input(&["worksheet", "-"], GATE);
    assert_eq!(done.code, 0, "{}", done.err);
    insta::assert_snapshot!(done.out);
}

#[test]
fn a_worksheet_as_a_page_ends_with_the_cautions() {
    let done = run_with_input(&["worksheet", "--format", "markdown", "-"], GATE);
    assert_eq!(done.code, 0);
    for part in [
        "### front\\_reaction\\_closed = 1222.8 lb (5439 N)",
        "- live\\_load = 0 lb (assumed)",
        "### not computed",
        "They are no design and replace none.",
        "licensed engineer",
    ] {
        assert!(done.out.contains(part), "{part}");
    }
}

#[test]
fn zones_of_a_powered_gate_stand_beside_what_is_declared() {
    let done = run(&["worksheet", "--format", "json", "examples/saltmarsh-depot/bid-set.yaml"]);
    let sheet: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let powered = GATE.replace("operation: manual", "operation: powered").replace(
        "    carriages:",
        "    run_back: 37 ft 6 in\n    meets: latch_post\n    entrapment_zones:\n      - {zone: tail_end, direction: opening}\n    carriages:",
    );
    assert!(sheet["gates"].as_array().unwrap().iter().all(|gate| gate["figures"].is_array()));
    let done = run_with_input(&["worksheet", "--format", "json", "-"], &powered);
    let sheet: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let zone = |name: &str| {
        let zones = sheet["gates"][0]["zones"].as_array().unwrap();
        zones.iter().find(|zone| zone["zone"] == name).unwrap().clone()
    };
    // The open leaf takes 36 ft 6 in of 37 ft 6 in: 12 in are left, and under 16 in a body can be caught.
    assert_eq!((zone("tail_end")["implied"].clone(), zone("tail_end")["declared"].clone()), (true.into(), true.into()));
    assert_eq!(zone("leading_edge")["declared"], false);
    assert_eq!(zone("meeting_edges")["implied"], false);
    // Whether the drive is covered is not said, so it is not known.
    assert!(zone("drive")["implied"].is_null());
    assert_eq!(zone("drive")["missing"][0], "gate.operator.drive_guarded");
}

/// A gate whose operation is not shown may be powered: its zones are listed, and wait for that.
#[test]
fn zones_are_not_dropped_where_the_operation_is_not_shown() {
    let open = GATE.replace("    operation: manual\n", "");
    assert_ne!(open, GATE);
    let zones = |text: &str| {
        let done = run_with_input(&["worksheet", "--format", "json", "-"], text);
        let sheet: serde_json::Value = serde_json::from_str(&done.out).unwrap();
        sheet["gates"][0]["zones"].as_array().unwrap().clone()
    };
    let listed = zones(&open);
    let leading = listed.iter().find(|zone| zone["zone"] == "leading_edge").unwrap();
    assert!(leading["implied"].is_null());
    assert_eq!(leading["missing"], serde_json::json!(["gate.operation"]));
    assert_eq!(zones(GATE).len(), 0, "no zone of a gate without a motor");
    let unreadable = zones(&GATE.replace("operation: manual", "operation: bogus"));
    assert_eq!(unreadable[0]["missing"], serde_json::json!(["gate.operation"]));
    // What does not apply makes no zone: a gate without a fence to pass.
    let none = GATE.replace("operation: manual", "operation: powered\n    covered_fence: n/a");
    let fence = zones(&none).into_iter().find(|zone| zone["zone"] == "covered_fence").unwrap();
    assert_eq!(fence["implied"], false);
}

#[test]
fn a_worksheet_of_several_documents_names_them_and_one_without_gates_is_none() {
    let done = run_with_input(&["worksheet", "-"], &format!("{GATE}---\n{GATE}"));
    assert!(done.out.contains("<stdin>, document 1\n") && done.out.contains("<stdin>, document 2\n"), "{}", done.out);
    let done = run_with_input(&["worksheet", "-"], "format: 1\ngates: []\n");
    assert_eq!((done.code, done.out.as_str()), (4, ""));
    assert!(done.err.contains("there is no gate in it"), "{}", done.err);
}

#[test]
fn worksheets_and_figures_fit_their_schema() {
    let schema: serde_json::Value = serde_json::from_str(include_str!("../../schema/worksheet.schema.json")).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let fits = |sheet: &serde_json::Value| {
        let errors: Vec<String> =
            validator.iter_errors(sheet).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(errors.is_empty(), "{}", errors.join("\n"));
    };
    for file in ["examples/alder-ridge/rev-2.yaml", "examples/saltmarsh-depot/bid-set.yaml"] {
        fits(&serde_json::from_str(&run(&["worksheet", "--format", "json", file]).out).unwrap());
    }
    let ranged = GATE.replace("speed: 115 mph", "speed: 110 to 120 mph");
    fits(&serde_json::from_str(&run_with_input(&["worksheet", "--format", "json", "-"], &ranged).out).unwrap());
    let figure = run(&["compute", "travel", "opening=24 ft", "latch_overlap=6 in", "recess=0 in", "--format", "json"]);
    let figure: serde_json::Value = serde_json::from_str(&figure.out).unwrap();
    let gate = serde_json::json!({
        "path": "", "document": 1, "mark": "", "reviewed": true, "zones": [], "figures": [figure]
    });
    fits(&serde_json::json!({"version": 1, "gates": [gate]}));
}

#[test]
fn wrong_input_has_its_message_and_exit_code() {
    let missing = run(&["worksheet", "nowhere.yaml"]);
    assert_eq!((missing.code, missing.out.as_str()), (4, ""));
    assert!(missing.err.contains("nowhere.yaml"), "{}", missing.err);
    let broken = run_with_input(&["worksheet", "-"], "format: 1\ngates: [\n");
    assert_eq!(broken.code, 4, "{}", broken.err);
    let foreign = run_with_input(&["worksheet", "-"], "on: push\n");
    assert_eq!(foreign.code, 4);
    assert!(foreign.err.contains("no submittal"), "{}", foreign.err);
    let other = run_with_input(&["worksheet", "-"], "format: 1\ngates:\n  - {mark: G1, type: swing}\n");
    assert!(other.out.contains("No figure is given of a gate of this type."), "{}", other.out);
    assert_eq!(run(&["worksheet"]).code, 2);
}

/// The worksheet says of a zone that it is to be declared where, and only where, the rule finds it missing.
#[test]
fn the_zones_that_a_worksheet_asks_for_are_those_of_the_rule() {
    let clean = include_str!("../../examples/alder-ridge/rev-2.yaml");
    assert!(
        clean.contains("    covered_fence: {")
            && clean.contains("    operation: powered")
            && clean.contains("leaves: 1")
    );
    let none_covered =
        clean.replace("    covered_fence: {largest_opening: 2 in, guarded_to: 7 ft}", "    covered_fence: n/a");
    let pair = clean.replace("    leaves: 1", "    leaves: 2").replace("    meets: latch_post\n", "");
    let two = clean.replace("    meets: latch_post\n", "    meets: leaf\n");
    let single = clean.replace("    meets: latch_post\n", "");
    let unpowered = clean.replace("    operation: powered", "    operation: manual_to_be_powered");
    let mut differ = std::collections::BTreeSet::new();
    for text in [clean, &none_covered, &pair, &two, &single, &unpowered] {
        let zones = text.lines().filter(|line| text == clean && line.trim_start().starts_with("- {zone:"));
        for left_out in std::iter::once("").chain(zones) {
            let text = text.replace(&format!("{left_out}\n"), if left_out.is_empty() { "\n" } else { "" });
            let json = |arguments: &[&str]| -> serde_json::Value {
                let done = run_with_input(arguments, &text);
                serde_json::from_str(&done.out).unwrap_or_else(|_| panic!("{}", done.err))
            };
            let sheet = json(&["worksheet", "--format", "json", "-"]);
            let zones = sheet["gates"][0]["zones"].as_array().unwrap().iter();
            let asked: Vec<&str> = zones
                .filter(|zone| zone["asked"] == true && zone["declared"] == false)
                .map(|zone| zone["zone"].as_str().unwrap())
                .collect();
            let review = json(&["review", "--format", "json", "-"]);
            let found: Vec<&str> = review["findings"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|finding| finding["rule"] == "entrapment/undeclared-zone" && finding["outcome"] == "not_met")
                .map(|finding| finding["element"].as_str().unwrap())
                .collect();
            let sorted =
                |list: Vec<&str>| list.into_iter().map(str::to_owned).collect::<std::collections::BTreeSet<_>>();
            assert_eq!(sorted(asked), sorted(found.clone()), "{left_out}");
            differ.insert(sorted(found));
        }
    }
    assert!(differ.len() > 10, "{differ:?}");
}
