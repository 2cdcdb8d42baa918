//! How the parts of a submittal bear on each other, and words that people write for yes and no.

use super::{one, problems, read_text};

fn of_document(text: &str) -> Vec<(&'static str, String)> {
    let (file, _, read) = read_text(text);
    read.problems.iter().map(|problem| (problem.code, file.slice(problem.span).to_owned())).collect()
}

#[test]
fn a_format_is_one_and_nothing_else() {
    for format in ["2", "0", "11"] {
        assert_eq!(
            of_document(&format!("format: {format}\ngates: [{{mark: G1}}]\n")),
            [("unknown-format", format.to_owned())]
        );
    }
    assert_eq!(of_document("format:\ngates: [{mark: G1}]\n"), [("missing-field", "format".to_owned())]);
    assert_eq!(of_document("format: one\ngates: [{mark: G1}]\n").len(), 1);
    assert_eq!(of_document("format: 1\ngates: [{mark: G1}]\n"), []);
}

#[test]
fn marks_are_compared_as_rules_compare_texts() {
    let quoted = |code, slice: &str| (code, slice.to_owned());
    assert_eq!(one("  - mark: g1\n"), quoted("duplicate-mark", "g1"));
    assert_eq!(one("  - mark: ' G1 '\n"), quoted("duplicate-mark", "' G1 '"));
    assert_eq!(one("    pair_with: g1\n"), quoted("unknown-pair", "g1"));
    assert_eq!(problems("    pair_with: g2\n  - mark: G2\n    pair_with: G1\n"), []);
    let (file, _, read) = read_text("format: 1\ngates:\n  - mark: G1\n  - mark: G1\n");
    let (first, words) = &read.problems[0].labels[0];
    assert_eq!((file.position(first.start).line, words.as_str()), (3, "first used here"));
}

#[test]
fn a_yes_that_is_written_otherwise_is_told_what_to_write() {
    for (written, meant) in [("Yes", "yes"), ("on", "yes"), ("Y", "yes"), ("NO", "no"), ("off", "no"), ("False", "no")]
    {
        let (_, _, read) = read_text(&format!("format: 1\ngates:\n  - mark: G1\n    egress: {written}\n"));
        assert_eq!(read.problems[0].help.as_deref(), Some(format!("write {meant}").as_str()), "{written}");
    }
    let (_, _, read) = read_text("format: 1\ngates:\n  - mark: G1\n    egress: partly\n");
    assert_eq!(read.problems[0].help.as_deref(), Some("write yes or no"));
}

#[test]
fn an_open_end_breaks_no_bound() {
    for value in ["0.3 min", "0.3 max", "30 % to 40 %"] {
        assert_eq!(problems(&format!("    leaf: {{infill: {{solidity: {value}}}}}\n")), [], "{value}");
    }
    assert_eq!(problems("    leaf: {fall: {worst_angle: 30 deg min}}\n"), []);
    assert_eq!(one("    leaves: 3\n"), ("out-of-bounds", "3".to_owned()));
}
