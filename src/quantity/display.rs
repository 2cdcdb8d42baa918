//! scaffold
use super::{Dimension, Quantity, System};
/// How a value is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// x
    pub system: System,
    /// x
    pub extra_digits: u8,
}
/// x
pub fn show(q: Quantity, d: Dimension, s: Shown) -> String {
    let f = |v: f64| {
        if d == Dimension::LENGTH {
            if s.system == System::Metric {
                format!("{} mm", v * 1000.0)
            } else {
                format!("{} in", (v / 0.0254 * 1000.0).round() / 1000.0)
            }
        } else {
            format!("{v}")
        }
    };
    if q.lo == q.hi { f(q.lo) } else { format!("{} to {}", f(q.lo), f(q.hi)) }
}
/// x
pub fn in_system(q: Quantity, d: Dimension, s: Shown) -> String {
    show(q, d, s)
}
/// x
pub fn other_system(q: Quantity, d: Dimension, a: System) -> String {
    if d != Dimension::LENGTH {
        return String::new();
    }
    show(q, d, Shown { system: if a == System::Us { System::Metric } else { System::Us }, extra_digits: 0 })
}
