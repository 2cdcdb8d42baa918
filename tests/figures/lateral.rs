//! Wind on the posts: which of them takes what, and where the force acts.

use gatewright::figures::{Plan, State, find};

use super::asked::Asked;

/// A case of a post, the wind and the places of the front carriage given.
fn case(figure: &str, role: &str) -> Asked {
    let given = ["wind_force", "wind_center", "front_closed", "front_open"];
    let plan = Plan::with(find(figure).unwrap(), &|input| given.contains(&input.name));
    Asked::of(plan).choose("role", &[role]).with("wind_force", 1000.0)
}

/// A leaf of 12 ft that 1000 N of wind act on, its front carriage 12.5 ft behind the leading edge, the carriages 8 ft apart.
fn closed(figure: &str, role: &str, solidity: f64) -> Asked {
    let leaf = [("opening", 12.0), ("latch_overlap", 0.0), ("front_closed", 12.5), ("solidity", solidity)];
    case(figure, role).with_all(leaf)
}

fn share(role: &str) -> Asked {
    closed("lateral_closed_latched", role, 0.5)
}

/// By hand: held by a latch post, 1000 x 6 / 12.5 = 480 in front and 520 at the latch. Two leaves that meet have no latch
/// post: 1000 x (12.5 + 8 - 6) / 8 = 1812.5 in front and 1000 x (6 - 12.5) / 8 = -812.5 at the tail.
#[test]
fn leaves_that_meet_are_held_by_their_carriages_alone() {
    for (role, post, leaf) in [("fulcrum", 480.0, 1812.5), ("tail", 0.0, 812.5), ("latch", 520.0, 0.0)] {
        for asked in [share(role), share(role).choose("meets", &["latch_post"])] {
            assert!((asked.value() - post).abs() < 1e-9, "{role}: the spacing is not needed");
        }
        let found = share(role).choose("meets", &["leaf"]).with("spacing", 8.0).value();
        assert!((found - leaf).abs() < 1e-9, "{role}: {found}");
    }
    let State::Lacking(roots) = share("fulcrum").choose("meets", &["leaf"]).outcome().state else {
        panic!("the spacing is needed now");
    };
    assert_eq!(share("fulcrum").names(&roots), ["spacing"]);
}

/// Case B of a solid leaf, by hand. Closed, 12 ft: the force 0.2 x 12 = 2.4 ft off the middle. Latched, front 1000 x 8.4 / 12.5 =
/// 672 and latch 1000 x (1 - 3.6 / 12.5) = 712. Free, front 1000 x (12.5 + 8 - 3.6) / 8 = 2112.5 and tail 1000 x (3.6 - 12.5) /
/// 8 = -1112.5. Open, 20 ft, front carriage 0.5 ft behind the leading edge: 4 ft off 10 ft; front 1000 x (0.5 + 8 - 14) / 8 =
/// -687.5, tail 1000 x (14 - 0.5) / 8 = 1687.5. An open leaf has its force in the middle, at 70 % too.
#[test]
fn the_wind_on_a_solid_leaf_acts_off_its_middle() {
    let near = |found: f64, expected: f64, what: &str| assert!((found - expected).abs() < 1e-9, "{what}: {found}");
    for (role, open, solid) in [("fulcrum", 480.0, 672.0), ("tail", 0.0, 0.0), ("latch", 520.0, 712.0)] {
        near(closed("lateral_closed_latched", role, 70.0 * 0.01).value(), open, role);
        near(closed("lateral_closed_latched", role, 0.71).value(), solid, role);
    }
    for (role, open, solid) in [("fulcrum", 1812.5, 2112.5), ("tail", 812.5, 1112.5), ("latch", 0.0, 0.0)] {
        let free = |solidity: f64| closed("lateral_closed_free", role, solidity).with("spacing", 8.0);
        near(free(0.7).value(), open, role);
        near(free(1.0).value(), solid, role);
        let span = free(1.0).range("solidity", 0.5, 0.9).span();
        near(span.lo, open, role);
        near(span.hi, solid, role);
        let met = closed("lateral_closed_latched", role, 1.0).with("spacing", 8.0).choose("meets", &["leaf"]);
        near(met.value(), solid, role);
    }
    for (role, open, solid) in [("fulcrum", 187.5, 687.5), ("tail", 1187.5, 1687.5)] {
        let leaf = [("wind_center", 10.0), ("front_open", 0.5), ("spacing", 8.0), ("leaf_length", 20.0)];
        let parked = |front: f64| case("lateral_open_parked", role).with_all(leaf).with("solidity", front);
        near(parked(0.7).value(), open, role);
        near(parked(0.9).value(), solid, role);
        let tail = parked(0.2).choose("infill_covers", &["opening_part"]);
        near(tail.clone().with("tail_solidity", 0.3).value(), open, role);
        near(tail.clone().with("tail_solidity", 0.8).value(), solid, role);
        assert!(matches!(tail.outcome().state, State::Lacking(_)), "{role}");
    }
}
