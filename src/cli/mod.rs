//! The command line: arguments, what they mean in this place (terminal, environment, project file), one file a command.
//!
//! Results go to stdout, everything else to stderr. The only user of clap.

mod args;
mod compute;
mod exit;
mod explain;
mod figure_input;
mod governed;
mod output;
mod prove;
mod resolve;
mod review;
mod rules;
mod schema;
mod worksheet;

use std::process::ExitCode;

use clap::Parser;

use args::{Arguments, Command};
use exit::Exit;

/// Runs the program.
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version are results; anything else is a usage error. A closed pipe is nobody's fault.
            let exit = if error.use_stderr() { Exit::Usage } else { Exit::Clean };
            let _ = error.print();
            return exit.code();
        }
    };
    let exit = match &arguments.command {
        Command::Review(review) => review::run(review, &arguments.look),
        Command::Rules(rules) => rules::run(rules, &arguments.look),
        Command::Explain(explain) => explain::run(explain, &arguments.look),
        Command::Prove(prove) => prove::run(prove, &arguments.look),
        Command::Compute(compute) => compute::run(compute, &arguments.look),
        Command::Worksheet(worksheet) => worksheet::run(worksheet, &arguments.look),
        Command::Schema(schema) => schema::run(schema),
    };
    exit.code()
}
