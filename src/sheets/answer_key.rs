//! The answer key: for each student every answer with its tolerance, and the slips that are known by what comes out.
//!
//! Records for `templates/sheets/answer-key.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::Page;

/// The key of a class.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct AnswerKey {
    /// What every page needs.
    pub page: Page,
    /// Students in order of their numbers; never empty.
    pub students: Vec<StudentKey>,
    /// What each slip is and what to try next, by its name; never empty.
    pub slips: Vec<SlipTold>,
    /// Books of which sums are taken, each once; may be empty.
    pub sources: Vec<String>,
}

/// The answers of one student.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StudentKey {
    /// Their number.
    pub number: String,
    /// Their name; `None` where the plan does not say it.
    pub name: Option<String>,
    /// In which units they measure.
    pub units: String,
    /// Exercises in the order of the sheet.
    pub exercises: Vec<ExerciseKey>,
}

/// The answers of one exercise.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ExerciseKey {
    /// Its number in the class.
    pub number: String,
    /// What it is called.
    pub title: String,
    /// Its answers.
    pub answers: Vec<AnswerRow>,
}

/// One answer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct AnswerRow {
    /// Its letter.
    pub letter: String,
    /// What is asked for, as a noun; empty of a word.
    pub what: String,
    /// The answer as written.
    pub answer: String,
    /// Its unit; `None` where it has none.
    pub unit: Option<String>,
    /// How far off it is still right: "0.1"; `None` where only one answer is.
    pub tolerance: Option<String>,
    /// Slips that are known, in the order in which they are made most.
    pub slips: Vec<SlipRow>,
    /// Mark of the book it is taken from, in the list of sources; `None` of most.
    pub source: Option<String>,
}

/// A slip by what comes out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SlipRow {
    /// What is written then.
    pub value: String,
    /// What went wrong: "both feet counted".
    pub words: String,
}

/// What a slip is.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SlipTold {
    /// What went wrong.
    pub words: String,
    /// What to try next.
    pub next: String,
}
