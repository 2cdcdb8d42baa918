//! Wind on the posts: the leaf in plan as a beam on its two carriages, or closed and latched on the front carriage and
//! the latch post. Allowable level.
//!
//! Three cases, one figure for each: closed and latched, closed and free (the latch end holds nothing), parked open with
//! the whole leaf on the two carriages. A post takes its share by its role; a latch post takes the latched one. Two equal
//! leaves that meet hold each other by nothing at grade: latched they are as free. The wind on a solid leaf acts off its
//! middle, case B of ASCE 7 fig. 29.3-1: toward whichever side is the worse one for that carriage or post.

use super::figure::{Figure, Input, InputKind, NoValue, Of, Work, not_valid};
use super::inputs::{OPENING, OVERLAP, SPACING};
use super::point::Point;
use super::statics::{FRONT_CLOSED, FRONT_OPEN};
use super::wind::WIND_HEIGHT;
use super::wind_force::{
    WIND_CENTER_OPEN, WIND_ECCENTRICITY_CLOSED, WIND_ECCENTRICITY_OPEN, WIND_FORCE_CLOSED_ALLOWABLE,
    WIND_FORCE_OPEN_ALLOWABLE,
};
use crate::quantity::{
    Dimension,
    QuantityKind::{Force, Length},
};

/// What a post does. A latch post has no role of its own in a submittal: it is told by its list.
pub(super) const ROLES: [&str; 3] = ["fulcrum", "tail", "latch"];
pub(super) const FULCRUM: usize = 0;
pub(super) const TAIL: usize = 1;
pub(super) const LATCH: usize = 2;
pub(super) const ROLE: Input = Input::any("role", InputKind::Choice(&ROLES), "what the post does", &["post.role"]);

/// The cases, in the order in which `site.wind.cases` names them.
pub(super) const CASES: [&str; 3] = ["closed_latched", "closed_free", "open_parked"];
pub(super) const CLAIMED: Input =
    Input::any("cases", InputKind::Choices(&CASES), "cases that the posts are claimed for", &["site.wind.cases"])
        .optional();

const CLOSED_FORCE: Input =
    Input::figure("wind_force", Force, "wind on the closed leaf, allowable level", &WIND_FORCE_CLOSED_ALLOWABLE);
const OPEN_FORCE: Input =
    Input::figure("wind_force", Force, "wind on the open leaf, allowable level", &OPEN_FORCE_SPAN);
const CENTER_OPEN: Input =
    Input::figure("wind_center", Length, "leading edge to the wind force, open", &CENTER_OPEN_SPAN);

const OFF_CLOSED: Input = Input::figure(
    "eccentricity",
    Length,
    "how far off the middle the wind acts on the closed leaf",
    &WIND_ECCENTRICITY_CLOSED,
);
const OFF_OPEN: Input =
    Input::figure("eccentricity", Length, "how far off its center the wind acts on the open leaf", &OFF_OPEN_SPAN);

const FREE: &str = "two carriages that hold the leaf sideways; nothing else touches it; a solid leaf by case B of ASCE 7 fig. 29.3-1, \
                    the worse side; case C is not covered";

const PLAIN: Figure = Figure { source: "statics in plan", validity: FREE, ..Figure::blank(Of::Gate, Dimension::FORCE) };

/// Force and place of the wind on the open leaf are taken as ranges of their own: where the least pressure governs one part
/// of the leaf and not the other, a share does not follow the wind evenly.
static OPEN_FORCE_SPAN: Figure = Figure {
    name: "wind_force_open_allowable",
    title: "wind force on the open leaf, allowable level",
    formula: "the wind force on the open leaf",
    work: Work::Largest(&[&WIND_FORCE_OPEN_ALLOWABLE]),
    ..PLAIN
};
static CENTER_OPEN_SPAN: Figure = Figure {
    name: "wind_center_open",
    title: "leading edge to the wind force on the open leaf",
    output: Dimension::LENGTH,
    formula: "the place of the wind force on the open leaf",
    work: Work::Largest(&[&WIND_CENTER_OPEN]),
    ..PLAIN
};
static OFF_OPEN_SPAN: Figure = Figure {
    name: "wind_eccentricity_open",
    title: "how far off its center the wind can act on the open leaf, to either side",
    output: Dimension::LENGTH,
    formula: "the eccentricity of the wind on the open leaf",
    work: Work::Largest(&[&WIND_ECCENTRICITY_OPEN]),
    ..PLAIN
};

