//! How near to its target the yarn still to come will be, by what the log has measured so far.
//!
//! The yarn has three parts: skeins that are measured, singles that are spun and not yet plied, and what is still fibre. The first
//! stands as it was measured; the second is known but for what plying and washing do, the third by how this hand has spun so far. Kinds of
//! singles count by their share of the yarn, each by its own bobbins. What nothing is measured of is as near as a practised hand
//! comes; each measurement counts by its weight of evidence, one over its variance.

use super::assumed;
use super::deal::PlannedBobbin;
use super::expression::Figure;
use super::kinds::Spun;
use super::ledger::{Book, Said};
use super::logged::Logged;
use crate::units::format::{percent, significant};
use crate::units::{Mass, Share};

/// How far one bobbin is usually off the next, relative, and for how many bobbins that counts; our choice after a spinner who keeps ten
/// hanks in a row within five per cent.
const BOBBIN_TO_BOBBIN: (f64, f64) = (0.04, 4.0);
/// How far plying and washing are usually off what the plan takes them for, as a share; our choice.
const FOLDED: f64 = 0.03;
/// How far a hand is usually off what it aims at in its singles, as a share: with the doubt of plying, what [`assumed::MISS`] says.
const HAND: f64 = 0.04;
/// How far a hand moves on the whole from what it has spun to what it is still to spin; our choice. Without it, worlds in which the hand
/// drifts are held too seldom.
const MOVES_ON: f64 = 0.01;
/// How far what plying does differs from skein to skein; our choice.
const SKEIN_TO_SKEIN: f64 = 0.015;
/// Bobbins that make a skein, to know how many skeins are to come; only what evens out between them hangs on it.
const BOBBINS_TO_A_SKEIN: f64 = 3.0;

/// An estimate with its standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Known {
    value: f64,
    sd: f64,
}

impl Known {
    /// Two estimates of one thing, each by one over its variance.
    fn with(self, other: Self) -> Self {
        let (a, b) = (1.0 / (self.sd * self.sd), 1.0 / (other.sd * other.sd));
        Self { value: (a * self.value + b * other.value) / (a + b), sd: (1.0 / (a + b)).sqrt() }
    }
}

/// What was measured, as ratios to what was aimed at.
#[derive(Debug, Clone, PartialEq)]
pub struct SoFar {
    /// Kinds of singles; their shares of the yarn's weight add up to one.
    pub kinds: Vec<KindSoFar>,
    /// Measured skeins.
    pub skeins: Vec<SkeinSoFar>,
}

/// What was measured of one kind of singles.
#[derive(Debug, Clone, PartialEq)]
pub struct KindSoFar {
    /// What it is of the weight of the yarn.
    pub share: f64,
    /// Bobbins of it in all, as planned; at least one.
    pub n_bobbins: usize,
    /// Those that are measured: the ratio, how well the scale tells it, and whether it is plied into a measured skein.
    pub bobbins: Vec<(f64, f64, bool)>,
}

/// What was measured of one skein.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkeinSoFar {
    /// What it is of the weight of all yarn.
    pub share: f64,
    /// The ratio.
    pub off: f64,
    /// How well scale and tape tell it.
    pub scale: f64,
    /// The ratio of its singles together, where all of them are measured.
    pub singles: Option<f64>,
}

/// Weight per length of the yarn that is not yet measured as skeins over what was aimed at, with its standard deviation; `None` where
/// nothing is measured.
pub fn to_come(so_far: &SoFar) -> Option<(f64, f64)> {
    if so_far.skeins.is_empty() && so_far.kinds.iter().all(|kind| kind.bobbins.is_empty()) {
        return None;
    }
    let most = assumed::MISS.give_or_take / 2.0;
    let (folded, spread) = (folded(so_far), spread(&so_far.kinds));
    let plied: f64 = so_far.skeins.iter().map(|skein| skein.share).sum::<f64>().min(1.0);
    let parts: Vec<Part> = so_far.kinds.iter().map(|kind| part(kind, so_far, plied, folded, spread)).collect();
    let not_plied: f64 = parts.iter().map(|part| part.share).sum();
    if not_plied < NOTHING {
        return Some((by_share(&so_far.skeins), most));
    }
    // What plying does is one doubt of all that is not yet plied, and how the hand spins one of all fibre of a kind; what differs
    // from bobbin to bobbin, from skein to skein and from weighing to weighing evens out.
    let n: f64 = so_far.kinds.iter().map(|kind| kind.n_bobbins as f64).sum();
    let doubts = [folded.sd, of_mean(SKEIN_TO_SKEIN, not_plied * n / BOBBINS_TO_A_SKEIN)];
    let doubts = doubts.into_iter().chain(parts.iter().map(|part| part.sd / not_plied));
    let singles = parts.iter().map(|part| part.value).sum::<f64>() / not_plied;
    Some((singles * folded.value, doubts.fold(0.0, f64::hypot).min(most)))
}

