//! The rule reference: a page of Markdown with a section for each rule.
//!
//! A rule is data that a reviewer, a contractor or an official may want to read without running anything. The page is made
//! from the packs alone, down to the example finding: the first case that is not met is judged, and what a report would say
//! is printed. So it cannot drift from the rules; the one kept beside the packs is compared with it.

use std::fmt::Write as _;

use super::rules::{one_line, source_line};
use super::tally::WEIGHTS;
use super::text::{count, sentence, visible};
use crate::review::{Finding, Outcome, judge};
use crate::rule::{Case, Pack, Rule, RuleSet, Segment, Template};

/// Characters of the cases of one outcome, and of the facts given, that are printed: a page of every case would be larger than
/// hosts of repositories show. The pack holds them all.
const SHOWN: usize = 360;

/// The reference of all loaded rules, which must have been loaded with their cases.
pub fn rules_markdown(rules: &RuleSet) -> String {
    let mut out = HEAD.to_owned();
    out.push_str("| pack | about | hazards | requirements | advice |\n|---|---|---|---|---|\n");
    for (index, pack) in rules.packs.iter().enumerate() {
        let of_weight =
            WEIGHTS.map(|weight| members(rules, index).filter(|(_, rule)| rule.facts.weight == weight).count());
        let [hazards, requirements, advice] = of_weight;
        let name = visible(&pack.name);
        line(
            &mut out,
            &format!("| [{name}](#{name}) | {} | {hazards} | {requirements} | {advice} |", plain(&pack.title)),
        );
    }
    for (index, pack) in rules.packs.iter().enumerate() {
        self::pack(&mut out, rules, index, pack);
    }
    out
}

const HEAD: &str = "# The rules\n\n\
Made by `gatewright rules --format markdown --packs europe` from the packs in this folder; `GATEWRIGHT_ACCEPT=1 cargo test` writes it \
anew. [GUIDE.md](GUIDE.md) says how rules are written, [COVERAGE.md](COVERAGE.md) which clause of which standard each rests on.\n\n\
A rule that is met is one check passed and says nothing beyond that check. Numbers that are quoted, or from memory, are to be confirmed \
against the edition in force; the authority having jurisdiction decides.\n\n";

fn members(rules: &RuleSet, pack: usize) -> impl Iterator<Item = (usize, &Rule)> {
    rules.rules.iter().enumerate().filter(move |(_, rule)| rule.pack == pack)
}

fn pack(out: &mut String, rules: &RuleSet, index: usize, pack: &Pack) {
    line(out, &format!("\n## {}\n\n{}.", visible(&pack.name), plain(&pack.title)));
    if !pack.basis.is_empty() {
        let basis: Vec<String> = pack.basis.iter().map(|basis| plain(basis)).collect();
        line(out, &format!("\nRests on: {}.", basis.join("; ")));
    }
    for (number, text) in pack.numbers.iter().enumerate() {
        line(out, &format!("{}- {}", if number == 0 { "\n" } else { "" }, plain(text)));
    }
    for (index, rule) in members(rules, index) {
        self::rule(out, rules, index, rule);
    }
}

