//! Figures of rules to the fields behind them: `figure.travel`, `post.figure.embedment_needed`.

use std::sync::Arc;

use super::ast::Expr;
use super::check::Checker;
use super::error::ExprError;
use super::figure::{FigureRef, RootRef};
use super::scope::{BinderId, Bound, DOCUMENT, FieldRef, GATE};
use crate::figures::{Absent, Figure, Input, InputKind, Of, Plan, Source, all, find};
use crate::quantity::Dimension;
use crate::vocabulary::{FieldKind, ListOf, RecordId, Vocabulary, nearest_name};

/// Whether a path names a figure: `figure.x`, or `post.figure.x` of an element.
pub(super) fn names_figure(parts: &[String]) -> bool {
    parts[0] == "figure" || parts.get(1).is_some_and(|part| part == "figure")
}

/// The element that a figure's own fields are read from.
#[derive(Debug, Clone, Copy)]
pub struct Element {
    /// The binder that stands at it.
    pub binder: BinderId,
    /// Type of its record.
    pub record: RecordId,
    /// What it is.
    pub of: Of,
    /// The number of the choice that its list stands for where its records do not say what they are.
    pub of_list: Option<u8>,
}

/// The lists of a gate whose elements have figures, with what an element is.
pub const ELEMENT_LISTS: [(&str, Of); 4] = [
    ("support_posts", Of::Post),
    ("latch_posts", Of::Post),
    ("leaf.splices", Of::Splice),
    ("leaf.bracing.panels", Of::Panel),
];
/// The number of `latch` among the roles of posts.
const LATCH: u8 = 2;

impl Element {
    /// The element of a list of a gate, where its elements have figures.
    pub fn of_list(vocabulary: &Vocabulary, gate: RecordId, binder: BinderId, record: RecordId) -> Option<Element> {
        let declared = vocabulary.record(gate);
        let of_list = |path: &str| match declared.field(path).map(|field| &declared.fields[field as usize].kind) {
            Some(FieldKind::List(ListOf::Record(item))) => *item == record,
            _ => false,
        };
        let (path, of) = ELEMENT_LISTS.into_iter().find(|(path, _)| of_list(path))?;
        Some(Element { binder, record, of, of_list: (path == "latch_posts").then_some(LATCH) })
    }
}

/// A root of a figure that no field of the gate or element gives.
#[derive(Debug, Clone, Copy)]
pub struct NoField {
    /// Its name.
    pub input: &'static str,
}

impl FigureRef {
    /// A figure of the gate, or of an element, with the fields of its roots.
    ///
    /// # Errors
    ///
    /// Where a root that the figure cannot do without has no field there.
    pub fn resolve(
        vocabulary: &Vocabulary,
        gate: RecordId,
        element: Option<Element>,
        figure: &'static Figure,
    ) -> Result<FigureRef, NoField> {
        let plan = Plan::shared(figure);
        let mut roots: Vec<RootRef> = Vec::with_capacity(plan.roots.len());
        for input in &plan.roots {
            roots.push(root(vocabulary, gate, element, input)?);
        }
        let element = element.map_or(GATE, |element| element.binder);
        Ok(FigureRef { plan, roots: roots.into(), element, parts: Arc::default() })
    }
}

fn root(
    vocabulary: &Vocabulary,
    gate: RecordId,
    element: Option<Element>,
    input: &'static Input,
) -> Result<RootRef, NoField> {
    let Source::Fields(paths) = input.source else {
        return if input.absent == Absent::Lacking {
            Err(NoField { input: input.name })
        } else {
            Ok(RootRef::default())
        };
    };
    let mut root = RootRef::default();
    for path in paths {
        let Some((head, rest)) = path.split_once('.') else { continue };
        let (binder, record, rest) = match (head, element) {
            ("gate", _) => (GATE, gate, rest),
            ("post" | "splice" | "panel", Some(element)) => (element.binder, element.record, rest),
            _ => (DOCUMENT, 0, *path),
        };
        if let Some(field) = vocabulary.record(record).field(rest) {
            root.fields.push(FieldRef { binder, record, field });
        }
    }
    let Some(first) = root.fields.first() else {
        root.of_list = element.and_then(|element| element.of_list).filter(|_| input.name == "role");
        let settled = root.of_list.is_some() || input.absent != Absent::Lacking;
        return if settled { Ok(root) } else { Err(NoField { input: input.name }) };
    };
    match input.kind {
        InputKind::Choice(names) | InputKind::Choices(names) => {
            root.symbols = names.iter().map(|name| vocabulary.symbol(name).unwrap_or_default()).collect();
        }
        InputKind::Rows(columns) => {
            if let FieldKind::List(ListOf::Record(record)) = &vocabulary.field(first.record, first.field).kind {
                let declared = vocabulary.record(*record);
                root.columns = columns.iter().filter_map(|column| declared.field(column.field)).collect();
            }
        }
        InputKind::Quantity(_) | InputKind::YesNo | InputKind::Stated => {}
    }
    Ok(root)
}

impl Checker<'_, '_> {
    /// `figure.NAME` of the gate, `post.figure.NAME` of an element.
    pub(super) fn figure(&mut self, expr: &Expr, parts: &[String]) -> Option<(FigureRef, Dimension)> {
        let of_gate = parts[0] == "figure";
        let element = if of_gate { None } else { Some(self.element(expr, &parts[0])?) };
        let name = parts[if of_gate { 1 } else { 2 }..].join(".");
        let wanted = element.map_or(Of::Gate, |element| element.of);
        let path = |name: &str| if of_gate { format!("figure.{name}") } else { format!("{}.figure.{name}", parts[0]) };
        let Some(figure) = find(&name) else {
            let error = ExprError::new(expr.span.clone(), format!("there is no figure `{name}`"));
            let known = all().filter(|figure| figure.of == wanted).map(|figure| figure.name);
            self.errors.push(match nearest_name(&name, known) {
                Some(near) => error.with_help(format!("did you mean `{}`?", path(near))),
                None => error.with_help("`gatewright compute` lists the figures"),
            });
            return None;
        };
        if figure.of != wanted {
            let message = format!("`{name}` is a figure of {}, not of {}", figure.of.words(), wanted.words());
            self.error(&expr.span, message);
            return None;
        }
        match FigureRef::resolve(self.scope.vocabulary, self.scope.gate, element, figure) {
            Ok(read) => {
                self.note_use(GATE);
                if let Some(element) = element {
                    self.note_use(element.binder);
                }
                Some((read, figure.output))
            }
            Err(missing) => {
                let message =
                    format!("figure `{name}` cannot be read in a rule: no field gives its `{}`", missing.input);
                self.error(&expr.span, message);
                None
            }
        }
    }

    fn element(&mut self, expr: &Expr, name: &str) -> Option<Element> {
        let Some(Bound::Record(binder, record)) = self.scope.find(name) else {
            self.error(
                &expr.span,
                format!("`{name}` is no element of a list; figures are of a gate, a post, a splice or a panel"),
            );
            return None;
        };
        let (binder, record) = (*binder, *record);
        let element = Element::of_list(self.scope.vocabulary, self.scope.gate, binder, record);
        if element.is_none() {
            self.error(&expr.span, format!("`{name}` has no figures; posts, splices and panels have"));
        }
        element
    }
}
