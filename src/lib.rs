//! Wheelsheet: from a hand spinner's plain-text plan to worksheets on paper.
//!
//! ```text
//!  projects/<name>/{plan,log}.toml                                templates/*.typ
//!         | source                                                     |
//!         v                                                            v
//!      syntax ---> check ---> figures ---> sheets ---> document ---> pages ---> out/<name>/*.pdf
//!      tree        Plan       Ledger       Sheets      typeset       PDF
//!      + places
//!      diagnostics, units, plan: below all stages, know none of them
//! ```
//!
//! A stage imports only from its left, takes values and returns values. [`source`] alone reads the disk, [`pages`] alone writes it.
//! There are two kinds of failure: the plan's, a [`Diagnostic`] with its place, and the machine's.
//!
//! # Words
//! | word | means |
//! |---|---|
//! | project | a folder with `plan.toml` and, once there is something to log, `log.toml` |
//! | plan | what is wished and what there is; [`plan::Plan`] once it is checked |
//! | entry | a key and its value in plan or log |
//! | place | where an entry stands, by keys and not by bytes |
//! | quantity | a number with its unit |
//! | reading | a quantity of plan or log with its spread |
//! | figure | a named expression over readings; everything a sheet prints as a number |
//! | ledger | all figures of a plan |
//! | ply, set | one single of a yarn; the bobbins that are plied together |
//! | sheet, page | what is printed for one moment of the work; one side of paper of it |
//! | standing | how well founded a number is |

pub mod check;
pub mod cli;
pub mod diagnostics;
pub mod document;
pub mod figures;
pub mod pages;
pub mod plan;
pub mod sheets;
pub mod source;
pub mod syntax;
pub mod units;

use std::sync::Arc;

use diagnostics::{Diagnostic, Severity};
use document::{Arrangement, Fault, Templates, Which};
use figures::Ledger;
use figures::settings::Settings;
use plan::Plan;
use rayon::prelude::*;
use sheets::{Of, Sheets};
use source::Project;
use syntax::Places;
use typst_layout::{Page, PagedDocument};

/// A project without an error: the plan and all that was worked out from it.
#[derive(Debug, Clone)]
pub struct Worked {
    /// The checked plan.
    pub plan: Plan,
    /// Every figure.
    pub ledger: Arc<Ledger>,
    /// What was settled for the wheel.
    pub settings: Settings,
    /// What the plan was warned of, which its sheets say as well.
    pub said: Vec<Diagnostic>,
    /// Its alternatives, worked out in the same way, in the plan's order.
    pub alternatives: Vec<Alternative>,
}

/// The plan with some entries changed, worked out.
#[derive(Debug, Clone)]
pub struct Alternative {
    /// The plan as changed.
    pub plan: Plan,
    /// Every figure of it.
    pub ledger: Arc<Ledger>,
    /// What was settled for its wheel.
    pub settings: Settings,
}

/// What comes of reading a project: the work, unless an error forbids it, all diagnostics, and the places to show them at.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// The work.
    pub worked: Option<Worked>,
    /// Errors and warnings, in no order.
    pub diagnostics: Vec<Diagnostic>,
    /// Where everything stands.
    pub places: Places,
}

impl Outcome {
    /// Whether some diagnostic is an error.
    pub fn has_errors(&self) -> bool {
        self.diagnostics.iter().any(|diagnostic| diagnostic.code.severity() == Severity::Error)
    }
}

/// The arrows up to the ledger: syntax, check, figures.
pub fn work_out(project: &Project) -> Outcome {
    let (tree, mut diagnostics) = syntax::read(project);
    let (plan, faults) = check::check(&tree);
    diagnostics.extend(faults);
    let worked = plan.and_then(|plan| {
        diagnostics.extend(document::unprintable(&plan));
        let outcome = figures::figures(&plan);
        diagnostics.extend(outcome.faults);
        let alternatives = alternatives(&plan, &tree, &mut diagnostics);
        let said = diagnostics.iter().filter(|fault| fault.code.severity() == Severity::Warning).cloned().collect();
        Some(Worked { plan, ledger: outcome.ledger?, settings: outcome.settings?, said, alternatives })
    });
    let mut outcome = Outcome { worked, diagnostics, places: tree.places };
    if outcome.has_errors() {
        outcome.worked = None;
    }
    outcome
}

