//! From the ledger to the records of the sheets: which figures stand where, and how they are rounded and worded.
//!
//! Nothing is calculated here but places on the paper. Every number goes through [`print::Printer`], which writes it by
//! `units::format` and keeps a record of what it printed and of which figure or entry that was.

mod alternatives;
mod balance;
mod bobbins;
mod class;
mod colour;
mod drifts;
mod garment;
mod gates;
mod key;
mod loom;
mod machine;
mod matching;
mod overview;
mod ply;
pub mod print;
mod reorder;
mod sample;
mod samples;
mod skeins;
mod spun;
mod swatch;
mod tags;
mod warnings;
mod wash;
mod wheel;
mod words;
mod workings;

use super::marks::{self, Page};
use super::{Of, Sheets, workings::Workings};
use crate::diagnostics::Diagnostic;
use crate::plan::{self, Plan};
use print::Printer;

/// All sheets of a plan.
pub(super) fn sheets(of: Of<'_>, said: &[Diagnostic], others: &[Of<'_>]) -> Sheets {
    let Of { plan, ledger, settings } = of;
    let page = page(plan);
    let printer = Printer::new(plan, ledger);
    let overview = overview::overview(&printer.on("overview"), page.clone(), said);
    let sample_card = sample::sample_card(&printer.on("sample card"), page.clone(), settings);
    let samples = samples::samples(&printer.on("samples"), page.clone());
    let swatch_card = swatch::swatch_card(&printer.on("swatch card"), page.clone());
    let colour_sheet = colour::colour_sheet(&printer.on("colour sheet"), page.clone());
    let wash_card = wash::wash_card(&printer.on("wash card"), page.clone());
    let skein_log = skeins::skein_log(&printer.on("skein log"), page.clone());
    let wheel_card = wheel::wheel_card(&printer.on("wheel card"), page.clone(), settings);
    let bobbin_checklist = bobbins::bobbin_checklist(&printer.on("bobbin checklist"), page.clone());
    let tags = tags::tags(&printer.on("tags"), page.clone());
    let ply_plan = ply::ply_plan(&printer.on("ply plan"), page.clone());
    let garment_sheet = garment::garment_sheet(&printer.on("garment sheet"), page.clone());
    let alternatives = alternatives::alternatives(&printer.on("alternatives"), page.clone(), settings, others);
    let reorder_note = reorder::reorder_note(&printer.on("reorder note"), page.clone());
    let lesson = class::lesson(&printer.on("lesson"), page.clone());
    let first_lesson = class::first_lesson(&printer.on("first lesson"), page.clone());
    let student_worksheet = class::student_worksheet(&printer.on("student worksheet"), page.clone());
    let answer_key = class::answer_key(&printer.on("answer key"), page.clone());
    let key = key::key(&printer.on("key"), page.clone(), &overview, &wheel_card, colour_sheet.as_ref());
    let workings: Workings = workings::workings(&printer.on("workings"), page.clone());
    let printed = printer.into_printed();
    Sheets {
        page,
        overview,
        sample_card,
        samples,
        swatch_card,
        colour_sheet,
        wash_card,
        skein_log,
        wheel_card,
        bobbin_checklist,
        tags,
        ply_plan,
        garment_sheet,
        alternatives,
        reorder_note,
        lesson,
        first_lesson,
        student_worksheet,
        answer_key,
        key,
        workings,
        printed,
    }
}

fn page(plan: &Plan) -> Page {
    let (fingerprint_plan, fingerprint_log) = plan.fingerprints();
    Page {
        title: plan.title.clone(),
        fingerprint_plan,
        fingerprint_log,
        paper: match plan.paper {
            plan::Paper::A4 => marks::Paper::A4,
            plan::Paper::Letter => marks::Paper::UsLetter,
        },
        lang: "en".to_owned(),
        region: match plan.terms {
            plan::Terms::Uk => marks::Region::GB,
            plan::Terms::Us => marks::Region::US,
        },
        holder: words::holder(plan).to_owned(),
    }
}
