//! The report for people.

use std::sync::Arc;

use gatewright::problem::Problem;
use gatewright::report::{Format, Options, problems_report, write};
use gatewright::review::{Action, Finding, Run, Stage, Weight};
use gatewright::source::{SourceFile, Span};
use unicode_width::UnicodeWidthStr;

use super::sample::{self, label};

const UNICODE: Options = Options { width: 80, ascii: false, color: false };

fn page(run: &Run, options: &Options) -> String {
    write(run, Format::Terminal, options)
}

/// A run of one finding that stands at a span of a text.
fn one(text: &str, primary: Span, labels: &[(Span, &str)]) -> Run {
    let mut submittal = sample::bare("a.yaml", text);
    submittal.findings = vec![Finding {
        primary: label(primary, "here"),
        labels: labels.iter().map(|&(span, text)| label(span, text)).collect(),
        ..sample::finding("post/thin", Weight::Hazard, primary, "too thin")
    }];
    sample::alone(submittal)
}

/// The lines that miette draws for the one finding.
fn snippet(run: &Run, options: &Options) -> String {
    let page = page(run, options);
    let from = page.find("too thin").unwrap() + "too thin\n".len();
    page[from..page.find("\nSummary").unwrap()].trim_end().to_owned()
}

#[test]
fn the_whole_report_at_80_and_60_columns() {
    insta::assert_snapshot!("unicode_80", page(&sample::run(), &UNICODE));
    insta::assert_snapshot!("ascii_80", page(&sample::run(), &Options { ascii: true, ..UNICODE }));
    insta::assert_snapshot!("unicode_60", page(&sample::run(), &Options { width: 60, ..UNICODE }));
    insta::assert_snapshot!("ascii_60", page(&sample::run(), &Options { width: 60, ascii: true, ..UNICODE }));
}

#[test]
fn no_line_is_wider_than_the_page_and_none_ends_in_blanks() {
    for width in [60, 72, 80, 120] {
        for ascii in [false, true] {
            for line in page(&sample::run(), &Options { width, ascii, color: false }).lines() {
                assert!(line.width() <= width, "{} columns of {width}: {line}", line.width());
                assert_eq!(line.trim_end(), line);
            }
        }
    }
}

#[test]
fn colors_add_nothing_but_colors() {
    for ascii in [false, true] {
        let colored = page(&sample::run(), &Options { ascii, color: true, ..UNICODE });
        let plain = page(&sample::run(), &Options { ascii, ..UNICODE });
        assert!(colored.contains("\u{1b}["));
        let mut stripped = String::new();
        let mut rest = colored.as_str();
        while let Some(from) = rest.find("\u{1b}[") {
            stripped.push_str(&rest[..from]);
            rest = &rest[from + rest[from..].find('m').unwrap() + 1..];
        }
        stripped.push_str(rest);
        // Blanks at the ends of lines may stand between two colors.
        let trimmed: Vec<_> = stripped.lines().map(str::trim_end).collect();
        assert_eq!(trimmed, plain.lines().collect::<Vec<_>>());
    }
}

#[test]
fn drawn_with_ascii_only_where_the_submittal_is() {
    let text = sample::TEXT.replace("# Größe nach Aufmaß", "# size as measured");
    let mut run = sample::run();
    run.submittals[0].file = Arc::new(SourceFile::new("north-yard.yaml", text));
    assert!(page(&run, &Options { ascii: true, ..UNICODE }).is_ascii());
}

#[test]
fn what_is_not_shown_is_asked_once_and_not_printed_as_a_finding() {
    let written = page(&sample::run(), &UNICODE);
    assert!(!written.contains("cannot tell whether"));
    assert_eq!(written.matches("footing/too-shallow").count(), 1);
}

#[test]
fn what_cannot_be_read_is_told_with_its_finding_and_where_the_gaps_are_listed() {
    let written = page(&sample::run(), &UNICODE);
    let (findings, gaps) = written.split_once("Could not be checked").unwrap();
    assert!(findings.contains("Not shown in this submittal (1 fact)"), "{findings}");
    for part in [findings, gaps] {
        let words = part.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("1 hazard, 1 requirement (guarding/open-leaf, leaf/wide-bottom-gap)"), "{part}");
    }
}

#[test]
fn no_action_is_suggested_at_bid() {
    let mut run = sample::run();
    run.submittals[0].stage = Stage::Bid;
    run.submittals[0].action = None;
    assert!(page(&run, &UNICODE).contains("None is suggested at stage bid"));
}

#[test]
fn several_submittals_are_summed_up() {
    let mut run = sample::run();
    let mut second = sample::bare("second.yaml", "gates: [\n");
    (second.readable, second.action) = (false, Some(Action::NotReviewed));
    run.submittals.push(second);
    let written = page(&run, &UNICODE);
    assert!(written.contains("In all 2 submittals"), "{written}");
    assert!(written.contains("No rule ran on this document."), "{written}");
}

#[test]
fn every_report_ends_with_what_no_review_can_say() {
    let end = [
        "Not checked:",
        "They are no design",
        "authority having jurisdiction",
        "licensed engineer",
        "licensed electrician",
        "trained installers",
        "Do not run a powered gate before its entrapment protection has been tested on site.",
    ];
    for run in [Run::default(), sample::run()] {
        let written = page(&run, &Options { width: 400, ..UNICODE });
        let words = &written[written.find("What this report does not say").unwrap()..];
        end.iter().for_each(|part| assert!(words.contains(part), "{part} is missing in {words}"));
        for claim in ["is safe", "complies", "compliant", "is in order"] {
            assert!(!written.contains(claim), "the report claims: {claim}");
        }
    }
}

