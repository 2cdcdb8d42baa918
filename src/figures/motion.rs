//! The moving leaf: energy, stopping, time, pull, impact.

use super::figure::{Constant, Figure, Input, InputKind, NoValue, Of, Source, Work, not_valid};
use super::inputs::{SPEED, TRAVEL, WEIGHT};
use super::point::Point;
use super::statics;
use crate::quantity::{
    Dimension,
    QuantityKind::{Acceleration, Force, Length, LineLoad, Ratio, Slope, Time},
};

const RESPONSE: Input =
    Input::of("response", Time, "from sensing to the beginning of braking", &["gate.operator.response"]);
const DECELERATION: Input =
    Input::of("deceleration", Acceleration, "braking of the leaf", &["gate.operator.deceleration"]);
const ACCELERATION: Input =
    Input::of("acceleration", Acceleration, "starting of the leaf", &["gate.operator.acceleration"]);

/// Standard gravity turns a weight into a mass.
const GRAVITY: Constant = Constant {
    value: 9.80665,
    dimension: Dimension::ACCELERATION,
    source: "standard gravity, 9.80665 m/s2 (3rd CGPM, 1901)",
};

const PLAIN: Figure = Figure {
    source: "mechanics (own arithmetic)",
    validity: "the leaf alone; what is measured on site overrides it",
    ..Figure::blank(Of::Gate, Dimension::FORCE)
};

/// Kinetic energy of the leaf.
pub static KINETIC_ENERGY: Figure = Figure {
    name: "kinetic_energy",
    title: "kinetic energy of the moving leaf",
    inputs: &[WEIGHT, SPEED],
    constants: &[GRAVITY],
    output: Dimension::MOMENT,
    formula: "weight speed^2 / (2 g)",
    source: "mechanics; confirmed by two formulas",
    validity: "the leaf alone; the drive adds its own",
    work: Work::Point(|point| {
        let [weight, speed] = point.numbers();
        Ok(weight * speed * speed / (2.0 * point.constant(0)))
    }),
    ..PLAIN
};

/// Way from sensing to standstill.
pub static STOPPING_DISTANCE: Figure = Figure {
    name: "stopping_distance",
    title: "travel from sensing to standstill",
    inputs: &[SPEED, RESPONSE, DECELERATION],
    output: Dimension::LENGTH,
    formula: "speed response + speed^2 / (2 deceleration)",
    source: "mechanics; confirmed by step integration",
    validity: "even braking; what is measured on site overrides it",
    work: Work::Point(|point| {
        let [speed, response, brake] = point.numbers();
        if brake <= 0.0 {
            return not_valid("`deceleration` can be zero");
        }
        Ok(speed * response + speed * speed / (2.0 * brake))
    }),
    ..PLAIN
};

/// Time from closed to open.
pub static TRAVEL_TIME: Figure = Figure {
    name: "travel_time",
    title: "time from closed to open",
    inputs: &[TRAVEL, SPEED, ACCELERATION, DECELERATION],
    output: Dimension::TIME,
    formula: "travel/speed + speed/(2 acceleration) + speed/(2 deceleration); on a short travel the speed is not reached",
    validity: "even starting and braking",
    work: Work::Point(|point| {
        let [travel, speed, start, brake] = point.numbers();
        if speed <= 0.0 || start <= 0.0 || brake <= 0.0 {
            return not_valid("speed, acceleration and deceleration are more than zero");
        }
        let ramps = speed * speed / (2.0 * start) + speed * speed / (2.0 * brake);
        if ramps <= travel {
            return Ok(travel / speed + speed / (2.0 * start) + speed / (2.0 * brake));
        }
        let peak = (2.0 * travel * start * brake / (start + brake)).sqrt();
        Ok(peak / start + peak / brake)
    }),
    ..PLAIN
};

/// Wheels, by what they are made of.
const WHEEL_MATERIALS: [&str; 3] = ["steel", "polymer", "rubber"];
/// Bearings of the wheels.
const BEARINGS: [&str; 2] = ["antifriction", "plain"];

const fn coefficient(value: f64, dimension: Dimension, source: &'static str) -> Constant {
    Constant { value, dimension, source }
}

