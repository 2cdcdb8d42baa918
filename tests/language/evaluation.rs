//! What expressions come to on a submittal: states of a value, ranges, lists, tables, `each`.
//!
//! Each row is a requirement, the gate it is judged on, and the outcome that the definition of the language asks for.

use std::sync::Arc;

use gatewright::document::{Limits, parse};
use gatewright::review::{Judged, Outcome, Stage, judge};
use gatewright::rule::{PackSource, RuleSet, load, submittal_vocabulary};
use gatewright::source::SourceFile;
use gatewright::submittal::{Mode, read};

/// A rule set of one rule.
pub fn rules(body: &str, more: &str) -> RuleSet {
    let pack = format!(
        "pack: own\ntitle: Own\nrules:\n  - name: one\n    title: One\n    weight: hazard\n{body}    message: none\n    \
         why: none\n    remedy: none\n    local_code: none\n    source: {{standard: none, authority: practice}}\n{more}"
    );
    let source = PackSource { file: Arc::new(SourceFile::new("own.yaml", pack.clone())), shipped: false };
    match load(&[source], Arc::new(submittal_vocabulary().unwrap())) {
        Ok((rules, _)) => rules,
        Err(problems) => panic!("{pack}\n{:?}", problems.list.iter().map(|(_, problem)| problem).collect::<Vec<_>>()),
    }
}

/// Judges a gate written as a flow mapping.
pub fn judged(rules: &RuleSet, gate: &str) -> Judged {
    let text = format!("format: 1\ngates:\n  - {gate}\n");
    let parsed = parse(Arc::new(SourceFile::new("s.yaml", text)), &Limits::default());
    let root = parsed.tree.documents()[0].root.unwrap();
    let read = read(&parsed.tree, root, &rules.vocabulary, 0, Mode::Whole);
    judge(rules, &parsed.tree, &read, Stage::Submittal, &|_| true)
}

/// What the one rule came to.
pub fn outcome(rules: &RuleSet, gate: &str) -> Outcome {
    let judged = judged(rules, gate);
    match judged.gates[0].outcomes[..] {
        [Some(outcome)] => outcome,
        ref other => panic!("one outcome of one rule is expected, found {other:?}"),
    }
}

fn check(rows: &[(&str, &str, Outcome)]) {
    let mut wrong = Vec::new();
    for (require, gate, expected) in rows {
        let found = outcome(&rules(&format!("    require: >-\n      {require}\n"), ""), gate);
        if found != *expected {
            wrong.push(format!("{require}\n  on {gate}\n  expected {expected:?}, found {found:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

use Outcome::{DoesNotApply, Met, NotMet, NotShown};

#[test]
fn states_of_a_value() {
    check(&[
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 5 in}}", Met),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 5 1/64 in}}", NotMet),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 127 mm}}", Met),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: ~}}", NotShown),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: TBD}}", NotShown),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: by others}", NotShown),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G}", NotShown),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 3 in to 5 1/2 in}}", NotMet),
        ("not gate.leaf.bottom_gap > 5 in", "{mark: G, leaf: {bottom_gap: 3 in to 5 1/2 in}}", NotMet),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 5 in max}}", Met),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 5 1/2 in max}}", NotMet),
        ("gate.leaf.bottom_gap >= 2 in", "{mark: G, leaf: {bottom_gap: 5 in max}}", NotShown),
        ("gate.leaf.bottom_gap >= 2 in", "{mark: G, leaf: {bottom_gap: 2 in min}}", Met),
        ("gate.leaf.bottom_gap <= 5 in", "{mark: G, leaf: {bottom_gap: 2 in min}}", NotShown),
        ("gate.overhead_clearance >= 13 ft 6 in", "{mark: G, overhead_clearance: n/a}", DoesNotApply),
        ("not gate.overhead_clearance >= 13 ft 6 in", "{mark: G, overhead_clearance: n/a}", DoesNotApply),
        (
            "gate.overhead_clearance >= 13 ft and gate.opening > 3 ft",
            "{mark: G, overhead_clearance: n/a, opening: 4 ft}",
            Met,
        ),
        ("gate.covered_fence.guarded_to >= 6 ft", "{mark: G, covered_fence: n/a}", DoesNotApply),
        ("shown(gate.leaf.bottom_gap)", "{mark: G, leaf: {bottom_gap: TBD}}", NotMet),
        ("shown(gate.leaf)", "{mark: G, leaf: {height: 6 ft}}", Met),
        ("shown(gate.overhead_clearance)", "{mark: G, overhead_clearance: n/a}", Met),
        // A range is never the same as anything; `agree` is the function for that.
        ("gate.opening is 24 ft", "{mark: G, opening: 24 ft +/- 0 in}", Met),
        ("gate.opening is 24 ft", "{mark: G, opening: 24 ft +/- 1 in}", NotMet),
        ("agree(gate.opening, 24 ft, 1/8 in)", "{mark: G, opening: 24 ft +/- 1 in}", Met),
        ("agree(gate.opening, 24 ft, 1/8 in)", "{mark: G, opening: 24 ft 1/4 in}", NotMet),
        ("agree(gate.opening, 24 ft, 1/8 in)", "{mark: G}", NotShown),
    ]);
}

