//! Interval arithmetic on quantities.
//!
//! The evaluator of the rule language is the caller. Every operation is sound: whatever values the operands hold, the
//! result holds what they come to. `mag` is carried along because the tolerance of a comparison follows the largest
//! magnitude that went into a number: `a - b >= 0 in` then decides as `a >= b` does.

use super::Quantity;

/// Share of the larger magnitude within which two values count as equal.
pub(super) const TOLERANCE: f64 = 1e-9;

/// How far apart two values may be and still count as equal, in their SI unit.
pub fn tolerance(a: Quantity, b: Quantity) -> f64 {
    TOLERANCE * a.mag.max(b.mag)
}

impl Quantity {
    /// Sum.
    pub fn plus(self, other: Quantity) -> Quantity {
        Quantity {
            lo: self.lo + other.lo,
            hi: self.hi + other.hi,
            mag: self.mag.max(other.mag),
            lo_declared: self.lo_declared && other.lo_declared,
            hi_declared: self.hi_declared && other.hi_declared,
        }
        .settled(self.is_bounded() && other.is_bounded())
    }

    /// Difference.
    pub fn minus(self, other: Quantity) -> Quantity {
        self.plus(other.negated())
    }

    /// The value with its sign changed.
    pub fn negated(self) -> Quantity {
        Quantity {
            lo: -self.hi,
            hi: -self.lo,
            mag: self.mag,
            lo_declared: self.hi_declared,
            hi_declared: self.lo_declared,
        }
    }

    /// Product.
    pub fn times(self, other: Quantity) -> Quantity {
        self.corners(other, self.mag * other.mag, |a, b| a * b)
    }

    /// Quotient; `None` where the divisor can be zero, within the tolerance of its own magnitude.
    pub fn over(self, divisor: Quantity) -> Option<Quantity> {
        let near_zero = TOLERANCE * divisor.mag;
        let away_from_zero = divisor.lo > near_zero || divisor.hi < -near_zero;
        if !away_from_zero {
            return None;
        }
        let smallest = divisor.lo.abs().min(divisor.hi.abs());
        Some(self.corners(divisor, self.mag / smallest, |a, b| a / b))
    }

    /// The smaller of two values. Keeps what is certain: the smaller of 72 in and an unknown height is at most 72 in.
    pub fn min(self, other: Quantity) -> Quantity {
        if self.holds_nan() || other.holds_nan() {
            return Quantity::unknown();
        }
        Quantity {
            lo: self.lo.min(other.lo),
            hi: self.hi.min(other.hi),
            mag: self.mag.max(other.mag),
            lo_declared: self.lo_declared && other.lo_declared,
            hi_declared: self.hi_declared && other.hi_declared,
        }
        .settled(false)
    }

    /// The larger of two values.
    pub fn max(self, other: Quantity) -> Quantity {
        self.negated().min(other.negated()).negated()
    }

    /// The magnitude; from zero where the range holds zero.
    pub fn abs(self) -> Quantity {
        if self.holds_nan() {
            return Quantity::unknown();
        }
        if self.lo >= 0.0 {
            return self;
        }
        if self.hi <= 0.0 {
            return self.negated();
        }
        let (hi, hi_declared) = wider((-self.lo, self.lo_declared), (self.hi, self.hi_declared));
        Quantity { lo: 0.0, hi, mag: self.mag, lo_declared: self.is_shown(), hi_declared }.settled(false)
    }

    /// The smallest range that holds both: one of them is meant, and it is not known which. An end is declared when
    /// the operand that it comes from declares it.
    pub fn hull(self, other: Quantity) -> Quantity {
        if self.holds_nan() || other.holds_nan() {
            return Quantity::unknown();
        }
        let (lo, lo_declared) = wider((-self.lo, self.lo_declared), (-other.lo, other.lo_declared));
        let (hi, hi_declared) = wider((self.hi, self.hi_declared), (other.hi, other.hi_declared));
        Quantity { lo: -lo, hi, mag: self.mag.max(other.mag), lo_declared, hi_declared }.settled(false)
    }

    fn is_bounded(self) -> bool {
        self.lo.is_finite() && self.hi.is_finite()
    }

    /// The range of an operation that takes its extremes at ends of its operands.
    fn corners(self, other: Quantity, mag: f64, operation: fn(f64, f64) -> f64) -> Quantity {
        if self.holds_nan() || other.holds_nan() {
            return Quantity::unknown();
        }
        let ends = |q: Quantity| [(q.lo, q.lo_declared), (q.hi, q.hi_declared)];
        let (mut lo, mut hi) = ((f64::NEG_INFINITY, false), (f64::NEG_INFINITY, false));
        for (a, a_declared) in ends(self) {
            for (b, b_declared) in ends(other) {
                let value = operation(a, b);
                // Zero times an open end, or one open end over another: every value itself is finite, so the corner
                // adds nothing beyond zero.
                let value = if value.is_nan() { 0.0 } else { value };
                let declared = a_declared && b_declared;
                lo = wider(lo, (-value, declared));
                hi = wider(hi, (value, declared));
            }
        }
        Quantity { lo: -lo.0, hi: hi.0, mag, lo_declared: lo.1, hi_declared: hi.1 }
            .settled(self.is_bounded() && other.is_bounded())
    }

