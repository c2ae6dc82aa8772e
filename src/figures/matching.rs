//! A yarn in hand: what can be met of it, what is given up, and what that does to gauge, drape, weight and fibre.
//!
//! Thickness and grist are two wishes, and loft ties them: whoever spins denser yarn than the mill did has the wraps or the
//! grist of it, not both. Where the loft of the yarn in hand lies within what the spinner's may be, both are aimed at.

use super::expression::{Figure, Formula, power};
use super::ledger::Book;
use super::verdict::reaches_one;
use super::{assumed, folding, thickness, twist};
use crate::diagnostics::File;
use crate::plan::{Garment, Keep, Match, Plan};
use crate::units::format::significant;
use crate::units::{Angle, Count, Density, LinearDensity, Loft, Mass, Quantity, Share, Standing, Twist, Wraps, Yield};

/// What the plan itself wishes, before any sample has a say: in numbers of its own, or by a yarn in hand.
#[derive(Default)]
pub struct Wishes {
    in_hand: bool,
    wraps: Option<Figure<Wraps>>,
    density: Option<Figure<LinearDensity>>,
    ply_twist: Option<Figure<Twist>>,
    angle: Option<Figure<Angle>>,
}

impl Wishes {
    /// Wraps of the washed yarn.
    pub fn wraps(&self, book: &mut Book, plan: &Plan) -> Option<Figure<Wraps>> {
        if self.in_hand {
            return self.wraps.clone();
        }
        plan.yarn.wraps.as_ref().map(|wraps| book.reading(wraps, "wraps aimed at").by(&GIVEN))
    }

    /// Linear density of the washed yarn.
    pub fn density(&self, book: &mut Book, plan: &Plan) -> Option<Figure<LinearDensity>> {
        if self.in_hand {
            return self.density.clone();
        }
        plan.yarn.grist.as_ref().map(|grist| book.reading(grist, "weight per length aimed at").by(&GIVEN))
    }

    /// Ply twist of the washed yarn.
    pub fn ply_twist(&self, book: &mut Book, plan: &Plan) -> Option<Figure<Twist>> {
        if self.in_hand {
            return self.ply_twist.clone();
        }
        plan.yarn.ply_twist.as_ref().map(|wish| book.reading(wish, "ply twist aimed at").by(&GIVEN))
    }

    /// Angle of the plies, where no twist is wished.
    pub fn angle(&self, book: &mut Book, plan: &Plan) -> Figure<Angle> {
        self.angle.clone().unwrap_or_else(|| {
            let angle = plan.yarn.angle.as_ref().expect("invariant: check gives an angle where no twist is given");
            book.reading(angle, "angle aimed at").by(&GIVEN)
        })
    }
}

/// How a yarn in hand fares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fate {
    /// What is given up: the wraps, or the grist; `None` where both can be met, or where only one was asked for.
    pub given_up: Option<Keep>,
    /// Whether its plies lean at an angle that is aimed at; its counted twist is, where it has as many plies.
    pub twist: TwistFate,
}

/// What of the twist of a yarn in hand is aimed at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TwistFate {
    /// Its ply twist.
    Counted,
    /// The angle of its plies: as read, or reckoned from a twist that was counted on another number of plies.
    ByAngle,
    /// Nothing, since it says nothing or is a single.
    NotAimedAt,
}

static GIVEN: Formula = Formula { source: "as given", standing: Standing::Standard };
static RATIO: Formula = Formula { source: "ratio of two figures", standing: Standing::Standard };

/// What the plan wishes. A yarn in hand has its figures entered as `match.*`, and of two wishes that cannot both be met one
/// is given up.
pub fn wishes(book: &mut Book, plan: &Plan) -> Wishes {
    let Some(matched) = &plan.yarn.matched else { return Wishes::default() };
    let (wraps, density) = in_hand(book, matched);
    let own = own_loft(book, plan);
    let given_up = given_up(book, matched, wraps.as_ref(), density.as_ref(), &own);
    let (ply_twist, angle) = twist_in_hand(book, plan, matched, wraps.as_ref(), density.as_ref());
    Wishes {
        in_hand: true,
        wraps: wraps.filter(|_| given_up != Some(Keep::Wraps)).map(as_the_yarn_in_hand),
        density: density.filter(|_| given_up != Some(Keep::Grist)).map(as_the_yarn_in_hand),
        ply_twist,
        angle,
    }
}

fn as_the_yarn_in_hand<Q: Quantity>(figure: Figure<Q>) -> Figure<Q> {
    figure.by(&Formula { source: "as the yarn in hand has it", standing: Standing::Standard })
}

