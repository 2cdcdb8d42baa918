//! Bending strength of square tubes and pipes against a public library on 79 cases, and against published examples.

use std::collections::BTreeMap;

use super::{Asked, FT, IN, KSI, LBF, Row, close, of_topic, rows};

const FLEXURE: &str = include_str!("../data/figures/flexure.json");
const SECTION: &str = include_str!("../data/figures/section.json");

/// The strength figure of a post, down to the fields, of a stated design wall and yield.
fn strength(figure: &str, shape: &str, size: f64, wall: f64, yield_ksi: f64) -> Asked {
    Asked::whole(figure)
        .choose("shape", &[shape])
        .choose("wall_is", &["design"])
        .choose("steel", &["A500_B"])
        .with_all([("size", size * IN), ("wall", wall * IN), ("stated_yield", yield_ksi * KSI)])
}

const KIP_FT: f64 = 1000.0 * LBF * FT;

/// Allowable-stress and load-and-resistance-factor strength in kip-feet: nominal over 1.67, and 0.9 of it (AISC 360-16
/// section F1).
fn both(shape: &str, size: f64, wall: f64, yield_ksi: f64) -> [f64; 2] {
    [
        strength("bending_strength", shape, size, wall, yield_ksi).value() / KIP_FT,
        0.9 * strength("bending_nominal", shape, size, wall, yield_ksi).value() / KIP_FT,
    ]
}

/// Size and design wall of a shape of the table of sections.
fn sizes() -> BTreeMap<String, (f64, f64)> {
    let size = |row: &Row| {
        let size = if row.id().starts_with("SEC-HSS") { "B" } else { "OD" };
        (row.id().trim_start_matches("SEC-").to_owned(), (row.input(size), row.input("t_des")))
    };
    rows(SECTION).iter().map(size).collect()
}

#[test]
fn square_tubes_and_pipes_of_the_tables() {
    let sizes = sizes();
    for (topic, shape, count) in [("flexure F7", "square", 58), ("flexure F8", "round", 21)] {
        let rows = of_topic(FLEXURE, topic);
        assert_eq!(rows.len(), count);
        for row in &rows {
            let (size, wall) = sizes[row.text("shape")];
            let [allowable, factored] = both(shape, size, wall, row.input("Fy"));
            row.hold("ASD_kipft", allowable);
            row.hold("phiMn_kipft", factored);
        }
    }
}

/// Published examples of single tubes. The rectangular one (`FLX-PUB-F7B`, HSS10x6) is not covered: the posts of the
/// vocabulary are square or round. Examples take the moduli of the tables, three digits of ours.
#[test]
fn published_examples() {
    let one = |topic: &str| of_topic(FLEXURE, topic).remove(0);
    for topic in ["flexure F7 compact", "flexure F7 barely noncompact"] {
        let row = one(topic);
        let [allowable, factored] = both("square", 3.5, 0.116, row.input("Fy"));
        row.hold("ASD_kipft", allowable);
        row.hold("phiMn_kipft", factored);
    }
    let row = one("flexure F7 slender flange");
    // The example takes the idle width off both flanges, which keeps the axis and is on the safe side. The code's text takes
    // it off the compressed one; the row has those numbers too, in its tolerance.
    assert_eq!(row.tolerance(), "0.5 % simplified method; with the moved neutral axis 617/46.3/30.8");
    let [allowable, factored] = both("square", 8.0, row.input("t"), row.input("Fy"));
    close(allowable, 30.8, 0.005 * 30.8, "F.8B, axis moved");
    close(factored, 46.3, 0.005 * 46.3, "F.8B, axis moved");
    let nominal = strength("bending_nominal", "square", 8.0, row.input("t"), row.input("Fy")).value();
    close(nominal / (1000.0 * LBF * IN), 617.0, 0.005 * 617.0, "F.8B, axis moved");
    assert!(allowable > row.expected("ASD_kipft") && factored > row.expected("phiMn_kipft"));
    let row = one("flexure F8 pipe");
    let [allowable, factored] = both("round", 8.625, 0.465, row.input("Fy"));
    row.hold("ASD_kipft", allowable);
    row.hold("phiMn_kipft", factored);
    assert_eq!(of_topic(FLEXURE, "flexure F7 noncompact flange (rect.)").len(), 1);
}

/// Classes at 46 and 50 ksi as the library has them: a compact tube bears its plastic moment, the others less.
#[test]
fn only_compact_tubes_bear_their_plastic_moment() {
    let sizes = sizes();
    for row in of_topic(FLEXURE, "flexure F7") {
        let (size, wall) = sizes[row.text("shape")];
        let nominal = strength("bending_nominal", "square", size, wall, row.input("Fy")).value();
        let plastic = Asked::own("plastic_modulus")
            .choose("shape", &["square"])
            .with("size", size * IN)
            .with("wall_design", wall * IN)
            .value();
        let full = (nominal / (plastic * row.input("Fy") * KSI) - 1.0).abs() < 1e-12;
        assert_eq!(full, row.class() == "compact", "{}", row.id());
    }
}

/// Yield strengths by steel: A500 B 46 square and 42 round, A500 C 50 and 46, A1085 50, A53 B 35 ksi (quoted from the
/// standards in the same sheet, section 6.2); F1043 IA 30, IC 50 ksi (from memory there).
#[test]
fn yields_of_the_steels() {
    let of = |steel: &str, shape: &str| {
        Asked::own("yield_strength").choose("steel", &[steel]).choose("shape", &[shape]).value() / KSI
    };
    for (steel, square, round) in
        [("A500_B", 46.0, 42.0), ("A500_C", 50.0, 46.0), ("A1085", 50.0, 50.0), ("A53_B", 35.0, 35.0)]
    {
        close(of(steel, "square"), square, 1e-9, steel);
        close(of(steel, "round"), round, 1e-9, steel);
    }
    close(of("F1043_IA", "round"), 30.0, 1e-9, "F1043 IA");
    close(of("F1043_IC", "round"), 50.0, 1e-9, "F1043 IC");
    let aluminum = Asked::own("yield_strength").choose("steel", &["aluminum"]).choose("shape", &["square"]);
    assert!(aluminum.refusal().contains("aluminum"));
}
