//! Single values: the text of a scalar to a slot of the field's kind.

use super::read::{Reader, what};
use super::record::Slot;
use crate::document::{Kind, NodeId, ScalarStyle};
use crate::problem::{Gravity, Problem};
use crate::quantity::{LiteralError, QuantityKind, read as read_quantity, read_date};
use crate::source::Span;
use crate::vocabulary::{Field, FieldKind, ListOf, Symbol, nearest_name};

impl Reader<'_> {
    /// Reads a scalar as a field's kind.
    pub(super) fn value(&mut self, field: &Field, node: NodeId) -> Slot {
        let Some(text) = self.tree.text(node) else { return Slot::Unreadable };
        let plain = self.tree.kind(node) == Kind::Scalar(ScalarStyle::Plain);
        if self.tree.is_absent(node) || (plain && matches!(text, "~" | "null" | "Null" | "NULL")) {
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
        if self.is_placeholder(text) {
            return Slot::Placeholder;
        }
        match &field.kind {
            FieldKind::Quantity(kind) => self.quantity(field, *kind, node),
            FieldKind::Date => match read_date(text) {
                Ok(days) => Slot::Quantity(days, crate::quantity::System::Neutral),
                Err(error) => self.unreadable(&field.label, node, error),
            },
            FieldKind::YesNo => match text {
                "yes" | "true" => Slot::YesNo(true),
                "no" | "false" => Slot::YesNo(false),
                _ => {
                    let message = format!("{}: `yes` or `no` is expected, `{}` is found", field.label, short(text));
                    self.problem(Problem::fault("wrong-kind", self.tree.span(node), message));
                    Slot::Unreadable
                }
            },
            FieldKind::Text => {
                if plain {
                    self.warn_yaml_1_1(&field.label, text, node);
                }
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
        self.problem(Problem::fault("wrong-kind", self.tree.span(node), message));
        Slot::Unreadable
    }

    fn quantity(&mut self, field: &Field, kind: QuantityKind, node: NodeId) -> Slot {
        let text = self.tree.text(node).unwrap_or_default();
        let reading = match read_quantity(kind, text) {
            Ok(reading) => reading,
            Err(error) => return self.unreadable(&field.label, node, error),
        };
        for remark in reading.remarks {
            let problem = self.literal_problem(&field.label, node, remark, Gravity::Advice);
            self.problem(problem);
        }
        let quantity = reading.quantity;
        let too_small = field.min.is_some_and(|(min, exclusive)| {
            let slack = 1e-9 * min.mag.max(quantity.mag);
            if exclusive { quantity.lo_declared && quantity.lo <= min.lo } else { quantity.lo < min.lo - slack }
        });
        let too_large = field.max.is_some_and(|max| quantity.hi > max.hi * (1.0 + 1e-9));
        if too_small || too_large {
            let side = if too_small { "small" } else { "large" };
            let message = format!("{}: `{}` is too {side} to be a {}", field.label, short(text), field.label);
            let problem = Problem::fault("out-of-bounds", self.tree.span(node), message);
            let bare = too_large && kind == QuantityKind::Ratio && !text.contains('%');
            self.problem(if bare {
                problem.with_help(format!("a plain number is a factor: write {text} % or {}", quantity.hi / 100.0))
            } else {
                problem
            });
            return Slot::Unreadable;
        }
        Slot::Quantity(quantity, reading.system)
    }

    fn unreadable(&mut self, label: &str, node: NodeId, error: LiteralError) -> Slot {
        let problem = self.literal_problem(label, node, error, Gravity::Fault);
        self.problem(problem);
        Slot::Unreadable
    }

    fn literal_problem(&self, label: &str, node: NodeId, error: LiteralError, gravity: Gravity) -> Problem {
        let span = self.part_of(node, error.at);
        let message = format!("{label}: {}", error.message);
        Problem { code: error.code, gravity, span, message, help: error.help, labels: Vec::new() }
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

    /// Reads a scalar as one of some choices; reports what is none.
    pub(super) fn choice(&mut self, label: &str, choices: &[Symbol], node: NodeId) -> Option<Symbol> {
        let Some(text) = self.tree.text(node) else {
            let message = format!("{label}: a single choice is expected, {} is found", what(self.tree, node));
            self.problem(Problem::fault("wrong-kind", self.tree.span(node), message));
            return None;
        };
        let found = self.find_choice(choices, text);
        if found.is_none() {
            self.unknown_choice(label, choices, text, node);
        }
        found
    }

    fn find_choice(&self, choices: &[Symbol], text: &str) -> Option<Symbol> {
        let text = text.trim();
        choices.iter().copied().find(|symbol| self.vocabulary.symbol_name(*symbol) == text)
    }

    fn unknown_choice(&mut self, label: &str, choices: &[Symbol], text: &str, node: NodeId) {
        let names: Vec<&str> = choices.iter().map(|symbol| self.vocabulary.symbol_name(*symbol)).collect();
        let mut help = format!("the choices are {}", names.join(", "));
        let folded = text.trim().replace([' ', '-'], "_");
        if let Some(near) = nearest_name(&folded, names.iter().copied()) {
            help = format!("did you mean `{near}`? {help}");
        }
        let message = format!("{label}: `{}` is not one of the choices", short(text));
        self.problem(Problem::fault("unknown-choice", self.tree.span(node), message).with_help(help));
    }

    fn is_placeholder(&self, text: &str) -> bool {
        const LONGEST: usize = 40;
        if text.len() > LONGEST || text.starts_with(|c: char| c.is_ascii_digit()) {
            return false;
        }
        let first = text.trim_start().as_bytes().first().map(u8::to_ascii_lowercase);
        self.vocabulary
            .placeholders
            .iter()
            .any(|word| word.as_bytes().first().copied() == first && same_words(word, text))
    }

    /// Words that readers of YAML 1.1 turn into something else than text.
    fn warn_yaml_1_1(&mut self, label: &str, text: &str, node: NodeId) {
        let becomes = match text {
            "yes" | "Yes" | "YES" | "no" | "No" | "NO" | "on" | "On" | "ON" | "off" | "Off" | "OFF" | "y" | "Y" | "n" | "N" => {
                "a yes or no"
            }
            _ if is_sexagesimal(text) => "a number of seconds",
            _ => return,
        };
        let message = format!("{label}: `{text}` is text here, and {becomes} to programs that read YAML 1.1");
        self.problem(Problem::advice("yaml-1-1", self.tree.span(node), message).with_help(format!("write \"{text}\"")));
    }
}

fn is_not_applicable(text: &str) -> bool {
    same_words("n/a", text)
}

fn is_sexagesimal(text: &str) -> bool {
    let mut parts = text.split(':');
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    parts.next().is_some_and(digits) && text.contains(':') && parts.all(|part| digits(part) && part.len() <= 2)
}

/// Whether a text is a word or phrase, whatever its case and blanks.
fn same_words(phrase: &str, text: &str) -> bool {
    let mut found = text.split_whitespace();
    phrase.split(' ').all(|word| found.next().is_some_and(|next| next.eq_ignore_ascii_case(word))) && found.next().is_none()
}

/// A text as quoted in a message: one line, cut where it is long.
fn short(text: &str) -> String {
    const MOST: usize = 60;
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST {
        return line;
    }
    line.chars().take(MOST).collect::<String>() + "..."
}
