//! Fills the ply plan.

use super::print::{In, Printer, Round, joined};
use super::words::{self, portion, weight, yarn_length};
use crate::figures::deal::{DealtBobbin, DealtPlan, DealtSet, Tear, braid_name};
use crate::plan;
use crate::sheets::marks::Page;
use crate::sheets::ply_plan::{Construction, KateBobbin, Mending, PlyPlan, PlyPlanSheet, PlySet, Skein};

pub(super) fn ply_plan(printer: &Printer, page: Page) -> PlyPlanSheet {
    let plan = printer.plan;
    let (lead, other) = yarn_length(printer);
    PlyPlanSheet {
        page,
        construction: Construction::Bobbins,
        ply_twist: words::slant(plan.ply_direction()),
        plies: plan.yarn.plies.value as u8,
        operations: Vec::new(),
        order: None,
        rewind: None,
        colours: words::colours(plan),
        plans: printer.ledger.deal.plans.iter().map(|dealt| one_plan(printer, dealt)).collect(),
        mending: Mending {
            length: printer.amount("yarn.mending", lead, Some(other)),
            words: "Wind it off the first skein after the wash, and keep it with the card.".to_owned(),
        },
        left_over: owned(printer)
            + "Wind the left-overs of a bobbin apart, weigh them and write the weight beside it. They serve for joins, and \
                    show which ply ran thin.",
    }
}

/// With few bobbins the sets are plied one after the other.
fn owned(printer: &Printer) -> String {
    let needed: usize = printer.ledger.deal.sets().map(|(_, set)| set.bobbins.len()).sum::<usize>() + 1;
    match &printer.plan.wheel.bobbins_owned {
        Some(owned) if (owned.value as usize) < needed => {
            format!(
                "With {} bobbins, ply each set before you spin the next. ",
                printer.label(owned.value as usize, "bobbins")
            )
        }
        _ => String::new(),
    }
}

fn one_plan(printer: &Printer, dealt: &DealtPlan) -> PlyPlan {
    let plan = printer.plan;
    let several = plan.ply_plans.len() > 1;
    let ply_plan = &plan.ply_plans[dealt.ply_plan];
    let share = printer.as_written(&crate::units::format::percent(ply_plan.share, 0));
    PlyPlan {
        name: several.then(|| printer.as_written(&ply_plan.name)),
        share: several.then(|| format!("{share} of the yarn")),
        why: format!("{} {}", tearing(printer, dealt), why(plan, dealt)).trim().to_owned(),
        sets: dealt.sets.iter().map(|set| one_set(printer, dealt.ply_plan, set)).collect(),
    }
}

/// Into how many strips each braid is torn, all plies together; nothing where there are no braids to tear.
fn tearing(printer: &Printer, dealt: &DealtPlan) -> String {
    let plan = printer.plan;
    let name = |tear: &Tear| printer.as_written(&braid_name(&plan.supplies[tear.supply], tear.braid));
    let mut told: Vec<String> = Vec::new();
    let whole: Vec<&Tear> =
        dealt.tears.iter().filter(|tear| tear.part.is_none() && plan.supplies[tear.supply].in_braids).collect();
    for alike in whole.chunk_by(|a, b| a.supply == b.supply && a.strips == b.strips) {
        let names: Vec<String> = alike.iter().map(|tear| name(tear)).collect();
        told.push(format!("{} into {}", names.join(", "), printer.label(alike[0].strips, "strips")));
    }
    for tear in dealt.tears.iter().filter(|tear| plan.supplies[tear.supply].in_braids) {
        if let Some(part) = &tear.part {
            let (lead, _) = portion(printer);
            let taken = joined(&printer.value(part, lead), lead.0);
            told.push(format!("of {} take {taken}, into {}", name(tear), printer.label(tear.strips, "strips")));
        }
    }
    if told.is_empty() { String::new() } else { format!("Tear lengthwise: {}.", told.join("; ")) }
}

/// Why these bobbins stand together.
fn why(plan: &plan::Plan, dealt: &DealtPlan) -> String {
    let strips = dealt.sets.iter().flat_map(|set| &set.bobbins).map(|bobbin| bobbin.strips.len()).max().unwrap_or(0);
    let braided = plan.ply_plans[dealt.ply_plan].plies.iter().any(|ply| plan.supplies[ply.supply].in_braids);
    if braided && strips > 1 {
        "The bobbins of a set carry the same weights. Their braids begin one further on for each ply, and every braid is spread \
         over the skeins."
            .to_owned()
    } else {
        "The bobbins of a set carry the same weights, so that they run out together.".to_owned()
    }
}

fn one_set(printer: &Printer, ply_plan: usize, set: &DealtSet) -> PlySet {
    let n = set.number;
    let (length, other_length) = yarn_length(printer);
    let (mass, other_mass) = weight(printer);
    let figure = format!("skein.{n}.length");
    let between = format!("{} to {}", printer.low(&figure, length), joined(&printer.high(&figure, length), length.0));
    PlySet {
        number: printer.label(n, "set"),
        kate: set.bobbins.iter().enumerate().map(|(ply, bobbin)| kate_bobbin(printer, ply_plan, ply, bobbin)).collect(),
        strands: Vec::new(),
        runs_out: None,
        skeins: vec![Skein {
            number: printer.label(n, "skein"),
            length: printer.amount(&figure, length, Some(other_length)),
            length_between: Some(between),
            weight: printer.amount(&format!("skein.{n}.weight"), mass, Some(other_mass)),
        }],
    }
}

fn kate_bobbin(printer: &Printer, ply_plan: usize, ply: usize, bobbin: &DealtBobbin) -> KateBobbin {
    let plan = printer.plan;
    let named = &plan.ply_plans[ply_plan].plies[ply];
    let supply = &plan.supplies[named.supply];
    let n = bobbin.number;
    // What was spun last comes off first, so colours come off against the order of spinning.
    let mut colours: Vec<usize> = supply.sections.iter().map(|(colour, _)| *colour).collect();
    if named.from == plan::End::Start {
        colours.reverse();
    }
    colours.truncate(8);
    let left = format!("bobbin.{n}.left");
    let has_left = printer.ledger.get(&left).value >= 0.5;
    KateBobbin {
        number: printer.label(n, "bobbin"),
        ply: format!("ply {}", printer.label(ply + 1, "ply")),
        passes: 1,
        holds: printer.as_written(&supply.name),
        colours,
        left: has_left.then(|| {
            printer.with_unit(&left, In(printer.lead("g", "oz"), printer.lead(Round::Places(0), Round::Places(1))))
        }),
    }
}
