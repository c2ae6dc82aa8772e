//! What it is spun and plied on.

use super::Reading;
use crate::diagnostics::Place;
use crate::units::{Count, Length, Mass, Ratio};

/// The wheel.
#[derive(Debug, Clone, Hash)]
pub struct Wheel {
    /// Whorls, in order of writing; at least one.
    pub whorls: Vec<Whorl>,
    /// How it is drafted.
    pub draw: Draw,
    /// Yarn let in at each treadle (short draws): a wish or the default. The nearest whorl is chosen by it.
    pub length_per_treadle: Reading<Length>,
    /// Yarn drawn out before it is let in (long draw): entry or default.
    pub draft: Reading<Length>,
    /// What is driven, in the words of the plan.
    pub lead: Option<&'static str>,
    /// How the brake is set.
    pub brake: Option<String>,
    /// What a bobbin holds of singles: entry or default.
    pub bobbin_holds: Reading<Mass>,
    /// Bobbins owned.
    pub bobbins_owned: Option<Reading<Count>>,
    /// Storage bobbins that singles are rewound onto.
    pub storage_bobbins: Option<Reading<Count>>,
    /// Diameter of the empty bobbin.
    pub bobbin_core: Option<Reading<Length>>,
}

/// A whorl.
#[derive(Debug, Clone, Hash)]
pub struct Whorl {
    /// Its name.
    pub name: String,
    /// Its ratio; [`Origin::Measured`] where the plan says so.
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
    /// Index into [`Wheel::whorls`]; the slowest where nothing is said.
    pub whorl: usize,
    /// Whether the plan names that whorl.
    pub whorl_given: bool,
    /// Yarn let in at a time: entry or default.
    pub arm: Reading<Length>,
    /// What a bobbin holds of plied yarn: entry, or what it holds of singles, or default.
    pub bobbin_holds: Reading<Mass>,
    /// Yarn let in at each treadle, where the plan wishes it.
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
