//! Writing results: to stdout, or to a file.

use std::io::Write;
use std::path::Path;

use super::exit::Exit;

/// Writes a result to stdout. A reader that has seen enough and closed the pipe is no error.
pub fn print(text: &str) -> Exit {
    let mut stdout = std::io::stdout().lock();
    let written = stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush());
    match written {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            note(&format!("gatewright: the result could not be written: {error}"));
            Exit::Unreadable
        }
        _ => Exit::Clean,
    }
}

/// Writes a result to a file, or to stdout where none is named.
pub fn write(text: &str, file: Option<&Path>) -> Exit {
    let Some(path) = file else { return print(text) };
    match std::fs::write(path, text) {
        Ok(()) => Exit::Clean,
        Err(error) => {
            let reason = crate::discover::reason(&error);
            note(&format!("gatewright: {} could not be written: {reason}", path.display()));
            Exit::Usage
        }
    }
}

/// Writes a line to stderr; nothing can be done where that fails.
pub fn note(line: &str) {
    let mut stderr = std::io::stderr().lock();
    let _ = writeln!(stderr, "{line}");
}
