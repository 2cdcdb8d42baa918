//! One submittal by the rule set: the outcome of every rule, with a finding for each that somebody must act on.
//!
//! Called by the review of files and by `prove`.

use std::collections::HashMap;

use super::called::names;
use super::finding::{Finding, Label, Outcome, RuleFacts, Stage, SwitchedOff, Weight};
use super::numbers::compared;
use super::print::Printer;
use super::site::Site;
use super::verdict::{outcome, worse};
use super::working::Working;
use crate::document::Tree;
use crate::expr::{Assumed, BinderId, DOCUMENT, FieldRef, FigureRef, GATE, Machine, Seen, StandsAt, Truth, Waiting};
use crate::rule::{Over, Rule, RuleSet};
use crate::submittal::{Read, RecordIndex, Slot};

/// The one rule that runs on a gate of a type that is not reviewed.
pub const OTHER_TYPE: &str = "paperwork/gate-type-not-reviewed";

/// A rule that waits for facts, with what it waits for.
#[derive(Debug, Clone)]
pub struct Wait {
    /// Full name of the rule.
    pub rule: String,
    /// What it is worth.
    pub weight: Weight,
    /// Index of the gate.
    pub gate: Option<usize>,
    /// Index of the finding; none where the rule waits only for what cannot be read, which has a finding already.
    pub finding: Option<usize>,
    /// The facts.
    pub waiting: Waiting,
}

/// What the rules came to for one gate.
#[derive(Debug, Clone)]
pub struct JudgedGate {
    /// Its record.
    pub record: RecordIndex,
    /// Its mark.
    pub mark: String,
    /// Whether its type is one that is reviewed.
    pub reviewed: bool,
    /// Whether its type is shown; where it is not, the gate is taken for one of that type.
    pub type_shown: bool,
    /// The outcome of each rule, by its index; `None` where it was not run.
    pub outcomes: Vec<Option<Outcome>>,
    /// Rules met only with an assumed value.
    pub met_by_assumption: Vec<(String, String, String)>,
    /// Notes of rules that are met.
    pub notes: Vec<(String, String)>,
}

/// What the rules came to.
#[derive(Debug, Clone, Default)]
pub struct Judged {
    /// For the submittal as a whole: the outcome of each rule, by its index; `None` where it was not run.
    pub outcomes: Vec<Option<Outcome>>,
    /// Gate by gate.
    pub gates: Vec<JudgedGate>,
    /// Findings, in the order of the rules.
    pub findings: Vec<Finding>,
    /// What the rules that are not shown wait for.
    pub waits: Vec<Wait>,
    /// Hazard rules that an `n/a` switched off.
    pub switched_off: Vec<SwitchedOff>,
}

/// Judges a submittal by every rule of a set that `wanted` takes.
pub fn judge(rules: &RuleSet, tree: &Tree, read: &Read, stage: Stage, wanted: &dyn Fn(usize) -> bool) -> Judged {
    let stage = rules.vocabulary.symbol(stage.word()).unwrap_or_default();
    let machine = Machine::new(&rules.program, tree, &read.records, stage);
    let site = Site { vocabulary: &rules.vocabulary, tree, records: &read.records };
    let judged = Judged { outcomes: vec![None; rules.rules.len()], ..Judged::default() };
    let mut judge =
        Judge { rules, machine, site, printer: Printer::new(site), judged, gate: None, names: HashMap::new() };
    judge.machine.stand_at(DOCUMENT, StandsAt::Record(0));
    judge.run(false, wanted);
    for record in site.gates() {
        judge.gate(record, wanted);
    }
    judge.judged
}

struct Judge<'a> {
    rules: &'a RuleSet,
    machine: Machine<'a>,
    site: Site<'a>,
    printer: Printer<'a>,
    judged: Judged,
    /// Index of the gate under review, among `judged.gates`.
    gate: Option<usize>,
    /// What the elements of lists are called, by the first element of each list.
    names: HashMap<RecordIndex, Vec<Option<String>>>,
}

