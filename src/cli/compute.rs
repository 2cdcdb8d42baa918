//! `gatewright compute`: one figure from values on the command line.

use super::args::{ComputeArgs, ListFormat, Look};
use super::exit::Exit;
use super::output::{note, print};
use super::resolve::look;
use crate::figures::{ALL, Figure, State, evaluate, find};
use crate::quantity::{System, read};
use crate::report::{Worked, figure_json, figure_text, figures_text};
use crate::vocabulary::nearest_name;

/// Runs the command.
pub fn run(arguments: &ComputeArgs, how: &Look) -> Exit {
    let width = look(how).width;
    let Some(name) = &arguments.name else { return print(&figures_text(width)) };
    let Some(figure) = find(name) else {
        let known = ALL.into_iter().map(|figure| figure.name);
        let hint = match nearest_name(name, known.clone()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the figures are {}", known.collect::<Vec<_>>().join(", ")),
        };
        note(&format!("gatewright: no figure is called `{name}`; {hint}"));
        return Exit::Usage;
    };
    let worked = match worked(figure, &arguments.values) {
        Ok(worked) => worked,
        Err(problems) => {
            for problem in problems {
                note(&format!("gatewright: {}: {problem}", figure.name));
            }
            return Exit::Usage;
        }
    };
    let computed = matches!(worked.outcome.state, State::Computed(_));
    let text = match arguments.format {
        ListFormat::Text => figure_text(&worked, width),
        ListFormat::Json => figure_json(&worked),
    };
    print(&text).first_of(if computed { Exit::Clean } else { Exit::Findings })
}

/// Reads `key=value` arguments; every problem at once.
fn worked<'f>(figure: &'f Figure, arguments: &[String]) -> Result<Worked<'f>, Vec<String>> {
    let mut problems = Vec::new();
    let mut written: Vec<Option<String>> = vec![None; figure.inputs.len()];
    let mut values = vec![None; figure.inputs.len()];
    let (mut us, mut metric) = (0, 0);
    for argument in arguments {
        let Some((key, text)) = argument.split_once('=') else {
            problems.push(format!("`{argument}` is no input; write name='value with its unit'"));
            continue;
        };
        let Some(index) = figure.inputs.iter().position(|input| input.name == key) else {
            let known = figure.inputs.iter().map(|input| input.name);
            let near =
                nearest_name(key, known.clone()).map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            let known: Vec<&str> = known.collect();
            problems.push(format!("there is no input `{key}`; {near}the inputs are {}", known.join(", ")));
            continue;
        };
        if written[index].is_some() {
            problems.push(format!("`{key}` is given twice"));
            continue;
        }
        written[index] = Some(text.to_owned());
        match read(figure.inputs[index].kind, text) {
            Ok(reading) => {
                match reading.system {
                    System::Us => us += 1,
                    System::Metric => metric += 1,
                    System::Neutral => {}
                }
                values[index] = Some(reading.quantity);
            }
            Err(error) => {
                let help = error.help.map_or_else(String::new, |help| format!("; {help}"));
                problems.push(format!("{key}: {}{help}", error.message));
            }
        }
    }
    let lacking: Vec<&str> = figure
        .inputs
        .iter()
        .zip(&written)
        .filter(|(input, written)| written.is_none() && input.assume.is_none())
        .map(|(input, _)| input.name)
        .collect();
    if !lacking.is_empty() {
        problems.push(format!("not given: {}", lacking.join(", ")));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let system = if metric > us { System::Metric } else { System::Us };
    Ok(Worked { figure, written, outcome: evaluate(figure, &values), system })
}
