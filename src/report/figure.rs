//! Figures as text and as JSON: the value, the working, the source, what is lacking.
//!
//! Called by `compute` for one figure and by the worksheet for all of a gate.

use serde::Serialize;

use crate::figures::{Absent, Input, InputKind, Source, State, Worked, all};
use crate::quantity::{Dimension, Quantity, QuantityKind, Shown, System, in_system, show, unit_for, units_of};

use super::text::wrap;

fn shown(system: System) -> Shown {
    Shown { system, extra_digits: 1 }
}

/// What an input takes, in words.
fn takes(input: &Input) -> String {
    match input.kind {
        InputKind::Quantity(kind @ QuantityKind::Count) => kind.name().to_owned(),
        InputKind::Quantity(QuantityKind::Slope) => "slope, as 1:50 or in %".to_owned(),
        InputKind::Quantity(QuantityKind::Ratio) => "ratio, plain or in %".to_owned(),
        InputKind::Quantity(kind) => format!("{} in {}", kind.name(), units_of(kind).join(", ")),
        InputKind::Choice(names) => format!("one of {}", names.join(", ")),
        InputKind::Choices(names) => format!("some of {}", names.join(", ")),
        InputKind::YesNo => "yes or no".to_owned(),
        InputKind::Stated => "a text".to_owned(),
        InputKind::Rows(columns) => {
            let row: Vec<String> =
                columns.iter().map(|column| format!("{}{}", column.after, column.name.to_uppercase())).collect();
            format!("'{}', once for each", row.concat().replace(',', ", "))
        }
    }
}

/// The list of figures with their inputs and units.
pub fn figures_text(width: usize) -> String {
    let mut text = String::new();
    for figure in all() {
        text.push_str(&format!("{} ({}, of {})\n", figure.name, figure.output, figure.of.words()));
        for line in wrap(figure.title, width.saturating_sub(2)) {
            text.push_str(&format!("  {line}\n"));
        }
        for input in figure.inputs {
            let absent = match input.absent {
                Absent::Assume(_, words) => format!("; {words} where it is left out"),
                Absent::Optional => "; may be left out".to_owned(),
                Absent::Lacking => String::new(),
            };
            let from = match input.source {
                Source::Figure(other) => format!("; or the inputs of {}", other.name),
                _ => String::new(),
            };
            let line = format!("{}: {}{absent}{from}", input.name, takes(input));
            for (number, line) in wrap(&line, width.saturating_sub(6)).iter().enumerate() {
                text.push_str(&format!("    {}{line}\n", if number == 0 { "" } else { "  " }));
            }
        }
        text.push('\n');
    }
    text
}

#[derive(Serialize)]
struct Listed {
    name: &'static str,
    of: &'static str,
    title: &'static str,
    measures: String,
    inputs: Vec<ListedInput>,
    formula: &'static str,
    source: &'static str,
    validity: &'static str,
}

#[derive(Serialize)]
struct ListedInput {
    name: &'static str,
    meaning: &'static str,
    takes: String,
    assumed: Option<&'static str>,
    optional: bool,
    figure: Option<&'static str>,
    fields: &'static [&'static str],
}

/// The list of figures for programs.
pub fn figures_json() -> String {
    let input = |input: &Input| ListedInput {
        name: input.name,
        meaning: input.meaning,
        takes: takes(input),
        assumed: match input.absent {
            Absent::Assume(_, words) => Some(words),
            _ => None,
        },
        optional: input.absent == Absent::Optional,
        figure: match input.source {
            Source::Figure(other) => Some(other.name),
            _ => None,
        },
        fields: match input.source {
            Source::Fields(fields) => fields,
            _ => &[],
        },
    };
    let list: Vec<Listed> = all()
        .map(|figure| Listed {
            name: figure.name,
            of: figure.of.word(),
            title: figure.title,
            measures: figure.output.to_string(),
            inputs: figure.inputs.iter().map(input).collect(),
            formula: figure.formula,
            source: figure.source,
            validity: figure.validity,
        })
        .collect();
    super::json::pretty(&list)
}

