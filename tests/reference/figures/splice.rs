//! The worst moment at a joint against a scan of 20,001 places of the travel.

use super::statics::Configuration;
use super::{FT, IN, LBF, close, rows};

const SPLICE: &str = include_str!("../data/figures/splice.json");

#[test]
fn the_worst_moment_at_twenty_joints() {
    let rows = rows(SPLICE);
    assert_eq!(rows.len(), 20);
    for row in &rows {
        let leaf = Configuration::find(row.text("config"));
        let found = leaf.ask("splice_moment").with("at", row.input("u") * leaf.length).value();
        row.hold("max_hogging", found / (leaf.length * leaf.force));
    }
}

/// 20 lb/ft, joint at 12 ft, chords 5.5 ft apart: 1440 lb-ft and 261.8 lb closed, 3840 and 698.2 with 200 lb at the leading
/// edge (the same sheet, section 9; own arithmetic). Closed, the leaf before the joint hangs on it.
#[test]
fn the_force_in_a_chord_at_a_joint() {
    for (name, moment, chord) in [("C1_uniform_24ft_50pct", 1440.0, 261.8), ("C3_live_200lb_leading", 3840.0, 698.2)] {
        let leaf = Configuration::find(name);
        let found = leaf.ask("leaf_moment").with("moved", 0.0).with("section", 12.0 * FT).value();
        close(found / (FT * LBF), moment, 0.01, name);
        let force = super::Asked::own("splice_force").with("moment", found).with("chord_distance", 66.0 * IN).value();
        close(force / LBF, chord, 0.05, name);
    }
}
