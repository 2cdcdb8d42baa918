//! The packs that the binary carries.

use std::sync::Arc;

use super::load::PackSource;
use crate::source::SourceFile;

mod embedded {
    include!(concat!(env!("OUT_DIR"), "/shipped.rs"));
}

/// Packs that are loaded only where a project file or `--packs` names them.
pub const ON_REQUEST: [&str; 1] = ["europe"];

/// Names of the shipped packs.
pub fn shipped_names() -> impl Iterator<Item = &'static str> {
    embedded::SHIPPED.iter().map(|(name, ..)| *name)
}

/// A shipped pack, with or without its cases.
pub fn shipped(name: &str, with_cases: bool) -> Option<PackSource> {
    let (name, short, whole) = embedded::SHIPPED.iter().find(|(known, ..)| *known == name)?;
    let text = if with_cases { *whole } else { *short };
    Some(PackSource { file: Arc::new(SourceFile::new(format!("rules/{name}.yaml"), text)), shipped: true })
}
