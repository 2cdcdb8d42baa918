//! The located tree: places, limits, going on past a syntax error, hostile input.

mod growth;
mod hostile;

use std::sync::Arc;

use gatewright::document::{Kind, Limits, Parsed, decode, parse, place_in};
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

/// What stands in the file for every node below the root of the first document.
fn slices(text: &str) -> Vec<String> {
    let (file, parsed) = read(text);
    let root = parsed.tree.documents()[0].root.unwrap();
    (root..parsed.tree.node(root).end).map(|id| file.slice(parsed.tree.span(id)).to_owned()).collect()
}

#[test]
fn collections_reach_from_their_first_to_their_last_byte() {
    assert_eq!(
        slices("a:\n  b: 1 # one\n\n  c:\n\n# end\n"),
        ["a:\n  b: 1 # one\n\n  c:", "a", "b: 1 # one\n\n  c:", "b", "1", "c", "c"]
    );
    assert_eq!(
        slices("a: # why\n- x\n-\n- - y\n"),
        ["a: # why\n- x\n-\n- - y", "a", "- x\n-\n- - y", "x", "-", "- y", "y"]
    );
    assert_eq!(slices("a: &x # - no\n# - no\n- !!str b\n")[2], "- !!str b");
    // In its key's column, with a first item that begins with a dash of its own.
    assert_eq!(slices("a:\n- -5 deg\n- 1\n")[2], "- -5 deg\n- 1");
    assert_eq!(slices("a:\n- - - x\nb:\n  - -1\n")[2..], ["- - - x", "- - x", "- x", "x", "b", "- -1", "-1"]);
    assert_eq!(slices("? - - x\n: - -1\n")[1..], ["- - x", "- x", "x", "- -1", "-1"]);
    assert_eq!(slices("[a: 1, {b: 2 } ,]\n"), ["[a: 1, {b: 2 } ,]", "a: 1", "a", "1", "{b: 2 }", "b", "2"]);
    assert_eq!(slices("? a\n? b\n: - c\n: d\n")[1..], ["a", "a", "b", "- c", "c", ":", "d"]);
    assert_eq!(slices("a: &x\nb: !!str\n"), ["a: &x\nb: !!str", "a", "a", "b", "b"]);
}

#[test]
fn block_texts_begin_at_their_first_character_and_end_with_their_last_line() {
    assert_eq!(
        slices("a: |\n\n  one\n   two \n\n\nb: >-\n  t\nc: |\nd: 1\n")[1..],
        ["a", "one\n   two ", "b", "t", "c", "|", "d", "1"]
    );
    assert_eq!(slices("a: >\r\n  one\r\n  two\r\n")[2], "one\r\n  two");
}

#[test]
fn a_null_that_is_written_is_a_text_and_a_missing_value_is_not() {
    let (_, parsed) = read("a: ~\nb: null\nc:\nd: ''\n");
    let values: Vec<_> = parsed.tree.entries(0).map(|(_, value)| value).collect();
    let absent: Vec<_> = values.iter().map(|&value| parsed.tree.is_absent(value)).collect();
    assert_eq!(absent, [false, false, true, false]);
    assert_eq!(parsed.tree.text(values[0]), Some("~"));
    assert_eq!(parsed.tree.text(values[1]), Some("null"));
    for empty in ["", "# nothing\n", "---\n", "--- # nothing\n...\n"] {
        assert!(read(empty).1.tree.documents().iter().all(|document| document.root.is_none()), "{empty:?}");
    }
}

#[test]
fn keys_written_twice_are_found_in_small_and_large_sections() {
    let (file, parsed) = read("a: 1\n'a': 2\n\"\\x61\": 3\n");
    let label = &parsed.problems[0].1.labels[0];
    assert_eq!((file.slice(label.0), label.1.as_str()), ("a", "first written here"));
    assert_eq!(parsed.problems.len(), 2);
    let many: String = (0..40).map(|key| format!("k{}: 1\n", key % 39)).collect();
    assert_eq!(problems(&many), [("duplicate-key", 40, 1, "k0".to_owned())]);
    assert_eq!(problems("a: {b: 1}\nc: {b: 1}\n"), []);
    assert_eq!(problems("&x a: 1\n*x : 2\n"), [("duplicate-key", 2, 1, "*x".to_owned())]);
}

