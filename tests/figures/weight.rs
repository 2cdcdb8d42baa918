//! The weight of the leaf from its parts: what is not shown is not weightless.

use gatewright::figures::State;

use super::asked::Asked;

const FT: f64 = 0.3048;
const IN: f64 = 0.0254;
const LB: f64 = 4.4482216152605;

/// A steel leaf of 36 ft by 6 ft filled over its opening part of 24 ft with 2 psf, in panels of 8 ft: by hand, frame apart,
/// 2 x 6 x 24 = 288 lb. Frame: 3 + 3 in2 of chords, 1 x 6 / 8 of uprights make 6.75 in2, at 490 / 144 lb/ft per in2
/// 22.96875 lb/ft or 826.875 lb.
fn leaf(figure: &str) -> Asked {
    Asked::whole(figure).choose("infill_covers", &["opening_part"]).choose("material", &["steel"]).with_all([
        ("leaf_length", 36.0 * FT),
        ("leaf_height", 6.0 * FT),
        ("counterbalance", 12.0 * FT),
        ("infill_weight", 2.0 * LB / (FT * FT)),
        ("top_chord_area", 3.0 * IN * IN),
        ("bottom_chord_area", 3.0 * IN * IN),
        ("upright_area", IN * IN),
        ("panel_length", 8.0 * FT),
    ])
}

fn pounds(asked: &Asked) -> f64 {
    asked.value() / LB
}

fn lacking(asked: &Asked) -> Vec<&'static str> {
    let State::Lacking(roots) = asked.outcome().state else { panic!("{:?}", asked.outcome()) };
    asked.names(&roots)
}

/// By hand: a tail of 1 psf adds 1 x 6 x 12 = 72 lb; a diagonal of 0.5 in2 in each panel of 8 by 6 ft is 10 ft long and adds
/// 0.5 x 10 / 8 = 0.625 in2 or 2.126736 lb/ft, 76.5625 lb.
#[test]
fn a_tail_or_diagonals_not_shown_are_lacking() {
    for figure in ["leaf_weight", "leaf_weight_rebuilt", "leaf_centroid", "front_moment_closed"] {
        let leaf = leaf(figure);
        let found = lacking(&if figure == "front_moment_closed" {
            leaf.clone().with_all([("opening", 24.0 * FT), ("latch_overlap", 0.0), ("setback", 0.15)])
        } else {
            leaf
        });
        assert_eq!(found, ["tail_infill_weight", "diagonal_area"], "{figure}");
    }
    let leaf = leaf("leaf_weight");
    let bare = leaf.clone().choose("pattern", &["none"]).choose("tail_infill_kind", &["none"]);
    assert!((pounds(&bare) - (288.0 + 826.875)).abs() < 1e-6, "{}", pounds(&bare));
    let tail = leaf.clone().with("tail_infill_weight", LB / (FT * FT));
    assert_eq!(lacking(&tail), ["diagonal_area"]);
    let whole = tail.with("diagonal_area", 0.5 * IN * IN);
    assert!((pounds(&whole) - (288.0 + 826.875 + 72.0 + 76.5625)).abs() < 1e-6, "{}", pounds(&whole));
    // Pickets in the tail weigh something, and rods are diagonals.
    let said = leaf.clone().choose("pattern", &["rods"]).choose("tail_infill_kind", &["pickets"]);
    assert_eq!(lacking(&said), ["tail_infill_weight", "diagonal_area"]);
    assert!((pounds(&leaf.with("stated_weight", 900.0 * LB)) - 900.0).abs() < 1e-9, "a stated weight needs none of it");
}
