//! Posts under a carriage beside them and wind at two heights, against a frame program and a library's interaction.

use super::{Asked, FT, IN, KSI, LBF, Row, rows};

const POST: &str = include_str!("../data/figures/post.json");

/// Size and design wall in inches of the shapes of the table (published tables: see `data/figures/section.json`).
fn size(row: &Row) -> (f64, f64) {
    match row.text("shape") {
        "HSS4X4X1_4" => (4.0, 0.233),
        "HSS6X6X1_4" => (6.0, 0.233),
        "HSS6X6X3_16" => (6.0, 0.174),
        "HSS4X4X3_16" => (4.0, 0.174),
        other => panic!("{other}"),
    }
}

/// The lateral loads of a row: `[(400, 76.0), (400, 8.0)]`, pounds at inches.
fn laterals(row: &Row) -> Vec<[f64; 2]> {
    let numbers: Vec<f64> = row
        .text("lateral_lb_at_in")
        .split(['[', ']', '(', ')', ',', ' '])
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().unwrap())
        .collect();
    numbers.chunks_exact(2).map(|pair| [pair[0] * LBF, pair[1] * IN]).collect()
}

/// Statics is linear: the two loads are put on one after the other, the carriage with the first.
fn superposed(row: &Row, of: impl Fn(f64, [f64; 2]) -> f64) -> f64 {
    let loads = laterals(row);
    assert_eq!(loads.len(), 2);
    of(row.input("R_lb") * LBF, loads[0]) + of(0.0, loads[1])
}

#[test]
fn four_posts() {
    let rows = rows(POST);
    assert_eq!(rows.len(), 4);
    for row in &rows {
        let (outside, wall) = size(row);
        let tube = |figure: &str| {
            Asked::own(figure).choose("shape", &["square"]).with("size", outside * IN).with("wall_design", wall * IN)
        };
        let eccentricity = ("eccentricity", row.input("e_in") * IN);
        let height = ("height", row.input("h_post_in") * IN);
        let yields = ("yield", row.input("Fy") * KSI);
        let moment = superposed(row, |carriage, [lateral, at]| {
            let load = [("lateral", lateral), ("wind_height", at), ("carriage_load", carriage), eccentricity];
            Asked::own("moment_closed_free").with_all(load).value()
        });
        row.hold("M_base_inlb", moment / (LBF * IN));
        let inertia = tube("section_inertia").value();
        let bracket = row.input("z_v_in") * IN;
        // The table has the wind at the guides; its resultant acts between them.
        let loads = laterals(row);
        let together: f64 = loads.iter().map(|[lateral, _]| lateral).sum();
        let resultant_at = loads.iter().map(|[lateral, at]| lateral * at).sum::<f64>() / together;
        let sway = Asked::own("sway_closed_free")
            .with_all([
                ("lateral", together),
                ("wind_height", resultant_at),
                ("carriage_load", row.input("R_lb") * LBF),
            ])
            .with_all([eccentricity, height, ("inertia", inertia), ("bracket_height", bracket)])
            .with_all([("guide_height", loads[0][1]), ("lower_height", loads[1][1])])
            .with_all([("bottom_gap", 4.0 * IN), ("leaf_height", 6.0 * FT)])
            .value();
        row.hold("top_defl_PyNite_in", sway / IN);
        let nominal = tube("bending_nominal").with_all([yields]).value();
        let bending = Asked::own("bending_strength").with("bending_nominal", nominal).value();
        let against = [("moment", moment), ("bending_strength", bending)];
        row.hold("bending_ratio", Asked::own("bending_ratio_closed_free").with_all(against).value());
        let axial = tube("axial_strength").with_all([yields, height]).value();
        let ratio = Asked::own("axial_ratio_closed")
            .with_all([("carriage_load", row.input("R_lb") * LBF), ("axial_strength", axial)])
            .value();
        let both = Asked::own("stress_closed_free").with_all(against).with("axial_ratio", ratio);
        row.hold("H1_interaction", both.value());
        // What holds the post sideways is the sum of the two loads.
        let shear: f64 = laterals(row).iter().map(|[lateral, _]| lateral).sum();
        row.hold("V_lb", shear / LBF);
    }
}

/// AISC 360-16 H1-1 in numbers: at p = 0.1, m = 0.5: 0.55; at p = 0.3, m = 0.5: 0.3 + 8/9 x 0.5 (own arithmetic).
#[test]
fn the_interaction_changes_at_a_fifth() {
    let of = |along: f64| {
        let post = [("moment", 0.5 * FT), ("bending_strength", FT), ("axial_ratio", along)];
        Asked::own("stress_open_parked").with_all(post)
    };
    super::close(of(0.1).value(), 0.55, 1e-12, "H1-1b");
    super::close(of(0.3).value(), 0.3 + 4.0 / 9.0, 1e-12, "H1-1a");
    // Over the step both sides count.
    let span = of(0.1).range("axial_ratio", 0.19, 0.21).span();
    super::close(span.lo, 0.595, 1e-9, "below the step");
    super::close(span.hi, 0.21 + 4.0 / 9.0, 1e-9, "above the step");
}
