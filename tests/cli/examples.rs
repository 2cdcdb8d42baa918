//! The examples: their reports are kept beside them and must not change unseen; the places of every finding hold.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use super::program::run;

const SUBMITTALS: [&str; 4] =
    ["alder-ridge/rev-1", "alder-ridge/rev-2", "quarry-bend/rev-0", "saltmarsh-depot/bid-set"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")
}

/// Set GATEWRIGHT_ACCEPT=1 to write the reports anew, then read the difference.
#[test]
fn the_report_of_each_example_is_the_one_beside_it() {
    for name in SUBMITTALS {
        let found = run(&["review", &format!("examples/{name}.yaml")]).out;
        let path = root().join(format!("{name}.report.txt"));
        if std::env::var_os("GATEWRIGHT_ACCEPT").is_some() {
            fs::write(&path, &found).unwrap();
        }
        let kept = fs::read_to_string(&path).unwrap().replace("\r\n", "\n");
        assert!(found == kept, "{name}: the report is not the one kept in {}", path.display());
    }
}

#[test]
fn the_clean_revision_has_no_finding_and_the_earlier_one_its_mistakes() {
    assert_eq!(run(&["review", "--format", "line", "examples/alder-ridge/rev-2.yaml"]).out, "");
    let report = run(&["review", "examples/alder-ridge/rev-2.yaml"]);
    assert_eq!(report.code, 0);
    assert!(report.out.contains("no exceptions taken"), "{}", report.out);
    // The mistakes that were put into revision 1, by line and rule; written from the list of mistakes.
    let found = run(&["review", "--format", "line", "examples/alder-ridge/rev-1.yaml"]).out;
    for (gate, rule) in [
        ("G1", "reading/missing-unit"),
        ("G1", "reading/unknown-field"),
        ("G1", "reading/unknown-choice"),
        ("G1", "dimensions/leaf-length-mismatch"),
        ("G1", "leaf/tail-leaves-carriage"),
        ("G1", "leaf/wide-bottom-gap"),
        ("G1", "guarding/open-leaf"),
        ("G1", "running_gear/limit-switch-as-stop"),
        ("G1", "posts/narrow-footing"),
        ("G1", "posts/footing-above-frost"),
        ("G1", "entrapment/unmonitored-sensor"),
        ("G1", "entrapment/audio-alarm-counted"),
        ("G1", "entrapment/unprotected-zone"),
        ("G1", "entrapment/unknown-sensor"),
        ("G1", "entrapment/undeclared-zone"),
        ("G2", "dimensions/clear-opening-reduced"),
        ("G2", "leaf/needless-splice"),
        ("G2", "leaf/weak-bottom-splice"),
        ("G2", "leaf/falls-over-manual"),
        ("G2", "leaf/single-fall-restraint"),
        ("G2", "running_gear/missing-stop-open-manual"),
        ("G2", "running_gear/bracket-off-height"),
    ] {
        let hit =
            found.lines().any(|line| line.contains(&format!("gate {gate}")) && line.contains(&format!("[{rule}]")));
        assert!(hit, "{gate}: {rule}\n{found}");
    }
    assert!(found.contains("reading/unmatched-deviation") && found.contains("claims an approved deviation"));
}

/// What the city asks beyond the shipped rules, from the numbers of its pack; and what it leaves to its neighbors.
#[test]
fn the_city_finds_what_the_shipped_rules_let_pass() {
    let folder = tempfile::tempdir().unwrap();
    let bare = folder.path().join("bare.yaml");
    fs::write(&bare, "format: 1\n").unwrap();
    let submittal = "examples/quarry-bend/rev-0.yaml";
    let shipped = run(&["review", "--format", "line", "--project", bare.to_str().unwrap(), submittal]);
    assert!(!shipped.out.contains("hazard") && !shipped.out.contains("requirement"), "{}", shipped.out);
    assert!(shipped.out.contains("[running_gear/no-debris-brush]"), "{}", shipped.out);
    let city = run(&["review", "--format", "line", submittal]);
    assert_eq!(city.code, 1);
    let found: Vec<&str> =
        city.out.lines().map(|line| line.rsplit('[').next().unwrap().trim_end_matches(']')).collect();
    let expected = ["long-reinspection", "late-opening", "low-overhead", "short-setback", "falls-over"];
    assert_eq!(found, expected.map(|rule| format!("quarry_bend/{rule}")), "{}", city.out);
    let proved = run(&["prove", "--packs", "examples/quarry-bend/city", "quarry_bend"]);
    assert_eq!(proved.code, 0, "{}", proved.out);
    // The pack lies among the submittals and is taken for none of them.
    let folder = run(&["review", "--format", "line", "examples/quarry-bend"]);
    assert_eq!((folder.out.as_str(), folder.err.as_str()), (city.out.as_str(), ""));
    // What is replaced is said also where it is met.
    let report = run(&["review", "--format", "json", submittal]);
    let report: Value = serde_json::from_str(&report.out).unwrap();
    let replaced: Vec<(&str, &str)> = report["replaced"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pair| (pair["rule"].as_str().unwrap(), pair["by"].as_str().unwrap()))
        .collect();
    assert!(replaced.contains(&("posts/footing-above-frost", "quarry_bend/footing-above-frost")), "{replaced:?}");
    assert!(replaced.contains(&("leaf/falls-over", "quarry_bend/falls-over")), "{replaced:?}");
    assert_eq!(replaced.len(), 4);
}

