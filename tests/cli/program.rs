//! Runs the program in a folder of its own, with a clean environment.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// A finished run.
pub struct Done {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// A command in the folder of the project, without anything of the environment that changes what is printed.
pub fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gatewright"));
    command.args(arguments).current_dir(env!("CARGO_MANIFEST_DIR"));
    for name in ["NO_COLOR", "COLUMNS", "TERM", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

pub fn run(arguments: &[&str]) -> Done {
    done(command(arguments).stdin(Stdio::null()).output().unwrap())
}

pub fn run_in(folder: &Path, arguments: &[&str]) -> Done {
    done(command(arguments).current_dir(folder).stdin(Stdio::null()).output().unwrap())
}

pub fn run_with_input(arguments: &[&str], input: &str) -> Done {
    let mut child =
        command(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    done(child.wait_with_output().unwrap())
}

fn done(output: Output) -> Done {
    Done {
        code: output.status.code().expect("the program ends by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A folder with these files.
pub fn folder_of(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    folder
}
