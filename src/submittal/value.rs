//! Single values: the text of a scalar to a slot of the field's kind, with every way in which it can be none.
//!
//! Called by `read` for each field and by `list` for the choices of a list. The states of a value are told apart here, since
//! each has its own consequence for the rules: left out, a word for "not yet", not applicable, unreadable.

use super::hint::short;
use super::read::{Reader, what};
use super::record::Slot;
use crate::document::{Kind, NodeId, ScalarStyle};
use crate::problem::{Gravity, Problem};
use crate::quantity::{LiteralError, Quantity, QuantityKind, Shown, System, read as read_quantity, read_date, show};
use crate::source::Span;
use crate::vocabulary::{Field, FieldKind, ListOf, Symbol, is_not_applicable};

impl Reader<'_> {
    /// Reads a scalar as a field's kind.
    pub(super) fn value(&mut self, field: &Field, node: NodeId) -> Slot {
        let Some(text) = self.tree.text(node) else {
            return Slot::Unreadable;
        };
        if self.is_nothing(node, text) {
            return Slot::Missing;
        }
        if let FieldKind::Choice(choices) = &field.kind
            && let Some(symbol) = self.find_choice(choices, text)
        {
            return Slot::Choice(symbol);
        }
        if field.not_applicable && is_not_applicable(text) {
            return Slot::NotApplicable;
        }
        if self.is_placeholder(text) || field.placeholders.contain(text) {
            return Slot::Placeholder;
        }
        match &field.kind {
            FieldKind::Quantity(kind) => self.quantity(field, *kind, text, node),
            FieldKind::Date => match read_date(text) {
                Ok(days) => Slot::Quantity(days, System::Neutral),
                Err(error) => self.unreadable(&field.label, node, error),
            },
            FieldKind::YesNo => match text {
                "yes" | "true" => Slot::YesNo(true),
                "no" | "false" => Slot::YesNo(false),
                _ => self.neither_yes_nor_no(&field.label, text, node),
            },
            FieldKind::Text => {
                self.warn_yaml_1_1(&field.label, text, node);
                Slot::Text(node)
            }
            FieldKind::Choice(choices) => {
                self.unknown_choice(&field.label, choices, text, node);
                Slot::Unreadable
            }
            FieldKind::Section | FieldKind::List(_) | FieldKind::Map(_) => self.wrong_kind(field, node),
            FieldKind::Any => Slot::Any(node),
        }
    }

    /// Whether a scalar says nothing: left out, or `~`. A text of blanks in quotes is a text, which rules judge; in a
    /// required field it is no value (`read`).
    pub(super) fn is_nothing(&self, node: NodeId, text: &str) -> bool {
        self.tree.is_absent(node) || (matches!(text, "~" | "null" | "Null" | "NULL") && self.is_plain(node))
    }

    fn is_plain(&self, node: NodeId) -> bool {
        self.tree.kind(node) == Kind::Scalar(ScalarStyle::Plain)
    }

    pub(super) fn wrong_kind(&mut self, field: &Field, node: NodeId) -> Slot {
        let expected = match &field.kind {
            FieldKind::Section | FieldKind::Map(_) => "a section with named fields".to_owned(),
            FieldKind::List(ListOf::Record(_)) => "a list of sections (lines that begin with `- `)".to_owned(),
            FieldKind::List(_) => "a list".to_owned(),
            FieldKind::Quantity(kind) => format!("a single {}", kind.name()),
            FieldKind::YesNo => "yes or no".to_owned(),
            FieldKind::Text => "a single text".to_owned(),
            FieldKind::Date => "a single date".to_owned(),
            FieldKind::Choice(_) => "a single choice".to_owned(),
            FieldKind::Any => "a value".to_owned(),
        };
        let message = format!("{}: {expected} is expected, {} is found", field.label, what(self.tree, node));
        self.fault("wrong-kind", node, message);
        Slot::Unreadable
    }

    fn neither_yes_nor_no(&mut self, label: &str, text: &str, node: NodeId) -> Slot {
        let help = match text.trim().to_ascii_lowercase().as_str() {
            "yes" | "y" | "on" | "true" => "write yes",
            "no" | "n" | "off" | "false" => "write no",
            _ => "write yes or no",
        };
        let message = format!("{label}: `yes` or `no` is expected, `{}` is found", short(text));
        let problem = self.fault_at("wrong-kind", node, message);
        self.report(node, problem.with_help(help));
        Slot::Unreadable
    }

    fn quantity(&mut self, field: &Field, kind: QuantityKind, text: &str, node: NodeId) -> Slot {
        let reading = match read_quantity(kind, text) {
            Ok(reading) => reading,
            Err(error) => return self.unreadable(&field.label, node, error),
        };
        if let Some(bound) = field.broken_bound(kind, &reading) {
            let message = format!("{}: {bound} is expected, `{}` is found", field.label, short(text));
            let help = as_percentage(field, kind, text, reading.quantity);
            self.report(node, Problem { help, ..self.fault_at("out-of-bounds", node, message) });
            return Slot::Unreadable;
        }
        for remark in reading.remarks {
            self.literal_problem(&field.label, node, remark, Gravity::Advice);
        }
        Slot::Quantity(reading.quantity, reading.system)
    }

    fn unreadable(&mut self, label: &str, node: NodeId, error: LiteralError) -> Slot {
        self.literal_problem(label, node, error, Gravity::Fault);
        Slot::Unreadable
    }

    fn literal_problem(&mut self, label: &str, node: NodeId, error: LiteralError, gravity: Gravity) {
        let span = self.part_of(node, error.at);
        let message = format!("{label}: {}", error.message);
        self.report(node, Problem { code: error.code, gravity, span, message, help: error.help, labels: Vec::new() });
    }

    /// The place of a part of a scalar's text.
    fn part_of(&self, node: NodeId, at: std::ops::Range<usize>) -> Span {
        let written = self.tree.resolve(node);
        let text = self.tree.text(written).unwrap_or_default();
        if text.is_empty() {
            return self.tree.span(node);
        }
        let at = if at.is_empty() { at.start.min(text.len())..text.len() } else { at };
        let at = if at.is_empty() { 0..text.len() } else { at };
        crate::document::place_in(self.tree, written, at)
    }

    /// Reads a text as one of some choices; reports what is none.
    pub(super) fn choice(&mut self, label: &str, choices: &[Symbol], text: &str, node: NodeId) -> Option<Symbol> {
        let found = self.find_choice(choices, text);
        if found.is_none() {
            self.unknown_choice(label, choices, text, node);
        }
        found
    }

    fn find_choice(&self, choices: &[Symbol], text: &str) -> Option<Symbol> {
        let named = |text: &str| choices.iter().copied().find(|symbol| self.vocabulary.symbol_name(*symbol) == text);
        named(text).or_else(|| named(text.trim()))
    }

    /// Whether a text is a word that stands for a value not yet decided.
    pub(super) fn is_placeholder(&self, text: &str) -> bool {
        self.vocabulary.placeholders.contain(text)
    }

    /// Warns of words that readers of YAML 1.1 turn into something else than text.
    pub(super) fn warn_yaml_1_1(&mut self, label: &str, text: &str, node: NodeId) {
        let becomes = match text {
            "yes" | "Yes" | "YES" | "no" | "No" | "NO" | "on" | "On" | "ON" | "off" | "Off" | "OFF" | "y" | "Y"
            | "n" | "N" => "a yes or no",
            _ if is_sexagesimal(text) => "a number of seconds",
            _ => return,
        };
        if !self.is_plain(node) {
            return;
        }
        let message = format!("{label}: `{text}` is text here, and {becomes} to programs that read YAML 1.1");
        let problem = Problem::advice("yaml-1-1", self.tree.span(self.tree.resolve(node)), message);
        self.report(node, problem.with_help(format!("write \"{text}\"")));
    }
}

/// What to write for a ratio above its bound that was meant in percent.
fn as_percentage(field: &Field, kind: QuantityKind, text: &str, found: Quantity) -> Option<String> {
    let max = field.max?;
    let percentage = kind == QuantityKind::Ratio && !text.contains('%') && found.is_shown();
    if !percentage || found.hi / 100.0 > max.hi {
        return None;
    }
    let number =
        |value: f64| show(Quantity::point(value), kind.dimension(), Shown { system: System::Neutral, extra_digits: 8 });
    Some(if found.is_point() {
        format!("write {} % or {}", text.trim(), number(found.hi / 100.0))
    } else {
        format!("write {} % to {} %", number(found.lo), number(found.hi))
    })
}

fn is_sexagesimal(text: &str) -> bool {
    let mut parts = text.split(':');
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    parts.next().is_some_and(digits) && text.contains(':') && parts.all(|part| digits(part) && part.len() <= 2)
}