/// `yes` and `no` mean the same on either side of `is`.
#[test]
fn yes_and_no_on_either_side() {
    check(&[
        ("gate.fire_access is yes", "{mark: G, fire_access: yes}", Met),
        ("yes is gate.fire_access", "{mark: G, fire_access: yes}", Met),
        ("yes is gate.fire_access", "{mark: G, fire_access: no}", NotMet),
        ("no is not gate.fire_access", "{mark: G, fire_access: yes}", Met),
        ("no is gate.fire_access", "{mark: G, fire_access: yes}", NotMet),
        ("no is gate.fire_access", "{mark: G}", NotShown),
        ("gate.fire_access is (no)", "{mark: G, fire_access: no}", Met),
    ]);
}

#[test]
fn a_violated_end_beside_a_missing_value_is_not_met() {
    check(&[
        ("gate.leaf.bottom_gap <= 5 in and gate.fire_access", "{mark: G, leaf: {bottom_gap: 3 in to 6 in}}", NotMet),
        ("gate.leaf.bottom_gap <= 5 in and gate.fire_access", "{mark: G, leaf: {bottom_gap: 6 in}}", NotMet),
        ("gate.leaf.bottom_gap <= 5 in or gate.fire_access", "{mark: G, leaf: {bottom_gap: 6 in}}", NotShown),
        (
            "gate.leaf.bottom_gap <= 5 in or gate.fire_access",
            "{mark: G, leaf: {bottom_gap: 6 in}, fire_access: yes}",
            Met,
        ),
    ]);
}

#[test]
fn arithmetic_keeps_what_is_certain() {
    check(&[
        // The smaller of an unknown height and 72 in is at most 72 in.
        (
            "gate.leaf.infill.guarded_to >= min(gate.leaf.height, 72 in)",
            "{mark: G, leaf: {infill: {guarded_to: 72 in}}}",
            Met,
        ),
        (
            "gate.leaf.infill.guarded_to >= min(gate.leaf.height, 72 in)",
            "{mark: G, leaf: {infill: {guarded_to: 60 in}}}",
            NotShown,
        ),
        (
            "gate.leaf.length / gate.carriages.spacing > 1",
            "{mark: G, leaf: {length: 36 ft}, carriages: {spacing: 10 ft}}",
            Met,
        ),
        (
            "gate.opening - gate.leaf.counterbalance >= 0 in",
            "{mark: G, opening: 0.3 m, leaf: {counterbalance: 300 mm}}",
            Met,
        ),
        (
            "gate.leaf.counterbalance / gate.opening >= 40 %",
            "{mark: G, opening: 20 ft, leaf: {counterbalance: 8 ft}}",
            Met,
        ),
        (
            "gate.leaf.counterbalance / gate.opening >= 40 %",
            "{mark: G, opening: 20 ft, leaf: {counterbalance: 7 ft 11 63/64 in}}",
            NotMet,
        ),
        ("abs(gate.opening - 24 ft) <= 1 in", "{mark: G, opening: 23 ft 11 in to 24 ft 1 in}", Met),
        ("max(gate.opening, 3 ft, 5 ft) is 5 ft", "{mark: G, opening: 4 ft}", Met),
        ("given(gate.carriages.tail_margin, 0 in) <= 1 in", "{mark: G}", Met),
        ("given(gate.carriages.tail_margin, 0 in) <= 1 in", "{mark: G, carriages: {tail_margin: 6 in}}", NotMet),
    ]);
}

