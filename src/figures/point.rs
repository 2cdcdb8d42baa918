//! The inputs of a figure at one point, as its function reads them: SI numbers by position.
//!
//! A point remembers which of its inputs were read: what a function does not read is neither lacking nor, over a range, a
//! reason to refuse it.

use std::cell::Cell;

/// A run of cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Cells {
    pub first: usize,
    pub len: usize,
}

/// The inputs of one figure at one point.
#[derive(Debug)]
pub struct Point<'a> {
    pub(super) cells: &'a [f64],
    /// Where each input stands; an input that is not there has no cells.
    pub(super) inputs: &'a [Cells],
    pub(super) constants: &'a [f64],
    /// A bit for each input that was read.
    read: Cell<u64>,
}

impl<'a> Point<'a> {
    /// A point whose function has read nothing yet.
    pub(super) fn new(cells: &'a [f64], inputs: &'a [Cells], constants: &'a [f64]) -> Point<'a> {
        Point { cells, inputs, constants, read: Cell::new(0) }
    }

    /// The inputs that were read, a bit for each.
    pub(super) fn read(&self) -> u64 {
        self.read.get()
    }

    fn at(&self, input: usize) -> Cells {
        self.read.set(self.read.get() | 1 << input);
        self.inputs[input]
    }

    /// The input at a position, where it is shown.
    pub fn given(&self, input: usize) -> Option<f64> {
        let at = self.at(input);
        if at.len == 0 { None } else { Some(self.cells[at.first]) }
    }

    /// The number at a position; zero where an optional input is not shown.
    pub fn number(&self, input: usize) -> f64 {
        self.given(input).unwrap_or(0.0)
    }

    /// The first numbers.
    pub fn numbers<const N: usize>(&self) -> [f64; N] {
        std::array::from_fn(|input| self.number(input))
    }

    /// The position of a choice in its list.
    pub fn choice(&self, input: usize) -> usize {
        // Choices are stored as whole numbers from zero.
        self.number(input) as usize
    }

    /// Whether a yes-or-no input is yes.
    pub fn yes(&self, input: usize) -> bool {
        self.number(input) != 0.0
    }

    /// The rows of an input, in cells of `N` columns.
    pub fn rows<const N: usize>(&self, input: usize) -> impl Iterator<Item = [f64; N]> {
        let at = self.at(input);
        let cells = &self.cells[at.first..at.first + at.len];
        cells.chunks_exact(N).map(|row| std::array::from_fn(|column| row[column]))
    }

    /// A constant of the figure.
    pub fn constant(&self, number: usize) -> f64 {
        self.constants[number]
    }
}
