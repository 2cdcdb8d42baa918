//! Hostile input: each file is read in bounded time and memory, never ends the process, and says what is wrong, from the
//! tree to the report in every format; `growth` has what the time grows with.
//!
//! The files are made here. Those of tens of megabytes pass the limit on a file's size and are refused before parsing.

use std::sync::Arc;

use gatewright::document::{Limits, decode, parse};
use gatewright::report::{Format, Options, write};
use gatewright::review::{Run, Terms, review_file};
use gatewright::source::SourceFile;

use super::growth::rules;

/// The first problem's code, "ok" where there is none, and how many nodes were kept.
fn outcome(bytes: &[u8]) -> (&'static str, u32) {
    let text = match decode(bytes) {
        Ok(text) => text,
        Err(bad) => return (bad.problem.code, 0),
    };
    let file = Arc::new(SourceFile::new("hostile.yaml", text));
    let parsed = parse(Arc::clone(&file), &Limits::default());
    for (_, problem) in &parsed.problems {
        file.slice(problem.span);
    }
    assert!(parsed.problems.len() <= 1_100, "problems are capped: {}", parsed.problems.len());
    let nodes =
        parsed.tree.documents().iter().filter_map(|d| d.root).map(|root| parsed.tree.node(root).end - root).sum();
    (parsed.problems.first().map_or("ok", |(_, problem)| problem.code), nodes)
}

fn check(name: &str, bytes: impl AsRef<[u8]>, expected: &[&str]) {
    let (code, nodes) = outcome(bytes.as_ref());
    assert!(expected.contains(&code), "{name}: expected {expected:?}, found {code} ({nodes} nodes)");
    assert!(nodes <= 1_500_000, "{name}: {nodes} nodes");
    if bytes.as_ref().len() <= LONGEST_REPORTED {
        let reviewed = review_file(rules(), &Terms::default(), "hostile.yaml", bytes.as_ref(), true);
        let run = Run { submittals: reviewed.submittals, not_reviewed: reviewed.not_reviewed, ..Run::default() };
        for format in Format::ALL {
            let report = write(&run, format, &Options::default());
            // A line is a finding: what is no submittal has none.
            let has_findings = !run.submittals.is_empty();
            assert!(
                report.contains("hostile.yaml") || (format == Format::Line && !has_findings),
                "{name}, {format:?}: {report}"
            );
            assert!(report.len() < LONGEST_REPORT, "{name}, {format:?}: {} bytes", report.len());
        }
    }
}

/// Files that are reported on too: what a longer one adds is the reading, which the tree has shown already.
const LONGEST_REPORTED: usize = 2 << 20;
/// Two hundred findings of a document are printed by the formats for people; JSON has each of the thousand.
const LONGEST_REPORT: usize = 2 << 20;

#[test]
fn aliases_are_never_expanded() {
    let nine = |item: &str| [item; 9].join(",");
    let mut laughs = format!("a0: &a0 [{}]\n", nine("\"lol\""));
    for level in 1..10 {
        laughs += &format!("a{level}: &a{level} [{}]\n", nine(&format!("*a{}", level - 1)));
    }
    let (code, nodes) = outcome(laughs.as_bytes());
    assert!(code == "ok" && nodes < 200, "{code}, {nodes} nodes");
    let quadratic = format!("a: &a \"{}\"\nb: [{}]\n", "x".repeat(1_000_000), vec!["*a"; 20_000].join(","));
    check("a long text and many aliases", quadratic, &["scalar-too-long"]);
    check("an alias of itself", "a: &a [1, *a]\n", &["unknown-alias"]);
    check("an alias of nothing", "a: *nope\nb: 2\n", &["unknown-alias"]);
    let anchors: String = (0..1_000_000).map(|anchor| format!("- &a{anchor} 1\n")).collect();
    check("a million anchors", anchors, &["ok"]);
    check("anchors as keys", "&a a: &b {*a : *b}\n", &["unknown-alias"]);
}

#[test]
fn nesting_is_bounded() {
    check("100,000 brackets", "[".repeat(100_000) + &"]".repeat(100_000), &["too-deep"]);
    check("100,000 open brackets", "[".repeat(100_000), &["too-deep"]);
    check("100,000 braces", "{a: ".repeat(100_000) + "1" + &"}".repeat(100_000), &["too-deep"]);
    check("100,000 dashes", "- ".repeat(100_000) + "x\n", &["too-deep"]);
    check("100,000 question marks", "? ".repeat(100_000) + "x\n", &["too-deep"]);
    let mut blocks = String::new();
    for level in 0..5_000 {
        blocks += &" ".repeat(level);
        blocks += "a:\n";
    }
    check("5,000 sections in each other", blocks, &["too-deep"]);
}

