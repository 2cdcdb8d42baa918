//! Deviations that the submittal declares, matched with the findings they answer.
//!
//! A deviation is the submittal's claim and stays in the report as one. It answers what is not met, never what is not
//! shown; a hazard only if it names the gate, which a mark that several gates have does not.

use super::finding::{Deviation, DeviationState, Finding, Outcome, Weight};
use super::judge::Judged;
use super::site::Site;
use crate::problem::Problem;
use crate::quantity::read_date;
use crate::rule::RuleSet;
use crate::submittal::RecordIndex;

/// Matches the deviations of a submittal; answered findings are marked, and what is wrong with a deviation is reported.
pub fn deviations(site: Site<'_>, rules: &RuleSet, judged: &mut Judged) -> (Vec<Deviation>, Vec<Problem>) {
    let mut list = Vec::new();
    let mut problems = Vec::new();
    let Some(field) = site.vocabulary.record(0).field("submittal.deviations") else {
        return (list, problems);
    };
    for record in site.records.list(site.records.slot(0, field)) {
        let index = list.len();
        list.push(one(site, rules, judged, *record, index, &mut problems));
    }
    (list, problems)
}

fn one(
    site: Site<'_>,
    rules: &RuleSet,
    judged: &mut Judged,
    record: RecordIndex,
    index: usize,
    problems: &mut Vec<Problem>,
) -> Deviation {
    let text = |path: &str| site.text_at(record, path).filter(|text| !text.is_empty());
    let mut deviation = Deviation {
        rule: text("rule").unwrap_or_default(),
        gate: text("gate"),
        reason: text("reason"),
        approval: text("approval"),
        span: site.head(record),
        state: DeviationState::Unmatched,
    };
    let span = deviation.span;
    let name = match rules.find(&deviation.rule) {
        Ok(found) => rules.rules[found].facts.name.clone(),
        // It cannot be read, as the reader has said, or a rule of the paperwork asks for the name.
        Err(_) if deviation.rule.is_empty() => return deviation,
        Err(candidates) => {
            let known: Vec<&str> = rules.rules.iter().map(|rule| rule.facts.name.as_str()).collect();
            let near = crate::vocabulary::nearest_name(&deviation.rule, known.iter().copied());
            let problem =
                Problem::fault("unmatched-deviation", span, format!("no rule is called `{}`", deviation.rule));
            problems.push(match (candidates.as_slice(), near) {
                ([], Some(near)) => problem.with_help(format!("did you mean `{near}`?")),
                ([], None) => problem.with_help("`gatewright rules` lists the names"),
                (several, _) => problem.with_help(format!("it could be {}", several.join(" or "))),
            });
            return deviation;
        }
    };
    if name != deviation.rule && !name.ends_with(&format!("/{}", deviation.rule)) {
        let message = format!("the rule `{}` is now called `{name}`", deviation.rule);
        problems.push(Problem::advice("renamed-rule", span, message).with_help(format!("write `{name}`")));
    }
    let bearers = judged.gates.iter().filter(|gate| same_mark(&Some(gate.mark.clone()), &deviation.gate)).count();
    let ambiguous = bearers > 1;
    let mut concerned: Vec<&mut Finding> = judged.findings.iter_mut().filter(|finding| finding.rule == name).collect();
    concerned.retain(|finding| {
        deviation.gate.is_none() || finding.gate.is_none() || same_mark(&finding.gate, &deviation.gate)
    });
    if let Some(field) = text("field") {
        concerned.retain(|finding| finding.field.as_deref() == Some(field.as_str()));
    }
    let refusal = deviation.approval.as_deref().and_then(no_approval);
    let complete = deviation.reason.is_some() && deviation.approval.is_some() && refusal.is_none();
    let mut incomplete = false;
    let mut waiting = false;
    for finding in concerned {
        match finding.outcome {
            Outcome::NotMet => {
                let names_gate = (deviation.gate.is_some() && !ambiguous) || finding.gate.is_none();
                if complete && (finding.weight != Weight::Hazard || names_gate) {
                    finding.deviation = Some(index);
                    deviation.state = DeviationState::Answers;
                } else {
                    incomplete = true;
                }
            }
            _ => waiting = true,
        }
    }
    if deviation.state == DeviationState::Answers {
        return deviation;
    }
    if incomplete {
        deviation.state = DeviationState::Incomplete;
        let (lacks, help) = match refusal {
            Some(refusal) => (refusal, COMPLETE),
            None if complete && ambiguous => (
                "it is about a hazard, and its mark stands for several gates and so names none of them",
                "give each gate its own mark, and each hazard that was agreed a deviation with that mark",
            ),
            None => ("it needs a reason and an approval, and for a hazard the gate", COMPLETE),
        };
        let message = format!("this deviation from `{name}` answers nothing: {lacks}");
        problems.push(Problem::fault("incomplete-deviation", span, message).with_help(help));
    } else if waiting {
        deviation.state = DeviationState::Waiting;
    } else {
        let message = format!("nothing deviates from `{name}`{}", of_gate(deviation.gate.as_deref()));
        problems.push(
            Problem::advice("unmatched-deviation", span, message)
                .with_help("take the entry out, or correct its rule and gate"),
        );
    }
    deviation
}

