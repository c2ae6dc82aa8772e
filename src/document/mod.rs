//! Sheets and templates to typeset pages.
//!
//! The arrow is [`document`]. Each sheet is a document of its own, and all together are one more, typeset as one so that outline
//! and page labels are right. Unchanged data costs nothing: the typesetting library remembers what it typeset.
//! Nothing here reads the disk, the clock or the fonts of the system.

mod arrange;
pub mod drawn;
mod fault;
mod fields;
mod glyphs;
mod shelf;
pub mod text;
mod world;

use schemars::generate::SchemaSettings;
use serde_json::Value;
use typst_layout::PagedDocument;

use crate::sheets::marks::Region;
use crate::sheets::ply_plan::Construction;
use crate::sheets::wheel_card::Turns;
use crate::sheets::{
    Sheets, alternatives, answer_key, bobbin_checklist, colour_sheet, first_lesson, garment_sheet, key, lesson,
    overview, ply_plan, reorder_note, sample_card, samples, skein_log, student_worksheet, swatch_card, tags, wash_card,
    wheel_card, workings,
};
pub use arrange::{Arrangement, ToAPage};
pub use fault::{Fault, fault, told};
pub use fields::fields;
pub use glyphs::unprintable;
pub use shelf::{FONTS, TEMPLATES};
pub use world::Templates;

/// The sheets, in the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sheet {
    /// For deciding.
    Overview,
    /// For deciding between the plan and its alternatives.
    Alternatives,
    /// For sampling.
    SampleCard,
    /// For comparing samples and choosing one.
    Samples,
    /// For swatching.
    SwatchCard,
    /// For before a braid is torn.
    ColourSheet,
    /// For the bath.
    WashCard,
    /// What was really spun.
    SkeinLog,
    /// For sitting down to spin or to ply.
    WheelCard,
    /// For each bobbin.
    BobbinChecklist,
    /// For tying on: to bags of strips, bobbins and skeins.
    Tags,
    /// For plying.
    PlyPlan,
    /// For knitting, crocheting, weaving.
    GarmentSheet,
    /// For buying again before the fibre is gone.
    ReorderNote,
    /// For whoever teaches a class.
    Lesson,
    /// For the first evening of a class.
    FirstLesson,
    /// For each student of a class.
    StudentWorksheet,
    /// For marking what students wrote; kept apart from their sheets.
    AnswerKey,
    /// For whoever meets a mark for the first time.
    Key,
    /// For whoever doubts a number.
    Workings,
}

impl Sheet {
    /// All sheets, in the order of the work.
    pub const ALL: [Self; 20] = [
        Self::Overview,
        Self::Alternatives,
        Self::SampleCard,
        Self::Samples,
        Self::SwatchCard,
        Self::ColourSheet,
        Self::WashCard,
        Self::SkeinLog,
        Self::WheelCard,
        Self::BobbinChecklist,
        Self::Tags,
        Self::PlyPlan,
        Self::GarmentSheet,
        Self::ReorderNote,
        Self::Lesson,
        Self::FirstLesson,
        Self::StudentWorksheet,
        Self::AnswerKey,
        Self::Key,
        Self::Workings,
    ];

