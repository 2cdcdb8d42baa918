//! The project file: packs, stage, weights, rules switched off.

use std::fs;

use super::program::{Done, folder_of, run_in};

const CLEAN: &str = include_str!("../../examples/alder-ridge/rev-2.yaml");

fn with_project(project: &str, submittal: &str, arguments: &[&str]) -> Done {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("gatewright.yaml"), project).unwrap();
    fs::create_dir(folder.path().join("gates")).unwrap();
    fs::write(folder.path().join("gates/g.yaml"), submittal).unwrap();
    fs::create_dir(folder.path().join("packs")).unwrap();
    fs::write(folder.path().join("packs/city.yaml"), CITY).unwrap();
    run_in(folder.path(), arguments)
}

/// An invented city that limits the gap under a leaf further than common practice does.
const CITY: &str = "pack: city\ntitle: Amendments of an invented city\nrules:\n  - name: gap\n    title: The gap under the leaf is over 3 in\n    \
weight: requirement\n    replaces: leaf/wide-bottom-gap\n    require: gate.leaf.bottom_gap <= 3 in\n    \
message: \"The gap is {gate.leaf.bottom_gap}; the city allows 3 in\"\n    why: The city says so.\n    remedy: Lower the leaf.\n    \
local_code: This is the local code.\n    source: {standard: city code (invented for this test), clause: \"12.3\", authority: text}\n";

#[test]
fn a_pack_of_ones_own_replaces_a_rule_and_says_so() {
    let done = with_project("format: 1\npacks: [packs]\n", CLEAN, &["review", "--format", "line", "gates"]);
    assert_eq!(done.code, 1, "{}", done.err);
    assert!(done.out.contains("[city/gap]") && done.out.contains("at 4 in of 3 in to 4 in"), "{}", done.out);
    assert!(!done.out.contains("wide-bottom-gap"));
    let listed = with_project("format: 1\npacks: [packs]\n", CLEAN, &["rules"]);
    assert!(listed.out.contains("city/gap (replaces leaf/wide-bottom-gap)"), "{}", listed.out);
}

/// The European rules run where they are asked for, on the command line or in the project file, and nowhere else.
#[test]
fn a_pack_on_request_is_loaded_by_its_name() {
    let review = ["review", "--format", "line", "gates"];
    let plain = with_project("format: 1\n", CLEAN, &review);
    assert!(!plain.out.contains("[europe/"), "{}", plain.out);
    let asked = with_project("format: 1\npacks: [europe]\n", CLEAN, &review);
    let argued = with_project("format: 1\n", CLEAN, &["review", "--packs", "europe", "--format", "line", "gates"]);
    let both = with_project(
        "format: 1\npacks: [europe]\n",
        CLEAN,
        &["review", "--packs", "europe", "--format", "line", "gates"],
    );
    assert!(asked.out.contains("[europe/operator-listed-elsewhere]"), "{}{}", asked.out, asked.err);
    assert_eq!((asked.out.as_str(), asked.code), (argued.out.as_str(), argued.code));
    assert_eq!(asked.out, both.out);
}

