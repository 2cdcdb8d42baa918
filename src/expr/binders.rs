//! The numbers of what `each` and `as` bind.
//!
//! Functions over one list, side by side or in several rules, share a number: what they ask of an element in the same
//! words is then one operation, and what they ask of the list as a whole is worked out once. One inside another has a
//! number of its own, so that both can stand at an element.

use std::collections::HashMap;

use super::scope::{BinderId, FieldRef, GATE};

/// The numbers given out so far, beside those of the document and the gate.
#[derive(Debug)]
pub struct Binders {
    of_lists: HashMap<(FieldRef, usize), BinderId>,
    next: BinderId,
}

impl Default for Binders {
    fn default() -> Self {
        Binders { of_lists: HashMap::new(), next: GATE + 1 }
    }
}

impl Binders {
    /// A number that nothing else has.
    pub fn fresh(&mut self) -> BinderId {
        let binder = self.next;
        self.next += 1;
        binder
    }

    /// The number for the elements of a list, where so many other names are bound around the function over it.
    pub fn of_list(&mut self, list: FieldRef, around: usize) -> BinderId {
        if let Some(known) = self.of_lists.get(&(list, around)) {
            return *known;
        }
        let binder = self.fresh();
        self.of_lists.insert((list, around), binder);
        binder
    }
}
