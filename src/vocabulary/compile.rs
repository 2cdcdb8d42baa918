//! JSON Schema to record types.
//!
//! Understands the part of JSON Schema 2020-12 that our schemas use: `$ref` into `$defs`, `anyOf` whose last member is
//! the real one (the others say how a value may be absent), objects, arrays, enums, and our `x-` annotations.

use std::collections::BTreeMap;

use serde_json::Value;

use super::field::{Field, FieldId, FieldKind, ListOf, RecordId, RecordType, Symbol, Vocabulary};
use super::placeholders::Placeholders;
use crate::quantity::{Quantity, QuantityKind, read};

/// Why a schema does not compile: a defect of ours, met by tests and at start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SchemaError {
    /// JSON pointer of the place.
    pub pointer: String,
    /// What is wrong there.
    pub message: String,
}

impl std::fmt::Display for SchemaError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.pointer, self.message)
    }
}

/// Compiles the text of a schema.
///
/// # Errors
/// Says where the schema is no JSON, or uses what this module does not understand.
pub fn compile(schema: &str) -> Result<Vocabulary, SchemaError> {
    let root: Value = serde_json::from_str(schema)
        .map_err(|error| SchemaError { pointer: String::new(), message: error.to_string() })?;
    let mut compiler = Compiler {
        root: &root,
        vocabulary: Vocabulary::default(),
        symbols: BTreeMap::new(),
        defs: BTreeMap::new(),
        depth: 0,
    };
    if let Some(words) = root.get("x-placeholders") {
        compiler.vocabulary.placeholders = Placeholders::new(strings(words, "/x-placeholders")?);
    }
    compiler.record("document", &root, "")?;
    let mut vocabulary = compiler.vocabulary;
    vocabulary.bases = bases(&vocabulary);
    Ok(vocabulary)
}

/// The path of every record type: that of the list it is an element of. An element of `gates` is called `gate`.
fn bases(vocabulary: &Vocabulary) -> Vec<String> {
    let mut bases = vec![String::new(); vocabulary.records.len()];
    // A record type comes after the one whose list holds it, so one pass from the front finds every base.
    for (index, record) in vocabulary.records.iter().enumerate() {
        for field in &record.fields {
            let (FieldKind::List(ListOf::Record(element)) | FieldKind::Map(element)) = field.kind else {
                continue;
            };
            if bases[element as usize].is_empty() {
                let base = bases[index].clone();
                bases[element as usize] = match (base.as_str(), field.path.as_str()) {
                    ("", "gates") => "gate".to_owned(),
                    ("", path) => path.to_owned(),
                    (base, path) => format!("{base}.{path}"),
                };
            }
        }
    }
    bases
}

/// Every annotation that is understood; another one is a slip of the pen. `x-expression` is for readers of packs.
const ANNOTATIONS: [&str; 10] = [
    "x-kind",
    "x-label",
    "x-min",
    "x-min-exclusive",
    "x-max",
    "x-not-applicable",
    "x-placeholders",
    "x-was",
    "x-expression",
    "x-words",
];

/// How deep sections and lists may stand in each other: a definition that holds itself has no end.
const DEEPEST: usize = 32;

struct Compiler<'s> {
    root: &'s Value,
    vocabulary: Vocabulary,
    symbols: BTreeMap<String, Symbol>,
    /// Record types of definitions that are compiled, so that two lists of one definition share a type.
    defs: BTreeMap<String, RecordId>,
    depth: usize,
}

/// A property with its annotations and the subschema that says what it is.
struct Declared<'s> {
    outer: &'s Value,
    real: &'s Value,
    reference: Option<&'s str>,
}

impl<'s> Declared<'s> {
    fn get(&self, key: &str) -> Option<&'s Value> {
        self.outer.get(key).or_else(|| self.real.get(key))
    }

    fn text(&self, key: &str) -> Option<&'s str> {
        self.get(key).and_then(Value::as_str)
    }

    /// The texts of a list; none where there is no list.
    fn words(&self, key: &str, pointer: &str) -> Result<impl Iterator<Item = &'s str> + use<'s>, SchemaError> {
        let listed = self.get(key).map(|words| strings(words, &format!("{pointer}/{key}"))).transpose()?;
        Ok(listed.into_iter().flatten())
    }

    fn flag(&self, key: &str) -> bool {
        self.get(key).and_then(Value::as_bool).unwrap_or(false)
    }
}

impl<'s> Compiler<'s> {
    fn record(&mut self, name: &str, schema: &'s Value, pointer: &str) -> Result<RecordId, SchemaError> {
        let id = RecordId::try_from(self.vocabulary.records.len())
            .map_err(|_| SchemaError { pointer: pointer.to_owned(), message: "too many record types".to_owned() })?;
        self.vocabulary.records.push(RecordType {
            name: name.to_owned(),
            fields: Vec::new(),
            children: Vec::new(),
            next: Vec::new(),
        });
        let mut fields = Vec::new();
        self.section(schema, None, "", pointer, &mut fields)?;
        let mut children: Vec<Vec<(String, FieldId)>> = vec![Vec::new(); fields.len() + 1];
        for (index, field) in fields.iter().enumerate() {
            let id = FieldId::try_from(index).unwrap_or(FieldId::MAX);
            children[field.parent.map_or(0, |parent| parent as usize + 1)].push((field.key.clone(), id));
        }
        let mut next = vec![None; fields.len()];
        for section in &mut children {
            for pair in section.windows(2) {
                next[pair[0].1 as usize] = Some(pair[1].1);
            }
            section.sort();
        }
        let record = &mut self.vocabulary.records[id as usize];
        (record.fields, record.children, record.next) = (fields, children, next);
        Ok(id)
    }

