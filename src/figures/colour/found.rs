//! What is laid out, drawn or searched for: the coloured yarns of a plan, and the figures that tell of them.

use std::collections::BTreeSet;

use super::arrange::{self, Budget, Score, Wish};
use super::entered::WorkedPiece;
use super::lane;
use super::quiet::Question;
use super::step::{Hand, Remedy, out_of_step};
use super::tint::{Look, Tint};
use super::ways::{self, Eye, Looking, LostStep, Moment, Searched, Shade, Way, bands};
use super::yarn::{Lanes, Yarn, joined, laid_out, parted};
use super::{Coloured, Colouring};
use crate::figures::assumed;
use crate::figures::deal::Deal;
use crate::figures::ledger::{Bands, Book, How, Line};
use crate::plan::{Aim, Dealing, Plan, Supply, dye};
use crate::units::{Kind, Length, Standing, Wraps};

/// The colouring of a plan, with its figures counted into the book. `pieces` are those that [`super::enter`] gave.
pub fn found(book: &mut Book, plan: &Plan, deal: &Deal, pieces: &[WorkedPiece]) -> Colouring {
    let hand = hand();
    let mut yarns = Vec::new();
    for dealt in &deal.plans {
        let Some(yarn) = Yarn::new(book, plan, dealt) else { continue };
        let own: Vec<&WorkedPiece> = pieces.iter().filter(|piece| piece.ply_plan == dealt.ply_plan).collect();
        let coloured = coloured(book, yarn, own, (hand, deal.plans.len()));
        count(book, plan, &coloured);
        yarns.push(coloured);
    }
    contrasts(book, plan, &yarns);
    repeats(book, plan);
    Colouring { yarns }
}

