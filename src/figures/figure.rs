//! What a figure is.

use crate::quantity::{Dimension, QuantityKind};

/// What a figure is a figure of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A gate.
    Gate,
    /// A post.
    Post,
}

/// How a figure behaves over a range of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Over {
    /// It rises or falls all the way (which of the two may depend on the other inputs): the ends decide.
    Monotone,
    /// It changes its course at these SI values: they are looked at too, where they lie inside the range.
    Breaks(&'static [f64]),
    /// A range is refused: its worst place lies inside.
    OneValue,
}

/// A named input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// Its name, as `compute` takes it.
    pub name: &'static str,
    /// What it measures.
    pub kind: QuantityKind,
    /// What it means.
    pub meaning: &'static str,
    /// The field of a submittal that it is read from, where there is one.
    pub field: Option<&'static str>,
    /// The field that is read instead where it is shown: the span of one leaf of a pair before the opening.
    pub sooner: Option<&'static str>,
    /// How the figure behaves over a range of it.
    pub over: Over,
    /// The value that stands in where it is not shown (SI), with the words for it.
    pub assume: Option<(f64, &'static str)>,
}

/// A number with a dimension that the formula holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constant {
    /// SI value.
    pub value: f64,
    /// Its dimension.
    pub dimension: Dimension,
    /// What it is and where it comes from.
    pub source: &'static str,
}

/// Why a figure has no value at a point: in words, to be printed.
pub type NotValid = String;

/// One computed quantity.
#[derive(Debug)]
pub struct Figure {
    /// Its name.
    pub name: &'static str,
    /// What it is, in one line.
    pub title: &'static str,
    /// What it is a figure of.
    pub of: Of,
    /// Its inputs, in the order the function takes them.
    pub inputs: &'static [Input],
    /// Its dimensional constants, in the order the function takes them.
    pub constants: &'static [Constant],
    /// Dimension of its value.
    pub output: Dimension,
    /// Its formula, in the names of its inputs.
    pub formula: &'static str,
    /// Where the formula comes from, and how it is known.
    pub source: &'static str,
    /// Where it must not be used.
    pub validity: &'static str,
    /// The function: inputs and constants in SI.
    pub point: fn(&[f64], &[f64]) -> Result<f64, NotValid>,
}

impl Input {
    /// An input that is read from a field and over which the figure is monotone.
    pub(super) const fn of(
        name: &'static str,
        kind: QuantityKind,
        meaning: &'static str,
        field: Option<&'static str>,
    ) -> Input {
        Input { name, kind, meaning, field, sooner: None, over: Over::Monotone, assume: None }
    }
}
