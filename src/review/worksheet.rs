//! The worksheet of a submittal: every figure of each gate and its posts, splices and panels, with its working.
//!
//! Called by `gatewright worksheet`. It needs the vocabulary and no rules: the fields are read as for a review, and each
//! figure is worked out as a rule would read it.

use std::sync::Arc;

use super::print::Printer;
use super::site::Site;
use super::working::Working;
use super::zones::{ZoneLine, Zones};
use crate::document::{Limits, Tree, decode, parse};
use crate::expr::{BinderId, ELEMENT_LISTS, Element, GATE, Machine, Program, StandsAt};
use crate::figures::{Of, Worked, all};
use crate::problem::{Gravity, Problem};
use crate::source::{SourceFile, Span};
use crate::submittal::{Mode, Read, RecordIndex, Slot, check, is_of_open_format, is_submittal, read};
use crate::vocabulary::{FieldKind, ListOf, Symbol, Vocabulary};

/// The worksheet of one document.
#[derive(Debug)]
pub struct Worksheet {
    /// Its file.
    pub file: Arc<SourceFile>,
    /// Its number in the file, from 1.
    pub document: u32,
    /// Name of the project.
    pub project: Option<String>,
    /// Number and revision of the submittal.
    pub number: Option<String>,
    /// What is wrong with its structure.
    pub problems: Vec<Problem>,
    /// Whether it could be read far enough to compute.
    pub readable: bool,
    /// Gate by gate.
    pub gates: Vec<GateSheet>,
}

/// The figures of one gate.
#[derive(Debug)]
pub struct GateSheet {
    /// Its mark.
    pub mark: String,
    /// Whether its type is one that is reviewed; no figure is given of another.
    pub reviewed: bool,
    /// The figures: those of the gate, then element by element.
    pub figures: Vec<Worked>,
    /// Entrapment zones that the geometry implies, and whether they are declared; of a gate that is or may be powered.
    pub zones: Vec<ZoneLine>,
}

/// The worksheets of the documents of a file; empty where none is a submittal.
///
/// # Errors
///
/// Where the bytes are no text, the problem with the file; also where the program's own conditions are broken.
pub fn worksheets(
    vocabulary: &Arc<Vocabulary>,
    path: &str,
    bytes: &[u8],
) -> Result<Vec<Worksheet>, (Arc<SourceFile>, Problem)> {
    let text = decode(bytes).map_err(|bad| (Arc::new(SourceFile::new(path, bad.text.as_str())), bad.problem))?;
    let parsed = parse(Arc::new(SourceFile::new(path, text)), &Limits::default());
    let tree = parsed.tree;
    let zones = Zones::new(vocabulary, vocabulary.gate().unwrap_or_default()).map_err(|error| {
        let message = format!("the program's own zones are broken: {error}");
        (Arc::clone(tree.source()), Problem::unreadable("zones", Span::default(), message))
    })?;
    let mut sheets = Vec::new();
    for (number, document) in tree.documents().iter().enumerate() {
        let mut problems: Vec<Problem> =
            parsed.problems.iter().filter(|(at, _)| *at == number).map(|(_, problem)| problem.clone()).collect();
        let Some(root) =
            document.root.filter(|root| is_submittal(&tree, *root)).or(document.root.filter(|_| document.broken))
        else {
            if !problems.is_empty() {
                sheets.push(unreadable(&tree, number, problems));
            }
            continue;
        };
        let read_in = read(&tree, root, vocabulary, 0, Mode::Whole);
        problems.extend(read_in.problems.iter().cloned());
        if !read_in.records.is_empty() {
            problems.extend(check(&tree, vocabulary, &read_in));
        }
        let stops = problems.iter().any(|problem| problem.gravity == Gravity::Unreadable);
        let readable = !(document.broken || stops || read_in.records.is_empty());
        if !readable || is_of_open_format(&tree, vocabulary, &read_in) {
            sheets.push(unreadable(&tree, number, problems));
            continue;
        }
        sheets.push(sheet(vocabulary, &zones, &tree, number, &read_in, problems));
    }
    Ok(sheets)
}

