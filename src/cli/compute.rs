//! `gatewright compute`: one figure from values on the command line.
//!
//! The inputs are those of the figure. Where one of them is another figure, its value can be given, or the inputs of that
//! other figure down to the fields.

use super::args::{ComputeArgs, ListFormat, Look};
use super::exit::Exit;
use super::figure_input::{Given, read_input};
use super::output::{note, print};
use super::resolve::look;
use crate::figures::{
    Absent, Figure, Input, InputKind, Plan, RootValue, Source, State, Work, Worked, WorkedInput, all, evaluate, find,
};
use crate::quantity::System;
use crate::report::{figure_json, figure_text, figures_json, figures_text};
use crate::rule::submittal_vocabulary;
use crate::vocabulary::{Vocabulary, nearest_name};

/// Runs the command.
pub fn run(arguments: &ComputeArgs, how: &Look) -> Exit {
    let width = look(how).width;
    let Some(name) = &arguments.name else {
        return print(&match arguments.format {
            ListFormat::Text => figures_text(width),
            ListFormat::Json => figures_json(),
        });
    };
    let Some(figure) = find(name) else {
        let known = all().map(|figure| figure.name);
        let hint = match nearest_name(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`gatewright compute` lists the figures".to_owned(),
        };
        note(&format!("gatewright: no figure is called `{name}`; {hint}"));
        return Exit::Usage;
    };
    let vocabulary = match submittal_vocabulary() {
        Ok(vocabulary) => vocabulary,
        Err(error) => {
            note(&format!("gatewright: the program's own schema is broken: {error}"));
            return Exit::Pack;
        }
    };
    let worked = match worked(figure, &arguments.values, &vocabulary) {
        Ok(worked) => worked,
        Err(problems) => {
            for problem in problems {
                note(&format!("gatewright: {}: {problem}", figure.name));
            }
            return Exit::Usage;
        }
    };
    let computed = matches!(worked.state, State::Computed(_));
    let text = match arguments.format {
        ListFormat::Text => figure_text(&worked, width),
        ListFormat::Json => figure_json(&worked),
    };
    print(&text).first_of(if computed { Exit::Clean } else { Exit::Findings })
}

/// The plan of a figure for the names given: an input that is a figure, at any depth, is worked out where something below
/// it is given and its own value is not.
fn plan_for(figure: &'static Figure, names: &[&str]) -> Plan {
    let given = |input: &Input| match input.source {
        Source::Figure(other) => names.contains(&input.name) || !is_given_below(other, names),
        _ => true,
    };
    Plan::with(figure, &given)
}

fn is_given_below(figure: &Figure, names: &[&str]) -> bool {
    let by_input = |input: &Input| {
        names.contains(&input.name) || matches!(input.source, Source::Figure(other) if is_given_below(other, names))
    };
    let parts = match figure.work {
        Work::Largest(parts) | Work::Smallest(parts) => parts,
        Work::Claimed(cases, _) if by_input(cases) => return true,
        Work::Claimed(_, parts) => parts,
        Work::Magnitude(part) => return is_given_below(part, names),
        Work::Point(_) | Work::Chosen(_) => &[],
    };
    figure.inputs.iter().any(by_input) || parts.iter().any(|part| is_given_below(part, names))
}

