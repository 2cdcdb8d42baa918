//! The moving leaf: energy, stopping, time.

use super::figure::{Constant, Figure, Input, Of};
use crate::quantity::{
    Dimension,
    QuantityKind::{Acceleration, Length, Speed, Time, Weight},
};

const WEIGHT: Input = Input::of("weight", Weight, "weight of the leaf", Some("gate.leaf.weight"));
const SPEED: Input = Input::of("speed", Speed, "speed of the leaf", Some("gate.operator.speed"));
const RESPONSE: Input =
    Input::of("response", Time, "from sensing to the beginning of braking", Some("gate.operator.response"));
const DECELERATION: Input =
    Input::of("deceleration", Acceleration, "braking of the leaf", Some("gate.operator.deceleration"));
const ACCELERATION: Input =
    Input::of("acceleration", Acceleration, "starting of the leaf", Some("gate.operator.acceleration"));
const TRAVEL: Input = Input::of("travel", Length, "travel from closed to open", None);

/// Standard gravity turns a weight into a mass.
const GRAVITY: Constant = Constant {
    value: 9.80665,
    dimension: Dimension::ACCELERATION,
    source: "standard gravity, 9.80665 m/s2 (3rd CGPM, 1901)",
};

/// Kinetic energy of the leaf.
pub static KINETIC_ENERGY: Figure = Figure {
    name: "kinetic_energy",
    title: "kinetic energy of the moving leaf",
    of: Of::Gate,
    inputs: &[WEIGHT, SPEED],
    constants: &[GRAVITY],
    output: Dimension { length: 1, force: 1, ..Dimension::NONE },
    formula: "weight speed^2 / (2 g)",
    source: "mechanics; confirmed by two formulas",
    validity: "the leaf alone; the drive adds its own",
    point: |inputs, constants| Ok(inputs[0] * inputs[1] * inputs[1] / (2.0 * constants[0])),
};

/// Way from sensing to standstill.
pub static STOPPING_DISTANCE: Figure = Figure {
    name: "stopping_distance",
    title: "travel from sensing to standstill",
    of: Of::Gate,
    inputs: &[SPEED, RESPONSE, DECELERATION],
    constants: &[],
    output: Dimension::LENGTH,
    formula: "speed response + speed^2 / (2 deceleration)",
    source: "mechanics; confirmed by step integration",
    validity: "even braking; what is measured on site overrides it",
    point: |inputs, _| {
        if inputs[2] <= 0.0 {
            return Err("`deceleration` can be zero".to_owned());
        }
        Ok(inputs[0] * inputs[1] + inputs[0] * inputs[0] / (2.0 * inputs[2]))
    },
};

/// Time from closed to open.
pub static TRAVEL_TIME: Figure = Figure {
    name: "travel_time",
    title: "time from closed to open",
    of: Of::Gate,
    inputs: &[TRAVEL, SPEED, ACCELERATION, DECELERATION],
    constants: &[],
    output: Dimension::TIME,
    formula: "travel/speed + speed/(2 acceleration) + speed/(2 deceleration); on a short travel the speed is not reached",
    source: "mechanics (own arithmetic)",
    validity: "even starting and braking",
    point: |inputs, _| {
        let [travel, speed, start, brake] = [inputs[0], inputs[1], inputs[2], inputs[3]];
        if speed <= 0.0 || start <= 0.0 || brake <= 0.0 {
            return Err("speed, acceleration and deceleration are more than zero".to_owned());
        }
        let ramps = speed * speed / (2.0 * start) + speed * speed / (2.0 * brake);
        if ramps <= travel {
            return Ok(travel / speed + speed / (2.0 * start) + speed / (2.0 * brake));
        }
        let peak = (2.0 * travel * start * brake / (start + brake)).sqrt();
        Ok(peak / start + peak / brake)
    },
};
