//! YAML text to a located tree: every key and value with the bytes it came from.
//!
//! The only module that knows the YAML event parser. Submittals, rule packs and the project file all come through
//! here, so that one set of limits and one way of pointing at text holds for everything that is read from outside.

mod builder;
mod bytes;
mod decode;
mod keys;
mod lost_text;
mod node_problems;
mod offset;
mod parse;
mod places;
mod problems;
mod syntax;
mod tree;

pub use bytes::{read_file, read_stdin};
pub use decode::{Undecodable, decode};
pub use offset::place_in;
pub use parse::{Limits, parse};
pub use tree::{DocumentRoot, Entries, Items, Kind, Node, NodeId, Parsed, ScalarStyle, Tree};
