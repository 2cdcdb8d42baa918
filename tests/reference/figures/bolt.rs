//! Bolts against a public library, and eccentrically loaded groups against published examples.

use super::{Asked, IN, KSI, LBF, close, number, of_topic};

const BOLT: &str = include_str!("../data/figures/bolt.json");
const KIP: f64 = 1000.0 * LBF;

/// Allowable is nominal over 2.00, factored 0.75 of it (AISC 360-16 section J3.6): the library's three follow from ours.
#[test]
fn twelve_bolts() {
    let rows = of_topic(BOLT, "bolt");
    assert_eq!(rows.len(), 12);
    for row in &rows {
        let grade = match (row.text("bolt"), row.text("threads")) {
            ("A307", _) => "A307",
            (_, "N") => "A325_N",
            _ => "A325_X",
        };
        let of = |figure: &str| {
            Asked::own(figure).choose("bolt_grade", &[grade]).with("bolt_diameter", row.input("d") * IN).value() / KIP
        };
        row.hold("asd", of("bolt_shear"));
        row.hold("Rn_shear", 2.0 * of("bolt_shear"));
        row.hold("phi", 1.5 * of("bolt_shear"));
        row.hold("asd_t", of("bolt_tension"));
        row.hold("phi_t", 1.5 * of("bolt_tension"));
    }
    let unknown = Asked::own("bolt_shear").choose("bolt_grade", &["SAE_5"]).with("bolt_diameter", 0.5 * IN);
    assert!(unknown.refusal().contains("no shear value is known"));
}

/// A 1/2 in bolt on a wall of 0.116 in, Fu 58 ksi, 0.75 in clear: 8.074 kip bearing, 6.055 tearing out, 3.028 allowable
/// (the same sheet, section 9, on the library's formulas); 0.95 in clear and more, bearing governs: 4.037.
#[test]
fn a_bolt_on_a_thin_wall() {
    let bolt = [("bolt_diameter", 0.5 * IN), ("wall", 0.116 * IN), ("tensile_strength", 58.0 * KSI)];
    let of = |clear: f64| Asked::own("bolt_bearing").with_all(bolt).with("clear_distance", clear * IN).value() / KIP;
    close(of(0.75), 3.028, 0.0005, "tearing out");
    close(of(1.5), 8.074 / 2.0, 0.0005, "bearing");
}

/// Strength of a group is the sum over its bolts, by the weaker of shear and bearing (AISC 360-16 section J3.10, quoted in
/// the same sheet); plates on both sides shear a bolt twice.
#[test]
fn a_group_sums_its_bolts() {
    let of = |bolts: f64, plates: &str| {
        let group = [("bolts", bolts), ("bolt_shear", 2.651), ("bolt_bearing", 3.028)];
        Asked::own("splice_strength").with_all(group).choose("plates", &[plates]).value()
    };
    close(of(4.0, "one_side"), 4.0 * 2.651, 1e-9, "four bolts");
    close(of(4.0, "both_sides"), 8.0 * 2.651, 1e-9, "four bolts in two planes");
}

/// Millimeters and kilonewtons. The least loaded bolt of the third is no figure.
#[test]
fn eccentric_groups() {
    let group = |load: f64, eccentricity: f64, bolts: &[[f64; 2]]| {
        let asked = Asked::own("bolt_group_force").with("load", load).with("eccentricity", eccentricity);
        asked.rows("bolt", bolts).value()
    };
    let rows = of_topic(BOLT, "elastic bolt group");
    assert_eq!(rows.len(), 3);
    for row in &rows {
        let listed = row.value("bolts").as_array().map(|bolts| {
            let bolt = |bolt: &serde_json::Value| [number(&bolt[0]), number(&bolt[1])];
            bolts.iter().map(bolt).collect::<Vec<_>>()
        });
        // The second is written in words.
        let bolts = listed.unwrap_or_else(|| {
            assert_eq!(row.text("bolts"), "2 columns +-40 x 3 rows 0,+-70 mm");
            [-40.0, 40.0].iter().flat_map(|x| [-70.0, 0.0, 70.0].map(|y| [*x, y])).collect()
        });
        let found = group(row.input("P"), row.input("e"), &bolts);
        if row.tolerance() == "J exact; max 0.02" {
            row.near("max", found, 0.02);
        } else {
            row.hold("max", found);
        }
        // The place of the group in its coordinates does not count.
        let moved: Vec<[f64; 2]> = bolts.iter().map(|[x, y]| [x + 100.0, y + 30.0]).collect();
        close(group(row.input("P"), row.input("e"), &moved), found, 1e-9 * found, row.id());
    }
}
