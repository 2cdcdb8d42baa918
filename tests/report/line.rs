//! The line format.

use gatewright::report::{Format, Options, write};
use gatewright::review::{Finding, Run, Weight};
use gatewright::source::Span;

use super::sample;

fn lines(run: &Run) -> String {
    write(run, Format::Line, &Options::default())
}

#[test]
fn one_line_a_finding_in_the_order_given() {
    insta::assert_snapshot!("line", lines(&sample::run()));
}

#[test]
fn a_line_stays_one_line_whatever_the_message_holds() {
    let mut submittal = sample::bare("a\nb.yaml", "gap: 5\n");
    submittal.findings =
        vec![sample::finding("reading/missing-unit", Weight::Requirement, Span::new(5, 6), "found\n`5`\r\n\u{85}")];
    let written = lines(&sample::alone(submittal));
    assert_eq!(written, "a\\nb.yaml:1:6: requirement: gate G1: found\\n`5`\\r\\n\\x85 [reading/missing-unit]\n");
}

#[test]
fn an_element_and_the_submittal_as_a_whole_are_named() {
    let base = || sample::finding("post/thin", Weight::Advice, Span::new(5, 6), "thin");
    let mut submittal = sample::bare("a.yaml", "gap: 5\n");
    submittal.findings = vec![
        Finding { element: Some("2".to_owned()), ..base() },
        Finding { element: Some("closing_edge".to_owned()), ..base() },
        Finding { gate: None, ..base() },
    ];
    insta::assert_snapshot!(lines(&sample::alone(submittal)), @r"
    a.yaml:1:6: advice: gate G1, entry 2: thin [post/thin]
    a.yaml:1:6: advice: gate G1, closing_edge: thin [post/thin]
    a.yaml:1:6: advice: thin [post/thin]
    ");
}

#[test]
fn beyond_two_hundred_findings_a_document_the_rest_is_counted() {
    let many = |n: usize| {
        let mut submittal = sample::bare("a.yaml", "gap: 5\n");
        submittal.findings = vec![sample::finding("post/thin", Weight::Advice, Span::new(5, 6), "thin"); n];
        submittal
    };
    let written = lines(&Run { submittals: vec![many(234), many(200)], ..Run::default() });
    assert_eq!(written.lines().count(), 401);
    assert_eq!(written.lines().nth(200), Some("a.yaml: ... 34 more"));
}