#[test]
fn findings_beyond_two_hundred_are_counted() {
    let mut run = one("gap: 5\n", Span::new(5, 6), &[]);
    let finding = run.submittals[0].findings[0].clone();
    run.submittals[0].findings = vec![finding; 207];
    let written = page(&run, &UNICODE);
    assert_eq!(written.matches("HAZARD post/thin").count(), 200);
    assert!(written.contains("... 7 more"));
}

#[test]
fn labels_that_overlap_span_lines_or_share_a_line() {
    let text = "a: {b: 5 in, c: [1,\n  2,\n  3]}\nd: 1\ne: 2\nf: 3\ng: 4\nh: 5\n";
    let whole = Span::new(3, 30);
    let labels = [(Span::new(7, 11), "inside"), (whole, "again"), (Span::new(54, 55), "far away")];
    insta::assert_snapshot!("overlap", snippet(&one(text, whole, &labels), &UNICODE));
    let labels = [(whole, "all of it"), (Span::new(13, 14), "beside")];
    insta::assert_snapshot!("inside", snippet(&one(text, Span::new(7, 11), &labels), &UNICODE));
}

#[test]
fn a_place_at_the_end_of_a_line_or_file_still_gets_its_caret() {
    for (text, span) in
        [("a:\nb: 1\n", Span::new(2, 2)), ("a:", Span::new(2, 2)), ("", Span::new(0, 0)), ("\n\n", Span::new(1, 1))]
    {
        let drawn = snippet(&one(text, span, &[]), &UNICODE);
        assert!(drawn.contains("here"), "{text:?}: {drawn}");
    }
}

#[test]
fn a_scalar_of_64_kb_is_cut_around_its_label() {
    let text = format!("first: 1\nnotes: {}5 in{}\nlast: 2\n", "lorem ".repeat(6000), " ipsum".repeat(6000));
    let at = text.find("5 in").unwrap();
    let cut = snippet(&one(&text, Span::new(at, at + 4), &[]), &UNICODE);
    insta::assert_snapshot!("long_line", cut);
    let all = snippet(&one(&text, Span::new(16, text.len() - 9), &[(Span::new(9, 14), "the key")]), &UNICODE);
    insta::assert_snapshot!("long_value", all);
}

#[test]
fn words_beside_a_label_are_broken_to_the_page() {
    let text = "      largest_opening_of_the_leaf: 3 in\n";
    let words = "the guard of a powered leaf lets no ball of more than 2 1/4 in through below 72 in";
    let run = one(text, Span::new(35, 39), &[(Span::new(6, 33), words)]);
    insta::assert_snapshot!("label_words", snippet(&run, &UNICODE));
}

#[test]
fn problems_of_packs_and_project_files_are_drawn_like_findings() {
    let file =
        Arc::new(SourceFile::new("rules/own.yaml", "pack: own\nrules:\n  - name: \x1bthin\n    wieght: hazard\n"));
    let at = |part: &str| sample::at(file.text(), part);
    let problems = [
        Problem::fault("unknown-field", at("wieght"), "expected a key of a rule, found `wieght`")
            .with_help("write `weight`")
            .with_label(at("name"), "in this rule"),
        Problem::advice("placeholder", at("own\n").part(0..3), "the pack is called `own`\x07"),
    ]
    .map(|problem| (file.clone(), problem));
    insta::assert_snapshot!("problems", problems_report(&problems, &UNICODE));
    assert_eq!(problems_report(&[], &UNICODE), "");
}

proptest::proptest! {
    #[test]
    fn any_text_with_any_places_is_drawn_within_the_page(
        text in "([a-z: ]{0,90}|[\\t\\r\\n\u{1b}\u{85}\u{2028}\u{202e}]|[µ門\u{301}é]{0,60}|\\n){0,12}",
        places in proptest::collection::vec((0..700usize, 0..90usize), 1..12),
        width in 60..100usize,
    ) {
        let spans: Vec<Span> = places.iter().map(|&(start, len)| Span::new(start, start + len)).collect();
        let labels: Vec<(Span, &str)> = spans[1..].iter().map(|&span| (span, "a further place")).collect();
        let drawn = snippet(&one(&text, spans[0], &labels), &Options { width, ..UNICODE });
        proptest::prop_assert!(drawn.contains("here"), "{drawn}");
        for line in drawn.lines() {
            proptest::prop_assert!(!line.chars().any(char::is_control), "{line:?}");
            // Several labels on one line may push the words of the last ones a little beyond the page.
            proptest::prop_assert!(line.width() <= width + 24, "{} columns of {width}: {line}", line.width());
        }
    }
}

/// Of each outcome the rows by weight add up to those by gate, a gate that was not reviewed among them.
#[test]
fn the_counts_by_weight_and_by_gate_are_of_the_same_rules() {
    let mut run = sample::run();
    run.submittals[0].gates[1].outcomes.not_met = vec!["guarding/open-leaf".into()];
    let written = page(&run, &UNICODE);
    let (_, table) = written.split_once("Each rule once for each gate").unwrap();
    let sum = |heads: &[&str]| -> Vec<usize> {
        let rows = table.lines().filter(|line| heads.iter().any(|head| line.trim_start().starts_with(head)));
        let counts = rows.map(|row| row.split_whitespace().rev().map_while(|word| word.parse().ok()).collect());
        counts.fold(vec![0; 4], |sum, row: Vec<usize>| {
            sum.iter().zip(row.iter().chain(&[0; 4])).map(|(a, b)| a + b).collect()
        })
    };
    let by_weight = sum(&["hazard ", "requirement ", "advice "]);
    assert_eq!(by_weight, sum(&["gate G", "whole submittal "]), "{table}");
    assert_eq!(by_weight.iter().sum::<usize>(), 6, "{table}");
}
