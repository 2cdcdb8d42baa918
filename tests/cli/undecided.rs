//! What stays undecided counts as what is not shown does, whatever keeps it so; and what stands for a gate or a finding
//! stands for it alone.

use std::collections::BTreeSet;

use serde_json::Value;
use serde_yaml::Value as Yaml;

use super::program::run_with_input;

const CLEAN: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");

fn edited(from: &str, to: &str) -> String {
    assert!(CLEAN.contains(from), "{from}");
    CLEAN.replacen(from, to, 1)
}

/// The report, with the exit code for hazards.
fn as_json(text: &str) -> (Value, i32) {
    let done = run_with_input(&["review", "--format", "json", "--fail-on", "hazard", "-"], text);
    (serde_json::from_str(&done.out).unwrap_or_else(|error| panic!("{error}\n{}", done.err)), done.code)
}

fn exit_for_hazards(text: &str) -> i32 {
    run_with_input(&["review", "--format", "line", "--fail-on", "hazard", "-"], text).code
}

fn strings(value: &Value) -> BTreeSet<&str> {
    value.as_array().unwrap().iter().map(|item| item.as_str().unwrap()).collect()
}

/// The hazard of an open leaf rests on this value alone.
#[test]
fn a_hazard_that_waits_for_an_unreadable_value_counts_as_one_not_shown() {
    let text = edited("largest_opening: 2 in, guarded_to: 6 ft 10 in", "largest_opening: 2.5, guarded_to: 6 ft 10 in");
    assert_eq!(exit_for_hazards(&text), 1);
    let done = run_with_input(&["review", "--format", "line", "-"], &text);
    assert_eq!(done.out.lines().count(), 1, "{}", done.out);
    assert!(done.out.contains("waiting for it: 1 hazard (guarding/open-leaf)"), "{}", done.out);
    let report = run_with_input(&["review", "-"], &text).out;
    assert!(report.contains("Waiting     1 hazard (guarding/open-leaf)"), "{report}");
    let (_, unchecked) = report.split_once("Could not be checked").unwrap();
    assert!(unchecked.contains("guarding/open-leaf"), "{report}");
    // Before a bid it is a question, and the finding of the text is a requirement.
    let bid = ["review", "--stage", "bid", "--fail-on", "hazard", "--format", "line", "-"];
    assert_eq!(run_with_input(&bid, &text).code, 0);
}

/// Paths of the scalars that hold a number, by keys and indexes.
fn numbers(value: &Yaml, at: &[Yaml], out: &mut Vec<Vec<Yaml>>) {
    let below = |key: Yaml| [at, &[key]].concat();
    match value {
        Yaml::Mapping(map) => map.iter().for_each(|(key, value)| numbers(value, &below(key.clone()), out)),
        Yaml::Sequence(list) => {
            list.iter().enumerate().for_each(|(index, value)| numbers(value, &below(Yaml::from(index)), out));
        }
        Yaml::String(text) if text.starts_with(|c: char| c.is_ascii_digit()) => out.push(at.to_vec()),
        _ => {}
    }
}

fn at_mut<'y>(root: &'y mut Yaml, path: &[Yaml]) -> &'y mut Yaml {
    path.iter().fold(root, |at, key| match key.as_u64() {
        Some(index) => &mut at[usize::try_from(index).unwrap()],
        None => &mut at[key.as_str().unwrap()],
    })
}

/// Every rule that is undecided stands in a question, and one that waits for what cannot be read in a finding that names it;
/// says whether a hazard is undecided.
fn all_told(text: &str, what: &str) -> bool {
    let (report, code) = as_json(text);
    let outcomes = report["submittals"][0]["gates"].as_array().unwrap().iter();
    let outcomes = outcomes.chain([&report["submittals"][0]["submittal_rules"]]);
    let undecided: BTreeSet<&str> = outcomes.flat_map(|of| strings(&of["not_shown"])).collect();
    let questions = report["questions"].as_array().unwrap();
    let asked: BTreeSet<&str> = questions.iter().flat_map(|question| strings(&question["rules"])).collect();
    assert_eq!(undecided, asked, "{what}");
    let findings = report["findings"].as_array().unwrap();
    let told: BTreeSet<&str> = findings.iter().flat_map(|finding| strings(&finding["waiting"])).collect();
    let unreadable = questions.iter().filter(|question| question["unreadable"] == true);
    let unreadable: BTreeSet<&str> = unreadable.flat_map(|question| strings(&question["rules"])).collect();
    assert_eq!(told, unreadable, "{what}");
    let is_hazard = undecided.iter().any(|name| report["rules"][name]["weight"] == "hazard");
    let found = findings.iter().any(|finding| finding["weight"] == "hazard" && finding["outcome"] == "not_met");
    assert_eq!(code, i32::from(is_hazard || found), "{what}");
    is_hazard
}

