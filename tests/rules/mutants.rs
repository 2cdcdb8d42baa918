//! Rules with one thing changed: a limit moved by one step, `<` for `<=`, `and` for `or`, a choice left out. The rule's
//! own cases must notice. What they do not notice is listed in `survivors.txt`, each with the reason; the list may only shrink.

use std::collections::BTreeMap;
use std::sync::Arc;

use gatewright::prove::{Proof, prove};
use gatewright::quantity::rule_literal;
use gatewright::rule::{PackSource, load, shipped, shipped_names, submittal_vocabulary};
use gatewright::source::SourceFile;
use gatewright::vocabulary::Vocabulary;
use rayon::prelude::*;
use serde_yaml::Value;

const SURVIVORS: &str = include_str!("survivors.txt");

/// How far a limit is moved, by the unit it is written in. The smallest step at which cases are asked to notice.
fn step(unit: &str) -> Option<&'static str> {
    Some(match unit {
        "in" | "ft" => "1/16 in",
        "mm" | "m" | "cm" => "1 mm",
        "%" => "1 %",
        "s" | "ms" | "min" => "0.1 s",
        "months" | "years" => "1 months",
        "deg" => "1 deg",
        "lb" | "lbf" | "kip" => "1 lb",
        "N" | "kN" => "1 N",
        "psi" | "ksi" => "10 psi",
        "psf" => "1 psf",
        "MPa" | "kPa" | "Pa" => "0.1 MPa",
        "psf/ft" => "1 psf/ft",
        "mph" => "1 mph",
        "ft/s" | "in/s" | "ft/min" => "0.01 ft/s",
        "m/s" => "0.01 m/s",
        "" => "1",
        _ => return None,
    })
}

/// Every expression that differs from this one in one thing, with the words for it.
fn mutants(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let mut replace = |at: usize, len: usize, with: &str| {
        let changed = format!("{}{with}{}", &text[..at], &text[at + len..]);
        let head = text[..at].chars().rev().take(24).collect::<Vec<_>>().into_iter().rev().collect::<String>();
        out.push((format!("..{head}[{} -> {with}]", &text[at..at + len]), changed));
    };
    for (from, to) in [
        (" <= ", " < "),
        (" < ", " <= "),
        (" >= ", " > "),
        (" > ", " >= "),
        (" and ", " or "),
        (" or ", " and "),
        (" is not one of ", " is one of "),
        (" is one of ", " is not one of "),
        (" is not ", " is "),
        (" is ", " is not "),
        ("not ", ""),
        ("count(", "distinct("),
        ("max(", "min("),
        ("min(", "max("),
        ("any(", "all("),
        ("all(", "any("),
    ] {
        for (at, _) in text.match_indices(from) {
            let rest = &text[at + from.len()..];
            let part_of_longer = (from == " is " && (rest.starts_with("not ") || rest.starts_with("one of ")))
                || (from == " is not " && rest.starts_with("one of "))
                || (from == "not " && text[..at].ends_with("is "));
            if !part_of_longer {
                replace(at, from.len(), to);
            }
        }
    }
    for (open, _) in text.match_indices('[') {
        let Some(len) = text[open..].find(']') else { continue };
        let items: Vec<&str> = text[open + 1..open + len].split(',').map(str::trim).collect();
        for out_of in 0..items.len() {
            if items.len() > 1 {
                let kept: Vec<&str> =
                    items.iter().enumerate().filter(|(at, _)| *at != out_of).map(|(_, item)| *item).collect();
                replace(open, len + 1, &format!("[{}]", kept.join(", ")));
            }
        }
    }
    let mut at = 0;
    while at < text.len() {
        let before = text[..at].chars().next_back();
        let begins = text[at..].starts_with(|c: char| c.is_ascii_digit())
            && !before.is_some_and(|c| c.is_alphanumeric() || matches!(c, '_' | '.' | '"'));
        let read = if begins { rule_literal(&text[at..]) } else { None };
        let Some(Ok((number, len))) = read else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
            continue;
        };
        let literal = text[at..at + len].trim_end();
        if number.is_date {
            for (from, to) in [("-12", "-13"), ("-12", "-11"), ("-31", "-30"), ("-01", "-02")] {
                if literal.ends_with(from) {
                    replace(at, literal.len(), &literal.replace(from, to));
                }
            }
        } else {
            let unit = literal.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
            let unit = unit.rsplit(' ').next().unwrap_or_default();
            let step = step(unit).unwrap_or_else(|| panic!("no step for `{literal}`"));
            replace(at, literal.len(), &format!("({literal} + {step})"));
            replace(at, literal.len(), &format!("({literal} - {step})"));
        }
        at += len;
    }
    out
}

