//! What the arguments mean here: the terminal, the environment, the project file, the packs.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::{ColorWhen, Look, PackArgs};
use super::exit::Exit;
use super::output::{note, report};
use crate::document::decode;
use crate::project::{self, Applied, Project, apply};
use crate::report::{Options, problems_report};
use crate::rule::{ON_REQUEST, PackSource, RuleSet, load, shipped, shipped_names, submittal_vocabulary};
use crate::source::SourceFile;

/// The rules of a run with the project that shaped them.
pub struct Loaded {
    /// The rule set.
    pub rules: RuleSet,
    /// The project file's say.
    pub project: Project,
    /// What the project file changed in the rules.
    pub applied: Applied,
}

/// How to write for stdout.
pub fn look(look: &Look) -> Options {
    options(look, std::io::stdout().is_terminal())
}

/// How to write for stderr.
pub fn look_of_messages(look: &Look) -> Options {
    options(look, std::io::stderr().is_terminal())
}

fn options(look: &Look, terminal: bool) -> Options {
    let no_color = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let color = match look.color {
        ColorWhen::Always => true,
        ColorWhen::Never => false,
        ColorWhen::Auto => terminal && !no_color && std::env::var_os("TERM").is_none_or(|term| term != "dumb"),
    };
    let columns = || std::env::var("COLUMNS").ok().and_then(|columns| columns.parse::<usize>().ok());
    let width = look.width.map(usize::from).or_else(|| columns().filter(|_| terminal)).unwrap_or(80);
    Options { width: width.clamp(40, 400), ascii: look.ascii, color }
}

/// Loads rules and project for a command that looks at `start`.
///
/// # Errors
/// The exit code, once the problems have been printed to stderr.
pub fn rules(packs: &PackArgs, look: &Look, start: Option<&Path>, with_cases: bool) -> Result<Loaded, Exit> {
    let stderr = look_of_messages(look);
    let found = match &packs.project {
        Some(path) => Some(path.clone()),
        None => project::find(start.unwrap_or(Path::new("."))),
    };
    let project = match found.as_deref().map(project::load) {
        None => Project::default(),
        Some(Ok(project)) => project,
        Some(Err(problems)) => {
            report(&problems_report(&problems, &stderr));
            return Err(Exit::Usage);
        }
    };
    let folder = project.path.as_deref().and_then(Path::parent).unwrap_or(Path::new("."));
    let mut sources: Vec<PackSource> = shipped_names()
        .filter(|name| !ON_REQUEST.contains(name))
        .filter_map(|name| shipped(name, with_cases))
        .collect();
    let asked = project.packs.iter().map(|name| (name.clone(), folder.join(name)));
    let argued = packs.packs.iter().map(|path| (path.display().to_string(), path.clone()));
    for (name, path) in asked.chain(argued) {
        add_packs(&name, &path, with_cases, &mut sources)?;
    }
    let vocabulary = submittal_vocabulary().map_err(|error| {
        note(&format!("gatewright: the program's own schema is broken: {error}"));
        Exit::Pack
    })?;
    let mut rules = match load(&sources, Arc::new(vocabulary)) {
        Ok((rules, advice)) => {
            if !advice.list.is_empty() {
                report(&problems_report(&advice.list, &stderr));
            }
            rules
        }
        Err(problems) => {
            report(&problems_report(&problems.list, &stderr));
            return Err(Exit::Pack);
        }
    };
    match apply(&project, &mut rules) {
        Ok(applied) => Ok(Loaded { rules, project, applied }),
        Err(problems) => {
            report(&problems_report(&problems, &stderr));
            Err(Exit::Usage)
        }
    }
}

/// Adds the pack of a name, or the packs of a file or folder.
fn add_packs(name: &str, path: &Path, with_cases: bool, sources: &mut Vec<PackSource>) -> Result<(), Exit> {
    if !path.exists()
        && let Some(pack) = shipped(name, with_cases)
    {
        let known = sources.iter().any(|source| source.file.name() == pack.file.name());
        if !known {
            sources.push(pack);
        }
        return Ok(());
    }
    let mut files: Vec<PathBuf> = Vec::new();
    if path.is_dir() {
        let entries = std::fs::read_dir(path).map_err(|error| unusable(path, &error))?;
        files.extend(
            entries
                .filter_map(|entry| entry.ok().map(|entry| entry.path()))
                .filter(|path| path.extension().is_some_and(|extension| extension == "yaml" || extension == "yml")),
        );
        files.sort();
        if files.is_empty() {
            note(&format!("gatewright: {}: there is no rule pack (.yaml) in this folder", path.display()));
            return Err(Exit::Usage);
        }
    } else {
        files.push(path.to_path_buf());
    }
    for file in files {
        let bytes = std::fs::read(&file).map_err(|error| unusable(&file, &error))?;
        let text = decode(&bytes).map_err(|bad| {
            note(&format!("gatewright: {}: {}", file.display(), bad.problem.message));
            Exit::Pack
        })?;
        sources.push(PackSource { file: Arc::new(SourceFile::new(file.display().to_string(), text)), shipped: false });
    }
    Ok(())
}

fn unusable(path: &Path, error: &std::io::Error) -> Exit {
    let names: Vec<&str> = shipped_names().collect();
    let reason = crate::discover::reason(error);
    note(&format!("gatewright: packs {}: {reason}; the shipped packs are {}", path.display(), names.join(", ")));
    Exit::Usage
}
