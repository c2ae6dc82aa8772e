//! The marks that several sheets share, as plain records for the templates.
//!
//! A sheet is a record of finished text: every number in it was rounded and given its unit before it came here.
//! The few raw numbers are for drawing only, and are places or shares between 0 and 1.
//! Nothing here calculates, reads a plan or knows a template; `templates/components/` draws each record.
//! All text is printed letter for letter: a name such as `*x* #panic()` is shown, never evaluated.

use schemars::JsonSchema;
use serde::Serialize;

/// What every page needs beside its own content.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Page {
    /// Title of the plan; printed in the footer, and the title of the PDF.
    pub title: String,
    /// Fingerprint of the checked plan: lower-case hexadecimal digits, six to sixteen of them.
    pub fingerprint_plan: String,
    /// Fingerprint of the log in the same form; `None` where there is no log yet.
    pub fingerprint_log: Option<String>,
    /// Size of the paper.
    pub paper: Paper,
    /// Language of all words, as ISO 639 writes it: `en`.
    pub lang: String,
    /// Region whose spelling the printed words follow.
    pub region: Region,
    /// What singles are wound on until they are plied: "bobbin", or "cop" where a spindle has no bobbins beside it.
    pub holder: String,
}

/// Size of the paper; the names are those of Typst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// 210 mm by 297 mm.
    A4,
    /// 8.5 in by 11 in.
    UsLetter,
}

/// Whose spelling the fixed words of a template follow ("fibre" or "fiber"), as ISO 3166 writes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Region {
    /// United Kingdom.
    GB,
    /// United States.
    US,
}

/// A direction of twist, named after the letter whose middle leans the same way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Slant {
    /// Turned clockwise.
    Z,
    /// Turned anticlockwise.
    S,
}

/// A number as it stands on the paper.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Amount {
    /// The leading number, or a word where a word is meant ("slow"): "3.0", "24", "1 020".
    pub value: String,
    /// Its unit, set small beside it; `None` where there is none.
    pub unit: Option<String>,
    /// The same amount in the other system with its unit, without "=": "21.9 yd".
    pub other: Option<String>,
}

/// Limits: low, target, high, and what to do outside them.
///
/// Low stands left of the left post and high right of the right one, always.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Gate {
    /// Lowest good reading.
    pub low: String,
    /// The reading aimed at.
    pub target: String,
    /// Highest good reading.
    pub high: String,
    /// Unit of all three, printed after the target; `None` where the name of the check tells it.
    pub unit: Option<String>,
    /// Where the target lies between the posts: 0 is the low post, 1 the high one.
    pub target_at: f64,
    /// Scale in steps of the tool, to be dotted with a pencil; empty where none is drawn.
    ///
    /// Include the readings at both posts (`at` of exactly 0 and 1) and up to nine in all; those beyond
    /// the drawing (`at` under -0.85 or over 1.85) are left away.
    pub ticks: Vec<Tick>,
    /// What a reading under `low` means and asks for.
    pub below: Remedy,
    /// What a reading over `high` means and asks for.
    pub above: Remedy,
}

/// One graduation of a scale.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Tick {
    /// Its place: on a gate 0 is the low post and 1 the high one; on a balance 0 is the left end and 1 the right.
    pub at: f64,
    /// The number under it; empty for a bare graduation.
    pub label: String,
    /// The same in the other system, without "="; `None` where it is not printed.
    pub other: Option<String>,
}

/// What to do outside a gate.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Remedy {
    /// What the reading means, in a word: "thin".
    pub word: String,
    /// What to do, in at most four short words: "let in more wool".
    ///
    /// On the sample card at most fourteen letters: "fuller singles".
    pub act: String,
}

/// What may come: low, likely and high, 10, 50 and 90 in a hundred draws.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Spread {
    /// One try in ten is lower.
    pub low: String,
    /// The likely value.
    pub likely: String,
    /// One try in ten is higher.
    pub high: String,
    /// Unit of all three; `None` where there is none.
    pub unit: Option<String>,
    /// Where the likely value lies between low and high, 0 to 1.
    pub likely_at: f64,
}

/// A spread drawn on a scale that it shares with others.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Lens {
    /// The low end as printed.
    pub low: String,
    /// The likely value as printed.
    pub likely: String,
    /// The high end as printed.
    pub high: String,
    /// Unit of all three, printed after the likely value.
    pub unit: String,
    /// Place of the low end on the scale, 0 to 1.
    pub low_at: f64,
    /// Place of the likely value on the scale, 0 to 1.
    pub likely_at: f64,
    /// Place of the high end on the scale, 0 to 1.
    pub high_at: f64,
}

/// A place on the paper to which yarn is tied.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Tie {
    /// What is tied on: "singles", "ply-back, 2".
    pub title: String,
    /// How it is taken, in at most three words: "10 wraps", "fresh, doubled".
    pub how: String,
    /// Length of the tail with its other unit: "tail 15 cm (6 in)".
    pub tail: String,
}

/// What the targets of a sheet rest on.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Basis {
    /// Whether a washed sample was chosen.
    pub is_sampled: bool,
    /// It in words: "limits from sample second of 5 March"; or that they are reckoned, and what to do.
    pub words: String,
}

/// When a yarn is checked: a box to tick and a blank for what was read.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Station {
    /// When, in a word or two: "first 10 m", "¼ bobbin".
    pub name: String,
    /// How full the bobbin then looks; `None` where nothing tells it.
    pub filled: Option<Filled>,
}

/// A bobbin on its way to full; for drawing.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Filled {
    /// Width of the yarn on it as a share of the width of its rims, 0 to 1.
    pub width: f64,
}

/// A warning: what is wrong, and what to do about it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Warning {
    /// The cause as one short sentence with its full stop.
    pub cause: String,
    /// What to do, one or two sentences.
    pub remedy: String,
}

/// A number set for the wheel, printed over a blank for the one that was used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Setting {
    /// What is set: "whorl", "length per treadle", "brake".
    pub name: String,
    /// To what; long words are set smaller.
    pub amount: Amount,
    /// A second line, not a conversion: "6.2 : 1, measured"; `None` where there is none.
    pub note: Option<String>,
    /// Unit printed in the blank; `None` where the number has none.
    pub tray_unit: Option<String>,
}

/// A colour of the plan: always a name, a mark and a tint.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Colour {
    /// Its name in the plan.
    pub name: String,
    /// Its tint as `#rrggbb`; `None` where the plan gives none, and the mark stands on white.
    pub tint: Option<String>,
    /// The mark that stands for it where the print is grey.
    pub mark: Mark,
}

/// The marks of the colours in the order of their use; none of them slants, for slant is twist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// A filled disc.
    Dot,
    /// An upright bar.
    Upright,
    /// An open circle.
    Ring,
    /// A level bar.
    Dash,
    /// A filled square.
    Block,
    /// A cross of an upright and a level bar.
    Plus,
    /// An open square.
    Frame,
    /// Two level bars.
    TwinDash,
    /// A disc in a circle.
    Eye,
    /// Two upright bars.
    TwinUpright,
    /// A bar on an upright.
    Tee,
    /// Two small discs side by side.
    Beads,
}

/// How well founded a number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// A definition or a law.
    Standard,
    /// Printed in a source that is named.
    Published,
    /// Common in the trade, without a source.
    CommonPractice,
    /// Remembered, not looked up.
    FromMemory,
    /// Chosen by this program.
    OurChoice,
    /// Written in the plan.
    YourEntry,
    /// Read from the log or marked as measured in the plan.
    Measured,
}
