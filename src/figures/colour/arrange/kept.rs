//! The best arrangements found so far, no two of which look alike, and how they are named in the plan's own terms.

use std::cmp::Reverse;

use super::super::lane::Track;
use super::field::Field;
use super::{Arrangement, Ply, Score};

/// What comes first: the higher total, to nine decimals so that rounding decides nothing; then fewer strips in all; then what
/// is nearer to the plan's own; then what was found first.
type Rank = (Reverse<i64>, usize, usize, u64);

/// The best arrangements found so far.
pub(super) struct Kept<'a> {
    field: &'a Field<'a>,
    most: usize,
    offered: u64,
    /// In order of rank.
    kept: Vec<Entry>,
}

struct Entry {
    rank: Rank,
    score: Score,
    plies: Vec<Ply>,
    tracks: Vec<Track>,
}

impl<'a> Kept<'a> {
    pub(super) fn new(field: &'a Field<'a>, most: usize) -> Kept<'a> {
        Kept { field, most: most.max(1), offered: 0, kept: Vec::new() }
    }

    /// How many were offered.
    pub(super) fn offered(&self) -> u64 {
        self.offered
    }

    /// Keeps an arrangement where it is among the best.
    pub(super) fn offer<'p>(&mut self, score: Score, ply: impl Fn(usize) -> &'p Ply, tracks: &[&Track]) {
        self.offered += 1;
        let total = Reverse((score.total * 1e9).round() as i64);
        let strips: usize = (0..tracks.len()).map(ply_strips(&ply)).sum();
        let worst = (self.kept.len() == self.most).then(|| self.kept[self.most - 1].rank);
        if worst.is_some_and(|worst| (total, strips) > (worst.0, worst.1)) {
            return;
        }
        let plies: Vec<&Ply> = (0..tracks.len()).map(&ply).collect();
        let (distance, order) = nearest(self.field, &plies);
        let rank = (total, strips, distance, self.offered);
        if worst.is_some_and(|worst| rank > worst) {
            return;
        }
        let entry = Entry {
            rank,
            score,
            plies: order.iter().map(|i| plies[*i].clone()).collect(),
            tracks: order.iter().map(|i| tracks[*i].clone()).collect(),
        };
        self.insert(entry);
    }

    fn insert(&mut self, entry: Entry) {
        let free = self.field.free_plies();
        match self.kept.iter().position(|other| looks_like(&entry.tracks, &other.tracks, &free)) {
            Some(like) if self.kept[like].rank <= entry.rank => return,
            Some(like) => self.kept[like] = entry,
            None => self.kept.push(entry),
        }
        self.kept.sort_by_key(|entry| entry.rank);
        self.kept.truncate(self.most);
    }

    /// The best of all, in order of rank.
    pub(super) fn finish(self) -> Vec<(Arrangement, Score)> {
        let field = self.field;
        self.kept.into_iter().map(|entry| (in_own_terms(field, &entry.plies), entry.score)).collect()
    }
}

fn ply_strips<'p>(ply: &impl Fn(usize) -> &'p Ply) -> impl Fn(usize) -> usize {
    move |i| ply(i).units.len() * ply(i).strips as usize
}

/// Whether two yarns look alike: the same lanes, free plies in any order.
fn looks_like(a: &[Track], b: &[Track], free: &[usize]) -> bool {
    let mut unmatched: Vec<usize> = free.to_vec();
    (0..a.len()).all(|ply| {
        if !free.contains(&ply) {
            return a[ply].is_like(&b[ply]);
        }
        let found = unmatched.iter().position(|other| a[ply].is_like(&b[*other]));
        found.map(|found| unmatched.swap_remove(found)).is_some()
    })
}

/// How far plies are from the plan's own where free plies are exchanged so that they are nearest, and which of them then
/// stands in the place of each of the plan's own.
///
/// The least sum over all exchanges, worked out for every set of plies that the first few places could be given.
fn nearest(field: &Field<'_>, plies: &[&Ply]) -> (usize, Vec<usize>) {
    let free = field.free_plies();
    let own = |ply: usize| &field.own[ply];
    let fixed =
        (0..plies.len()).filter(|ply| !free.contains(ply)).map(|ply| distance(plies[ply], own(ply))).sum::<usize>();
    let mut least: Vec<(usize, usize)> = vec![(usize::MAX, 0); 1 << free.len()];
    least[0].0 = 0;
    for given in 1_usize..1 << free.len() {
        let place = given.count_ones() as usize - 1;
        for (i, ply) in free.iter().enumerate().filter(|(i, _)| given & 1 << i != 0) {
            let so_far = least[given & !(1 << i)].0 + distance(plies[*ply], own(free[place]));
            least[given] = least[given].min((so_far, i));
        }
    }
    let mut order: Vec<usize> = (0..plies.len()).collect();
    let mut given = (1 << free.len()) - 1;
    for place in (0..free.len()).rev() {
        let chosen = least[given].1;
        order[free[place]] = free[chosen];
        given &= !(1 << chosen);
    }
    (fixed + least[(1 << free.len()) - 1].0, order)
}

/// In how many things two plies differ: units in their places, strips, ends.
fn distance(a: &Ply, b: &Ply) -> usize {
    let units = a.units.iter().zip(&b.units).filter(|(a, b)| a != b).count() + a.units.len().abs_diff(b.units.len());
    units + usize::from(a.strips != b.strips) + usize::from(a.from != b.from)
}

/// Puts real units in the place of their stand-ins, and keeps the plan's own word for an end where another does the same.
fn in_own_terms(field: &Field<'_>, plies: &[Ply]) -> Arrangement {
    let own = &field.problem.own.plies;
    let name = |(ply, units): (usize, Vec<usize>)| {
        let Ply { units: kinds, strips, from } = &plies[ply];
        let is_same = field.plain_end(kinds, *strips, own[ply].from) == *from;
        Ply { units, strips: *strips, from: if is_same { own[ply].from } else { *from } }
    };
    Arrangement { plies: real_units(field, plies).into_iter().enumerate().map(name).collect() }
}

/// The real units of each ply: of those that are alike, first the one that the plan has in the same place, then one that it has
/// on the same ply, then any.
fn real_units(field: &Field<'_>, plies: &[Ply]) -> Vec<Vec<usize>> {
    let own = &field.problem.own.plies;
    let all: Vec<usize> = (0..field.stand_ins.len()).collect();
    let mut is_used = vec![false; all.len()];
    let mut named: Vec<Vec<Option<usize>>> = plies.iter().map(|ply| vec![None; ply.units.len()]).collect();
    let mut name = |ply: usize, place: usize, candidates: &[usize]| {
        let fits = |unit: &&usize| !is_used[**unit] && field.stand_ins[**unit] == plies[ply].units[place];
        if named[ply][place].is_none()
            && let Some(&unit) = candidates.iter().find(fits)
        {
            is_used[unit] = true;
            named[ply][place] = Some(unit);
        }
    };
    let places = || plies.iter().enumerate().flat_map(|(ply, of)| (0..of.units.len()).map(move |place| (ply, place)));
    places().for_each(|(ply, place)| name(ply, place, own[ply].units.get(place..=place).unwrap_or(&[])));
    places().for_each(|(ply, place)| name(ply, place, &own[ply].units));
    places().for_each(|(ply, place)| name(ply, place, &all));
    let whole = |units: Vec<Option<usize>>| units.into_iter().collect::<Option<Vec<usize>>>();
    named.into_iter().map(|units| whole(units).expect("invariant: there are as many units as stand-ins")).collect()
}