/// What comes round along each braid, where it has a length by which that is told.
fn repeats(book: &mut Book, plan: &Plan) {
    for supply in plan.whole_lots() {
        let length = supply.length.as_ref().map_or_else(|| laid_out(supply), |length| Some(length.value));
        let dyed = Supply { cut: None, ..supply.clone() }.dyed();
        let (Some(length), Some(repeat)) = (length, dye::read(&dyed).repeat) else { continue };
        book.count(Line {
            name: format!("{}.repeat", supply.place.path),
            words: format!("repeat of {}", supply.name),
            kind: Kind::Length,
            source: "read from the sections: bands are alike within a fifth".to_owned(),
            how: How::Counted {
                words: "the shortest list of bands that comes round at least twice".to_owned(),
                of: Vec::new(),
            },
            ..Line::counted(length * repeat.share, Standing::OurChoice)
        });
    }
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

/// Better ways that are shown beside the plan's own.
const BETTER: usize = 3;

fn coloured(book: &Book, mut yarn: Yarn<'_>, pieces: Vec<&WorkedPiece>, (hand, n_plans): (Hand, usize)) -> Coloured {
    let plan = yarn.plan;
    let own = yarn.own_lanes(book);
    let wish = wish(plan, &yarn, &pieces);
    let asked = wish.map(|wish| yarn.problem(book, wish).map(Question::new));
    let (question, not_searched) = match asked {
        None => (None, None),
        Some(Ok(question)) => (Some(question), None),
        Some(Err(why)) => (None, Some(why)),
    };
    let is_in_order = plan.ply_plans[yarn.index].dealing == Dealing::InOrder;
    let n_drawn = if is_in_order { yarn.sets.len() } else { 1 };
    let widths = widths(book, &yarn, own[0].len());
    let tones = yarn.tones.all.clone();
    let looking = Looking {
        sets: &yarn.sets,
        hand,
        outcomes: (SETS_DRAWN / n_plans / yarn.sets.len()).clamp(*OUTCOMES.start(), *OUTCOMES.end()) as u64,
        n_drawn,
        eye: Eye { plan, tones: &tones, widths: &widths },
    };
    let mut shades = Vec::new();
    let chosen = chosen(question.as_ref(), own, (&yarn, n_plans));
    let searched = chosen.searched;
    let mut ways: Vec<Way> = Vec::new();
    for candidate in chosen.ways {
        let way = way(&looking, candidate, question.as_ref(), &pieces, &mut shades);
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
    let lab = |colour: usize| plan.colours[colour].hex.as_deref().and_then(Tint::of_hex).map(Tint::oklab);
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
    let of_tone = |tone: &lane::Tone| tone.parts.iter().map(|(colour, share)| share * place(*colour)).sum();
    yarn.tones.all.iter().map(of_tone).collect()
}

/// A way before it is looked at.
struct Candidate {
    arrangement: Option<arrange::Arrangement>,
    sets: Vec<Lanes>,
    score: Option<Score>,
}

struct Chosen {
    ways: Vec<Candidate>,
    searched: Option<Searched>,
}

/// The plan's own way and those that meet its wish better.
fn chosen(question: Option<&Question>, own: Vec<Lanes>, (yarn, n_plans): (&Yarn<'_>, usize)) -> Chosen {
    let Some(question) = question else {
        return Chosen { ways: vec![Candidate { arrangement: None, sets: own, score: None }], searched: None };
    };
    let scored = (RUNS_LAID / n_plans / question.runs().max(1)).max(1) as u64;
    let budget = Budget { exact: scored.min(MOST_LISTED), scored, restarts: 6, keep: BETTER + 1 };
    let found = question.best(&budget);
    let searched = Searched {
        compared: found.compared,
        of: found.of,
        is_exact: found.is_exact,
        bound: found.bound,
        own: found.own.total,
        best: found.best[0].1.total,
    };
    let mut ways = vec![Candidate { arrangement: Some(question.own().clone()), sets: own, score: Some(found.own) }];
    let better = found.best.into_iter().filter(|(_, score)| score.total > found.own.total + 1e-9).take(BETTER);
    ways.extend(better.map(|(arrangement, score)| Candidate {
        sets: parted(&question.lanes(&arrangement), &yarn.sets),
        arrangement: Some(arrangement),
        score: Some(score),
    }));
    Chosen { ways, searched: Some(searched) }
}

fn way(
    looking: &Looking<'_>,
    candidate: Candidate,
    question: Option<&Question>,
    pieces: &[&WorkedPiece],
    shades: &mut Vec<Shade>,
) -> Way {
    let Candidate { arrangement, sets, score } = candidate;
    let outcomes = looking.outcomes(&sets, Remedy::None);
    let total =
        question.map(|question| bands(outcomes.iter().map(|sets| question.score(&joined(sets)).total).collect()));
    let stretches: Vec<lane::Stretch> = sets.iter().flat_map(|lanes| lane::beside(lanes)).collect();
    let drawn: f64 = looking.sets[..looking.n_drawn].iter().sum();
    let along = pieces.first().and_then(|piece| {
        let row = piece.row?;
        Some(looking.cloth(&outcomes, (0.0, drawn), row, piece.in_the_round, shades))
    });
    let cloths = pieces.iter().map(|piece| {
        let yarn = ways::yarn_of(piece);
        // Without rows a cloth is drawn in as many lines as can be told apart.
        let row = piece.row.unwrap_or(yarn / 100.0);
        looking.cloth(&outcomes, (piece.from, yarn), row, piece.in_the_round, shades)
    });
    let pieces = cloths.collect();
    Way {
        solid: lane::solid_share(&stretches),
        begins: looking.solid_between(&outcomes, 0.0, 0.25),
        ends: looking.solid_between(&outcomes, 0.75, 1.0),
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

/// Puts the better ways in the order of what is likely once hands bring their doubt, leaves out those that are then no better than the
/// plan's own, and says which cannot be told apart: the likely total of the one lies between low and high of the other.
fn settle(ways: &mut Vec<Way>) {
    let likely = |way: &Way| way.total.map_or(f64::NEG_INFINITY, |total| total.median);
    let own = likely(&ways[0]);
    let mut better = ways.split_off(1);
    better.retain(|way| likely(way) > own);
    better.sort_by(|a, b| likely(b).total_cmp(&likely(a)));
    ways.append(&mut better);
    for i in 1..ways.len() {
        let Some(this) = ways[i].total else { continue };
        ways[i].is_like = (0..i).find(|before| {
            ways[*before].total.is_some_and(|other| {
                (other.low..=other.high).contains(&this.median) && (this.low..=this.high).contains(&other.median)
            })
        });
    }
}

/// So many places along a set are told.
const MOMENTS: usize = 5;

fn lost_step(yarn: &Yarn<'_>, looking: &Looking<'_>, own: &Way, way: usize) -> LostStep {
    let plies = own.sets[0].len();
    let set = yarn.sets[0];
    let outcomes = looking.outcomes(&own.sets, Remedy::None);
    let along = (0..MOMENTS)
        .map(|moment| {
            let (from, to) = (moment as f64 / MOMENTS as f64, (moment + 1) as f64 / MOMENTS as f64);
            let off = (0..looking.outcomes).map(|n| out_of_step(&looking.warps(0, plies, n, Remedy::None), set * to));
            Moment { yarn: set * to, off: bands(off.collect()), solid: looking.solid_between(&outcomes, from, to) }
        })
        .collect();
    let (finest, _) = mean_runs(own);
    let after = (0..looking.outcomes).map(|n| lost_after(&looking.warps(0, plies, n, Remedy::None), set, finest / 2.0));
    let lost_after = bands(after.collect());
    let whole = |remedy| looking.solid_between(&looking.outcomes(&own.sets, remedy), 0.0, 1.0);
    let repeat = repeat(yarn, own);
    let remedies = [Remedy::Restart(repeat), Remedy::MoveFibre, Remedy::FromTheOtherEnd];
    LostStep {
        way,
        along,
        lost_after,
        solid: whole(Remedy::None),
        remedies: remedies.into_iter().map(|remedy| (remedy, whole(remedy))).collect(),
    }
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

/// The shortest and the longest mean run of one tone among the plies of a way that show several, metres; those of all plies where
/// each shows but one.
fn mean_runs(way: &Way) -> (f64, f64) {
    let plies = joined(&way.sets);
    let runs = |lane: &lane::Lane| {
        let changes = lane.windows(2).filter(|pair| pair[0].tone != pair[1].tone).count();
        lane::length(lane) / (changes + 1) as f64
    };
    let several: Vec<f64> = plies.iter().filter(|lane| !is_one_tone(lane)).map(runs).collect();
    let means = if several.is_empty() { plies.iter().map(runs).collect() } else { several };
    (means.iter().copied().fold(f64::INFINITY, f64::min), means.iter().copied().fold(0.0, f64::max))
}

/// Yarn after which plies are out of step by so much for the first time; the whole set where they never are.
fn lost_after(warps: &[super::step::Warp], set: f64, off: f64) -> f64 {
    const PLACES: usize = 200;
    let at = |place: usize| set * (place + 1) as f64 / PLACES as f64;
    (0..PLACES).map(at).find(|yarn| out_of_step(warps, *yarn) >= off).unwrap_or(set)
}

const DRAWN: &str =
    "outcomes of hands that miss, each seeded by its number: plies longer or shorter all along, and wandering";

/// What the draws are made of.
fn with_hands(runs: &[String]) -> Vec<String> {
    let hands = ["all-along", "here-and-there", "forgotten-over"].map(|what| format!("step.{what}"));
    runs.iter().cloned().chain(hands).collect()
}

/// Counts the figures of one coloured yarn into the book.
fn count(book: &mut Book, plan: &Plan, yarn: &Coloured) {
    let name = &plan.ply_plans[yarn.ply_plan].name;
    let plies = 1..=plan.ply_plans[yarn.ply_plan].plies.len();
    let runs = plies.map(|ply| format!("run.{name}.{ply}")).filter(|run| book.find::<Length>(run).is_some());
    let runs: Vec<String> = runs.collect();
    let mut enter = |what: String, words: String, kind: Kind, (value, bands): (f64, Bands), how: &str| {
        book.count(Line {
            name: format!("colour.{name}.{what}"),
            words: format!("{words}, {name}"),
            kind,
            bands,
            source: "plies laid side by side by their runs".to_owned(),
            how: How::Counted {
                words: how.to_owned(),
                of: if how == DRAWN { with_hands(&runs) } else { runs.clone() },
            },
            ..Line::counted(value, Standing::OurChoice)
        });
    };
    let exact = |value: f64| (value, Bands::exact(value));
    let drawn = |bands: Bands| (bands.median, bands);
    let noun_of = |i: usize| if i == 0 { "the plan's own way".to_owned() } else { format!("way {}", i + 1) };
    let mut told: Vec<String> = Vec::new();
    for (i, way) in yarn.ways.iter().enumerate() {
        let (stage, noun) = (format!("way-{}", i + 1), noun_of(i));
        enter(format!("{stage}.solid"), format!("solid share in step, {noun}"), Kind::Share, exact(way.solid), IN_STEP);
        enter(
            format!("{stage}.begins"),
            format!("solid share of the first quarter of a set, {noun}"),
            Kind::Share,
            drawn(way.begins),
            DRAWN,
        );
        enter(
            format!("{stage}.ends"),
            format!("solid share of the last quarter of a set, {noun}"),
            Kind::Share,
            drawn(way.ends),
            DRAWN,
        );
        let (fine, coarse) = mean_runs(way);
        for piece in &yarn.pieces {
            let noun = piece.stage.rsplit('.').next().unwrap_or_default();
            let key = format!("{stage}.{}", piece.stage.replace('.', " "));
            if told.contains(&key) {
                continue;
            }
            for (what, run) in [("fine", fine), ("coarse", coarse)] {
                let words = format!("depth of the {what} runs in {noun}, {noun_of_way}", noun_of_way = noun_of(i));
                enter(format!("{key}.{what}"), words, Kind::Length, exact(run / piece.per_height), IN_STEP);
            }
            told.push(key);
        }
        for look in [Look::Clear, Look::Heathered, Look::Muddy, Look::BarberPole] {
            let shares = way.shares.iter().filter(|(shade, _)| yarn.shades[*shade].look == Some(look));
            let share: f64 = shares.map(|(_, share)| share).sum();
            let words = format!("share that looks {}, {noun}", look_words(look));
            enter(format!("{stage}.looks.{}", look_words(look)), words, Kind::Share, exact(share), LOOKS);
        }
        if let (Some(score), Some(total)) = (&way.score, way.total) {
            enter(
                format!("{stage}.aim"),
                format!("how well the aim is met, {noun}"),
                Kind::Share,
                exact(score.aim),
                SCORED,
            );
            enter(
                format!("{stage}.apart"),
                format!("share where colours to be kept apart meet, {noun}"),
                Kind::Share,
                exact(score.apart),
                SCORED,
            );
            enter(
                format!("{stage}.left-over"),
                format!("fibre left on bobbins, {noun}"),
                Kind::Share,
                exact(score.left_over),
                SCORED,
            );
            enter(
                format!("{stage}.total"),
                format!("all that is wished in one number, {noun}"),
                Kind::Share,
                drawn(total),
                DRAWN,
            );
        }
    }
    for (shade, share) in yarn.ways[0].shares.iter().take(MARLS) {
        let words = shade_words(plan, yarn, *shade);
        enter(format!("share.{words}"), format!("share of {words}"), Kind::Share, exact(*share), IN_STEP);
    }
    if let Some(lost) = &yarn.lost {
        for (i, moment) in lost.along.iter().enumerate() {
            let fifths = i + 1;
            enter(
                format!("off.{fifths}"),
                format!("out of step after {fifths} fifths of a set"),
                Kind::Length,
                drawn(moment.off),
                DRAWN,
            );
            enter(
                format!("solid.{fifths}"),
                format!("solid share of fifth {fifths} of the sets"),
                Kind::Share,
                drawn(moment.solid),
                DRAWN,
            );
        }
        let words = "yarn after which a run of the finest ply is lost".to_owned();
        enter("lost-after".to_owned(), words, Kind::Length, drawn(lost.lost_after), DRAWN);
        enter(
            "as-plied".to_owned(),
            "solid share of all yarn as plied".to_owned(),
            Kind::Share,
            drawn(lost.solid),
            DRAWN,
        );
        for (remedy, solid) in &lost.remedies {
            let (key, words) = remedy_words(*remedy);
            enter(key.to_owned(), format!("solid share of all yarn, {words}"), Kind::Share, drawn(*solid), DRAWN);
        }
    }
    if let Some(searched) = &yarn.searched {
        enter(
            "compared".to_owned(),
            "ways compared".to_owned(),
            Kind::Count,
            exact(searched.compared as f64),
            SEARCHED,
        );
        if let Some(of) = searched.of {
            enter("of".to_owned(), "ways that there are".to_owned(), Kind::Count, exact(of), SEARCHED);
        }
        enter("bound".to_owned(), "no way does better than".to_owned(), Kind::Share, exact(searched.bound), SEARCHED);
    }
}

/// How plies look beside one another, in the words of the craft.
pub fn look_words(look: Look) -> &'static str {
    match look {
        Look::Clear => "clear",
        Look::Heathered => "heathered",
        Look::Muddy => "muddy",
        Look::BarberPole => "barber-pole",
    }
}

/// What lies side by side is told of so many, the commonest first.
const MARLS: usize = 12;

const IN_STEP: &str = "plies laid side by side, as long as no hand misses";
const LOOKS: &str = "clear under a difference of 5, barber-pole from an OKLab lightness of 0.25 apart, muddy where less than half of the chroma \
     stays, else heathered; these limits are our choice";
const SCORED: &str = "scored by what the plan wishes, plies in step";
const SEARCHED: &str = "braids to plies, order, strips and ends: all where they are few, else a search from constant seeds and a proven bound";

/// The names of figures of a remedy, and its words.
pub fn remedy_words(remedy: Remedy) -> (&'static str, &'static str) {
    match remedy {
        Remedy::None => ("as-plied", "as plied"),
        Remedy::Restart(_) => ("restarted", "joined anew at each repeat"),
        Remedy::MoveFibre => ("evened", "bobbins weighed and fibre moved"),
        Remedy::FromTheOtherEnd => ("rewound", "rewound, plied from the end spun first"),
    }
}

/// What lies side by side, in words that may stand in the name of a figure.
fn shade_words(plan: &Plan, yarn: &Coloured, shade: usize) -> String {
    let tone = |tone: &usize| -> String {
        let parts = &yarn.tones[*tone].parts;
        if parts.is_empty() {
            return "undyed".to_owned();
        }
        parts.iter().map(|(colour, _)| plan.colours[*colour].name.clone()).collect::<Vec<_>>().join(" blended with ")
    };
    let shade = &yarn.shades[shade];
    match shade.solid() {
        Some(one) => format!("solid {}", tone(&one)),
        None => shade.tones.iter().map(tone).collect::<Vec<_>>().join(" beside "),
    }
}

/// How far colours differ that lie side by side somewhere in the yarn.
fn contrasts(book: &mut Book, plan: &Plan, yarns: &[Coloured]) {
    let tint = |colour: usize| plan.colours[colour].hex.as_deref().and_then(Tint::of_hex);
    let mut pairs: BTreeSet<(usize, usize)> = BTreeSet::new();
    for yarn in yarns {
        for (shade, _) in yarn.ways[0].shares.iter().take(MARLS) {
            let parts = yarn.shades[*shade].tones.iter().flat_map(|tone| &yarn.tones[*tone].parts);
            let colours: BTreeSet<usize> = parts.map(|(colour, _)| *colour).collect();
            pairs.extend(colours.iter().flat_map(|a| colours.range(a + 1..).map(|b| (*a, *b))));
        }
    }
    let worn = plan.colour_wish.iter().flat_map(|wish| &wish.worn_with);
    let spun = |colour: &usize| plan.supplies.iter().any(|supply| supply.sections.iter().any(|s| s.colour == *colour));
    let spun: Vec<usize> = (0..plan.colours.len()).filter(spun).collect();
    pairs.extend(worn.flat_map(|worn| spun.iter().map(move |own| (*worn, *own))).filter(|(a, b)| a != b));
    for (a, b) in pairs {
        let (Some(one), Some(other)) = (tint(a), tint(b)) else { continue };
        let (a, b) = (&plan.colours[a].name, &plan.colours[b].name);
        let value = one.difference(other);
        book.count(Line {
            name: format!("contrast.{a}.{b}"),
            words: format!("difference of {a} and {b}"),
            kind: Kind::Count,
            source: "G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30 (2005), CIEDE2000".to_owned(),
            how: How::Counted { words: "from the tints of the plan".to_owned(), of: Vec::new() },
            ..Line::counted(value, Standing::Published)
        });
    }
}
