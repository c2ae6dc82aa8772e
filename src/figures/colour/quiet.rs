//! A search for stripes looks past plies of one tone: they quiet every stripe alike and part none, and what is wished of the stripes
//! is asked of the others.

use super::arrange::{self, Aim, Arrangement, Budget, Found, Problem, Score, Unit};
use super::lane::{Lane, Run};
use super::yarn::{Lanes, strip_choices};

/// A problem, and the same without the plies that it looks past.
pub(super) struct Question {
    whole: Problem,
    asked: Problem,
    /// Plies of the whole that are asked about, in order.
    plies: Vec<usize>,
    /// Units of the whole that are asked about, by their index there.
    units: Vec<usize>,
}

impl Question {
    /// `sets` is how many sets the yarn is spun in.
    pub(super) fn new(whole: Problem, sets: usize) -> Self {
        let quiet: Vec<bool> = whole.own.plies.iter().map(|ply| is_quiet(&whole, ply)).collect();
        let looks_past = matches!(whole.wish.aim, Aim::Stripes { .. }) && quiet.contains(&false);
        let plies: Vec<usize> = (0..quiet.len()).filter(|ply| !(looks_past && quiet[*ply])).collect();
        let mut units: Vec<usize> = plies.iter().flat_map(|ply| whole.own.plies[*ply].units.iter().copied()).collect();
        units.sort_unstable();
        let place = |unit: &usize| units.binary_search(unit).expect("invariant: units of the plies are kept");
        let own = plies.iter().map(|ply| {
            let ply = &whole.own.plies[*ply];
            arrange::Ply { units: ply.units.iter().map(place).collect(), ..ply.clone() }
        });
        let own: Vec<arrange::Ply> = own.collect();
        let of_asked: Vec<Unit> = units.iter().map(|unit| whole.units[*unit].clone()).collect();
        let asked = Problem {
            strip_choices: strip_choices(&own, &of_asked, sets, whole.dealing),
            own: Arrangement { plies: own },
            units: of_asked,
            is_free: plies.iter().map(|ply| whole.is_free[*ply]).collect(),
            ..whole.clone()
        };
        Self { whole, asked, plies, units }
    }

    /// Searches, and gives what was found in terms of the whole.
    pub(super) fn best(&self, budget: &Budget) -> Found {
        let mut found = arrange::best(&self.asked, budget);
        for (arrangement, _) in &mut found.best {
            *arrangement = self.of_whole(arrangement);
        }
        found
    }

    fn of_whole(&self, found: &Arrangement) -> Arrangement {
        let mut plies = self.whole.own.plies.clone();
        for (ply, found) in self.plies.iter().zip(&found.plies) {
            let units = found.units.iter().map(|unit| self.units[*unit]).collect();
            plies[*ply] = arrange::Ply { units, ..found.clone() };
        }
        Arrangement { plies }
    }

    /// Scores lanes of the whole as they have turned out.
    pub(super) fn score(&self, lanes: &[Lane]) -> Score {
        let asked: Lanes = self.plies.iter().map(|ply| lanes[*ply].clone()).collect();
        arrange::score_lanes(&self.asked, &asked)
    }

    /// The plan's own arrangement.
    pub(super) fn own(&self) -> &Arrangement {
        &self.whole.own
    }

    /// Lanes of an arrangement of the whole.
    pub(super) fn lanes(&self, arrangement: &Arrangement) -> Lanes {
        self.whole.lanes(arrangement)
    }

    /// Runs that are laid side by side to score one arrangement.
    pub(super) fn runs(&self) -> usize {
        self.asked.lanes(&self.asked.own).iter().map(Vec::len).sum()
    }
}

/// Whether all of a ply is of one tone.
fn is_quiet(problem: &Problem, ply: &arrange::Ply) -> bool {
    let runs = || {
        ply.units.iter().flat_map(|unit: &usize| {
            let Unit { runs, .. } = &problem.units[*unit];
            runs
        })
    };
    let first = runs().next().map(|run: &Run| run.tone);
    runs().all(|run| Some(run.tone) == first)
}