#[test]
fn a_requirement_can_be_switched_off_with_a_reason_and_a_hazard_cannot() {
    let wide = CLEAN.replace("bottom_gap: 3 in to 4 in", "bottom_gap: 6 in");
    let off = "format: 1\noff:\n  - {rule: leaf/wide-bottom-gap, reason: the owner decides the gap}\n";
    let done = with_project(off, &wide, &["review", "gates"]);
    assert_eq!(done.code, 0, "{}{}", done.out, done.err);
    assert!(done.out.contains("the owner decides the gap"), "{}", done.out);
    let listed = with_project(off, &wide, &["rules"]).out;
    let told = "switched off by the project file: the owner decides the gap";
    let (_, behind) = listed.split_once("  leaf/wide-bottom-gap\n").unwrap();
    assert!(behind.lines().nth(1).unwrap().trim() == told && listed.matches(told).count() == 1, "{listed}");
    let listed = with_project(off, &wide, &["rules", "--format", "json"]).out;
    let listed: Vec<serde_json::Value> = serde_json::from_str(&listed).unwrap();
    let off: Vec<_> =
        listed.iter().filter(|rule| !rule["off"].is_null()).map(|rule| (&rule["name"], &rule["off"])).collect();
    assert!(off == [(&"leaf/wide-bottom-gap".into(), &"the owner decides the gap".into())], "{off:?}");
    let hazard = "format: 1\noff:\n  - {rule: guarding/open-leaf, reason: we are careful}\n";
    let done = with_project(hazard, &wide, &["review", "gates"]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(done.err.contains("gatewright.yaml:3:12") && done.err.contains("cannot be switched off"), "{}", done.err);
    let unknown = "format: 1\noff:\n  - {rule: leaf/wide-botom-gap, reason: none}\n";
    let done = with_project(unknown, &wide, &["review", "gates"]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("did you mean `leaf/wide-bottom-gap`"), "{}", done.err);
}

#[test]
fn a_rule_weighed_anew_is_named_with_its_reason() {
    let wide = CLEAN.replace("bottom_gap: 3 in to 4 in", "bottom_gap: 6 in");
    let lighter =
        "format: 1\nweights:\n  - {rule: leaf/wide-bottom-gap, weight: advice, reason: the road is crowned}\n";
    let done = with_project(lighter, &wide, &["review", "gates"]);
    assert_eq!(done.code, 0, "{}{}", done.out, done.err);
    assert!(done.out.contains("ADVICE leaf/wide-bottom-gap"), "{}", done.out);
    let told = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("leaf/wide-bottom-gap: advice instead of requirement: the road is crowned"), "{}", done.out);
    let done = with_project(lighter, &wide, &["review", "--format", "json", "gates"]);
    let json: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let expected = serde_json::json!([
        {
            "rule": "leaf/wide-bottom-gap", "from": "requirement", "to": "advice", "reason": "the road is crowned",
            "project_file": "gatewright.yaml"
        }
    ]);
    assert_eq!(json["reweighed"], expected);
    let silent = lighter.replace("the road is crowned", "\"\"");
    let done = with_project(&silent, &wide, &["review", "gates"]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(
        done.err.contains("gatewright.yaml:3:58") && done.err.contains("`reason` has no value (an empty text"),
        "{}",
        done.err
    );
}

/// A pack with one rule that takes the place of another.
fn replacing(pack: &str, weight: &str, replaced: &str, require: &str) -> String {
    format!(
        "pack: {pack}\ntitle: Rules of an invented town\nrules:\n  - name: own\n    title: The town's own\n    weight: {weight}\n    \
replaces: {replaced}\n    require: {require}\n    message: \"{{gate.opening}}\"\n    why: The town says so.\n    remedy: Ask the town.\n    \
local_code: This is the local code.\n    source: {{standard: town code (invented for this test), authority: text}}\n"
    )
}

/// A value that is assumed for the elements of a list of choices is named like any other.
#[test]
fn an_assumption_inside_a_list_of_choices_is_named() {
    let rule = replacing("town", "requirement", "leaf/wide-bottom-gap", "gate.opening > 1 ft")
        .replace("    replaces: leaf/wide-bottom-gap\n", "")
        .replace(
            "require: gate.opening > 1 ft",
            "require: all(gate.operator.classes as c, c is I or given(gate.leaf.camber, 0 in) <= 1 in)",
        );
    let done = with_packs("format: 1\n", &[&rule]);
    let told = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("gate.leaf.camber taken as 0 in (leaf/sagging-leading-edge, town/own)"),
        "{}{told}",
        done.err
    );
}

