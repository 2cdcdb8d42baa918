//! Forces of diagonals by a frame program against the shear of a beam.
//!
//! A diagonal that rises toward the tail takes V d / h0 of the shear V of its panel, d its length and h0 the depth: what a
//! truss of pins would do. The frame of the program has stiff chords that run through: beside a carriage they carry a part
//! of the shear in bending themselves. The largest difference of the 21 values is 5 % of the force, or 5 lb where it is
//! small.

use super::{Asked, FT, LBF, PLF, Row, rows};

const BRACING: &str = include_str!("../data/figures/bracing.json");

/// The leaf of the sheet: even weight, panels of 5 ft; closed the carriages stand under joints 5 and 7, open 0 and 2.
fn ask(figure: &str, row: &Row) -> Asked {
    let length = row.input("panels") * row.input("p_in") / 12.0 * FT;
    let mut asked = Asked::whole(figure).rows("load", &[[0.0, length, row.input("w_plf") * PLF]]);
    let fields = [("opening", 24.5), ("latch_overlap", 0.25), ("setback", 0.25), ("spacing", 10.0), ("recess", 0.25)];
    for (name, feet) in fields {
        if asked.plan.roots.iter().any(|root| root.name == name) {
            asked = asked.with(name, feet * FT);
        }
    }
    asked
}

/// The shear of a panel with the leaf moved: the moment rises by it over the panel.
fn shear(row: &Row, panel: usize, moved: f64) -> f64 {
    let asked = ask("leaf_moment", row).with("moved", moved * FT);
    let length = row.input("p_in") / 12.0 * FT;
    let moment = |joint: usize| asked.clone().with("section", joint as f64 * length).value();
    (moment(panel + 1) - moment(panel)) / length
}

#[test]
fn forces_of_the_diagonals() {
    let row = rows(BRACING).remove(0);
    let (panel, depth) = (row.input("p_in"), row.input("h0_in"));
    for (place, moved) in [("closed", 0.0), ("half", 10.0), ("open", 25.0)] {
        for (number, expected) in row.all_expected(place).into_iter().enumerate() {
            let found = shear(&row, number, moved) / LBF * panel.hypot(depth) / depth;
            let room = (0.05 * expected.abs()).max(5.0);
            assert!((found - expected).abs() <= room, "{place}, panel {number}: {expected}, found {found}");
        }
    }
}

/// Panels 2, 3 and 4 change their sign over the travel, 0, 1, 5 and 6 do not.
#[test]
fn signs_of_the_panels() {
    let row = rows(BRACING).remove(0);
    for panel in 0..7 {
        let length = row.input("p_in") / 12.0 * FT;
        let [low, high] = ["panel_shear_low", "panel_shear_high"].map(|figure| {
            let ends = [("start", panel as f64 * length), ("end", (panel + 1) as f64 * length)];
            ask(figure, &row).with_all(ends).value()
        });
        let signs = ["closed", "half", "open"].map(|place| row.all_expected(place)[panel] > 0.0);
        let changes = signs.iter().any(|sign| *sign != signs[0]);
        assert_eq!(low < 0.0 && high > 0.0, changes, "panel {panel}: {low} to {high}");
        assert_eq!(changes, [2, 3, 4].contains(&panel));
        // The three places of the sheet lie between the extremes.
        for moved in [0.0, 10.0, 25.0] {
            let found = shear(&row, panel, moved);
            assert!(low - 1e-6 <= found && found <= high + 1e-6, "panel {panel}: {low} {found} {high}");
        }
    }
}
