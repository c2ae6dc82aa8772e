//! The ways of sharing out units among the free plies, and how many arrangements each of them has.
//!
//! Free plies can be exchanged, and so can units of one kind: each way is listed once. What a ply has is a count of each
//! kind, and the plies come in falling lexicographic order of their counts.

use super::Ply;
use super::field::Field;

/// The units of each ply in rising order, by their stand-ins; free plies with the same units stand next to each other.
pub(super) type Shares = Vec<Vec<usize>>;

/// All ways of sharing out, or `None` where it takes more steps to list them than we allow ourselves.
pub(super) fn sharings(field: &Field<'_>) -> Option<Vec<Shares>> {
    let mut lister = Lister::new(field);
    if lister.plies.is_empty() {
        lister.take();
    } else {
        lister.fill(0, 0, false, 0.0);
    }
    (lister.steps < STEPS).then_some(lister.found)
}

/// Steps that listing the ways of sharing out may take, some tenths of a second; our choice.
const STEPS: u32 = 1_000_000;

/// How many arrangements there are of one way of sharing out; exact up to 2⁵³.
pub(super) fn count(field: &Field<'_>, shares: &Shares) -> f64 {
    let free = field.free_plies();
    let mut counted = 1.0;
    let mut like = 0.0;
    for ply in 0..shares.len() {
        let ways = ways(field, &shares[ply]);
        let place = free.iter().position(|other| *other == ply);
        let is_like = place.is_some_and(|place| place > 0 && shares[free[place - 1]] == shares[ply]);
        // So many plies of the same units, each arranged in one of `ways`, their order being no matter: a multiset.
        like = if is_like { like + 1.0 } else { 0.0 };
        counted = if is_like { counted * (ways + like) / (like + 1.0) } else { counted * ways };
    }
    counted
}

/// How many plies can be made of the same units.
fn ways(field: &Field<'_>, units: &[usize]) -> f64 {
    let ends: usize = field.strips.iter().map(|strips| field.ends(units, *strips).len()).sum();
    orders(units) * ends as f64
}

/// In how many orders units can stand, the same ones being told from each other by nothing.
fn orders(units: &[usize]) -> f64 {
    let mut orders = 1.0;
    let mut like = 0.0;
    for (i, unit) in units.iter().enumerate() {
        like = if i > 0 && units[i - 1] == *unit { like + 1.0 } else { 1.0 };
        // The product of the binomials of each kind among those up to it, which is whole at each step.
        orders = orders * (i + 1) as f64 / like;
    }
    orders
}

/// All plies that can be made of the same units, these being in rising order.
pub(super) fn plies(field: &Field<'_>, units: &[usize]) -> Vec<Ply> {
    let mut order = units.to_vec();
    let mut found = Vec::new();
    loop {
        for &strips in &field.strips {
            let ends = field.ends(units, strips);
            found.extend(ends.iter().map(|&from| Ply { units: order.clone(), strips, from }));
        }
        if !advance(&mut order) {
            return found;
        }
    }
}

/// The next order in lexicographic order; whether there was one.
fn advance(order: &mut [usize]) -> bool {
    let Some(i) = (1..order.len()).rev().find(|&i| order[i - 1] < order[i]) else { return false };
    let j = (i..order.len()).rev().find(|&j| order[i - 1] < order[j]).expect("invariant: the one at i is greater");
    order.swap(i - 1, j);
    order[i..].reverse();
    true
}

struct Lister<'a> {
    field: &'a Field<'a>,
    /// The free plies.
    plies: Vec<usize>,
    /// Kinds of units that the free plies share, by stand-in, and how many of each are left.
    kinds: Vec<usize>,
    left: Vec<u32>,
    /// How many of each kind each free ply has.
    counts: Vec<Vec<u32>>,
    steps: u32,
    found: Vec<Shares>,
}

impl<'a> Lister<'a> {
    fn new(field: &'a Field<'a>) -> Lister<'a> {
        let plies = field.free_plies();
        let mut units: Vec<usize> = plies.iter().flat_map(|ply| field.own[*ply].units.iter().copied()).collect();
        units.sort_unstable();
        let mut kinds = units.clone();
        kinds.dedup();
        let left: Vec<u32> =
            kinds.iter().map(|kind| units.iter().filter(|unit| *unit == kind).count() as u32).collect();
        let counts = vec![vec![0; kinds.len()]; plies.len()];
        Lister { field, plies, kinds, left, counts, steps: 0, found: Vec::new() }
    }

    /// Gives the ply so many of this kind, so many of the next, and so on; then goes on to the next ply. `is_tied` while the
    /// ply has the same counts as the one before, so that it may not have more of the kind than that one.
    fn fill(&mut self, ply: usize, kind: usize, is_tied: bool, length: f64) {
        if self.steps == STEPS || length > self.field.allowed.1 || !self.can_reach(kind, length) {
            return;
        }
        self.steps += 1;
        if kind == self.kinds.len() {
            self.next(ply);
            return;
        }
        let n_left = (self.plies.len() - ply) as u32;
        // No ply after this one may have more of the first kind than it; the last one takes what is left.
        let least = if n_left == 1 {
            self.left[kind]
        } else if kind == 0 {
            self.left[0].div_ceil(n_left)
        } else {
            0
        };
        let before = if is_tied { self.counts[ply - 1][kind] } else { u32::MAX };
        for count in (least..=self.left[kind].min(before)).rev() {
            self.counts[ply][kind] = count;
            self.left[kind] -= count;
            let longer = length + f64::from(count) * self.field.lengths[self.kinds[kind]];
            self.fill(ply, kind + 1, is_tied && count == before, longer);
            self.left[kind] += count;
        }
    }

    /// Whether all that is left of the kinds from this one on could make the ply long enough.
    fn can_reach(&self, kind: usize, length: f64) -> bool {
        let left =
            (kind..self.kinds.len()).map(|kind| f64::from(self.left[kind]) * self.field.lengths[self.kinds[kind]]);
        length + left.sum::<f64>() >= self.field.allowed.0
    }

    fn next(&mut self, ply: usize) {
        if self.counts[ply].iter().all(|count| *count == 0) {
            return;
        }
        if ply + 1 < self.plies.len() {
            self.fill(ply + 1, 0, true, 0.0);
        } else {
            self.take();
        }
    }

    fn take(&mut self) {
        let sorted = |units: &[usize]| {
            let mut units = units.to_vec();
            units.sort_unstable();
            units
        };
        let mut shares: Shares = self.field.own.iter().map(|ply| sorted(&ply.units)).collect();
        for (ply, counts) in self.plies.iter().zip(&self.counts) {
            let of_kind = self.kinds.iter().zip(counts);
            shares[*ply] = of_kind.flat_map(|(kind, count)| std::iter::repeat_n(*kind, *count as usize)).collect();
        }
        self.found.push(shares);
    }
}