    fn holds_nan(self) -> bool {
        self.lo.is_nan() || self.hi.is_nan() || self.mag.is_nan()
    }

    /// Nothing is known of a result that overflowed or is no number. An open end may stay infinite.
    fn settled(self, finite_expected: bool) -> Quantity {
        let overflowed = finite_expected && !self.is_bounded();
        let empty = self.lo == f64::INFINITY || self.hi == f64::NEG_INFINITY;
        if overflowed || empty || self.holds_nan() || self.mag.is_infinite() { Quantity::unknown() } else { self }
    }
}

/// The end that lies further out; of two equal ones a declared one.
fn wider(a: (f64, bool), b: (f64, bool)) -> (f64, bool) {
    if b.0 > a.0 || (b.0 == a.0 && b.1) { b } else { a }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::quantity::{QuantityKind, read};

    const OPEN: f64 = f64::INFINITY;

    fn ends(q: Quantity) -> (f64, f64) {
        (q.lo, q.hi)
    }

    fn flags(q: Quantity) -> (bool, bool) {
        (q.lo_declared, q.hi_declared)
    }

    fn length(text: &str) -> Quantity {
        read(QuantityKind::Length, text).unwrap_or_else(|error| panic!("{text}: {error:?}")).quantity
    }

    #[test]
    fn sums_and_differences_add_end_by_end() {
        let (a, b) = (Quantity::range(3.0, 5.0), Quantity::range(1.0, 2.0));
        assert_eq!(ends(a.plus(b)), (4.0, 7.0));
        assert_eq!(ends(a.minus(b)), (1.0, 4.0));
        assert_eq!(ends(a.minus(a)), (-2.0, 2.0));
        assert_eq!(ends(a.negated()), (-5.0, -3.0));
        assert_eq!(a.plus(b).mag, 5.0);
    }

    #[test]
    fn products_and_quotients_look_at_every_corner() {
        let (a, b) = (Quantity::range(-2.0, 3.0), Quantity::range(-5.0, 4.0));
        assert_eq!(ends(a.times(b)), (-15.0, 12.0));
        assert_eq!(a.times(b).mag, 15.0);
        let quotient = Quantity::range(6.0, 12.0).over(Quantity::range(2.0, 3.0)).unwrap();
        assert_eq!(ends(quotient), (2.0, 6.0));
        assert_eq!(quotient.mag, 6.0);
        assert_eq!(ends(Quantity::point(6.0).over(Quantity::range(-3.0, -2.0)).unwrap()), (-3.0, -2.0));
    }

    #[test]
    fn a_divisor_that_can_be_zero_gives_nothing() {
        let six = Quantity::point(6.0);
        for divisor in [
            Quantity::point(0.0),
            Quantity::range(0.0, 2.0),
            Quantity::range(-1.0, 1.0),
            Quantity::at_most(3.0),
            Quantity::not_shown(),
            Quantity::unknown(),
            // 0.1 + 0.2 - 0.3 is rounding noise on the way to zero.
            Quantity::point(0.1).plus(Quantity::point(0.2)).minus(Quantity::point(0.3)),
        ] {
            assert_eq!(six.over(divisor), None, "{divisor:?}");
        }
        assert_eq!(six.over(Quantity::at_least(2.0)).map(ends), Some((0.0, 3.0)));
    }

    #[test]
    fn an_end_is_declared_when_every_end_it_was_made_of_is() {
        let (five, at_most, at_least) = (Quantity::point(5.0), Quantity::at_most(3.0), Quantity::at_least(2.0));
        assert_eq!(flags(five.plus(at_most)), (false, true));
        assert_eq!(flags(five.minus(at_most)), (true, false));
        assert_eq!(flags(five.plus(at_least)), (true, false));
        assert_eq!(flags(at_most.plus(at_least)), (false, false));
        assert_eq!(flags(five.times(at_most)), (false, true));
        assert_eq!(flags(five.negated().times(at_most)), (true, false));
        assert_eq!(flags(five.over(at_least).unwrap()), (false, true));
        assert_eq!(flags(at_most.negated()), (true, false));
        assert_eq!(flags(at_most.hull(five)), (false, true));
        assert_eq!(flags(five.hull(at_most)), (false, true));
        assert_eq!(flags(Quantity::range(-2.0, 5.0).abs()), (true, true));
    }

    #[test]
    fn the_smaller_of_a_known_and_an_unknown_is_bounded_by_the_known() {
        let guarded = Quantity::not_shown().plus(length("3 in")).min(length("72 in"));
        assert_eq!(ends(guarded), (length("3 in").lo, length("72 in").hi));
        assert_eq!(flags(guarded), (false, false));
        assert_eq!(ends(Quantity::unknown().max(Quantity::point(3.0))), (3.0, OPEN));
        assert_eq!(ends(Quantity::range(1.0, 4.0).min(Quantity::range(2.0, 3.0))), (1.0, 3.0));
        assert_eq!(ends(Quantity::range(1.0, 4.0).max(Quantity::range(2.0, 3.0))), (2.0, 4.0));
    }

    #[test]
    fn magnitude_and_hull() {
        assert_eq!(ends(Quantity::range(-2.0, 5.0).abs()), (0.0, 5.0));
        assert_eq!(ends(Quantity::range(-7.0, 5.0).abs()), (0.0, 7.0));
        assert_eq!(ends(Quantity::range(-7.0, -5.0).abs()), (5.0, 7.0));
        assert_eq!(ends(Quantity::unknown().abs()), (0.0, OPEN));
        assert_eq!(ends(Quantity::range(1.0, 2.0).hull(Quantity::range(4.0, 5.0))), (1.0, 5.0));
    }

    #[test]
    fn what_overflows_or_is_no_number_is_unknown() {
        let huge = Quantity::point(f64::MAX);
        for result in [
            huge.plus(huge),
            huge.times(huge),
            huge.negated().minus(huge),
            Quantity::unknown().plus(Quantity::unknown()),
            Quantity::point(f64::NAN).plus(Quantity::point(1.0)),
            Quantity::point(f64::NAN).times(Quantity::point(1.0)),
            Quantity::point(f64::NAN).min(Quantity::point(1.0)),
            Quantity::point(1.0).hull(Quantity::point(f64::NAN)),
            Quantity::point(f64::NAN).abs(),
            huge.over(Quantity::point(1e-300)).unwrap(),
        ] {
            assert_eq!(result, Quantity::unknown());
        }
        assert_eq!(ends(Quantity::not_shown().plus(Quantity::point(2.0))), (2.0, OPEN));
        assert_eq!(ends(Quantity::not_shown().times(Quantity::range(0.0, 5.0))), (0.0, OPEN));
    }

    #[test]
    fn a_limit_in_the_other_system_is_the_same_limit() {
        let (metric, inches) = (length("57.15 mm"), length("2 1/4 in"));
        assert!((metric.lo - inches.lo).abs() <= tolerance(metric, inches));
        let other = length("57.151 mm");
        assert!((other.lo - inches.lo).abs() > tolerance(other, inches));
    }

    fn any_range() -> impl Strategy<Value = Quantity> {
        (-1e3..1e3f64, 0.0..1e3f64, any::<bool>(), any::<bool>()).prop_map(|(lo, width, lo_declared, hi_declared)| {
            Quantity { lo_declared, hi_declared, ..Quantity::range(lo, lo + width) }
        })
    }

    fn inside(q: Quantity, share: f64) -> f64 {
        (q.lo + share * (q.hi - q.lo)).clamp(q.lo, q.hi)
    }

    proptest! {
        #[test]
        fn points_inside_the_operands_stay_inside_the_result(
            a in any_range(), b in any_range(), s in 0.0..=1.0f64, t in 0.0..=1.0f64
        ) {
            let (x, y) = (inside(a, s), inside(b, t));
            let holds = |q: Quantity, value: f64| {
                let slack = 1e-9 * q.mag.max(value.abs());
                q.lo - slack <= value && value <= q.hi + slack
            };
            prop_assert!(holds(a.plus(b), x + y));
            prop_assert!(holds(a.minus(b), x - y));
            prop_assert!(holds(a.times(b), x * y));
            prop_assert!(holds(a.negated(), -x));
            prop_assert!(holds(a.abs(), x.abs()));
            prop_assert!(holds(a.min(b), x.min(y)));
            prop_assert!(holds(a.max(b), x.max(y)));
            prop_assert!(holds(a.hull(b), x) && holds(a.hull(b), y));
            if let Some(quotient) = a.over(b) {
                prop_assert!(holds(quotient, x / y));
            } else {
                prop_assert!(b.lo <= 1e-9 * b.mag && b.hi >= -1e-9 * b.mag);
            }
        }

        #[test]
        fn the_order_of_operands_does_not_matter(a in any_range(), b in any_range()) {
            prop_assert_eq!(a.plus(b), b.plus(a));
            prop_assert_eq!(a.times(b), b.times(a));
            prop_assert_eq!(a.min(b), b.min(a));
            prop_assert_eq!(a.max(b), b.max(a));
            prop_assert_eq!(a.hull(b), b.hull(a));
        }
    }
}
