//! Losing step: plies differ in length per weight, by a constant and by a slow wander, and their colours drift apart.
//!
//! Each ply of an outcome runs longer or shorter than it should by a share of its own, all along its bobbin, and by another share
//! that wanders and forgets itself over some metres (an Ornstein-Uhlenbeck process, stepped exactly). A lane begins with what was spun
//! first; what was spun last comes off the bobbins first, so that plying begins at the lane's end, and there plies are in step.
//! Outcomes are seeded by their number alone, so that arrangements are compared on common ones and the same
//! plan gives the same picture everywhere.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

use super::lane::{Lane, Run, length};
use crate::figures::expression::draws::normal_quantile;

/// How far hands miss; shares are standard deviations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hand {
    /// By how much one ply runs longer all along.
    pub constant: f64,
    /// By how much it runs longer here and there.
    pub wander: f64,
    /// Metres over which that is forgotten.
    pub forgets: f64,
}

/// What is done so that plies stay in step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Remedy {
    /// Nothing: plied as it comes.
    None,
    /// Broken and joined anew wherever so many metres of yarn are plied, so that the plies begin in step again.
    Restart(f64),
    /// Rewound once, so that plying begins where spinning began, at the lane's beginning.
    FromTheOtherEnd,
    /// Bobbins weighed and fibre moved until they give one length: what is constant is gone.
    MoveFibre,
}

/// Metres between the places at which a wander is known.
const STEP: f64 = 2.0;

/// For one ply, how many metres of it as planned lie before each place of the yarn, from the end spun first.
#[derive(Debug, Clone, PartialEq)]
pub struct Warp {
    /// At 0, [`STEP`], 2 × [`STEP`]... metres of yarn. Never falls.
    at: Vec<f64>,
}

impl Warp {
    /// Where the ply is when so many metres of yarn are plied.
    pub fn place(&self, yarn: f64) -> f64 {
        let last = self.at.len() - 1;
        let step = (yarn / STEP).max(0.0);
        let k = (step as usize).min(last.saturating_sub(1));
        let next = self.at[(k + 1).min(last)];
        self.at[k] + (next - self.at[k]) * (step - k as f64)
    }
}

/// One way in which a set may turn out: a warp for each ply.
pub fn outcome(number: u64, plies: usize, yarn: f64, hand: &Hand, remedy: Remedy) -> Vec<Warp> {
    (0..plies as u64).map(|ply| warp(number, ply, yarn, hand, remedy)).collect()
}

fn warp(number: u64, ply: u64, yarn: f64, hand: &Hand, remedy: Remedy) -> Warp {
    let mut stream = stream(number, ply);
    let n = (yarn / STEP).ceil() as usize + 1;
    let keeps = libm::exp(-STEP / hand.forgets);
    let fresh = (1.0 - keeps * keeps).sqrt();
    let constant = normal(&mut stream) * if remedy == Remedy::MoveFibre { 0.0 } else { hand.constant };
    let mut wander = normal(&mut stream);
    // By how much the ply is ahead once so many steps are plied.
    let mut ahead = Vec::with_capacity(n + 1);
    let mut off = 0.0;
    for _ in 0..=n {
        ahead.push(off);
        // A ply neither stands still nor runs backwards, however far a hand is off.
        off += STEP * (constant + hand.wander * wander).clamp(-0.9, 0.9);
        wander = keeps * wander + fresh * normal(&mut stream);
    }
    let at_plied = |plied: f64| {
        let step = plied.max(0.0) / STEP;
        let k = (step as usize).min(n - 1);
        ahead[k] + (ahead[k + 1] - ahead[k]) * (step - k as f64)
    };
    let at = (0..=n).map(|k| {
        let place = STEP * k as f64;
        let off = match remedy {
            // What is plied before it lies behind it in the lane.
            Remedy::None | Remedy::MoveFibre => -at_plied(yarn - place),
            Remedy::FromTheOtherEnd => at_plied(place),
            Remedy::Restart(each) => {
                let plied = (yarn - place).max(0.0);
                at_plied((plied / each).floor() * each) - at_plied(plied)
            }
        };
        place + off
    });
    Warp { at: rising(at.collect()) }
}

/// A ply that is broken leaves out or repeats a little of itself; it never runs backwards.
fn rising(mut places: Vec<f64>) -> Vec<f64> {
    for k in 1..places.len() {
        places[k] = places[k].max(places[k - 1]);
    }
    places
}

/// The stream of a ply of an outcome.
fn stream(number: u64, ply: u64) -> ChaCha8Rng {
    let mut seed = [0; 32];
    seed[..8].copy_from_slice(b"in step?");
    seed[8..16].copy_from_slice(&number.to_le_bytes());
    seed[16..24].copy_from_slice(&ply.to_le_bytes());
    ChaCha8Rng::from_seed(seed)
}

fn normal(stream: &mut ChaCha8Rng) -> f64 {
    normal_quantile((f64::from(stream.next_u32()) + 0.5) / (f64::from(u32::MAX) + 1.0))
}

/// Lanes as they lie in the yarn, of lanes as planned; where a ply runs out before the yarn ends, its last run goes on.
pub fn warped(lanes: &[Lane], warps: &[Warp], yarn: f64) -> Vec<Lane> {
    lanes.iter().zip(warps).map(|(lane, warp)| one_warped(lane, warp, yarn)).collect()
}

