//! What a run came to in all, kept while its submittals are written and let go.

use std::sync::Arc;

use crate::review::{Action, NotReviewed, ProjectRules, Run};

/// Counts over every submittal of a run.
#[derive(Debug, Clone, Default)]
pub struct Totals {
    /// Submittals by suggested action, in the order of [`Totals::ACTIONS`].
    pub(super) actions: [usize; 5],
    /// Facts not shown.
    pub(super) facts: usize,
    /// Values that a rule needs and that cannot be read.
    pub(super) unreadable: usize,
    /// Gates of a type that is not reviewed.
    pub(super) other_gates: usize,
    /// Submittals that could not be read.
    pub(super) unread: usize,
    /// What was left out.
    pub(super) not_reviewed: Vec<NotReviewed>,
    /// The rules under each project file.
    pub(super) projects: Vec<Arc<ProjectRules>>,
}

impl Totals {
    /// The actions, as reports list them.
    pub(super) const ACTIONS: [Option<Action>; 5] = [
        Some(Action::ReviseAndResubmit),
        Some(Action::MakeCorrectionsNoted),
        Some(Action::NoExceptionsTaken),
        Some(Action::NotReviewed),
        None,
    ];

    /// Totals of a run that is held as a whole.
    pub fn of(run: &Run) -> Totals {
        let mut totals = Totals::default();
        totals.add(run);
        totals
    }

    /// Counts a part of the run.
    pub fn add(&mut self, part: &Run) {
        for submittal in &part.submittals {
            if let Some(at) = Totals::ACTIONS.iter().position(|action| *action == submittal.action) {
                self.actions[at] += 1;
            }
            let unreadable = submittal.questions.iter().filter(|question| question.unreadable).count();
            self.facts += submittal.questions.len() - unreadable;
            self.unreadable += unreadable;
            self.other_gates += submittal.gates.iter().filter(|gate| !gate.reviewed).count();
            self.unread += usize::from(!submittal.readable);
        }
        self.not_reviewed.extend(part.not_reviewed.iter().cloned());
        // Many parts stand under one project file.
        for project in &part.projects {
            if !self.projects.iter().any(|known| Arc::ptr_eq(known, project)) {
                self.projects.push(Arc::clone(project));
            }
        }
    }

    /// Submittals in all.
    pub(super) fn submittals(&self) -> usize {
        self.actions.iter().sum()
    }
}
