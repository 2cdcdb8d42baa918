//! The entrapment and injury zones that the geometry of a powered gate implies, beside the zones that are declared.
//!
//! Where each zone lies, in which direction the leaf moves, and what of the geometry makes it one. The conditions are in
//! the rule language, so that a missing fact leaves a zone open and is named. Called by the worksheet.

use std::sync::Arc;

use crate::document::Tree;
use crate::expr::{Binders, Checked, Checker, DOCUMENT, GATE, Machine, PackNames, Program, Scope, StandsAt, parse};
use crate::submittal::{RecordIndex, Records};
use crate::vocabulary::{RecordId, Symbol, Vocabulary};

use super::site::Site;

/// A usual zone of a cantilever slide gate.
struct Zone {
    /// Its name among the choices of `entrapment_zones.zone`.
    name: &'static str,
    direction: &'static str,
    place: &'static str,
    trigger: &'static str,
    /// When the geometry makes it one.
    implied: When,
    /// When the rule `entrapment/undeclared-zone` asks for it, whatever the geometry: a submittal speaks of each usual place.
    asked: When,
    source: &'static str,
}

/// When something holds of a powered gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum When {
    Always,
    /// Under a condition in the rule language; `PAIR` in it stands for [`PAIR`].
    If(&'static str),
    Never,
}

/// Without a motor there is none of them.
const MOTORIZED: &str = "gate.operation is one of [powered, manual_to_be_powered]";
/// Of these the rule asks for zones.
const POWERED: &str = "gate.operation is powered";
const PAIR: &str = "gate.meets is leaf or shown(gate.pair_with) or (shown(gate.leaves) and gate.leaves is 2)";
const BASIS: &str = "UL 325 (2 1/4 in to 16 in), as reproduced; secondary";

const ZONES: [Zone; 11] = [
    Zone {
        name: "leading_edge",
        direction: "closing",
        place: "the leading edge against the latch post, the receiver or a wall",
        trigger: "the gap falls to nothing",
        implied: When::Always,
        asked: When::Always,
        source: BASIS,
    },
    Zone {
        name: "receiver",
        direction: "closing",
        place: "the mouth of the receiver and its guides",
        trigger: "a hand fits into it; there is none where two leaves meet",
        implied: When::If("not (PAIR)"),
        asked: When::If(
            "(shown(gate.meets) and gate.meets is latch_post) or (not shown(gate.meets) and gate.leaves is 1 and not shown(gate.pair_with))",
        ),
        source: "derived from the receiver's shape",
    },
    Zone {
        name: "meeting_edges",
        direction: "closing",
        place: "the meeting edges of two leaves",
        trigger: "the gap falls to nothing",
        implied: When::If(PAIR),
        asked: When::If(
            "(shown(gate.meets) and gate.meets is leaf) or shown(gate.pair_with) or (shown(gate.leaves) and gate.leaves is 2)",
        ),
        source: "by analogy with the leading edge, from memory",
    },
    Zone {
        name: "front_post_public",
        direction: "both",
        place: "members of the leaf passing the front support post, public side",
        trigger: "openings of 2 1/4 in or more in the leaf, or more than 2 1/4 in between leaf and post",
        implied: When::If(
            "gate.leaf.infill.largest_opening >= 2 1/4 in or any(gate.support_posts as p where p.role is fulcrum, p.leaf_gap > 2 1/4 in)",
        ),
        asked: When::Always,
        source: BASIS,
    },
    Zone {
        name: "front_post_secure",
        direction: "both",
        place: "members of the leaf passing the front support post, secure side",
        trigger: "openings of 2 1/4 in or more in the leaf, or more than 2 1/4 in between leaf and post",
        implied: When::If(
            "gate.leaf.infill.largest_opening >= 2 1/4 in or any(gate.support_posts as p where p.role is fulcrum, p.leaf_gap > 2 1/4 in)",
        ),
        asked: When::Always,
        source: BASIS,
    },
    Zone {
        name: "rear_post_secure",
        direction: "both",
        place: "members of the tail passing the rear support post, secure side",
        trigger: "openings of 2 1/4 in or more in the tail, or more than 2 1/4 in between leaf and post",
        implied: When::If(
            "(gate.leaf.infill.covers is whole_leaf and gate.leaf.infill.largest_opening >= 2 1/4 in) or (gate.leaf.infill.covers is opening_part and (gate.leaf.tail_infill.kind is none or gate.leaf.tail_infill.largest_opening >= 2 1/4 in)) or any(gate.support_posts as p where p.role is tail, p.leaf_gap > 2 1/4 in)",
        ),
        asked: When::Always,
        source: "derived from the guarding of the tail",
    },
    Zone {
        name: "tail_end",
        direction: "opening",
        place: "the tail end against a wall, a post or an object behind it",
        trigger: "less than 16 in between the open leaf and what stands behind it",
        implied: When::If("figure.tail_room < 16 in or any(gate.fixed_objects as object, object.beyond_tail < 16 in)"),
        asked: When::Always,
        source: "UL 325 (16 in), as reproduced; secondary",
    },
    Zone {
        name: "tail_members",
        direction: "closing",
        place: "verticals and diagonals of the tail coming up to the support posts",
        trigger: "openings of 2 1/4 in or more in the tail",
        implied: When::If(
            "(gate.leaf.infill.covers is whole_leaf and gate.leaf.infill.largest_opening >= 2 1/4 in) or (gate.leaf.infill.covers is opening_part and (gate.leaf.tail_infill.kind is none or gate.leaf.tail_infill.largest_opening >= 2 1/4 in))",
        ),
        asked: When::Always,
        source: "derived from the guarding of the tail",
    },
    Zone {
        name: "covered_fence",
        direction: "both",
        place: "the fence behind which the open leaf slides: reaching through",
        trigger: "openings of 2 1/4 in or more in that fence, or guarded lower than 72 in",
        implied: When::If("gate.covered_fence.largest_opening >= 2 1/4 in or gate.covered_fence.guarded_to < 72 in"),
        asked: When::If("gate.covered_fence.largest_opening >= 0 in"),
        source: "ASTM F2200 (2 1/4 in, 72 in), as quoted; secondary",
    },
    Zone {
        name: "under_leaf",
        direction: "both",
        place: "under the leaf",
        trigger: "a bottom gap of more than 4 in and less than 16 in; a zone by the definition for swing gates only",
        implied: When::If("gate.leaf.bottom_gap > 4 in and gate.leaf.bottom_gap < 16 in"),
        asked: When::Never,
        source: "UL 325, definition for swing gates, as reproduced; secondary",
    },
    Zone {
        name: "drive",
        direction: "both",
        place: "chain, sprocket, rack and pinion of the drive",
        trigger: "not covered",
        implied: When::If("not gate.operator.drive_guarded"),
        asked: When::Always,
        source: "UL 325, as reproduced; secondary",
    },
];

