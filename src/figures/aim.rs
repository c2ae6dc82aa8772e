//! What is aimed at: wraps, weight per length and twist of the washed yarn, and of its singles.
//!
//! Best first: the chosen sample, then the plan, then a default. A measurement replaces the product that it measures.

use super::expression::{Figure, Formula};
use super::ledger::{Book, number};
use super::sample::{self, Measured};
use super::{assumed, folding, thickness, twist};
use crate::plan::Plan;
use crate::units::{Count, LinearDensity, Loft, Share, Standing, Twist, Wraps, Yield};

/// What the rest of the ledger builds on.
pub struct Aim {
    /// Singles in the yarn.
    pub plies: Figure<Count>,
    /// Linear density of the washed yarn.
    pub washed: Figure<LinearDensity>,
    /// Share of a wound length that is left after the wash.
    pub keep: Figure<Share>,
    /// How much longer yarn lies under tension.
    pub stretch: Figure<Share>,
    /// Length lost in plying.
    pub plying_shortens: Figure<Share>,
    /// Weight lost in the wash.
    pub lightens: Figure<Share>,
    /// Fibre lost, of what stays.
    pub waste: Figure<Share>,
    /// Wraps of the singles.
    pub singles_wraps: Figure<Wraps>,
    /// Twist of the washed yarn.
    pub ply_twist: Figure<Twist>,
    /// Twist of the singles at the wheel, per length let in.
    pub singles_at_wheel: Figure<Twist>,
    /// Twist of the plied yarn at the wheel, per length let in.
    pub plied_at_wheel: Figure<Twist>,
}

/// Enters what is aimed at.
pub fn aim(book: &mut Book, plan: &Plan) -> Aim {
    let yarn = &plan.yarn;
    let plies = book.reading(&yarn.plies, "plies");
    let stretch = book.reading(&yarn.winding_stretch, "winding stretch");
    let plying_shortens = book.reading(&yarn.plying_shortens, "plying shortens");
    let lightens = book.reading(&yarn.wash_lightens, "wash lightens");
    let waste = book.reading(&yarn.waste, "waste");
    let usual_keep = keep(book, plan, &stretch);
    let measured = sample::samples(book, plan, &usual_keep).unwrap_or_default();
    let keep = measured.keep.as_ref().map_or(usual_keep, sample::as_sampled);
    let keep = book.enter("washed.keep", "length kept in the wash", keep);
    let (wraps, washed) = thickness_and_grist(book, plan, &measured);
    let singles_wraps = singles_wraps(book, plan, &measured, &wraps);
    let ply_twist = ply_twist(book, plan, &measured, &singles_wraps, &plies);
    let plied_at_wheel =
        book.enter("plied.twist-at-wheel", "ply twist at the wheel", twist::at_wheel(&ply_twist, &keep));
    let singles_at_wheel = singles_twist(book, &measured, &ply_twist, &plies, &keep, &stretch);
    Aim {
        plies,
        washed,
        keep,
        stretch,
        plying_shortens,
        lightens,
        waste,
        singles_wraps,
        ply_twist,
        singles_at_wheel,
        plied_at_wheel,
    }
}

/// What is left of a wound length by shortening and stretch, where no sample measures it.
fn keep(book: &mut Book, plan: &Plan, stretch: &Figure<Share>) -> Figure<Share> {
    let shortens = book.reading(&plan.yarn.wash_shortens, "wash shortens");
    folding::keep(&shortens, stretch)
}

/// Wraps and linear density of the washed yarn; where only one is known, loft gives the other.
fn thickness_and_grist(book: &mut Book, plan: &Plan, measured: &Measured) -> (Figure<Wraps>, Figure<LinearDensity>) {
    let wraps = measured.wraps.as_ref().map(sample::as_sampled);
    let wraps =
        wraps.or_else(|| plan.yarn.wraps.as_ref().map(|wraps| book.reading(wraps, "wraps aimed at").by(&GIVEN)));
    let density = measured.density.as_ref().map(sample::as_sampled);
    let density = density
        .or_else(|| plan.yarn.grist.as_ref().map(|grist| book.reading(grist, "weight per length aimed at").by(&GIVEN)));
    match (wraps, density) {
        (Some(wraps), Some(density)) => {
            let wraps = book.enter("washed.wraps", "washed wraps", wraps);
            let washed = book.enter("washed.tex", "washed weight per length", density);
            let grist = enter_grist(book, &washed);
            enter_loft(book, thickness::loft(&wraps, &grist));
            (wraps, washed)
        }
        (Some(wraps), None) => {
            let wraps = book.enter("washed.wraps", "washed wraps", wraps);
            let usual = book.assume::<Loft>(&assumed::LOFT).by(&GIVEN);
            let loft = enter_loft(book, usual);
            let grist = book.enter("washed.grist", "washed grist", thickness::yarn_yield(&wraps, &loft));
            let washed = book.enter("washed.tex", "washed weight per length", thickness::linear_density(&grist));
            (wraps, washed)
        }
        (None, Some(density)) => {
            let washed = book.enter("washed.tex", "washed weight per length", density);
            let grist = enter_grist(book, &washed);
            let usual = book.assume::<Loft>(&assumed::LOFT).by(&GIVEN);
            let loft = enter_loft(book, usual);
            let wraps = book.enter("washed.wraps", "washed wraps", thickness::wraps(&loft, &grist));
            (wraps, washed)
        }
        (None, None) => unreachable!("invariant: check refuses a plan that aims at nothing"),
    }
}

