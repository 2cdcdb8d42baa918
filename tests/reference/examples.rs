//! Published and derived examples as cantilever submittals, each with its source and the findings it must lead to.
//!
//! "Quoted" values come from secondary quotations of a standard, "read" ones from the text or page itself, "derived" ones
//! are arithmetic on them; none of the sources is this program.

use gatewright::review::Outcome::{DoesNotApply, Met, NotMet};

use super::judged::{not_met, outcome_of, review_gate};

/// Overhang table of a project specification that claims ASTM F1184 Type II Class 2 (quoted, one supplier in two
/// documents): six rows, opening and least overhang.
#[test]
fn overhang_table_row_by_row() {
    let rows = [
        ("10 ft", "6 ft 6 in", "6 ft 5 in"),
        ("14 ft", "7 ft 6 in", "7 ft 5 in"),
        ("22 ft", "10 ft", "9 ft 11 in"),
        ("30 ft", "12 ft", "11 ft 11 in"),
        ("35 ft", "16 ft", "15 ft 11 in"),
        ("40 ft", "16 ft", "15 ft 11 in"),
    ];
    let rule = "leaf/short-counterbalance-for-opening";
    for (opening, least, less) in rows {
        let gate = |tail: &str| format!("    opening: {opening}\n    leaf: {{counterbalance: {tail}}}\n");
        assert_eq!(outcome_of(&review_gate(&gate(least)), rule), Met, "{opening}");
        assert_eq!(outcome_of(&review_gate(&gate(less)), rule), NotMet, "{opening}");
    }
}

/// A 24 ft opening needs a 36 ft leaf with 12 ft of counterbalance (quoted, supplier guidance): passes table and 40 %.
#[test]
fn a_24_ft_opening_with_12_ft_of_counterbalance() {
    let gate = "    opening: 24 ft\n    leaf: {length: 36 ft, latch_overlap: 0 in, counterbalance: 12 ft}\n";
    let review = review_gate(gate);
    for rule in
        ["leaf/short-counterbalance-for-opening", "leaf/low-counterbalance-ratio", "dimensions/leaf-length-mismatch"]
    {
        assert_eq!(outcome_of(&review, rule), Met, "{rule}");
    }
}

/// A 20 ft opening with an 8 ft tail is exactly 40 % and fails the table row of 15 to 22 ft (derived): the criteria
/// disagree.
#[test]
fn a_20_ft_opening_with_an_8_ft_tail() {
    let review = review_gate("    opening: 20 ft\n    leaf: {counterbalance: 8 ft}\n");
    assert_eq!(outcome_of(&review, "leaf/low-counterbalance-ratio"), Met);
    assert_eq!(outcome_of(&review, "leaf/short-counterbalance-for-opening"), NotMet);
}

/// A class II slide gate, 7th edition of UL 325 (quoted rules; the example itself is derived): two different means in
/// each direction, external ones monitored.
#[test]
fn two_means_in_each_direction() {
    let gate = |sensors: &[(&str, &str, &str, &str)]| {
        let mut text =
            "    operation: powered\n    usage_class: II\n    operator: {supplied: new}\n    sensors:\n".to_owned();
        for (id, kind, way, monitored) in sensors {
            text += &format!("      - {{id: {id}, type: {kind}, acts_in: {way}, monitored: {monitored}}}\n");
        }
        text
    };
    let good = [("a", "A", "both", "yes"), ("b", "B1", "opening", "yes"), ("c", "B2", "closing", "yes")];
    let review = review_gate(&gate(&good));
    assert_eq!(outcome_of(&review, "entrapment/single-means"), Met);
    assert_eq!(outcome_of(&review, "entrapment/unmonitored-sensor"), Met);
    let unmonitored = [("a", "A", "both", "yes"), ("b", "B1", "opening", "no"), ("c", "B2", "closing", "yes")];
    assert_eq!(outcome_of(&review_gate(&gate(&unmonitored)), "entrapment/unmonitored-sensor"), NotMet);
    let only_a = [("a", "A", "both", "yes"), ("b", "B1", "opening", "yes")];
    assert_eq!(outcome_of(&review_gate(&gate(&only_a)), "entrapment/single-means"), NotMet);
    let two_beams = [("a", "B1", "both", "yes"), ("b", "B1", "both", "yes")];
    assert_eq!(outcome_of(&review_gate(&gate(&two_beams)), "entrapment/single-means"), NotMet);
}

fn post(size: &str, height: &str, width: &str, depth: &str) -> String {
    format!(
        "    support_posts:\n      - {{role: fulcrum, shape: round, size: {size}, height: {height}, footing: \
         {{shape: round, width: {width}, depth: {depth}}}}}\n"
    )
}

/// ASTM F567-07 clause 5.1 (read): a 4.000 in post of 8 ft needs a hole of 16 in and 24 + 3 x (8 - 4) = 36 in of depth
/// (derived).
#[test]
fn a_4_in_post_of_8_ft() {
    let review = review_gate(&post("4 in", "8 ft", "16 in", "36 in"));
    assert_eq!(outcome_of(&review, "posts/narrow-footing"), Met);
    assert_eq!(outcome_of(&review, "posts/shallow-footing"), Met);
    let review = review_gate(&post("4 in", "8 ft", "15 63/64 in", "35 63/64 in"));
    assert_eq!(outcome_of(&review, "posts/narrow-footing"), NotMet);
    assert_eq!(outcome_of(&review, "posts/shallow-footing"), NotMet);
}

