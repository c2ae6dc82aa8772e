//! The wash card: the bath, in type to be read at arm's length with wet hands, and every skein that goes through it.
//!
//! Records for `templates/sheets/wash-card.typ`; see [`marks`](super::marks) for what text and numbers may be.

use schemars::JsonSchema;
use serde::Serialize;

use super::marks::{Amount, Colour, Page};

/// The sheet: one page where the skeins are few; a long list of them continues on the next.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WashCard {
    /// What every page needs.
    pub page: Page,
    /// How warm: 45 °C with 113 °F beside it.
    pub temperature: BathStep,
    /// How long: 20 min.
    pub time: BathStep,
    /// How much the wool is moved; a word or two as the amount: "none", "a little", "fulled".
    pub agitation: BathStep,
    /// How it dries; words as the amount: "hung, no weight". Up to thirty letters stay very large; longer ones shrink.
    pub drying: BathStep,
    /// Colours to test for bleeding; empty where no braid has any, and one box stands for all of the yarn.
    pub colours: Vec<Colour>,
    /// Unit of the blanks for a loop, before and after the wash: "cm", "in".
    pub loop_unit: String,
    /// Unit of the blanks for dry weights: "g", "oz".
    pub weight_unit: String,
    /// The skeins in their order; never empty.
    pub skeins: Vec<WashSkein>,
    /// The usual caution in one line, of up to a hundred and ten letters.
    pub caution: String,
}

/// One thing that is the same for every skein.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct BathStep {
    /// What the plan says, a number or words; `None` where it says nothing, and the blank alone stands there.
    pub amount: Option<Amount>,
    /// What to do for it, in a few words: "lower in, press under, do not swirl"; `None` where it is plain.
    pub how: Option<String>,
    /// Unit printed in the blank; `None` where it takes words.
    pub tray_unit: Option<String>,
}

/// One skein in the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WashSkein {
    /// Its number through the whole plan: "1".
    pub number: String,
    /// What it was plied from, in a few words: "body, set 1"; `None` where the number tells all.
    pub from: Option<String>,
    /// Likely weight when washed and dry.
    pub weight: Amount,
}
