//! Values and messages as people read them: the author's text first, then the other system of units.

use super::numbers::{Number, texts};
use super::site::Site;
use crate::expr::{Checked, FailsAt, Machine, NoneCounts, Seen, Step, Type, Value, Waiting};
use crate::figures::{State, Worked};
use crate::quantity::{Dimension, Quantity, Shown, System, in_system, other_system, show, show_date};
use crate::rule::{Expression, Segment, Template};
use crate::submittal::Slot;

/// Prints values of one submittal.
#[derive(Debug, Clone, Copy)]
pub struct Printer<'a> {
    site: Site<'a>,
    /// The system that most lengths of the submittal are written in.
    system: System,
}

const NOT_SHOWN: &str = "not shown";

impl<'a> Printer<'a> {
    /// A printer for a submittal.
    pub fn new(site: Site<'a>) -> Self {
        let (mut us, mut metric) = (0, 0);
        for slot in site.records.slots() {
            match slot {
                Slot::Quantity(_, System::Us) => us += 1,
                Slot::Quantity(_, System::Metric) => metric += 1,
                _ => {}
            }
        }
        Printer { site, system: if metric > us { System::Metric } else { System::Us } }
    }

    /// A message with its values put in; `beside` holds the values that its reader compares them with.
    pub fn message(&self, machine: &mut Machine<'_>, template: &Template, beside: &[(Quantity, Dimension)]) -> String {
        let part = |segment: &Segment| match segment {
            Segment::Text(text) => Said::Text(text.clone()),
            Segment::Value(Expression { checked, .. }) => self.number(machine, checked).map_or_else(
                || {
                    let value = machine.value(checked.op);
                    let not_valid = machine.not_valid(checked);
                    let text = || self.value(machine, value, &checked.ty, field_of(machine, checked));
                    Said::Text(not_valid.unwrap_or_else(text))
                },
                Said::Number,
            ),
        };
        let parts = template.segments.iter().map(part).collect();
        self.said(parts, beside).concat()
    }

    /// What a part of a message is where it is a number that is shown.
    fn number(&self, machine: &mut Machine<'_>, checked: &Checked) -> Option<Number> {
        let (Value::Number(quantity), Type::Number(dimension)) = (machine.value(checked.op), &checked.ty) else {
            return None;
        };
        let dimension = *dimension;
        if let Some(seen) = field_of(machine, checked)
            && let (Slot::Quantity(quantity, system), Some(written)) = (self.site.slot(seen), self.site.written(seen))
        {
            return Some(Number { quantity: *quantity, dimension, declared: Some((written, *system)) });
        }
        let computed = !is_unbounded(quantity) && machine.not_valid(checked).is_none();
        computed.then_some(Number { quantity, dimension, declared: None })
    }

    /// ` (at 5 1/2 in of 3 in to 5 1/2 in)`: where in a declared range a requirement fails.
    pub fn fails_at(&self, fails_at: FailsAt) -> String {
        let (Slot::Quantity(quantity, system), Some(written)) =
            (self.site.slot(fails_at.field), self.site.written(fails_at.field))
        else {
            return String::new();
        };
        let end = if fails_at.upper { quantity.hi } else { quantity.lo };
        let declared = self.site.vocabulary.field(fails_at.field.field.record, fails_at.field.field.field);
        let end = match declared.kind {
            crate::vocabulary::FieldKind::Date => show_date(Quantity::point(end)),
            crate::vocabulary::FieldKind::Quantity(kind) if end.is_finite() => {
                show(Quantity::point(end), kind.dimension(), self.shown(*system, 0))
            }
            _ => return String::new(),
        };
        format!(" (at {end} of {written})")
    }