fn one_warped(lane: &Lane, warp: &Warp, yarn: f64) -> Lane {
    let mut laid = Lane::new();
    // What lies before the yarn begins is not plied; plies that begin off step begin inside their first runs.
    let (mut planned, mut at) = (0.0, 0.0);
    let mut k = 0;
    for (i, run) in lane.iter().enumerate() {
        planned += run.length;
        let is_last = i + 1 == lane.len();
        let end = if is_last { yarn } else { reached(warp, planned, &mut k).clamp(at, yarn) };
        if end > at {
            laid.push(Run { tone: run.tone, length: end - at });
            at = end;
        }
        if at >= yarn {
            break;
        }
    }
    laid
}

/// How much yarn is plied when a ply has come to a place. Asked for rising places, `k` is where the last one was found.
fn reached(warp: &Warp, place: f64, k: &mut usize) -> f64 {
    while *k + 2 < warp.at.len() && warp.at[*k + 1] < place {
        *k += 1;
    }
    let (from, to) = (warp.at[*k], warp.at[*k + 1]);
    let part = if to > from { (place - from) / (to - from) } else { 0.0 };
    STEP * (*k as f64 + part)
}

/// How far plies are out of step at a place of the yarn: from the one that is most ahead to the one most behind.
pub fn out_of_step(warps: &[Warp], yarn: f64) -> f64 {
    let places = || warps.iter().map(|warp| warp.place(yarn));
    places().fold(f64::NEG_INFINITY, f64::max) - places().fold(f64::INFINITY, f64::min)
}

/// So much of a lane as lies within the first metres.
pub fn first(lane: &Lane, metres: f64) -> Lane {
    let mut left = metres;
    let mut kept = Lane::new();
    for run in lane {
        let taken = run.length.min(left);
        if taken > 1e-9 * metres {
            kept.push(Run { tone: run.tone, length: taken });
        }
        left -= taken;
    }
    debug_assert!(length(&kept) <= metres * (1.0 + 1e-9), "no more than was asked for");
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEADY: Hand = Hand { constant: 0.0, wander: 0.0, forgets: 20.0 };
    const USUAL: Hand = Hand { constant: 0.025, wander: 0.04, forgets: 20.0 };

    fn lane() -> Lane {
        (0..40).map(|tone| Run { tone: tone % 4, length: 7.5 }).collect()
    }

    #[test]
    fn a_steady_hand_changes_nothing() {
        let warps = outcome(3, 2, 300.0, &STEADY, Remedy::None);
        let laid = warped(&[lane(), lane()], &warps, 300.0);
        for (found, planned) in laid[0].iter().zip(lane()) {
            assert!((found.length - planned.length).abs() < 1e-9);
        }
        assert!(out_of_step(&warps, 250.0) < 1e-9);
    }

    #[test]
    fn yarn_is_as_long_as_before() {
        for number in 0..50 {
            let warps = outcome(number, 3, 300.0, &USUAL, Remedy::None);
            for laid in warped(&[lane(), lane(), lane()], &warps, 300.0) {
                assert!((length(&laid) - 300.0).abs() < 1e-9);
            }
        }
    }

    /// The variance of the difference of two plies is twice that of one: (constant × x)², and that of an integrated
    /// Ornstein-Uhlenbeck process, 2 s² f (x − f (1 − e^(−x/f))); G. E. Uhlenbeck and L. S. Ornstein, Phys. Rev. 36 (1930), from memory.
    #[test]
    fn plies_lose_step_as_the_process_says() {
        let x = 200.0;
        let off: Vec<f64> = (0..4000)
            .map(|number| {
                let warps = outcome(number, 2, 300.0, &USUAL, Remedy::None);
                warps[0].place(300.0 - x) - warps[1].place(300.0 - x)
            })
            .collect();
        let variance = off.iter().map(|off| off * off).sum::<f64>() / off.len() as f64;
        let Hand { constant, wander, forgets } = USUAL;
        let wandered = 2.0 * wander * wander * forgets * (x - forgets * (1.0 - libm::exp(-x / forgets)));
        let expected = 2.0 * (constant * constant * x * x + wandered);
        assert!((variance / expected - 1.0).abs() < 0.08, "{variance} against {expected}");
    }

    #[test]
    fn every_remedy_does_what_it_says() {
        let mean = |remedy, at: f64| {
            (0..300).map(|i| out_of_step(&outcome(i, 2, 300.0, &USUAL, remedy), at)).sum::<f64>() / 300.0
        };
        // Plying begins at the lane's end, which was spun last.
        assert!(mean(Remedy::None, 300.0) < 1e-6 && mean(Remedy::None, 0.0) > 5.0);
        assert!(mean(Remedy::Restart(30.0), 10.0) < 0.5 * mean(Remedy::None, 10.0));
        assert!(mean(Remedy::MoveFibre, 10.0) < mean(Remedy::None, 10.0));
        assert!(mean(Remedy::FromTheOtherEnd, 0.0) < 1e-6 && mean(Remedy::FromTheOtherEnd, 300.0) > 5.0);
    }
}