    /// Its name on the command line, in file names and in the templates.
    pub fn name(self) -> &'static str {
        match self {
            Self::Overview => "overview",
            Self::Alternatives => "alternatives",
            Self::SampleCard => "sample-card",
            Self::Samples => "samples",
            Self::SwatchCard => "swatch-card",
            Self::ColourSheet => "colour-sheet",
            Self::WashCard => "wash-card",
            Self::SkeinLog => "skein-log",
            Self::WheelCard => "wheel-card",
            Self::BobbinChecklist => "bobbin-checklist",
            Self::Tags => "tags",
            Self::PlyPlan => "ply-plan",
            Self::GarmentSheet => "garment-sheet",
            Self::ReorderNote => "reorder-note",
            Self::Lesson => "lesson",
            Self::FirstLesson => "first-lesson",
            Self::StudentWorksheet => "student-worksheet",
            Self::AnswerKey => "answer-key",
            Self::Key => "key",
            Self::Workings => "workings",
        }
    }

    /// Whether it is made for a class.
    pub fn is_of_a_class(self) -> bool {
        matches!(self, Self::Lesson | Self::FirstLesson | Self::StudentWorksheet | Self::AnswerKey)
    }

    /// The sheet of that name.
    ///
    /// # Errors
    /// When there is none: the names of all there are, with commas between.
    pub fn named(name: &str) -> Result<Self, String> {
        let names = || Self::ALL.map(Self::name).join(", ");
        Self::ALL.into_iter().find(|sheet| sheet.name() == name).ok_or_else(names)
    }

    /// The JSON Schema of the record that its template gets, with the comments of the record as descriptions.
    pub fn schema(self) -> Value {
        // As it is written: a key without a value is there all the same.
        let generator = || SchemaSettings::default().for_serialize().into_generator();
        let schema = match self {
            Self::Overview => generator().into_root_schema_for::<overview::Overview>(),
            Self::Alternatives => generator().into_root_schema_for::<alternatives::Alternatives>(),
            Self::SampleCard => generator().into_root_schema_for::<sample_card::SampleCard>(),
            Self::Samples => generator().into_root_schema_for::<samples::Samples>(),
            Self::SwatchCard => generator().into_root_schema_for::<swatch_card::SwatchCard>(),
            Self::ColourSheet => generator().into_root_schema_for::<colour_sheet::ColourSheet>(),
            Self::WashCard => generator().into_root_schema_for::<wash_card::WashCard>(),
            Self::SkeinLog => generator().into_root_schema_for::<skein_log::SkeinLog>(),
            Self::WheelCard => generator().into_root_schema_for::<wheel_card::WheelCard>(),
            Self::BobbinChecklist => generator().into_root_schema_for::<bobbin_checklist::BobbinChecklist>(),
            Self::Tags => generator().into_root_schema_for::<tags::Tags>(),
            Self::PlyPlan => generator().into_root_schema_for::<ply_plan::PlyPlanSheet>(),
            Self::GarmentSheet => generator().into_root_schema_for::<garment_sheet::GarmentSheet>(),
            Self::ReorderNote => generator().into_root_schema_for::<reorder_note::ReorderNote>(),
            Self::Lesson => generator().into_root_schema_for::<lesson::Lesson>(),
            Self::FirstLesson => generator().into_root_schema_for::<first_lesson::FirstLesson>(),
            Self::StudentWorksheet => generator().into_root_schema_for::<student_worksheet::StudentWorksheet>(),
            Self::AnswerKey => generator().into_root_schema_for::<answer_key::AnswerKey>(),
            Self::Key => generator().into_root_schema_for::<key::Key>(),
            Self::Workings => generator().into_root_schema_for::<workings::Workings>(),
        };
        schema.to_value()
    }

    /// What stands in the title of its document: what its pages are headed.
    fn title(self, sheets: &Sheets) -> &'static str {
        match self {
            Self::Overview => "Overview",
            Self::Alternatives => "Alternatives",
            Self::SampleCard => "Sample card",
            Self::Samples => "Samples",
            Self::SwatchCard => "Swatch card",
            Self::ColourSheet if sheets.page.region == Region::US => "Color sheet",
            Self::ColourSheet => "Colour sheet",
            Self::WashCard => "Wash card",
            Self::SkeinLog => "Skein log",
            Self::WheelCard => {
                let spindles = || sheets.wheel_card.cards.iter().map(|card| card.turns == Turns::Spindle);
                match (spindles().any(|is| is), spindles().all(|is| is)) {
                    (false, _) => "Wheel card",
                    (true, false) => "Spindle and wheel cards",
                    (true, true) => "Spindle card",
                }
            }
            Self::BobbinChecklist if sheets.page.holder == "cop" => "Cop checklist",
            Self::BobbinChecklist => "Bobbin checklist",
            Self::Tags => "Tags",
            Self::PlyPlan if sheets.ply_plan.construction == Construction::Singles => "Skeins",
            Self::PlyPlan => "Ply plan",
            Self::GarmentSheet => "Garment sheet",
            Self::ReorderNote => "Reorder note",
            Self::Lesson => "Lesson",
            Self::FirstLesson => "First lesson",
            Self::StudentWorksheet => "Student worksheet",
            Self::AnswerKey => "Answer key",
            Self::Key => "Key",
            Self::Workings => "Workings",
        }
    }
}

