//! What one way of putting the braids together does to yarn and fabric, with the doubt that hands bring.

use super::arrange::{Arrangement, Score};
use super::entered::WorkedPiece;
use super::lane::{self, Stretch, Tone};
use super::step::{self, Hand, Remedy, Warp};
use super::tint::{Look, Tint, look};
use super::yarn::{Lanes, joined};
use crate::figures::ledger::Bands;
use crate::plan::Plan;

/// One way of putting the braids together.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// What goes where; `None` of the plan's own where nothing can be changed.
    pub arrangement: Option<Arrangement>,
    /// The lanes of all sets, in step.
    pub sets: Vec<Lanes>,
    /// How well it meets the wish, in step.
    pub score: Option<Score>,
    /// The same with the doubt of step: its total.
    pub total: Option<Bands>,
    /// The total of each outcome: ways are compared outcome by outcome, since the same hands spin them.
    pub totals: Vec<f64>,
    /// The share of the yarn that is solid, in step.
    pub solid: f64,
    /// The same as it is plied.
    pub as_plied: Bands,
    /// The way before it, by index, that it cannot be told apart from: hands bring more doubt than there is between them.
    pub is_like: Option<usize>,
    /// Along the yarn that is drawn, how many outcomes in ten are solid, from the beginning on.
    pub bar: Vec<f64>,
    /// The fabric along the yarn that is drawn; `None` where no piece is known.
    pub along: Option<Cloth>,
    /// Each piece of [`super::Coloured::pieces`].
    pub pieces: Vec<Cloth>,
    /// Shares of the yarn by what lies side by side, in step, greatest first: indexes into [`super::Coloured::shades`].
    pub shares: Vec<(usize, f64)>,
}

/// Fabric as columns of stitches, each of them one way in which the yarn may turn out.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// Rows drawn, from the first one worked.
    pub rows: usize,
    /// Column by column, from the first row up: so many rows of one shade, an index into [`super::Coloured::shades`]; `None` where
    /// the yarn has come to its end.
    pub columns: Vec<Vec<(usize, Option<usize>)>>,
}

/// What lies side by side in the yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Shade {
    /// The tones of the plies: in rising order where plies are equally wide, so that their order is no matter.
    pub tones: Vec<usize>,
    /// What the eye makes of it; `None` where a colour has no tint.
    pub tint: Option<Tint>,
    /// How it looks; `None` where a colour has no tint.
    pub look: Option<Look>,
}

impl Shade {
    /// The one tone that all plies show, where they do.
    pub fn solid(&self) -> Option<usize> {
        self.tones.iter().all(|tone| *tone == self.tones[0]).then(|| self.tones[0])
    }
}

/// What was compared in a search.
#[derive(Debug, Clone, PartialEq)]
pub struct Searched {
    /// How many were scored.
    pub compared: u64,
    /// How many there are; `None` where they are too many to count.
    pub of: Option<f64>,
    /// Whether none is better, proven.
    pub is_exact: bool,
    /// No way has a greater total.
    pub bound: f64,
    /// The plan's own total.
    pub own: f64,
    /// The best total.
    pub best: f64,
}

/// How plies lose step.
#[derive(Debug, Clone, PartialEq)]
pub struct LostStep {
    /// Of which way, by index: the best.
    pub way: usize,
    /// Along a set, from where plying begins.
    pub along: Vec<Moment>,
    /// Metres of yarn after which plies are out of step by half of their shortest mean run; the bands stop at the end of the set.
    pub lost_after: Bands,
    /// The share of the yarn that is solid, as it is plied.
    pub solid: Bands,
    /// The same with each remedy.
    pub remedies: Vec<(Remedy, Bands)>,
}

/// Plies after so much yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Moment {
    /// Metres plied.
    pub yarn: f64,
    /// Metres out of step.
    pub off: Bands,
    /// The share that is solid of what is plied since the moment before.
    pub solid: Bands,
}

