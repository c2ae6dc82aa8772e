//! All arrangements where they are few, else a seeded search that goes a step at a time.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

use super::super::lane::Track;
use super::field::Field;
use super::kept::Kept;
use super::score::Scorer;
use super::sharing::{self, Shares};
use super::{Arrangement, Ply, Problem, Score, bound};

/// How much a search may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Where there are no more arrangements than this, all are scored.
    pub exact: u64,
    /// Else so many are scored, of all restarts together.
    pub scored: u64,
    /// How often the search begins anew; at least once. The first time it begins with the plan's own arrangement.
    pub restarts: u32,
    /// How many of the best are given back; at least one.
    pub keep: usize,
}

impl Default for Budget {
    /// Some tenths of a second for a usual yarn; our choice.
    fn default() -> Budget {
        Budget { exact: 20_000, scored: 60_000, restarts: 4, keep: 3 }
    }
}

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The best, the very best first; no two give the same yarn. The first is never worse than the plan's own.
    pub best: Vec<(Arrangement, Score)>,
    /// How well the plan's own arrangement does.
    pub own: Score,
    /// How many arrangements were scored. A seeded search may have scored one more than once.
    pub compared: u64,
    /// How many arrangements there are: exact up to 2⁵³, near beyond. Those that differ by the exchange of free plies, of units
    /// of one kind, or by turning a ply that reads alike from both ends, count as one. `None` where there are too many ways of
    /// sharing out the units to list them.
    pub of: Option<f64>,
    /// Whether it is proven that none has a higher total: all were scored, or the best reaches the bound.
    pub is_exact: bool,
    /// No arrangement has a higher total: the best one's own where all were scored, else a proven bound.
    pub bound: f64,
}

/// Searches for the best arrangement of a problem.
///
/// # Panics
/// Where the plan's own arrangement leaves a ply without a unit or does not use each unit once, and where the parts of a
/// problem do not fit each other: no strips or sets, an index too great, more than eight plies.
pub fn best(problem: &Problem, budget: &Budget) -> Found {
    assert_is_whole(problem);
    let field = Field::new(problem);
    let mut scorer = Scorer::new(problem);
    let own = super::score(problem, &problem.own);
    let sharings = sharing::sharings(&field);
    let of =
        sharings.as_ref().map(|sharings| sharings.iter().map(|shares| sharing::count(&field, shares)).sum::<f64>());
    let mut kept = Kept::new(&field, budget.keep);
    let is_listed = of.is_some_and(|of| of <= budget.exact as f64);
    if is_listed {
        for shares in sharings.iter().flatten() {
            score_all(&field, shares, &mut scorer, &mut kept);
        }
    } else {
        climb(&field, sharings.as_deref(), budget, &mut scorer, &mut kept);
    }
    let compared = kept.offered();
    let best = kept.finish();
    let reached = best[0].1.total;
    let bound = if is_listed { reached } else { bound::bound_of(&field, sharings.as_deref()).max(reached) };
    Found { is_exact: bound - reached <= 1e-9, best, own, compared, of, bound }
}

fn assert_is_whole(problem: &Problem) {
    let plies = &problem.own.plies;
    let mut used: Vec<usize> = plies.iter().flat_map(|ply| ply.units.iter().copied()).collect();
    used.sort_unstable();
    assert!(used.into_iter().eq(0..problem.units.len()), "the plan's own arrangement uses each unit once");
    assert!((1..=8).contains(&plies.len()), "a yarn has one to eight plies");
    assert!(plies.iter().all(|ply| !ply.units.is_empty()), "each ply has a unit");
    assert!(problem.is_free.len() == plies.len(), "each ply is free or not");
    let strips = plies.iter().map(|ply| ply.strips).chain(problem.strip_choices.iter().copied());
    assert!(problem.sets > 0 && strips.min() > Some(0), "there are sets and strips");
}

/// Scores all arrangements of one way of sharing out.
fn score_all(field: &Field<'_>, shares: &Shares, scorer: &mut Scorer<'_>, kept: &mut Kept<'_>) {
    let plies: Vec<Vec<Ply>> = shares.iter().map(|units| sharing::plies(field, units)).collect();
    let tracks: Vec<Vec<Track>> =
        plies.iter().map(|plies| plies.iter().map(|ply| field.track(ply)).collect()).collect();
    let before = like_before(field, shares);
    let mut at = vec![0; plies.len()];
    loop {
        let laid: Vec<&Track> = tracks.iter().zip(&at).map(|(tracks, i)| &tracks[*i]).collect();
        kept.offer(scorer.score(&laid), |ply| &plies[ply][at[ply]], &laid);
        let Some(ply) = (0..at.len()).rev().find(|ply| at[*ply] + 1 < plies[*ply].len()) else { return };
        at[ply] += 1;
        // Of plies with the same units a later one never comes before an earlier one in the list: their order is no matter.
        for later in ply + 1..at.len() {
            at[later] = before[later].map_or(0, |before| at[before]);
        }
    }
}

