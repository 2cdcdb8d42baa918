//! Sag of the leading edge against a frame program on ten leaves, and play in the carriages.

use super::{Asked, FT, IN, LBF, PLF, Row, close, of_topic};

const SAG: &str = include_str!("../data/figures/sag.json");
const LB_IN4: f64 = IN * IN * IN * IN;

/// The stiffnesses of a leaf of the table: inertia and, where it is braced, shear stiffness.
fn inertia(row: &Row) -> f64 {
    Asked::own("leaf_inertia")
        .with_all([
            ("top_chord_area", row.input("At_in2") * IN * IN),
            ("bottom_chord_area", row.input("Ab_in2") * IN * IN),
            ("chord_distance", row.input("h0_in") * IN),
            ("top_chord_inertia", row.input("It_in4") * LB_IN4),
            ("bottom_chord_inertia", row.input("Ib_in4") * LB_IN4),
        ])
        .value()
}

fn shear_stiffness(row: &Row) -> Asked {
    let (pattern, diagonals) = match row.text("bracing") {
        "N" => ("rigid", "single"),
        "X" => ("rigid", "crossed"),
        _ => ("none", "single"),
    };
    Asked::own("shear_stiffness")
        .choose("material", &["steel"])
        .choose("pattern", &[pattern])
        .choose("diagonals", &[diagonals])
        .with_all([
            ("panel_length", row.input("p_in") * IN),
            ("chord_distance", row.input("h0_in") * IN),
            ("diagonal_area", row.input("Ad_in2") * IN * IN),
            ("upright_area", row.input("Av_in2") * IN * IN),
        ])
}

/// The leaf on its carriages.
fn beam(figure: &str, row: &Row) -> Asked {
    let panels = |key: &str| row.input(key) * row.input("p_in") * IN;
    let [overhang, span, tail] = ["overhang_panels", "span_panels", "tail_panels"].map(panels);
    let length = overhang + span + tail;
    Asked::own(figure).with_all([
        ("weight", row.input("w_plf") * PLF * length),
        ("leaf_length", length),
        ("front_closed", overhang),
        ("spacing", span),
        ("live_load", row.input("P_lb") * LBF),
    ])
}

fn bending(row: &Row) -> f64 {
    beam("bending_sag", row).choose("material", &["steel"]).with("inertia", inertia(row)).value()
}

#[test]
fn ten_leaves() {
    let rows = of_topic(SAG, "leading-edge sag");
    assert_eq!(rows.len(), 10);
    let mut braced = 0;
    for row in &rows {
        assert!(row.tolerance().starts_with("simple formula 0.1 %; against FE: braced -7..+7 %"));
        row.within_percent("I_in4", inertia(row) / LB_IN4, 0.1);
        row.within_percent("bend_in", bending(row) / IN, 0.1);
        let stiffness = shear_stiffness(row);
        if row.text("bracing") == "V" {
            let reason = stiffness.refusal();
            assert!(reason.contains("frame analysis"), "{reason}");
            continue;
        }
        braced += 1;
        let stiffness = stiffness.value();
        row.within_percent("Sv_lb", stiffness / LBF, 0.1);
        let shear = beam("shear_sag", row).with("shear_stiffness", stiffness).value();
        row.within_percent("shear_in", shear / IN, 0.1);
        let drop = Asked::own("leading_edge_drop")
            .with_all([("bending_sag", bending(row)), ("shear_sag", shear), ("play", 0.0)])
            .value();
        row.within_percent("simple_in", drop / IN, 0.1);
        row.within_percent("FE_in", drop / IN, 7.0);
    }
    assert_eq!(braced, 7);
}

/// The whole figure refuses an unbraced leaf too, whatever else is known.
#[test]
fn an_unbraced_leaf_has_no_drop() {
    let drop =
        Asked::whole("leading_edge_drop").choose("material", &["steel"]).choose("pattern", &["none"]).with_all([
            ("stated_weight", 3_000.0),
            ("leaf_length", 11.0),
            ("opening", 7.3),
            ("latch_overlap", 0.15),
            ("setback", 0.15),
            ("spacing", 3.0),
            ("leaf_height", 1.8),
            ("chord_depth", 0.1),
            ("panel_length", 1.5),
            ("top_chord_area", 8e-4),
            ("bottom_chord_area", 1.3e-3),
            ("diagonal_area", 5e-4),
            ("upright_area", 5e-4),
            ("play_down", 0.0015),
            ("play_up", 0.0015),
        ]);
    let reason = drop.refusal();
    assert!(reason.contains("an unbraced frame needs a frame analysis"), "{reason}");
    assert!(drop.choose("pattern", &["rigid"]).value() > 0.0);
}

/// Pure beams (closed form and a frame program, the same sheet, section 5.2): EI 4.176e6 lb ft2, w 20 lb/ft, overhang 25 ft,
/// spacing 10 ft; without a tail, with 1.5 ft of it, and with 200 lb at the leading edge. Feet.
#[test]
fn pure_beams() {
    // E of steel as the figure has it (AISC 360: 29,000,000 psi), so that E I is the sheet's.
    let steel = 29e6 * LBF / (IN * IN);
    for (tail, live, expected) in [(0.0, 0.0, 0.353_583_0), (1.5, 0.0, 0.353_807_5), (1.5, 200.0, 0.703_025_2)] {
        let length = 35.0 + tail;
        let asked = Asked::own("bending_sag").choose("material", &["steel"]).with_all([
            ("weight", 20.0 * LBF * length),
            ("leaf_length", length * FT),
            ("front_closed", 25.0 * FT),
            ("spacing", 10.0 * FT),
            ("live_load", live * LBF),
            ("inertia", 4.176e6 * LBF * FT * FT / steel),
        ]);
        close(asked.value() / FT, expected, 1e-7, "pure beam");
    }
}

#[test]
fn play_in_the_carriages() {
    let row = of_topic(SAG, "carriage play").remove(0);
    assert_eq!(row.tolerance(), "exact");
    let expected = row.all_expected("drop_in");
    for (case, expected) in row.value("cases").as_array().unwrap().iter().zip(expected) {
        let [down, up, overhang, spacing] = [0, 1, 2, 3].map(|at| super::number(&case[at]));
        let asked = Asked::own("carriage_play").with_all([
            ("play_down", down * IN),
            ("play_up", up * IN),
            ("front_closed", overhang * FT),
            ("spacing", spacing * FT),
        ]);
        close(asked.value() / IN, expected, 1e-12, "play");
    }
}
