//! The lesson: the exercises in order with what to bring and how long they take, cautions, and the yarns to spin.
//!
//! Records for `templates/sheets/lesson.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Page, Warning};

/// The sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Lesson {
    /// What every page needs.
    pub page: Page,
    /// Who comes: "8 students, 3 of whom measure in inches".
    pub students: String,
    /// The exercises in the order of learning; never empty.
    pub exercises: Vec<LessonRow>,
    /// How long all of them take: "6 h 20 min".
    pub time: String,
    /// What can hurt; may be empty.
    pub cautions: Vec<Warning>,
    /// Yarns to spin, from the thickest to the thinnest.
    pub yarns: Vec<SampleYarn>,
    /// How the yarns are judged, in a sentence.
    pub judged: String,
}

/// One exercise of the lesson.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct LessonRow {
    /// Its number.
    pub number: String,
    /// What it is called.
    pub title: String,
    /// Whether it is for the curious.
    pub is_optional: bool,
    /// Minutes that it takes.
    pub minutes: String,
    /// What to bring.
    pub bring: String,
    /// What must have been learnt before, by number, or by name where the class does not practise it; empty where nothing must.
    pub after: String,
}

/// A yarn to spin.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SampleYarn {
    /// What it is called: "thick", "the plan's", "thin".
    pub name: String,
    /// Least wraps that are good.
    pub low: String,
    /// Wraps aimed at.
    pub target: String,
    /// Most wraps that are good.
    pub high: String,
    /// Over which length they are counted: "wraps in 3 cm".
    pub counted: String,
    /// What a round weight of it comes to, at the plan's loft: "153 m in 100 g".
    pub grist: String,
}
