//! The sample card: index cards to cut out, one for each try.
//!
//! Records for `templates/sheets/sample-card.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Gate, Page, Slant, Tie};

/// The sheet: four cards to a page, all alike but for their name.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SampleCard {
    /// What every page needs.
    pub page: Page,
    /// Names of the cards, at most four letters each: "1" to "4", or on from the samples in the log. Four to a page.
    pub names: Vec<String>,
    /// Direction in which the singles are spun.
    pub singles_twist: Slant,
    /// Direction in which they are plied.
    pub ply_twist: Slant,
    /// How many singles are plied.
    pub plies: u8,
    /// What is set before the sample: whorl, draw, length per treadle. Two or three, short.
    pub set_up: Vec<SetUp>,
    /// The readings, singles first; at most five.
    pub rows: Vec<SampleRow>,
    /// How the washed skein gives the grist; `None` where no row asks for it.
    pub skein: Option<SkeinSum>,
    /// What is tied to the card; at most four.
    pub ties: Vec<Tie>,
    /// What holds for all cards, in one or two sentences under them.
    pub note: String,
}

/// One setting in the line under the card's head.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SetUp {
    /// What is set: "whorl".
    pub name: String,
    /// To what: "slow", "4 cm".
    pub value: String,
}

/// One reading of a sample.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SampleRow {
    /// What is read, at most sixteen letters: "wraps in 3 cm".
    pub name: String,
    /// On what, and the other system; at most twenty-two letters: "singles; 21½ per inch".
    pub note: String,
    /// Whether it is read on fresh singles or on the washed yarn; the slant beside the row tells it.
    pub on: SampleOf,
    /// The limits; `ticks` stays empty.
    pub gate: Gate,
    /// Unit printed in the blank; `None` for a count.
    pub tray_unit: Option<String>,
}

/// What a reading is taken on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SampleOf {
    /// Fresh singles.
    Singles,
    /// Plied, washed and dried yarn.
    Washed,
}

/// The sum that gives the grist: length ÷ weight × factor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SkeinSum {
    /// Unit of the length: "m".
    pub length_unit: String,
    /// Unit of the weight: "g".
    pub weight_unit: String,
    /// What follows the two blanks: "× 100 = grist".
    pub result: String,
}
