//! The first lesson: one page on which a tied sample, its direction, its weight and its length are all that is asked for.
//!
//! Records for `templates/sheets/first-lesson.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Page, Tie};

/// The sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct FirstLesson {
    /// What every page needs.
    pub page: Page,
    /// Where the yarn is tied on.
    pub tie: Tie,
    /// Unit of the weight.
    pub weight_unit: String,
    /// Unit of the length.
    pub length_unit: String,
    /// How many strands the yarn drawn as an example has.
    pub plies: usize,
    /// The usual caution.
    pub caution: String,
}
