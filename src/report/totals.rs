//! What a run came to in all, kept while its submittals are written and let go.

use super::words;
use crate::review::{Action, NotReviewed, Reweighed, RuleFacts, Run};

/// Counts over every submittal of a run.
#[derive(Debug, Clone, Default)]
pub struct Totals {
    /// Submittals by suggested action, in the order of [`Totals::ACTIONS`].
    pub(super) actions: [usize; 5],
    /// Facts not shown.
    pub(super) facts: usize,
    /// Gates of a type that is not reviewed.
    pub(super) other_gates: usize,
    /// Submittals that could not be read.
    pub(super) unread: usize,
    /// What was left out.
    pub(super) not_reviewed: Vec<NotReviewed>,
    /// Rules that the project file switched off, with the reason given.
    pub(super) off: Vec<(String, String)>,
    /// Rules that the project file weighs anew.
    pub(super) reweighed: Vec<Reweighed>,
    /// Rules that a pack of one's own replaces, with the name and the source of what stands in.
    pub(super) replaced: Vec<(String, String, String)>,
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
            self.facts += submittal.questions.len();
            self.other_gates += submittal.gates.iter().filter(|gate| !gate.reviewed).count();
            self.unread += usize::from(!submittal.readable);
        }
        self.not_reviewed.extend(part.not_reviewed.iter().cloned());
        add_new(&mut self.off, part.off.iter().cloned());
        add_new(&mut self.reweighed, part.reweighed.iter().cloned());
        let own = |(replaced, by): (&str, &RuleFacts)| (replaced.to_owned(), by.name.clone(), words::source(by));
        add_new(&mut self.replaced, part.replaced().into_iter().map(own));
    }

    /// Submittals in all.
    pub(super) fn submittals(&self) -> usize {
        self.actions.iter().sum()
    }
}

/// Adds what is not there yet: parts under one project file say the same.
fn add_new<T: PartialEq>(list: &mut Vec<T>, more: impl Iterator<Item = T>) {
    for item in more {
        if !list.contains(&item) {
            list.push(item);
        }
    }
}
