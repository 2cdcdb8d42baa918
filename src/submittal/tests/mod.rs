//! The states of a value and the problems of a document, each by an example; here those of the submittal's own schema.

mod any_text;
mod list;
mod part;
mod small;

use std::sync::Arc;

use super::{Mode, Read, Slot, check, is_submittal, read};
use crate::document::{Limits, Tree, parse};
use crate::source::SourceFile;
use crate::vocabulary::{Vocabulary, compile};

fn vocabulary() -> Vocabulary {
    compile(include_str!("../../../schema/submittal.schema.json")).unwrap()
}

fn read_text(text: &str) -> (Arc<SourceFile>, Tree, Read) {
    let file = Arc::new(SourceFile::new("s.yaml", text));
    let tree = parse(Arc::clone(&file), &Limits::default()).tree;
    let vocabulary = vocabulary();
    let root = tree.documents()[0].root.unwrap();
    let mut read = read(&tree, root, &vocabulary, 0, Mode::Whole);
    let more = check(&tree, &vocabulary, &read);
    read.problems.extend(more);
    (file, tree, read)
}

/// Code and slice of the problems of a gate, given as the lines of its mapping.
fn problems(gate: &str) -> Vec<(&'static str, String)> {
    let (file, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n{gate}"));
    read.problems.iter().map(|problem| (problem.code, file.slice(problem.span).to_owned())).collect()
}

fn one(gate: &str) -> (&'static str, String) {
    let found = problems(gate);
    assert_eq!(found.len(), 1, "{gate}: {found:?}");
    found[0].clone()
}

/// The slot of a field of the only gate.
fn slot(gate: &str, path: &str) -> Slot {
    let (_, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n{gate}"));
    let vocabulary = vocabulary();
    let gates = vocabulary.record(0).field("gates").unwrap();
    let gate = read.records.list(read.records.slot(0, gates))[0];
    let field = vocabulary.record(read.records.record(gate).ty).field(path).unwrap();
    *read.records.slot(gate, field)
}

#[test]
fn a_value_is_in_one_of_its_states() {
    assert_eq!(slot("", "opening"), Slot::Missing);
    assert_eq!(slot("    opening:\n", "opening"), Slot::Missing);
    assert_eq!(slot("    opening: ~\n", "opening"), Slot::Missing);
    assert_eq!(slot("    opening: TBD\n", "opening"), Slot::Placeholder);
    assert_eq!(slot("    opening: See  drawing\n", "opening"), Slot::Placeholder);
    assert_eq!(slot("    opening: n/a\n", "opening"), Slot::Placeholder, "n/a where the schema does not allow it");
    assert_eq!(slot("    opening: 24\n", "opening"), Slot::Unreadable);
    assert_eq!(slot("    overhead_clearance: N/A\n", "overhead_clearance"), Slot::NotApplicable);
    assert_eq!(slot("    fire_access: yes\n", "fire_access"), Slot::YesNo(true));
    assert!(matches!(slot("    opening: 24 ft\n", "opening"), Slot::Quantity(..)));
    assert!(matches!(slot("    operation: powered\n", "operation"), Slot::Choice(_)));
    assert!(matches!(slot("    operator: {classes: [I, II]}\n", "operator.classes"), Slot::Choices { len: 2, .. }));
    assert!(matches!(slot("    support_posts: []\n", "support_posts"), Slot::Records { len: 0, .. }));
}

#[test]
fn a_section_hands_its_state_down() {
    assert_eq!(slot("    leaf: by others\n", "leaf.infill.kind"), Slot::Placeholder);
    assert_eq!(slot("    leaf: [1]\n", "leaf.infill.kind"), Slot::Unreadable);
    assert_eq!(slot("    covered_fence: n/a\n", "covered_fence.guarded_to"), Slot::NotApplicable);
    assert_eq!(slot("    leaf: {height: 6 ft}\n", "leaf.infill.kind"), Slot::Missing);
    assert_eq!(slot("    opening: 24 ft\n    opening: 25 ft\n", "opening"), Slot::Unreadable, "written twice");
}

#[test]
fn every_kind_of_problem_points_at_its_text() {
    let quoted = |code, slice: &str| (code, slice.to_owned());
    assert_eq!(one("    opening: 24\n"), quoted("missing-unit", "24"));
    assert_eq!(one("    opening: 24 lb\n"), quoted("wrong-unit", "lb"));
    assert_eq!(one("    opening: 24 fet\n"), quoted("unknown-unit", "fet"));
    assert_eq!(one("    opening: -24 ft\n"), quoted("signed-value", "-"));
    assert_eq!(one("    opening: '24 lb'\n"), quoted("wrong-unit", "lb"));
    assert_eq!(one("    opening: 0 in\n"), quoted("out-of-bounds", "0 in"));
    assert_eq!(one("    opening: 5 ft to 4 ft\n").0, "not-a-range");
    assert_eq!(one("    leaf: {bottom_gap: 4/8 in}\n"), quoted("unreduced-fraction", "4/8"));
    assert_eq!(one("    operation: power\n"), quoted("unknown-choice", "power"));
    assert_eq!(one("    fire_access: on\n"), quoted("wrong-kind", "on"));
    assert_eq!(one("    opening: [24 ft]\n").0, "wrong-kind");
    assert_eq!(one("    support_posts: {role: tail}\n").0, "wrong-kind");
    assert_eq!(one("    support_posts: [tail]\n"), quoted("wrong-kind", "tail"));
    assert_eq!(one("    locking: yes\n"), quoted("yaml-1-1", "yes"));
    assert_eq!(one("    supervision: 6:30\n"), quoted("yaml-1-1", "6:30"));
    assert_eq!(one("    leaf: {botom_gap: 3 in}\n"), quoted("unknown-field", "botom_gap"));
    assert_eq!(one("    pair_with: G9\n"), quoted("unknown-pair", "G9"));
    assert_eq!(one("    pair_with: G1\n"), quoted("unknown-pair", "G1"));
    assert_eq!(one("    operator: {manufactured: 2016-13}\n"), quoted("unreadable-value", "13"));
    assert_eq!(one("  - mark: G1\n"), quoted("duplicate-mark", "G1"));
    assert_eq!(one("  - type: swing\n"), quoted("missing-field", "type"));
}

#[test]
fn hints_name_what_was_probably_meant() {
    let help = |gate: &str| {
        let (_, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n{gate}"));
        read.problems[0].help.clone().unwrap_or_default()
    };
    assert!(help("    leaf: {botom_gap: 3 in}\n").contains("`bottom_gap`"));
    assert!(help("    leaf: {gap_bottom: 3 in}\n").contains("`bottom_gap`"));
    assert!(help("    bottom_gap: 3 in\n").contains("leaf.bottom_gap"));
    assert!(help("    operation: Powered\n").contains("`powered`"));
    assert!(help("    leaf: {infill: {solidity: 35}}\n").contains("35 %"));
    let comma = "    carriages: {rated_load: 2,500 lb, spacing: 10 ft}\n";
    let (_, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n{comma}"));
    let helps: Vec<_> = read.problems.iter().filter_map(|problem| problem.help.as_deref()).collect();
    assert!(helps.iter().any(|help| help.contains("\"2,500 lb\"")), "{helps:?}");
    // A wrong name behind a whole value is a wrong name.
    assert!(!help("    leaf: {height: 6 ft, 500 lb: 2}\n").contains("comma"));
}

#[test]
fn what_is_no_submittal_or_of_another_format_is_told() {
    let root_of = |text: &str| {
        let file = Arc::new(SourceFile::new("s", text));
        let tree = parse(file, &Limits::default()).tree;
        let root = tree.documents()[0].root.unwrap();
        is_submittal(&tree, root)
    };
    assert!(root_of("format: 1\n") && root_of("gates: []\n"));
    assert!(!root_of("on: push\n") && !root_of("- format\n") && !root_of("format\n"));
    let (_, _, read) = read_text("format: 2\ngates: []\n");
    assert_eq!(read.problems[0].code, "unknown-format");
    let (_, _, read) = read_text("gates: []\n");
    assert_eq!(read.problems[0].code, "missing-field");
}
