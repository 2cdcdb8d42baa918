//! The one project file that a review stands under, or why there is none.
//!
//! What a project file says holds for a whole run, so that paths under different ones cannot be reviewed together: one of
//! the files would decide for all, and which one would hang on the order of the arguments.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::exit::Exit;
use super::output::note;
use crate::project::find;

/// How many project files a message names.
const MOST_NAMED: usize = 8;

/// The project file above every named path, which is also the only one below them.
///
/// # Errors
/// The exit code, once it has been said which paths stand under which file.
pub fn shared_project(paths: &[PathBuf], met: &[PathBuf]) -> Result<Option<PathBuf>, Exit> {
    let mut files: BTreeMap<Option<PathBuf>, &Path> = BTreeMap::new();
    for path in paths {
        let start = if path.as_os_str() == "-" { Path::new(".") } else { path };
        files.entry(find(start)).or_insert(path);
    }
    for file in met {
        files.entry(Some(as_found(file))).or_insert(file);
    }
    if files.len() > 1 {
        refuse(&files);
        return Err(Exit::Usage);
    }
    Ok(files.into_keys().next().flatten())
}

/// A project file met on the way by the name that looking upwards gives it.
fn as_found(file: &Path) -> PathBuf {
    let folder = file.parent().and_then(|folder| std::fs::canonicalize(folder).ok());
    match (folder, file.file_name()) {
        (Some(folder), Some(name)) => folder.join(name),
        _ => file.to_path_buf(),
    }
}

fn refuse(files: &BTreeMap<Option<PathBuf>, &Path>) {
    note("gatewright: one project file is expected for all that is reviewed at once; found are");
    for (file, of) in files.iter().take(MOST_NAMED) {
        match file {
            Some(file) if file.file_name() == of.file_name() => note(&format!("  {}", of.display())),
            Some(file) => note(&format!("  {}, for {}", file.display(), of.display())),
            None => note(&format!("  none, for {}", of.display())),
        }
    }
    if files.len() > MOST_NAMED {
        note(&format!("  and {} more", files.len() - MOST_NAMED));
    }
    note("review the folders of these files by themselves, or name the one project file that holds with --project");
}
