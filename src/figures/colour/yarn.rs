//! From what goes on which bobbin to the lanes of the plied yarn, set by set, and to what an arrangement may change of it.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

use super::arrange::{self, Arrangement, Problem, Unit, Wish};
use super::lane::{self, Lane, Run, Tone};
use super::step;
use crate::figures::deal::{DealtBobbin, DealtPlan, DealtSet, DealtStrip};
use crate::figures::ledger::Book;
use crate::plan::{Construction, Dealing, End, Plan, Repeat};
use crate::units::{Length, Mass};

/// The lanes of one set, by ply.
pub type Lanes = Vec<Lane>;

/// Tones by index, each once.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tones {
    /// The tones.
    pub all: Vec<Tone>,
}

impl Tones {
    /// The index of a tone of these parts, which are put in order and joined.
    fn index(&mut self, parts: &[(usize, f64)]) -> usize {
        let mut joined: Vec<(usize, f64)> = Vec::new();
        for (colour, share) in parts {
            match joined.iter_mut().find(|(other, _)| other == colour) {
                Some((_, sum)) => *sum += share,
                None => joined.push((*colour, *share)),
            }
        }
        joined.sort_by_key(|(colour, _)| *colour);
        // Shares that differ by rounding are one tone.
        joined.iter_mut().for_each(|(_, share)| *share = (*share * 1e6).round() / 1e6);
        let tone = Tone { parts: joined };
        self.all.iter().position(|other| *other == tone).unwrap_or_else(|| {
            self.all.push(tone);
            self.all.len() - 1
        })
    }
}

/// A stretch of a strip: its tone and its share of the strip.
type Band = (usize, f64);

/// The bands of a strip of a supply from its first end to its other end, alone or drafted together with another. A strip without
/// colours is one band, of a tone without parts.
pub fn bands(plan: &Plan, tones: &mut Tones, supply: usize, beside: Option<usize>) -> Vec<Band> {
    let own = drafted(plan, tones, supply);
    let Some(beside) = beside else { return own };
    let other = drafted(plan, tones, beside);
    together(tones, &own, &other)
}

/// How many tones a boundary of a gradient is drawn in; our choice.
const STEPS: usize = 4;

/// The bands of one supply as its fibre is drafted: a gradient runs from the middle of one section to the middle of the next, and
/// sections shorter than the staple are one blend with their neighbours.
fn drafted(plan: &Plan, tones: &mut Tones, supply: usize) -> Vec<Band> {
    let of = &plan.supplies[supply];
    let bands = merged(&of.bands());
    if bands.is_empty() {
        return vec![(tones.index(&[]), 1.0)];
    }
    if of.repeat == Some(Repeat::Gradient) && bands.len() > 1 {
        return gradient(tones, &bands);
    }
    let staple = plan.fibres[of.fibre].staple.as_ref().map(|staple| staple.value);
    let length = of.length.as_ref().map_or_else(|| laid_out(of), |length| Some(length.value));
    let shortest = match (staple, length) {
        (Some(staple), Some(length)) => staple / (length * of.share_of_braid()),
        _ => 0.0,
    };
    blended(tones, &bands, shortest)
}

/// The length of a braid by its sections, where they are lengths.
pub(super) fn laid_out(supply: &crate::plan::Supply) -> Option<f64> {
    let is_length = |section: &crate::plan::Section| matches!(section.extent, crate::plan::Extent::Length(_));
    (!supply.sections.is_empty() && supply.sections.iter().all(is_length))
        .then(|| supply.sections.iter().map(|section| section.extent.value()).sum())
}

/// Neighbours of one colour are one band.
fn merged(bands: &[(usize, f64)]) -> Vec<(usize, f64)> {
    let mut merged: Vec<(usize, f64)> = Vec::new();
    for (colour, share) in bands {
        match merged.last_mut() {
            Some((last, sum)) if last == colour => *sum += share,
            _ => merged.push((*colour, *share)),
        }
    }
    merged
}

/// A gradient: half of the shorter of two neighbours on either side of their boundary runs from the one into the other, so that each
/// colour keeps its weight.
fn gradient(tones: &mut Tones, bands: &[(usize, f64)]) -> Vec<Band> {
    let reach: Vec<f64> = bands.windows(2).map(|pair| pair[0].1.min(pair[1].1) / 2.0).collect();
    let mut found = Vec::new();
    for (i, (colour, share)) in bands.iter().enumerate() {
        let before = if i > 0 { reach[i - 1] } else { 0.0 };
        let after = reach.get(i).copied().unwrap_or(0.0);
        let pure = share - before - after;
        if pure > 1e-9 {
            found.push((tones.index(&[(*colour, 1.0)]), pure));
        }
        let Some((next, _)) = bands.get(i + 1) else { continue };
        for step in 0..STEPS {
            let reached = (step as f64 + 0.5) / STEPS as f64;
            let tone = tones.index(&[(*colour, 1.0 - reached), (*next, reached)]);
            found.push((tone, 2.0 * after / STEPS as f64));
        }
    }
    found
}

