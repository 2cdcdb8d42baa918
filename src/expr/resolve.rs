//! Paths and words to what they stand for: fields, figures, constants, choices, what `each` and `as` bind.
//!
//! The check of names and types asks here at every path and word, and `rule` for the field of an `at:`. A word alone has no
//! meaning: it takes that of the value beside it.

use super::ast::{Expr, Node};
use super::check::{Checker, yes_no};
use super::checked::{Checked, CheckedNode};
use super::error::ExprError;
use super::parse::ROOTS;
use super::resolve_figure::names_figure;
use super::scope::{Bound, DOCUMENT, FieldRef, GATE};
use super::ty::Type;
use crate::vocabulary::{FieldKind, RecordId, Symbol, nearest_name};

/// What a path stands for that begins with a root and leads to no field.
fn no_field(root: &str) -> &'static str {
    match root {
        "gates" => "`gates` is the list of all gates, whose elements are named: any(gates as g, g.FIELD is ...)",
        "figure" => "`figure` stands before the name of a figure, which is worked out",
        "constant" => "`constant` stands before a number of this pack, which is always there",
        _ => "`review.stage` is the stage of the review, which is always there",
    }
}

impl Checker<'_, '_> {
    /// A path as a value.
    pub(super) fn path(&mut self, expr: &Expr, parts: &[String]) -> (CheckedNode, Type) {
        let wrong = (CheckedNode::Wrong, Type::Wrong);
        match parts[0].as_str() {
            "constant" => return self.constant(expr, parts),
            "review" => return self.review(expr, parts),
            _ => {}
        }
        if names_figure(parts) {
            return match self.figure(expr, parts) {
                Some((figure, output)) => (CheckedNode::Figure(figure), Type::Number(output)),
                None => wrong,
            };
        }
        let Some(field) = self.field(expr, parts) else {
            return wrong;
        };
        let declared = self.scope.vocabulary.field(field.record, field.field);
        let ty = match &declared.kind {
            FieldKind::Quantity(kind) => Type::Number(kind.dimension()),
            FieldKind::YesNo => Type::Truth,
            FieldKind::Text => Type::Text,
            FieldKind::Date => Type::Date,
            FieldKind::Choice(symbols) => Type::Choice(symbols.clone()),
            FieldKind::Section | FieldKind::Map(_) | FieldKind::Any => {
                self.error(&expr.span, format!("`{}` is a section, not a value; name a field in it", parts.join(".")));
                return wrong;
            }
            FieldKind::List(_) => {
                let message = format!("`{}` is a list; count it, or ask any or all of its elements", parts.join("."));
                self.error(&expr.span, message);
                return wrong;
            }
        };
        (CheckedNode::Field(field), ty)
    }

    /// A path as a declared field of any kind.
    pub fn field(&mut self, expr: &Expr, parts: &[String]) -> Option<FieldRef> {
        let (binder, record, rest) = match parts[0].as_str() {
            "project" | "submittal" | "site" => (DOCUMENT, 0, parts.join(".")),
            "gate" => (GATE, self.scope.gate, parts[1..].join(".")),
            "gates" if parts.len() == 1 => (DOCUMENT, 0, "gates".to_owned()),
            root @ ("gates" | "figure" | "constant" | "review") => {
                self.error(&expr.span, format!("a field of the submittal is expected; {}", no_field(root)));
                return None;
            }
            name => match self.scope.find(name) {
                Some(Bound::Record(binder, record)) => (*binder, *record, parts[1..].join(".")),
                Some(Bound::Wrong) => return None,
                Some(_) => {
                    self.error(&expr.span, format!("`{name}` is a single value and has no fields"));
                    return None;
                }
                None => {
                    self.unknown_root(expr, name);
                    return None;
                }
            },
        };
        if rest.is_empty() {
            let name = &parts[0];
            self.error(
                &expr.span,
                format!("a field is expected; `{name}` has fields and is none: name one, {name}.FIELD"),
            );
            return None;
        }
        if let Some(field) = self.scope.vocabulary.record(record).field(&rest) {
            self.note_use(binder);
            self.uses_gates |= binder == DOCUMENT && rest == "gates";
            return Some(FieldRef { binder, record, field });
        }
        self.unknown_field(expr, record, &parts[0], &rest);
        None
    }

    fn unknown_root(&mut self, expr: &Expr, name: &str) {
        let bound = self.scope.bound.iter().map(|(name, _)| name.as_str());
        let known: Vec<&str> = ROOTS.into_iter().chain(bound).collect();
        let end = expr.span.start + name.len();
        self.errors.push(
            ExprError::new(expr.span.start..end, format!("`{name}` is not a name that a path can begin with"))
                .with_help(format!("paths begin with {}", known.join(", "))),
        );
    }

    fn unknown_field(&mut self, expr: &Expr, record: RecordId, root: &str, rest: &str) {
        let vocabulary = self.scope.vocabulary;
        let declared = vocabulary.record(record);
        let prefix = if record == 0 { String::new() } else { format!("{root}.") };
        let paths: Vec<&str> = declared.fields.iter().map(|field| field.path.as_str()).collect();
        let error = ExprError::new(expr.span.clone(), format!("there is no field `{prefix}{rest}`"));
        let last = rest.rsplit('.').next().unwrap_or(rest);
        let elsewhere = declared.fields.iter().find(|field| field.key == last).map(|field| field.path.as_str());
        let hint = nearest_name(rest, paths.iter().copied()).or(elsewhere);
        self.errors.push(match hint {
            Some(near) => error.with_help(format!("did you mean `{prefix}{near}`?")),
            None => error,
        });
    }

