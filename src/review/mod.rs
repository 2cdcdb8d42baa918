//! Not yet built.
