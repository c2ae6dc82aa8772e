//! What a search may choose from, worked out once: which units are alike, how long plies may be, strips and ends.

use super::super::lane::{self, Track};
use super::{End, Ply, Problem};

/// A problem as the search sees it. Its plies name, for each unit, the first unit of its kind.
pub(super) struct Field<'a> {
    pub(super) problem: &'a Problem,
    /// For each unit the first one of its kind, which stands for all of them.
    pub(super) stand_ins: Vec<usize>,
    /// By unit: whether turning it round changes nothing.
    pub(super) reads_alike: Vec<bool>,
    /// Metres of each unit in one lane.
    pub(super) lengths: Vec<f64>,
    /// Strips to choose from, in rising order.
    pub(super) strips: Vec<u32>,
    /// The plan's own plies.
    pub(super) own: Vec<Ply>,
    /// The least and the greatest length that a ply may have in one lane, in metres.
    pub(super) allowed: (f64, f64),
}

impl<'a> Field<'a> {
    pub(super) fn new(problem: &'a Problem) -> Field<'a> {
        let first_of_kind = |kind: usize| problem.units.iter().position(|unit| unit.kind == kind);
        let kinds = problem.units.iter().map(|unit| first_of_kind(unit.kind));
        let own_strips = problem.own.plies.iter().map(|ply| ply.strips);
        let mut strips: Vec<u32> = problem.strip_choices.iter().copied().chain(own_strips).collect();
        strips.sort_unstable();
        strips.dedup();
        let mut field = Field {
            problem,
            stand_ins: kinds.map(|first| first.expect("invariant: a unit is of its own kind")).collect(),
            reads_alike: problem.units.iter().map(|unit| lane::reads_alike(&unit.runs)).collect(),
            lengths: problem.units.iter().map(|unit| unit.length() * problem.lane_share()).collect(),
            strips,
            own: Vec::new(),
            allowed: (0.0, 0.0),
        };
        field.own = problem.own.plies.iter().map(|ply| field.plainly(ply)).collect();
        field.allowed = field.allowed_lengths();
        field
    }

    /// A ply with stand-ins for its units, and the first of the ends that do the same.
    fn plainly(&self, ply: &Ply) -> Ply {
        let units: Vec<usize> = ply.units.iter().map(|unit| self.stand_ins[*unit]).collect();
        let from = self.plain_end(&units, ply.strips, ply.from);
        Ply { units, strips: ply.strips, from }
    }

    pub(super) fn plain_end(&self, units: &[usize], strips: u32, from: End) -> End {
        if self.ends(units, strips).contains(&from) { from } else { End::Start }
    }

    /// Ends that differ for a ply: turning round what reads alike from both ends changes nothing, nor does taking turns where
    /// there is but one strip.
    pub(super) fn ends(&self, units: &[usize], strips: u32) -> &'static [End] {
        if units.iter().all(|unit| self.reads_alike[*unit]) {
            &[End::Start]
        } else if units.len() * self.problem.strips_in_lane(strips) == 1 {
            &[End::Start, End::Other]
        } else {
            &[End::Start, End::Other, End::Alternate]
        }
    }

    pub(super) fn n_plies(&self) -> usize {
        self.own.len()
    }

    /// The plies whose units may be exchanged.
    pub(super) fn free_plies(&self) -> Vec<usize> {
        (0..self.n_plies()).filter(|ply| self.problem.is_free[*ply]).collect()
    }

    /// Metres of a ply in one lane.
    pub(super) fn length(&self, units: &[usize]) -> f64 {
        units.iter().map(|unit| self.lengths[*unit]).sum()
    }

    /// Mean metres of a ply in one lane.
    pub(super) fn mean_length(&self) -> f64 {
        self.lengths.iter().sum::<f64>() / self.n_plies() as f64
    }

    fn allowed_lengths(&self) -> (f64, f64) {
        let mean = self.mean_length();
        let off = |ply: &Ply| (self.length(&ply.units) - mean).abs();
        // Lengths are summed in another order in each arrangement; a hair lets the plan's own always be allowed.
        let most = self.own.iter().map(off).fold(self.problem.slack * mean, f64::max) + 1e-9 * mean;
        (mean - most, mean + most)
    }

    pub(super) fn is_allowed(&self, length: f64) -> bool {
        self.allowed.0 <= length && length <= self.allowed.1
    }

    /// Lays a ply on a track, in place of what was there.
    pub(super) fn lay(&self, ply: &Ply, track: &mut Track) {
        let share = self.problem.strip_share(ply.strips);
        track.clear();
        self.problem.each_strip(ply, |unit, is_turned| {
            let runs = self.problem.units[unit].runs.iter().copied();
            if is_turned { track.extend(runs.rev(), share) } else { track.extend(runs, share) }
        });
    }

    pub(super) fn track(&self, ply: &Ply) -> Track {
        let mut track = Track::default();
        self.lay(ply, &mut track);
        track
    }
}
