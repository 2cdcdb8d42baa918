//! What the program promises on its command line: exit codes, places, and behaviour on wrong input.

use std::fs;

use super::program::{command, run, run_in, run_with_input};

const CLEAN: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");

#[test]
fn a_value_without_its_unit_is_found_at_its_line() {
    let done =
        run_with_input(&["review", "--format", "line", "-"], "format: 1\ngates:\n  - mark: G1\n    opening: 24\n");
    assert_eq!(done.code, 1);
    let line = done.out.lines().find(|line| line.starts_with("<stdin>:4:14: ")).expect("a finding at line 4");
    assert!(line.contains("`24` has no unit") && line.contains("opening"), "{line}");
}

#[test]
fn what_cannot_be_read_is_4_and_nothing_to_review_is_3() {
    assert_eq!(run_with_input(&["review", "-"], "format: 1\ngates: [\n").code, 4);
    let empty = tempfile::tempdir().unwrap();
    let done = run_in(empty.path(), &["review", "."]);
    assert_eq!((done.code, done.out.as_str()), (3, ""));
    assert!(done.err.contains("no submittal"), "{}", done.err);
    // A folder whose YAML is something else.
    fs::write(empty.path().join("workflow.yaml"), "on: push\njobs: {}\n").unwrap();
    let done = run_in(empty.path(), &["review", "."]);
    assert_eq!(done.code, 3);
    assert!(done.err.contains("workflow.yaml"), "{}", done.err);
    // The same file named is expected to be a submittal.
    let done = run_in(empty.path(), &["review", "--format", "line", "workflow.yaml"]);
    assert_eq!(done.code, 4);
    assert!(done.out.contains("reading/not-a-submittal"), "{}", done.out);
    fs::write(empty.path().join("empty.yaml"), "").unwrap();
    assert_eq!(run_in(empty.path(), &["review", "empty.yaml"]).code, 4);
}

/// What could be asked of a gate is answered by an empty list, so that nothing else would be found.
#[test]
fn a_submittal_without_a_gate_fails_at_its_list() {
    let end = CLEAN.find("\ngates:").unwrap();
    let done =
        run_with_input(&["review", "--format", "line", "-"], &format!("{}\ngates: []\n", CLEAN[..end].trim_end()));
    let line = CLEAN[..end].trim_end().lines().count() + 1;
    assert_eq!(done.code, 1, "{}", done.out);
    let told = format!("<stdin>:{line}:8: requirement: no gate is listed; ");
    assert!(done.out.contains(&told) && done.out.contains("[reading/no-gate]"), "{told}{}", done.out);
}

/// A mark that says nothing is a missing one; a format that says nothing may be any, and nothing is judged by it.
#[test]
fn a_required_field_that_says_nothing_is_missing() {
    let missing = |done: &super::program::Done, place: &str| {
        done.out.contains(&format!("<stdin>:{place}: requirement: ")) && done.out.contains("[reading/missing-field]")
    };
    let line = CLEAN.lines().position(|line| line.contains("mark: G1")).unwrap() + 1;
    for mark in ["\"\"", "' '", "TBD", "n/a"] {
        let text = CLEAN.replace("mark: G1", &format!("mark: {mark}"));
        let done = run_with_input(&["review", "--format", "line", "-"], &text);
        assert_eq!(done.code, 1, "{mark}: {}", done.out);
        assert!(missing(&done, &format!("{line}:11")), "{mark}: {}", done.out);
        assert!(!done.out.contains("nothing is shown yet"), "{mark}: {}", done.out);
    }
    let line = CLEAN.lines().position(|line| line.starts_with("format: 1")).unwrap() + 1;
    for format in ["TBD", "n/a"] {
        let text = CLEAN.replacen("format: 1", &format!("format: {format}"), 1);
        let done = run_with_input(&["review", "--format", "line", "-"], &text);
        assert_eq!(done.code, 4, "{format}: {}", done.out);
        assert!(missing(&done, &format!("{line}:9")), "{format}: {}", done.out);
    }
    for format in ["\"\"", "' '", "one", "2.x"] {
        let text = CLEAN.replacen("format: 1", &format!("format: {format}"), 1);
        assert_eq!(run_with_input(&["review", "--format", "line", "-"], &text).code, 4, "{format}");
    }
}

