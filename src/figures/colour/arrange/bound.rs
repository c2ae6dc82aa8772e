//! How good the best arrangement can be at most, without looking for it.
//!
//! Where the ways of sharing out units among the plies can be listed, the bound is the greatest of theirs; else it is one that
//! holds for all of them. Each part of a score is bounded by itself, from below where it counts against, so that their sum is
//! a bound too. All metres here are those of one lane.

use super::super::lane::Track;
use super::field::Field;
use super::score::{END_WEIGHT, ENDS_OF, perfect_fade, sorted_moment};
use super::sharing::{Shares, sharings};
use super::{Aim, Dealing, Problem};

/// A total that no arrangement of a problem goes beyond, and that one may not reach.
pub fn bound(problem: &Problem) -> f64 {
    let field = Field::new(problem);
    bound_of(&field, sharings(&field).as_deref())
}

/// The bound where the ways of sharing out are known, if they are.
pub(super) fn bound_of(field: &Field<'_>, sharings: Option<&[Shares]>) -> f64 {
    let facts = Facts::new(field);
    let of_all = Case::new(&facts, unknown(field)).total();
    let Some(sharings) = sharings else { return of_all };
    let known = |shares: &Shares| shares.iter().map(|units| Holder { n: 1.0, units: units.clone() }).collect();
    let of_each = sharings.iter().map(|shares| Case::new(&facts, known(shares)).total());
    of_each.fold(f64::MIN, f64::max).min(of_all)
}

/// One ply whose units are known, or several that share units in some way.
struct Holder {
    /// How many plies.
    n: f64,
    units: Vec<usize>,
}

/// The free plies as one holder, and each other ply as one.
fn unknown(field: &Field<'_>) -> Vec<Holder> {
    let is_free = |ply: &usize| field.problem.is_free[*ply];
    let units_of = |ply: usize| field.own[ply].units.clone();
    let (free, kept): (Vec<usize>, Vec<usize>) = (0..field.n_plies()).partition(is_free);
    let mut holders: Vec<Holder> = kept.into_iter().map(|ply| Holder { n: 1.0, units: units_of(ply) }).collect();
    if !free.is_empty() {
        holders.push(Holder { n: free.len() as f64, units: free.into_iter().flat_map(units_of).collect() });
    }
    holders
}

/// What bounds go by whatever ply a unit is on.
struct Facts<'a> {
    field: &'a Field<'a>,
    /// By unit and tone: metres.
    metres: Vec<Vec<f64>>,
    /// By unit and tone: how many runs it has.
    runs: Vec<Vec<f64>>,
    /// By unit and tone: the longest run that a strip can add to, if it is joined at either end by a like one.
    longest: Vec<Vec<f64>>,
    /// By unit: the mean place on the way of a fade, and the moment about the middle of the unsplit unit, in square metres.
    means: Vec<f64>,
    moments: Vec<f64>,
    /// What a perfect fade has, in metres.
    perfect: f64,
    /// Shares of a unit's length that a strip can have, with how many strips of it lie in one lane.
    strips: Vec<(f64, f64)>,
}

impl<'a> Facts<'a> {
    fn new(field: &'a Field<'a>) -> Facts<'a> {
        let problem = field.problem;
        let n_tones = problem.tones.len();
        let strip = |strips: &u32| (problem.strip_share(*strips), problem.strips_in_lane(*strips) as f64);
        let strips: Vec<(f64, f64)> = field.strips.iter().map(strip).collect();
        let widest = strips.iter().map(|(share, _)| *share).fold(0.0, f64::max);
        let mut facts = Facts {
            field,
            metres: Vec::new(),
            runs: Vec::new(),
            longest: Vec::new(),
            means: Vec::new(),
            moments: Vec::new(),
            perfect: perfect_fade(problem),
            strips,
        };
        for unit in &problem.units {
            let track = Track::of(&unit.runs);
            let (mut metres, mut runs, mut longest) = (vec![0.0; n_tones], vec![0.0; n_tones], vec![0.0; n_tones]);
            let whole = track.length();
            for (from, to, tone) in track.runs() {
                metres[tone] += (to - from) * problem.lane_share();
                runs[tone] += 1.0;
                let joined = match (from <= 0.0, to >= whole) {
                    // Strips of one tone join without end.
                    (true, true) => f64::INFINITY,
                    (true, false) | (false, true) => 2.0 * (to - from),
                    (false, false) => to - from,
                };
                longest[tone] = f64::max(longest[tone], joined * widest);
            }
            let (mean, moment) = fade_of(&track, &problem.wish.aim);
            facts.metres.push(metres);
            facts.runs.push(runs);
            facts.longest.push(longest);
            facts.means.push(mean);
            facts.moments.push(moment);
        }
        facts
    }

    fn metres(&self, holder: &Holder, counts: impl Fn(usize) -> f64) -> f64 {
        let of_unit = |unit: &usize| self.metres[*unit].iter().enumerate().map(|(tone, metres)| metres * counts(tone));
        holder.units.iter().flat_map(of_unit).sum()
    }
}

