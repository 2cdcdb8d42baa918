//! Which project file governs each file under review, with the rules that it makes.
//!
//! A project file holds for what stands in its folder and below, up to the next one: neither the order of the arguments
//! nor a folder named further up changes what a submittal is judged by.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::{FailOnArg, Look, ReviewArgs, StageArg};
use super::exit::Exit;
use super::resolve::{Loaded, rules_under};
use crate::discover::Target;
use crate::project::find;
use crate::review::{ProjectRules, Stage, Terms, Weight};

/// The rules under one project file, or under none, with what the run asks for beside them.
pub struct Governed {
    /// The rules and the project.
    pub loaded: Loaded,
    /// Stage, and rules that are off.
    pub terms: Terms,
    /// The least weight that makes the run fail.
    pub fail_on: Option<Weight>,
    /// What reports say of the rules.
    pub described: Arc<ProjectRules>,
}

/// The project files of a run, each loaded once, and which of them governs each target.
pub struct Projects {
    /// In the order of the first target of each.
    pub all: Vec<Governed>,
    /// For each target, its index among them.
    pub of_targets: Vec<usize>,
}

impl Projects {
    /// The targets in their order, in runs under one project file of so many at most.
    pub fn parts<'p>(
        &'p self,
        targets: &'p [Target],
        most: usize,
    ) -> impl Iterator<Item = (&'p Governed, &'p [Target])> {
        let mut first = 0;
        std::iter::from_fn(move || {
            let of = *self.of_targets.get(first)?;
            let rest = &self.of_targets[first..];
            let length = rest.iter().take(most).take_while(|index| **index == of).count();
            let part = &targets[first..first + length];
            first += length;
            Some((&self.all[of], part))
        })
    }
}

/// Finds the project file of each target and loads them all before anything is reviewed.
///
/// # Errors
/// The exit code, once the problems have been printed to stderr.
pub fn projects(targets: &[Target], arguments: &ReviewArgs, how: &Look) -> Result<Projects, Exit> {
    let mut projects = Projects { all: Vec::new(), of_targets: Vec::with_capacity(targets.len()) };
    let mut by_folder: HashMap<PathBuf, Option<PathBuf>> = HashMap::new();
    let mut known: Vec<Option<PathBuf>> = Vec::new();
    let mut index_of = |file: Option<PathBuf>| -> Result<usize, Exit> {
        if let Some(at) = known.iter().position(|known| *known == file) {
            return Ok(at);
        }
        projects.all.push(governed(file.clone(), arguments, how)?);
        known.push(file);
        Ok(known.len() - 1)
    };
    for target in targets {
        let file = match &arguments.packs.project {
            Some(named) => Some(named.clone()),
            None => {
                let folder = folder_of(&target.path);
                by_folder.entry(folder).or_insert_with_key(|folder| find(folder)).clone()
            }
        };
        projects.of_targets.push(index_of(file)?);
    }
    // Where there is no file to review, what the project file says is still to be in order.
    if targets.is_empty() {
        let start = arguments.paths.first().map_or(Path::new("."), PathBuf::as_path);
        index_of(arguments.packs.project.clone().or_else(|| find(start)))?;
    }
    Ok(projects)
}

fn folder_of(path: &Path) -> PathBuf {
    let folder = if path.as_os_str() == "-" { None } else { path.parent() };
    folder.filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new(".")).to_path_buf()
}

fn governed(file: Option<PathBuf>, arguments: &ReviewArgs, how: &Look) -> Result<Governed, Exit> {
    let loaded = rules_under(file, &arguments.packs, how, false)?;
    let stage = arguments.stage.map(stage).or(loaded.project.stage);
    let terms = Terms { stage, off: loaded.applied.off.iter().map(|(index, _)| *index).collect() };
    let fail_on = fail_on(arguments.fail_on, &loaded);
    let described = Arc::new(described(&loaded));
    Ok(Governed { loaded, terms, fail_on, described })
}

fn described(loaded: &Loaded) -> ProjectRules {
    let rules = &loaded.rules.rules;
    let off = loaded.applied.off.iter();
    ProjectRules {
        path: loaded.project.path.as_deref().map(path_from_here),
        rules: rules.iter().map(|rule| (rule.facts.name.clone(), rule.facts.clone())).collect(),
        off: off.map(|(index, reason)| (rules[*index].facts.name.clone(), reason.clone())).collect(),
        reweighed: loaded.applied.reweighed.clone(),
    }
}

/// A path as the arguments would name it: a report says the same wherever the folder lies.
fn path_from_here(path: &Path) -> String {
    let here = std::env::current_dir().and_then(std::fs::canonicalize);
    let below = here.ok().and_then(|here| path.strip_prefix(here).ok());
    match below {
        Some(below) => below.iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/"),
        None => path.display().to_string(),
    }
}

fn stage(argument: StageArg) -> Stage {
    match argument {
        StageArg::Bid => Stage::Bid,
        StageArg::Submittal => Stage::Submittal,
        StageArg::Acceptance => Stage::Acceptance,
    }
}

fn fail_on(argument: Option<FailOnArg>, loaded: &Loaded) -> Option<Weight> {
    match argument {
        Some(FailOnArg::Hazard) => Some(Weight::Hazard),
        Some(FailOnArg::Requirement) => Some(Weight::Requirement),
        Some(FailOnArg::Advice) => Some(Weight::Advice),
        Some(FailOnArg::Never) => None,
        None => loaded.project.fail_on.unwrap_or(Some(Weight::Requirement)),
    }
}
