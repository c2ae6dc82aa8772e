//! The samples: what came of them after the wash, held against what is wanted, and one of them chosen.
//!
//! Records for `templates/sheets/samples.typ`; see [`marks`](super::marks) for what text and numbers may be.
//! What is wanted stands in the first column, and up to four samples beside it; more continue on the next page.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Gate, Page};

/// The sheet: its rows, and the samples as columns.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Samples {
    /// What every page needs.
    pub page: Page,
    /// What the samples are held against.
    pub target: Target,
    /// What is compared, from top to bottom; at most six, with `feel` always under them.
    pub rows: Vec<ComparedRow>,
    /// The samples in the order of the log; never empty.
    pub samples: Vec<ComparedSample>,
    /// Of which figure the doubt is told, at most forty letters: "doubt which sample meets the plan".
    pub doubt: String,
    /// What would settle most of the doubt, the most telling first; at most three, may be empty.
    pub settles: Vec<Settling>,
    /// How large the next sample must be; at most three lines, may be empty.
    pub sizes: Vec<SampleSize>,
}

/// What the samples are held against.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Target {
    /// Name of the yarn in hand; `None` where the plan itself says what is wanted.
    pub name: Option<String>,
    /// What it is, in two or three words: "aimed at", "yarn in hand".
    pub what: String,
}

/// One thing that is compared.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ComparedRow {
    /// What it is, at most eighteen letters: "wraps", "kept in the wash".
    pub name: String,
    /// On what and in which unit, at most twenty-two letters: "washed, to 1 cm".
    pub note: Option<String>,
    /// The limits, drawn in the column of what is wanted; `ticks` stays empty. `None` where it is told in words.
    pub gate: Option<Gate>,
    /// What is wanted where no gate tells it: "about as dense"; `None` where nothing is.
    pub wanted: Option<Amount>,
    /// Unit in the blanks of samples yet to come; `None` for a count or for words.
    pub tray_unit: Option<String>,
}

/// One sample, a column.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct ComparedSample {
    /// Its name: "1".
    pub name: String,
    /// Its day: "3 March"; `None` where the log has none.
    pub date: Option<String>,
    /// How it was spun, a few words each: its whorl, its draw, what was let in. At most three.
    pub how: Vec<String>,
    /// Its readings, one to each of [`Samples::rows`] in their order.
    pub readings: Vec<Compared>,
    /// How it felt; `None` where nobody said.
    pub feel: Option<String>,
    /// The one thing to change, in at most eight words: "finer singles: let in less wool".
    pub change: String,
    /// Why just that, in one short sentence; `None` where the readings say it.
    pub why: Option<String>,
    /// Whether the log has chosen it.
    pub is_chosen: bool,
}

/// One reading of a sample, held against what is wanted.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Compared {
    /// What was read, without its unit where the row tells it; words for what is too small for a number: "denser by 8 %".
    /// `None` where nothing was read.
    pub value: Option<Amount>,
    /// Whether it is right.
    pub verdict: Verdict,
    /// The same in at most three words, beside the mark: "right", "too thick", "cannot tell", "not read".
    pub words: String,
    /// Where it falls against the two posts; `None` where nothing was read or the row has no limits.
    pub falls: Option<Falls>,
}

/// Whether a reading is right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Between the posts, doubt and all.
    Right,
    /// Under the low post, doubt and all.
    TooLittle,
    /// Over the high post, doubt and all.
    TooMuch,
    /// Its doubt lies across a post, or there is no reading.
    CannotTell,
}

/// Where a reading falls: 0 is the low post and 1 the high one. What lies far outside is drawn at the end of the ground.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Falls {
    /// The low end of what the reading may mean.
    pub low_at: f64,
    /// The reading.
    pub likely_at: f64,
    /// The high end of what it may mean.
    pub high_at: f64,
}

/// One measurement that would settle some of the doubt.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Settling {
    /// What to do: "weigh a longer skein of sample 2".
    pub what: String,
    /// How, and what it costs in time: "20 m (22 yd); ten minutes".
    pub how: String,
    /// Share of the doubt that it settles for drawing the bar, 0 to 1.
    pub share: f64,
    /// The same as printed: "41 %".
    pub share_text: String,
}

/// How large a sample must be for one answer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SampleSize {
    /// At least how much: 8 m, 4 g.
    pub amount: Amount,
    /// Of what, and for which answer: "of plied yarn, to tell grist within 3 % on a scale of 0.1 g".
    pub what: String,
}
