//! What the submittal's schema does not use or uses once, by small schemas: renames, bounds, maps, required fields.

use std::sync::Arc;

use super::super::{Mode, Read, Slot, read};
use crate::document::{Limits, Tree, parse};
use crate::source::SourceFile;
use crate::vocabulary::{Vocabulary, compile};

struct Found {
    file: Arc<SourceFile>,
    tree: Tree,
    vocabulary: Vocabulary,
    read: Read,
}

impl Found {
    fn problems(&self) -> Vec<(&'static str, &str)> {
        self.read.problems.iter().map(|problem| (problem.code, self.file.slice(problem.span))).collect()
    }

    fn slot(&self, path: &str) -> Slot {
        *self.read.records.slot(0, self.vocabulary.record(0).field(path).unwrap())
    }
}

/// Reads a text by a schema of these properties; `b` and `section.c` are required.
fn found(text: &str, mode: Mode) -> Found {
    let vocabulary = compile(
        r##"{"type": "object", "required": ["b"], "x-placeholders": ["tbd"], "properties": {
            "a": {"x-kind": "length", "x-label": "first length", "x-was": ["old_a", "older_a"], "x-min": "1 in", "x-max": "4 in"},
            "b": {"x-kind": "text", "description": "What it is called."},
            "section": {"type": "object", "required": ["c"], "properties": {
                "c": {"x-kind": "count", "x-min": "1", "x-max": "2", "description": "How many."},
                "height": {"x-kind": "ratio", "x-max": "1"}}},
            "tables": {"x-kind": "map", "additionalProperties": {"type": "object", "required": ["value"], "properties": {
                "value": {"x-kind": "text", "description": "What it gives."}}}},
            "facts": {"x-kind": "any"}}}"##,
    )
    .unwrap();
    let file = Arc::new(SourceFile::new("s.yaml", text));
    let tree = parse(Arc::clone(&file), &Limits::default()).tree;
    let read = read(&tree, tree.documents()[0].root.unwrap(), &vocabulary, 0, mode);
    Found { file, tree, vocabulary, read }
}

#[test]
fn an_earlier_name_is_read_with_advice() {
    let one = found("b: x\nold_a: 2 in\n", Mode::Whole);
    assert_eq!(one.problems(), [("renamed-field", "old_a")]);
    assert!(matches!(one.slot("a"), Slot::Quantity(..)));
    let both = found("b: x\na: 2 in\nolder_a: 3 in\n", Mode::Whole);
    assert_eq!(both.slot("a"), Slot::Unreadable);
    assert!(both.problems().contains(&("duplicate-key", "older_a")), "{:?}", both.problems());
}

#[test]
fn a_bound_is_held_by_what_is_declared_of_a_value() {
    for fits in ["1 in", "4 in", "1 in to 4 in", "3 in max", "2 in min", "25.4 mm", "101.6 mm"] {
        let read = found(&format!("b: x\na: {fits}\n"), Mode::Whole);
        assert_eq!(read.problems(), [], "{fits}");
    }
    for (beyond, bound) in [
        ("1/2 in", "at least 1 in"),
        ("5 in", "at most 4 in"),
        ("1/2 in to 2 in", "at least 1 in"),
        ("3 in to 5 in", "at most 4 in"),
        ("1/2 in max", "at least 1 in"),
        ("5 in min", "at most 4 in"),
    ] {
        let read = found(&format!("b: x\na: {beyond}\n"), Mode::Whole);
        assert_eq!(read.problems(), [("out-of-bounds", beyond)]);
        let message = &read.read.problems[0].message;
        assert!(message.contains(bound) && message.contains("first length"), "{message}");
        assert_eq!(read.slot("a"), Slot::Unreadable);
    }
}

#[test]
fn a_ratio_above_its_bound_is_taken_for_a_percentage_only_where_it_can_be_one() {
    let help = |value: &str| {
        let read = found(&format!("b: x\nsection: {{c: 1, height: {value}}}\n"), Mode::Whole);
        assert_eq!(read.problems(), [("out-of-bounds", value)]);
        read.read.problems[0].help.clone()
    };
    assert_eq!(help("35").as_deref(), Some("write 35 % or 0.35"));
    // By hand: 35.7 / 100; in binary the quotient is 0.35700000000000004.
    assert_eq!(help("35.7").as_deref(), Some("write 35.7 % or 0.357"));
    assert_eq!(help("33.333333").as_deref(), Some("write 33.333333 % or 0.33333333"));
    assert_eq!(help("135 %"), None);
    assert_eq!(help("350"), None);
    assert_eq!(help("35 to 40").as_deref(), Some("write 35 % to 40 %"));
    assert_eq!(help("35.7 to 40").as_deref(), Some("write 35.7 % to 40 %"));
}

