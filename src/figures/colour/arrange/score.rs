//! How well an arrangement meets a wish, in shares of the length so that each part can be told in words.

use super::super::lane::{self, Cursors, Tone, Track, is_one, walk};
use super::{Arrangement, Problem};

/// What the yarn should look like as a whole.
#[derive(Debug, Clone, PartialEq)]
pub enum Aim {
    /// Clear stripes.
    Stripes {
        /// Metres of yarn in a stripe of the wished depth; `None` where any depth will do.
        depth_length: Option<f64>,
    },
    /// Colours mixed all along.
    Heather,
    /// From one end of a row of tones to the other, once.
    Fade {
        /// The place of each tone on the way, 0 where the yarn should begin and 1 where it should end.
        at: Vec<f64>,
    },
    /// Nothing.
    AsItComes,
}

/// All that is wished of an arrangement. At most 128 colours are named in its pairs, a limit we chose.
#[derive(Debug, Clone, PartialEq)]
pub struct Wish {
    /// What the yarn should look like.
    pub aim: Aim,
    /// Pairs of colours that should not lie side by side, nor in one blend.
    pub apart: Vec<(usize, usize)>,
    /// Pairs of colours that should lie side by side, or in one blend.
    pub together: Vec<(usize, usize)>,
    /// The colour that the yarn should begin with.
    pub first: Option<usize>,
    /// The colour that the yarn should end with.
    pub last: Option<usize>,
    /// Whether as little as can be should stay on the bobbins.
    pub least_left_over: bool,
}

/// How well an arrangement meets a wish.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// How well it does what the yarn should look like. Stripes: the share of the length in stripes, each counted by how near
    /// its depth is to the wished one (the lesser over the greater). Heather: the share of the length that is not solid. Fade:
    /// 1 for the best that this fibre could give if it were pulled apart colour by colour and sorted, 0 for no fade, less than
    /// 0 for one that goes the wrong way. As it comes: 0.
    pub aim: f64,
    /// The share of the length where a pair that should be kept apart lies side by side, or in one blend.
    pub apart: f64,
    /// The share of the length where a pair that should be together is, the mean over the pairs.
    pub together: f64,
    /// The share of the fibre in the first tenth of the yarn that is of the first colour.
    pub first: f64,
    /// The share of the fibre in the last tenth of the yarn that is of the last colour.
    pub last: f64,
    /// The share of the fibre that stays on the bobbins because plies differ in length.
    pub left_over: f64,
    /// The stretch that a metre of the yarn lies in, in the mean, as a share of the length of the yarn.
    pub coarseness: f64,
    /// All of them in one number: aim − apart + together + first ÷ 2 + last ÷ 2 − left over, each where it is wished.
    pub total: f64,
}

/// What a first or last colour counts for beside the aim: it concerns the ends of the yarn only; our choice.
pub(super) const END_WEIGHT: f64 = 0.5;

/// What left-over fibre counts for where the wish says nothing of it: enough to choose among arrangements that look much the
/// same; our choice.
const LEFT_OVER_UNASKED: f64 = 0.05;

/// What coarseness counts for in a heather: of two that are equally mixed the one with shorter stretches is better; our choice.
const COARSENESS_WEIGHT: f64 = 0.01;

/// The first and the last of so many parts of the yarn are its ends; our choice.
pub(super) const ENDS_OF: f64 = 10.0;

impl Wish {
    /// What left-over fibre counts for.
    pub(super) fn left_over_weight(&self) -> f64 {
        if self.least_left_over { 1.0 } else { LEFT_OVER_UNASKED }
    }

    fn coarseness_weight(&self) -> f64 {
        if self.aim == Aim::Heather { COARSENESS_WEIGHT } else { 0.0 }
    }

    fn total(&self, score: &Score) -> f64 {
        score.aim - score.apart + score.together + END_WEIGHT * (score.first + score.last)
            - self.left_over_weight() * score.left_over
            - self.coarseness_weight() * score.coarseness
    }
}

/// Scores one arrangement of a problem.
pub fn score(problem: &Problem, arrangement: &Arrangement) -> Score {
    let tracks: Vec<Track> = problem.lanes(arrangement).iter().map(|lane| Track::of(lane)).collect();
    let tracks: Vec<&Track> = tracks.iter().collect();
    Scorer::new(problem).score(&tracks)
}

