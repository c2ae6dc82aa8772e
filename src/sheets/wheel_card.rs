//! The wheel card: what is set and checked at the wheel, one page for spinning and one for plying.
//!
//! Records for `templates/sheets/wheel-card.typ`; see [`marks`](super::marks) for what text and numbers may be.

use serde::Serialize;

use super::marks::{Gate, Page, Setting, Slant, Tie, Warning};

/// The sheet: its cards in the order of the work.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct WheelCard {
    /// What every page needs.
    pub page: Page,
    /// One page each, the cards for spinning first; never empty.
    pub cards: Vec<Card>,
}

/// One page to hang from the wheel.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Card {
    /// What is done.
    pub act: Act,
    /// The direction, printed very large.
    pub twist: Slant,
    /// What turns, in a word: "wheel", "flyer", "spindle".
    pub turns: String,
    /// Whether it turns clockwise, seen from the spinner's side; a spindle, seen from above.
    pub is_clockwise: bool,
    /// How many singles the drawn yarn has: 1 on a card for spinning, the plies on a card for plying.
    pub plies: u8,
    /// Which part of the work: "singles 1 to 9", "three plies".
    pub part: String,
    /// Two to four settings, the machine first: whorl, length per treadle, brake; flyer speed, seconds; turns of a spindle.
    pub settings: Vec<Setting>,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Act {
    /// Spinning singles.
    Spin,
    /// Plying them.
    Ply,
}

/// One reading with its limits and the sample beside it.
#[derive(Debug, Clone, Serialize)]
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
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Stations {
    /// What is done at each: "weigh 20 m, and hold the yarn against the tied one".
    pub what: String,
    /// Up to seven, in a word or two each: "first 10 m", "¼ bobbin".
    pub stops: Vec<String>,
    /// Unit in each blank.
    pub unit: String,
}
