//! The cases of a rule, read as submittals.

use super::express::Reporter;
use super::raw::RawPack;
use super::set::Case;
use super::words;
use crate::document::NodeId;
use crate::review::{Outcome, Stage};
use crate::submittal::{RecordIndex, read_layers};
use crate::vocabulary::Vocabulary;

/// Reads the cases of a rule: pack's facts, rule's facts, the case's own.
pub(super) fn read_cases(
    pack: &RawPack,
    rule: RecordIndex,
    vocabulary: &Vocabulary,
    reporter: &mut Reporter<'_, '_>,
) -> Vec<Case> {
    let given: Vec<NodeId> = [pack.any(0, "given"), pack.any(rule, "given")].into_iter().flatten().collect();
    let mut cases = Vec::new();
    for record in pack.list(rule, "cases") {
        let node = pack.read.records.record(*record).node;
        let Some(expect) = pack.choice(*record, "expect").and_then(Outcome::from_words) else {
            continue;
        };
        let at = pack.text(*record, "at").map(|text| text.text.to_owned());
        if expect == Outcome::NotMet && at.is_none() {
            let message = "a case that is not met says where its finding stands: `at:` with the path of a field";
            reporter.fault("case", first_key(pack, node), message);
        }
        let mut layers = given.clone();
        layers.push(node);
        let mut facts = read_layers(&pack.tree, vocabulary, &layers);
        for problem in std::mem::take(&mut facts.problems) {
            reporter.problems.push(pack.tree.source(), problem);
        }
        cases.push(Case {
            expect,
            at,
            missing: missing(pack, *record),
            stage: pack.choice(*record, "stage").and_then(Stage::from_word).unwrap_or(Stage::Submittal),
            facts,
            stated: words::stated(pack, node, vocabulary),
            span: pack.tree.span(first_key(pack, node)),
        });
    }
    cases
}

fn first_key(pack: &RawPack, node: NodeId) -> NodeId {
    pack.tree.entries(node).next().map_or(node, |(key, _)| key)
}

/// `missing: path` or `missing: [path, path]`.
fn missing(pack: &RawPack, record: RecordIndex) -> Vec<String> {
    let Some(node) = pack.any(record, "missing") else {
        return Vec::new();
    };
    match pack.tree.text(node) {
        Some(path) => vec![path.to_owned()],
        None => pack.tree.items(node).filter_map(|item| pack.tree.text(item)).map(str::to_owned).collect(),
    }
}
