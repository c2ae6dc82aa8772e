//! How well a number or a formula is founded, in one word that is printed beside it.

use std::fmt;

/// What a number, a unit or a formula stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Defined by an open standard or by agreement, or following from one by algebra alone.
    Standard,
    /// Read in a published source, which is cited beside it.
    Published,
    /// What spinners do, with no source to cite.
    CommonPractice,
    /// Recalled and not checked against a source.
    FromMemory,
    /// Chosen for this program.
    OurChoice,
}

impl Standing {
    /// The words that are printed.
    pub fn words(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Published => "published",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::OurChoice => "our choice",
        }
    }
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}
