//! What is spun: fibres, colours and the braids or lots they come in.

use std::hash::{Hash, Hasher};

use super::{Date, Reading};
use crate::diagnostics::Place;
use crate::units::format::percent;
use crate::units::{FibreDiameter, Length, Mass, Share, Standing};

/// One fibre.
#[derive(Debug, Clone, Hash)]
pub struct Fibre {
    /// Its name in the plan.
    pub name: String,
    /// What it is made of, each kind with its share of the weight, in order of writing: one kind, or a blend of several.
    /// Exact shares that add up to one, but for what is lost in writing thirds.
    pub content: Vec<(&'static FibreKind, Reading<Share>)>,
    /// Mean fibre diameter, from the micron or the grade.
    pub fineness: Option<Reading<FibreDiameter>>,
    /// Length of the fibres.
    pub staple: Option<Reading<Length>>,
    /// How it was prepared, in the words of the plan.
    pub preparation: Option<&'static str>,
    /// Treated against felting.
    pub superwash: bool,
}

impl Fibre {
    /// What it is made of: "wool", or "wool 80 %, silk 20 %".
    pub fn words(&self) -> String {
        match self.content.as_slice() {
            [(kind, _)] => kind.name.to_owned(),
            several => {
                let part = |(kind, share): &(&FibreKind, Reading<Share>)| {
                    format!("{} {}", kind.name, percent(share.value, places(share.value)))
                };
                several.iter().map(part).collect::<Vec<_>>().join(", ")
            }
        }
    }

    /// Whether it is a blend of several kinds.
    pub fn is_blend(&self) -> bool {
        self.content.len() > 1
    }

    /// Whether it is wool and nothing else.
    pub fn is_wool(&self) -> bool {
        self.content.iter().all(|(kind, _)| kind.name == "wool")
    }

    /// Whether some of it is wool or hair, which felt.
    pub fn holds_wool_or_hair(&self) -> bool {
        self.content.iter().any(|(kind, _)| kind.felts)
    }

    /// Whether half of it and more is wool or hair.
    pub fn is_mostly_wool_or_hair(&self) -> bool {
        self.content.iter().filter(|(kind, _)| kind.felts).map(|(_, share)| share.value).sum::<f64>() >= 0.5
    }

    /// Whether it is wool or hair and nothing else.
    pub fn is_wool_or_hair(&self) -> bool {
        self.content.iter().all(|(kind, _)| kind.felts)
    }

    /// Whether it felts: some of it is wool or hair, and that was not treated against it.
    pub fn felts(&self) -> bool {
        !self.superwash && self.holds_wool_or_hair()
    }
}

/// Decimal places of a share as it is printed: none, or one where the share is not in whole hundredths.
fn places(share: f64) -> u32 {
    u32::from(((share * 100.0).round() - share * 100.0).abs() > 0.01)
}

/// A kind of fibre, a row of the table of fibre densities.
#[derive(Debug, PartialEq)]
pub struct FibreKind {
    /// As written in a plan: `wool`.
    pub name: &'static str,
    /// Density at 65 % relative humidity, g/cm³.
    pub density: f64,
    /// Whether it felts: the scales of wool and hair catch one another (common practice, no source).
    pub felts: bool,
    /// Standing of that number.
    pub standing: Standing,
    /// Source of that number.
    pub source: &'static str,
}

impl Hash for FibreKind {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name.hash(state);
    }
}

/// A named colour.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Colour {
    /// Its name.
    pub name: String,
    /// Its tint for drawing, lower case `#rrggbb`.
    pub hex: Option<String>,
}

/// Something to spin: a dye lot of braids, or loose fibre.
#[derive(Debug, Clone, Hash)]
pub struct Supply {
    /// Name of the braid, or of the fibre where it is loose.
    pub name: String,
    /// Where it stands: `braid.north` or `fibre.corriedale`.
    pub place: Place,
    /// Whether it comes in braids (numbered on the sheets) or loose.
    pub in_braids: bool,
    /// Index into [`super::Plan::fibres`].
    pub fibre: usize,
    /// Weight of each braid; one weight for loose fibre. At least one. Braids that are counted and not weighed one by
    /// one share one reading and its place: what it is off by, all of them are.
    pub weights: Vec<Reading<Mass>>,
    /// Length of one braid, laid out.
    pub length: Option<Reading<Length>>,
    /// How its colours follow one another, in the words of the plan.
    pub repeat: Option<&'static str>,
    /// Its colours from one end to the other: index into [`super::Plan::colours`] and length. Empty where none are given.
    pub sections: Vec<(usize, Reading<Length>)>,
    /// What is set aside for sampling.
    pub for_sampling: Sampling,
    /// What to quote when buying again.
    pub dye_lot: Option<String>,
    /// Day it was bought.
    pub bought: Option<Date>,
    /// Price of one braid, as written.
    pub price: Option<String>,
}

/// What of a supply is set aside.
#[derive(Debug, Clone, Hash)]
pub enum Sampling {
    /// Nothing is said.
    None,
    /// So much, taken off the last braid (and the ones before it).
    Weight(Reading<Mass>),
    /// One braid, by its index from 0.
    Braid(usize),
}
