//! The garment sheet: what to make, piece by piece, drawn to scale with every edge in length and in stitches, and where the yarn
//! stands after each.
//!
//! Records for `templates/sheets/garment-sheet.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Colour, Lens, Page, Setting, Spread, Tick};

/// The sheet: two pages or more for each garment.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct GarmentSheet {
    /// What every page needs.
    pub page: Page,
    /// The garments in the plan's order; never empty.
    pub garments: Vec<OneGarment>,
}

/// One garment.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct OneGarment {
    /// Its name: "pullover".
    pub name: String,
    /// How it is made, for the head: "for knitting", "for crochet", "for weaving".
    pub moment: String,
    /// What it is, in a line: "raglan pullover, finished chest 110 cm, 8 cm of ease".
    pub made: String,
    /// Tool and gauge with their blanks; two to four.
    pub settings: Vec<Setting>,
    /// How the gauge was come by, and what to do about it: "gauge of sample second, washed"; `None` where none is needed.
    pub basis: Option<String>,
    /// Whether it is enough.
    pub enough: Enough,
    /// Pieces in the order in which to work them; may be none, where only a length is stated.
    pub pieces: Vec<PieceRow>,
    /// Why in this order, in a sentence; `None` where there is but one piece or none.
    pub order: Option<String>,
    /// Which skeins go to which pieces by the log, for each ply plan of which a skein is measured; may be none.
    pub allotments: Vec<Allotment>,
    /// The pieces as drawn; may be none.
    pub drawn: Vec<PieceDrawn>,
    /// How wide the widest and how high the highest of them are, and a round length for the scale drawn beside them; `None` where
    /// nothing is drawn.
    pub scale: Option<DrawnScale>,
    /// What the measures are of: "measures", "on the loom".
    pub measured: String,
    /// Every measure, in words: "sleeve, underarm to cuff"; may be none.
    pub measures: Vec<MeasureRow>,
    /// What comes beside the yarn of the ways: "with 29 m more for ends, joins and mending".
    pub beside: String,
    /// Ways to the length of yarn, the one that is used first.
    pub ways: Vec<WayRow>,
    /// What another grist does to its size; may be none.
    pub grist: Vec<GristRow>,
    /// Of which measure the size is told there: "finished chest"; `None` where none is.
    pub grist_of: Option<String>,
    /// Over which width the gauge is told there: "10 cm".
    pub grist_over: String,
    /// What to do about skeins of the log that are off; `None` where none is.
    pub grist_told: Option<String>,
    /// Sizes, from the least; may be none.
    pub sizes: Vec<SizeRow>,
    /// What the sizes tell, in a sentence: "Size L is the largest that fits"; `None` without sizes.
    pub largest: Option<String>,
    /// Trims; may be none.
    pub trims: Vec<TrimRow>,
    /// Rows still to be had; `None` where the log has no weighing.
    pub rows: Option<RowsLeft>,
    /// The usual caution in one line.
    pub caution: String,
}

/// Whether the yarn is enough for a garment.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Enough {
    /// Graduations of the scale that both lenses share.
    pub ticks: Vec<Tick>,
    /// Yarn it needs.
    pub need: Lens,
    /// Yarn there is or will be.
    pub have: Lens,
    /// What that stands on in the log: "as 2 skeins and 7 bobbins have it"; `None` as planned.
    pub stands_on: Option<String>,
    /// The likely need by weight.
    pub weight: Amount,
    /// Yarn to have, for the wished certainty.
    pub to_spin: Amount,
    /// The same by weight of fibre.
    pub fibre: Amount,
    /// Tries in a hundred that run short, as printed: "23", "fewer than 1".
    pub short: String,
    /// The same for drawing: 0 to 100.
    pub short_of_100: u8,
    /// What would have to be bought; `None` where it suffices.
    pub buy: Option<String>,
    /// How the yarn of each ply plan fares, in a sentence; `None` where all of it is one.
    pub plans: Option<String>,
    /// How all garments of the plan fare together, in a sentence; `None` of the only one.
    pub together: Option<String>,
}

