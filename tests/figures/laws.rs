//! Laws that hold whatever the numbers: sums, envelopes against scans, the code's formula iterated, sizes scaled.

use proptest::prelude::*;

use super::asked::Asked;
use super::plausible::Chance;

const FT: f64 = 0.3048;

/// A leaf whose carriages stay on it over the whole travel.
#[derive(Debug)]
struct Leaf {
    opening: f64,
    overlap: f64,
    setback: f64,
    spacing: f64,
    recess: f64,
    length: f64,
    live: f64,
    loads: Vec<[f64; 3]>,
    items: Vec<[f64; 2]>,
}

impl Leaf {
    fn any(chance: &mut Chance) -> Leaf {
        let opening = chance.between((3.0, 10.0));
        let overlap = chance.between((0.05, 0.3));
        let setback = chance.between((0.2, 0.5));
        let spacing = chance.between((1.5, 4.5));
        let length = opening + overlap + setback + spacing + chance.between((0.1, 1.5));
        let step = length * chance.between((0.3, 0.8));
        let load = |chance: &mut Chance| chance.between((100.0, 500.0));
        Leaf {
            opening,
            overlap,
            setback,
            spacing,
            recess: chance.between((0.0, 0.1)),
            length,
            live: chance.between((0.0, 900.0)),
            loads: vec![[0.0, step, load(chance)], [step, length, load(chance)]],
            items: (0..2).map(|_| [load(chance), length * chance.share()]).collect(),
        }
    }

    fn front_closed(&self) -> f64 {
        self.opening + self.overlap + self.setback
    }

    fn travel(&self) -> f64 {
        self.opening + self.overlap + self.recess
    }

    /// The fields that a figure reads of this leaf, down to the fields.
    fn ask(&self, figure: &str) -> Asked {
        let mut asked = Asked::whole(figure).rows("load", &self.loads).rows("item", &self.items);
        let fields = [
            ("opening", self.opening),
            ("latch_overlap", self.overlap),
            ("setback", self.setback),
            ("spacing", self.spacing),
            ("recess", self.recess),
            ("live_load", self.live),
        ];
        for (name, value) in fields {
            if asked.plan.roots.iter().any(|root| root.name == name) {
                asked = asked.with(name, value);
            }
        }
        asked
    }

    /// The moment at a section, with the leaf moved.
    fn moments(&self) -> impl Fn(f64, f64) -> f64 {
        let asked = self.ask("leaf_moment");
        move |section, moved| asked.clone().with("section", section).with("moved", moved).value()
    }

