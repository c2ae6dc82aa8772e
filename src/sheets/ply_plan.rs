//! The ply plan: what is plied with what, and what it should give; for singles that stay single, their skeins.
//!
//! Records for `templates/sheets/ply-plan.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Colour, Page, Slant};

/// The sheet: the ways of putting singles together, in the plan's order.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PlyPlanSheet {
    /// What every page needs.
    pub page: Page,
    /// How the yarn is put together.
    pub construction: Construction,
    /// Direction of the finished yarn: of plying, of cabling, or of singles that stay single.
    pub ply_twist: Slant,
    /// How many singles or strands the finished yarn shows: 1 where it stays single.
    pub plies: u8,
    /// The operations of a cabled yarn, in their order; empty for any other.
    pub operations: Vec<Operation>,
    /// The order of work that the bobbins owned force: "With five bobbins: spin set 1, ply it, ..."; `None` where it is free.
    pub order: Option<String>,
    /// How bobbins are rewound before plying; `None` where they need not be.
    pub rewind: Option<String>,
    /// Colours named by the bobbins; empty where no braid has any.
    pub colours: Vec<Colour>,
    /// The plans; never empty.
    pub plans: Vec<PlyPlan>,
    /// What to set aside for mending.
    pub mending: Mending,
    /// What to do with the yarn left on the bobbins, in one or two sentences.
    pub left_over: Option<String>,
}

/// How a yarn is put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Construction {
    /// Several bobbins plied together.
    Bobbins,
    /// One bobbin, its single laid beside itself in passes.
    Chain,
    /// One ball, its inner and its outer end plied together.
    Ball,
    /// Strands are plied, then plied together once more.
    Cabled,
    /// The single is the yarn.
    Singles,
}

/// One operation of a cabled yarn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Operation {
    /// Its letter, printed large.
    pub twist: Slant,
    /// How many singles or strands the drawn yarn has.
    pub plies: u8,
    /// What is done: "ply each strand by itself".
    pub what: String,
}

/// One way of putting singles together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PlyPlan {
    /// Its name in the plan; `None` where there is only one and it has none.
    pub name: Option<String>,
    /// Its part of the yarn: "70 % of the yarn"; `None` where it is all of it.
    pub share: Option<String>,
    /// How the braids are torn for it; empty where there are none.
    pub tearing: Vec<Tearing>,
    /// Why these bobbins stand together, in one or two sentences.
    pub why: String,
    /// Its sets, in the order of plying.
    pub sets: Vec<PlySet>,
}

/// What is done to some braids before they are spun.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Tearing {
    /// "Tear lengthwise", "Do not tear".
    pub does: String,
    /// To which braids, each line with into how many strips: "north 1 to 3 into 6 strips"; never empty.
    pub lots: Vec<String>,
}

/// The bobbins that are plied together once.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PlySet {
    /// Its number: "1".
    pub number: String,
    /// The bobbins as they stand on the kate from left to right, one to a ply; one bobbin or ball of a chain, a ball or singles.
    /// Those of a cabled yarn stand strand by strand.
    pub kate: Vec<KateBobbin>,
    /// The strands of a cabled yarn; empty for any other.
    pub strands: Vec<Strand>,
    /// Which ply runs out first, and by how much: "The silk runs out first, 12 m before the wool."; `None` where they end
    /// together.
    pub runs_out: Option<String>,
    /// How far it is by the log, and how heavy what is plied of it is against the mean of all sets: "waits, +2 %"; `None` where the
    /// log has none of its bobbins.
    pub state: Option<String>,
    /// The skeins it gives; never empty.
    pub skeins: Vec<Skein>,
}

/// One strand of a cabled yarn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Strand {
    /// Its letter: "A".
    pub name: String,
    /// How many bobbins of the kate make it, after those of the strands before it.
    pub bobbins: u8,
    /// Length it should have when plied, so that the strands can be compared; `None` where it is not told.
    pub length: Option<Amount>,
}

/// One bobbin on the kate.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct KateBobbin {
    /// Its number: "7".
    pub number: String,
    /// Which ply it becomes: "ply 2"; what it is where it becomes none: "chain", "single".
    pub ply: String,
    /// How many strands lead off it: 1 of a bobbin, the passes of a chain, both ends of a ball.
    pub passes: u8,
    /// What it holds, in a few words: "north, from the slate end".
    pub holds: String,
    /// The colours that come off first to last, as places in [`PlyPlanSheet::colours`]; empty without colours, or where they
    /// follow in no order.
    pub colours: Vec<usize>,
    /// What should be left on it when the set is plied: "2 g"; `None` where nothing is told.
    pub left: Option<String>,
}

/// One skein that a set gives.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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
    /// The skein as the log has it; `None` of one that is still to come.
    pub measured: Option<Measured>,
}

/// A skein that was measured.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Measured {
    /// Its length.
    pub length: Amount,
    /// Its weight.
    pub weight: Amount,
    /// The day.
    pub day: String,
}

/// Yarn set aside for mending.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Mending {
    /// How much: 10 m, 11 yd.
    pub length: Amount,
    /// Where it is kept and how, in one sentence.
    pub words: String,
}
