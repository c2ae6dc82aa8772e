//! Fills the bobbin checklist.

use super::gates::{Remedies, check_weight, gate, length_weighed};
use super::print::{Printer, joined};
use super::spun;
use super::wheel::often;
use super::words::{self, portion, weight};
use crate::figures::deal::{DealtBobbin, DealtPlan, DealtSet, DealtStrip};
use crate::figures::supplies::braid_name;
use crate::plan;
use crate::sheets::bobbin_checklist::{Bobbin, BobbinChecklist, BobbinSet, End, Section, Strip, Weighing};
use crate::sheets::marks::Page;

pub(super) fn bobbin_checklist(printer: &Printer, page: Page) -> BobbinChecklist {
    let plan = printer.plan;
    BobbinChecklist {
        page,
        singles_twist: words::slant(most(plan)),
        colours: words::colours(plan),
        basis: words::basis(printer),
        caution: words::preparing(plan).map(str::to_owned),
        unit: weight(printer).0.0.to_owned(),
        weighing: (plan.singles.len() == 1).then(|| weighing(printer, 0)),
        sets: printer.ledger.deal.plans.iter().flat_map(|dealt| pages(printer, dealt)).collect(),
    }
}

/// Sets as they stand on pages: one to a page, or up to three of a single bobbin each, as many on every page.
fn pages(printer: &Printer, dealt: &DealtPlan) -> Vec<BobbinSet> {
    let n_sets = dealt.sets.len();
    if printer.plan.bobbins_in_a_set() > 1 {
        let sets = dealt.sets.iter().enumerate();
        return sets.map(|(i, set)| bobbin_set(printer, dealt.ply_plan, set, i + 1, n_sets)).collect();
    }
    let each = n_sets.div_ceil(n_sets.div_ceil(MOST_ON_A_PAGE).max(1)).max(1);
    let chunks = dealt.sets.chunks(each).enumerate();
    chunks.map(|(i, sets)| lone_bobbins(printer, dealt.ply_plan, sets, i * each + 1, n_sets)).collect()
}

/// Bobbins on a page where each is a set by itself.
const MOST_ON_A_PAGE: usize = 3;

/// Sets of one bobbin each, on one page; `first` is the turn of the first of them.
fn lone_bobbins(printer: &Printer, ply_plan: usize, sets: &[DealtSet], first: usize, n_sets: usize) -> BobbinSet {
    let plan = printer.plan;
    let (from, to) = (printer.label(first, "set"), printer.label(first + sets.len() - 1, "set"));
    let of = printer.label(n_sets, "sets");
    let holder = words::holder(plan);
    let turns =
        if sets.len() == 1 { format!("{holder} {from} of {of}") } else { format!("{holder}s {from} to {to} of {of}") };
    let named = &plan.ply_plans[ply_plan].plies[0];
    BobbinSet {
        part: if plan.ply_plans.len() > 1 { format!("{}, {turns}", plan.ply_plans[ply_plan].name) } else { turns },
        short: words::ply(printer, 0),
        bobbins: sets
            .iter()
            .map(|set| Bobbin {
                ply: format!("set {}", printer.label(set.number, "set")),
                ..bobbin(printer, named, &set.bobbins[0], 0)
            })
            .collect(),
    }
}

/// The twist that most bobbins of the plan have.
fn most(plan: &plan::Plan) -> plan::Direction {
    let twists = plan.ply_plans.iter().flat_map(|one| &one.plies).map(|ply| plan.singles[ply.singles].twist);
    let (own, all) = (plan.yarn.singles_twist, twists.clone().count());
    if 2 * twists.filter(|twist| *twist == own).count() >= all { own } else { own.against() }
}

/// The length of one kind of singles that is weighed, with its limits.
pub(super) fn weighing(printer: &Printer, index: usize) -> Weighing {
    let kind = &printer.plan.singles[index];
    let stage = kind.stage();
    let (length, other) = length_weighed(printer, &stage);
    let fibre = words::fibre(printer.plan);
    let remedies = Remedies { below: ("thin", format!("more {fibre}")), above: ("thick", format!("less {fibre}")) };
    Weighing {
        when: often(printer, index).words().to_owned(),
        length,
        other: Some(other),
        gate: gate(printer, &format!("{stage}.check-weight"), check_weight(printer), false, remedies),
        unit: "g".to_owned(),
    }
}

