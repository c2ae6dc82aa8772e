//! The sheets: for each, a record of finished text that a template sets.
//!
//! The arrow is [`sheets`]. Each sheet has a module with its record, whose fields are what its template may read, and
//! [`fill`] writes the records from the ledger. Every number on a sheet is kept with what it is a number of in
//! [`Sheets::printed`], so that a test can trace each digit on the paper.

pub mod alternatives;
pub mod answer_key;
pub mod bobbin_checklist;
pub mod colour_sheet;
pub mod fill;
pub mod first_lesson;
pub mod garment_sheet;
pub mod key;
pub mod lesson;
pub mod marks;
pub mod overview;
pub mod ply_plan;
pub mod reorder_note;
pub mod sample_card;
pub mod samples;
pub mod skein_log;
pub mod student_worksheet;
pub mod swatch_card;
pub mod tags;
pub mod wash_card;
pub mod wheel_card;
pub mod workings;

use crate::diagnostics::Diagnostic;
use crate::figures::Ledger;
use crate::figures::settings::Settings;
use crate::plan::Plan;

/// The sheets of one plan.
#[derive(Debug, Clone)]
pub struct Sheets {
    /// What every page needs.
    pub page: marks::Page,
    /// For deciding.
    pub overview: overview::Overview,
    /// For sampling.
    pub sample_card: sample_card::SampleCard,
    /// For comparing samples and choosing one; `None` where the log has none.
    pub samples: Option<samples::Samples>,
    /// For swatching; `None` without garments.
    pub swatch_card: Option<swatch_card::SwatchCard>,
    /// For before a braid is torn; `None` where no yarn has colours.
    pub colour_sheet: Option<colour_sheet::ColourSheet>,
    /// For the bath.
    pub wash_card: wash_card::WashCard,
    /// The skein log, where the log has bobbins or skeins.
    pub skein_log: Option<skein_log::SkeinLog>,
    /// For sitting down to spin or to ply.
    pub wheel_card: wheel_card::WheelCard,
    /// For each bobbin.
    pub bobbin_checklist: bobbin_checklist::BobbinChecklist,
    /// For tying on: to bags of strips, bobbins and skeins.
    pub tags: tags::Tags,
    /// For plying.
    pub ply_plan: ply_plan::PlyPlanSheet,
    /// For knitting, crocheting, weaving; `None` without garments.
    pub garment_sheet: Option<garment_sheet::GarmentSheet>,
    /// For deciding between the plan and its alternatives; `None` where it has none.
    pub alternatives: Option<alternatives::Alternatives>,
    /// For buying again before the fibre is gone.
    pub reorder_note: reorder_note::ReorderNote,
    /// For whoever teaches; `None` without a class, as are the next three.
    pub lesson: Option<lesson::Lesson>,
    /// For the first evening.
    pub first_lesson: Option<first_lesson::FirstLesson>,
    /// For each student.
    pub student_worksheet: Option<student_worksheet::StudentWorksheet>,
    /// For marking.
    pub answer_key: Option<answer_key::AnswerKey>,
    /// For whoever meets a mark for the first time.
    pub key: key::Key,
    /// For whoever doubts a number.
    pub workings: workings::Workings,
    /// Every number on the sheets, with what it is a number of.
    pub printed: Vec<fill::print::Printed>,
}

/// A plan with what was worked out from it.
#[derive(Debug, Clone, Copy)]
pub struct Of<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Its ledger.
    pub ledger: &'a Ledger,
    /// What was settled for its wheel.
    pub settings: &'a Settings,
}

/// The sheets of a plan, from its ledger; `said` is what the plan was warned of, `others` are its alternatives.
pub fn sheets(of: Of<'_>, said: &[Diagnostic], others: &[Of<'_>]) -> Sheets {
    fill::sheets(of, said, others)
}