    fn places(&self, count: usize) -> impl Iterator<Item = f64> {
        let travel = self.travel();
        (0..=count).map(move |number| travel * number as f64 / count as f64)
    }
}

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs()).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Both carriages together carry what is there, at any place of the travel.
    #[test]
    fn reactions_sum_to_the_load(seed in any::<u64>()) {
        let leaf = Leaf::any(&mut Chance(seed));
        let even: f64 = leaf.loads.iter().map(|[from, to, load]| load * (to - from)).sum();
        let load = even + leaf.items.iter().map(|[weight, _]| weight).sum::<f64>() + leaf.live;
        for place in ["closed", "half", "open"] {
            let [front, tail] =
                ["front", "tail"].map(|carriage| leaf.ask(&format!("{carriage}_reaction_{place}")).value());
            prop_assert!(near(front + tail, load, 1e-9), "{place}: {front} {tail} {load}");
        }
        let (low, high) = (leaf.ask("lowest_reaction").value(), leaf.ask("largest_reaction").value());
        for carriage in ["front_reaction_half", "tail_reaction_half"] {
            let half = leaf.ask(carriage).value();
            prop_assert!(low <= half + 1e-9 && half <= high + 1e-9, "{carriage}");
        }
    }

    /// A carriage is unloaded where the figure says that its uplift ends or begins: there the moment of what is there about
    /// the other carriage is nothing.
    #[test]
    fn uplift_changes_where_the_figures_say(seed in any::<u64>()) {
        let leaf = Leaf::any(&mut Chance(seed));
        // The live load presses the front carriage down and may not be there.
        for (figure, carriage, live) in
            [("tail_uplift_ends", 0.0, leaf.live), ("front_uplift_begins", leaf.spacing, 0.0)]
        {
            let moved = leaf.ask(figure).value();
            let about = leaf.front_closed() - moved + carriage;
            let even: f64 = leaf.loads.iter().map(|[a, b, load]| load * (b - a) * ((a + b) / 2.0 - about)).sum();
            let items: f64 = leaf.items.iter().map(|[weight, at]| weight * (at - about)).sum();
            prop_assert!((even + items - live * about).abs() < 1e-6, "{figure}");
        }
    }

    /// The four places of the travel hold the worst moment of a joint: a scan finds none worse, and comes near it.
    #[test]
    fn the_splice_envelope_equals_a_scan(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let leaf = Leaf::any(&mut chance);
        let moment = leaf.moments();
        let at = leaf.length * chance.between((0.1, 0.9));
        let worst = leaf.ask("splice_moment").with("at", at).value();
        let scan = leaf.places(200).map(|moved| moment(at, moved)).fold(f64::NEG_INFINITY, f64::max);
        prop_assert!(scan <= worst + 1e-6, "a scan finds {scan}, the four places {worst}");
        // Between two places of the scan the moment changes by a reaction times a step of the travel at the most.
        let reaction = leaf.ask("largest_reaction").value().max(-leaf.ask("lowest_reaction").value());
        prop_assert!(worst - scan <= 4.0 * reaction * leaf.travel() / 200.0, "{worst} {scan}");
    }

    /// No section of the leaf has a larger moment anywhere in the travel than the figure says.
    #[test]
    fn the_largest_moment_of_the_leaf_is_the_largest(seed in any::<u64>()) {
        let leaf = Leaf::any(&mut Chance(seed));
        let moment = leaf.moments();
        let largest = leaf.ask("largest_leaf_moment").value();
        for moved in leaf.places(20) {
            for number in 0..=40 {
                let found = moment(leaf.length * f64::from(number) / 40.0, moved);
                prop_assert!(found <= largest + 1e-6, "{found} over {largest}");
            }
        }
    }

    /// The shear of a panel lies between its lowest and highest anywhere in the travel: the slope of the moment says so.
    #[test]
    fn the_shear_of_a_panel_stays_between_its_extremes(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let leaf = Leaf::any(&mut chance);
        let moment = leaf.moments();
        let start = leaf.length * chance.between((0.0, 0.8));
        let end = start + leaf.length * chance.between((0.05, 0.2));
        let [low, high] = ["panel_shear_low", "panel_shear_high"]
            .map(|figure| leaf.ask(figure).with("start", start).with("end", end).value());
        let (middle, step) = ((start + end) / 2.0, 1e-6);
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for moved in leaf.places(200) {
            let carriage = leaf.front_closed() - moved;
            // The slope has a step where a carriage or a weight stands.
            let near = |at: f64| (at - middle).abs() < 10.0 * step;
            if near(carriage) || near(carriage + leaf.spacing) || leaf.items.iter().any(|[_, at]| near(*at)) {
                continue;
            }
            let slope = (moment(middle + step, moved) - moment(middle - step, moved)) / (2.0 * step);
            let room = 1e-3 * (1.0 + slope.abs());
            prop_assert!(low - room <= slope && slope <= high + room, "{low} {slope} {high} at {moved}");
            (least, most) = (least.min(slope), most.max(slope));
        }
        let weight = leaf.ask("leaf_weight").value() + leaf.live;
        let room = 2.0 * weight * leaf.travel() / leaf.spacing / 200.0 + 1.0;
        prop_assert!(least - low <= room && high - most <= room, "{low} {least} {most} {high}");
    }

    /// Equation 18-1 itself, put into itself until it stands still (by bisection), gives our depth, and both are the root of
    /// d^3 - k d - 1.09 k h, k = 7.02 P / (S b) (own algebra). Past 12 ft the reason names what 12 ft of pressure asks for.
    #[test]
    fn embedment_is_the_codes_formula_iterated(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let (force, height) = (chance.between((200.0, 9_000.0)), chance.between((-0.3, 2.5)).max(0.0));
        let (width, bearing) = (chance.between((0.3, 1.0)), chance.between((15_000.0, 60_000.0)));
        let asked = Asked::own("post_embedment").with_all([
            ("lateral_force", force),
            ("height", height),
            ("diameter", width),
            ("lateral_bearing", bearing),
        ]);
        let formula = |depth: f64| {
            let pressure = bearing * depth.min(12.0 * FT) / 3.0;
            let a = 2.34 * force / (pressure * width);
            a / 2.0 * (1.0 + (1.0 + 4.36 * height / a).sqrt())
        };
        // The deeper the trial, the less the formula asks for: it crosses once.
        let (mut shallow, mut deep) = (1e-6, 1e6);
        for _ in 0..200 {
            let trial = (shallow + deep) / 2.0;
            if formula(trial) > trial { shallow = trial } else { deep = trial }
        }
        match asked.outcome().state {
            gatewright::figures::State::Computed(depth) => {
                prop_assert!((depth.lo - shallow).abs() <= 1e-6 * shallow, "{} {shallow}", depth.lo);
                let k = 7.02 * force / (bearing * width);
                let rest = depth.lo.powi(3) - k * depth.lo - 1.09 * k * height;
                prop_assert!(rest.abs() <= 1e-9 * depth.lo.powi(3), "{rest}");
                prop_assert!(depth.lo <= 12.0 * FT * (1.0 + 1e-6));
            }
            _ => {
                prop_assert!(shallow >= 12.0 * FT * (1.0 - 1e-6));
                let reason = asked.refusal();
                prop_assert!(reason.starts_with(&format!("{:.2} ft", shallow / FT)), "{reason}, {}", shallow / FT);
            }
        }
    }

    /// With ever less force on an ever longer arm the depth becomes that of a moment alone.
    #[test]
    fn a_moment_alone_is_the_limit_of_a_vanishing_force(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let (moment, width, bearing) =
            (chance.between((500.0, 9_000.0)), chance.between((0.4, 1.0)), chance.between((20_000.0, 60_000.0)));
        let ground = [("diameter", width), ("lateral_bearing", bearing)];
        let alone = Asked::own("post_embedment_moment").with_all(ground).with("moment", moment).value();
        let force = 1e-6;
        let both = Asked::own("post_embedment").with_all(ground).with("lateral_force", force);
        prop_assert!(near(both.with("height", moment / force).value(), alone, 1e-6));
    }

    /// A section k times as large has k^2 of the area, k^4 of the inertia, k^3 of both moduli.
    #[test]
    fn section_properties_scale_with_size(seed in any::<u64>(), scale in 0.2f64..5.0) {
        let mut chance = Chance(seed);
        let wall = chance.between((0.002, 0.012));
        let size = wall * chance.between((7.0, 60.0));
        for (figure, power) in
            [("section_area", 2), ("section_inertia", 4), ("section_modulus", 3), ("plastic_modulus", 3)]
        {
            for shape in ["square", "round"] {
                let of = |scale: f64| {
                    let asked = Asked::own(figure).choose("shape", &[shape]);
                    asked.with("size", scale * size).with("wall_design", scale * wall).value()
                };
                let (one, other) = (of(1.0), of(scale));
                prop_assert!((one * scale.powi(power) / other - 1.0).abs() < 1e-9, "{figure} {shape}");
            }
        }
        // A thin round tube has the inertia of a ring: pi/8 d^3 t (own arithmetic).
        let thin = Asked::own("section_inertia").choose("shape", &["round"]);
        let found = thin.with("size", 1.0).with("wall_design", 1e-6).value();
        prop_assert!((found / (std::f64::consts::PI / 8.0 * 1e-6) - 1.0).abs() < 1e-5);
    }

    /// Strength is never more than the plastic moment, and grows with the yield within a class of walls.
    #[test]
    fn bending_strength_is_at_most_plastic(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let wall = chance.between((0.002, 0.012));
        let size = wall * chance.between((7.0, 60.0));
        let strength = chance.between((2.0e8, 3.5e8));
        for shape in ["square", "round"] {
            let tube = [("size", size), ("wall_design", wall)];
            let plastic = Asked::own("plastic_modulus").choose("shape", &[shape]).with_all(tube).value();
            let nominal = Asked::own("bending_nominal").choose("shape", &[shape]).with_all(tube).with("yield", strength);
            prop_assert!(nominal.value() <= strength * plastic * (1.0 + 1e-9));
        }
    }
}