/// Reads `key=value` arguments and works the figure out; every problem at once.
fn worked(figure: &'static Figure, arguments: &[String], vocabulary: &Vocabulary) -> Result<Worked, Vec<String>> {
    let mut problems = Vec::new();
    let mut pairs = Vec::new();
    for argument in arguments {
        match argument.split_once('=') {
            Some(("", value)) => {
                problems.push(format!("no name stands before `={value}`; write name='value with its unit'"))
            }
            Some(pair) => pairs.push(pair),
            None if is_given_below(figure, &[argument.as_str()]) => {
                problems.push(format!("`{argument}` has no value; write {argument}='value with its unit'"));
            }
            None => problems.push(format!("`{argument}` is no input; write name='value with its unit'")),
        }
    }
    let names: Vec<&str> = pairs.iter().map(|(name, _)| *name).collect();
    let plan = plan_for(figure, &names);
    let mut given: Vec<Option<Given>> = vec![None; plan.roots.len()];
    for (key, text) in pairs {
        let Some(index) = plan.roots.iter().position(|root| root.name == key) else {
            problems.push(unknown_input(&plan, key));
            continue;
        };
        let rows = matches!(plan.roots[index].kind, InputKind::Rows(_));
        if given[index].is_some() && !rows {
            problems.push(format!("`{key}` is given twice"));
            continue;
        }
        match read_input(plan.roots[index], text, vocabulary) {
            Ok(read) => match &mut given[index] {
                Some(known) => known.append(read),
                none => *none = Some(read),
            },
            Err(problem) => problems.push(format!("{key}: {problem}")),
        }
    }
    let needed =
        plan.roots.iter().zip(&given).filter(|(root, given)| given.is_none() && root.absent == Absent::Lacking);
    let lacking: Vec<&str> = needed.map(|(root, _)| root.name).filter(|name| !names.contains(name)).collect();
    if !lacking.is_empty() {
        problems.push(format!("not given: {}", lacking.join(", ")));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let values: Vec<RootValue> =
        given.iter().map(|given| given.as_ref().map_or(RootValue::Absent, |given| given.value.clone())).collect();
    let outcome = evaluate(&plan, &values);
    if let State::Lacking(roots) = &outcome.state {
        return Err(vec![not_given(&plan, &given, roots)]);
    }
    let count = |system: System| given.iter().flatten().filter(|given| given.system == system).count();
    let system = if count(System::Metric) > count(System::Us) { System::Metric } else { System::Us };
    let input = |(number, root): (usize, &&'static Input)| {
        let assumed = outcome.assumed.iter().find(|(assumed, _)| *assumed == number);
        let written = given[number].as_ref().map(|given| given.text.clone());
        WorkedInput {
            name: root.name,
            text: written.or(assumed.map(|(_, words)| (*words).to_owned())),
            assumed: assumed.is_some(),
        }
    };
    let named = |root: usize| plan.roots[root].name.to_owned();
    Ok(Worked {
        figure,
        element: None,
        inputs: plan.roots.iter().enumerate().map(input).collect(),
        lacking: match &outcome.state {
            State::Bounded(_, roots) => roots.iter().map(|root| named(*root)).collect(),
            _ => Vec::new(),
        },
        assumed: outcome.assumed.iter().map(|(root, words)| (named(*root), (*words).to_owned())).collect(),
        state: outcome.state,
        system,
    })
}

/// What a figure lacks that can be worked out from one set of inputs or another.
fn not_given(plan: &Plan, given: &[Option<Given>], lacking: &[usize]) -> String {
    let names =
        |of: &mut dyn Iterator<Item = usize>| of.map(|root| plan.roots[root].name).collect::<Vec<_>>().join(", ");
    let lacks = names(&mut lacking.iter().copied());
    let is_open = |root: &usize| given[*root].is_none() && !lacking.contains(root);
    let others =
        names(&mut (0..plan.roots.len()).filter(is_open).filter(|root| plan.roots[*root].absent == Absent::Optional));
    let others = if others.is_empty() { others } else { format!("; some of these may do instead: {others}") };
    format!("not given: {lacks}{others}")
}

fn unknown_input(plan: &Plan, key: &str) -> String {
    let known: Vec<&str> = plan.roots.iter().map(|root| root.name).collect();
    let near = nearest_name(key, known.iter().copied());
    let near = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    let mut under = Vec::new();
    for input in plan.figure.inputs {
        if let Source::Figure(other) = input.source {
            under.push(format!("{} or the inputs of {}", input.name, other.name));
        }
    }
    let under = if under.is_empty() { String::new() } else { format!(" ({})", under.join("; ")) };
    format!("there is no input `{key}`; {near}the inputs are {}{under}", known.join(", "))
}
