//! A run built by hand: two gates of one submittal, with everything that a report has to show.

use std::collections::BTreeMap;
use std::sync::Arc;

use gatewright::review::{
    Action, Deviation, DeviationState, Finding, GateReview, Label, NotReviewed, Outcome, Outcomes, ProjectRules,
    Question, Reweighed, RuleFacts, Run, SubmittalReview, SwitchedOff, Weight,
};
use gatewright::source::{SourceFile, Span};

pub const TEXT: &str = "\
format: 1
project: {name: North yard vehicle gates}
submittal: {number: 32 31 13-04, revision: 1, stage: submittal}
site: {authority_having_jurisdiction: City of Ashford}
gates:
  - mark: G1
    type: cantilever_slide
    operation: powered
    usage_class: II
    opening: 24 ft
    leaf:
      length: 35 ft
      counterbalance: 11 ft
      latch_overlap: 6 in
      bottom_gap: 5 1/2 in
      infill: {kind: pickets, largest_opening: 3 in, guarded_to: 72 in}
      # Größe nach Aufmaß
      covered_fence: n/a
    carriages: {setback: 6 in, spacing: 9 ft}
    footings:
      depth: TBD
  - mark: G2
    type: swing
deviations:
  - {rule: wide-bottom-gap, gate: G1, reason: Crowned road, approved_by: RFI 014}
  - {rule: guarding/no-such-rule, reason: Agreed on the phone}
";

/// The span of a text that stands in the sample once.
pub fn at(text: &str, part: &str) -> Span {
    let start = text.find(part).unwrap_or_else(|| panic!("{part} is not in the sample"));
    assert_eq!(text.matches(part).count(), 1, "{part} stands there more than once");
    Span::new(start, start + part.len())
}

pub fn label(span: Span, text: &str) -> Label {
    Label { span, text: text.to_owned() }
}

pub fn finding(rule: &str, weight: Weight, primary: Span, message: &str) -> Finding {
    Finding {
        rule: rule.to_owned(),
        weight,
        outcome: Outcome::NotMet,
        gate: Some("G1".to_owned()),
        gate_index: Some(0),
        element: None,
        called: None,
        field: None,
        message: message.to_owned(),
        primary: label(primary, ""),
        labels: Vec::new(),
        help: None,
        missing: Vec::new(),
        waiting: Vec::new(),
        assumed: Vec::new(),
        because: Vec::new(),
        workings: Vec::new(),
        notes: Vec::new(),
        deviation: None,
        key: String::new(),
    }
}

/// A submittal of one document without anything found.
pub fn bare(name: &str, text: &str) -> SubmittalReview {
    SubmittalReview {
        action: Some(Action::ReviseAndResubmit),
        readable: true,
        ..SubmittalReview::new(Arc::new(SourceFile::new(name, text)), 1, 1)
    }
}

/// A run of that one submittal.
pub fn alone(submittal: SubmittalReview) -> Run {
    Run { submittals: vec![submittal], ..Run::default() }
}

fn facts(name: &str, title: &str, weight: Weight, source: [&str; 4], texts: [&str; 3]) -> (String, RuleFacts) {
    let [standard, clause, edition, authority] = source.map(str::to_owned);
    let [why, remedy, local_code] = texts.map(str::to_owned);
    let facts = RuleFacts {
        name: name.to_owned(),
        title: title.to_owned(),
        weight,
        why,
        remedy,
        local_code,
        standard,
        clause,
        edition,
        authority,
        replaces: None,
    };
    (name.to_owned(), facts)
}

