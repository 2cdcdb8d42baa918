//! Where the weight lies along the leaf: in moments, shears and the drop of the leading edge.

use super::asked::Asked;

const FT: f64 = 0.3048;
const IN: f64 = 0.0254;
const LB: f64 = 4.4482216152605;

/// Loads in lb/ft over feet, and items in lb at feet.
struct Lies {
    loads: Vec<[f64; 3]>,
    items: Vec<[f64; 2]>,
}

/// An infill that ends at the opening; the same with 60 lb at the leading edge and 150 lb far behind; an even leaf.
fn leaves() -> [Lies; 3] {
    let uneven = vec![[0.0, 36.0, 15.0], [0.0, 24.0, 12.0]];
    [
        Lies { loads: uneven.clone(), items: vec![] },
        Lies { loads: uneven, items: vec![[60.0, 0.0], [150.0, 35.0]] },
        Lies { loads: vec![[0.0, 36.0, 20.0]], items: vec![] },
    ]
}

impl Lies {
    fn weight(&self) -> f64 {
        let even: f64 = self.loads.iter().map(|[from, to, load]| load * (to - from)).sum();
        even + self.items.iter().map(|[weight, _]| weight).sum::<f64>()
    }

    /// The moment at a section (positive pulls on the top), by summing thin slices before it.
    fn moment(&self, section: f64, front: f64, spacing: f64) -> f64 {
        let slices = 36_000;
        let thick = 36.0 / f64::from(slices);
        let mut weights = self.items.clone();
        for slice in 0..slices {
            let at = (f64::from(slice) + 0.5) * thick;
            let load: f64 = self.loads.iter().filter(|[from, to, _]| *from < at && at < *to).map(|part| part[2]).sum();
            weights.push([load * thick, at]);
        }
        let about_front: f64 = weights.iter().map(|[weight, at]| weight * (at - front)).sum();
        let tail = about_front / spacing;
        let carried = [[self.weight() - tail, front], [tail, front + spacing]];
        let before = |list: &[[f64; 2]]| -> f64 {
            list.iter().filter(|[_, at]| *at < section).map(|[force, at]| force * (section - at)).sum()
        };
        before(&weights) - before(&carried)
    }

    fn put(&self, asked: Asked) -> Asked {
        let loads: Vec<[f64; 3]> =
            self.loads.iter().map(|[from, to, load]| [from * FT, to * FT, load * LB / FT]).collect();
        let items: Vec<[f64; 2]> = self.items.iter().map(|[weight, at]| [weight * LB, at * FT]).collect();
        asked.rows("load", &loads).rows("item", &items)
    }
}

fn standing(figure: &str, weight: f64) -> Asked {
    Asked::own(figure).with_all([
        ("weight", weight * LB),
        ("leaf_length", 36.0 * FT),
        ("front_closed", 25.0 * FT),
        ("spacing", 8.0 * FT),
    ])
}

fn bending(weight: f64, stiffness: f64) -> Asked {
    // E of steel, 29,000,000 psi (AISC 360), so that E I is the stiffness given, in lb ft2.
    let steel = 29e6 * LB / (IN * IN);
    standing("bending_sag", weight).choose("material", &["steel"]).with("inertia", stiffness * LB * FT * FT / steel)
}

/// Work of a unit load at the leading edge, summed over slices: the drop is the sum of M m dx / E I. Another way than the
/// figure goes.
#[test]
fn the_drop_by_bending_is_the_work_of_a_unit_load() {
    let (front, spacing, stiffness) = (25.0, 8.0, 4e6);
    for lies in leaves() {
        let slices = 660;
        let thick = (front + spacing) / f64::from(slices);
        let work: f64 = (0..slices)
            .map(|slice| {
                let at = (f64::from(slice) + 0.5) * thick;
                let unit = if at < front { at } else { front * (1.0 - (at - front) / spacing) };
                lies.moment(at, front, spacing) * unit * thick
            })
            .sum();
        let drop = lies.put(bending(lies.weight(), stiffness)).value() / FT;
        let expected = work / stiffness;
        assert!((drop / expected - 1.0).abs() < 2e-4, "{drop} {expected}");
    }
}

