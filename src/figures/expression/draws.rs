//! Draws: all entries together, through the same expressions, ten thousand times (JCGM 101:2008).
//!
//! Each entry has a stream of its own, seeded by its place: a new entry moves no other entry's draws, and alternatives are
//! compared on common draws. The draws are stratified: every entry takes the same ten thousand quantiles of its shape, in
//! an order of its own, so that its median and its bands are exact, and only the company they keep is random.

use std::collections::BTreeSet;
use std::hash::Hash;
use std::sync::{Arc, LazyLock};

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use siphasher::sip128::{Hasher128, SipHasher13};

use super::tape::{Step, Tape};
use super::{Entry, Node, Shape};

/// How many draws are taken.
pub const DRAWS: usize = 10_000;

/// How many draws are worked out at a time, so that a whole tape's columns stay in the nearest cache.
const CHUNK: usize = 512;

/// The draws of some figures of a tape: one column of [`DRAWS`] numbers each, in the order asked for.
///
/// Entries whose place is in `known` are held at their nominal value, as if they had been measured without doubt.
pub fn columns(tape: &Tape, wanted: &[usize], known: &BTreeSet<String>) -> Vec<Vec<f64>> {
    let entries: Vec<Option<Vec<f64>>> = tape
        .steps()
        .iter()
        .map(|step| match step {
            Step::Entry(entry) if entry.uncertainty > 0.0 && !known.contains(&entry.place) => Some(column(entry)),
            _ => None,
        })
        .collect();
    let varies = varying(tape, &entries);
    let mut work: Vec<Vec<f64>> = tape.values().into_iter().map(|value| vec![value; CHUNK]).collect();
    let mut out: Vec<Vec<f64>> = wanted.iter().map(|_| Vec::with_capacity(DRAWS)).collect();
    for from in (0..DRAWS).step_by(CHUNK) {
        let n = CHUNK.min(DRAWS - from);
        for (at, step) in tape.steps().iter().enumerate().filter(|(at, _)| varies[*at]) {
            match (step, &entries[at]) {
                (_, Some(draws)) => work[at][..n].copy_from_slice(&draws[from..from + n]),
                (Step::Apply(function, below), None) => {
                    let mut result = std::mem::take(&mut work[at]);
                    let inputs: Vec<&[f64]> = below.iter().map(|&input| &work[input][..n]).collect();
                    function.column(&inputs, &mut result[..n]);
                    work[at] = result;
                }
                (Step::Entry(_) | Step::Constant(_), None) => {}
            }
        }
        for (column, &at) in out.iter_mut().zip(wanted) {
            column.extend_from_slice(&work[at][..n]);
        }
    }
    out
}

/// Which steps have spread: the entries that are drawn, and what is made of them.
fn varying(tape: &Tape, entries: &[Option<Vec<f64>>]) -> Vec<bool> {
    let mut varies: Vec<bool> = entries.iter().map(Option::is_some).collect();
    for (at, step) in tape.steps().iter().enumerate() {
        if let Step::Apply(_, below) = step {
            varies[at] = below.iter().any(|&input| varies[input]);
        }
    }
    varies
}

/// The draws of one expression alone; for tests and for single questions.
pub fn draws(node: &Arc<Node>) -> Vec<f64> {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("invariant: a tape holds its roots");
    columns(&tape, &[at], &BTreeSet::new()).remove(0)
}

/// The value below which a share of the draws lies. Reorders the column.
pub fn quantile(column: &mut [f64], share: f64) -> f64 {
    let at = ((column.len() as f64 * share).ceil() as usize).clamp(1, column.len()) - 1;
    *column.select_nth_unstable_by(at, f64::total_cmp).1
}

/// The values below which a tenth, half and nine tenths of the draws lie: [`quantile`] of each, in one go. Reorders the column.
///
/// The middle parts the column, so that the other two are looked for in half of it each.
pub fn tenth_half_nine_tenths(column: &mut [f64]) -> [f64; 3] {
    let rank = |share: f64| ((column.len() as f64 * share).ceil() as usize).clamp(1, column.len()) - 1;
    let [tenth, half, nine_tenths] = [0.1, 0.5, 0.9].map(rank);
    let (below, &mut middle, above) = column.select_nth_unstable_by(half, f64::total_cmp);
    let low = if tenth < half { *below.select_nth_unstable_by(tenth, f64::total_cmp).1 } else { middle };
    let high = match nine_tenths.checked_sub(half + 1) {
        Some(at) => *above.select_nth_unstable_by(at, f64::total_cmp).1,
        None => middle,
    };
    [low, middle, high]
}

