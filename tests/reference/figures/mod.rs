//! Figures against values from outside, row by row, at the tolerance that each row gives.
//!
//! The rows stand in `data/figures`, one file a subject, with their sources and how they are known. Scripts named in a
//! source (`cNN_*.py`) belong to the sheet that the rows come from; what libraries made there, `scripts/figures.py` makes
//! again.

mod bolt;
mod bracing;
mod example;
mod flexure;
mod footing;
mod geometry;
mod motion;
mod post;
mod sag;
mod section;
mod splice;
mod statics;
mod weight;
mod wind;
mod wind_tables;

use serde_json::Value;

pub use crate::figures::asked::Asked;

// Units in SI: NIST SP 811 (2008), appendix B.
pub const FT: f64 = 0.3048;
pub const IN: f64 = 0.0254;
pub const LBF: f64 = 4.4482216152605;
pub const PSF: f64 = LBF / (FT * FT);
pub const PSF_PER_FT: f64 = PSF / FT;
pub const KSI: f64 = 1000.0 * LBF / (IN * IN);
pub const PLF: f64 = LBF / FT;
pub const MPH: f64 = 0.44704;

/// A row of an outside sheet.
#[derive(Debug)]
pub struct Row(Value);

/// The rows of a file; each has a source and says how it is known.
pub fn rows(text: &str) -> Vec<Row> {
    let rows: Vec<Value> = serde_json::from_str(text).unwrap();
    for row in &rows {
        for key in ["id", "topic", "tolerance", "source", "confidence"] {
            assert!(row[key].as_str().is_some_and(|text| !text.is_empty()), "{key} of {row}");
        }
    }
    rows.into_iter().map(Row).collect()
}

/// The rows of a topic.
pub fn of_topic(text: &str, topic: &str) -> Vec<Row> {
    rows(text).into_iter().filter(|row| row.0["topic"] == topic).collect()
}

/// A number, also where it is written as text.
pub fn number(value: &Value) -> f64 {
    value.as_f64().or_else(|| value.as_str()?.parse().ok()).unwrap_or_else(|| panic!("{value} is no number"))
}

impl Row {
    pub fn id(&self) -> &str {
        self.0["id"].as_str().unwrap()
    }

    pub fn tolerance(&self) -> &str {
        self.0["tolerance"].as_str().unwrap()
    }

    pub fn text(&self, input: &str) -> &str {
        self.0["inputs"][input].as_str().unwrap()
    }

    pub fn value(&self, input: &str) -> &Value {
        &self.0["inputs"][input]
    }

    pub fn input(&self, input: &str) -> f64 {
        number(&self.0["inputs"][input])
    }

    pub fn expected(&self, key: &str) -> f64 {
        number(&self.0["expected"][key])
    }

    /// The class of walls that a library found.
    pub fn class(&self) -> &str {
        self.0["expected"]["cls"].as_str().unwrap()
    }

    /// An expected yes, which the sheet writes as `True`.
    pub fn says(&self, key: &str) -> bool {
        self.0["expected"][key] == "True"
    }

    pub fn all_expected(&self, key: &str) -> Vec<f64> {
        self.0["expected"][key].as_array().unwrap().iter().map(number).collect()
    }

    /// An expected table.
    pub fn table(&self, key: &str) -> Vec<Vec<f64>> {
        let lines = self.0["expected"][key].as_array().unwrap();
        lines.iter().map(|line| line.as_array().unwrap().iter().map(number).collect()).collect()
    }

    /// Compares with an expected value, at the tolerance of the row.
    pub fn hold(&self, key: &str, found: f64) {
        let expected = self.expected(key);
        let first = self.tolerance().split_whitespace().next().unwrap();
        let room = match (first, self.tolerance().split_whitespace().nth(1)) {
            ("exact", _) => 1e-12 * expected.abs(),
            (share, Some("%")) => share.parse::<f64>().unwrap() / 100.0 * expected.abs(),
            (room, _) => room.parse().unwrap(),
        };
        self.near(key, found, room);
    }

    /// Compares with an expected value, at a tolerance that the row gives in other words.
    pub fn near(&self, key: &str, found: f64, room: f64) {
        let expected = self.expected(key);
        assert!(
            (found - expected).abs() <= room,
            "{} {key}: expected {expected} within {room}, found {found}",
            self.id()
        );
    }

    pub fn within_percent(&self, key: &str, found: f64, percent: f64) {
        self.near(key, found, percent / 100.0 * self.expected(key).abs());
    }
}

pub fn close(found: f64, expected: f64, room: f64, what: &str) {
    assert!((found - expected).abs() <= room, "{what}: expected {expected} within {room}, found {found}");
}
