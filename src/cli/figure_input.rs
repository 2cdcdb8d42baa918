//! Inputs of figures from the text of a command line.

use crate::figures::{Column, Input, InputKind, RootValue, Source};
use crate::quantity::{Quantity, QuantityKind, System, read};
use crate::vocabulary::{Field, Vocabulary, nearest_name};

/// An input as it was given.
#[derive(Debug, Clone)]
pub struct Given {
    /// The text.
    pub text: String,
    /// The value.
    pub value: RootValue,
    /// The system of its unit.
    pub system: System,
}

impl Given {
    /// Adds another row.
    pub fn append(&mut self, more: Given) {
        if let (RootValue::Rows(rows), RootValue::Rows(others)) = (&mut self.value, more.value) {
            rows.extend(others);
            self.text.push_str("; ");
            self.text.push_str(&more.text);
        }
    }
}

/// Reads one input.
///
/// # Errors
///
/// What is wrong with the text, in words.
pub fn read_input(input: &Input, text: &str, vocabulary: &Vocabulary) -> Result<Given, String> {
    let number = |value: f64| RootValue::Value(Quantity::point(value));
    let (value, system) = match input.kind {
        InputKind::Quantity(kind) => {
            let reading = read(kind, text).map_err(|error| words_of(&error))?;
            if !reading.quantity.is_shown() {
                return Err(format!("`{text}` leaves one end open; state a value or a range"));
            }
            // A value that no submittal may state is none to compute with.
            if let Some(bound) = field_of(input, vocabulary).and_then(|field| field.broken_bound(kind, &reading)) {
                return Err(format!("{bound} is expected, `{text}` is found"));
            }
            (RootValue::Value(reading.quantity), reading.system)
        }
        InputKind::Choice(names) => (number(choice(names, text)? as f64), System::Neutral),
        InputKind::Choices(names) => {
            let chosen = text.split(',').map(|part| choice(names, part.trim())).collect::<Result<Vec<_>, _>>()?;
            (number(f64::from(chosen.into_iter().fold(0u32, |set, at| set | 1 << at))), System::Neutral)
        }
        InputKind::YesNo => match text.trim() {
            "yes" | "true" => (number(1.0), System::Neutral),
            "no" | "false" => (number(0.0), System::Neutral),
            _ => return Err(format!("yes or no is expected, `{text}` is found")),
        },
        InputKind::Stated => (number(1.0), System::Neutral),
        InputKind::Rows(columns) => row(columns, text)?,
    };
    Ok(Given { text: text.to_owned(), value, system })
}

/// The lists of a gate whose elements inputs are read from, by the name of an element.
const LISTS: [(&str, &str); 3] =
    [("post", "support_posts"), ("splice", "leaf.splices"), ("panel", "leaf.bracing.panels")];

/// The field that a submittal would give the input by.
fn field_of<'v>(input: &Input, vocabulary: &'v Vocabulary) -> Option<&'v Field> {
    match input.source {
        Source::Fields(paths) => paths.iter().find_map(|path| vocabulary.field_behind(path, &LISTS)),
        // A figure that chooses between fields goes by the name of one of them.
        Source::Figure(other) => {
            let own = other.inputs.iter().find(|own| own.name == input.name && own.kind == input.kind)?;
            field_of(own, vocabulary)
        }
        Source::CommandLine => None,
    }
}

fn words_of(error: &crate::quantity::LiteralError) -> String {
    let help = error.help.as_ref().map_or_else(String::new, |help| format!("; {help}"));
    format!("{}{help}", error.message)
}

fn choice(names: &'static [&'static str], text: &str) -> Result<usize, String> {
    let text = text.trim();
    names.iter().position(|name| *name == text).ok_or_else(|| {
        let near = nearest_name(text, names.iter().copied());
        let near = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
        format!("`{text}` is no choice; {near}the choices are {}", names.join(", "))
    })
}

/// A row as it is written.
fn sample(columns: &[Column]) -> String {
    let cell = |(number, column): (usize, &Column)| {
        let value = match column.kind {
            QuantityKind::Length => format!("{} ft", 20 * number),
            QuantityKind::LineLoad => "26 lb/ft".to_owned(),
            QuantityKind::Weight => "40 lb".to_owned(),
            _ => column.name.to_owned(),
        };
        format!("{}{value}", column.after)
    };
    columns.iter().enumerate().map(cell).collect::<String>().replace(',', ", ")
}

/// One row: its columns one after the other, each behind what stands before it.
fn row(columns: &[Column], text: &str) -> Result<(RootValue, System), String> {
    let mut rest = text;
    let mut cells = Vec::new();
    let mut system = System::Neutral;
    for (number, column) in columns.iter().enumerate() {
        let end = match columns.get(number + 1) {
            Some(next) => rest.find(next.after),
            None => Some(rest.len()),
        };
        let Some(end) = end else {
            return Err(format!("`{text}` is no row; one is written like `{}`", sample(columns)));
        };
        let reading =
            read(column.kind, rest[..end].trim()).map_err(|error| format!("{}: {}", column.name, words_of(&error)))?;
        if !reading.quantity.is_shown() {
            return Err(format!("{}: `{}` leaves one end open", column.name, rest[..end].trim()));
        }
        system = reading.system;
        cells.push(reading.quantity);
        rest = columns.get(number + 1).map_or("", |next| &rest[end + next.after.len()..]);
    }
    Ok((RootValue::Rows(cells), system))
}
