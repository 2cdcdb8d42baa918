//! The working of a figure: its value, and what was put into it. For the worksheet, and for findings that rest on figures.

use super::print::Printer;
use super::site::Site;
use crate::expr::{Element, FieldRef, FigureRef, GATE, Machine};
use crate::figures::{Figure, Of, Outcome, Source, State, Work, Worked, WorkedInput};
use crate::submittal::{RecordIndex, Slot};
use crate::vocabulary::{RecordId, Vocabulary};

/// Works figures out at the gate and element at which a machine stands.
pub(super) struct Working<'w, 'a> {
    pub(super) vocabulary: &'a Vocabulary,
    /// Record type of a gate.
    pub(super) gate: RecordId,
    pub(super) site: Site<'a>,
    pub(super) machine: &'w Machine<'a>,
    pub(super) printer: Printer<'a>,
}

impl Working<'_, '_> {
    /// A figure by its registry entry; `None` where it is for the command line only, or its fields are not those of this
    /// element.
    pub(super) fn figure(
        &self,
        figure: &'static Figure,
        element: Option<Element>,
        name: Option<&str>,
    ) -> Option<Worked> {
        let read = self.resolve(figure, element)?;
        Some(self.read(&read, element, name))
    }

    /// A figure as a rule reads it.
    pub(super) fn of_rule(&self, read: &FigureRef) -> Worked {
        let of_element = read.fields().find(|field| field.binder > GATE);
        let element =
            of_element.and_then(|field| Element::of_list(self.vocabulary, self.gate, field.binder, field.record));
        self.read(read, element, None)
    }

    fn resolve(&self, figure: &'static Figure, element: Option<Element>) -> Option<FigureRef> {
        let element = element.filter(|_| figure.of != Of::Gate);
        FigureRef::resolve(self.vocabulary, self.gate, element, figure).ok()
    }

    fn read(&self, read: &FigureRef, element: Option<Element>, name: Option<&str>) -> Worked {
        let outcome = self.machine.work_out(read);
        let lacking = match &outcome.state {
            State::Lacking(roots) | State::Bounded(_, roots) => self.lacking(read, roots),
            _ => Vec::new(),
        };
        let assumed = outcome.assumed.iter().map(|(root, words)| {
            let field =
                self.machine.read_from(&read.roots[*root]).map(|field| self.site.path(self.machine.seen(field)));
            (field.unwrap_or_else(|| read.plan.roots[*root].name.to_owned()), (*words).to_owned())
        });
        Worked {
            figure: read.plan.figure,
            element: name.map(str::to_owned),
            inputs: self.inputs(element, read, &outcome),
            lacking,
            assumed: assumed.collect(),
            state: outcome.state,
            system: self.printer.system(),
        }
    }

    fn lacking(&self, read: &FigureRef, roots: &[usize]) -> Vec<String> {
        let mut names = Vec::new();
        for seen in roots.iter().flat_map(|root| self.machine.unshown(&read.roots[*root])) {
            let path = self.site.path(seen);
            if !names.contains(&path) {
                names.push(path);
            }
        }
        names
    }

    /// The figure's own inputs, or the figures that it is taken from.
    fn inputs(&self, element: Option<Element>, read: &FigureRef, outcome: &Outcome) -> Vec<WorkedInput> {
        let figure = read.plan.figure;
        let value_of = |part: &Figure| {
            let parts = read.parts(|part| self.resolve(part, element));
            let (_, read) = parts.iter().find(|(known, _)| std::ptr::eq(*known, part))?;
            self.value_of(read.as_ref()?)
        };
        let part = |part: &'static Figure| WorkedInput { name: part.name, text: value_of(part), assumed: false };
        let mut inputs: Vec<WorkedInput> = figure.taken_from().map(part).collect();
        if let Work::Claimed(cases, _) = figure.work {
            inputs.extend(self.root_input(cases, read, outcome));
        }
        for input in figure.inputs {
            match input.source {
                Source::Figure(other) => {
                    inputs.push(WorkedInput { name: input.name, text: value_of(other), assumed: false });
                }
                _ => inputs.extend(self.root_input(input, read, outcome)),
            }
        }
        inputs
    }

    fn root_input(&self, input: &crate::figures::Input, read: &FigureRef, outcome: &Outcome) -> Option<WorkedInput> {
        let root = read.plan.roots.iter().position(|root| root.name == input.name && root.kind == input.kind)?;
        let assumed = outcome.assumed.iter().find(|(assumed, _)| *assumed == root).map(|(_, words)| *words);
        let written = self.machine.read_from(&read.roots[root]).and_then(|field| self.written(field, read, root));
        Some(WorkedInput { name: input.name, text: written.or(assumed.map(str::to_owned)), assumed: assumed.is_some() })
    }

    fn value_of(&self, read: &FigureRef) -> Option<String> {
        if let Some(root) = self.machine.chosen_root(read) {
            return self.machine.read_from(&read.roots[root]).and_then(|field| self.written(field, read, root));
        }
        let value = self.machine.value_of(read)?;
        Some(self.printer.computed(value, read.plan.figure.output, 1))
    }

    /// The author's text of a root: of a list, row by row.
    fn written(&self, field: FieldRef, read: &FigureRef, root: usize) -> Option<String> {
        let seen = self.machine.seen(field);
        match self.site.slot(seen) {
            slot @ Slot::Records { .. } => {
                let row = |record: &RecordIndex| {
                    let cells = read.roots[root].columns.iter().map(|column| {
                        let node = self.site.records.place(*record, *column).value;
                        node.and_then(|node| self.site.tree.text(node)).unwrap_or("not shown").trim().to_owned()
                    });
                    cells.collect::<Vec<_>>().join(" at ")
                };
                Some(self.site.records.list(slot).iter().map(row).collect::<Vec<_>>().join("; "))
            }
            Slot::Choices { first, len } => {
                let listed = &self.site.records.choices[*first as usize..(*first + *len) as usize];
                let names: Vec<&str> = listed.iter().map(|(symbol, _)| self.vocabulary.symbol_name(*symbol)).collect();
                Some(names.join(", "))
            }
            Slot::Missing | Slot::Placeholder | Slot::NotApplicable => None,
            _ => self.site.written(seen),
        }
    }
}