#[test]
fn aliases_reach_over_a_syntax_error_but_not_over_a_document() {
    let (_, parsed) = read("a: &x 5 in\nb: \"open\nc: *x\nd: &x 6 in\ne: *x\n---\nf: *x\n");
    let tree = &parsed.tree;
    let codes: Vec<_> = parsed.problems.iter().map(|(document, problem)| (*document, problem.code)).collect();
    assert_eq!(codes, [(0, "syntax"), (1, "unknown-alias")]);
    let root = tree.documents()[0].root.unwrap();
    let texts: Vec<_> = tree.entries(root).map(|(key, value)| (tree.text(key), tree.text(value))).collect();
    assert_eq!(texts[2..], [(Some("c"), Some("5 in")), (Some("d"), Some("6 in")), (Some("e"), Some("6 in"))]);
    assert!(tree.documents()[0].broken && !tree.documents()[1].broken);
}

#[test]
fn text_behind_a_comment_sign_is_lost_only_where_a_value_could_be_meant() {
    let lost = |text: &str| problems(text).into_iter().map(|problem| problem.3).collect::<Vec<_>>();
    assert_eq!(lost("a:\n  - 5 in #4\n  -  #6\n  - [x, #7\n     y] #8\n"), ["#4", "#6", "#7", "#8"]);
    assert_eq!(lost("a: 'x' #'y'\nb: &x 1\nc: *x #9\nd: x\n  y #z z \n"), ["#'y'", "#9", "#z z"]);
    assert!(lost("a: x#4\nb: |\n  x #4\nc: > #4\n  x #5\nd: 1 ## rule\ne: '#4'\n#f\n").is_empty());
}

/// The span and the message of the first problem.
fn first(text: &str) -> (String, String) {
    let (file, parsed) = read(text);
    let (_, problem) = parsed.problems.first().unwrap_or_else(|| panic!("{text:?} is accepted"));
    assert_eq!((problem.code, problem.gravity), ("syntax", Gravity::Unreadable), "{text:?}");
    assert!(problem.help.is_some() && problem.message.starts_with("expected"), "{text:?}: {}", problem.message);
    (file.slice(problem.span).to_owned(), problem.message.clone())
}

