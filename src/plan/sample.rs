//! What was measured of each sample of the log.

use super::{Date, Draw, Gauge, Reading};
use crate::diagnostics::Place;
use crate::units::{Angle, Area, Count, Length, Mass, Twist, Wraps};

/// A sample of the log.
#[derive(Debug, Clone, Hash)]
pub struct Sample {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub place: Place,
    /// Day.
    pub date: Date,
    /// Index of its whorl, where it says one.
    pub whorl: Option<usize>,
    /// How it was drafted.
    pub draw: Option<Draw>,
    /// Wraps of the singles, one or several.
    pub singles_wraps: Vec<Reading<Wraps>>,
    /// Full twists of a fresh two-fold ply-back, one or several.
    pub ply_back: Vec<Reading<Twist>>,
    /// Plies of the skein, where it says so; exact.
    pub plies: Option<Reading<Count>>,
    /// Loops of the skein; exact.
    pub loops: Option<Reading<Count>>,
    /// One loop as wound.
    pub wound_loop: Option<Reading<Length>>,
    /// One loop washed and at rest.
    pub washed_loop: Option<Reading<Length>>,
    /// Weight washed and dry.
    pub weight: Option<Reading<Mass>>,
    /// Wraps of the washed yarn.
    pub wraps: Vec<Reading<Wraps>>,
    /// Twist of the washed yarn; of a cabled yarn what is left in its strands.
    pub ply_twist: Vec<Reading<Twist>>,
    /// Twist of a washed cabled yarn.
    pub cable_twist: Vec<Reading<Twist>>,
    /// Angle of its last twist.
    pub angle: Vec<Reading<Angle>>,
    /// Gauge of its swatch, washed.
    pub gauge: Option<Gauge>,
    /// Gauge of its swatch before the wash.
    pub gauge_before_wash: Option<Gauge>,
    /// Size and weight of its swatch, washed.
    pub swatch: Option<(Reading<Area>, Reading<Mass>)>,
    /// Needles of its swatch, as written.
    pub needle: Option<String>,
    /// How it felt.
    pub feel: Option<String>,
    /// The yarn is spun to this sample.
    pub chosen: bool,
}