/// Lever arms of rolling by material, then bearing friction and flange friction by bearing.
const ROLLING_COEFFICIENTS: [Constant; 7] = [
    coefficient(
        0.0005,
        Dimension::LENGTH,
        "lever arm of rolling 0.5 mm, steel on steel (published drive-engineering table, read)",
    ),
    coefficient(0.002, Dimension::LENGTH, "lever arm of rolling 2 mm, polymer on steel (the same table)"),
    coefficient(0.007, Dimension::LENGTH, "lever arm of rolling 7 mm, hard rubber on steel (the same table)"),
    coefficient(0.005, Dimension::NONE, "friction 0.005 of antifriction bearings (the same table)"),
    coefficient(0.09, Dimension::NONE, "friction 0.09 of plain bearings, middle of 0.08 to 0.10 (the same table)"),
    coefficient(0.003, Dimension::NONE, "flange friction 0.003 with antifriction bearings (the same table)"),
    coefficient(0.005, Dimension::NONE, "flange friction 0.005 with plain bearings (the same table)"),
];

/// Rolling resistance over wheel load.
pub static ROLLING_RESISTANCE: Figure = Figure {
    name: "rolling_resistance",
    title: "rolling resistance over the load of the wheels",
    inputs: &[
        Input::any(
            "wheel_material",
            InputKind::Choice(&WHEEL_MATERIALS),
            "material of the wheels",
            &["gate.carriages.wheel_material"],
        ),
        Input::any("bearing", InputKind::Choice(&BEARINGS), "bearings of the wheels", &["gate.carriages.bearing"]),
        Input::of("wheel_diameter", Length, "diameter of a wheel", &["gate.carriages.wheel_diameter"]),
        Input::of("axle_diameter", Length, "diameter of its axle", &["gate.carriages.axle_diameter"]),
    ],
    constants: &ROLLING_COEFFICIENTS,
    output: Dimension::NONE,
    formula: "(2 / wheel_diameter) (lever arm of the wheel_material + friction of the bearing x axle_diameter / 2) + flange friction",
    source: "published drive-engineering handbook (read); coefficients as stated",
    validity: "clean level track, sound wheels; dirt and ice add to it",
    work: Work::Point(|point| {
        let lever = point.constant(point.choice(0).min(2));
        let bearing = point.choice(1).min(1);
        let (friction, flange) = (point.constant(3 + bearing), point.constant(5 + bearing));
        let [wheel, axle] = [point.number(2), point.number(3)];
        if wheel <= 0.0 {
            return not_valid("`wheel_diameter` can be zero");
        }
        Ok(2.0 / wheel * (lever + friction * axle / 2.0) + flange)
    }),
    ..PLAIN
};

/// Nobody hangs on the leading edge of a leaf that starts to close; one who hangs on a closed one adds to its load.
static FRONT_CLOSED: Figure = load_of("front_load_closed", "front carriage closed", &statics::FRONT_REACTION_CLOSED);
static TAIL_CLOSED: Figure = load_of("tail_load_closed", "tail carriage closed", &statics::TAIL_REACTION_CLOSED);
static FRONT_OPEN: Figure = load_of("front_load_open", "front carriage open", &statics::FRONT_REACTION_OPEN_UNLOADED);
static TAIL_OPEN: Figure = load_of("tail_load_open", "tail carriage open", &statics::TAIL_REACTION_OPEN_UNLOADED);

/// What presses on the wheels of a carriage, up or down.
const fn load_of(name: &'static str, title: &'static str, figure: &'static Figure) -> Figure {
    Figure {
        name,
        title,
        formula: "the reaction without its sign",
        source: "an uplifted carriage presses its wheels against the upper side of the track",
        validity: "as the reaction",
        work: Work::Magnitude(figure),
        ..PLAIN
    }
}

const FRONT: Input = Input::figure("front_load", Force, "load on the front wheels, up or down", &FRONT_CLOSED);
const TAIL: Input = Input::figure("tail_load", Force, "load on the tail wheels, up or down", &TAIL_CLOSED);
const ROLLING: Input = Input::figure("rolling_resistance", Ratio, "rolling resistance over load", &ROLLING_RESISTANCE);
const GRADE: Input = Input::of("track_slope", Slope, "slope of the track along the travel", &[]).assumed(0.0, "level");
const ALONG: Input = Input::of("wind_along", Force, "wind on the edge of the leaf", &[]).assumed(0.0, "0 lb");