/// A pack with one text changed, cut down to the rules that are to notice.
struct Mutant {
    name: String,
    pack: Value,
}

fn expressions(pack: &Value) -> Vec<(String, Vec<usize>, &'static str, String)> {
    let rules = pack["rules"].as_sequence().unwrap();
    let mut out = Vec::new();
    if let Some(when) = pack["when"].as_str() {
        out.push((
            format!("{} (pack)", pack["pack"].as_str().unwrap()),
            (0..rules.len()).collect(),
            "pack",
            when.to_owned(),
        ));
    }
    for (index, rule) in rules.iter().enumerate() {
        for key in ["when", "require"] {
            if let Some(text) = rule[key].as_str() {
                let name = format!("{}/{}", pack["pack"].as_str().unwrap(), rule["name"].as_str().unwrap());
                out.push((name, vec![index], key, text.to_owned()));
            }
        }
    }
    out
}

fn mutants_of_pack(pack: &Value) -> Vec<Mutant> {
    let mut out = Vec::new();
    for (name, rules, key, text) in expressions(pack) {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for (words, changed) in mutants(&text) {
            let mut pack = pack.clone();
            let all = pack["rules"].as_sequence().unwrap().clone();
            let mut kept: Vec<Value> = rules.iter().map(|index| all[*index].clone()).collect();
            match key {
                "pack" => pack["when"] = changed.into(),
                key => kept[0][key] = changed.into(),
            }
            pack["rules"] = Value::Sequence(kept);
            out.push(Mutant { name: format!("{name} {key}: {words}"), pack });
        }
    }
    let pack_name = pack["pack"].as_str().unwrap();
    let mut moved = |path: &[&str], text: &str, apply: &dyn Fn(&mut Value, String)| {
        for (words, changed) in mutants(text) {
            let mut pack = pack.clone();
            // A table or constant has a plain literal: the sum is written out by the loader's own arithmetic.
            apply(&mut pack, changed);
            out.push(Mutant { name: format!("{pack_name} {}: {words}", path.join(".")), pack });
        }
    };
    if let Some(constants) = pack["constants"].as_mapping() {
        for (name, constant) in constants {
            let (name, text) =
                (name.as_str().unwrap().to_owned(), constant["value"].as_str().unwrap_or_default().to_owned());
            moved(&["constants", &name], &text, &|pack, changed| {
                if let Some(value) = literal_sum(&changed) {
                    pack["constants"][&name]["value"] = value.into();
                }
            });
        }
    }
    if let Some(tables) = pack["tables"].as_mapping() {
        for (name, table) in tables {
            let name = name.as_str().unwrap().to_owned();
            for (row, values) in table["rows"].as_sequence().unwrap().iter().enumerate() {
                for key in ["up_to", "value"] {
                    let Some(text) = values[key].as_str() else { continue };
                    moved(&["tables", &name, &row.to_string(), key], text, &|pack, changed| {
                        if let Some(value) = literal_sum(&changed) {
                            pack["tables"][&name]["rows"][row][key] = value.into();
                        }
                    });
                }
            }
        }
    }
    out
}