/// Bands no shorter than the shortest that can be kept clear; those that are shorter make one blend with the short ones beside them.
fn blended(tones: &mut Tones, bands: &[(usize, f64)], shortest: f64) -> Vec<Band> {
    let mut found = Vec::new();
    let mut i = 0;
    while i < bands.len() {
        let n = bands[i..].iter().take_while(|(_, share)| *share < shortest).count().max(1);
        let group = &bands[i..i + n];
        let whole: f64 = group.iter().map(|(_, share)| share).sum();
        let parts: Vec<(usize, f64)> = group.iter().map(|(colour, share)| (*colour, share / whole)).collect();
        found.push((tones.index(&parts), whole));
        i += n;
    }
    found
}

/// Two strips drafted together, half and half: wherever either changes, the blend does.
fn together(tones: &mut Tones, a: &[Band], b: &[Band]) -> Vec<Band> {
    let lanes = [a, b].map(|bands| bands.iter().map(|&(tone, length)| Run { tone, length }).collect::<Lane>());
    let stretches = lane::beside(&lanes);
    stretches
        .iter()
        .map(|stretch| {
            let halves =
                stretch.tones.iter().flat_map(|tone| tones.all[*tone].parts.iter().map(|(c, s)| (*c, s / 2.0)));
            let parts: Vec<(usize, f64)> = halves.collect();
            (tones.index(&parts), stretch.length())
        })
        .collect()
}

/// What is known of the coloured yarn of one ply plan.
pub struct Yarn<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Index of the ply plan.
    pub index: usize,
    /// What was dealt.
    pub dealt: &'a DealtPlan,
    /// Metres of finished yarn that a gram of fibre gives in each ply.
    pub reach: Vec<f64>,
    /// Metres of yarn of each set.
    pub sets: Vec<f64>,
    /// All tones.
    pub tones: Tones,
}

impl<'a> Yarn<'a> {
    /// The yarn of a ply plan; `None` where no ply has colours.
    pub fn new(book: &Book, plan: &'a Plan, dealt: &'a DealtPlan) -> Option<Self> {
        let plies = &plan.ply_plans[dealt.ply_plan].plies;
        let has_colours =
            |ply: &crate::plan::Ply| ply.supplies().any(|supply| !plan.supplies[supply].sections.is_empty());
        if !plies.iter().any(has_colours) {
            return None;
        }
        let share = |ply: &crate::plan::Ply| {
            let stage = plan.singles[ply.singles].stage();
            book.figure::<crate::units::Share>(&format!("{stage}.share")).value()
        };
        let length = |set: &DealtSet| -> f64 {
            set.skeins.clone().map(|n| book.figure::<Length>(&format!("skein.{n}.length")).value()).sum()
        };
        // As planned: where skeins lie in the colours is asked before they are measured.
        let first = dealt.sets.first()?;
        let per_gram = length(first) / book.figure::<Mass>(&format!("set.{}.weight", first.number)).value();
        let mut yarn = Self {
            plan,
            index: dealt.ply_plan,
            dealt,
            reach: plies.iter().map(|ply| per_gram / share(ply)).collect(),
            sets: dealt.sets.iter().map(length).collect(),
            tones: Tones::default(),
        };
        // Tones are numbered in the order of the plan, whatever is asked first.
        for ply in plies {
            for lot in &ply.lots {
                bands(plan, &mut yarn.tones, *lot, ply.beside);
            }
        }
        Some(yarn)
    }

    /// Metres of all sets together.
    pub fn length(&self) -> f64 {
        self.sets.iter().sum()
    }

    /// The lanes of the plan's own arrangement, set by set, each from the end that was spun first.
    pub fn own_lanes(&mut self, book: &Book) -> Vec<Lanes> {
        let sets: Vec<&DealtSet> = self.dealt.sets.iter().collect();
        sets.iter().map(|set| self.set_lanes(book, set)).collect()
    }

    fn set_lanes(&mut self, book: &Book, set: &DealtSet) -> Lanes {
        let plan = self.plan;
        let singles: Vec<Lane> =
            set.bobbins.iter().enumerate().map(|(ply, bobbin)| self.bobbin_lane(book, ply, bobbin)).collect();
        match plan.yarn.construction {
            Construction::BothEnds => both_ends(&singles[0]),
            _ => singles,
        }
    }

