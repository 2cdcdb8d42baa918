//! `replaces:`: a rule of a pack of one's own stands in for another.
//!
//! A replacement may be replaced in its turn (a county's rule by a city's); what is left names the rule at the root, so that
//! reports say which of the rules that everybody knows is no longer in force.

use std::collections::HashSet;

use super::build::Builder;
use super::raw::RawPack;
use super::set::Rule;
use crate::problem::Problem;
use crate::review::Weight;
use crate::vocabulary::nearest_name;

impl Builder<'_> {
    /// Takes out the rules that others replace; a hazard only makes way for a hazard.
    pub(super) fn replace(&mut self, packs: &[(RawPack, bool)]) {
        let mut gone: HashSet<String> = HashSet::new();
        let mut problems = Vec::new();
        let roots: Vec<Option<String>> = self.rules.iter().map(|rule| root(&self.rules, rule)).collect();
        for (rule, root) in self.rules.iter().zip(&roots) {
            let Some(replaced) = &rule.facts.replaces else {
                continue;
            };
            let file = packs[rule.pack].0.tree.source();
            match self.rules.iter().find(|other| other.facts.name == *replaced) {
                None => {
                    let known: Vec<&str> = self.rules.iter().map(|rule| rule.facts.name.as_str()).collect();
                    let message = format!("`{}` replaces `{replaced}`, and there is no such rule", rule.facts.name);
                    let problem = Problem::fault("replaces", rule.span, message);
                    problems.push((
                        file.clone(),
                        match nearest_name(replaced, known.iter().copied()) {
                            Some(near) => problem.with_help(format!("did you mean `{near}`?")),
                            None => problem,
                        },
                    ));
                }
                Some(other) if other.facts.weight == Weight::Hazard && rule.facts.weight != Weight::Hazard => {
                    let message =
                        format!("`{replaced}` is a hazard; `{}`, which replaces it, must be one too", rule.facts.name);
                    problems.push((file.clone(), Problem::fault("replaces", rule.span, message)));
                }
                Some(_) if root.is_none() => {
                    let message =
                        format!("`{}` replaces `{replaced}`, and is replaced by it in the end", rule.facts.name);
                    problems.push((file.clone(), Problem::fault("replaces", rule.span, message)));
                }
                Some(_) => {
                    if !gone.insert(replaced.clone()) {
                        let message = format!("`{replaced}` is replaced by two rules");
                        problems.push((file.clone(), Problem::fault("replaces", rule.span, message)));
                    }
                }
            }
        }
        for (file, problem) in problems {
            self.problems.push(&file, problem);
        }
        for (rule, root) in self.rules.iter_mut().zip(roots) {
            rule.facts.replaces = root;
        }
        self.rules.retain(|rule| !gone.contains(&rule.facts.name));
    }
}

/// The last rule of the chain that a rule's `replaces:` begins; `None` where there is none, or where the chain has no end.
fn root(rules: &[Rule], rule: &Rule) -> Option<String> {
    let mut name = rule.facts.replaces.as_ref()?;
    for _ in rules {
        match rules.iter().find(|other| other.facts.name == *name).and_then(|other| other.facts.replaces.as_ref()) {
            Some(next) => name = next,
            None => return Some(name.clone()),
        }
    }
    None
}
