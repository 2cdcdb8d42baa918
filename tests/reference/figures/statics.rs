//! Reactions of six leaves at three places: four frame programs agree with each other to 5e-4.

use serde_json::Value;

use super::{Asked, FT, LBF, Row, close, number, rows};

const STATICS: &str = include_str!("../data/figures/statics.json");
const CONFIGURATIONS: &str = include_str!("../data/figures/configurations.json");

/// One of the leaves of the sheet, in feet and pounds; the fifth in meters and newtons.
#[derive(Debug)]
pub struct Configuration {
    name: String,
    value: Value,
    pub length: f64,
    pub force: f64,
}

impl Configuration {
    pub fn find(name: &str) -> Configuration {
        let all: Value = serde_json::from_str(CONFIGURATIONS).unwrap();
        let metric = name.starts_with("C5");
        let (length, force) = if metric { (1.0, 1.0) } else { (FT, LBF) };
        Configuration { name: name.to_owned(), value: all[name].clone(), length, force }
    }

    /// A figure of this leaf, down to the fields; the carriages stand in the open leaf without a recess.
    pub fn ask(&self, figure: &str) -> Asked {
        let (length, force) = (self.length, self.force);
        let cells = |key: &str| -> Vec<Vec<f64>> {
            let rows = self.value[key].as_array().unwrap();
            rows.iter().map(|row| row.as_array().unwrap().iter().map(number).collect()).collect()
        };
        let loads: Vec<[f64; 3]> =
            cells("line").iter().map(|row| [row[0] * length, row[1] * length, row[2] * force / length]).collect();
        let items: Vec<[f64; 2]> = cells("point").iter().map(|row| [row[1] * force, row[0] * length]).collect();
        let mut asked = Asked::whole(figure).rows("load", &loads).rows("item", &items);
        for (root, key) in [("opening", "W"), ("latch_overlap", "E"), ("setback", "a"), ("spacing", "s")] {
            if asked.plan.roots.iter().any(|known| known.name == root) {
                asked = asked.with(root, number(&self.value[key]) * length);
            }
        }
        if asked.plan.roots.iter().any(|known| known.name == "recess") {
            asked = asked.with("recess", 0.0);
        }
        asked
    }
}

#[test]
fn reactions_closed_half_open_and_open() {
    let rows = rows(STATICS);
    assert_eq!(rows.len(), 18);
    for row in &rows {
        let leaf = Configuration::find(row.text("config"));
        let place = row.id().rsplit('-').next().unwrap();
        for (key, carriage) in [("R_A", "front"), ("R_B", "tail")] {
            row.hold(key, leaf.ask(&format!("{carriage}_reaction_{place}")).value() / leaf.force);
        }
        close(leaf.ask("leaf_weight").value() / leaf.force, row.input("G"), 1e-9, row.id());
    }
    // The larger of all is the one that carriages are chosen by: of the first leaf it is the open tail, not the closed front.
    let governing = |row: &Row| Configuration::find(row.text("config")).ask("largest_reaction");
    let first = governing(&rows[0]).value() / LBF;
    close(first, 1295.75, 0.01, "C1 governing load; the same table");
}

/// Center of gravity, travel where each carriage changes its sign, and the counterweight at the tail end: own closed form
/// of the same sheet (section 3), four decimals, confirmed by its reactions.
#[test]
fn where_reactions_change_their_sign() {
    let table = [
        ("C1_uniform_24ft_50pct", [18.25, 6.75, 16.75, 428.48], 36.5),
        ("C2_two_zone_20ft", [13.1786, 7.8214, 15.8214, 420.71], 30.5),
        ("C3_live_200lb_leading", [14.3253, 10.6747, 20.6747, 863.26], 36.5),
        ("C4_counterweight_tail", [15.0707, 1.6793, 8.6793, 108.31], 24.25),
        ("C5_metric_6m_open", [4.0592, 2.2408, 4.9408, 2024.61], 9.15),
        ("C6_30ft_heavy", [21.4506, 9.5494, 22.5494, 932.55], 45.5),
    ];
    for (name, [centroid, tail, front, weight], length) in table {
        let leaf = Configuration::find(name);
        let feet = |figure: &str| leaf.ask(figure).value() / leaf.length;
        close(feet("leaf_centroid"), centroid, 0.0001, name);
        close(feet("tail_uplift_ends"), tail, 0.0001, name);
        close(feet("front_uplift_begins"), front, 0.0001, name);
        // The weight stands at the tail end, which is where the leaf's length is read.
        let counterweight = leaf.ask("tail_counterweight").with("leaf_length", length * leaf.length);
        close(counterweight.value() / leaf.force, weight, 0.01, &leaf.name);
    }
}

/// Moments along the leaf of the same table (frame programs), foot-pounds.
#[test]
fn moments_along_the_leaf() {
    let table = [
        (
            "C1_uniform_24ft_50pct",
            0.0,
            &[(6.0, 360.0), (12.0, 1440.0), (18.0, 3240.0), (20.0, 4000.0), (25.0, 6250.0)][..],
        ),
        ("C1_uniform_24ft_50pct", 24.5, &[(6.0, 3471.62), (12.0, 6002.50), (18.0, 3422.5)]),
        ("C3_live_200lb_leading", 0.0, &[(25.0, 11_250.0)]),
        ("C6_30ft_heavy", 0.0, &[(31.0, 16_616.0)]),
    ];
    for (name, moved, sections) in table {
        let leaf = Configuration::find(name);
        let asked = leaf.ask("leaf_moment").with("moved", moved * FT);
        for (section, moment) in sections {
            let found = asked.clone().with("section", section * FT).value() / (FT * LBF);
            close(found, *moment, 0.01, name);
        }
    }
    // The largest is that over the front carriage, closed, or over the tail carriage, open.
    let largest = |name: &str| Configuration::find(name).ask("largest_leaf_moment").value() / (FT * LBF);
    close(largest("C6_30ft_heavy"), 16_616.0, 0.01, "C6");
}
