//! What figures declare: names, words, and inputs against the vocabulary of submittals.

use std::collections::{BTreeMap, BTreeSet};

use gatewright::figures::{Absent, Figure, Input, InputKind, Plan, Source, Work, all};
use gatewright::rule::submittal_vocabulary;
use gatewright::vocabulary::{FieldKind, ListOf, Symbol, Vocabulary};

/// The figures that a figure is taken from.
fn parts(figure: &Figure) -> Vec<&'static Figure> {
    match figure.work {
        Work::Point(_) | Work::Chosen(_) => Vec::new(),
        Work::Largest(parts) | Work::Smallest(parts) | Work::Claimed(_, parts) => parts.to_vec(),
        Work::Magnitude(part) => vec![part],
    }
}

/// Every figure, also those that only others are taken from.
fn every_figure() -> Vec<&'static Figure> {
    let mut found: Vec<&'static Figure> = Vec::new();
    let mut open: Vec<&'static Figure> = all().collect();
    while let Some(figure) = open.pop() {
        if found.iter().any(|known| std::ptr::eq(*known, figure)) {
            continue;
        }
        found.push(figure);
        open.extend(parts(figure));
        open.extend(figure.inputs.iter().filter_map(|input| match input.source {
            Source::Figure(other) => Some(other),
            _ => None,
        }));
    }
    found
}

#[test]
fn names_are_unique_and_the_words_are_there() {
    let mut names = BTreeSet::new();
    for figure in all() {
        assert!(names.insert(figure.name), "{} twice", figure.name);
    }
    for figure in every_figure() {
        for text in [figure.name, figure.title, figure.formula, figure.source, figure.validity] {
            assert!(!text.trim().is_empty(), "{} {}", figure.name, figure.title);
            assert!(!text.contains("  "), "{}: two blanks in `{text}`", figure.name);
        }
        for constant in figure.constants {
            assert!(!constant.source.is_empty() && constant.value.is_finite(), "{}", figure.name);
        }
        let mut inputs = BTreeSet::new();
        for input in figure.inputs {
            assert!(inputs.insert(input.name), "{}: `{}` twice", figure.name, input.name);
            assert!(!input.meaning.is_empty(), "{}: {}", figure.name, input.name);
        }
    }
}

/// A reader can follow the formula: what the figure cannot do without, and what another figure gives, stands in it.
#[test]
fn inputs_stand_in_the_formula() {
    for figure in every_figure() {
        for input in figure.inputs {
            let given = matches!(input.source, Source::Figure(_));
            if input.absent == Absent::Optional && !given {
                continue;
            }
            let mut words = figure.formula.split(|c: char| !c.is_ascii_alphanumeric() && c != '_');
            assert!(words.any(|word| word == input.name), "{}: `{}` is not in the formula", figure.name, input.name);
        }
    }
}

#[test]
fn what_is_taken_from_others_has_no_inputs_of_its_own_and_their_dimension() {
    for figure in every_figure() {
        let parts = parts(figure);
        if parts.is_empty() {
            assert!(matches!(figure.work, Work::Point(_) | Work::Chosen(_)), "{} is taken from nothing", figure.name);
            continue;
        }
        assert!(figure.inputs.is_empty() && figure.constants.is_empty(), "{}", figure.name);
        for part in parts {
            assert_eq!(part.output, figure.output, "{} from {}", figure.name, part.name);
        }
    }
}

#[test]
fn a_figure_that_gives_an_input_has_its_dimension() {
    for figure in every_figure() {
        for input in figure.inputs {
            let Source::Figure(other) = input.source else { continue };
            let InputKind::Quantity(kind) = input.kind else { panic!("{}: {}", figure.name, input.name) };
            assert_eq!(other.output, kind.dimension(), "{}: {} from {}", figure.name, input.name, other.name);
        }
    }
}

/// On a command line a root has its name alone.
#[test]
fn the_roots_of_a_figure_have_names_of_their_own() {
    for figure in all() {
        for plan in [Plan::of(figure), Plan::with(figure, &|_| true)] {
            let mut names = BTreeSet::new();
            for root in plan.roots {
                assert!(names.insert(root.name), "{}: two roots `{}`", figure.name, root.name);
            }
        }
    }
}

/// Kinds of the fields by path, with the record type of each list of records.
fn fields(vocabulary: &Vocabulary) -> BTreeMap<String, FieldKind> {
    let mut paths = BTreeMap::new();
    for (record, declared) in vocabulary.records.iter().enumerate() {
        for (field, declared) in declared.fields.iter().enumerate() {
            let path = vocabulary.path_of(u16::try_from(record).unwrap(), u16::try_from(field).unwrap());
            paths.insert(path, declared.kind.clone());
        }
    }
    paths
}

