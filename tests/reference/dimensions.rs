//! (no tests yet)
