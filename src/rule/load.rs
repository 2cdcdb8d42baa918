//! Packs from their text to a checked rule set; every error of every pack is collected before anything stops.
//!
//! Called at start with the shipped packs and those of the user's own, and by `prove`.

use std::collections::HashMap;
use std::sync::Arc;

use super::build::Builder;
use super::error::PackProblems;
use super::raw::RawPack;
use super::set::{Pack, RuleSet};
use super::words::numbers;
use crate::document::{Limits, parse};
use crate::problem::{Gravity, Problem};
use crate::source::{SourceFile, Span};
use crate::submittal::{Mode, RecordIndex, read};
use crate::vocabulary::{SchemaError, Vocabulary, compile};

const SUBMITTAL_SCHEMA: &str = include_str!("../../schema/submittal.schema.json");
const PACK_SCHEMA: &str = include_str!("../../schema/rule-pack.schema.json");

/// The text of one pack.
#[derive(Debug, Clone)]
pub struct PackSource {
    /// Its file, or the name of a shipped pack.
    pub file: Arc<SourceFile>,
    /// Whether it came with the program.
    pub shipped: bool,
}

/// The vocabulary of submittals.
///
/// # Errors
/// The schema that the program carries is broken.
pub fn submittal_vocabulary() -> Result<Vocabulary, SchemaError> {
    compile(SUBMITTAL_SCHEMA)
}

/// Loads packs. The problems that come with a rule set are advice only.
///
/// # Errors
/// Every problem of every pack, where one of them is more than advice.
pub fn load(sources: &[PackSource], vocabulary: Arc<Vocabulary>) -> Result<(RuleSet, PackProblems), PackProblems> {
    let mut problems = PackProblems::default();
    let words = match compile(PACK_SCHEMA) {
        Ok(words) => Arc::new(words),
        Err(error) => {
            let file = Arc::new(SourceFile::new("schema/rule-pack.schema.json", PACK_SCHEMA));
            problems.push(&file, Problem::fault("schema", Span::new(0, 1), error.to_string()));
            return Err(problems);
        }
    };
    let mut raw = Vec::new();
    for source in sources {
        raw.extend(read_pack(source, &words, &mut problems).map(|pack| (pack, source.shipped)));
    }
    refuse_odd_names(&raw, &mut problems);
    refuse_double_names(&raw, &mut problems);
    let mut builder = Builder::new(vocabulary, &mut problems);
    for (index, (pack, shipped)) in raw.iter().enumerate() {
        builder.pack(index, pack, *shipped);
    }
    builder.replace(&raw);
    let set = builder.finish();
    let packs = raw.into_iter().map(|(pack, shipped)| Pack {
        name: pack.words_at(0, "pack"),
        title: pack.words_at(0, "title"),
        basis: basis(&pack),
        numbers: numbers(&pack),
        tree: pack.tree,
        shipped,
    });
    let set = RuleSet { packs: packs.collect(), ..set };
    problems.sort();
    if problems.is_fatal() { Err(problems) } else { Ok((set, problems)) }
}

fn basis(pack: &RawPack) -> Vec<String> {
    let entry = |record: &RecordIndex| match pack.words_at(*record, "edition") {
        edition if edition.is_empty() => pack.words_at(*record, "standard"),
        edition => format!("{} ({edition})", pack.words_at(*record, "standard")),
    };
    pack.list(0, "basis").iter().map(entry).collect()
}

fn read_pack(source: &PackSource, words: &Arc<Vocabulary>, problems: &mut PackProblems) -> Option<RawPack> {
    let parsed = parse(Arc::clone(&source.file), &Limits::default());
    let broken = parsed.problems.iter().any(|(_, problem)| problem.gravity == Gravity::Unreadable);
    for (_, problem) in parsed.problems {
        problems.push(&source.file, problem);
    }
    let tree = Arc::new(parsed.tree);
    let root = match tree.documents() {
        [one] => one.root,
        [] => None,
        [_, second, ..] => {
            problems.push(&source.file, Problem::fault("pack", second.span, "a pack file holds one document"));
            None
        }
    };
    let Some(root) = root else {
        if tree.documents().len() < 2 && !broken {
            problems.push(
                &source.file,
                Problem::fault("pack", Span::new(0, 1), "a rule pack is expected, nothing is found"),
            );
        }
        return None;
    };
    let mut read = read(&tree, root, words, 0, Mode::Whole);
    for problem in std::mem::take(&mut read.problems) {
        problems.push(&source.file, problem);
    }
    Some(RawPack { tree, read, words: Arc::clone(words) })
}

/// Names are written in deviations, project files and links: they are of the shape that the schema prints.
fn refuse_odd_names(packs: &[(RawPack, bool)], problems: &mut PackProblems) {
    for (pack, _) in packs {
        let names = pack.list(0, "rules").iter().filter_map(|rule| pack.text(*rule, "name"));
        let names = names.map(|name| (name, "-", "low-overhead"));
        for (name, joints, example) in names.chain(pack.text(0, "pack").map(|name| (name, "-_", "quarry_bend"))) {
            if !is_name(name.text, joints) {
                let message = format!(
                    "a name of small letters and digits, joined by {}, is expected, `{}` is found",
                    if joints == "-" { "`-`" } else { "`-` or `_`" },
                    name.text
                );
                let problem = Problem::fault("name", pack.tree.span(name.node), message);
                problems.push(pack.tree.source(), problem.with_help(format!("write it as `{example}` is written")));
            }
        }
    }
}

/// Whether a text is of words of small letters and digits, the first of which begins with a letter.
fn is_name(text: &str, joints: &str) -> bool {
    let is_word = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
    text.starts_with(|c: char| c.is_ascii_lowercase()) && text.split(|c| joints.contains(c)).all(is_word)
}

fn refuse_double_names(packs: &[(RawPack, bool)], problems: &mut PackProblems) {
    let mut seen: HashMap<String, String> = HashMap::new();
    for (pack, _) in packs {
        let Some(name) = pack.text(0, "pack") else {
            continue;
        };
        let file = pack.tree.source();
        if let Some(first) = seen.insert(name.text.to_owned(), file.name().to_owned()) {
            let message = format!("the pack name `{}` is taken by {first}", name.text);
            let problem = Problem::fault("duplicate-name", pack.tree.span(name.node), message);
            problems.push(
                file,
                problem.with_help("give the pack a name of its own; to change a shipped rule, write `replaces:`"),
            );
        }
    }
}
