//! What was really spun, as the log has it.

use super::{Date, Reading};
use crate::diagnostics::Place;
use crate::units::{Count, Length, Mass, Wraps};

/// A bobbin of singles that was weighed.
#[derive(Debug, Clone, Hash)]
pub struct LoggedBobbin {
    /// Where it stands in the log.
    pub place: Place,
    /// Day.
    pub date: Date,
    /// Its number, counted from 1 through the whole plan.
    pub number: usize,
    /// The bobbin full and empty, where both were weighed.
    pub weights: Option<(Reading<Mass>, Reading<Mass>)>,
    /// A length of its yarn and what that weighs.
    pub check: Option<(Reading<Length>, Reading<Mass>)>,
    /// All the yarn on it, by a counter.
    pub length: Option<Reading<Length>>,
    /// The reference skein on that day.
    pub reference: Option<Reading<Mass>>,
}

/// A skein of finished yarn that was measured.
#[derive(Debug, Clone, Hash)]
pub struct LoggedSkein {
    /// Where it stands in the log.
    pub place: Place,
    /// Day.
    pub date: Date,
    /// Its number.
    pub number: usize,
    /// Numbers of the bobbins it was plied from, in order; at least one.
    pub bobbins: Vec<usize>,
    /// Loops; exact.
    pub loops: Reading<Count>,
    /// One loop as it was wound.
    pub wound_loop: Option<Reading<Length>>,
    /// One loop washed. This or the other is known.
    pub washed_loop: Option<Reading<Length>>,
    /// Weight, washed and dry.
    pub weight: Reading<Mass>,
    /// The reference skein on that day.
    pub reference: Option<Reading<Mass>>,
    /// Wraps at one or several places; may be none.
    pub wraps: Vec<Reading<Wraps>>,
}

/// A line of the log.
#[derive(Debug, Clone, Hash)]
pub struct Note {
    /// Day.
    pub date: Date,
    /// What it says.
    pub text: String,
}
