//! The clean example with one thing made wrong: words that deny, contradict or excuse must not make a hazard pass unsaid.

use super::program::{run, run_with_input};

const CLEAN: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");

/// The findings of the clean example after some replacements, one line each; the exit code for hazards.
fn reviewed(edits: &[(&str, &str)]) -> (String, i32) {
    let done = run_with_input(&["review", "--format", "line", "--fail-on", "hazard", "-"], &edited(edits));
    (done.out, done.code)
}

fn edited(edits: &[(&str, &str)]) -> String {
    let mut text = CLEAN.to_owned();
    for (from, to) in edits {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    text
}

#[track_caller]
fn is_hazard(edits: &[(&str, &str)], rule: &str) {
    let (out, code) = reviewed(edits);
    assert!(out.contains(rule), "{rule}\n{out}");
    assert_eq!(code, 1, "{out}");
}

#[test]
fn the_example_is_clean_as_it_stands() {
    assert_eq!(reviewed(&[]).1, 0);
}

#[test]
fn the_intrusion_of_another_part_holds_no_leaf() {
    let recess = ("recess: 0 in", "recess: 4 in");
    is_hazard(&[recess], "leaf/leading-end-leaves-carriage");
    is_hazard(&[recess, ("intrusion: 0 in", "intrusion: 4 in")], "leaf/leading-end-leaves-carriage");
    is_hazard(
        &[recess, ("intrusion: 0 in", "intrusion: 4 in\n    intrusion_of: leaf")],
        "leaf/leading-end-leaves-carriage",
    );
}

#[test]
fn a_zone_without_protection_is_not_removed_by_a_denial() {
    let edge = "{zone: leading_edge, direction: closing, gap: 0 in, protected_by: [A1, E1, P2, P3]}";
    for word in ["none", "No", "\"-\"", "nothing", "TBD", "~"] {
        let to = format!("{{zone: leading_edge, direction: closing, gap: 0 in, protected_by: [], removed_by: {word}}}");
        is_hazard(&[(edge, &to)], "entrapment/unprotected-zone");
    }
}

#[test]
fn a_zone_that_denies_the_trap_declares_nothing() {
    is_hazard(
        &[
            ("beyond_tail: 18 in", "beyond_tail: 4 in"),
            ("gap: 18 in, protected_by: [A1, E5, P1]", "gap: 18 in, protected_by: []"),
        ],
        "guarding/trap-beyond-tail",
    );
}

#[test]
fn no_words_and_no_stated_gap_take_a_leading_edge_away() {
    let edge = "{zone: leading_edge, direction: closing, gap: 0 in, protected_by: [A1, E1, P2, P3]}";
    for said in [
        "gap: 24 in, protected_by: []",
        "gap: 0 in, protected_by: [], removed_by: rounded and painted yellow",
        "gap: 0 in, protected_by: [], removed_by: \"yes\"",
        "gap: 0 in, protected_by: [E99]",
        "gap: 0 in, protected_by: [\"\"]",
        "gap: 0 in, protected_by: [none]",
    ] {
        is_hazard(
            &[(edge, &format!("{{zone: leading_edge, direction: closing, {said}}}"))],
            "entrapment/unprotected-zone",
        );
    }
    let post = "{zone: front_post_public, direction: both, gap: 2 in, protected_by: [A1, E2]}";
    let far = "{zone: front_post_public, direction: both, gap: 18 in, protected_by: []}";
    is_hazard(&[(post, far)], "entrapment/unprotected-zone");
}

#[test]
fn a_loop_among_the_sensors_protects_nobody() {
    is_hazard(
        &[(
            "id: A1, location: in the operator, side: both, type: A,",
            "id: A1, location: in the road, side: both, type: loop,",
        )],
        "entrapment/loop-counted",
    );
}

#[test]
fn an_object_behind_the_tail_is_not_answered_by_an_id_that_is_not_listed() {
    let near = ("beyond_tail: 18 in", "beyond_tail: 4 in");
    let zone = "{zone: tail_end, direction: opening, gap: 18 in, protected_by: [A1, E5, P1]}";
    for said in
        ["direction: opening, gap: 18 in, protected_by: [E99]", "direction: closing, gap: 4 in, protected_by: [E5]"]
    {
        is_hazard(&[near, (zone, &format!("{{zone: tail_end, {said}}}"))], "guarding/trap-beyond-tail");
    }
}

#[test]
fn an_object_that_nobody_listed_still_ends_the_run_back() {
    let wall =
        "      - {what: end of the retaining wall, beside: n/a, beyond_tail: 18 in, height: 3 ft, side: secure}\n";
    let zone = "gap: 18 in, protected_by: [A1, E5, P1]";
    is_hazard(
        &[("run_back: 38 ft", "run_back: 37 ft"), (wall, ""), (zone, "gap: 18 in, protected_by: []")],
        "guarding/trap-in-run-back",
    );
}

#[test]
fn a_control_within_reach_is_no_radio_and_no_emergency_by_its_word_alone() {
    let reader =
        "kind: card_reader, stops_gate: no, reachable_through: no, in_sight: yes, secured: yes, distance: 14 ft";
    for said in [
        "kind: card_reader, reachable_through: no, in_sight: yes, secured: yes, distance: n/a",
        "reachable_through: no, in_sight: yes, secured: yes, distance: 2 ft",
        "kind: push_button, emergency: yes, reachable_through: no, in_sight: yes, secured: no, distance: 2 ft",
        "kind: fire_key, reachable_through: yes, in_sight: yes, secured: no, distance: 14 ft",
        "kind: other, reachable_through: yes, in_sight: yes, secured: yes, distance: 14 ft",
    ] {
        is_hazard(&[(reader, said)], "operator/control-within-reach");
    }
}

#[test]
fn two_signs_on_one_side_are_none_on_the_other() {
    is_hazard(&[("- {side: secure, visible: yes}", "- {side: public, visible: yes}")], "operator/missing-sign");
    is_hazard(&[("- {side: secure, visible: yes}", "- {side: secure, visible: no}")], "operator/missing-sign");
}

#[test]
fn what_a_zone_says_of_the_drive_is_no_cover() {
    is_hazard(&[("drive_guarded: yes", "drive_guarded: no")], "operator/exposed-drive");
}

#[test]
fn the_age_of_an_operator_lets_it_off_the_count_of_no_edition() {
    let sensors = |text: &str| {
        let start = text.find("    sensors:\n").expect("sensors");
        let end = text.find("    entrapment_zones:\n").expect("zones");
        text[start..end].to_owned()
    };
    let only = "    sensors:\n      - {id: A1, location: in the operator, side: both, type: A, acts_in: both}\n";
    for (made, rule) in [
        ("2012-05-01", "entrapment/legacy-protection"),
        ("2016", "entrapment/legacy-single-means"),
        ("2017-05-01", "entrapment/legacy-single-means"),
        ("2018", "entrapment/legacy-single-means"),
        ("2018-08-01", "entrapment/single-means"),
    ] {
        let supplied = format!("supplied: existing\n      manufactured: {made}");
        is_hazard(&[("supplied: new", &supplied), (&sensors(CLEAN), only)], rule);
    }
}

#[test]
fn a_held_control_protects_only_where_nothing_else_moves_the_gate() {
    let inherent = "type: A, acts_in: both, monitored: yes";
    let held = [(inherent, "type: D, acts_in: both, monitored: yes")];
    is_hazard(&held, "entrapment/constant-pressure-with-auto-close");
    is_hazard(&held, "entrapment/constant-pressure-without-view");
}

#[test]
fn a_new_operator_ends_the_lower_guard_of_an_old_gate() {
    let (from, old) = (("guarded_to: 6 ft 10 in", "guarded_to: 48 in"), ("work: new", "work: existing"));
    is_hazard(&[old, from], "guarding/low-leaf-guard");
    let supplied = ("supplied: new", "supplied: existing\n      manufactured: 2020-05-01");
    let (out, _) = reviewed(&[old, from, supplied]);
    assert!(!out.contains("guarding/low-leaf-guard"), "{out}");
}

#[test]
fn class_iv_needs_a_plain_statement_that_the_gate_is_supervised() {
    let class = |said: &str| format!("usage_class: IV\n    {said}");
    for said in ["supervision: none at night", "supervised: no", "supervised: TBD"] {
        is_hazard(&[("usage_class: II ", &class(said).replace("IV\n", "IV #\n"))], "guarding/unsupervised-class-iv");
    }
}

#[test]
fn a_deviation_that_names_no_rule_is_told_so_once() {
    for (deviation, told) in [
        ("deviations:\n    - gate: g1\n      reason: as built\n", "not shown: rule deviated from"),
        ("deviations:\n    - the gap is wide\n", "must be a section with named fields"),
    ] {
        let (out, _) = reviewed(&[("deviations: []                      # none\n", deviation)]);
        assert_eq!(out.matches(told).count(), 1, "{out}");
        assert!(!out.contains("unmatched-deviation"), "{out}");
    }
}

#[test]
fn only_an_approval_that_can_be_looked_up_answers() {
    let gap = ("recess: 0 in", "recess: 4 in");
    let deviation = |approval: &str| {
        format!(
            "deviations:\n    - rule: leading-end-leaves-carriage\n      gate: g1\n      reason: as built\n      approval: {approval}\n"
        )
    };
    for approval in ["none", "\"-\"", "denied 2026-09-02", "requested", "not approved, RFI 3", "owner", "~"] {
        let (out, code) = reviewed(&[gap, ("deviations: []                      # none\n", &deviation(approval))]);
        assert_eq!(code, 1, "{approval}: {out}");
        assert!(out.contains("reading/incomplete-deviation"), "{approval}: {out}");
    }
    let (out, code) = reviewed(&[gap, ("deviations: []                      # none\n", &deviation("RFI 3"))]);
    assert_eq!(code, 0, "{out}");
    // What is written and grants nothing is marked, and not asked for once more.
    let text = edited(&[gap, ("deviations: []                      # none\n", &deviation("pending RFI 9"))]);
    let line = 1 + text.lines().position(|line| line.contains("pending RFI 9")).unwrap();
    let report = run_with_input(&["review", "-"], &text).out;
    assert!(report.contains(&format!("reading/incomplete-deviation, line {line}")), "{report}");
    assert!(report.contains("hand in the approval itself"), "{report}");
}

/// A misspelt rule is offered by its short name, as `explain` offers it.
#[test]
fn a_deviation_from_a_misspelt_rule_is_told_the_nearest() {
    let deviation = "deviations:\n    - {rule: open-lef, gate: G1, reason: agreed, approval: RFI 3}\n";
    let report =
        run_with_input(&["review", "-"], &edited(&[("deviations: []                      # none\n", deviation)])).out;
    assert!(report.contains("did you mean `guarding/open-leaf`?"), "{report}");
    assert!(run(&["explain", "open-lef"]).err.contains("did you mean `guarding/open-leaf`?"));
}

#[test]
fn a_format_that_is_not_known_is_not_reviewed() {
    let (out, code) = reviewed(&[("format: 1", "format: 2")]);
    assert_eq!(code, 4, "{out}");
    assert!(out.contains("reading/unknown-format"), "{out}");
    assert_eq!(out.lines().filter(|line| line.contains("<stdin>:")).count(), 1, "{out}");
}

#[test]
fn a_range_on_the_other_side_of_a_sum_is_named_with_its_end() {
    let (out, _) = reviewed(&[("spacing: 10 ft", "spacing: 9 ft to 14 ft")]);
    let line = out.lines().find(|line| line.contains("leaf/tail-leaves-carriage")).expect("the finding");
    assert!(line.contains("(at 14 ft of 9 ft to 14 ft)"), "{line}");
}

/// By hand: three times 8 in are more than 20 in, three times 4 in are not; a factor before the value tells its end as well.
#[test]
fn a_range_behind_a_factor_tells_its_end() {
    let text = "format: 1\ngates:\n  - mark: G1\n    support_posts: [{role: fulcrum, size: 4 in to 8 in, footing: {width: 20 in}}]\n";
    let done = run_with_input(&["review", "--format", "line", "-"], text);
    let line = done.out.lines().find(|line| line.contains("[posts/narrow-footing]")).unwrap();
    assert!(line.contains("(at 8 in of 4 in to 8 in)"), "{line}");
}

#[test]
fn notes_of_a_rule_that_is_met_are_said() {
    let edits = [
        ("work: new", "work: existing"),
        ("guarded_to: 6 ft 10 in", "guarded_to: 48 in"),
        ("supplied: new", "supplied: existing\n      manufactured: 2020-05-01"),
    ];
    let text = edited(&edits);
    for format in ["terminal", "json"] {
        let done = run_with_input(&["review", "--format", format, "-"], &text);
        let one_line = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(one_line.contains("48 in stands only for a gate"), "{format}: {}", done.out);
    }
}

/// One approval is of one gate: a mark that two gates have does not say which of them was agreed to.
#[test]
fn a_mark_that_two_gates_have_answers_no_hazard() {
    let start = CLEAN.find("  - mark: G1").unwrap();
    let gate = CLEAN[start..].replace("bottom_gap: 3 in to 4 in", "bottom_gap: 3 in to 6 in");
    let deviation =
        |rule: &str| format!("deviations:\n    - {{rule: {rule}, gate: g1, reason: as built, approval: RFI 3}}\n");
    let twice = |rule: &str, open: &str, mark: &str| {
        let gate = gate.replace("largest_opening: 2 in,", open);
        let head = CLEAN[..start].replace("deviations: []                      # none\n", &deviation(rule));
        let other = gate.replacen("mark: G1", &format!("mark: {mark}"), 1);
        let text = format!("{head}{gate}\n{other}");
        let done = run_with_input(&["review", "--format", "line", "--fail-on", "hazard", "-"], &text);
        (done.out, done.code)
    };
    let open = "largest_opening: 4 in,";
    let (out, code) = twice("open-leaf", open, "' g1'");
    assert_eq!(code, 1, "{out}");
    assert!(out.contains("its mark stands for several gates and so names none of them"), "{out}");
    assert_eq!(out.matches("[guarding/open-leaf]").count(), 2, "{out}");
    assert!(!out.contains("claims an approved deviation"), "{out}");
    // With marks of their own, the one at the gate that is named is answered, and the other is not.
    let (out, code) = twice("open-leaf", open, "G2");
    assert!(code == 1 && !out.contains("answers nothing"), "{out}");
    assert_eq!(out.matches("claims an approved deviation").count(), 1, "{out}");
    // A requirement is answered at every gate unless the deviation names one.
    let (out, _) = twice("wide-bottom-gap", "largest_opening: 2 in,", "G1");
    assert!(!out.contains("answers nothing"), "{out}");
}