impl<'a> Judge<'a> {
    fn gate(&mut self, record: RecordIndex, wanted: &dyn Fn(usize) -> bool) {
        let reviewed = self.site.is_reviewed(record);
        let mark = self.site.mark(record, self.judged.gates.len() + 1);
        self.judged.gates.push(JudgedGate {
            record,
            mark,
            reviewed,
            type_shown: self.site.type_of(record).is_some(),
            outcomes: vec![None; self.rules.rules.len()],
            met_by_assumption: Vec::new(),
            notes: Vec::new(),
        });
        self.gate = Some(self.judged.gates.len() - 1);
        self.machine.stand_at(GATE, StandsAt::Record(record));
        if reviewed {
            self.run(true, wanted);
        } else {
            let only = |index: usize| wanted(index) && self.rules.rules[index].facts.name == OTHER_TYPE;
            let rules = self.rules;
            let chosen: Vec<bool> = (0..rules.rules.len()).map(only).collect();
            self.run(true, &|index| chosen[index]);
        }
        self.gate = None;
    }

    /// Runs the rules about the gate at hand, or about the submittal as a whole.
    fn run(&mut self, per_gate: bool, wanted: &dyn Fn(usize) -> bool) {
        let rules = self.rules;
        let of_group = |group: Option<usize>| {
            let members = rules.members(group, per_gate).iter().copied();
            members.filter(|index| wanted(*index))
        };
        for index in of_group(None) {
            let outcome = self.verdict(&rules.rules[index], None);
            self.record(index, outcome);
        }
        for (group_index, group) in rules.groups.iter().enumerate() {
            let indexes: Vec<usize> = of_group(Some(group_index)).collect();
            if indexes.is_empty() {
                continue;
            }
            let members: Vec<&Rule> = indexes.iter().map(|index| &rules.rules[*index]).collect();
            let mut outcomes = vec![Outcome::DoesNotApply; members.len()];
            match group.over {
                Over::Choices(choices) => {
                    for symbol in &rules.choices[choices] {
                        self.machine.stand_at(group.binder, StandsAt::Choice(*symbol));
                        let element = Element::Choice(rules.vocabulary.symbol_name(*symbol));
                        self.judge_members(&members, &mut outcomes, element);
                    }
                }
                Over::List(list) => self.judge_list(list, group.binder, &members, &mut outcomes),
            }
            for (index, outcome) in indexes.into_iter().zip(outcomes) {
                self.record(index, outcome);
            }
        }
    }

    fn judge_list(&mut self, list: FieldRef, binder: BinderId, members: &[&Rule], outcomes: &mut [Outcome]) {
        match self.machine.slot(list) {
            slot @ Slot::Records { .. } => {
                let list = self.site.records.list(slot);
                for (number, element) in list.iter().enumerate() {
                    self.machine.stand_at(binder, StandsAt::Record(*element));
                    self.judge_members(members, outcomes, Element::Entry(list, number));
                }
            }
            Slot::NotApplicable => {
                let seen = self.machine.seen(list);
                for rule in members {
                    self.switched_off(rule, &[seen]);
                }
            }
            _ => {
                let seen = self.machine.seen(list);
                for (rule, outcome) in members.iter().zip(outcomes) {
                    *outcome = self.list_not_shown(rule, seen);
                }
            }
        }
    }

    fn judge_members(&mut self, members: &[&Rule], outcomes: &mut [Outcome], element: Element<'_>) {
        for (rule, outcome) in members.iter().zip(outcomes) {
            *outcome = worse(*outcome, self.verdict(rule, Some(element)));
        }
    }