/// Wraps and weight per length of the yarn in hand, each where it was read.
fn in_hand(book: &mut Book, matched: &Match) -> (Option<Figure<Wraps>>, Option<Figure<LinearDensity>>) {
    let wraps = matched.wraps.as_ref().map(|wraps| {
        let read = book.reading(wraps, "wraps of the yarn in hand").by(&GIVEN);
        book.enter("match.wraps", "wraps of the yarn in hand", read)
    });
    let density = matched.ball.as_ref().map(|(length, weight)| {
        let length = book.reading(length, "length of the ball");
        let weight = book.reading(weight, "weight of the ball");
        let density =
            book.enter("match.tex", "weight per length of the yarn in hand", folding::weighed(&weight, &length));
        book.enter("match.grist", "grist of the yarn in hand", thickness::yield_of(&density));
        density
    });
    (wraps, density)
}

/// The loft of what this spinner makes of this fibre: the chosen sample's, else the usual one.
fn own_loft(book: &mut Book, plan: &Plan) -> Figure<Loft> {
    let sampled = plan.chosen().and_then(|sample| book.find::<Loft>(&format!("sample.{}.loft", sample.name)));
    let own = match sampled {
        Some(sampled) => super::sample::as_sampled(&sampled),
        None => book.assume::<Loft>(&assumed::LOFT).by(&GIVEN),
    };
    book.enter("match.own-loft", "loft of this spinner and fibre", own)
}

/// What of two wishes is given up. Both can be met where nineteen times in twenty the spinner's loft over that of the yarn in
/// hand may be one, the give-or-take of all their readings included.
fn given_up(
    book: &mut Book,
    matched: &Match,
    wraps: Option<&Figure<Wraps>>,
    density: Option<&Figure<LinearDensity>>,
    own: &Figure<Loft>,
) -> Option<Keep> {
    let grist = thickness::yield_of(density?).named("match.grist", "grist of the yarn in hand");
    let loft = book.enter("match.loft", "loft of the yarn in hand", thickness::loft(wraps?, &grist));
    let apart = book.enter("match.own-loft-ratio", "own loft over that of the yarn in hand", times(own, &loft));
    match matched.keep {
        _ if reaches_one(&apart) => None,
        Keep::Wraps => Some(Keep::Grist),
        Keep::Grist => Some(Keep::Wraps),
    }
}

/// The twist to aim at. Of as many plies, the twist itself; of another number of plies, the angle at which they lean, since
/// thinner plies lean less at the same twist.
fn twist_in_hand(
    book: &mut Book,
    plan: &Plan,
    matched: &Match,
    wraps: Option<&Figure<Wraps>>,
    density: Option<&Figure<LinearDensity>>,
) -> (Option<Figure<Twist>>, Option<Figure<Angle>>) {
    match fate_of_twist(plan, matched) {
        TwistFate::NotAimedAt => (None, None),
        TwistFate::Counted => {
            let twist = matched.ply_twist.as_ref().expect("invariant: a counted twist is there");
            let twist = book.reading(twist, "ply twist of the yarn in hand").by(&GIVEN);
            let twist = book.enter("match.ply-twist", "ply twist of the yarn in hand", twist);
            (Some(as_the_yarn_in_hand(twist)), None)
        }
        TwistFate::ByAngle => {
            let angle = match (&matched.angle, &matched.ply_twist) {
                (Some(angle), _) => book.reading(angle, "angle of the yarn in hand").by(&GIVEN),
                (None, Some(twist)) => {
                    let twist = book.reading(twist, "ply twist of the yarn in hand").by(&GIVEN);
                    let twist = book.enter("match.ply-twist", "ply twist of the yarn in hand", twist);
                    let plies = book.reading(&matched.plies, "plies of the yarn in hand");
                    let singles = singles_in_hand(book, wraps, density, &plies);
                    twist::ply_angle(&twist, &singles, &plies)
                }
                (None, None) => unreachable!("invariant: an angle is aimed at where angle or twist was read"),
            };
            let angle = book.enter("match.angle", "angle of the plies of the yarn in hand", angle);
            (None, Some(as_the_yarn_in_hand(angle)))
        }
    }
}

/// What of the twist of the yarn in hand is aimed at.
pub fn fate_of_twist(plan: &Plan, matched: &Match) -> TwistFate {
    let (theirs, ours) = (matched.plies.value, plan.yarn.plies.value);
    let is_like = (theirs >= 2.0) == (ours >= 2.0);
    // The last twist of a cable is that of its strands.
    let is_counted_alike = theirs == ours && plan.yarn.construction.strands().is_none();
    match (&matched.ply_twist, &matched.angle) {
        (Some(_), _) if is_like && is_counted_alike => TwistFate::Counted,
        (Some(_), _) | (_, Some(_)) if is_like => TwistFate::ByAngle,
        _ => TwistFate::NotAimedAt,
    }
}