    fn section(
        &mut self,
        schema: &'s Value,
        parent: Option<FieldId>,
        prefix: &str,
        pointer: &str,
        fields: &mut Vec<Field>,
    ) -> Result<(), SchemaError> {
        if self.depth == DEEPEST {
            return fail(pointer, "sections and lists are nested too deeply; does a definition hold itself?");
        }
        self.depth += 1;
        let required: Vec<&str> = match schema.get("required").and_then(Value::as_array) {
            Some(names) => names.iter().filter_map(Value::as_str).collect(),
            None => Vec::new(),
        };
        let Some(properties) = schema.get("properties").and_then(Value::as_object) else {
            return fail(pointer, "an object with `properties` is expected");
        };
        for (key, property) in properties {
            let pointer = format!("{pointer}/properties/{key}");
            let declared = self.declared(property, &pointer)?;
            let path = if prefix.is_empty() { key.clone() } else { format!("{prefix}.{key}") };
            let kind = self.kind(key, &declared, &pointer)?;
            let (min, max) = bounds(&kind, &declared, &pointer)?;
            let Ok(index) = FieldId::try_from(fields.len()) else {
                return fail(&pointer, "too many fields");
            };
            let section = kind == FieldKind::Section;
            fields.push(Field {
                path: path.clone(),
                key: key.clone(),
                parent,
                label: declared.text("x-label").map_or_else(|| key.replace('_', " "), str::to_owned),
                description: declared.text("description").unwrap_or_default().to_owned(),
                kind,
                not_applicable: declared.flag("x-not-applicable"),
                min,
                max,
                most: most(&declared, &pointer)?,
                required: required.contains(&key.as_str()),
                placeholders: Placeholders::new(declared.words("x-placeholders", &pointer)?),
                was: declared.words("x-was", &pointer)?.map(str::to_owned).collect(),
            });
            if section {
                self.section(declared.real, Some(index), &path, &pointer, fields)?;
            }
        }
        self.depth -= 1;
        if let Some(absent) = required.iter().find(|name| !properties.contains_key(**name)) {
            return fail(pointer, &format!("`{absent}` is required and no property"));
        }
        Ok(())
    }

