//! The six leaves over their travel: closed forms confirmed by a scan of 4,001 places, exact.

use super::{Asked, FT, rows};

const GEOMETRY: &str = include_str!("../data/figures/geometry.json");

#[test]
fn six_leaves() {
    let rows = rows(GEOMETRY);
    assert_eq!(rows.len(), 6);
    for row in &rows {
        let feet = |key: &str| row.input(key) * FT;
        let of = |figure: &str, inputs: &[(&str, f64)]| {
            let asked = inputs.iter().fold(Asked::own(figure), |asked, (name, value)| asked.with(name, *value));
            asked.value()
        };
        let (opening, overlap, counterbalance) =
            (("opening", feet("W")), ("latch_overlap", feet("E")), ("counterbalance", feet("T")));
        let (setback, spacing, carriage) =
            (("setback", feet("a")), ("spacing", feet("s")), ("carriage_length", feet("c")));
        let recess = ("recess", feet("r"));
        let hold = |key: &str, found: f64| row.near(key, found / FT, 1e-12 * 100.0);
        let length = of("leaf_length", &[opening, overlap, counterbalance]);
        hold("L", length);
        hold("D", of("travel", &[opening, overlap, recess]));
        let margin = ("tail_margin", feet("mt"));
        hold("T_min", of("counterbalance_needed", &[setback, spacing, carriage, margin]));
        hold("r_max", of("recess_allowed", &[setback, carriage, ("lead_margin", feet("ml"))]));
        row.near("ratio", of("counterbalance_ratio", &[counterbalance, opening]), 1e-12);
        let intrusion = ("intrusion", (-feet("r")).max(0.0));
        hold("clear_open", of("clear_opening", &[opening, intrusion]));
        let length = ("leaf_length", length);
        hold("runback_from_opening", of("run_back_needed", &[length, recess]));
        hold("behind_tail_post", of("run_back_behind_carriage", &[length, recess, setback, spacing]));
        // On the track: what is left past the carriage is the margin asked for, or more.
        let tail_left = of("tail_track_left", &[counterbalance, setback, spacing, carriage]);
        assert_eq!(tail_left >= feet("mt") - 1e-9, row.says("engaged_closed"), "{}", row.id());
        let lead_left = of("lead_track_left", &[setback, carriage, recess]);
        assert_eq!(lead_left >= feet("ml") - 1e-9, row.says("engaged_open"), "{}", row.id());
    }
}

/// A carriage stands at the post's place plus its offset; leaf to post is half the post, the gap and half the leaf (the
/// same sheet, sections 1.10 and 1.11): 4 in post, 2 in gap, 2 in leaf: 5 in (own arithmetic).
#[test]
fn posts_and_leaf() {
    let place = Asked::own("carriage_place").with("from_opening", 0.75 * FT);
    assert_eq!(place.value(), 0.75 * FT);
    let inches = |value: f64| value * 0.0254;
    let gap = [("size", inches(4.0)), ("leaf_gap", inches(2.0)), ("thickness", inches(2.0))];
    let offset = Asked::own("leaf_offset").with_all(gap).value();
    super::close(offset, inches(5.0), 1e-12, "leaf offset");
    super::close(Asked::own("eccentricity").with_all(gap).value(), offset, 1e-12, "eccentricity");
    assert_eq!(Asked::own("eccentricity").with_all(gap).with("offset", 0.2).value(), 0.2, "stated");
}
