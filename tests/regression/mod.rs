//! The shape of the source tree: who may use whom, how long a file may get, who may name which library.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn sources() -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                found.push((path, text));
            }
        }
    }
    let mut found = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert!(found.len() > 40);
    found
}

/// The module of a file: its folder under src, or its own name.
fn module_of(path: &Path) -> String {
    let relative = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
    let first = relative.components().next().unwrap().as_os_str().to_str().unwrap();
    first.trim_end_matches(".rs").to_owned()
}

/// Each module with those it may use, in the order of the flow.
const MAY_USE: &[(&str, &[&str])] = &[
    ("source", &[]),
    ("problem", &["source"]),
    ("quantity", &[]),
    ("document", &["source", "problem"]),
    ("vocabulary", &["quantity"]),
    ("submittal", &["source", "problem", "document", "quantity", "vocabulary"]),
    ("figures", &["quantity"]),
    ("expr", &["document", "quantity", "vocabulary", "submittal", "figures"]),
    ("rule", &["source", "problem", "document", "quantity", "vocabulary", "submittal", "expr", "review"]),
    ("review", &["source", "problem", "document", "quantity", "vocabulary", "submittal", "figures", "expr", "rule"]),
    ("prove", &["source", "review", "rule"]),
    ("report", &["source", "problem", "quantity", "figures", "review", "rule"]),
    ("discover", &[]),
    ("project", &["source", "problem", "discover", "document", "vocabulary", "submittal", "review", "rule"]),
    (
        "cli",
        &[
            "discover",
            "document",
            "project",
            "prove",
            "report",
            "review",
            "rule",
            "source",
            "problem",
            "quantity",
            "vocabulary",
            "figures",
        ],
    ),
    ("main", &["cli"]),
    ("lib", &[]),
];

/// What a file says outside its unit tests of the modules that it uses, each as often as it is named.
fn used(text: &str) -> impl Iterator<Item = &str> {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    let named = |root| code.split(root).skip(1);
    named("crate::").chain(named("gatewright::")).map(|behind| {
        let end = behind.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(behind.len());
        &behind[..end]
    })
}

#[test]
fn modules_use_only_what_stands_before_them() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let module = module_of(&path);
        let Some((_, allowed)) = MAY_USE.iter().find(|(name, _)| *name == module) else {
            panic!("{module} has no place in the order of modules");
        };
        for used in used(&text) {
            if used != module && !allowed.contains(&used) {
                wrong.push(format!("{} uses {used}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// `rule` and `review` name each other only through the plain words of a review (weights, outcomes, stages).
#[test]
fn rules_know_nothing_of_reviews_but_their_words() {
    for (path, text) in sources().into_iter().filter(|(path, _)| module_of(path) == "rule") {
        for line in text.lines().filter(|line| line.contains("crate::review::")) {
            let words = ["Weight", "Outcome", "Stage", "RuleFacts", "{", "}"];
            assert!(words.iter().any(|word| line.contains(word)), "{}: {line}", path.display());
            assert!(!line.contains("judge") && !line.contains("Finding"), "{}: {line}", path.display());
        }
    }
}

#[test]
fn each_outside_library_stands_behind_its_module() {
    let homes = [
        ("granit_parser", "document"),
        ("miette", "report"),
        ("clap", "cli"),
        ("walkdir", "discover"),
        ("rayon", "cli"),
    ];
    for (path, text) in sources() {
        for (library, home) in homes {
            let used = text.contains(&format!("{library}::"));
            assert!(!used || module_of(&path) == home, "{} uses {library}", path.display());
        }
    }
}

#[test]
fn source_files_stay_short_and_say_what_they_are_for() {
    for (path, text) in sources() {
        assert!(text.lines().count() <= 500, "{} is too long", path.display());
        assert!(text.starts_with("//! "), "{} has no header", path.display());
    }
}

/// The next engineer looks there for who is hit by a change.
#[test]
fn the_layout_names_who_calls_each_module() {
    let developers = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md")).unwrap();
    let sources = sources();
    let mut wrong = Vec::new();
    let mut rows = 0;
    for row in developers.lines().filter(|row| row.starts_with("| `src/")) {
        let [where_, _, called_by] = row.trim_matches('|').split(" | ").collect::<Vec<_>>()[..] else {
            panic!("{row}")
        };
        rows += 1;
        if called_by.trim() == "everything" {
            continue;
        }
        let quoted = |text: &str| text.split('`').skip(1).step_by(2).map(str::to_owned).collect::<BTreeSet<_>>();
        let modules: BTreeSet<String> = quoted(where_)
            .iter()
            .map(|path| path.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches('/').to_owned())
            .collect();
        let users: BTreeSet<String> = sources
            .iter()
            .filter(|(_, text)| used(text).any(|used| modules.contains(used)))
            .map(|(path, _)| module_of(path))
            .filter(|user| !modules.contains(user))
            .collect();
        if quoted(called_by) != users {
            wrong.push(format!("{where_}: called by {users:?}, the layout has {called_by}"));
        }
    }
    assert!(rows > 10, "{rows} rows of the layout");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
