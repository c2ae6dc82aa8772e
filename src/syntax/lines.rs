//! The text as statements: a header or an entry each, over as many lines as its brackets are open.
//!
//! The parser reads an open bracket or quotation mark on to the end of the file and then blames all lines in between.
//! Here a line that can only begin a new statement ends the one before it, so that one slip costs one statement.
//! What a statement says is not asked.

use std::ops::Range;

/// The longest text over several lines that is looked for, in bytes; a mark that is open for longer is taken as left open.
const LONGEST_TEXT: usize = 4096;

/// One header or entry.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Statement {
    /// From its first byte to the end of its last line.
    pub(super) range: Range<usize>,
    /// Whether it is `[table]` or `[[list]]`.
    pub(super) is_header: bool,
    /// The bracket or quotation mark that it opens and never closes.
    pub(super) open: Option<usize>,
}

/// The statements of a text, in order; blank lines and comments are none.
pub(super) fn statements(text: &str) -> Vec<Statement> {
    let bytes = text.as_bytes();
    let mut statements: Vec<Statement> = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        match bytes[at] {
            b' ' | b'\t' | b'\r' | b'\n' => at += 1,
            b'#' => at = end_of_line(bytes, at),
            first => {
                let next = statement(text, at);
                at = next.range.end.max(at + 1);
                match statements.last_mut() {
                    // What is left of a broken statement cannot be the beginning of another.
                    Some(broken) if broken.open.is_some() && matches!(first, b'{' | b'}' | b']' | b',') => {
                        broken.range.end = next.range.end;
                    }
                    _ => statements.push(next),
                }
            }
        }
    }
    statements
}

/// The statement that begins at `start`.
fn statement(text: &str, start: usize) -> Statement {
    let bytes = text.as_bytes();
    let is_header = bytes[start] == b'[';
    let ended = |end, open| Statement { range: start..end, is_header, open };
    let mut brackets: Vec<usize> = Vec::new();
    let mut before_line = 0;
    let mut open_quote = None;
    let mut last = 0;
    let mut at = start;
    while at < bytes.len() {
        match bytes[at] {
            b'\n' => {
                let innermost = brackets.last().copied();
                let goes_on = innermost.is_some_and(|open| !begins_anew(&text[at + 1..], bytes[open], last));
                if is_header || !goes_on {
                    return ended(at, open_quote.or(innermost));
                }
                before_line = brackets.len();
                at += 1;
                continue;
            }
            b'#' => {
                at = end_of_line(bytes, at);
                continue;
            }
            quote @ (b'"' | b'\'') => {
                let Some(end) = after_text(bytes, at) else {
                    // Where a quotation mark is missing, the brackets of its line are not to be trusted either.
                    open_quote = open_quote.or(Some(at));
                    brackets.truncate(before_line);
                    at = end_of_line(bytes, at);
                    continue;
                };
                (last, at) = (quote, end);
                continue;
            }
            b'[' | b'{' => brackets.push(at),
            b']' | b'}' => {
                brackets.pop();
                before_line = before_line.min(brackets.len());
            }
            _ => {}
        }
        if !bytes[at].is_ascii_whitespace() {
            last = bytes[at];
        }
        at += 1;
    }
    ended(at, open_quote.or(brackets.last().copied()))
}

/// Whether the next line can only be a new statement, although `bracket` is open and `last` was written before it.
fn begins_anew(rest: &str, bracket: u8, last: u8) -> bool {
    let line = rest.lines().next().unwrap_or_default().trim();
    is_header(line) || (is_entry(line) && (bracket == b'[' || !matches!(last, b',' | b'{')))
}

/// Whether a line is a header and no list of values: a bare word in brackets, and nothing behind them.
fn is_header(line: &str) -> bool {
    let name = line.trim_start_matches('[');
    let is_value = ["true", "false", "inf", "nan"].iter().any(|value| name.starts_with(value));
    let Some((name, behind)) = name.split_once(']') else { return false };
    let behind = behind.trim_start_matches(']').trim_start();
    line.starts_with('[')
        && !is_value
        && name.starts_with(|c: char| c.is_ascii_alphabetic())
        && !name.contains([',', '='])
        && (behind.is_empty() || behind.starts_with('#'))
}