fn examples_as_json() -> Value {
    let done = run(&["review", "--format", "json", "examples"]);
    assert_eq!(done.code, 1);
    serde_json::from_str(&done.out).unwrap()
}

#[test]
fn the_json_report_fits_its_schema() {
    let schema: Value = serde_json::from_str(include_str!("../../schema/report.schema.json")).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let report = examples_as_json();
    let errors: Vec<String> =
        validator.iter_errors(&report).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{}", errors.join("\n"));
}

/// The text that a label's lines and columns cut out of the file.
fn slice(text: &str, label: &Value) -> String {
    let number = |key: &str| usize::try_from(label[key].as_u64().unwrap()).unwrap();
    let lines: Vec<Vec<char>> = text.split('\n').map(|line| line.chars().collect()).collect();
    let (line, column, end_line, end_column) =
        (number("line"), number("column"), number("end_line"), number("end_column"));
    if line == end_line {
        return lines[line - 1][column - 1..end_column - 1].iter().collect();
    }
    let mut cut: String = lines[line - 1][column - 1..].iter().collect();
    for middle in &lines[line..end_line - 1] {
        cut.push('\n');
        cut.extend(middle);
    }
    cut.push('\n');
    cut.extend(&lines[end_line - 1][..end_column - 1]);
    cut
}

/// Every label of every finding cuts a key or a value out of the file: of the field that the finding names, where it
/// names one.
#[test]
fn every_label_of_every_finding_stands_at_what_it_speaks_of() {
    let report = examples_as_json();
    let findings = report["findings"].as_array().unwrap();
    assert!(findings.len() > 60);
    let mut not_met = 0;
    for finding in findings {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(finding["path"].as_str().unwrap());
        let text = fs::read_to_string(path).unwrap();
        for label in finding["labels"].as_array().unwrap() {
            let cut = slice(&text, label);
            assert!(!cut.trim().is_empty(), "{finding:#}");
            // Whole keys and values only: nothing that could go on to the left or right.
            let start = text.find(&cut).unwrap();
            assert_eq!(text[start..].find(&cut), Some(0));
            assert!(!cut.starts_with([' ', ',']) && !cut.ends_with([' ', ',']), "`{cut}` of {finding:#}");
        }
        let (Some(field), "not_met") = (finding["field"].as_str(), finding["outcome"].as_str().unwrap()) else {
            continue;
        };
        let key = field.rsplit('.').next().unwrap();
        let cut = slice(&text, &finding["labels"][0]);
        let line = text.lines().nth(usize::try_from(finding["line"].as_u64().unwrap()).unwrap() - 1).unwrap();
        // The value follows its key on the line, or the label is the key of a section or list.
        let at_key = cut == key;
        let behind_key =
            line.find(&format!("{key}:")).is_some_and(|at| line[at..].contains(cut.lines().next().unwrap()));
        assert!(at_key || behind_key, "{field}: `{cut}` on `{line}`");
        not_met += 1;
    }
    assert!(not_met > 20);
}

/// A standard validator and our reader agree on keys, nesting, lists, choices and yes/no.
#[test]
fn a_standard_validator_accepts_the_schema_and_the_clean_example_and_finds_the_same_faults() {
    let schema: Value = serde_json::from_str(include_str!("../../schema/submittal.schema.json")).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    let as_json = |text: &str| -> Value {
        let yaml: serde_yaml::Value = serde_yaml::from_str(text).unwrap();
        serde_json::to_value(yaml).unwrap()
    };
    for name in ["alder-ridge/rev-2", "saltmarsh-depot/bid-set"] {
        let text = fs::read_to_string(root().join(format!("{name}.yaml"))).unwrap();
        let errors: Vec<String> =
            validator.iter_errors(&as_json(&text)).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{name}: {}", errors.join("\n"));
    }
    let clean = fs::read_to_string(root().join("alder-ridge/rev-2.yaml")).unwrap();
    for (from, to, code) in [
        ("    leaf:\n", "    laef:\n", "unknown-field"),
        ("    usage_class: II ", "    usage_class: V ", "unknown-choice"),
        ("      level: yes\n", "      level: maybe\n", "wrong-kind"),
        (
            "    signs:\n      - {side: public, visible: yes}\n      - {side: secure, visible: yes}\n",
            "    signs: both sides\n",
            "wrong-kind",
        ),
        (
            "    stops: {at_open: physical, at_closed: physical, independent_of_operator: yes}\n",
            "    stops: [physical]\n",
            "wrong-kind",
        ),
        ("  - mark: G1\n    type: cantilever_slide\n", "  - type: cantilever_slide\n", "missing-field"),
        ("    opening: 24 ft\n", "    opening: [24 ft]\n", "wrong-kind"),
    ] {
        assert!(clean.contains(from), "{from}");
        let text = clean.replacen(from, to, 1);
        assert!(!validator.is_valid(&as_json(&text)), "the validator accepts {to}");
        let found = super::program::run_with_input(&["review", "--format", "line", "-"], &text).out;
        assert!(found.contains(&format!("[reading/{code}]")), "{to}\n{found}");
    }
}