impl Sheets {
    /// The sheets that this plan has, in the order of the work: some are there only where there is something to say.
    pub fn present(&self) -> Vec<Sheet> {
        let is_present = |sheet: &Sheet| match sheet {
            Sheet::Alternatives => self.alternatives.is_some(),
            Sheet::Samples => self.samples.is_some(),
            Sheet::SwatchCard => self.swatch_card.is_some(),
            Sheet::ColourSheet => self.colour_sheet.is_some(),
            Sheet::GarmentSheet => self.garment_sheet.is_some(),
            Sheet::SkeinLog => self.skein_log.is_some(),
            Sheet::Lesson | Sheet::FirstLesson | Sheet::StudentWorksheet | Sheet::AnswerKey => self.lesson.is_some(),
            Sheet::Overview
            | Sheet::SampleCard
            | Sheet::WashCard
            | Sheet::WheelCard
            | Sheet::BobbinChecklist
            | Sheet::Tags
            | Sheet::PlyPlan
            | Sheet::ReorderNote
            | Sheet::Key
            | Sheet::Workings => true,
        };
        Sheet::ALL.into_iter().filter(is_present).collect()
    }

    /// The sheets of the one document of all: those of a class are handed out, and their key is kept apart.
    pub fn in_one(&self) -> Vec<Sheet> {
        self.present().into_iter().filter(|sheet| !sheet.is_of_a_class()).collect()
    }

    /// How many students have a worksheet.
    pub fn n_students(&self) -> usize {
        self.student_worksheet.as_ref().map_or(0, |worksheet| worksheet.students.len())
    }
}

/// What is typeset: one sheet, the worksheet of one student, or all sheets but those of a class in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// One sheet.
    One(Sheet),
    /// The worksheet of one student, by place in the class.
    Student(usize),
    /// All sheets but those of a class, one after the other.
    All,
}

impl Which {
    /// The name of its file, without the ending.
    pub fn name(self) -> String {
        match self {
            Self::One(sheet) => sheet.name().to_owned(),
            Self::Student(student) => format!("{}-{}", Sheet::StudentWorksheet.name(), student + 1),
            Self::All => "all".to_owned(),
        }
    }
}

/// Typesets one sheet, or all of them in one document.
///
/// # Errors
/// A fault of the templates, as text with its place; never a fault of the plan.
///
/// # Panics
/// When a sheet is asked for that this plan does not have; [`Sheets::present`] lists those it has.
pub fn document(sheets: &Sheets, which: Which, templates: &Templates) -> Result<PagedDocument, Fault> {
    copies(sheets, which, templates, 1)
}

/// Pages as they are put on paper.
#[derive(Debug, Clone)]
pub struct Arranged {
    /// The pages.
    pub document: PagedDocument,
    /// Whether they were to be drawn smaller and were not, because something on them has to be of its true size.
    pub is_kept_whole: bool,
}

/// Typesets a document as often as asked for, several pages to a side of paper where that is asked for and can be.
///
/// # Errors
/// As [`document`].
///
/// # Panics
/// As [`document`].
pub fn arranged(
    sheets: &Sheets,
    which: Which,
    templates: &Templates,
    arrangement: Arrangement,
) -> Result<Arranged, Fault> {
    let document = copies(sheets, which, templates, arrangement.copies)?;
    let is_smaller = arrangement.to_a_page != ToAPage::One;
    let is_kept_whole = is_smaller && arrange::is_true_size(&document);
    if !is_smaller || is_kept_whole {
        return Ok(Arranged { document, is_kept_whole });
    }
    let name = match which {
        Which::One(sheet) => sheet.title(sheets),
        Which::Student(_) => Sheet::StudentWorksheet.title(sheets),
        Which::All => "All sheets",
    };
    let document = arrange::several(&document, arrangement.to_a_page, sheets.page.paper, name, templates)?;
    Ok(Arranged { document, is_kept_whole })
}

