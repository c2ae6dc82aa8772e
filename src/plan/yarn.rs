//! The yarn that is aimed at, and the ways of putting its singles together.

use std::hash::{Hash, Hasher};

use super::Reading;
use crate::diagnostics::Place;
use crate::units::{Angle, Count, Length, LinearDensity, Mass, Share, Twist, Wraps};

/// The yarn that is aimed at. At least one of wraps and linear density is given, or a chosen sample measures them.
#[derive(Debug, Clone, Hash)]
pub struct Yarn {
    /// Strands side by side after the first plying, 1 to 8; exact. One for a yarn of singles.
    pub plies: Reading<Count>,
    /// How the singles become the yarn.
    pub construction: Construction,
    /// Twist of the singles, where a ply says no other.
    pub singles_twist: Direction,
    /// Twist of the first plying; of a yarn of singles that of the singles.
    pub plied_twist: Direction,
    /// Wraps of the washed yarn; exact unless it says ±.
    pub wraps: Option<Reading<Wraps>>,
    /// Linear density of the washed yarn, whatever unit the grist is written in.
    pub grist: Option<Reading<LinearDensity>>,
    /// Twist of the washed yarn; of a cabled yarn the balanced twist of its strands.
    pub ply_twist: Option<Reading<Twist>>,
    /// Twist of a washed cabled yarn.
    pub cable_twist: Option<Reading<Twist>>,
    /// Angle of the last twist; given, or the default where neither twist nor angle is.
    pub angle: Option<Reading<Angle>>,
    /// Angle of the plies in the strands of a cabled yarn, where no twist is given: a default.
    pub strand_angle: Option<Reading<Angle>>,
    /// Length lost in plying.
    pub plying_shortens: Reading<Share>,
    /// Length that strands lose in cabling.
    pub cabling_shortens: Reading<Share>,
    /// Length lost in the wash.
    pub wash_shortens: Reading<Share>,
    /// Length gained under tension.
    pub winding_stretch: Reading<Share>,
    /// Weight lost in the wash.
    pub wash_lightens: Reading<Share>,
    /// Fibre lost, as a share of what stays in the yarn.
    pub waste: Reading<Share>,
    /// A yarn in hand that is to be matched; it stands in place of wraps, linear density and twist, which are then left out.
    pub matched: Option<Match>,
}

/// A yarn in hand, by what can be read off it: its wraps, a ball of it, or both.
#[derive(Debug, Clone, Hash)]
pub struct Match {
    /// What it is called on the sheets.
    pub name: Option<String>,
    /// Where it stands.
    pub place: Place,
    /// Its plies; those of the yarn where it says none. Exact.
    pub plies: Reading<Count>,
    /// Its wraps.
    pub wraps: Option<Reading<Wraps>>,
    /// Length and weight of a ball of it.
    pub ball: Option<(Reading<Length>, Reading<Mass>)>,
    /// Its ply twist.
    pub ply_twist: Option<Reading<Twist>>,
    /// The angle of its plies.
    pub angle: Option<Reading<Angle>>,
    /// What is kept where not both wraps and grist can be had.
    pub keep: Keep,
}

/// What of a yarn in hand is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Keep {
    /// Its thickness.
    Wraps,
    /// Its length by weight.
    Grist,
}

/// How singles become the yarn.
#[derive(Debug, Clone, Hash)]
pub enum Construction {
    /// Each ply from a bobbin of its own.
    Bobbins,
    /// One single drawn through itself in a chain of loops, which makes three strands of it.
    Chain,
    /// One single from both ends of a ball, which makes two strands of it.
    BothEnds,
    /// No plying: the single is the yarn.
    Singles,
    /// Each ply from a bobbin of its own, and so many of these strands plied once more; two to four, exact.
    Cabled(Reading<Count>),
}

impl Construction {
    /// Bobbins of singles that go into one length of yarn, where a strand has so many plies.
    pub fn bobbins(&self, plies: usize) -> usize {
        match self {
            Self::Bobbins => plies,
            Self::Chain | Self::BothEnds | Self::Singles => 1,
            Self::Cabled(strands) => plies * strands.value as usize,
        }
    }

    /// How often one single lies side by side with itself.
    pub fn passes(&self, plies: usize) -> usize {
        match self {
            Self::Chain | Self::BothEnds => plies,
            Self::Bobbins | Self::Singles | Self::Cabled(_) => 1,
        }
    }

