//! Schemas that compile, and what is said of those that do not.

use super::{FieldKind, ListOf, Placeholders, compile};
use crate::quantity::QuantityKind;

#[test]
fn sections_are_flattened_and_lists_become_record_types() {
    let vocabulary = compile(
        r##"{"type": "object", "x-placeholders": ["TBD"], "required": ["gates"], "properties": {
            "site": {"anyOf": [{"$ref": "#/$defs/none"}, {"type": "object", "properties": {
                "frost_depth": {"type": "string", "x-kind": "length", "x-label": "frost depth", "x-min": "0 in"}}}]},
            "gates": {"type": "array", "items": {"$ref": "#/$defs/gate"}}},
          "$defs": {"none": {"type": "null"}, "gate": {"type": "object", "required": ["mark"], "properties": {
            "mark": {"x-kind": "text"},
            "hand": {"anyOf": [{"$ref": "#/$defs/none"}, {"const": "n/a"}, {"enum": ["left", "right"]}],
                     "x-kind": "choice", "x-not-applicable": true}}}}}"##,
    )
    .unwrap();
    let frost = vocabulary.record(0).field("site.frost_depth").unwrap();
    let frost = vocabulary.field(0, frost);
    assert_eq!(frost.kind, FieldKind::Quantity(QuantityKind::Length));
    assert_eq!((frost.label.as_str(), frost.parent), ("frost depth", vocabulary.record(0).field("site")));
    let gates = vocabulary.field(0, vocabulary.record(0).field("gates").unwrap());
    assert!(gates.required);
    assert_eq!(gates.kind, FieldKind::List(ListOf::Record(1)));
    let hand = vocabulary.field(1, vocabulary.record(1).field("hand").unwrap());
    assert!(hand.not_applicable);
    assert_eq!(hand.kind, FieldKind::Choice(vec![0, 1]));
    assert_eq!(vocabulary.symbol("right"), Some(1));
    assert_eq!(vocabulary.placeholders, Placeholders::new(["tbd"]));
}

#[test]
fn words_of_a_choice_belong_to_its_field() {
    let vocabulary = compile(
        r#"{"properties": {
            "zone": {"x-kind": "choice", "enum": ["drive", "other"],
                     "x-words": {"drive": "at the drive", "other": "of another kind"}},
            "drive": {"x-kind": "choice", "enum": ["chain", "other"]}}}"#,
    )
    .unwrap();
    let [drive, other, chain] = ["drive", "other", "chain"].map(|name| vocabulary.symbol(name).unwrap());
    assert_eq!(vocabulary.choice_words(&[drive, other], other), Some("of another kind"));
    assert_eq!(vocabulary.choice_words(&[chain, other], other), None);
}

#[test]
fn a_schema_that_is_not_understood_says_where() {
    for (schema, pointer, word) in [
        (r#"{"properties": {"a": {"x-kind": "wight"}}}"#, "/properties/a", "`wight`"),
        (r#"{"properties": {"a": {"type": "string"}}}"#, "/properties/a", "`x-kind`"),
        (r#"{"properties": {"a": {"x-kind": "text", "x-lable": "a"}}}"#, "/properties/a", "`x-lable`"),
        (r##"{"properties": {"a": {"$ref": "#/$defs/b"}}}"##, "/properties/a", "leads nowhere"),
        (r#"{"properties": {"a": {"x-kind": "choice"}}}"#, "/properties/a", "`enum`"),
        (r#"{"properties": {"a": {"x-kind": "choice", "enum": ["on", true]}}}"#, "/properties/a/enum", "texts"),
        (r#"{"properties": {"a": {"x-kind": "length", "x-min": "1"}}}"#, "/properties/a", "x-min"),
        (r#"{"properties": {"a": {"x-kind": "text", "x-max": "1 in"}}}"#, "/properties/a", "x-max"),
        (r#"{"properties": {"a": {"type": "array"}}}"#, "/properties/a", "`items`"),
        (
            r#"{"properties": {"a": {"type": "array", "items": {"x-kind": "length"}}}}"#,
            "/properties/a",
            "sections, choices or texts",
        ),
        (
            r#"{"properties": {"a": {"x-kind": "choice", "enum": ["on", "off"], "x-words": {"on": "at work"}}}}"#,
            "/properties/a",
            "a text for each choice",
        ),
        (r#"{"properties": {"a": {"x-kind": "map"}}}"#, "/properties/a", "additionalProperties"),
        (r#"{"required": ["b"], "properties": {"a": {"x-kind": "text"}}}"#, "", "`b` is required"),
        ("{", "", "EOF"),
    ] {
        let error = compile(schema).unwrap_err();
        assert_eq!(error.pointer, pointer, "{schema}: {error}");
        assert!(error.message.contains(word), "{schema}: {error}");
    }
}

#[test]
fn a_definition_that_holds_itself_is_refused() {
    for holder in [r##"{"$ref": "#/$defs/a"}"##, r##"{"type": "object", "properties": {"b": {"$ref": "#/$defs/a"}}}"##]
    {
        let schema = format!(
            r##"{{"properties": {{"b": {{"$ref": "#/$defs/a"}}}}, "$defs": {{"a": {{"type": "object",
                "properties": {{"b": {holder}}}}}}}}}"##
        );
        assert!(compile(&schema).unwrap_err().message.contains("nested too deeply"), "{schema}");
    }
    let list = r##"{"properties": {"b": {"$ref": "#/$defs/a"}}, "$defs": {"a": {"type": "array",
        "items": {"type": "object", "properties": {"b": {"$ref": "#/$defs/a"}}}}}}"##;
    assert!(compile(list).unwrap_err().message.contains("nested too deeply"));
}

#[test]
fn fields_keep_the_order_of_the_schema_and_are_found_by_key() {
    let vocabulary = compile(
        r#"{"properties": {"z": {"x-kind": "text"}, "m": {"type": "object", "properties": {
            "y": {"x-kind": "text"}, "b": {"x-kind": "text"}}}, "a": {"x-kind": "text"}}}"#,
    )
    .unwrap();
    let record = vocabulary.record(0);
    let paths: Vec<&str> = record.fields.iter().map(|field| field.path.as_str()).collect();
    assert_eq!(paths, ["z", "m", "m.y", "m.b", "a"]);
    assert_eq!((record.next(0), record.next(1), record.next(2), record.next(4)), (Some(1), Some(4), Some(3), None));
    assert_eq!(
        (record.child(None, "a"), record.child(Some(1), "b"), record.child(None, "b")),
        (Some(4), Some(3), None)
    );
    assert_eq!(record.descendants(1).collect::<Vec<_>>(), [2, 3]);
}
