//! The JSON report and its schema.

use gatewright::report::{Format, Options, write};
use gatewright::review::{Run, Weight};
use gatewright::source::Span;
use serde_json::{Value, json};

use super::sample;

const SCHEMA: &str = include_str!("../../schema/report.schema.json");

fn report(run: &Run) -> Value {
    serde_json::from_str(&write(run, Format::Json, &Options::default())).unwrap()
}

fn errors(report: &Value) -> Vec<String> {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    validator.iter_errors(report).map(|error| format!("{} at {}", error, error.instance_path())).collect()
}

/// The text between two places, counted as the report counts.
fn slice(text: &str, place: &Value) -> String {
    let offset = |line: &Value, column: &Value| {
        let (line, column) = (line.as_u64().unwrap() as usize, column.as_u64().unwrap() as usize);
        let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
        start + text[start..].chars().take(column - 1).map(char::len_utf8).sum::<usize>()
    };
    let start = offset(&place["line"], &place["column"]);
    text[start..offset(&place["end_line"], &place["end_column"])].to_owned()
}

#[test]
fn the_report_is_what_its_schema_says() {
    let report = report(&sample::run());
    assert_eq!(errors(&report), [""; 0]);
    let written = write(&sample::run(), Format::Json, &Options::default());
    insta::assert_snapshot!("json", written.replace(env!("CARGO_PKG_VERSION"), "[version]"));
    assert_eq!(errors(&self::report(&Run::default())), [""; 0]);
}

#[test]
fn the_schema_knows_every_key_and_lets_no_other_pass() {
    // Takes every key away in turn, and adds one to every object: each must be noticed.
    fn pointers(value: &Value, at: &str, out: &mut Vec<(String, Vec<String>)>) {
        match value {
            Value::Object(map) => {
                if at != "/rules" {
                    out.push((at.to_owned(), map.keys().cloned().collect()));
                }
                map.iter().for_each(|(key, inner)| pointers(inner, &format!("{at}/{}", key.replace('/', "~1")), out));
            }
            Value::Array(items) => {
                items.iter().enumerate().for_each(|(n, inner)| pointers(inner, &format!("{at}/{n}"), out));
            }
            _ => {}
        }
    }
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let good = report(&sample::run());
    let mut objects = Vec::new();
    pointers(&good, "", &mut objects);
    assert!(objects.len() > 30, "the sample shows too little");
    for (at, keys) in objects {
        for key in keys {
            let mut bad = good.clone();
            bad.pointer_mut(&at).and_then(Value::as_object_mut).unwrap().remove(&key);
            assert!(!validator.is_valid(&bad), "{at} may do without {key}");
        }
        let mut bad = good.clone();
        bad.pointer_mut(&at).and_then(Value::as_object_mut).unwrap().insert("more".to_owned(), json!(1));
        assert!(!validator.is_valid(&bad), "{at} takes a key that nobody writes");
    }
}

#[test]
fn every_place_cuts_its_text_out_of_the_file() {
    let run = sample::run();
    let report = report(&run);
    let submittal = &run.submittals[0];
    for (finding, written) in submittal.findings.iter().zip(report["findings"].as_array().unwrap()) {
        assert_eq!(slice(sample::TEXT, written), submittal.file.slice(finding.primary.span));
        let labels = std::iter::once(&finding.primary).chain(&finding.labels);
        assert_eq!(written["labels"].as_array().unwrap().len(), 1 + finding.labels.len());
        for (label, place) in labels.zip(written["labels"].as_array().unwrap()) {
            assert_eq!(slice(sample::TEXT, place), submittal.file.slice(label.span));
            assert_eq!(place["text"], label.text);
        }
    }
    assert_eq!(slice(sample::TEXT, &report["questions"][0]), "24 ft");
    assert_eq!(slice(sample::TEXT, &report["questions"][1]), "depth");
    assert_eq!(slice(sample::TEXT, &report["switched_off"][0]), "n/a");
    assert!(slice(sample::TEXT, &report["deviations"][1]).starts_with("{rule: guarding/no-such-rule"));
}

#[test]
fn columns_count_characters_and_a_place_may_span_lines() {
    let text = "µß: \"門\n  ½\" # x\nb: 1\n";
    let mut submittal = sample::bare("a.yaml", text);
    let quoted = Span::new(text.find('"').unwrap(), text.rfind('"').unwrap() + 1);
    submittal.findings = vec![sample::finding("reading/wrong-kind", Weight::Requirement, quoted, "wrong")];
    let report = report(&sample::alone(submittal));
    let place = &report["findings"][0];
    assert_eq!(
        [&place["line"], &place["column"], &place["end_line"], &place["end_column"]],
        [&json!(1), &json!(5), &json!(2), &json!(5)]
    );
    assert_eq!(slice(text, place), "\"門\n  ½\"");
}

#[test]
fn rules_stand_there_once_and_only_where_they_are_named() {
    let report = report(&sample::run());
    let names: Vec<&String> = report["rules"].as_object().unwrap().keys().collect();
    assert_eq!(
        names,
        ["footing/too-shallow", "guarding/open-leaf", "leaf/tail-leaves-carriage", "leaf/wide-bottom-gap"]
    );
}

#[test]
fn json_folds_and_cuts_nothing() {
    let mut submittal = sample::bare("a.yaml", "gap: 5\n");
    submittal.findings = vec![sample::finding("post/thin", Weight::Advice, Span::new(5, 6), "thin"); 250];
    assert_eq!(report(&sample::alone(submittal))["findings"].as_array().unwrap().len(), 250);
}
