//! What can only be seen of a submittal as a whole: its format, the marks of its gates, the pairs they form.

use std::collections::HashMap;

use super::hint::short;
use super::read::Read;
use super::record::{RecordIndex, Slot};
use crate::document::{Kind, NodeId, Tree};
use crate::problem::Problem;
use crate::vocabulary::Vocabulary;

/// How many marks a hint lists.
const MOST_MARKS: usize = 12;

/// Whether a document means to be a submittal: a mapping with `format` or `gates` at its top.
pub fn is_submittal(tree: &Tree, root: NodeId) -> bool {
    tree.kind(root) == Kind::Mapping
        && tree.entries(root).any(|(key, _)| matches!(tree.text(key), Some("format" | "gates")))
}

/// Whether a document that is no submittal seems to mean one: `format`, `gates` or `gate` at its top, in capitals or not,
/// and one more of the words there.
pub fn resembles_submittal(tree: &Tree, root: NodeId) -> bool {
    const OWN: [&str; 3] = ["format", "gates", "gate"];
    const SHARED: [&str; 3] = ["project", "submittal", "site"];
    let count = |words: [&str; 3]| {
        let is_one = |text: &str| words.iter().any(|word| text.trim().eq_ignore_ascii_case(word));
        tree.entries(root).filter(|(key, _)| tree.text(*key).is_some_and(is_one)).count()
    };
    let own = if tree.kind(root) == Kind::Mapping { count(OWN) } else { 0 };
    own > 0 && own + count(SHARED) >= 2
}

/// Problems between the parts of one submittal.
pub fn check(tree: &Tree, vocabulary: &Vocabulary, read: &Read) -> Vec<Problem> {
    let mut problems = Vec::new();
    check_format(tree, vocabulary, read, &mut problems);
    check_gates(tree, vocabulary, read, &mut problems);
    check_marks(tree, vocabulary, read, &mut problems);
    problems
}

/// Whether what is written for the format leaves it open which one it is; the reader has said so. What is read by format
/// 1 is then not to be trusted.
pub fn is_of_open_format(tree: &Tree, vocabulary: &Vocabulary, read: &Read) -> bool {
    let Some(field) = vocabulary.record(0).field("format") else {
        return false;
    };
    let written = read.records.place(0, field).value.and_then(|value| tree.text(value));
    match read.records.slot(0, field) {
        Slot::Placeholder | Slot::NotApplicable => true,
        // Format 1 that stands twice is unreadable as well.
        Slot::Unreadable => written.is_some_and(|text| text.trim() != "1"),
        _ => false,
    }
}

fn check_format(tree: &Tree, vocabulary: &Vocabulary, read: &Read, problems: &mut Vec<Problem>) {
    let Some(field) = vocabulary.record(0).field("format") else {
        return;
    };
    let Slot::Quantity(format, _) = read.records.slot(0, field) else {
        return;
    };
    let known = format.is_point() && format.lo == 1.0;
    if let (false, Some(value)) = (known, read.records.place(0, field).value) {
        let written = tree.text(value).unwrap_or_default();
        let message = format!("format 1 is expected, `{}` is found", short(written));
        // A later format may mean something else by the same keys: what is read by this one is not to be trusted.
        let problem = Problem::unreadable("unknown-format", tree.span(value), message);
        problems.push(problem.with_help("write `format: 1`, or review the file with a release that knows its format"));
    }
}

/// A list without a gate answers every question about gates, and nothing would be said of it.
fn check_gates(tree: &Tree, vocabulary: &Vocabulary, read: &Read, problems: &mut Vec<Problem>) {
    let Some(field) = vocabulary.record(0).field("gates") else {
        return;
    };
    let place = read.records.place(0, field);
    if let (Slot::Records { len: 0, .. }, Some(value)) = (read.records.slot(0, field), place.value) {
        let message = "no gate is listed; a submittal is of one gate at least, and an empty list is found";
        let problem = Problem::fault("no-gate", tree.span(value), message);
        problems.push(problem.with_help("list each gate with its mark: `- mark: G1`"));
    }
}

fn check_marks(tree: &Tree, vocabulary: &Vocabulary, read: &Read, problems: &mut Vec<Problem>) {
    let records = &read.records;
    let Some(gates) = vocabulary.record(0).field("gates") else {
        return;
    };
    let gates = records.list(records.slot(0, gates));
    let Some(first) = gates.first() else { return };
    let declared = vocabulary.record(records.record(*first).ty);
    let (Some(mark), Some(pair)) = (declared.field("mark"), declared.field("pair_with")) else {
        return;
    };
    let text_of = |gate: RecordIndex, field| match records.slot(gate, field) {
        Slot::Text(node) => tree.text(*node).map(|text| (text.trim(), *node)),
        _ => None,
    };
    let mut marks: HashMap<String, NodeId> = HashMap::new();
    for gate in gates {
        let Some((text, node)) = text_of(*gate, mark).filter(|(text, _)| !text.is_empty()) else {
            continue;
        };
        match marks.get(&folded(text)) {
            Some(earlier) => problems.push(
                Problem::fault(
                    "duplicate-mark",
                    tree.span(node),
                    format!("the mark `{}` stands for two gates", short(text)),
                )
                .with_label(tree.span(*earlier), "first used here")
                .with_help("give each gate its own mark"),
            ),
            None => {
                marks.insert(folded(text), node);
            }
        }
    }
    for gate in gates {
        let Some((other, node)) = text_of(*gate, pair) else {
            continue;
        };
        let own = text_of(*gate, mark).map(|(text, _)| folded(text));
        let message = if own == Some(folded(other)) {
            format!("gate `{}` is paired with itself", short(other))
        } else if marks.contains_key(&folded(other)) {
            continue;
        } else {
            format!("no gate of this submittal has the mark `{}`", short(other))
        };
        let known = gates.iter().filter_map(|gate| text_of(*gate, mark));
        let known: Vec<String> = known.take(MOST_MARKS).map(|(text, _)| short(text)).collect();
        let problem = Problem::fault("unknown-pair", tree.span(node), message);
        problems.push(match gates.len() {
            1 => problem.with_help("a pair is two gates of this submittal, each with its own mark"),
            _ => problem.with_help(format!("the marks are {}", known.join(", "))),
        });
    }
}

/// A mark as rules compare texts: case and runs of blanks do not count.
fn folded(mark: &str) -> String {
    mark.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