    /// The evaluated sub-expressions of a finding.
    pub fn because(&self, steps: &[Step], text: &str, most: usize) -> Vec<(String, String)> {
        let mut because: Vec<(String, Said)> = Vec::new();
        for step in steps {
            let expression = text.get(step.span.clone()).unwrap_or_default();
            let expression = match step.field {
                // A figure that takes the value of a field: the field says more.
                Some(field) if expression.starts_with("figure.") => self.site.path(field),
                _ => expression.split_whitespace().collect::<Vec<_>>().join(" "),
            };
            let said = match (&step.value, &step.ty) {
                (Value::Number(quantity), Type::Number(dimension)) if step.field.is_none() => {
                    let number = Number { quantity: *quantity, dimension: *dimension, declared: None };
                    if is_unbounded(*quantity) { Said::Text(NOT_SHOWN.to_owned()) } else { Said::Number(number) }
                }
                (Value::Number(_), ty) => match step.field {
                    Some(field) => self.declared(field, ty),
                    None => Said::Text(NOT_SHOWN.to_owned()),
                },
                (Value::Choice(Some(symbol)), _) => Said::Text(self.site.vocabulary.symbol_name(*symbol).to_owned()),
                (Value::Truth(truth), _) if truth.is_true() => Said::Text("yes".to_owned()),
                (Value::Truth(truth), _) if truth.is_false() => Said::Text("no".to_owned()),
                _ => continue,
            };
            let entry = (expression, said);
            if because.len() < most && !because.contains(&entry) {
                because.push(entry);
            }
        }
        let (expressions, said): (Vec<String>, Vec<Said>) = because.into_iter().unzip();
        expressions.into_iter().zip(self.said(said, &[])).collect()
    }

    /// What a field that holds a number says.
    fn declared(&self, field: Seen, ty: &Type) -> Said {
        match (self.site.slot(field), self.site.written(field), ty) {
            (Slot::Quantity(quantity, system), Some(written), Type::Number(dimension)) => {
                Said::Number(Number { quantity: *quantity, dimension: *dimension, declared: Some((written, *system)) })
            }
            (_, written, _) => Said::Text(written.unwrap_or_else(|| NOT_SHOWN.to_owned())),
        }
    }

    /// The texts of the parts of one message.
    fn said(&self, parts: Vec<Said>, beside: &[(Quantity, Dimension)]) -> Vec<String> {
        let mut numbers = Vec::new();
        let parts: Vec<Option<String>> = parts
            .into_iter()
            .map(|part| match part {
                Said::Text(text) => Some(text),
                Said::Number(number) => {
                    numbers.push(number);
                    None
                }
            })
            .collect();
        let mut numbers = texts(&numbers, beside, self.system).into_iter();
        parts.into_iter().filter_map(|part| part.or_else(|| numbers.next())).collect()
    }

    /// What is said of a rule that cannot be judged.
    pub fn not_shown(&self, title: &str, waiting: &Waiting) -> String {
        const MOST: usize = 4;
        let mut facts: Vec<String> = Vec::new();
        for seen in &waiting.missing {
            let label = self.site.label(*seen);
            facts.push(match self.site.slot(*seen) {
                Slot::Placeholder | Slot::NotApplicable => {
                    format!("{label} (says `{}`)", self.site.written(*seen).unwrap_or_default())
                }
                _ => label.to_owned(),
            });
        }
        for seen in &waiting.one_ended {
            let written = self.site.written(*seen).unwrap_or_default();
            facts.push(format!("the other end of {} (says `{written}`)", self.site.label(*seen)));
        }
        facts.extend(waiting.empty.iter().map(|none| none_counts(self.site, none)));
        facts.dedup();
        if facts.len() > MOST {
            let more = facts.len() - MOST;
            facts.truncate(MOST);
            facts.push(format!("{more} more"));
        }
        let head =
            if facts.is_empty() { "cannot be judged".to_owned() } else { format!("not shown: {}", facts.join(", ")) };
        let mut parts = vec![head];
        parts.extend(waiting.reasons.iter().cloned());
        format!("{}; needed to rule out: {title}", parts.join("; "))
    }

    /// The author's text of a value with the other system beside it.
    pub fn author(&self, seen: Seen) -> Option<String> {
        let written = self.site.written(seen)?;
        let declared = self.site.vocabulary.field(seen.field.record, seen.field.field);
        Some(match (self.site.slot(seen), &declared.kind) {
            (Slot::Quantity(quantity, system), crate::vocabulary::FieldKind::Quantity(kind)) => {
                let other = other_system(*quantity, kind.dimension(), *system);
                if other.is_empty() { written } else { format!("{written} ({other})") }
            }
            _ => written,
        })
    }