/// For each ply the free ply before it that has the same units.
fn like_before(field: &Field<'_>, shares: &Shares) -> Vec<Option<usize>> {
    let free = field.free_plies();
    let before = |ply: usize| {
        let place = free.iter().position(|other| *other == ply)?;
        let before = *free.get(place.checked_sub(1)?)?;
        (shares[before] == shares[ply]).then_some(before)
    };
    (0..shares.len()).map(before).collect()
}

/// The seed of the first restart; each later one adds its number.
const SEED: u64 = 0x5eed_0f0a_11a7_0001;

/// Of how many tries a search gives up for each arrangement that it may score, where most steps lead nowhere; our choice.
const TRIES: u64 = 20;

/// How much lower a total the search accepts when it begins; the threshold falls to nothing with the cube of what is left of the
/// steps, so that most of them are spent near the end. Chosen by trial on drawn problems; our choice.
const THRESHOLD: f64 = 0.12;

/// Threshold accepting from several beginnings: the plan's own arrangement, and others that steps taken at random lead to.
fn climb(
    field: &Field<'_>,
    sharings: Option<&[Shares]>,
    budget: &Budget,
    scorer: &mut Scorer<'_>,
    kept: &mut Kept<'_>,
) {
    let restarts = u64::from(budget.restarts.max(1));
    for restart in 0..restarts {
        let mut walk = Walk::new(field, ChaCha8Rng::seed_from_u64(SEED + restart));
        if restart > 0 {
            walk.begin_anew(sharings);
        }
        let steps = (budget.scored * (restart + 1) / restarts).saturating_sub(kept.offered());
        walk.climb(steps, scorer, kept);
    }
}

/// An arrangement that changes a step at a time.
struct Walk<'a> {
    field: &'a Field<'a>,
    free: Vec<usize>,
    stream: ChaCha8Rng,
    plies: Vec<Ply>,
    tracks: Vec<Track>,
    /// What a step changed, as it was before.
    old_plies: Vec<Ply>,
    old_tracks: Vec<Track>,
}

/// The plies that a step changed.
type Changed = (usize, usize);

