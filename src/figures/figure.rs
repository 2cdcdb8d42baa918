//! What a figure is: a name, typed inputs, the formula in words and as a function of points, its source and limits.

use super::point::Point;
use crate::quantity::{Dimension, QuantityKind};

/// What a figure is a figure of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A gate.
    Gate,
    /// A support post or a latch post; its fields are written `post.x`.
    Post,
    /// A joint in a track; its fields are written `splice.x`.
    Splice,
    /// A panel of the leaf; its fields are written `panel.x`.
    Panel,
}

impl Of {
    /// In words, with the article.
    pub fn words(self) -> &'static str {
        match self {
            Of::Gate => "the gate",
            Of::Post => "a post",
            Of::Splice => "a splice",
            Of::Panel => "a panel",
        }
    }

    /// In one word, as JSON has it.
    pub fn word(self) -> &'static str {
        match self {
            Of::Gate => "gate",
            Of::Post => "post",
            Of::Splice => "splice",
            Of::Panel => "panel",
        }
    }
}

/// What an input holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InputKind {
    /// A measured value.
    Quantity(QuantityKind),
    /// One of these words; the function gets its number in this list.
    Choice(&'static [&'static str]),
    /// Some of these words; the function gets the set as a sum of powers of two.
    Choices(&'static [&'static str]),
    /// Yes or no; the function gets 1 or 0.
    YesNo,
    /// Whether a text is there; the function gets 1.
    Stated,
    /// Any number of rows of measured values.
    Rows(&'static [Column]),
}

/// A column of an input of rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What it measures.
    pub kind: QuantityKind,
    /// The field of a list's element that it is read from.
    pub field: &'static str,
    /// What stands before it on a command line: `, ` or ` at `.
    pub after: &'static str,
}

/// Where an input comes from in a submittal.
#[derive(Debug, Clone, Copy)]
pub enum Source {
    /// No field gives it: it is for the command line, or optional.
    CommandLine,
    /// The first of these fields that is shown. They begin with `gate.`, `site.`, or the name of the element.
    Fields(&'static [&'static str]),
    /// Another figure.
    Figure(&'static Figure),
}

/// How a figure behaves over a range of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Over {
    /// It rises or falls all the way (which of the two may depend on the other inputs): the ends decide.
    Monotone,
    /// It changes its course at these SI values: they are looked at too, where they lie inside the range.
    Breaks(&'static [f64]),
    /// A range is refused, of the input or of any field that the figures under it read: its worst place may lie inside.
    OneValue,
}

/// What an input is where it is not shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Absent {
    /// The figure cannot be computed.
    Lacking,
    /// This SI value stands in, in these words; reports say that it is assumed.
    Assume(f64, &'static str),
    /// The figure does without it; the function gets no number.
    Optional,
}

/// A named input.
#[derive(Debug, Clone, Copy)]
pub struct Input {
    /// Its name, as `compute` takes it.
    pub name: &'static str,
    /// What it holds.
    pub kind: InputKind,
    /// What it means.
    pub meaning: &'static str,
    /// Where it comes from in a submittal.
    pub source: Source,
    /// How the figure behaves over a range of it.
    pub over: Over,
    /// What it is where it is not shown.
    pub absent: Absent,
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

/// Why a figure has no value at a point.
#[derive(Debug, Clone, PartialEq)]
pub enum NoValue {
    /// Outside its limits: why, in words to be printed.
    NotValid(String),
    /// These of its inputs, optional one by one, are needed here.
    Lacking(&'static [&'static str]),
}

