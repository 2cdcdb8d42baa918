//! The declared vocabulary: what a file may say, compiled from its JSON Schema.
//!
//! `schema/*.json` is data (JSON Schema 2020-12 with `x-` annotations). This module compiles one schema into record
//! types with flat field lists, which the schema-directed reader fills, the rule checker resolves paths against, and
//! the documentation lists. A new field is one edit in the schema.

mod compile;
mod field;
mod nearest;
mod placeholders;
#[cfg(test)]
mod tests;

pub use compile::{SchemaError, compile};
pub use field::{Field, FieldId, FieldKind, ListOf, RecordId, RecordType, Symbol, Vocabulary};
pub use nearest::{near_choices, nearest_name};
pub use placeholders::{Placeholders, is_not_applicable};
