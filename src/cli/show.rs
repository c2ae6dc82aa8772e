//! Streams: what was asked for, messages, and faults.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use codespan_reporting::term::termcolor::{Ansi, NoColor, WriteColor};

use super::{End, How, Messages};
use crate::diagnostics::render::{Format, emit};
use crate::source::{self, Project};
use crate::{Outcome, Worked};

/// Writes what was asked for. A reader that has gone away is no failure.
pub(super) fn answer(text: &str) -> End {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => failed(&format!("cannot write the answer: {error}")),
        Ok(()) | Err(_) => End::Well,
    }
}

/// Says something beside the answer. Where nobody listens any more, nothing is lost.
pub(super) fn say(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", harmless(text));
}

/// A text without the characters that steer a terminal, which the name of a file may hold.
fn harmless(text: &str) -> String {
    text.chars().map(|c| if c.is_control() && c != '\n' && c != '\t' { '\u{fffd}' } else { c }).collect()
}

/// A number of things in words: "1 plan", "2 plans".
pub(super) fn number(n: usize, thing: &str) -> String {
    let ending = if n == 1 { "" } else { "s" };
    format!("{n} {thing}{ending}")
}

/// Says how the machine failed.
pub(super) fn failed(text: &str) -> End {
    say(&format!("error: {text}"));
    End::Failed
}

/// Says what is wrong with the request.
pub(super) fn refused(text: &str) -> End {
    say(&format!("error: {text}"));
    End::Faulty
}

/// The diagnostics of a project as they are shown.
pub(super) fn told(outcome: &Outcome, how: How) -> Vec<u8> {
    let format = match how.message_format {
        Messages::Human => Format::Human,
        Messages::Short => Format::Short,
        Messages::Json => Format::Json,
    };
    let mut bytes = Vec::new();
    let write = |out: &mut dyn WriteColor| {
        emit(out, &outcome.places, &outcome.diagnostics, format).expect("invariant: writing to memory does not fail");
    };
    match how.colour() {
        clap::ColorChoice::Always => write(&mut Ansi::new(&mut bytes)),
        clap::ColorChoice::Auto | clap::ColorChoice::Never => write(&mut NoColor::new(&mut bytes)),
    }
    bytes
}

/// Shows the diagnostics of a project.
pub(super) fn tell(outcome: &Outcome, how: How) {
    let _ = std::io::stderr().lock().write_all(&told(outcome, how));
}

/// The project folders below the paths, or how that failed.
pub(super) fn found(paths: &[PathBuf]) -> Result<Vec<PathBuf>, End> {
    source::find(paths).map_err(|failure| failed(&failure.to_string()))
}

/// One project and its outcome.
pub(super) fn read(folder: &Path) -> Result<(Project, Outcome), End> {
    let project = source::read(folder).map_err(|failure| failed(&failure.to_string()))?;
    let outcome = crate::work_out(&project);
    Ok((project, outcome))
}

/// The work of the one project that a path names; its faults are shown.
pub(super) fn one(path: Option<&Path>, how: How) -> Result<(Worked, Outcome), End> {
    let paths: Vec<PathBuf> = path.map(Path::to_owned).into_iter().collect();
    let folders = found(&paths)?;
    let [folder] = folders.as_slice() else {
        let names: Vec<String> = folders.iter().map(|folder| folder.display().to_string()).collect();
        return Err(refused(&format!("expected one plan, found {}: {}", folders.len(), names.join(", "))));
    };
    let (_, outcome) = read(folder)?;
    if outcome.has_errors() {
        tell(&outcome, how);
    }
    match outcome.worked.clone() {
        Some(worked) => Ok((worked, outcome)),
        None => Err(End::Faulty),
    }
}