    /// Follows `$ref` and `anyOf` to what a property really is.
    fn declared(&self, property: &'s Value, pointer: &str) -> Result<Declared<'s>, SchemaError> {
        let mut declared = Declared { outer: property, real: property, reference: None };
        for _ in 0..8 {
            let keys = declared.real.as_object().into_iter().flat_map(|object| object.keys());
            if let Some(key) =
                keys.into_iter().find(|key| key.starts_with("x-") && !ANNOTATIONS.contains(&key.as_str()))
            {
                return fail(pointer, &format!("there is no annotation `{key}`"));
            }
            if let Some(last) = declared.real.get("anyOf").and_then(Value::as_array).and_then(|members| members.last())
            {
                declared.real = last;
            } else if let Some(reference) = declared.real.get("$ref").and_then(Value::as_str) {
                let target = reference.strip_prefix('#').and_then(|pointer| self.root.pointer(pointer));
                declared.reference = Some(reference);
                declared.real = match target {
                    Some(target) => target,
                    None => return fail(pointer, &format!("`{reference}` leads nowhere")),
                };
            } else {
                return Ok(declared);
            }
        }
        fail(pointer, "references are nested too deeply")
    }

    fn kind(&mut self, key: &str, declared: &Declared<'s>, pointer: &str) -> Result<FieldKind, SchemaError> {
        let real = declared.real;
        match declared.text("x-kind") {
            Some("any") => return Ok(FieldKind::Any),
            Some("map") => {
                let Some(entry) = real.get("additionalProperties") else {
                    return fail(pointer, "a map needs `additionalProperties`");
                };
                let entry = self.declared(entry, pointer)?;
                return Ok(FieldKind::Map(self.shared_record(key, &entry, pointer)?));
            }
            _ => {}
        }
        match real.get("type").and_then(Value::as_str) {
            Some("object") => return Ok(FieldKind::Section),
            Some("array") => {
                let Some(items) = real.get("items") else {
                    return fail(pointer, "a list needs `items`");
                };
                let items = self.declared(items, pointer)?;
                return Ok(FieldKind::List(if items.real.get("properties").is_some() {
                    ListOf::Record(self.shared_record(key, &items, pointer)?)
                } else if items.real.get("enum").is_some() {
                    ListOf::Choice(self.choices(items.real, pointer)?)
                } else if matches!(items.text("x-kind"), None | Some("text")) {
                    ListOf::Text
                } else {
                    return fail(pointer, "a list holds sections, choices or texts");
                }));
            }
            _ => {}
        }
        match declared.text("x-kind") {
            Some("yes/no") => Ok(FieldKind::YesNo),
            Some("text") => Ok(FieldKind::Text),
            Some("date") => Ok(FieldKind::Date),
            Some("choice") => {
                let choices = self.choices(real, pointer)?;
                if let Some(words) = declared.get("x-words") {
                    self.words(&choices, words, pointer)?;
                }
                Ok(FieldKind::Choice(choices))
            }
            Some(name) => match QuantityKind::from_name(name) {
                Some(kind) => Ok(FieldKind::Quantity(kind)),
                None => fail(pointer, &format!("there is no kind `{name}`")),
            },
            None => fail(pointer, "`x-kind` is missing"),
        }
    }

    fn shared_record(&mut self, key: &str, declared: &Declared<'s>, pointer: &str) -> Result<RecordId, SchemaError> {
        if let Some(known) = declared.reference.and_then(|reference| self.defs.get(reference)) {
            return Ok(*known);
        }
        let id = self.record(key, declared.real, pointer)?;
        if let Some(reference) = declared.reference {
            self.defs.insert(reference.to_owned(), id);
        }
        Ok(id)
    }

    /// The words of a choice field: for each of its names, and for no other.
    fn words(&mut self, choices: &[Symbol], words: &Value, pointer: &str) -> Result<(), SchemaError> {
        let said: Vec<String> = choices
            .iter()
            .filter_map(|symbol| words.get(self.vocabulary.symbol_name(*symbol))?.as_str())
            .map(str::to_owned)
            .collect();
        if said.len() != choices.len() || words.as_object().is_none_or(|words| words.len() != choices.len()) {
            return fail(pointer, "`x-words` has a text for each choice");
        }
        self.vocabulary.words.push((choices.to_vec(), said));
        Ok(())
    }

    fn choices(&mut self, schema: &Value, pointer: &str) -> Result<Vec<Symbol>, SchemaError> {
        let Some(names) = schema.get("enum") else {
            return fail(pointer, "a choice needs `enum`");
        };
        let mut choices = Vec::new();
        for name in strings(names, &format!("{pointer}/enum"))? {
            let known = self.symbols.get(name).copied();
            let symbol = match known {
                Some(symbol) => symbol,
                None => {
                    let Ok(next) = Symbol::try_from(self.vocabulary.symbols.len()) else {
                        return fail(pointer, "too many choices");
                    };
                    self.symbols.insert(name.to_owned(), next);
                    self.vocabulary.symbols.push(name.to_owned());
                    next
                }
            };
            choices.push(symbol);
        }
        Ok(choices)
    }
}

/// The members of an array that holds texts and nothing else.
fn strings<'v>(value: &'v Value, pointer: &str) -> Result<impl Iterator<Item = &'v str> + use<'v>, SchemaError> {
    let members = value.as_array().map(Vec::as_slice).unwrap_or_default();
    if members.is_empty() || !members.iter().all(Value::is_string) {
        return fail(pointer, "a list of texts is expected");
    }
    Ok(members.iter().filter_map(Value::as_str))
}

/// How many elements a list may have.
fn most(declared: &Declared<'_>, pointer: &str) -> Result<Option<u32>, SchemaError> {
    let Some(limit) = declared.real.get("maxItems") else { return Ok(None) };
    match limit.as_u64().and_then(|limit| u32::try_from(limit).ok()) {
        Some(limit) => Ok(Some(limit)),
        None => fail(pointer, "`maxItems` is a whole number"),
    }
}

/// Least and largest value, as read from `x-min` and `x-max`.
type Bounds = (Option<(Quantity, bool)>, Option<Quantity>);

fn bounds(kind: &FieldKind, declared: &Declared<'_>, pointer: &str) -> Result<Bounds, SchemaError> {
    let FieldKind::Quantity(kind) = kind else {
        return match ["x-min", "x-min-exclusive", "x-max"].into_iter().find(|key| declared.get(key).is_some()) {
            Some(key) => fail(pointer, &format!("`{key}` bounds a measured value, a ratio or a count")),
            None => Ok((None, None)),
        };
    };
    let bound = |key: &str| match declared.get(key) {
        None => Ok(None),
        Some(text) => {
            let text = text.as_str().map_or_else(|| text.to_string(), str::to_owned);
            match read(*kind, &text) {
                Ok(reading) => Ok(Some(reading.quantity)),
                Err(error) => fail(pointer, &format!("{key}: {}", error.message)),
            }
        }
    };
    Ok((bound("x-min")?.map(|min| (min, declared.flag("x-min-exclusive"))), bound("x-max")?))
}

fn fail<T>(pointer: &str, message: &str) -> Result<T, SchemaError> {
    Err(SchemaError { pointer: pointer.to_owned(), message: message.to_owned() })
}
