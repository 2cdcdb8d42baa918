//! Rules: packs from YAML to one checked, compiled rule set.
//!
//! A pack is read like any other document, through the located tree and the schema-directed reader; then its
//! expressions are checked against the vocabulary of submittals. The review only ever sees the checked form.

mod build;
mod case;
mod error;
mod express;
mod load;
mod message;
mod names;
mod raw;
mod replace;
mod set;
mod shipped;
mod words;

pub use error::PackProblems;
pub use load::{PackSource, load, submittal_vocabulary};
pub use message::{Segment, Template};
pub use set::{Case, Expression, Group, Note, Over, Pack, Rule, RuleSet};
pub use shipped::{ON_REQUEST, shipped, shipped_names};