/// A zone of a gate, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ZoneLine {
    /// Its name in a submittal.
    pub name: &'static str,
    /// `opening`, `closing` or `both`.
    pub direction: &'static str,
    /// Where it lies.
    pub place: &'static str,
    /// What makes it a zone.
    pub trigger: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// Whether the geometry implies it: `None` where a fact is not shown.
    pub implied: Option<bool>,
    /// Whether it is declared in its direction: `None` where the list is not shown or cannot be read.
    pub declared: Option<bool>,
    /// Whether it is to be declared, with what takes it away where the geometry makes it none.
    pub asked: Option<bool>,
    /// The facts that are not shown, leave an end open, or cannot be read.
    pub missing: Vec<String>,
}

/// The conditions of the zones, compiled.
pub(super) struct Zones {
    vocabulary: Arc<Vocabulary>,
    program: Program,
    conditions: Vec<Conditions>,
}

/// What must hold, all of it, for a zone to be implied, declared or asked for; `None`: it never is.
struct Conditions {
    implied: Option<Vec<Checked>>,
    declared: Vec<Checked>,
    asked: Option<Vec<Checked>>,
}

impl Zones {
    /// Compiles the conditions of all zones.
    ///
    /// # Errors
    /// A condition that is not in the rule language, with why.
    pub(super) fn new(vocabulary: &Arc<Vocabulary>, gate: RecordId) -> Result<Self, String> {
        let mut compiler = Compiler { vocabulary, gate, program: Program::new(), binders: Binders::default() };
        let mut conditions = Vec::new();
        for zone in &ZONES {
            conditions.push(Conditions {
                implied: compiler.when(MOTORIZED, zone.implied)?,
                declared: vec![compiler.condition(&declared(zone))?],
                asked: compiler.when(POWERED, zone.asked)?,
            });
        }
        Ok(Zones { vocabulary: Arc::clone(vocabulary), program: compiler.program, conditions })
    }