/// What ways are looked at by.
pub(super) struct Looking<'a> {
    /// Metres of each set.
    pub(super) sets: &'a [f64],
    pub(super) hand: Hand,
    pub(super) outcomes: u64,
    pub(super) n_drawn: usize,
    pub(super) eye: Eye<'a>,
    /// By outcome and set, as plied: the same hands spin every way.
    pub(super) warps: Vec<Vec<Vec<Warp>>>,
}

/// How what lies side by side is seen.
pub(super) struct Eye<'a> {
    pub(super) plan: &'a Plan,
    pub(super) tones: &'a [Tone],
    /// Visible width of each ply.
    pub(super) widths: &'a [f64],
}

/// Columns of stitches that are drawn.
pub(super) const COLUMNS: u64 = 12;

/// Rows that are drawn at the most; of more, some are left out evenly.
const MOST_ROWS: usize = 120;

/// Cells of the bar beside the yarn.
const CELLS: usize = 60;

impl Looking<'_> {
    /// Every outcome of all sets.
    pub(super) fn outcomes(&self, sets: &[Lanes], remedy: Remedy) -> Vec<Vec<Lanes>> {
        let one = |n: u64| {
            let each = sets.iter().enumerate().map(|(set, lanes)| {
                if remedy == Remedy::None {
                    step::warped(lanes, &self.warps[n as usize][set], self.sets[set])
                } else {
                    step::warped(lanes, &warps_of(self.sets, self.hand, (n, set), lanes.len(), remedy), self.sets[set])
                }
            });
            each.collect()
        };
        (0..self.outcomes).map(one).collect()
    }

    /// The share that is solid between two parts of each set.
    pub(super) fn solid_between(&self, outcomes: &[Vec<Lanes>], from: f64, to: f64) -> Bands {
        let share = |sets: &Vec<Lanes>| {
            let (mut solid, mut whole) = (0.0, 0.0);
            for (set, lanes) in sets.iter().enumerate() {
                let (from, to) = (self.sets[set] * from, self.sets[set] * to);
                whole += to - from;
                let inside = |stretch: &Stretch| (stretch.to.min(to) - stretch.from.max(from)).max(0.0);
                solid += lane::beside(lanes).iter().filter(|stretch| stretch.is_solid()).map(inside).sum::<f64>();
            }
            if whole > 0.0 { solid / whole } else { 0.0 }
        };
        bands(outcomes.iter().map(share).collect())
    }

    /// How many outcomes in ten are solid, along the sets that are drawn.
    pub(super) fn bar(&self, outcomes: &[Vec<Lanes>]) -> Vec<f64> {
        let drawn: f64 = self.sets[..self.n_drawn].iter().sum();
        let laid: Vec<Vec<Stretch>> =
            outcomes.iter().map(|sets| lane::beside(&joined(&sets[..self.n_drawn]))).collect();
        let at = |cell: usize| (cell as f64 + 0.5) / CELLS as f64 * drawn;
        let is_solid = |stretches: &Vec<Stretch>, x: f64| stretch_at(stretches, x).is_some_and(Stretch::is_solid);
        let share = |cell| laid.iter().filter(|one| is_solid(one, at(cell))).count() as f64 / laid.len() as f64;
        (0..CELLS).map(share).collect()
    }

    /// Fabric of so much yarn from a place on, in rows of a length.
    pub(super) fn cloth(
        &self,
        outcomes: &[Vec<Lanes>],
        (from, yarn): (f64, f64),
        row: f64,
        in_the_round: bool,
        shades: &mut Vec<Shade>,
    ) -> Cloth {
        let n_rows = ((yarn / row).round() as usize).max(1);
        let rows = n_rows.min(MOST_ROWS);
        let columns = outcomes.iter().take(COLUMNS as usize).enumerate().map(|(column, sets)| {
            let laid: Vec<Vec<Stretch>> = sets.iter().map(|lanes| lane::beside(lanes)).collect();
            let across = (column as f64 + 0.5) / COLUMNS as f64;
            let mut runs: Vec<(usize, Option<usize>)> = Vec::new();
            for drawn in 0..rows {
                let number = drawn * n_rows / rows;
                let goes_back = !in_the_round && number % 2 == 1;
                let x = from + row * (number as f64 + if goes_back { 1.0 - across } else { across });
                let shade = self.at(&laid, x).map(|tones| self.eye.index_of(shades, tones));
                match runs.last_mut() {
                    Some((n, last)) if *last == shade => *n += 1,
                    _ => runs.push((1, shade)),
                }
            }
            runs
        });
        Cloth { rows, columns: columns.collect() }
    }

    /// The tones after so many metres of all sets.
    fn at<'s>(&self, laid: &'s [Vec<Stretch>], x: f64) -> Option<&'s [usize]> {
        let mut left = x;
        for (set, length) in self.sets.iter().enumerate() {
            if left < *length {
                return stretch_at(&laid[set], left).map(|stretch| stretch.tones.as_slice());
            }
            left -= length;
        }
        None
    }
}

