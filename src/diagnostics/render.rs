//! Diagnostics as text: beside the lines they are about, one line each, or one JSON object each.
//!
//! It decides the order, leaves out what is said twice, and stops at [`MOST`]. Nothing that a plan says reaches a
//! terminal raw: control characters are shown as what they are. It does not know how a place becomes a range of
//! bytes; that is asked of [`Locate`].

use std::io;
use std::ops::Range;

use codespan_reporting::diagnostic as report;
use codespan_reporting::files::{self, Files};
use codespan_reporting::term::termcolor::{NoColor, WriteColor};
use codespan_reporting::term::{self, Config, DisplayStyle};
use serde_json::json;

use super::{Diagnostic, File, Label, Severity, Spot};

/// The most diagnostics that are printed; of the rest only the number is given.
pub const MOST: usize = 50;

/// The longest stretch of one line that is shown, in bytes. Only lines that no one wrote by hand are longer.
const WIDEST: usize = 240;

/// The longest line of a message, in characters. A longer one quotes the plan at a length that no one reads.
const LONGEST: usize = 400;

/// Knows the files and where their places lie.
pub trait Locate {
    /// The name of a file, as it is shown.
    fn name(&self, file: File) -> &str;
    /// Its text; the empty text where there is none.
    fn text(&self, file: File) -> &str;
    /// The bytes of a spot, inside the text of its file; of the nearest place around it where it is not written.
    fn range(&self, spot: &Spot) -> Range<usize>;
}

/// How diagnostics are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// With an excerpt of the plan, labels and help.
    Human,
    /// `file:line:column: error[slug]: message`.
    Short,
    /// One JSON object a line, for editors.
    Json,
}

/// Sorts by file and position and leaves out what is there twice.
pub fn sort(diagnostics: &mut Vec<Diagnostic>, at: &dyn Locate) {
    diagnostics.sort_by_cached_key(|d| {
        let range = at.range(&d.primary.spot);
        (file_of(&d.primary.spot), range.start, range.end, d.code, d.message.clone())
    });
    diagnostics.dedup();
}

/// Writes all diagnostics, sorted, each once, the first [`MOST`] of them.
///
/// # Errors
/// When `out` cannot be written.
pub fn emit(out: &mut dyn WriteColor, at: &dyn Locate, diagnostics: &[Diagnostic], format: Format) -> io::Result<()> {
    let mut sorted = diagnostics.to_vec();
    sort(&mut sorted, at);
    for diagnostic in sorted.iter().take(MOST) {
        match format {
            Format::Human => emit_report(out, at, diagnostic, DisplayStyle::Rich)?,
            Format::Short => emit_report(out, at, diagnostic, DisplayStyle::Short)?,
            Format::Json => writeln!(out, "{}", object(at, diagnostic))?,
        }
    }
    let rest = sorted.len().saturating_sub(MOST);
    if rest > 0 && format != Format::Json {
        let faults = if rest == 1 { "fault is" } else { "faults are" };
        writeln!(out, "{rest} more {faults} not shown; they may go when these are mended")?;
    }
    Ok(())
}

/// The same without colour, as a text.
pub fn to_text(at: &dyn Locate, diagnostics: &[Diagnostic], format: Format) -> String {
    let mut out = NoColor::new(Vec::new());
    emit(&mut out, at, diagnostics, format).expect("invariant: writing to memory does not fail");
    String::from_utf8(out.into_inner()).expect("invariant: only text was written")
}

/// `text` with every character that a terminal would obey, or that cannot be seen, replaced by its number.
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if is_unprintable(c) && c != '\n' {
            shown.push_str(&format!("\\u{{{:x}}}", u32::from(c)));
        } else {
            shown.push(c);
        }
    }
    shown
}

/// `text` made visible, each of its lines cut to [`LONGEST`].
fn told(text: &str) -> String {
    let cut = |line: &str| match line.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{} ...", &line[..end]),
        None => line.to_owned(),
    };
    visible(text).split('\n').map(cut).collect::<Vec<_>>().join("\n")
}

/// Whether `c` is a control character, ends a line, or turns the direction of reading.
pub fn is_unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// `text` as long as it was, byte for byte, with stand-ins for unprintable characters, so that ranges still hold.
fn stand_in(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '\n' | '\t' => shown.push(c),
            '\r' if rest.peek() == Some(&'\n') => shown.push(c),
            c if !is_unprintable(c) => shown.push(c),
            c if c.len_utf8() == 3 => shown.push('\u{fffd}'),
            c => shown.extend(std::iter::repeat_n('?', c.len_utf8())),
        }
    }
    shown
}

fn file_of(spot: &Spot) -> File {
    match spot {
        Spot::Path(place, _) => place.file,
        Spot::Bytes(file, _) => *file,
    }
}

fn emit_report(
    out: &mut dyn WriteColor,
    at: &dyn Locate,
    diagnostic: &Diagnostic,
    style: DisplayStyle,
) -> io::Result<()> {
    let excerpts = Excerpts::around(at, diagnostic);
    let label = |label: &Label, style| {
        let file = file_of(&label.spot);
        report::Label::new(style, file, excerpts.clamp(file, at.range(&label.spot))).with_message(told(&label.text))
    };
    let mut labels = vec![label(&diagnostic.primary, report::LabelStyle::Primary)];
    labels.extend(diagnostic.secondary.iter().map(|l| label(l, report::LabelStyle::Secondary)));
    let notes = diagnostic.notes.iter().map(|note| paragraph("note", note));
    let help = diagnostic.help.iter().map(|help| paragraph("help", help));
    let report = report::Diagnostic::new(severity(diagnostic))
        .with_code(diagnostic.code.slug())
        .with_message(told(&diagnostic.message))
        .with_labels(labels)
        .with_notes(notes.chain(help).collect());
    let config = Config { display_style: style, ..Config::default() };
    term::emit(out, &config, &excerpts, &report).map_err(|error| match error {
        files::Error::Io(error) => error,
        error => io::Error::other(error),
    })
}