/// The mean place on the way of a fade, and the moment about the middle.
fn fade_of(track: &Track, aim: &Aim) -> (f64, f64) {
    let Aim::Fade { at } = aim else { return (0.0, 0.0) };
    let whole = track.length();
    let sum = track.runs().map(|(from, to, tone)| (to - from) * at[tone]).sum::<f64>();
    let moment = track.runs().map(|(from, to, tone)| (to - from) * (from + to - whole) / 2.0 * at[tone]).sum();
    (if whole > 0.0 { sum / whole } else { 0.0 }, moment)
}

/// One way of sharing out, or all of them together.
struct Case<'a> {
    facts: &'a Facts<'a>,
    holders: Vec<Holder>,
    /// How many plies.
    n: f64,
    /// All the fibre.
    fibre: f64,
    /// The least and the greatest length of the yarn.
    least: f64,
    most: f64,
}

impl<'a> Case<'a> {
    fn new(facts: &'a Facts<'a>, holders: Vec<Holder>) -> Case<'a> {
        let field = facts.field;
        let least_of = |holder: &Holder| if holder.n > 1.0 { field.allowed.0 } else { field.length(&holder.units) };
        let most_of =
            |holder: &Holder| shared_out(holder.units.iter().map(|unit| field.lengths[*unit]).collect(), holder.n);
        Case {
            facts,
            n: holders.iter().map(|holder| holder.n).sum(),
            fibre: holders.iter().map(|holder| field.length(&holder.units)).sum(),
            least: holders.iter().map(least_of).fold(f64::INFINITY, f64::min),
            most: holders.iter().map(most_of).fold(f64::INFINITY, f64::min),
            holders,
        }
    }

    fn total(&self) -> f64 {
        if self.least <= 0.0 {
            // Without a least length of the yarn shares of it are bounded by what shares are.
            return 2.0 + 2.0 * END_WEIGHT;
        }
        let wish = &self.facts.field.problem.wish;
        let ends = self.end(wish.first) + self.end(wish.last);
        let left_over = (1.0 - self.n * self.most / self.fibre).max(0.0);
        self.aim_and_together() - self.apart() + END_WEIGHT * ends - wish.left_over_weight() * left_over
    }

    /// Where no tone holds both colours of a pair, no solid yarn does, so that a metre is not both a stripe and together.
    fn aim_and_together(&self) -> f64 {
        let problem = self.facts.field.problem;
        let pairs = &problem.wish.together;
        let holds =
            |(a, b): &(usize, usize)| problem.tones.iter().any(|tone| tone.share(*a) > 0.0 && tone.share(*b) > 0.0);
        let sum = self.aim() + self.together();
        let is_one_or_other = matches!(problem.wish.aim, Aim::Stripes { .. }) && !pairs.iter().any(holds);
        if is_one_or_other { sum.min(1.0) } else { sum }
    }

    fn aim(&self) -> f64 {
        match &self.facts.field.problem.wish.aim {
            Aim::Stripes { depth_length } => self.stripes(*depth_length),
            Aim::Heather => self.heather(),
            Aim::Fade { .. } => self.fade(),
            Aim::AsItComes => 0.0,
        }
    }

    /// Each ply has the tone wherever it is solid, so that no more is solid than the ply with the least of it has. Runs are no
    /// longer than the ply with the shortest allows, and no more than the ends of runs in all plies can begin.
    fn stripes(&self, depth: Option<f64>) -> f64 {
        let n_tones = self.facts.field.problem.tones.len();
        let of_tone = |tone: usize| {
            let solid = self.solid(tone);
            depth.map_or(solid, |depth| {
                let closeness = (self.longest(tone) / depth).min(1.0);
                (solid * closeness).min(depth * self.n_stripes(tone))
            })
        };
        ((0..n_tones).map(of_tone).sum::<f64>() / self.least).min(1.0)
    }

    fn solid(&self, tone: usize) -> f64 {
        let most = |holder: &Holder| {
            shared_out(holder.units.iter().map(|unit| self.facts.metres[*unit][tone]).collect(), holder.n)
        };
        self.holders.iter().map(most).fold(f64::INFINITY, f64::min)
    }

    fn longest(&self, tone: usize) -> f64 {
        let longest = |unit: &usize| self.facts.longest[*unit][tone];
        let most = |holder: &Holder| holder.units.iter().map(longest).fold(0.0, f64::max);
        self.holders.iter().map(most).fold(f64::INFINITY, f64::min)
    }

    /// What several rows of runs have in common begins no more often than all of them begin, less one for each row but one.
    fn n_stripes(&self, tone: usize) -> f64 {
        let most_strips = self.facts.strips.iter().map(|(_, in_lane)| *in_lane).fold(0.0, f64::max);
        let units = self.holders.iter().flat_map(|holder| &holder.units);
        let runs: f64 = units.map(|unit| self.facts.runs[*unit][tone] * most_strips).sum();
        (runs - (self.n - 1.0)).max(0.0)
    }

    /// All but so much of the fibre beside the yarn is of one tone: where its share in n plies sums to more than n − 1, it must
    /// lie in all of them somewhere, however units are shared out. What it lacks may all stay on the bobbins.
    fn heather(&self) -> f64 {
        let n_tones = self.facts.field.problem.tones.len();
        let of_tone = |tone: usize| -> f64 {
            let metres = |holder| self.facts.metres(holder, |other| if other == tone { 1.0 } else { 0.0 });
            let metres: f64 = self.holders.iter().map(metres).sum();
            (1.0 - (self.fibre - metres) / self.least).max(0.0)
        };
        1.0 - (0..n_tones).map(of_tone).sum::<f64>().min(1.0)
    }

    /// A moment is the sum of that of units as if each had its mean tone, which is greatest where they are sorted, and of those
    /// within strips, which are no more than if all strips that can be turned lay the better way.
    fn fade(&self) -> f64 {
        if self.facts.perfect <= 0.0 {
            return 0.0;
        }
        let moments = self
            .holders
            .iter()
            .map(|holder| if holder.n > 1.0 { self.fade_shared(holder) } else { self.fade_known(holder) });
        (moments.sum::<f64>() / self.facts.perfect).min(1.0)
    }

    fn fade_known(&self, holder: &Holder) -> f64 {
        let Facts { field, moments, .. } = self.facts;
        let one_way: f64 = holder.units.iter().map(|unit| moments[*unit]).sum::<f64>().abs();
        let best_way: f64 = holder.units.iter().map(|unit| moments[*unit].abs()).sum();
        let (sorted, whole) = (self.sorted(holder), field.length(&holder.units));
        let of_strips = |&(share, in_lane): &(f64, f64)| {
            // Of strips that are turned in turn only the odd one of a unit counts, unless the turns keep step with the units.
            let keeps_step = field.problem.dealing == Dealing::Across && holder.units.len().is_multiple_of(2);
            let in_turn = if keeps_step { in_lane } else { in_lane % 2.0 };
            let within = f64::max(one_way * in_lane, best_way * in_turn) * share * share / whole;
            sorted / self.rounds(in_lane) + within
        };
        self.facts.strips.iter().map(of_strips).fold(f64::MIN, f64::max)
    }

    fn fade_shared(&self, holder: &Holder) -> f64 {
        let best_way: f64 = holder.units.iter().map(|unit| self.facts.moments[*unit].abs()).sum();
        let shortest = self.facts.field.allowed.0;
        let within = self.facts.strips.iter().map(|(share, in_lane)| best_way * in_lane * share * share / shortest);
        let rounds = self.facts.strips.iter().map(|(_, in_lane)| self.rounds(*in_lane)).fold(f64::INFINITY, f64::min);
        self.sorted(holder) / rounds + within.fold(0.0, f64::max)
    }

    fn sorted(&self, holder: &Holder) -> f64 {
        let Facts { field, means, .. } = self.facts;
        sorted_moment(holder.units.iter().map(|unit| (means[*unit], field.lengths[*unit])).collect())
    }

    /// How often a lane goes through all its units: rounds are alike, so that none has a moment but within itself, and those
    /// shrink with the square of its length.
    fn rounds(&self, in_lane: f64) -> f64 {
        if self.facts.field.problem.dealing == Dealing::Across { in_lane } else { 1.0 }
    }

    /// The least share of the length where something is shown: a holder that has little else must show it.
    fn least_shown(&self, is_it: impl Fn(usize) -> bool) -> f64 {
        let else_ = |holder: &Holder| self.facts.metres(holder, |tone| if is_it(tone) { 0.0 } else { 1.0 });
        let share = |holder: &Holder| 1.0 - else_(holder) / (holder.n * self.least);
        self.holders.iter().map(share).fold(0.0, f64::max)
    }

    /// Blends that hold both colours of a pair must lie somewhere; and two colours lie side by side where both must be shown on
    /// more than all the length together.
    fn apart(&self) -> f64 {
        let problem = self.facts.field.problem;
        let shows = |tone: usize, colour: usize| problem.tones[tone].share(colour) > 0.0;
        let pairs = &problem.wish.apart;
        let blends = self.least_shown(|tone| pairs.iter().any(|(a, b)| shows(tone, *a) && shows(tone, *b)));
        let both = |(a, b): &(usize, usize)| {
            self.least_shown(|tone| shows(tone, *a)) + self.least_shown(|tone| shows(tone, *b)) - 1.0
        };
        pairs.iter().map(both).fold(blends, f64::max)
    }

    /// A pair is together on no more yarn than the scarcer of its colours can be spread over.
    fn together(&self) -> f64 {
        let problem = self.facts.field.problem;
        let pairs = &problem.wish.together;
        let most = |colour: usize| -> f64 {
            let shows = |tone: usize| if problem.tones[tone].share(colour) > 0.0 { 1.0 } else { 0.0 };
            self.holders.iter().map(|holder| self.facts.metres(holder, shows)).sum::<f64>() / self.least
        };
        let of_pair = |(a, b): &(usize, usize)| most(*a).min(most(*b)).min(1.0);
        if pairs.is_empty() { 0.0 } else { pairs.iter().map(of_pair).sum::<f64>() / pairs.len() as f64 }
    }

    /// No more of a colour lies in an end of the yarn than there is on each ply, nor than an end holds.
    fn end(&self, colour: Option<usize>) -> f64 {
        let Some(colour) = colour else { return 0.0 };
        let tones = &self.facts.field.problem.tones;
        let end = self.least / ENDS_OF;
        let most = |holder: &Holder| {
            let metres = self.facts.metres(holder, |tone| tones[tone].share(colour));
            metres.min(holder.n * end)
        };
        self.holders.iter().map(most).sum::<f64>() / (self.n * end)
    }
}

/// The most that each of n can have where so much is shared out whole. Those that get the greatest parts have enough, so that
/// for any number of them the others share what is left.
fn shared_out(mut parts: Vec<f64>, n: f64) -> f64 {
    parts.sort_by(|a, b| b.total_cmp(a));
    let mut left: f64 = parts.iter().sum();
    let mut most = left / n;
    for (i, part) in parts.iter().enumerate().take(n as usize - 1) {
        left -= part;
        most = most.min(left.max(0.0) / (n - 1.0 - i as f64));
    }
    most
}
