//! The project file gatewright.yaml: packs, stage, what makes a run fail, weights, rules switched off with a reason.
//!
//! Looked for in the folder under review and above it, up to a repository's top; read through the same located tree
//! and schema-directed reader as submittals, so that its errors have a caret too.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::discover::project_file;
use crate::document::{Limits, decode, parse, read_file};
use crate::problem::{Gravity, Problem};
use crate::review::{Reweighed, Stage, Weight};
use crate::source::{SourceFile, Span};
use crate::submittal::{Mode, Read, RecordIndex, Slot, read};
use crate::vocabulary::{Field, FieldId, Vocabulary, compile};

const PROJECT_SCHEMA: &str = include_str!("../schema/project.schema.json");

/// What a project file says.
#[derive(Debug, Clone, Default)]
pub struct Project {
    /// Where it stands; `None` where there is none.
    pub path: Option<PathBuf>,
    /// Names of shipped packs, or paths of packs of one's own, from its folder, with the place of each.
    pub packs: Vec<(String, Span)>,
    /// The stage of every review.
    pub stage: Option<Stage>,
    /// The least weight that makes a run fail; `Some(None)`: none does.
    pub fail_on: Option<Option<Weight>>,
    /// Rules that weigh more or less, with the reason and the place of each entry.
    pub weights: Vec<(String, Weight, String, Span)>,
    /// Rules switched off, with the reason and the place of each entry.
    pub off: Vec<(String, String, Span)>,
    /// Its text, for problems found later.
    pub file: Option<Arc<SourceFile>>,
}

/// Problems of a project file.
pub type ProjectProblems = Vec<(Arc<SourceFile>, Problem)>;

/// Why there is no project from a project file.
#[derive(Debug)]
pub enum ProjectFault {
    /// The file cannot be read.
    Unread(std::io::Error),
    /// What stands in it is wrong.
    Wrong(ProjectProblems),
}

/// Looks for a project file from a path upwards, to the top of the repository or file system.
pub fn find(start: &Path) -> Option<PathBuf> {
    // A path that does not exist stands where its folder does.
    let places = start.ancestors().map(|path| if path.as_os_str().is_empty() { Path::new(".") } else { path });
    let start = places.filter_map(|path| std::fs::canonicalize(path).ok()).next()?;
    let mut folder = if start.is_dir() { Some(start.as_path()) } else { start.parent() };
    while let Some(at) = folder {
        if let Some(found) = project_file(at) {
            return Some(found);
        }
        if at.join(".git").exists() {
            return None;
        }
        folder = at.parent();
    }
    None
}

/// Reads a project file.
///
/// # Errors
/// Why the file cannot be read, or every problem of it, where one is more than advice.
pub fn load(path: &Path) -> Result<Project, ProjectFault> {
    let name = path.display().to_string();
    let bytes = read_file(path).map_err(ProjectFault::Unread)?;
    let text = match decode(&bytes) {
        Ok(text) => text,
        Err(bad) => {
            return Err(ProjectFault::Wrong(vec![(Arc::new(SourceFile::new(name, bad.text)), bad.problem)]));
        }
    };
    read_text(Arc::new(SourceFile::new(name, text)))
        .map(|project| Project { path: Some(path.to_path_buf()), ..project })
        .map_err(ProjectFault::Wrong)
}

