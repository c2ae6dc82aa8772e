//! Faults of templates as they are shown: where they stand in the file that their writer knows, and what led there.

use std::ops::Range;
use std::path::PathBuf;

use codespan_reporting::diagnostic::{Diagnostic, Label};
use codespan_reporting::files::{Files, SimpleFiles};
use codespan_reporting::term::termcolor::NoColor;
use codespan_reporting::term::{self, Config};
use typst::diag::{Severity, SourceDiagnostic};
use typst::syntax::{DiagSpan, FileId};
use typst::{World, WorldExt};

use super::world::{Desk, MAIN, Templates};

/// A fault of the templates, as it is shown: with its place, and the calls that led there.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// Of those in the binary, and so of this program.
    #[error("internal: template\n{0}")]
    Shipped(String),
    /// Of those in a folder of the user's own.
    #[error("the templates in {} cannot be used as they are\n{text}", folder.display())]
    Own {
        /// The folder.
        folder: PathBuf,
        /// What is wrong, and where.
        text: String,
    },
}

impl Templates {
    /// A fault of these templates.
    pub(super) fn fault(&self, text: String) -> Fault {
        match self {
            Self::Shipped => Fault::Shipped(text),
            Self::Folder(folder) => Fault::Own { folder: folder.clone(), text },
        }
    }
}

/// What is wrong with a document that was made from templates, such as a page that no screen reader could read.
pub fn fault(templates: &Templates, faults: &[SourceDiagnostic]) -> Fault {
    shown(&Desk::new(templates, Vec::new()), faults)
}

/// The same in words, where no line of a template is to blame.
pub fn told(templates: &Templates, words: &str) -> Fault {
    templates.fault(format!("error: {words}"))
}

pub(super) fn shown(desk: &Desk, faults: &[SourceDiagnostic]) -> Fault {
    let mut told: Vec<String> = faults.iter().map(|fault| one(desk, fault)).collect();
    if faults.iter().all(|fault| fault.severity == Severity::Warning) {
        told.push("a warning is enough: a page that draws one is not finished".to_owned());
    }
    desk.templates().fault(told.join("\n\n"))
}

/// One fault with its line, the hints of the typesetting library, and what called what, from the inside out.
fn one(desk: &Desk, fault: &SourceDiagnostic) -> String {
    let mut files = SimpleFiles::new();
    let primary = place(desk, &mut files, fault.span).map(|(file, range)| Label::primary(file, range));
    let (apart, beside): (Vec<_>, Vec<_>) = fault.hints.iter().partition(|hint| hint.span.is_detached());
    let beside = beside.into_iter().filter_map(|hint| {
        let (file, range) = place(desk, &mut files, hint.span)?;
        Some(Label::secondary(file, range).with_message(&hint.v))
    });
    let labels: Vec<_> = primary.into_iter().chain(beside).collect();
    let mut notes = hints(fault, apart.iter().map(|hint| hint.v.as_str()));
    for point in &fault.trace {
        if let Some((file, range)) = place(desk, &mut files, point.span.into())
            && let (Ok(name), Ok(at)) = (files.name(file), files.location(file, range.start))
        {
            notes.push(format!("{} at {name}:{}:{}", point.v, at.line_number, at.column_number));
        }
    }
    let report = match fault.severity {
        Severity::Error => Diagnostic::error(),
        Severity::Warning => Diagnostic::warning(),
    };
    let report = report.with_message(&fault.message).with_labels(labels).with_notes(notes);
    let mut out = NoColor::new(Vec::new());
    match term::emit(&mut out, &Config::default(), &files, &report) {
        Ok(()) => String::from_utf8_lossy(&out.into_inner()).trim_end().to_owned(),
        // The line cannot be shown; what is wrong can be said without it.
        Err(_) => fault.message.to_string(),
    }
}

/// Where a span stands: its file, added to the others, and its bytes. What stands in no template, such as a picture, has no lines.
fn place(desk: &Desk, files: &mut SimpleFiles<String, String>, span: DiagSpan) -> Option<(usize, Range<usize>)> {
    let (id, range) = (span.id()?, desk.range(span)?);
    let source = desk.source(id).ok()?;
    Some((files.add(name(desk, id), source.text().to_owned()), range))
}

/// Hints in words that fit here: some of those of the library are about its own command or guess at what is not ours.
fn hints<'a>(fault: &SourceDiagnostic, given: impl Iterator<Item = &'a str>) -> Vec<String> {
    let is_of_main = fault.span.id().is_some_and(|id| id.vpath().get_without_slash() == MAIN);
    if is_of_main {
        return vec!["this is called by the program; lib.typ has to have it".to_owned()];
    }
    let mut hints: Vec<String> = given.filter(|hint| !hint.contains("--root")).map(str::to_owned).collect();
    if fault.message.starts_with("unknown font") {
        hints.push("the program has IBM Plex Sans, regular and bold, and no other".to_owned());
    }
    hints
}

/// A file as the user knows it; `main.typ` and what lies in `data` are made by the program.
fn name(desk: &Desk, id: FileId) -> String {
    let path = id.vpath().get_without_slash();
    match desk.templates() {
        _ if path == MAIN || path.starts_with("data/") => format!("{path} (made by wheelsheet)"),
        Templates::Shipped => path.to_owned(),
        Templates::Folder(folder) => folder.join(path).display().to_string(),
    }
}
