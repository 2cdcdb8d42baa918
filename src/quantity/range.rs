//! A number as a closed range, mostly of width zero.
//!
//! The one numeric type of the program: fields hold it, rules compute with it, figures take and give it.

/// A closed range in SI units (metres, newtons, seconds, radians; days since 1970-01-01 for a date).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// Lower end.
    pub lo: f64,
    /// Upper end; infinite where nothing bounds it.
    pub hi: f64,
    /// Largest magnitude that was added or subtracted to make it: sets the tolerance of comparisons.
    pub mag: f64,
    /// Whether the submittal states the lower end. `5 in max` is [0, 5 in] with only the upper end declared.
    pub lo_declared: bool,
    /// Whether the submittal states the upper end.
    pub hi_declared: bool,
}

impl Quantity {
    /// One value.
    pub fn point(value: f64) -> Self {
        Quantity::range(value, value)
    }

    /// A range with both ends declared.
    pub fn range(lo: f64, hi: f64) -> Self {
        Quantity { lo, hi, mag: lo.abs().max(hi.abs()), lo_declared: true, hi_declared: true }
    }

    /// `5 in max`: the upper end is declared, the lower is zero (no value of the vocabulary carries a sign).
    pub fn at_most(hi: f64) -> Self {
        Quantity { lo_declared: false, ..Quantity::range(0.0, hi) }
    }

    /// `3 in min`: the lower end is declared, nothing bounds the upper.
    pub fn at_least(lo: f64) -> Self {
        Quantity { hi: f64::INFINITY, mag: lo.abs(), hi_declared: false, ..Quantity::point(lo) }
    }

    /// A value that is not shown: anything from zero up.
    pub fn not_shown() -> Self {
        Quantity { lo: 0.0, hi: f64::INFINITY, mag: 0.0, lo_declared: false, hi_declared: false }
    }

    /// Nothing is known, not even a sign.
    pub fn unknown() -> Self {
        Quantity { lo: f64::NEG_INFINITY, ..Quantity::not_shown() }
    }

    /// Whether both ends are declared.
    pub fn is_shown(self) -> bool {
        self.lo_declared && self.hi_declared
    }

    /// Whether it is a single declared value.
    pub fn is_point(self) -> bool {
        self.is_shown() && self.lo == self.hi
    }
}
