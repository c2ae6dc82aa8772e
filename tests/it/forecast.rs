//! What the log says of the yarn still to come: in seeded worlds in which the truth is known, its band holds it as often as it says.

use wheelsheet::figures::forecast::{KindSoFar, SkeinSoFar, SoFar, to_come};

use super::simulated_spinner::Chance;

/// A spinner with a bias, bobbins that differ, and plying that is not what it was taken for.
struct World {
    /// Singles of each bobbin over their target.
    bobbins: Vec<f64>,
    /// What plying and washing make of them, over what it was taken for, of each set.
    sets: Vec<f64>,
    plies: usize,
}

impl World {
    fn new(chance: &mut Chance) -> Self {
        let plies = chance.pick(&[2, 3, 4]);
        let n_sets = chance.pick(&[4, 5, 6]);
        let (bias, folded) = (chance.about_one(0.04), chance.about_one(0.03));
        let differ = chance.between(0.025, 0.055);
        let bobbins = (0..plies * n_sets).map(|_| bias * chance.about_one(differ)).collect();
        let sets = (0..n_sets).map(|_| folded * chance.about_one(0.015)).collect();
        Self { bobbins, sets, plies }
    }

    fn set(&self, k: usize) -> f64 {
        self.singles(k) * self.sets[k]
    }

    fn singles(&self, k: usize) -> f64 {
        let own = &self.bobbins[k * self.plies..(k + 1) * self.plies];
        own.iter().sum::<f64>() / self.plies as f64
    }

    /// Weight per length of all yarn over what was aimed at.
    fn truth(&self) -> f64 {
        (0..self.sets.len()).map(|k| self.set(k)).sum::<f64>() / self.sets.len() as f64
    }

    /// What the log has of the first bobbins, whole sets of them plied, washed and weighed, read with a kitchen scale.
    fn log(&self, n: usize, chance: &mut Chance) -> SoFar {
        const SCALE: f64 = 0.015;
        const SKEIN: f64 = 0.008;
        let n_plied = n / self.plies;
        let read: Vec<f64> = self.bobbins[..n].iter().map(|off| off * chance.about_one(SCALE)).collect();
        let mean = |k: usize| read[k * self.plies..(k + 1) * self.plies].iter().sum::<f64>() / self.plies as f64;
        let all = self.bobbins.len() as f64;
        let skeins = (0..n_plied).map(|k| SkeinSoFar {
            share: self.plies as f64 / all,
            off: self.set(k) * chance.about_one(SKEIN),
            scale: SKEIN,
            singles: Some(mean(k)),
        });
        let skeins = skeins.collect();
        let bobbins = read.iter().enumerate().map(|(i, off)| (*off, SCALE, i < n_plied * self.plies)).collect();
        SoFar { kinds: vec![KindSoFar { share: 1.0, n_bobbins: self.bobbins.len(), bobbins }], skeins }
    }
}

/// All of the yarn: skeins as they are measured, and the rest as it is to come.
fn whole(so_far: &SoFar) -> Option<(f64, f64)> {
    let (value, sd) = to_come(so_far)?;
    let plied: f64 = so_far.skeins.iter().map(|skein| skein.share).sum();
    let measured: f64 = so_far.skeins.iter().map(|skein| skein.share * skein.off).sum();
    let scales = so_far.skeins.iter().map(|skein| skein.share * skein.scale).fold(0.0, f64::hypot);
    Some((measured + (1.0 - plied) * value, scales.hypot((1.0 - plied) * sd)))
}

/// Of so many worlds the share in which the band from 10 to 90 per cent holds the truth, and its mean half width.
fn coverage(n: usize, seed: u64) -> (f64, f64) {
    const WORLDS: u32 = 3000;
    let mut chance = Chance::new(seed);
    let (mut held, mut width) = (0, 0.0);
    for _ in 0..WORLDS {
        let world = World::new(&mut chance);
        let n = n.min(world.bobbins.len());
        let (value, sd) = whole(&world.log(n, &mut chance)).expect("something is measured");
        held += u32::from((world.truth() - value).abs() <= 1.281_552 * sd);
        width += sd;
    }
    (f64::from(held) / f64::from(WORLDS), width / f64::from(WORLDS))
}

/// Standard error of each share: 0.7 per cent.
#[test]
fn the_band_holds_the_truth_as_often_as_it_says() {
    let mut before = f64::INFINITY;
    for n in [2, 5, 10] {
        let (held, width) = coverage(n, 7 + n as u64);
        assert!((0.75..=0.85).contains(&held), "after {n} bobbins: {held}");
        assert!(width < before, "after {n} bobbins the band is {width}, no narrower than {before}");
        before = width;
    }
}

fn of_one_kind(bobbins: Vec<(f64, f64, bool)>, n_bobbins: usize) -> SoFar {
    SoFar { kinds: vec![KindSoFar { share: 1.0, n_bobbins, bobbins }], skeins: Vec::new() }
}

#[test]
fn nothing_measured_says_nothing() {
    assert_eq!(whole(&of_one_kind(Vec::new(), 12)), None);
}

/// A measurement never makes the yarn more doubtful than a practised hand is.
#[test]
fn a_reading_never_widens_the_band() {
    for scale in [0.0, 0.02, 0.2, 2.0] {
        for off in [0.7, 1.0, 1.4] {
            let (value, sd) = whole(&of_one_kind(vec![(off, scale, false)], 2)).expect("something is measured");
            assert!(value.is_finite() && sd > 0.0 && sd <= 0.05, "{off} ± {scale}: {value} ± {sd}");
        }
    }
}

/// A quarter of the yarn that is a fifth too heavy makes all of it a twentieth heavier, whatever is not yet known of the rest.
#[test]
fn kinds_of_singles_count_by_their_share() {
    let silk = KindSoFar { share: 0.25, n_bobbins: 4, bobbins: vec![(1.2, 0.001, false); 4] };
    let wool = KindSoFar { share: 0.75, n_bobbins: 4, bobbins: Vec::new() };
    let (value, _) = whole(&SoFar { kinds: vec![silk, wool], skeins: Vec::new() }).expect("something is measured");
    assert!((value - 1.05).abs() < 1e-9, "{value}");
}
