//! The ply plan: which bobbins stand together on the kate, and what they should give.
//!
//! Records for `templates/sheets/ply-plan.typ`; see [`marks`](super::marks) for what text and numbers may be.

use serde::Serialize;

use super::marks::{Amount, Colour, Page, Slant};

/// The sheet: the ways of putting singles together, in the plan's order.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PlyPlanSheet {
    /// What every page needs.
    pub page: Page,
    /// Direction of plying.
    pub ply_twist: Slant,
    /// How many singles are plied.
    pub plies: u8,
    /// Colours named by the bobbins; empty where no braid has any.
    pub colours: Vec<Colour>,
    /// The plans; never empty.
    pub plans: Vec<PlyPlan>,
    /// What to set aside for mending.
    pub mending: Mending,
    /// What to do with the yarn left on the bobbins, in one or two sentences.
    pub left_over: String,
}

/// One way of putting singles together.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PlyPlan {
    /// Its name in the plan; `None` where there is only one and it has none.
    pub name: Option<String>,
    /// Its part of the yarn: "70 % of the yarn"; `None` where it is all of it.
    pub share: Option<String>,
    /// Why these bobbins stand together, in one or two sentences.
    pub why: String,
    /// Its sets, in the order of plying.
    pub sets: Vec<PlySet>,
}

/// The bobbins that are plied together once.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PlySet {
    /// Its number: "1".
    pub number: String,
    /// The bobbins as they stand on the kate from left to right, one to a ply.
    pub kate: Vec<KateBobbin>,
    /// The skeins it gives; never empty.
    pub skeins: Vec<Skein>,
}

/// One bobbin on the kate.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct KateBobbin {
    /// Its number: "7".
    pub number: String,
    /// Which ply it becomes: "ply 2".
    pub ply: String,
    /// What it holds, in a few words: "north, from the slate end".
    pub holds: String,
    /// The colours that come off first to last, as places in [`PlyPlanSheet::colours`]; at most eight, empty without colours.
    pub colours: Vec<usize>,
    /// What should be left on it when the set is plied: "2 g"; `None` where nothing is told.
    pub left: Option<String>,
}

/// One skein that a set gives.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Skein {
    /// Its number through the whole plan: "1".
    pub number: String,
    /// Likely length after the wash.
    pub length: Amount,
    /// Low and high of it with their unit: "298 to 346 m"; `None` where no spread is told.
    pub length_between: Option<String>,
    /// Likely weight after the wash.
    pub weight: Amount,
}

/// Yarn set aside for mending.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Mending {
    /// How much: 10 m, 11 yd.
    pub length: Amount,
    /// Where it is kept and how, in one sentence.
    pub words: String,
}
