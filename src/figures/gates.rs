//! Limits to check by: weights of a measured length, wraps, twists, each as low, target and high in the unit of its tool.

use super::aim::Aim;
use super::expression::{Figure, Formula, greatest, rest, with};
use super::ledger::Book;
use super::{assumed, folding, sample, thickness, twist};
use crate::plan::Plan;
use crate::units::format::{decimals, exact};
use crate::units::{Count, Kind, Length, LinearDensity, Mass, Quantity, Share, Standing, System, Twist, Wraps, unit};

/// What the scale reads: as the plan says it, else the finest step of any weight in plan and log.
pub(super) fn scale_step(book: &mut Book, plan: &Plan) -> Figure<Mass> {
    let step = match &plan.scale {
        Some(scale) => book.reading(scale, "step of the scale"),
        None => finest_step(book, plan),
    };
    book.enter("scale.step", "one step of the scale", step.by(&STEP))
}

static STEP: Formula = Formula { source: "as given", standing: Standing::Standard };

fn finest_step(book: &mut Book, plan: &Plan) -> Figure<Mass> {
    let supplies = plan.supplies.iter().flat_map(|supply| &supply.weights);
    let steps = supplies
        .chain(plan.samples.iter().filter_map(|sample| sample.weight.as_ref()))
        .map(|weight| weight.uncertainty * 2.0);
    // A weight in whole grams says little of the scale, since nobody writes 101.0 g; a tenth is what checking takes.
    let finest = steps.filter(|step| *step > 0.0).fold(TENTH_OF_A_GRAM, f64::min);
    book.choose(
        "scale-step",
        "finest step of any weighing",
        finest,
        format!("{} g", exact(finest)),
        "a scale for checking yarn reads a tenth of a gram",
    )
}

const TENTH_OF_A_GRAM: f64 = 0.1;

/// The length to weigh, its weight, and the limits of that.
pub(super) fn weight_gate(
    book: &mut Book,
    plan: &Plan,
    stage: &str,
    noun: &str,
    density: &Figure<LinearDensity>,
    step: &Figure<Mass>,
) {
    let length = length_to_weigh(book, plan, stage, density, step);
    let weight = book.enter(
        format!("{stage}.check-weight"),
        format!("weight of the {noun} checked"),
        folding::check_weight(density, &length),
    );
    let tolerance = book.assume::<Share>(&assumed::GATE_WEIGHT);
    let room = book.enter(
        format!("{stage}.check-room"),
        format!("room for the {noun} checked"),
        greatest(&[&weight * &tolerance, step.clone()]).by(&GATE),
    );
    gate(book, &format!("{stage}.check-weight"), &format!("{noun} checked"), &weight, &room);
}

/// The shortest of some round lengths that weighs twenty steps of the scale, so that one step is one part in twenty.
fn length_to_weigh(
    book: &mut Book,
    plan: &Plan,
    stage: &str,
    density: &Figure<LinearDensity>,
    step: &Figure<Mass>,
) -> Figure<Length> {
    let symbol = if plan.units == System::Inch { "yd" } else { "m" };
    let one = unit(Kind::Length, symbol).expect("invariant: the tables have metres and yards").factor;
    let enough = |n: &&f64| **n * one * density.value() >= 20.0 * step.value();
    let n = ROUND_LENGTHS.iter().find(enough).unwrap_or(&ROUND_LENGTHS[ROUND_LENGTHS.len() - 1]);
    book.choose(
        &format!("{stage}.check-length"),
        "length weighed",
        n * one,
        format!("{} {symbol}", decimals(*n, 0)),
        "the shortest round length that weighs twenty steps of the scale",
    )
}

const ROUND_LENGTHS: [f64; 7] = [2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 100.0];

static GATE: Formula = Formula { source: "limits to check by", standing: Standing::OurChoice };

/// Low and high of a gate.
fn gate<Q: Quantity>(book: &mut Book, name: &str, noun: &str, target: &Figure<Q>, room: &Figure<Q>) {
    book.enter(format!("{name}.low"), format!("least {noun}"), (target - room).by(&GATE));
    book.enter(format!("{name}.high"), format!("most {noun}"), (target + room).by(&GATE));
}