    fn constant(&mut self, expr: &Expr, parts: &[String]) -> (CheckedNode, Type) {
        let name = parts[1..].join(".");
        if let Some(constant) = self.scope.pack.constants.get(&name) {
            return (CheckedNode::Number(constant.value), constant.ty.clone());
        }
        let known: Vec<&str> = self.scope.pack.constants.keys().map(String::as_str).collect();
        let error = ExprError::new(expr.span.clone(), format!("this pack has no constant `{name}`"));
        self.errors.push(match nearest_name(&name, known.iter().copied()) {
            Some(near) => error.with_help(format!("did you mean `constant.{near}`?")),
            None => error,
        });
        (CheckedNode::Wrong, Type::Wrong)
    }

    fn review(&mut self, expr: &Expr, parts: &[String]) -> (CheckedNode, Type) {
        let vocabulary = self.scope.vocabulary;
        let stage = vocabulary.record(0).field("submittal.stage").map(|field| &vocabulary.field(0, field).kind);
        match (parts.len(), parts[1].as_str(), stage) {
            (2, "stage", Some(FieldKind::Choice(symbols))) => (CheckedNode::Stage, Type::Choice(symbols.clone())),
            _ => {
                self.error(&expr.span, "`review` has one field, `review.stage`");
                (CheckedNode::Wrong, Type::Wrong)
            }
        }
    }

    /// A word where nothing beside it says what it is: only a bound name has a meaning.
    pub(super) fn word(&mut self, expr: &Expr, word: &str) -> (CheckedNode, Type) {
        match self.scope.find(word) {
            Some(Bound::Choice(binder, symbols)) => (CheckedNode::Bound(*binder), Type::Choice(symbols.clone())),
            Some(Bound::Text(binder)) => (CheckedNode::Bound(*binder), Type::Text),
            Some(Bound::Record(..)) => {
                self.error(&expr.span, format!("`{word}` is an element of a list; name a field of it"));
                (CheckedNode::Wrong, Type::Wrong)
            }
            Some(Bound::Wrong) => (CheckedNode::Wrong, Type::Wrong),
            None => {
                self.error(&expr.span, format!("`{word}` stands alone; a choice is compared with a field by `is`"));
                (CheckedNode::Wrong, Type::Wrong)
            }
        }
    }

    /// An expression, which may be a word that takes its meaning from the type beside it.
    pub(super) fn expr_like(&mut self, expr: &Expr, other: &Type) -> Checked {
        match &expr.node {
            Node::Word(word) if self.scope.find(word).is_none() => self.constant_like(expr, other),
            Node::Text(_) => self.constant_like(expr, other),
            _ => self.expr(expr),
        }
    }

    /// A word or quoted text that takes its meaning from the value it is compared with.
    pub(super) fn constant_like(&mut self, expr: &Expr, other: &Type) -> Checked {
        let (text, quoted) = match &expr.node {
            Node::Word(word) => (word.as_str(), false),
            Node::Text(text) => (text.as_str(), true),
            _ => return self.expr(expr),
        };
        let (node, ty) = match other {
            Type::Wrong => (CheckedNode::Wrong, Type::Wrong),
            Type::Choice(symbols) => match self.symbol(text, symbols) {
                Some(symbol) => (CheckedNode::Choice(symbol), other.clone()),
                None => {
                    self.unknown_choice(expr, text, symbols);
                    (CheckedNode::Wrong, Type::Wrong)
                }
            },
            Type::Text if quoted => (CheckedNode::Text(text.to_owned()), Type::Text),
            Type::Text => {
                self.error(&expr.span, format!("a text is written in quotes: \"{text}\""));
                (CheckedNode::Wrong, Type::Wrong)
            }
            Type::Truth => match yes_no(text).filter(|_| !quoted) {
                Some(true) => (CheckedNode::And(Vec::new()), Type::Truth),
                Some(false) => (CheckedNode::Or(Vec::new()), Type::Truth),
                None => {
                    self.error(&expr.span, format!("`yes` or `no` is expected, `{text}` is found"));
                    (CheckedNode::Wrong, Type::Wrong)
                }
            },
            Type::Number(_) | Type::Date => {
                self.error(&expr.span, format!("{other} is expected, the word `{text}` is found"));
                (CheckedNode::Wrong, Type::Wrong)
            }
        };
        Checked::new(expr.span.clone(), ty, node)
    }

    fn symbol(&self, name: &str, among: &[Symbol]) -> Option<Symbol> {
        self.scope.vocabulary.symbol(name).filter(|symbol| among.contains(symbol))
    }

    fn unknown_choice(&mut self, expr: &Expr, found: &str, symbols: &[Symbol]) {
        let names: Vec<&str> = symbols.iter().map(|symbol| self.scope.vocabulary.symbol_name(*symbol)).collect();
        let mut help = format!("the choices are {}", names.join(", "));
        if let Some(near) = nearest_name(found, names.iter().copied()) {
            help = format!("did you mean `{near}`? {help}");
        }
        let message = format!("`{found}` is not one of the choices of this field");
        self.errors.push(ExprError::new(expr.span.clone(), message).with_help(help));
    }

    /// The path of a field, for messages.
    pub(super) fn path_name(&self, field: FieldRef) -> String {
        let path = &self.scope.vocabulary.field(field.record, field.field).path;
        match field.binder {
            DOCUMENT => path.clone(),
            GATE => format!("gate.{path}"),
            binder => {
                let name = self.scope.bound.iter().rev().find_map(|(name, bound)| match bound {
                    Bound::Record(known, _) if *known == binder => Some(name.as_str()),
                    _ => None,
                });
                format!("{}.{path}", name.unwrap_or("element"))
            }
        }
    }
}
