//! What the soil bears: stated, or the presumptive value of its class.

use super::figure::{Constant, Figure, Input, InputKind, Of, Work, not_valid};
use crate::quantity::{
    Dimension, FOOT, POUND,
    QuantityKind::{Pressure, SoilGradient},
};

const CLASSES: [&str; 8] =
    ["crystalline_bedrock", "sedimentary_rock", "sandy_gravel", "sand", "clay", "fill", "peat", "organic"];
/// Vertical (psf) and lateral (psf/ft) bearing of IBC table 1806.2; the last three classes have none.
const PRESUMPTIVE: [(f64, f64); 5] =
    [(12_000.0, 1_200.0), (4_000.0, 400.0), (3_000.0, 200.0), (2_000.0, 150.0), (1_500.0, 100.0)];

const CLASS: Input =
    Input::any("class", InputKind::Choice(&CLASSES), "soil at the posts", &["site.soil.class"]).optional();
const PSF_PER_FT: Constant = Constant {
    value: POUND / (FOOT * FOOT * FOOT),
    dimension: Dimension::SOIL_GRADIENT,
    source: "presumptive lateral bearing by class: 1200, 400, 200, 150, 100 psf/ft (IBC table 1806.2; gravel, sand and clay quoted, rock \
             from memory)",
};
const PSF: Constant = Constant {
    value: POUND / (FOOT * FOOT),
    dimension: Dimension::PRESSURE,
    source: "presumptive vertical bearing by class: 12000, 4000, 3000, 2000, 1500 psf (IBC table 1806.2; gravel, sand and clay quoted, \
             rock from memory)",
};

const PLAIN: Figure = Figure {
    source: "IBC table 1806.2 (quoted, rock from memory) where no value is stated",
    validity: "natural, drained, level ground; fill, peat and organic soil have no presumptive value",
    ..Figure::blank(Of::Gate, Dimension::NONE)
};

/// Lateral bearing to reckon with.
pub static LATERAL_BEARING: Figure = Figure {
    name: "soil_lateral_bearing",
    title: "lateral bearing per depth to reckon with",
    inputs: &[
        Input::of(
            "stated_lateral",
            SoilGradient,
            "lateral bearing as stated, before any doubling",
            &["site.soil.lateral_bearing"],
        )
        .optional(),
        CLASS,
        Input::any("doubled", InputKind::YesNo, "whether the design doubles it", &["site.soil.doubled"]).optional(),
        Input::any("doubled_because", InputKind::Stated, "the reason for that", &["site.soil.doubled_because"])
            .optional(),
    ],
    constants: &[PSF_PER_FT],
    output: Dimension::SOIL_GRADIENT,
    formula: "stated_lateral, else the presumptive value of class; doubled where the submittal claims it and gives a reason \
              (doubled_because)",
    source: "IBC table 1806.2 and section 1806.3.4 (quoted) where no value is stated",
    validity: "the doubling is for isolated poles that may move 1/2 in at grade; whether a gate post is one, the authority decides. An \
               increase by one third is not taken",
    work: Work::Point(|point| {
        let doubling = if point.yes(2) && point.yes(3) { 2.0 } else { 1.0 };
        if let Some(stated) = point.given(0) {
            return Ok(doubling * stated);
        }
        let Some(_) = point.given(1) else { return Err(super::figure::NoValue::Lacking(&["stated_lateral"])) };
        match PRESUMPTIVE.get(point.choice(1)) {
            Some((_, lateral)) => Ok(doubling * lateral * point.constant(0)),
            None => not_valid("this soil has no presumptive value; a soil report must give one"),
        }
    }),
    ..PLAIN
};

/// Vertical bearing to reckon with.
pub static VERTICAL_BEARING: Figure = Figure {
    name: "soil_vertical_bearing",
    title: "vertical bearing to reckon with",
    inputs: &[
        Input::of("stated_vertical", Pressure, "vertical bearing as stated", &["site.soil.vertical_bearing"])
            .optional(),
        CLASS,
    ],
    constants: &[PSF],
    output: Dimension::PRESSURE,
    formula: "stated_vertical, else the presumptive value of class",
    work: Work::Point(|point| {
        if let Some(stated) = point.given(0) {
            return Ok(stated);
        }
        let Some(_) = point.given(1) else { return Err(super::figure::NoValue::Lacking(&["stated_vertical"])) };
        match PRESUMPTIVE.get(point.choice(1)) {
            Some((vertical, _)) => Ok(vertical * point.constant(0)),
            None => not_valid("this soil has no presumptive value; a soil report must give one"),
        }
    }),
    ..PLAIN
};

/// Every figure of this subject.
pub static ALL: [&Figure; 2] = [&LATERAL_BEARING, &VERTICAL_BEARING];
