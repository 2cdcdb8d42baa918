//! The lists of rules and the rule reference.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::program::{run, run_in};

#[test]
fn the_list_names_pack_weight_authority_and_title() {
    let text = run(&["rules"]).out;
    assert!(text.contains("guarding: Guards, clearances and pedestrians at a powered gate ("), "{text}");
    assert!(text.contains("  hazard       quoted      guarding/open-leaf\n"), "{text}");
    assert!(text.contains("An opening in the leaf lets a 2 1/4 in ball through\n"), "{text}");
    assert!(!text.contains("europe/"), "a pack on request is listed where it is asked for");
    assert!(
        run(&["rules", "--packs", "europe"]).out.contains("  hazard       memory      europe/no-force-limitation\n")
    );
}

#[test]
fn the_list_for_programs_names_them_too() {
    let rules: Value = serde_json::from_str(&run(&["rules", "--format", "json"]).out).unwrap();
    let rules = rules.as_array().unwrap();
    assert!(rules.len() > 140);
    for rule in rules {
        for key in ["name", "pack", "title", "weight", "why", "remedy", "local_code"] {
            assert!(rule[key].as_str().is_some_and(|text| !text.is_empty()), "{key}: {rule:#}");
        }
        assert!(rule["source"]["authority"].as_str().is_some_and(|word| !word.is_empty()), "{rule:#}");
    }
}

/// Set GATEWRIGHT_ACCEPT=1 to write the reference anew, then read the difference.
#[test]
fn the_rule_reference_is_that_of_the_packs() {
    let found = run(&["rules", "--format", "markdown", "--packs", "europe"]).out;
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/README.md");
    if std::env::var_os("GATEWRIGHT_ACCEPT").is_some() {
        fs::write(&path, &found).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap().replace("\r\n", "\n");
    assert!(found == kept, "rules/README.md is not what the packs say; GATEWRIGHT_ACCEPT=1 cargo test writes it anew");
}

const TOWN: &str = "\
pack: town
title: Rules of an invented <town> | its *own*
basis: [{standard: town code (invented), edition: 2025}]
constants:
  least: {value: 15 ft, source: {standard: town code (invented), clause: '4', authority: text}}
given: {gate: {operation: powered, fire_access: yes}}
rules:
  - name: low
    title: Too low
    weight: hazard
    each: gate.sensors as sensor
    when: gate.fire_access
    require: sensor.height >= constant.least and gate.overhead_clearance >= constant.least
    message: 'Sensor {sensor.id} at {sensor.height}'
    why: Because.
    remedy: Raise it.
    local_code: This is it.
    note: [{when: gate.operation is powered, text: 'Powered at {gate.opening}'}]
    was: [lower]
    source: {standard: town code (invented), clause: '4', authority: text}
    given: {gate: {overhead_clearance: 16 ft}}
    cases:
      - {expect: met, gate: {sensors: [{id: a, height: 15 ft, acts_in: both}, {id: b, height: 16 ft}]}}
      - {expect: met, stage: acceptance, gate: {sensors: [{height: 15 ft}, {height: 15 ft}]}}
      - {expect: not met, at: gate.sensors.height, gate: {sensors: [{id: a, height: 14 ft}]}}
      - {expect: not shown, missing: gate.overhead_clearance, gate: {overhead_clearance: ~, sensors: [{id: a, height: 15 ft}]}}
      - {expect: does not apply, gate: {sensors: []}}
";

/// Every part of a rule stands on the page, its cases in the words of the fields, and a finding made by running one.
#[test]
fn the_reference_of_a_pack_of_ones_own_shows_every_part() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("town.pack"), TOWN).unwrap();
    let done = run_in(folder.path(), &["rules", "--format", "markdown", "--packs", "town.pack"]);
    let page = &done.out[done.out.find("\n## town\n").expect(&done.err)..];
    for part in [
        "Rules of an invented \\<town\\> \\| its \\*own\\*.",
        "Rests on: town code (invented) (2025).",
        "- `constant.least`: 15 ft (town code (invented), 4)",
        "### town/low\n\n**Hazard.** Too low.",
        "- *Runs*: once for each gate, for each element",
        "- *Applies when*: `gate.fire_access`",
        "- *Requires*: `sensor.height >= constant.least and gate.overhead_clearance >= constant.least`",
        "- *Source*: town code (invented), clause 4; read in the source itself",
        "- *Note (when `gate.operation is powered`)*: Powered at `{gate.opening}`",
        "- *Earlier names*: lower",
        "A finding, at `gate.sensors.height`:\n\n> Sensor a at 14 ft (4.267 m)",
        "5 cases, each starting from: operation powered, fire access statement yes, overhead clearance 16 ft.",
        "*met*: sensors: (sensor id a, sensor height 15 ft, direction the sensor acts in both), (",
        "stage acceptance, sensors: 2 times (",
        "- *not shown*: overhead clearance not shown, sensors: (",
        "- *does not apply*: sensors: none",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
}

/// A pack may come from somebody else: nothing of it acts on the terminal of who lists its rules.
#[test]
fn a_pack_cannot_steer_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let hostile = r#""\e[31mred\a \u202Eturned\nnext""#;
    let mut pack = TOWN.to_owned();
    for (from, to) in [
        ("title: Rules of an invented <town> | its *own*", format!("title: {hostile}")),
        ("title: Too low", format!("title: {hostile}")),
        ("was: [lower]", format!("was: [{hostile}]")),
        ("why: Because.", format!("why: {hostile}")),
        ("at: gate.sensors.height", format!("at: {hostile}")),
        ("{standard: town code (invented), edition: 2025}", format!("{{standard: {hostile}, edition: {hostile}}}")),
        (
            "{standard: town code (invented), clause: '4', authority: text}",
            format!("{{standard: {hostile}, authority: text}}"),
        ),
    ] {
        assert!(pack.contains(from), "{from}");
        pack = pack.replace(from, &to);
    }
    fs::write(folder.path().join("town.pack"), pack).unwrap();
    for arguments in [
        &["rules"][..],
        &["rules", "--format", "markdown"],
        &["rules", "--format", "json"],
        &["explain", "town/low"],
        &["prove"],
    ] {
        let done = run_in(folder.path(), &[arguments, &["--packs", "town.pack"]].concat());
        assert!(done.out.contains("town"), "{arguments:?}: {}", done.err);
        let acts = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
        assert!(!done.out.contains(acts) && !done.err.contains(acts), "{arguments:?}: {:?}", done.out);
        assert!(!done.out.contains("turned\nnext"), "{arguments:?}: {}", done.out);
    }
}
