//! The worksheet: every figure of a gate with its working, for people, for a page, for programs.

use std::fmt::Write as _;

use serde::Serialize;

use super::Options;
use super::figure::{FigureJson, figure_entry, headline};
use super::text::{list, sentence, visible, wrap};
use super::words::{CAUTIONS, SHEET_GAP};
use crate::figures::{State, Worked};
use crate::review::{GateSheet, Worksheet, ZoneLine};

/// How a worksheet is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetFormat {
    /// For reading on a screen.
    Text,
    /// For a page.
    Markdown,
    /// For programs.
    Json,
}

/// Writes worksheets.
pub fn worksheet(sheets: &[Worksheet], format: SheetFormat, options: &Options) -> String {
    match format {
        SheetFormat::Text => text(sheets, options),
        SheetFormat::Markdown => markdown(sheets),
        SheetFormat::Json => json(sheets),
    }
}

/// The parts of a gate's figures: of the gate, then of each element, in the order given.
fn groups(gate: &GateSheet) -> Vec<(Option<&str>, Vec<&Worked>)> {
    let mut groups: Vec<(Option<&str>, Vec<&Worked>)> = Vec::new();
    for worked in &gate.figures {
        let element = worked.element.as_deref();
        match groups.last_mut() {
            Some((known, list)) if *known == element => list.push(worked),
            _ => groups.push((element, vec![worked])),
        }
    }
    groups
}

fn has_value(worked: &Worked) -> bool {
    matches!(worked.state, State::Computed(_) | State::Bounded(..))
}

/// The figures without a value: those that lack the same facts together, then those that do not hold.
fn without_value(figures: &[&Worked]) -> Vec<String> {
    let mut lacking: Vec<(&[String], Vec<&str>)> = Vec::new();
    let mut not_valid = Vec::new();
    for worked in figures.iter().filter(|worked| !has_value(worked)) {
        if !matches!(worked.state, State::Lacking(_)) {
            not_valid.push(headline(worked));
            continue;
        }
        match lacking.iter_mut().find(|(facts, _)| *facts == worked.lacking) {
            Some((_, names)) => names.push(worked.figure.name),
            None => lacking.push((&worked.lacking, vec![worked.figure.name])),
        }
    }
    let entry = |(facts, names): (&[String], Vec<&str>)| {
        format!("not computed for want of {}: {}", facts.join(", "), names.join(", "))
    };
    lacking.into_iter().map(entry).chain(not_valid).collect()
}

/// The figures whose formula and source stand on the page already, with the element they stand at: those of the second
/// post and the sixth panel are those of the first.
#[derive(Default)]
struct Explained<'w>(Vec<(&'static str, &'w str)>);

