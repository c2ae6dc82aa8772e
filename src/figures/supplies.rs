//! What there is to spin: what of each supply goes into the yarn, which gives out first, what stays, and where it lies in the braids.

use super::expression::{Figure, Formula, least, sum};
use super::kinds::Spun;
use super::ledger::Book;
use crate::plan::{Plan, Sampling, Supply};
use crate::units::format::percent;
use crate::units::{Mass, Share, Standing};

/// A part of one braid that a ply plan takes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) braid: usize,
    /// Share of the braid's weight that this ply plan takes of it.
    pub(super) share: f64,
}

/// What each bobbin and each supply is of the weight of the yarn, in nominal numbers, for dealing.
pub(super) struct Parts {
    /// By the kind of singles.
    of_bobbin: Vec<f64>,
}

impl Parts {
    pub(super) fn new(singles: &[Spun]) -> Self {
        Self { of_bobbin: singles.iter().map(|kind| kind.share.value()).collect() }
    }

    /// What one bobbin of a kind is of the yarn of its set.
    pub(super) fn of_bobbin(&self, kind: usize) -> f64 {
        self.of_bobbin[kind]
    }

    /// What a supply has to give of the yarn of a ply plan: the share of each bobbin that names it; more where the parts that
    /// bobbins take of it are not as their shares.
    pub(super) fn of_supply(&self, plan: &Plan, ply_plan: usize, supply: usize) -> f64 {
        let bobbins = || plan.ply_plans[ply_plan].plies.iter().filter(|ply| ply.supply == supply);
        let together: f64 = bobbins().map(|ply| self.of_bobbin(ply.singles)).sum();
        let by_part =
            bobbins().filter_map(|ply| ply.part.as_ref().map(|part| self.of_bobbin(ply.singles) / part.share));
        by_part.fold(together, f64::max)
    }

    /// The share of all fibre in the yarn that comes from a supply.
    pub(super) fn demand(&self, plan: &Plan, supply: usize) -> f64 {
        plan.ply_plans.iter().enumerate().map(|(i, one)| one.share * self.of_supply(plan, i, supply)).sum()
    }
}

pub(super) static WEIGHED: Formula = Formula { source: "weights add", standing: Standing::Standard };

/// What of a supply may be spun: its weights, less what is set aside for sampling.
pub(super) fn usable(book: &mut Book, supply: &Supply) -> Figure<Mass> {
    let weights: Vec<Figure<Mass>> =
        supply.weights.iter().enumerate().map(|(i, weight)| book.reading(weight, &braid_name(supply, i))).collect();
    let place = &supply.place.path;
    let whole = book.enter(format!("{place}.weight"), format!("all of {}", supply.name), sum(&weights).by(&WEIGHED));
    let left = match &supply.for_sampling {
        Sampling::None => whole.by(&WEIGHED),
        Sampling::Weight(aside) => (whole - book.reading(aside, &format!("{} for sampling", supply.name))).by(&WEIGHED),
        Sampling::Braid(braid) => (whole - &weights[*braid]).by(&WEIGHED),
    };
    book.enter(format!("{place}.usable"), format!("{} to spin", supply.name), left)
}

/// What a braid is called: `north 3`; loose fibre has no number.
pub fn braid_name(supply: &Supply, braid: usize) -> String {
    if supply.in_braids { format!("{} {}", supply.name, braid + 1) } else { supply.name.clone() }
}

/// The supply that gives out first.
pub(super) fn scarcest(usable: &[Figure<Mass>], demand: &[f64]) -> usize {
    let lasts = |supply: usize| usable[supply].value() / demand[supply];
    (0..usable.len())
        .filter(|&supply| demand[supply] > 0.0)
        .min_by(|&a, &b| lasts(a).total_cmp(&lasts(b)))
        .expect("invariant: some ply names a supply")
}

/// Fibre that can go into the yarn: the scarcest supply says how much.
pub(super) fn fibre_in_yarn(book: &mut Book, plan: &Plan, usable: &[Figure<Mass>], demand: &[f64]) -> Figure<Mass> {
    let fibre = fibre_of(book, plan, usable, demand);
    book.enter("yarn.fibre", "fibre for the yarn", fibre)
}

/// Fibre that can go into the yarn of so much of each supply.
pub fn fibre_of(book: &mut Book, plan: &Plan, usable: &[Figure<Mass>], demand: &[f64]) -> Figure<Mass> {
    let supplies = plan.supplies.iter().zip(usable.iter().zip(demand)).filter(|(_, (_, demand))| **demand > 0.0);
    let enough_for: Vec<Figure<Mass>> =
        supplies.map(|(supply, (usable, demand))| usable / share_in_yarn(book, supply, *demand)).collect();
    least(&enough_for).by(&WEIGHED)
}

/// The share of a supply in the yarn, as a number of formulas.
fn share_in_yarn(book: &mut Book, supply: &Supply, demand: f64) -> Figure<Share> {
    let words = format!("share of {} in the yarn", supply.name);
    book.choose(&format!("demand.{}", supply.place.path), &words, demand, percent(demand, 1), "as the ply plans say")
}

/// What of each supply stays unspun, because another one gives out first.
pub(super) fn spare(book: &mut Book, plan: &Plan, usable: &[Figure<Mass>], demand: &[f64], fibre: &Figure<Mass>) {
    if plan.supplies.len() < 2 {
        return;
    }
    for (supply, (usable, demand)) in plan.supplies.iter().zip(usable.iter().zip(demand)) {
        let share = share_in_yarn(book, supply, *demand);
        let name = format!("{}.spare", supply.place.path);
        book.enter(name, format!("{} left unspun", supply.name), (usable - fibre * share).by(&WEIGHED));
    }
}

/// The pieces of a supply's braids that lie between `from` and `from + wanted` grams, in order, the last one divided.
pub(super) fn pieces(supply: &Supply, from: f64, wanted: f64) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut at = 0.0;
    for (braid, weight) in available(supply).into_iter().enumerate() {
        let overlap = (at + weight).min(from + wanted) - f64::max(at, from);
        // What rounding leaves of a braid is no strip.
        if overlap > 1e-9 * supply.weights[braid].value {
            pieces.push(Piece { braid, share: overlap / supply.weights[braid].value });
        }
        at += weight;
    }
    pieces
}

/// What is left of each braid once the sampling is set aside; a weight comes off the last braids first.
fn available(supply: &Supply) -> Vec<f64> {
    let mut weights: Vec<f64> = supply.weights.iter().map(|weight| weight.value).collect();
    match &supply.for_sampling {
        Sampling::None => {}
        Sampling::Braid(braid) => weights[*braid] = 0.0,
        Sampling::Weight(aside) => {
            let mut aside = aside.value;
            for weight in weights.iter_mut().rev() {
                let off = aside.min(*weight);
                *weight -= off;
                aside -= off;
            }
        }
    }
    weights
}
