//! The overview: what is planned, whether it is enough, and what to find out next.
//!
//! Records for `templates/sheets/overview.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Colour, Lens, Page, Tick, Warning};

/// The sheet, one page where the plan is of usual size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Overview {
    /// What every page needs.
    pub page: Page,
    /// Facts of the fibre.
    pub fibre: Vec<Fact>,
    /// Colours of the fibre, shown under its facts; may be empty.
    pub colours: Vec<Colour>,
    /// Facts of the yarn.
    pub yarn: Vec<Fact>,
    /// Facts of the garments where there are any, of the wheel where there are none; with their heading.
    pub third: Panel,
    /// How far a yarn in hand is met; `None` where none is to be matched.
    pub r#match: Option<MatchPanel>,
    /// The way of the wool from fibre to yarn, and to what it is for; two to six stops.
    pub way: Vec<Stop>,
    /// The yarn there will be, and the garments it is wanted for.
    pub balance: Balance,
    /// What the yarn that there is stands on in the log: "as 2 skeins and 7 bobbins have it"; `None` as planned.
    pub stands_on: Option<String>,
    /// What the yarn would make or the fibre gives, where the plan names no garment; one line each, else empty.
    pub gives: Vec<Given>,
    /// What to measure next; at most four, the most telling first, may be empty.
    pub measure_next: Vec<Measure>,
    /// Of which figure the doubt is told: "doubt whether the pullover's yarn is enough".
    pub doubt: String,
    /// What deciding now does; at most three, may be empty.
    pub choices: Vec<Choice>,
    /// Defaults that bring the most doubt; at most five, may be empty.
    pub defaults: Vec<DefaultThatMatters>,
    /// Warnings, the dearest first; may be empty.
    pub warnings: Vec<Warning>,
}

/// A column of facts.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Panel {
    /// Its heading: "garment", "garments", "wheel".
    pub title: String,
    /// Its facts, at most six.
    pub facts: Vec<Fact>,
}

/// One fact with its label.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Fact {
    /// The label, at most nine letters: "grist".
    pub label: String,
    /// The fact: "205 m/100 g", "polwarth, combed top".
    pub value: String,
    /// The same in the other system, without "=".
    pub other: Option<String>,
}

/// How far a yarn in hand is met, and what that does.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct MatchPanel {
    /// Name of the yarn in hand.
    pub name: String,
    /// What of it is met and what is given up; at most five.
    pub rows: Vec<MatchRow>,
    /// What that does, one line each on gauge, drape, weight, fibre to buy; at most four, may be empty.
    pub effects: Vec<Fact>,
}

/// One property of a yarn in hand.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct MatchRow {
    /// The property, at most nine letters: "wraps".
    pub label: String,
    /// Whether it is met.
    pub is_met: bool,
    /// What there will be: "5.1 wraps/cm", "8 % heavier"; `None` where the word alone tells it.
    pub value: Option<String>,
}

/// One stop on the way of the wool.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Stop {
    /// How much there is of one of them: 10.8 g, 322 m.
    pub amount: Amount,
    /// Of what, and how many: "45 strips".
    pub what: String,
    /// What is lost or divided on the way to the next stop: "−15 g, ÷ 9"; empty at the last.
    pub next: String,
}

/// Have against need, on one scale of length.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Balance {
    /// Graduations of the scale from left to right; the labelled ones carry their unit.
    pub ticks: Vec<Tick>,
    /// The yarn that the fibre gives.
    pub have: Lens,
    /// All together first where there are several, then one for each garment in the plan's order; may be empty.
    pub garments: Vec<GarmentBalance>,
}

/// One garment against the yarn there is.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct GarmentBalance {
    /// Its name: "pullover".
    pub name: String,
    /// Yarn it needs, on the scale of the balance.
    pub need: Lens,
    /// Yarn left over, in steps of the same scale but with its own zero.
    pub left_over: LeftOver,
    /// Tries in a hundred that run short, as printed: "23", "fewer than 1".
    pub short: String,
    /// The same for drawing: 0 to 100.
    pub short_of_100: u8,
    /// What would have to be bought for the wished certainty: "one more braid of north"; `None` where it suffices.
    pub buy: Option<String>,
}

/// What is left over of the yarn, where less than nothing is a shortfall.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct LeftOver {
    /// The spread; ends under nothing read "46 short". Places are 0 to 1 over the width of the balance.
    pub lens: Lens,
    /// Place where nothing is left, 0 to 1; outside of that where it lies off the drawing.
    pub nothing_at: f64,
}

/// What the fibre would give, without a garment.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Given {
    /// How much.
    pub amount: Amount,
    /// Of what: "washed yarn, likely", "of fabric at 19 st to 10 cm".
    pub what: String,
}

/// One thing worth measuring.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Measure {
    /// What to do: "wash one sample skein".
    pub what: String,
    /// How, and what it costs in time: "length before and after, weight dry; half a day".
    pub how: String,
    /// Share of the doubt that it settles for drawing the bar, 0 to 1.
    pub share: f64,
    /// The same as printed: "41 %".
    pub share_text: String,
    /// Tries in a hundred that would still run short; `None` where there is no garment.
    pub then_short: Option<String>,
}

/// What deciding now does.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Choice {
    /// Tries in a hundred that then run short.
    pub short: String,
    /// The decision, in a few words.
    pub what: String,
    /// A second line: price, measure; `None` where there is none.
    pub note: Option<String>,
}

/// A default that matters.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct DefaultThatMatters {
    /// What was left out, in words.
    pub name: String,
    /// What was taken: "5 ± 6 %".
    pub value: String,
    /// Its share of the doubt as printed.
    pub share_text: String,
    /// The same for drawing the bar, 0 to 1.
    pub share: f64,
    /// What to write in the plan: "yarn.wash-shortens".
    pub key: String,
}
