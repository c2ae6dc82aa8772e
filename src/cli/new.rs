//! `new`: a short plan that compiles as it stands, every line explained.

use std::path::Path;

use clap::ValueEnum;

use super::show::{failed, refused, say};
use super::{End, How};
use crate::pages;
use crate::source::{PLAN, Project, Text};

/// What the spinner has decided first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum From {
    /// There is fibre; what will it make?
    Fibre,
    /// There is a garment; is the fibre enough?
    Garment,
    /// There is a yarn in mind.
    Yarn,
}

pub(super) fn new(name: &Path, from: From, how: How) -> End {
    let Some(title) = name.file_name().map(|name| name.to_string_lossy().into_owned()) else {
        return refused(&format!("{} is no name for a project", name.display()));
    };
    if title.chars().any(|c| c.is_control() || c == '"' || c == '\\') {
        return refused("a name with quotes, backslashes or control characters is no name for a project");
    }
    let text = plan(&title, from);
    if let Some(fault) = faults(&title, &text).first() {
        return refused(&format!("{} is no name for a project: {fault}", title.escape_debug()));
    }
    match pages::write_new(name, PLAN, text.as_bytes()) {
        Ok(path) => {
            if !how.quiet {
                say(&format!("{} is written; `wheelsheet build {}` makes its sheets", path.display(), name.display()));
            }
            End::Well
        }
        Err(failure @ pages::Failure::Exists(_)) => refused(&failure.to_string()),
        Err(failure) => failed(&failure.to_string()),
    }
}

/// The text of a new plan.
fn plan(title: &str, from: From) -> String {
    let template = match from {
        From::Fibre => include_str!("new/fibre.toml"),
        From::Garment => include_str!("new/garment.toml"),
        From::Yarn => include_str!("new/yarn.toml"),
    };
    template.replace("TITLE", title)
}

/// What is wrong with a plan of that title: the plan is ours, so it is the title that cannot be printed or is too long.
fn faults(title: &str, text: &str) -> Vec<String> {
    let plan = Text { path: PLAN.to_owned(), bytes: text.as_bytes().to_vec() };
    let project = Project { name: title.to_owned(), folder: title.into(), plan, log: None };
    crate::work_out(&project).diagnostics.into_iter().map(|fault| fault.message).collect()
}