fn rule(out: &mut String, rules: &RuleSet, index: usize, rule: &Rule) {
    let facts = &rule.facts;
    let (name, weight) = (visible(&facts.name), sentence(facts.weight.word()));
    line(out, &format!("\n### {name}\n\n**{weight}.** {}.\n", plain(&facts.title)));
    let each = if rule.group.is_some() { ", for each element" } else { "" };
    let per = if rule.per_gate { "once for each gate" } else { "once for the submittal" };
    entry(out, "Runs", &format!("{per}{each}"));
    for (number, when) in rule.when.iter().enumerate() {
        entry(out, if number == 0 { "Applies when" } else { "and" }, &code(&when.text));
    }
    entry(out, "Requires", &code(&rule.require.text));
    entry(out, "Source", &plain(&source_line(facts)));
    entry(out, "Why", &plain(&facts.why));
    entry(out, "Do", &plain(&facts.remedy));
    entry(out, "Local code", &plain(&facts.local_code));
    for note in &rule.notes {
        let when = note.when.as_ref().map(|when| format!(" (when {})", code(&when.text))).unwrap_or_default();
        entry(out, &format!("Note{when}"), &plain(&template(&note.text)));
    }
    if let Some(replaced) = &facts.replaces {
        entry(out, "Replaces", &visible(replaced));
    }
    if !rule.was.is_empty() {
        entry(out, "Earlier names", &visible(&rule.was.join(", ")));
    }
    if let Some(finding) = example(rules, index, rule) {
        let at = finding.field.as_ref().map(|field| format!(", at `{field}`")).unwrap_or_default();
        line(out, &format!("\nA finding{at}:\n\n> {}", plain(&finding.message)));
    }
    cases(out, rule);
}

/// What the first case that is not met comes to.
fn example(rules: &RuleSet, index: usize, rule: &Rule) -> Option<Finding> {
    let case = rule.cases.iter().find(|case| case.expect == Outcome::NotMet)?;
    let judged = judge(rules, &rules.packs[rule.pack].tree, &case.facts, case.stage, &|other| other == index);
    judged.findings.into_iter().find(|finding| finding.outcome == Outcome::NotMet)
}

/// The cases by outcome.
fn cases(out: &mut String, rule: &Rule) {
    if rule.cases.is_empty() {
        return;
    }
    let start = match rule.given.is_empty() {
        true => String::new(),
        false => format!(", each starting from: {}", cut(&rule.given)),
    };
    line(out, &format!("\n{}{start}.\n", sentence(&count(rule.cases.len(), "case", "cases"))));
    for outcome in [Outcome::Met, Outcome::NotMet, Outcome::NotShown, Outcome::DoesNotApply] {
        let of_outcome: Vec<&Case> = rule.cases.iter().filter(|case| case.expect == outcome).collect();
        if of_outcome.is_empty() {
            continue;
        }
        let stated = |case: &&Case| match case.stated.is_empty() {
            true => "as it stands".to_owned(),
            false => cut(&case.stated),
        };
        let mut shown: Vec<String> = Vec::new();
        let mut used = 0;
        for text in of_outcome.iter().map(stated) {
            if !shown.is_empty() && used + text.len() > SHOWN {
                break;
            }
            used += text.len();
            shown.push(text);
        }
        let more = match of_outcome.len() - shown.len() {
            0 => String::new(),
            more => format!("; and {more} more"),
        };
        entry(out, outcome.words(), &format!("{}{more}", shown.join("; ")));
    }
}

/// Facts in a row, as many of their characters as are printed.
fn cut(facts: &[String]) -> String {
    let text = facts.join(", ");
    match text.char_indices().nth(SHOWN) {
        None => plain(&text),
        Some((end, _)) => format!("{} ...", plain(text[..end].trim_end())),
    }
}

/// A template as it is written.
fn template(template: &Template) -> String {
    let part = |segment: &Segment| match segment {
        Segment::Text(text) => text.clone(),
        Segment::Value(expression) => format!("`{{{}}}`", one_line(&expression.text)),
    };
    template.segments.iter().map(part).collect()
}

fn code(expression: &str) -> String {
    format!("`{}`", visible(&one_line(expression)))
}

/// Text of a pack on a page of Markdown: code stays code, nothing else acts.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut in_code = false;
    for c in visible(text).chars() {
        in_code ^= c == '`';
        if !in_code && matches!(c, '\\' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~') {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn entry(out: &mut String, head: &str, text: &str) {
    if !text.is_empty() {
        line(out, &format!("- *{head}*: {text}"));
    }
}

fn line(out: &mut String, text: &str) {
    // Writing to a string does not fail.
    let _ = writeln!(out, "{text}");
}
