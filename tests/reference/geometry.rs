//! The six published-by-computation geometry cases of a leaf over its travel: closed form confirmed by a scan of 4,001
//! positions (own arithmetic, exact; the script that made them is in `scripts/geometry.py`). Feet throughout.
//!
//! W opening, E latch overlap, a setback, s spacing, T counterbalance, r recess (negative: the leaf stays in the
//! passage), c carriage length, ml and mt track margins; L length, run-back from the opening edge, clear opening.

use gatewright::review::Outcome::{self, Met, NotMet};

use super::judged::{outcome_of, review_gate};

const CASES: &str = include_str!("data/geometry.csv");

fn gate(row: &[&str]) -> String {
    let number = |at: usize| row[at].parse::<f64>().unwrap();
    let [w, e, a, s, t, r, c, ml, mt] = [1, 2, 3, 4, 5, 6, 7, 8, 9].map(number);
    let (length, run_back) = (number(10), number(16));
    format!(
        "    operation: manual\n    opening: {w} ft\n    intrusion: {} ft\n    intrusion_of: leaf\n    run_back: {run_back} ft\n    leaf:\n      \
         length: {length} ft\n      latch_overlap: {e} ft\n      counterbalance: {t} ft\n      \
         counterbalance_from: opening_edge\n      recess: {} ft\n    carriages: {{setback: {a} ft, spacing: {s} ft, \
         length: {c} ft, lead_margin: {ml} ft, tail_margin: {mt} ft}}\n",
        if r < 0.0 { -r } else { 0.0 },
        if r > 0.0 { r } else { 0.0 }
    )
}

fn rows() -> Vec<Vec<&'static str>> {
    // The name holds a comma in some rows and is quoted.
    CASES
        .lines()
        .skip(1)
        .map(|line| {
            let line = line.strip_prefix('"').unwrap_or(line);
            let (name, rest) = line.split_once("\",").or_else(|| line.split_once(',')).unwrap();
            std::iter::once(name).chain(rest.split(',')).collect()
        })
        .collect()
}

#[test]
fn the_six_cases_get_their_verdicts() {
    let rows = rows();
    assert_eq!(rows.len(), 6);
    let verdict = |text: &str| if text == "True" { Met } else { NotMet };
    for row in rows {
        let review = review_gate(&gate(&row));
        let of = |rule: &str| outcome_of(&review, rule);
        assert_eq!(of("leaf/tail-leaves-carriage"), verdict(row[19]), "{}: closed", row[0]);
        assert_eq!(of("leaf/leading-end-leaves-carriage"), verdict(row[20]), "{}: open", row[0]);
        assert_eq!(of("dimensions/leaf-length-mismatch"), Met, "{}: length", row[0]);
        assert_eq!(of("dimensions/run-back-too-short"), run_back(&row), "{}: run-back", row[0]);
        let clear = row[15].parse::<f64>().unwrap() == row[1].parse::<f64>().unwrap();
        assert_eq!(of("dimensions/clear-opening-reduced"), if clear { Met } else { NotMet }, "{}: clear", row[0]);
        let ratio = row[14].parse::<f64>().unwrap();
        let enough = if ratio >= 0.4 { Met } else { NotMet };
        assert_eq!(of("leaf/low-counterbalance-ratio"), enough, "{}: ratio {ratio}", row[0]);
    }
}

/// A leaf that stays in the passage needs less run-back than its length; the rule, which has no negative recess, asks
/// for the whole length.
fn run_back(row: &[&str]) -> Outcome {
    if row[6].starts_with('-') { NotMet } else { Met }
}
