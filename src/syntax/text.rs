//! Bytes to text: what is too large, too deep, empty or no UTF-8 is refused before any parser sees it.

use crate::diagnostics::{Code, Diagnostic, File, Spot};
use crate::source::{LIMIT, Text};

/// Tables and lists inside one another; a plan written by hand has five.
const DEEPEST: usize = 32;

/// The text of a file; `None` where it cannot be read at all, which is noted.
pub(super) fn text(file: File, written: &Text, faults: &mut Vec<Diagnostic>) -> Option<String> {
    let at_start = |code, message: String| Diagnostic::at(code, message, Spot::Bytes(file, 0..0));
    if written.bytes.len() > LIMIT {
        let message = format!("expected a file of at most {} KiB, found a larger one", LIMIT / 1024);
        faults.push(
            at_start(Code::TooLarge, message).help("is this the right file? A plan of many braids has a few KiB"),
        );
        return None;
    }
    let text = match std::str::from_utf8(&written.bytes) {
        Ok(text) => text,
        Err(error) => {
            let line = 1 + written.bytes[..error.valid_up_to()].iter().filter(|byte| **byte == b'\n').count();
            let message = format!("expected text in UTF-8, found other bytes in line {line}");
            faults.push(
                at_start(Code::NotUtf8, message)
                    .help("save the file again as UTF-8; most editors offer it under \"save as\""),
            );
            return None;
        }
    };
    if text.starts_with('\u{feff}') {
        let fault = Diagnostic::at(
            Code::ByteOrderMark,
            "expected the first key, found an invisible mark before it",
            Spot::Bytes(file, 0..3),
        );
        faults.push(
            fault.label("a byte order mark").help("save the file as UTF-8 without the mark; it is read all the same"),
        );
    }
    if file == File::Plan && text.trim_start_matches('\u{feff}').trim().is_empty() {
        faults.push(
            at_start(Code::EmptyFile, "expected a plan, found an empty file".to_owned())
                .help("`wheelsheet new NAME` writes a plan to begin with"),
        );
        return None;
    }
    if let Some(at) = too_deep(text) {
        let message = format!("expected at most {DEEPEST} brackets or dotted keys inside one another, found more");
        faults.push(
            Diagnostic::at(Code::TooDeep, message, Spot::Bytes(file, at..at + 1)).label("here it is one too many"),
        );
        return None;
    }
    Some(text.to_owned())
}

/// Where brackets outside of texts and comments, or the dots of a key, go deeper than any plan.
fn too_deep(text: &str) -> Option<usize> {
    let (mut depth, mut deepest) = (0usize, None);
    brackets(text, &mut |at, byte| {
        depth = if matches!(byte, b'[' | b'{') { depth + 1 } else { depth.saturating_sub(1) };
        if depth > DEEPEST {
            deepest = Some(at);
        }
        deepest.is_none()
    });
    deepest.or_else(|| dotted_too_often(text))
}

/// Where one line has more dots outside of texts than a key could.
fn dotted_too_often(text: &str) -> Option<usize> {
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let key = line.split(['"', '\'', '#', '=']).next().unwrap_or_default();
        if key.bytes().filter(|byte| *byte == b'.').count() > DEEPEST {
            return Some(at);
        }
        at += line.len();
    }
    None
}

/// Calls `each` with every bracket that stands outside of texts and comments, until it says no.
pub(super) fn brackets(text: &str, each: &mut dyn FnMut(usize, u8) -> bool) {
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        match bytes[at] {
            b'#' => at = bytes[at..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |n| at + n),
            quote @ (b'"' | b'\'') => {
                at = after_text(bytes, at, quote);
                continue;
            }
            bracket @ (b'[' | b'{' | b']' | b'}') if !each(at, bracket) => return,
            _ => {}
        }
        at += 1;
    }
}

/// Where a quoted text that begins at `at` has ended. An unclosed one ends with its line.
fn after_text(bytes: &[u8], at: usize, quote: u8) -> usize {
    let fence = [quote; 3];
    if bytes[at..].starts_with(&fence) {
        let rest = &bytes[at + 3..];
        return rest.windows(3).position(|three| three == fence).map_or(bytes.len(), |n| at + 3 + n + 3);
    }
    let mut at = at + 1;
    while at < bytes.len() && bytes[at] != b'\n' {
        match bytes[at] {
            b'\\' if quote == b'"' => at += 1,
            byte if byte == quote => return at + 1,
            _ => {}
        }
        at += 1;
    }
    at.min(bytes.len())
}
