//! What the log has of bobbins and sets, in the words of every sheet that tells of them.

use super::gates::{check_weight, length_weighed};
use super::print::{In, Printer, Round, joined};
use super::words::{self, portion};
use crate::figures::deal::DealtSet;
use crate::figures::even::{PairedSet, Plying, Wanted};
use crate::figures::logged::MeasuredBobbin;

/// A share with its sign: "+3 %", "−2 %", "0 %".
pub(super) fn signed(printer: &Printer, name: &str) -> String {
    with_sign(printer, name, 0)
}

/// The same in tenths: what is judged by bands is told as finely as it is judged.
pub(super) fn signed_finely(printer: &Printer, name: &str) -> String {
    with_sign(printer, name, 1)
}

fn with_sign(printer: &Printer, name: &str, places: u32) -> String {
    let text = printer.value(name, In("%", Round::Places(places)));
    let has_none = text.starts_with('−') || text.chars().all(|c| "0.".contains(c));
    joined(&if has_none { text } else { format!("+{text}") }, "%")
}

/// Numbers of bobbins, with something between them.
pub(super) fn numbers(printer: &Printer, all: &[usize], by: &str) -> String {
    labels(printer, all).join(by)
}

/// The same with "and" before the last.
fn listed(printer: &Printer, all: &[usize]) -> String {
    words::and(&labels(printer, all))
}

fn labels(printer: &Printer, all: &[usize]) -> Vec<String> {
    all.iter().map(|n| printer.label(*n, "bobbin")).collect()
}

/// The name below which the figures of a set of a ply plan stand; `at` is its place among its sets.
pub(super) fn stage_of_set(printer: &Printer, plying: &Plying, at: usize) -> String {
    format!("paired.{}.set.{}", printer.plan.ply_plans[plying.ply_plan].name, at + 1)
}

fn logged<'a>(printer: &Printer<'a>, number: usize) -> Option<&'a MeasuredBobbin> {
    printer.ledger.deal.logged.bobbin(number)
}

/// What the log has of a bobbin, and what it is plied with; or what it should be, so that its set comes right.
pub(super) fn of_bobbin(printer: &Printer, number: usize) -> Option<String> {
    let set = printer.ledger.evenness.set_with(number);
    let with = set.and_then(|set| plied_with(printer, set, number));
    if let Some(bobbin) = logged(printer, number) {
        let with = with.map_or_else(String::new, |with| format!(" {with}"));
        return Some(format!("{}.{with}", measured(printer, bobbin)));
    }
    let (plying, at) = set?;
    let of_it = |wanted: &&Wanted| wanted.bobbins.contains(&number);
    let wanted = plying.sets[at].wanted.iter().find(of_it)?;
    let aim = wanted_weight(printer, &stage_of_set(printer, plying, at), wanted);
    Some(format!("To spin: {aim}.{}", with.map_or_else(String::new, |with| format!(" {with}"))))
}

/// "Spun, weighed 12 March: 45 g of singles; 20 m weigh 3.2 g, +4.0 % against your middle one".
fn measured(printer: &Printer, bobbin: &MeasuredBobbin) -> String {
    let day = printer.as_written(&words::day(printer.plan.bobbins[bobbin.entry].date));
    let mut told = Vec::new();
    let net = format!("{}.net", bobbin.stage);
    if printer.ledger.find(&net).is_some() {
        let damp = if printer.plan.bobbins[bobbin.entry].reference.is_some() { ", damp put right" } else { "" };
        told.push(format!("{} of singles{damp}", printer.with_unit(&net, portion(printer).0)));
    }
    let checked = format!("{}.checked", bobbin.stage);
    if printer.ledger.find(&checked).is_some() {
        let (length, _) = length_weighed(printer, &printer.plan.singles[bobbin.planned.singles].stage());
        let weigh = printer.with_unit(&checked, check_weight(printer));
        let off = signed_finely(printer, &format!("{}.from-median", bobbin.stage));
        told.push(format!("{length} weigh {weigh}, {off} against your middle one"));
    }
    format!("Spun, weighed {day}: {}", told.join("; "))
}

