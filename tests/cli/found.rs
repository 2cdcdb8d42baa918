//! What is found in a folder, what is read of it, and that nothing that is read is written over.

use std::fs;
use std::path::Path;

use super::program::{command, folder_of, run_in};

const CLEAN: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");
const CITY: &str = include_str!("../../examples/quarry-bend/city/amendments.yaml");

fn text(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

/// A slip of `-o` must not cost a submittal, a pack or the project file.
#[test]
fn a_file_that_is_read_is_not_written_over() {
    let project = "format: 1\npacks: [packs]\n";
    let files = [("g.yaml", CLEAN), ("packs/town.yaml", CITY), ("own/more.yaml", CITY), ("gatewright.yaml", project)];
    let folder = folder_of(&files);
    let at = folder.path();
    for output in ["g.yaml", "./packs/../g.yaml", "packs/town.yaml", "gatewright.yaml"] {
        let done = run_in(at, &["review", "-o", output, "g.yaml"]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{output}: {}", done.err);
        assert!(done.err.contains("cannot be written over; name another file"), "{output}: {}", done.err);
    }
    fs::remove_file(at.join("gatewright.yaml")).unwrap();
    let done = run_in(at, &["review", "--packs", "own", "-o", "own/more.yaml", "g.yaml"]);
    assert_eq!(done.code, 2, "{}", done.err);
    let done = run_in(at, &["worksheet", "g.yaml", "-o", "g.yaml"]);
    assert_eq!(done.code, 2, "{}", done.err);
    assert_eq!(text(at, "g.yaml"), CLEAN);
    assert_eq!(text(at, "packs/town.yaml"), CITY);
    assert_eq!(text(at, "own/more.yaml"), CITY);
    // An older report is written over.
    fs::write(at.join("report.txt"), "old").unwrap();
    let done = run_in(at, &["review", "--format", "line", "-o", "report.txt", "g.yaml"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_ne!(text(at, "report.txt"), "old");
}

/// A link of either kind and a file behind stdin are the file itself.
#[cfg(unix)]
#[test]
fn a_file_that_is_read_by_another_name_is_not_written_over() {
    let folder = folder_of(&[("g.yaml", CLEAN)]);
    let at = folder.path();
    fs::hard_link(at.join("g.yaml"), at.join("hard.yaml")).unwrap();
    std::os::unix::fs::symlink(at.join("g.yaml"), at.join("soft.yaml")).unwrap();
    for output in ["hard.yaml", "soft.yaml"] {
        let done = run_in(at, &["review", "g.yaml", "-o", output]);
        assert_eq!(done.code, 2, "{output}: {}", done.err);
    }
    let stdin = fs::File::open(at.join("g.yaml")).unwrap();
    let done = command(&["review", "-", "-o", "g.yaml"]).current_dir(at).stdin(stdin).output().unwrap();
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(text(at, "g.yaml"), CLEAN);
}

#[test]
fn names_in_capitals_are_found_and_either_name_of_the_project_file() {
    let folder = folder_of(&[("SITE/G1.YAML", CLEAN), ("gatewright.yml", "format: 1\nstage: bid\n")]);
    let done = run_in(folder.path(), &["review", "."]);
    assert!(done.out.contains("SITE/G1.YAML") && done.out.contains("bid"), "{}{}", done.out, done.err);
    assert!(done.out.contains("under the project file gatewright.yml"), "{}", done.out);
    assert!(!done.out.contains("Left out") && !done.err.contains("gatewright.yml"), "{}{}", done.out, done.err);
}

/// A submittal with a slip at its top must not pass for some other YAML.
#[test]
fn what_seems_a_submittal_is_not_left_out_in_silence() {
    let slip = CLEAN.replacen("format: 1", "Format: 1", 1).replacen("\ngates:", "\nGates:", 1);
    let folder = folder_of(&[("a.yaml", &slip), ("b.yaml", CLEAN), ("workflow.yaml", "on: push\njobs: {}\n")]);
    let done = run_in(folder.path(), &["review", "."]);
    assert_eq!(done.code, 4, "{}{}", done.out, done.err);
    let told = format!("{}{}", done.out, done.err).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("a.yaml") && told.contains("it seems a submittal"), "{told}");
    fs::remove_file(folder.path().join("a.yaml")).unwrap();
    assert_eq!(run_in(folder.path(), &["review", "."]).code, 0);
}

/// Nor one with a slip and another fault, nor one behind a document that is something else.
#[test]
fn a_slip_beside_another_fault_is_not_left_out_in_silence() {
    let slip = CLEAN.replacen("format: 1", "Format: 1", 1).replacen("\ngates:", "\nGates:", 1);
    let twice = slip.replacen("\nGates:", "\nsite: {country: US}\nsite: {country: US}\nGates:", 1);
    assert_ne!(twice, slip);
    for text in [twice, format!("note: cover sheet\n---\n{slip}")] {
        let folder = folder_of(&[("a.yaml", &text), ("b.yaml", CLEAN)]);
        let done = run_in(folder.path(), &["review", "."]);
        assert_eq!(done.code, 4, "{}{}", done.out, done.err);
        assert!(done.err.contains("it seems a submittal"), "{}", done.err);
    }
}

/// Other YAML in the folder fails nothing, in whatever order its documents stand.
#[test]
fn other_yaml_fails_nothing() {
    for text in [
        "a: !Ref x\n---\nb: 2\n",
        "a: &x {b: 1}\nc: {<<: *x}\n---\nd: 1\n",
        "a: 1\na: 2\n---\nd: 1\n",
        "d: 1\n---\na: 1\na: 2\n",
        "project: x\nsite: y\n",
    ] {
        let folder = folder_of(&[("a.yaml", text), ("b.yaml", CLEAN)]);
        let done = run_in(folder.path(), &["review", "."]);
        assert_eq!(done.code, 0, "{text}{}{}", done.out, done.err);
        assert!(done.err.contains("a.yaml"), "{}", done.err);
    }
}

#[test]
fn a_second_document_that_cannot_be_read_is_told_with_its_line() {
    let broken = CLEAN.lines().count() + 2;
    let folder = folder_of(&[("a.yaml", &format!("{CLEAN}---\n\"unclosed\n"))]);
    let done = run_in(folder.path(), &["review", "."]);
    assert_eq!(done.code, 4, "{}{}", done.out, done.err);
    let line = "a.yaml, document 2: not reviewed: it cannot be read: expected a closing \"";
    assert!(done.err.contains(line) && done.err.contains(&format!("(line {broken})")), "{broken}: {}", done.err);
}

#[test]
fn what_a_project_file_asks_for_is_told_at_its_line_or_by_its_name() {
    let folder = folder_of(&[("g.yaml", CLEAN), ("gatewright.yaml", "format: 1\npacks:\n  - gone\n")]);
    let done = run_in(folder.path(), &["review", "."]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(done.err.contains("gatewright.yaml:3:5") && done.err.contains("no such file or folder"), "{}", done.err);
    let done = run_in(folder.path(), &["review", "--project", "nope.yaml", "."]);
    assert_eq!(done.err, "gatewright: project file nope.yaml: there is no such file or folder\n");
    let done = run_in(folder.path(), &["worksheet", "."]);
    assert_eq!((done.code, done.err.as_str()), (4, "gatewright: .: this is a folder, and one file is wanted\n"));
}

/// Its rules and packs would otherwise be left out unseen.
#[test]
fn a_project_file_in_capitals_is_a_failure() {
    let folder = folder_of(&[("g.yaml", CLEAN), ("Gatewright.YAML", "format: 1\npacks: [packs]\n")]);
    let done = run_in(folder.path(), &["review", "--format", "line", "."]);
    assert_eq!(done.code, 4, "{}", done.err);
    assert!(done.err.contains("Gatewright.YAML: not reviewed: it is called like a project file"), "{}", done.err);
}

#[test]
fn a_broken_submittal_in_braces_is_a_failure_as_one_without_them_is() {
    for text in ["{format: 1, gates: [{mark: G1", "{ gates: [{mark: G1", "format: 1\ngates: [{mark: G1"] {
        let folder = folder_of(&[("g.yaml", text), ("ok.yaml", CLEAN)]);
        let done = run_in(folder.path(), &["review", "--format", "line", "."]);
        assert_eq!(done.code, 4, "{text}: {} {}", done.out, done.err);
    }
}

/// A file without end fills no memory, whatever it is named for.
#[cfg(unix)]
#[test]
fn what_has_no_end_is_refused_by_its_size() {
    let folder = folder_of(&[("g.yaml", CLEAN)]);
    let at = folder.path();
    std::os::unix::fs::symlink("/dev/zero", at.join("zero.yaml")).unwrap();
    for (arguments, code) in
        [(&["--packs", "/dev/zero"][..], 5), (&["--packs", "zero.yaml"], 5), (&["--project", "/dev/zero"], 2)]
    {
        let done = run_in(at, &[&["review", "g.yaml"], arguments].concat());
        assert_eq!((done.code, done.out.as_str()), (code, ""), "{arguments:?}: {}", done.err);
        assert!(done.err.contains("expected a file of at most 16777216 bytes"), "{arguments:?}: {}", done.err);
        assert_eq!(done.err.matches("PROBLEM").count(), 1, "{arguments:?}: {}", done.err);
    }
    std::os::unix::fs::symlink("/dev/zero", at.join("gatewright.yaml")).unwrap();
    let done = run_in(at, &["review", "g.yaml"]);
    assert!(done.code == 2 && done.err.contains("at most 16777216 bytes"), "{}", done.err);
}

/// Where nothing is reviewed there is no report, and an older one stays.
#[test]
fn no_file_is_left_where_nothing_is_reviewed() {
    let folder = folder_of(&[("foreign/a.yaml", "on: push\n"), ("old.json", "old"), ("g/g.yaml", CLEAN)]);
    let at = folder.path();
    for format in ["json", "line", "terminal"] {
        let done = run_in(at, &["review", "foreign", "--format", format, "-o", "new.json"]);
        assert!(done.code == 3 && !at.join("new.json").exists(), "{format}: {}", done.err);
        assert_eq!(run_in(at, &["review", "foreign", "--format", format, "-o", "old.json"]).code, 3);
        assert_eq!(text(at, "old.json"), "old", "{format}");
    }
    // A result without a line is a result.
    let done = run_in(at, &["review", "g", "--format", "line", "-o", "old.json"]);
    assert_eq!((done.code, text(at, "old.json").contains("old")), (0, false), "{}", done.err);
    let done = run_in(at, &["review", "g", "-o", "gone/new.json"]);
    assert_eq!((done.code, done.err.matches("could not be written").count()), (2, 1), "{}", done.err);
}

/// A file that is named in two ways is one file.
#[test]
fn a_file_is_reviewed_once_however_it_is_named() {
    let folder = folder_of(&[("g/g.yaml", CLEAN)]);
    let at = folder.path();
    let whole = at.join("g/g.yaml");
    for paths in [["g/g.yaml", "./g/g.yaml"], ["g", "g/../g/g.yaml"], ["./g", whole.to_str().unwrap()]] {
        let done = run_in(at, &["review", "--format", "json", paths[0], paths[1]]);
        let json: serde_json::Value = serde_json::from_str(&done.out).unwrap();
        assert_eq!(json["submittals"].as_array().unwrap().len(), 1, "{paths:?}");
    }
}

/// Whoever proposes a project file is not shown what else the reviewing machine holds.
#[test]
fn a_project_takes_packs_from_its_own_folder() {
    let project = |packs: &str| format!("format: 1\npacks: [{packs}]\n");
    let folder = folder_of(&[("own/g.yaml", CLEAN), ("own/packs/town.yaml", CITY), ("secret.yaml", "password: 1\n")]);
    let at = folder.path().join("own");
    #[cfg(unix)]
    std::os::unix::fs::symlink(folder.path().join("secret.yaml"), at.join("link.yaml")).unwrap();
    let whole = folder.path().join("secret.yaml").display().to_string();
    for packs in ["../secret.yaml", "..", whole.as_str(), "packs/../../secret.yaml", "link.yaml"] {
        if packs == "link.yaml" && !at.join(packs).exists() {
            continue;
        }
        fs::write(at.join("gatewright.yaml"), project(packs)).unwrap();
        let done = run_in(&at, &["review", "g.yaml"]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{packs}: {}", done.err);
        assert!(done.err.contains("unusable-pack") && !done.err.contains("password"), "{packs}: {}", done.err);
    }
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(folder.path().join("secret.yaml"), at.join("packs/link.yaml")).unwrap();
        fs::write(at.join("gatewright.yaml"), project("packs")).unwrap();
        let done = run_in(&at, &["review", "g.yaml"]);
        assert!(done.code == 2 && !done.err.contains("password"), "{}", done.err);
        fs::remove_file(at.join("packs/link.yaml")).unwrap();
    }
    fs::write(at.join("gatewright.yaml"), project("packs, ./packs/town.yaml")).unwrap();
    let done = run_in(&at, &["review", "--format", "line", "g.yaml"]);
    assert!(!done.err.contains("unusable-pack"), "{}", done.err);
}
