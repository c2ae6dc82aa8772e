//! What is spun: fibres, colours and the braids or lots they come in.

use std::hash::{Hash, Hasher};

use super::{Date, Reading};
use crate::diagnostics::Place;
use crate::units::{FibreDiameter, Length, Mass, Standing};

/// One fibre.
#[derive(Debug, Clone, Hash)]
pub struct Fibre {
    /// Its name in the plan.
    pub name: String,
    /// What it is made of; one of the kinds whose density is known.
    pub kind: &'static FibreKind,
    /// Mean fibre diameter, from the micron or the grade.
    pub fineness: Option<Reading<FibreDiameter>>,
    /// Length of the fibres.
    pub staple: Option<Reading<Length>>,
    /// How it was prepared, in the words of the plan.
    pub preparation: Option<&'static str>,
    /// Treated against felting.
    pub superwash: bool,
}

/// A kind of fibre, a row of the table of fibre densities.
#[derive(Debug, PartialEq)]
pub struct FibreKind {
    /// As written in a plan: `wool`.
    pub name: &'static str,
    /// Density at 65 % relative humidity, g/cm³.
    pub density: f64,
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
