//! How the weight of the leaf lies along it, as moments, shears and the drop of the leading edge take it.
//!
//! The parts say where weight lies; the weight that is stated says how much there is, zinc, welds and fasteners with it.
//! Moments and shears need the parts. The drop of the leading edge, good to a few percent, also takes a center of
//! gravity alone. Called by the figures of statics, splices, bracing and sag.

use super::beam::{Leaf, Segment};
use super::figure::{NoValue, not_valid};
use super::point::Point;
use super::weight::{UNEVEN, at, covers_opening_only, leaf};

/// The leaf from its parts with a load at the leading edge. The parts say where the weight lies; a stated weight, as
/// the reactions take it, says how much there is.
///
/// # Errors
///
/// Where the parts are not known.
pub(super) fn loaded_leaf(point: &Point<'_>, stated: Option<f64>, live: f64) -> Result<Leaf, NoValue> {
    let leaf = leaf(point).map_err(|why| match why {
        NoValue::Lacking(["centroid"]) => NoValue::NotValid(UNEVEN.to_owned()),
        other => other,
    })?;
    Ok(match stated {
        Some(stated) => loaded(leaf.weighing(stated), live),
        None => loaded(leaf, live),
    })
}

/// A leaf of this weight with a load at the leading edge: as its parts lie, else with its items in their places and the
/// rest in two even halves that have the center of gravity stated, else even.
///
/// # Errors
///
/// Where the weight lies unevenly and nothing says how.
pub(super) fn leaf_of_weight(
    point: &Point<'_>,
    [weight, length]: [f64; 2],
    centroid: Option<f64>,
    live: f64,
) -> Result<Leaf, NoValue> {
    if length <= 0.0 {
        return not_valid("`leaf_length` can be zero");
    }
    if let Ok(parts) = leaf(point)
        && parts.weight() > 0.0
    {
        return Ok(loaded(parts.weighing(weight), live));
    }
    spread_out(point, [weight, length], centroid).map(|leaf| loaded(leaf, live))
}

/// What is concentrated stands in its place; the rest lies in two even halves.
fn spread_out(point: &Point<'_>, [weight, length]: [f64; 2], centroid: Option<f64>) -> Result<Leaf, NoValue> {
    let items = Leaf { segments: Vec::new(), items: point.rows::<2>(at::ITEM).collect() };
    let rest = weight - items.weight();
    if rest < 0.0 {
        return not_valid("the items weigh more than the whole leaf");
    }
    let moment = match centroid {
        Some(centroid) => weight * centroid - items.moment(),
        None if covers_opening_only(point) => {
            return not_valid(
                "the infill ends at the opening, so the weight does not lie evenly; state the center of gravity or the parts",
            );
        }
        None => rest * length / 2.0,
    };
    let middle = length / 2.0;
    // Two loads over a half each, from the sum of both and their moment about the leading edge.
    let tail = (4.0 * moment / length - rest) / length;
    let front = 2.0 * rest / length - tail;
    if tail < 0.0 || front < 0.0 {
        return not_valid(
            "without its items the leaf would have its center of gravity in its first or its last quarter; check both, or \
             state the parts",
        );
    }
    let segments =
        vec![Segment { from: 0.0, to: middle, load: front }, Segment { from: middle, to: length, load: tail }];
    Ok(Leaf { segments, ..items })
}

fn loaded(mut leaf: Leaf, live: f64) -> Leaf {
    leaf.items.push([live, 0.0]);
    leaf
}
