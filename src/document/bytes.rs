//! The bytes of whatever is read from outside, bounded: a device or a file without end must not fill the memory.
//!
//! Called by whoever opens files, before [`super::decode`]. That there were too many is said by [`super::parse`].

use std::io::{Read, Result};
use std::path::Path;

use super::parse::Limits;

/// The bytes of a file, bounded.
///
/// # Errors
/// The file cannot be read.
pub fn read_file(path: &Path) -> Result<Vec<u8>> {
    read_bounded(std::fs::File::open(path)?)
}

/// The bytes of standard input, bounded.
///
/// # Errors
/// It cannot be read.
pub fn read_stdin() -> Result<Vec<u8>> {
    read_bounded(std::io::stdin().lock())
}

/// Reads one byte more than the largest file that is read, so that a larger one is known and memory stays bounded.
fn read_bounded(from: impl Read) -> Result<Vec<u8>> {
    let limit = Limits::default().file_bytes as u64 + 1;
    let mut bytes = Vec::new();
    from.take(limit).read_to_end(&mut bytes)?;
    Ok(bytes)
}
