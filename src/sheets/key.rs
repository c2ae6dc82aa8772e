//! The key: every mark of the sheets with what it means, shown with this plan's own numbers and colours.
//!
//! Records for `templates/sheets/key.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::bobbin_checklist::{Strip, Weighing};
use super::colour_sheet::{ClothDrawn, LaneRun, ShadeDrawn, ToneDrawn};
use super::marks::{Amount, Colour, Page, Slant, Spread, Station, Tie};
use super::wheel_card::Turns;

/// The sheet: one of each, as it stands on the other sheets.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Key {
    /// What every page needs.
    pub page: Page,
    /// Direction of most of the singles.
    pub singles_twist: Slant,
    /// Direction of the finished yarn, and how many singles or strands it is drawn with.
    pub ply_twist: Slant,
    /// How many singles or strands a plied yarn is drawn with; two where the yarn is singles.
    pub plies: u8,
    /// What turns when singles are spun.
    pub turns: Turns,
    /// Whether it then turns clockwise.
    pub is_clockwise: bool,
    /// The weighing of singles, for its gate.
    pub weighing: Weighing,
    /// When singles are checked while a bobbin fills, at each quarter.
    pub stations: Vec<Station>,
    /// The length of yarn that there will be, in both systems.
    pub yarn: Amount,
    /// The same with its spread; `None` where nothing is in doubt.
    pub spread: Option<Spread>,
    /// Tries in a hundred that run short of the first garment; `None` where there is no garment.
    pub short_of_100: Option<u8>,
    /// A place to tie singles on.
    pub tie: Tie,
    /// The first strip that has colours; `None` where no braid has any.
    pub strip: Option<Strip>,
    /// The plan's own way on the colour sheet; `None` where there is no such sheet.
    pub colour_way: Option<KeyWay>,
    /// The colours of the plan; empty where no braid has any.
    pub colours: Vec<Colour>,
}

/// Plies, yarn and fabric as the colour sheet draws them.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct KeyWay {
    /// What runs show.
    pub tones: Vec<ToneDrawn>,
    /// What the fabric shows.
    pub shades: Vec<ShadeDrawn>,
    /// Ply by ply the runs along the yarn.
    pub lanes: Vec<Vec<LaneRun>>,
    /// The share of outcomes in which the yarn is solid.
    pub bar: Vec<f64>,
    /// The fabric; `None` where no piece is known.
    pub cloth: Option<ClothDrawn>,
}
