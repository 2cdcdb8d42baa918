//! Two truths to an outcome.

use super::finding::Outcome;
use crate::expr::Truth;

/// The outcome of a rule from the truths of its `when` and its `require`.
///
/// Met holds also where it is open whether the rule applies, as long as its requirement holds; not met also where only
/// part of a declared range violates it.
pub fn outcome(when: Truth, require: Truth) -> Outcome {
    if when.is_false() || when.is_not_applicable() || require.is_not_applicable() {
        return Outcome::DoesNotApply;
    }
    let both = when.not().or(require);
    if both.is_true() {
        Outcome::Met
    } else if !both.may_be_true() {
        Outcome::NotMet
    } else {
        Outcome::NotShown
    }
}

/// The worse of two outcomes of one rule over the elements of a list.
pub fn worse(a: Outcome, b: Outcome) -> Outcome {
    let rank = |outcome: Outcome| match outcome {
        Outcome::NotMet => 0,
        Outcome::NotShown => 1,
        Outcome::Met => 2,
        Outcome::DoesNotApply => 3,
    };
    if rank(a) <= rank(b) { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table of the language's definition, row by row.
    #[test]
    fn outcomes_follow_the_table() {
        use Outcome::{DoesNotApply as D, Met as M, NotMet as N, NotShown as S};
        let truths = [Truth::FALSE, Truth::VARIES, Truth::UNKNOWN, Truth::TRUE];
        let table = [[D, D, D, D], [N, N, S, M], [S, S, S, M], [N, N, S, M]];
        for (i, when) in truths.into_iter().enumerate() {
            for (j, require) in truths.into_iter().enumerate() {
                assert_eq!(outcome(when, require), table[i][j], "when {when:?}, require {require:?}");
            }
        }
        assert_eq!(outcome(Truth::TRUE, Truth::FALSE_OR_VARIES), N);
        assert_eq!(outcome(Truth::NOT_APPLICABLE, Truth::FALSE), D);
        assert_eq!(outcome(Truth::TRUE, Truth::NOT_APPLICABLE), D);
    }

    #[test]
    fn the_worst_element_decides() {
        assert_eq!(worse(Outcome::Met, Outcome::NotShown), Outcome::NotShown);
        assert_eq!(worse(Outcome::NotMet, Outcome::NotShown), Outcome::NotMet);
        assert_eq!(worse(Outcome::DoesNotApply, Outcome::Met), Outcome::Met);
    }
}
