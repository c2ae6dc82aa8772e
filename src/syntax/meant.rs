//! What was meant: values and keys named in plain words, and the nearest thing that would be right.
//!
//! It only puts things into words; what is refused is decided in `walk`.

use toml::de::DeValue;

use super::shape::{Shape, Slot, shape};
use crate::diagnostics::File;

/// What may stand at a place, in plain words.
pub(super) fn wanted(shape: &Shape) -> String {
    match shape {
        Shape::Table(_) => "a table".to_owned(),
        Shape::Named(_) => "a table of names".to_owned(),
        Shape::List(each) if matches!(each.shape, Shape::Table(_)) => "a list of tables".to_owned(),
        Shape::List(_) => "a list".to_owned(),
        Shape::OneOrMore(_) => "a number with its unit in quotes, or a list of them".to_owned(),
        Shape::Tuple(slots) => format!("a list of {}", slots.len()),
        Shape::Anything => "a value".to_owned(),
        Shape::Quantity => "a number with its unit, in quotes".to_owned(),
        Shape::Text => "a text in quotes".to_owned(),
        Shape::Words(words) => format!("a text in quotes such as \"{}\"", words[0]),
        Shape::Whole => "a whole number without quotes".to_owned(),
        Shape::Truth => "true or false without quotes".to_owned(),
        Shape::Date => "a day without quotes".to_owned(),
    }
}

/// What a value is, in plain words.
pub(super) fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// The entry as it was meant, where that can be told from what was written; else an example.
pub(super) fn meant(slot: &Slot, found: &DeValue<'_>, pattern: &str) -> Option<String> {
    let key = pattern.rsplit('.').next().unwrap_or_default();
    let entry = |value: &str| (!key.ends_with("[]") && key != "*").then(|| format!("{key} = {value}"));
    let text = found.as_str().map(str::trim);
    match (&slot.shape, found) {
        (Shape::Whole, DeValue::String(_)) if text.is_some_and(|text| text.parse::<u32>().is_ok()) => entry(text?),
        (Shape::Whole, DeValue::Float(number)) => entry(number.as_str().strip_suffix(".0")?),
        (Shape::Truth, DeValue::String(_)) => match text? {
            "yes" | "true" => entry("true"),
            "no" | "false" => entry("false"),
            _ => entry("true"),
        },
        (Shape::Truth, _) => entry("true"),
        (Shape::Date, DeValue::String(_)) if text.is_some_and(is_day) => entry(text?),
        (Shape::Text, DeValue::Integer(number)) => entry(&format!("\"{number}\"")),
        (Shape::Text, DeValue::Float(number)) => entry(&format!("\"{number}\"")),
        (Shape::List(each), DeValue::Table(_)) if matches!(each.shape, Shape::Table(_)) => {
            (!pattern.contains('.')).then(|| format!("[[{key}]]"))
        }
        (Shape::List(_), DeValue::String(text)) if !text.contains(['"', '\\']) => entry(&format!("[\"{text}\"]")),
        (Shape::Table(_), DeValue::Array(_)) => (!pattern.contains(['.', '['])).then(|| format!("[{key}]")),
        (Shape::Table(_), _) if key == "*" => Some(format!("[{}.NAME]", pattern.trim_end_matches(".*"))),
        (Shape::Tuple(_), _) => slot.example.clone(),
        _ => entry(slot.example.as_deref()?),
    }
}

fn is_day(text: &str) -> bool {
    text.parse::<toml::value::Datetime>().is_ok_and(|day| day.date.is_some() && day.time.is_none())
}

/// A table as it is written in the file: `[wheel]`, `[braid.north]`, `[[sample]]`, or the entries of one of its keys.
pub(super) fn header(file: File, path: &str) -> String {
    // Lists are written without the number of their entry.
    let named: String =
        path.split('[').map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit())).collect::<Vec<_>>().join("[");
    match named.split_once("[]") {
        None if named.is_empty() => match file {
            File::Plan => "the plan".to_owned(),
            File::Log => "the log".to_owned(),
        },
        None => format!("[{named}]"),
        Some((list, "")) => format!("[[{list}]]"),
        Some((list, below)) => format!("`{}` in [[{list}]]", below.trim_start_matches('.').replace("[]", "")),
    }
}

/// The first table that has a key of this name, where no table was expected to.
pub(super) fn home(file: File, key: &str) -> Option<String> {
    fn search(slot: &Slot, key: &str, pattern: &str) -> Option<String> {
        let dot = if pattern.is_empty() { "" } else { "." };
        match &slot.shape {
            Shape::Table(keys) if keys.contains_key(key) => Some(pattern.to_owned()),
            Shape::Table(keys) => {
                keys.iter().find_map(|(name, below)| search(below, key, &format!("{pattern}{dot}{name}")))
            }
            Shape::Named(each) => search(each, key, &format!("{pattern}{dot}*")),
            Shape::List(each) | Shape::OneOrMore(each) => search(each, key, &format!("{pattern}[]")),
            _ => None,
        }
    }
    search(shape(file), key, "").map(|pattern| header(file, &pattern.replace('*', "NAME")))
}

/// A word of the plan as a message quotes it: no longer than a line.
pub(super) fn short(text: &str) -> String {
    const LONGEST: usize = 40;
    if text.chars().count() <= LONGEST { text.to_owned() } else { text.chars().take(LONGEST).chain(['…']).collect() }
}

/// The known word nearest to a written one, if it is near: at most a third of its letters apart.
pub(super) fn nearest<'a>(written: &str, known: &[&'a str]) -> Option<&'a str> {
    let written = written.to_lowercase();
    let apart = |word: &str| strsim::damerau_levenshtein(&written, &word.to_lowercase());
    let written_length = written.chars().count();
    known
        .iter()
        .filter(|word| written_length <= 2 * word.chars().count())
        .map(|word| (apart(word), *word))
        .filter(|(distance, word)| *distance <= (word.chars().count() / 3).max(1))
        .min()
        .map(|(_, word)| word)
}
