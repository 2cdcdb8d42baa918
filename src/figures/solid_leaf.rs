//! Force coefficients of a solid freestanding wall: ASCE 7 fig. 29.3-1, cases A and B.
//!
//! Quoted from three public transcriptions that agree in every cell; the fit of the commentary, rounded to 0.05, gives
//! every cell too, and a test holds the table to it.

/// Aspect ratios, length over height, of the columns.
pub const ASPECTS: [f64; 12] = [0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0, 20.0, 30.0, 45.0];
/// Clearance ratios, height over top above grade, of the rows.
pub const CLEARANCES: [f64; 7] = [1.0, 0.9, 0.7, 0.5, 0.3, 0.2, 0.16];
/// The coefficients.
pub const COEFFICIENTS: [[f64; 12]; 7] = [
    [1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30, 1.30, 1.30, 1.30],
    [1.85, 1.75, 1.70, 1.60, 1.55, 1.50, 1.45, 1.45, 1.40, 1.40, 1.40, 1.40],
    [1.90, 1.85, 1.75, 1.70, 1.65, 1.60, 1.60, 1.55, 1.55, 1.55, 1.55, 1.55],
    [1.95, 1.85, 1.80, 1.75, 1.75, 1.70, 1.70, 1.70, 1.70, 1.70, 1.70, 1.75],
    [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.85, 1.85],
    [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.90, 1.90, 1.95],
    [1.95, 1.90, 1.85, 1.85, 1.80, 1.80, 1.85, 1.85, 1.85, 1.90, 1.90, 1.95],
];

/// The coefficient at an aspect and a clearance ratio, linear between cells; beyond the table its edge.
pub(super) fn solid_coefficient(aspect: f64, clearance: f64) -> f64 {
    let (column, right) = between(&ASPECTS, aspect);
    // Rows run down from 1.
    let (row, down) = between(&CLEARANCES.map(|ratio| -ratio), -clearance);
    let across = |row: usize| COEFFICIENTS[row][column] * (1.0 - right) + COEFFICIENTS[row][column + 1] * right;
    across(row) * (1.0 - down) + across(row + 1) * down
}

/// The cell of a rising list that holds a value, and how far into it the value lies.
fn between(list: &[f64], value: f64) -> (usize, f64) {
    let last = list.len() - 2;
    let at = (0..=last).find(|at| value <= list[at + 1]).unwrap_or(last);
    let share = (value - list[at]) / (list[at + 1] - list[at]);
    (at, share.clamp(0.0, 1.0))
}