impl<'a> Walk<'a> {
    fn new(field: &'a Field<'a>, stream: ChaCha8Rng) -> Walk<'a> {
        let plies = field.own.clone();
        let tracks: Vec<Track> = plies.iter().map(|ply| field.track(ply)).collect();
        let (old_plies, old_tracks) = (plies.clone(), tracks.clone());
        Walk { field, free: field.free_plies(), stream, plies, tracks, old_plies, old_tracks }
    }

    /// Shares out the units in one of the ways that are listed, if they are, and takes steps at random from there, enough that
    /// little is left of where it began.
    fn begin_anew(&mut self, sharings: Option<&[Shares]>) {
        if let Some(sharings) = sharings {
            let shares = &sharings[self.below(sharings.len())];
            for (ply, units) in self.plies.iter_mut().zip(shares) {
                ply.units.clone_from(units);
                ply.from = self.field.plain_end(units, ply.strips, ply.from);
            }
            self.old_plies.clone_from(&self.plies);
        }
        let n_units: usize = self.plies.iter().map(|ply| ply.units.len()).sum();
        for _ in 0..10 * (n_units + self.plies.len()) {
            if let Some(changed) = self.step() {
                self.keep(changed);
            }
        }
        for ply in 0..self.plies.len() {
            self.field.lay(&self.plies[ply], &mut self.tracks[ply]);
        }
    }

    /// Scores where it stands, and then steps until so many are scored in all.
    fn climb(&mut self, scored: u64, scorer: &mut Scorer<'_>, kept: &mut Kept<'_>) {
        let mut here = self.score(scorer, kept);
        let mut done = 1;
        for _ in 0..scored * TRIES {
            if done >= scored {
                return;
            }
            let Some(changed) = self.step() else { continue };
            self.lay(changed);
            let there = self.score(scorer, kept);
            let ahead = 1.0 - done as f64 / scored as f64;
            let threshold = THRESHOLD * ahead * ahead * ahead;
            done += 1;
            if there >= here - threshold {
                here = there;
                self.keep(changed);
            } else {
                self.undo(changed);
            }
        }
    }

    fn score(&self, scorer: &mut Scorer<'_>, kept: &mut Kept<'_>) -> f64 {
        // A yarn has at most eight plies; an array of references spares an allocation for each score.
        let n = self.tracks.len();
        let laid: [&Track; 8] = std::array::from_fn(|i| &self.tracks[i.min(n - 1)]);
        let score = scorer.score(&laid[..n]);
        kept.offer(score, |ply| &self.plies[ply], &laid[..n]);
        score.total
    }

    fn lay(&mut self, (a, b): Changed) {
        for ply in [a, b].into_iter().take(if a == b { 1 } else { 2 }) {
            std::mem::swap(&mut self.tracks[ply], &mut self.old_tracks[ply]);
            self.field.lay(&self.plies[ply], &mut self.tracks[ply]);
        }
    }

    fn keep(&mut self, (a, b): Changed) {
        for ply in [a, b] {
            self.old_plies[ply].clone_from(&self.plies[ply]);
        }
    }

    fn undo(&mut self, (a, b): Changed) {
        self.put_back((a, b));
        for ply in [a, b].into_iter().take(if a == b { 1 } else { 2 }) {
            std::mem::swap(&mut self.tracks[ply], &mut self.old_tracks[ply]);
        }
    }

    fn put_back(&mut self, (a, b): Changed) {
        for ply in [a, b] {
            self.plies[ply].clone_from(&self.old_plies[ply]);
        }
    }

    /// Changes one thing at random, where that is allowed and changes anything.
    fn step(&mut self) -> Option<Changed> {
        let changed = match self.below(7) {
            0 => self.other_strips(),
            1 => self.other_end(),
            2 => self.swap_in_ply(),
            3 => self.reverse(),
            4 => self.shift(),
            _ => self.exchange(),
        }?;
        let (a, b) = changed;
        let is_allowed =
            a == b || [a, b].iter().all(|ply| self.field.is_allowed(self.field.length(&self.plies[*ply].units)));
        if !is_allowed || [a, b].iter().all(|ply| self.plies[*ply] == self.old_plies[*ply]) {
            self.put_back(changed);
            return None;
        }
        for ply in [a, b] {
            let Ply { units, strips, from } = &self.plies[ply];
            self.plies[ply].from = self.field.plain_end(units, *strips, *from);
        }
        Some(changed)
    }

    fn other_strips(&mut self) -> Option<Changed> {
        let ply = self.any_ply();
        let strips = self.field.strips[self.below(self.field.strips.len())];
        self.plies[ply].strips = strips;
        Some((ply, ply))
    }

    fn other_end(&mut self) -> Option<Changed> {
        let ply = self.any_ply();
        let ends = self.field.ends(&self.plies[ply].units, self.plies[ply].strips);
        self.plies[ply].from = ends[self.below(ends.len())];
        Some((ply, ply))
    }

    fn swap_in_ply(&mut self) -> Option<Changed> {
        let (ply, i, j) = self.places()?;
        self.plies[ply].units.swap(i, j);
        Some((ply, ply))
    }

    fn reverse(&mut self) -> Option<Changed> {
        let (ply, i, j) = self.places()?;
        self.plies[ply].units[i.min(j)..=i.max(j)].reverse();
        Some((ply, ply))
    }

    fn shift(&mut self) -> Option<Changed> {
        let (ply, i, j) = self.places()?;
        let unit = self.plies[ply].units.remove(i);
        self.plies[ply].units.insert(j, unit);
        Some((ply, ply))
    }

    /// Exchanges up to two neighbours of one free ply for up to two of another: one for one, one for none, and so on. Lengths
    /// that forbid a single exchange may allow a double one.
    fn exchange(&mut self) -> Option<Changed> {
        let (a, b) = self.two_free_plies()?;
        let (n_a, n_b) = (self.plies[a].units.len(), self.plies[b].units.len());
        let (from_a, from_b) = (self.below(n_a.min(2) + 1), self.below(n_b.min(2) + 1));
        if from_a + from_b == 0 || n_a + from_b == from_a || n_b + from_a == from_b {
            return None;
        }
        let (i, j) = (self.below(n_a - from_a + 1), self.below(n_b - from_b + 1));
        let of_b: Vec<usize> = self.plies[b].units[j..j + from_b].to_vec();
        let of_a: Vec<usize> = self.plies[a].units.splice(i..i + from_a, of_b).collect();
        self.plies[b].units.splice(j..j + from_b, of_a);
        Some((a, b))
    }

    /// A ply and two places in it.
    fn places(&mut self) -> Option<(usize, usize, usize)> {
        let ply = self.any_ply();
        let n = self.plies[ply].units.len();
        (n > 1).then(|| (ply, self.below(n), self.below(n)))
    }

    fn two_free_plies(&mut self) -> Option<(usize, usize)> {
        let n = self.free.len();
        if n < 2 {
            return None;
        }
        let (i, further) = (self.below(n), 1 + self.below(n - 1));
        Some((self.free[i], self.free[(i + further) % n]))
    }

    fn any_ply(&mut self) -> usize {
        self.below(self.plies.len())
    }

    /// A number below `n`, which is not 0. That some come up more often, by one part in 2⁶⁴ ÷ n, is no matter here.
    fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.stream.next_u64()) * n as u128) >> 64) as usize
    }
}
