//! Tests from outside the crate, in one binary: one module a subject, data beside it.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod cli;
mod corpus;
mod documents;
mod figures;
mod language;
mod reference;
mod regression;
mod report;
mod rules;
