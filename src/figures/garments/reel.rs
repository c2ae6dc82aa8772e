//! The yarn as it is worked off, piece by piece: which ply plan and which skeins a piece takes.

use std::ops::RangeInclusive;

use super::Made;
use crate::figures::deal::{Deal, DealtPlan, length_of_skein};
use crate::figures::ledger::Book;
use crate::units::Length;

/// The yarn of the ply plans, as it is worked off piece by piece.
pub struct Reel {
    /// Ply plans that yield anything, with the metres of yarn each gives.
    pub plans: Vec<(usize, f64)>,
    /// Metres of each that are worked.
    worked: Vec<f64>,
}

impl Reel {
    /// All of the yarn.
    pub fn new(book: &Book, deal: &Deal) -> Self {
        let skein = |n: usize| length_of_skein(book, n).value();
        let length = |dealt: &DealtPlan| dealt.sets.iter().flat_map(|set| set.skeins.clone()).map(skein).sum();
        let plans: Vec<(usize, f64)> = deal.plans.iter().map(|dealt| (dealt.ply_plan, length(dealt))).collect();
        Self { worked: vec![0.0; plans.len()], plans }
    }

    /// Another garment begins with all of the yarn again: what garments take of it together is another question.
    pub fn begin(&mut self) {
        self.worked.iter_mut().for_each(|worked| *worked = 0.0);
    }

    /// Takes so much off the yarn that is asked for, else off the first that is not used up: the ply plan and where it began.
    pub fn take(&mut self, asked: Option<usize>, yarn: f64) -> (usize, f64) {
        let is_open = |i: &usize| self.worked[*i] < self.plans[*i].1;
        let of_asked = asked.and_then(|asked| self.plans.iter().position(|(ply_plan, _)| *ply_plan == asked));
        let last = self.plans.len() - 1;
        let i = of_asked.unwrap_or_else(|| (0..self.plans.len()).find(is_open).unwrap_or(last));
        let from = self.worked[i];
        self.worked[i] += yarn;
        (self.plans[i].0, from)
    }
}

/// Finds the ply plan and the skeins from which each piece is worked, as they are planned; one that the yarn does not reach has no
/// skeins.
pub fn skeins(book: &Book, deal: &Deal, made: &mut [Made]) {
    let mut reel = Reel::new(book, deal);
    for made in made {
        reel.begin();
        for piece in made.pieces.iter_mut().filter(|piece| piece.trim.is_none()) {
            let Some(yarn) = book.find::<Length>(&format!("{}.yarn", piece.stage)) else { continue };
            let all = yarn.value() * piece.count as f64;
            let (ply_plan, from) = reel.take(piece.ply_plan, all);
            piece.taken = Some(ply_plan);
            piece.skeins = reached(book, deal, ply_plan, from, from + all);
        }
    }
}

/// The skeins of a ply plan between two lengths of its yarn.
fn reached(book: &Book, deal: &Deal, ply_plan: usize, from: f64, to: f64) -> Option<RangeInclusive<usize>> {
    // What is left of a skein by rounding is no yarn to begin a piece with.
    const HAIR: f64 = 1e-6;
    let dealt = deal.plans.iter().find(|dealt| dealt.ply_plan == ply_plan)?;
    let mut at = 0.0;
    let mut found: Option<RangeInclusive<usize>> = None;
    for skein in dealt.sets.iter().flat_map(|set| set.skeins.clone()) {
        let begins = at;
        at += length_of_skein(book, skein).value();
        if at > from + HAIR && begins < to - HAIR {
            found = Some(found.map_or(skein, |found| *found.start())..=skein);
        }
    }
    found.filter(|_| to <= at + HAIR)
}
