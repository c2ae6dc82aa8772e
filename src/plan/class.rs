//! A class: who is in it and what is practised.

use std::hash::{Hash, Hasher};

use crate::units::System;

/// A class that the plan is handed out to.
#[derive(Debug, Clone, Hash)]
pub struct Class {
    /// Students in order of their numbers, which count from one; at least one.
    pub students: Vec<Student>,
    /// What is practised, each once, in the order of learning; at least one.
    pub exercises: Vec<Exercise>,
    /// Units of the lesson and of whoever says none.
    pub units: System,
}

/// The class of a plan, where it has one. A plan without has the fingerprint that it had before there were any.
#[derive(Debug, Clone, Default)]
pub struct HandedTo(pub Option<Class>);

impl Hash for HandedTo {
    fn hash<H: Hasher>(&self, state: &mut H) {
        if let Some(class) = &self.0 {
            class.hash(state);
        }
    }
}

/// One student.
#[derive(Debug, Clone, Hash)]
pub struct Student {
    /// Their name, where it is said.
    pub name: Option<String>,
    /// Units that they measure in.
    pub units: System,
}

macro_rules! exercises {
    ($( $(#[doc = $doc:literal])+ $name:ident = $key:literal, after [$($before:ident),*]; )+) => {
        /// What can be practised, in the order of learning.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Exercise {
            $( $(#[doc = $doc])+ $name, )+
        }

        impl Exercise {
            /// All exercises, in the order of learning.
            pub const ALL: &'static [Self] = &[$( Self::$name, )+];

            /// Its name in a plan and in a file of answers.
            pub fn key(self) -> &'static str {
                match self { $( Self::$name => $key, )+ }
            }

            /// What must have been learnt before.
            pub fn after(self) -> &'static [Self] {
                match self { $( Self::$name => &[$( Self::$before ),*], )+ }
            }
        }
    };
}

exercises! {
    /// Treadling without fibre.
    Treadling = "treadling", after [];
    /// S and Z.
    Directions = "directions", after [];
    /// How long the fibres are, and how much is let in.
    Staple = "staple", after [];
    /// The ratio of a whorl, counted.
    Ratio = "ratio", after [Treadling];
    /// Length per treadle, and treadles for a draft.
    Treadles = "treadles", after [Ratio, Staple];
    /// Wraps of one yarn, counted by everyone.
    Wraps = "wraps", after [];
    /// Ply-back and counting twists.
    PlyBack = "ply-back", after [Directions];
    /// Balance and the loop test.
    Balance = "balance", after [PlyBack];
    /// Fibre divided by weight.
    Dividing = "dividing", after [];
    /// What a scale can tell.
    Scale = "scale", after [Dividing];
    /// A skein before and after the wash.
    Wash = "wash", after [];
    /// Reading a ball band.
    BallBand = "ball-band", after [];
    /// Grist of a skein.
    Grist = "grist", after [Wash, Scale];
    /// The same wraps by two draws.
    TwoDraws = "two-draws", after [Wraps, Grist];
    /// A washed swatch.
    Swatch = "swatch", after [Wash, Scale];
    /// From strips to stripes.
    Stripes = "stripes", after [Dividing, Grist];
    /// Solid or marled, by overlay.
    Overlay = "overlay", after [Stripes];
    /// Amounts and reserve.
    Amounts = "amounts", after [Grist];
    /// Drift of bobbins.
    Drift = "drift", after [Scale];
    /// Pairing of bobbins.
    Pairing = "pairing", after [Drift];
    /// Fit.
    Fit = "fit", after [Swatch];
    /// For the curious: unequal plies.
    UnequalPlies = "unequal-plies", after [Grist];
    /// For the curious: numbering systems.
    Numbering = "numbering", after [Grist];
    /// For the curious: the two diameters of a yarn.
    Diameters = "diameters", after [Wraps, Grist];
    /// For the curious: sums from old handbooks.
    Handbook = "handbook", after [Numbering];
}

impl Exercise {
    /// The exercise of that name.
    pub fn find(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|exercise| exercise.key() == key)
    }

    /// Whether it is for the curious: nothing that comes after asks for it.
    pub fn is_optional(self) -> bool {
        self >= Self::UnequalPlies
    }
}
