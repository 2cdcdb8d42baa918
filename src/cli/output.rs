//! Writing results to stdout or to a file, and messages to stderr.

use std::io::Write;
use std::path::{Path, PathBuf};

use same_file::Handle;

use super::exit::Exit;
use crate::report::one_line;

/// Where a result goes, piece by piece.
pub enum Sink {
    /// To stdout.
    Stdout,
    /// To a file, which is made when there is something to write: where nothing is reviewed, none is left and none lost.
    File(PathBuf, Option<std::fs::File>),
    /// Nowhere: the file could not be written, and that was said.
    Lost,
}

impl Sink {
    /// The file, or stdout where none is named. A file that is read is never written over.
    ///
    /// # Errors
    ///
    /// The exit code, once the reason has been printed, where the file cannot be written or is one of `inputs`.
    pub fn open<'i>(file: Option<&Path>, mut inputs: impl Iterator<Item = &'i Path>) -> Result<Sink, Exit> {
        let Some(path) = file else { return Ok(Sink::Stdout) };
        // Links of either kind and a file that stands behind stdin are the file itself.
        let read_from =
            |input: &Path| if input.as_os_str() == "-" { Handle::stdin() } else { Handle::from_path(input) };
        let is_read = Handle::from_path(path)
            .is_ok_and(|written| inputs.any(|input| read_from(input).is_ok_and(|read| read == written)));
        if is_read {
            note(&format!("gatewright: {} is read here and cannot be written over; name another file", path.display()));
            return Err(Exit::Usage);
        }
        if path.is_dir() {
            return Err(unwritable(path, &std::io::ErrorKind::IsADirectory.into()));
        }
        Ok(Sink::File(path.to_owned(), None))
    }

    /// Writes a piece; a piece without text makes no file.
    pub fn write(&mut self, text: &str) -> Exit {
        if text.is_empty() { Exit::Clean } else { self.put(text) }
    }

    /// Writes the last piece. A result without text is an empty file.
    pub fn end(&mut self, text: &str) -> Exit {
        self.put(text)
    }

    fn put(&mut self, text: &str) -> Exit {
        let written = match self {
            Sink::Stdout => return print(text),
            Sink::Lost => return Exit::Usage,
            Sink::File(path, file) => append(path, file, text).map_err(|error| unwritable(path, &error)),
        };
        match written {
            Ok(()) => Exit::Clean,
            Err(exit) => {
                *self = Sink::Lost;
                exit
            }
        }
    }
}

fn append(path: &Path, file: &mut Option<std::fs::File>, text: &str) -> std::io::Result<()> {
    let mut open = match file.take() {
        Some(open) => open,
        None => std::fs::File::create(path)?,
    };
    open.write_all(text.as_bytes())?;
    *file = Some(open);
    Ok(())
}

fn unwritable(path: &Path, error: &std::io::Error) -> Exit {
    note(&format!("gatewright: {} could not be written: {}", path.display(), crate::discover::reason(error)));
    Exit::Usage
}

/// Writes a result to stdout. A reader that has seen enough and closed the pipe is no error.
pub fn print(text: &str) -> Exit {
    let mut stdout = std::io::stdout().lock();
    let written = stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush());
    match written {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            note(&format!("gatewright: the result could not be written: {error}"));
            Exit::Usage
        }
        _ => Exit::Clean,
    }
}

/// Writes a message of one line to stderr, with escapes in place of what acts on a terminal: file names and texts come
/// from outside. Nothing can be done where that fails.
pub fn note(line: &str) {
    report(&format!("{}\n", one_line(line)));
}

/// Writes a report that is safe to print already to stderr.
pub fn report(text: &str) {
    let mut stderr = std::io::stderr().lock();
    let _ = stderr.write_all(text.as_bytes());
}