/// `(6 ft 6 in + 1/16 in)` as one literal in inches or in its own unit.
fn literal_sum(text: &str) -> Option<String> {
    let inner = text.strip_prefix('(')?.strip_suffix(')')?;
    let (left, sign, right) = match inner.split_once(" + ") {
        Some((left, right)) => (left, 1.0, right),
        None => inner.split_once(" - ").map(|(left, right)| (left, -1.0, right))?,
    };
    let value = |text: &str| rule_literal(text)?.ok().map(|(number, _)| number);
    let (a, b) = (value(left)?, value(right)?);
    let sum = a.lo + sign * b.lo;
    if a.dimension == gatewright::quantity::Dimension::LENGTH {
        return Some(format!("{:.6} in", sum / 0.0254));
    }
    let unit = left.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
    let one = value(&format!("1 {unit}")).map_or(1.0, |one| one.lo);
    Some(format!("{:.6} {unit}", sum / one).trim_end().to_owned())
}

/// Whether the cases notice: one at least comes out otherwise. `None` where the mutant is no rule of the language.
fn noticed(mutant: &Mutant, vocabulary: &Arc<Vocabulary>) -> Option<bool> {
    let text = serde_yaml::to_string(&mutant.pack).unwrap();
    // Doubtful expressions are advice in a pack of one's own, so that they are run too.
    let source = PackSource { file: Arc::new(SourceFile::new("mutant.yaml", text)), shipped: false };
    let (rules, _) = load(&[source], Arc::clone(vocabulary)).ok()?;
    Some(prove(&rules, &[]).iter().any(|case| case.proof != Proof::AsExpected))
}

/// Gives mutants that read alike, as where a comparison stands twice in a rule, names of their own.
fn number_namesakes(mutants: &mut [Mutant]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for mutant in mutants {
        let times = seen.entry(mutant.name.clone()).or_default();
        *times += 1;
        if *times > 1 {
            mutant.name = format!("{} ({times})", mutant.name);
        }
    }
}

#[test]
fn cases_notice_every_changed_limit_and_comparison() {
    let vocabulary = Arc::new(submittal_vocabulary().unwrap());
    let packs: Vec<Value> =
        shipped_names().map(|name| serde_yaml::from_str(shipped(name, true).unwrap().file.text()).unwrap()).collect();
    let mut mutants: Vec<Mutant> = packs.iter().flat_map(mutants_of_pack).collect();
    number_namesakes(&mut mutants);
    let results: Vec<(&str, Option<bool>)> =
        mutants.par_iter().map(|mutant| (mutant.name.as_str(), noticed(mutant, &vocabulary))).collect();
    let run = results.iter().filter(|(_, noticed)| noticed.is_some()).count();
    assert!(run * 2 > results.len(), "most mutants are rules: {run} of {}", results.len());
    let survivors: Vec<&str> =
        results.iter().filter(|(_, noticed)| *noticed == Some(false)).map(|(name, _)| *name).collect();
    let excused: BTreeMap<&str, &str> = SURVIVORS
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .map(|line| line.split_once(" -- ").expect("a survivor has a reason behind ` -- `"))
        .collect();
    let new: Vec<&str> = survivors.iter().copied().filter(|name| !excused.contains_key(name)).collect();
    let gone: Vec<&str> = excused.keys().copied().filter(|name| !survivors.contains(name)).collect();
    let bare: Vec<&str> = excused.iter().filter(|(_, why)| why.split(' ').count() < 4).map(|(name, _)| *name).collect();
    assert!(bare.is_empty(), "listed without saying why no case can notice:\n{}", bare.join("\n"));
    println!("{run} mutants run, {} survive", survivors.len());
    assert!(new.is_empty(), "{} of {run} mutants are not noticed:\n{}", new.len(), new.join("\n"));
    assert!(gone.is_empty(), "listed and noticed by now:\n{}", gone.join("\n"));
}
