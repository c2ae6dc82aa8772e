//! Fills the ply plan.

use super::print::{In, Printer, Round, joined};
use super::words::{self, weight, yarn_length};
use crate::figures::deal::{DealtBobbin, DealtPlan, DealtSet};
use crate::plan;
use crate::sheets::marks::Page;
use crate::sheets::ply_plan::{KateBobbin, Mending, PlyPlan, PlyPlanSheet, PlySet, Skein};

pub(super) fn ply_plan(printer: &Printer, page: Page) -> PlyPlanSheet {
    let plan = printer.plan;
    let (lead, other) = yarn_length(printer);
    PlyPlanSheet {
        page,
        ply_twist: words::slant(plan.ply_direction()),
        plies: plan.yarn.plies.value as u8,
        colours: words::colours(plan),
        plans: printer.ledger.deal.plans.iter().map(|dealt| one_plan(printer, dealt)).collect(),
        mending: Mending {
            length: printer.amount("yarn.mending", lead, Some(other)),
            words: "Wind it off the first skein after the wash, and keep it with the card.".to_owned(),
        },
        left_over: "Wind the left-overs of a bobbin apart, weigh them and write the weight beside it. They serve for joins, and \
                    show which ply ran thin."
            .to_owned(),
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
        why: why(plan, dealt),
        sets: dealt.sets.iter().map(|set| one_set(printer, dealt.ply_plan, set)).collect(),
    }
}

/// Why these bobbins stand together.
fn why(plan: &plan::Plan, dealt: &DealtPlan) -> String {
    let strips = dealt.sets.iter().flat_map(|set| &set.bobbins).map(|bobbin| bobbin.strips.len()).max().unwrap_or(0);
    let braided = plan.ply_plans[dealt.ply_plan].plies.iter().any(|ply| plan.supplies[ply.supply].in_braids);
    if braided && strips > 1 {
        "The bobbins of a set carry the same weights. Their braids begin one further on for each ply, so that no two plies change \
         braids at one place, and every braid is spread over the skeins."
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
        holds: printer.as_written(&supply.name),
        colours,
        left: has_left.then(|| {
            printer.with_unit(&left, In(printer.lead("g", "oz"), printer.lead(Round::Places(0), Round::Places(1))))
        }),
    }
}