/// Each measured value in turn made unreadable: whatever is then not shown is a question, with a finding that names the
/// rules that wait.
#[test]
fn no_rule_that_waits_for_an_unreadable_value_goes_unsaid() {
    let root: Yaml = serde_yaml::from_str(CLEAN).unwrap();
    let mut paths = Vec::new();
    numbers(&root, &[], &mut paths);
    assert!(paths.len() > 100);
    let mut hazards = 0;
    // Every fifth: the values next to each other are much alike.
    for path in paths.iter().step_by(5) {
        let mut spoiled = root.clone();
        *at_mut(&mut spoiled, path) = Yaml::from("2.5 cubits");
        let text = serde_yaml::to_string(&spoiled).unwrap();
        hazards += usize::from(all_told(&text, &format!("{path:?}")));
    }
    assert!(hazards > 2, "{hazards}");
}

/// A word where a section should stand: as a gate, and as an element of each list of the gate.
#[test]
fn no_rule_that_waits_for_an_element_that_is_no_section_goes_unsaid() {
    let root: Yaml = serde_yaml::from_str(CLEAN).unwrap();
    let Yaml::Mapping(gate) = &root["gates"][0] else { panic!("a gate is a section") };
    let lists: Vec<String> = gate
        .iter()
        .filter(|(_, value)| value.as_sequence().is_some_and(|list| list.iter().any(Yaml::is_mapping)))
        .map(|(key, _)| key.as_str().unwrap().to_owned())
        .collect();
    assert!(lists.len() > 5, "{lists:?}");
    let mut hazards = 0;
    for list in &lists {
        let mut spoiled = root.clone();
        spoiled["gates"][0][list.as_str()].as_sequence_mut().unwrap().push(Yaml::from("hello"));
        hazards += usize::from(all_told(&serde_yaml::to_string(&spoiled).unwrap(), list));
    }
    assert!(hazards > 2, "{hazards}");
    let mut spoiled = root.clone();
    spoiled["gates"].as_sequence_mut().unwrap().push(Yaml::from("G2"));
    assert!(all_told(&serde_yaml::to_string(&spoiled).unwrap(), "gates"));
}

#[test]
fn a_key_that_stands_twice_tells_what_waits_for_it() {
    let text = edited(
        "    covered_fence: {largest_opening: 2 in, guarded_to: 7 ft}\n",
        "    covered_fence: {largest_opening: 2 in, guarded_to: 7 ft}\n    covered_fence: {largest_opening: 2 in, guarded_to: 7 ft}\n",
    );
    let (report, code) = as_json(&text);
    let twice = report["findings"].as_array().unwrap().iter().find(|it| it["rule"] == "reading/duplicate-key").unwrap();
    assert!(strings(&twice["waiting"]).contains("guarding/open-covered-fence"), "{twice:#}");
    assert_eq!(code, 1);
}

#[test]
fn a_gate_that_was_not_reviewed_passes_at_no_weight() {
    let other = "format: 1\ngates:\n  - {mark: G1, type: swing}\n";
    for text in [other, "format: 1\ngates: []\n", "format: 1\n"] {
        for fail_on in ["advice", "requirement", "hazard"] {
            let done = run_with_input(&["review", "--format", "line", "--fail-on", fail_on, "-"], text);
            assert_eq!(done.code, 1, "{fail_on}: {text}{}", done.out);
        }
        assert_eq!(run_with_input(&["review", "--format", "line", "--fail-on", "never", "-"], text).code, 0);
    }
    let beside_another = edited("gates:\n", "gates:\n  - {mark: G9, type: swing}\n");
    assert_eq!(exit_for_hazards(&beside_another), 1);
}

