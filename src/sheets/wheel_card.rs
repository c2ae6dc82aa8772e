//! The wheel card: what is set and checked at the wheel, one page for each kind of singles and each plying.
//!
//! Records for `templates/sheets/wheel-card.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Basis, Gate, Page, Setting, Slant, Station, Tie, Warning};

/// The sheet: its cards in the order of the work.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WheelCard {
    /// What every page needs.
    pub page: Page,
    /// One page each: spinning, a card for each kind of singles; then plying; then cabling. Never empty.
    pub cards: Vec<Card>,
}

/// One page to hang from the wheel.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Card {
    /// What is done.
    pub act: Act,
    /// The kind of singles where there are several: "wool", "silk"; printed large over the act. `None` where there is but one.
    pub kind: Option<String>,
    /// The direction, printed very large.
    pub twist: Slant,
    /// What turns, and is drawn with an arrow.
    pub turns: Turns,
    /// Whether it turns clockwise, seen from where the yarn is held: the spinner's side of a wheel, the orifice of a flyer, the
    /// shaft's upper end on a spindle.
    pub is_clockwise: bool,
    /// How many singles or strands the drawn yarn has: 1 on a card for spinning, the plies on a card for plying.
    pub plies: u8,
    /// Which part of the work: "singles 1 to 9", "silk singles, bobbins 3 and 6", "three plies".
    pub part: String,
    /// How this construction is made, in one or two sentences under the head: "Chain ply: three passes of one single."; `None`
    /// where the act tells it.
    pub how: Option<String>,
    /// Two to four settings, the whorl first where there is one: whorl, length per treadle, seconds or turns a draft, brake.
    pub settings: Vec<Setting>,
    /// What the log measures so far beside what is aimed at, and what the next ones should be, a sentence each; empty without a log.
    pub so_far: Vec<String>,
    /// What the limits rest on.
    pub basis: Basis,
    /// One to three checks, the most telling first.
    pub checks: Vec<Check>,
    /// When to check.
    pub stations: Stations,
    /// When to stop, and what to look at.
    pub stop: Warning,
    /// The usual caution in one line.
    pub caution: String,
}

/// What a card is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Act {
    /// Spinning singles.
    Spin,
    /// Plying them.
    Ply,
    /// Plying plied strands once more.
    Cable,
}

/// What turns at the spinner's hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Turns {
    /// The drive wheel under the treadles.
    Wheel,
    /// The flyer of a wheel that a motor drives.
    Flyer,
    /// A spindle.
    Spindle,
}

/// One reading with its limits and the sample beside it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Check {
    /// What is read: "weight of 20 m", "wraps in 3 cm".
    pub name: String,
    /// The same in the other system, without "=": "21.9 yd", "21½ per inch".
    pub other: Option<String>,
    /// How it is read, in a few words: "under light tension"; `None` where it is plain.
    pub how: Option<String>,
    /// The limits; with `ticks` it is drawn large over a scale for pencil dots, without them a blank stands above it.
    pub gate: Gate,
    /// What is tied on beside it; `None` where nothing is.
    pub tie: Option<Tie>,
}

/// When to check, in order of time.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Stations {
    /// What is done at each: "weigh 20 m, and hold the yarn against the tied one".
    pub what: String,
    /// What else is done at each, in a few words: "tighten the brake a little"; `None` where nothing is.
    pub also: Option<String>,
    /// Where the readings are written, as a sentence; empty where it is plain.
    pub where_to: String,
    /// Up to seven of them.
    pub stops: Vec<Station>,
    /// Unit in each blank.
    pub unit: String,
}