/// What a deviation consists of.
const COMPLETE: &str =
    "write `reason:`, `approval:` (letter, RFI or change order, with its number or date) and `gate:`";

fn of_gate(gate: Option<&str>) -> String {
    gate.map_or_else(String::new, |gate| format!(" at gate {gate}"))
}

/// Whether two marks are one, as rules compare texts: case and blanks do not count.
fn same_mark(one: &Option<String>, other: &Option<String>) -> bool {
    let folded = |mark: &Option<String>| {
        mark.as_deref().map(|mark| mark.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase())
    };
    folded(one) == folded(other)
}

/// Words that say that something is refused or was only said, whatever stands beside them.
const DENIALS: [&str; 17] = [
    "call",
    "cannot",
    "deny",
    "follow",
    "hold",
    "isn",
    "never",
    "none",
    "not",
    "oral",
    "phone",
    "sent",
    "tbd",
    "telephone",
    "verbal",
    "verbally",
    "void",
];
/// Beginnings of such words.
const DENIAL_STEMS: [&str; 15] = [
    "cancel", "declin", "deni", "disagree", "disappr", "expired", "object", "refus", "reject", "resubmi", "revok",
    "unanswer", "unapprov", "unsigned", "withdr",
];
/// Words that say that something is not decided, unless another word says that it is.
const OPEN: [&str; 3] = ["applied", "open", "under"];
/// Beginnings of such words.
const OPEN_STEMS: [&str; 14] = [
    "answered",
    "await",
    "draft",
    "expect",
    "outstanding",
    "pend",
    "propos",
    "request",
    "respon",
    "return",
    "review",
    "revise",
    "submitted",
    "unresolved",
];
/// Beginnings of words that say that something is decided.
const GRANTED: [&str; 6] = ["accept", "approv", "exceptions", "executed", "grant", "objection"];

/// Words for something that an approval is written in.
const DOCUMENTS: [&str; 31] = [
    "addendum",
    "approval",
    "approved",
    "asi",
    "bulletin",
    "ccd",
    "certificate",
    "co",
    "cor",
    "decision",
    "determination",
    "directive",
    "document",
    "email",
    "instruction",
    "letter",
    "mail",
    "memo",
    "memorandum",
    "minutes",
    "notice",
    "pco",
    "permit",
    "ref",
    "reference",
    "resolution",
    "rfi",
    "submittal",
    "transmittal",
    "variance",
    "waiver",
];

