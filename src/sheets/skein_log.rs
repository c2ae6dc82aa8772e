//! The skein log: what was really spun, how even it is, which bobbins to ply together, and what the next ones should be.
//!
//! Records for `templates/sheets/skein-log.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Page, Spread};

/// The sheet: a page or two, with blanks for what is still to come.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SkeinLog {
    /// What every page needs.
    pub page: Page,
    /// How far it is, in a line: "7 of 12 bobbins weighed, 2 skeins washed".
    pub progress: String,
    /// The yarn as planned and by the log; `None` where nothing is measured.
    pub forecast: Option<Forecast>,
    /// One chart for each kind of singles; never empty.
    pub charts: Vec<Chart>,
    /// Sets that are plied and those that wait, one list for each ply plan that has any bobbins measured; may be empty.
    pub plyings: Vec<PlyingTold>,
    /// Skeins: those of the log, and blanks for those to come; never empty.
    pub skeins: Vec<SkeinRow>,
    /// Unit of the blanks for a loop.
    pub loop_unit: String,
    /// Unit of the blanks for weights.
    pub weight_unit: String,
    /// What is said of a bobbin that is off, for the three bands.
    pub bands: Vec<BandTold>,
    /// Likely causes to tick; never a verdict.
    pub causes: Vec<String>,
    /// Notes of the log, each with its day; may be empty.
    pub notes: Vec<String>,
}

/// The yarn as it was planned, and as the log has it now.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Forecast {
    /// Yarn there will be, by the log.
    pub yarn: Spread,
    /// The likely value in the other system.
    pub other: String,
    /// How far its weight per length is off what was aimed at: "+4 % of weight for its length against the plan".
    pub off: String,
    /// How garments fare, a sentence each.
    pub garments: Vec<String>,
    /// What is still to spin and how long that takes at the pace of the log; `None` where the log does not tell it.
    pub pace: Option<String>,
}

/// The bobbins of one kind of singles on a chart.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Chart {
    /// What they are: "singles", "silk singles".
    pub name: String,
    /// How many places the chart has, one for each bobbin that is planned.
    pub places: usize,
    /// The foot of the chart, as a share off the middle one.
    pub low: f64,
    /// Its top.
    pub high: f64,
    /// From here to there bobbins are good: within five per cent of the median.
    pub good_low: f64,
    /// To there.
    pub good_high: f64,
    /// Points in the order of spinning; may be empty.
    pub points: Vec<ChartPoint>,
    /// Lines across it: what is planned, and the limits; may be empty.
    pub lines: Vec<ChartLine>,
    /// What the chart tells, in sentences.
    pub told: Vec<String>,
}

/// One bobbin on a chart.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ChartPoint {
    /// Its place from the left, counted from 0.
    pub place: usize,
    /// Its number.
    pub number: String,
    /// Where it lies, as a share off the middle one.
    pub at: f64,
    /// The same as printed: "+3 %".
    pub off: String,
    /// Off the median: "good", "mix", "act".
    pub band: String,
    /// Weight of its singles, where both weighings are there.
    pub net: Option<Amount>,
    /// Day it was weighed.
    pub day: String,
}

/// A line across a chart.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ChartLine {
    /// Where, as a share off the middle one.
    pub at: f64,
    /// Whether it is a limit, drawn in dashes; else it is the plan.
    pub is_limit: bool,
}

/// Sets of one ply plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct PlyingTold {
    /// Its name, where there are several.
    pub name: Option<String>,
    /// The sets in the order of plying.
    pub sets: Vec<SetTold>,
    /// What the pairing gains, and how it was found, in a sentence.
    pub told: String,
}

/// One set.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SetTold {
    /// Its bobbins: "7 + 8 + 9".
    pub bobbins: String,
    /// What is plied of it, off the mean of all sets: "+2 %".
    pub off: String,
    /// "plied", "ready to ply", "to spin".
    pub state: String,
    /// What the bobbins still to spin should weigh by the checked length: "bobbins 8, 9: 20 m weigh 3.2 g (3.0 to 3.5)"; `None` of a
    /// set that is spun.
    pub wanted: Option<String>,
}

/// One skein, or a blank for one.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SkeinRow {
    /// Its number.
    pub number: String,
    /// Bobbins it was plied from; `None` of a blank.
    pub bobbins: Option<String>,
    /// Length as measured, or as planned.
    pub length: Amount,
    /// Weight as measured, or as planned.
    pub weight: Amount,
    /// Grist as measured; `None` of a blank.
    pub grist: Option<Amount>,
    /// Off the median of the skeins: "−2 %"; `None` of a blank.
    pub off: Option<String>,
    /// "good", "mix", "act"; `None` of a blank.
    pub band: Option<String>,
}

/// What to do with yarn of one band.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BandTold {
    /// Its name: "good", "mix", "act".
    pub name: String,
    /// From where to where: "under 5 %".
    pub from: String,
    /// What to do.
    pub what: String,
}