const POSTS: &str = "{mark: G, support_posts: [{role: fulcrum, size: 4 in, plumb: yes}, {role: tail, size: 6 in}]}";

#[test]
fn functions_over_a_list() {
    check(&[
        ("count(gate.support_posts) is 2", POSTS, Met),
        ("count(gate.support_posts as p where p.role is tail) is 1", POSTS, Met),
        ("count(gate.support_posts as p where p.plumb) is 1", POSTS, NotShown),
        ("count(gate.support_posts as p where p.plumb) >= 1", POSTS, Met),
        ("count(gate.support_posts as p where p.plumb) >= 3", POSTS, NotMet),
        ("count(gate.support_posts) >= 0", "{mark: G}", Met),
        ("count(gate.support_posts) >= 1", "{mark: G}", NotShown),
        ("count(gate.support_posts) >= 1", "{mark: G, support_posts: []}", NotMet),
        ("count(gate.latch_posts) >= 1", "{mark: G, latch_posts: n/a}", DoesNotApply),
        ("any(gate.support_posts as p, p.size >= 6 in)", POSTS, Met),
        ("any(gate.support_posts as p, p.size >= 8 in)", POSTS, NotMet),
        ("any(gate.support_posts as p, p.plumb)", POSTS, Met),
        ("any(gate.support_posts as p where p.role is tail, p.plumb)", POSTS, NotShown),
        ("any(gate.support_posts as p where p.role is tail)", POSTS, Met),
        ("any(gate.support_posts as p, p.plumb)", "{mark: G, support_posts: []}", NotMet),
        ("all(gate.support_posts as p, p.size >= 4 in)", POSTS, Met),
        ("all(gate.support_posts as p, p.size >= 5 in)", POSTS, NotMet),
        ("all(gate.support_posts as p, p.plumb)", POSTS, NotShown),
        ("all(gate.support_posts as p, p.plumb)", "{mark: G, support_posts: []}", Met),
        ("all(gate.support_posts as p, p.plumb)", "{mark: G}", NotShown),
        ("sum(gate.support_posts as p, p.size) is 10 in", POSTS, Met),
        ("sum(gate.support_posts as p where p.plumb, p.size) >= 4 in", POSTS, Met),
        ("sum(gate.support_posts as p where p.plumb, p.size) >= 5 in", POSTS, NotShown),
        ("min(gate.support_posts as p, p.size) >= 4 in", POSTS, Met),
        ("max(gate.support_posts as p, p.size) <= 5 in", POSTS, NotMet),
        ("min(gate.support_posts as p where p.plumb, p.size) >= 4 in", POSTS, Met),
        ("min(gate.support_posts as p where p.role is tail, p.size) >= 6 in", "{mark: G, support_posts: []}", NotShown),
        ("distinct(gate.support_posts as p, p.size) is 2", POSTS, Met),
        (
            "distinct(gate.support_posts as p, p.role) >= 2",
            "{mark: G, support_posts: [{role: tail}, {role: tail}]}",
            NotMet,
        ),
        (
            "distinct(gate.support_posts as p, p.role) >= 2",
            "{mark: G, support_posts: [{role: tail}, {size: 4 in}]}",
            NotShown,
        ),
        ("distinct(gate.support_posts as p, p.role) >= 2", "{mark: G}", NotShown),
    ]);
}

/// A function over a list stands at its own elements, wherever else the list is being looked through.
#[test]
fn functions_over_one_list_side_by_side_and_inside_one_another() {
    let unlike = "all(gate.sensors as a, count(gate.sensors as b where b.id is a.id) is 1)";
    let pair =
        "any(gate.sensors as a where a.type is A, any(gate.sensors as b where b.type is B2, b.acts_in is a.acts_in))";
    let seen =
        "all(gate.entrapment_zones as z, any(gate.sensors as s where s.id is one of z.protected_by, s.type is A))";
    // The list inside is asked the same for every element outside, and as many times in a row.
    let again = format!("{seen} and count(gate.sensors as s where s.type is A) is 1 and {seen} and {unlike}");
    let gates = [
        "{mark: G, sensors: [{id: a, type: A, acts_in: both}, {id: b, type: B2, acts_in: closing}], \
         entrapment_zones: [{zone: drive, protected_by: [a]}, {zone: tail_end, protected_by: [a, b]}]}",
        "{mark: H, sensors: [{id: a, type: A, acts_in: both}, {id: b, type: B2, acts_in: both}], \
         entrapment_zones: [{zone: drive, protected_by: [a]}, {zone: tail_end, protected_by: [b]}]}",
        "{mark: I, sensors: [{id: a, type: A, acts_in: closing}, {id: A, type: B2, acts_in: closing}], \
         entrapment_zones: [{zone: drive, protected_by: [a]}]}",
    ];
    let rows = [
        (unlike, [Met, Met, NotMet]),
        (pair, [NotMet, Met, Met]),
        (seen, [Met, NotMet, Met]),
        (again.as_str(), [Met, NotMet, NotMet]),
    ];
    for (require, expected) in rows {
        let rules = rules(&format!("    require: >-\n      {require}\n"), "");
        let judged = judged(&rules, &gates.join("\n  - "));
        let found: Vec<_> = judged.gates.iter().map(|gate| gate.outcomes[0]).collect();
        assert_eq!(found, expected.map(Some), "{require}");
    }
}

