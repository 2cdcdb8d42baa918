//! (made with the README)
