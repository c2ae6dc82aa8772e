//! Colours: from the dye job of a braid to the yarn and the fabric.
//!
//! Strips become the lanes of the plies ([`yarn`], [`lane`]); plies lose step ([`step`]); yarn goes into rows ([`formula`]); what lies
//! side by side is seen as a mixture ([`tint`]); and what the plan wishes is searched for among all that could be done with the
//! same braids ([`arrange`]). What has a formula is entered before the draws (`entered`), what is laid out, drawn or searched
//! for after them ([`found`], `counted`); each of those figures says by what method, over which seeds and from which figures it was found.

pub mod arrange;
mod counted;
mod entered;
pub mod formula;
mod found;
pub mod lane;
mod quiet;
pub mod step;
pub mod tint;
mod ways;
pub mod yarn;

pub use counted::{look_words, remedy_words};
pub use entered::{WorkedPiece, enter};
pub use found::{PIECES, found};
pub use ways::{Cloth, LostStep, Moment, Searched, Shade, Way};

use lane::Tone;
use tint::Tint;

/// What the colours of a plan do.
#[derive(Debug, Clone, PartialEq)]
pub struct Colouring {
    /// One for each ply plan that has colours and yields anything, in the plan's order.
    pub yarns: Vec<Coloured>,
}

/// What the colours of one ply plan do.
#[derive(Debug, Clone, PartialEq)]
pub struct Coloured {
    /// Index into [`crate::plan::Plan::ply_plans`].
    pub ply_plan: usize,
    /// What runs show, by index.
    pub tones: Vec<Tone>,
    /// What the eye makes of each tone by itself; `None` where one of its colours has no tint.
    pub tints: Vec<Option<Tint>>,
    /// What lies side by side somewhere in the yarn or the fabric of some way, each once.
    pub shades: Vec<Shade>,
    /// Metres of yarn in each set.
    pub sets: Vec<f64>,
    /// How many sets are drawn from the beginning: one where all are alike, else all of them.
    pub n_drawn: usize,
    /// The plan's own arrangement, and then up to three that meet its wish better, the best first.
    pub ways: Vec<Way>,
    /// What was compared; `None` where nothing is wished or nothing can be changed.
    pub searched: Option<Searched>,
    /// Why nothing was compared, where something is wished all the same.
    pub not_searched: Option<&'static str>,
    /// How the plies of the best way lose step; `None` of a yarn of one ply.
    pub lost: Option<LostStep>,
    /// Pieces that are worked from this yarn.
    pub pieces: Vec<WorkedPiece>,
}
