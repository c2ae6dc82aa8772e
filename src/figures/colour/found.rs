//! What is laid out, drawn or searched for: the coloured yarns of a plan, and the figures that tell of them.

use std::collections::BTreeSet;

use super::arrange::{self, Budget, Score, Wish};
use super::entered::WorkedPiece;
use super::lane;
use super::quiet::Question;
use super::step::{self, Hand, Remedy, Warp, out_of_step};
use super::tint::Tint;
use super::ways::{self, Eye, Looking, LostStep, Moment, Searched, Shade, Way, bands, tint_of, warps_of};
use super::yarn::{Lanes, Yarn, joined, parted};
use super::{Coloured, Colouring, counted};
use crate::figures::assumed;
use crate::figures::deal::Deal;
use crate::figures::ledger::Book;
use crate::plan::{Aim, Dealing, Plan};
use crate::units::Wraps;

/// The colouring of a plan, with its figures counted into the book. `pieces` are those that [`super::enter`] gave.
pub fn found(book: &mut Book, plan: &Plan, deal: &Deal, pieces: &[WorkedPiece]) -> Colouring {
    let hand = hand();
    let mut yarns = Vec::new();
    for dealt in &deal.plans {
        let Some(yarn) = Yarn::new(book, plan, dealt) else { continue };
        let mut own: Vec<&WorkedPiece> = pieces.iter().filter(|piece| piece.ply_plan == dealt.ply_plan).collect();
        // Of pieces that are worked several times the first is looked at.
        let mut seen = BTreeSet::new();
        own.retain(|piece| seen.insert(piece.stage.as_str()));
        let coloured = coloured(book, yarn, own, (hand, deal.plans.len()));
        counted::count(book, plan, &coloured);
        yarns.push(coloured);
    }
    counted::contrasts(book, plan, &yarns);
    counted::repeats(book, plan);
    Colouring { yarns }
}

/// How far hands miss, as standard deviations.
fn hand() -> Hand {
    Hand {
        constant: assumed::STEP_CONSTANT.give_or_take / 2.0,
        wander: assumed::STEP_WANDER.give_or_take / 2.0,
        forgets: assumed::WANDER_LENGTH.value,
    }
}

/// Outcomes that are drawn of sets, fewer of many sets so that a plan of any size takes about as long: all sets together come to
/// about so many, shared by all ply plans.
const SETS_DRAWN: usize = 720;
const OUTCOMES: std::ops::RangeInclusive<usize> = 12..=60;

/// Runs that the searches of a plan lay side by side in all: divided among its ply plans and by those of one arrangement it says how
/// many are scored. A count and no clock, so that the same plan gives the same answer everywhere.
const RUNS_LAID: usize = 6_000_000;

/// Ways are listed and all scored where there are no more: each is kept in memory while it is. Our choice.
const MOST_LISTED: u64 = 20_000;

/// Pieces that are drawn at the most.
pub const PIECES: usize = 3;

/// Better ways that are shown beside the plan's own.
const BETTER: usize = 3;

fn coloured(book: &Book, mut yarn: Yarn<'_>, pieces: Vec<&WorkedPiece>, (hand, n_plans): (Hand, usize)) -> Coloured {
    let plan = yarn.plan;
    let own = yarn.own_lanes(book);
    let wish = wish(plan, &yarn, &pieces);
    let asked = wish.map(|wish| yarn.problem(book, wish).map(|whole| Question::new(whole, yarn.sets.len())));
    let (question, not_searched) = match asked {
        None => (None, None),
        Some(Ok(question)) => (Some(question), None),
        Some(Err(why)) => (None, Some(why)),
    };
    let is_in_order = plan.ply_plans[yarn.index].dealing == Dealing::InOrder;
    let n_drawn = if is_in_order { yarn.sets.len() } else { 1 };
    let widths = widths(book, &yarn, own[0].len());
    let tones = yarn.tones.all.clone();
    let outcomes = (SETS_DRAWN / n_plans / yarn.sets.len()).clamp(*OUTCOMES.start(), *OUTCOMES.end()) as u64;
    let warps = |n: u64| {
        (0..yarn.sets.len()).map(|set| warps_of(&yarn.sets, hand, (n, set), own[0].len(), Remedy::None)).collect()
    };
    let looking = Looking {
        sets: &yarn.sets,
        hand,
        outcomes,
        n_drawn,
        warps: (0..outcomes).map(warps).collect(),
        eye: Eye { plan, tones: &tones, widths: &widths },
    };
    let mut shades = Vec::new();
    let Chosen { ways: candidates, searched } = chosen(question.as_ref(), own, (&yarn, n_plans), &looking);
    let mut ways: Vec<Way> = Vec::new();
    for candidate in candidates {
        let way = way(&looking, candidate, &pieces, &mut shades);
        ways.push(way);
    }
    settle(&mut ways);
    // Told of the way that is best, which is the plan's own where there is no better one.
    let best = ways.len().min(2) - 1;
    let lost = (ways[best].sets[0].len() > 1).then(|| lost_step(&yarn, &looking, &ways[best], best));
    let tints = (0..tones.len()).map(|tone| looking.eye.tint(tone)).collect();
    Coloured {
        tints,
        not_searched,
        ply_plan: yarn.index,
        sets: yarn.sets.clone(),
        n_drawn,
        ways,
        searched,
        lost,
        pieces: pieces.into_iter().cloned().collect(),
        shades,
        tones,
    }
}