#[test]
fn an_element_that_does_not_apply_is_left_out() {
    let wall = |beside: &str| {
        format!("{{mark: G, fixed_objects: [{{what: wall, beside: {beside}}}, {{what: hut, beside: 3 ft}}]}}")
    };
    let beside = "all(gate.fixed_objects as o, o.beside > 16 in)";
    check(&[(beside, &wall("n/a"), Met), (beside, &wall("10 in"), NotMet), (beside, &wall("~"), NotShown)]);
}

#[test]
fn membership_in_lists_of_choices_and_texts() {
    let zones = "{mark: G, sensors: [{id: s1, type: B1}, {id: S2, type: B2}], entrapment_zones: [{zone: drive, protected_by: [s1, s2 ]}]}";
    let two =
        "all(gate.entrapment_zones as z, distinct(gate.sensors as s where s.id is one of z.protected_by, s.type) >= 2)";
    check(&[
        (two, zones, Met),
        (
            two,
            "{mark: G, sensors: [{id: s1, type: B1}], entrapment_zones: [{zone: drive, protected_by: [s1]}]}",
            NotMet,
        ),
        (
            two,
            "{mark: G, sensors: [{id: s1, type: B1}, {id: s2, type: A}], entrapment_zones: [{zone: drive}]}",
            NotShown,
        ),
        (
            "gate.usage_class is one of gate.operator.classes",
            "{mark: G, usage_class: II, operator: {classes: [I, II]}}",
            Met,
        ),
        (
            "gate.usage_class is one of gate.operator.classes",
            "{mark: G, usage_class: III, operator: {classes: [I, II]}}",
            NotMet,
        ),
        (
            "gate.usage_class is one of gate.operator.classes",
            "{mark: G, usage_class: III, operator: {classes: []}}",
            NotMet,
        ),
        ("gate.usage_class is not one of [I, II]", "{mark: G, usage_class: III}", Met),
        ("gate.usage_class is not one of [I, II]", "{mark: G}", NotShown),
        ("gate.usage_class is not IV", "{mark: G, usage_class: IV}", NotMet),
    ]);
}

#[test]
fn a_partial_date_is_the_whole_month_or_year() {
    let before = "gate.operator.manufactured < 2016-01-12";
    check(&[
        (before, "{mark: G, operator: {manufactured: 2016-01-11}}", Met),
        (before, "{mark: G, operator: {manufactured: 2016-01-12}}", NotMet),
        (before, "{mark: G, operator: {manufactured: 2015}}", Met),
        (before, "{mark: G, operator: {manufactured: 2016}}", NotMet),
        (before, "{mark: G, operator: {manufactured: 2016-02}}", NotMet),
        ("not gate.operator.manufactured < 2016-01-12", "{mark: G, operator: {manufactured: 2016}}", NotMet),
    ]);
}

