//! What it is spun and plied on.

use super::Reading;
use crate::diagnostics::Place;
use crate::units::{Count, Length, Mass, Ratio, Share, Speed};

/// What the singles are spun on, and how.
#[derive(Debug, Clone, Hash)]
pub struct Wheel {
    /// What turns.
    pub machine: Machine,
    /// How it is drafted.
    pub draw: Draw,
    /// Yarn let in at each treadle (short draws): a wish or the default. The nearest whorl is chosen by it.
    pub length_per_treadle: Reading<Length>,
    /// Yarn drawn out before it is let in (long draw, electric wheel, spindle): entry or default.
    pub draft: Reading<Length>,
    /// What a bobbin holds of singles, or a spindle: entry or default.
    pub bobbin_holds: Reading<Mass>,
    /// Bobbins owned.
    pub bobbins_owned: Option<Reading<Count>>,
    /// Storage bobbins that singles are rewound onto.
    pub storage_bobbins: Option<Reading<Count>>,
}

/// A wheel or a spindle as it puts twist in, whether for spinning or for plying.
#[derive(Debug, Clone, Hash)]
pub struct Machine {
    /// What turns it.
    pub drive: Drive,
    /// What the drive band turns; of a spindle, which winds on by hand and loses no turn, the flyer.
    pub lead: Lead,
    /// The bobbin that a driven bobbin is wound onto; none where the flyer is driven, which loses no turn.
    pub core: Option<Core>,
    /// How the brake is set.
    pub brake: Option<String>,
}

/// What turns a wheel or a spindle.
#[derive(Debug, Clone, Hash)]
pub enum Drive {
    /// The feet.
    Treadle {
        /// Whorls, in order of writing; at least one.
        whorls: Vec<Whorl>,
        /// What corrects a ratio that the maker states, where the plan says it.
        groove: Option<Box<Groove>>,
    },
    /// A motor.
    Electric {
        /// Turns of the flyer, counted while nothing winds on.
        flyer_speed: Reading<Speed>,
    },
    /// The hand: turns are counted.
    Spindle,
}

/// What a ratio that is stated by the diameters of two grooves leaves out.
#[derive(Debug, Clone, Hash)]
pub struct Groove {
    /// Diameter of the groove of the drive wheel.
    pub drive_wheel: Reading<Length>,
    /// Thickness of the band, which rides in both grooves.
    pub band: Reading<Length>,
    /// Share of its turns that the flyer falls behind: entry or default.
    pub slip: Reading<Share>,
}

/// Diameters of a driven bobbin: entries or defaults.
#[derive(Debug, Clone, Hash)]
pub struct Core {
    /// Of the empty bobbin.
    pub empty: Reading<Length>,
    /// Of the yarn on the full one; above the empty one.
    pub full: Reading<Length>,
}

/// What the drive band turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lead {
    /// The flyer, while the bobbin is braked.
    Flyer,
    /// The bobbin, while the flyer is braked: it loses a turn at each wrap.
    Bobbin,
    /// Both, each by its own groove.
    DoubleDrive,
}

impl Lead {
    /// The words of the plan.
    pub fn words(self) -> &'static str {
        match self {
            Self::Flyer => "flyer",
            Self::Bobbin => "bobbin",
            Self::DoubleDrive => "double drive",
        }
    }
}

impl Machine {
    /// The whorls, of which there are none but where the feet turn it.
    pub fn whorls(&self) -> &[Whorl] {
        match &self.drive {
            Drive::Treadle { whorls, .. } => whorls,
            Drive::Electric { .. } | Drive::Spindle => &[],
        }
    }

    /// Whether the twist is set by the yarn let in at each treadle, instead of by counting over a length.
    pub fn lets_in_each_treadle(&self, draw: Draw) -> bool {
        matches!(self.drive, Drive::Treadle { .. }) && !draw.counts_treadles()
    }
}

/// A whorl.
#[derive(Debug, Clone, Hash)]
pub struct Whorl {
    /// Its name.
    pub name: String,
    /// Its ratio; [`super::Origin::Measured`] where the plan says so.
    pub ratio: Reading<Ratio>,
}

/// How yarn is drafted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Draw {
    /// Short forward draw.
    ShortForward,
    /// Long draw.
    LongDraw,
    /// From the fold.
    FromTheFold,
}

impl Draw {
    /// The words of the plan.
    pub fn words(self) -> &'static str {
        match self {
            Self::ShortForward => "short forward",
            Self::LongDraw => "long draw",
            Self::FromTheFold => "from the fold",
        }
    }

    /// Whether treadles are counted for each draft, instead of yarn measured for each treadle.
    pub fn counts_treadles(self) -> bool {
        self == Self::LongDraw
    }
}

/// How the singles are plied.
#[derive(Debug, Clone, Hash)]
pub struct Plying {
    /// What they are plied on, where it is not the wheel just as it spins.
    pub machine: Option<Machine>,
    /// Index of its whorl, the slowest where nothing is said; none where it has no whorls, or where the wish for a length at
    /// each treadle is left to choose one.
    pub whorl: Option<usize>,
    /// Whether the plan names that whorl.
    pub whorl_given: bool,
    /// Yarn let in at a time: entry or default.
    pub arm: Reading<Length>,
    /// What a bobbin holds of plied yarn: entry, or what it holds of singles, or default.
    pub bobbin_holds: Reading<Mass>,
    /// Yarn let in at each treadle, where the plan wishes it; it is then plied so, and not by the arm.
    pub length_per_treadle: Option<Reading<Length>>,
    /// Whether all singles are spun before any are plied, with its place; as the bobbins allow where nothing is said.
    pub order: Option<(Order, Place)>,
    /// What decides how much is spun onto a bobbin.
    pub fill: Fill,
}

/// Whether all singles are spun before any are plied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Order {
    /// All singles first.
    AllFirst,
    /// One set of bobbins after the other.
    SetBySet,
}

/// What decides how much is spun onto a bobbin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fill {
    /// So much that a set gives one skein, which fits on the plying bobbin.
    SkeinForEachSet,
    /// As much as a bobbin holds; a set may give several skeins.
    WholeBobbins,
}
