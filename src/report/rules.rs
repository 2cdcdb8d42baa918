//! Rules as text: the list, and one rule in full.

use serde::Serialize;

use super::json::pretty;
use super::text::{count, visible};
use crate::review::RuleFacts;
use crate::rule::{Rule, RuleSet};

/// The list of rules for reading: pack by pack, heaviest first, each with its weight and how its number is known. `off`
/// are those that are switched off, with the reasons.
pub fn rules_text(rules: &RuleSet, off: &[(usize, String)]) -> String {
    let mut text = String::new();
    for (index, pack) in rules.packs.iter().enumerate() {
        let mut members: Vec<(usize, &Rule)> =
            rules.rules.iter().enumerate().filter(|(_, rule)| rule.pack == index).collect();
        members.sort_by(|(_, a), (_, b)| (b.facts.weight, &a.facts.name).cmp(&(a.facts.weight, &b.facts.name)));
        text.push_str(&format!(
            "{}: {} ({})\n",
            visible(&pack.name),
            visible(&pack.title),
            count(members.len(), "rule", "rules")
        ));
        for (number, rule) in members {
            let replaced =
                rule.facts.replaces.as_ref().map_or_else(String::new, |name| format!(" (replaces {})", visible(name)));
            let facts = &rule.facts;
            text.push_str(&format!(
                "  {:<11}  {:<10}  {}{replaced}\n",
                facts.weight.word(),
                facts.authority,
                visible(&facts.name)
            ));
            text.push_str(&format!("  {:25}{}\n", "", visible(&facts.title)));
            if let Some(reason) = reason(off, number) {
                text.push_str(&format!("  {:25}switched off by the project file: {}\n", "", visible(reason)));
            }
        }
        text.push('\n');
    }
    text
}

/// Why a rule is switched off, where it is.
fn reason(off: &[(usize, String)], number: usize) -> Option<&str> {
    off.iter().find(|(rule, _)| *rule == number).map(|(_, reason)| reason.as_str())
}

/// The list of rules for programs.
pub fn rules_json(rules: &RuleSet, off: &[(usize, String)]) -> String {
    #[derive(Serialize)]
    struct Entry<'r> {
        name: &'r str,
        pack: &'r str,
        title: &'r str,
        weight: &'r str,
        per: &'static str,
        why: &'r str,
        remedy: &'r str,
        local_code: &'r str,
        source: Source<'r>,
        replaces: Option<&'r str>,
        was: &'r [String],
        /// Why the project file switches it off, where it does.
        off: Option<&'r str>,
    }
    #[derive(Serialize)]
    struct Source<'r> {
        standard: &'r str,
        clause: &'r str,
        edition: &'r str,
        authority: &'r str,
    }
    let entries: Vec<Entry<'_>> = rules
        .rules
        .iter()
        .enumerate()
        .map(|(number, rule)| {
            let facts = &rule.facts;
            Entry {
                name: &facts.name,
                pack: &rules.packs[rule.pack].name,
                title: &facts.title,
                weight: facts.weight.word(),
                per: if rule.per_gate { "gate" } else { "submittal" },
                why: &facts.why,
                remedy: &facts.remedy,
                local_code: &facts.local_code,
                source: Source {
                    standard: &facts.standard,
                    clause: &facts.clause,
                    edition: &facts.edition,
                    authority: &facts.authority,
                },
                replaces: facts.replaces.as_deref(),
                was: &rule.was,
                off: reason(off, number),
            }
        })
        .collect();
    pretty(&entries)
}

/// One rule in full: what it asks, why, what to do, where it comes from, and the cases that prove it.
pub fn rule_text(rules: &RuleSet, rule: &Rule, width: usize) -> String {
    let facts = &rule.facts;
    let mut text = format!("{} ({})\n", visible(&facts.name), facts.weight.word());
    paragraph(&mut text, "", &facts.title, width);
    text.push('\n');
    for (index, condition) in rule.when.iter().enumerate() {
        paragraph(&mut text, if index == 0 { "Applies when" } else { "and" }, &one_line(&condition.text), width);
    }
    paragraph(&mut text, "Requires", &one_line(&rule.require.text), width);
    let over = if rule.group.is_some() { ", for each element" } else { "" };
    let per = if rule.per_gate { "once per gate" } else { "once per submittal" };
    paragraph(&mut text, "Runs", &format!("{per}{over}"), width);
    paragraph(&mut text, "Why", &facts.why, width);
    paragraph(&mut text, "Do", &facts.remedy, width);
    paragraph(&mut text, "Local code", &facts.local_code, width);
    paragraph(&mut text, "Source", &source_line(facts), width);
    if let Some(replaced) = &facts.replaces {
        paragraph(&mut text, "Replaces", replaced, width);
    }
    if !rule.was.is_empty() {
        paragraph(&mut text, "Earlier names", &rule.was.join(", "), width);
    }
    if !rule.cases.is_empty() {
        let file = rules.packs[rule.pack].tree.source();
        text.push_str("\nCases\n");
        for case in &rule.cases {
            let at = case.at.as_ref().map_or_else(String::new, |at| format!(" at {}", visible(at)));
            let line = file.position(case.span.start).line;
            text.push_str(&format!("  {}:{line}: {}{at}\n", visible(file.name()), case.expect.words()));
        }
    }
    text
}

/// An expression on one line.
pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The source of a rule on one line, its authority in words.
pub fn source_line(facts: &RuleFacts) -> String {
    super::words::source(facts)
}

fn paragraph(text: &mut String, head: &str, body: &str, width: usize) {
    if body.is_empty() {
        return;
    }
    let indent = if head.is_empty() { 0 } else { 14 };
    let mut first = true;
    for line in super::text::wrap(body, width.saturating_sub(indent)) {
        match (head.is_empty(), first) {
            (true, _) => text.push_str(&line),
            (false, true) => text.push_str(&format!("{head:<14}{line}")),
            (false, false) => text.push_str(&format!("{:14}{line}", "")),
        }
        text.push('\n');
        first = false;
    }
}
