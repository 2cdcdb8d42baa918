//! Located tree and vocabulary to records of typed slots, every structural problem in one pass.
//!
//! The one reader for everything in YAML: submittals (`review`), rule packs and their cases (`rule`), the project file
//! (`project`).

mod budget;
mod check;
mod hint;
mod layers;
mod list;
mod read;
mod record;
#[cfg(test)]
mod tests;
mod value;

pub use check::{check, is_of_open_format, is_submittal, resembles_submittal};
pub use layers::read_layers;
pub use read::{Mode, Read, read};
pub use record::{Place, Record, RecordIndex, Records, Slot};
