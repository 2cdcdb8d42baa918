//! Submittal by rules: outcomes, findings, questions, deviations, the suggested action.

mod action;
mod approval;
mod called;
mod deviation;
mod document;
mod file;
mod finding;
mod judge;
mod key;
mod numbers;
mod print;
mod question;
mod reading;
mod site;
mod verdict;
mod working;
mod worksheet;
mod zones;

pub use action::fails;
pub use document::{Terms, review_document};
pub use file::{FileReview, review_file};
pub use finding::{
    Action, Deviation, DeviationState, Finding, GateReview, Label, NotReviewed, Outcome, Outcomes, ProjectRules,
    Question, Reweighed, RuleFacts, Run, Stage, SubmittalReview, SwitchedOff, Weight,
};
pub use judge::{Judged, JudgedGate, OTHER_TYPE, Wait, judge};
pub use site::Site;
pub use worksheet::{GateSheet, Worksheet, worksheets};
pub use zones::ZoneLine;
