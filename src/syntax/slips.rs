//! Faults of TOML in the words of someone who writes plans by hand, with the line as it was meant where that can be told.
//!
//! The parser's own words are a last resort: they speak of tokens, and a spinner wrote a line.

use std::ops::Range;

use super::lines::Statement;
use crate::diagnostics::{Code, Diagnostic, File, Label, Spot};

/// The fault of a statement, as what the parser says at `span`, or what is open in the statement.
pub(super) fn slip(
    file: File,
    text: &str,
    statements: &[Statement],
    i: usize,
    span: &Range<usize>,
    message: &str,
) -> Diagnostic {
    let statement = &statements[i];
    let line = &text[statement.range.clone()];
    let at = |code, message: String, spot: Range<usize>| Diagnostic::at(code, message, Spot::Bytes(file, spot));
    if let Some(open) = statement.open {
        return left_open(file, text, statement, open);
    }
    if message.contains("duplicate key") {
        let found = &text[clipped(text, span)];
        let mut fault = at(Code::DuplicateKey, format!("expected each key once, found `{found}` again"), span.clone())
            .label("written before in the same table")
            .help("keep one of the two, or give one of them another name");
        let first = written_before(text, statements, i);
        let label = |first| Label { spot: Spot::Bytes(file, first), text: "first written here".to_owned() };
        fault.secondary.extend(first.map(label));
        return fault;
    }
    let syntax = |message: String, spot: Range<usize>| at(Code::Syntax, message, spot);
    let from = statement.range.start;
    if let Some((key, value)) = entry_by_colon(line) {
        let colon = from + line.find(':').unwrap_or(0);
        return syntax("expected `=` after a key, found a colon".to_owned(), colon..colon + 1)
            .help(format!("write `{key} = {}`", quoted(value)));
    }
    if let Some((words, value)) = key_of_words(line) {
        let key = words.split_whitespace().collect::<Vec<_>>().join("-");
        return syntax(format!("expected a key of one word, found `{words}`"), from..from + words.len())
            .help(format!("write `{key} = {}`", quoted(value)));
    }
    if let Some((key, value)) = entry_without_equals(line).filter(|_| message.contains("expected `=`")) {
        return syntax("expected `=` between a key and its value, found none".to_owned(), span.clone())
            .help(format!("write `{key} = {}`", quoted(value)));
    }
    if let Some((key, value)) = entry(line).filter(|(_, value)| quoted(value) != *value && !is_of_digits(value)) {
        let start = from + line.find('=').map_or(0, |n| n + 1);
        let start = start + text[start..].find(value).unwrap_or(0);
        return syntax(format!("expected a text in quotation marks, found `{value}`"), start..start + value.len())
            .help(format!("write `{key} = {}`", quoted(value)));
    }
    let found = &text[clipped(text, span)];
    if message.starts_with("string values must be quoted") && !found.is_empty() {
        return syntax(format!("expected a text in quotation marks, found `{found}`"), span.clone())
            .help(format!("write {}", quoted(found)));
    }
    let (message, help) = in_words(message);
    syntax(message, span.clone()).help(help)
}

/// What the parser says, and the same in the words of the plan with what to do about it.
const WORDS: &[(&str, &str, &str)] = &[
    ("string values must be quoted", "expected a value after `=`, found none", "write the value, or take the line out"),
    ("key with no value", "expected `=` between a key and its value, found none", GRAMMAR),
    (
        "missing table open",
        "expected a key or a table, found a closing bracket",
        "take it out, or write the bracket that opens before it",
    ),
    ("invalid date", "expected a day that the calendar has, found another", "write year, month and day: 2026-03-02"),
    (
        "missing comma between array",
        "expected a comma between the values of a list, found none",
        "write `[\"101 g\", \"99 g\"]`",
    ),
    (
        "missing comma between key-value",
        "expected a comma between entries in braces, found none",
        "write `{ slow = \"6:1\", fast = \"8.5:1\" }`",
    ),
    ("extra comma", "expected a value, found a second comma", "take one of the commas out"),
    ("missing value", "expected a value after `=`, found none", "write the value, or take the line out"),
    ("extra `=`", "expected a value after `=`, found a second one", "take one of the equals signs out"),
    ("extra assignment", "expected one `=` in an entry, found two", "write each entry on a line of its own"),
    (
        "unexpected `=` in array",
        "expected values in a list, found an entry",
        "entries stand in braces: `[{ braid = \"north\" }]`",
    ),
    ("unexpected key or value", "expected the end of the line, found more", "write each entry on a line of its own"),
    ("unexpected content", "expected the end of the line, found more", "write each entry on a line of its own"),
    (
        "missing escaped value",
        "expected a letter that goes with a backslash, found another",
        "write `\\\\` for a backslash in a text, or stand the text in single quotes: 'a\\b'",
    ),
    (
        "too few unicode",
        "expected four or eight digits after `\\u`, found fewer",
        "write the character itself: a plan is UTF-8",
    ),
    (
        "unexpected leading zero",
        "expected a number without a nought before it, found one",
        "write 3 for 03; a day is written 2026-03-02",
    ),
    ("unquoted keys cannot be empty", "expected a name, found none", "write the name of the table or key"),
];

