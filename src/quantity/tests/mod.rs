//! Tests of the readers of values as a whole: what each kind takes, and what holds of every text.

mod kinds;
mod messages;
mod properties;
