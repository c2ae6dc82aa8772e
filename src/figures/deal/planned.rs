//! What goes on which bobbin, in nominal numbers: pieces of braids to ply plans, strips to sets, in the order of spinning.

use std::collections::BTreeMap;

use super::super::sets;
use super::super::supplies::{self, Parts, Piece};
use super::DealtStrip;
use crate::diagnostics::{Code, Diagnostic};
use crate::plan::{Dealing, End, Plan, Ply, Torn};

/// One ply plan laid out.
pub(super) struct PlannedPlan {
    /// Index into [`Plan::ply_plans`].
    pub(super) index: usize,
    /// Fibre for all of it.
    pub(super) whole: f64,
    /// What it takes of each supply, by supply.
    pub(super) pieces: Vec<Vec<Piece>>,
    /// By set and ply, the strips in the order of spinning.
    pub(super) sets: Vec<Vec<Vec<PlannedStrip>>>,
}

/// One strip.
#[derive(Debug, Clone)]
pub(super) struct PlannedStrip {
    pub(super) supply: usize,
    pub(super) braid: usize,
    pub(super) from: End,
    /// Share of the braid's weight that its ply takes of it; with no number of strips, that this strip is of it.
    pub(super) part: f64,
    /// Strips that the part is torn into; `None` where it was dealt again.
    pub(super) strips: Option<usize>,
    /// Which of the strips as torn it is.
    pub(super) torn: Option<usize>,
    /// From where to where it is spun on this bobbin, in the order of spinning: all of it, from 0 to 1, where it does not go on from or
    /// on another.
    pub(super) along: (f64, f64),
    /// What is drafted together with it.
    pub(super) beside: Option<Box<PlannedStrip>>,
}

impl PlannedStrip {
    /// Its nominal weight, without what is beside it.
    pub(super) fn weight(&self, plan: &Plan) -> f64 {
        let strip = match (self.torn, plan.torn(self.supply, self.braid)) {
            (Some(number), Some(torn)) => torn.weights[number].value,
            _ => plan.braid_weight(self.supply, self.braid) * self.part / self.strips.unwrap_or(1) as f64,
        };
        strip * (self.along.1 - self.along.0)
    }

    /// The same with what is beside it.
    pub(super) fn whole_weight(&self, plan: &Plan) -> f64 {
        self.weight(plan) + self.beside.as_ref().map_or(0.0, |beside| beside.weight(plan))
    }

    /// A part of it, as shares of what is spun of it here.
    fn part_of(&self, from: f64, to: f64) -> Self {
        let at = |share: f64| self.along.0 + (self.along.1 - self.along.0) * share;
        let along = (at(from), at(to));
        let beside = self.beside.as_ref().map(|beside| Box::new(Self { along, ..(**beside).clone() }));
        Self { along, beside, ..self.clone() }
    }

    pub(super) fn dealt(&self) -> DealtStrip {
        DealtStrip {
            supply: self.supply,
            braid: self.braid,
            from: self.from,
            beside: self.beside.as_ref().map(|beside| (beside.supply, beside.braid)),
            torn: self.torn,
            along: self.along,
        }
    }
}

/// All ply plans that yield anything, of `fibre` in all.
pub(super) fn planned(plan: &Plan, parts: &Parts, fibre: f64, faults: &mut Vec<Diagnostic>) -> Vec<PlannedPlan> {
    let mut taken = vec![0.0; plan.supplies.len()];
    let mut left = fibre;
    let mut found = Vec::new();
    for (index, ply_plan) in plan.ply_plans.iter().enumerate() {
        let is_last = index + 1 == plan.ply_plans.len();
        let whole = if is_last { left } else { without_slivers(plan, parts, index, &taken, fibre * ply_plan.share) };
        left -= whole;
        let pieces: Vec<Vec<Piece>> = (0..plan.supplies.len())
            .map(|supply| {
                let wanted = whole * parts.of_supply(plan, index, supply);
                let pieces = if runs_on_alone(plan, index, supply) {
                    supplies::pieces_of_all(plan, supply, wanted)
                } else {
                    supplies::pieces(plan, supply, taken[supply], wanted)
                };
                taken[supply] += wanted;
                pieces
            })
            .collect();
        let heaviest = ply_plan.plies.iter().map(|ply| parts.of_bobbin(ply.singles)).fold(0.0, f64::max);
        let laid_out = sets::sets(plan, index, whole * heaviest, whole, &pieces)
            .and_then(|n_sets| Layout { plan, parts, index, n_sets, pieces: &pieces }.sets());
        match laid_out {
            Ok(sets) => found.push(PlannedPlan { index, whole, pieces, sets }),
            Err(fault) => faults.push(*fault),
        }
    }
    found
}

