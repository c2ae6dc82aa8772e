//! Once braids are torn, strips have the weights that they have, and what is left is dealt again so that bobbins come out as planned.
//!
//! The strips of a torn braid go where most is lacking, heaviest first. What is still whole is then divided anew: each bobbin gets
//! what it lacks, and each braid gives what it has. Both at once are met by scaling rows and columns in turn (W. E. Deming and
//! F. F. Stephan, *Annals of Mathematical Statistics* 11, 1940), from the equal parts that were planned. Where colours run on from
//! set to set nothing is left to do: there strips go on over the ends of bobbins, and were laid out as they were torn.

use std::collections::BTreeMap;

use super::planned::{PlannedPlan, PlannedStrip, Taker, share_out};
use crate::diagnostics::{Code, Diagnostic};
use crate::plan::{Dealing, Plan};

/// A bobbin by its plan, its set and its ply.
type Bobbin = (usize, usize, usize);

/// So many times rows and columns are scaled; both are met to far below a milligram long before.
const ROUNDS: usize = 200;

/// Puts strips as torn in the place of planned ones, and deals what is left again.
/// Gives what is wrong with the strips: a bobbin without any, or one that cannot hold those it gets.
pub(super) fn deal_again(plan: &Plan, planned: &mut [PlannedPlan]) -> Vec<Diagnostic> {
    if plan.torn.is_empty() {
        return Vec::new();
    }
    let (mut across, _): (Vec<&mut PlannedPlan>, Vec<&mut PlannedPlan>) =
        planned.iter_mut().partition(|one| plan.ply_plans[one.index].dealing == Dealing::Across);
    let targets: BTreeMap<Bobbin, f64> = bobbins(&across).map(|(at, strips)| (at, weight(plan, strips))).collect();
    for torn in &plan.torn {
        assign(plan, &mut across, (torn.supply, torn.braid), &targets);
    }
    fit(plan, &mut across, &targets);
    faults(plan, planned)
}

/// A strip lighter than this is none; our choice, what no scale at a wheel tells.
const NOTHING: f64 = 0.05;

/// A bobbin may hold so much more than the plan says before that is a fault; our choice, since strips tear as they will.
const OVERFULL: f64 = 1.15;

fn faults(plan: &Plan, planned: &mut [PlannedPlan]) -> Vec<Diagnostic> {
    for one in planned.iter_mut() {
        for strips in one.sets.iter_mut().flatten() {
            strips.retain(|strip| strip.torn.is_some() || strip.weight(plan) >= NOTHING);
        }
    }
    let place = &plan.torn[plan.torn.len() - 1].place;
    let holds = &plan.wheel.bobbin_holds;
    let mut faults = Vec::new();
    let bobbins = || planned.iter().flat_map(|one| one.sets.iter().flatten());
    if bobbins().any(Vec::is_empty) {
        let message = "expected a strip for each bobbin that is to have one, found fewer";
        let fault = Diagnostic::new(Code::StripsDoNotDeal, message, place.key("weights"));
        faults
            .push(fault.label("a bobbin would stay empty").help("divide a strip lengthwise, weigh both and log them"));
    } else if bobbins().any(|strips| weight(plan, strips) > OVERFULL * holds.value.max(1.0)) {
        let message = format!("expected strips that a bobbin can hold, {}, found more", holds.text);
        let fault =
            Diagnostic::new(Code::BobbinTooSmall, message, place.key("weights")).label("too much for one bobbin");
        faults.push(
            fault
                .also(holds.place.clone(), "holds so much")
                .help("divide the heaviest strip, or give a larger `bobbin-holds`"),
        );
    }
    faults
}

fn bobbins<'a>(planned: &'a [&mut PlannedPlan]) -> impl Iterator<Item = (Bobbin, &'a Vec<PlannedStrip>)> {
    planned.iter().enumerate().flat_map(|(i, one)| {
        one.sets
            .iter()
            .enumerate()
            .flat_map(move |(set, plies)| plies.iter().enumerate().map(move |(ply, strips)| ((i, set, ply), strips)))
    })
}

fn weight(plan: &Plan, strips: &[PlannedStrip]) -> f64 {
    strips.iter().map(|strip| strip.whole_weight(plan)).sum()
}

