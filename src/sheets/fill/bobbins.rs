//! Fills the bobbin checklist.

use super::gates::{Remedies, check_weight, gate, length_weighed};
use super::print::{Printer, joined};
use super::words::{self, portion, weight};
use crate::figures::deal::{DealtBobbin, DealtSet, braid_name};
use crate::plan;
use crate::sheets::bobbin_checklist::{Bobbin, BobbinChecklist, BobbinSet, End, Section, Start, Strip, Weighing};
use crate::sheets::marks::Page;

pub(super) fn bobbin_checklist(printer: &Printer, page: Page) -> BobbinChecklist {
    let (length, other) = length_weighed(printer, "singles");
    let fibre = words::fibre(printer.plan);
    let remedies = Remedies { below: ("thin", format!("more {fibre}")), above: ("thick", format!("less {fibre}")) };
    BobbinChecklist {
        page,
        singles_twist: words::slant(printer.plan.yarn.singles_twist),
        colours: words::colours(printer.plan),
        unit: weight(printer).0.0.to_owned(),
        weighing: Some(Weighing {
            length,
            other: Some(other),
            gate: gate(printer, "singles.check-weight", check_weight(printer), false, remedies),
            unit: "g".to_owned(),
        }),
        sets: printer
            .ledger
            .deal
            .plans
            .iter()
            .flat_map(|dealt| {
                let n_sets = dealt.sets.len();
                dealt
                    .sets
                    .iter()
                    .enumerate()
                    .map(move |(i, set)| bobbin_set(printer, dealt.ply_plan, set, i + 1, n_sets))
            })
            .collect(),
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
        bobbins: set.bobbins.iter().enumerate().map(|(ply, dealt)| bobbin(printer, dealt, ply)).collect(),
    }
}

fn bobbin(printer: &Printer, dealt: &DealtBobbin, ply: usize) -> Bobbin {
    let n = dealt.number;
    let (lead, other) = weight(printer);
    Bobbin {
        number: printer.label(n, "bobbin"),
        ply: format!("ply {}", printer.label(ply + 1, "ply")),
        twist: None,
        weighing: None,
        start: start(printer, dealt),
        strips: (0..dealt.strips.len()).map(|k| strip(printer, dealt, k)).collect(),
        weight: printer.value(&format!("bobbin.{n}.weight"), lead),
        weight_other: Some(printer.with_unit(&format!("bobbin.{n}.weight"), other)),
        net: joined(&printer.value(&format!("bobbin.{n}.net"), lead), lead.0),
    }
}

/// The end to start from, where the colours have an order.
fn start(printer: &Printer, dealt: &DealtBobbin) -> Option<Start> {
    let plan = printer.plan;
    let ordered = dealt.strips.iter().find(|strip| has_order(&plan.supplies[strip.supply]))?;
    let sections = &plan.supplies[ordered.supply].sections;
    let end = match ordered.from {
        plan::End::Start => sections.first(),
        plan::End::Other => sections.last(),
    };
    let (colour, _) = end.expect("invariant: a supply with an order has sections");
    Some(Start { words: "start each strip from the".to_owned(), colour: Some(*colour), after: "end".to_owned() })
}

/// Whether it matters which end goes first.
fn has_order(supply: &plan::Supply) -> bool {
    supply.sections.len() > 1 && supply.repeat != Some("random")
}

fn strip(printer: &Printer, dealt: &DealtBobbin, k: usize) -> Strip {
    let strip = &dealt.strips[k];
    let supply = &printer.plan.supplies[strip.supply];
    let whole: f64 = supply.sections.iter().map(|(_, length)| length.value).sum();
    let (lead, _) = portion(printer);
    Strip {
        from: printer.as_written(&braid_name(supply, strip.braid)),
        sections: supply
            .sections
            .iter()
            .map(|(colour, length)| Section { colour: *colour, share: length.value / whole })
            .collect(),
        start: has_order(supply).then_some(match strip.from {
            plan::End::Start => End::First,
            plan::End::Other => End::Last,
        }),
        weight: printer.value(&format!("bobbin.{}.strip.{}", dealt.number, k + 1), lead),
    }
}