/// One figure with its working.
pub fn figure_text(worked: &Worked, width: usize) -> String {
    let figure = worked.figure;
    let mut text = wrap(&headline(worked), width).join("\n") + "\n";
    let mut paragraph = |head: &str, body: &str| {
        for (number, line) in wrap(body, width.saturating_sub(14)).iter().enumerate() {
            text.push_str(&format!("  {:<12}{line}\n", if number == 0 { head } else { "" }));
        }
    };
    paragraph("What", figure.title);
    paragraph("Formula", figure.formula);
    for line in worked.put_in() {
        paragraph("", &line);
    }
    for constant in figure.constants {
        paragraph("", constant.source);
    }
    paragraph("Source", figure.source);
    paragraph("Valid", figure.validity);
    paragraph(
        "Caution",
        "A figure is a check of the values given and no design; whether it suffices is not said here.",
    );
    text
}

/// `travel = 24 ft 6 in`, or why it has no value.
pub fn headline(worked: &Worked) -> String {
    let figure = worked.figure;
    match &worked.state {
        State::Computed(value) => {
            format!("{} = {}", figure.name, in_system(*value, figure.output, shown(worked.system)))
        }
        State::Bounded(value, _) => format!(
            "{} = {}, not settled: {} not shown",
            figure.name,
            bounds(*value, figure.output, worked.system),
            worked.lacking.join(", ")
        ),
        State::Lacking(_) => format!("{}: not computed, {} not shown", figure.name, worked.lacking.join(", ")),
        State::NotValid(reason) | State::OverRange(reason) => format!("{}: not valid, {reason}", figure.name),
    }
}

fn bounds(value: Quantity, dimension: Dimension, system: System) -> String {
    let print = |end: f64| in_system(Quantity::point(end), dimension, shown(system));
    if value.hi.is_finite() {
        format!("{} to {}", print(value.lo), print(value.hi))
    } else {
        format!("{} or more", print(value.lo))
    }
}

#[derive(Serialize)]
pub(super) struct FigureJson<'f> {
    name: &'f str,
    of: &'f str,
    element: Option<&'f str>,
    value: Option<Number>,
    unit: Option<&'static str>,
    si: Option<Number>,
    text: Option<String>,
    inputs: Vec<InputJson<'f>>,
    formula: &'f str,
    source: &'f str,
    validity: &'f str,
    state: &'f str,
    because: Option<String>,
    assumed: Vec<[&'f str; 2]>,
}

#[derive(Serialize)]
struct InputJson<'f> {
    name: &'f str,
    text: Option<&'f str>,
    assumed: bool,
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

/// One figure, ready to be serialized.
pub(super) fn figure_entry(worked: &Worked) -> FigureJson<'_> {
    let figure = worked.figure;
    let (state, because) = match &worked.state {
        State::Computed(_) => ("computed", None),
        State::Bounded(value, _) => {
            let bounds = bounds(*value, figure.output, worked.system);
            ("lacking", Some(format!("not shown: {}; it lies at {bounds}", worked.lacking.join(", "))))
        }
        State::Lacking(_) => ("lacking", Some(format!("not shown: {}", worked.lacking.join(", ")))),
        State::NotValid(reason) | State::OverRange(reason) => ("not_valid", Some(reason.clone())),
    };
    let value = match &worked.state {
        State::Computed(value) => Some(*value),
        _ => None,
    };
    let unit = value.and_then(|value| unit_of(figure.output, value, worked.system));
    FigureJson {
        name: figure.name,
        of: figure.of.word(),
        element: worked.element.as_deref(),
        value: value.map(|value| Number::of(value, unit.map_or(1.0, |(_, factor)| factor))),
        unit: unit.map(|(name, _)| name),
        si: value.map(|value| Number::of(value, 1.0)),
        text: value.map(|value| show(value, figure.output, shown(worked.system))),
        inputs: worked
            .inputs
            .iter()
            .map(|input| InputJson { name: input.name, text: input.text.as_deref(), assumed: input.assumed })
            .collect(),
        formula: figure.formula,
        source: figure.source,
        validity: figure.validity,
        state,
        because,
        assumed: worked.assumed.iter().map(|(name, words)| [name.as_str(), words.as_str()]).collect(),
    }
}

/// One figure for programs.
pub fn figure_json(worked: &Worked) -> String {
    let report = figure_entry(worked);
    super::json::pretty(&report)
}

fn unit_of(dimension: Dimension, value: Quantity, system: System) -> Option<(&'static str, f64)> {
    let size = value.hi.abs().max(value.lo.abs());
    if dimension.is_none() { None } else { Some(unit_for(size, dimension, system)) }
}
