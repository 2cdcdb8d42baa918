//! Packs of one's own: every error at once, each with its place; `replaces`, `was`.

use std::sync::Arc;

use gatewright::rule::{PackProblems, PackSource, RuleSet, load, submittal_vocabulary};
use gatewright::source::SourceFile;

fn load_text(text: &str) -> Result<(RuleSet, PackProblems), PackProblems> {
    let file = Arc::new(SourceFile::new("own.yaml", text));
    load(&[PackSource { file, shipped: false }], Arc::new(submittal_vocabulary().unwrap()))
}

/// Line, column and slice of each problem.
fn problems(text: &str) -> Vec<(u32, u32, String, String)> {
    let problems = load_text(text).expect_err("the pack has errors");
    problems
        .list
        .iter()
        .map(|(file, problem)| {
            let at = file.position(problem.span.start);
            (at.line, at.column, file.slice(problem.span).to_owned(), problem.message.clone())
        })
        .collect()
}

const RULE_TAIL: &str = "    message: \"{gate.opening}\"\n    why: because\n    remedy: do\n    local_code: ask\n    source: {standard: none, authority: practice}\n";

#[test]
fn three_errors_of_a_pack_are_all_shown_where_they_are() {
    let text = format!(
        "pack: own\ntitle: Own rules\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: gate.opening >= 20\n{RULE_TAIL}  - name: two\n    title: Two\n    weight: advice\n    require: gate.leaf.botom_gap < 5 in\n{RULE_TAIL}  - name: three\n    title: Three\n    weight: heavy\n    require: gate.leaf.height > 3 inn\n{RULE_TAIL}"
    );
    let found = problems(&text);
    let slices: Vec<(u32, &str)> = found.iter().map(|(line, _, slice, _)| (*line, slice.as_str())).collect();
    assert!(slices.contains(&(7, "gate.opening >= 20")), "{found:?}");
    assert!(slices.contains(&(16, "gate.leaf.botom_gap")), "{found:?}");
    assert!(slices.contains(&(24, "heavy")), "{found:?}");
    assert!(slices.contains(&(25, "inn")), "{found:?}");
    assert_eq!(found.len(), 4, "{found:?}");
}

#[test]
fn an_error_inside_a_folded_expression_is_found_on_its_line() {
    let text = format!(
        "pack: own\ntitle: Own\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: >-\n      gate.opening < 20 ft\n      and gate.openning > 3 ft\n{RULE_TAIL}"
    );
    let found = problems(&text);
    assert_eq!(found.len(), 1);
    let (line, column, slice, message) = &found[0];
    assert_eq!((*line, *column, slice.as_str()), (9, 11, "gate.openning"), "{message}");
}

#[test]
fn a_field_twice_in_one_comparison_is_advice_in_a_pack_of_ones_own() {
    let text = format!(
        "pack: own\ntitle: Own\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: gate.opening + gate.opening < 20 ft\n{RULE_TAIL}"
    );
    let (_, advice) = load_text(&text).expect("advice does not stop a pack");
    assert_eq!(advice.list.len(), 1);
    assert!(advice.list[0].1.message.contains("twice"));
}

#[test]
fn a_figure_that_is_unknown_or_has_no_field_is_refused() {
    let with = |require: &str| {
        let text = format!(
            "pack: own\ntitle: Own\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: {require}\n{RULE_TAIL}"
        );
        problems(&text)[0].3.clone()
    };
    assert!(with("figure.travle > 1 ft").contains("no figure `travle`"));
    // A figure for the command line: no field of a gate is its section.
    assert!(with("figure.leaf_moment > 1 ft").contains("`section`"));
    assert!(with("figure.embedment_needed > 1 ft").contains("a figure of a post, not of the gate"));
    assert!(with("any(gate.support_posts as post, post.figure.travel > 1 ft)").contains("of the gate, not of a post"));
    assert!(with("any(gate.sensors as sensor, sensor.figure.travel > 1 ft)").contains("has no figures"));
    assert!(with("figure.travel > 1 lb").contains("a length cannot be compared with a force"));
    assert!(with("valid(gate.opening)").contains("a figure is expected"));
}