fn pull(point: &Point<'_>) -> Result<f64, NoValue> {
    let [rolling, front, tail, weight, start, grade, wind] = point.numbers();
    let climb = grade / grade.hypot(1.0);
    Ok(rolling * (front + tail) + weight * climb + weight * start / point.constant(0) + wind)
}

const PULL: Figure = Figure {
    constants: &[GRAVITY],
    formula: "rolling_resistance (front_load + tail_load) + weight sin(track_slope) + weight acceleration / g + wind_along",
    source: "mechanics; the loads of both carriages count, up or down, and not the weight alone",
    validity: "the leaf in motion without wind across it; seals, debris and ice add to it",
    work: Work::Point(pull),
    ..PLAIN
};

/// Pull to start the closed leaf.
pub static PULL_CLOSED: Figure = Figure {
    name: "pull_closed",
    title: "pull that starts the closed leaf",
    inputs: &[ROLLING, FRONT, TAIL, WEIGHT, ACCELERATION, GRADE, ALONG],
    ..PULL
};

/// Pull to start the open leaf.
pub static PULL_OPEN: Figure = Figure {
    name: "pull_open",
    title: "pull that starts the open leaf",
    inputs: &[
        ROLLING,
        Input { source: Source::Figure(&FRONT_OPEN), ..FRONT },
        Input { source: Source::Figure(&TAIL_OPEN), ..TAIL },
        WEIGHT,
        ACCELERATION,
        GRADE,
        ALONG,
    ],
    ..PULL
};

/// Pull that the operator needs.
pub static PULL_NEEDED: Figure = Figure {
    name: "pull_needed",
    title: "pull that the operator needs, the larger of both ends of the travel",
    constants: &[],
    formula: "the larger of pull_closed and pull_open",
    work: Work::Largest(&[&PULL_CLOSED, &PULL_OPEN]),
    ..PULL
};

/// Peak force of an impact on a spring.
pub static IMPACT_FORCE: Figure = Figure {
    name: "impact_force",
    title: "peak force of the leaf against a spring",
    inputs: &[
        WEIGHT,
        SPEED,
        Input::of("stiffness", LineLoad, "force per length that the spring yields; 500 N/mm is 500 kN/m", &[]),
        Input::of("drive_force", Force, "what the drive still pushes", &[]).assumed(0.0, "0 lb"),
    ],
    constants: &[GRAVITY],
    formula: "drive_force + sqrt(drive_force^2 + stiffness speed^2 weight / g)",
    validity: "the whole leaf as one mass on a spring; a measured force overrides it",
    work: Work::Point(|point| {
        let [weight, speed, stiffness, drive] = point.numbers();
        Ok(drive + (drive * drive + stiffness * speed * speed * weight / point.constant(0)).sqrt())
    }),
    ..PLAIN
};

/// How far a contact edge must yield.
pub static EDGE_TRAVEL: Figure = Figure {
    name: "edge_travel",
    title: "how far a contact edge must yield to stop the leaf at a force",
    inputs: &[
        Input::figure(
            "kinetic_energy",
            crate::quantity::QuantityKind::Moment,
            "kinetic energy of the leaf",
            &KINETIC_ENERGY,
        ),
        Input::of("force_limit", Force, "largest force of the edge", &[]),
    ],
    output: Dimension::LENGTH,
    formula: "2 kinetic_energy / force_limit",
    validity: "an edge whose force rises evenly, drive off; one of even force needs half of it",
    work: Work::Point(|point| {
        let [energy, limit] = point.numbers();
        if limit > 0.0 { Ok(2.0 * energy / limit) } else { not_valid("`force_limit` can be zero") }
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 9] = [
    &KINETIC_ENERGY,
    &STOPPING_DISTANCE,
    &TRAVEL_TIME,
    &ROLLING_RESISTANCE,
    &PULL_CLOSED,
    &PULL_OPEN,
    &PULL_NEEDED,
    &IMPACT_FORCE,
    &EDGE_TRAVEL,
];