fn bobbin_set(printer: &Printer, ply_plan: usize, set: &DealtSet, turn: usize, n_sets: usize) -> BobbinSet {
    let plan = printer.plan;
    let number = printer.label(set.number, "set");
    let of_plan = format!("{} of {}", printer.label(turn, "set"), printer.label(n_sets, "sets"));
    let part = if plan.ply_plans.len() > 1 {
        format!("set {number}: {}, {of_plan}", plan.ply_plans[ply_plan].name)
    } else {
        format!("set {of_plan}")
    };
    BobbinSet {
        part,
        short: format!("set {number}"),
        bobbins: set
            .bobbins
            .iter()
            .enumerate()
            .map(|(ply, dealt)| bobbin(printer, &plan.ply_plans[ply_plan].plies[ply], dealt, ply))
            .collect(),
    }
}

fn bobbin(printer: &Printer, named: &plan::Ply, dealt: &DealtBobbin, ply: usize) -> Bobbin {
    let n = dealt.number;
    let kind = &printer.plan.singles[named.singles];
    let has_several = printer.plan.singles.len() > 1;
    let (lead, other) = weight(printer);
    Bobbin {
        number: printer.label(n, "bobbin"),
        ply: words::ply(printer, ply),
        twist: has_several.then(|| words::slant(kind.twist)),
        weighing: has_several.then(|| weighing(printer, named.singles)),
        start: start(printer, dealt),
        strips: (0..dealt.strips.len()).map(|k| strip(printer, dealt, k)).collect(),
        weight: printer.value(&format!("bobbin.{n}.weight"), lead),
        weight_other: Some(printer.with_unit(&format!("bobbin.{n}.weight"), other)),
        net: joined(&printer.value(&format!("bobbin.{n}.net"), lead), lead.0),
        set: set_by_log(printer, n),
        log: spun::of_bobbin(printer, n),
    }
}

/// The set that a bobbin is plied in by the log, where that is another than it was planned for.
pub(super) fn set_by_log(printer: &Printer, number: usize) -> Option<String> {
    let (plying, at) = printer.ledger.evenness.set_with(number)?;
    let set = spun::set_number(printer, plying, at);
    let has_it = |dealt: &&DealtSet| dealt.bobbins.iter().any(|bobbin| bobbin.number == number);
    let planned = printer.ledger.deal.sets().map(|(_, dealt)| dealt).find(has_it)?.number;
    (set != planned).then(|| format!("set {}", printer.label(set, "set")))
}

/// The colour of the end that all strips of a bobbin are begun at; `None` where they have no order, or differ: each strip tells then.
pub(super) fn start(printer: &Printer, dealt: &DealtBobbin) -> Option<usize> {
    let plan = printer.plan;
    let mut ends = dealt.strips.iter().filter_map(|strip| start_of(plan, strip));
    let first = ends.next()?;
    ends.all(|other| other == first).then_some(first)
}

/// The colour of the end that a strip is begun at, where its colours have an order.
pub(super) fn start_of(plan: &plan::Plan, strip: &DealtStrip) -> Option<usize> {
    let supply = &plan.supplies[strip.supply];
    if !supply.has_order() {
        return None;
    }
    let bands = supply.bands();
    let end = if strip.from == plan::End::Other { bands.last() } else { bands.first() };
    end.map(|(colour, _)| *colour)
}

pub(super) fn strip(printer: &Printer, dealt: &DealtBobbin, k: usize) -> Strip {
    let strip = &dealt.strips[k];
    let supply = &printer.plan.supplies[strip.supply];
    let (lead, other) = portion(printer);
    let figure = format!("bobbin.{}.strip.{}", dealt.number, k + 1);
    let own = printer.as_written(&braid_name(supply, strip.braid));
    let own = match strip.along {
        (from, to) if from > 1e-9 && to < 1.0 - 1e-9 => format!("{own}, going on"),
        (from, _) if from > 1e-9 => format!("{own}, the rest"),
        (_, to) if to < 1.0 - 1e-9 => format!("{own}, begun"),
        _ => own,
    };
    Strip {
        turn: (dealt.strips.len() > 1).then(|| printer.label(k + 1, "turn")),
        from: match strip.beside {
            None => own,
            Some((supply, braid)) => {
                let weight = printer.with_unit(&format!("{figure}.beside"), lead);
                let beside = printer.as_written(&braid_name(&printer.plan.supplies[supply], braid));
                format!("{own} with {weight} of {beside}")
            }
        },
        sections: supply.bands().into_iter().map(|(colour, share)| Section { colour, share }).collect(),
        start: supply.has_order().then_some(if strip.from == plan::End::Other { End::Last } else { End::First }),
        weight: printer.value(&figure, lead),
        weight_other: printer.in_inches().then(|| printer.with_unit(&figure, other)),
    }
}