/// Whether a supply is spun for one ply plan alone, in which colours run on from set to set: as much then stays of each braid, and no
/// braid is shorter than the others.
fn runs_on_alone(plan: &Plan, index: usize, supply: usize) -> bool {
    let takes = |one: &crate::plan::PlyPlan| one.plies.iter().any(|ply| ply.takes(supply));
    plan.ply_plans[index].dealing == Dealing::InOrder
        && plan.ply_plans.iter().enumerate().all(|(i, one)| (i == index) == takes(one))
}

/// A braid is not cut for less than this share of it: the ply plan takes that much more or less instead. Our choice: a twentieth of
/// a braid of 100 g, torn for two plies, is a wisp that nobody spins evenly.
const SLIVER: f64 = 0.05;

/// The share of the yarn of a ply plan is not changed by more than this for the sake of whole braids, nor what is on a bobbin for the
/// sake of whole strips; our choice.
const SHARE_MAY_MISS: f64 = 0.03;

/// Fibre for a ply plan, as near to `wanted` as leaves no sliver of a braid on either side of the cut. Only where all ply plans take
/// of every supply alike: what one has more of another then has less of, and no supply falls short.
fn without_slivers(plan: &Plan, parts: &Parts, index: usize, taken: &[f64], wanted: f64) -> f64 {
    let is_like = |other: usize, supply: usize| {
        (parts.of_supply(plan, other, supply) - parts.of_supply(plan, index, supply)).abs() < 1e-9
    };
    if (0..plan.ply_plans.len()).any(|other| (0..plan.supplies.len()).any(|supply| !is_like(other, supply))) {
        return wanted;
    }
    let mut best = wanted;
    for (supply, taken) in taken.iter().enumerate() {
        let of_supply = parts.of_supply(plan, index, supply);
        let mut end = 0.0;
        for (braid, weight) in supplies::available(plan, supply).into_iter().enumerate() {
            end += weight;
            let miss = (taken + wanted * of_supply - end).abs();
            let is_sliver = miss > 1e-9 * end && miss < SLIVER * plan.braid_weight(supply, braid);
            let whole = (end - taken) / of_supply;
            if of_supply > 0.0 && is_sliver && (whole / wanted - 1.0).abs() <= SHARE_MAY_MISS {
                best = whole;
            }
        }
    }
    best
}

/// Strips of torn braids, numbers in the order of writing, by supply and braid and then by ply.
type SharedOut = BTreeMap<(usize, usize), Vec<Vec<usize>>>;

/// What the strips of one ply plan are laid out by.
struct Layout<'a> {
    plan: &'a Plan,
    parts: &'a Parts,
    index: usize,
    n_sets: usize,
    pieces: &'a [Vec<Piece>],
}

