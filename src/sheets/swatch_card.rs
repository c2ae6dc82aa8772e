//! The swatch card: a gauge before and after the wash, with what a swatch tells beside it.
//!
//! Records for `templates/sheets/swatch-card.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Page, Setting};

/// The sheet: one card for each garment that is worked in stitches or woven.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SwatchCard {
    /// What every page needs.
    pub page: Page,
    /// The cards; never empty.
    pub cards: Vec<SwatchOf>,
}

/// One card.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SwatchOf {
    /// What it is for: "pullover".
    pub name: String,
    /// The stitch: "stocking stitch".
    pub stitch: String,
    /// Needles, hook or reed, with a blank.
    pub tool: Setting,
    /// What to begin with: "cast on 40 stitches, work 54 rows"; it makes a square a little larger than is measured.
    pub begin: String,
    /// What is measured, before and after the wash; stitches first, then rows.
    pub counts: Vec<SwatchCount>,
    /// What else is measured, each with its blank: width, height, weight.
    pub trays: Vec<SwatchTray>,
    /// Whether it is a cloth.
    pub is_woven: bool,
}

/// Stitches or rows over a length.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SwatchCount {
    /// What is counted: "stitches to 10 cm".
    pub name: String,
    /// What is aimed at, washed; `None` where nothing is.
    pub aim: Option<Amount>,
    /// What a swatch of the log had before the wash; `None` where it says nothing.
    pub before: Option<Amount>,
    /// What it had after.
    pub after: Option<Amount>,
}

/// A blank of the card.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SwatchTray {
    /// What goes there: "width, washed".
    pub name: String,
    /// Its unit.
    pub unit: String,
}