/// The same clause: a 6.625 in post of 7 ft needs a hole of 19.875 in and 33 in of depth (derived).
#[test]
fn a_6_5_8_in_post_of_7_ft() {
    let review = review_gate(&post("6 5/8 in", "7 ft", "19 7/8 in", "33 in"));
    assert_eq!(outcome_of(&review, "posts/narrow-footing"), Met);
    assert_eq!(outcome_of(&review, "posts/shallow-footing"), Met);
    let review = review_gate(&post("6 5/8 in", "7 ft", "19 27/32 in", "32 in"));
    assert_eq!(outcome_of(&review, "posts/narrow-footing"), NotMet);
    assert_eq!(outcome_of(&review, "posts/shallow-footing"), NotMet);
}

/// Western Australia, safety alert 08/2018 (read): a manual slide gate, 5.4 m by 1.7 m, was pushed past its guides and
/// fell on a worker: no stop at the open end, and nothing kept it from falling over.
#[test]
fn a_manual_gate_pushed_past_its_guides() {
    let gate = "    operation: manual\n    opening: 5.4 m\n    leaf:\n      height: 1.7 m\n      fall: {worst_angle: 90 deg, restraints: []}\n    \
                stops: {at_open: none, at_closed: physical}\n";
    let review = review_gate(gate);
    let found = not_met(&review);
    for rule in ["missing-stop-open-manual", "falls-over-manual", "single-fall-restraint"] {
        assert!(found.contains(rule), "{rule}: {found:?}");
    }
}

/// Victoria, 2022 (read): a 12 m automatic slide gate, its motor removed for repair, rolled off its rails past the
/// posts: the stop depended on the operator, and the leaf was free to move.
#[test]
fn a_gate_without_its_motor() {
    let gate = "    operation: powered\n    opening: 12 m\n    leaf: {level: yes, starts_by_gravity: yes}\n    \
                stops: {at_open: physical, at_closed: physical, independent_of_operator: no}\n";
    let review = review_gate(gate);
    let found = not_met(&review);
    assert!(found.contains("stop-depends-on-operator") && found.contains("drifts-by-gravity"), "{found:?}");
}

/// Singapore, WSH alert of 2011 (read): a 10 m by 2.5 m gate whose limit switches were taken off with the motor; no
/// physical stopper.
#[test]
fn a_limit_switch_for_a_stop() {
    let gate = "    operation: powered\n    opening: 10 m\n    leaf: {height: 2.5 m}\n    \
                stops: {at_open: limit_switch, at_closed: limit_switch}\n";
    let review = review_gate(gate);
    assert!(not_met(&review).contains("limit-switch-as-stop"));
    assert_eq!(outcome_of(&review, "running_gear/missing-stop-open"), Met, "the switch is reported once");
}

/// Northern Territory, 2022 (read): a 9 m motorised gate worked by hand after a power loss; one broken guide block was
/// all that had kept the leaf upright.
#[test]
fn one_guide_that_breaks() {
    let gate = "    operation: powered\n    opening: 9 m\n    leaf:\n      fall:\n        restraints:\n          \
                - {what: top guide block, independent: yes}\n";
    assert!(not_met(&review_gate(gate)).contains("single-fall-restraint"));
}

/// Queensland alert, 2024 (read): manual and automatic slide gates need the same controls against falling.
#[test]
fn stops_and_restraints_regardless_of_operation() {
    for operation in ["manual", "powered", "manual_to_be_powered"] {
        let gate = format!(
            "    operation: {operation}\n    leaf:\n      fall: {{worst_angle: 90 deg, restraints: []}}\n    stops: \
             {{at_open: none, at_closed: none, independent_of_operator: no}}\n"
        );
        let review = review_gate(&gate);
        let found = not_met(&review);
        let has = |stem: &str| found.iter().any(|rule| rule.starts_with(stem));
        for stem in [
            "missing-stop-open",
            "missing-stop-closed",
            "falls-over",
            "single-fall-restraint",
            "stop-depends-on-operator",
        ] {
            assert!(has(stem), "{operation}: {stem}: {found:?}");
        }
    }
}

/// Supplier guidance leaves the tail without fabric (quoted); the openings of the counterbalance count as the leaf's
/// once there is an operator, classes I to III (ASTM F2200, quoted).
#[test]
fn a_tail_without_fabric() {
    let gate = |operation: &str| {
        format!(
            "    operation: {operation}\n    usage_class: II\n    leaf:\n      infill: {{kind: chain_link, largest_opening: \
             2 in, covers: opening_part}}\n      tail_infill: {{kind: none}}\n"
        )
    };
    assert_eq!(outcome_of(&review_gate(&gate("manual")), "guarding/open-tail"), DoesNotApply);
    assert_eq!(outcome_of(&review_gate(&gate("powered")), "guarding/open-tail"), NotMet);
}
