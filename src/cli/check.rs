//! `check`: every fault of every plan, and nothing written.

use std::path::PathBuf;

use super::show::{found, number, read, say, tell};
use super::{End, How};
use crate::Outcome;
use crate::diagnostics::Severity;

pub(super) fn check(paths: &[PathBuf], how: How) -> End {
    let folders = match found(paths) {
        Ok(folders) => folders,
        Err(end) => return end,
    };
    let mut worst = End::Well;
    let mut faulty = 0;
    for folder in &folders {
        match read(folder) {
            Ok((project, outcome)) => {
                tell(&outcome, how);
                if how.verbose && how.is_plain() {
                    say(&format!("{}: {}", project.name, tally(&outcome)));
                }
                if outcome.has_errors() {
                    faulty += 1;
                    worst = worst.max(End::Faulty);
                }
            }
            Err(end) => worst = worst.max(end),
        }
    }
    if how.is_plain() {
        say(&format!("{} checked, {faulty} with errors", number(folders.len(), "plan")));
    }
    worst
}

/// How many faults there are.
fn tally(outcome: &Outcome) -> String {
    let n_errors = outcome.diagnostics.iter().filter(|fault| fault.code.severity() == Severity::Error).count();
    format!("{}, {}", number(n_errors, "error"), number(outcome.diagnostics.len() - n_errors, "warning"))
}
