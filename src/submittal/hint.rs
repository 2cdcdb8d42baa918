//! What a name that is not known was probably meant to be: another spelling, or a field of another section.

use super::read::Reader;
use crate::document::NodeId;
use crate::problem::Problem;
use crate::vocabulary::{FieldId, RecordId, Symbol, near_choices, nearest_name};

/// How many names a hint lists.
const MOST: usize = 12;

impl Reader<'_> {
    pub(super) fn unknown_field(&mut self, ty: RecordId, section: Option<FieldId>, name: &str, key: NodeId) {
        let declared = self.vocabulary.record(ty);
        let within =
            section.map_or(String::new(), |section| format!(" in `{}`", declared.fields[section as usize].path));
        let problem = Problem::fault(
            "unknown-field",
            self.tree.span(key),
            format!("there is no field `{}`{within}", short(name)),
        );
        if let Some(whole) = self.split_by_comma(name, key) {
            let problem = problem.with_help(format!("in braces a comma ends a value: put it in quotes, \"{whole}\""));
            self.tell(problem);
            return;
        }
        let problem = if self.take_hint() { problem.with_help(self.field_hint(ty, section, name)) } else { problem };
        self.tell(problem);
    }

    /// The value that a comma cut in two, `2,500 lb`, where the part behind it was read as a key without a value.
    fn split_by_comma(&self, name: &str, key: NodeId) -> Option<String> {
        let before = self.tree.text(key.checked_sub(1)?)?;
        let is_number = !before.is_empty() && before.bytes().all(|byte| byte.is_ascii_digit() || byte == b',');
        let cut = is_number && name.starts_with(|c: char| c.is_ascii_digit()) && self.tree.is_absent(key + 1);
        cut.then(|| format!("{before},{name}"))
    }

    /// Whether one more hint may be worked out.
    fn take_hint(&mut self) -> bool {
        let left = self.hints.checked_sub(1);
        self.hints = left.unwrap_or(0);
        left.is_some()
    }

    fn field_hint(&self, ty: RecordId, section: Option<FieldId>, name: &str) -> String {
        let declared = self.vocabulary.record(ty);
        let siblings = declared.children(section).iter().map(|(key, _)| key.as_str());
        let near = nearest_name(name, siblings.clone()).map(|near| format!("did you mean `{near}`?"));
        let elsewhere = self.places_of(ty, name);
        match (near, elsewhere.is_empty()) {
            (Some(near), true) => near,
            (Some(near), false) => format!("{near} `{}` itself belongs at {elsewhere}", short(name)),
            (None, false) => format!("it belongs at {elsewhere}"),
            (None, true) => {
                let known: Vec<&str> = siblings.take(MOST).collect();
                let more = declared.children(section).len() - known.len();
                let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
                format!("the fields here are {}{rest}", known.join(", "))
            }
        }
    }

    /// The paths of the fields of a name: those of the same record, else those of any; empty where there are none or too
    /// many to be a hint.
    fn places_of(&self, ty: RecordId, name: &str) -> String {
        const MOST_PLACES: usize = 3;
        let of = |record: RecordId| {
            let fields = self.vocabulary.record(record).fields.iter().enumerate();
            fields.filter(|(_, field)| field.key == name).filter_map(move |(index, _)| {
                Some(format!("`{}`", self.vocabulary.path_of(record, FieldId::try_from(index).ok()?)))
            })
        };
        let mut paths: Vec<String> = of(ty).take(MOST_PLACES + 1).collect();
        if paths.is_empty() {
            let records = 0..RecordId::try_from(self.vocabulary.records.len()).unwrap_or(RecordId::MAX);
            paths = records.flat_map(of).take(MOST_PLACES + 1).collect();
        }
        if paths.len() > MOST_PLACES { String::new() } else { paths.join(" or ") }
    }

    pub(super) fn unknown_choice(&mut self, label: &str, choices: &[Symbol], text: &str, node: NodeId) {
        let names: Vec<&str> = choices.iter().map(|symbol| self.vocabulary.symbol_name(*symbol)).collect();
        let mut help = format!("the choices are {}", names.join(", "));
        let folded = text.trim().replace([' ', '-'], "_");
        let near = if self.take_hint() { near_choices(&folded, &names) } else { Vec::new() };
        if !near.is_empty() {
            let near: Vec<String> = near.into_iter().map(|name| format!("`{name}`")).collect();
            help = format!("did you mean {}? {help}", near.join(" or "));
        }
        let message = format!("{label}: `{}` is not one of the choices", short(text));
        let problem = self.fault_at("unknown-choice", node, message);
        self.report(node, problem.with_help(help));
    }
}

/// A text as quoted in a message: one line, cut where it is long.
pub(super) fn short(text: &str) -> String {
    const MOST: usize = 60;
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST {
        return line;
    }
    line.chars().take(MOST).collect::<String>() + "..."
}