fn rules() -> BTreeMap<String, RuleFacts> {
    BTreeMap::from([
        facts(
            "guarding/open-leaf",
            "An opening in the leaf lets a 2 1/4 in ball through",
            Weight::Hazard,
            ["ASTM F2200", "6.1.2", "2011 to 2017", "quoted"],
            [
                "An arm that reaches through a moving leaf is caught between the leaf and the posts it passes.",
                "Close the infill to less than 2 1/4 in up to 72 in above grade, or cover it with a mesh that is.",
                "The authority having jurisdiction decides which edition applies and may ask for a smaller opening.",
            ],
        ),
        facts(
            "leaf/tail-leaves-carriage",
            "The tail leaves the rear carriage when the gate is closed",
            Weight::Hazard,
            ["", "", "", "arithmetic"],
            [
                "A leaf that leaves its carriage falls.",
                "Lengthen the counterbalance or bring the carriages closer.",
                "",
            ],
        ),
        facts(
            "leaf/wide-bottom-gap",
            "The gap under the closed leaf is wide",
            Weight::Requirement,
            ["Common practice", "", "", "practice"],
            ["A child can roll under the leaf.", "Lower the leaf or raise the road to 5 in or less.", ""],
        ),
        facts(
            "footing/too-shallow",
            "The footing ends above the frost line",
            Weight::Requirement,
            ["IBC", "Section 1809.5", "2021", "memory"],
            ["Frost lifts a shallow footing.", "Deepen it.", "The local frost depth rules."],
        ),
    ])
}

fn findings(text: &str) -> Vec<Finding> {
    let infill = at(text, "largest_opening: 3 in").part(17..21);
    let gap = at(text, "5 1/2 in");
    let tail = at(text, "counterbalance: 11 ft").part(16..21);
    vec![
        Finding {
            field: Some("gate.leaf.counterbalance".to_owned()),
            primary: label(tail, "the tail ends here"),
            labels: vec![
                label(at(text, "setback: 6 in").part(9..13), "to the front carriage"),
                label(at(text, "spacing: 9 ft").part(9..13), "between the carriages"),
            ],
            assumed: vec![("gate.carriages.tail_margin".to_owned(), "0 in".to_owned())],
            because: vec![
                ("gate.leaf.counterbalance".to_owned(), "11 ft (3.35 m)".to_owned()),
                ("gate.carriages.setback + gate.carriages.spacing".to_owned(), "9 ft 6 in (2.90 m)".to_owned()),
            ],
            workings: vec![
                "tail_room = 6 in (152 mm); counterbalance - setback - spacing; counterbalance = 11 ft.".to_owned(),
            ],
            notes: vec!["The length of one carriage is taken from the product data.".to_owned()],
            ..finding(
                "leaf/tail-leaves-carriage",
                Weight::Hazard,
                tail,
                "the counterbalance is 11 ft (3.35 m), the rear carriage needs 11 ft 4 in (3.45 m) with the gate \
                 closed",
            )
        },
        Finding {
            field: Some("gate.leaf.bottom_gap".to_owned()),
            primary: label(gap, "more than 5 in"),
            deviation: Some(0),
            ..finding(
                "leaf/wide-bottom-gap",
                Weight::Requirement,
                gap,
                "the gap under the closed leaf is 5 1/2 in (139.7 mm), more than 5 in (127 mm)",
            )
        },
        Finding {
            field: Some("gate.leaf.infill.largest_opening".to_owned()),
            primary: label(infill, "largest opening"),
            labels: vec![label(at(text, "powered"), "the guard is asked of a powered leaf")],
            ..finding(
                "guarding/open-leaf",
                Weight::Hazard,
                infill,
                "3 in (76.2 mm) lets a 2 1/4 in (57.15 mm) ball through",
            )
        },
        Finding {
            outcome: Outcome::NotShown,
            field: Some("gate.footings.depth".to_owned()),
            missing: vec!["gate.footings.depth".to_owned()],
            ..finding(
                "footing/too-shallow",
                Weight::Requirement,
                at(text, "depth"),
                "cannot tell whether the footing ends above the frost line: gate.footings.depth is not shown",
            )
        },
        Finding {
            help: Some("Give the length with its unit, such as 6 in.".to_owned()),
            waiting: vec!["guarding/open-leaf".to_owned(), "leaf/wide-bottom-gap".to_owned()],
            ..finding(
                "reading/missing-unit",
                Weight::Requirement,
                at(text, "24 ft").part(0..2),
                "expected a length with a unit, found 24",
            )
        },
    ]
}

