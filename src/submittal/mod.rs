//! Located tree and vocabulary to records of typed slots, every structural problem in one pass.
//!
//! The one reader for everything in YAML: submittals (`review`), rule packs and their cases (`rule`), the project file
//! (`project`).

mod read;
mod record;

pub use read::{Mode, Read, read};
pub use record::{Place, Record, RecordIndex, Records, Slot};
