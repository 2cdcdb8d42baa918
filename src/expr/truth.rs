//! A truth is the set of what it can still turn out to be, over false < varies < true.
//!
//! Known values give one member; a declared range on both sides of a limit gives `varies`; a value that is not shown
//! gives several. Not applicable is the empty set: neutral in `and` and `or`, left alone by `not`. So an unknown never
//! passes and never fails alone, and `A and B` with A violated is not met whatever B turns out to be.

/// A set over false, varies, true.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Truth(u8);

impl Truth {
    /// Not applicable.
    pub const NOT_APPLICABLE: Truth = Truth(0);
    /// False.
    pub const FALSE: Truth = Truth(1);
    /// True at one end of a declared range and false at the other.
    pub const VARIES: Truth = Truth(2);
    /// True.
    pub const TRUE: Truth = Truth(4);
    /// A yes/no or choice that is not shown.
    pub const FALSE_OR_TRUE: Truth = Truth(5);
    /// Unknown, but in no case true.
    pub const FALSE_OR_VARIES: Truth = Truth(3);
    /// Unknown, but in no case false.
    pub const VARIES_OR_TRUE: Truth = Truth(6);
    /// A number that is not shown.
    pub const UNKNOWN: Truth = Truth(7);

    /// A known truth.
    pub fn known(value: bool) -> Truth {
        if value { Truth::TRUE } else { Truth::FALSE }
    }

    /// Whether it is exactly true.
    pub fn is_true(self) -> bool {
        self == Truth::TRUE
    }

    /// Whether it is exactly false.
    pub fn is_false(self) -> bool {
        self == Truth::FALSE
    }

    /// Whether nothing can be said because it does not apply.
    pub fn is_not_applicable(self) -> bool {
        self == Truth::NOT_APPLICABLE
    }

    /// Whether it may still turn out true.
    pub fn may_be_true(self) -> bool {
        self.0 & Truth::TRUE.0 != 0
    }

    /// Whether it may still turn out false.
    pub fn may_be_false(self) -> bool {
        self.0 & Truth::FALSE.0 != 0
    }

    /// Whether more than one outcome is open: something is not shown.
    pub fn is_open(self) -> bool {
        self.0.count_ones() > 1
    }

    /// Whether it varies over a declared range, possibly among other outcomes.
    pub fn may_vary(self) -> bool {
        self.0 & Truth::VARIES.0 != 0
    }

    /// The contrary.
    #[must_use]
    #[allow(clippy::should_implement_trait)] // reads beside `and` and `or`, which have no operator
    pub fn not(self) -> Truth {
        Truth((self.0 & 2) | ((self.0 & 1) << 2) | ((self.0 & 4) >> 2))
    }

    /// The smaller of every pair of members; not applicable is neutral.
    #[must_use]
    pub fn and(self, other: Truth) -> Truth {
        AND[usize::from(self.0)][usize::from(other.0)]
    }

    /// The larger of every pair of members; not applicable is neutral.
    #[must_use]
    pub fn or(self, other: Truth) -> Truth {
        OR[usize::from(self.0)][usize::from(other.0)]
    }
}

/// `and` of any two sets, worked out once.
const AND: [[Truth; 8]; 8] = of_pairs(false);
/// `or` of any two sets.
const OR: [[Truth; 8]; 8] = of_pairs(true);

const fn of_pairs(larger: bool) -> [[Truth; 8]; 8] {
    let mut table = [[Truth::NOT_APPLICABLE; 8]; 8];
    let mut left = 0;
    while left < 8 {
        let mut right = 0;
        while right < 8 {
            table[left as usize][right as usize] = Truth(one_of_each_pair(left, right, larger));
            right += 1;
        }
        left += 1;
    }
    table
}

/// The smaller or the larger of each pair of members of two sets; the other set where one is empty.
const fn one_of_each_pair(left: u8, right: u8, larger: bool) -> u8 {
    if left == 0 || right == 0 {
        return left | right;
    }
    let mut set = 0;
    let mut a = 1;
    while a <= 4 {
        let mut b = 1;
        while b <= 4 {
            if left & a != 0 && right & b != 0 {
                set |= if (a < b) != larger { a } else { b };
            }
            b *= 2;
        }
        a *= 2;
    }
    set
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Truth; 8] = [Truth(0), Truth(1), Truth(2), Truth(3), Truth(4), Truth(5), Truth(6), Truth(7)];

    /// The table of the language's definition, row by row.
    #[test]
    fn and_and_or_follow_the_table() {
        let (f, v, u, t) = (Truth::FALSE, Truth::VARIES, Truth::UNKNOWN, Truth::TRUE);
        let and = [[f, f, f, f], [f, v, Truth::FALSE_OR_VARIES, v], [f, Truth::FALSE_OR_VARIES, u, u], [f, v, u, t]];
        let or = [[f, v, u, t], [v, v, Truth::VARIES_OR_TRUE, t], [u, Truth::VARIES_OR_TRUE, u, t], [t, t, t, t]];
        for (i, a) in [f, v, u, t].into_iter().enumerate() {
            for (j, b) in [f, v, u, t].into_iter().enumerate() {
                assert_eq!(a.and(b), and[i][j], "{a:?} and {b:?}");
                assert_eq!(a.or(b), or[i][j], "{a:?} or {b:?}");
            }
        }
    }

    #[test]
    fn the_laws_hold_with_not_applicable_adjoined() {
        for a in ALL {
            assert_eq!(a.not().not(), a);
            assert_eq!(a.and(Truth::NOT_APPLICABLE), a);
            assert_eq!(a.or(Truth::NOT_APPLICABLE), a);
            for b in ALL {
                assert_eq!(a.and(b), b.and(a));
                assert_eq!(a.and(b).not(), a.not().or(b.not()), "De Morgan for {a:?}, {b:?}");
                for c in ALL {
                    assert_eq!(a.and(b).and(c), a.and(b.and(c)));
                }
            }
        }
    }
}