/// "Ply plan: set 2, with 4 and 5". Nothing of a set of one.
fn plied_with(printer: &Printer, (plying, at): (&Plying, usize), number: usize) -> Option<String> {
    let others: Vec<usize> = plying.sets[at].bobbins.iter().copied().filter(|other| *other != number).collect();
    let told = listed(printer, &others);
    let set = printer.label(set_number(printer, plying, at), "set");
    let verb = if plying.sets[at].is_plied { "Plied" } else { "Ply it" };
    (!others.is_empty()).then(|| format!("{verb} in set {set}, with {told}."))
}

/// The number of a set, which goes by its skeins.
pub(super) fn set_number(printer: &Printer, plying: &Plying, at: usize) -> usize {
    let set = &plying.sets[at];
    let mut sets = printer.ledger.deal.sets().map(|(_, dealt)| dealt);
    let of_skeins = sets.find(|dealt| set.skeins.iter().any(|number| dealt.skeins.contains(number)));
    of_skeins.or_else(|| planned_as(printer, set)).map_or(at + 1, |dealt| dealt.number)
}

/// The planned set of the same bobbins; `None` of one that is put together otherwise.
pub(super) fn planned_as<'a>(printer: &Printer<'a>, set: &PairedSet) -> Option<&'a DealtSet> {
    let is_it = |dealt: &&DealtSet| dealt.bobbins.iter().map(|bobbin| bobbin.number).eq(set.bobbins.iter().copied());
    printer.ledger.deal.sets().map(|(_, dealt)| dealt).find(is_it)
}

/// What bobbins still to spin should be: "aim at 3.2 g for 20 m; 3.0 to 3.5 g still bring the set right", and what to do where this hand does not spin that.
pub(super) fn wanted_weight(printer: &Printer, stage: &str, wanted: &Wanted) -> String {
    let (length, _) = length_weighed(printer, &printer.plan.singles[wanted.singles].stage());
    let shown = check_weight(printer);
    let of = |what: &str| printer.value(&format!("{stage}.{what}.{}", wanted.singles + 1), shown);
    let late = if wanted.is_in_reach { "" } else { TOO_LATE };
    let weight = joined(&of("wanted"), shown.0);
    let (low, high) = (of("wanted-low"), joined(&of("wanted-high"), shown.0));
    format!("aim at {weight} for {length}; {low} to {high} still bring the set right{late}")
}

const TOO_LATE: &str = "; that is another yarn for this hand, so spin on as you do; sample a little more or less ply twist, alternate \
                        rows of two skeins, or make what need not match";

/// What the pairing of a ply plan's bobbins gains, how it was found, and which of them make no set.
pub(super) fn paired(printer: &Printer, plying: &Plying) -> String {
    let stage = format!("paired.{}", printer.plan.ply_plans[plying.ply_plan].name);
    let share = |what: &str| joined(&printer.value(&format!("{stage}.{what}"), In("%", Round::Places(1))), "%");
    if !plying.is_paired {
        return "Each skein is of one bobbin, so that nothing evens out: sort the skeins, and alternate their rows."
            .to_owned();
    }
    let left = if plying.left.is_empty() {
        String::new()
    } else {
        let are = if plying.left.len() == 1 { "is" } else { "are" };
        format!(" {} {are} left over from sets that were plied otherwise.", listed(printer, &plying.left))
    };
    if plying.sets.iter().all(|set| set.is_plied) {
        return format!("All of it is plied; by their bobbins the sets differ by {}.{left}", share("range"));
    }
    let how = if plying.is_exact {
        format!("no pairing is better ({} looked at)", printer.label(plying.states as usize, "ways looked at"))
    } else {
        format!("no pairing is better than {}", share("bound"))
    };
    format!(
        "Paired so, the sets differ by {}, as they come by {}; {how}.{left}",
        share("range"),
        share("range-in-order")
    )
}

