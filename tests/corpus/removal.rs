//! Taking any one fact away from a clean gate changes only rules that rest on it, and asks for it in one question.

use std::collections::{BTreeMap, BTreeSet};

use gatewright::review::SubmittalReview;
use rayon::prelude::*;
use serde_yaml::Value;

use super::{bases, review, rules, set};

/// Paths of every scalar and list of scalars, with indexes.
fn paths(value: &Value, at: &str, out: &mut Vec<String>) {
    let join = |part: &str| if at.is_empty() { part.to_owned() } else { format!("{at}.{part}") };
    match value {
        Value::Mapping(map) => map.iter().for_each(|(key, value)| paths(value, &join(key.as_str().unwrap()), out)),
        Value::Sequence(list) if list.iter().any(Value::is_mapping) => {
            list.iter().enumerate().for_each(|(index, value)| paths(value, &join(&index.to_string()), out));
        }
        _ => out.push(at.to_owned()),
    }
}

/// The path of the field as findings name it: without indexes, a gate's fields under `gate`.
fn field_of(path: &str) -> String {
    let parts: Vec<&str> = path.split('.').filter(|part| part.parse::<usize>().is_err()).collect();
    match parts[0] {
        "gates" => format!("gate.{}", parts[1..].join(".")),
        _ => parts.join("."),
    }
}

/// Names of the rules that came out otherwise.
fn otherwise(before: &SubmittalReview, after: &SubmittalReview) -> BTreeSet<String> {
    let outcomes = |review: &SubmittalReview| {
        let gates = review.gates.iter().map(|gate| &gate.outcomes);
        let mut all: BTreeSet<(String, &'static str)> = BTreeSet::new();
        for outcomes in std::iter::once(&review.outcomes).chain(gates) {
            for (list, word) in [
                (&outcomes.met, "met"),
                (&outcomes.not_met, "not met"),
                (&outcomes.not_shown, "not shown"),
                (&outcomes.does_not_apply, "does not apply"),
            ] {
                all.extend(list.iter().map(|name| (name.to_string(), word)));
            }
        }
        all
    };
    outcomes(before).symmetric_difference(&outcomes(after)).map(|(name, _)| name.clone()).collect()
}

fn conditions_text(rule: &gatewright::rule::Rule) -> String {
    rule.when.iter().chain([&rule.require]).map(|condition| condition.text.as_str()).collect::<Vec<_>>().join(" ")
}

/// The fields that a rule reads, as findings name them.
fn read_by(rule: &gatewright::rule::Rule) -> BTreeSet<String> {
    let vocabulary = &rules().vocabulary;
    let conditions = rule.when.iter().chain([&rule.require]);
    let mut fields: BTreeSet<String> = conditions
        .flat_map(|condition| condition.checked.fields())
        .map(|field| vocabulary.path_of(field.record, field.field))
        .collect();
    if conditions_text(rule).contains("review.stage") {
        fields.insert("submittal.stage".to_owned());
    }
    if let Some(group) = rule.group
        && let gatewright::rule::Over::List(list) = rules().groups[group].over
    {
        fields.insert(vocabulary.path_of(list.record, list.field));
    }
    fields
}

/// Clean gates that have little in common; the others differ from one of these in a fact or two.
const UNLIKE: [&str; 6] = ["full", "manual", "external", "federal", "pair", "handed_over"];

#[test]
fn taking_a_fact_away_touches_only_what_rests_on_it_and_asks_once() {
    let bases = bases();
    let mut all = Vec::new();
    for (name, base) in bases.iter().filter(|(name, _)| UNLIKE.contains(&name.as_str())) {
        let mut of_base = Vec::new();
        paths(base, "", &mut of_base);
        // Without a readable format nothing is judged, and the mark names the gate in every finding.
        of_base.retain(|path| !["format", "gates.0.mark"].contains(&path.as_str()));
        assert!(of_base.len() > 150, "{name}: {} facts", of_base.len());
        all.extend(of_base.into_iter().map(|path| (name, base, path)));
    }
    let clean: BTreeMap<&String, SubmittalReview> =
        bases.iter().map(|(name, base)| (name, review(name, base))).collect();
    let wrong: Vec<String> = all
        .par_iter()
        .flat_map(|(name, base, path)| {
            let before = &clean[name];
            let mut without = (*base).clone();
            set(&mut without, path, &Value::Null);
            let after = review(name, &without);
            let field = field_of(path);
            let mut wrong = Vec::new();
            for changed in otherwise(before, &after) {
                let rule = rules().rules.iter().find(|rule| rule.facts.name == changed).unwrap();
                let read = read_by(rule);
                let rests = read.iter().any(|read| *read == field || field.starts_with(&format!("{read}.")));
                if !rests {
                    wrong.push(format!("{name}, {path}: {changed} changed and does not read it"));
                }
            }
            let asked: Vec<&str> = after.questions.iter().map(|question| question.field.as_str()).collect();
            let about =
                asked.iter().filter(|asked| **asked == field || field.starts_with(&format!("{asked}."))).count();
            // Where a rule is not shown for want of it, the fact is asked for, and once.
            let wanted = after.findings.iter().any(|finding| finding.missing.contains(&field));
            if about > 1 || (wanted && about == 0) {
                wrong.push(format!("{name}, {path}: asked {about} times"));
            }
            // Another fact may be asked for only by rules that read this one: it would settle them as well.
            for question in after
                .questions
                .iter()
                .filter(|question| question.field != field && !field.starts_with(&format!("{}.", question.field)))
            {
                for asking in &question.rules {
                    let rule = rules().rules.iter().find(|rule| rule.facts.name == *asking).unwrap();
                    let read = read_by(rule);
                    if !read.iter().any(|read| *read == field || field.starts_with(&format!("{read}."))) {
                        wrong.push(format!("{name}, {path}: {asking} asks for {}", question.field));
                    }
                }
            }
            wrong
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
