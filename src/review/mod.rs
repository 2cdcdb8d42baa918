//! Submittal by rules: outcomes, findings, questions, deviations, the suggested action.

mod finding;

pub use finding::{
    Action, Deviation, DeviationState, Finding, GateReview, Label, NotReviewed, Outcome, Outcomes, Question, RuleFacts,
    Run, Stage, SubmittalReview, SwitchedOff, Weight,
};
