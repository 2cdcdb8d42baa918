//! The located tree: places, limits, going on past a syntax error, hostile input.

mod hostile;

use std::sync::Arc;

use gatewright::document::{Kind, Limits, Parsed, parse};
use gatewright::problem::Gravity;
use gatewright::source::SourceFile;
use proptest::prelude::*;

fn read(text: &str) -> (Arc<SourceFile>, Parsed) {
    let file = Arc::new(SourceFile::new("f.yaml", text));
    let parsed = parse(Arc::clone(&file), &Limits::default());
    (file, parsed)
}

/// Code, line, column and slice of every problem.
fn problems(text: &str) -> Vec<(&'static str, u32, u32, String)> {
    let (file, parsed) = read(text);
    parsed
        .problems
        .iter()
        .map(|(_, problem)| {
            let at = file.position(problem.span.start);
            (problem.code, at.line, at.column, file.slice(problem.span).to_owned())
        })
        .collect()
}

/// Key and value slices of the top level.
fn entries(text: &str) -> Vec<(String, String)> {
    let (file, parsed) = read(text);
    let tree = parsed.tree;
    let root = tree.documents()[0].root.unwrap();
    let slice = |id| file.slice(tree.span(id)).to_owned();
    tree.entries(root).map(|(key, value)| (slice(key), slice(value))).collect()
}

#[test]
fn values_are_found_with_their_quotes_behind_marks_of_every_kind() {
    let pairs =
        |list: &[(&str, &str)]| list.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect::<Vec<_>>();
    assert_eq!(
        entries("\u{feff}näme: \"🚪 gate\"\r\ngap: 5 µm # wide\r\nnext: 'a'\n"),
        pairs(&[("näme", "\"🚪 gate\""), ("gap", "5 µm"), ("next", "'a'")])
    );
    assert_eq!(
        entries("a: [1, 2]\nb: {c: d}\ne:\n- x\n- y\n"),
        pairs(&[("a", "[1, 2]"), ("b", "{c: d}"), ("e", "- x\n- y")])
    );
    assert_eq!(entries("a: &x [1, 2]\nb: *x\n"), pairs(&[("a", "[1, 2]"), ("b", "*x")]));
    // A value that is left out has the place of its key.
    assert_eq!(entries("a:\nb: 1\n"), pairs(&[("a", "a"), ("b", "1")]));
    assert_eq!(entries("a: |\n  one\n  two\nb: 1\n")[0].1.trim_end(), "one\n  two");
}

#[test]
fn lines_and_columns_count_as_people_do() {
    assert_eq!(problems("näme: 1\nnäme: 2\n"), [("duplicate-key", 2, 1, "näme".to_owned())]);
    assert_eq!(problems("a: 1\r\na: 2\r\n")[0].1, 2);
    assert_eq!(problems("a: 1\ra: 2\r")[0].1, 2);
    assert_eq!(problems("🚪: {x: 1, x: 2}\n")[0].2, 11);
}

#[test]
fn aliases_stand_for_finished_nodes_of_their_document() {
    let (_, parsed) = read("a: &x 5 in\nb: *x\nc: &y [*y]\nd: *nope\n---\ne: *x\n");
    let tree = &parsed.tree;
    let root = tree.documents()[0].root.unwrap();
    let (_, b) = tree.entries(root).nth(1).unwrap();
    assert_eq!(tree.text(b), Some("5 in"));
    assert!(matches!(tree.node(b).kind, Kind::Alias(_)));
    let codes: Vec<_> = parsed.problems.iter().map(|(document, problem)| (*document, problem.code)).collect();
    assert_eq!(codes, [(0, "unknown-alias"), (0, "unknown-alias"), (1, "unknown-alias")]);
}

#[test]
fn merge_keys_tags_and_lost_text_are_reported() {
    assert_eq!(problems("base: &b {x: 1}\nc:\n  <<: *b\n"), [("merge-key", 3, 3, "<<".to_owned())]);
    assert_eq!(problems("a: !!python/object x\nb: !!str 1\n"), [("unknown-tag", 1, 4, "!!python/object".to_owned())]);
    assert_eq!(problems("bars: (6) #4 vertical\n"), [("lost-text", 1, 11, "#4 vertical".to_owned())]);
    assert_eq!(problems("bars: #4 vertical\n"), [("lost-text", 1, 7, "#4 vertical".to_owned())]);
    assert_eq!(problems("gap: 5 in # max\n# note\n#note\nlist:\n  - a # b\n"), []);
    assert_eq!(problems("gates: #the gates\n  - a\n"), []);
}