fn read_text(file: Arc<SourceFile>) -> Result<Project, ProjectProblems> {
    let at_file = |problem: Problem| vec![(Arc::clone(&file), problem)];
    let words = compile(PROJECT_SCHEMA)
        .map_err(|error| at_file(Problem::fault("schema", Span::default(), error.to_string())))?;
    let parsed = parse(Arc::clone(&file), &Limits::default());
    let mut problems: Vec<Problem> = parsed.problems.into_iter().map(|(_, problem)| problem).collect();
    let tree = parsed.tree;
    let root = tree.documents().first().and_then(|document| document.root);
    let read = match root {
        Some(root) => read(&tree, root, &words, 0, Mode::Whole),
        None if problems.is_empty() => {
            problems.push(Problem::fault("missing-field", Span::default(), "a project file begins with `format: 1`"));
            Read::default()
        }
        None => Read::default(),
    };
    problems.extend(read.problems.iter().cloned());
    problems.extend(tree.documents().get(1).map(|second| {
        Problem::fault("project", second.span, "a project file holds one document, a second one is found")
            .with_help("write both as one, without `---` between them")
    }));
    if root.is_some() {
        let view = View { words: &words, read: &read, tree: &tree };
        problems.extend(other_format(&view));
        problems.extend(undecided(&view));
    }
    if problems.iter().any(|problem| problem.gravity != Gravity::Advice) {
        return Err(problems.into_iter().map(|problem| (Arc::clone(&file), problem)).collect());
    }
    let view = View { words: &words, read: &read, tree: &tree };
    let mut project = Project {
        packs: view.texts("packs"),
        stage: view.choice(0, "stage").and_then(Stage::from_word),
        fail_on: view.choice(0, "fail_on").map(Weight::from_word),
        ..Project::default()
    };
    for entry in view.list("weights") {
        if let Some(weight) = view.choice(*entry, "weight").and_then(Weight::from_word) {
            let reason = view.text(*entry, "reason");
            project.weights.push((view.text(*entry, "rule"), weight, reason, view.place(*entry)));
        }
    }
    for entry in view.list("off") {
        project.off.push((view.text(*entry, "rule"), view.text(*entry, "reason"), view.place(*entry)));
    }
    project.file = Some(Arc::clone(&file));
    Ok(project)
}

/// A later format may mean something else by the same keys.
fn other_format(view: &View<'_>) -> Option<Problem> {
    let Slot::Quantity(format, _) = view.slot(0, "format") else {
        return None; // reported by the reader
    };
    let value = view.words.record(0).field("format").and_then(|field| view.read.records.place(0, field).value)?;
    let found = view.tree.text(value).unwrap_or_default();
    let problem = Problem::fault(
        "unknown-format",
        view.tree.span(value),
        format!("format 1 of the project file is expected, `{found}` is found"),
    );
    let known = format.is_point() && format.lo == 1.0;
    (!known).then(|| problem.with_help("write `format: 1`, or use a release that knows this format"))
}

/// A submittal may leave something open; what a project file leaves open, it leaves out.
fn undecided(view: &View<'_>) -> Vec<Problem> {
    let optional = |(index, field): (usize, &Field)| {
        let slot = view.read.records.slot(0, FieldId::try_from(index).ok()?);
        let place = view.read.records.place(0, FieldId::try_from(index).ok()?).value?;
        let open = matches!(slot, Slot::Placeholder) && !field.required;
        let found = view.tree.text(place).unwrap_or_default();
        let message = format!("{}: a value is expected, `{found}` is found", field.label);
        open.then(|| {
            Problem::fault("project", view.tree.span(place), message).with_help("state it, or leave the line out")
        })
    };
    view.words.record(0).fields.iter().enumerate().filter_map(optional).collect()
}

struct View<'a> {
    words: &'a Vocabulary,
    read: &'a Read,
    tree: &'a crate::document::Tree,
}

