//! What the yarn is for.

use super::{Direction, Reading};
use crate::diagnostics::Place;
use crate::units::{Area, Count, Length, Mass, Rows, Stitches};

/// What the yarn is for.
#[derive(Debug, Clone, Hash)]
pub struct Garment {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// How it is made.
    pub craft: Craft,
    /// Which hand holds the hook, in crochet; `None` in other crafts.
    pub hand: Option<Hand>,
    /// What the yarn is in the cloth, in weaving; `None` in other crafts.
    pub used_as: Option<UsedAs>,
    /// Stitch, as written.
    pub stitch: Option<String>,
    /// Needles or hook, as written.
    pub tool: Option<String>,
    /// Gauge after washing.
    pub gauge: Option<Gauge>,
    /// How its yarn is reckoned.
    pub need: Need,
    /// Its pieces in the order in which they are worked; may be none.
    pub pieces: Vec<Piece>,
}

/// A piece of a garment.
#[derive(Debug, Clone, Hash)]
pub struct Piece {
    /// Its name in the plan.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Width of a row, or once around.
    pub width: Reading<Length>,
    /// How far it grows.
    pub height: Height,
    /// Whether its rows are rounds.
    pub in_the_round: bool,
    /// How many of it are worked one after the other; exact.
    pub count: Reading<Count>,
    /// Index of the ply plan whose yarn it is worked from; `None` where it takes what comes next.
    pub ply_plan: Option<usize>,
}

/// How far a piece grows.
#[derive(Debug, Clone, Hash)]
pub enum Height {
    /// By its length.
    Length(Reading<Length>),
    /// By its rows; exact.
    Rows(Reading<Count>),
}

/// How a garment is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Craft {
    /// Knitting.
    Knit,
    /// Crochet.
    Crochet,
    /// Weaving.
    Weave,
}

/// The hand that holds the hook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hand {
    /// The right hand.
    Right,
    /// The left hand.
    Left,
}

impl Hand {
    /// The twist of a plied yarn that each stitch of this hand takes a little out of: the yarn goes round the hook one way,
    /// and the other way in the other hand (common practice, no source).
    pub fn untwists(self) -> Direction {
        match self {
            Self::Right => Direction::S,
            Self::Left => Direction::Z,
        }
    }
}

/// What a yarn is in a cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UsedAs {
    /// The threads under tension on the loom.
    Warp,
    /// The threads woven in.
    Weft,
    /// Both.
    Both,
}

impl UsedAs {
    /// Whether the yarn stands under tension on the loom.
    pub fn is_warp(self) -> bool {
        self != Self::Weft
    }
}

/// A gauge.
#[derive(Debug, Clone, Hash)]
pub struct Gauge {
    /// Stitches per length.
    pub stitches: Reading<Stitches>,
    /// Rows per length; a default where only stitches are given.
    pub rows: Reading<Rows>,
    /// As written.
    pub text: String,
}

/// Ways to the length of yarn in a garment, best first.
#[derive(Debug, Clone, Hash)]
pub enum Need {
    /// From a measured swatch, by area: size of the swatch and its weight or length.
    Swatch {
        /// Area of the garment.
        area: Reading<Area>,
        /// Area of the swatch.
        size: Reading<Area>,
        /// What was measured of it.
        yarn: SwatchYarn,
    },
    /// From area and gauge, in stocking or garter stitch.
    Gauge {
        /// Area of the garment.
        area: Reading<Area>,
        /// Stitches and rows.
        gauge: Gauge,
        /// The stitch, whose loop constant is known.
        stitch: Stitch,
    },
    /// As a pattern states it.
    Length(Reading<Length>),
}

/// What was measured of a swatch.
#[derive(Debug, Clone, Hash)]
pub enum SwatchYarn {
    /// Its weight.
    Weight(Reading<Mass>),
    /// The length of yarn in it.
    Length(Reading<Length>),
}

/// Stitches whose yarn per area is known from the gauge alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stitch {
    /// Stocking stitch (US: stockinette).
    Stocking,
    /// Garter stitch.
    Garter,
}

impl Garment {
    /// The gauge it is worked at, wherever it stands.
    pub fn asked_gauge(&self) -> Option<&Gauge> {
        match &self.need {
            Need::Gauge { gauge, .. } => Some(gauge),
            Need::Swatch { .. } | Need::Length(_) => self.gauge.as_ref(),
        }
    }
}