#[test]
fn each_limit_has_its_own_problem() {
    let with = |text: &str, limits: Limits| {
        let parsed = parse(Arc::new(SourceFile::new("f", text)), &limits);
        let (_, problem) = parsed.problems.into_iter().next().expect("a limit is passed");
        assert_eq!(problem.gravity, Gravity::Unreadable);
        assert!(problem.message.chars().any(|c| c.is_ascii_digit()), "the limit is named: {}", problem.message);
        problem.code
    };
    let limits = Limits::default();
    assert_eq!(with("a: 1234567890\n", Limits { file_bytes: 10, ..limits.clone() }), "too-large");
    assert_eq!(with("a: {b: {c: {d: 1}}}\n", Limits { depth: 3, ..limits.clone() }), "too-deep");
    assert_eq!(with("a: 1\nb: 2\n", Limits { nodes: 4, ..limits.clone() }), "too-many-nodes");
    assert_eq!(with("a: &x 1\nb: [*x, *x]\n", Limits { aliases: 1, ..limits.clone() }), "too-many-aliases");
    assert_eq!(with("a: 12345678901\n", Limits { scalar_bytes: 10, ..limits.clone() }), "scalar-too-long");
    assert_eq!(with("a: 1\n---\nb: 2\n", Limits { documents: 1, ..limits }), "too-many-documents");
}

#[test]
fn reading_goes_on_past_syntax_errors_with_the_same_mapping() {
    let text = "format: 1\nproject: {name: x\nsite:\n  frost_depth: 30 in\nnote: a: b\ngates: []\ngates: []\n";
    let (file, parsed) = read(text);
    let found: Vec<_> =
        parsed.problems.iter().map(|(_, problem)| (problem.code, file.position(problem.span.start).line)).collect();
    assert_eq!(found.iter().filter(|(code, _)| *code == "syntax").count(), 2, "{found:?}");
    assert!(found.contains(&("duplicate-key", 7)), "{found:?}");
    assert_eq!(parsed.tree.documents().len(), 1);
    assert!(parsed.tree.documents()[0].broken);
    let root = parsed.tree.documents()[0].root.unwrap();
    let keys: Vec<_> = parsed.tree.entries(root).filter_map(|(key, _)| parsed.tree.text(key)).collect();
    assert!(keys.contains(&"format") && keys.contains(&"gates"), "{keys:?}");
}

#[test]
fn an_unclosed_quote_is_pointed_at_where_it_opens() {
    let found = problems("a: 1\nb: \"unterminated\nc: 3\nd: 4\n");
    assert_eq!((found[0].0, found[0].1, found[0].2), ("syntax", 2, 4));
}

#[test]
fn documents_of_one_file_are_told_apart() {
    let (_, parsed) = read("a: 1\n---\nb: [\n---\nc: 3\n");
    let documents = parsed.tree.documents();
    assert_eq!(documents.len(), 3);
    assert_eq!(documents.iter().map(|document| document.broken).collect::<Vec<_>>(), [false, true, false]);
    assert_eq!(parsed.problems[0].0, 1);
}

const SEED: &str = "format: 1\ngates:\n  - mark: \"G 1\"\n    leaf: {height: 6 ft, infill: &i {kind: mesh}}\n    \
                    note: >-\n      two\n      lines\n    tail: *i # c\n    list:\n    - 'a''b'\n    - |\n      x\n";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_500))]

    #[test]
    fn mutants_of_a_document_never_panic_and_keep_their_places_in_the_text(
        edits in prop::collection::vec((0usize..400, "[ \\n:\\-\\[\\]{}#&*!|>'\"%@`,?aµ\\t\\r]{0,3}", 0usize..4), 1..5),
    ) {
        let mut text = SEED.to_owned();
        for (at, insert, drop) in edits {
            let boundary = |mut at: usize, text: &str| {
                at = at.min(text.len());
                while !text.is_char_boundary(at) { at -= 1; }
                at
            };
            let start = boundary(at, &text);
            let end = boundary(start + drop, &text).max(start);
            text.replace_range(start..end, &insert);
        }
        let (file, parsed) = read(&text);
        for (_, problem) in &parsed.problems {
            prop_assert!(problem.span.end as usize <= file.text().len() + 1);
            prop_assert!(!file.slice(problem.span).is_empty() || file.text().is_empty());
        }
        let tree = &parsed.tree;
        for document in tree.documents() {
            let Some(root) = document.root else { continue };
            for id in root..tree.node(root).end {
                let span = tree.span(id);
                prop_assert!(file.text().get(span.range()).is_some(), "{span:?} of {text:?}");
            }
        }
    }

    /// An independent reader gives the same keys and texts.
    #[test]
    fn simple_documents_agree_with_an_independent_reader(
        pairs in prop::collection::vec(("[a-z]{1,6}[0-9]{2}", "[a-zA-Z0-9 .'\"/µ½-]{0,12}"), 1..12),
    ) {
        let mut seen = std::collections::BTreeMap::new();
        for (key, value) in pairs {
            seen.insert(key, value);
        }
        let text = serde_yaml::to_string(&seen).unwrap();
        let (_, parsed) = read(&text);
        prop_assert!(parsed.problems.is_empty(), "{text}\n{:?}", parsed.problems);
        let root = parsed.tree.documents()[0].root.unwrap();
        let mut found = std::collections::BTreeMap::new();
        for (key, value) in parsed.tree.entries(root) {
            found.insert(parsed.tree.text(key).unwrap().to_owned(), parsed.tree.text(value).unwrap().to_owned());
        }
        prop_assert_eq!(found, seen);
    }
}
