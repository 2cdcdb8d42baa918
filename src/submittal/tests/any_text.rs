//! Whatever is written is read or refused in place: no panic, every problem inside the file.

use std::sync::Arc;

use proptest::prelude::*;

use super::super::{Mode, check, read};
use crate::document::{Limits, parse};
use crate::source::SourceFile;
use crate::vocabulary::{Vocabulary, compile};

fn schemas() -> Vec<Vocabulary> {
    [
        include_str!("../../../schema/submittal.schema.json"),
        include_str!("../../../schema/rule-pack.schema.json"),
        include_str!("../../../schema/project.schema.json"),
    ]
    .map(|schema| compile(schema).unwrap())
    .into()
}

/// Reads a text by every schema: whole as a document, and as a part that is an element of its first list.
fn read_by_all(text: &str) -> Result<(), TestCaseError> {
    let file = Arc::new(SourceFile::new("s.yaml", text));
    let tree = parse(Arc::clone(&file), &Limits::default()).tree;
    for root in tree.documents().iter().filter_map(|document| document.root) {
        for vocabulary in SCHEMAS.with(Clone::clone).iter() {
            let whole = read(&tree, root, vocabulary, 0, Mode::Whole);
            let more = check(&tree, vocabulary, &whole);
            let part = read(&tree, root, vocabulary, 1, Mode::Fragment);
            for problem in whole.problems.iter().chain(&more).chain(&part.problems) {
                prop_assert!(!problem.message.is_empty() && !problem.message.contains('\n'), "{problem:?}");
                for span in problem.labels.iter().map(|(span, _)| *span).chain([problem.span]) {
                    prop_assert!(file.text().get(span.range()).is_some(), "{problem:?}");
                }
            }
        }
    }
    Ok(())
}

thread_local! {
    static SCHEMAS: std::rc::Rc<Vec<Vocabulary>> = std::rc::Rc::new(schemas());
}

/// Keys of all schemas, so that values of the wrong kind meet every kind of field.
fn key() -> impl Strategy<Value = String> {
    let mut keys: Vec<String> = schemas()
        .iter()
        .flat_map(|vocabulary| &vocabulary.records)
        .flat_map(|record| record.fields.iter().map(|field| field.key.clone()))
        .collect();
    keys.sort();
    keys.dedup();
    prop_oneof![9 => prop::sample::select(keys), 1 => "[a-zµ_<]{1,8}"]
}

/// A value in flow style, from a scalar to sections and lists of them; anchors and aliases among them.
fn value() -> impl Strategy<Value = String> {
    let scalar = prop_oneof![
        "[0-9]{1,3}( (ft|in|lb|%|deg|psi|fet))?( max| min)?",
        prop::sample::select(vec![
            "TBD",
            "n/a",
            "~",
            "yes",
            "NO",
            "on",
            "6:30",
            "2026-10",
            "24' 6\"",
            "5 in to 3 in",
            "''",
            "\"\\u00bd in\"",
            "'it''s 5'",
            "&x 5 in",
            "*x",
            "*y",
            "left",
            "cantilever_slide",
            "1",
            "-3 ft",
            "4/8 in",
            "1:50",
        ])
        .prop_map(str::to_owned),
        "[a-zµ½ ]{0,9}",
    ];
    scalar.prop_recursive(4, 40, 5, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(|items| format!("[{}]", items.join(", "))),
            prop::collection::vec((key(), inner), 0..5).prop_map(|entries| {
                let entries: Vec<_> = entries.into_iter().map(|(key, value)| format!("{key}: {value}")).collect();
                format!("{{{}}}", entries.join(", "))
            }),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn any_document_is_read_or_refused_in_place(entries in prop::collection::vec((key(), value()), 0..8)) {
        read_by_all(&entries.iter().map(|(key, value)| format!("{key}: {value}\n")).collect::<String>())?;
    }

    #[test]
    fn any_gate_is_read_or_refused_in_place(entries in prop::collection::vec((key(), value()), 0..8)) {
        let body: String = entries.iter().map(|(key, value)| format!("    {key}: {value}\n")).collect();
        read_by_all(&format!("format: 1\ngates:\n  - hand: left\n{body}"))?;
    }

    #[test]
    fn any_text_is_read_or_refused_in_place(text in "(?s)([a-z]{1,4}: |- |\\[|\\{|&a |\\*a|\n|  |[ -~µ\u{feff}]){0,40}") {
        read_by_all(&text)?;
    }
}