    /// A rule over a list that is not shown: one outcome. It waits for the list, unless its `when` rules it out, or is open:
    /// then only what decides that is asked.
    fn list_not_shown(&mut self, rule: &Rule, list: Seen) -> Outcome {
        let binder = rule.group.map(|group| self.rules.groups[group].binder);
        let mut open = None;
        for condition in rule.when.iter().flat_map(|condition| condition.checked.conjuncts()) {
            // What hangs on the missing element cannot be asked; another list of the gate, read inside, can.
            if condition.fields().iter().any(|field| Some(field.binder) == binder) {
                continue;
            }
            let truth = self.machine.truth(condition.op);
            if truth.is_false() {
                return Outcome::DoesNotApply;
            }
            if truth.is_open() {
                open.get_or_insert(condition);
            }
        }
        if let Some(condition) = open {
            let waiting = self.machine.waiting(condition);
            self.not_shown(rule, None, waiting);
            return Outcome::NotShown;
        }
        let mut waiting = Waiting::default();
        match self.site.slot(list) {
            Slot::Unreadable => waiting.unreadable.push(list),
            _ => waiting.missing.push(list),
        }
        self.not_shown(rule, None, waiting);
        Outcome::NotShown
    }

    /// What a rule comes to at the element at hand.
    fn verdict(&mut self, rule: &Rule, element: Option<Element<'_>>) -> Outcome {
        let when = if rule.when.is_empty() { Truth::TRUE } else { self.machine.truth(rule.when_op) };
        if when.is_false() {
            return Outcome::DoesNotApply;
        }
        let require = self.machine.truth(rule.require.checked.op);
        let outcome = outcome(when, require);
        match outcome {
            Outcome::Met => self.met(rule),
            Outcome::NotMet => self.not_met(rule, element),
            Outcome::NotShown => {
                let waiting = self.waiting(rule, when);
                self.not_shown(rule, element, waiting);
            }
            Outcome::DoesNotApply => {
                if rule.facts.weight == Weight::Hazard && (when.is_not_applicable() || require.is_not_applicable()) {
                    let mut fields = Vec::new();
                    for condition in rule.when.iter().chain([&rule.require]) {
                        fields.extend(self.machine.not_applicable(&condition.checked));
                    }
                    self.switched_off(rule, &fields);
                }
            }
        }
        outcome
    }

    /// What an open outcome waits for: while it is open whether the rule applies, only that is asked.
    fn waiting(&mut self, rule: &Rule, when: Truth) -> Waiting {
        if when.is_open() {
            // The pack's condition stands first: until it is known, the rule's own is not asked about.
            for condition in &rule.when {
                if self.machine.truth(condition.checked.op).is_open() {
                    return self.machine.waiting(&condition.checked);
                }
            }
        }
        self.machine.waiting(&rule.require.checked)
    }

    fn met(&mut self, rule: &Rule) {
        let Some(gate) = self.gate else { return };
        for note in self.notes(rule) {
            let entry = (rule.facts.name.clone(), note);
            let list = &mut self.judged.gates[gate].notes;
            if !list.contains(&entry) {
                list.push(entry);
            }
        }
        if !self.machine.may_assume(&rule.assumable) {
            return;
        }
        let assumed = self.machine.assumed(&rule.require.checked);
        for assumed in assumed {
            let value = words_of(rule, &assumed);
            let entry = (rule.facts.name.clone(), self.name_of(&assumed), value);
            let list = &mut self.judged.gates[gate].met_by_assumption;
            if !list.contains(&entry) {
                list.push(entry);
            }
        }
    }