/// Rules hold elements against each other; a list that no gate has, or one that aliases multiply, must not take minutes.
#[test]
fn a_list_has_its_limit_and_so_has_what_aliases_reach() {
    let gate = |sensors: usize| {
        let listed: Vec<String> = (0..sensors).map(|number| format!("{{id: S{number}}}")).collect();
        format!("format: 1\ngates:\n  - mark: G1\n    sensors: [{}]\n", listed.join(", "))
    };
    let line = ["review", "--format", "line", "-"];
    assert_eq!(run_with_input(&line, &gate(500)).code, 1);
    let done = run_with_input(&line, &gate(501));
    assert_eq!(done.code, 4, "{}", done.out);
    let told = "<stdin>:4:5: requirement: gate G1: sensors: expected a list of at most 500 elements, found more";
    assert!(done.out.contains(told) && done.out.contains("[reading/list-too-long]"), "{}", done.out);
    let gates = |count: usize| {
        let listed: String = (0..count).map(|number| format!("  - {{mark: G{number}, type: swing}}\n")).collect();
        run_with_input(&line, &format!("format: 1\ngates:\n{listed}"))
    };
    assert_eq!(gates(2_000).code, 1);
    let done = gates(2_001);
    let told = "<stdin>:2:1: requirement: gates: expected a list of at most 2000 elements, found more";
    assert!(done.code == 4 && done.out.contains(told), "{}", done.out);
    let many = |more: usize| {
        let others: String =
            (0..more).map(|number| format!("  - {{mark: H{number}, type: swing, sensors: *s}}\n")).collect();
        gate(500).replace("sensors: [", "sensors: &s [") + &others
    };
    // By hand: a gate and its 500 sensors, then each alias a gate, 500 sensors and a field of each, of 100,000 in all.
    assert_eq!(run_with_input(&line, &many(99)).code, 1);
    for format in ["line", "terminal", "json"] {
        let done = run_with_input(&["review", "--format", format, "-"], &many(100));
        assert_eq!(done.code, 4, "{}", done.out);
        let told = done.out.split_whitespace().collect::<Vec<_>>().join(" ").replace("│ ", "");
        assert!(
            told.contains("at most 100000 elements of lists, and fields that are reached through aliases"),
            "{told}"
        );
    }
    assert_eq!(run_with_input(&["worksheet", "-"], &gate(501)).code, 4);
}

#[test]
fn a_path_that_does_not_exist_is_4_and_the_rest_is_reviewed() {
    let done = run(&["review", "--format", "line", "nowhere.yaml", "examples/alder-ridge/rev-1.yaml"]);
    assert_eq!(done.code, 4);
    assert!(done.err.contains("nowhere.yaml: there is no such file"), "{}", done.err);
    assert!(done.out.contains("guarding/open-leaf"));
}

#[test]
fn a_file_that_cannot_be_read_does_not_stop_the_others() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.yaml"), b"format: 1\ngates: \xff\n").unwrap();
    fs::write(folder.path().join("b.yaml"), CLEAN).unwrap();
    let done = run_in(folder.path(), &["review", "--format", "line", "."]);
    assert_eq!(done.code, 4);
    assert!(done.out.contains("a.yaml:2:8") && done.out.contains("reading/not-utf8"), "{}", done.out);
    let json = run_in(folder.path(), &["review", "--format", "json", "."]);
    assert!(json.out.contains("\"no exceptions taken\""), "{}", json.out);
}

#[test]
fn wrong_arguments_are_2() {
    for arguments in [
        &["review", "--format", "paper"][..],
        &["review", "--stage", "later"],
        &["review", "--packs", "nowhere", "examples"],
        &["review", "--project", "nowhere.yaml", "examples"],
        &["explain", "no-such-rule"],
        &["prove", "no-such-pack"],
        &["schema", "nothing"],
        &["check"],
        &[],
    ] {
        let done = run(arguments);
        assert_eq!(done.code, 2, "{arguments:?}: {}", done.err);
        assert!(!done.err.is_empty(), "{arguments:?}");
    }
    assert!(run(&["explain", "open-leef"]).err.contains("did you mean `guarding/open-leaf`"));
}

#[test]
fn help_and_version_are_results() {
    for arguments in [&["--help"][..], &["review", "--help"], &["--version"]] {
        let done = run(arguments);
        assert_eq!((done.code, done.err.as_str()), (0, ""), "{arguments:?}");
        assert!(!done.out.is_empty());
    }
}