/// The sample: three findings, a question, deviations, a hazard switched off, a gate that is not reviewed.
pub fn run() -> Run {
    let names = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect::<Vec<_>>();
    let submittal = SubmittalReview {
        project: Some("North yard vehicle gates".to_owned()),
        jurisdiction: Some("City of Ashford".to_owned()),
        number: Some("32 31 13-04".to_owned()),
        revision: Some("1".to_owned()),
        gates: vec![
            GateReview {
                mark: "G1".to_owned(),
                reviewed: true,
                type_shown: true,
                outcomes: Outcomes {
                    met: full_names(&["leaf/short-engagement"]),
                    not_met: full_names(&["leaf/tail-leaves-carriage", "leaf/wide-bottom-gap", "guarding/open-leaf"]),
                    not_shown: full_names(&["footing/too-shallow"]),
                    does_not_apply: full_names(&[]),
                },
                met_by_assumption: vec![(
                    "leaf/short-engagement".to_owned(),
                    "gate.carriages.lead_margin".to_owned(),
                    "0 in".to_owned(),
                )],
                notes: vec![(
                    "leaf/short-engagement".to_owned(),
                    "The edition was not seen; confirm the length in the one in force.".to_owned(),
                )],
            },
            GateReview {
                mark: "G2".to_owned(),
                reviewed: false,
                type_shown: true,
                outcomes: Outcomes::default(),
                met_by_assumption: Vec::new(),
                notes: Vec::new(),
            },
        ],
        findings: findings(TEXT),
        questions: vec![
            Question {
                field: "gate.opening".to_owned(),
                label: "clear opening".to_owned(),
                gate: Some("G1".to_owned()),
                gate_index: Some(0),
                span: at(TEXT, "24 ft"),
                word: Some("24".to_owned()),
                unreadable: true,
                weight: Weight::Hazard,
                rules: names(&["guarding/open-leaf", "leaf/wide-bottom-gap"]),
            },
            Question {
                field: "gate.footings.depth".to_owned(),
                label: "depth of the footing below grade".to_owned(),
                gate: Some("G1".to_owned()),
                gate_index: Some(0),
                span: at(TEXT, "depth"),
                word: Some("TBD".to_owned()),
                unreadable: false,
                weight: Weight::Requirement,
                rules: names(&["footing/too-shallow"]),
            },
        ],
        deviations: vec![
            Deviation {
                rule: "wide-bottom-gap".to_owned(),
                gate: Some("G1".to_owned()),
                reason: Some("Crowned road".to_owned()),
                approval: Some("RFI 014".to_owned()),
                span: at(TEXT, "{rule: wide-bottom-gap, gate: G1, reason: Crowned road, approved_by: RFI 014}"),
                state: DeviationState::Answers,
            },
            Deviation {
                rule: "guarding/no-such-rule".to_owned(),
                gate: None,
                reason: Some("Agreed on the phone".to_owned()),
                approval: None,
                span: at(TEXT, "{rule: guarding/no-such-rule, reason: Agreed on the phone}"),
                state: DeviationState::Unmatched,
            },
        ],
        switched_off: vec![SwitchedOff {
            rule: "guarding/open-covered-fence".to_owned(),
            gate: Some("G1".to_owned()),
            gate_index: Some(0),
            field: "gate.covered_fence".to_owned(),
            span: at(TEXT, "covered_fence: n/a").part(15..18),
        }],
        ..bare("submittals/north-yard.yaml", TEXT)
    };
    let mut rules = rules();
    rules.extend([facts(
        "leaf/short-engagement",
        "The latch does not hold the leaf",
        Weight::Requirement,
        ["", "", "", "arithmetic"],
        ["", "", ""],
    )]);
    Run {
        submittals: vec![submittal],
        not_reviewed: vec![NotReviewed {
            path: "submittals/notes.yaml".to_owned(),
            document: None,
            reason: "no submittal: it has neither `format` nor `gates`".to_owned(),
            failure: false,
        }],
        packs: vec![("guarding".to_owned(), "Guards and screens on a powered leaf".to_owned())],
        projects: vec![Arc::new(ProjectRules {
            path: Some("submittals/gatewright.yaml".to_owned()),
            rules,
            reweighed: vec![Reweighed {
                rule: "leaf/wide-bottom-gap".to_owned(),
                from: Weight::Requirement,
                to: Weight::Advice,
                reason: "the road is crowned".to_owned(),
            }],
            off: vec![("leaf/tiny-counterbalance".to_owned(), "The leaf is short; agreed with the owner".to_owned())],
        })],
    }
}

fn full_names(names: &[&str]) -> Vec<Arc<str>> {
    names.iter().map(|name| Arc::from(*name)).collect()
}