/// Sets are spun one after the other: each has hands of its own.
pub(super) fn warps_of(
    sets: &[f64],
    hand: Hand,
    (outcome, set): (u64, usize),
    plies: usize,
    remedy: Remedy,
) -> Vec<Warp> {
    step::outcome(outcome * 1000 + set as u64, plies, sets[set], &hand, remedy)
}

fn stretch_at(stretches: &[Stretch], x: f64) -> Option<&Stretch> {
    stretches.get(stretches.partition_point(|stretch| stretch.to <= x))
}

/// The tint of a colour of the plan, where it has one.
pub(super) fn tint_of(plan: &Plan, colour: usize) -> Option<Tint> {
    plan.colours[colour].hex.as_deref().and_then(Tint::of_hex)
}

/// In which tint fibre without colours is drawn: a natural white; our choice.
const UNDYED: &str = "#eeeeee";

impl Eye<'_> {
    /// The index of what lies side by side, whatever the order of plies that are equally wide.
    pub(super) fn index_of(&self, shades: &mut Vec<Shade>, tones: &[usize]) -> usize {
        let mut tones = tones.to_vec();
        if self.widths.iter().all(|width| (width / self.widths[0] - 1.0).abs() < 1e-9) {
            tones.sort_unstable();
        }
        shades.iter().position(|shade| shade.tones == tones).unwrap_or_else(|| {
            shades.push(self.seen(tones));
            shades.len() - 1
        })
    }

    /// What the eye makes of tones that lie side by side: the mean of their light, each as wide as its ply.
    fn seen(&self, tones: Vec<usize>) -> Shade {
        let parts: Option<Vec<(Tint, f64)>> =
            tones.iter().zip(self.widths).map(|(tone, width)| Some((self.tint(*tone)?, *width))).collect();
        Shade { tones, tint: parts.as_deref().map(Tint::mixed), look: parts.as_deref().map(look) }
    }

    /// The tint of one tone; `None` where one of its colours has none.
    pub(super) fn tint(&self, tone: usize) -> Option<Tint> {
        let parts = self.tones[tone].parts.iter();
        let parts = parts.map(|(colour, share)| Some((tint_of(self.plan, *colour)?, *share)));
        let parts: Vec<(Tint, f64)> = parts.collect::<Option<_>>()?;
        if parts.is_empty() { Tint::of_hex(UNDYED) } else { Some(Tint::mixed(&parts)) }
    }
}

/// Low, likely and high of some outcomes: one in ten, half and nine in ten of them are lower.
pub(super) fn bands(mut found: Vec<f64>) -> Bands {
    found.sort_unstable_by(f64::total_cmp);
    let at = |share: f64| {
        let place = share * (found.len() - 1) as f64;
        let (below, part) = (place.floor() as usize, place.fract());
        found[below] + (found[(below + 1).min(found.len() - 1)] - found[below]) * part
    };
    Bands { low: at(0.1), median: at(0.5), high: at(0.9) }
}

/// The pieces of one yarn, with how much yarn each takes.
pub(super) fn yarn_of(piece: &WorkedPiece) -> f64 {
    piece.size.1 * piece.per_height
}
