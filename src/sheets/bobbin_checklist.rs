//! The bobbin checklist: what goes on each bobbin, in which order, and what it weighed.
//!
//! One set of bobbins, those plied together, begins a page; a large set continues on the next.
//! Records for `templates/sheets/bobbin-checklist.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Basis, Colour, Gate, Page, Slant};

/// The sheet: its sets in the order of spinning.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BobbinChecklist {
    /// What every page needs.
    pub page: Page,
    /// Direction in which most of the singles are spun; the sheet's edge shows it.
    pub singles_twist: Slant,
    /// Colours named by the strips; empty where no braid has any.
    pub colours: Vec<Colour>,
    /// What the limits rest on.
    pub basis: Basis,
    /// What to mind in preparing the fibre, as sentences; `None` where it comes ready to spin.
    pub caution: Option<String>,
    /// Unit of the weights of strips and bobbins, and of their blanks: "g", "oz".
    pub unit: String,
    /// The weighing at each quarter; `None` where the bobbins carry their own.
    pub weighing: Option<Weighing>,
    /// The sets; never empty.
    pub sets: Vec<BobbinSet>,
}

/// The length that is weighed at each quarter of a bobbin.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Weighing {
    /// When it is weighed: "each quarter", "when full".
    pub when: String,
    /// The length: "20 m".
    pub length: String,
    /// The same in the other system, without "=".
    pub other: Option<String>,
    /// Its limits; `ticks` stays empty.
    pub gate: Gate,
    /// Unit of the blanks: "g".
    pub unit: String,
}

/// The bobbins that are plied together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BobbinSet {
    /// Which of how many, with its ply plan where there are several: "set 1 of 3", "body, set 1 of 2".
    pub part: String,
    /// One or two words beside each bobbin's number: "set 1".
    pub short: String,
    /// Its bobbins, one to a ply.
    pub bobbins: Vec<Bobbin>,
}

/// One bobbin of singles.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Bobbin {
    /// Its number, counted through the whole plan: "7".
    pub number: String,
    /// Which ply it becomes: "ply 2".
    pub ply: String,
    /// The set it is plied in by the log, where that is another than was planned: "set 2"; `None` else.
    pub set: Option<String>,
    /// Its own direction of twist where the singles of the plan differ, beside its number; `None` where they are alike.
    pub twist: Option<Slant>,
    /// Its own weighing where the singles of the plan differ; `None` where [`BobbinChecklist::weighing`] holds for all.
    pub weighing: Option<Weighing>,
    /// The end that goes first where it matters, as the place of its colour in [`BobbinChecklist::colours`]; `None` for fibre
    /// without an order of colours, and where the strips begin at different ones, as their tags show.
    pub start: Option<usize>,
    /// What goes on, in the order of spinning; never empty.
    pub strips: Vec<Strip>,
    /// Weight of all of it together: "54.2".
    pub weight: String,
    /// The same in the other system with its unit, without "=".
    pub weight_other: Option<String>,
    /// Weight the bobbin should gain: the net to be had, with its unit: "53 g".
    pub net: String,
    /// What the log has of it, or asks of it: "Weighed 12 March: 45 g of singles; 20 m weigh 3.2 g. Ply it with 2 and 6."; `None` as
    /// long as the log tells nothing of it.
    pub log: Option<String>,
}

/// One strip of a braid, or one portion of fibre.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Strip {
    /// Its turn on the bobbin: "1"; `None` where nothing else goes on.
    pub turn: Option<String>,
    /// The braid it was torn from, or the fibre: "north 1", "corriedale"; with what is drafted together with it: "north 1 with 10.9 g
    /// of south 1".
    pub from: String,
    /// Its colours end to end, in the braid's own order; empty where the braid has none.
    pub sections: Vec<Section>,
    /// The end that goes to the orifice first; `None` where it does not matter.
    pub start: Option<End>,
    /// Its weight in the unit of the sheet: "10.9".
    pub weight: String,
    /// The same in grams where ounces lead: "6.0 g", since so little is weighed on a scale in grams; `None` else.
    pub weight_other: Option<String>,
}

/// One coloured section of a strip.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Section {
    /// Place of its colour in [`BobbinChecklist::colours`].
    pub colour: usize,
    /// Its share of the strip's length; the shares of a strip add up to 1.
    pub share: f64,
}

/// An end of a strip, as the braid lies in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum End {
    /// The end of the first section.
    First,
    /// The end of the last section.
    Last,
}
