//! Wind on the posts: which of them takes what, and where the force acts.

use super::asked::Asked;

/// A leaf of 12 ft that 1000 N of wind act on, its front carriage 12.5 ft behind the leading edge, the carriages 8 ft apart.
fn share(role: &str) -> Asked {
    Asked::of(gatewright::figures::Plan::with(gatewright::figures::find("lateral_closed_latched").unwrap(), &|input| {
        ["wind_force", "front_closed"].contains(&input.name)
    }))
    .choose("role", &[role])
    .with_all([("wind_force", 1000.0), ("opening", 12.0), ("latch_overlap", 0.0), ("front_closed", 12.5)])
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
    let gatewright::figures::State::Lacking(roots) = share("fulcrum").choose("meets", &["leaf"]).outcome().state else {
        panic!("the spacing is needed now");
    };
    assert_eq!(share("fulcrum").names(&roots), ["spacing"]);
}
