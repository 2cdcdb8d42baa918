//! What a reviewer with a calculator would find: each mistake is found at its line, with the working.

use serde_json::Value;

use super::program::run_with_input;

const GATE: &str = include_str!("../reference/data/end_to_end.yaml");

/// The finding of a rule, and the text of its line.
fn finding(submittal: &str, rule: &str) -> (Value, String) {
    let done = run_with_input(&["review", "--format", "json", "-"], submittal);
    let report: Value = serde_json::from_str(&done.out).unwrap();
    let findings = report["findings"].as_array().unwrap();
    let found = findings
        .iter()
        .find(|finding| finding["rule"] == rule && finding["outcome"] == "not_met")
        .unwrap_or_else(|| panic!("{rule} is not found"));
    let line = usize::try_from(found["line"].as_u64().unwrap()).unwrap();
    (found.clone(), submittal.lines().nth(line - 1).unwrap().trim().to_owned())
}

fn working(finding: &Value) -> String {
    let notes = finding["notes"].as_array().unwrap();
    notes.iter().filter_map(Value::as_str).filter(|note| note.starts_with("Working: ")).collect::<Vec<_>>().join("\n")
}

#[test]
fn an_undersized_footing_is_found_with_its_working() {
    // 5 ft of depth where 8.878 ft are asked for (the worked example beside this one).
    let (found, line) = finding(GATE, "posts/embedment-too-shallow");
    assert!(line.contains("depth: 5 ft"), "{line}");
    let working = working(&found);
    assert!(working.contains("embedment_needed = 8.878") && working.contains("embedment_closed_free = 8.878"), "{working}");
}

#[test]
fn an_uplifted_free_carriage_is_found_with_its_working() {
    let free = GATE.replace("spacing: 10 ft,", "spacing: 10 ft, captive: no,");
    let (found, line) = finding(&free, "running_gear/uncaptured-carriage");
    assert!(line.contains("captive: no"), "{line}");
    assert_eq!(found["weight"], "hazard");
    let working = working(&found);
    assert!(working.contains("-492.75 lb") && working.contains("weight = 730 lb"), "{working}");
}

#[test]
fn an_overstressed_post_is_found_with_its_working() {
    // 8,432 lb-ft on a 3 in post: HSS3x3x1/8 at 50 ksi bears 3.493 kip-ft (public library).
    let slender = GATE.replace("size: 6 in, wall: 0.233 in", "size: 3 in, wall: 0.116 in");
    let (found, line) = finding(&slender, "posts/post-overstressed");
    assert!(line.contains("size: 3 in"), "{line}");
    assert!(working(&found).contains("stress_closed_free"), "{}", working(&found));
}

#[test]
fn a_soil_value_doubled_without_a_reason_is_asked_about_or_found() {
    let empty = GATE.replace("source: report", "source: report, doubled: yes, doubled_because: \"\"");
    let (_, line) = finding(&empty, "posts/soil-value-doubled");
    assert!(line.contains("doubled_because"), "{line}");
    // Without any word for it the reason is a question, and nothing is doubled meanwhile.
    let silent = GATE.replace("source: report", "source: report, doubled: yes");
    let done = run_with_input(&["review", "--format", "json", "-"], &silent);
    let report: Value = serde_json::from_str(&done.out).unwrap();
    let asked = report["questions"].as_array().unwrap().iter().any(|asked| {
        asked["field"] == "site.soil.doubled_because"
            && asked["rules"].as_array().unwrap().contains(&"posts/soil-value-doubled".into())
    });
    assert!(asked, "the reason is asked for");
    let (found, _) = finding(&silent, "posts/embedment-too-shallow");
    assert!(working(&found).contains("8.878"), "{}", working(&found));
}

#[test]
fn a_speed_of_the_older_maps_is_not_taken_for_strength_level() {
    let allowable = GATE.replace("speed: 115 mph, basis: strength", "speed: 90 mph, basis: allowable");
    let (_, line) = finding(&allowable, "posts/wind-basis-mixed");
    assert!(line.contains("90 mph"), "{line}");
    let taken_for_strength = GATE.replace("speed: 115 mph", "speed: 90 mph");
    let (_, line) = finding(&taken_for_strength, "posts/low-strength-wind-speed");
    assert!(line.contains("90 mph"), "{line}");
}