/// A slip of the field would make a rule that never fails or never holds.
#[test]
fn choices_that_can_never_be_the_same_are_refused() {
    let with = |require: &str| {
        let text = format!(
            "pack: own\ntitle: Own\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: {require}\n{RULE_TAIL}"
        );
        load_text(&text).err().map_or_else(String::new, |problems| problems.list[0].1.message.clone())
    };
    assert!(with("gate.operation is gate.leaf.infill.kind").contains("no choice in common"));
    assert!(with("gate.operation is not gate.leaf.infill.kind").contains("no choice in common"));
    assert!(with("gate.operation is one of gate.leaf.bracing.adjustable_in").contains("no choice in common"));
    assert_eq!(with("gate.usage_class is one of gate.operator.classes"), "");
    assert_eq!(with("gate.leaf.infill.kind is gate.leaf.tail_infill.kind"), "");
}

#[test]
fn rows_of_a_table_that_overlap_or_hold_nothing_are_refused() {
    let with = |key: &str, rows: &str| {
        let text = format!(
            "pack: own\ntitle: Own\ntables:\n  steps:\n    key: {key}\n    value: length\n    source: {{standard: made up, authority: practice}}\n    \
rows: [{rows}]\nrules:\n  - name: one\n    title: One\n    weight: advice\n    require: gate.opening < 20 ft\n{RULE_TAIL}"
        );
        load_text(&text).map(|_| ()).map_err(|_| problems(&text))
    };
    let refused = |key: &str, rows: &str| {
        let found = with(key, rows).unwrap_err();
        assert_eq!(found.len(), 1, "{rows}: {found:?}");
        let (line, _, slice, message) = found.into_iter().next().unwrap();
        assert_eq!(line, 8, "{rows}");
        (slice, message)
    };
    let two = "{from: 5 ft, up_to: 10 ft, value: 1 ft}, {from: 9 ft, up_to: 12 ft, value: 2 ft}";
    let (slice, message) = refused("length", two);
    assert!(slice == "9 ft" && message.contains("`9 ft` is inside that row"), "{slice}: {message}");
    for from in ["10 ft", "11 ft"] {
        let (slice, message) = refused("length", &format!("{{from: {from}, up_to: 10 ft, value: 1 ft}}"));
        assert!(slice == from && message.contains("begins below its `up_to` (10 ft)"), "{slice}: {message}");
    }
    let (slice, message) = refused("gate.usage_class", "{is: I, value: 1 ft}, {is: I, value: 2 ft}");
    assert!(slice == "I" && message.contains("a second one for `I`"), "{slice}: {message}");
    assert_eq!(with("length", &two.replace("9 ft", "10 ft")), Ok(()));
}

#[test]
fn names_are_of_the_shape_that_the_schema_prints() {
    let with = |pack: &str, rule: &str| {
        let text = format!(
            "pack: {pack}\ntitle: Own\nrules:\n  - name: {rule}\n    title: One\n    weight: advice\n    require: gate.opening < 20 ft\n{RULE_TAIL}"
        );
        load_text(&text).map(|_| ()).map_err(|_| problems(&text))
    };
    for (pack, rule) in [("own", "low-overhead"), ("quarry_bend", "a1-2"), ("a-b_c", "x")] {
        assert_eq!(with(pack, rule), Ok(()), "{pack}/{rule}");
    }
    for odd in ["Own", "1own", "own-", "-own", "own--x", "own/x", "own x", "\"o\\e[31m\"", "öwn", "own_x"] {
        let found = with("own", odd).unwrap_err();
        assert!(
            found.len() == 1 && found[0].0 == 4 && found[0].3.contains("a name of small letters"),
            "{odd}: {found:?}"
        );
        if odd != "own_x" {
            let found = with(odd, "one").unwrap_err();
            assert!(found[0].0 == 1 && found[0].3.contains("joined by `-` or `_`"), "{odd}: {found:?}");
        }
    }
}