impl Layout<'_> {
    /// By set and ply.
    fn sets(&self) -> Result<Vec<Vec<Vec<PlannedStrip>>>, Box<Diagnostic>> {
        let plies = &self.plan.ply_plans[self.index].plies;
        let shared = self.shared_out();
        let mut by_ply = Vec::new();
        for (ply, named) in plies.iter().enumerate() {
            by_ply.push(self.ply(ply, named, &shared)?);
        }
        Ok((0..self.n_sets).map(|set| by_ply.iter().map(|sets| sets[set].clone()).collect()).collect())
    }

    /// The strips of one ply, by set.
    fn ply(&self, index: usize, ply: &Ply, shared: &SharedOut) -> Result<Vec<Vec<PlannedStrip>>, Box<Diagnostic>> {
        let ply_plan = &self.plan.ply_plans[self.index];
        let strips = ply_plan.strips(index, self.n_sets);
        let mut all: Vec<PlannedStrip> = self
            .braids_whole(&ply.lots)
            .into_iter()
            .flat_map(|lots| {
                let mut strips: Vec<PlannedStrip> =
                    lots.iter().flat_map(|lot| self.torn_evenly(index, *lot, strips)).collect();
                strips.sort_by_key(|strip| strip.braid);
                strips
            })
            .collect();
        if let Some(beside) = ply.beside {
            let n_pieces = self.pieces[beside].len();
            if !all.len().is_multiple_of(n_pieces.max(1)) {
                return Err(Box::new(unpaired(self.plan, (self.index, index), all.len(), n_pieces)));
            }
            let each = self.torn_evenly(index, beside, all.len() / n_pieces.max(1));
            all.iter_mut().zip(each).for_each(|(strip, beside)| strip.beside = Some(Box::new(beside)));
        }
        Ok(match ply_plan.dealing {
            Dealing::Across => (0..self.n_sets).map(|set| self.hand(index, ply, &all, set)).collect(),
            Dealing::InOrder => {
                let mut all = self.as_torn(index, &all, shared);
                begun_at(ply.from, &mut all);
                self.in_order(&all)
            }
        })
    }

    /// Strips of one ply, those of torn braids as they were torn.
    fn as_torn(&self, ply: usize, all: &[PlannedStrip], shared: &SharedOut) -> Vec<PlannedStrip> {
        let braids = all.chunk_by(|a, b| (a.supply, a.braid) == (b.supply, b.braid));
        let strips_of = |braid: &[PlannedStrip]| match shared.get(&(braid[0].supply, braid[0].braid)) {
            None => braid.to_vec(),
            Some(by_ply) => {
                let torn = by_ply[ply].iter();
                torn.map(|number| PlannedStrip { torn: Some(*number), ..braid[0].clone() }).collect()
            }
        };
        braids.flat_map(strips_of).collect()
    }

    /// The strips of torn braids by ply, braid by braid: the heaviest first, always to the ply that lacks most of what it is to take of
    /// the braids so far. What is beyond that stays.
    fn shared_out(&self) -> SharedOut {
        let plies = &self.plan.ply_plans[self.index].plies;
        let mut lacking = vec![0.0; plies.len()];
        let mut shared = SharedOut::new();
        for torn in &self.plan.torn {
            let Some(piece) = self.pieces[torn.supply].iter().find(|piece| piece.braid == torn.braid) else { continue };
            let takers: Vec<usize> = (0..plies.len()).filter(|&ply| plies[ply].takes(torn.supply)).collect();
            let wanted = self.plan.braid_weight(torn.supply, torn.braid) * piece.share;
            for &ply in &takers {
                lacking[ply] += wanted * self.parts.ply_share(self.plan, self.index, ply, torn.supply);
            }
            let mut open: Vec<Taker> = takers.iter().map(|&ply| Taker { lacking: lacking[ply], places: 0 }).collect();
            let mut given = vec![Vec::new(); plies.len()];
            for (&ply, numbers) in takers.iter().zip(share_out(torn, wanted, &mut open)) {
                given[ply] = numbers;
            }
            takers.iter().zip(open).for_each(|(&ply, taker)| lacking[ply] = taker.lacking);
            shared.insert((torn.supply, torn.braid), given);
        }
        shared
    }

    /// One set after the other, all of one weight: where a bobbin ends within a strip, the rest of it goes on the next one.
    fn in_order(&self, all: &[PlannedStrip]) -> Vec<Vec<PlannedStrip>> {
        let ends: Vec<f64> = all
            .iter()
            .scan(0.0, |at, strip| {
                *at += strip.whole_weight(self.plan);
                Some(*at)
            })
            .collect();
        let each = ends.last().copied().unwrap_or(0.0) / self.n_sets as f64;
        let between = (1..self.n_sets).map(|set| whole_strip(&ends, each * set as f64, each));
        let changes: Vec<f64> = std::iter::once(0.0).chain(between).chain([f64::INFINITY]).collect();
        let mut sets = vec![Vec::new(); self.n_sets];
        let starts = std::iter::once(0.0).chain(ends.iter().copied());
        for (strip, (start, end)) in all.iter().zip(starts.zip(ends.iter().copied())) {
            for (set, hand) in sets.iter_mut().enumerate() {
                let (from, to) = (f64::max(start, changes[set]), end.min(changes[set + 1]));
                // What rounding leaves of a strip is none, and a strip that lacks no more than that is whole.
                let nothing = 1e-6 * each;
                if to - from > nothing {
                    let begins = if from - start <= nothing { 0.0 } else { (from - start) / (end - start) };
                    let stops = if end - to <= nothing { 1.0 } else { (to - start) / (end - start) };
                    hand.push(strip.part_of(begins, stops));
                }
            }
        }
        sets
    }

    /// Lots as they follow one another; the pieces of braids that are cut across together, so that each braid is spun to its end.
    fn braids_whole<'l>(&self, lots: &'l [usize]) -> Vec<&'l [usize]> {
        let of = |lot: &usize| &self.plan.supplies[*lot].place;
        lots.chunk_by(|a, b| of(a) == of(b)).collect()
    }

    /// All of what a ply takes of a supply in this plan, each piece torn into so many strips.
    fn torn_evenly(&self, ply: usize, supply: usize, strips: usize) -> impl Iterator<Item = PlannedStrip> + '_ {
        let share = self.parts.ply_share(self.plan, self.index, ply, supply);
        self.pieces[supply].iter().flat_map(move |piece| {
            let strip = PlannedStrip {
                supply,
                braid: piece.braid,
                from: End::Start,
                part: piece.share * share,
                strips: Some(strips),
                torn: None,
                along: (0.0, 1.0),
                beside: None,
            };
            std::iter::repeat_n(strip, strips)
        })
    }

    /// The strips of one ply that fall to one set, in the order of spinning and each from its end.
    fn hand(&self, index: usize, ply: &Ply, all: &[PlannedStrip], set: usize) -> Vec<PlannedStrip> {
        let mut hand = across(all, self.n_sets, set);
        // Braids of one lot are alike, so that each ply may begin with another one and no two change braids at one place.
        if ply.lots.len() == 1 && ply.beside.is_none() {
            let further = (set + index) % hand.len().max(1);
            hand.rotate_left(further);
        }
        begun_at(ply.from, &mut hand);
        hand
    }
}