#[test]
fn a_syntax_error_is_told_in_plain_words_at_its_cause() {
    let mut wrong = Vec::new();
    for (text, slice, part) in [
        ("a: [1, 2\nb: 3\n", "[", "`]` to close the `[`"),
        ("format: 1\ngates: [\n", "[", "`]` to close the `[`"),
        ("a: {b: 1, c\n", "{", "`}` to close the `{`"),
        ("a: [\n  1\n]\n", "]", "further to the right"),
        ("a: [1}\n", "}", "expected `]` to close the `[`, found `}`"),
        ("a: ]\n", "]", "a value"),
        ("a: \"x\nb: 1\n", "\"x", "closing \""),
        ("a: # \"why\"\n  'x\nb: 1\n", "'x", "closing '"),
        ("a: \"x\" y\n", "y", "closing quote"),
        ("a: 'it's'\n", "s'", "closing quote"),
        ("a: \"C:\\\\x C:\\dir\"\n", "\\dir\"", "escape"),
        ("a: b: c\n", ":", "second `: `"),
        ("a: 1\n  b: 2\n", "b", "found the key `b`"),
        ("a: 1\nfoo\nb: 2\n", "foo", "a key with a `:`"),
        ("a:\n    b: 1\n  c: 2\n", "c:", "in column 3"),
        ("a: 1\n- b\n", "- b", "in column 1"),
        ("b: &x 1\na: *x y\n", "y", "the end of the value"),
        ("a:\n\tb: 1\n", "\t", "blanks"),
        ("a: @x\n", "@x", "found `@x`"),
        ("a: - b\n", "-", "a value"),
        ("a: \"x\"#c\n", "#c", "blank before `#`"),
        ("a: |x\n  t\n", "|x", "line end behind"),
        ("a: & b\n", "&", "a name"),
        ("a: !e!x 1\n", "!e!x", "a value"),
        ("%YAML 3.0\n---\na: 1\n", "%YAML", "a key"),
        ("a: 1\n... x\n", "x", "nothing behind `...`"),
        ("a: x\u{1}y\n", "\u{1}", "\\u{1}"),
    ] {
        let (found, message) = first(text);
        if found != slice || !message.contains(part) {
            wrong.push(format!("{text:?}: at {found:?}: {message}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_problem_of_a_file_is_found_in_one_run() {
    let text = "format: 1\nformat: 1\ngates:\n  - mark: G1\n    gap: 5 in #max\n    note: *see drawing\n    \
                rail: 2\nproject: {name: x\nsite:\n  frost: !deep 30 in\n  soil: *nope\n  <<: *base\n\
                note: \"näme 🚪\n# remark\nstage: bid\nstage: bid\ncode: a: b\nlast: 1\n---\nlast: 1\n";
    let found: Vec<_> = problems(text).into_iter().map(|(code, line, ..)| (code, line)).collect();
    assert_eq!(
        found,
        [
            ("duplicate-key", 2),
            ("lost-text", 5),
            ("unknown-alias", 6),
            ("syntax", 6),
            ("syntax", 8),
            ("unknown-tag", 10),
            ("unknown-alias", 11),
            ("merge-key", 12),
            ("unknown-alias", 12),
            ("syntax", 13),
            ("duplicate-key", 16),
            ("syntax", 17),
        ]
    );
    let (_, parsed) = read(text);
    let root = parsed.tree.documents()[0].root.unwrap();
    let keys: Vec<_> = parsed.tree.entries(root).filter_map(|(key, _)| parsed.tree.text(key)).collect();
    assert_eq!(keys, ["format", "format", "gates", "project", "site", "note", "stage", "stage", "code", "last"]);
    assert!(parsed.tree.documents()[0].broken && !parsed.tree.documents()[1].broken);
}

#[test]
fn problems_are_capped_and_what_makes_a_file_unreadable_is_kept() {
    let text = format!("{}b: [\n", "a: 1\n".repeat(3_000));
    let (_, parsed) = read(&text);
    let count = |code: &str| parsed.problems.iter().filter(|(_, problem)| problem.code == code).count();
    assert_eq!((count("duplicate-key"), count("too-many-problems"), count("syntax")), (1_000, 1, 1));
    let (_, parsed) = read(&"a: [\nb: 1\n".repeat(80));
    let syntax: Vec<_> = parsed.problems.iter().filter(|(_, problem)| problem.code == "syntax").collect();
    assert_eq!(syntax.len(), 51);
    assert!(syntax[50].1.message.contains("the rest was not read"), "{}", syntax[50].1.message);
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
            let labels = problem.labels.iter().map(|(span, _)| *span);
            for span in labels.chain([problem.span]) {
                prop_assert!(file.text().get(span.range()).is_some(), "{span:?} of {text:?}");
            }
        }
        let tree = &parsed.tree;
        for document in tree.documents() {
            let Some(root) = document.root else { continue };
            for id in root..tree.node(root).end {
                let span = tree.span(id);
                let slice = file.text().get(span.range());
                prop_assert!(slice.is_some_and(|slice| !slice.is_empty()), "{span:?} of {text:?}");
                let end = tree.node(id).end;
                prop_assert!(end > id && end <= tree.node(root).end, "{id} of {text:?}");
                if let Some(text) = tree.text(id) {
                    let place = place_in(tree, id, 0..text.len());
                    prop_assert!(file.text().get(place.range()).is_some(), "{place:?} of {text:?}");
                }
            }
            tree.entries(root).for_each(drop);
        }
    }

    #[test]
    fn bytes_of_any_kind_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..80)) {
        let text = decode(&bytes).unwrap_or_else(|bad| bad.text);
        let (file, parsed) = read(&text);
        for (_, problem) in &parsed.problems {
            prop_assert!(file.text().get(problem.span.range()).is_some());
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
