//! What there is to spin: what of each supply goes into the yarn, which gives out first, what stays, and where it lies in the braids.

use super::expression::{Figure, Formula, least, sum};
use super::kinds::Spun;
use super::ledger::Book;
use crate::plan::{Extent, Plan, Ply, Sampling, Section, Supply};
use crate::units::format::{decimals, percent};
use crate::units::{Length, Mass, Share, Standing};

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
    /// By ply plan and ply: what each supply is of the weight of its bobbin.
    of_ply: Vec<Vec<Vec<(usize, f64)>>>,
}

impl Parts {
    pub(super) fn new(plan: &Plan, singles: &[Spun]) -> Self {
        let of_bobbin: Vec<f64> = singles.iter().map(|kind| kind.share.value()).collect();
        let of_ply = shares_of_lots(plan, &of_bobbin);
        Self { of_bobbin, of_ply }
    }

    /// What a supply is of the weight of one bobbin of a ply; nothing where the ply does not take it.
    pub(super) fn in_ply(&self, ply_plan: usize, ply: usize, supply: usize) -> f64 {
        self.of_ply[ply_plan][ply].iter().find(|(taken, _)| *taken == supply).map_or(0.0, |(_, share)| *share)
    }

    /// What one ply takes of a supply's part in its ply plan.
    pub(super) fn ply_share(&self, plan: &Plan, ply_plan: usize, ply: usize, supply: usize) -> f64 {
        let kind = plan.ply_plans[ply_plan].plies[ply].singles;
        self.of_bobbin(kind) * self.in_ply(ply_plan, ply, supply) / self.of_supply(plan, ply_plan, supply)
    }

    /// What one bobbin of a kind is of the yarn of its set.
    pub(super) fn of_bobbin(&self, kind: usize) -> f64 {
        self.of_bobbin[kind]
    }

    /// What a supply has to give of the yarn of a ply plan: the share of each bobbin that names it; more where the parts that
    /// bobbins take of it are not as their shares.
    pub(super) fn of_supply(&self, plan: &Plan, ply_plan: usize, supply: usize) -> f64 {
        let plies = || plan.ply_plans[ply_plan].plies.iter().enumerate().filter(|(_, ply)| ply.takes(supply));
        let of = |(i, ply): (usize, &Ply)| self.of_bobbin(ply.singles) * self.in_ply(ply_plan, i, supply);
        let together: f64 = plies().map(of).sum();
        let by_part = plies().filter_map(|(i, ply)| ply.part.as_ref().map(|part| of((i, ply)) / part.share));
        by_part.fold(together, f64::max)
    }

    /// The share of all fibre in the yarn that comes from a supply.
    pub(super) fn demand(&self, plan: &Plan, supply: usize) -> f64 {
        plan.ply_plans.iter().enumerate().map(|(i, one)| one.share * self.of_supply(plan, i, supply)).sum()
    }
}

/// What each supply is of the weight of the bobbins that take it. A ply of one lot is that lot. Of several lots each gives as much
/// as there is of it for this ply, so that they give out together; a lot that several plies take is shared among them by the
/// yarn that they make. What is drafted together goes half and half.
fn shares_of_lots(plan: &Plan, of_bobbin: &[f64]) -> Vec<Vec<Vec<(usize, f64)>>> {
    let made = |ply_plan: usize, ply: &Ply| plan.ply_plans[ply_plan].share * of_bobbin[ply.singles];
    let all = || plan.ply_plans.iter().enumerate().flat_map(|(i, one)| one.plies.iter().map(move |ply| (i, ply)));
    let taken: Vec<f64> = (0..plan.supplies.len())
        .map(|lot| all().filter(|(_, ply)| ply.takes(lot)).map(|(i, ply)| made(i, ply)).sum())
        .collect();
    let there_is: Vec<f64> = (0..plan.supplies.len()).map(|lot| available(plan, lot).iter().sum()).collect();
    let of_ply = |(i, ply): (usize, &Ply)| {
        let claim = |lot: &usize| there_is[*lot] * made(i, ply) / taken[*lot];
        let whole: f64 = ply.lots.iter().map(claim).sum();
        let half = if ply.beside.is_some() { 0.5 } else { 1.0 };
        let share = |lot: &usize| if ply.lots.len() == 1 { half } else { half * claim(lot) / whole };
        let lots = ply.lots.iter().map(|lot| (*lot, share(lot)));
        lots.chain(ply.beside.map(|beside| (beside, half))).collect()
    };
    let of_plan = |(i, one): (usize, &crate::plan::PlyPlan)| one.plies.iter().map(|ply| of_ply((i, ply))).collect();
    plan.ply_plans.iter().enumerate().map(of_plan).collect()
}

