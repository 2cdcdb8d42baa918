//! Deviations that the submittal declares, matched with the findings they answer.
//!
//! A deviation is the submittal's claim and stays in the report as one. It answers what is not met, never what is not
//! shown; a hazard only if it names the gate, which a mark that several gates have does not.

use super::approval::no_approval;
use super::finding::{Deviation, DeviationState, Finding, Outcome, Weight};
use super::judge::Judged;
use super::site::Site;
use crate::problem::Problem;
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
        Err(_) => {
            let (problem, help) = rules.no_rule(&deviation.rule);
            problems.push(Problem::fault("unmatched-deviation", span, problem).with_help(help));
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
            Some(refusal) => {
                (refusal, "hand in the approval itself: the letter, RFI or change order, with its number or date")
            }
            None if complete && ambiguous => (
                "it is about a hazard, and its mark stands for several gates and so names none of them",
                "give each gate its own mark, and each hazard that was agreed a deviation with that mark",
            ),
            None => ("it needs a reason and an approval, and for a hazard the gate", COMPLETE),
        };
        let message = format!("this deviation from `{name}` answers nothing: {lacks}");
        let of_approval = site.place_at(record, "approval").filter(|_| refusal.is_some());
        let at = of_approval.unwrap_or(span);
        problems.push(Problem::fault("incomplete-deviation", at, message).with_help(help));
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

#[cfg(test)]
mod tests {
    use super::*;

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