/// One that strips of a torn braid are shared out to.
pub(super) struct Taker {
    /// What it lacks.
    pub(super) lacking: f64,
    /// Strips that it is to have of the braid.
    pub(super) places: usize,
}

/// Shares out the strips of a torn braid, the heaviest first, always to the one that lacks most of those that still have a place, of
/// all once none has. Numbers by taker, in the order of writing; strips beyond what is `wanted` of the braid stay as they are.
pub(super) fn share_out(torn: &Torn, mut wanted: f64, takers: &mut [Taker]) -> Vec<Vec<usize>> {
    let mut given = vec![Vec::new(); takers.len()];
    for number in torn.heaviest_first() {
        let weight = torn.weights[number].value;
        if wanted < weight / 2.0 {
            continue;
        }
        let has_place = takers.iter().any(|taker| taker.places > 0);
        let open = takers.iter_mut().enumerate().filter(|(_, taker)| !has_place || taker.places > 0);
        let Some((most, taker)) = open.rev().max_by(|(_, a), (_, b)| a.lacking.total_cmp(&b.lacking)) else { break };
        wanted -= weight;
        taker.lacking -= weight;
        taker.places = taker.places.saturating_sub(1);
        given[most].push(number);
    }
    given.iter_mut().for_each(|numbers| numbers.sort_unstable());
    given
}

/// Where bobbins change, by weight: at the end of a strip where one is near, so that no wisp of it is left for the next bobbin.
fn whole_strip(ends: &[f64], change: f64, each: f64) -> f64 {
    let nearest = ends.iter().copied().min_by(|a, b| (a - change).abs().total_cmp(&(b - change).abs()));
    nearest.filter(|end| (end - change).abs() <= SHARE_MAY_MISS * each).unwrap_or(change)
}

/// Dealt braid by braid, so that each braid is spread over the sets, and then taken from each braid in turn, so that it is spread
/// over the bobbin too.
fn across(all: &[PlannedStrip], n_sets: usize, set: usize) -> Vec<PlannedStrip> {
    let dealt: Vec<&PlannedStrip> = all.iter().skip(set).step_by(n_sets).collect();
    let of = |i: usize| (dealt[i].supply, dealt[i].braid);
    let turn = |i: usize| (0..i).filter(|before| of(*before) == of(i)).count();
    let mut order: Vec<usize> = (0..dealt.len()).collect();
    order.sort_by_key(|&i| (turn(i), i));
    order.into_iter().map(|i| dealt[i].clone()).collect()
}

/// Gives each strip the end that it is begun at.
fn begun_at(from: End, strips: &mut [PlannedStrip]) {
    for (k, strip) in strips.iter_mut().enumerate() {
        strip.from = match from {
            End::Alternate if k % 2 == 1 => End::Other,
            End::Alternate => End::Start,
            one => one,
        };
    }
}

/// Strips are drafted together one with one.
fn unpaired(plan: &Plan, (ply_plan, ply): (usize, usize), strips: usize, pieces: usize) -> Diagnostic {
    let one = &plan.ply_plans[ply_plan];
    let beside = one.plies[ply].beside.map_or("", |beside| &plan.supplies[beside].name);
    let place = one.place.key("plies").index(ply).key("drafted-with");
    let message = format!("expected as many strips of {beside:?} as of what it is drafted with, {strips}");
    Diagnostic::new(Code::StripsDoNotDeal, message, place)
        .label(format!("{pieces} pieces of {beside:?} cannot be torn into {strips} strips alike"))
        .help(format!("say `strips`, so that their number in all is a multiple of {pieces}"))
}