/// The clean example with an open leaf, reviewed under packs of one's own and a project file.
fn with_packs(project: &str, packs: &[&str]) -> Done {
    let folder = tempfile::tempdir().unwrap();
    let open =
        CLEAN.replace("largest_opening: 2 in, guarded_to: 6 ft 10 in", "largest_opening: 4 in, guarded_to: 6 ft 10 in");
    assert_ne!(open, CLEAN);
    fs::write(folder.path().join("gatewright.yaml"), project).unwrap();
    fs::write(folder.path().join("g.yaml"), open).unwrap();
    let mut arguments = ["review", "--width", "200", "g.yaml"].map(str::to_owned).to_vec();
    for (number, pack) in packs.iter().enumerate() {
        let name = format!("{number}.pack");
        fs::write(folder.path().join(&name), pack).unwrap();
        arguments.extend(["--packs".to_owned(), name]);
    }
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    run_in(folder.path(), &arguments)
}

/// No way leads past a hazard unsaid: not off, not lighter, not replaced by less, not through a chain or a ring of
/// replacements. What replaces it is a hazard, and the report names both.
#[test]
fn a_hazard_is_not_dropped() {
    let plain = "format: 1\n";
    let done = with_packs(plain, &[]);
    assert!(done.code == 1 && done.out.contains("HAZARD guarding/open-leaf"), "{}", done.out);
    let lighter = "format: 1\nweights:\n  - {rule: guarding/open-leaf, weight: advice, reason: we are careful}\n";
    let done = with_packs(lighter, &[]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(done.err.contains("is a hazard and stays one"), "{}", done.err);
    for weight in ["requirement", "advice"] {
        let done = with_packs(plain, &[&replacing("town", weight, "guarding/open-leaf", "gate.opening > 1 ft")]);
        assert_eq!((done.code, done.out.as_str()), (5, ""));
        assert!(done.err.contains("must be one too"), "{}", done.err);
    }
    let hazard = replacing("town", "hazard", "guarding/open-leaf", "gate.opening > 1 ft");
    let done = with_packs(plain, &[&hazard]);
    assert!(done.out.contains("guarding/open-leaf: replaced by town/own (town code (invented"), "{}", done.out);
    // The hazard that stands in cannot be switched off, nor make way for less.
    let off = "format: 1\noff:\n  - {rule: town/own, reason: we are careful}\n";
    assert_eq!(with_packs(off, &[&hazard]).code, 2);
    let done = with_packs(plain, &[&hazard, &replacing("district", "advice", "town/own", "gate.opening > 1 ft")]);
    assert_eq!(done.code, 5, "{}", done.err);
    // A chain names the rule at its root.
    let done = with_packs(plain, &[&hazard, &replacing("district", "hazard", "town/own", "gate.opening > 1 ft")]);
    assert!(done.out.contains("guarding/open-leaf: replaced by district/own"), "{}", done.out);
    // A ring would leave nothing.
    for ring in [
        vec![replacing("town", "hazard", "town/own", "gate.opening > 1 ft")],
        vec![
            replacing("town", "hazard", "district/own", "gate.opening > 1 ft"),
            replacing("district", "hazard", "town/own", "gate.opening > 1 ft"),
        ],
    ] {
        let ring: Vec<&str> = ring.iter().map(String::as_str).collect();
        let done = with_packs(plain, &ring);
        assert_eq!((done.code, done.out.as_str()), (5, ""));
        assert!(done.err.contains("replaced by it in the end"), "{}", done.err);
    }
    // Two rules in the place of one.
    let twice = replacing("district", "hazard", "guarding/open-leaf", "gate.opening > 1 ft");
    let done = with_packs(plain, &[&hazard, &twice]);
    assert!(done.code == 5 && done.err.contains("replaced by two rules"), "{}", done.err);
}

#[test]
fn every_error_of_a_project_file_is_shown_with_its_place() {
    let done = with_project("format: 1\nstage: later\nfial_on: hazard\n", CLEAN, &["review", "gates"]);
    assert_eq!(done.code, 2);
    for part in ["gatewright.yaml:2:8", "gatewright.yaml:3:1", "did you mean `fail_on`"] {
        assert!(done.err.contains(part), "{part}: {}", done.err);
    }
}

/// What a later format means is not known, and what stands behind `---` must not be left out unseen.
#[test]
fn a_project_file_is_one_document_of_format_1() {
    for (text, place, told) in [
        (
            "format: 2\nfail_on: never\n",
            "gatewright.yaml:1:9",
            "format 1 of the project file is expected, `2` is found",
        ),
        ("format: 1\n---\nstage: bid\n", "gatewright.yaml:3:1", "a project file holds one document"),
    ] {
        let done = with_project(text, CLEAN, &["review", "gates"]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{text}: {}", done.err);
        assert!(done.err.contains(place) && done.err.contains(told), "{text}: {}", done.err);
    }
}

/// Which of two entries holds would be anybody's guess. The short name and the full one are the same rule.
#[test]
fn a_rule_that_is_named_twice_is_refused() {
    for (key, first, second) in [
        ("off", "rule: leaf/wide-bottom-gap, reason: one", "rule: wide-bottom-gap, reason: other"),
        (
            "weights",
            "rule: leaf/wide-bottom-gap, weight: requirement, reason: one",
            "rule: leaf/wide-bottom-gap, weight: advice, reason: other",
        ),
    ] {
        let project = format!("format: 1\n{key}:\n  - {{{first}}}\n  - {{{second}}}\n");
        let done = with_project(&project, CLEAN, &["review", "gates"]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{key}: {}", done.err);
        for part in ["gatewright.yaml:4:12", "is named twice", "first named here"] {
            assert!(done.err.contains(part), "{key}: {part}: {}", done.err);
        }
        let once = format!("format: 1\n{key}:\n  - {{{first}}}\n");
        assert_ne!(with_project(&once, CLEAN, &["review", "gates"]).code, 2, "{key}");
    }
}

/// A word that says that the reason is still to come is no reason.
#[test]
fn a_reason_that_is_not_decided_is_none() {
    for key in ["off", "weights"] {
        for word in ["TBD", "n/a", "' '", "to be confirmed"] {
            let project =
                format!("format: 1\n{key}:\n  - {{rule: leaf/wide-bottom-gap, weight: advice, reason: {word}}}\n");
            let project = if key == "off" { project.replace(" weight: advice,", "") } else { project };
            let done = with_project(&project, CLEAN, &["review", "gates"]);
            assert_eq!((done.code, done.out.as_str()), (2, ""), "{project}: {}", done.err);
            assert!(done.err.contains("`reason` has no value"), "{project}: {}", done.err);
        }
    }
    let words = |schema: &str| serde_json::from_str::<serde_json::Value>(schema).unwrap()["x-placeholders"].clone();
    let of_submittals = words(include_str!("../../schema/submittal.schema.json"));
    assert!(of_submittals.is_array());
    assert_eq!(words(include_str!("../../schema/project.schema.json")), of_submittals, "the words are the same");
}

/// The rules that it holds would otherwise be left out unseen.
#[cfg(unix)]
#[test]
fn a_project_file_that_is_a_link_to_nowhere_is_told() {
    let folder = folder_of(&[("g.yaml", CLEAN)]);
    std::os::unix::fs::symlink("shared/gatewright.yaml", folder.path().join("gatewright.yaml")).unwrap();
    for arguments in [&["review", "."][..], &["review", "g.yaml"], &["rules"]] {
        let done = run_in(folder.path(), arguments);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{}", done.err);
        assert!(done.err.contains("gatewright.yaml: this is a link that leads nowhere"), "{}", done.err);
    }
}

#[test]
fn stage_and_fail_on_of_the_project_hold_unless_the_command_says_otherwise() {
    let gate = "format: 1\ngates: [{mark: G1}]\n";
    assert_eq!(with_project("format: 1\nstage: bid\n", gate, &["review", "gates"]).code, 0);
    assert_eq!(with_project("format: 1\nstage: bid\n", gate, &["review", "--stage", "submittal", "gates"]).code, 1);
    assert_eq!(with_project("format: 1\nfail_on: never\n", gate, &["review", "gates"]).code, 0);
    assert_eq!(with_project("format: 1\nfail_on: never\n", gate, &["review", "--fail-on", "hazard", "gates"]).code, 1);
}

/// A project file holds for what stands below it, up to the next one: neither the order of the arguments nor a folder
/// named further up changes what a submittal is judged by.
#[test]
fn each_file_stands_under_the_project_file_nearest_above_it() {
    let unit = CLEAN.replace("run_back: 38 ft", "run_back: 38");
    assert_ne!(unit, CLEAN);
    let lenient = "format: 1\nfail_on: never\npacks: [packs]\n";
    let folder = folder_of(&[
        ("a/g.yaml", &unit),
        ("a/gatewright.yaml", lenient),
        ("a/packs/town.yaml", CITY),
        ("b/g.yaml", CLEAN),
        ("b/in/g.yaml", &unit),
    ]);
    let at = folder.path();
    let lines = |paths: &[&str]| {
        let done = run_in(at, &[&["review", "--format", "line"], paths].concat());
        let mut lines: Vec<String> = done.out.lines().map(|line| line.trim_start_matches("./").to_owned()).collect();
        lines.sort();
        (done.code, lines)
    };
    let (a, b) = (lines(&["a"]), lines(&["b"]));
    assert_eq!((a.0, b.0), (0, 1));
    assert!(a.1.iter().any(|line| line.contains("[city/")), "{:?}", a.1);
    assert!(b.1.iter().all(|line| !line.contains("[city/")), "{:?}", b.1);
    let mut both = [a.1, b.1].concat();
    both.sort();
    for paths in [&["a", "b"][..], &["b", "a"], &["."], &[], &["b/in/g.yaml", "a/g.yaml", "b/g.yaml"]] {
        assert_eq!(lines(paths), (1, both.clone()), "{paths:?}");
    }
    // What a path that is not there would have stood under changes nothing for the others.
    assert_eq!(lines(&["gone/x.yaml", "a"]).1, lines(&["a"]).1);
    // A nearer one takes over; one that is named holds for all.
    fs::write(at.join("b/in/gatewright.yml"), "format: 1\nfail_on: never\n").unwrap();
    assert_eq!(lines(&["."]).0, 0);
    let named = lines(&["--project", "a/gatewright.yaml", "b"]);
    assert!(named.0 == 0 && named.1.iter().any(|line| line.contains("[city/")), "{named:?}");
    // One that is wrong stops the run before anything is reviewed.
    fs::write(at.join("b/in/gatewright.yml"), "format: 2\n").unwrap();
    assert_eq!(lines(&["."]), (2, Vec::new()));
}

/// What a project file leaves open would change the review unseen.
#[test]
fn a_project_file_that_leaves_something_open_is_refused() {
    for line in ["packs: TBD", "packs: n/a", "fail_on: TBD", "stage: pending", "off: to follow", "weights: tbd"] {
        let done = with_project(&format!("format: 1\n{line}\n"), CLEAN, &["review", "gates"]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{line}: {}", done.err);
        assert!(done.err.contains("a value is expected"), "{line}: {}", done.err);
    }
}

/// The end of the report and the JSON name what each project file changes, and what it governs.
#[test]
fn a_run_under_two_project_files_tells_what_both_change() {
    let off = |rule: &str| format!("format: 1\noff:\n  - {{rule: {rule}, reason: agreed with the owner}}\n");
    let folder = folder_of(&[
        ("a/g.yaml", CLEAN),
        ("a/gatewright.yaml", &off("leaf/needless-splice")),
        ("b/g.yaml", CLEAN),
        ("b/gatewright.yaml", &off("leaf/sagging-leading-edge")),
    ]);
    let text = run_in(folder.path(), &["review", "."]).out;
    let json = run_in(folder.path(), &["review", "--format", "json", "."]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    for (folder, rule) in [("a", "leaf/needless-splice"), ("b", "leaf/sagging-leading-edge")] {
        let file = format!("{folder}/gatewright.yaml");
        let title = format!("Rules that are switched off, under {file}");
        let told = text.split(&title).nth(1).unwrap_or_else(|| panic!("{title}\n{text}"));
        assert!(told.trim_start().starts_with(&format!("- {rule}: agreed with the owner")), "{text}");
        assert_eq!(text.matches(&format!("under the project file {file}")).count(), 1, "{text}");
        let off = json["off"].as_array().unwrap().iter().find(|off| off["rule"] == rule).unwrap();
        assert_eq!(off["project_file"], file.as_str());
    }
    let under: Vec<&serde_json::Value> =
        json["submittals"].as_array().unwrap().iter().map(|of| &of["project_file"]).collect();
    assert_eq!(under, ["a/gatewright.yaml", "b/gatewright.yaml"]);
}

/// Two cities give one name to packs that ask for different things: each submittal is told what its own asks.
#[test]
fn packs_of_one_name_under_two_project_files_keep_their_texts() {
    let pack = |gap: &str| {
        format!(
            "pack: city\ntitle: City\nbasis: [{{standard: City code}}]\nrules:\n  - name: gap\n    title: The gap is over {gap}\n    \
             weight: requirement\n    require: gate.leaf.bottom_gap <= {gap}\n    message: \"{{gate.leaf.bottom_gap}} is more than {gap}\"\n    \
             why: It is so.\n    remedy: Lower it to {gap}.\n    local_code: The city.\n    \
             source: {{standard: City code, authority: text}}\n    cases:\n      - {{expect: met, gate: {{leaf: {{bottom_gap: 1/2 in}}}}}}\n"
        )
    };
    let file = "format: 1\npacks: [pack]\n";
    let folder = folder_of(&[
        ("a/g.yaml", CLEAN),
        ("a/gatewright.yaml", file),
        ("a/pack/city.yaml", &pack("1 in")),
        ("b/g.yaml", CLEAN),
        ("b/gatewright.yaml", file),
        ("b/pack/city.yaml", &pack("2 in")),
    ]);
    let done = run_in(folder.path(), &["review", "--format", "json", "."]);
    let json: serde_json::Value = serde_json::from_str(&done.out).unwrap_or_else(|_| panic!("{}", done.err));
    assert_eq!(json["rules"]["city/gap"]["remedy"], "Lower it to 1 in.");
    let others = json["project_rules"].as_array().unwrap();
    assert_eq!((others.len(), &others[0]["project_file"]), (1, &serde_json::json!("b/gatewright.yaml")));
    assert_eq!(others[0]["rules"]["city/gap"]["remedy"], "Lower it to 2 in.");
    let text = run_in(folder.path(), &["review", "."]).out;
    assert!(text.contains("Lower it to 1 in.") && text.contains("Lower it to 2 in."), "{text}");
}

#[test]
fn a_short_name_of_several_rules_is_told_them() {
    let pack = "pack: city\ntitle: City\nbasis: [{standard: City code}]\nrules:\n  - name: short-engagement\n    title: Short\n    \
                weight: advice\n    require: gate.leaf.bottom_gap <= 1 in\n    message: It is\n    why: It is so.\n    remedy: Do it.\n    \
                local_code: The city.\n    source: {standard: City code, authority: text}\n    \
                cases:\n      - {expect: met, gate: {leaf: {bottom_gap: 1/2 in}}}\n";
    let file = "format: 1\npacks: [pack]\noff: [{rule: short-engagement, reason: agreed}]\n";
    let folder = folder_of(&[("g.yaml", CLEAN), ("gatewright.yaml", file), ("pack/city.yaml", pack)]);
    let done = run_in(folder.path(), &["review", "."]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("is the short name of several rules"), "{}", done.err);
    assert!(done.err.contains("dimensions/short-engagement or city/short-engagement"), "{}", done.err);
}
