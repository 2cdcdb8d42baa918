//! Deviations that the submittal declares, matched with the findings they answer.
//!
//! A deviation is the submittal's claim and stays in the report as one. It answers what is not met, never what is not
//! shown; a hazard only if it names the gate.

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
    let Some(field) = site.vocabulary.record(0).field("submittal.deviations") else { return (list, problems) };
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
        Err(candidates) => {
            let known: Vec<&str> = rules.rules.iter().map(|rule| rule.facts.name.as_str()).collect();
            let near = crate::vocabulary::nearest_name(&deviation.rule, known.iter().copied());
            let problem = Problem::fault("unmatched-deviation", span, format!("no rule is called `{}`", deviation.rule));
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
    let mut concerned: Vec<&mut Finding> = judged.findings.iter_mut().filter(|finding| finding.rule == name).collect();
    concerned.retain(|finding| deviation.gate.is_none() || finding.gate.is_none() || finding.gate == deviation.gate);
    if let Some(field) = text("field") {
        concerned.retain(|finding| finding.field.as_deref() == Some(field.as_str()));
    }
    let complete = deviation.reason.is_some() && deviation.approval.is_some();
    let mut incomplete = false;
    let mut waiting = false;
    for finding in concerned {
        match finding.outcome {
            Outcome::NotMet => {
                let names_gate = deviation.gate.is_some() || finding.gate.is_none();
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
        let message = format!("this deviation from `{name}` answers nothing: it needs a reason and an approval, and for a hazard the gate");
        problems.push(
            Problem::fault("incomplete-deviation", span, message)
                .with_help("add `reason:`, `approval:` (letter, RFI or change order number) and `gate:`"),
        );
    } else if waiting {
        deviation.state = DeviationState::Waiting;
    } else {
        let message = format!("nothing deviates from `{name}`{}", of_gate(deviation.gate.as_deref()));
        problems.push(Problem::advice("unmatched-deviation", span, message).with_help("take the entry out, or correct its rule and gate"));
    }
    deviation
}

fn of_gate(gate: Option<&str>) -> String {
    gate.map_or_else(String::new, |gate| format!(" at gate {gate}"))
}
