//! The workings: where every figure of the other sheets comes from.
//!
//! Records for `templates/sheets/workings.typ`; see [`marks`](super::marks) for what text and numbers may be.
//! A formula is a line of plain text with the signs `+ − × ÷ √ ( ) =`, the four operators with a space on either side;
//! the template chooses where it breaks, and prints its signs and words in the order given.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Page, Spread, Standing};
use super::skein_log::Chart;

/// The sheet: the workings in groups, then what they rest on.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Workings {
    /// What every page needs.
    pub page: Page,
    /// What makes the headline figures uncertain.
    pub headlines: Vec<Headline>,
    /// Where to look a sheet's figures up.
    pub found: Vec<SheetNumbers>,
    /// Workings in the order of the work; each begins under a heading.
    pub groups: Vec<WorkingGroup>,
    /// Bobbins of the log on their charts, one for each kind of singles; may be none.
    pub drifts: Vec<DriftWorked>,
    /// What the plan left out and was filled in.
    pub defaults: Vec<DefaultUsed>,
    /// The sources, each once.
    pub sources: Vec<SourceUsed>,
}

/// The bobbins of one kind of singles as a chart of individuals and moving ranges.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct DriftWorked {
    /// The chart of the skein log.
    pub chart: Chart,
    /// Its lines with the factors by which they are drawn, and what the rules find, in sentences.
    pub told: Vec<String>,
}

/// The workings of one sheet's figures.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SheetNumbers {
    /// Its name: "wheel card".
    pub sheet: String,
    /// Numbers of the workings that it prints, in their order.
    pub workings: Vec<String>,
}

/// Workings that belong together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WorkingGroup {
    /// Its heading: "at the wheel".
    pub title: String,
    /// The workings; never empty.
    pub workings: Vec<Working>,
}

/// One figure and how it came about.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Working {
    /// Its number through the whole sheet: "12".
    pub number: String,
    /// What it is, in words: "weight of 1 km of singles".
    pub title: String,
    /// Its name in the ledger: "singles.tex".
    pub figure: String,
    /// The sheets that print it: "wheel card"; empty where only other workings use it.
    pub used_on: Vec<String>,
    /// How well founded the formula is.
    pub standing: Standing,
    /// Author, title and page; or the words of the standing with a remark: "common practice, no source".
    pub source: String,
    /// What stands left of the first "=": "singles, for 1 km".
    pub term: String,
    /// The formula in words; `None` for a figure that was measured, entered or searched for.
    pub formula: Option<String>,
    /// The numbers put in, in the same shape; `None` together with `formula`.
    pub numbers: Option<String>,
    /// The result.
    pub result: Amount,
    /// What was made of the result before it was used: "so 4 treadles"; `None` where it is used as it is.
    pub rounded: Option<String>,
    /// Low, likely and high; `None` where the figure has no spread.
    pub spread: Option<Spread>,
    /// What was put in, in the order of the formula.
    pub entries: Vec<WorkingEntry>,
    /// A remark: two rules that disagree, a search and its seed; `None` where there is nothing to say.
    pub remark: Option<String>,
    /// Figures worked the same way, printed small under it; often empty.
    pub same: Vec<SameFormula>,
}

/// A figure worked like the one above it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SameFormula {
    /// What it is: "strip 2 on bobbin 1".
    pub name: String,
    /// Its value with its unit: "33.7 g".
    pub result: String,
}

/// One thing put into a working.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WorkingEntry {
    /// How well founded it is.
    pub standing: Standing,
    /// What it is, in the words of the formula: "wash loss".
    pub name: String,
    /// Its value with give-or-take and unit: "5 ± 3 %".
    pub value: String,
    /// Where it comes from: `working 6`, `log, sample[0].singles.wraps[1]`, `left out: yarn.winding-stretch`.
    pub origin: String,
}

/// A headline figure and what makes it uncertain.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Headline {
    /// What it is, in words.
    pub title: String,
    /// Number of its working.
    pub working: String,
    /// Its spread.
    pub spread: Spread,
    /// The entries that bring the most, largest first; the last may sum up the rest.
    pub shares: Vec<SpreadShare>,
}

/// What one entry brings to a spread.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SpreadShare {
    /// The entry.
    pub name: String,
    /// How well founded it is; `None` for the rest summed up.
    pub standing: Option<Standing>,
    /// Its share of the variance for drawing the bar, 0 to 1.
    pub share: f64,
    /// The share as printed: "41 %".
    pub text: String,
}

/// One default that was used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct DefaultUsed {
    /// How well founded it is.
    pub standing: Standing,
    /// What was left out, in words: "share lost in the wash".
    pub name: String,
    /// The key that would replace it: "yarn.wash-lightens".
    pub key: String,
    /// What was taken: "1 ± 1 %".
    pub value: String,
    /// Why this and no other: the source, or the reason, in a few words.
    pub why: String,
}

/// One source.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SourceUsed {
    /// Author, title, year, as printed.
    pub text: String,
    /// Numbers of the workings that rest on it: "2, 7, 12".
    pub workings: String,
}
