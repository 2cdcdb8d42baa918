//! The weight of a leaf from a schedule of its members.

use super::{Asked, FT, LBF, PLF, number, rows};

const WEIGHT: &str = include_str!("../data/figures/weight.json");

#[test]
fn a_schedule_of_members() {
    let row = rows(WEIGHT).remove(0);
    let length = row.input("length_ft");
    let listed = |key: &str| row.value(key).as_array().unwrap().clone();
    let mut loads: Vec<[f64; 3]> =
        listed("even").iter().map(|part| [0.0, length * FT, number(&part[1]) / length * PLF]).collect();
    let infill: Vec<f64> = listed("infill").iter().map(number).collect();
    loads.push([infill[1] * FT, infill[2] * FT, infill[0] / (infill[2] - infill[1]) * PLF]);
    let items: Vec<[f64; 2]> =
        listed("items").iter().map(|part| [number(&part[1]) * LBF, number(&part[2]) * FT]).collect();
    let leaf = |figure: &str| Asked::whole(figure).rows("load", &loads).rows("item", &items);
    row.hold("G", leaf("leaf_weight_rebuilt").value() / LBF);
    row.hold("G", leaf("leaf_weight").value() / LBF);
    row.hold("u_g", leaf("leaf_centroid").value() / FT);
    let carriages = [
        ("opening", 24.0 * FT),
        ("latch_overlap", 0.5 * FT),
        ("setback", (row.input("u_A") - 24.5) * FT),
        ("spacing", row.input("s") * FT),
    ];
    row.hold("R_A", leaf("front_reaction_closed").with_all(carriages).value() / LBF);
    row.hold("R_B", leaf("tail_reaction_closed").with_all(carriages).value() / LBF);
    // What is stated is taken before what is rebuilt.
    let stated = leaf("leaf_weight").with("stated_weight", 900.0 * LBF).value();
    assert_eq!(stated, 900.0 * LBF);
}

/// From areas: 2 x 2 x 1/8 in aluminum tube, 0.9375 in2, weighs 1.1025 lb/ft (the same sheet, section 2; density from
/// memory); 1 in2 of steel 3.4028 lb/ft. Chords alone: no uprights, diagonals or infill.
#[test]
fn chords_from_their_areas() {
    let of = |material: &str, area: f64| {
        let leaf = Asked::own("leaf_weight_rebuilt").choose("material", &[material]).choose("pattern", &["none"]);
        let leaf = leaf.with_all([
            ("leaf_length", 10.0 * FT),
            ("leaf_height", 6.0 * FT),
            ("infill_weight", 0.0),
            ("top_chord_area", area),
            ("bottom_chord_area", 0.0),
            ("upright_area", 0.0),
            ("panel_length", 5.0 * FT),
        ]);
        leaf.value() / (10.0 * LBF)
    };
    let inch = 0.0254 * 0.0254;
    super::close(of("aluminum", 0.9375 * inch), 1.1025, 0.00005, "aluminum tube");
    super::close(of("steel", inch), 3.4028, 0.00005, "steel");
}

/// A line load is even: where the infill ends at the opening it says what the leaf weighs and not where.
#[test]
fn an_even_line_load_does_not_place_an_uneven_leaf() {
    let of = |figure: &str, covers: &str| {
        let leaf = [("line_load", 20.0 * PLF), ("leaf_length", 36.5 * FT)];
        Asked::own(figure).choose("infill_covers", &[covers]).with_all(leaf)
    };
    super::close(of("leaf_weight", "opening_part").value(), 730.0 * LBF, 1e-9, "weight");
    let gatewright::figures::State::Lacking(roots) = of("leaf_centroid", "opening_part").outcome().state else {
        panic!("half the length is no answer");
    };
    assert_eq!(of("leaf_centroid", "opening_part").names(&roots), ["stated_centroid"]);
    super::close(of("leaf_centroid", "whole_leaf").value(), 18.25 * FT, 1e-9, "even leaf");
}
