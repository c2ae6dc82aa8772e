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
const CHUNK: usize = 256;

/// The draws of some figures of a tape: one column of [`DRAWS`] numbers each, in the order asked for.
///
/// Entries whose place is in `known` are held at their nominal value, as if they had been measured without doubt.
pub fn columns(tape: &Tape, wanted: &[usize], known: &BTreeSet<String>) -> Vec<Vec<f64>> {
    let varies = varying(tape, |entry| entry.uncertainty > 0.0 && !known.contains(&entry.place));
    let entries: Vec<Option<Vec<f64>>> = tape
        .steps()
        .iter()
        .zip(&varies)
        .map(|(step, varies)| match step {
            Step::Entry(entry) if *varies => Some(column(entry)),
            _ => None,
        })
        .collect();
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
fn varying(tape: &Tape, is_drawn: impl Fn(&Entry) -> bool) -> Vec<bool> {
    let mut varies: Vec<bool> = Vec::with_capacity(tape.steps().len());
    for step in tape.steps() {
        varies.push(match step {
            Step::Entry(entry) => is_drawn(entry),
            Step::Constant(_) => false,
            Step::Apply(_, below) => below.iter().any(|&input| varies[input]),
        });
    }
    varies
}

/// Five draws of many by their rank: the least, those below which a tenth, half and nine tenths lie, and the greatest.
pub type Ranked = [f64; 5];

/// The ranked draws of the wanted steps, and the whole columns of those to keep.
///
/// Half of a ledger only scales or shifts what stands elsewhere in it: twice the weight has twice the bands, to the last bit,
/// because neither a rising function nor its rounding changes the order of draws. Such steps need no column.
pub fn ranked(tape: &Tape, wanted: &[usize], keep: &[usize]) -> (Vec<Ranked>, Vec<Vec<f64>>) {
    let values = tape.values();
    let leaders = leaders(tape, &values);
    let asked: BTreeSet<usize> = wanted.iter().map(|&at| leaders[at].0).chain(keep.iter().copied()).collect();
    let asked: Vec<usize> = asked.into_iter().collect();
    let mut found = columns(tape, &asked, &BTreeSet::new());
    let column_of = |at: usize| asked.binary_search(&at).expect("invariant: what is looked up was asked for");
    let kept = keep.iter().map(|&at| found[column_of(at)].clone()).collect();
    let mut ranked: Vec<Ranked> = values.iter().map(|&value| [value; 5]).collect();
    for (at, column) in asked.iter().zip(&mut found) {
        ranked[*at] = rank(column);
    }
    for (at, step) in tape.steps().iter().enumerate() {
        let (Step::Apply(function, below), (_, Some(led_by))) = (step, leaders[at]) else { continue };
        ranked[at] = [0, 1, 2, 3, 4].map(|k| {
            let input = |&input: &usize| if input == led_by { ranked[input][k] } else { values[input] };
            function.value(&below.iter().map(input).collect::<Vec<_>>())
        });
    }
    (wanted.iter().map(|&at| ranked[at]).collect(), kept)
}

/// For each step the step whose draws lie in the same order, and the operand through which it follows it; itself where there is none.
fn leaders(tape: &Tape, values: &[f64]) -> Vec<(usize, Option<usize>)> {
    let varies = varying(tape, |entry| entry.uncertainty > 0.0);
    let mut leaders: Vec<(usize, Option<usize>)> = Vec::with_capacity(values.len());
    for (at, step) in tape.steps().iter().enumerate() {
        let follows = match step {
            Step::Apply(function, below) => {
                let mut led = below.iter().enumerate().filter(|(_, input)| varies[**input]);
                let inputs: Vec<f64> = below.iter().map(|&input| values[input]).collect();
                match (led.next(), led.next()) {
                    (Some((k, &input)), None) if function.rises(k, &inputs) => Some(input),
                    _ => None,
                }
            }
            Step::Entry(_) | Step::Constant(_) => None,
        };
        leaders.push((follows.map_or(at, |input: usize| leaders[input].0), follows));
    }
    leaders
}

/// The draws of one expression alone; for tests and for single questions.
pub fn draws(node: &Arc<Node>) -> Vec<f64> {
    let tape = Tape::new([node]);
    let at = tape.find(node).expect("invariant: a tape holds its roots");
    columns(&tape, &[at], &BTreeSet::new()).remove(0)
}

/// The value below which a share of the draws lies. Reorders the column.
pub fn quantile(column: &mut [f64], share: f64) -> f64 {
    let at = rank_of(column.len(), share);
    *column.select_nth_unstable_by(at, f64::total_cmp).1
}

/// The ranked draws of a column, which is reordered. The middle parts the column, so that the rest is looked for in half of it each.
fn rank(column: &mut [f64]) -> Ranked {
    let [tenth, half, nine_tenths] = [0.1, 0.5, 0.9].map(|share| rank_of(column.len(), share));
    let (below, &mut middle, above) = column.select_nth_unstable_by(half, f64::total_cmp);
    let (least, &mut low, _) = below.select_nth_unstable_by(tenth, f64::total_cmp);
    let (_, &mut high, most) = above.select_nth_unstable_by(nine_tenths - half - 1, f64::total_cmp);
    // What is not a number is first or last in this order, so it cannot hide in the middle.
    let least = least.iter().copied().min_by(f64::total_cmp).unwrap_or(low);
    let most = most.iter().copied().max_by(f64::total_cmp).unwrap_or(high);
    [least, low, middle, high, most]
}

/// At which place of so many, in rising order, a share of them is reached.
fn rank_of(n: usize, share: f64) -> usize {
    ((n as f64 * share).ceil() as usize).clamp(1, n) - 1
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
