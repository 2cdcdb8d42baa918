//! Figures as text and as JSON: the value, the working, the source, what is lacking.

use serde::Serialize;

use crate::figures::{ALL, Figure, Of, Outcome, State};
use crate::quantity::{Dimension, Quantity, Shown, System, in_system, show, unit_for, units_of};

use super::text::wrap;

/// A figure with its inputs as they were written.
#[derive(Debug)]
pub struct Worked<'f> {
    /// The figure.
    pub figure: &'f Figure,
    /// The text of each input, in the figure's order; `None` where it is not given.
    pub written: Vec<Option<String>>,
    /// What it came to.
    pub outcome: Outcome,
    /// The system that most inputs are written in.
    pub system: System,
}

fn shown(system: System) -> Shown {
    Shown { system, extra_digits: 1 }
}

/// The list of figures with their inputs and units.
pub fn figures_text(width: usize) -> String {
    let mut text = String::new();
    for figure in ALL {
        text.push_str(&format!("{} ({})\n", figure.name, figure.output));
        for line in wrap(figure.title, width.saturating_sub(2)) {
            text.push_str(&format!("  {line}\n"));
        }
        for input in figure.inputs {
            let units = units_of(input.kind).join(", ");
            let assumed = input.assume.map_or_else(String::new, |(_, words)| format!("; {words} where it is left out"));
            text.push_str(&format!("    {:<16} {}: {units}{assumed}\n", input.name, input.kind.name()));
        }
        text.push('\n');
    }
    text
}

/// One figure with its working.
pub fn figure_text(worked: &Worked<'_>, width: usize) -> String {
    let figure = worked.figure;
    let mut text = match &worked.outcome.state {
        State::Computed(value) => {
            format!("{} = {}\n", figure.name, in_system(*value, figure.output, shown(worked.system)))
        }
        State::Lacking(names) => format!("{}: not computed, {} not given\n", figure.name, names.join(", ")),
        State::NotValid(reason) => format!("{}: not valid, {reason}\n", figure.name),
    };
    let mut paragraph = |head: &str, body: &str| {
        for (number, line) in wrap(body, width.saturating_sub(14)).iter().enumerate() {
            text.push_str(&format!("  {:<12}{line}\n", if number == 0 { head } else { "" }));
        }
    };
    paragraph("What", figure.title);
    paragraph("Formula", figure.formula);
    for (input, written) in figure.inputs.iter().zip(&worked.written) {
        let value = match (written, worked.outcome.assumed.iter().find(|(name, _)| *name == input.name)) {
            (Some(written), _) => written.clone(),
            (None, Some((_, words))) => format!("{words} (assumed)"),
            (None, None) => "not given".to_owned(),
        };
        paragraph("", &format!("{} = {value}", input.name));
    }
    for constant in figure.constants {
        paragraph("", constant.source);
    }
    paragraph("Source", figure.source);
    paragraph("Valid", figure.validity);
    paragraph("", "A figure is a check and no design.");
    text
}

#[derive(Serialize)]
struct FigureJson<'f> {
    name: &'f str,
    of: &'f str,
    value: Option<Number>,
    unit: Option<&'static str>,
    si: Option<Number>,
    text: Option<String>,
    inputs: Vec<InputJson<'f>>,
    formula: &'f str,
    source: &'f str,
    state: &'f str,
    because: Option<String>,
    assumed: Vec<[&'f str; 2]>,
}

#[derive(Serialize)]
struct InputJson<'f> {
    name: &'f str,
    text: Option<&'f str>,
}

/// A number, or the two ends of a range.
#[derive(Serialize)]
#[serde(untagged)]
enum Number {
    One(f64),
    Range([f64; 2]),
}

impl Number {
    fn of(value: Quantity, factor: f64) -> Number {
        if value.lo == value.hi {
            Number::One(value.lo / factor)
        } else {
            Number::Range([value.lo / factor, value.hi / factor])
        }
    }
}

/// One figure for programs.
pub fn figure_json(worked: &Worked<'_>) -> String {
    let figure = worked.figure;
    let (state, because) = match &worked.outcome.state {
        State::Computed(_) => ("computed", None),
        State::Lacking(names) => ("lacking", Some(format!("not given: {}", names.join(", ")))),
        State::NotValid(reason) => ("not_valid", Some(reason.clone())),
    };
    let value = match &worked.outcome.state {
        State::Computed(value) => Some(*value),
        _ => None,
    };
    let unit = unit_of(figure.output, value, worked.system);
    let report = FigureJson {
        name: figure.name,
        of: match figure.of {
            Of::Gate => "gate",
            Of::Post => "post",
        },
        value: value.map(|value| Number::of(value, unit.map_or(1.0, |(_, factor)| factor))),
        unit: unit.map(|(name, _)| name),
        si: value.map(|value| Number::of(value, 1.0)),
        text: value.map(|value| show(value, figure.output, shown(worked.system))),
        inputs: figure
            .inputs
            .iter()
            .zip(&worked.written)
            .map(|(input, written)| InputJson { name: input.name, text: written.as_deref() })
            .collect(),
        formula: figure.formula,
        source: figure.source,
        state,
        because,
        assumed: worked.outcome.assumed.iter().map(|(name, words)| [*name, *words]).collect(),
    };
    serde_json::to_string_pretty(&report).map_or_else(|error| error.to_string(), |text| text + "\n")
}

fn unit_of(dimension: Dimension, value: Option<Quantity>, system: System) -> Option<(&'static str, f64)> {
    let size = value?.hi.abs();
    if dimension.is_none() { None } else { Some(unit_for(size, dimension, system)) }
}