/// Gives the strips of one torn braid to the bobbins that have a place for one, heaviest first and always where most is lacking;
/// strips that find no place go beside the others, and places that find no strip are closed.
fn assign(plan: &Plan, planned: &mut [&mut PlannedPlan], braid: (usize, usize), targets: &BTreeMap<Bobbin, f64>) {
    let is_of = |strip: &PlannedStrip| (strip.supply, strip.braid) == braid;
    let torn = plan.torn(braid.0, braid.1).expect("invariant: only torn braids are assigned");
    let mut wanted = 0.0;
    let mut takers: Vec<Taker> = Vec::new();
    let mut patterns: Vec<(Bobbin, PlannedStrip)> = Vec::new();
    for (at, strips) in bobbins(planned) {
        let places = strips.iter().filter(|strip| is_of(strip)).count();
        if let Some(pattern) = strips.iter().find(|strip| is_of(strip)) {
            let others: f64 = strips.iter().filter(|strip| !is_of(strip)).map(|strip| strip.weight(plan)).sum();
            // Where the plan takes a part of the braid, strips beyond it stay as they are.
            wanted += pattern.weight(plan) * places as f64;
            takers.push(Taker { lacking: targets[&at] - others, places });
            patterns.push((at, pattern.clone()));
        }
    }
    for ((at, pattern), numbers) in patterns.into_iter().zip(share_out(torn, wanted, &mut takers)) {
        let strips = &mut planned[at.0].sets[at.1][at.2];
        put(strips, &is_of, &numbers, &pattern);
    }
}

/// Puts the strips of these numbers into the places of a bobbin that are of the braid.
fn put(
    strips: &mut Vec<PlannedStrip>,
    is_of: &dyn Fn(&PlannedStrip) -> bool,
    numbers: &[usize],
    pattern: &PlannedStrip,
) {
    let mut numbers = numbers.iter().copied();
    let mut kept = Vec::new();
    for strip in strips.drain(..) {
        if !is_of(&strip) {
            kept.push(strip);
        } else if let Some(number) = numbers.next() {
            kept.push(PlannedStrip { torn: Some(number), ..strip });
        }
    }
    kept.extend(numbers.map(|number| PlannedStrip { torn: Some(number), ..pattern.clone() }));
    *strips = kept;
}

/// Divides what is still whole anew.
fn fit(plan: &Plan, planned: &mut [&mut PlannedPlan], targets: &BTreeMap<Bobbin, f64>) {
    let mut wanted: BTreeMap<Bobbin, f64> = BTreeMap::new();
    let mut whole: BTreeMap<(usize, usize, usize), f64> = BTreeMap::new();
    for (at, strips) in bobbins(planned) {
        let torn: f64 = strips.iter().filter(|strip| strip.torn.is_some()).map(|strip| strip.weight(plan)).sum();
        wanted.insert(at, (targets[&at] - torn).max(0.0));
        for strip in strips.iter().filter(|strip| strip.torn.is_none() && strip.beside.is_none()) {
            *whole.entry((at.0, strip.supply, strip.braid)).or_default() += strip.weight(plan);
        }
    }
    for _ in 0..ROUNDS {
        scale(plan, planned, |at, _| at, &wanted);
        scale(plan, planned, |at, strip| (at.0, strip.supply, strip.braid), &whole);
    }
}

/// Scales all strips that are still whole, so that those of one key weigh together what is wanted of it.
fn scale(
    plan: &Plan,
    planned: &mut [&mut PlannedPlan],
    key: impl Fn(Bobbin, &PlannedStrip) -> (usize, usize, usize),
    wanted: &BTreeMap<(usize, usize, usize), f64>,
) {
    let is_whole = |strip: &PlannedStrip| strip.torn.is_none() && strip.beside.is_none();
    let mut there_is: BTreeMap<(usize, usize, usize), f64> = BTreeMap::new();
    for (at, strips) in bobbins(planned) {
        for strip in strips.iter().filter(|strip| is_whole(strip)) {
            *there_is.entry(key(at, strip)).or_default() += strip.weight(plan);
        }
    }
    for (i, one) in planned.iter_mut().enumerate() {
        for (set, plies) in one.sets.iter_mut().enumerate() {
            for (ply, strips) in plies.iter_mut().enumerate() {
                for strip in strips.iter_mut().filter(|strip| is_whole(strip)) {
                    let key = key((i, set, ply), strip);
                    let factor = if there_is[&key] > 0.0 { wanted[&key] / there_is[&key] } else { 1.0 };
                    strip.part = strip.part / strip.strips.take().unwrap_or(1) as f64 * factor;
                }
            }
        }
    }
}
