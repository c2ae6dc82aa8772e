//! The tree beside its shapes: what fits is kept and its place noted, what does not is refused with what was expected.

use toml::de::{DeTable, DeValue};
use toml::{Spanned, Table, Value};

use super::later::later;
use super::places::Places;
use super::shape::{Shape, Slot, shape};
use crate::diagnostics::{Code, Diagnostic, File, Part, Place, Spot};

/// What of a file fits its shape. Texts hold no character that could not be printed.
pub(super) fn walk(
    file: File,
    table: &Spanned<DeTable<'_>>,
    places: &mut Places,
    faults: &mut Vec<Diagnostic>,
) -> Table {
    let mut walk = Walk { file, places, faults };
    let Shape::Table(keys) = &shape(file).shape else { unreachable!("invariant: a whole file is a table") };
    let root = Place { file, path: String::new() };
    walk.table(table.get_ref(), keys, &At { place: root, pattern: String::new() })
}

struct Walk<'a> {
    file: File,
    places: &'a mut Places,
    faults: &'a mut Vec<Diagnostic>,
}

/// Where the walk is: the place, and the same with `*` for names and `[]` for places in lists.
#[derive(Clone)]
struct At {
    place: Place,
    pattern: String,
}

impl At {
    fn key(&self, key: &str, pattern: &str) -> Self {
        let dot = if self.pattern.is_empty() { "" } else { "." };
        Self { place: self.place.key(key), pattern: format!("{}{dot}{pattern}", self.pattern) }
    }

    fn item(&self, i: usize) -> Self {
        Self { place: self.place.index(i), pattern: format!("{}[]", self.pattern) }
    }
}

type Entry<'a, 'i> = (&'a Spanned<std::borrow::Cow<'i, str>>, &'a Spanned<DeValue<'i>>);