/// Whether a line begins with a key and an equals sign.
fn is_entry(line: &str) -> bool {
    let Some((key, _)) = line.split_once('=') else { return false };
    let is_of_key = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.' | ' ' | '\t');
    !key.trim().is_empty() && key.chars().all(is_of_key)
}

fn end_of_line(bytes: &[u8], at: usize) -> usize {
    bytes[at..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |n| at + n)
}

/// Where the quoted text that begins at `at` has ended; `None` where it never does.
pub(super) fn after_text(bytes: &[u8], at: usize) -> Option<usize> {
    let quote = bytes[at];
    let is_escape = |byte| byte == b'\\' && quote == b'"';
    let fence = [quote; 3];
    if bytes[at..].starts_with(&fence) {
        let mut inside = at + 3;
        let end = bytes.len().min(at + LONGEST_TEXT);
        while inside < end {
            if bytes[inside..].starts_with(&fence) {
                // A text may end in quotation marks of its own, two at most.
                let marks = bytes[inside..].iter().take(5).take_while(|byte| **byte == quote).count();
                return Some(inside + marks);
            }
            inside += if is_escape(bytes[inside]) { 2 } else { 1 };
        }
        return None;
    }
    let mut inside = at + 1;
    while inside < bytes.len() && bytes[inside] != b'\n' {
        match bytes[inside] {
            byte if is_escape(byte) && bytes.get(inside + 1) != Some(&b'\n') => inside += 1,
            byte if byte == quote => return Some(inside + 1),
            _ => {}
        }
        inside += 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The statements as text, each with what it leaves open.
    fn seen(text: &str) -> Vec<(&str, Option<&str>)> {
        let from = |at: usize| text[at..].chars().next().map_or("", |c| &text[at..at + c.len_utf8()]);
        statements(text).into_iter().map(|s| (&text[s.range], s.open.map(from))).collect()
    }

    #[test]
    fn a_statement_goes_on_while_its_brackets_are_open() {
        let text = "# first\n[a]\nb = [\n  \"]\", # ]\n  [1, 2],\n]\n\nc = { d = '}',\n e = 1 }\n";
        assert_eq!(
            seen(text),
            [("[a]", None), ("b = [\n  \"]\", # ]\n  [1, 2],\n]", None), ("c = { d = '}',\n e = 1 }", None)]
        );
    }

    #[test]
    fn a_bracket_left_open_ends_where_a_statement_begins() {
        let text = "a = [1,\n 2\nb = 3\nc = { d = 1\ne = 2\nf = [\n[g.h] # i\n[j\nk = 1";
        assert_eq!(
            seen(text),
            [
                ("a = [1,\n 2", Some("[")),
                ("b = 3", None),
                ("c = { d = 1", Some("{")),
                ("e = 2", None),
                ("f = [", Some("[")),
                ("[g.h] # i", None),
                ("[j", Some("[")),
                ("k = 1", None)
            ]
        );
    }

    #[test]
    fn a_quotation_mark_left_open_ends_with_its_line_or_its_list() {
        let text = "a = \"x\nb = [\"x, \"y\"]\nc = [\n {d = \"x },\n {d = \"y\" },\n]\ne = [ { d = \"x },\n]\nf = 1";
        assert_eq!(
            seen(text),
            [
                ("a = \"x", Some("\"")),
                ("b = [\"x, \"y\"]", Some("\"")),
                ("c = [\n {d = \"x },\n {d = \"y\" },\n]", Some("\"")),
                ("e = [ { d = \"x },\n]", Some("\"")),
                ("f = 1", None)
            ]
        );
    }

    #[test]
    fn texts_of_several_lines_end_at_three_marks() {
        let text = "a = \"\"\"x\n[y]\n\\\"\"\"\"\"\nb = '''\n'''''\nc = ''\nd = \"\\\"\"";
        assert_eq!(
            seen(text),
            [
                ("a = \"\"\"x\n[y]\n\\\"\"\"\"\"", None),
                ("b = '''\n'''''", None),
                ("c = ''", None),
                ("d = \"\\\"\"", None)
            ]
        );
    }
}
