//! The yarn that is aimed at, and the ways of putting its singles together.

use std::hash::{Hash, Hasher};

use super::Reading;
use crate::diagnostics::Place;
use crate::units::{Angle, Count, LinearDensity, Share, Twist, Wraps};

/// The yarn that is aimed at. At least one of wraps and linear density is given, or a chosen sample measures them.
#[derive(Debug, Clone, Hash)]
pub struct Yarn {
    /// Singles plied together, 1 to 8 (2 to 8 until singles yarns are supported); exact.
    pub plies: Reading<Count>,
    /// Twist of the singles.
    pub singles_twist: Direction,
    /// Wraps of the washed yarn; exact unless it says ±.
    pub wraps: Option<Reading<Wraps>>,
    /// Linear density of the washed yarn, whatever unit the grist is written in.
    pub grist: Option<Reading<LinearDensity>>,
    /// Twist of the washed yarn.
    pub ply_twist: Option<Reading<Twist>>,
    /// Angle of the plies; given, or the default where neither twist nor angle is.
    pub angle: Option<Reading<Angle>>,
    /// Length lost in plying.
    pub plying_shortens: Reading<Share>,
    /// Length lost in the wash.
    pub wash_shortens: Reading<Share>,
    /// Length gained under tension.
    pub winding_stretch: Reading<Share>,
    /// Weight lost in the wash.
    pub wash_lightens: Reading<Share>,
    /// Fibre lost, as a share of what stays in the yarn.
    pub waste: Reading<Share>,
}

/// Direction of twist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Direction {
    /// Slope of the middle of the letter S.
    S,
    /// Slope of the middle of the letter Z.
    Z,
}

impl Direction {
    /// The letter.
    pub fn letter(self) -> &'static str {
        match self {
            Self::S => "S",
            Self::Z => "Z",
        }
    }

    /// The other direction.
    #[must_use]
    pub fn against(self) -> Self {
        match self {
            Self::S => Self::Z,
            Self::Z => Self::S,
        }
    }

    /// Which way the wheel turns, seen from the spinner's side (common practice).
    pub fn turns(self) -> &'static str {
        match self {
            Self::S => "anticlockwise",
            Self::Z => "clockwise",
        }
    }
}

/// A way of putting singles together.
#[derive(Debug, Clone)]
pub struct PlyPlan {
    /// Its name; the default plan is called by the title of the yarn, "the yarn".
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Share of the finished length, all of them adding up to one.
    pub share: f64,
    /// The plies: as many as [`Yarn::plies`].
    pub plies: Vec<Ply>,
}

impl Hash for PlyPlan {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.name, self.share.to_bits(), &self.plies).hash(state);
    }
}

/// One ply.
#[derive(Debug, Clone, Hash)]
pub struct Ply {
    /// Index into [`super::Plan::supplies`].
    pub supply: usize,
    /// Strips each braid's part is torn into; as many as there are sets where nothing is said.
    pub strips: Option<u32>,
    /// From which end it is spun.
    pub from: End,
    /// What this ply takes of the supply's part in this ply plan; parts of one supply add up to at most one.
    pub part: Option<Part>,
}

/// A vulgar fraction or percentage, as a share with the words it was written in.
#[derive(Debug, Clone)]
pub struct Part {
    /// The share, above zero and at most one.
    pub share: f64,
    /// As written.
    pub text: String,
}

impl Hash for Part {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.share.to_bits().hash(state);
    }
}

/// Which end of a strip goes to the orifice first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum End {
    /// The end at which the sections begin.
    Start,
    /// The other one.
    Other,
}