/// By hand: weight at the leading edge drops it as a live load there does.
#[test]
fn an_item_at_the_leading_edge_is_a_live_load() {
    let loads = vec![[0.0, 36.0, 20.0]];
    for figure in ["bending_sag", "shear_sag"] {
        let asked = |weight: f64| {
            let asked = if figure == "bending_sag" { bending(weight, 4e6) } else { standing(figure, weight) };
            if figure == "shear_sag" { asked.with("shear_stiffness", 1e6 * LB) } else { asked }
        };
        let item = Lies { loads: loads.clone(), items: vec![[200.0, 0.0]] }.put(asked(920.0)).value();
        let live = asked(720.0).with("live_load", 200.0 * LB).value();
        assert!((item / live - 1.0).abs() < 1e-12, "{figure}: {item} {live}");
    }
}

/// By hand: 840 lb of 36 ft with their center at 15 ft are 31.111 lb/ft over the front half and 15.556 over the other, or
/// 560 and 280 lb at 9 and 27 ft. Over the front carriage at 25 ft they make 560 x 16 + 15.556 x 7^2 / 2 = 9341.1 lb ft,
/// behind the tail one at 33 ft 15.556 x 3^2 / 2 = 70; (9341.1 + 25 (9341.1 - 70) / 8) / 1,000,000 = 0.038313 ft. Evenly
/// spread 7291.7 and 105: 0.029750 ft.
#[test]
fn a_center_of_gravity_alone_spreads_the_weight() {
    let asked = standing("shear_sag", 840.0).with("shear_stiffness", 1e6 * LB);
    let even = asked.value() / FT;
    assert!((even - 0.029_750).abs() < 1e-6, "{even}");
    let uneven = asked.clone().with("stated_centroid", 15.0 * FT).value() / FT;
    assert!((uneven - 0.038_313).abs() < 1e-6, "{uneven}");
    let middle = asked.clone().with("stated_centroid", 18.0 * FT).value() / FT;
    assert!((middle / even - 1.0).abs() < 1e-12, "{middle} {even}");
    let reason = asked.clone().with("stated_centroid", 8.0 * FT).refusal();
    assert!(reason.contains("in its first or its last quarter"), "{reason}");
    let reason = asked.choose("infill_covers", &["opening_part"]).refusal();
    assert!(reason.contains("state the center of gravity or the parts"), "{reason}");
}

/// By hand: 730 lb of which 150 hang at the leading edge are 580 lb evenly and 150 there, whether a line load says so or not.
#[test]
fn items_stand_in_their_places_where_only_the_weight_is_known_besides() {
    let item = [[150.0 * LB, 0.0]];
    let known = bending(730.0, 4e6).rows("item", &item);
    let by_load = known.clone().with("line_load", 580.0 / 36.0 * LB / FT).value();
    let spread = known.clone().value();
    assert!((spread / by_load - 1.0).abs() < 1e-12, "{spread} {by_load}");
    assert!(spread > 1.3 * bending(730.0, 4e6).value(), "{spread}");
    let reason = bending(730.0, 4e6).rows("item", &[[731.0 * LB, 3.0]]).refusal();
    assert!(reason.contains("the items weigh more than the whole leaf"), "{reason}");
}

/// A leaf without a frame, 2 psf over its opening part of 24 ft and 1 psf over its tail of 12 ft, 6 ft high. By hand: 288 lb
/// with their center at 12 ft and 72 lb at 30 ft, or 360 lb at 15.6 ft.
fn two_infills(figure: &str) -> Asked {
    Asked::own(figure)
        .choose("material", &["steel"])
        .choose("pattern", &["none"])
        .choose("infill_covers", &["opening_part"])
        .with_all([
            ("leaf_length", 36.0 * FT),
            ("leaf_height", 6.0 * FT),
            ("counterbalance", 12.0 * FT),
            ("infill_weight", 2.0 * LB / (FT * FT)),
            ("tail_infill_weight", LB / (FT * FT)),
            ("top_chord_area", 0.0),
            ("bottom_chord_area", 0.0),
            ("upright_area", 0.0),
            ("panel_length", 8.0 * FT),
        ])
}