#[test]
fn tables_by_number_and_by_choice() {
    let steps = "tables:\n  steps:\n    key: length\n    value: length\n    source: {standard: made up, authority: practice}\n    \
                 rows:\n      - {up_to: 10 ft, value: 6 ft}\n      - {up_to: 20 ft, value: 3 ft}\n      - {up_to: 30 ft, value: 9 ft}\n";
    let rules = rules("    require: gate.leaf.counterbalance >= table(steps, gate.opening)\n", steps);
    let on = |opening: &str, tail: &str| {
        outcome(&rules, &format!("{{mark: G, opening: {opening}, leaf: {{counterbalance: {tail}}}}}"))
    };
    assert_eq!(on("10 ft", "6 ft"), Met, "the end of a row belongs to it");
    assert_eq!(on("10 ft", "5 ft"), NotMet);
    assert_eq!(on("10 ft 1/64 in", "3 ft"), Met);
    assert_eq!(on("3.048 m", "5 ft"), NotMet, "10 ft in meters is 10 ft");
    assert_eq!(on("8 ft to 12 ft", "5 ft"), NotMet, "the first row asks for 6 ft");
    assert_eq!(on("8 ft to 25 ft", "8 ft"), NotMet, "tables need not rise: every row touched counts");
    assert_eq!(on("8 ft to 25 ft", "9 ft"), Met);
    assert_eq!(on("31 ft", "9 ft"), NotShown, "outside the table");
    let by_choice = "tables:\n  classes:\n    key: gate.usage_class\n    value: length\n    source: {standard: made up, authority: practice}\n    \
                     rows: [{is: I, value: 1 ft}, {is: II, value: 2 ft}, {is: III, value: 3 ft}, {is: IV, value: 4 ft}]\n";
    let rules = self::rules("    require: gate.opening >= table(classes, gate.usage_class)\n", by_choice);
    assert_eq!(outcome(&rules, "{mark: G, opening: 2 ft, usage_class: II}"), Met);
    assert_eq!(outcome(&rules, "{mark: G, opening: 2 ft, usage_class: III}"), NotMet);
    assert_eq!(outcome(&rules, "{mark: G, opening: 2 ft}"), NotShown);
    assert_eq!(outcome(&rules, "{mark: G, opening: 4 ft}"), Met, "whatever the class");
    assert_eq!(outcome(&rules, "{mark: G, opening: 6 in}"), NotMet, "whatever the class");
}

/// What lies between two rows is as unknown as what lies beyond the last one.
#[test]
fn a_table_says_nothing_of_a_key_that_reaches_into_a_gap() {
    let steps = "tables:\n  steps:\n    key: length\n    value: length\n    source: {standard: made up, authority: practice}\n    \
                 rows:\n      - {from: 5 ft, up_to: 10 ft, value: 6 ft}\n      - {from: 20 ft, up_to: 40 ft, value: 3 ft}\n      \
                 - {up_to: 50 ft, value: 4 ft}\n";
    let rules = rules("    require: gate.leaf.counterbalance >= table(steps, gate.opening)\n", steps);
    let on =
        |opening: &str| outcome(&rules, &format!("{{mark: G, opening: {opening}, leaf: {{counterbalance: 9 ft}}}}"));
    for inside in ["5 ft", "1.524 m", "5 ft to 10 ft", "20 ft to 40 ft", "30 ft to 50 ft", "40 ft to 41 ft"] {
        assert_eq!(on(inside), Met, "{inside}");
    }
    for outside in [
        "15 ft",
        "15 ft to 21 ft",
        "9 ft to 11 ft",
        "9 ft to 21 ft",
        "4 ft to 6 ft",
        "49 ft to 51 ft",
        "4 ft",
        "10 ft min",
    ] {
        assert_eq!(on(outside), NotShown, "{outside}");
    }
}

#[test]
fn each_runs_per_element_and_the_worst_decides() {
    let rules = rules(
        "    each: gate.support_posts as post\n    when: post.role is tail\n    require: post.size >= 6 in\n",
        "",
    );
    assert_eq!(outcome(&rules, POSTS), Met);
    assert_eq!(
        outcome(&rules, "{mark: G, support_posts: [{role: tail, size: 4 in}, {role: tail, size: 6 in}]}"),
        NotMet
    );
    assert_eq!(outcome(&rules, "{mark: G, support_posts: [{role: fulcrum}]}"), DoesNotApply);
    assert_eq!(outcome(&rules, "{mark: G, support_posts: []}"), DoesNotApply);
    assert_eq!(outcome(&rules, "{mark: G}"), NotShown);
    let found = judged(&rules, "{mark: G, support_posts: [{role: tail, size: 4 in}, {role: tail, size: 5 in}]}");
    let elements: Vec<_> = found.findings.iter().filter_map(|finding| finding.element.as_deref()).collect();
    assert_eq!(elements, ["1", "2"]);
}

