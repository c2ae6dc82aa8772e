//! `log`: one more entry behind those that are there, checked before it is written.

use std::path::PathBuf;

use clap::ValueEnum;

use super::show::{failed, found, read, refused, say, tell};
use super::{End, How};
use crate::diagnostics::{Code, Diagnostic, File, Severity, Spot};
use crate::pages::{self, StoreError};
use crate::source::{LOG, Project, Text};
use crate::syntax::entry;
use crate::{Outcome, work_out};

/// What is entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Kind {
    /// A sample that was spun.
    Sample,
    /// What tearing a braid gave.
    Strips,
    /// A bobbin as it came off the wheel.
    Bobbin,
    /// A skein, washed and dry.
    Skein,
    /// Yarn weighed before and after some rows.
    Weighing,
    /// A line of words.
    Note,
}

impl Kind {
    fn key(self) -> &'static str {
        match self {
            Self::Sample => "sample",
            Self::Strips => "strips",
            Self::Bobbin => "bobbin",
            Self::Skein => "skein",
            Self::Weighing => "weighing",
            Self::Note => "note",
        }
    }
}

pub(super) fn log(kind: Kind, fields: &[String], project: Option<PathBuf>, how: How) -> End {
    let folders = match found(&project.into_iter().collect::<Vec<_>>()) {
        Ok(folders) => folders,
        Err(end) => return end,
    };
    let [folder] = folders.as_slice() else {
        return refused(&format!("expected one plan, found {}; name its folder with --project", folders.len()));
    };
    let (project, before) = match read(folder) {
        Ok(read) => read,
        Err(end) => return end,
    };
    let Some(old) = text_of(&project) else {
        tell(&before, how);
        return refused("the log cannot be read as text; mend it first");
    };
    let new = match entry::from_arguments(kind.key(), fields) {
        Ok(text) => entry::append(&old, &text),
        Err(faults) => {
            faults.iter().for_each(|fault| say(&format!("error: {fault}")));
            return End::Faulty;
        }
    };
    if before.diagnostics.iter().any(|fault| is_of_form(fault) && is_in_log(fault)) {
        tell(&before, how);
        return refused("the log has a fault of form; mend it first, so that the entry does not hide in it");
    }
    let text = Text { path: format!("{LOG}, with the new entry"), bytes: new.clone().into_bytes() };
    let after = work_out(&Project { log: Some(text), ..project.clone() });
    let fresh = Outcome { diagnostics: new_ones(&before, &after), ..after.clone() };
    tell(&fresh, how);
    if fresh.diagnostics.iter().any(|fault| is_error(fault) && is_of_entry(fault, kind, old.len())) {
        return refused("nothing was written");
    }
    let had_log = project.log.is_some();
    match pages::append_to(&folder.join(LOG), had_log.then_some(old.as_str()), &new) {
        Ok(()) => {
            if !how.quiet {
                say(&format!("{}: one {} more", folder.join(LOG).display(), kind.key()));
                inside(&after, kind);
            }
            if after.has_errors() { End::Faulty } else { End::Well }
        }
        Err(StoreError::Unwritable { path, cause }) => failed(&format!("cannot add to {}: {cause}", path.display())),
        Err(other) => refused(&other.to_string()),
    }
}

/// The log as it is; empty where there is none, `None` where it is no text.
fn text_of(project: &Project) -> Option<String> {
    match &project.log {
        None => Some(String::new()),
        Some(text) => String::from_utf8(text.bytes.clone()).ok(),
    }
}

fn is_error(fault: &Diagnostic) -> bool {
    fault.code.severity() == Severity::Error
}

fn is_of_form(fault: &Diagnostic) -> bool {
    matches!(
        fault.code,
        Code::Syntax | Code::DuplicateKey | Code::TooDeep | Code::NotUtf8 | Code::TooLarge | Code::ControlCharacter
    )
}

fn is_in_log(fault: &Diagnostic) -> bool {
    match &fault.primary.spot {
        Spot::Path(place, _) => place.file == File::Log,
        Spot::Bytes(file, _) => *file == File::Log,
    }
}

/// What is wrong with the entry and was not before. Messages may count entries, so places are compared.
fn new_ones(before: &Outcome, after: &Outcome) -> Vec<Diagnostic> {
    let is_known = |fault: &Diagnostic| {
        before.diagnostics.iter().any(|old| old.code == fault.code && old.primary.spot == fault.primary.spot)
    };
    after.diagnostics.iter().filter(|fault| !is_known(fault)).cloned().collect()
}

/// Whether a fault is of the entry itself. One that is true may make the plan fail elsewhere; that is told, and no reason not to write it.
fn is_of_entry(fault: &Diagnostic, kind: Kind, old: usize) -> bool {
    let spots = std::iter::once(&fault.primary).chain(&fault.secondary).map(|label| &label.spot);
    let is_here = |spot: &Spot| match spot {
        Spot::Path(place, _) => place.file == File::Log && place.path.starts_with(&format!("{}[", kind.key())),
        Spot::Bytes(file, span) => *file == File::Log && span.start >= old,
    };
    spots.into_iter().any(is_here)
}

/// Says of the bobbin or skein that was entered whether it lies inside its band.
fn inside(after: &Outcome, kind: Kind) {
    let Some(worked) = &after.worked else { return };
    let told = match kind {
        Kind::Bobbin => worked
            .ledger
            .evenness
            .of_bobbin(worked.plan.holder(), worked.plan.bobbins.last().map(|bobbin| bobbin.number)),
        Kind::Skein => worked
            .ledger
            .evenness
            .of_skein(&worked.ledger.deal.logged, worked.plan.skeins.last().map(|skein| skein.number)),
        Kind::Sample | Kind::Strips | Kind::Weighing | Kind::Note => None,
    };
    if let Some(told) = told {
        say(&told);
    }
}