/// A line load is the mean of an uneven leaf: it says how much, and the parts say where. By hand: 15 lb/ft over 36 ft are 540 lb.
#[test]
fn parts_place_what_a_line_load_weighs() {
    let leaf = |figure: &str| two_infills(figure).with("line_load", 15.0 * LB / FT);
    let weight = leaf("leaf_weight_rebuilt").value() / LB;
    assert!((weight - 540.0).abs() < 1e-9, "{weight}");
    for figure in ["leaf_centroid", "leaf_centroid_rebuilt"] {
        let center = leaf(figure).value() / FT;
        assert!((center - 15.6).abs() < 1e-9, "{figure}: {center}");
    }
}

/// What is stated besides the sum of the parts (zinc, welds) lies where they lie.
#[test]
fn moments_take_the_stated_weight_as_the_parts_lie() {
    let [uneven, ..] = leaves();
    for figure in ["front_moment_closed", "tail_moment_open", "leaf_moment", "panel_shear_high", "splice_moment"] {
        let asked = uneven.put(Asked::own(figure));
        let asked = match figure {
            "front_moment_closed" => asked.with("front_closed", 25.0 * FT),
            "tail_moment_open" => asked.with_all([("front_open", 0.5 * FT), ("spacing", 8.0 * FT)]),
            "leaf_moment" => asked.with_all([
                ("front_closed", 25.0 * FT),
                ("spacing", 8.0 * FT),
                ("section", 12.0 * FT),
                ("moved", 3.0 * FT),
            ]),
            _ => asked.with_all([("front_closed", 25.0 * FT), ("spacing", 8.0 * FT), ("travel", 24.5 * FT)]),
        };
        let asked = match figure {
            "panel_shear_high" => asked.with_all([("start", 10.0 * FT), ("end", 15.0 * FT)]),
            "splice_moment" => asked.with("at", 20.0 * FT),
            _ => asked,
        };
        let parts = asked.value();
        assert!(parts > 0.0, "{figure}");
        let same = asked.clone().with("stated_weight", 828.0 * LB).value();
        assert!((same / parts - 1.0).abs() < 1e-9, "{figure}: {same} {parts}");
        // The parts weigh 540 + 288 = 828 lb.
        let more = asked.with("stated_weight", 910.8 * LB).value();
        assert!((more / parts - 1.1).abs() < 1e-9, "{figure}: {more} {parts}");
    }
}

/// A leaf that leans far back on its carriages is left to a frame analysis: its drop turns round over a range of places.
#[test]
fn a_leaf_that_stands_on_its_tail_has_no_drop() {
    let short = Lies { loads: vec![[0.0, 36.0, 20.0]], items: vec![] };
    let asked = |front: f64, spacing: f64| {
        let asked = short.put(bending(720.0, 4e6));
        asked.with_all([("front_closed", front * FT), ("spacing", spacing * FT)])
    };
    // The center at 18 ft: a quarter of the spacing behind the carriage at 13 ft with 20 ft of spacing.
    assert!(asked(13.01, 20.0).value() > 0.0);
    let reason = asked(12.99, 20.0).refusal();
    assert!(reason.contains("a quarter of the carriage spacing"), "{reason}");
    // By hand, carriages at 20 and 28 ft: 36 lb evenly make 200 lb ft before the front one, 200 lb at 35 ft make 1400 lb ft
    // and more behind the tail one; with 2000 lb over the front carriage the center is at 21.3 ft.
    let tail = Lies { loads: vec![[0.0, 36.0, 1.0]], items: vec![[2000.0, 20.0], [200.0, 35.0]] };
    let reason =
        tail.put(bending(2236.0, 4e6)).with_all([("front_closed", 20.0 * FT), ("spacing", 8.0 * FT)]).refusal();
    assert!(reason.contains("the tail behind its carriage"), "{reason}");
}

/// Where the counterbalance counts from elsewhere than the opening edge, the infill ends elsewhere too.
#[test]
fn a_counterbalance_from_elsewhere_does_not_divide_the_leaf() {
    let asked = |from: &str| two_infills("leaf_weight_rebuilt").choose("counterbalance_from", &[from]);
    assert!((asked("opening_edge").value() / LB - 360.0).abs() < 1e-9);
    let reason = asked("front_carriage").refusal();
    assert!(reason.contains("does not count from the opening edge"), "{reason}");
}