/// Wraps of the plies of the yarn in hand, which nobody takes apart: by the rule that serves for the yarn that is spun.
fn singles_in_hand(
    book: &mut Book,
    wraps: Option<&Figure<Wraps>>,
    density: Option<&Figure<LinearDensity>>,
    plies: &Figure<Count>,
) -> Figure<Wraps> {
    let wraps = wraps.cloned().unwrap_or_else(|| {
        let density = density.expect("invariant: check asks for wraps or a ball");
        let usual = book.assume::<Loft>(&assumed::LOFT);
        let grist = thickness::yield_of(density).named("match.grist", "grist of the yarn in hand");
        book.enter("match.wraps", "wraps of the yarn in hand", thickness::wraps(&usual, &grist))
    });
    let thicker = match plies.value() as usize {
        2 => assumed::THICKER_TWO.value,
        3 => assumed::THICKER_THREE.value,
        n => 1.0 + (if n > 6 { n - 1 } else { n }) as f64 / std::f64::consts::PI,
    };
    let thicker = book.choose(
        "match.thicker",
        "its width over that of its plies",
        thicker,
        significant(thicker, 3),
        "the rule that serves for the yarn that is spun; its doubt is in that one",
    );
    book.enter("match.singles-wraps", "wraps of its plies", thickness::singles_wraps(&wraps, &thicker))
}

/// How many times greater a figure of the yarn that is spun is than the same of the yarn in hand.
pub fn times<Q>(ours: &Figure<Q>, theirs: &Figure<Q>) -> Figure<Share>
where
    Q: Quantity + super::expression::dimension::Over<Q, Out = Share>,
{
    (ours / theirs).by(&RATIO)
}

/// Gauge on the same tools, times: (wraps, times)^2p. An estimate; a swatch decides.
///
/// Our choice from conflicting reports: stitches to the inch go with length per weight to the power p, w₂ = w₁ (G₂ ÷ G₁)^p, p
/// between 0.1 (a needle decides) and 0.5 (the yarn decides). Thickness is what stands behind it, and at one loft wraps go with
/// √G; written by wraps it holds for yarns of unlike loft as well.
pub fn gauge(wraps: &Figure<Share>, exponent: &Figure<Share>) -> Figure<Share> {
    power(wraps, &(Figure::<Share>::constant("2", 2.0) * exponent)).by(&ESTIMATE)
}

/// The same from length per weight, where no wraps were read: (grist, times)^p.
pub fn gauge_by_grist(grist: &Figure<Share>, exponent: &Figure<Share>) -> Figure<Share> {
    power(grist, exponent).by(&ESTIMATE)
}

static ESTIMATE: Formula = Formula {
    source: "our choice from conflicting reports of knitters: an estimate, swatch to confirm",
    standing: Standing::OurChoice,
};

/// Weight of the same garment, times: yarn per area goes with the gauge, weight with that and with weight per length.
pub fn garment_weight(gauge: &Figure<Share>, heavier: &Figure<Share>) -> Figure<Share> {
    (gauge * heavier).by(&Formula {
        source: "loop geometry after Munden, J. Textile Inst. 50 (1959): yarn in an area goes with the stitches to the inch",
        standing: Standing::Published,
    })
}

/// Fibre more than the same length of the yarn in hand would take: fibre × (1 − 1 ÷ times heavier).
pub fn more_fibre(fibre: &Figure<Mass>, heavier: &Figure<Share>) -> Figure<Mass> {
    (fibre - fibre / heavier).by(&Formula { source: "weights of the same length", standing: Standing::Standard })
}