/// Visible width of each ply: one over the wraps of its singles. Strands that pass side by side are of one single.
fn widths(book: &Book, yarn: &Yarn<'_>, n_lanes: usize) -> Vec<f64> {
    let plies = &yarn.plan.ply_plans[yarn.index].plies;
    let width = |lane: usize| {
        let kind = &yarn.plan.singles[plies[lane.min(plies.len() - 1)].singles];
        1.0 / book.figure::<Wraps>(&format!("{}.wraps", kind.stage())).value()
    };
    (0..n_lanes).map(width).collect()
}

/// What the plan wishes of this yarn; `None` where it wishes nothing.
fn wish(plan: &Plan, yarn: &Yarn<'_>, pieces: &[&WorkedPiece]) -> Option<Wish> {
    let asked = plan.colour_wish.as_ref()?;
    let aim = match &asked.aim {
        Aim::AsItComes => arrange::Aim::AsItComes,
        Aim::Heather => arrange::Aim::Heather,
        Aim::Stripes(depth) => arrange::Aim::Stripes {
            depth_length: depth.as_ref().and_then(|depth| {
                let piece = pieces.iter().find(|piece| piece.piece.is_some())?;
                Some(depth.value * piece.per_height)
            }),
        },
        Aim::Fade { from, to } => arrange::Aim::Fade { at: faded(plan, yarn, *from, *to) },
    };
    let is_idle = aim == arrange::Aim::AsItComes
        && asked.keep_apart.is_empty()
        && asked.keep_together.is_empty()
        && asked.first.is_none()
        && asked.last.is_none()
        && !asked.least_left_over;
    (!is_idle).then(|| Wish {
        aim,
        apart: asked.keep_apart.clone(),
        together: asked.keep_together.clone(),
        first: asked.first,
        last: asked.last,
        least_left_over: asked.least_left_over,
    })
}

/// The place of each tone on the way of a fade: where its colours lie between the two ends in OKLab, in a straight line from one to
/// the other; a blend lies between its parts. Our choice, since eyes go by lightness and hue alike.
fn faded(plan: &Plan, yarn: &Yarn<'_>, from: usize, to: usize) -> Vec<f64> {
    let lab = |colour: usize| tint_of(plan, colour).map(Tint::oklab);
    let (Some(begins), Some(ends)) = (lab(from), lab(to)) else {
        unreachable!("invariant: the ends of a fade have tints, as check has seen")
    };
    let way: Vec<f64> = begins.iter().zip(ends).map(|(a, b)| b - a).collect();
    let long: f64 = way.iter().map(|step| step * step).sum();
    let place = |colour: usize| {
        let lab = lab(colour).expect("invariant: all colours of a fade have tints, as check has seen");
        let along: f64 = way.iter().zip(lab.iter().zip(begins)).map(|(step, (x, begin))| step * (x - begin)).sum();
        (along / long).clamp(0.0, 1.0)
    };
    let of_tone = |tone: &lane::Tone| match tone.parts.as_slice() {
        // Undyed fibre stands in the middle: it leads neither way.
        [] => 0.5,
        parts => parts.iter().map(|(colour, share)| share * place(*colour)).sum(),
    };
    yarn.tones.all.iter().map(of_tone).collect()
}

/// A way before it is looked at.
struct Candidate {
    arrangement: Option<arrange::Arrangement>,
    sets: Vec<Lanes>,
    score: Option<Score>,
    /// Its total in each outcome.
    totals: Vec<f64>,
}

/// Ways that are best in step, of which those are shown that are best as hands will ply them.
const SHORT_LIST: usize = 24;

struct Chosen {
    ways: Vec<Candidate>,
    searched: Option<Searched>,
}