    /// A value that is no number, or one that is not shown.
    fn value(&self, machine: &Machine<'_>, value: Value, ty: &Type, field: Option<Seen>) -> String {
        if let (Value::Choice(Some(symbol)), Type::Choice(choices)) = (value, ty)
            && let Some(words) = self.site.vocabulary.choice_words(choices, symbol)
        {
            return words.to_owned();
        }
        if let Some(seen) = field
            && !matches!(self.site.slot(seen), Slot::Missing | Slot::Placeholder | Slot::Unreadable)
            && let Some(written) = self.author(seen)
        {
            return written;
        }
        match (value, ty) {
            (Value::Number(number), Type::Date) if number.is_shown() => show_date(number),
            (Value::Truth(truth), _) if truth.is_true() => "yes".to_owned(),
            (Value::Truth(truth), _) if truth.is_false() => "no".to_owned(),
            (Value::Choice(Some(symbol)), _) => self.site.vocabulary.symbol_name(symbol).to_owned(),
            (Value::Text(Some(text)), _) => machine.text(text).split_whitespace().collect::<Vec<_>>().join(" "),
            (Value::NotApplicable, _) => "not applicable".to_owned(),
            _ => NOT_SHOWN.to_owned(),
        }
    }

    /// A figure with its formula and what was put in, on one line.
    pub fn working(&self, worked: &Worked) -> String {
        let value = match &worked.state {
            State::Computed(value) | State::Bounded(value, _) => self.computed(*value, worked.figure.output, 1),
            State::Lacking(_) => NOT_SHOWN.to_owned(),
            State::NotValid(reason) | State::OverRange(reason) => format!("not valid, {reason}"),
        };
        let put_in = worked.put_in().join(", ");
        format!("{} = {value}; {}; {put_in}.", worked.figure.name, worked.figure.formula)
    }

    /// The system that most lengths of the submittal are written in.
    pub fn system(&self) -> System {
        self.system
    }

    /// A computed value in that system.
    pub fn computed(&self, number: Quantity, dimension: Dimension, extra_digits: u8) -> String {
        if is_unbounded(number) {
            return NOT_SHOWN.to_owned();
        }
        in_system(number, dimension, self.shown(self.system, extra_digits))
    }

    fn shown(&self, system: System, extra_digits: u8) -> Shown {
        Shown { system, extra_digits }
    }
}

/// A part of a message.
#[derive(Debug, PartialEq)]
enum Said {
    Text(String),
    Number(Number),
}

/// `support posts, none of which has the support post role tail`: a list of which no element counts.
pub(super) fn none_counts(site: Site<'_>, none: &NoneCounts) -> String {
    let list = site.label(none.list);
    let elements = match site.slot(none.list) {
        Slot::Records { len, .. } | Slot::Choices { len, .. } | Slot::Texts { len, .. } => *len,
        _ => 0,
    };
    let wanted = none.wanted.iter().map(|(field, symbol)| {
        let label = &site.vocabulary.field(field.record, field.field).label;
        format!("the {label} {}", site.vocabulary.symbol_name(*symbol))
    });
    match (elements, wanted.collect::<Vec<_>>().join(" and ")) {
        (0, _) => format!("{list}, of which none is listed"),
        (_, wanted) if wanted.is_empty() => format!("{list}, none of which counts here"),
        (_, wanted) => format!("{list}, none of which has {wanted}"),
    }
}

/// Whether nothing is known of a number.
fn is_unbounded(number: Quantity) -> bool {
    !number.is_shown() && (number.lo.is_infinite() || (number.hi.is_infinite() && number.lo <= 0.0))
}

/// The field that an expression is, where it is one (a stand-in is none).
fn field_of(machine: &Machine<'_>, checked: &Checked) -> Option<Seen> {
    match checked.node {
        crate::expr::CheckedNode::Field(field) => Some(machine.seen(field)),
        _ => None,
    }
}
