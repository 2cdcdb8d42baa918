//! A figure with its inputs set by name, in SI.

use gatewright::figures::{InputKind, Outcome, Plan, RootValue, State, evaluate, find};
use gatewright::quantity::Quantity;

/// A figure with the inputs given so far; the others are not shown.
#[derive(Debug, Clone)]
pub struct Asked {
    pub plan: Plan,
    pub values: Vec<RootValue>,
}

impl Asked {
    /// A figure whose own inputs are given, also those that another figure could give.
    pub fn own(figure: &str) -> Asked {
        Asked::of(Plan::with(find(figure).unwrap_or_else(|| panic!("no figure {figure}")), &|_| true))
    }

    /// A figure down to the fields.
    pub fn whole(figure: &str) -> Asked {
        Asked::of(Plan::of(find(figure).unwrap_or_else(|| panic!("no figure {figure}"))))
    }

    pub fn of(plan: Plan) -> Asked {
        let values = vec![RootValue::Absent; plan.roots.len()];
        Asked { plan, values }
    }

    fn root(&self, name: &str) -> usize {
        let known = || self.plan.roots.iter().map(|root| root.name).collect::<Vec<_>>();
        let at = self.plan.roots.iter().position(|root| root.name == name);
        at.unwrap_or_else(|| panic!("{} has no input {name}: {:?}", self.plan.figure.name, known()))
    }

    /// A measured value, or the number of a yes.
    pub fn with(self, name: &str, value: f64) -> Asked {
        self.value_of(name, RootValue::Value(Quantity::point(value)))
    }

    /// Measured values that lie next to each other in a list.
    pub fn with_all<const N: usize>(self, values: [(&str, f64); N]) -> Asked {
        values.into_iter().fold(self, |asked, (name, value)| asked.with(name, value))
    }

    pub fn range(self, name: &str, lo: f64, hi: f64) -> Asked {
        self.value_of(name, RootValue::Value(Quantity::range(lo, hi)))
    }

    /// One or more words of a choice.
    pub fn choose(self, name: &str, words: &[&str]) -> Asked {
        let root = self.root(name);
        let place = |names: &[&str], word: &str| {
            names.iter().position(|known| *known == word).unwrap_or_else(|| panic!("{word} is none of {names:?}"))
        };
        let value = match self.plan.roots[root].kind {
            InputKind::Choice(names) => place(names, words[0]) as f64,
            InputKind::Choices(names) => words.iter().map(|word| f64::from(1u32 << place(names, word))).sum(),
            other => panic!("{name} is no choice but {other:?}"),
        };
        self.with(name, value)
    }

    pub fn rows<const N: usize>(self, name: &str, rows: &[[f64; N]]) -> Asked {
        let cells = rows.iter().flatten().map(|cell| Quantity::point(*cell)).collect();
        self.value_of(name, RootValue::Rows(cells))
    }

    pub fn value_of(mut self, name: &str, value: RootValue) -> Asked {
        let root = self.root(name);
        self.values[root] = value;
        self
    }

    pub fn outcome(&self) -> Outcome {
        evaluate(&self.plan, &self.values)
    }

    /// The names of roots by their numbers.
    pub fn names(&self, roots: &[usize]) -> Vec<&'static str> {
        roots.iter().map(|root| self.plan.roots[*root].name).collect()
    }

    /// The range that it comes to.
    pub fn span(&self) -> Quantity {
        match self.outcome().state {
            State::Computed(value) => value,
            State::Lacking(roots) => panic!("{}: lacking {:?}", self.plan.figure.name, self.names(&roots)),
            other => panic!("{}: {other:?}", self.plan.figure.name),
        }
    }

    /// The one value that it comes to.
    pub fn value(&self) -> f64 {
        let span = self.span();
        assert!(span.is_point(), "{}: {span:?}", self.plan.figure.name);
        span.lo
    }

    /// Why it is not valid.
    pub fn refusal(&self) -> String {
        match self.outcome().state {
            State::NotValid(reason) => reason,
            other => panic!("{}: {other:?}", self.plan.figure.name),
        }
    }

    /// Why it has no value over the ranges that are put in.
    pub fn refused_range(&self) -> String {
        match self.outcome().state {
            State::OverRange(reason) => reason,
            other => panic!("{}: {other:?}", self.plan.figure.name),
        }
    }
}