/// One kind of piece, in the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PieceRow {
    /// Its number in the order of working: "1".
    pub number: String,
    /// Its name: "sleeve".
    pub name: String,
    /// How many of it: "2"; `None` of one.
    pub count: Option<String>,
    /// Its stitch: "2x2 rib".
    pub stitch: String,
    /// Yarn in one of them.
    pub yarn: Amount,
    /// The same by weight.
    pub weight: Amount,
    /// Yarn left when all of this kind are done, by weight, as a spread; the likely value stands large.
    pub left: Spread,
    /// The likely value in the other system.
    pub left_other: String,
    /// Skeins it is worked from: "skeins 1 to 4"; `None` where none are laid out for it.
    pub skeins: Option<String>,
}

/// The skeins of a ply plan, piece by piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Allotment {
    /// The ply plan; `None` of the only one.
    pub name: Option<String>,
    /// How to work them and what that gains, in sentences.
    pub told: String,
    /// Ways of working, with the largest step where fabric meets.
    pub ways: Vec<StepOfWay>,
    /// Pieces in the order of working, one of each kind by itself.
    pub places: Vec<AllottedPlace>,
    /// Skeins that are worked two by two, with how many rows of each in turn: "skein 3: 2 rows, skein 5: 2 rows"; may be none.
    pub turns: Vec<String>,
}

/// A way of working skeins.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StepOfWay {
    /// "as they come", "in this order", "two by two".
    pub name: String,
    /// The largest step: "4 %".
    pub step: String,
    /// Whether it is the one that is told here.
    pub is_used: bool,
}

/// A piece with its skeins.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct AllottedPlace {
    /// Its name: "sleeve 2".
    pub name: String,
    /// Skeins in the order of working, each with a box to tick; never empty.
    pub takes: Vec<Take>,
}

/// What a piece takes of a skein, or of two that are worked in turn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Take {
    /// "skein 3", "skeins 3 and 5 in turn".
    pub of: String,
    /// How much.
    pub length: Amount,
}

/// One kind of piece, as drawn to scale.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PieceDrawn {
    /// Its number in the order of working.
    pub number: String,
    /// Its name.
    pub name: String,
    /// "make 2", "in the round", "in the round, make 2"; `None` of one that is turned.
    pub how: Option<String>,
    /// Width of its drawing, as a share of the widest.
    pub width: f64,
    /// Height of its drawing, in the same share.
    pub height: f64,
    /// Its outline as lines, each a list of points from 0 to 1 over its own width and height; nought is left and below.
    pub lines: Vec<Outline>,
    /// Its edges and what else is measured: at most one below, one above, one at the left and one at the right.
    pub edges: Vec<Edge>,
    /// How it is worked, from its first edge on; may be empty.
    pub steps: Vec<StepRow>,
    /// Which way the work grows; an arrow is drawn.
    pub grows: Grows,
}

/// A line of an outline.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Outline {
    /// Points from one to the next, across and up.
    pub points: Vec<[f64; 2]>,
    /// Whether the last joins the first.
    pub closed: bool,
}

/// One thing to do in a piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct StepRow {
    /// What is done: "2 st more in a round, every 8th round 13 times".
    pub words: String,
    /// How many stitches there are then: "68 st"; `None` where none are counted.
    pub stitches: Option<String>,
    /// How far it reaches: "106 rounds", "6 cm (2 ¼ in)"; `None` of what takes no row.
    pub reach: Option<String>,
}

/// An edge with its measure.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Edge {
    /// Where it stands.
    pub side: Side,
    /// From where to where it reaches, as shares of the height of the drawing at its sides and of its width else; `None` of the whole
    /// edge, and at the right of where the piece is widest.
    pub span: Option<Span>,
    /// How long it is.
    pub length: Amount,
    /// In stitches or rows: "205 st", "106 rows"; `None` where the gauge does not tell.
    pub count: Option<String>,
}