/// Why a text is no approval: it says that there is none yet, or names no letter that somebody could look up.
fn no_approval(text: &str) -> Option<&'static str> {
    // Names of documents that hold a word of another meaning, and thanks that refuse nothing.
    let text = text.to_lowercase();
    let text = text.replace("request for information", "rfi").replace("change order", "co");
    let text = text.replace("no exceptions", "exceptions").replace("no objection", "objection");
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let has_number = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let is_document = |word: &str| DOCUMENTS.contains(&word.trim_end_matches(|c: char| c.is_ascii_digit()));
    let begins = |word: &str, stems: &[&str]| stems.iter().any(|stem| word.starts_with(stem));
    // `no` is a number in "co no. 12" and "approval no. FM-88".
    let is_number_sign =
        |at: usize| at > 0 && is_document(words[at - 1]) && words[at + 1..].iter().take(2).any(|word| has_number(word));
    let denies = |(at, word): (usize, &&str)| {
        let refuses = DENIALS.contains(word) || (begins(word, &DENIAL_STEMS) && *word != "objection");
        refuses || (*word == "no" && !is_number_sign(at))
    };
    let granted = words.iter().any(|word| begins(word, &GRANTED));
    let is_open = !granted && words.iter().any(|word| OPEN.contains(word) || begins(word, &OPEN_STEMS));
    if is_open || words.iter().enumerate().any(denies) {
        Some("its approval says that it is not approved, or not yet")
    } else if !words.iter().any(|word| has_number(word))
        || !(words.iter().any(|word| is_document(word)) || has_date(&text))
    {
        Some("its approval names no letter, RFI or change order by number or date")
    } else {
        None
    }
}

/// Whether a date stands in a text, as `2026-09-02` or with a year of four digits.
fn has_date(text: &str) -> bool {
    let is_year =
        |word: &str| word.len() == 4 && word.starts_with("20") && word.bytes().all(|byte| byte.is_ascii_digit());
    text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')' | '/'))
        .any(|word| is_year(word) || (word.len() == "2026-09-02".len() && read_date(word).is_ok()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_approval_names_something_to_look_up() {
        for approval in [
            "RFI 14",
            "RFI-014",
            "RFI14",
            "letter of 2026-09-02",
            "CO 3",
            "change order no. 12",
            "fire marshal, 2026-09-02",
            "owner's e-mail (2026-09-02)",
            "approved by the city, permit B-1034",
            "notice 4: opening reduced",
            "Request for Information 14",
            "Submittal 12 returned 2026-09-02, no exceptions taken",
            "letter of no objection, 2026-09-02",
            "approved as submitted, RFI 14",
            "approved under permit B-1034",
            "RFI 14, response of 2026-09-02: accepted",
            "substitution request 3 approved",
            "Change order 3 (proposal accepted)",
            "CO 3, executed and revised 2026-09-02",
            "Approval no. FM-88",
            "CCD 7",
            "PCO 14 executed",
            "fire marshal, Sept 2, 2026",
        ] {
            assert_eq!(no_approval(approval), None, "{approval}");
        }
        for text in [
            "-",
            "owner",
            "verbal",
            "yes",
            "none",
            "denied",
            "not approved, RFI 14",
            "requested 2026-09-02",
            "no",
            "1",
            "RFI 8 returned revise and resubmit",
            "fire marshal disapproves, letter 12",
            "RFI 8, under review",
            "RFI 8 open",
            "RFI 8 submitted 2026-05-01",
            "RFI 8 answered: no",
            "RFI 12 - no response yet",
            "RFI 8 expected 2026-07-01",
            "phone call 2026-05-01",
            "see sheet A-3",
            "3 in mesh",
            "2 weeks after award",
            "RFI 8 answered: no, 2026-05-01",
            "RFI 14 unanswered",
            "sent 2026-05-01",
            "RFI 3 in review",
            "RFI 3 on hold",
            "TBD 2026",
            "RFI 3 void",
            "RFI 3 unapproved",
            "RFI 3 to be answered",
            "RFI 3 cannot be granted",
            "RFI 3 isn't approved",
            "CO 3 unsigned",
            "letter 12: fire marshal objects",
            "permit 14 revoked",
            "permit applied for 2026-05-01",
            "change order 12 to follow",
            "RFI 9: never approved",
            "change 3 in",
            "order 2 wheels",
        ] {
            assert!(no_approval(text).is_some(), "{text}");
        }
    }

    #[test]
    fn marks_are_compared_as_rules_compare_texts() {
        let mark = |text: &str| Some(text.to_owned());
        assert!(
            same_mark(&mark("g1 "), &mark("G1"))
                && !same_mark(&mark("G1"), &mark("G2"))
                && !same_mark(&None, &mark("G1"))
        );
    }
}