#[test]
fn a_required_field_is_asked_for_at_its_section_and_only_in_a_whole_document() {
    assert_eq!(found("a: 2 in\n", Mode::Whole).problems(), [("missing-field", "a")]);
    assert_eq!(found("b: x\nsection: {height: 1}\n", Mode::Whole).problems(), [("missing-field", "section")]);
    assert_eq!(found("b: x\nsection: {}\n", Mode::Whole).problems(), [("missing-field", "section")]);
    assert_eq!(found("b: x\nsection:\n", Mode::Whole).problems(), [], "a section that is missing asks for nothing");
    assert_eq!(found("b: x\ntables: {one: {}}\n", Mode::Whole).problems(), [("missing-field", "one")]);
    for nothing in ["b:", "b: ~", "b: null"] {
        let read = found(nothing, Mode::Whole);
        assert_eq!(read.problems(), [("missing-field", "b")], "{nothing}");
        assert_eq!(read.slot("b"), Slot::Missing, "{nothing}");
    }
    let empty = found("b: ''\n", Mode::Whole);
    assert!(matches!(empty.slot("b"), Slot::Text(_)), "rules judge an empty text");
    assert_eq!(empty.problems(), [("missing-field", "''")]);
    assert_eq!(found("b: TBD\n", Mode::Whole).problems(), [("missing-field", "TBD")]);
    assert_eq!(found("b: TBD\n", Mode::Fragment).problems(), []);
    assert_eq!(found("a: 2 in\nsection: {height: 1}\n", Mode::Fragment).problems(), []);
}

#[test]
fn a_section_written_twice_is_unreadable_with_all_below_it_and_both_are_looked_through() {
    let read = found("b: x\nsection: {c: 1}\nsection: {c: many}\n", Mode::Whole);
    assert_eq!(read.slot("section"), Slot::Unreadable);
    assert_eq!(read.slot("section.c"), Slot::Unreadable);
    assert_eq!(read.problems().iter().map(|(_, slice)| *slice).collect::<Vec<_>>(), ["many"]);
}

#[test]
fn a_map_holds_records_by_name() {
    let read = found("b: x\ntables: {one: {value: 1}, two: {value: x}}\nfacts: {any: [thing]}\n", Mode::Whole);
    assert_eq!(read.problems(), []);
    let names: Vec<_> = read
        .read
        .records
        .list(&read.slot("tables"))
        .iter()
        .map(|record| read.tree.text(read.read.records.record(*record).key.unwrap()).unwrap())
        .collect();
    assert_eq!(names, ["one", "two"]);
    assert!(matches!(read.slot("facts"), Slot::Any(_)));
    assert_eq!(found("b: x\ntables: {one: 1}\n", Mode::Whole).problems(), [("wrong-kind", "1")]);
    assert_eq!(found("b: x\ntables: [1]\n", Mode::Whole).problems(), [("wrong-kind", "[1]")]);
    assert_eq!(found("b: x\ntables: TBD\n", Mode::Whole).slot("tables"), Slot::Placeholder);
    assert_eq!(found("b: x\n? [1]\n: y\n", Mode::Whole).problems()[0].0, "wrong-kind");
}

#[test]
fn a_problem_behind_an_alias_stands_at_the_anchor_and_names_the_alias() {
    let read = found("b: &text 9 in\na: *text\n", Mode::Whole);
    assert_eq!(read.problems(), [("out-of-bounds", "9 in")]);
    let labels: Vec<_> = read.read.problems[0].labels.iter().map(|(span, _)| read.file.slice(*span)).collect();
    assert_eq!(labels, ["*text"]);
    let place = read.read.records.place(0, read.vocabulary.record(0).field("a").unwrap());
    assert_eq!(read.file.slice(read.tree.span(place.value.unwrap())), "*text");
    let read = found("b: &text 9\na: *text\n", Mode::Whole);
    assert_eq!((read.problems()[0], read.read.problems[0].labels.len()), (("missing-unit", "9"), 1));
}

#[test]
fn a_field_in_the_wrong_place_is_told_where_it_belongs() {
    let help = |text: &str| found(text, Mode::Fragment).read.problems[0].help.clone().unwrap_or_default();
    assert!(help("height: 1\n").contains("`section.height`"));
    assert!(help("section: {a: 1 in}\n").contains("`a`"), "{}", help("section: {a: 1 in}\n"));
    assert!(help("section: {value: 1}\n").contains("`tables.value`"), "a field of another record");
    assert!(help("section: {hight: 1}\n").contains("`height`"));
}

#[test]
fn hints_end_where_a_file_is_all_unknown_names() {
    let text: String = (0..600).map(|index| format!("unknown_{index}: 1\n")).collect();
    let read = found(&text, Mode::Fragment);
    let helped = read.read.problems.iter().filter(|problem| problem.help.is_some()).count();
    assert_eq!((read.read.problems.len(), helped), (600, 500));
}