/// Of the yarn less than this is none.
const NOTHING: f64 = 1e-6;

/// What of one kind is not yet plied into a measured skein.
struct Part {
    /// What it is of the yarn.
    share: f64,
    /// That share times how its singles are over their target.
    value: f64,
    /// The doubt of that, but for what plying does.
    sd: f64,
}

fn part(kind: &KindSoFar, so_far: &SoFar, plied: f64, folded: Known, spread: f64) -> Part {
    let n = kind.n_bobbins as f64;
    let hand = hand(kind, so_far, folded, spread);
    let open: Vec<(f64, f64)> =
        kind.bobbins.iter().filter(|(.., is_plied)| !is_plied).map(|(off, scale, _)| (*off, *scale)).collect();
    let waiting = (open.len() as f64 / n).min(1.0 - plied);
    let to_come = (1.0 - plied - waiting).max(0.0);
    let spun = mean(open.iter().map(|(off, _)| *off)).unwrap_or(1.0);
    let scale = mean(open.iter().map(|(_, scale)| *scale)).unwrap_or(0.0);
    let doubts = [
        waiting * of_mean(scale, open.len() as f64),
        to_come * hand.sd,
        to_come * of_mean(spread, to_come * n),
        to_come * MOVES_ON,
    ];
    Part {
        share: kind.share * (waiting + to_come),
        value: kind.share * (waiting * spun + to_come * hand.value),
        sd: kind.share * doubts.into_iter().fold(0.0, f64::hypot),
    }
}

fn of_mean(sd: f64, n: f64) -> f64 {
    sd / n.max(1.0).sqrt()
}

/// What plying and washing make of the singles, over what the plan takes them for: by skeins whose singles are measured as well, each
/// as well as its own weighing and those of its singles tell it.
fn folded(so_far: &SoFar) -> Known {
    let ratios: Vec<f64> = so_far.skeins.iter().filter_map(|skein| Some(skein.off / skein.singles?)).collect();
    let usual = Known { value: 1.0, sd: FOLDED };
    let Some(value) = mean(ratios.iter().copied()) else { return usual };
    let bobbins = so_far.kinds.iter().flat_map(|kind| &kind.bobbins);
    let of_singles = of_mean(mean(bobbins.map(|(_, scale, _)| *scale)).unwrap_or(0.0), BOBBINS_TO_A_SKEIN);
    let one = SKEIN_TO_SKEIN.hypot(scale_of(&so_far.skeins)).hypot(of_singles);
    usual.with(Known { value, sd: one / (ratios.len() as f64).sqrt() })
}

/// How far bobbins of a kind are off each other: what is measured of this hand, with what is usual for so many bobbins.
fn spread(kinds: &[KindSoFar]) -> f64 {
    let (usual, counts) = BOBBIN_TO_BOBBIN;
    let (mut squares, mut freedom) = (counts * usual * usual, counts);
    for kind in kinds {
        let Some(middle) = mean(kind.bobbins.iter().map(|(off, ..)| *off)) else { continue };
        squares += kind.bobbins.iter().map(|(off, ..)| (off - middle) * (off - middle)).sum::<f64>();
        freedom += kind.bobbins.len() as f64 - 1.0;
    }
    (squares / freedom).sqrt()
}