/// Enters what the yarn that is aimed at does otherwise than the yarn in hand, where it does; `None` without a yarn in hand.
pub fn effects(book: &mut Book, plan: &Plan) -> Option<Fate> {
    let matched = plan.yarn.matched.as_ref()?;
    let given_up =
        book.find::<Share>("match.own-loft-ratio").filter(|apart| !reaches_one(apart)).map(|_| match matched.keep {
            Keep::Wraps => Keep::Grist,
            Keep::Grist => Keep::Wraps,
        });
    let wraps = differs::<Wraps>(book, "match.wraps-ratio", "wraps", "washed.wraps", "match.wraps");
    let grist = differs::<Yield>(book, "match.grist-ratio", "length per weight", "washed.grist", "match.grist");
    denser(book);
    let gauge = gauge_measured(book, plan).or_else(|| gauge_effect(book, wraps.as_ref(), grist.as_ref()));
    if grist.is_some() {
        let tex = book.figure::<LinearDensity>("match.tex");
        let heavier = times(&book.figure::<LinearDensity>("washed.tex"), &tex);
        let heavier = book.enter("match.fibre-ratio", "fibre for the same length, times", heavier);
        for garment in &plan.garments {
            let fibre = book.figure::<Mass>(&format!("garment.{}.fibre", garment.name));
            let name = format!("match.{}.more-fibre", garment.name);
            let words = format!("fibre that the {} takes more than by the yarn in hand", garment.name);
            book.enter(name, words, more_fibre(&fibre, &heavier));
        }
    }
    weight_effect(book, gauge.as_ref());
    Some(Fate { given_up, twist: fate_of_twist(plan, matched) })
}

/// The ratio of a figure of ours to one of theirs, entered where they are not the same by construction.
fn differs<Q>(book: &mut Book, name: &str, what: &str, ours: &str, theirs: &str) -> Option<Figure<Share>>
where
    Q: Quantity + super::expression::dimension::Over<Q, Out = Share>,
{
    let ratio = times(&book.find::<Q>(ours)?, &book.find::<Q>(theirs)?);
    let is_same = (ratio.value() - 1.0).abs() < SAME;
    (!is_same).then(|| book.enter(name, format!("{what} against the yarn in hand, times"), ratio))
}

/// Figures that differ by less are the same figure.
const SAME: f64 = 1e-9;

/// Density against that of the yarn in hand: denser is firmer, and drapes less.
fn denser(book: &mut Book) {
    let Some(theirs) = book.find::<Loft>("match.loft") else { return };
    let ours = book.figure::<Loft>("washed.loft");
    let ratio = times(&ours, &theirs);
    if (ratio.value() - 1.0).abs() < SAME {
        return;
    }
    book.enter("match.loft-ratio", "loft against the yarn in hand, times", ratio);
    let density: Figure<Density> = thickness::yarn_density(&theirs);
    let density = book.enter("match.density", "density of the yarn in hand", density);
    let ratio = times(&book.figure::<Density>("washed.density"), &density);
    book.enter("match.drape", "density against the yarn in hand, times", ratio);
}

/// The gauge of the chosen sample's swatch against the one that the plan asks for: what was knitted has the last word.
fn gauge_measured(book: &mut Book, plan: &Plan) -> Option<Figure<Share>> {
    let swatch = plan.chosen()?.gauge.as_ref()?;
    let asked =
        plan.garments.iter().filter_map(Garment::own_gauge).find(|gauge| gauge.stitches.place.file == File::Plan)?;
    let ours = book.reading(&swatch.stitches, "stitches of the swatch");
    let theirs = book.reading(&asked.stitches, "stitches asked for");
    let ratio = (ours / theirs).by(&Formula { source: "ratio of two readings", standing: Standing::Standard });
    Some(book.enter("match.gauge", "gauge of the swatch against the one asked for, times", ratio))
}

fn gauge_effect(
    book: &mut Book,
    wraps: Option<&Figure<Share>>,
    grist: Option<&Figure<Share>>,
) -> Option<Figure<Share>> {
    let exponent = book.assume::<Share>(&assumed::GAUGE_POWER);
    let estimate = match (wraps, grist) {
        (Some(wraps), _) => gauge(wraps, &exponent),
        // Where its wraps were not read, the yarn in hand is taken to be as lofty as the one that is spun.
        (None, Some(grist)) if book.find::<Wraps>("match.wraps").is_none() => gauge_by_grist(grist, &exponent),
        _ => return None,
    };
    Some(book.enter("match.gauge", "gauge on the same tools, times", estimate))
}

fn weight_effect(book: &mut Book, gauge: Option<&Figure<Share>>) {
    let heavier = book.find::<Share>("match.fibre-ratio");
    let weight = match (gauge, heavier) {
        (Some(gauge), Some(heavier)) => garment_weight(gauge, &heavier),
        (Some(gauge), None) if book.find::<LinearDensity>("match.tex").is_some() => gauge.clone().by(&ESTIMATE),
        (None, Some(heavier)) => {
            heavier.by(&Formula { source: "the same fabric of heavier yarn", standing: Standing::Standard })
        }
        _ => return,
    };
    book.enter("match.weight", "weight of the same garment, times", weight);
}
