//! Comparisons of ranges, with a tolerance that follows the magnitudes the numbers were made of.
//!
//! Each end of a range knows whether the submittal declares it. A comparison looks at the corner most likely to hold
//! and the corner most likely to fail; what a declared corner shows is certain, what only an open corner shows may not
//! happen.

use super::truth::Truth;
use crate::quantity::{Quantity, tolerance};

/// `a < b`.
pub fn less(a: Quantity, b: Quantity) -> Truth {
    let tolerance = tolerance(a, b);
    let holds = |x: f64, y: f64| x < y - tolerance;
    ordered(a, b, holds)
}

/// `a <= b`.
pub fn at_most(a: Quantity, b: Quantity) -> Truth {
    less(b, a).not()
}

/// `a is b`: true only of two single values that agree; a real range is never the same as anything.
pub fn same(a: Quantity, b: Quantity) -> Truth {
    let tolerance = tolerance(a, b);
    if a.hi < b.lo - tolerance || b.hi < a.lo - tolerance {
        return Truth::FALSE;
    }
    let near = |x: f64, y: f64| (x - y).abs() <= tolerance;
    let shown = a.is_shown() && b.is_shown();
    match (shown, near(a.lo, b.lo) && near(a.hi, b.hi) && near(a.lo, a.hi)) {
        (true, true) => Truth::TRUE,
        (true, false) => Truth::VARIES,
        (false, _) => Truth::UNKNOWN,
    }
}

/// `agree(a, b, t)`: some value of one is within `t` (its larger end) of some value of the other; never varies.
pub fn agree(a: Quantity, b: Quantity, t: Quantity) -> Truth {
    if !(a.is_shown() && b.is_shown() && t.is_shown()) {
        return Truth::FALSE_OR_TRUE;
    }
    let apart = (a.lo - b.hi).max(b.lo - a.hi).max(0.0);
    Truth::known(apart <= t.hi + tolerance(a, b).max(tolerance(t, t)))
}

fn ordered(a: Quantity, b: Quantity, holds: impl Fn(f64, f64) -> bool) -> Truth {
    let worst_holds = holds(a.hi, b.lo);
    let best_holds = holds(a.lo, b.hi);
    if worst_holds {
        return Truth::TRUE;
    }
    if !best_holds {
        return Truth::FALSE;
    }
    let failure_declared = a.hi_declared && b.lo_declared;
    let success_declared = a.lo_declared && b.hi_declared;
    match (failure_declared, success_declared) {
        (true, true) => Truth::VARIES,
        (true, false) => Truth::FALSE_OR_VARIES,
        (false, true) => Truth::VARIES_OR_TRUE,
        (false, false) => Truth::UNKNOWN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(value: f64) -> f64 {
        value * 0.0254
    }

    #[test]
    fn a_limit_written_in_the_other_system_is_the_same_limit() {
        let metric = Quantity::point(57.15 / 1000.0);
        let inch = Quantity::point(inches(2.25));
        assert_eq!(less(metric, inch), Truth::FALSE);
        assert_eq!(at_most(metric, inch), Truth::TRUE);
        assert_eq!(less(Quantity::point(0.057), inch), Truth::TRUE);
    }

    #[test]
    fn a_declared_end_decides_and_an_open_end_does_not() {
        let five = Quantity::point(inches(5.0));
        assert_eq!(at_most(Quantity::at_most(inches(5.5)), five), Truth::FALSE_OR_VARIES);
        assert_eq!(at_most(Quantity::at_most(inches(5.0)), five), Truth::TRUE);
        assert_eq!(at_most(Quantity::point(inches(2.0)), Quantity::at_most(inches(5.0))), Truth::VARIES_OR_TRUE);
        assert_eq!(at_most(five, Quantity::at_least(inches(5.0))), Truth::TRUE);
        assert_eq!(at_most(Quantity::range(inches(3.0), inches(5.5)), five), Truth::VARIES);
        assert_eq!(at_most(Quantity::not_shown(), five), Truth::UNKNOWN);
    }

    #[test]
    fn a_difference_decides_like_the_comparison_it_stands_for() {
        // 0.1 + 0.2 - 0.3 is 5.6e-17 in binary; compared with 0 it must not decide by that noise.
        let (a, b) = (Quantity::point(0.1).plus(Quantity::point(0.2)), Quantity::point(0.3));
        let zero = Quantity::point(0.0);
        assert_eq!(at_most(b, a), Truth::TRUE);
        assert_eq!(at_most(a, b), Truth::TRUE);
        assert_eq!(at_most(zero, b.minus(a)), Truth::TRUE);
        assert_eq!(less(zero, a.minus(b)), Truth::FALSE);
    }

    #[test]
    fn agreement_never_varies() {
        let a = Quantity::range(1.0, 1.2);
        assert_eq!(agree(a, Quantity::point(1.3), Quantity::point(0.1)), Truth::TRUE);
        assert_eq!(agree(a, Quantity::point(1.31), Quantity::point(0.1)), Truth::FALSE);
        assert_eq!(agree(a, Quantity::not_shown(), Quantity::point(0.1)), Truth::FALSE_OR_TRUE);
        assert_eq!(same(a, a), Truth::VARIES);
        assert_eq!(same(Quantity::point(1.2), Quantity::point(1.2)), Truth::TRUE);
    }
}