#[test]
fn size_is_bounded() {
    let big = |head: &str, unit: &str, count: usize, tail: &str| head.to_owned() + &unit.repeat(count) + tail;
    check("50 MB plain", big("a: ", "x", 50_000_000, "\n"), &["too-large"]);
    check("50 MB quoted", big("a: \"", "x y ", 12_500_000, "\"\n"), &["too-large"]);
    check("50 MB literal", big("a: |\n", &("  ".to_owned() + &"x".repeat(76) + "\n"), 630_000, ""), &["too-large"]);
    check("a key of 1 MB", big("", "k", 1_000_000, ": 1\n"), &["scalar-too-long"]);
    check("a million documents", "---\nx\n".repeat(1_000_000), &["too-many-documents"]);
    check("a million comments", "# c\n".repeat(1_000_000) + "a: 1\n", &["ok"]);
    check("5,000,000 blank lines", big("a: |\n", "\n", 5_000_000, "  x\n"), &["scalar-too-long"]);
    check("5,000,000 lines in quotes", big("a: \"", "\n", 5_000_000, "x\"\n"), &["syntax"]);
    check("500,000 colons", big("a: ", "b:", 500_000, "\n"), &["scalar-too-long"]);
    check("300,000 pairs in a list", big("[", "? a : b, ", 300_000, "]\n"), &["ok"]);
    check("100,000 open lists", "a: [1, 2\nb: 3\n".repeat(100_000), &["syntax"]);
    check("2,000,000 lines of one text", big("a: x\n", "  y\n", 2_000_000, ""), &["scalar-too-long"]);
    let keys: Vec<String> = (0..500_000).map(|key| format!("\"k{key}\": {key}")).collect();
    check("500,000 keys", format!("{{{}}}\n", keys.join(", ")), &["ok"]);
    let tags = format!("%TAG !e! tag:{}\n---\n[{}]\n", "x".repeat(1_000), vec!["!e!a 1"; 100_000].join(","));
    check("100,000 tags", tags, &["unknown-tag"]);
}

#[test]
fn bytes_that_are_no_text_are_told() {
    check("bad UTF-8", b"a: \xff\xfe\xc3\x28 b\n", &["not-utf8"]);
    check("a zero byte", b"a: x\x00y\nb: 1\n", &["syntax"]);
    let utf16: Vec<u8> = "\u{feff}a: b\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    check("UTF-16", utf16, &["not-utf8"]);
    check("control characters", b"a: \"\x01\x1b[31mred\x7f\"\nb: \x1b[2J\n", &["syntax"]);
    check("line separators", "a: x\u{85}y\nb: p\u{2028}q\n", &["ok"]);
}

#[test]
fn small_files_with_traps_are_told_or_read() {
    check("a key twice", "gap: 4 in\nwidth: 2 in\ngap: 5 in\n", &["duplicate-key"]);
    check("tabs", "a:\n\tb: 1\n\tc: 2\n", &["syntax"]);
    check("an open quote", "a: 1\nb: \"unterminated\nc: 3\nd: 4\n", &["syntax"]);
    check("CRLF", "a: 1\r\nb:\r\n  - x\r\n  - \"y z\"\r\nc: |\r\n  t1\r\n  t2\r\n", &["ok"]);
    check("a byte order mark", b"\xef\xbb\xbfa: 1\nb: \"\xc2\xb0C\"\n", &["ok"]);
    check("three documents", "a: 1\n---\nb: 2\n---\nc: 3\n", &["ok"]);
    check(
        "tags",
        "a: !!python/object/apply:os.system [\"id\"]\nb: !!int \"abc\"\nc: !custom {x: 1}\n",
        &["unknown-tag"],
    );
    check("a merge key", "base: &b {x: 1, y: 2}\nc:\n  <<: *b\n  y: 3\n", &["merge-key"]);
    let many = (0..20).map(|k| format!("k{k}: \"ok\"\n")).collect::<String>() + "x: : :\n  y\n z: [\n";
    check("several errors", many, &["syntax"]);
    check("a list in a line", "a: - b\n", &["syntax"]);
    check("lone carriage returns", "a: 1\rb: 2\rc: 3\r", &["ok"]);
    check("wide characters", "näme: \"🚪 gate\"\nbad: 5 µm\n", &["ok"]);
    check("nothing", "", &["ok"]);
}