    /// What one bobbin shows, in metres of finished yarn.
    fn bobbin_lane(&mut self, book: &Book, ply: usize, bobbin: &DealtBobbin) -> Lane {
        let weight = |name: String| book.figure::<Mass>(&name).value();
        let mut runs = Lane::new();
        for (k, strip) in bobbin.strips.iter().enumerate() {
            let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
            let beside = strip.beside.map_or(0.0, |_| weight(format!("{name}.beside")));
            let length = (weight(name) + beside) * self.reach[ply];
            runs.extend(self.strip_runs(strip, (bobbin.number, k), length));
        }
        let order = &self.plan.ply_plans[self.index].plies[ply].colour_order;
        if order.is_empty() { runs } else { pulled_apart(&self.tones, &runs, order) }
    }

    /// The runs of what is spun of a strip, so many metres, in the order of spinning.
    fn strip_runs(&mut self, strip: &DealtStrip, turn: (usize, usize), length: f64) -> Lane {
        let mut bands = bands(self.plan, &mut self.tones, strip.supply, strip.beside.map(|(supply, _)| supply));
        if self.plan.supplies[strip.supply].repeat == Some(Repeat::Random) {
            shuffle(&mut bands, turn);
        }
        let (from, to) = strip.along;
        let whole = length / (to - from);
        let runs: Lane = bands.iter().map(|&(tone, share)| Run { tone, length: share * whole }).collect();
        let runs = if strip.from == End::Other { lane::turned(&runs) } else { runs };
        step::first(&beyond(&runs, from * whole), length)
    }

    /// The search for another arrangement, or why there is none.
    pub fn problem(&mut self, book: &Book, wish: Wish) -> Result<Problem, &'static str> {
        let plan = self.plan;
        let ply_plan = &plan.ply_plans[self.index];
        let is_torn =
            self.dealt.sets.iter().flat_map(|set| &set.bobbins).flat_map(|b| &b.strips).any(|s| s.torn.is_some());
        let is_apart = ply_plan.plies.iter().any(|ply| !ply.colour_order.is_empty());
        if is_torn {
            return Err("a braid of it is torn already");
        }
        let is_random = |lot: usize| plan.supplies[lot].repeat == Some(Repeat::Random);
        if ply_plan.plies.iter().flat_map(crate::plan::Ply::supplies).any(is_random) {
            return Err("a braid is dyed in no order, so that none can be found");
        }
        if is_apart {
            return Err("braids are pulled apart, so that their order is yours already");
        }
        if matches!(plan.yarn.construction, Construction::BothEnds) {
            return Err("a ball that is plied from both its ends is one single");
        }
        if ply_plan.plies.len() > MOST_PLIES {
            return Err("so many singles are not laid side by side in a search");
        }
        let mut units = Vec::new();
        let mut plies = Vec::new();
        for (ply, named) in ply_plan.plies.iter().enumerate() {
            let (first, strips) = (units.len(), ply_plan.strips(ply, self.sets.len()) as u32);
            for lot in &named.lots {
                self.lot_units(book, ply, *lot, &mut units);
            }
            plies.push(arrange::Ply { units: (first..units.len()).collect(), strips, from: named.from });
        }
        let kinds = kinds(&units);
        let units: Vec<Unit> = units.into_iter().zip(kinds).map(|(runs, kind)| Unit { runs, kind }).collect();
        let dealing = ply_plan.dealing;
        let is_free = ply_plan.plies.iter().map(|ply| self.is_free(ply)).collect();
        Ok(Problem {
            tones: self.tones.all.clone(),
            strip_choices: strip_choices(&plies, &units, self.sets.len(), dealing),
            own: Arrangement { plies },
            units,
            sets: 1,
            dealing,
            is_free,
            slack: SLACK,
            wish,
        })
    }

    /// One unit for each piece of a lot that a ply takes, all alike, so that they cannot be told apart.
    fn lot_units(&mut self, book: &Book, ply: usize, lot: usize, units: &mut Vec<Lane>) {
        let mut braids: Vec<usize> = Vec::new();
        let mut weight = 0.0;
        for bobbin in self.dealt.sets.iter().map(|set| &set.bobbins[ply]) {
            for (k, strip) in bobbin.strips.iter().enumerate().filter(|(_, strip)| strip.supply == lot) {
                let name = format!("bobbin.{}.strip.{}", bobbin.number, k + 1);
                weight += book.figure::<Mass>(&name).value();
                if strip.beside.is_some() {
                    weight += book.figure::<Mass>(&format!("{name}.beside")).value();
                }
                if !braids.contains(&strip.braid) {
                    braids.push(strip.braid);
                }
            }
        }
        let beside = self.plan.ply_plans[self.index].plies[ply].beside;
        let bands = bands(self.plan, &mut self.tones, lot, beside);
        let length = weight * self.reach[ply] / braids.len().max(1) as f64;
        let runs: Lane = bands.iter().map(|&(tone, share)| Run { tone, length: share * length }).collect();
        units.extend(std::iter::repeat_n(runs, braids.len()));
    }

    /// Plies of the first kind of singles, from one fibre, may exchange what they are spun from.
    fn is_free(&self, ply: &crate::plan::Ply) -> bool {
        let plies = &self.plan.ply_plans[self.index].plies;
        let fibre = |lot: &usize| self.plan.supplies[*lot].fibre;
        let first = &plies[0];
        ply.singles == first.singles
            && ply.beside.is_none()
            && ply.part.is_none()
            && ply.lots.iter().all(|lot| fibre(lot) == fibre(&first.lots[0]))
            && !matches!(self.plan.yarn.construction, Construction::Cabled(_))
    }
}