/// How far a set is: "plied", "ready to ply", "to spin".
pub(super) fn state(printer: &Printer, set: &PairedSet) -> &'static str {
    match (set.is_plied, set.bobbins.iter().all(|number| logged(printer, *number).is_some())) {
        (true, _) => "plied",
        (false, true) => "ready to ply",
        (false, false) => "to spin",
    }
}

/// What is spun so far of a kind of singles beside what is aimed at, and what the next bobbins should be; empty without a log.
pub(super) fn so_far(printer: &Printer, kind: usize) -> Vec<String> {
    let evenness = &printer.ledger.evenness;
    let mut told = Vec::new();
    if let Some(drift) = evenness.drifts.iter().find(|drift| drift.singles == kind) {
        let stage = format!("drift.{}", kind + 1);
        let (length, _) = length_weighed(printer, &printer.plan.singles[kind].stage());
        let weigh = printer.with_unit(&format!("{stage}.checked"), check_weight(printer));
        let holder = words::holder(printer.plan);
        let n = printer.label(drift.numbers.len(), "bobbins weighed");
        let s = if drift.numbers.len() == 1 { "" } else { "s" };
        let off = signed(printer, &format!("{stage}.from-target"));
        told.push(format!("So far, {n} {holder}{s}: {length} weigh {weigh}, singles {off} against the plan."));
    }
    let mut next: Vec<String> = Vec::new();
    for plying in &evenness.plyings {
        for (at, set) in plying.sets.iter().enumerate() {
            for wanted in set.wanted.iter().filter(|wanted| wanted.singles == kind) {
                let which = listed(printer, &wanted.bobbins);
                let holder = words::holder(printer.plan);
                let s = if wanted.bobbins.len() == 1 { "" } else { "s" };
                let aim = wanted_weight(printer, &stage_of_set(printer, plying, at), wanted);
                next.push(format!("Next, {holder}{s} {which}: {aim}."));
            }
        }
    }
    // The card has room for a few; the checklist has them all.
    next.truncate(MOST_NEXT);
    told.extend(next);
    told
}

/// So many sets are steered on a card.
const MOST_NEXT: usize = 2;

/// The same of the skeins.
pub(super) fn so_far_plied(printer: &Printer) -> Vec<String> {
    let n = printer.ledger.deal.logged.skeins.len();
    if n == 0 {
        return Vec::new();
    }
    let s = if n == 1 { "" } else { "s" };
    let off = signed(printer, "spun-skeins.from-target");
    let n = printer.label(n, "skeins measured");
    vec![format!("So far, {n} skein{s}, washed: {off} of weight for their length against the plan.")]
}

/// What the length of all yarn stands on: "as 2 skeins and 7 bobbins have it"; `None` where the log measures neither.
pub(super) fn stands_on(printer: &Printer) -> Option<String> {
    let ledger = printer.ledger;
    ledger.find_source("fact.spun.miss")?;
    let of = |n: usize, one: &'static str| {
        let s = if n == 1 { "" } else { "s" };
        format!("{} {one}{s}", printer.label(n, "measured"))
    };
    let n_skeins = ledger.deal.logged.skeins.len();
    let n_bobbins = ledger.deal.logged.bobbins.iter().filter(|bobbin| bobbin.off.is_some()).count();
    let is_all_measured = n_skeins > 0 && ledger.find("to-come.length").is_none();
    let skeins = (n_skeins > 0).then(|| of(n_skeins, "skein"));
    let bobbins = (n_bobbins > 0 && !is_all_measured).then(|| of(n_bobbins, words::holder(printer.plan)));
    let told: Vec<String> = skeins.into_iter().chain(bobbins).collect();
    let has = if n_skeins + n_bobbins == 1 { "has" } else { "have" };
    Some(format!("as {} {has} it", words::and(&told)))
}
