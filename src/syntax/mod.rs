//! Text to tree, with the place of everything in it.
//!
//! The arrow is [`read`]. It never fails: a file that is no plan at all gives an empty tree and says why. Every fault of form
//! in both files is found in one run, each at the smallest place, and what is sound beside it is kept.
//! What the entries mean is not asked here but in `check`.

mod alternative;
pub mod answers;
pub mod entry;
mod lines;
mod meant;
mod places;
pub mod raw;
mod recover;
mod shape;
mod slips;
mod text;
mod walk;

use serde::de::DeserializeOwned;
use toml::Table;
use toml::de::DeTable;

use crate::diagnostics::{Diagnostic, File};
use crate::source::{Project, Text};
pub use alternative::Alternative;
use places::Page;
pub use places::Places;
pub use shape::schema;
use text::Written;

/// The two files of a project as trees.
#[derive(Debug, Clone)]
pub struct Syntax {
    /// The plan, as far as it could be read.
    pub plan: raw::Plan,
    /// The log, as far as it could be read; empty where there is none.
    pub log: raw::Log,
    /// Where everything stands.
    pub places: Places,
    /// Whether both files were read whole. Where not, nothing may be called missing.
    pub whole: bool,
    /// The alternatives in order of writing, `None` in place of one that has a fault; none where the plan itself has one.
    pub alternatives: Vec<Option<Alternative>>,
}

/// Reads the files of a project.
pub fn read(project: &Project) -> (Syntax, Vec<Diagnostic>) {
    let mut faults = Vec::new();
    let plan = text::text(File::Plan, &project.plan, &mut faults);
    let log = project.log.as_ref().map(|log| text::text(File::Log, log, &mut faults));
    let log = log.unwrap_or(Written { whole: true, ..Written::default() });
    let page = |of: Option<&Text>, text: String| Page { name: of.map_or_else(String::new, |of| of.path.clone()), text };
    let mut places = Places::new(page(Some(&project.plan), plan.shown), page(project.log.as_ref(), log.shown));
    let is_readable = plan.whole && log.whole;
    let (plan, plan_whole) = tree(File::Plan, &plan.sound.unwrap_or_default(), &mut places, &mut faults);
    let (log, log_whole) = tree(File::Log, &log.sound.unwrap_or_default(), &mut places, &mut faults);
    let whole = is_readable && plan_whole && log_whole;
    let (plan_tree, log_tree): (raw::Plan, raw::Log) = (fitted(plan.clone()), fitted(log.clone()));
    let alternatives = if faults.is_empty() {
        alternative::alternatives(&plan_tree.alternative, &plan, &log, &mut faults)
    } else {
        Vec::new()
    };
    (Syntax { plan: plan_tree, log: log_tree, places, whole, alternatives }, faults)
}

/// The tree of one file as a table that fits the shapes, and whether its text was read whole.
fn tree(file: File, text: &str, places: &mut Places, faults: &mut Vec<Diagnostic>) -> (Table, bool) {
    let (saved, whole) = recover::recover(file, text, faults);
    let (table, _) = DeTable::parse_recoverable(&saved);
    (walk::walk(file, &table, places, faults), whole)
}

fn fitted<T: DeserializeOwned>(table: Table) -> T {
    table.try_into().expect("invariant: the walk keeps only what fits the shapes of raw")
}
