//! A figure with its working: what a worksheet and `compute` print.

use super::evaluate::State;
use super::figure::Figure;
use crate::quantity::System;

/// An input of a figure with the value put in.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedInput {
    /// Its name.
    pub name: &'static str,
    /// The value: as written, or as another figure gave it; `None` where there is none.
    pub text: Option<String>,
    /// Whether it is assumed.
    pub assumed: bool,
}

/// A figure with its working.
#[derive(Debug, Clone)]
pub struct Worked {
    /// The figure.
    pub figure: &'static Figure,
    /// The element it is of, in words; `None` where it is of the gate.
    pub element: Option<String>,
    /// Its own inputs, in order.
    pub inputs: Vec<WorkedInput>,
    /// What it came to.
    pub state: State,
    /// The facts it lacks.
    pub lacking: Vec<String>,
    /// What was assumed anywhere under it, each with the words for the value.
    pub assumed: Vec<(String, String)>,
    /// The system that values are printed in.
    pub system: System,
}

impl Worked {
    /// The values put into the formula, one each.
    pub fn put_in(&self) -> Vec<String> {
        let line = |input: &WorkedInput| {
            let text = input.text.as_ref()?;
            Some(format!("{} = {text}{}", input.name, if input.assumed { " (assumed)" } else { "" }))
        };
        self.inputs.iter().filter_map(line).collect()
    }
}
