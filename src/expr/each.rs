//! The `each:` of a rule: `gate.support_posts as post`, or `choices(gate.entrapment_zones.zone) as place`.

use super::ast::{Binder, Expr, Node};
use super::error::ExprError;
use super::parse::KEYWORDS;

/// A parsed `each:`.
#[derive(Debug, Clone, PartialEq)]
pub struct Each {
    /// Whether it runs over the choices of a field rather than the elements of a list.
    pub choices: bool,
    /// The list, or the choice field.
    pub path: Expr,
    /// The name.
    pub binder: Binder,
}

/// Reads an `each:`.
pub fn parse_each(text: &str) -> Result<Each, ExprError> {
    let whole = 0..text.len();
    let shape = "`LIST as NAME` or `choices(FIELD) as NAME` is expected";
    let Some((head, name)) = text.rsplit_once(" as ") else {
        return Err(ExprError::new(whole, shape));
    };
    let name_at = text.len() - name.trim_start().len();
    let name = name.trim();
    let word = name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_');
    if !word || KEYWORDS.contains(&name) || super::parse::ROOTS.contains(&name) {
        return Err(ExprError::new(name_at..name_at + name.len(), format!("`{name}` cannot be bound; take another name")));
    }
    let binder = Binder { name: name.to_owned(), span: name_at..name_at + name.len() };
    let trimmed = head.trim();
    let inner = trimmed.strip_prefix("choices(").and_then(|rest| rest.strip_suffix(')'));
    let choices = inner.is_some();
    let path = inner.unwrap_or(trimmed).trim();
    let offset = text.find(path).unwrap_or(0);
    let parts: Vec<String> = path.split('.').map(str::to_owned).collect();
    let is_word = |part: &String| {
        part.starts_with(|c: char| c.is_ascii_alphabetic()) && part.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
    };
    if !parts.iter().all(is_word) {
        return Err(ExprError::new(offset..offset + path.len().max(1), shape));
    }
    let node = if parts.len() == 1 { Node::Word(path.to_owned()) } else { Node::Path(parts) };
    Ok(Each { choices, path: Expr { span: offset..offset + path.len(), node }, binder })
}
