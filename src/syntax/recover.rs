//! Every fault of TOML in one run, with all that can be saved beside them.
//!
//! The parser stops at some faults without a word on the rest. So what is faulty is noted and blanked with as many spaces,
//! so that every place stays where it was, and the text is read again, until no fault is left.

use std::ops::Range;

use toml::de::DeTable;

use super::lines::{Statement, statements};
use super::slips::slip;
use crate::diagnostics::{Diagnostic, File};

/// Rounds of blanking; a text with more faults inside of its statements and headers is no plan.
const MOST_ROUNDS: usize = 50;

/// A fault of one statement.
struct Broken {
    /// Which statement.
    statement: usize,
    /// What the parser points at.
    span: Range<usize>,
    /// What the parser says; empty where it was not asked.
    message: String,
}

/// The text with everything blanked that is no TOML, and whether nothing had to be.
pub(super) fn recover(file: File, text: &str, faults: &mut Vec<Diagnostic>) -> (String, bool) {
    let mut text = text.to_owned();
    for round in 0..MOST_ROUNDS {
        let statements = statements(&text);
        let broken = broken(&text, &statements);
        if broken.is_empty() {
            return (text, round == 0);
        }
        for one in &broken {
            faults.push(slip(file, &text, &statements, one.statement, &one.span, &one.message));
        }
        let lost = broken.iter().map(|one| lost(&text, &statements, one));
        text = blanked(&text, &lost.collect::<Vec<_>>());
    }
    (String::new(), false)
}

/// The broken statements of one round. After a broken header nothing is sure, since what follows falls to another table.
fn broken(text: &str, statements: &[Statement]) -> Vec<Broken> {
    let left_open = |(i, statement): (usize, &Statement)| {
        statement.open.map(|at| Broken { statement: i, span: at..at + 1, message: String::new() })
    };
    let open: Vec<Broken> = statements.iter().enumerate().filter_map(left_open).collect();
    if !open.is_empty() {
        return open;
    }
    let (_, errors) = DeTable::parse_recoverable(text);
    let mut found: Vec<Broken> = errors
        .iter()
        .filter_map(|error| {
            let span = error.span().unwrap_or(0..0);
            let message = error.message().split_whitespace().collect::<Vec<_>>().join(" ");
            let after = statements.partition_point(|statement| statement.range.start <= span.start);
            // The parser blames what stands before the first statement on no one; there is nothing to blank.
            let statement = if statements.is_empty() { None } else { Some(after.saturating_sub(1)) };
            statement.map(|statement| Broken { statement, span, message })
        })
        .collect();
    found.sort_by_key(|one| (one.statement, one.span.start));
    found.dedup_by_key(|one| one.statement);
    let header = found.iter().position(|one| statements[one.statement].is_header);
    found.truncate(header.map_or(found.len(), |header| header + 1));
    found
}

/// What is blanked for a fault: the statement, or the one line of a list that is faulty; under a broken header all that
/// would else fall to the table before it.
fn lost(text: &str, statements: &[Statement], broken: &Broken) -> Range<usize> {
    let statement = &statements[broken.statement];
    if statement.is_header {
        let rest = &statements[broken.statement + 1..];
        let next = rest.iter().find(|next| next.is_header).map_or(text.len(), |next| next.range.start);
        return statement.range.start..next;
    }
    let line = line_of(text, broken.span.start);
    let of_line = &text[line.clone()];
    let n = |brackets: [char; 2]| of_line.matches(brackets).count();
    let is_inside = line.start > statement.range.start && line.end <= statement.range.end;
    let is_item = is_inside && statement.open.is_none() && n(['[', '{']) == n([']', '}']);
    if is_item && !of_line.trim().is_empty() { line } else { statement.range.clone() }
}

/// The whole line around a byte, without its end.
fn line_of(text: &str, at: usize) -> Range<usize> {
    let at = text.floor_char_boundary(at.min(text.len()));
    let start = text[..at].rfind('\n').map_or(0, |n| n + 1);
    let end = text[at..].find('\n').map_or(text.len(), |n| at + n);
    start..end
}

/// The text with spaces in these ranges; ends of lines stay.
fn blanked(text: &str, ranges: &[Range<usize>]) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for range in ranges {
        for byte in &mut bytes[range.clone()] {
            if !matches!(byte, b'\n' | b'\r') {
                *byte = b' ';
            }
        }
    }
    String::from_utf8(bytes).expect("invariant: statements and lines begin and end between characters")
}
