//! The reorder note: a letter for each lot that may have to be bought again, with what is known filled in.
//!
//! Records for `templates/sheets/reorder-note.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Colour, Page};

/// The sheet: a page for each letter.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ReorderNote {
    /// What every page needs.
    pub page: Page,
    /// Colours named by the stretches of a braid; empty where none has any.
    pub colours: Vec<Colour>,
    /// The letters; never empty.
    pub letters: Vec<Letter>,
}

/// The letter about one lot. Whatever is `None` is a blank on the page.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Letter {
    /// The lot's name in the plan, for the head of the page: "north".
    pub lot: String,
    /// What one of them is called: "braid", "ball".
    pub one: String,
    /// What several are called: "braids", "balls".
    pub several: String,
    /// Base and preparation: "polwarth, combed top".
    pub base: String,
    /// Name of the colour as it was sold.
    pub colour_name: Option<String>,
    /// Its dye lot: "spring 14".
    pub dye_lot: Option<String>,
    /// When it was bought, in words: "20 February 2026".
    pub bought: Option<String>,
    /// How many were bought then: "5".
    pub had: Option<String>,
    /// Weight of one.
    pub weight: Option<Amount>,
    /// Length of one, laid out.
    pub length: Option<Amount>,
    /// Whether one has a length: a braid has, loose fibre has none.
    pub has_length: bool,
    /// How many more are wanted, whole ones: "2"; `None` leaves the number to be written.
    pub wanted: Option<String>,
    /// By when: "1 September 2026".
    pub by: Option<String>,
    /// The bobbin before which it must be there: "9"; `None` where no bobbin takes of it.
    pub before: Option<String>,
    /// The colours of one from end to end; empty where it has none.
    pub stretches: Vec<Stretch>,
    /// What the dyer must know of their order, in one sentence; `None` without colours.
    ///
    /// "Heather is the end that I start from; the order must not be turned within a braid."
    pub orientation: Option<String>,
    /// What else would do, a phrase of up to forty letters for each box to tick: "the same colours on another base".
    pub instead: Vec<String>,
}

/// A stretch of one colour along a braid.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Stretch {
    /// Place of its colour in [`ReorderNote::colours`].
    pub colour: usize,
    /// Its share of the braid's length; the shares add up to 1.
    pub share: f64,
    /// Its length with its unit: "65 cm".
    pub length: String,
}
