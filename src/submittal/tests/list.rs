//! Lists: what an element may be, and what becomes of a list with an element that cannot be read.

use super::super::Slot;
use super::{one, problems, read_text, slot, vocabulary};
use crate::problem::Gravity;
use crate::vocabulary::FieldKind;

#[test]
fn an_element_that_is_no_section_counts_but_shows_nothing() {
    for element in ["tail", "TBD", "~", "[role]", ""] {
        let gate = format!("    support_posts:\n      - role: fulcrum\n      - {element}\n");
        let found = problems(&gate);
        assert_eq!(found.len(), 1, "{element}: {found:?}");
        assert_eq!(found[0].0, "wrong-kind", "{element}");
        let (_, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n{gate}"));
        let vocabulary = vocabulary();
        let gates = vocabulary.record(0).field("gates").unwrap();
        let gate = read.records.list(read.records.slot(0, gates))[0];
        let posts = vocabulary.record(read.records.record(gate).ty).field("support_posts").unwrap();
        let posts = read.records.list(read.records.slot(gate, posts)).to_vec();
        assert_eq!(posts.len(), 2, "{element}: a post that is listed is there");
        let role = vocabulary.record(read.records.record(posts[0]).ty).field("role").unwrap();
        assert!(matches!(read.records.slot(posts[0], role), Slot::Choice(_)));
        assert_eq!(*read.records.slot(posts[1], role), Slot::Unreadable, "{element}");
    }
}

#[test]
fn a_list_of_choices_or_texts_with_an_unreadable_element_is_unreadable() {
    let quoted = |code, slice: &str| (code, slice.to_owned());
    assert_eq!(one("    operator: {classes: [I, TBD]}\n"), quoted("wrong-kind", "TBD"));
    assert_eq!(one("    operator: {classes: [I, V]}\n"), quoted("unknown-choice", "V"));
    assert_eq!(one("    operator: {classes: [I, [II]]}\n"), quoted("wrong-kind", "[II]"));
    assert_eq!(slot("    operator: {classes: [I, V]}\n", "operator.classes"), Slot::Unreadable);
    let zone = |ids: &str| format!("    entrapment_zones: [{{zone: drive, protected_by: {ids}}}]\n");
    assert_eq!(one(&zone("[S1, TBD]")), quoted("wrong-kind", "TBD"));
    assert_eq!(one(&zone("[S1, {id: S2}]")), quoted("wrong-kind", "{id: S2}"));
    assert_eq!(one(&zone("[S1, ~]")), quoted("wrong-kind", "~"));
    assert_eq!(one(&zone("[on]")), quoted("yaml-1-1", "on"));
    assert_eq!(problems(&zone("[S1, 2]")), []);
    assert_eq!(problems(&zone("[]")), []);
}

#[test]
fn elements_of_nested_lists_stay_together() {
    let (_, tree, read) = read_text(
        "format: 1\ngates:\n  - mark: G1\n    support_posts: [{role: tail}, {role: fulcrum}]\n    signs: [{side: public}]\n  \
         - mark: G2\n    support_posts: [{role: tail}]\n",
    );
    assert_eq!(read.problems, []);
    let vocabulary = vocabulary();
    let gates = read.records.list(read.records.slot(0, vocabulary.record(0).field("gates").unwrap()));
    let gate = vocabulary.record(read.records.record(gates[0]).ty);
    let marks: Vec<_> = gates
        .iter()
        .map(|index| match read.records.slot(*index, gate.field("mark").unwrap()) {
            Slot::Text(node) => tree.text(*node).unwrap(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(marks, ["G1", "G2"]);
    let count = |index, list| read.records.list(read.records.slot(index, gate.field(list).unwrap())).len();
    assert_eq!(
        (count(gates[0], "support_posts"), count(gates[0], "signs"), count(gates[1], "support_posts")),
        (2, 1, 1)
    );
}

/// Each element has room for all its fields, and rules hold elements against each other.
#[test]
fn every_list_of_a_submittal_has_a_limit() {
    for record in &vocabulary().records {
        for field in record.fields.iter().filter(|field| matches!(field.kind, FieldKind::List(_))) {
            let most = if record.name == "document" && field.path == "gates" { 2_000 } else { 500 };
            assert_eq!(field.most, Some(most), "{}: {}", record.name, field.path);
        }
    }
}

/// A section of a thousand fields that two thousand aliases lead to is two million fields.
#[test]
fn fields_behind_aliases_are_counted_and_problems_are_capped() {
    let keys: Vec<String> = (0..1_000).map(|number| format!("k{number}: 1")).collect();
    let aliases = "  - {mark: G, leaf: *l}\n".repeat(1_990);
    let text = format!("format: 1\ngates:\n  - mark: G1\n    leaf: &l {{{}}}\n{aliases}", keys.join(", "));
    let (file, _, read) = read_text(&text);
    let of = |code: &str| read.problems.iter().filter(|problem| problem.code == code).collect::<Vec<_>>();
    let (names, too_many) = (of("unknown-field"), of("too-many-elements"));
    // By hand: each of the thousand names once at its own place and nothing after the thousandth problem.
    assert_eq!((names.len(), of("too-many-problems").len(), too_many.len()), (1_000, 1, 1));
    assert_eq!(too_many[0].gravity, Gravity::Unreadable);
    // By hand: the first gate and 99 more with a thousand fields each are 99,100 of 100,000; the alias on line 4 + 100
    // reaches the first too many.
    assert_eq!(file.position(too_many[0].span.start).line, 104);
}