/// A stretch of a side.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Span {
    /// Where it begins: from the left, or from below.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// A side of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// Under it.
    Below,
    /// Over it.
    Above,
    /// At its left.
    Left,
    /// At its right.
    Right,
}

/// Which way a piece grows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Grows {
    /// From below.
    Up,
    /// From the middle.
    Out,
    /// From the edge to the middle.
    Inward,
}

/// The scale of the drawings.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct DrawnScale {
    /// A round length as a share of the widest drawing.
    pub bar: f64,
    /// The same in words: "20 cm".
    pub label: String,
}

/// One measure.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct MeasureRow {
    /// What it is: "sleeve, underarm to cuff".
    pub name: String,
    /// How long.
    pub amount: Amount,
    /// Where it comes from: "yours", "from the chest", "table, from memory".
    pub from: String,
    /// From low to high, in the unit of the amount: "99 to 121"; `None` of one's own.
    pub give: Option<String>,
}

/// One way to the length of yarn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WayRow {
    /// How: "by the swatch's weight", "by gauge and loops", "as the pattern says", "by the grist alone".
    pub name: String,
    /// The yarn of the garment by it.
    pub yarn: Spread,
    /// The likely value in the other system.
    pub other: String,
    /// Whether this one is used.
    pub is_used: bool,
    /// Whether it is an estimate to be confirmed by a swatch.
    pub is_estimate: bool,
}

/// What another grist does.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct GristRow {
    /// What comes of the wheel: "a tenth finer", "as planned", "a tenth heavier", "skein 2".
    pub name: String,
    /// The grist, in the unit of the leading system.
    pub grist: Amount,
    /// Stitches in the width over which the gauge is counted: "19½"; `None` without a gauge.
    pub gauge: Option<String>,
    /// The leading measure as a spread.
    pub size: Spread,
    /// The same in the other system.
    pub size_other: String,
    /// Weight of the garment.
    pub weight: Amount,
}

/// One size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SizeRow {
    /// Its name: "L".
    pub name: String,
    /// The body it is for.
    pub body: Amount,
    /// Likely yarn it needs.
    pub yarn: Amount,
    /// Tries in a hundred that run short.
    pub short: String,
    /// What it lacks for the wished certainty: "2 more braids of north"; `None` where it fits.
    pub lacks: Option<String>,
    /// Whether it is the plan's own.
    pub is_own: bool,
}

/// A trim.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct TrimRow {
    /// Its name: "edging".
    pub name: String,
    /// Its yarn: "left over", or the name of one of its own.
    pub yarn: String,
    /// The colour of that yarn; `None` of what is left over, or without one.
    pub colour: Option<Colour>,
    /// The colours of the fabric that it stands beside; may be empty.
    pub beside: Vec<Colour>,
    /// Yarn it needs.
    pub need: Amount,
    /// Yarn there is for it.
    pub have: Amount,
    /// Tries in a hundred that run short.
    pub short: String,
    /// Rows it may have, of how many: "14 of 12 rows"; `None` where it has no rows.
    pub rows: Option<String>,
}

/// Rows still to be had from the yarn that is left.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct RowsLeft {
    /// What was weighed: "sleeve, 1 May".
    pub of: String,
    /// Weight of one row.
    pub row: Amount,
    /// What is left by weight.
    pub left: Amount,
    /// How many rows before those are as good as sure: "53"; `None` where none are.
    pub safe: Option<String>,
    /// Rows with the tries in a hundred that run short before; each with a box to tick.
    pub rows: Vec<RowLeft>,
}

/// One row still to be had.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct RowLeft {
    /// Rows from now: "12".
    pub number: String,
    /// Tries in a hundred that run short before it is done.
    pub short: String,
    /// What should then be left on the scale.
    pub left: Amount,
}