/// Later lines of a note stand under its first word.
fn paragraph(kind: &str, text: &str) -> String {
    let indent = format!("\n{}", " ".repeat(kind.len() + 2));
    format!("{kind}: {}", told(text).replace('\n', &indent))
}

fn severity(diagnostic: &Diagnostic) -> report::Severity {
    match diagnostic.code.severity() {
        Severity::Error => report::Severity::Error,
        Severity::Warning => report::Severity::Warning,
    }
}

/// One diagnostic as a JSON object; lines and columns count from 1, columns in characters.
fn object(at: &dyn Locate, diagnostic: &Diagnostic) -> serde_json::Value {
    let span = |label: &Label| {
        let (file, range) = (file_of(&label.spot), at.range(&label.spot));
        let (line, column) = position(at.text(file), range.start);
        let (end_line, end_column) = position(at.text(file), range.end);
        json!({
            "file": visible(at.name(file)),
            "line": line, "column": column, "end-line": end_line, "end-column": end_column,
            "text": told(&label.text),
        })
    };
    json!({
        "code": diagnostic.code.slug(),
        "severity": match diagnostic.code.severity() { Severity::Error => "error", Severity::Warning => "warning" },
        "message": told(&diagnostic.message),
        "primary": span(&diagnostic.primary),
        "secondary": diagnostic.secondary.iter().map(span).collect::<Vec<_>>(),
        "notes": diagnostic.notes.iter().map(|note| told(note)).collect::<Vec<_>>(),
        "help": diagnostic.help.as_deref().map(told),
    })
}

/// Line and column of a byte, both from 1; the column counts characters.
pub fn position(text: &str, byte: usize) -> (usize, usize) {
    let before = &text[..byte.min(text.len())];
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (before.matches('\n').count() + 1, before[start..].chars().count() + 1)
}

/// The two files as one diagnostic shows them: made safe, and long lines cut down to the stretch around its label.
struct Excerpts {
    plan: Excerpt,
    log: Excerpt,
}

struct Excerpt {
    name: String,
    text: String,
    line_starts: Vec<usize>,
    /// Around what a long line is shown.
    centre: usize,
}

impl Excerpts {
    fn around(at: &dyn Locate, diagnostic: &Diagnostic) -> Excerpts {
        let labels = || std::iter::once(&diagnostic.primary).chain(&diagnostic.secondary);
        let excerpt = |file| {
            let centre = labels().find(|l| file_of(&l.spot) == file).map_or(0, |l| at.range(&l.spot).start);
            let text = stand_in(at.text(file));
            Excerpt { name: visible(at.name(file)), line_starts: files::line_starts(&text).collect(), text, centre }
        };
        Excerpts { plan: excerpt(File::Plan), log: excerpt(File::Log) }
    }

    fn of(&self, file: File) -> &Excerpt {
        match file {
            File::Plan => &self.plan,
            File::Log => &self.log,
        }
    }

    /// A range that begins and ends in what is shown of its first line.
    fn clamp(&self, file: File, range: Range<usize>) -> Range<usize> {
        let excerpt = self.of(file);
        let shown = excerpt.shown(excerpt.line_at(range.start));
        let shown = shown.start..shown.start + excerpt.text[shown].trim_end_matches(['\n', '\r']).len();
        range.start.clamp(shown.start, shown.end)..range.end.clamp(shown.start, shown.end)
    }
}

impl Excerpt {
    fn line_at(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|&start| start <= byte).saturating_sub(1)
    }

    fn line(&self, line: usize) -> Range<usize> {
        let start = self.line_starts.get(line).copied().unwrap_or(self.text.len());
        start..self.line_starts.get(line + 1).copied().unwrap_or(self.text.len())
    }

    /// The whole line, or of a long one the stretch around the centre.
    fn shown(&self, line: usize) -> Range<usize> {
        let Range { start, end } = self.line(line);
        if end - start <= WIDEST {
            return start..end;
        }
        let from = self.centre.clamp(start, end).saturating_sub(WIDEST / 2).max(start);
        let to = (from + WIDEST).min(end);
        self.text.floor_char_boundary(from)..self.text.ceil_char_boundary(to)
    }
}

impl<'a> Files<'a> for Excerpts {
    type FileId = File;
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, file: File) -> Result<&'a str, files::Error> {
        Ok(&self.of(file).name)
    }

    fn source(&'a self, file: File) -> Result<&'a str, files::Error> {
        Ok(&self.of(file).text)
    }

    fn line_index(&'a self, file: File, byte: usize) -> Result<usize, files::Error> {
        Ok(self.of(file).line_at(byte))
    }

    fn column_number(&'a self, file: File, line: usize, byte: usize) -> Result<usize, files::Error> {
        let excerpt = self.of(file);
        Ok(files::column_index(&excerpt.text, excerpt.line(line), byte) + 1)
    }

    fn line_range(&'a self, file: File, line: usize) -> Result<Range<usize>, files::Error> {
        Ok(self.of(file).shown(line))
    }
}