/// Strips to choose from: they deal out over the sets for every ply, and are no more than anyone tears. Where colours run on from set
/// to set any number does.
pub(super) fn strip_choices(plies: &[arrange::Ply], units: &[Unit], sets: usize, dealing: Dealing) -> Vec<u32> {
    let deals_out = |strips: &u32| {
        plies.iter().all(|ply| {
            let is_one_kind = ply.units.iter().all(|unit| units[*unit].kind == units[ply.units[0]].kind);
            let all = *strips as usize * if is_one_kind { ply.units.len() } else { 1 };
            dealing == Dealing::InOrder || all.is_multiple_of(sets)
        })
    };
    STRIPS.into_iter().filter(deals_out).collect()
}

/// Strips of a braid that are tried for one ply; our choice of what people tear.
const STRIPS: [u32; 7] = [1, 2, 3, 4, 6, 8, 12];

/// Singles side by side that a search lays out at the most.
const MOST_PLIES: usize = 8;

/// Plies may differ in length by this share of their mean; our choice, what a good scale and a steady hand come to.
const SLACK: f64 = 0.02;

/// Bands of a strip that is dyed in no order, in one that may come: seeded by its place, so that the same plan looks the same.
fn shuffle(bands: &mut [Band], (bobbin, strip): (usize, usize)) {
    let mut seed = [0; 32];
    seed[..8].copy_from_slice(b"no order");
    seed[8..16].copy_from_slice(&(bobbin as u64).to_le_bytes());
    seed[16..24].copy_from_slice(&(strip as u64).to_le_bytes());
    let mut stream = ChaCha8Rng::from_seed(seed);
    for last in (1..bands.len()).rev() {
        bands.swap(last, stream.next_u32() as usize % (last + 1));
    }
}

/// By index which units are alike: the number of the first that has the same runs.
fn kinds(units: &[Lane]) -> Vec<usize> {
    let is_like = |a: &Lane, b: &Lane| {
        a.len() == b.len()
            && a.iter().zip(b).all(|(a, b)| a.tone == b.tone && (a.length - b.length).abs() <= 1e-6 * a.length)
    };
    (0..units.len()).map(|i| (0..i).find(|other| is_like(&units[*other], &units[i])).unwrap_or(i)).collect()
}

/// A single that is plied from both its ends, of a lane as long as the yarn: what was spun first meets what was spun last. In the
/// yarn each run lies twice as long, since a strand has half of the weight, and half of the runs lie on each strand.
fn both_ends(single: &Lane) -> Lanes {
    let yarn = lane::length(single);
    let long: Lane = single.iter().map(|run| Run { tone: run.tone, length: 2.0 * run.length }).collect();
    vec![step::first(&long, yarn), step::first(&lane::turned(&long), yarn)]
}

/// Runs pulled apart and joined again colour by colour. A blend goes where most of it belongs.
fn pulled_apart(tones: &Tones, runs: &Lane, order: &[usize]) -> Lane {
    let main = |run: &Run| {
        let parts = &tones.all[run.tone].parts;
        parts.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(usize::MAX, |(colour, _)| *colour)
    };
    order.iter().flat_map(|colour| runs.iter().filter(move |run| main(run) == *colour).copied()).collect()
}

/// Lanes of the whole yarn parted into sets of these lengths.
pub fn parted(lanes: &[Lane], sets: &[f64]) -> Vec<Lanes> {
    let mut rest: Lanes = lanes.to_vec();
    let mut parted = Vec::new();
    for length in sets {
        parted.push(rest.iter().map(|lane| step::first(lane, *length)).collect());
        rest = rest.iter().map(|lane| beyond(lane, *length)).collect();
    }
    parted
}

/// What lies beyond the first metres of a lane.
fn beyond(lane: &Lane, metres: f64) -> Lane {
    let left = lane::length(lane) - metres;
    lane::turned(&step::first(&lane::turned(lane), left.max(0.0)))
}

/// Sets one after the other.
pub fn joined(sets: &[Lanes]) -> Lanes {
    let n_plies = sets.first().map_or(0, Vec::len);
    (0..n_plies).map(|ply| sets.iter().flat_map(|lanes| lanes[ply].iter().copied()).collect()).collect()
}
