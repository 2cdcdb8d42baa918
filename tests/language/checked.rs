//! What the check of names and types makes of an expression, over the vocabulary of submittals: an error, or a tree that
//! has a value in every part. A part without one would make its rule apply nowhere, and nobody would see it.

use std::sync::LazyLock;

use gatewright::expr::{Binders, Checked, Checker, Expr, ExprError, PackNames, Scope, parse};
use gatewright::rule::submittal_vocabulary;
use gatewright::vocabulary::Vocabulary;

/// The checked tree of an expression, with its errors.
pub fn check(expr: &Expr) -> (Checked, Vec<ExprError>) {
    static VOCABULARY: LazyLock<Vocabulary> = LazyLock::new(|| submittal_vocabulary().unwrap());
    let vocabulary = &*VOCABULARY;
    let pack = PackNames::default();
    let gate = vocabulary.gate().unwrap();
    let mut scope = Scope { vocabulary, gate, tables: &[], pack: &pack, bound: Vec::new() };
    let mut binders = Binders::default();
    let mut checker = Checker::new(&mut scope, &mut binders);
    let checked = checker.expr(expr);
    (checked, checker.errors)
}

/// A value of each kind that a submittal can hold, each kind that a rule can state, and what is none.
const VALUES: [&str; 25] = [
    "gate.opening",
    "gate.leaf.bottom_gap",
    "gate.fire_access",
    "gate.egress",
    "gate.hand",
    "gate.operation",
    "gate.mark",
    "submittal.date",
    "gate.support_posts",
    "gate.operator.classes",
    "gate.leaf",
    "gate.nothing",
    "figure.travel",
    "review.stage",
    "gates",
    "x",
    "x.role",
    "yes",
    "no",
    "left",
    "tail",
    "\"G1\"",
    "5 in",
    "2",
    "2026-10-19",
];

/// What can be said of two values `A` and `B`.
const SHAPES: [&str; 17] = [
    "A < B",
    "A is B",
    "A is not B",
    "A is one of [B]",
    "A is one of [B, tail]",
    "A is not one of B",
    "A + B",
    "A and B",
    "not A",
    "min(A, B)",
    "agree(A, B, 5 in)",
    "given(A, B)",
    "valid(A) or shown(B)",
    "count(A as x where B)",
    "sum(A as x, B)",
    "any(gate.support_posts as x, A is B)",
    "distinct(gate.support_posts as x where A is one of [B], A)",
];

#[test]
fn what_has_no_error_has_a_value_in_every_part() {
    let (mut sound, mut refused, mut lost) = (0, 0, Vec::new());
    let pairs = VALUES.iter().flat_map(|a| VALUES.iter().map(move |b| (a, b)));
    for (shape, (a, b)) in SHAPES.iter().flat_map(|shape| pairs.clone().map(move |pair| (shape, pair))) {
        let text = shape.replace('A', a).replace('B', b);
        let Ok(expr) = parse(&text) else { continue };
        let (checked, errors) = check(&expr);
        match (errors.is_empty(), checked.first_wrong()) {
            (true, None) => sound += 1,
            (true, Some(wrong)) => lost.push(format!("{text}: `{}`", &text[wrong.span.clone()])),
            (false, _) => refused += 1,
        }
    }
    assert!(lost.is_empty(), "{} have a part without a value:\n{}", lost.len(), lost.join("\n"));
    assert!(sound > 300 && refused > 5_000, "the shapes and values are of both sorts: {sound} and {refused}");
}