#[test]
fn each_runs_per_choice() {
    let rules = rules(
        "    each: choices(gate.usage_class) as class\n    require: >-\n      class is not one of gate.operator.classes or class is II\n",
        "",
    );
    assert_eq!(outcome(&rules, "{mark: G, operator: {classes: [II]}}"), Met);
    let found = judged(&rules, "{mark: G, operator: {classes: [II, IV]}}");
    assert_eq!(found.findings.len(), 1);
    assert_eq!(found.findings[0].element.as_deref(), Some("IV"));
}

#[test]
fn a_rule_whose_when_is_open_is_met_where_it_holds_anyway() {
    let rules = rules("    when: gate.operation is powered\n    require: gate.leaf.bottom_gap <= 5 in\n", "");
    assert_eq!(outcome(&rules, "{mark: G, leaf: {bottom_gap: 4 in}}"), Met);
    assert_eq!(outcome(&rules, "{mark: G, leaf: {bottom_gap: 6 in}}"), NotShown);
    assert_eq!(judged(&rules, "{mark: G, leaf: {bottom_gap: 6 in}}").findings[0].missing, ["gate.operation"]);
    assert_eq!(outcome(&rules, "{mark: G, operation: manual, leaf: {bottom_gap: 6 in}}"), DoesNotApply);
    assert_eq!(outcome(&rules, "{mark: G, operation: powered, leaf: {bottom_gap: 6 in}}"), NotMet);
}

#[test]
fn a_value_that_cannot_be_read_makes_no_second_finding() {
    let rules = rules("    require: gate.leaf.bottom_gap <= 5 in\n", "");
    let found = judged(&rules, "{mark: G, leaf: {bottom_gap: 4}}");
    assert_eq!(found.gates[0].outcomes, [Some(NotShown)]);
    assert!(found.findings.is_empty(), "{:?}", found.findings);
}

#[test]
fn a_gate_of_another_type_is_not_judged() {
    let rules = rules("    require: gate.leaf.bottom_gap <= 5 in\n", "");
    let found = judged(&rules, "{mark: G, type: swing, leaf: {bottom_gap: 9 in}}");
    assert!(!found.gates[0].reviewed && found.findings.is_empty());
}

/// A uniform leaf of 730 lb on two carriages 10 ft apart: 1222.75 lb in front, closed (four frame programs agree).
const LEAF: &str = "{mark: G, opening: 24 ft, leaf: {weight: 730 lb, centroid: 18.25 ft, latch_overlap: 6 in}, carriages: {setback: 6 in, spacing: 10 ft}}";

#[test]
fn figures_are_numbers_with_states_of_their_own() {
    let without = |what: &str| LEAF.replace(what, "");
    check(&[
        ("figure.front_reaction_closed <= 1223 lb", LEAF, Met),
        ("figure.front_reaction_closed <= 1222 lb", LEAF, NotMet),
        ("figure.tail_reaction_closed < 0 lb", LEAF, Met),
        ("figure.travel >= 24 ft", LEAF, NotShown),
        ("shown(figure.travel)", LEAF, NotMet),
        ("shown(figure.front_reaction_closed)", LEAF, Met),
        ("valid(figure.front_reaction_closed)", LEAF, Met),
        ("valid(figure.travel)", LEAF, NotShown),
        ("figure.front_reaction_closed <= 1223 lb", &without("weight: 730 lb, "), NotShown),
        // A range of the opening moves the reaction by 73 lb a foot (weight over spacing).
        ("figure.front_reaction_closed <= 1260 lb", &LEAF.replace("24 ft", "23 ft to 25 ft"), NotMet),
        ("figure.front_reaction_closed <= 1296 lb", &LEAF.replace("24 ft", "23 ft to 25 ft"), Met),
    ]);
    let rules = rules("    require: figure.front_reaction_closed <= 1000 lb\n", "");
    let found = judged(&rules, LEAF);
    assert_eq!(
        found.findings[0].field.as_deref(),
        Some("gate.leaf.weight"),
        "a figure is pointed at by its first input"
    );
    assert_eq!(found.findings[0].assumed, [("gate.leaf.live_load".to_owned(), "0 lb".to_owned())]);
    let missing = judged(&rules, &without("weight: 730 lb, "));
    assert_eq!(missing.findings[0].missing, ["gate.leaf.weight"]);
}
