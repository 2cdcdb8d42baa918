//! What of the standards the rules use, and what they leave out and why: a table that must fit the packs.
//!
//! The packs name their sources; this table goes the other way, from the clause to the rules, so that a reader sees what is not
//! checked. Every rule named exists, every rule is named, and what is unused has its reason.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// A clause with the rules that use it, or the reason why none does.
struct Row<'t> {
    clause: &'t str,
    says: &'t str,
    rules: Vec<&'t str>,
    why_not: &'t str,
}

const TABLE: &str = include_str!("coverage.tsv");

/// The sections of the table, each with its rows.
fn sections() -> Vec<(&'static str, Vec<Row<'static>>)> {
    let mut sections: Vec<(&str, Vec<Row<'_>>)> = Vec::new();
    for (number, line) in TABLE.lines().enumerate().filter(|(_, line)| !line.is_empty() && !line.starts_with("//")) {
        if let Some(title) = line.strip_prefix("# ") {
            sections.push((title, Vec::new()));
            continue;
        }
        let cells: Vec<&str> = line.split('\t').collect();
        let [clause, says, rules, rest @ ..] = cells.as_slice() else {
            panic!("coverage.tsv:{}: three or four cells are expected: {line}", number + 1);
        };
        let rules = if *rules == "-" { Vec::new() } else { rules.split(' ').collect() };
        let why_not = rest.first().copied().unwrap_or_default();
        assert!(rest.len() < 2 && !clause.is_empty() && !says.is_empty(), "coverage.tsv:{}: {line}", number + 1);
        sections.last_mut().expect("a section").1.push(Row { clause, says, rules, why_not });
    }
    sections
}

#[test]
fn every_rule_named_exists_and_every_rule_is_named() {
    let rules = super::shipped_rules();
    let known: BTreeSet<&str> = rules.rules.iter().map(|rule| rule.facts.name.as_str()).collect();
    let sections = sections();
    let named: BTreeSet<&str> =
        sections.iter().flat_map(|(_, rows)| rows.iter().flat_map(|row| row.rules.iter().copied())).collect();
    let unknown: Vec<_> = named.difference(&known).collect();
    let unnamed: Vec<_> = known.difference(&named).collect();
    assert!(unknown.is_empty(), "coverage.tsv names rules that do not exist: {unknown:?}");
    assert!(unnamed.is_empty(), "coverage.tsv does not say what these rules rest on: {unnamed:?}");
}

#[test]
fn what_is_unused_has_its_reason_and_what_is_used_needs_none() {
    for (title, rows) in sections() {
        assert!(!rows.is_empty(), "{title} is empty");
        let mut seen = BTreeSet::new();
        for row in rows {
            assert_eq!(row.rules.is_empty(), !row.why_not.is_empty(), "{title}, {}: {}", row.clause, row.says);
            assert!(row.why_not.is_empty() || row.why_not.len() > 10, "{title}, {}: {}", row.clause, row.why_not);
            assert!(seen.insert((row.clause, row.says)), "{title}, {}: {} stands twice", row.clause, row.says);
            let distinct: BTreeSet<_> = row.rules.iter().collect();
            assert_eq!(distinct.len(), row.rules.len(), "{title}, {}: a rule stands twice", row.clause);
        }
    }
}

/// Set GATEWRIGHT_ACCEPT=1 to write the page anew, then read the difference.
#[test]
fn the_page_is_that_of_the_table() {
    let found = page();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/COVERAGE.md");
    if std::env::var_os("GATEWRIGHT_ACCEPT").is_some() {
        fs::write(&path, &found).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap().replace("\r\n", "\n");
    assert!(
        found == kept,
        "rules/COVERAGE.md is not what tests/rules/coverage.tsv says; GATEWRIGHT_ACCEPT=1 writes it anew"
    );
}

fn page() -> String {
    let sections = sections();
    let mut out = String::from(
        "# What the rules use of the standards\n\nMade from `tests/rules/coverage.tsv` by `GATEWRIGHT_ACCEPT=1 cargo test`. Clauses are \
named as far as they are known: much was read in reproductions and quotations, some is from memory, and each rule says which \
([README.md](README.md)). What no rule uses has its reason.\n\n| standard | clauses and facts | used by a rule | not used |\n|---|---|---|---|\n",
    );
    for (title, rows) in &sections {
        let used = rows.iter().filter(|row| !row.rules.is_empty()).count();
        writeln!(out, "| {title} | {} | {used} | {} |", rows.len(), rows.len() - used).unwrap();
    }
    for (title, rows) in &sections {
        writeln!(out, "\n## {title}\n\n| clause | says | rules |\n|---|---|---|").unwrap();
        for row in rows {
            let rules: Vec<String> = row.rules.iter().map(|rule| format!("`{rule}`")).collect();
            let rules = if rules.is_empty() { format!("none: {}", row.why_not) } else { rules.join(", ") };
            writeln!(out, "| {} | {} | {rules} |", row.clause, row.says).unwrap();
        }
    }
    out
}