#[test]
fn a_type_that_cannot_be_read_offers_what_is_near_and_says_what_was_assumed() {
    let text = edited("    type: cantilever_slide\n", "    type: slidng\n");
    let report = run_with_input(&["review", "-"], &text).out;
    let words = report.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("did you mean `cantilever_slide` or `ground_track_slide` or `overhead_slide`?"), "{report}");
    assert!(words.contains("its type is not shown; it was reviewed as a cantilever slide gate"), "{report}");
}

/// Two posts with one fault, a fault of the text at both, and lines that move.
#[test]
fn the_key_of_a_finding_is_its_own_and_stays_when_lines_move() {
    let text = CLEAN.replace("leaf_gap: 2 in", "leaf_gap: 2").replace("depth: 84 in", "depth: 12 in");
    let keys = |text: &str| -> Vec<String> {
        let (report, _) = as_json(text);
        let findings = report["findings"].as_array().unwrap().iter();
        findings.map(|finding| finding["key"].as_str().unwrap().to_owned()).collect()
    };
    let before = keys(&text);
    assert!(before.len() > 5, "{before:?}");
    assert_eq!(before.iter().collect::<BTreeSet<_>>().len(), before.len(), "{before:?}");
    assert_eq!(keys(&text.replace("gates:\n", "# A remark.\n\ngates:\n")), before);
}

/// Two gates of one mark lack different things: neither's question stands for the other.
#[test]
fn gates_of_one_mark_keep_their_own_questions_and_places() {
    let text = "format: 1\ngates:\n  - mark: G1\n    opening: 20 ft\n    fixed_objects: [{what: wall, beside: 5}]\n  - mark: G1\n    fixed_objects: n/a\n";
    let (report, _) = as_json(text);
    let openings: Vec<&Value> =
        report["questions"].as_array().unwrap().iter().filter(|it| it["field"] == "gate.leaf").collect();
    let of: Vec<(u64, u64)> = openings
        .iter()
        .map(|question| (question["gate_number"].as_u64().unwrap(), question["line"].as_u64().unwrap()))
        .collect();
    assert_eq!(of, [(1, 3), (2, 6)], "{openings:#?}");
    let lines: Vec<(u64, u64)> = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| !finding["gate_number"].is_null())
        .map(|finding| (finding["gate_number"].as_u64().unwrap(), finding["line"].as_u64().unwrap()))
        .collect();
    assert!(lines.is_sorted());
    // What no gate can show stands at the top of the document.
    assert!(lines.iter().all(|(gate, line)| *line == 1 || (*line < 6) == (*gate == 1)));
    let keys: BTreeSet<&str> =
        report["findings"].as_array().unwrap().iter().map(|finding| finding["key"].as_str().unwrap()).collect();
    assert_eq!(keys.len(), report["findings"].as_array().unwrap().len());
}

#[test]
fn a_list_of_which_no_element_counts_is_asked_about_in_words_of_the_submittal() {
    let (report, _) = as_json(&edited("- role: tail", "- role: fulcrum"));
    let questions = report["questions"].as_array().unwrap();
    let asked = questions.iter().find(|question| question["field"] == "gate.support_posts").unwrap();
    assert_eq!(asked["label"], "support posts, none of which has the support post role tail");
    let waiting: Vec<&Value> = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["rule"] == "dimensions/post-spacing-mismatch")
        .collect();
    assert_eq!(waiting[0]["missing"], serde_json::json!(["gate.support_posts"]), "{waiting:#?}");
}

/// An id like the place of another sensor, and a key like that of another finding with its number.
#[test]
fn no_two_findings_have_one_key_whatever_the_author_calls_things() {
    let text = "format: 1\ngates:\n  - mark: G1\n    sensors: [{id: \"2\", foo: 1}, {foo: 1, \"foo|2\": 3}]\n";
    let (report, _) = as_json(text);
    let findings = report["findings"].as_array().unwrap();
    let keys: BTreeSet<&str> = findings.iter().map(|finding| finding["key"].as_str().unwrap()).collect();
    assert_eq!(keys.len(), findings.len());
    assert!(keys.iter().any(|key| key.ends_with("foo|2|2") || key.ends_with("foo|3")), "{keys:?}");
}
