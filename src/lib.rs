//! gatewright reviews submittals for cantilever slide gates.
//!
//! arguments -> files -> source text -> located tree -> submittal (typed fields, each with its span);
//! rules/*.yaml -> packs -> checked rules -> compiled rule set;
//! submittal x rules -> outcomes -> deviations -> findings and questions -> action -> report -> exit code.

pub mod cli;
pub mod discover;
pub mod document;
pub mod expr;
pub mod figures;
pub mod problem;
pub mod project;
pub mod prove;
pub mod quantity;
pub mod report;
pub mod review;
pub mod rule;
pub mod source;
pub mod submittal;
pub mod vocabulary;
