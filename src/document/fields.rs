//! What a template may read, told for those who write their own: `fields.md`, made from the schemas of the records.
//!
//! The comments on the records are its text, so that it cannot say anything else than the code.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::Sheet;

const HEAD: &str = "# What a template may read\n
Written by `wheelsheet templates`; it says what this version gives to templates.\n
`lib.typ` imports a function for each sheet, called as the sheet is, from `sheets/`. It is called with one record, which is \
told below under the name of its sheet. `style.typ` has every length, size and tone; `components/` has one mark a file. \
`document-of` sets title and language of the document, and `several-to-a-page` draws the paper for `--per-page`.\n
All text is finished: rounded, with its unit, in the words of the plan's system. Numbers are for drawing: places and shares \
from 0 to 1, and counts. A key that is not told here is not there, and to read it is an error. Where something may be left \
out, its key is there and its value is `none`.\n
The one typeface is IBM Plex Sans, regular and bold, which is in the program. A template that draws a warning is not printed, and as PDF no page that \
a screen reader could not read: pictures need `alt`, tables a header, headings no gap in their levels.\n
Keep the marks that the program looks for: `last-` with the name of the sheet as label at the end of its last page, which the \
foot counts to; `counter(page).update(1)` at its first, from which the labels of the pages are made; and `<true-size>` on \
pages that must never be drawn smaller.\n";

/// The whole of `fields.md`.
pub fn fields() -> String {
    let mut text = HEAD.to_owned();
    let mut records = BTreeMap::new();
    text.push_str("\n# Sheets\n");
    for sheet in Sheet::ALL {
        let schema = sheet.schema();
        text.push_str(&told(sheet.name(), &schema));
        records.extend(schema["$defs"].as_object().into_iter().flatten().map(|(name, of)| (name.clone(), of.clone())));
    }
    text.push_str("\n# Records and words\n");
    for (name, definition) in &records {
        text.push_str(&told(name, definition));
    }
    text
}

/// One record with its fields, or one choice with its words.
fn told(name: &str, schema: &Value) -> String {
    let mut text = format!("\n## {name}\n\n{}\n\n", described(schema));
    let keys: Option<&Map<String, Value>> = schema["properties"].as_object();
    match keys {
        Some(keys) => {
            text.push_str("| key | holds | meaning |\n|---|---|---|\n");
            for (key, of) in keys {
                text.push_str(&format!("| `{key}` | {} | {} |\n", holds(of), cell(&described(of))));
            }
        }
        None => {
            text.push_str("| word | meaning |\n|---|---|\n");
            for (word, meaning) in words(schema) {
                text.push_str(&format!("| `\"{word}\"` | {} |\n", cell(&meaning)));
            }
        }
    }
    text
}

/// The comment of a field or record; lines are joined, paragraphs are not.
fn described(schema: &Value) -> String {
    let text = schema["description"].as_str().unwrap_or_default().replace("`None`", "`none`");
    text.split("\n\n").map(|paragraph| paragraph.replace('\n', " ")).collect::<Vec<_>>().join("\n\n")
}

/// A text that stands in a table.
fn cell(text: &str) -> String {
    text.replace("\n\n", " ").replace('|', "\\|")
}

/// The words of a choice with what they mean.
fn words(schema: &Value) -> Vec<(String, String)> {
    let word = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let choices = schema["oneOf"].as_array().into_iter().flatten();
    choices.map(|choice| (word(&choice["const"]), described(choice))).collect()
}

/// What a field holds, in a few words.
fn holds(schema: &Value) -> String {
    if let Some(name) = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
        return format!("[{name}](#{})", name.to_lowercase());
    }
    if let Some(either) = schema["anyOf"].as_array() {
        return either.iter().map(holds).collect::<Vec<_>>().join(" or ");
    }
    match &schema["type"] {
        Value::String(kind) if kind == "array" => format!("list of {}", holds(&schema["items"])),
        Value::String(kind) => plain(kind).to_owned(),
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).map(plain).collect::<Vec<_>>().join(" or "),
        _ => panic!("invariant: records are of texts, numbers, lists and records, not {schema}"),
    }
}

fn plain(kind: &str) -> &str {
    match kind {
        "string" => "text",
        "integer" => "whole number",
        "number" => "number",
        "boolean" => "`true` or `false`",
        "null" => "`none`",
        other => panic!("invariant: no record holds a bare {other}"),
    }
}
