//! Every fault of TOML in one run, with all that can be saved beside them.
//!
//! The parser stops at some faults without a word on the rest. So the first fault is noted, its line is blanked with as many
//! spaces, so that every place stays where it was, and the text is read again, until no fault is left.

use std::ops::Range;

use toml::de::DeTable;

use crate::diagnostics::{Code, Diagnostic, File, Spot};

/// Rounds of blanking; a text with more faults is no plan.
const MOST_ROUNDS: usize = 50;

/// The text with every line that is no TOML blanked, and whether none had to be.
pub(super) fn recover(file: File, text: &str, faults: &mut Vec<Diagnostic>) -> (String, bool) {
    let mut text = text.to_owned();
    for round in 0..MOST_ROUNDS {
        let (_, errors) = DeTable::parse_recoverable(&text);
        let first = errors.iter().min_by_key(|error| error.span().map_or(usize::MAX, |span| span.start));
        let Some(error) = first else { return (text, round == 0) };
        // An unclosed bracket makes every line after it look wrong: it is blamed first, and they are read again.
        let open = errors.iter().find(|error| error.message().starts_with("unclosed"));
        let error = open.unwrap_or(error);
        let span = error.span().unwrap_or(0..0);
        let blamed = open.and_then(|_| unclosed(&text)).unwrap_or(span);
        faults.push(fault(file, &text, error.message(), blamed.clone()));
        let lines = lines_lost(&text, blamed.start);
        if text[lines.clone()].trim().is_empty() {
            break;
        }
        let blank: String = text[lines.clone()]
            .bytes()
            .map(|byte| if matches!(byte, b'\n' | b'\r') { char::from(byte) } else { ' ' })
            .collect();
        text.replace_range(lines, &blank);
    }
    (String::new(), false)
}

/// What is blanked for a fault: its line, and under a broken header all that would else fall to the table before it.
fn lines_lost(text: &str, at: usize) -> Range<usize> {
    let line = line_of(text, at);
    if !text[line.clone()].trim_start().starts_with('[') {
        return line;
    }
    let next = text[line.end..].find("\n[").map_or(text.len(), |n| line.end + n);
    line.start..next
}

/// The whole line around a byte, without its end.
fn line_of(text: &str, at: usize) -> Range<usize> {
    let at = text.floor_char_boundary(at.min(text.len()));
    let start = text[..at].rfind('\n').map_or(0, |n| n + 1);
    let end = text[at..].find('\n').map_or(text.len(), |n| at + n);
    start..end
}

/// The bracket that was opened last and never closed: the parser blames the end of the file instead.
fn unclosed(text: &str) -> Option<Range<usize>> {
    let mut open: Vec<usize> = Vec::new();
    super::text::brackets(text, &mut |at, byte| {
        match byte {
            b'[' | b'{' => open.push(at),
            _ => {
                open.pop();
            }
        }
        true
    });
    open.last().map(|&at| at..at + 1)
}

fn fault(file: File, text: &str, message: &str, span: Range<usize>) -> Diagnostic {
    let spot = Spot::Bytes(file, span.clone());
    if message.contains("duplicate key") {
        let found = text.get(span).unwrap_or_default();
        return Diagnostic::at(Code::DuplicateKey, format!("expected each key once, found \"{found}\" again"), spot)
            .label("written before in the same table")
            .help("keep one of the two, or give one of them another name");
    }
    Diagnostic::at(Code::Syntax, format!("expected TOML: {}", in_one_line(message)), spot)
        .label("the line stops being TOML here")
        .help("a line is `key = value`, `[table]` or `[[list]]`; texts and quantities stand in quotes: weight = \"113 g\"")
}

/// The parser's words, of which some come in several lines.
fn in_one_line(message: &str) -> String {
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}
