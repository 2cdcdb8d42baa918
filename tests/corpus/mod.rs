//! Whole submittals with the findings that the facts call for, written by hand: a clean gate, one change or a few, and
//! every finding that must come of it. Any difference, either way, fails, and so does a rule that no change here brings
//! to `not met` and to `not shown`.
//!
//! `bases.yaml` holds the clean gates, each by what sets it apart from a full one; the files of `cases/` hold the changes.
//! A change sets the value at a path (`gates.0.leaf.bottom_gap: 6 in`); `~` takes the key away. An expectation is
//! `rule | outcome | gate | field`; a field that is not named may be any. `pack/(one two)` are rules of a pack that all come
//! out alike.

mod alone;
mod removal;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use gatewright::review::{FileReview, Outcome, SubmittalReview, Terms, review_file};
use gatewright::rule::{RuleSet, load, shipped, shipped_names, submittal_vocabulary};
use rayon::prelude::*;
use serde_yaml::{Mapping, Value};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus")
}

/// The rules of a gate that answers to ASTM F2200 and UL 325.
fn rules() -> &'static RuleSet {
    static RULES: OnceLock<RuleSet> = OnceLock::new();
    RULES.get_or_init(|| loaded(&|name| name != "europe"))
}

/// The same with the European ones, which are on request.
fn rules_of_europe() -> &'static RuleSet {
    static RULES: OnceLock<RuleSet> = OnceLock::new();
    RULES.get_or_init(|| loaded(&|_| true))
}

fn loaded(wanted: &dyn Fn(&str) -> bool) -> RuleSet {
    let sources: Vec<_> = shipped_names().filter(|name| wanted(name)).filter_map(|name| shipped(name, false)).collect();
    match load(&sources, Arc::new(submittal_vocabulary().unwrap())) {
        Ok((rules, _)) => rules,
        Err(problems) => panic!("{:?}", problems.list.len()),
    }
}

/// Sets the value at a path; a null takes the key or element away.
fn set(root: &mut Value, path: &str, value: &Value) {
    let mut at = root;
    let (parents, last) = match path.rsplit_once('.') {
        Some((parents, last)) => (parents.split('.').collect(), last),
        None => (Vec::new(), path),
    };
    for part in parents {
        at = match at {
            Value::Sequence(list) => {
                let index: usize = part.parse().unwrap_or_else(|_| panic!("{path}: `{part}` is no index"));
                list.get_mut(index).unwrap_or_else(|| panic!("{path}: there is no element {index}"))
            }
            other => {
                if !other.is_mapping() {
                    *other = Value::Mapping(Mapping::new());
                }
                other.as_mapping_mut().unwrap().entry(part.into()).or_insert(Value::Null)
            }
        };
    }
    match at {
        Value::Sequence(list) => {
            let index: usize = last.parse().unwrap_or_else(|_| panic!("{path}: `{last}` is no index"));
            match value {
                Value::Null => {
                    list.remove(index);
                }
                value if index == list.len() => list.push(value.clone()),
                value => list[index] = value.clone(),
            }
        }
        other => {
            if !other.is_mapping() {
                *other = Value::Mapping(Mapping::new());
            }
            let map = other.as_mapping_mut().unwrap();
            match value {
                Value::Null => assert!(map.remove(last).is_some(), "{path}: there is nothing to take away"),
                value => {
                    map.insert(last.into(), value.clone());
                }
            }
        }
    }
}

fn changed(base: &Value, changes: &Value) -> Value {
    let mut root = base.clone();
    if let Some(changes) = changes.as_mapping() {
        for (path, value) in changes {
            set(&mut root, path.as_str().unwrap(), value);
        }
    }
    root
}

/// The clean gates by name.
fn bases() -> BTreeMap<String, Value> {
    let text = fs::read_to_string(folder().join("bases.yaml")).unwrap();
    let all: Mapping = serde_yaml::from_str(&text).unwrap();
    let mut bases: BTreeMap<String, Value> = BTreeMap::new();
    for (name, base) in all {
        let whole = match base["of"].as_str() {
            Some(other) => changed(&bases[other], &base["set"]),
            None => base["submittal"].clone(),
        };
        bases.insert(name.as_str().unwrap().to_owned(), whole);
    }
    bases
}

/// A gate under European norms switches off the one rule that asks for the listing of the other market.
fn is_european(base: &str) -> bool {
    base.starts_with("european")
}

fn review(base: &str, submittal: &Value) -> SubmittalReview {
    let text = serde_yaml::to_string(submittal).unwrap();
    let (rules, terms) = if is_european(base) {
        let rules = rules_of_europe();
        (rules, Terms { off: vec![rules.find("operator/unlisted-operator").unwrap()], ..Terms::default() })
    } else {
        (rules(), Terms::default())
    };
    let FileReview { submittals, .. } = review_file(rules, &terms, "gate.yaml", text.as_bytes(), true);
    submittals.into_iter().next().expect("one submittal")
}