/// The plan's own way and those that meet its wish better.
fn chosen(
    question: Option<&Question>,
    own: Vec<Lanes>,
    (yarn, n_plans): (&Yarn<'_>, usize),
    looking: &Looking<'_>,
) -> Chosen {
    let Some(question) = question else {
        let own = Candidate { arrangement: None, sets: own, score: None, totals: Vec::new() };
        return Chosen { ways: vec![own], searched: None };
    };
    let scored = (RUNS_LAID / n_plans / question.runs().max(1)).max(1) as u64;
    let budget = Budget { exact: scored.min(MOST_LISTED), scored, restarts: 6, keep: SHORT_LIST };
    let found = question.best(&budget);
    let searched = Searched {
        compared: found.compared,
        of: found.of,
        is_exact: found.is_exact,
        bound: found.bound,
        own: found.own.total,
        best: found.best[0].1.total,
    };
    let candidate = |arrangement, sets: Vec<Lanes>, score| {
        let outcomes = looking.outcomes(&sets, Remedy::None);
        let totals = outcomes.iter().map(|sets| question.score(&joined(sets)).total).collect();
        Candidate { arrangement: Some(arrangement), sets, score: Some(score), totals }
    };
    let own = candidate(question.own().clone(), own, found.own);
    let better = found.best.into_iter().filter(|(_, score)| score.total > found.own.total + 1e-9);
    let better = better.map(|(arrangement, score)| {
        let sets = parted(&question.lanes(&arrangement), &yarn.sets);
        candidate(arrangement, sets, score)
    });
    // Better as plied in more outcomes than not, and then the best of them.
    let mut better: Vec<Candidate> = better.filter(|way| wins(&way.totals, &own.totals) > 0.5).collect();
    better.sort_by(|a, b| bands(b.totals.clone()).median.total_cmp(&bands(a.totals.clone()).median));
    better.truncate(BETTER);
    Chosen { ways: std::iter::once(own).chain(better).collect(), searched: Some(searched) }
}

/// The share of outcomes in which one way does better than another, the same hands spinning both.
fn wins(one: &[f64], other: &[f64]) -> f64 {
    let won = one.iter().zip(other).map(|(a, b)| f64::from(a > b) + 0.5 * f64::from(a == b));
    won.sum::<f64>() / one.len().max(1) as f64
}

fn way(looking: &Looking<'_>, candidate: Candidate, pieces: &[&WorkedPiece], shades: &mut Vec<Shade>) -> Way {
    let Candidate { arrangement, sets, score, totals } = candidate;
    let outcomes = looking.outcomes(&sets, Remedy::None);
    let total = (!totals.is_empty()).then(|| bands(totals.clone()));
    let stretches: Vec<lane::Stretch> = sets.iter().flat_map(|lanes| lane::beside(lanes)).collect();
    let drawn: f64 = looking.sets[..looking.n_drawn].iter().sum();
    let along = pieces.first().and_then(|piece| {
        let row = piece.row?;
        Some(looking.cloth(&outcomes, (0.0, drawn), row, piece.in_the_round, shades))
    });
    let cloths = pieces.iter().take(PIECES).map(|piece| {
        let yarn = ways::yarn_of(piece);
        // Without rows a cloth is drawn in as many lines as can be told apart.
        let row = piece.row.unwrap_or(yarn / 100.0);
        looking.cloth(&outcomes, (piece.from, yarn), row, piece.in_the_round, shades)
    });
    let pieces = cloths.collect();
    Way {
        solid: lane::solid_share(&stretches),
        as_plied: looking.solid_between(&outcomes, 0.0, 1.0),
        totals,
        is_like: None,
        bar: looking.bar(&outcomes),
        along,
        pieces,
        shares: shares(looking, &stretches, shades),
        arrangement,
        sets,
        score,
        total,
    }
}

/// Shares of the yarn by what lies side by side, greatest first.
fn shares(looking: &Looking<'_>, stretches: &[lane::Stretch], shades: &mut Vec<Shade>) -> Vec<(usize, f64)> {
    let whole: f64 = stretches.iter().map(lane::Stretch::length).sum();
    let mut shares: Vec<(usize, f64)> = Vec::new();
    for stretch in stretches {
        let shade = looking.eye.index_of(shades, &stretch.tones);
        match shares.iter_mut().find(|(other, _)| *other == shade) {
            Some((_, share)) => *share += stretch.length() / whole,
            None => shares.push((shade, stretch.length() / whole)),
        }
    }
    shares.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    shares
}

/// Says which ways cannot be told apart: the one that is shown first wins in fewer than eight outcomes of ten.
fn settle(ways: &mut [Way]) {
    const TOLD_APART: f64 = 0.8;
    for i in 1..ways.len() {
        let is_like = |before: &usize| {
            let (first, this) = (&ways[*before].totals, &ways[i].totals);
            // Better ways come after the plan's own, and the better of them first.
            let won = if *before == 0 { wins(this, first) } else { wins(first, this) };
            won < TOLD_APART
        };
        ways[i].is_like = (0..i).find(is_like);
    }
}

/// So many places along a set are told.
const MOMENTS: usize = 5;

/// Draws of how far plies are out of step; more than of fabric, since they cost little.
const DRIFTS: u64 = 1000;

fn lost_step(yarn: &Yarn<'_>, looking: &Looking<'_>, own: &Way, way: usize) -> LostStep {
    let set = yarn.sets[0];
    // A ply of one tone is never seen out of step.
    let plies = own.sets[0].iter().filter(|lane| !is_one_tone(lane)).count();
    let drifts: Vec<Vec<Warp>> =
        (0..DRIFTS).map(|n| warps_of(looking.sets, looking.hand, (n, 0), plies, Remedy::None)).collect();
    let off_after = |plied: f64| drifts.iter().map(move |warps| seen_off(warps, set - plied));
    let outcomes = looking.outcomes(&own.sets, Remedy::None);
    let along = (0..MOMENTS)
        .map(|moment| {
            // Plying begins at the end spun last.
            let (from, to) = (moment as f64 / MOMENTS as f64, (moment + 1) as f64 / MOMENTS as f64);
            Moment {
                yarn: set * to,
                off: bands(off_after(set * to).collect()),
                solid: looking.solid_between(&outcomes, 1.0 - to, 1.0 - from),
            }
        })
        .collect();
    let (finest, _) = mean_runs(own, &yarn.tones.all);
    let lost_after = bands(drifts.iter().map(|warps| lost_after(warps, set, finest / 2.0)).collect());
    let whole = |remedy| looking.solid_between(&looking.outcomes(&own.sets, remedy), 0.0, 1.0);
    let remedies = [Remedy::Restart(repeat(yarn, own)), Remedy::MoveFibre, Remedy::FromTheOtherEnd];
    LostStep {
        way,
        along,
        lost_after,
        solid: own.as_plied,
        remedies: remedies.into_iter().map(|remedy| (remedy, whole(remedy))).collect(),
    }
}

/// How far plies are out of step where that can be seen: of fewer than two that change nothing is.
fn seen_off(warps: &[Warp], place: f64) -> f64 {
    if warps.len() < 2 { 0.0 } else { out_of_step(warps, place) }
}

/// Metres of yarn after which some ply has come to the end of a strip, where it can be told whether the others are in step with it:
/// the strip of the ply that has the most, of those that are not of one colour all along.
fn repeat(yarn: &Yarn<'_>, own: &Way) -> f64 {
    let several: Vec<usize> = (0..own.sets[0].len()).filter(|ply| !is_one_tone(&own.sets[0][*ply])).collect();
    let strips = several.into_iter().map(|ply| match &own.arrangement {
        Some(arrangement) => {
            let ply = &arrangement.plies[ply];
            ply.units.len() * ply.strips as usize / yarn.sets.len()
        }
        None => yarn.dealt.sets[0].bobbins[ply.min(yarn.dealt.sets[0].bobbins.len() - 1)].strips.len(),
    });
    yarn.sets[0] / strips.max().unwrap_or(1).max(1) as f64
}

/// Whether a ply shows one tone all along.
fn is_one_tone(lane: &lane::Lane) -> bool {
    lane.iter().all(|run| run.tone == lane[0].tone)
}

/// The shortest and the longest mean run of one colour among the plies of a way that show several, metres, as far as they are plied;
/// those of all plies where each shows but one. In a blend the colour counts that most of it is.
pub(super) fn mean_runs(way: &Way, tones: &[lane::Tone]) -> (f64, f64) {
    let plied = way.sets.iter().map(|lanes| {
        let shortest = lanes.iter().map(|lane| lane::length(lane)).fold(f64::INFINITY, f64::min);
        lanes.iter().map(|lane| step::first(lane, shortest)).collect::<Lanes>()
    });
    let plies = joined(&plied.collect::<Vec<_>>());
    let runs = |lane: &lane::Lane| {
        let changes =
            lane.windows(2).filter(|pair| main_colour(tones, pair[0].tone) != main_colour(tones, pair[1].tone));
        lane::length(lane) / (changes.count() + 1) as f64
    };
    let several: Vec<f64> = plies.iter().filter(|lane| !is_one_tone(lane)).map(runs).collect();
    let means = if several.is_empty() { plies.iter().map(runs).collect() } else { several };
    (means.iter().copied().fold(f64::INFINITY, f64::min), means.iter().copied().fold(0.0, f64::max))
}

/// The colour that most of a tone is; `None` of undyed fibre.
fn main_colour(tones: &[lane::Tone], tone: usize) -> Option<usize> {
    let parts = tones[tone].parts.iter();
    parts.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0))).map(|(colour, _)| *colour)
}

/// Yarn that is plied when plies are out of step by so much for the first time; the whole set where they never are.
fn lost_after(warps: &[Warp], set: f64, off: f64) -> f64 {
    const PLACES: usize = 200;
    let plied = |place: usize| set * (place + 1) as f64 / PLACES as f64;
    (0..PLACES).map(plied).find(|plied| seen_off(warps, set - plied) >= off).unwrap_or(set)
}