/// How a figure is worked out.
#[derive(Debug, Clone, Copy)]
pub enum Work {
    /// A function of single values.
    Point(fn(&Point<'_>) -> Result<f64, NoValue>),
    /// One of its inputs, each a field: the function says which by its number. Reports then show that field itself.
    Chosen(fn(&Point<'_>) -> Result<usize, NoValue>),
    /// The largest of other figures.
    Largest(&'static [&'static Figure]),
    /// The smallest of other figures.
    Smallest(&'static [&'static Figure]),
    /// Another figure without its sign.
    Magnitude(&'static Figure),
    /// The largest of the figures of those cases that the input names. While no case is named, it lies between the first
    /// figure and the largest of all.
    Claimed(&'static Input, &'static [&'static Figure]),
}

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
    /// How it is worked out.
    pub work: Work,
}

impl Figure {
    /// One that is of this and has this dimension, and that the files of the subjects fill in.
    pub(super) const fn blank(of: Of, output: Dimension) -> Figure {
        Figure {
            name: "",
            title: "",
            of,
            inputs: &[],
            constants: &[],
            output,
            formula: "",
            source: "",
            validity: "",
            work: Work::Point(|_| not_valid("it has no formula")),
        }
    }

    /// The figures whose largest, smallest or absolute value it takes.
    pub fn taken_from(&self) -> impl Iterator<Item = &'static Figure> + use<> {
        let (several, one): (&'static [&'static Figure], _) = match self.work {
            Work::Point(_) | Work::Chosen(_) => (&[], None),
            Work::Largest(parts) | Work::Smallest(parts) | Work::Claimed(_, parts) => (parts, None),
            Work::Magnitude(part) => (&[], Some(part)),
        };
        several.iter().copied().chain(one)
    }

    /// The figures that it takes its value from or reads.
    pub fn parts(&self) -> impl Iterator<Item = &'static Figure> {
        let read = self.inputs.iter().filter_map(|input| match input.source {
            Source::Figure(other) => Some(other),
            Source::Fields(_) | Source::CommandLine => None,
        });
        self.taken_from().chain(read)
    }

    /// The value at a point, where the figure is a function of points.
    pub(super) fn value(&self, point: &Point<'_>) -> Result<f64, NoValue> {
        match self.work {
            Work::Point(function) => function(point),
            Work::Chosen(choose) => choose(point).map(|input| point.number(input)),
            Work::Largest(_) | Work::Smallest(_) | Work::Magnitude(_) | Work::Claimed(..) => {
                not_valid("it is taken from other figures")
            }
        }
    }
}

/// An error that says why a figure does not hold.
pub(super) fn not_valid<T>(reason: impl Into<String>) -> Result<T, NoValue> {
    Err(NoValue::NotValid(reason.into()))
}

impl Input {
    /// An input of a measured value, over which the figure is monotone, read from the first of these fields that is
    /// shown; without fields it is for the command line.
    pub(super) const fn of(
        name: &'static str,
        kind: QuantityKind,
        meaning: &'static str,
        fields: &'static [&'static str],
    ) -> Input {
        Input::any(name, InputKind::Quantity(kind), meaning, fields)
    }

    /// An input of any kind.
    pub(super) const fn any(
        name: &'static str,
        kind: InputKind,
        meaning: &'static str,
        fields: &'static [&'static str],
    ) -> Input {
        let source = if fields.is_empty() { Source::CommandLine } else { Source::Fields(fields) };
        Input { name, kind, meaning, source, over: Over::Monotone, absent: Absent::Lacking }
    }

    /// An input that another figure gives.
    pub(super) const fn figure(
        name: &'static str,
        kind: QuantityKind,
        meaning: &'static str,
        figure: &'static Figure,
    ) -> Input {
        Input { source: Source::Figure(figure), ..Input::of(name, kind, meaning, &[]) }
    }

    /// The same, with a value that stands in where it is not shown.
    pub(super) const fn assumed(self, value: f64, words: &'static str) -> Input {
        Input { absent: Absent::Assume(value, words), ..self }
    }

    /// The same, where the figure can do without.
    pub(super) const fn optional(self) -> Input {
        Input { absent: Absent::Optional, ..self }
    }

    /// The same, with the values at which the figure changes its course.
    pub(super) const fn breaks(self, at: &'static [f64]) -> Input {
        Input { over: Over::Breaks(at), ..self }
    }

    /// The same, refusing a range.
    pub(super) const fn one_value(self) -> Input {
        Input { over: Over::OneValue, ..self }
    }
}