/// What scoring goes by, worked out once for all arrangements, and the room it works in.
pub(super) struct Scorer<'a> {
    wish: &'a Wish,
    /// By tone: which of the colours named in pairs it shows, one bit each.
    shows: Vec<u128>,
    apart: Vec<(u128, u128)>,
    together: Vec<(u128, u128)>,
    /// By tone, the share of the first and of the last colour.
    first: Vec<f64>,
    last: Vec<f64>,
    /// The moment of a perfect fade in one lane, in metres.
    fade: f64,
    cursors: Cursors,
}

/// What a walk along the yarn gathers, in metres.
#[derive(Default)]
struct Gathered {
    stripes: f64,
    solid: f64,
    apart: f64,
    together: f64,
    first: f64,
    last: f64,
    squares: f64,
    /// The tone and the length of the stripe that the walk is in.
    stripe: Option<(usize, f64)>,
}

impl<'a> Scorer<'a> {
    pub(super) fn new(problem: &'a Problem) -> Scorer<'a> {
        let wish = &problem.wish;
        let mut named: Vec<usize> = wish.apart.iter().chain(&wish.together).flat_map(|(a, b)| [*a, *b]).collect();
        named.sort_unstable();
        named.dedup();
        assert!(named.len() <= 128, "at most 128 colours are named in pairs");
        let bit = |colour: usize| 1 << named.binary_search(&colour).expect("invariant: it is named");
        let bits = |pairs: &[(usize, usize)]| pairs.iter().map(|(a, b)| (bit(*a), bit(*b))).collect();
        let shows = |tone: &Tone| {
            let holds = |(_, colour): &(usize, &usize)| tone.share(**colour) > 0.0;
            named.iter().enumerate().filter(holds).map(|(i, _)| 1 << i).sum()
        };
        let share_of = |colour: Option<usize>| -> Vec<f64> {
            problem.tones.iter().map(|tone| colour.map_or(0.0, |colour| tone.share(colour))).collect()
        };
        Scorer {
            wish,
            shows: problem.tones.iter().map(shows).collect(),
            apart: bits(&wish.apart),
            together: bits(&wish.together),
            first: share_of(wish.first),
            last: share_of(wish.last),
            fade: perfect_fade(problem),
            cursors: Cursors::default(),
        }
    }

    /// Scores the plies whose tracks these are.
    pub(super) fn score(&mut self, tracks: &[&Track]) -> Score {
        let yarn = lane::shortest(tracks);
        let fibre: f64 = tracks.iter().map(|track| track.length()).sum();
        let gathered = self.gather(tracks, yarn);
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let end_fibre = yarn / ENDS_OF * tracks.len() as f64;
        let mut score = Score {
            aim: match &self.wish.aim {
                Aim::Stripes { .. } => share(gathered.stripes, yarn),
                Aim::Heather => 1.0 - share(gathered.solid, yarn),
                Aim::Fade { at } => share(tracks.iter().map(|track| fade_of(track, at)).sum(), self.fade),
                Aim::AsItComes => 0.0,
            },
            apart: share(gathered.apart, yarn),
            together: share(gathered.together, yarn * self.together.len() as f64),
            first: share(gathered.first, end_fibre),
            last: share(gathered.last, end_fibre),
            left_over: share(fibre - yarn * tracks.len() as f64, fibre).max(0.0),
            coarseness: share(gathered.squares, yarn * yarn),
            total: 0.0,
        };
        score.total = self.wish.total(&score);
        score
    }

    fn gather(&mut self, tracks: &[&Track], yarn: f64) -> Gathered {
        let mut gathered = Gathered::default();
        let mut cursors = std::mem::take(&mut self.cursors);
        let (first_to, last_from) = (yarn / ENDS_OF, yarn - yarn / ENDS_OF);
        walk(tracks, &mut cursors, |from, to, tones| {
            let length = to - from;
            gathered.squares += length * length;
            self.pairs(&mut gathered, length, tones);
            self.stripe(&mut gathered, length, tones);
            if from < first_to {
                gathered.first += (to.min(first_to) - from) * sum_over(tones, &self.first);
            }
            if to > last_from {
                gathered.last += (to - from.max(last_from)) * sum_over(tones, &self.last);
            }
        });
        self.end_stripe(&mut gathered);
        self.cursors = cursors;
        gathered
    }

    fn pairs(&self, gathered: &mut Gathered, length: f64, tones: &[usize]) {
        let shown = tones.iter().fold(0, |shown, tone| shown | self.shows[*tone]);
        let is_shown = |(a, b): &(u128, u128)| shown & a != 0 && shown & b != 0;
        if self.apart.iter().any(is_shown) {
            gathered.apart += length;
        }
        gathered.together += length * self.together.iter().filter(|pair| is_shown(pair)).count() as f64;
    }

    fn stripe(&self, gathered: &mut Gathered, length: f64, tones: &[usize]) {
        if !is_one(tones) {
            self.end_stripe(gathered);
            return;
        }
        gathered.solid += length;
        match &mut gathered.stripe {
            Some((tone, so_far)) if *tone == tones[0] => *so_far += length,
            Some(_) | None => {
                self.end_stripe(gathered);
                gathered.stripe = Some((tones[0], length));
            }
        }
    }

    fn end_stripe(&self, gathered: &mut Gathered) {
        if let (Some((_, length)), Aim::Stripes { depth_length }) = (gathered.stripe.take(), &self.wish.aim) {
            gathered.stripes += length * depth_length.map_or(1.0, |depth| (length / depth).min(depth / length));
        }
    }
}

fn sum_over(tones: &[usize], of: &[f64]) -> f64 {
    tones.iter().map(|tone| of[*tone]).sum()
}

/// The moment of a ply about its middle, over its length: (1 ÷ L) ∫ (x − L ÷ 2) t(x) dx, in metres, t the place of what
/// lies at x on the way of the fade. It is taken over the whole ply, left-over fibre too, so that it is the sum of what its
/// strips give; and over the ply's own length, so that no uneven dealing can do better than [`perfect_fade`].
fn fade_of(track: &Track, at: &[f64]) -> f64 {
    let whole = track.length();
    let moment: f64 = track.runs().map(|(from, to, tone)| (to - from) * ((from + to - whole) / 2.0) * at[tone]).sum();
    if whole > 0.0 { moment / whole } else { 0.0 }
}

/// The greatest sum of moments that any order of all the fibre could give, in one lane, in metres; 0 where no fade is wished.
///
/// A place in a ply, as a share of the ply's length, is spread evenly over all the fibre however that is dealt to plies; the
/// rearrangement inequality says that the sum of products is greatest where both are sorted.
pub(super) fn perfect_fade(problem: &Problem) -> f64 {
    let Aim::Fade { at } = &problem.wish.aim else { return 0.0 };
    let runs = problem.units.iter().flat_map(|unit| &unit.runs);
    let parts: Vec<(f64, f64)> = runs.map(|run| (at[run.tone], run.length)).collect();
    let whole: f64 = parts.iter().map(|(_, length)| length).sum();
    let moment = sorted_moment(parts);
    // What is left by rounding where all is of one tone is no fade.
    if moment > 1e-9 * whole { moment * problem.lane_share() } else { 0.0 }
}

/// The moment over the length of what is `(place on the way, metres)`, once it is sorted, in metres.
pub(super) fn sorted_moment(mut parts: Vec<(f64, f64)>) -> f64 {
    parts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let whole: f64 = parts.iter().map(|(_, length)| length).sum();
    let mut from = 0.0;
    let mut moment = 0.0;
    for (place, length) in parts {
        moment += length * (from + length / 2.0 - whole / 2.0) * place;
        from += length;
    }
    if whole > 0.0 { moment / whole } else { 0.0 }
}

/// Scores lanes as they have turned out, whatever arrangement they come from.
pub fn score_lanes(problem: &Problem, lanes: &[lane::Lane]) -> Score {
    let tracks: Vec<Track> = lanes.iter().map(|lane| Track::of(lane)).collect();
    let tracks: Vec<&Track> = tracks.iter().collect();
    Scorer::new(problem).score(&tracks)
}