    fn not_met(&mut self, rule: &Rule, element: Option<Element<'_>>) {
        let blame = self.machine.blame(&rule.require.checked);
        let mut fields = blame.fields.clone();
        if let Some(at) = rule.at {
            let at = self.machine.seen(at);
            fields.retain(|seen| *seen != at);
            fields.insert(0, at);
        }
        if fields.is_empty() {
            fields
                .extend(rule.when.iter().flat_map(|when| when.checked.fields()).map(|field| self.machine.seen(field)));
        }
        let (primary, mut labels) = self.site.point(fields.first().copied(), self.gate_record());
        for seen in fields.iter().skip(1) {
            if labels.len() < MOST_LABELS {
                let (label, used) = self.site.point(Some(*seen), self.gate_record());
                labels.push(label);
                labels.extend(used);
            }
        }
        labels.retain(|label| label.span != primary.span);
        let beside = compared(&mut self.machine, &rule.require.checked);
        let mut message = self.printer.message(&mut self.machine, &rule.message, &beside);
        if let Some(fails_at) = blame.fails_at {
            message.push_str(&self.printer.fails_at(fails_at));
        }
        let assumed = self.assumed(rule);
        let because = self.printer.because(&blame.steps, &rule.require.text, MOST_STEPS);
        let field = fields.first().map(|seen| self.site.path(*seen));
        let finding = self.finding(rule, Outcome::NotMet, element, message, primary, field);
        // Where another part of the requirement is to blame first, its figures failed as well.
        let of_rule = rule.require.checked.figures();
        let workings = self.workings(if blame.figures.is_empty() { &of_rule } else { &blame.figures });
        self.judged.findings.push(Finding { labels, assumed, because, workings, ..finding });
    }

    /// The working of the figures that a finding rests on, one line each.
    fn workings(&self, figures: &[FigureRef]) -> Vec<String> {
        let working = Working {
            vocabulary: self.site.vocabulary,
            gate: self.rules.gate,
            site: self.site,
            machine: &self.machine,
            printer: self.printer,
        };
        // A figure that is one of its fields has no working: the field is shown.
        let worked = figures.iter().filter(|figure| !figure.is_choice());
        worked.map(|figure| self.printer.working(&working.of_rule(figure))).collect()
    }

    fn not_shown(&mut self, rule: &Rule, element: Option<Element<'_>>, waiting: Waiting) {
        let finding = (!waiting.is_only_unreadable()).then(|| self.not_shown_finding(rule, element, &waiting));
        let RuleFacts { name, weight, .. } = &rule.facts;
        self.judged.waits.push(Wait { rule: name.clone(), weight: *weight, gate: self.gate, finding, waiting });
    }

    /// Adds the finding of a rule that waits for facts; its index.
    fn not_shown_finding(&mut self, rule: &Rule, element: Option<Element<'_>>, waiting: &Waiting) -> usize {
        let lists = waiting.empty.iter().map(|empty| empty.list);
        let facts: Vec<Seen> = waiting.missing.iter().chain(&waiting.one_ended).copied().chain(lists).collect();
        let fallback = || rule.require.checked.fields().first().map(|field| self.machine.seen(*field));
        let first = facts.first().copied().or_else(fallback);
        let (primary, labels) = self.site.point(first, self.gate_record());
        let message = self.printer.not_shown(&rule.facts.title, waiting);
        let field = first.map(|seen| self.site.path(seen));
        let mut missing: Vec<String> = Vec::new();
        for path in facts.into_iter().map(|seen| self.site.path(seen)) {
            if !missing.contains(&path) {
                missing.push(path);
            }
        }
        let finding = self.finding(rule, Outcome::NotShown, element, message, primary, field);
        self.judged.findings.push(Finding { labels, missing, ..finding });
        self.judged.findings.len() - 1
    }

    fn finding(
        &mut self,
        rule: &Rule,
        outcome: Outcome,
        element: Option<Element<'_>>,
        message: String,
        primary: Label,
        field: Option<String>,
    ) -> Finding {
        let called = match element {
            Some(Element::Entry(list, index)) => self.called(list, index),
            _ => None,
        };
        Finding {
            rule: rule.facts.name.clone(),
            weight: rule.facts.weight,
            outcome,
            gate: self.gate.map(|gate| self.judged.gates[gate].mark.clone()),
            gate_index: self.gate,
            element: element.map(Element::label),
            called,
            field,
            message,
            primary,
            labels: Vec::new(),
            help: None,
            missing: Vec::new(),
            waiting: Vec::new(),
            assumed: Vec::new(),
            because: Vec::new(),
            workings: Vec::new(),
            notes: self.notes(rule),
            deviation: None,
            key: String::new(),
        }
    }

