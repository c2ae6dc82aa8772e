//! The colour sheet: what each way of putting the braids together does to yarn and fabric, before one of them is torn.
//!
//! One page for each ply plan that has colours. Records for `templates/sheets/colour-sheet.typ`; see [`marks`](super::marks) for what
//! text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Colour, Page, Slant};

/// The sheet: one page for each yarn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ColourSheet {
    /// What every page needs.
    pub page: Page,
    /// Direction of the last twist.
    pub ply_twist: Slant,
    /// All colours of the plan.
    pub colours: Vec<Colour>,
    /// The yarns; never empty.
    pub yarns: Vec<ColourYarn>,
}

/// The yarn of one ply plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ColourYarn {
    /// Name of the ply plan and how many plies: "body, three plies".
    pub part: String,
    /// The braids that go into it, each lot once, at most three; `more-braids` counts the others.
    pub braids: Vec<BraidDrawn>,
    /// "and 6 more braids"; `None` where all are drawn.
    pub more_braids: Option<String>,
    /// What cannot be undone, as sentences: how braids are torn for the plan's own way, what is torn already.
    pub undone: Vec<String>,
    /// What is wished, as a sentence; `None` where nothing is.
    pub wish: Option<String>,
    /// How to read the lanes: "read upward, as the fabric grows; one skein, 277 m".
    pub reading: String,
    /// What runs show.
    pub tones: Vec<ToneDrawn>,
    /// What the fabric shows.
    pub shades: Vec<ShadeDrawn>,
    /// Graduations of the axis beside the lanes, from its beginning.
    pub axis: Vec<AxisTick>,
    /// What the fabric beside the lanes is: "body"; `None` where none is drawn.
    pub fabric: Option<String>,
    /// The ways, the plan's own first; one to four.
    pub ways: Vec<ColourWay>,
    /// What was compared, as sentences; `None` where nothing was.
    pub proof: Option<String>,
    /// How plies lose step, as sentences; none of a yarn of one ply.
    pub step: Vec<String>,
    /// What helps against it, each with the share of the yarn that is then solid, likely; empty where nothing helps: "break and join anew 16 %".
    pub remedies: Vec<Remedy>,
    /// Colours that it is to be worn with; at most four.
    pub worn_with: Vec<Worn>,
    /// What else there is to say in small print, as sentences: pieces that are not drawn, whole orders of braids.
    pub notes: Vec<String>,
    /// What the marks of the page mean, in one line each.
    pub legend: Vec<String>,
}

/// A braid laid out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BraidDrawn {
    /// Its name: "north".
    pub name: String,
    /// Its colours from end to end.
    pub sections: Vec<SectionDrawn>,
    /// How it reads: "mirrored about its middle".
    pub reads: String,
}

/// A coloured section of a braid.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SectionDrawn {
    /// Place of its colour in [`ColourSheet::colours`].
    pub colour: usize,
    /// Its share of the braid.
    pub share: f64,
    /// Its length or share as printed: "65 cm".
    pub extent: String,
}

/// What a run of a ply shows.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ToneDrawn {
    /// Place of its colour in [`ColourSheet::colours`]; `None` of a blend or of undyed fibre.
    pub colour: Option<usize>,
    /// Its tint; `None` where it has none.
    pub tint: Option<String>,
}

/// What the fabric shows where plies lie side by side.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ShadeDrawn {
    /// Place of its colour in [`ColourSheet::colours`] where all plies have that one; else `None`.
    pub colour: Option<usize>,
    /// What the eye mixes of it; `None` where a colour has no tint.
    pub tint: Option<String>,
}

/// A graduation of the axis.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct AxisTick {
    /// Its place, 0 at the beginning of the yarn and 1 at its end.
    pub at: f64,
    /// The number beside it: "69 m".
    pub label: String,
}

