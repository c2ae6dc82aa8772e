//! The student worksheet: exercises in the order of learning, each with its formula, a line worked with the plan's numbers, and
//! the student's own numbers with blanks.
//!
//! Records for `templates/sheets/student-worksheet.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Colour, Page, Slant};

/// The sheets of a class; those of one student where only they are wanted.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StudentWorksheet {
    /// What every page needs.
    pub page: Page,
    /// The plan's colours, by which strips are told; may be empty.
    pub colours: Vec<Colour>,
    /// Students in order of their numbers; never empty.
    pub students: Vec<StudentPages>,
}

/// The pages of one student.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StudentPages {
    /// Their number.
    pub number: String,
    /// Their name; `None` where they write it themselves.
    pub name: Option<String>,
    /// In which units they measure: "centimetres, metres and grams".
    pub units: String,
    /// The exercises in the order of learning; never empty.
    pub exercises: Vec<Practice>,
}

/// One exercise.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Practice {
    /// Its number in the class.
    pub number: String,
    /// Its name in the plan and in a file of answers: "ply-back".
    pub key: String,
    /// What it is called: "Ply-back and counting twists".
    pub title: String,
    /// Whether it is for the curious.
    pub is_optional: bool,
    /// What it is good for, in a sentence.
    pub goal: String,
    /// What is done, a sentence each; may be empty.
    pub steps: Vec<String>,
    /// Blanks for what the student measures; may be empty.
    pub blanks: Vec<PracticeBlank>,
    /// A caution in a line; `None` where nothing can hurt.
    pub caution: Option<String>,
    /// What is drawn beside it: "ratio", "loop", "bumps", "wraps", "staple"; `None` of most.
    pub picture: Option<String>,
    /// Yarns to be told, from left to right; may be empty.
    pub yarns: Vec<Slant>,
    /// Two strips to colour, by places in the list of colours; may be empty.
    pub strips: Vec<Vec<usize>>,
    /// What the student is given; may be empty.
    pub given: Vec<GivenNumber>,
    /// The questions; never empty.
    pub questions: Vec<Question>,
}

/// A blank for what the student measures.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PracticeBlank {
    /// What is written there.
    pub name: String,
    /// Its unit; `None` where it has none.
    pub unit: Option<String>,
}

/// A number that is given.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct GivenNumber {
    /// What it is.
    pub name: String,
    /// The number with its unit: "45 cm".
    pub value: String,
}

/// One question.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Question {
    /// Its letter: "a".
    pub letter: String,
    /// The question.
    pub text: String,
    /// The formula in words; `None` of what is found by looking.
    pub formula: Option<String>,
    /// The same with the plan's numbers put in; `None` where each student has another question.
    pub worked: Option<String>,
    /// What comes out of that, with its unit.
    pub result: Option<String>,
    /// Unit of the blank; `None` where it has none.
    pub unit: Option<String>,
    /// How it is written: "one place after the point", "a whole number", "four letters".
    pub written: String,
}