/// The alternatives of a plan, each worked out as the plan is. What is wrong with one is told at its place; what the plan is warned
/// of itself is not said again.
fn alternatives(plan: &Plan, tree: &syntax::Syntax, diagnostics: &mut Vec<Diagnostic>) -> Vec<Alternative> {
    let known: Vec<(diagnostics::Code, String)> =
        diagnostics.iter().map(|fault| (fault.code, fault.message.clone())).collect();
    let work = |(named, changed): (&plan::Alternative, &Option<syntax::Alternative>)| {
        let syntax::Alternative { plan, log } = changed.clone()?;
        let places = tree.places.clone();
        let changed = syntax::Syntax { plan, log, places, whole: true, alternatives: Vec::new() };
        let (plan, mut faults) = check::check(&changed);
        let worked = plan.and_then(|plan| {
            let outcome = figures::figures(&plan);
            faults.extend(outcome.faults);
            Some(Alternative { plan, ledger: outcome.ledger?, settings: outcome.settings? })
        });
        let is_new =
            |fault: &&Diagnostic| !known.iter().any(|(code, words)| (*code, words) == (fault.code, &fault.message));
        diagnostics.extend(faults.iter().filter(is_new).map(|fault| check::told(fault, named)));
        worked
    };
    plan.alternatives.iter().zip(&tree.alternatives).filter_map(work).collect()
}

/// The sheets of a project.
pub fn sheets(worked: &Worked) -> Sheets {
    let Worked { plan, ledger, settings, .. } = worked;
    let others: Vec<Of<'_>> = worked
        .alternatives
        .iter()
        .map(|Alternative { plan, ledger, settings }| Of { plan, ledger, settings })
        .collect();
    sheets::sheets(Of { plan, ledger, settings }, &worked.said, &others)
}

/// The last two arrows: one document as PDF. `name` is the project's, which makes the file's identity.
///
/// # Errors
/// A fault of the templates.
pub fn print(sheets: &Sheets, which: Which, templates: &Templates, name: &str) -> Result<Vec<u8>, Fault> {
    let document = document::document(sheets, which, templates)?;
    pdf(&document, which, templates, name)
}

fn pdf(document: &PagedDocument, which: Which, templates: &Templates, name: &str) -> Result<Vec<u8>, Fault> {
    pages::pdf(document, &format!("{name}/{}", which.name())).map_err(|faults| document::fault(templates, &faults))
}

/// A form of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// One file for each document.
    Pdf,
    /// One file for each page, in so many pixels to the inch.
    Png(u32),
    /// One file for each page.
    Svg,
}

impl Format {
    /// The ending of its files.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Png(_) => "png",
            Self::Svg => "svg",
        }
    }
}

/// The files of one document.
#[derive(Debug, Clone)]
pub struct Files {
    /// Which document.
    pub which: Which,
    /// In which forms.
    pub formats: Vec<Format>,
    /// Names and bytes.
    pub files: Vec<(String, Vec<u8>)>,
    /// How many pages it has.
    pub n_pages: usize,
    /// As in [`document::Arranged`].
    pub is_kept_whole: bool,
}

/// The last two arrows in every form asked for: one document, put on paper as the arrangement says. `name` is the project's.
///
/// # Errors
/// A fault of the templates.
pub fn files(
    sheets: &Sheets,
    which: Which,
    templates: &Templates,
    arrangement: Arrangement,
    formats: &[Format],
    name: &str,
) -> Result<Files, Fault> {
    let document::Arranged { document, is_kept_whole } = document::arranged(sheets, which, templates, arrangement)?;
    let mut files = Vec::new();
    for format in formats {
        let each = |make: &(dyn Fn(&Page) -> Result<Vec<u8>, String> + Sync)| -> Result<Vec<(String, Vec<u8>)>, Fault> {
            let pages = document.pages().par_iter().enumerate();
            let page = |(i, page)| Ok((page_file(&which.name(), i + 1, format.ending()), make(page)?));
            pages.map(page).collect::<Result<_, String>>().map_err(|words| document::told(templates, &words))
        };
        match format {
            Format::Pdf => {
                files.push((format!("{}.pdf", which.name()), pdf(&document, which, templates, name)?));
            }
            Format::Png(pixels_per_inch) => files.extend(each(&|page| pages::png(page, *pixels_per_inch))?),
            Format::Svg => files.extend(each(&|page| Ok(pages::svg(page)))?),
        }
    }
    Ok(Files { which, formats: formats.to_vec(), files, n_pages: document.pages().len(), is_kept_whole })
}

fn page_file(name: &str, number: usize, ending: &str) -> String {
    format!("{name}-{number}.{ending}")
}

/// Whether a file is a page of some document that it no longer has, since it has but so many: a file that this program would
/// have written by that name, and no other.
pub fn is_stale(file: &str, which: Which, n_pages: usize, ending: &str) -> bool {
    let number = file.strip_prefix(which.name().as_str()).and_then(|rest| rest.strip_prefix('-')).and_then(|rest| {
        let digits = rest.strip_suffix(ending)?.strip_suffix('.')?;
        digits.parse::<usize>().ok()
    });
    number.is_some_and(|number| number > n_pages && file == page_file(&which.name(), number, ending))
}
