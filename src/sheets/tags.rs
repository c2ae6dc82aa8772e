//! Tags to cut out and tie on: to the bags of torn strips, to the bobbins, and to the skeins.
//!
//! Sixteen to a page, a quarter of an index card each, in the order of the work. No tag has the fingerprint: the footer does.
//! Records for `templates/sheets/tags.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::bobbin_checklist::Strip;
use super::marks::{Amount, Colour, Page, Slant};
use super::wheel_card::Act;

/// The sheet: three families of tags, one after the other; one of them at least is not empty.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Tags {
    /// What every page needs.
    pub page: Page,
    /// Colours named by the strips; empty where no braid has any.
    pub colours: Vec<Colour>,
    /// Unit of the weights of strips: "g", "oz".
    pub unit: String,
    /// For tearing strips, braid by braid; empty where nothing is divided.
    pub bags: Vec<BagTag>,
    /// For the bobbins, in the order of spinning; those of a first plying follow where the yarn is cabled.
    pub bobbins: Vec<BobbinTag>,
    /// For the skeins.
    pub skeins: Vec<SkeinTag>,
}

/// The tag of one strip or portion in its bag.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BagTag {
    /// Which piece of how many: "strip 2 of 3", "portion 2 of 4".
    pub piece: String,
    /// The bobbin it belongs to: "7".
    pub bobbin: String,
    /// Which end goes first, in words that hold for one strip; `None` for fibre without an order of colours.
    pub start: Option<usize>,
    /// The strip as the checklist draws it: its braid, its colours, and the end that carries the black tag.
    ///
    /// Its weight is printed beside the blank.
    pub strip: Strip,
}

/// The tag of one bobbin.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BobbinTag {
    /// Its number, counted through the whole plan: "7".
    pub number: String,
    /// What is done on to it: spun, or plied for the first time where the yarn is cabled.
    pub act: Act,
    /// In which direction.
    pub twist: Slant,
    /// How many singles the drawn yarn has: 1 for a bobbin of singles.
    pub plies: u8,
    /// The ply plan, where there are several with names: "body".
    pub plan: Option<String>,
    /// Its set: "set 1".
    pub set: String,
    /// Which ply it becomes: "ply 2".
    pub ply: String,
    /// Weight it should gain; a tag is too small for its other system.
    pub weight: Amount,
}

/// The tag of one skein.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SkeinTag {
    /// Its number through the whole plan: "1".
    pub number: String,
    /// What was done last: spun, where the singles are the yarn, else plied.
    pub act: Act,
    /// In which direction.
    pub twist: Slant,
    /// How many singles the drawn yarn has.
    pub plies: u8,
    /// The ply plan, where there are several with names: "body".
    pub plan: Option<String>,
    /// Its set: "set 1"; `None` where the number tells all.
    pub set: Option<String>,
    /// Likely length after the wash; a tag is too small for its other system.
    pub length: Amount,
    /// Likely weight after the wash, in the same way.
    pub weight: Amount,
}
