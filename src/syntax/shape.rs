//! What may stand where: the schema of the two files, as schemars makes it from `raw`, and the same as a tree of
//! [`Shape`]s to walk beside a file.
//!
//! The schema is the only source of the shapes, so that an editor and this program refuse the same things.

use std::sync::LazyLock;

use indexmap::IndexMap;
use serde_json::Value;

use super::raw;
use crate::diagnostics::File;

/// What may stand at one place.
#[derive(Debug)]
pub(crate) enum Shape {
    /// A table with these keys.
    Table(IndexMap<String, Slot>),
    /// A table with names of the spinner's own, each with the same thing behind it.
    Named(Box<Slot>),
    /// A list of the same thing.
    List(Box<Slot>),
    /// A list of exactly these things.
    Tuple(Vec<Slot>),
    /// One thing or a list of it.
    OneOrMore(Box<Slot>),
    /// Whatever another entry takes.
    Anything,
    /// A number with its unit.
    Quantity,
    /// Any text.
    Text,
    /// One of these texts.
    Words(Vec<String>),
    /// A whole number.
    Whole,
    /// True or false.
    Truth,
    /// A day.
    Date,
}

/// A shape and an example of what fits it, as TOML.
#[derive(Debug)]
pub(crate) struct Slot {
    pub(crate) shape: Shape,
    pub(crate) example: Option<String>,
}

/// The shape of a whole file.
pub(crate) fn shape(file: File) -> &'static Slot {
    static PLAN: LazyLock<Slot> = LazyLock::new(|| whole(&schema(File::Plan)));
    static LOG: LazyLock<Slot> = LazyLock::new(|| whole(&schema(File::Log)));
    match file {
        File::Plan => &PLAN,
        File::Log => &LOG,
    }
}

/// The JSON Schema of a file, with the doc comments of `raw` as descriptions.
pub fn schema(file: File) -> Value {
    match file {
        File::Plan => schemars::schema_for!(raw::Plan).to_value(),
        File::Log => schemars::schema_for!(raw::Log).to_value(),
    }
}

fn whole(schema: &Value) -> Slot {
    slot(schema, &schema["$defs"])
}

/// Reads the part of JSON Schema that schemars writes for the types of `raw`.
fn slot(schema: &Value, definitions: &Value) -> Slot {
    let (schema, inner) = resolve(schema, definitions);
    let example = [schema, inner].iter().find_map(|s| s["examples"].get(0)).map(toml_text);
    Slot { shape: shape_of(inner, definitions), example }
}

/// Looks through references and "or null"; the outer schema keeps the example.
fn resolve<'a>(outer: &'a Value, definitions: &'a Value) -> (&'a Value, &'a Value) {
    let mut inner = outer;
    loop {
        if let Some(reference) = inner["$ref"].as_str() {
            inner = &definitions[reference.trim_start_matches("#/$defs/")];
        } else if let Some(only) = only_choice(inner) {
            inner = only;
        } else {
            return (outer, inner);
        }
    }
}

fn only_choice(schema: &Value) -> Option<&Value> {
    let choices: Vec<&Value> = schema["anyOf"].as_array()?.iter().filter(|s| s["type"] != "null").collect();
    if let [only] = choices[..] { Some(only) } else { None }
}

fn shape_of(schema: &Value, definitions: &Value) -> Shape {
    let each = |schema: &Value| Box::new(slot(schema, definitions));
    if let Some(choices) = schema["anyOf"].as_array() {
        return Shape::OneOrMore(each(&choices[0]));
    }
    if let Some(words) = schema["oneOf"].as_array() {
        return Shape::Words(words.iter().map(|word| text(&word["const"])).collect());
    }
    if let Some(words) = schema["enum"].as_array() {
        return Shape::Words(words.iter().map(text).collect());
    }
    if schema["format"] == raw::ANYTHING {
        return Shape::Anything;
    }
    match kind(schema) {
        "object" => match schema["properties"].as_object() {
            Some(keys) => Shape::Table(keys.iter().map(|(key, s)| (key.clone(), slot(s, definitions))).collect()),
            None => Shape::Named(each(&schema["additionalProperties"])),
        },
        "array" => match schema["prefixItems"].as_array() {
            Some(items) => Shape::Tuple(items.iter().map(|s| slot(s, definitions)).collect()),
            None => Shape::List(each(&schema["items"])),
        },
        "string" => match schema["format"].as_str() {
            Some(raw::QUANTITY) => Shape::Quantity,
            Some("date") => Shape::Date,
            _ => Shape::Text,
        },
        "integer" => Shape::Whole,
        "boolean" => Shape::Truth,
        other => unreachable!("invariant: raw has no field of type {other:?}"),
    }
}

/// The type of a schema, "or null" left aside.
fn kind(schema: &Value) -> &str {
    match &schema["type"] {
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).find(|kind| *kind != "null").unwrap_or(""),
        kind => kind.as_str().unwrap_or(""),
    }
}

fn text(value: &Value) -> String {
    value.as_str().expect("invariant: the words of raw are texts").to_owned()
}

/// An example of the schema as one would write it in TOML. A date is the one text that has no quotes there.
fn toml_text(example: &Value) -> String {
    let join = |parts: Vec<String>| parts.join(", ");
    match example {
        Value::Array(items) => format!("[{}]", join(items.iter().map(toml_text).collect())),
        Value::Object(keys) => {
            format!("{{ {} }}", join(keys.iter().map(|(k, v)| format!("{k} = {}", toml_text(v))).collect()))
        }
        Value::String(text) if is_day(text) => text.clone(),
        other => other.to_string(),
    }
}

fn is_day(text: &str) -> bool {
    text.parse::<toml::value::Datetime>().is_ok_and(|day| day.date.is_some() && day.time.is_none())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_type_of_raw_has_a_shape() {
        for file in [File::Plan, File::Log] {
            assert!(matches!(shape(file).shape, Shape::Table(_)));
        }
    }

    #[test]
    fn every_place_of_the_schema_is_described_for_the_spinner() {
        fn described(schema: &Value, path: &str, missing: &mut Vec<String>) {
            for (key, below) in schema["properties"].as_object().into_iter().flatten() {
                let path = format!("{path}.{key}");
                if below["description"].as_str().is_none_or(|text| !text.ends_with('.')) {
                    missing.push(path.clone());
                }
                described(below, &path, missing);
            }
        }
        let mut missing = Vec::new();
        for file in [File::Plan, File::Log] {
            let schema = schema(file);
            described(&schema, "", &mut missing);
            for (name, definition) in schema["$defs"].as_object().into_iter().flatten() {
                described(definition, name, &mut missing);
            }
        }
        assert_eq!(missing, Vec::<String>::new());
    }
}
