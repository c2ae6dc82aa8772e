//! `[[strips]]` of the log: what tearing a braid really gave.

use super::heading::date;
use super::names;
use super::reading::{reading, whole};
use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Dealing, PlyPlan, Supply, Torn};
use crate::syntax::raw;
use crate::units::format::{percent, ten_digits};

/// All torn braids in order of writing, `None` in place of one that has a fault. `supplies` are those before any is cut across.
pub(super) fn torn(
    log: &raw::Log,
    plan: &raw::Plan,
    supplies: Option<&[Supply]>,
    report: &mut Report,
) -> Vec<Option<Torn>> {
    let all = Place::log("strips");
    too_many(log.strips.len(), limits::MOST_ENTRIES, "torn braids", &all.index(0), report);
    let read: Vec<Option<Torn>> =
        log.strips.iter().enumerate().map(|(i, raw)| one(raw, plan, supplies, all.index(i), report)).collect();
    check_once(&read, report);
    read
}

fn one(
    raw: &raw::Strips,
    plan: &raw::Plan,
    supplies: Option<&[Supply]>,
    place: Place,
    report: &mut Report,
) -> Option<Torn> {
    if raw.date.is_none() {
        let message = "the day on which the braid was torn is not said";
        report.missing(message, place.key("date"), "write `date = 2026-03-08`, without quotes");
    }
    let braid = match &raw.braid {
        Some(name) => {
            names::find(name, plan.braid.keys().map(String::as_str), ("braid", "braid"), &place.key("braid"), report)
        }
        None => {
            report.missing("which braid was torn is not said", place.key("braid"), "write `braid = \"north\"`");
            None
        }
    };
    let supply = braid.and_then(|braid| Some((braid, supplies?.get(braid)?)));
    let number = number(raw, supply.map(|(_, supply)| supply), &place, report);
    let weights = weights(raw, &place, report);
    let (index, supply) = supply?;
    let torn = Torn { date: date(raw.date?), supply: index, braid: number?, weights: weights?, place };
    check_weight(&torn, supply, report).then_some(torn)
}

/// Which braid of its name, from 0.
fn number(raw: &raw::Strips, supply: Option<&Supply>, place: &Place, report: &mut Report) -> Option<usize> {
    let most = supply.map_or(limits::MOST_BRAIDS, |supply| supply.weights.len() as i64);
    match raw.number {
        Some(number) => {
            let number = whole(number, &place.key("number"), "the number of a braid", 1..=most, report)?;
            Some(number as usize - 1)
        }
        None if most == 1 => Some(0),
        None => {
            let message = "which of the braids was torn is not said";
            report.missing(
                message,
                place.key("number"),
                "write `number = 1`, counted as their weights stand in the plan",
            );
            None
        }
    }
}

fn weights(
    raw: &raw::Strips,
    place: &Place,
    report: &mut Report,
) -> Option<Vec<crate::plan::Reading<crate::units::Mass>>> {
    let key = place.key("weights");
    let listed = raw.weights.as_deref().unwrap_or_default();
    if listed.is_empty() {
        report.missing(
            "what the strips weigh is not said",
            key,
            "write `weights = [\"26 g\", \"24 g\"]`, one for each strip",
        );
        return None;
    }
    if !too_many(listed.len(), limits::MOST_ENTRIES, "strips", &key, report) {
        return None;
    }
    let read = listed.iter().enumerate();
    let read: Vec<_> = read.map(|(i, weight)| reading(weight, &key.index(i), &limits::STRIP_WEIGHT, report)).collect();
    read.into_iter().collect()
}

/// Strips weigh together what the braid weighed, less what was set aside of it, give or take a tenth for what tearing loses and
/// scales miss; our choice.
fn check_weight(torn: &Torn, supply: &Supply, report: &mut Report) -> bool {
    const MAY_MISS: f64 = 0.10;
    let braid = &supply.weights[torn.braid];
    let aside = supply.set_aside()[torn.braid];
    if braid.value - aside <= 0.0 {
        let message = "expected a braid that is spun, found the one that is set aside for sampling";
        let fault = Diagnostic::new(Code::Contradiction, message, torn.place.key("number"));
        report.fault(fault.label("set aside").help("set another one aside, or take the entry out"));
        return false;
    }
    let sum: f64 = torn.weights.iter().map(|weight| weight.value).sum();
    let miss = sum / (braid.value - aside) - 1.0;
    if miss.abs() <= MAY_MISS {
        return true;
    }
    let unit = torn.weights[0].unit;
    let shown = |weight: f64| format!("{} {}", ten_digits(unit.from_base(weight)), unit.symbol);
    let less = if aside > 0.0 { ", less what is set aside for sampling" } else { "" };
    let message = format!(
        "expected strips that weigh together what the braid does{less}, {}, found {}",
        shown(braid.value - aside),
        shown(sum)
    );
    let by = format!("{} too {}", percent(miss.abs(), 0), if miss > 0.0 { "heavy" } else { "light" });
    let fault = Diagnostic::new(Code::DoesNotAddUp, message, torn.place.key("weights")).label(by);
    report.fault(
        fault
            .also(braid.place.clone(), "the braid")
            .help("write every strip of it, for all plies together; weigh again, or correct the braid"),
    );
    false
}

/// Torn braids by their places among the supplies once those are laid out. What the log cannot tell apart is refused: strips of a
/// braid that is cut across, drafted together with another, or spun on from set to set in one ply plan of several.
pub(super) fn laid_out(
    torn: Vec<Torn>,
    plan: &raw::Plan,
    supplies: &[Supply],
    ply_plans: &[PlyPlan],
    report: &mut Report,
) -> Vec<Torn> {
    let found = torn.into_iter().map(|one| {
        let place = Place::plan("braid").key(&plan.braid.keys()[one.supply]);
        let supply = supplies.iter().position(|supply| supply.place == place);
        Torn { supply: supply.expect("invariant: a torn braid is a supply"), ..one }
    });
    let found: Vec<Torn> = found.collect();
    for one in &found {
        let takes = |named: &PlyPlan| named.plies.iter().any(|ply| ply.takes(one.supply));
        let is_drafted =
            ply_plans.iter().flat_map(|one| &one.plies).any(|ply| ply.beside.is_some() && ply.takes(one.supply));
        let why = if supplies[one.supply].cut.is_some() {
            "it is cut across before it is torn"
        } else if is_drafted {
            "it is drafted together with another"
        } else if ply_plans.iter().filter(|named| takes(named)).count() > 1
            && ply_plans.iter().any(|named| takes(named) && named.dealing == Dealing::InOrder)
        {
            "its colours run on from set to set, and another ply plan takes it too"
        } else {
            continue;
        };
        let name = &supplies[one.supply].name;
        let message = format!("the strips of {name:?} cannot be logged, since {why}");
        let fault = Diagnostic::new(Code::NotYet, message, one.place.clone()).label("not calculated yet");
        report.fault(fault.help("take the entry out; the planned weights stand"));
    }
    found
}

fn check_once(torn: &[Option<Torn>], report: &mut Report) {
    let torn: Vec<&Torn> = torn.iter().flatten().collect();
    for (i, one) in torn.iter().enumerate() {
        if let Some(before) = torn[..i].iter().find(|other| (other.supply, other.braid) == (one.supply, one.braid)) {
            let fault = Diagnostic::new(
                Code::DuplicateName,
                "expected each braid to be torn once, found one twice",
                one.place.clone(),
            );
            report.fault(
                fault
                    .label("torn again here")
                    .also(before.place.clone(), "torn here")
                    .help("look at its number, or take one of the two out"),
            );
        }
    }
}