fn spaced(spacing: f64) -> Result<f64, NoValue> {
    if spacing > 0.0 { Ok(spacing) } else { not_valid("`spacing` can be zero") }
}

const PARTNERS: [&str; 2] = ["latch_post", "leaf"];
const LEAF: usize = 1;
const MEETS: Input =
    Input::any("meets", InputKind::Choice(&PARTNERS), "what the leading edge closes against", &["gate.meets"])
        .optional();

const LATCHED: Figure = Figure {
    inputs: &[CLOSED_FORCE, OPENING, OVERLAP, FRONT_CLOSED, SPACING.optional(), OFF_CLOSED, MEETS],
    validity: "a latch post holds the leading edge sideways; equal leaves that meet, in equal wind, hold each other by nothing and \
               take what they take free; a solid leaf by case B of ASCE 7 fig. 29.3-1, the worse side; case C is not covered",
    ..PLAIN
};

fn meets_leaf(point: &Point<'_>) -> bool {
    point.given(6).is_some() && point.choice(6) == LEAF
}

/// The shares of the front and the tail carriage of a closed leaf that nothing holds at its leading edge; the spacing is needed for them.
fn free_shares(point: &Point<'_>) -> Result<[f64; 2], NoValue> {
    let [force, opening, overlap, front] = point.numbers();
    let spacing = spaced(point.given(4).ok_or(NoValue::Lacking(&["spacing"]))?)?;
    // Nearer to the leading edge is worse for both.
    let at = (opening + overlap) / 2.0 - point.number(5);
    Ok([force * (front + spacing - at) / spacing, force * (at - front) / spacing])
}

/// The part of the wind that the front carriage takes of a leaf held at its leading edge, the force that far behind the middle.
fn latched_part(point: &Point<'_>, behind: f64) -> Result<f64, NoValue> {
    let [_, opening, overlap, front] = point.numbers();
    if front <= 0.0 {
        return not_valid("the front carriage stands at the leading edge");
    }
    Ok(((opening + overlap) / 2.0 + behind) / front)
}

/// Front carriage, closed and latched.
pub static FRONT_LATERAL_LATCHED: Figure = Figure {
    name: "front_lateral_latched",
    title: "wind on the front carriage, closed and latched, allowable level",
    formula: "wind_force ((opening + latch_overlap) / 2 + eccentricity) / front_closed, the tail carriage left out; where it meets a leaf, \
              as free: wind_force (front_closed + spacing - (opening + latch_overlap) / 2 + eccentricity) / spacing",
    work: Work::Point(|point| match meets_leaf(point) {
        true => Ok(free_shares(point)?[0]),
        false => Ok(point.number(0) * latched_part(point, point.number(5))?),
    }),
    ..LATCHED
};

/// Tail carriage, closed and latched.
pub static TAIL_LATERAL_LATCHED: Figure = Figure {
    name: "tail_lateral_latched",
    title: "wind on the tail carriage, closed and latched, allowable level; negative: against the wind",
    formula: "nothing; where it meets a leaf, as free: wind_force ((opening + latch_overlap) / 2 - eccentricity - front_closed) / spacing",
    work: Work::Point(|point| if meets_leaf(point) { Ok(free_shares(point)?[1]) } else { Ok(0.0) }),
    ..LATCHED
};

/// Latch post, closed and latched.
pub static LATCH_LATERAL: Figure = Figure {
    name: "latch_lateral",
    title: "wind on the latch post, closed and latched, allowable level",
    formula: "wind_force (1 - ((opening + latch_overlap) / 2 - eccentricity) / front_closed); nothing where it meets a leaf",
    work: Work::Point(|point| match meets_leaf(point) {
        true => Ok(0.0),
        false => Ok(point.number(0) * (1.0 - latched_part(point, -point.number(5))?)),
    }),
    ..LATCHED
};

/// Front carriage, closed and free.
pub static FRONT_LATERAL_FREE: Figure = Figure {
    name: "front_lateral_free",
    title: "wind on the front carriage, closed and free, allowable level",
    inputs: &[CLOSED_FORCE, OPENING, OVERLAP, FRONT_CLOSED, SPACING, OFF_CLOSED],
    formula: "wind_force (front_closed + spacing - (opening + latch_overlap) / 2 + eccentricity) / spacing",
    work: Work::Point(|point| Ok(free_shares(point)?[0])),
    ..PLAIN
};

