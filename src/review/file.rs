//! The review of files: bytes to documents to reviews, many files at once.

use std::sync::Arc;

use super::document::{Terms, review_document};
use super::finding::{NotReviewed, SubmittalReview};
use crate::document::{DocumentRoot, Limits, NodeId, decode, parse};
use crate::problem::Problem;
use crate::rule::RuleSet;
use crate::source::{SourceFile, Span};
use crate::submittal::{is_submittal, resembles_submittal};

/// What came of one file.
#[derive(Debug, Default)]
pub struct FileReview {
    /// Its submittals.
    pub submittals: Vec<SubmittalReview>,
    /// What of it was left out.
    pub not_reviewed: Vec<NotReviewed>,
}

/// Reviews the bytes of one file. A file that was named is expected to be a submittal; one that was found need not be.
pub fn review_file(rules: &RuleSet, terms: &Terms, path: &str, bytes: &[u8], named: bool) -> FileReview {
    let limits = Limits::default();
    let mut result = FileReview::default();
    let mut head = None;
    let text = match decode(bytes) {
        Ok(text) => text,
        Err(undecodable) => {
            head = Some(undecodable.problem);
            undecodable.text
        }
    };
    let source = Arc::new(SourceFile::new(path, text));
    if let Some(problem) = head {
        if named || looks_like_submittal(source.text()) {
            result.submittals.push(unreadable(rules, terms, source, problem));
        } else {
            result.not_reviewed.push(left_out(path, None, "it is not text in UTF-8", false));
        }
        return result;
    }
    let parsed = parse(Arc::clone(&source), &limits);
    let tree = parsed.tree;
    let several = tree.documents().len() > 1;
    let is_submittal = |root: Option<NodeId>| root.is_some_and(|root| is_submittal(&tree, root));
    let beside_one = tree.documents().iter().any(|document| is_submittal(document.root));
    // Of the only document of a file all of the text is its own, however little of it could be read.
    let written = |document: &DocumentRoot| if several { source.slice(document.span) } else { source.text() };
    for (number, document) in tree.documents().iter().enumerate() {
        let problems: Vec<Problem> =
            parsed.problems.iter().filter(|(at, _)| *at == number).map(|(_, problem)| problem.clone()).collect();
        let is_one = is_submittal(document.root) || (document.broken && looks_like_submittal(written(document)));
        let stray = several.then(|| u32::try_from(number + 1).unwrap_or(u32::MAX));
        if is_one || (named && !several) {
            let mut problems = problems;
            if !is_one && !document.broken {
                let message = "this is no submittal: `format:` and `gates:` are expected at its top";
                let span = document.root.map_or(document.span, |root| tree.span(root));
                problems = vec![
                    Problem::unreadable("not-a-submittal", span, message)
                        .with_help("begin with `format: 1` and `gates:`"),
                ];
                result.submittals.push(bare(rules, terms, &tree, number, problems));
                continue;
            }
            result.submittals.push(review_document(rules, terms, &tree, number, document, problems));
        } else if document.root.is_some() || !problems.is_empty() {
            let seems_one = document.root.is_some_and(|root| resembles_submittal(&tree, root));
            let reason = match problems.first() {
                _ if seems_one => {
                    "it seems a submittal, and neither `format:` nor `gates:` stands at its top as they are \
                                   spelt here"
                        .to_owned()
                }
                Some(problem) => {
                    let line = source.position(problem.span.start).line;
                    format!("it cannot be read: {} (line {line})", problem.message)
                }
                None => "neither `format` nor `gates` stands at its top".to_owned(),
            };
            // What cannot be read beside a submittal may well have been one.
            let failure = named || seems_one || (beside_one && !problems.is_empty());
            result.not_reviewed.push(left_out(path, stray, &reason, failure));
        }
    }
    if result.submittals.is_empty() && result.not_reviewed.len() > 1 {
        // A file without any submittal is left out once, however many documents it holds, for its worst reason.
        let worst = result.not_reviewed.iter().position(|left_out| left_out.failure).unwrap_or(0);
        result.not_reviewed = vec![NotReviewed { document: None, ..result.not_reviewed.swap_remove(worst) }];
    }
    if result.submittals.is_empty() && result.not_reviewed.is_empty() {
        if named {
            let problem = Problem::unreadable("not-a-submittal", Span::new(0, 0), "the file is empty")
                .with_help("begin with `format: 1` and `gates:`");
            result.submittals.push(unreadable(rules, terms, source, problem));
        } else {
            result.not_reviewed.push(left_out(path, None, "it is empty", false));
        }
    }
    result
}

fn left_out(path: &str, document: Option<u32>, reason: &str, failure: bool) -> NotReviewed {
    NotReviewed { path: path.to_owned(), document, reason: reason.to_owned(), failure }
}

/// Whether a text that cannot be parsed means to be a submittal.
fn looks_like_submittal(text: &str) -> bool {
    text.lines().any(|line| {
        // The top can be written in braces.
        let line = line.strip_prefix('{').map_or(line, str::trim_start);
        line.starts_with("format:") || line.starts_with("gates:")
    })
}

/// A file without a readable document.
fn unreadable(rules: &RuleSet, terms: &Terms, source: Arc<SourceFile>, problem: Problem) -> SubmittalReview {
    let empty = parse(Arc::new(SourceFile::new(source.name(), "")), &Limits::default()).tree;
    let mut review = bare(rules, terms, &empty, 0, vec![problem]);
    review.file = source;
    review.documents = 1;
    review
}

/// A document that is reported and not judged.
fn bare(
    rules: &RuleSet,
    terms: &Terms,
    tree: &crate::document::Tree,
    number: usize,
    problems: Vec<Problem>,
) -> SubmittalReview {
    let nothing = crate::document::DocumentRoot { root: None, broken: true, span: Span::default() };
    review_document(rules, terms, tree, number, &nothing, problems)
}
