//! The moving leaf: energy by two formulas, stopping by step integration, time, pull and impact by arithmetic.

use super::{Asked, FT, IN, LBF, close, rows};

const MOTION: &str = include_str!("../data/figures/motion.json");

#[test]
fn five_leaves() {
    let rows = rows(MOTION);
    assert_eq!(rows.len(), 5);
    for row in &rows {
        let (weight, speed) = (("weight", row.input("W_lb") * LBF), ("speed", row.input("v_fps") * FT));
        let energy = Asked::own("kinetic_energy").with_all([weight, speed]).value();
        row.hold("KE_J", energy);
        row.hold("KE_ftlbf", energy / (FT * LBF));
        let brake = ("deceleration", row.input("decel_mps2"));
        let stop = Asked::own("stopping_distance").with_all([speed, brake, ("response", row.input("t_react_s"))]);
        row.hold("stop_in", stop.value() / IN);
        let even = [("acceleration", 0.3), ("deceleration", 0.3)];
        let time = Asked::own("travel_time").with("travel", row.input("D_ft") * FT).with_all([speed]).with_all(even);
        row.hold("time_s(a=0.3)", time.value());
        let impact = Asked::own("impact_force").with_all([weight, speed]).with("stiffness", 500e3);
        row.hold("Fpeak_N(k=500N/mm)", impact.value());
        let crush = Asked::own("edge_travel").with("kinetic_energy", energy).with("force_limit", 400.0);
        // The sheet has four decimals of a meter.
        row.hold("crush_m_for_400N_linear", crush.value());
    }
}

/// Pull of the first leaf, closed: 1222.75 and -492.75 lb press on the wheels from both sides (the same sheet, section 8;
/// coefficients quoted there, own arithmetic). Wheel and axle in mm, lever arm by material.
#[test]
fn pull_counts_both_carriages() {
    let table = [
        ("steel", "antifriction", 150.0, 20.0, 0.01033, 17.73, 7.54),
        ("polymer", "antifriction", 100.0, 20.0, 0.0440, 75.48, 32.12),
        ("steel", "plain", 75.0, 15.0, 0.03633, 62.33, 26.52),
    ];
    for (wheels, bearing, wheel, axle, coefficient, pull, on_weight) in table {
        let rolling = Asked::own("rolling_resistance")
            .choose("wheel_material", &[wheels])
            .choose("bearing", &[bearing])
            .with("wheel_diameter", wheel / 1000.0)
            .with("axle_diameter", axle / 1000.0)
            .value();
        close(rolling, coefficient, 0.000_006, wheels);
        let leaf = [
            ("rolling_resistance", rolling),
            ("front_load", 1222.75 * LBF),
            ("tail_load", 492.75 * LBF),
            ("weight", 730.0 * LBF),
            ("acceleration", 0.0),
        ];
        let found = Asked::own("pull_closed").with_all(leaf).value() / LBF;
        close(found, pull, 0.005, wheels);
        // The weight alone would give less than half of it.
        close(rolling * 730.0, on_weight, 0.005, wheels);
    }
}

/// 2 % of grade: 14.60 lb on 730; starting at 0.3 m/s2: 22.33 lb (the same sheet, section 8; own arithmetic).
#[test]
fn pull_on_a_grade_and_to_start() {
    let still = Asked::own("pull_open").with_all([
        ("rolling_resistance", 0.0),
        ("front_load", 0.0),
        ("tail_load", 0.0),
        ("weight", 730.0 * LBF),
    ]);
    let grade = still.clone().with("track_slope", 0.02).with("acceleration", 0.0).value() / LBF;
    close(grade, 14.60, 0.005, "grade");
    close(still.with("acceleration", 0.3).value() / LBF, 22.33, 0.005, "starting");
}

/// With 300 N of drive: 300 + sqrt(300^2 + 500e3 x 331.12 x 0.3048^2) N (formula of the same sheet; own arithmetic: 4233.4).
#[test]
fn impact_with_the_drive_on() {
    let leaf = [("weight", 730.0 * LBF), ("speed", FT), ("stiffness", 500e3), ("drive_force", 300.0)];
    close(Asked::own("impact_force").with_all(leaf).value(), 4233.4, 0.5, "drive on");
}

/// On a travel too short for the speed: v = sqrt(2 D a1 a2 / (a1 + a2)), time v/a1 + v/a2 (the same sheet; own arithmetic):
/// 0.1 m at 0.2 m/s2 both ways: v = 0.1414 m/s, 1.4142 s.
#[test]
fn a_short_travel_never_reaches_its_speed() {
    let asked = Asked::own("travel_time").with_all([("acceleration", 0.2), ("deceleration", 0.2)]);
    close(asked.with("travel", 0.1).with("speed", 0.5).value(), 2.0_f64.sqrt(), 0.0001, "short travel");
}