    /// The zones of one gate.
    pub(super) fn of_gate(&self, tree: &Tree, records: &Records, gate: RecordIndex) -> Vec<ZoneLine> {
        let mut machine = Machine::new(&self.program, tree, records, Symbol::default());
        let site = Site { vocabulary: &self.vocabulary, tree, records };
        machine.stand_at(DOCUMENT, StandsAt::Record(0));
        machine.stand_at(GATE, StandsAt::Record(gate));
        let mut lines = Vec::new();
        for (zone, conditions) in ZONES.iter().zip(&self.conditions) {
            let implied = holds(&mut machine, conditions.implied.as_deref());
            let mut missing: Vec<String> = Vec::new();
            for condition in conditions.implied.iter().flatten().filter(|_| implied.is_none()) {
                let waiting = machine.waiting(condition);
                let asked = waiting.missing.into_iter().chain(waiting.one_ended).chain(waiting.unreadable);
                for path in asked.map(|seen| site.path(seen)) {
                    if !missing.contains(&path) {
                        missing.push(path);
                    }
                }
            }
            lines.push(ZoneLine {
                name: zone.name,
                direction: zone.direction,
                place: zone.place,
                trigger: zone.trigger,
                source: zone.source,
                implied,
                declared: holds(&mut machine, Some(&conditions.declared)),
                asked: holds(&mut machine, conditions.asked.as_deref()),
                missing,
            });
        }
        lines
    }
}

/// Whether all of some conditions hold; `None` where that is open. What does not apply makes no zone, and a declared range
/// that reaches a limit makes one.
fn holds(machine: &mut Machine<'_>, conditions: Option<&[Checked]>) -> Option<bool> {
    let Some(conditions) = conditions else { return Some(false) };
    let mut all = Some(true);
    for condition in conditions {
        let truth = machine.truth(condition.op);
        if truth.is_false() || truth.is_not_applicable() {
            return Some(false);
        }
        if truth.is_open() {
            all = None;
        }
    }
    all
}

/// Compiles conditions into one program.
struct Compiler<'v> {
    vocabulary: &'v Vocabulary,
    gate: RecordId,
    program: Program,
    binders: Binders,
}

impl Compiler<'_> {
    /// The conditions that hold together where something holds of a gate that is moved in some way.
    fn when(&mut self, moved: &str, when: When) -> Result<Option<Vec<Checked>>, String> {
        Ok(match when {
            When::Never => None,
            When::Always => Some(vec![self.condition(moved)?]),
            When::If(text) => Some(vec![self.condition(moved)?, self.condition(&text.replace("PAIR", PAIR))?]),
        })
    }

    fn condition(&mut self, text: &str) -> Result<Checked, String> {
        let names = PackNames::default();
        let mut scope =
            Scope { vocabulary: self.vocabulary, gate: self.gate, tables: &[], pack: &names, bound: Vec::new() };
        let mut checker = Checker::new(&mut scope, &mut self.binders);
        let expr = parse(text).map_err(|error| format!("{text}: {}", error.message))?;
        let mut checked = checker.condition(&expr);
        if let Some(error) = checker.errors.first() {
            return Err(format!("{text}: {}", error.message));
        }
        self.program.compile(&mut checked, 1);
        Ok(checked)
    }
}

/// The condition that a zone is declared for every direction in which it is one.
fn declared(zone: &Zone) -> String {
    let one = |direction: &str| {
        format!(
            "any(gate.entrapment_zones as z, z.zone is {} and z.direction is one of [{direction}, both])",
            zone.name
        )
    };
    match zone.direction {
        "both" => format!("{} and {}", one("opening"), one("closing")),
        direction => one(direction),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rule::submittal_vocabulary;

    #[test]
    fn every_condition_is_in_the_rule_language_and_one_that_is_not_is_told() {
        let vocabulary = Arc::new(submittal_vocabulary().unwrap());
        let gate = vocabulary.gate().unwrap_or_default();
        let zones = Zones::new(&vocabulary, gate).map_err(|error| panic!("{error}")).unwrap();
        assert_eq!(zones.conditions.len(), ZONES.len());
        for (zone, conditions) in ZONES.iter().zip(&zones.conditions) {
            let count = |when| match when {
                When::Never => None,
                When::Always => Some(1),
                When::If(_) => Some(2),
            };
            assert_eq!(conditions.implied.as_ref().map(Vec::len), count(zone.implied), "{}", zone.name);
            assert_eq!(conditions.asked.as_ref().map(Vec::len), count(zone.asked), "{}", zone.name);
        }
        let mut compiler =
            Compiler { vocabulary: &vocabulary, gate, program: Program::new(), binders: Binders::default() };
        for broken in ["gate.leaf.botom_gap > 4 in", "gate.leaf.bottom_gap >"] {
            assert!(compiler.when(POWERED, When::If(broken)).is_err(), "{broken}");
        }
    }
}
