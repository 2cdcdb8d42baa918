//! The vocabulary: choices that the rule language can name, labels that tell fields apart, fields that rules need.

use std::collections::BTreeMap;

use gatewright::expr::{KEYWORDS, ROOTS};
use gatewright::rule::submittal_vocabulary;
use gatewright::vocabulary::FieldKind;

#[test]
fn a_choice_is_a_word_and_no_word_of_the_language() {
    let vocabulary = submittal_vocabulary().unwrap();
    assert!(vocabulary.symbols.len() > 150);
    for name in &vocabulary.symbols {
        let word = name.starts_with(|c: char| c.is_ascii_alphabetic())
            && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_');
        assert!(word, "{name}");
        assert!(!KEYWORDS.contains(&name.as_str()) && !["yes", "no"].contains(&name.as_str()), "{name}");
    }
}

#[test]
fn every_field_can_be_named_in_a_rule_and_says_what_it_means() {
    let vocabulary = submittal_vocabulary().unwrap();
    let mut fields = 0;
    for record in &vocabulary.records {
        for field in &record.fields {
            fields += 1;
            for part in field.path.split('.') {
                assert!(!KEYWORDS.contains(&part), "{}", field.path);
            }
            assert!(!ROOTS.contains(&record.name.as_str()) || record.name == "gates", "{}", record.name);
            assert!(field.description.len() > 8, "{} of {} is not explained", field.path, record.name);
            assert!(!field.label.is_empty());
        }
    }
    assert!(fields > 400, "{fields}");
}

#[test]
fn labels_tell_the_fields_of_a_record_apart() {
    let vocabulary = submittal_vocabulary().unwrap();
    for record in &vocabulary.records {
        let mut seen: BTreeMap<&str, &str> = BTreeMap::new();
        for field in record.fields.iter().filter(|field| field.kind != FieldKind::Section) {
            if let Some(other) = seen.insert(&field.label, &field.path) {
                panic!("`{}` and `{other}` of {} share the label `{}`", field.path, record.name, field.label);
            }
        }
    }
}