/// Entries in the order of writing.
fn in_order<'a, 'i>(table: &'a DeTable<'i>) -> Vec<Entry<'a, 'i>> {
    let mut entries: Vec<Entry<'a, 'i>> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

impl Walk<'_> {
    fn table(&mut self, table: &DeTable<'_>, keys: &indexmap::IndexMap<String, Slot>, at: &At) -> Table {
        let mut kept = Table::new();
        for (key, value) in in_order(table) {
            let name = key.get_ref().as_ref();
            let below = at.key(name, name);
            self.places.note(below.place.clone(), key.span(), value.span());
            if let Some(later) = later(self.file, &below.pattern, value.get_ref()) {
                let message = format!("{} is not calculated yet", later.what.trim_end_matches(','));
                let fault = Diagnostic::new(Code::NotYet, message, below.place.clone());
                self.refuse(
                    fault.at_key().label("part of a later release").help("leave it out until then"),
                    &below.place,
                );
            } else if let Some(slot) = keys.get(name) {
                kept.extend(self.value(value, slot, &below).map(|value| (name.to_owned(), value)));
            } else {
                self.unknown_key(name, keys, &at.place);
            }
        }
        kept
    }

    fn named(&mut self, table: &DeTable<'_>, slot: &Slot, at: &At) -> Table {
        let mut kept = Table::new();
        for (key, value) in in_order(table) {
            let name = key.get_ref().as_ref();
            let below = at.key(name, "*");
            self.places.note(below.place.clone(), key.span(), value.span());
            if self.is_printable(name, &below.place, Part::Key) {
                kept.extend(self.value(value, slot, &below).map(|value| (name.to_owned(), value)));
            }
        }
        kept
    }

    /// A value that fits its slot; `None` where it does not, which is noted.
    fn value(&mut self, value: &Spanned<DeValue<'_>>, slot: &Slot, at: &At) -> Option<Value> {
        if let Some(later) = later(self.file, &at.pattern, value.get_ref()) {
            let fault =
                Diagnostic::new(Code::NotYet, format!("{} is not calculated yet", later.what), at.place.clone());
            self.refuse(fault.label("part of a later release").help("leave it out until then"), &at.place);
            return None;
        }
        match (&slot.shape, value.get_ref()) {
            (Shape::Table(keys), DeValue::Table(table)) => Some(Value::Table(self.table(table, keys, at))),
            (Shape::Named(slot), DeValue::Table(table)) => Some(Value::Table(self.named(table, slot, at))),
            (Shape::List(slot), DeValue::Array(items)) => {
                let items: Vec<_> = items.iter().collect();
                Some(Value::Array(self.list(&items, slot, at)))
            }
            (Shape::OneOrMore(slot), DeValue::Array(items)) => {
                let items: Vec<_> = items.iter().collect();
                Some(Value::Array(self.list(&items, slot, at)))
            }
            (Shape::OneOrMore(slot), _) => Some(Value::Array(self.list(&[value], slot, at))),
            (Shape::Tuple(slots), DeValue::Array(items)) if items.len() == slots.len() => {
                let pairs: Vec<_> = items.iter().zip(slots).enumerate().collect();
                let kept: Option<Vec<Value>> = pairs
                    .into_iter()
                    .map(|(i, (item, slot))| self.item(item, slot, &at.item(i)))
                    .collect::<Vec<_>>()
                    .into_iter()
                    .collect();
                kept.map(Value::Array)
            }
            (Shape::Quantity, DeValue::String(text)) => self.text(text, at),
            // A bare number is let through as its text: `check` asks in words of the craft what it is a number of.
            (Shape::Quantity, DeValue::Integer(number)) => Some(Value::String(number.to_string())),
            (Shape::Quantity, DeValue::Float(number)) => Some(Value::String(number.to_string())),
            (Shape::Text, DeValue::String(text)) => self.text(text, at),
            (Shape::Words(words), DeValue::String(text)) if words.iter().any(|word| word == text) => {
                Some(Value::String(text.to_string()))
            }
            (Shape::Words(words), DeValue::String(text)) => {
                self.unknown_word(text, words, at);
                None
            }
            (Shape::Whole, DeValue::Integer(number)) => match i64::from_str_radix(number.as_str(), number.radix()) {
                Ok(number) => Some(Value::Integer(number)),
                Err(_) => {
                    let fault = Diagnostic::new(
                        Code::Implausible,
                        format!("expected a whole number, found {number}"),
                        at.place.clone(),
                    );
                    self.refuse(fault.label("far too great"), &at.place);
                    None
                }
            },
            (Shape::Truth, DeValue::Boolean(truth)) => Some(Value::Boolean(*truth)),
            (Shape::Date, DeValue::Datetime(date)) if date.date.is_some() && date.time.is_none() => {
                Some(Value::Datetime(*date))
            }
            (_, found) => {
                self.wrong_type(slot, found, at);
                None
            }
        }
    }

    fn list(&mut self, items: &[&Spanned<DeValue<'_>>], slot: &Slot, at: &At) -> Vec<Value> {
        items.iter().enumerate().filter_map(|(i, item)| self.item(item, slot, &at.item(i))).collect()
    }

    fn item(&mut self, item: &Spanned<DeValue<'_>>, slot: &Slot, at: &At) -> Option<Value> {
        self.places.note(at.place.clone(), item.span(), item.span());
        self.value(item, slot, at)
    }

    fn text(&mut self, text: &str, at: &At) -> Option<Value> {
        self.is_printable(text, &at.place, Part::Value).then(|| Value::String(text.to_owned()))
    }

    /// Whether a text has only characters that can be seen; noted where not.
    fn is_printable(&mut self, text: &str, place: &Place, part: Part) -> bool {
        let Some(hidden) = text.chars().find(|c| is_hidden(*c)) else { return true };
        let code = u32::from(hidden);
        let message = format!("expected characters that can be seen, found U+{code:04X}");
        let fault = Diagnostic::at(Code::ControlCharacter, message, Spot::Path(place.clone(), part));
        self.refuse(
            fault
                .label("holds a character that cannot be printed")
                .help("type the text anew, without what was pasted into it"),
            place,
        );
        false
    }

    fn unknown_key(&mut self, name: &str, keys: &indexmap::IndexMap<String, Slot>, parent: &Place) {
        let place = &parent.key(name);
        let message = format!("expected a key of the plan language, found \"{}\"", name.escape_debug());
        let fault = Diagnostic::new(Code::UnknownKey, message, place.clone()).at_key().label("not a key of this table");
        let known: Vec<&str> = keys.keys().map(String::as_str).collect();
        let fault = match nearest(name, &known) {
            Some(near) => {
                // Whoever slips in spelling a key has not left it out.
                self.places.refuse(parent.key(near));
                fault.help(format!("is `{near}` meant?"))
            }
            None => fault.help(format!("the keys of this table are {}", known.join(", "))),
        };
        self.refuse(fault, place);
    }

    fn unknown_word(&mut self, found: &str, words: &[String], at: &At) {
        let known: Vec<&str> = words.iter().map(String::as_str).collect();
        let listed = known.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
        let message = format!(
            "expected {}{listed}, found \"{}\"",
            if known.len() > 1 { "one of " } else { "" },
            found.escape_debug()
        );
        let fault =
            Diagnostic::new(Code::UnknownWord, message, at.place.clone()).label("none of the words that go here");
        let fault = match nearest(found, &known) {
            Some(near) => fault.help(format!("is \"{near}\" meant?")),
            None => fault,
        };
        self.refuse(fault, &at.place);
    }

    fn wrong_type(&mut self, slot: &Slot, found: &DeValue<'_>, at: &At) {
        let example = slot.example.as_deref();
        let wanted = match &slot.shape {
            Shape::Table(_) | Shape::Named(_) => "a table".to_owned(),
            Shape::List(_) | Shape::OneOrMore(_) => "a list".to_owned(),
            Shape::Tuple(slots) => format!("a list of {}", slots.len()),
            Shape::Quantity => "a number with its unit, in quotes".to_owned(),
            Shape::Text | Shape::Words(_) => "a text in quotes".to_owned(),
            Shape::Whole => "a whole number without quotes".to_owned(),
            Shape::Truth => "true or false".to_owned(),
            Shape::Date => "a day without quotes, such as 2026-03-02".to_owned(),
        };
        let fault =
            Diagnostic::new(Code::WrongType, format!("expected {wanted}, found {}", kind(found)), at.place.clone());
        let fault = match example {
            Some(example) => {
                let key = at.pattern.rsplit('.').next().unwrap_or_default().trim_end_matches("[]");
                fault.help(format!("write it as in `{key} = {example}`"))
            }
            None => fault,
        };
        self.refuse(fault, &at.place);
    }

    fn refuse(&mut self, fault: Diagnostic, place: &Place) {
        self.places.refuse(place.clone());
        self.faults.push(fault);
    }
}

/// Control characters, and the marks that turn the direction of writing or cannot be seen.
fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// What a value is, in plain words.
fn kind(value: &DeValue<'_>) -> &'static str {
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

/// The known word nearest to a written one, if it is near: at most a third of its letters apart.
fn nearest<'a>(written: &str, known: &[&'a str]) -> Option<&'a str> {
    let apart = |word: &str| strsim::damerau_levenshtein(written, word);
    let written_length = written.chars().count();
    known
        .iter()
        .filter(|word| written_length <= 2 * word.chars().count())
        .map(|word| (apart(word), *word))
        .filter(|(distance, word)| *distance <= (word.chars().count() / 3).max(1))
        .min()
        .map(|(_, word)| word)
}