    /// Strands of the yarn whose thick and thin places are independent of one another, where a strand has so many plies.
    pub fn averaging(&self, plies: usize) -> usize {
        match self {
            // The ends of a ball are far apart in the single; the passes of a chain lie side by side in it.
            Self::Bobbins | Self::BothEnds | Self::Cabled(_) => self.bobbins(plies) * self.passes(plies),
            Self::Chain | Self::Singles => 1,
        }
    }

    /// Plied strands in a cabled yarn.
    pub fn strands(&self) -> Option<&Reading<Count>> {
        match self {
            Self::Cabled(strands) => Some(strands),
            Self::Bobbins | Self::Chain | Self::BothEnds | Self::Singles => None,
        }
    }

    /// Whether anything is plied at all.
    pub fn is_plied(&self) -> bool {
        !matches!(self, Self::Singles)
    }
}

/// Singles that are spun alike. Most plans have one kind; plies of a grist or direction of their own make several.
#[derive(Debug, Clone, Hash)]
pub struct Singles {
    /// What they are called where there are several kinds: their fibre, or the lot they are spun from.
    pub name: Option<String>,
    /// Their grist at rest, where the plan says it; else they take what the others of their ply plan leave.
    pub grist: Option<Reading<LinearDensity>>,
    /// Their twist.
    pub twist: Direction,
    /// Length they lose in plying, where it is not that of the yarn.
    pub shortens: Option<Reading<Share>>,
    /// Index of the first ply plan that has them, whose other plies say what is left for them.
    pub ply_plan: usize,
}

impl Singles {
    /// What they are called: "singles", "silk singles".
    pub fn noun(&self) -> String {
        self.name.as_ref().map_or_else(|| "singles".to_owned(), |name| format!("{name} singles"))
    }

    /// The name below which their figures stand: `singles`, `singles.silk`.
    pub fn stage(&self) -> String {
        self.below("singles")
    }

    /// The name below which the figures of their spinning stand: `wheel`, `wheel.silk`.
    pub fn at_wheel(&self) -> String {
        self.below("wheel")
    }

    fn below(&self, stage: &str) -> String {
        self.name.as_ref().map_or_else(|| stage.to_owned(), |name| format!("{stage}.{name}"))
    }
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
    /// How its strips go onto the bobbins.
    pub dealing: Dealing,
    /// The singles plied together, one to a bobbin of a set: as many as [`Construction::bobbins`] says.
    /// Those of one strand of a cabled yarn stand together.
    pub plies: Vec<Ply>,
}

impl PlyPlan {
    /// Strips that each braid is torn into for one of its plies, where there are so many sets: as the ply says, else one for each set,
    /// or none where colours are to run on.
    pub fn strips(&self, ply: usize, n_sets: usize) -> usize {
        let unsaid = match self.dealing {
            Dealing::Across => n_sets,
            Dealing::InOrder => 1,
        };
        self.plies[ply].strips.map_or(unsaid, |strips| strips as usize)
    }
}

impl Hash for PlyPlan {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.name, self.share.to_bits(), self.dealing, &self.plies).hash(state);
    }
}

/// One ply.
#[derive(Debug, Clone, Hash)]
pub struct Ply {
    /// What it is spun from, one after the other: indexes into [`super::Plan::supplies`], at least one and none twice.
    pub lots: Vec<usize>,
    /// The supply that is drafted together with them, half and half by weight.
    pub beside: Option<usize>,
    /// The colours in the order in which they are spun, where the strips are pulled apart by them; empty where they are not.
    pub colour_order: Vec<usize>,
    /// Strips each braid's part is torn into; as many as there are sets where nothing is said.
    pub strips: Option<u32>,
    /// From which end it is spun.
    pub from: End,
    /// What this ply takes of the supply's part in this ply plan; parts of one supply add up to at most one.
    pub part: Option<Part>,
    /// Which kind of singles it is: an index into [`super::Plan::singles`].
    pub singles: usize,
}

impl Ply {
    /// All that it is spun from: its lots, then what is drafted together with them.
    pub fn supplies(&self) -> impl Iterator<Item = usize> + '_ {
        self.lots.iter().copied().chain(self.beside)
    }

    /// Whether it is spun from this supply.
    pub fn takes(&self, supply: usize) -> bool {
        self.supplies().any(|taken| taken == supply)
    }
}

/// How the strips of a ply plan go onto its bobbins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dealing {
    /// Strip by strip to each set in turn: every braid is spread over every skein.
    Across,
    /// One set after the other: colours run on through the skeins.
    InOrder,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// The end at which the sections begin.
    Start,
    /// The other one.
    Other,
    /// The first end and the other in turn, strip by strip.
    Alternate,
}
