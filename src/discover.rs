//! Paths to the files to review, in a stable order.
//!
//! Walking a folder takes `.yaml` and `.yml` in capitals or not, and leaves out hidden folders and links, so that a loop
//! of links cannot catch it. A file that is named is taken whatever it is called. Nothing here reads a file's content.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

/// A file to review.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Target {
    /// Where it is; `-` for standard input.
    pub path: PathBuf,
    /// Whether it was named rather than found.
    pub named: bool,
}

/// What was found.
#[derive(Debug, Default)]
pub struct Found {
    /// Files, sorted by path, each once.
    pub targets: Vec<Target>,
    /// Paths that cannot be used, with the reason.
    pub unusable: Vec<(PathBuf, String)>,
}

/// The names of the project file, which is never a submittal. Where both stand in a folder, the first is it.
pub const PROJECT_FILES: [&str; 2] = ["gatewright.yaml", "gatewright.yml"];

/// Whether a file is YAML by its name: `.yaml` or `.yml`, in capitals or not.
pub fn is_yaml(path: &Path) -> bool {
    path.extension()
        .is_some_and(|extension| extension.eq_ignore_ascii_case("yaml") || extension.eq_ignore_ascii_case("yml"))
}

/// The project file of a folder. A link by its name is one wherever it leads: one that leads nowhere must not go unseen.
pub fn project_file(folder: &Path) -> Option<PathBuf> {
    let is_there = |path: &PathBuf| std::fs::symlink_metadata(path).is_ok() && !path.is_dir();
    PROJECT_FILES.into_iter().map(|name| folder.join(name)).find(is_there)
}

/// Whether a file has the name of a project file but for its capitals, so that it is none.
pub fn is_misspelt_project_file(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default();
    PROJECT_FILES.iter().any(|known| name.eq_ignore_ascii_case(known) && name != *known)
}

/// Finds the files below some paths.
pub fn discover(paths: &[PathBuf]) -> Found {
    let mut found = Found::default();
    for path in paths {
        if path.as_os_str() == "-" {
            found.targets.push(Target { path: path.clone(), named: true });
            continue;
        }
        match std::fs::metadata(path) {
            Err(error) => found.unusable.push((path.clone(), reason(&error))),
            Ok(metadata) if metadata.is_dir() => walk(path, &mut found),
            Ok(_) => found.targets.push(Target { path: path.clone(), named: true }),
        }
    }
    // A file that is named as well as found counts as named.
    found.targets.sort_by(|a, b| (&a.path, !a.named).cmp(&(&b.path, !b.named)));
    found.targets.dedup_by(|later, earlier| later.path == earlier.path);
    if paths.len() > 1 {
        each_file_once(&mut found.targets);
    }
    found
}

/// Leaves out a file that is there by another spelling; the one that was named stays.
fn each_file_once(targets: &mut Vec<Target>) {
    let file = |target: &Target| match std::fs::canonicalize(&target.path) {
        Ok(file) if target.path.as_os_str() != "-" => file,
        _ => target.path.clone(),
    };
    let files: Vec<PathBuf> = targets.iter().map(file).collect();
    let mut kept: HashMap<&Path, usize> = HashMap::new();
    for (at, file) in files.iter().enumerate() {
        let first = kept.entry(file).or_insert(at);
        if targets[at].named && !targets[*first].named {
            *first = at;
        }
    }
    let mut at = 0..;
    targets.retain(|_| at.next().is_some_and(|at| kept[files[at].as_path()] == at));
}

fn walk(root: &Path, found: &mut Found) {
    let hidden = |name: &std::ffi::OsStr| name.to_string_lossy().starts_with('.');
    let walker = WalkDir::new(root)
        .follow_links(false)
        .into_iter()
        .filter_entry(|entry| entry.depth() == 0 || !(entry.file_type().is_dir() && hidden(entry.file_name())));
    for entry in walker {
        match entry {
            Ok(entry) => {
                let is_project = || entry.path().parent().and_then(project_file).is_some_and(|it| it == entry.path());
                if entry.file_type().is_file() && is_yaml(entry.path()) && !is_project() {
                    found.targets.push(Target { path: entry.into_path(), named: false });
                }
            }
            Err(error) => {
                let path = error.path().map_or_else(|| root.to_path_buf(), Path::to_path_buf);
                let reason = error.io_error().map_or_else(|| error.to_string(), reason);
                found.unusable.push((path, reason));
            }
        }
    }
}

/// Why a path cannot be read, in plain words.
pub fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        std::io::ErrorKind::PermissionDenied => "it may not be read (permission denied)".to_owned(),
        std::io::ErrorKind::IsADirectory => "this is a folder, and one file is wanted".to_owned(),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn walks_in_order_past_hidden_folders_links_and_other_files() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        for folder in ["b", ".git", "a"] {
            std::fs::create_dir(at(folder)).unwrap();
        }
        for file in
            ["b/2.yml", "b/3.YAML", "a/1.yaml", "a/gatewright.yml", ".git/x.yaml", "notes.txt", PROJECT_FILES[0]]
        {
            std::fs::write(at(file), "").unwrap();
        }
        #[cfg(unix)]
        std::os::unix::fs::symlink(dir.path(), at("a/loop")).unwrap();
        let found = discover(&[dir.path().to_path_buf(), at("notes.txt"), at("gone")]);
        let names: Vec<_> = found.targets.iter().map(|target| target.path.strip_prefix(dir.path()).unwrap()).collect();
        assert_eq!(names, ["a/1.yaml", "b/2.yml", "b/3.YAML", "notes.txt"].map(Path::new));
        assert_eq!(found.unusable, [(at("gone"), "there is no such file or folder".to_owned())]);
    }
}