#[test]
fn a_range_is_not_met_at_its_violating_end_and_says_so() {
    let text = "format: 1\ngates:\n  - mark: G1\n    leaf: {bottom_gap: 3 in to 5 1/2 in}\n";
    let done = run_with_input(&["review", "--format", "line", "-"], text);
    let line = done.out.lines().find(|line| line.contains("leaf/wide-bottom-gap")).unwrap();
    assert!(line.starts_with("<stdin>:4:24: ") && line.contains("(at 5 1/2 in of 3 in to 5 1/2 in)"), "{line}");
}

#[test]
fn a_gate_without_its_operation_is_one_question() {
    let text: String =
        CLEAN.lines().filter(|line| !line.starts_with("    operation:")).map(|line| format!("{line}\n")).collect();
    let done = run_with_input(&["review", "--format", "json", "-"], &text);
    assert_eq!(done.code, 1);
    let report: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let questions = report["questions"].as_array().unwrap();
    assert_eq!(questions.len(), 1, "{questions:#?}");
    assert_eq!(questions[0]["field"], "gate.operation");
}

#[test]
fn stage_and_fail_on_decide_the_exit_code() {
    let bid = "examples/saltmarsh-depot/bid-set.yaml";
    assert_eq!(run(&["review", bid]).code, 1, "an open leaf is a hazard at stage bid too");
    assert_eq!(run(&["review", "--fail-on", "never", bid]).code, 0);
    let questions = "format: 1\ngates: [{mark: G1}]\n";
    assert_eq!(run_with_input(&["review", "--stage", "bid", "-"], questions).code, 0);
    assert_eq!(run_with_input(&["review", "-"], questions).code, 1);
    let advice = CLEAN.replace("bottom_gap: 3 in to 4 in", "bottom_gap: 3 in to 5 in");
    assert_eq!(run_with_input(&["review", "-"], &advice).code, 0);
    assert_eq!(run_with_input(&["review", "--fail-on", "advice", "-"], &advice).code, 1);
}

#[test]
fn a_pack_with_errors_is_5_and_shows_them_all_with_their_places() {
    let folder = tempfile::tempdir().unwrap();
    let rule = |name: &str, require: &str| {
        format!(
            "  - name: {name}\n    title: T\n    weight: advice\n    require: {require}\n    message: M\n    why: W\n    remedy: R\n    \
             local_code: L\n    source: {{standard: S, authority: practice}}\n"
        )
    };
    let pack = format!(
        "pack: own\ntitle: Own\nrules:\n{}{}{}",
        rule("one", "gate.opening >= 20"),
        rule("two", "gate.leaf.botom_gap < 5 in"),
        rule("three", "gate.leaf.height > 3 inn")
    );
    fs::write(folder.path().join("own.yaml"), pack).unwrap();
    let packs = folder.path().to_str().unwrap();
    let done = run(&["review", "--packs", packs, "examples"]);
    assert_eq!((done.code, done.out.as_str()), (5, ""));
    for place in ["own.yaml:7:14", "own.yaml:16:14", "own.yaml:25:35"] {
        assert!(done.err.contains(place), "{place}: {}", done.err);
    }
    assert!(done.err.contains("did you mean `gate.leaf.bottom_gap`"), "{}", done.err);
}

