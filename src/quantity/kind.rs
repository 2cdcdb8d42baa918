//! The kinds of measured value that the vocabulary knows.

use super::Dimension;

/// What a field measures; decides which units it takes and how it is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum QuantityKind {
    /// `24 ft`, `5'-6 1/2"`, `7.3 m`
    Length,
    /// `in2`, `ft2`, `mm2`, `m2`
    Area,
    /// `lb`, `lbf`, `kip`, `N`, `kN`, and `kg` times standard gravity
    Weight,
    /// As weight without `kg`
    Force,
    /// `psi`, `ksi`, `psf`, `Pa`, `kPa`, `MPa`
    Pressure,
    /// `lb/ft`, `plf`, `N/m`, `kg/m`
    LineLoad,
    /// `psf/ft`, `pcf`, `kPa/m`
    SoilGradient,
    /// `mph`, `ft/s`, `in/s`, `ft/min`, `m/s`
    Speed,
    /// `ft/s2`, `m/s2`
    Acceleration,
    /// `ms`, `s`, `min`, `months`, `years`
    Time,
    /// `deg`
    Angle,
    /// `40 %`, `0.4`
    Ratio,
    /// `2 %`, `1:50`, `1/4 in per ft`
    Slope,
    /// A whole number
    Count,
    /// `lb-ft`, `kip-ft`, `lb-in`, `N-m`, `kN-m`; an energy is written alike, or in `J`
    Moment,
    /// `in3`, `yd3`, `mm3`, `cm3`, `m3`; a section modulus is written alike
    Volume,
    /// Moment of inertia of a section: `in4`, `mm4`, `cm4`
    Inertia,
}

impl QuantityKind {
    /// Every kind with the name that `x-kind` gives it in the schema.
    pub const ALL: [(QuantityKind, &'static str); 17] = [
        (QuantityKind::Length, "length"),
        (QuantityKind::Area, "area"),
        (QuantityKind::Weight, "weight"),
        (QuantityKind::Force, "force"),
        (QuantityKind::Pressure, "pressure"),
        (QuantityKind::LineLoad, "line load"),
        (QuantityKind::SoilGradient, "soil gradient"),
        (QuantityKind::Speed, "speed"),
        (QuantityKind::Acceleration, "acceleration"),
        (QuantityKind::Time, "time"),
        (QuantityKind::Angle, "angle"),
        (QuantityKind::Ratio, "ratio"),
        (QuantityKind::Slope, "slope"),
        (QuantityKind::Count, "count"),
        (QuantityKind::Moment, "moment"),
        (QuantityKind::Volume, "volume"),
        (QuantityKind::Inertia, "moment of inertia"),
    ];

    /// The kind that a schema's `x-kind` names.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, known)| *known == name).map(|(kind, _)| *kind)
    }

    /// Its name in the schema and in messages.
    pub fn name(self) -> &'static str {
        Self::ALL.iter().find(|(kind, _)| *kind == self).map_or("quantity", |(_, name)| name)
    }

    /// Its dimension.
    pub fn dimension(self) -> Dimension {
        match self {
            QuantityKind::Length => Dimension::LENGTH,
            QuantityKind::Area => Dimension::AREA,
            QuantityKind::Weight | QuantityKind::Force => Dimension::FORCE,
            QuantityKind::Pressure => Dimension::PRESSURE,
            QuantityKind::LineLoad => Dimension::LINE_LOAD,
            QuantityKind::SoilGradient => Dimension::SOIL_GRADIENT,
            QuantityKind::Speed => Dimension::SPEED,
            QuantityKind::Acceleration => Dimension::ACCELERATION,
            QuantityKind::Time => Dimension::TIME,
            QuantityKind::Angle => Dimension::ANGLE,
            QuantityKind::Ratio | QuantityKind::Slope | QuantityKind::Count => Dimension::NONE,
            QuantityKind::Moment => Dimension::MOMENT,
            QuantityKind::Volume => Dimension::VOLUME,
            QuantityKind::Inertia => Dimension::INERTIA,
        }
    }
}
