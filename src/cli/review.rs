//! `gatewright review`: the main job.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::args::{FormatArg, Look, ReviewArgs};
use super::exit::Exit;
use super::governed::{Governed, Projects, projects};
use super::output::{Sink, note};
use super::resolve::{Loaded, look};
use crate::discover::{PROJECT_FILES, Target, discover, is_misspelt_project_file, reason};
use crate::document::{read_file, read_stdin};
use crate::report::{Format, Totals, end, write as report, write_part};
use crate::review::{FileReview, NotReviewed, Run, SubmittalReview, Terms, Weight, fails, review_file};

/// Runs the command.
pub fn run(arguments: &ReviewArgs, how: &Look) -> Exit {
    let mut found = discover(&arguments.paths);
    let mut projects = match projects(&found.targets, arguments, how) {
        Ok(projects) => projects,
        Err(exit) => return exit,
    };
    leave_out_packs(&mut found.targets, &mut projects);
    let mut run = Run::default();
    let mut exit = Exit::Clean;
    for (path, why) in &found.unusable {
        note(&format!("gatewright: {}: {why}", path.display()));
        run.not_reviewed.push(left_out(path, why));
        exit = exit.first_of(Exit::Unreadable);
    }
    if found.targets.is_empty() && found.unusable.is_empty() {
        note("gatewright: no submittal (.yaml, .yml) was found; name a file, or a folder that holds one");
        return Exit::Nothing;
    }
    let format = match arguments.format {
        FormatArg::Terminal => Format::Terminal,
        FormatArg::Line => Format::Line,
        FormatArg::Json => Format::Json,
    };
    let options = look(how);
    let inputs = found.targets.iter().map(|target| target.path.as_path());
    let read = projects.all.iter().flat_map(|governed| &governed.loaded.read);
    let mut sink = match Sink::open(arguments.output.as_deref(), inputs.chain(read.map(PathBuf::as_path))) {
        Ok(sink) => sink,
        Err(exit) => return exit,
    };
    let mut totals = Totals::default();
    totals.add(&run);
    let mut reviewed = false;
    for (governed, targets) in projects.parts(&found.targets, FILES_AT_ONCE) {
        let mut part = review_targets(governed, targets);
        for left in &part.not_reviewed {
            let document = left.document.map_or_else(String::new, |number| format!(", document {number}"));
            note(&format!("gatewright: {}{document}: not reviewed: {}", left.path, left.reason));
        }
        exit = exit.first_of(outcome(&part, governed.fail_on));
        reviewed |= !part.submittals.is_empty() || part.not_reviewed.iter().any(|left| left.failure);
        part.projects = vec![Arc::clone(&governed.described)];
        totals.add(&part);
        // Submittals that stand for themselves are written as they come: memory does not grow with the number of files.
        match write_part(&part, format, &options) {
            Some(text) => exit = exit.first_of(sink.write(&text)),
            None => {
                let under = projects.all.iter().position(|known| Arc::ptr_eq(&known.described, &governed.described));
                let of_run = |review| SubmittalReview { under: under.unwrap_or(0), ..review };
                run.submittals.extend(part.submittals.into_iter().map(of_run));
                run.not_reviewed.extend(part.not_reviewed);
            }
        }
    }
    if !reviewed && found.unusable.is_empty() {
        note("gatewright: no submittal was found: none of the files has `format` or `gates` at its top");
        return Exit::Nothing;
    }
    if format == Format::Json {
        run.projects = projects.all.iter().map(|governed| Arc::clone(&governed.described)).collect();
        run.packs = packs(&projects);
        return exit.first_of(sink.end(&report(&run, format, &options)));
    }
    exit.first_of(sink.end(&end(&totals, format, &options)))
}

/// Packs of one's own may lie among the submittals; those of this run are no file that was left out of it.
fn leave_out_packs(targets: &mut Vec<Target>, projects: &mut Projects) {
    let packs = projects.all.iter().flat_map(|governed| &governed.loaded.rules.packs).filter(|pack| !pack.shipped);
    let own: Vec<_> = packs.filter_map(|pack| std::fs::canonicalize(pack.tree.source().name()).ok()).collect();
    if own.is_empty() {
        return;
    }
    let is_pack =
        |target: &Target| !target.named && std::fs::canonicalize(&target.path).is_ok_and(|path| own.contains(&path));
    let all = std::mem::take(targets).into_iter().zip(std::mem::take(&mut projects.of_targets));
    (*targets, projects.of_targets) = all.filter(|(target, _)| !is_pack(target)).unzip();
}

/// Files that are read and reviewed before their lines are written.
const FILES_AT_ONCE: usize = 512;

fn review_targets(governed: &Governed, targets: &[Target]) -> Run {
    let Governed { loaded, terms, .. } = governed;
    let reviews: Vec<FileReview> = targets.par_iter().map(|target| review_target(loaded, terms, target)).collect();
    let mut run = Run::default();
    for review in reviews {
        run.submittals.extend(review.submittals);
        run.not_reviewed.extend(review.not_reviewed);
    }
    run
}

fn review_target(loaded: &Loaded, terms: &Terms, target: &Target) -> FileReview {
    let from_stdin = target.path.as_os_str() == "-";
    let name = if from_stdin { "<stdin>".to_owned() } else { target.path.display().to_string() };
    if !target.named && is_misspelt_project_file(&target.path) {
        // What it says of rules and packs would be left out unseen.
        let why = format!("it is called like a project file, whose name is `{}` in small letters", PROJECT_FILES[0]);
        return FileReview { submittals: Vec::new(), not_reviewed: vec![left_out(&target.path, &why)] };
    }
    let bytes = if from_stdin { read_stdin() } else { read_file(&target.path) };
    match bytes {
        Ok(bytes) => review_file(&loaded.rules, terms, &name, &bytes, target.named),
        Err(error) => {
            let left = left_out(Path::new(&name), &reason(&error));
            FileReview { submittals: Vec::new(), not_reviewed: vec![left] }
        }
    }
}

fn left_out(path: &Path, why: &str) -> NotReviewed {
    NotReviewed { path: path.display().to_string(), document: None, reason: why.to_owned(), failure: true }
}

/// Name and title of each pack of a run, once.
fn packs(projects: &Projects) -> Vec<(String, String)> {
    let mut packs = Vec::new();
    for pack in projects.all.iter().flat_map(|governed| &governed.loaded.rules.packs) {
        let pack = (pack.name.clone(), pack.title.clone());
        if !packs.contains(&pack) {
            packs.push(pack);
        }
    }
    packs
}

fn outcome(run: &Run, fail_on: Option<Weight>) -> Exit {
    let unreadable =
        run.submittals.iter().any(|submittal| !submittal.readable) || run.not_reviewed.iter().any(|left| left.failure);
    let failing = fail_on.is_some_and(|weight| run.submittals.iter().any(|submittal| fails(submittal, weight)));
    let findings = if failing { Exit::Findings } else { Exit::Clean };
    if unreadable { Exit::Unreadable.first_of(findings) } else { findings }
}