#[test]
fn a_reader_that_stops_early_is_no_error() {
    use std::process::Stdio;
    let mut child = command(&["review", "examples"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
}

#[test]
fn no_color_when_piped_and_none_where_it_is_not_wanted() {
    let colors = |done: &super::program::Done| done.out.contains('\u{1b}');
    assert!(!colors(&run(&["review", "examples"])));
    assert!(colors(&run(&["review", "--color", "always", "examples"])));
    assert!(!colors(&run(&["review", "--color", "never", "examples"])));
    let ascii = run(&["review", "--ascii", "examples/alder-ridge/rev-1.yaml"]);
    assert!(ascii.out.is_ascii(), "{}", ascii.out.chars().find(|c| !c.is_ascii()).unwrap());
}

#[test]
fn a_submittal_cannot_steer_the_terminal() {
    let text = "format: 1\ngates:\n  - mark: \"G\\e[31m1\"\n    opening: \"\\a24\"\n    note\u{202e}x: 1\n";
    for format in ["terminal", "line", "json"] {
        let done = run_with_input(&["review", "--format", format, "-"], text);
        assert!(!done.out.contains(['\u{1b}', '\u{7}', '\u{202e}']), "{format}");
    }
}

#[cfg(unix)]
#[test]
fn a_loop_of_links_ends() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.yaml"), CLEAN).unwrap();
    std::os::unix::fs::symlink(folder.path(), folder.path().join("loop")).unwrap();
    assert_eq!(run_in(folder.path(), &["review", "."]).code, 0);
}

#[test]
fn a_report_can_go_to_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("report.json");
    let done = run(&["review", "--format", "json", "--output", file.to_str().unwrap(), "examples"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(fs::read_to_string(&file).unwrap().starts_with('{'));
    assert_eq!(run(&["review", "--output", folder.path().to_str().unwrap(), "examples"]).code, 2);
}

#[test]
fn rules_are_listed_explained_and_proved() {
    let list = run(&["rules"]);
    assert_eq!(list.code, 0);
    assert!(list.out.contains("guarding/open-leaf"));
    let json: serde_json::Value = serde_json::from_str(&run(&["rules", "--format", "json"]).out).unwrap();
    assert!(json.as_array().unwrap().len() > 60);
    let one = run(&["explain", "open-leaf"]);
    assert_eq!(one.code, 0);
    for part in ["guarding/open-leaf (hazard)", "Requires", "Source", "ASTM F2200", "Cases"] {
        assert!(one.out.contains(part), "{part}: {}", one.out);
    }
    let proved = run(&["prove"]);
    assert_eq!((proved.code, proved.err.as_str()), (0, ""));
    assert!(proved.out.lines().all(|line| line.ends_with("as expected")), "{}", proved.out);
}

#[test]
fn schemas_are_printed_as_they_are_kept() {
    for (name, file) in [
        ("submittal", "schema/submittal.schema.json"),
        ("rule-pack", "schema/rule-pack.schema.json"),
        ("project", "schema/project.schema.json"),
        ("report", "schema/report.schema.json"),
        ("worksheet", "schema/worksheet.schema.json"),
    ] {
        let kept = fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).unwrap();
        assert_eq!(run(&["schema", name]).out, kept);
    }
}

#[test]
fn a_figure_is_computed_with_its_working_or_told_what_is_wrong() {
    let inputs = ["lateral_force=500 lbf", "height=4 ft", "diameter=18 in", "lateral_bearing=150 psf/ft"];
    let with = |name: &str, inputs: &[&str], more: &[&str]| {
        let arguments: Vec<&str> = ["compute", name].iter().chain(inputs).chain(more).copied().collect();
        run(&arguments)
    };
    let done = with("post_embedment", &inputs, &[]);
    assert_eq!(done.code, 0);
    for part in ["post_embedment = 5.32", "Formula", "lateral_force = 500 lbf", "IBC 1807.3.2.1", "no design"] {
        assert!(done.out.contains(part), "{part}: {}", done.out);
    }
    let json: serde_json::Value =
        serde_json::from_str(&with("post_embedment", &inputs, &["--format", "json"]).out).unwrap();
    assert_eq!((json["state"].as_str(), json["unit"].as_str()), (Some("computed"), Some("ft")));
    assert!((json["value"].as_f64().unwrap() - 5.33).abs() < 0.005);
    // A range of an input is a range of the figure, with the right ends.
    let ranged = ["lateral_force=500 lbf", "height=4 ft", "diameter=18 in", "lateral_bearing=150 to 300 psf/ft"];
    let json: serde_json::Value =
        serde_json::from_str(&with("post_embedment", &ranged, &["--format", "json"]).out).unwrap();
    let ends: Vec<f64> = json["value"].as_array().unwrap().iter().map(|end| end.as_f64().unwrap()).collect();
    assert!((ends[0] - 4.03).abs() < 0.005 && (ends[1] - 5.33).abs() < 0.005, "{ends:?}");
    let wrong = with("post_embedment", &["hight=4 ft", "diameter=18", "height=4 lb", "depth"], &[]);
    assert_eq!((wrong.code, wrong.out.as_str()), (2, ""));
    for part in [
        "did you mean `height`",
        "`18` has no unit",
        "a length is expected",
        "`depth` is no input",
        "not given: lateral_force",
    ] {
        assert!(wrong.err.contains(part), "{part}: {}", wrong.err);
    }
    let deep = with(
        "post_embedment",
        &["lateral_force=20 kip", "height=6 ft", "diameter=3 ft", "lateral_bearing=100 psf/ft"],
        &[],
    );
    assert_eq!(deep.code, 1);
    assert!(deep.out.contains("geotechnical engineer"), "{}", deep.out);
    assert!(run(&["compute"]).out.contains("post_embedment_constrained"));
    assert!(run(&["compute", "post_embedmint"]).err.contains("did you mean `post_embedment`"));
}
