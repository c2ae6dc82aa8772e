//! The tree beside its shapes: what fits is kept and its place noted, what does not is refused with what was expected.

use std::ops::Range;

use indexmap::IndexMap;
use toml::de::{DeTable, DeValue};
use toml::{Spanned, Table, Value};

use super::meant::{header, home, kind, meant, nearest, short, wanted};
use super::places::Places;
use super::shape::{Shape, Slot, shape};
use crate::diagnostics::{Code, Diagnostic, File, Place, Spot};

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
    fn table(&mut self, table: &DeTable<'_>, keys: &IndexMap<String, Slot>, at: &At) -> Table {
        let mut kept = Table::new();
        for (key, value) in in_order(table) {
            let name = key.get_ref().as_ref();
            let below = at.key(name, name);
            self.places.note(below.place.clone(), key.span(), value.span());
            if let Some(slot) = keys.get(name) {
                kept.extend(self.value(value, slot, &below).map(|value| (name.to_owned(), value)));
            } else {
                self.unknown_key(name, key.span(), keys, at);
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
            if self.is_printable(name, key.span(), &below.place) {
                kept.extend(self.value(value, slot, &below).map(|value| (name.to_owned(), value)));
            }
        }
        kept
    }

    /// A value that fits its slot; `None` where it does not, which is noted.
    fn value(&mut self, value: &Spanned<DeValue<'_>>, slot: &Slot, at: &At) -> Option<Value> {
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
                // Each is looked at, so that the second fault is found as well as the first.
                let kept: Vec<Option<Value>> = items
                    .iter()
                    .zip(slots)
                    .enumerate()
                    .map(|(i, (item, slot))| self.item(item, slot, &at.item(i)))
                    .collect();
                kept.into_iter().collect::<Option<Vec<Value>>>().map(Value::Array)
            }
            (Shape::Anything, found) => self.anything(found, value.span(), at),
            (Shape::Quantity | Shape::Text, DeValue::String(text)) => self.text(text, value.span(), at),
            // A bare number is let through as its text: `check` asks in words of the craft what it is a number of.
            (Shape::Quantity, DeValue::Integer(number)) => Some(Value::String(number.to_string())),
            (Shape::Quantity, DeValue::Float(number)) => Some(Value::String(number.to_string())),
            (Shape::Words(words), DeValue::String(text)) if words.iter().any(|word| word == text) => {
                Some(Value::String(text.to_string()))
            }
            (Shape::Words(words), DeValue::String(text)) => {
                self.unknown_word(text, words, value.span(), at);
                None
            }
            (Shape::Whole, DeValue::Integer(number)) => match i64::from_str_radix(number.as_str(), number.radix()) {
                Ok(number) => Some(Value::Integer(number)),
                Err(_) => {
                    let message = format!("expected a whole number, found {}", short(&number.to_string()));
                    let fault = self.fault(Code::Implausible, message, value.span());
                    self.refuse(
                        fault.label("far too great").help("write the number that is meant, such as 2"),
                        &at.place,
                    );
                    None
                }
            },
            (Shape::Truth, DeValue::Boolean(truth)) => Some(Value::Boolean(*truth)),
            (Shape::Date, DeValue::Datetime(date)) if date.date.is_some() && date.time.is_none() => {
                Some(Value::Datetime(*date))
            }
            _ => {
                self.wrong_type(slot, value, at);
                None
            }
        }
    }

    /// A value that stands for another entry, as it is; what it may be is asked where it stands for that entry.
    fn anything(&mut self, found: &DeValue<'_>, span: Range<usize>, at: &At) -> Option<Value> {
        Some(match found {
            DeValue::String(text) => self.text(text, span, at)?,
            DeValue::Integer(number) => Value::Integer(i64::from_str_radix(number.as_str(), number.radix()).ok()?),
            DeValue::Float(number) => Value::Float(number.as_str().parse().ok()?),
            DeValue::Boolean(truth) => Value::Boolean(*truth),
            DeValue::Datetime(date) => Value::Datetime(*date),
            DeValue::Array(items) => {
                let each = items.iter().map(|item| self.anything(item.get_ref(), item.span(), at));
                Value::Array(each.collect::<Option<_>>()?)
            }
            DeValue::Table(table) => {
                let mut kept = Table::new();
                for (key, value) in in_order(table) {
                    let name = key.get_ref().to_string();
                    if self.is_printable(&name, key.span(), &at.place) {
                        kept.insert(name, self.anything(value.get_ref(), value.span(), at)?);
                    }
                }
                Value::Table(kept)
            }
        })
    }

    /// The items that fit. Their places count what is kept, as the stages to the right will.
    fn list(&mut self, items: &[&Spanned<DeValue<'_>>], slot: &Slot, at: &At) -> Vec<Value> {
        let mut kept = Vec::new();
        for item in items {
            kept.extend(self.item(item, slot, &at.item(kept.len())));
        }
        kept
    }

    fn item(&mut self, item: &Spanned<DeValue<'_>>, slot: &Slot, at: &At) -> Option<Value> {
        self.places.note(at.place.clone(), item.span(), item.span());
        self.value(item, slot, at)
    }

    fn text(&mut self, text: &str, span: Range<usize>, at: &At) -> Option<Value> {
        self.is_printable(text, span, &at.place).then(|| Value::String(text.to_owned()))
    }

    /// Whether a text has only characters that can be seen; noted where not.
    fn is_printable(&mut self, text: &str, span: Range<usize>, place: &Place) -> bool {
        let Some(hidden) = text.chars().find(|c| is_hidden(*c)) else { return true };
        let message = format!("expected characters that can be seen, found U+{:04X}", u32::from(hidden));
        let fault = self.fault(Code::ControlCharacter, message, span);
        let fault = match hidden {
            '\n' | '\t' => fault.label("goes over more than one line, or has a tab in it").help("write it on one line"),
            _ => fault
                .label("holds a character that cannot be printed")
                .help("type the text anew, without what was pasted into it"),
        };
        self.refuse(fault, place);
        false
    }

    fn unknown_key(&mut self, key: &str, span: Range<usize>, keys: &IndexMap<String, Slot>, parent: &At) {
        let table = header(self.file, &parent.place.path);
        let message = format!("expected a key of {table}, found `{}`", short(key));
        let fault = self.fault(Code::UnknownKey, message, span).label("not a key of the plan language here");
        let known: Vec<&str> = keys.keys().map(String::as_str).collect();
        let fault = if let Some(near) = nearest(key, &known) {
            // Whoever slips in spelling a key has not left it out.
            self.places.refuse(parent.place.key(near));
            fault.help(format!("is `{near}` meant?"))
        } else if let Some(home) = home(self.file, key) {
            fault.help(format!("`{key}` belongs to {home}"))
        } else {
            fault.help(format!("the keys of {table} are {}", known.join(", ")))
        };
        self.refuse(fault, &parent.place.key(key));
    }

    fn unknown_word(&mut self, found: &str, words: &[String], span: Range<usize>, at: &At) {
        let known: Vec<&str> = words.iter().map(String::as_str).collect();
        let listed = known.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
        let one_of = if known.len() > 1 { "one of " } else { "" };
        let message = format!("expected {one_of}{listed}, found \"{}\"", short(found));
        let fault = self.fault(Code::UnknownWord, message, span).label("none of the words that go here");
        let fault = match nearest(found, &known) {
            Some(near) => fault.help(format!("is \"{near}\" meant?")),
            None => fault,
        };
        self.refuse(fault, &at.place);
    }

    fn wrong_type(&mut self, slot: &Slot, value: &Spanned<DeValue<'_>>, at: &At) {
        let found = value.get_ref();
        let message = format!("expected {}, found {}", wanted(&slot.shape), kind(found));
        let fault = self.fault(Code::WrongType, message, value.span());
        let fault = match meant(slot, found, &at.pattern) {
            Some(meant) => fault.help(format!("write `{meant}`")),
            None => fault,
        };
        self.refuse(fault, &at.place);
    }

    fn fault(&self, code: Code, message: String, span: Range<usize>) -> Diagnostic {
        Diagnostic::at(code, message, Spot::Bytes(self.file, span))
    }

    fn refuse(&mut self, fault: Diagnostic, place: &Place) {
        self.places.refuse(place.clone());
        self.faults.push(fault);
    }
}

/// Control characters, and the marks that turn the direction of writing or cannot be seen.
pub(super) fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}
