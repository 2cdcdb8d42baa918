//! The grammar of the rule language against the rows that its definition gives: what must parse, and as what; what must
//! not, where, and with which words; a row that is grammar and still no rule is refused over the vocabulary of submittals.
//! `⏎` stands for a line end.

mod checked;
mod evaluation;
mod soundness;

use gatewright::expr::{KEYWORDS, MAX_DEPTH, parse, parse_each};
use proptest::prelude::*;

const ACCEPT: &str = include_str!("accept.tsv");
const REFUSE: &str = include_str!("refuse.tsv");

fn accepted() -> Vec<String> {
    ACCEPT.lines().filter_map(|row| row.split('\t').next()).map(|text| text.replace('⏎', "\n")).collect()
}

#[test]
fn accepted_rows_are_read_as_written_beside_them() {
    let mut wrong = Vec::new();
    for row in ACCEPT.lines() {
        let (text, tree) = row.split_once('\t').unwrap();
        let text = text.replace('⏎', "\n");
        match parse(&text) {
            Ok(expr) if expr.to_string() == tree => {}
            Ok(expr) => wrong.push(format!("{text}\n  is read as {expr}\n  expected   {tree}")),
            Err(error) => wrong.push(format!("{text}\n  is refused: {error:?}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn refused_rows_say_why_at_the_right_place() {
    let mut wrong = Vec::new();
    for row in REFUSE.lines() {
        let [text, at, words] = row.split('\t').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let refused = match parse(text) {
            Ok(expr) => checked::check(&expr).1.into_iter().next().ok_or(expr),
            Err(error) => Ok(error),
        };
        match refused {
            Ok(error) => {
                let help = error.help.clone().unwrap_or_default();
                let said = format!("{} {help}", error.message);
                if error.at.start != at.parse::<usize>().unwrap() || !said.contains(words) {
                    wrong.push(format!("{text}\n  expected at {at}: {words}\n  found at {}: {said}", error.at.start));
                }
            }
            Err(expr) => wrong.push(format!("{text}\n  is read as {expr}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_each_is_read_by_the_grammar_of_expressions() {
    for (text, choices, path, name) in [
        ("gate.support_posts as post", false, 0..18, "post"),
        ("  gates  as g ", false, 2..7, "g"),
        ("choices( gate.entrapment_zones.zone ) as place", true, 9..35, "place"),
        // The path stands where it is read, not where its letters stand first.
        ("choices(c) as x", true, 8..9, "x"),
    ] {
        let each = parse_each(text).unwrap();
        assert_eq!((each.choices, each.path.span, each.binder.name.as_str()), (choices, path, name), "{text}");
    }
    for (text, at, words) in [
        ("gate.support_posts as yes", 22..25, "a meaning of its own"),
        ("gate.support_posts as gate", 22..26, "a meaning of its own"),
        ("gate.support_posts as to", 22..24, "a meaning of its own"),
        ("is.a as s", 0..2, "cannot begin a value"),
        ("gate.support_posts as s.a", 23..24, "the end is expected, `.` is found"),
        ("gate.support_posts", 18..18, "`LIST as NAME`"),
        ("gate.support_posts post", 19..23, "`LIST as NAME`"),
        ("count(gates) as g", 0..12, "`LIST as NAME`"),
        ("choices(gate.hand as h", 18..20, "`)` is expected"),
        ("gate.posts[1] as p", 10..11, "no index"),
        ("5 in as p", 0..1, "`LIST as NAME`"),
        ("", 0..0, "`LIST as NAME`"),
    ] {
        let error = parse_each(text).unwrap_err();
        assert_eq!(error.at, at, "{text}: {}", error.message);
        assert!(error.message.contains(words), "{text}: {}", error.message);
    }
}

/// The guide has the grammar word for word, and a rule author looks there for what a name may be.
#[test]
fn the_words_of_the_language_are_those_that_the_grammar_lists() {
    let grammar = include_str!("../../src/expr/parse.rs");
    let (_, behind) = grammar.split_once("(* none of: ").unwrap();
    let (listed, _) = behind.split_once(';').unwrap();
    assert_eq!(listed.split_whitespace().collect::<Vec<_>>(), KEYWORDS);
    for word in KEYWORDS {
        let error = parse(&format!("any(gate.support_posts as {word}, gate.fire_access)")).unwrap_err();
        assert!(error.message.contains("a meaning of its own"), "{word}: {}", error.message);
    }
}

#[test]
fn depth_and_length_are_bounded() {
    for text in ["(".repeat(1_000) + "a.b", "not ".repeat(400) + "a.b"] {
        let error = parse(&text).unwrap_err();
        assert!(error.message.contains(&MAX_DEPTH.to_string()), "{}", error.message);
    }
    let long = vec!["a.b"; 1_000].join(" and ");
    assert!(parse(&long).unwrap_err().message.contains("2000 bytes"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    /// Mutants of the accepted rows: no panic, and every place stands on a character.
    #[test]
    fn mutants_neither_panic_nor_point_inside_a_character(
        row in 0usize..58, cut in 0usize..200, insert in "[ a-z0-9.()\\[\\]<>=+*/'\"⏎½’-]{0,4}", drop in 0usize..6,
    ) {
        let rows = accepted();
        let text = &rows[row % rows.len()];
        let boundary = |mut at: usize| { at = at.min(text.len()); while !text.is_char_boundary(at) { at -= 1; } at };
        let (start, end) = (boundary(cut), boundary(cut + drop));
        let mutant = format!("{}{insert}{}", &text[..start], &text[end..]);
        if let Err(error) = parse(&mutant) {
            prop_assert!(mutant.is_char_boundary(error.at.start) && mutant.is_char_boundary(error.at.end), "{mutant}: {error:?}");
            prop_assert!(error.at.start <= error.at.end && error.at.end <= mutant.len());
            prop_assert!(!error.message.is_empty());
        }
    }

    /// What is printed of a tree depends on the tree alone: the spans of its parts lie inside each other.
    #[test]
    fn any_text_at_all_is_read_or_refused(text in "\\PC{0,60}") {
        if let Ok(expr) = parse(&text) {
            prop_assert!(expr.span.end <= text.len());
        }
    }
}
