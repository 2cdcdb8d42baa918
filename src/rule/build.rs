//! Rules from records to checked, compiled form.
//!
//! The loader hands in pack after pack and takes the rule set at the end. All packs go into one program here, so that what
//! two rules ask in the same words is one operation; a rule with an error is left out, and every error is told.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::case::read_cases;
use super::error::PackProblems;
use super::express::Reporter;
use super::names::names;
use super::raw::{RawPack, Text};
use super::set::{Group, Over, Rule, RuleSet};
use super::words;
use crate::expr::{Assumable, Binders, Bound, Checker, Node, PackNames, Program, Scope, Table, parse_each};
use crate::problem::Problem;
use crate::review::{RuleFacts, Weight};
use crate::submittal::RecordIndex;
use crate::vocabulary::{FieldKind, RecordId, Symbol, Vocabulary};

/// The depth of what is bound right below the gate, by `each` or by a function over one of its lists.
const BELOW_GATE: u16 = 2;

/// Builds a rule set pack by pack.
pub(super) struct Builder<'p> {
    vocabulary: Arc<Vocabulary>,
    gate: RecordId,
    program: Program,
    tables: Vec<Table>,
    pub(super) rules: Vec<Rule>,
    groups: Vec<Group>,
    choices: Vec<Vec<Symbol>>,
    binders: Binders,
    pub(super) problems: &'p mut PackProblems,
}

impl<'p> Builder<'p> {
    pub(super) fn new(vocabulary: Arc<Vocabulary>, problems: &'p mut PackProblems) -> Self {
        Builder {
            gate: vocabulary.gate().unwrap_or_default(),
            vocabulary,
            program: Program::new(),
            tables: Vec::new(),
            rules: Vec::new(),
            groups: Vec::new(),
            choices: Vec::new(),
            binders: Binders::default(),
            problems,
        }
    }

    pub(super) fn finish(mut self) -> RuleSet {
        self.program.tables = self.tables;
        let members = members(&self.rules, self.groups.len());
        let names = self.rules.iter().enumerate().map(|(index, rule)| (index, Arc::from(rule.facts.name.as_str())));
        let mut by_name: Vec<(usize, Arc<str>)> = names.collect();
        by_name.sort_by(|(_, a), (_, b)| a.cmp(b));
        RuleSet {
            members,
            by_name,
            vocabulary: self.vocabulary,
            gate: self.gate,
            program: self.program,
            rules: self.rules,
            packs: Vec::new(),
            groups: self.groups,
            choices: self.choices,
        }
    }

    pub(super) fn pack(&mut self, index: usize, pack: &RawPack, shipped: bool) {
        let vocabulary = Arc::clone(&self.vocabulary);
        let names = names(pack, &vocabulary, &mut self.tables, self.problems);
        let mut seen: BTreeMap<&str, Text<'_>> = BTreeMap::new();
        for record in pack.list(0, "rules") {
            let Some(name) = pack.text(*record, "name") else {
                continue;
            };
            match seen.get(name.text) {
                Some(first) => {
                    let message = format!("the rule name `{}` stands twice in this pack", name.text);
                    let problem = Problem::fault("duplicate-name", pack.tree.span(name.node), message)
                        .with_label(pack.tree.span(first.node), "first used here");
                    self.problems.push(pack.tree.source(), problem);
                }
                None => {
                    seen.insert(name.text, name);
                    self.rule(index, pack, *record, &names, shipped);
                }
            }
        }
    }

    fn rule(&mut self, index: usize, pack: &RawPack, record: RecordIndex, names: &PackNames, shipped: bool) {
        let vocabulary = Arc::clone(&self.vocabulary);
        let tables = std::mem::take(&mut self.tables);
        let mut scope =
            Scope { vocabulary: &vocabulary, gate: self.gate, tables: &tables, pack: names, bound: Vec::new() };
        let mut reporter = Reporter { pack, problems: &mut *self.problems, shipped };
        let mut over = None;
        let mut unreadable = false;
        let mut uses_gate = false;
        if let Some(text) = pack.text(record, "each") {
            let mut checker = Checker::new(&mut scope, &mut self.binders);
            match each(&mut checker, text, &mut reporter) {
                Some((found, name)) => {
                    uses_gate = checker.uses_gate;
                    let group = group(&mut self.groups, &mut self.choices, &mut self.binders, &found, uses_gate);
                    let binder = self.groups[group].binder;
                    self.program.declare(binder, BELOW_GATE);
                    let bound = match &self.groups[group].over {
                        Over::List(_) => Bound::Record(binder, found.element()),
                        Over::Choices(choices) => Bound::Choice(binder, self.choices[*choices].clone()),
                    };
                    scope.bound.push((name, bound));
                    over = Some(group);
                }
                None => unreadable = true,
            }
        }
        let mut checker = Checker::new(&mut scope, &mut self.binders);
        let mut when = Vec::new();
        for text in [pack.text(0, "when"), pack.text(record, "when")].into_iter().flatten() {
            match reporter.condition(&mut checker, text) {
                Some(condition) => when.push(condition),
                None => unreadable = true,
            }
        }
        let require = pack.text(record, "require").and_then(|text| reporter.condition(&mut checker, text));
        let at = pack.text(record, "at").and_then(|text| reporter.place(&mut checker, text));
        let message = pack.text(record, "message").map(|text| reporter.template(&mut checker, text));
        let mut notes = reporter.notes(&mut checker, record);
        if over.is_some_and(|group: usize| checker.uses_gate && !self.groups[group].per_gate) {
            let node = pack.text(record, "each").map_or(0, |each| each.node);
            reporter.fault("expression", node, "a rule that names `gate` runs over a list of the gate");
        }
        uses_gate |= checker.uses_gate;
        if checker.uses_gate && checker.uses_gates {
            let node = pack.text(record, "name").map_or(0, |name| name.node);
            reporter.fault("expression", node, "a rule names `gate`, one at a time, or `gates`, all of them, not both");
        }
        let weight = pack.choice(record, "weight").and_then(Weight::from_word);
        let cases = read_cases(pack, record, &vocabulary, &mut reporter);
        self.tables = tables;
        let (Some(mut require), Some(mut message), Some(weight), false) = (require, message, weight, unreadable) else {
            return;
        };
        let depth = if over.is_some() { BELOW_GATE } else { BELOW_GATE - 1 };
        let conditions: Vec<_> =
            when.iter_mut().map(|condition| self.program.compile(&mut condition.checked, depth)).collect();
        let when_op = self.program.both(&conditions);
        self.program.compile(&mut require.checked, depth);
        message.compile(&mut self.program, depth);
        for note in &mut notes {
            if let Some(when) = &mut note.when {
                self.program.compile(&mut when.checked, depth);
            }
            note.text.compile(&mut self.program, depth);
        }
        self.rules.push(Rule {
            facts: facts(pack, record, weight),
            pack: index,
            per_gate: uses_gate,
            group: over,
            when,
            when_op,
            assumable: Assumable::of(&require.checked),
            require,
            at,
            message,
            notes,
            was: pack.texts(record, "was").iter().map(|was| was.text.to_owned()).collect(),
            given: words::given(pack, record, &vocabulary),
            cases,
            span: pack.text(record, "name").map_or_else(Default::default, |name| pack.tree.span(name.node)),
        });
    }
}

