//! `gatewright worksheet`: every figure of each gate of a submittal, with its working.

use std::sync::Arc;

use super::args::{Look, SheetFormatArg, WorksheetArgs};
use super::exit::Exit;
use super::output::{Sink, note, report};
use super::resolve::{look, look_of_messages};
use crate::discover::reason;
use crate::document::{read_file, read_stdin};
use crate::problem::Problem;
use crate::report::{SheetFormat, problems_report, worksheet};
use crate::review::worksheets;
use crate::rule::submittal_vocabulary;
use crate::source::SourceFile;

/// Runs the command.
pub fn run(arguments: &WorksheetArgs, how: &Look) -> Exit {
    let from_stdin = arguments.file.as_os_str() == "-";
    let name = if from_stdin { "<stdin>".to_owned() } else { arguments.file.display().to_string() };
    let bytes = match if from_stdin { read_stdin() } else { read_file(&arguments.file) } {
        Ok(bytes) => bytes,
        Err(error) => {
            note(&format!("gatewright: {name}: {}", reason(&error)));
            return Exit::Unreadable;
        }
    };
    let vocabulary = match submittal_vocabulary() {
        Ok(vocabulary) => Arc::new(vocabulary),
        Err(error) => {
            note(&format!("gatewright: the program's own schema is broken: {error}"));
            return Exit::Pack;
        }
    };
    let messages = look_of_messages(how);
    let mut problems: Vec<(Arc<SourceFile>, Problem)> = Vec::new();
    let mut exit = Exit::Clean;
    let sheets = match worksheets(&vocabulary, &name, &bytes) {
        Ok(sheets) => sheets,
        Err(problem) => {
            report(&problems_report(&[problem], &messages));
            return Exit::Unreadable;
        }
    };
    for sheet in &sheets {
        problems.extend(sheet.problems.iter().map(|problem| (Arc::clone(&sheet.file), problem.clone())));
        if !sheet.readable {
            exit = exit.first_of(Exit::Unreadable);
        }
    }
    if !problems.is_empty() {
        report(&problems_report(&problems, &messages));
    }
    if sheets.is_empty() {
        note(&format!("gatewright: {name}: this is no submittal: `format:` and `gates:` are expected at its top"));
        return Exit::Unreadable;
    }
    if exit == Exit::Clean && sheets.iter().all(|sheet| sheet.gates.is_empty()) {
        note(&format!("gatewright: {name}: there is no gate in it, and so no figure"));
        return Exit::Unreadable;
    }
    let format = match arguments.format {
        SheetFormatArg::Text => SheetFormat::Text,
        SheetFormatArg::Markdown => SheetFormat::Markdown,
        SheetFormatArg::Json => SheetFormat::Json,
    };
    let text = worksheet(&sheets, format, &look(how));
    match Sink::open(arguments.output.as_deref(), std::iter::once(arguments.file.as_path())) {
        Ok(mut sink) => exit.first_of(sink.end(&text)),
        Err(failed) => failed,
    }
}