/// Tail carriage, closed and free.
pub static TAIL_LATERAL_FREE: Figure = Figure {
    name: "tail_lateral_free",
    title: "wind on the tail carriage, closed and free, allowable level; negative: against the wind",
    inputs: &[CLOSED_FORCE, OPENING, OVERLAP, FRONT_CLOSED, SPACING, OFF_CLOSED],
    formula: "wind_force ((opening + latch_overlap) / 2 - eccentricity - front_closed) / spacing",
    work: Work::Point(|point| Ok(free_shares(point)?[1])),
    ..PLAIN
};

/// The share of the front carriage under the open leaf, the force that far behind its center.
fn front_open(point: &Point<'_>, behind: f64) -> Result<f64, NoValue> {
    let [force, center, front, spacing] = point.numbers();
    Ok(force * (front + spacing - center - behind) / spaced(spacing)?)
}

/// That of the tail carriage.
fn tail_open(point: &Point<'_>, behind: f64) -> Result<f64, NoValue> {
    let [force, center, front, spacing] = point.numbers();
    Ok(force * (center + behind - front) / spaced(spacing)?)
}

/// Front carriage, open.
pub static FRONT_LATERAL_OPEN: Figure = Figure {
    name: "front_lateral_open",
    title: "wind on the front carriage, parked open, allowable level; negative: against the wind",
    inputs: &[OPEN_FORCE, CENTER_OPEN, FRONT_OPEN, SPACING],
    formula: "wind_force (front_open + spacing - wind_center) / spacing",
    validity: "no guide holds the tail of the parked leaf; the wind in the middle, as on an open leaf: the posts take case B of a \
               solid one, the worse side; case C is not covered",
    work: Work::Point(|point| front_open(point, 0.0)),
    ..PLAIN
};

/// Tail carriage, open.
pub static TAIL_LATERAL_OPEN: Figure = Figure {
    name: "tail_lateral_open",
    title: "wind on the tail carriage, parked open, allowable level",
    inputs: &[OPEN_FORCE, CENTER_OPEN, FRONT_OPEN, SPACING],
    formula: "wind_force (wind_center - front_open) / spacing",
    validity: "no guide holds the tail of the parked leaf; the wind in the middle, as on an open leaf: the posts take case B of a \
               solid one, the worse side; case C is not covered",
    work: Work::Point(|point| tail_open(point, 0.0)),
    ..PLAIN
};

const fn share(name: &'static str, figure: &'static Figure) -> Input {
    Input::figure(name, Force, "wind on that carriage or post, allowable level", figure).breaks(&[0.0])
}

const POST: Figure = Figure {
    of: Of::Post,
    formula: "by the role of the post, without its sign: front_share, tail_share or latch_share",
    source: "statics in plan",
    ..PLAIN
};

fn by_role(point: &Point<'_>, shares: [f64; 3]) -> Result<f64, NoValue> {
    Ok(shares[point.choice(0).min(2)].abs())
}

static TAIL_LATCHED: Figure = unsigned("tail_lateral_latched_size", &TAIL_LATERAL_LATCHED);
/// Wind on a post, closed and latched.
pub static POST_LATERAL_LATCHED: Figure = Figure {
    name: "lateral_closed_latched",
    title: "wind on the post, gate closed and latched, allowable level",
    inputs: &[
        ROLE,
        share("front_share", &FRONT_LATERAL_LATCHED),
        share("tail_share", &TAIL_LATCHED),
        share("latch_share", &LATCH_LATERAL),
    ],
    formula: "by the role of the post: front_share, tail_share, which is nothing unless two leaves meet, latch_share",
    validity: LATCHED.validity,
    work: Work::Point(|point| by_role(point, [1, 2, 3].map(|input| point.number(input)))),
    ..POST
};

static TAIL_FREE: Figure = unsigned("tail_lateral_free_size", &TAIL_LATERAL_FREE);
static FRONT_OPEN_SIZE: Figure = either_side("front_lateral_open_size", &[&FRONT_OPEN_LEADING, &FRONT_OPEN_TRAILING]);
static TAIL_OPEN_SIZE: Figure = either_side("tail_lateral_open_size", &[&TAIL_OPEN_LEADING, &TAIL_OPEN_TRAILING]);
static FRONT_OPEN_LEADING: Figure = unsigned("front_lateral_open_leading_size", &FRONT_LEADING);
static FRONT_OPEN_TRAILING: Figure = unsigned("front_lateral_open_trailing_size", &FRONT_TRAILING);
static TAIL_OPEN_LEADING: Figure = unsigned("tail_lateral_open_leading_size", &TAIL_LEADING);
static TAIL_OPEN_TRAILING: Figure = unsigned("tail_lateral_open_trailing_size", &TAIL_TRAILING);