/// The fields that a path of a figure stands for.
fn resolved(path: &str) -> Vec<String> {
    let (head, rest) = path.split_once('.').unwrap();
    let lists: &[&str] = match head {
        // The role of a latch post is that of its list.
        "post" if rest == "role" => &["gate.support_posts"],
        "post" if ["from_opening", "carriage_offset", "leaf_gap"].contains(&rest) => &["gate.support_posts"],
        "post" => &["gate.support_posts", "gate.latch_posts"],
        "splice" => &["gate.leaf.splices"],
        "panel" => &["gate.leaf.bracing.panels"],
        "gate" | "site" => return vec![path.to_owned()],
        _ => panic!("{path} begins with no element"),
    };
    lists.iter().map(|list| format!("{list}.{rest}")).collect()
}

fn fits(vocabulary: &Vocabulary, input: &Input, field: &FieldKind) -> bool {
    let known = |names: &[&str], symbols: &[Symbol]| {
        let spelled: Vec<&str> = symbols.iter().map(|symbol| vocabulary.symbol_name(*symbol)).collect();
        names.iter().all(|name| spelled.contains(name))
    };
    match (input.kind, field) {
        (InputKind::Quantity(kind), FieldKind::Quantity(of)) => kind == *of,
        (InputKind::Choice(names), FieldKind::Choice(symbols)) => known(names, symbols),
        (InputKind::Choices(names), FieldKind::List(ListOf::Choice(symbols))) => known(names, symbols),
        (InputKind::YesNo, FieldKind::YesNo) | (InputKind::Stated, FieldKind::Text) => true,
        (InputKind::Rows(columns), FieldKind::List(ListOf::Record(record))) => columns.iter().all(|column| {
            let record = vocabulary.record(*record);
            let field = record.field(column.field).map(|field| &record.fields[field as usize].kind);
            field == Some(&FieldKind::Quantity(column.kind))
        }),
        _ => false,
    }
}

#[test]
fn inputs_are_the_fields_they_say() {
    let vocabulary = submittal_vocabulary().unwrap();
    let paths = fields(&vocabulary);
    // A latch post is told by its list; it has no field for its role.
    assert!(!paths.contains_key("gate.latch_posts.role"));
    let mut seen = 0;
    for figure in every_figure() {
        for input in figure.inputs {
            let claimed = match input.source {
                Source::Fields(fields) => fields,
                _ => continue,
            };
            for path in claimed.iter().flat_map(|path| resolved(path)) {
                let field = paths.get(&path).unwrap_or_else(|| panic!("{}: there is no field {path}", figure.name));
                // A latch is no role that a support post can have, and the only word that its field does not know.
                let input = match input.name {
                    "role" => Input { kind: InputKind::Choice(&["fulcrum", "tail"]), ..*input },
                    _ => *input,
                };
                assert!(fits(&vocabulary, &input, field), "{}: {} is not {path}, {field:?}", figure.name, input.name);
                seen += 1;
            }
        }
        if let Work::Claimed(cases, parts) = figure.work {
            let InputKind::Choices(names) = cases.kind else { panic!("{}", figure.name) };
            assert_eq!(names.len(), parts.len(), "{}", figure.name);
            // Case by case: the part's name ends with the case.
            for (name, part) in names.iter().zip(parts) {
                assert!(part.name.ends_with(name), "{}: {name} is not {}", figure.name, part.name);
            }
            let Source::Fields(fields) = cases.source else { panic!("{}", figure.name) };
            assert!(fields.iter().all(|path| fits(&vocabulary, cases, &paths[*path])), "{}", figure.name);
        }
    }
    assert!(seen > 300, "{seen}");
}

/// A choice of the vocabulary that a figure does not know would be taken for another one: those few are listed.
#[test]
fn choices_cover_their_fields() {
    let vocabulary = submittal_vocabulary().unwrap();
    let paths = fields(&vocabulary);
    let mut unknown = BTreeSet::new();
    for figure in every_figure() {
        for input in figure.inputs {
            let (Source::Fields(claimed), InputKind::Choice(names)) = (input.source, input.kind) else { continue };
            for path in claimed.iter().flat_map(|path| resolved(path)) {
                let FieldKind::Choice(symbols) = &paths[&path] else { continue };
                let spelled = symbols.iter().map(|symbol| vocabulary.symbol_name(*symbol));
                unknown.extend(spelled.filter(|name| !names.contains(name)).map(|name| format!("{path}: {name}")));
            }
        }
    }
    assert_eq!(unknown.into_iter().collect::<Vec<_>>(), [""; 0]);
}