/// Typesets a document so many times over in one; the pages of each sheet and copy are numbered from 1.
fn copies(sheets: &Sheets, which: Which, templates: &Templates, n: usize) -> Result<PagedDocument, Fault> {
    let once = match which {
        Which::One(sheet) => vec![sheet],
        Which::Student(_) => vec![Sheet::StudentWorksheet],
        Which::All => sheets.in_one(),
    };
    let mut files = vec![("data/page.json".to_owned(), json(&sheets.page))];
    files.extend(once.iter().map(|sheet| (format!("data/{}.json", sheet.name()), data_of(sheets, *sheet, which))));
    let chosen = once.repeat(n);
    files.push(("main.typ".to_owned(), main(sheets, &chosen, which).into_bytes()));
    let copy = |i: usize| if n > 1 { format!("copy {}: ", i / once.len() + 1) } else { String::new() };
    let names = chosen.iter().enumerate().map(|(i, sheet)| copy(i) + sheet.title(sheets));
    let names: Vec<String> = names.collect();
    Ok(arrange::labelled(world::typeset(templates, files)?, &names))
}

/// The templates as files, by their paths in a folder: the shipped ones, the licence of the fonts, and what templates may read.
pub fn shipped() -> Vec<(String, Vec<u8>)> {
    let texts = TEMPLATES.iter().chain([&shelf::FONT_LICENCE]);
    let mut files: Vec<_> = texts.map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect();
    files.push(("fields.md".to_owned(), fields().into_bytes()));
    files
}

/// The record of one sheet as JSON, which its template reads.
///
/// # Panics
/// As [`document`].
pub fn data(sheets: &Sheets, sheet: Sheet) -> Vec<u8> {
    match sheet {
        Sheet::Overview => json(&sheets.overview),
        Sheet::Alternatives => json(there(sheets.alternatives.as_ref())),
        Sheet::SampleCard => json(&sheets.sample_card),
        Sheet::Samples => json(there(sheets.samples.as_ref())),
        Sheet::SwatchCard => json(there(sheets.swatch_card.as_ref())),
        Sheet::ColourSheet => json(there(sheets.colour_sheet.as_ref())),
        Sheet::WashCard => json(&sheets.wash_card),
        Sheet::SkeinLog => json(there(sheets.skein_log.as_ref())),
        Sheet::WheelCard => json(&sheets.wheel_card),
        Sheet::BobbinChecklist => json(&sheets.bobbin_checklist),
        Sheet::Tags => json(&sheets.tags),
        Sheet::PlyPlan => json(&sheets.ply_plan),
        Sheet::GarmentSheet => json(there(sheets.garment_sheet.as_ref())),
        Sheet::ReorderNote => json(&sheets.reorder_note),
        Sheet::Lesson => json(there(sheets.lesson.as_ref())),
        Sheet::FirstLesson => json(there(sheets.first_lesson.as_ref())),
        Sheet::StudentWorksheet => json(there(sheets.student_worksheet.as_ref())),
        Sheet::AnswerKey => json(there(sheets.answer_key.as_ref())),
        Sheet::Key => json(&sheets.key),
        Sheet::Workings => json(&sheets.workings),
    }
}

/// The record of a sheet in a document; that of one student has one student alone.
fn data_of(sheets: &Sheets, sheet: Sheet, which: Which) -> Vec<u8> {
    let Which::Student(student) = which else { return data(sheets, sheet) };
    let all = there(sheets.student_worksheet.as_ref());
    let students = vec![all.students[student].clone()];
    json(&student_worksheet::StudentWorksheet { page: all.page.clone(), colours: all.colours.clone(), students })
}

fn there<T>(record: Option<&T>) -> &T {
    record.expect("invariant: only sheets that are present are typeset")
}

fn json(of: &impl serde::Serialize) -> Vec<u8> {
    serde_json::to_vec(of).expect("invariant: records of text and numbers are always JSON")
}

/// The file that calls the templates. No word of the plan stands in it.
fn main(sheets: &Sheets, chosen: &[Sheet], which: Which) -> String {
    let title = match which {
        Which::One(sheet) => format!(", sheet: \"{}\"", sheet.title(sheets)),
        Which::Student(student) => format!(", sheet: \"{} {}\"", Sheet::StudentWorksheet.title(sheets), student + 1),
        Which::All => String::new(),
    };
    let mut text = format!("#import \"/lib.typ\": *\n#show: document-of.with(json(\"/data/page.json\"){title})\n");
    for sheet in chosen {
        let name = sheet.name();
        text.push_str(&format!("#{name}(json(\"/data/{name}.json\"))\n"));
    }
    text
}