/// One way of putting the braids together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ColourWay {
    /// Its letter: "A".
    pub letter: String,
    /// What it is: "your plan", "the best found".
    pub name: String,
    /// One bold plain verdict: "stripes that soften".
    pub verdict: String,
    /// What it gains or costs beside the plan's own, each a few words; empty of the plan's own.
    pub beside: Vec<String>,
    /// What goes on each ply; at most four.
    pub plies: Vec<WayPly>,
    /// "and 3 more plies"; `None` where all are told.
    pub more_plies: Option<String>,
    /// Ply by ply the runs along the yarn, from its beginning.
    pub lanes: Vec<Vec<LaneRun>>,
    /// From the beginning, the share of outcomes in which the yarn is solid.
    pub bar: Vec<f64>,
    /// The fabric along the yarn; `None` where no piece is known.
    pub along: Option<ClothDrawn>,
    /// Pieces of the garments to scale, at most three.
    pub pieces: Vec<PieceDrawn>,
    /// What of the yarn is solid while plies are in step: "25 %".
    pub in_step: String,
    /// What of it is solid as it is plied: low, likely, high.
    pub as_plied: Three,
    /// How deep runs become in each piece: "body 1.2 to 4.8 cm".
    pub depths: Vec<String>,
    /// How the yarn looks: "barber-pole 60 %".
    pub looks: Vec<String>,
    /// What was wished, and whether this way keeps it.
    pub wishes: Vec<Kept>,
}

/// A likely number between low and high.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Three {
    /// One try in ten is lower.
    pub low: String,
    /// The likely one.
    pub likely: String,
    /// One try in ten is higher.
    pub high: String,
}

/// A wish beside the aim.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Kept {
    /// "bracken beside lichen", "bracken kept from lichen".
    pub words: String,
    /// Whether it is kept.
    pub is_kept: bool,
}

/// What goes on one ply.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WayPly {
    /// Its number: "1".
    pub number: String,
    /// The braids in the order of spinning, those alike once; at most three.
    pub strips_drawn: Vec<StripDrawn>,
    /// The same in words, and how they are torn: "north × 2, then south, 4 strips each".
    pub words: String,
    /// Which end goes first: "heather end first"; `None` where it is no matter.
    pub how: Option<String>,
}

/// A strip with the end that goes first.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StripDrawn {
    /// Its colours in the braid's own order.
    pub runs: Vec<LaneRun>,
    /// Which end goes first; `None` where it does not matter.
    pub start: Option<Start>,
}

/// Which end of the strips goes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Start {
    /// The end of the first section.
    First,
    /// The end of the last section.
    Last,
    /// Both in turn.
    Both,
}

/// A run of a lane or of a strip.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct LaneRun {
    /// Place of its tone in [`ColourYarn::tones`].
    pub tone: usize,
    /// Its share of the lane.
    pub share: f64,
}

/// Fabric as columns of stitches, each one outcome.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ClothDrawn {
    /// Rows drawn.
    pub rows: usize,
    /// Column by column, from the first row up.
    pub columns: Vec<Vec<StitchRun>>,
}

/// Stitches of one shade above one another.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StitchRun {
    /// How many rows.
    pub rows: usize,
    /// Place of their shade in [`ColourYarn::shades`]; `None` where the yarn has come to its end.
    pub shade: Option<usize>,
}

/// A piece to scale.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PieceDrawn {
    /// Its name: "sleeve".
    pub name: String,
    /// Width as it lies flat, in millimetres; a tube lies half as wide as it is round.
    pub width: f64,
    /// Height, in millimetres.
    pub height: f64,
    /// The same as printed: "54 × 40 cm".
    pub words: String,
    /// What it shows.
    pub cloth: ClothDrawn,
}

/// A remedy against losing step.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Remedy {
    /// What is done: "join anew at each repeat".
    pub what: String,
    /// What of the yarn is then solid, likely: "23 %".
    pub solid: String,
}

/// A colour that the garment is to be worn with.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Worn {
    /// Its place in [`ColourSheet::colours`].
    pub colour: usize,
    /// How it stands to the colours of the yarn: "near slate, far from lichen".
    pub words: String,
}
