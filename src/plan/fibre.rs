//! What is spun: fibres, colours and the braids or lots they come in.

use std::hash::{Hash, Hasher};

use super::{Date, Reading, dye};
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
    /// How its colours follow one another, where the plan says it.
    pub repeat: Option<Repeat>,
    /// Its colours from one end of a whole braid to the other. Empty where none are given.
    pub sections: Vec<Section>,
    /// Which piece of each braid it is, where they are cut across.
    pub cut: Option<Cut>,
    /// What is set aside for sampling.
    pub for_sampling: Sampling,
    /// What to quote when buying again.
    pub dye_lot: Option<String>,
    /// Day it was bought.
    pub bought: Option<Date>,
    /// Price of one braid, as written.
    pub price: Option<String>,
}

/// How colours follow one another along a braid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Repeat {
    /// One after the other, as written.
    InOrder,
    /// To the middle and back again.
    Mirrored,
    /// Each running gently into the next.
    Gradient,
    /// In no order that could be written down.
    Random,
}

impl Repeat {
    /// The words of the plan.
    pub fn words(self) -> &'static str {
        match self {
            Self::InOrder => "in order",
            Self::Mirrored => "mirrored",
            Self::Gradient => "gradient",
            Self::Random => "random",
        }
    }
}

/// One coloured section of a braid.
#[derive(Debug, Clone, Hash)]
pub struct Section {
    /// Index into [`super::Plan::colours`].
    pub colour: usize,
    /// How much of the braid it covers.
    pub extent: Extent,
}

/// How much of a braid a section covers; all sections of a braid say it in one way.
#[derive(Debug, Clone, Hash)]
pub enum Extent {
    /// By a tape along the braid.
    Length(Reading<Length>),
    /// As a share of the whole.
    Share(Reading<Share>),
}

impl Extent {
    /// Its size among those of its braid: metres or shares, as they are written.
    pub fn value(&self) -> f64 {
        match self {
            Self::Length(length) => length.value,
            Self::Share(share) => share.value,
        }
    }

    /// As written.
    pub fn text(&self) -> &str {
        match self {
            Self::Length(length) => &length.text,
            Self::Share(share) => &share.text,
        }
    }

    /// Where it stands.
    pub fn place(&self) -> &Place {
        match self {
            Self::Length(length) => &length.place,
            Self::Share(share) => &share.place,
        }
    }
}

/// One of the pieces, equal in weight, that each braid is cut across into before it is torn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Cut {
    /// Which, from 0 at the end where the sections begin.
    pub piece: usize,
    /// Of how many.
    pub of: usize,
}

impl Supply {
    /// The name below which figures of this piece of its braids stand: that of the braid, where they are not cut across.
    pub fn stage(&self) -> String {
        match self.cut {
            None => self.place.path.clone(),
            Some(Cut { piece, of }) => format!("{}.{}-of-{of}", self.place.path, piece + 1),
        }
    }

    /// What it is called in formulas: "north", "north, piece 1 of 2".
    pub fn noun(&self) -> String {
        match self.cut {
            None => self.name.clone(),
            Some(Cut { piece, of }) => format!("{}, piece {} of {of}", self.name, piece + 1),
        }
    }

    /// Whether it stands for its braids where they are counted or bought: of several pieces the first one.
    pub fn is_first_piece(&self) -> bool {
        self.cut.is_none_or(|cut| cut.piece == 0)
    }

    /// What it is of the weight of its braids.
    pub fn share_of_braid(&self) -> f64 {
        self.cut.map_or(1.0, |cut| 1.0 / cut.of as f64)
    }

    /// Colours with their shares of this piece, from its first end to its other end; the shares add up to one. Empty without
    /// colours.
    pub fn bands(&self) -> Vec<(usize, f64)> {
        let whole: f64 = self.sections.iter().map(|section| section.extent.value()).sum();
        let Cut { piece, of } = self.cut.unwrap_or(Cut { piece: 0, of: 1 });
        let (from, to) = (whole * piece as f64 / of as f64, whole * (piece + 1) as f64 / of as f64);
        let mut at = 0.0;
        let mut bands = Vec::new();
        for section in &self.sections {
            let end = at + section.extent.value();
            let inside = end.min(to) - f64::max(at, from);
            // What rounding leaves beyond the cut is no band.
            if inside > 1e-9 * whole {
                bands.push((section.colour, inside / (to - from)));
            }
            at = end;
        }
        bands
    }

    /// The same for reading how it is dyed.
    pub fn dyed(&self) -> Vec<dye::Section> {
        self.bands().into_iter().map(|(colour, share)| dye::Section { colour, share }).collect()
    }

    /// Whether it reads alike from both ends, so that it is no matter which of them goes first.
    pub fn is_mirrored(&self) -> bool {
        dye::read(&self.dyed()).is_mirrored
    }

    /// How the whole braid is dyed, where this is a piece of it.
    pub fn dyed_whole(&self) -> Vec<dye::Section> {
        let sections = self.sections.iter();
        sections.map(|section| dye::Section { colour: section.colour, share: section.extent.value() }).collect()
    }

    /// What is set aside of each braid, in the order of the braids; a weight comes off the last ones first.
    pub fn set_aside(&self) -> Vec<f64> {
        let mut off = vec![0.0; self.weights.len()];
        match &self.for_sampling {
            Sampling::None => {}
            Sampling::Braid(braid) => off[*braid] = self.weights[*braid].value,
            Sampling::Weight(aside) => {
                let mut aside = aside.value;
                for (off, weight) in off.iter_mut().zip(&self.weights).rev() {
                    *off = aside.min(weight.value);
                    aside -= *off;
                }
            }
        }
        off
    }

    /// Whether it matters which end goes first.
    pub fn has_order(&self) -> bool {
        self.sections.len() > 1 && self.repeat != Some(Repeat::Random)
    }
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
