//! Long runs and hostile names: reports come in parts that read as one, messages cannot act on a terminal.

use std::fs;

use super::program::run_in;

const GATE: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");

/// More files than are reviewed at once: the report in parts has one blank line between submittals and one end.
#[test]
fn a_report_in_parts_reads_as_one() {
    let folder = tempfile::tempdir().unwrap();
    for number in 0..514 {
        fs::write(folder.path().join(format!("g{number:03}.yaml")), "format: 1\ngates: []\n").unwrap();
    }
    let done = run_in(folder.path(), &["review", "."]);
    assert_eq!(done.out.matches("What this report does not say").count(), 1);
    assert!(done.out.contains("In all 514 submittals"), "{}", &done.out[done.out.len() - 2000..]);
    assert!(!done.out.contains("\n\n\n"), "no two blank lines");
    for number in [0, 511, 512, 513] {
        assert_eq!(done.out.matches(&format!("g{number:03}.yaml\n")).count(), 1, "{number}");
    }
    // To a file: the same bytes.
    run_in(folder.path(), &["review", "--output", "report.txt", "."]);
    assert_eq!(fs::read_to_string(folder.path().join("report.txt")).unwrap(), done.out);
}

#[cfg(unix)]
#[test]
fn a_file_name_cannot_act_on_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let name = "a\u{1b}[31mb\u{202e}.yaml";
    fs::write(folder.path().join(name), "on: push\n").unwrap();
    fs::write(folder.path().join("good.yaml"), GATE).unwrap();
    for format in ["terminal", "line", "json"] {
        let done = run_in(folder.path(), &["review", "--format", format, "."]);
        for stream in [&done.out, &done.err] {
            assert!(!stream.contains('\u{1b}') && !stream.contains('\u{202e}'), "{format}: {stream:?}");
        }
        assert!(done.err.contains("a\\x1b[31mb\\u{202e}.yaml"), "{}", done.err);
    }
    let done = run_in(folder.path(), &["worksheet", name]);
    assert!(!done.err.contains('\u{1b}') && !done.out.contains('\u{1b}'), "{:?}", done.err);
}

/// A result that cannot be written is the same failure, whatever it was to be written to.
#[cfg(target_os = "linux")]
#[test]
fn a_result_that_cannot_be_written_ends_with_two() {
    for arguments in [&["rules"][..], &["compute"], &["review", "examples/alder-ridge/rev-2.yaml"]] {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let done = super::program::command(arguments).stdout(full).output().unwrap();
        assert_eq!(done.status.code(), Some(2), "{arguments:?}");
    }
    let done = super::program::run(&["review", "examples/alder-ridge/rev-2.yaml", "-o", "/dev/full"]);
    assert_eq!(done.code, 2, "{}", done.err);
}

/// The narrowest report that can be read is said by the command that refuses a narrower one.
#[test]
fn a_width_that_no_report_has_is_refused() {
    let done = super::program::run(&["rules", "--width", "40"]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("60..=400"), "{}", done.err);
    assert_eq!(super::program::run(&["rules", "--width", "60"]).code, 0);
}
