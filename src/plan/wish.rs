//! What the colours of the yarn are to do, and what tearing really gave.

use std::hash::Hash;

use super::{Date, Reading};
use crate::diagnostics::Place;
use crate::units::{Length, Mass};

/// What the colours are to do.
#[derive(Debug, Clone, Hash)]
pub struct ColourWish {
    /// Where it stands.
    pub place: Place,
    /// What they are to do in all.
    pub aim: Aim,
    /// Pairs of colours that are not to lie side by side: indexes into [`super::Plan::colours`].
    pub keep_apart: Vec<(usize, usize)>,
    /// Pairs of colours that are to lie side by side.
    pub keep_together: Vec<(usize, usize)>,
    /// The colour at the beginning of the yarn.
    pub first: Option<usize>,
    /// The colour at its end.
    pub last: Option<usize>,
    /// Whether as little as can be is to stay on the bobbins.
    pub least_left_over: bool,
    /// Colours that the garment is to be worn with.
    pub worn_with: Vec<usize>,
}

/// What the colours are to do in all.
#[derive(Debug, Clone, Hash)]
pub enum Aim {
    /// Stripes, of a depth on the first piece that is worked of the yarn, where one is said.
    Stripes(Option<Reading<Length>>),
    /// Mixed throughout.
    Heather,
    /// From one colour into another.
    Fade {
        /// Where it begins.
        from: usize,
        /// Where it ends.
        to: usize,
    },
    /// Nothing in particular.
    AsItComes,
}

/// The strips of one braid as they were torn.
#[derive(Debug, Clone, Hash)]
pub struct Torn {
    /// Where it stands in the log.
    pub place: Place,
    /// Day it was torn.
    pub date: Date,
    /// Index into [`super::Plan::supplies`].
    pub supply: usize,
    /// Index of the braid, from 0.
    pub braid: usize,
    /// Weight of each strip; at least one.
    pub weights: Vec<Reading<Mass>>,
}

impl Torn {
    /// Indices of its strips, the heaviest first; of equal ones the first that is written.
    pub fn heaviest_first(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.weights.len()).collect();
        order.sort_by(|a, b| self.weights[*b].value.total_cmp(&self.weights[*a].value));
        order
    }
}