pub(super) static WEIGHED: Formula = Formula { source: "weights add", standing: Standing::Standard };

/// What a braid weighs, all of it: as the plan has it, or as its strips weigh that were torn.
pub(super) fn braid_weight(book: &mut Book, plan: &Plan, supply: usize, braid: usize) -> Figure<Mass> {
    let of = &plan.supplies[supply];
    let name = whole_name(of, braid);
    let Some(torn) = plan.torn(supply, braid) else { return book.reading(&of.weights[braid], &name) };
    let strips: Vec<Figure<Mass>> = torn
        .weights
        .iter()
        .enumerate()
        .map(|(i, weight)| book.reading(weight, &format!("strip {} of {name}", i + 1)))
        .collect();
    let figure = format!("{}.{}.torn", of.place.path, braid + 1);
    let torn = || sum(&strips).by(&WEIGHED);
    book.find(&figure).unwrap_or_else(|| book.enter(figure, format!("strips of {name}"), torn()))
}

/// What of a supply may be spun: its weights, less what is set aside for sampling.
pub(super) fn usable(book: &mut Book, plan: &Plan, index: usize) -> Figure<Mass> {
    let supply = &plan.supplies[index];
    let weights: Vec<Figure<Mass>> =
        (0..supply.weights.len()).map(|braid| braid_weight(book, plan, index, braid)).collect();
    let whole = format!("{}.weight", supply.place.path);
    // Pieces of one braid share its weight.
    let whole = book
        .find(&whole)
        .unwrap_or_else(|| book.enter(whole, format!("all of {}", supply.name), sum(&weights).by(&WEIGHED)));
    let set_aside = supply.set_aside();
    let is_torn = |braid: usize| plan.torn(index, braid).is_some();
    let still_off: f64 = (0..set_aside.len()).filter(|braid| !is_torn(*braid)).map(|braid| set_aside[braid]).sum();
    let left = match &supply.for_sampling {
        Sampling::None => whole.by(&WEIGHED),
        Sampling::Weight(aside) if still_off == aside.value => {
            (whole - book.reading(aside, &format!("{} for sampling", supply.name))).by(&WEIGHED)
        }
        Sampling::Weight(_) => {
            let words = format!("{} for sampling, of braids not torn", supply.name);
            let place = format!("aside.{}", supply.place.path);
            let text = format!("{} g", decimals(still_off, 1));
            let off: Figure<Mass> =
                book.choose(&place, &words, still_off, text, "it was off the others when they were torn");
            (whole - off).by(&WEIGHED)
        }
        Sampling::Braid(braid) => (whole - &weights[*braid]).by(&WEIGHED),
    };
    let left = match supply.cut {
        None => left,
        Some(_) => (left * piece_share(book, supply)).by(&WEIGHED),
    };
    book.enter(format!("{}.usable", supply.stage()), format!("{} to spin", supply.noun()), left)
}

/// What one piece is of the weight of a braid that is cut across.
pub(super) fn piece_share(book: &mut Book, supply: &Supply) -> Figure<Share> {
    let share = supply.share_of_braid();
    let words = format!("one piece of {}", supply.name);
    book.choose(
        &format!("piece.{}", supply.place.path),
        &words,
        share,
        percent(share, 1),
        "cut across into equal pieces",
    )
}

/// The sections of a whole braid by the tape; `None` where they are written as shares, or there are none.
pub(super) fn section_lengths(book: &mut Book, supply: &Supply) -> Option<Vec<Figure<Length>>> {
    let length = |(i, section): (usize, &Section)| match &section.extent {
        Extent::Length(length) => Some(book.reading(length, &format!("section {} of {}", i + 1, supply.name))),
        Extent::Share(_) => None,
    };
    let lengths = supply.sections.iter().enumerate().map(length).collect::<Option<Vec<_>>>();
    lengths.filter(|lengths| !lengths.is_empty())
}

/// What a braid is called: `north 3`, `north 3 piece 1`; loose fibre has no number.
pub fn braid_name(supply: &Supply, braid: usize) -> String {
    let name = whole_name(supply, braid);
    supply.cut.map_or(name.clone(), |cut| format!("{name} piece {}", cut.piece + 1))
}

