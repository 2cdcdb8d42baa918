//! A submittal comes from somebody else: nothing of it may act on the terminal of who reads the report.

use std::sync::Arc;

use gatewright::report::{Format, Options, write};
use gatewright::review::{
    Deviation, DeviationState, Finding, GateReview, NotReviewed, Outcomes, ProjectRules, Question, Run, SwitchedOff,
    Weight,
};
use gatewright::source::Span;

use super::sample::{self, label};

/// Colors the screen, rings, clears by a C1 control, turns the text around, hides.
const HOSTILE: &str = "\x1b[31mred\x07\u{9b}2J\u{202e}\u{202a}\u{2066}\u{2069}\u{200b}\u{7f}\u{e0041}\r\n.";

fn hostile_run() -> Run {
    let text = format!("gap: {HOSTILE} 5 in\nnext: 1\n");
    let at = text.find("5 in").unwrap();
    let some = || Some(HOSTILE.to_owned());
    let own = || HOSTILE.to_owned();
    let span = Span::new(at, at + 4);
    let mut submittal = sample::bare(HOSTILE, &text);
    submittal.project = some();
    submittal.jurisdiction = some();
    submittal.number = some();
    submittal.revision = some();
    submittal.gates = vec![
        GateReview {
            mark: own(),
            reviewed: true,
            type_shown: false,
            outcomes: Outcomes { met: vec![own().into()], ..Outcomes::default() },
            met_by_assumption: vec![(own(), own(), own())],
            notes: vec![(own(), own())],
        },
        GateReview {
            mark: own(),
            reviewed: false,
            type_shown: true,
            outcomes: Outcomes::default(),
            met_by_assumption: Vec::new(),
            notes: Vec::new(),
        },
    ];
    submittal.findings = vec![Finding {
        gate: some(),
        element: some(),
        field: some(),
        primary: label(span, HOSTILE),
        labels: vec![label(Span::new(5, 8), HOSTILE)],
        help: some(),
        missing: vec![own()],
        waiting: vec![own()],
        called: some(),
        key: own(),
        assumed: vec![(own(), own())],
        because: vec![(own(), own())],
        workings: vec![own()],
        notes: vec![own()],
        deviation: Some(0),
        ..sample::finding(HOSTILE, Weight::Hazard, span, HOSTILE)
    }];
    let question = |unreadable| Question {
        field: own(),
        label: own(),
        gate: some(),
        gate_index: Some(0),
        span,
        word: some(),
        unreadable,
        weight: Weight::Hazard,
        rules: vec![own()],
    };
    submittal.questions = vec![question(false), question(true)];
    let state = DeviationState::Answers;
    submittal.deviations = vec![Deviation { rule: own(), gate: some(), reason: some(), approval: some(), span, state }];
    submittal.switched_off = vec![SwitchedOff { rule: own(), gate: some(), gate_index: Some(0), field: own(), span }];
    Run {
        submittals: vec![submittal],
        not_reviewed: vec![NotReviewed { path: own(), document: None, reason: own(), failure: true }],
        packs: vec![(own(), own())],
        projects: vec![Arc::new(ProjectRules {
            path: some(),
            off: vec![(own(), own())],
            ..ProjectRules::clone(&sample::run().projects[0])
        })],
    }
}

fn acts(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200b}' | '\u{e0041}')
}

#[test]
fn no_format_lets_a_control_or_bidi_character_through() {
    for format in Format::ALL {
        for ascii in [false, true] {
            let written = write(&hostile_run(), format, &Options { ascii, ..Options::default() });
            if let Some(c) = written.chars().find(|&c| acts(c)) {
                panic!("{format:?} lets {} through", c.escape_unicode());
            }
        }
    }
}

#[test]
fn with_colors_every_escape_is_one_of_ours() {
    let written = write(&hostile_run(), Format::Terminal, &Options { color: true, ..Options::default() });
    for part in written.split('\u{1b}').skip(1) {
        let code: String = part.chars().skip(1).take_while(|&c| c != 'm').collect();
        assert!(part.starts_with('[') && code.chars().all(|c| c.is_ascii_digit() || c == ';'), "{part}");
    }
    assert!(!written.contains("\u{1b}[31mred"));
}

#[test]
fn the_caret_stays_under_its_text_behind_escapes() {
    let text = "gap: \x1b[31m\u{202e}µ 5 in\n";
    let at = text.find("5 in").unwrap();
    let mut submittal = sample::bare("a.yaml", text);
    let mut finding = sample::finding("post/thin", Weight::Hazard, Span::new(at, at + 4), "too thin");
    finding.primary.text = "here".to_owned();
    submittal.findings = vec![finding];
    let written = write(&sample::alone(submittal), Format::Terminal, &Options { ascii: true, ..Options::default() });
    let lines: Vec<Vec<char>> = written.lines().map(|line| line.chars().collect()).collect();
    let row =
        lines.iter().position(|line| line.iter().collect::<String>().contains("\\x1b[31m\\u{202e}µ 5 in")).unwrap();
    let column = lines[row].iter().collect::<String>().chars().count() - 4;
    let caret = lines[row + 1].iter().position(|&c| c == '^').unwrap();
    assert_eq!(caret, column, "{written}");
    assert!(written.contains("[a.yaml:1:14]"), "columns are those of the file: {written}");
}

#[test]
fn json_reads_back_unchanged() {
    let written = write(&hostile_run(), Format::Json, &Options::default());
    let read: serde_json::Value = serde_json::from_str(&written).unwrap();
    assert_eq!(read["findings"][0]["message"], HOSTILE);
    assert_eq!(read["submittals"][0]["path"], HOSTILE);
}