impl<'a> View<'a> {
    fn slot(&self, record: RecordIndex, path: &str) -> &'a Slot {
        let ty = self.read.records.record(record).ty;
        self.words.record(ty).field(path).map_or(&Slot::Missing, |field| self.read.records.slot(record, field))
    }

    fn list(&self, path: &str) -> &'a [RecordIndex] {
        self.read.records.list(self.slot(0, path))
    }

    fn choice(&self, record: RecordIndex, path: &str) -> Option<&'a str> {
        match self.slot(record, path) {
            Slot::Choice(symbol) => Some(self.words.symbol_name(*symbol)),
            _ => None,
        }
    }

    fn text(&self, record: RecordIndex, path: &str) -> String {
        match self.slot(record, path) {
            Slot::Text(node) => self.tree.text(*node).unwrap_or_default().trim().to_owned(),
            _ => String::new(),
        }
    }

    fn texts(&self, path: &str) -> Vec<(String, Span)> {
        let Slot::Texts { first, len } = *self.slot(0, path) else {
            return Vec::new();
        };
        let nodes = &self.read.records.texts[first as usize..(first + len) as usize];
        let placed = |node| Some((self.tree.text(node)?.trim().to_owned(), self.tree.span(node)));
        nodes.iter().filter_map(|node| placed(*node)).collect()
    }

    fn place(&self, record: RecordIndex) -> Span {
        let node = self.read.records.record(record).node;
        self.tree.entries(node).next().map_or(self.tree.span(node), |(_, value)| self.tree.span(value))
    }
}

/// What a project file changed in a rule set.
#[derive(Debug, Default)]
pub struct Applied {
    /// Indexes of the rules that are off, with the reasons.
    pub off: Vec<(usize, String)>,
    /// Rules that weigh otherwise.
    pub reweighed: Vec<Reweighed>,
}

/// Applies a project's weights and `off:` to a rule set.
///
/// # Errors
/// An entry names no rule or one that another entry names, switches off a hazard, or makes a hazard lighter.
pub fn apply(project: &Project, rules: &mut crate::rule::RuleSet) -> Result<Applied, ProjectProblems> {
    let mut problems = Vec::new();
    let mut applied = Applied::default();
    let unknown = |name: &str, rules: &crate::rule::RuleSet, span| {
        let (problem, help) = rules.no_rule(name);
        Problem::fault("unknown-rule", span, problem).with_help(help)
    };
    let mut weighed = BTreeMap::new();
    for (name, weight, reason, span) in &project.weights {
        match rules.find(name) {
            Err(_) => problems.push(unknown(name, rules, *span)),
            Ok(found) if weighed.contains_key(&found) => problems.push(twice(name, *span, weighed[&found])),
            Ok(found) if rules.rules[found].facts.weight == Weight::Hazard && *weight != Weight::Hazard => {
                problems.push(Problem::fault("hazard", *span, format!("`{name}` is a hazard and stays one")));
            }
            Ok(found) => {
                weighed.insert(found, *span);
                let facts = &mut rules.rules[found].facts;
                let rule = facts.name.clone();
                applied.reweighed.push(Reweighed { rule, from: facts.weight, to: *weight, reason: reason.clone() });
                facts.weight = *weight;
            }
        }
    }
    let mut off = BTreeMap::new();
    for (name, reason, span) in &project.off {
        match rules.find(name) {
            Err(_) => problems.push(unknown(name, rules, *span)),
            Ok(found) if off.contains_key(&found) => problems.push(twice(name, *span, off[&found])),
            Ok(found) if weighed.contains_key(&found) => problems.push(twice(name, *span, weighed[&found])),
            Ok(found) if rules.rules[found].facts.weight == Weight::Hazard => {
                problems.push(
                    Problem::fault("hazard", *span, format!("`{name}` is a hazard and cannot be switched off"))
                        .with_help("a submittal may declare a deviation, with reason and approval"),
                );
            }
            Ok(found) => {
                off.insert(found, *span);
                applied.off.push((found, reason.clone()));
            }
        }
    }
    match (&project.file, problems.is_empty()) {
        (_, true) => Ok(applied),
        (Some(file), false) => Err(problems.into_iter().map(|problem| (Arc::clone(file), problem)).collect()),
        (None, false) => Err(Vec::new()),
    }
}

/// A rule that two entries name, whatever spelling each has for it: their reasons or weights may differ.
fn twice(name: &str, span: Span, first: Span) -> Problem {
    Problem::fault("duplicate-rule", span, format!("`{name}` is named twice"))
        .with_label(first, "first named here")
        .with_help("keep one of the two entries")
}
