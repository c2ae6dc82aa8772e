//! `check`: every fault of every plan, and nothing written.

use std::path::PathBuf;

use super::show::{found, read, say, tell};
use super::{End, How};

pub(super) fn check(paths: &[PathBuf], how: How) -> End {
    let folders = match found(paths) {
        Ok(folders) => folders,
        Err(end) => return end,
    };
    let mut worst = End::Well;
    let mut faulty = 0;
    for folder in &folders {
        match read(folder) {
            Ok((_, outcome)) => {
                tell(&outcome, how);
                if outcome.has_errors() {
                    faulty += 1;
                    worst = worst.max(End::Faulty);
                }
            }
            Err(end) => worst = worst.max(end),
        }
    }
    if !how.quiet {
        let plans = if folders.len() == 1 { "plan" } else { "plans" };
        say(&format!("{} {plans} checked, {faulty} with errors", folders.len()));
    }
    worst
}