/// How this hand spins a kind: what is usual, with what it has spun of it so far. Where skeins alone are measured, they stand for their
/// singles; where other kinds alone are, nothing is known of this one.
fn hand(kind: &KindSoFar, so_far: &SoFar, folded: Known, spread: f64) -> Known {
    let usual = Known { value: 1.0, sd: HAND };
    if let Some(off) = mean(kind.bobbins.iter().map(|(off, ..)| *off)) {
        let scale = mean(kind.bobbins.iter().map(|(_, scale, _)| *scale)).unwrap_or(0.0);
        return usual.with(Known { value: off, sd: spread.hypot(scale) / (kind.bobbins.len() as f64).sqrt() });
    }
    if so_far.skeins.is_empty() {
        return usual;
    }
    let scale = scale_of(&so_far.skeins).hypot(folded.sd);
    let sd = spread.hypot(scale) / (so_far.skeins.len() as f64).sqrt();
    usual.with(Known { value: by_share(&so_far.skeins) / folded.value, sd })
}

/// What skeins weigh over what as much length was to weigh: their weight over their length, as shares are of weight.
fn by_share(skeins: &[SkeinSoFar]) -> f64 {
    let shares: f64 = skeins.iter().map(|skein| skein.share).sum();
    let lengths: f64 = skeins.iter().map(|skein| skein.share / skein.off).sum();
    if shares > 0.0 { shares / lengths } else { 1.0 }
}

/// How well scale and tape tell a skein.
fn scale_of(skeins: &[SkeinSoFar]) -> f64 {
    mean(skeins.iter().map(|skein| skein.scale)).unwrap_or(0.0)
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (n, sum) = values.fold((0.0, 0.0), |(n, sum), value| (n + 1.0, sum + value));
    (n > 0.0).then(|| sum / n)
}

/// How near to its target the yarn is that is not yet measured as skeins: by the log where that measures any of it, else as a
/// practised hand spins. `yarn` is what all of it weighs, in grams.
pub fn miss(book: &mut Book, logged: &Logged, singles: &[Spun], bobbins: &[PlannedBobbin], yarn: f64) -> Figure<Share> {
    let Some((value, sd)) = to_come(&so_far(book, logged, singles, bobbins, yarn)) else {
        return book.assume::<Share>(&assumed::MISS);
    };
    let text = format!("{} ± {}", significant(value, 4), percent(2.0 * sd, 1));
    let words = "how near to the target the yarn still to come is, by the log";
    book.likely("spun.miss", words, (value, sd), text, Said::Choice(BY_EVIDENCE))
}

const BY_EVIDENCE: &str = "singles by the bobbins of the log, times what plying makes of them by its skeins, each with what is usual by its weight of evidence";

/// What the log has measured so far.
fn so_far(book: &Book, logged: &Logged, singles: &[Spun], bobbins: &[PlannedBobbin], yarn: f64) -> SoFar {
    let doubt = |name: &str| book.relative_doubt(name).unwrap_or(0.0);
    let is_plied = |number: usize| logged.skeins.iter().any(|skein| skein.bobbins.contains(&number));
    let aimed = |number: usize| singles[bobbins[number - 1].singles].wound.value();
    let all: f64 = (1..=bobbins.len()).map(aimed).sum();
    let kinds = (0..singles.len()).filter_map(|kind| {
        let own: Vec<usize> = (1..=bobbins.len()).filter(|number| bobbins[number - 1].singles == kind).collect();
        let measured =
            logged.bobbins.iter().filter(|bobbin| bobbin.planned.singles == kind).filter_map(|bobbin| {
                Some((bobbin.off?, doubt(&format!("{}.tex", bobbin.stage)), is_plied(bobbin.number)))
            });
        let share = own.iter().map(|number| aimed(*number)).sum::<f64>() / all;
        (!own.is_empty()).then(|| KindSoFar { share, n_bobbins: own.len(), bobbins: measured.collect() })
    });
    let off = |number: usize| logged.bobbin(number)?.off;
    let skeins = logged.skeins.iter().map(|skein| {
        let sums = skein.bobbins.iter().try_fold((0.0, 0.0), |(spun, planned), number| {
            let aimed = bobbins.get(number - 1).map(|_| aimed(*number))?;
            Some((spun + off(*number)? * aimed, planned + aimed))
        });
        SkeinSoFar {
            share: book.figure::<Mass>(&format!("{}.weight", skein.stage)).value() / yarn,
            off: skein.off,
            scale: doubt(&format!("{}.tex", skein.stage)),
            singles: sums.map(|(spun, planned)| spun / planned),
        }
    });
    SoFar { kinds: kinds.collect(), skeins: skeins.collect() }
}
