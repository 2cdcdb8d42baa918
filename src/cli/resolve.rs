//! What the arguments mean here: the terminal, the environment, the project file, the packs.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::{ColorWhen, Look, PackArgs};
use super::exit::Exit;
use super::output::{note, report};
use crate::discover::{is_yaml, reason};
use crate::document::{decode, read_file};
use crate::problem::Problem;
use crate::project::{self, Applied, Project, ProjectFault, apply};
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
    /// The files that were read for it: the project file and the packs that are not shipped.
    pub read: Vec<PathBuf>,
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
    Options { width: width.clamp(Options::NARROWEST.into(), Options::WIDEST.into()), ascii: look.ascii, color }
}

/// Loads rules and project for a command that looks at no file: the project file is that of the working directory.
///
/// # Errors
/// The exit code, once the problems have been printed to stderr.
pub fn rules(packs: &PackArgs, look: &Look, with_cases: bool) -> Result<Loaded, Exit> {
    let found = packs.project.clone().or_else(|| project::find(Path::new(".")));
    rules_under(found, packs, look, with_cases)
}

/// Loads rules and project under a project file.
///
/// # Errors
/// The exit code, once the problems have been printed to stderr.
pub fn rules_under(found: Option<PathBuf>, packs: &PackArgs, look: &Look, with_cases: bool) -> Result<Loaded, Exit> {
    let stderr = look_of_messages(look);
    let project = match found.as_deref().map(project::load) {
        None => Project::default(),
        Some(Ok(project)) => project,
        Some(Err(ProjectFault::Unread(error))) => {
            let path = found.unwrap_or_default();
            let dangling = error.kind() == std::io::ErrorKind::NotFound && path.is_symlink();
            let why = if dangling { "this is a link that leads nowhere".to_owned() } else { reason(&error) };
            note(&format!("gatewright: project file {}: {why}", path.display()));
            return Err(Exit::Usage);
        }
        Some(Err(ProjectFault::Wrong(problems))) => {
            report(&problems_report(&problems, &stderr));
            return Err(Exit::Usage);
        }
    };
    let folder = project.path.as_deref().and_then(Path::parent).unwrap_or(Path::new("."));
    let mut sources: Vec<PackSource> = shipped_names()
        .filter(|name| !ON_REQUEST.contains(name))
        .filter_map(|name| shipped(name, with_cases))
        .collect();
    let mut read: Vec<PathBuf> = project.path.iter().cloned().collect();
    for (name, place) in &project.packs {
        if let Err(fault) = add_packs(name, &folder.join(name), Some(folder), with_cases, &mut sources, &mut read) {
            // A pack that is not there is told at the line that asks for it.
            return Err(match (&project.file, fault) {
                (Some(file), PackFault::Unread(text)) => {
                    let problem = Problem::fault("unusable-pack", *place, text);
                    report(&problems_report(&[(Arc::clone(file), problem)], &stderr));
                    Exit::Usage
                }
                (_, fault) => fault.tell(),
            });
        }
    }
    for path in &packs.packs {
        add_packs(&path.display().to_string(), path, None, with_cases, &mut sources, &mut read)
            .map_err(PackFault::tell)?;
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
        Ok(applied) => Ok(Loaded { rules, project, applied, read }),
        Err(problems) => {
            report(&problems_report(&problems, &stderr));
            Err(Exit::Usage)
        }
    }
}

/// Whether a path that is there leads out of a folder: whoever may propose a project file is not to be shown what stands
/// elsewhere on the machine that reviews it.
fn lies_outside(path: &Path, folder: &Path) -> bool {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    match (std::fs::canonicalize(path), std::fs::canonicalize(folder)) {
        (Ok(path), Ok(folder)) => !path.starts_with(folder),
        _ => false,
    }
}

/// Why packs cannot be taken.
enum PackFault {
    /// Nothing can be read there.
    Unread(String),
    /// What is read there is no text.
    Wrong(String),
}

impl PackFault {
    fn tell(self) -> Exit {
        let (text, exit) = match self {
            PackFault::Unread(text) => (text, Exit::Usage),
            PackFault::Wrong(text) => (text, Exit::Pack),
        };
        note(&format!("gatewright: {text}"));
        exit
    }
}

/// Adds the pack of a name, or the packs of a file or folder; of those of a project none that is a link out of its folder.
fn add_packs(
    name: &str,
    path: &Path,
    within: Option<&Path>,
    with_cases: bool,
    sources: &mut Vec<PackSource>,
    read: &mut Vec<PathBuf>,
) -> Result<(), PackFault> {
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
        files.extend(entries.filter_map(|entry| entry.ok().map(|entry| entry.path())).filter(|path| is_yaml(path)));
        files.sort();
        if files.is_empty() {
            let text = format!("packs {}: there is no rule pack (.yaml or .yml) in this folder", path.display());
            return Err(PackFault::Unread(text));
        }
    } else {
        files.push(path.to_path_buf());
    }
    if let Some(link) = files.iter().find(|file| within.is_some_and(|folder| lies_outside(file, folder))) {
        let text = format!(
            "packs {}: a project takes packs from its own folder, and this lies outside of it; put it there, or name it with --packs",
            link.display()
        );
        return Err(PackFault::Unread(text));
    }
    for file in files {
        let bytes = read_file(&file).map_err(|error| unusable(&file, &error))?;
        let text =
            decode(&bytes).map_err(|bad| PackFault::Wrong(format!("{}: {}", file.display(), bad.problem.message)))?;
        sources.push(PackSource { file: Arc::new(SourceFile::new(file.display().to_string(), text)), shipped: false });
        read.push(file);
    }
    Ok(())
}

fn unusable(path: &Path, error: &std::io::Error) -> PackFault {
    let names: Vec<&str> = shipped_names().collect();
    let reason = reason(error);
    PackFault::Unread(format!("packs {}: {reason}; the shipped packs are {}", path.display(), names.join(", ")))
}
