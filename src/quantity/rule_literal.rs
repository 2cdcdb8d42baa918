//! stub
use super::{Dimension, LiteralError, Unit};
/// stub
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleNumber { /// x
 pub lo: f64, /// x
 pub hi: f64, /// x
 pub dimension: Dimension, /// x
 pub is_date: bool, /// x
 pub amount: f64, /// x
 pub unit: Option<&'static Unit> }
impl std::fmt::Display for RuleNumber { fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { write!(f, "{}", self.amount) } }
/// stub
pub fn rule_literal(_input: &str) -> Option<Result<(RuleNumber, usize), LiteralError>> { None }
/// stub
pub fn read_date(text: &str) -> Result<super::Quantity, LiteralError> { Err(LiteralError{code:"x",at:0..text.len(),message:String::new(),help:None}) }
/// stub
pub fn show_date(_q: super::Quantity) -> String { String::new() }