fn enter_grist(book: &mut Book, washed: &Figure<LinearDensity>) -> Figure<Yield> {
    book.enter("washed.grist", "washed grist", thickness::yield_of(washed))
}

/// Loft, and what follows from it for reading only.
fn enter_loft(book: &mut Book, loft: Figure<Loft>) -> Figure<Loft> {
    let loft = book.enter("washed.loft", "loft", loft);
    book.enter("washed.density", "yarn density", thickness::yarn_density(&loft));
    loft
}

/// Wraps of the singles: read off the sample, else by the trade's rule or the geometry.
fn singles_wraps(book: &mut Book, plan: &Plan, measured: &Measured, wraps: &Figure<Wraps>) -> Figure<Wraps> {
    let n = plan.yarn.plies.value as usize;
    let round = number(book, "round", "plies round the edge", if n > 6 { n - 1 } else { n }, ROUND_THE_EDGE);
    let geometry = book.enter("plied.mean-width", "mean width of touching plies", thickness::mean_width(&round));
    if let Some(read) = &measured.singles_wraps {
        let singles = book.enter("singles.wraps", "singles wraps", sample::as_sampled(read));
        book.enter("plied.thicker", "plied width over singles width", thickness::thickening(&singles, wraps));
        return singles;
    }
    let thicker = match n {
        2 => book.assume::<Share>(&assumed::THICKER_TWO).by(&GIVEN),
        3 => book.assume::<Share>(&assumed::THICKER_THREE).by(&GIVEN),
        _ => thickness::bloomed(&geometry, &book.assume::<Share>(&assumed::BLOOM)),
    };
    let thicker = book.enter("plied.thicker", "plied width over singles width", thicker);
    book.enter("singles.wraps", "singles wraps", thickness::singles_wraps(wraps, &thicker))
}

/// How the plies are taken to lie.
const ROUND_THE_EDGE: &str = "up to six plies lie in a ring, seven and eight have one of them in the middle";

/// Ply twist of the washed yarn: counted on the sample, else wished, else from an angle.
fn ply_twist(
    book: &mut Book,
    plan: &Plan,
    measured: &Measured,
    singles: &Figure<Wraps>,
    plies: &Figure<Count>,
) -> Figure<Twist> {
    let wished = measured
        .ply_twist
        .as_ref()
        .map(sample::as_sampled)
        .or_else(|| plan.yarn.ply_twist.as_ref().map(|wish| book.reading(wish, "ply twist aimed at").by(&GIVEN)));
    let figure = wished.unwrap_or_else(|| {
        let angle = measured.angle.as_ref().map(sample::as_sampled).unwrap_or_else(|| {
            let angle = plan.yarn.angle.as_ref().expect("invariant: check gives an angle where no twist is given");
            book.reading(angle, "angle aimed at").by(&GIVEN)
        });
        let angle = book.enter("washed.angle-wished", "angle wished", angle);
        twist::ply_twist(&angle, singles, plies)
    });
    let ply = book.enter("washed.ply-twist", "ply twist", figure);
    book.enter("washed.angle", "angle of the plies", twist::ply_angle(&ply, singles, plies));
    ply
}

/// Twist of the singles at the wheel: from the sample's ply-back, else from the ply twist by two rules.
fn singles_twist(
    book: &mut Book,
    measured: &Measured,
    ply: &Figure<Twist>,
    plies: &Figure<Count>,
    keep: &Figure<Share>,
    stretch: &Figure<Share>,
) -> Figure<Twist> {
    let balance = book.enter("singles.balance", "balance of plies", twist::balance(plies));
    let equal = book.enter("singles.equal-factor", "equal twist factor", twist::equal_factor(plies));
    if let Some(fresh) = &measured.fresh_twist {
        let fresh = book.enter("singles.fresh-twist", "singles twist fresh", sample::as_sampled(fresh));
        return book.enter(
            "singles.twist-at-wheel",
            "singles twist at the wheel",
            twist::under_tension(&fresh, stretch),
        );
    }
    let fraction = book.enter("singles.fraction", "ply twist over singles twist", twist::between(&balance, &equal));
    let singles = book.enter("singles.twist", "singles twist", twist::singles_twist(ply, &fraction));
    let at_wheel = book.enter("singles.twist-at-wheel", "singles twist at the wheel", twist::at_wheel(&singles, keep));
    book.enter("singles.fresh-twist", "singles twist fresh", twist::fresh(&at_wheel, stretch));
    at_wheel
}

/// Taken as it stands in the plan, or as its default.
static GIVEN: Formula = Formula { source: "as given", standing: Standing::Standard };