/// The draws of one entry: the quantiles of its shape, in an order that follows from its place alone.
fn column(entry: &Entry) -> Vec<f64> {
    let table: &[f64] = match entry.shape {
        Shape::Normal | Shape::LogNormal => &NORMAL,
        Shape::Rectangular => &RECTANGULAR,
        Shape::Arcsine => &ARCSINE,
    };
    let mut draws = table.to_vec();
    shuffle(&mut draws, &entry.place);
    if entry.shape == Shape::LogNormal {
        let sigma = log_deviation(entry.value, entry.uncertainty);
        draws.iter_mut().for_each(|z| *z = entry.value * libm::exp(sigma * *z));
    } else {
        draws.iter_mut().for_each(|z| *z = entry.value + entry.uncertainty * *z);
    }
    draws
}

/// Standard deviation of the logarithm of a log-normal number with the given median and standard deviation.
fn log_deviation(median: f64, deviation: f64) -> f64 {
    let relative = deviation / median;
    libm::log((1.0 + (1.0 + 4.0 * relative * relative).sqrt()) / 2.0).sqrt()
}

/// Fisher and Yates's shuffle, by the stream of the place.
fn shuffle(draws: &mut [f64], place: &str) {
    let mut hasher = SipHasher13::new_with_keys(0, 0);
    place.hash(&mut hasher);
    let seed = hasher.finish128();
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.h1.to_le_bytes());
    bytes[8..16].copy_from_slice(&seed.h2.to_le_bytes());
    let mut stream = ChaCha8Rng::from_seed(bytes);
    for last in (1..draws.len()).rev() {
        // Multiply and shift: the bias is below one in 10^5 of a draw for ten thousand places in 2^32.
        let pick = (u64::from(stream.next_u32()) * (last as u64 + 1)) >> 32;
        draws.swap(last, pick as usize);
    }
}

fn midpoints(shape: impl Fn(f64) -> f64) -> Vec<f64> {
    (0..DRAWS).map(|i| shape((i as f64 + 0.5) / DRAWS as f64)).collect()
}

static NORMAL: LazyLock<Vec<f64>> = LazyLock::new(|| midpoints(normal_quantile));
static RECTANGULAR: LazyLock<Vec<f64>> = LazyLock::new(|| midpoints(|p| (2.0 * p - 1.0) * 3f64.sqrt()));
static ARCSINE: LazyLock<Vec<f64>> =
    LazyLock::new(|| midpoints(|p| libm::sin(std::f64::consts::PI * (p - 0.5)) * std::f64::consts::SQRT_2));

/// The quantile of the standard normal distribution, for 0 < p < 1.
///
/// # Source
/// P. J. Acklam's rational approximation (relative error below 1.15e-9; coefficients from memory), then one step of
/// Halley's method on the complementary error function, which leaves only rounding. Checked against scipy in the tests.
pub fn normal_quantile(p: f64) -> f64 {
    let x = acklam(p);
    let excess = 0.5 * libm::erfc(-x / std::f64::consts::SQRT_2) - p;
    let step = excess * (2.0 * std::f64::consts::PI).sqrt() * libm::exp(x * x / 2.0);
    x - step / (1.0 + x * step / 2.0)
}

fn acklam(p: f64) -> f64 {
    const A: [f64; 6] = [
        -39.69683028665376,
        220.9460984245205,
        -275.9285104469687,
        138.357_751_867_269,
        -30.66479806614716,
        2.506628277459239,
    ];
    const B: [f64; 5] =
        [-54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572];
    const C: [f64; 6] = [
        -0.007784894002430293,
        -0.3223964580411365,
        -2.400758277161838,
        -2.549732539343734,
        4.374664141464968,
        2.938163982698783,
    ];
    const D: [f64; 4] = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416];
    let horner = |terms: &[f64], x: f64| terms.iter().fold(0.0, |sum, term| sum * x + term);
    let tail = |p: f64| {
        let q = (-2.0 * libm::log(p)).sqrt();
        horner(&C, q) / (horner(&D, q) * q + 1.0)
    };
    if p < 0.02425 {
        tail(p)
    } else if p > 1.0 - 0.02425 {
        -tail(1.0 - p)
    } else {
        let q = p - 0.5;
        q * horner(&A, q * q) / (horner(&B, q * q) * q * q + 1.0)
    }
}
