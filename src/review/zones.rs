//! The entrapment and injury zones that the geometry of a powered gate implies, beside the zones that are declared.
//!
//! Where each zone lies, in which direction the leaf moves, and what of the geometry makes it one. The conditions are in
//! the rule language, so that a missing fact leaves a zone open and is named. Called by the worksheet.

use std::sync::Arc;

use crate::document::Tree;
use crate::expr::{
    Binders, Checked, Checker, DOCUMENT, GATE, Machine, PackNames, Program, Scope, StandsAt, Truth, parse,
};
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
    /// When the geometry makes it one; empty: always.
    implied: &'static str,
    source: &'static str,
}

/// Without a motor there is none of them.
const POWERED: &str = "gate.operation is one of [powered, manual_to_be_powered]";
const PAIR: &str = "gate.meets is leaf or shown(gate.pair_with) or (shown(gate.leaves) and gate.leaves is 2)";
const BASIS: &str = "UL 325 (2 1/4 in to 16 in), as reproduced; secondary";

const ZONES: [Zone; 11] = [
    Zone {
        name: "leading_edge",
        direction: "closing",
        place: "the leading edge against the latch post, the receiver or a wall",
        trigger: "the gap falls to nothing",
        implied: "",
        source: BASIS,
    },
    Zone {
        name: "receiver",
        direction: "closing",
        place: "the mouth of the receiver and its guides",
        trigger: "a hand fits into it; there is none where two leaves meet",
        implied: "not (PAIR)",
        source: "derived from the receiver's shape",
    },
    Zone {
        name: "meeting_edges",
        direction: "closing",
        place: "the meeting edges of two leaves",
        trigger: "the gap falls to nothing",
        implied: PAIR,
        source: "by analogy with the leading edge, from memory",
    },
    Zone {
        name: "front_post_public",
        direction: "both",
        place: "members of the leaf passing the front support post, public side",
        trigger: "openings of 2 1/4 in or more in the leaf, or more than 2 1/4 in between leaf and post",
        implied: "gate.leaf.infill.largest_opening >= 2 1/4 in or any(gate.support_posts as p where p.role is fulcrum, p.leaf_gap > 2 1/4 in)",
        source: BASIS,
    },
    Zone {
        name: "front_post_secure",
        direction: "both",
        place: "members of the leaf passing the front support post, secure side",
        trigger: "openings of 2 1/4 in or more in the leaf, or more than 2 1/4 in between leaf and post",
        implied: "gate.leaf.infill.largest_opening >= 2 1/4 in or any(gate.support_posts as p where p.role is fulcrum, p.leaf_gap > 2 1/4 in)",
        source: BASIS,
    },
    Zone {
        name: "rear_post_secure",
        direction: "both",
        place: "members of the tail passing the rear support post, secure side",
        trigger: "openings of 2 1/4 in or more in the tail, or more than 2 1/4 in between leaf and post",
        implied: "(gate.leaf.infill.covers is whole_leaf and gate.leaf.infill.largest_opening >= 2 1/4 in) or (gate.leaf.infill.covers is opening_part and (gate.leaf.tail_infill.kind is none or gate.leaf.tail_infill.largest_opening >= 2 1/4 in)) or any(gate.support_posts as p where p.role is tail, p.leaf_gap > 2 1/4 in)",
        source: "derived from the guarding of the tail",
    },
    Zone {
        name: "tail_end",
        direction: "opening",
        place: "the tail end against a wall, a post or an object behind it",
        trigger: "less than 16 in between the open leaf and what stands behind it",
        implied: "figure.tail_room < 16 in or any(gate.fixed_objects as object, object.beyond_tail < 16 in)",
        source: "UL 325 (16 in), as reproduced; secondary",
    },
    Zone {
        name: "tail_members",
        direction: "closing",
        place: "verticals and diagonals of the tail coming up to the support posts",
        trigger: "openings of 2 1/4 in or more in the tail",
        implied: "(gate.leaf.infill.covers is whole_leaf and gate.leaf.infill.largest_opening >= 2 1/4 in) or (gate.leaf.infill.covers is opening_part and (gate.leaf.tail_infill.kind is none or gate.leaf.tail_infill.largest_opening >= 2 1/4 in))",
        source: "derived from the guarding of the tail",
    },
    Zone {
        name: "covered_fence",
        direction: "both",
        place: "the fence behind which the open leaf slides: reaching through",
        trigger: "openings of 2 1/4 in or more in that fence, or guarded lower than 72 in",
        implied: "gate.covered_fence.largest_opening >= 2 1/4 in or gate.covered_fence.guarded_to < 72 in",
        source: "ASTM F2200 (2 1/4 in, 72 in), as quoted; secondary",
    },
    Zone {
        name: "under_leaf",
        direction: "both",
        place: "under the leaf",
        trigger: "a bottom gap of more than 4 in and less than 16 in; a zone by the definition for swing gates only",
        implied: "gate.leaf.bottom_gap > 4 in and gate.leaf.bottom_gap < 16 in",
        source: "UL 325, definition for swing gates, as reproduced; secondary",
    },
    Zone {
        name: "drive",
        direction: "both",
        place: "chain, sprocket, rack and pinion of the drive",
        trigger: "not covered",
        implied: "not gate.operator.drive_guarded",
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
    /// The facts that are not shown, leave an end open, or cannot be read.
    pub missing: Vec<String>,
}

/// The conditions of the zones, compiled.
pub(super) struct Zones {
    vocabulary: Arc<Vocabulary>,
    program: Program,
    powered: Option<Checked>,
    /// Of each zone, when the geometry makes it one (none: always), and when it is declared.
    conditions: Vec<(Option<Checked>, Checked)>,
}

impl Zones {
    pub(super) fn new(vocabulary: &Arc<Vocabulary>, gate: RecordId) -> Self {
        let mut program = Program::new();
        let names = PackNames::default();
        let mut binders = Binders::default();
        let mut compiled = |text: &str, program: &mut Program| -> Option<Checked> {
            let mut scope = Scope { vocabulary, gate, tables: &[], pack: &names, bound: Vec::new() };
            let mut checker = Checker::new(&mut scope, &mut binders);
            let expr = parse(text).ok()?;
            let mut checked = checker.condition(&expr);
            if !checker.errors.is_empty() {
                return None;
            }
            program.compile(&mut checked, 1);
            Some(checked)
        };
        let mut conditions = Vec::new();
        for zone in &ZONES {
            let geometry = match zone.implied {
                "" => None,
                geometry => compiled(&geometry.replace("PAIR", PAIR), &mut program),
            };
            if let Some(declared) = compiled(&declared(zone), &mut program) {
                conditions.push((geometry, declared));
            }
        }
        let powered = compiled(POWERED, &mut program);
        Zones { vocabulary: Arc::clone(vocabulary), program, powered, conditions }
    }

    /// The zones of one gate.
    pub(super) fn of_gate(&self, tree: &Tree, records: &Records, gate: RecordIndex) -> Vec<ZoneLine> {
        let mut machine = Machine::new(&self.program, tree, records, Symbol::default());
        let site = Site { vocabulary: &self.vocabulary, tree, records };
        machine.stand_at(DOCUMENT, StandsAt::Record(0));
        machine.stand_at(GATE, StandsAt::Record(gate));
        let known = |truth: Truth| match truth {
            truth if truth.is_false() => Some(false),
            truth if truth.is_not_applicable() => Some(false),
            truth if truth.is_open() => None,
            // A declared range that reaches the limit makes it a zone.
            _ => Some(true),
        };
        let mut lines = Vec::new();
        for (zone, (geometry, declared)) in ZONES.iter().zip(&self.conditions) {
            // Geometry that does not apply makes no zone, whoever moves the leaf.
            let conditions = || self.powered.iter().chain(geometry);
            let parts: Vec<Option<bool>> = conditions().map(|part| known(machine.truth(part.op))).collect();
            let implied = match parts.contains(&Some(false)) {
                true => Some(false),
                false if parts.contains(&None) => None,
                false => Some(true),
            };
            let mut missing: Vec<String> = Vec::new();
            if implied.is_none() {
                for condition in conditions() {
                    let waiting = machine.waiting(condition);
                    let asked = waiting.missing.into_iter().chain(waiting.one_ended).chain(waiting.unreadable);
                    for path in asked.map(|seen| site.path(seen)) {
                        if !missing.contains(&path) {
                            missing.push(path);
                        }
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
                declared: known(machine.truth(declared.op)),
                missing,
            });
        }
        lines
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
    fn every_condition_is_in_the_rule_language() {
        let vocabulary = Arc::new(submittal_vocabulary().unwrap());
        let zones = Zones::new(&vocabulary, vocabulary.gate().unwrap_or_default());
        assert_eq!(zones.conditions.len(), ZONES.len());
    }
}