/// What a line may be, for faults that nothing else is known of.
const GRAMMAR: &str =
    "a line is `key = value`, `[table]` or `[[list]]`; texts and quantities stand in quotes: weight = \"113 g\"";

fn in_words(message: &str) -> (String, &'static str) {
    match WORDS.iter().find(|(start, ..)| message.starts_with(start)) {
        Some((_, words, help)) => ((*words).to_owned(), help),
        None => (format!("expected TOML, found a line that is none: {message}"), GRAMMAR),
    }
}

/// A bracket or a quotation mark that nothing closes.
fn left_open(file: File, text: &str, statement: &Statement, open: usize) -> Diagnostic {
    let at = Spot::Bytes(file, open..open + 1);
    let is_last = text[statement.range.end..].trim().is_empty();
    let end = match (statement.is_header, is_last) {
        (true, _) => "the end of the line",
        (false, true) => "the end of the file",
        (false, false) => "the next entry",
    };
    let fault = |closing: &str, what: &str| {
        Diagnostic::at(Code::Syntax, format!("expected `{closing}` after {what}, found {end}"), at.clone())
            .label("opened here, and never closed")
    };
    match (&text[open..=open], statement.is_header) {
        ("[", true) => {
            let line = &text[statement.range.clone()];
            let name = line.trim_start_matches('[').split(['#', ']']).next().unwrap_or_default().trim();
            let (open, close) = if line.starts_with("[[") { ("[[", "]]") } else { ("[", "]") };
            fault(close, "the name of a table").help(format!("write `{open}{name}{close}`"))
        }
        ("[", false) => fault("]", "the values of a list").help("write `]` after its last value"),
        ("{", _) => fault("}", "entries in braces").help("write `}` after the last of them"),
        (mark, _) => {
            let message = format!("expected a second `{mark}` in the line, found its end");
            Diagnostic::at(Code::Syntax, message, at)
                .label("nothing closes this quotation mark")
                .help("count the quotation marks of the line: a text has one before it and one behind it")
        }
    }
}

/// How many entries, or headers, are searched for the first of two that are the same.
const FAR: usize = 100;

/// The key of the statement `i`, where an earlier statement of the same table, or an earlier header, has it too.
fn written_before(text: &str, statements: &[Statement], i: usize) -> Option<Range<usize>> {
    let name = |statement: &Statement| {
        let line = &text[statement.range.clone()];
        let end = if statement.is_header { line.find(']')? } else { line.find('=')? };
        Some(line[..end].split_whitespace().collect::<String>())
    };
    let wanted = name(&statements[i])?;
    let is_header = statements[i].is_header;
    let same_table = statements[..i].iter().rev().take_while(|before| is_header || !before.is_header);
    let before: Vec<&Statement> = same_table.filter(|before| before.is_header == is_header).take(FAR).collect();
    let first = before.into_iter().rev().find(|before| name(before).as_ref() == Some(&wanted))?;
    let line = &text[first.range.clone()];
    let end = if is_header { line.find(']')? + 1 } else { line.find('=')? };
    Some(first.range.start..first.range.start + line[..end].trim_end().len())
}

/// Key and value of an entry on one line.
fn entry(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once('=')?;
    let value = value.split('#').next().unwrap_or_default().trim();
    let is_plain = !value.is_empty() && !value.contains(['[', '{', '"', '\'', '\n']);
    (is_plain && is_key(key.trim())).then_some((key.trim(), value))
}

/// `key : value`.
fn entry_by_colon(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once(':')?;
    let value = value.split('#').next().unwrap_or_default().trim();
    (is_key(key.trim()) && !value.is_empty() && !line.contains('\n')).then_some((key.trim(), value))
}

/// `key value`.
fn entry_without_equals(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once(char::is_whitespace)?;
    let value = value.split('#').next().unwrap_or_default().trim();
    (is_key(key) && !value.is_empty() && !line.contains(['=', '\n'])).then_some((key, value))
}

/// `two words = value`.
fn key_of_words(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once('=')?;
    let key = key.trim();
    let value = value.split('#').next().unwrap_or_default().trim();
    let is_words = key.contains(char::is_whitespace) && key.split_whitespace().all(is_key);
    (is_words && !value.is_empty() && !line.contains('\n')).then_some((key, value))
}

/// A number or a day, be it wrong in itself.
fn is_of_digits(value: &str) -> bool {
    value.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '+' | '.' | '_' | ':'))
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_'))
}

/// A value as TOML takes it: as it is, or in quotation marks.
fn quoted(value: &str) -> String {
    let is_toml = value.starts_with(['"', '\'', '[', '{'])
        || ["true", "false"].contains(&value)
        || value.chars().all(|c| c.is_ascii_digit())
        || value.parse::<toml::value::Datetime>().is_ok();
    if is_toml { value.to_owned() } else { format!("\"{}\"", value.trim_matches('"')) }
}

/// The span inside the text, on one line, and no longer than can be read.
fn clipped(text: &str, span: &Range<usize>) -> Range<usize> {
    const LONGEST: usize = 40;
    let start = text.floor_char_boundary(span.start.min(text.len()));
    let end = text.floor_char_boundary(span.end.clamp(start, text.len()).min(start + LONGEST));
    let line = text[start..end].find('\n').map_or(end, |n| start + n);
    start..line
}