/// The rules of each group, those of none first; of the submittal as a whole, and of a gate.
fn members(rules: &[Rule], groups: usize) -> Vec<[Vec<usize>; 2]> {
    let mut members = vec![[Vec::new(), Vec::new()]; groups + 1];
    for (index, rule) in rules.iter().enumerate() {
        members[rule.group.map_or(0, |group| group + 1)][usize::from(rule.per_gate)].push(index);
    }
    members
}

/// What an `each:` runs over, before it has a binder.
enum Found {
    List(crate::expr::FieldRef, RecordId),
    Choices(Vec<Symbol>),
}

impl Found {
    fn element(&self) -> RecordId {
        match self {
            Found::List(_, record) => *record,
            Found::Choices(_) => 0,
        }
    }
}

fn each(checker: &mut Checker<'_, '_>, text: Text<'_>, reporter: &mut Reporter<'_, '_>) -> Option<(Found, String)> {
    let each = match parse_each(text.text) {
        Ok(each) => each,
        Err(error) => {
            reporter.errors(text.node, vec![error], Vec::new());
            return None;
        }
    };
    let found = if each.choices {
        choices_of(checker, &each.path)
    } else {
        checker.list_of_records(&each.path).map(|(list, record)| Found::List(list, record))
    };
    let (errors, warnings) = (std::mem::take(&mut checker.errors), std::mem::take(&mut checker.warnings));
    reporter.errors(text.node, errors, warnings);
    found.map(|found| (found, each.binder.name))
}

/// The choices of a field, which may be a field of a list's elements: `gate.entrapment_zones.zone`.
fn choices_of(checker: &mut Checker<'_, '_>, path: &crate::expr::Expr) -> Option<Found> {
    let Node::Path(parts) = &path.node else {
        checker.errors.push(crate::expr::ExprError::new(path.span.clone(), "the path of a choice field is expected"));
        return None;
    };
    let wanted = parts.join(".");
    let vocabulary = checker.scope.vocabulary;
    checker.uses_gate |= parts[0] == "gate";
    for (record, declared) in vocabulary.records.iter().enumerate() {
        let record = RecordId::try_from(record).unwrap_or_default();
        for (field, declared) in declared.fields.iter().enumerate() {
            let FieldKind::Choice(symbols) = &declared.kind else {
                continue;
            };
            if vocabulary.path_of(record, u16::try_from(field).unwrap_or_default()) == wanted {
                return Some(Found::Choices(symbols.clone()));
            }
        }
    }
    checker.errors.push(crate::expr::ExprError::new(path.span.clone(), format!("there is no choice field `{wanted}`")));
    None
}

/// The group of an `each:`, shared with the rules that run over the same.
fn group(
    groups: &mut Vec<Group>,
    choices: &mut Vec<Vec<Symbol>>,
    binders: &mut Binders,
    found: &Found,
    per_gate: bool,
) -> usize {
    let over = match found {
        Found::List(list, _) => Over::List(*list),
        Found::Choices(symbols) => {
            let known = choices.iter().position(|known| known == symbols);
            Over::Choices(known.unwrap_or_else(|| {
                choices.push(symbols.clone());
                choices.len() - 1
            }))
        }
    };
    if let Some(known) = groups.iter().position(|group| group.over == over && group.per_gate == per_gate) {
        return known;
    }
    groups.push(Group { binder: binders.fresh(), over, per_gate });
    groups.len() - 1
}

fn facts(pack: &RawPack, record: RecordIndex, weight: Weight) -> RuleFacts {
    RuleFacts {
        name: format!("{}/{}", pack.words_at(0, "pack"), pack.words_at(record, "name")),
        title: pack.words_at(record, "title"),
        weight,
        why: pack.words_at(record, "why"),
        remedy: pack.words_at(record, "remedy"),
        local_code: pack.words_at(record, "local_code"),
        standard: pack.words_at(record, "source.standard"),
        clause: pack.words_at(record, "source.clause"),
        edition: pack.words_at(record, "source.edition"),
        authority: pack.choice(record, "source.authority").unwrap_or_default().to_owned(),
        replaces: pack.text(record, "replaces").map(|text| text.text.to_owned()),
    }
}
