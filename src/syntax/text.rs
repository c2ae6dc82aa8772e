//! Bytes to text: what is too large, too deep, empty or no UTF-8 is refused before any parser sees it.

use super::lines::after_text;
use crate::diagnostics::{Code, Diagnostic, File, Spot};
use crate::source::{LIMIT, Text};

/// Tables and lists inside one another; a plan written by hand has five.
const DEEPEST: usize = 32;

/// A file as text.
#[derive(Default)]
pub(super) struct Written {
    /// As it is shown beside its faults: every byte at its place, those that are no UTF-8 as question marks.
    pub(super) shown: String,
    /// As it is parsed: as long, without control characters; none where it is not to be parsed at all.
    pub(super) sound: Option<String>,
    /// Whether nothing had to be passed over.
    pub(super) whole: bool,
}

/// The text of a file; what is wrong with it is noted.
pub(super) fn text(file: File, written: &Text, faults: &mut Vec<Diagnostic>) -> Written {
    let refused = |shown: &str| Written { shown: shown.to_owned(), sound: None, whole: false };
    if written.bytes.len() > LIMIT {
        faults.push(too_large(file));
        return refused("");
    }
    let text = match std::str::from_utf8(&written.bytes) {
        Ok(text) => text,
        Err(error) => {
            faults.push(not_utf8(file, &written.bytes, error.valid_up_to()));
            return refused(&lossy(&written.bytes));
        }
    };
    if text.starts_with('\u{feff}') {
        faults.push(byte_order_mark(file));
    }
    if file == File::Plan && is_empty(text) {
        let fault = Diagnostic::at(Code::EmptyFile, "expected a plan, found an empty file", Spot::Bytes(file, 0..0));
        faults.push(fault.help("`wheelsheet new NAME` writes a plan to begin with"));
        return refused(text);
    }
    if let Some(at) = too_deep(text) {
        let message = format!("expected at most {DEEPEST} brackets or dotted keys inside one another, found more");
        faults.push(
            Diagnostic::at(Code::TooDeep, message, Spot::Bytes(file, at..at + 1)).label("here it is one too many"),
        );
        return refused(text);
    }
    let (sound, whole) = without_controls(file, text, faults);
    Written { shown: text.to_owned(), sound: Some(sound), whole }
}

/// Whether a text has nothing but blanks and comments.
fn is_empty(text: &str) -> bool {
    let is_blank = |line: &str| line.is_empty() || line.starts_with('#');
    text.trim_start_matches('\u{feff}').lines().all(|line| is_blank(line.trim()))
}

fn too_large(file: File) -> Diagnostic {
    let message = format!("expected a file of at most {} KiB, found a larger one", LIMIT / 1024);
    Diagnostic::at(Code::TooLarge, message, Spot::Bytes(file, 0..0))
        .help("is this the right file? A plan of many braids has a few KiB")
}

fn byte_order_mark(file: File) -> Diagnostic {
    let message = "expected the first key, found an invisible mark before it";
    Diagnostic::at(Code::ByteOrderMark, message, Spot::Bytes(file, 0..3))
        .label("a byte order mark")
        .help("save the file as UTF-8 without the mark; it is read all the same")
}

fn not_utf8(file: File, bytes: &[u8], at: usize) -> Diagnostic {
    let message = format!("expected text in UTF-8, found the byte {:02X}", bytes[at]);
    let fault = Diagnostic::at(Code::NotUtf8, message, Spot::Bytes(file, at..at + 1))
        .label("saved in another encoding")
        .help("save the file again as UTF-8; most editors offer it under \"save as\"");
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        fault.note("the first two bytes are those of a file in UTF-16")
    } else {
        fault
    }
}

/// The bytes as text, one question mark for each that is none.
fn lossy(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len());
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        text.extend(chunk.invalid().iter().map(|_| '?'));
    }
    text
}

/// The text without control characters, each line with some noted once. TOML forbids them even in comments.
/// A carriage return alone ended the lines of old machines, and is read so.
fn without_controls(file: File, text: &str, faults: &mut Vec<Diagnostic>) -> (String, bool) {
    let mut sound = text.as_bytes().to_vec();
    let mut noted_line = None;
    let mut line = 0;
    for (at, c) in text.char_indices() {
        line += usize::from(c == '\n');
        let ends_line = c == '\r' && text[at..].starts_with("\r\n");
        if !c.is_ascii_control() || matches!(c, '\n' | '\t') || ends_line {
            continue;
        }
        sound[at] = if c == '\r' { b'\n' } else { b' ' };
        if noted_line.replace(line) != Some(line) {
            let message = format!("expected characters that can be seen, found U+{:04X}", u32::from(c));
            let fault = Diagnostic::at(Code::ControlCharacter, message, Spot::Bytes(file, at..at + 1));
            faults.push(if c == '\r' {
                fault.label("a carriage return alone").help("save the file with line ends of today: LF, or CR and LF")
            } else {
                fault.label("a control character").help("delete it; some editors show it only as a box or a mark")
            });
        }
    }
    (String::from_utf8(sound).expect("invariant: one byte was put for one"), noted_line.is_none())
}

/// Where brackets, or the dots of a key, go deeper than any plan. What stands in texts and comments does not count.
fn too_deep(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut depth, mut dots, mut at) = (0usize, 0usize, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'#' => at = bytes[at..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |n| at + n) - 1,
            b'"' | b'\'' => at = after_text(bytes, at).unwrap_or(at + 1) - 1,
            b'[' | b'{' => (depth, dots) = (depth + 1, 0),
            b']' | b'}' => depth = depth.saturating_sub(1),
            b'.' => dots += 1,
            b'=' | b',' | b'\n' => dots = 0,
            _ => {}
        }
        if depth > DEEPEST || dots > DEEPEST {
            return Some(at);
        }
        at += 1;
    }
    None
}