impl<'w> Explained<'w> {
    /// Where a figure is explained: where it was first, else here from now on.
    fn at(&mut self, worked: &'w Worked) -> &'w str {
        let known = self.0.iter().find(|(name, _)| *name == worked.figure.name).map(|(_, element)| *element);
        known.unwrap_or_else(|| {
            let here = worked.element.as_deref().unwrap_or(THE_GATE);
            self.0.push((worked.figure.name, here));
            here
        })
    }

    /// Where the figures with a value that are not explained here are.
    fn elsewhere(&mut self, here: &str, figures: &[&'w Worked]) -> Option<String> {
        let mut places: Vec<&str> = Vec::new();
        for worked in figures.iter().copied().filter(|worked| has_value(worked)) {
            let place = self.at(worked);
            if place != here && !places.contains(&place) {
                places.push(place);
            }
        }
        let places = list(&places);
        (!places.is_empty()).then(|| format!("Formulas and sources that do not stand here: as at {places}"))
    }
}

const THE_GATE: &str = "the gate";

fn title(sheet: &Worksheet, gate: &GateSheet) -> String {
    let number = sheet.number.as_deref().unwrap_or("submittal number not shown");
    format!("{}, gate {}: worksheet", number, gate.mark)
}

/// The project and the file, with the document of a file that holds several.
fn origin(sheet: &Worksheet, sheets: &[Worksheet]) -> String {
    let project = sheet.project.as_deref().unwrap_or("project not shown");
    let document = if sheets.len() > 1 { format!(", document {}", sheet.document) } else { String::new() };
    format!("{project}, {}{document}", sheet.file.name())
}

const NOT_REVIEWED: &str = "No figure is given of a gate of this type.";

fn text(sheets: &[Worksheet], options: &Options) -> String {
    let mut out = String::new();
    let line = |out: &mut String, indent: usize, text: &str| {
        for line in wrap(text, options.width.saturating_sub(indent)) {
            // Writing to a string does not fail.
            let _ = writeln!(out, "{:indent$}{line}", "");
        }
    };
    for (sheet, gate) in sheets.iter().flat_map(|sheet| sheet.gates.iter().map(move |gate| (sheet, gate))) {
        line(&mut out, 0, &title(sheet, gate));
        line(&mut out, 0, &origin(sheet, sheets));
        if !gate.reviewed {
            line(&mut out, 0, NOT_REVIEWED);
            out.push('\n');
            continue;
        }
        let mut explained = Explained::default();
        for (element, figures) in groups(gate) {
            out.push('\n');
            let here = element.unwrap_or(THE_GATE);
            line(&mut out, 0, here);
            if let Some(elsewhere) = explained.elsewhere(here, &figures) {
                line(&mut out, 2, &elsewhere);
            }
            for worked in figures.iter().copied().filter(|worked| has_value(worked)) {
                line(&mut out, 2, &headline(worked));
                if explained.at(worked) != here {
                    line(&mut out, 6, &worked.put_in().join("; "));
                    continue;
                }
                line(&mut out, 6, worked.figure.title);
                line(&mut out, 6, &format!("= {}", worked.figure.formula));
                line(&mut out, 6, &worked.put_in().join("; "));
                line(&mut out, 6, &format!("Source: {}", worked.figure.source));
            }
            for entry in without_value(&figures) {
                line(&mut out, 2, &entry);
            }
        }
        if !gate.zones.is_empty() {
            out.push('\n');
            line(&mut out, 0, ZONES);
            for zone in &gate.zones {
                line(&mut out, 2, &format!("{} ({}): {}", zone.name, zone.direction, standing(zone)));
                let (place, source) = (sentence(zone.place), sentence(zone.source));
                line(&mut out, 6, &format!("{place}; a zone where: {}. {source}.", zone.trigger));
            }
        }
        out.push('\n');
    }
    line(&mut out, 0, ENDING);
    for caution in std::iter::once(SHEET_GAP).chain(CAUTIONS) {
        for (number, part) in wrap(caution, options.width.saturating_sub(2)).iter().enumerate() {
            let _ = writeln!(out, "{}{part}", if number == 0 { "- " } else { "  " });
        }
    }
    out
}

const ENDING: &str = "What this worksheet does not say";
const ZONES: &str = "entrapment and injury zones that the geometry implies, and what is declared";

fn standing(zone: &ZoneLine) -> String {
    let declared = match zone.declared {
        Some(true) => "declared",
        Some(false) => "not declared",
        None => "not known whether declared",
    };
    let standing = match zone.implied {
        Some(true) => format!("implied; {declared}"),
        Some(false) => format!("not implied; {declared}"),
        None => format!("not known whether implied, for want of {}; {declared}", zone.missing.join(", ")),
    };
    match (zone.implied, zone.declared, zone.asked) {
        (Some(false), Some(false), Some(true)) => {
            format!(
                "{standing}; it is to be declared all the same, with what takes it away (entrapment/undeclared-zone)"
            )
        }
        _ => standing,
    }
}

/// Text from outside inside a page of markdown.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in visible(text).chars() {
        if matches!(c, '\\' | '`' | '*' | '_' | '{' | '}' | '[' | ']' | '<' | '>' | '#' | '|' | '~') {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn markdown(sheets: &[Worksheet]) -> String {
    let mut out = String::new();
    for (sheet, gate) in sheets.iter().flat_map(|sheet| sheet.gates.iter().map(move |gate| (sheet, gate))) {
        // Writing to a string does not fail.
        let _ = writeln!(out, "# {}\n", plain(&title(sheet, gate)));
        let _ = writeln!(out, "{}\n", plain(&origin(sheet, sheets)));
        if !gate.reviewed {
            let _ = writeln!(out, "{NOT_REVIEWED}\n");
            continue;
        }
        let mut explained = Explained::default();
        for (element, figures) in groups(gate) {
            let here = element.unwrap_or(THE_GATE);
            let _ = writeln!(out, "## {}\n", plain(here));
            if let Some(elsewhere) = explained.elsewhere(here, &figures) {
                let _ = writeln!(out, "{}\n", plain(&elsewhere));
            }
            for worked in figures.iter().copied().filter(|worked| has_value(worked)) {
                let _ = writeln!(out, "### {}\n", plain(&headline(worked)));
                let is_first = explained.at(worked) == here;
                if is_first {
                    let _ = writeln!(out, "{}\n", plain(worked.figure.title));
                    let _ = writeln!(out, "= {}\n", plain(worked.figure.formula));
                }
                for line in worked.put_in() {
                    let _ = writeln!(out, "- {}", plain(&line));
                }
                if !is_first {
                    out.push('\n');
                    continue;
                }
                let _ = writeln!(
                    out,
                    "\nSource: {}. Valid: {}\n",
                    plain(worked.figure.source),
                    plain(worked.figure.validity)
                );
            }
            let lacking = without_value(&figures);
            if !lacking.is_empty() {
                let _ = writeln!(out, "### not computed\n");
                for entry in lacking {
                    let _ = writeln!(out, "- {}", plain(&entry));
                }
                out.push('\n');
            }
        }
        if !gate.zones.is_empty() {
            let _ = writeln!(
                out,
                "## {ZONES}\n\n| zone | direction | where | a zone where | here |\n|---|---|---|---|---|"
            );
            for zone in &gate.zones {
                let cells = [zone.name, zone.direction, zone.place, zone.trigger, &standing(zone)].map(plain);
                let _ = writeln!(out, "| {} |", cells.join(" | "));
            }
            out.push('\n');
        }
    }
    let _ = writeln!(out, "## {ENDING}\n");
    for caution in std::iter::once(SHEET_GAP).chain(CAUTIONS) {
        let _ = writeln!(out, "- {caution}");
    }
    out
}

#[derive(Serialize)]
struct SheetJson<'s> {
    version: u32,
    gates: Vec<GateJson<'s>>,
}

#[derive(Serialize)]
struct GateJson<'s> {
    path: &'s str,
    document: u32,
    mark: &'s str,
    reviewed: bool,
    figures: Vec<FigureJson<'s>>,
    zones: Vec<ZoneJson<'s>>,
}

#[derive(Serialize)]
struct ZoneJson<'s> {
    zone: &'s str,
    direction: &'s str,
    place: &'s str,
    trigger: &'s str,
    source: &'s str,
    implied: Option<bool>,
    declared: Option<bool>,
    asked: Option<bool>,
    missing: &'s [String],
}

fn json(sheets: &[Worksheet]) -> String {
    let gates = sheets
        .iter()
        .flat_map(|sheet| sheet.gates.iter().map(move |gate| (sheet, gate)))
        .map(|(sheet, gate)| GateJson {
            path: sheet.file.name(),
            document: sheet.document,
            mark: &gate.mark,
            reviewed: gate.reviewed,
            figures: gate.figures.iter().map(figure_entry).collect(),
            zones: gate
                .zones
                .iter()
                .map(|line| ZoneJson {
                    zone: line.name,
                    direction: line.direction,
                    place: line.place,
                    trigger: line.trigger,
                    source: line.source,
                    implied: line.implied,
                    declared: line.declared,
                    asked: line.asked,
                    missing: &line.missing,
                })
                .collect(),
        })
        .collect();
    let sheet = SheetJson { version: 1, gates };
    super::json::pretty(&sheet)
}