/// A carriage under an open leaf whose wind acts off its center, toward one end.
const OPEN_OFF: Figure = Figure {
    title: "wind on that carriage, parked open, the force off its center",
    inputs: &[OPEN_FORCE, CENTER_OPEN, FRONT_OPEN, SPACING, OFF_OPEN],
    validity: "no guide holds the tail of the parked leaf; a solid leaf by case B of ASCE 7 fig. 29.3-1; case C is not covered",
    ..PLAIN
};
static FRONT_LEADING: Figure = Figure {
    name: "front_lateral_open_leading",
    formula: "wind_force (front_open + spacing - wind_center + eccentricity) / spacing",
    work: Work::Point(|point| front_open(point, -point.number(4))),
    ..OPEN_OFF
};
static FRONT_TRAILING: Figure = Figure {
    name: "front_lateral_open_trailing",
    formula: "wind_force (front_open + spacing - wind_center - eccentricity) / spacing",
    work: Work::Point(|point| front_open(point, point.number(4))),
    ..OPEN_OFF
};
static TAIL_LEADING: Figure = Figure {
    name: "tail_lateral_open_leading",
    formula: "wind_force (wind_center - eccentricity - front_open) / spacing",
    work: Work::Point(|point| tail_open(point, -point.number(4))),
    ..OPEN_OFF
};
static TAIL_TRAILING: Figure = Figure {
    name: "tail_lateral_open_trailing",
    formula: "wind_force (wind_center + eccentricity - front_open) / spacing",
    work: Work::Point(|point| tail_open(point, point.number(4))),
    ..OPEN_OFF
};

/// The worse of both sides of the middle.
const fn either_side(name: &'static str, sides: &'static [&'static Figure]) -> Figure {
    Figure {
        name,
        title: "wind on that carriage without its sign",
        formula: "the larger share without its sign, the wind 0.2 of the length off the center of a solid leaf to either side",
        work: Work::Largest(sides),
        ..PLAIN
    }
}

/// Wind blows either way: the post is checked for the size of its share.
const fn unsigned(name: &'static str, figure: &'static Figure) -> Figure {
    Figure {
        name,
        title: "wind on that carriage without its sign",
        formula: "the share without its sign: the wind blows either way",
        work: Work::Magnitude(figure),
        ..PLAIN
    }
}

/// Wind on a post, closed and free.
pub static POST_LATERAL_FREE: Figure = Figure {
    name: "lateral_closed_free",
    title: "wind on the post, gate closed and free, allowable level",
    inputs: &[ROLE, share("front_share", &FRONT_LATERAL_FREE), share("tail_share", &TAIL_FREE)],
    formula: "by the role of the post: front_share, tail_share, nothing at the latch",
    work: Work::Point(|point| by_role(point, [point.number(1), point.number(2), 0.0])),
    ..POST
};

/// Wind on a post, parked open.
pub static POST_LATERAL_OPEN: Figure = Figure {
    name: "lateral_open_parked",
    title: "wind on the post, gate parked open, allowable level",
    inputs: &[ROLE, share("front_share", &FRONT_OPEN_SIZE), share("tail_share", &TAIL_OPEN_SIZE)],
    formula: "by the role of the post: front_share, tail_share, nothing at the latch",
    work: Work::Point(|point| by_role(point, [point.number(1), point.number(2), 0.0])),
    ..POST
};

/// The wind on a post, as the figures of guides, posts and footings read it.
pub(super) const fn lateral(figure: &'static Figure) -> Input {
    Input::figure("lateral", Force, "wind on the post, allowable level", figure)
}

/// The height at which it acts.
pub(super) const WIND_AT: Input = Input::figure("wind_height", Length, "height of the wind force", &WIND_HEIGHT);

/// Every figure of this subject.
pub static ALL: [&Figure; 10] = [
    &FRONT_LATERAL_LATCHED,
    &TAIL_LATERAL_LATCHED,
    &LATCH_LATERAL,
    &FRONT_LATERAL_FREE,
    &TAIL_LATERAL_FREE,
    &FRONT_LATERAL_OPEN,
    &TAIL_LATERAL_OPEN,
    &POST_LATERAL_LATCHED,
    &POST_LATERAL_FREE,
    &POST_LATERAL_OPEN,
];