/// What a whole braid is called.
fn whole_name(supply: &Supply, braid: usize) -> String {
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
    let enough_for: Vec<Figure<Mass>> = pools(plan, demand)
        .iter()
        .map(|pool| {
            let of_each = |lot: &usize| share_in_yarn(book, &plan.supplies[*lot], demand[*lot]);
            let shares: Vec<Figure<Share>> = pool.iter().map(of_each).collect();
            let weights: Vec<Figure<Mass>> = pool.iter().map(|&lot| usable[lot].clone()).collect();
            if pool.len() == 1 { &weights[0] / &shares[0] } else { sum(&weights) / sum(&shares) }
        })
        .collect();
    least(&enough_for).by(&WEIGHED)
}

/// The supplies that are spun, in pools that give out together: lots that the same plies take one after another are one pool,
/// since where one of them is short the next begins sooner.
fn pools(plan: &Plan, demand: &[f64]) -> Vec<Vec<usize>> {
    let plies = || plan.ply_plans.iter().flat_map(|one| &one.plies);
    let is_pooled = |a: usize, b: usize| {
        plies().all(|ply| {
            ply.lots.contains(&a) == ply.lots.contains(&b) && (ply.beside == Some(a)) == (ply.beside == Some(b))
        })
    };
    let mut pools: Vec<Vec<usize>> = Vec::new();
    for supply in (0..plan.supplies.len()).filter(|&supply| demand[supply] > 0.0) {
        match pools.iter_mut().find(|pool| is_pooled(pool[0], supply)) {
            Some(pool) => pool.push(supply),
            None => pools.push(vec![supply]),
        }
    }
    pools
}

/// The share of a supply in the yarn, as a number of formulas.
fn share_in_yarn(book: &mut Book, supply: &Supply, demand: f64) -> Figure<Share> {
    let words = format!("share of {} in the yarn", supply.noun());
    book.choose(&format!("demand.{}", supply.stage()), &words, demand, percent(demand, 1), "as the ply plans say")
}

/// What of each supply stays unspun, because another one gives out first.
pub(super) fn spare(book: &mut Book, plan: &Plan, usable: &[Figure<Mass>], demand: &[f64], fibre: &Figure<Mass>) {
    if plan.supplies.len() < 2 {
        return;
    }
    for (supply, (usable, demand)) in plan.supplies.iter().zip(usable.iter().zip(demand)) {
        let share = share_in_yarn(book, supply, *demand);
        let name = format!("{}.spare", supply.stage());
        book.enter(name, format!("{} left unspun", supply.noun()), (usable - fibre * share).by(&WEIGHED));
    }
}

/// The pieces of a supply's braids that lie between `from` and `from + wanted` grams, in order, the last one divided.
pub(super) fn pieces(plan: &Plan, supply: usize, from: f64, wanted: f64) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut at = 0.0;
    for (braid, weight) in available(plan, supply).into_iter().enumerate() {
        let overlap = (at + weight).min(from + wanted) - f64::max(at, from);
        let whole = plan.braid_weight(supply, braid);
        // What rounding leaves of a braid is no strip.
        if overlap > 1e-9 * whole {
            pieces.push(Piece { braid, share: overlap / whole });
        }
        at += weight;
    }
    pieces
}

/// The same share of every braid of a supply, so much in all.
pub(super) fn pieces_of_all(plan: &Plan, supply: usize, wanted: f64) -> Vec<Piece> {
    let available = available(plan, supply);
    let share = wanted / available.iter().sum::<f64>();
    let braids = available.into_iter().enumerate().filter(|(_, weight)| *weight > 0.0);
    braids.map(|(braid, weight)| Piece { braid, share: share * weight / plan.braid_weight(supply, braid) }).collect()
}

/// What is left of each braid once the sampling is set aside, of this piece where it is cut across. Of a torn braid that is what its
/// strips weigh: the sampling was taken off before.
pub(super) fn available(plan: &Plan, index: usize) -> Vec<f64> {
    let supply = &plan.supplies[index];
    let aside = supply.set_aside();
    let left = |braid: usize| {
        let whole = plan.braid_weight(index, braid);
        if plan.torn(index, braid).is_some() { whole } else { whole - aside[braid] }
    };
    (0..supply.weights.len()).map(|braid| left(braid) * supply.share_of_braid()).collect()
}