fn unreadable(tree: &Tree, number: usize, problems: Vec<Problem>) -> Worksheet {
    Worksheet {
        file: Arc::clone(tree.source()),
        document: u32::try_from(number + 1).unwrap_or(u32::MAX),
        project: None,
        number: None,
        problems,
        readable: false,
        gates: Vec::new(),
    }
}

fn sheet(
    vocabulary: &Arc<Vocabulary>,
    zones: &Zones,
    tree: &Tree,
    number: usize,
    read_in: &Read,
    problems: Vec<Problem>,
) -> Worksheet {
    let site = Site { vocabulary, tree, records: &read_in.records };
    let mut program = Program::new();
    program.declare(ELEMENT, 2);
    let mut machine = Machine::new(&program, tree, &read_in.records, Symbol::default());
    let gates = site
        .gates()
        .into_iter()
        .enumerate()
        .map(|(index, record)| {
            let reviewed = site.is_reviewed(record);
            let figures = if reviewed { figures(vocabulary, &mut machine, site, record) } else { Vec::new() };
            // A gate of which it is not said how it is moved may be powered: its zones wait for that.
            let manual = site.text_at(record, "operation").is_some_and(|operation| operation == "manual");
            let zones = if reviewed && !manual { zones.of_gate(tree, &read_in.records, record) } else { Vec::new() };
            GateSheet { mark: site.mark(record, index + 1), reviewed, figures, zones }
        })
        .collect();
    let revision = site.text_at(0, "submittal.revision").map_or_else(String::new, |text| format!(", revision {text}"));
    Worksheet {
        file: Arc::clone(tree.source()),
        document: u32::try_from(number + 1).unwrap_or(u32::MAX),
        project: site.text_at(0, "project.name"),
        number: site.text_at(0, "submittal.number").map(|number| format!("{number}{revision}")),
        problems,
        readable: true,
        gates,
    }
}

/// The binder of the post, splice or panel at hand.
const ELEMENT: BinderId = 2;

/// The figures of a gate: its own, then element by element.
fn figures(vocabulary: &Vocabulary, machine: &mut Machine<'_>, site: Site<'_>, gate: RecordIndex) -> Vec<Worked> {
    let (record, printer) = (vocabulary.gate().unwrap_or_default(), Printer::new(site));
    machine.stand_at(GATE, StandsAt::Record(gate));
    let of = |machine: &Machine<'_>, of: Of, element: Option<Element>, name: Option<&str>| -> Vec<Worked> {
        let working = Working { vocabulary: site.vocabulary, gate: record, site, machine, printer };
        all().filter(|figure| figure.of == of).filter_map(|figure| working.figure(figure, element, name)).collect()
    };
    let mut out = of(machine, Of::Gate, None, None);
    for (path, kind) in ELEMENT_LISTS {
        let Some(field) = vocabulary.record(record).field(path) else { continue };
        let FieldKind::List(ListOf::Record(of_list)) = vocabulary.field(record, field).kind else { continue };
        let list = site.records.slot(gate, field);
        if !matches!(list, Slot::Records { .. }) {
            continue;
        }
        let element = Element::of_list(vocabulary, record, ELEMENT, of_list);
        for (number, at) in site.records.list(list).iter().enumerate() {
            machine.stand_at(ELEMENT, StandsAt::Record(*at));
            out.extend(of(machine, kind, element, Some(&name_of(site, path, number + 1, *at))));
        }
    }
    out
}

/// `support post 1 (fulcrum)`, `latch post 2`, `splice 1`.
fn name_of(site: Site<'_>, path: &str, number: usize, record: RecordIndex) -> String {
    let list = path.rsplit('.').next().unwrap_or(path).trim_end_matches('s').replace('_', " ");
    match site.text_at(record, "role") {
        Some(role) => format!("{list} {number} ({role})"),
        None => format!("{list} {number}"),
    }
}