/// Wraps in the window that one counts them in, entered below `stage`.
pub(super) fn wraps_gate(book: &mut Book, plan: &Plan, stage: &str, noun: &str, wraps: &Figure<Wraps>) {
    let window: Figure<Length> =
        book.assume(if plan.units == System::Inch { &assumed::WINDOW_INCH } else { &assumed::WINDOW_METRIC });
    let counted = book.enter(
        format!("{stage}.wraps-counted"),
        format!("{noun} wraps counted"),
        thickness::wraps_in(wraps, &window),
    );
    let one = book.assume::<Count>(&assumed::ONE_WRAP);
    gate(book, &format!("{stage}.wraps-counted"), &format!("{noun} wraps counted"), &counted, &one);
}

/// Limits of the washed sample: wraps and grist.
pub(super) fn washed_gates(book: &mut Book, plan: &Plan, aim: &Aim) {
    let wraps = book.figure("washed.wraps");
    wraps_gate(book, plan, "washed", "washed", &wraps);
    let tolerance = book.assume::<Share>(&assumed::GATE_WEIGHT);
    let grist = thickness::yield_of(&aim.washed).named("washed.grist", "washed grist");
    book.enter("washed.grist.low", "least washed grist", (&grist * rest(&tolerance)).by(&GATE));
    book.enter("washed.grist.high", "most washed grist", (&grist * with(&tolerance)).by(&GATE));
}

/// Twists of the ply-back of fresh singles.
pub(super) fn ply_back_gate(book: &mut Book, plan: &Plan, stage: &str, of: &str, fresh: &Figure<Twist>) {
    let counted = counted_over(book, plan);
    let shown = sample::ply_back_share(book);
    let noun =
        if of == "singles" { "twists in the ply-back".to_owned() } else { format!("twists in the ply-back of {of}") };
    let name = format!("{stage}.ply-back");
    let ply_back = book.enter(name.clone(), noun.clone(), twist::ply_back(fresh, &shown, &counted));
    twist_gate(book, &name, &noun, &ply_back);
}

/// Twists of a plying as it is counted fresh, and the bumps that one counts for them, entered below `stage`.
///
/// Each ply comes up once a twist, so that `plies` bumps make one.
pub(super) fn fresh_gate(
    book: &mut Book,
    plan: &Plan,
    (stage, noun): (&str, &str),
    (twist, of): (&Figure<Twist>, &str),
    plies: &Figure<Count>,
    stretch: &Figure<Share>,
) {
    let counted = counted_over(book, plan);
    let fresh = book.enter(format!("{stage}.fresh-twist"), format!("{noun} twist fresh"), twist::fresh(twist, stretch));
    let twists = book.enter(format!("{stage}.twists"), format!("twists in {of}"), twist::turns_in(&fresh, &counted));
    let noun = format!("bumps in {of}");
    let bumps = book.enter(format!("{stage}.bumps"), noun.clone(), twist::bumps(&twists, plies));
    twist_gate(book, &format!("{stage}.bumps"), &noun, &bumps);
}

/// Last twists of the washed sample.
pub(super) fn washed_twist_gate(book: &mut Book, plan: &Plan, last: &Figure<Twist>) {
    let counted = counted_over(book, plan);
    let washed = book.enter("washed.twists", "twists in the washed yarn", twist::turns_in(last, &counted));
    twist_gate(book, "washed.twists", "twists in the washed yarn", &washed);
}

/// The length over which twists are counted.
fn counted_over(book: &mut Book, plan: &Plan) -> Figure<Length> {
    book.assume(if plan.units == System::Inch { &assumed::COUNTED_INCH } else { &assumed::COUNTED_METRIC })
}

fn twist_gate(book: &mut Book, name: &str, noun: &str, target: &Figure<Count>) {
    let tolerance = book.assume::<Share>(&assumed::GATE_TWIST);
    let half = book.assume::<Count>(&assumed::HALF_TWIST);
    let room = book.enter(
        format!("{name}.room"),
        format!("room for {noun}"),
        greatest(&[&tolerance * target, half]).by(&GATE),
    );
    gate(book, name, noun, target, &room);
}