    /// What the submittal calls an element of a list.
    fn called(&mut self, list: &[RecordIndex], index: usize) -> Option<String> {
        let site = self.site;
        let nodes = || list.iter().map(|element| site.records.record(*element).node).collect::<Vec<_>>();
        let names = self.names.entry(*list.first()?).or_insert_with(|| names(site.tree, &nodes()));
        names.get(index)?.clone()
    }

    fn notes(&mut self, rule: &Rule) -> Vec<String> {
        let mut notes = Vec::new();
        for note in &rule.notes {
            let holds = note.when.as_ref().is_none_or(|when| self.machine.truth(when.checked.op).is_true());
            if holds {
                notes.push(self.printer.message(&mut self.machine, &note.text, &[]));
            }
        }
        notes
    }

    fn assumed(&mut self, rule: &Rule) -> Vec<(String, String)> {
        let mut assumed = Vec::new();
        for found in self.machine.assumed(&rule.require.checked) {
            let value = words_of(rule, &found);
            assumed.push((self.name_of(&found), value));
        }
        assumed
    }

    /// The field that an assumed value stands in for, or the input of the figure that assumes it.
    fn name_of(&self, assumed: &Assumed) -> String {
        match assumed {
            Assumed::ByRule { field, .. } | Assumed::ByFigure { field: Some(field), .. } => self.site.path(*field),
            Assumed::ByFigure { field: None, input, .. } => (*input).to_owned(),
        }
    }

    fn switched_off(&mut self, rule: &Rule, fields: &[Seen]) {
        if rule.facts.weight != Weight::Hazard {
            return;
        }
        for seen in fields {
            let entry = SwitchedOff {
                rule: rule.facts.name.clone(),
                gate: self.gate.map(|gate| self.judged.gates[gate].mark.clone()),
                gate_index: self.gate,
                field: self.site.path(*seen),
                span: self.site.point(Some(*seen), self.gate_record()).0.span,
            };
            // Gates are judged one after the other: what is known of this one stands last.
            let of_gate = self.judged.switched_off.iter().rev().take_while(|known| known.gate_index == self.gate);
            if !of_gate.into_iter().any(|known| *known == entry) {
                self.judged.switched_off.push(entry);
            }
        }
    }

    fn gate_record(&self) -> RecordIndex {
        self.gate.map_or(0, |gate| self.judged.gates[gate].record)
    }

    fn record(&mut self, index: usize, outcome: Outcome) {
        let outcomes = match self.gate {
            Some(gate) => &mut self.judged.gates[gate].outcomes,
            None => &mut self.judged.outcomes,
        };
        outcomes[index] = Some(outcome);
    }
}

/// The element that a rule is judged at.
#[derive(Debug, Clone, Copy)]
enum Element<'a> {
    /// An element of a list, by its index.
    Entry(&'a [RecordIndex], usize),
    /// A choice.
    Choice(&'a str),
}

impl Element<'_> {
    /// What findings call it: its number, or the choice.
    fn label(self) -> String {
        match self {
            Element::Entry(_, index) => (index + 1).to_string(),
            Element::Choice(name) => name.to_owned(),
        }
    }
}

/// Labels beside the primary one.
const MOST_LABELS: usize = 6;
/// Evaluated sub-expressions that a finding carries.
const MOST_STEPS: usize = 8;

/// The words for a value that was assumed: those of the rule, or of the figure.
fn words_of(rule: &Rule, assumed: &Assumed) -> String {
    match assumed {
        Assumed::ByRule { span, .. } => rule.require.text.get(span.clone()).unwrap_or_default().to_owned(),
        Assumed::ByFigure { words, .. } => (*words).to_owned(),
    }
}
