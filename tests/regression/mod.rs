//! The shape of the source tree: who may use whom, how long a file may get, who may name which library.

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

#[test]
fn modules_use_only_what_stands_before_them() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let module = module_of(&path);
        let Some((_, allowed)) = MAY_USE.iter().find(|(name, _)| *name == module) else {
            panic!("{module} has no place in the order of modules");
        };
        let code = text.split("#[cfg(test)]").next().unwrap();
        for (at, _) in code.match_indices("crate::") {
            let used: String = code[at + 7..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            if used != module && !allowed.contains(&used.as_str()) {
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
