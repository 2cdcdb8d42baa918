//! Dimensions: exponents over length, force, time and angle.
//!
//! Force, not mass, is the base: a drawing's `lb` is a force everywhere here, and `kg` is read as kg times standard
//! gravity (see `unit`). Ratio, percent, slope and count have no dimension.

use std::fmt;

/// Exponents of the base dimensions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Dimension {
    /// Exponent of length.
    pub length: i8,
    /// Exponent of force.
    pub force: i8,
    /// Exponent of time.
    pub time: i8,
    /// Exponent of angle.
    pub angle: i8,
}

impl Dimension {
    /// A plain number.
    pub const NONE: Dimension = Dimension { length: 0, force: 0, time: 0, angle: 0 };
    /// A length.
    pub const LENGTH: Dimension = Dimension { length: 1, ..Dimension::NONE };
    /// A force, which a weight is too.
    pub const FORCE: Dimension = Dimension { force: 1, ..Dimension::NONE };
    /// A time.
    pub const TIME: Dimension = Dimension { time: 1, ..Dimension::NONE };
    /// An angle, which has a dimension of its own so that a bare number is never one.
    pub const ANGLE: Dimension = Dimension { angle: 1, ..Dimension::NONE };
    /// An area.
    pub const AREA: Dimension = Dimension { length: 2, ..Dimension::NONE };
    /// A pressure: force over area.
    pub const PRESSURE: Dimension = Dimension { length: -2, force: 1, ..Dimension::NONE };
    /// A line load: force over length.
    pub const LINE_LOAD: Dimension = Dimension { length: -1, force: 1, ..Dimension::NONE };
    /// A soil gradient: pressure over depth.
    pub const SOIL_GRADIENT: Dimension = Dimension { length: -3, force: 1, ..Dimension::NONE };
    /// A moment or an energy: force times length.
    pub const MOMENT: Dimension = Dimension { length: 1, force: 1, ..Dimension::NONE };
    /// A volume, or a section modulus.
    pub const VOLUME: Dimension = Dimension { length: 3, ..Dimension::NONE };
    /// Moment of inertia of a section.
    pub const INERTIA: Dimension = Dimension { length: 4, ..Dimension::NONE };
    /// A speed.
    pub const SPEED: Dimension = Dimension { length: 1, time: -1, ..Dimension::NONE };
    /// An acceleration.
    pub const ACCELERATION: Dimension = Dimension { length: 1, time: -2, ..Dimension::NONE };

    /// Dimension of a product.
    pub fn times(self, other: Dimension) -> Dimension {
        self.combine(other, i8::saturating_add)
    }

    /// Dimension of a quotient.
    pub fn over(self, other: Dimension) -> Dimension {
        self.combine(other, i8::saturating_sub)
    }

    /// Whether it is a plain number.
    pub fn is_none(self) -> bool {
        self == Dimension::NONE
    }

    fn combine(self, other: Dimension, with: fn(i8, i8) -> i8) -> Dimension {
        Dimension {
            length: with(self.length, other.length),
            force: with(self.force, other.force),
            time: with(self.time, other.time),
            angle: with(self.angle, other.angle),
        }
    }
}

/// In words, with the article: `a length`, `a pressure`, `a plain number`, `length2 x force`.
impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let named = [
            (Dimension::NONE, "a plain number"),
            (Dimension::LENGTH, "a length"),
            (Dimension::FORCE, "a force"),
            (Dimension::TIME, "a time"),
            (Dimension::ANGLE, "an angle"),
            (Dimension::AREA, "an area"),
            (Dimension::PRESSURE, "a pressure"),
            (Dimension::LINE_LOAD, "a line load"),
            (Dimension::SOIL_GRADIENT, "a soil gradient"),
            (Dimension::SPEED, "a speed"),
            (Dimension::ACCELERATION, "an acceleration"),
            (Dimension::MOMENT, "a moment"),
            (Dimension::VOLUME, "a volume"),
            (Dimension::INERTIA, "a moment of inertia"),
        ];
        if let Some((_, name)) = named.iter().find(|(dimension, _)| dimension == self) {
            return f.write_str(name);
        }
        let parts = [("length", self.length), ("force", self.force), ("time", self.time), ("angle", self.angle)];
        let mut separator = "";
        for (name, exponent) in parts.into_iter().filter(|(_, exponent)| *exponent != 0) {
            write!(f, "{separator}{name}")?;
            if exponent != 1 {
                write!(f, "^{exponent}")?;
            }
            separator = " x ";
        }
        Ok(())
    }
}
