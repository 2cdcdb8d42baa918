//! Tables and constants of a pack, checked.

use std::sync::Arc;

use super::error::PackProblems;
use super::raw::{RawPack, Text};
use crate::document::place_in;
use crate::expr::{Constant, KeyType, PackNames, Table, TableRow, Type};
use crate::problem::Problem;
use crate::quantity::{Dimension, Quantity, QuantityKind, rule_literal};
use crate::submittal::RecordIndex;
use crate::vocabulary::{FieldKind, Vocabulary};

/// Reads the tables and constants of a pack; tables are added to those of the whole rule set.
pub(super) fn names(
    pack: &RawPack,
    vocabulary: &Vocabulary,
    tables: &mut Vec<Table>,
    problems: &mut PackProblems,
) -> PackNames {
    let mut names = PackNames::default();
    for entry in pack.list(0, "constants") {
        let Some(name) = pack.key(*entry) else {
            continue;
        };
        let Some(text) = pack.text(*entry, "value") else {
            continue;
        };
        let Some((value, ty)) = stated(pack, text, problems) else {
            continue;
        };
        names.constants.insert(name.text.to_owned(), Constant { value, ty, text: text.text.to_owned() });
    }
    for entry in pack.list(0, "tables") {
        let Some(name) = pack.key(*entry) else {
            continue;
        };
        if let Some(table) = table(pack, *entry, name, vocabulary, problems) {
            names.tables.insert(name.text.to_owned(), u32::try_from(tables.len()).unwrap_or(u32::MAX));
            tables.push(table);
        }
    }
    names
}

fn table(
    pack: &RawPack,
    entry: RecordIndex,
    name: Text<'_>,
    vocabulary: &Vocabulary,
    problems: &mut PackProblems,
) -> Option<Table> {
    let key_text = pack.text(entry, "key")?;
    let key = key_type(key_text.text, vocabulary);
    let value_text = pack.text(entry, "value")?;
    let value = QuantityKind::from_name(value_text.text).map(QuantityKind::dimension);
    let wrong = if key.is_none() { key_text } else { value_text };
    let (Some(key), Some(value)) = (key, value) else {
        let message =
            format!("a kind of quantity or the path of a choice field is expected, `{}` is found", wrong.text);
        fault(pack, wrong, message, problems);
        return None;
    };
    let mut rows: Vec<TableRow> = Vec::new();
    for row in pack.list(entry, "rows") {
        let value_text = pack.text(*row, "value")?;
        let value = of_dimension(pack, value_text, value, problems)?;
        let made = match &key {
            Key::Number(dimension) => {
                let Some(up_to) = pack.text(*row, "up_to") else {
                    fault(pack, value_text, "a row of this table needs `up_to`", problems);
                    return None;
                };
                let end = of_dimension(pack, up_to, *dimension, problems)?.hi;
                if rows.last().is_some_and(|before| end <= before.up_to) {
                    fault(pack, up_to, "the rows of a table rise from one to the next", problems);
                    return None;
                }
                let from = match pack.text(*row, "from") {
                    Some(text) => {
                        let from = of_dimension(pack, text, *dimension, problems)?.lo;
                        in_order(pack, (text, from), (up_to, end), rows.last(), problems)?;
                        Some(from)
                    }
                    None => None,
                };
                TableRow { up_to: end, from, choice: None, value }
            }
            Key::Choice(symbols) => {
                let choice = pack.text(*row, "is");
                let symbol =
                    choice.and_then(|text| vocabulary.symbol(text.text)).filter(|found| symbols.contains(found));
                if symbol.is_none() {
                    let at = choice.unwrap_or(value_text);
                    fault(pack, at, format!("`is` must name one of the choices of `{}`", key_text.text), problems);
                    return None;
                }
                if rows.iter().any(|row| row.choice == symbol) {
                    let at = choice.unwrap_or(value_text);
                    let message =
                        format!("one row for each choice is expected, a second one for `{}` is found", at.text);
                    fault(pack, at, message, problems);
                    return None;
                }
                TableRow { up_to: 0.0, from: None, choice: symbol, value }
            }
        };
        rows.push(made);
    }
    if rows.is_empty() {
        fault(pack, name, format!("table `{}` has no rows", name.text), problems);
        return None;
    }
    let key = match key {
        Key::Number(dimension) => KeyType::Number(dimension),
        Key::Choice(_) => KeyType::Choice,
    };
    Some(Table { name: name.text.to_owned(), key, value, rows })
}

/// Whether a row begins before it ends, and not before the row before it has ended.
fn in_order(
    pack: &RawPack,
    (from, begins): (Text<'_>, f64),
    (up_to, ends): (Text<'_>, f64),
    before: Option<&TableRow>,
    problems: &mut PackProblems,
) -> Option<()> {
    let message = if begins >= ends {
        format!("a row begins below its `up_to` ({}), `{}` is found", up_to.text, from.text)
    } else if before.is_some_and(|before| begins < before.up_to) {
        format!("a row begins where the one before it ends, or later; `{}` is inside that row", from.text)
    } else {
        return Some(());
    };
    fault(pack, from, message, problems);
    None
}

enum Key {
    Number(Dimension),
    Choice(Vec<u16>),
}

fn key_type(text: &str, vocabulary: &Vocabulary) -> Option<Key> {
    if let Some(kind) = QuantityKind::from_name(text) {
        return Some(Key::Number(kind.dimension()));
    }
    vocabulary.records.iter().enumerate().find_map(|(record, declared)| {
        let record = u16::try_from(record).ok()?;
        declared.fields.iter().enumerate().find_map(|(field, declared)| match &declared.kind {
            FieldKind::Choice(symbols) if vocabulary.path_of(record, u16::try_from(field).ok()?) == text => {
                Some(Key::Choice(symbols.clone()))
            }
            _ => None,
        })
    })
}

fn of_dimension(pack: &RawPack, text: Text<'_>, expected: Dimension, problems: &mut PackProblems) -> Option<Quantity> {
    let (value, ty) = stated(pack, text, problems)?;
    if ty == Type::Number(expected) {
        return Some(value);
    }
    fault(pack, text, format!("{expected} is expected, {ty} is found"), problems);
    None
}

/// A value that a pack states: one literal and nothing else.
fn stated(pack: &RawPack, text: Text<'_>, problems: &mut PackProblems) -> Option<(Quantity, Type)> {
    let trimmed = text.text.trim();
    match rule_literal(trimmed) {
        Some(Ok((number, used))) if used == trimmed.len() => {
            let ty = if number.is_date { Type::Date } else { Type::Number(number.dimension) };
            Some((Quantity::range(number.lo, number.hi), ty))
        }
        Some(Err(error)) => {
            let span = place_in(&pack.tree, text.node, error.at);
            problems.push(pack.tree.source(), Problem::fault("expression", span, error.message));
            None
        }
        _ => {
            fault(pack, text, format!("a value with its unit is expected, `{trimmed}` is found"), problems);
            None
        }
    }
}

fn fault(pack: &RawPack, text: Text<'_>, message: impl Into<String>, problems: &mut PackProblems) {
    let file = Arc::clone(pack.tree.source());
    problems.push(&file, Problem::fault("table", pack.tree.span(text.node), message));
}
