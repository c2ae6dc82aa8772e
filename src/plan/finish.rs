//! How the yarn is washed and dried.

use super::Reading;
use crate::units::{Temperature, Time};

/// How every skein and every sample is finished.
#[derive(Debug, Clone, Hash)]
pub struct Finish {
    /// How warm the bath is; exact.
    pub temperature: Reading<Temperature>,
    /// How long the yarn lies in it; exact.
    pub time: Reading<Time>,
    /// How much it is moved.
    pub agitation: Agitation,
    /// How it is dried, in the words of the plan or of its default.
    pub dry: String,
}

/// How much yarn is moved in its bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Agitation {
    /// It lies still.
    None,
    /// It is pressed and moved gently.
    ALittle,
    /// It is worked until its fibres hold together.
    Fulled,
}

impl Agitation {
    /// The words of the plan.
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::ALittle => "a little",
            Self::Fulled => "fulled",
        }
    }
}
