//! `gatewright schema`: prints a schema.

use super::args::{SchemaArgs, SchemaName};
use super::exit::Exit;
use super::output::print;

/// Runs the command.
pub fn run(arguments: &SchemaArgs) -> Exit {
    print(match arguments.name {
        SchemaName::Submittal => include_str!("../../schema/submittal.schema.json"),
        SchemaName::RulePack => include_str!("../../schema/rule-pack.schema.json"),
        SchemaName::Project => include_str!("../../schema/project.schema.json"),
        SchemaName::Report => include_str!("../../schema/report.schema.json"),
        SchemaName::Worksheet => include_str!("../../schema/worksheet.schema.json"),
    })
}
