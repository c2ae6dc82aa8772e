//! The search for the arrangement of dyed fibre in a plied yarn that best meets a wish: what goes to which ply, in what order,
//! in how many strips and from which end.
//!
//! An arrangement is scored by laying its plies side by side. Where there are few of them all are scored; else a seeded
//! search scores as many as it is allowed, and a proven bound tells how much better any other could be. Nothing here reads a
//! clock or depends on the order of a hash, so that one problem has one answer.
//!
//! # Source
//! The methods (strips, ends, plies of different strips) are common practice of the craft. That the best of them is searched for,
//! how a wish is scored and what breaks a tie are our choice.

mod bound;
mod field;
mod kept;
mod score;
mod search;
mod sharing;

pub use crate::plan::{Dealing, End};
pub use bound::bound;
pub use score::{Aim, Score, Wish, score, score_lanes};
pub use search::{Budget, Found, best};

use super::lane::{self, Lane, Run, Tone};

/// A lot of fibre that is dealt whole: a braid, several like braids, or what one ply takes of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// Its colours from its first end to its other end, before it is torn; metres of finished yarn that they give in one ply.
    pub runs: Vec<Run>,
    /// Units of one kind cannot be told apart: they have the same runs.
    pub kind: usize,
}

impl Unit {
    /// Metres of finished yarn that it gives in one ply.
    pub fn length(&self) -> f64 {
        lane::length(&self.runs)
    }
}

/// What goes on one ply, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ply {
    /// Indices of units, in the order of spinning; at least one.
    pub units: Vec<usize>,
    /// Strips that each unit is torn into lengthwise, for all sets together; at least one.
    pub strips: u32,
    /// Which end of the strips is spun first.
    pub from: End,
}

/// What goes on each ply.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrangement {
    /// One for each ply of the yarn.
    pub plies: Vec<Ply>,
}

/// What there is to arrange, and what is wished.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// What runs show, by index.
    pub tones: Vec<Tone>,
    /// What is dealt; each unit is used once.
    pub units: Vec<Unit>,
    /// The plan's own arrangement; it tells how many plies there are, one to eight.
    pub own: Arrangement,
    /// Bobbins of each ply that the yarn is spun on; at least one. Where [`Dealing::InOrder`] is asked for it changes nothing.
    pub sets: u32,
    /// How strips are dealt. Across the sets each takes its share of the strips of each unit, and spins the first strip of each in
    /// order, then the second of each, and so on; all sets are alike, so that the lane is that of one set. In order all strips of the
    /// first unit come, then all of the second, and so on: one lane through all the yarn.
    pub dealing: Dealing,
    /// Numbers of strips to choose from, for each ply; those of the plan's own plies may be chosen besides. Where strips are
    /// dealt across the sets they should be multiples of their number.
    pub strip_choices: Vec<u32>,
    /// By ply: whether units may be exchanged with other such plies. Any other ply keeps its units, not their order.
    pub is_free: Vec<bool>,
    /// How far the length of a ply may be from the mean of all plies, as a share of it. A plan's own arrangement that is more
    /// uneven allows others to be as uneven.
    pub slack: f64,
    /// What is wished.
    pub wish: Wish,
}

impl Problem {
    /// What a ply shows. Where strips are dealt across several sets this is what it shows in one set; where the strips do not
    /// go into the sets, in the set that gets the most of them, of fibre that is its share all the same.
    pub fn lane(&self, ply: &Ply) -> Lane {
        let share = self.strip_share(ply.strips);
        let mut lane = Lane::new();
        self.each_strip(ply, |unit, is_turned| {
            let runs = &self.units[unit].runs;
            let cut = |run: &Run| Run { tone: run.tone, length: run.length * share };
            if is_turned {
                lane.extend(runs.iter().rev().map(cut));
            } else {
                lane.extend(runs.iter().map(cut));
            }
        });
        lane
    }

    /// The lanes of all plies.
    pub fn lanes(&self, arrangement: &Arrangement) -> Vec<Lane> {
        arrangement.plies.iter().map(|ply| self.lane(ply)).collect()
    }

    /// Calls `each` with the unit of each strip of a lane in the order of spinning, and whether the strip is turned round.
    fn each_strip(&self, ply: &Ply, mut each: impl FnMut(usize, bool)) {
        let each_has = self.strips_in_lane(ply.strips);
        let is_turned = |number: usize| match ply.from {
            End::Start => false,
            End::Other => true,
            End::Alternate => number % 2 == 1,
        };
        let n_units = ply.units.len();
        for number in 0..n_units * each_has {
            let place = match self.dealing {
                Dealing::Across => number % n_units,
                Dealing::InOrder => number / each_has,
            };
            each(ply.units[place], is_turned(number));
        }
    }

    /// Strips of each unit that lie in one lane.
    fn strips_in_lane(&self, strips: u32) -> usize {
        match self.dealing {
            Dealing::Across => strips.div_ceil(self.sets) as usize,
            Dealing::InOrder => strips as usize,
        }
    }

    /// The share of a unit's length that lies in one lane.
    fn lane_share(&self) -> f64 {
        match self.dealing {
            Dealing::Across => 1.0 / f64::from(self.sets),
            Dealing::InOrder => 1.0,
        }
    }

    /// The share of a unit's length that one strip has.
    fn strip_share(&self, strips: u32) -> f64 {
        self.lane_share() / self.strips_in_lane(strips) as f64
    }
}