/// `rule | outcome | gate | field` of every finding.
fn found(review: &SubmittalReview) -> BTreeSet<[String; 4]> {
    let line = |finding: &gatewright::review::Finding| {
        let outcome = if finding.outcome == Outcome::NotMet { "not met" } else { "not shown" };
        let field = finding.field.clone().unwrap_or_default();
        [finding.rule.clone(), outcome.to_owned(), finding.gate.clone().unwrap_or_default(), field]
    };
    review.findings.iter().map(line).collect()
}

/// An expectation, or those of several rules of a pack.
fn expectations(line: &str) -> Vec<Vec<String>> {
    let parts: Vec<String> = line.split('|').map(|part| part.trim().to_owned()).collect();
    let Some((pack, names)) = parts[0].split_once('(') else { return vec![parts] };
    let names = names.strip_suffix(')').unwrap_or_else(|| panic!("{line}: no `)`"));
    names.split(' ').map(|name| [&[format!("{pack}{name}")], &parts[1..]].concat()).collect()
}

struct Case {
    name: String,
    base: String,
    submittal: Value,
    expected: Vec<Vec<String>>,
}

fn cases() -> Vec<Case> {
    let bases = bases();
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder().join("cases")).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let mut out = Vec::new();
    for file in files {
        let list: Vec<Value> = serde_yaml::from_str(&fs::read_to_string(&file).unwrap())
            .unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        for case in list {
            let text =
                |key: &str| case[key].as_str().unwrap_or_else(|| panic!("{}: no {key}", file.display())).to_owned();
            let base = bases.get(&text("base")).unwrap_or_else(|| panic!("no base {}", text("base")));
            let expected = case["expect"].as_sequence().unwrap_or_else(|| panic!("{}: expect", text("name")));
            out.push(Case {
                name: format!("{}: {}", file.file_stem().unwrap().display(), text("name")),
                base: text("base"),
                submittal: changed(base, &case["set"]),
                expected: expected.iter().flat_map(|line| expectations(line.as_str().unwrap())).collect(),
            });
        }
    }
    out
}

#[test]
fn clean_gates_have_no_finding() {
    let bases = bases();
    let mut wrong = Vec::new();
    for (name, base) in &bases {
        let review = review(name, base);
        let found: Vec<String> = found(&review).into_iter().map(|line| line.join(" | ")).collect();
        if !found.is_empty() {
            wrong.push(format!("{name}:\n  {}", found.join("\n  ")));
            continue;
        }
        let action = review.action.map(gatewright::review::Action::words);
        assert_eq!(action, Some("no exceptions taken"), "{name}");
        let met: usize = review.gates.iter().map(|gate| gate.outcomes.met.len()).sum();
        assert!(met > 40, "{name}: {met} rules met");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(bases.len() >= 10, "{} clean gates", bases.len());
}

#[test]
fn every_change_brings_the_findings_that_the_facts_call_for() {
    let cases = cases();
    let wrong: Vec<String> = cases
        .par_iter()
        .filter_map(|case| {
            let found = found(&review(&case.base, &case.submittal));
            let fits = |expected: &[String], found: &[String; 4]| {
                expected.iter().zip(found).all(|(expected, found)| expected.is_empty() || expected == found)
            };
            let missed: Vec<String> = case
                .expected
                .iter()
                .filter(|expected| !found.iter().any(|found| fits(expected, found)))
                .map(|expected| format!("  missed  {}", expected.join(" | ")))
                .collect();
            let surplus: Vec<String> = found
                .iter()
                .filter(|found| !case.expected.iter().any(|expected| fits(expected, found)))
                .map(|found| format!("  surplus {}", found.join(" | ")))
                .collect();
            let both = [missed, surplus].concat();
            (!both.is_empty()).then(|| format!("{}\n{}", case.name, both.join("\n")))
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
    assert!(cases.len() >= 40, "{} submittals", cases.len());
}

/// Rules that no submittal can bring to an outcome, each with the reason.
const CANNOT: &[(&str, &str, &str)] = &[
    ("paperwork/unstated-operation", "not met", "every choice of the field satisfies it"),
    ("paperwork/unstated-gate-standard", "not met", "every edition that is known satisfies it"),
    ("posts/no-wind-basis", "not met", "every value that the fields take satisfies it"),
    ("posts/no-soil-basis", "not met", "every value that the fields take satisfies it"),
    (
        "posts/soil-value-without-source",
        "not met",
        "both choices of the field satisfy it: it asks whether one is stated",
    ),
    ("leaf/live-load-not-stated", "not met", "its bound stands for any load: it asks whether one is stated"),
];

#[test]
fn every_rule_comes_out_not_met_and_not_shown_somewhere() {
    let expected: BTreeSet<(String, String)> =
        cases().iter().flat_map(|case| &case.expected).map(|line| (line[0].clone(), line[1].clone())).collect();
    let mut lacking = Vec::new();
    for rule in &rules_of_europe().rules {
        for outcome in ["not met", "not shown"] {
            let excused = CANNOT.iter().any(|(name, cannot, _)| *name == rule.facts.name && *cannot == outcome);
            if !excused && !expected.contains(&(rule.facts.name.clone(), outcome.to_owned())) {
                lacking.push(format!("{} | {outcome}", rule.facts.name));
            }
        }
    }
    assert!(lacking.is_empty(), "not in the corpus:\n{}", lacking.join("\n"));
}
