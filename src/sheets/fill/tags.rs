//! Fills the tags: for the bags of torn strips, for the bobbins, for the skeins.

use std::collections::BTreeMap;

use super::bobbins::{self, strip};
use super::print::{In, Printer, Round};
use super::words::{self, weight};
use crate::figures::deal::{DealtBobbin, DealtSet};
use crate::plan;
use crate::sheets::marks::Page;
use crate::sheets::tags::{BagTag, BobbinTag, SkeinTag, Tags};
use crate::sheets::wheel_card::Act;

pub(super) fn tags(printer: &Printer, page: Page) -> Tags {
    let sets: Vec<(usize, &DealtSet)> = printer.ledger.deal.sets().collect();
    let strands = sets.iter().flat_map(|(ply_plan, set)| strand_tags(printer, *ply_plan, set));
    let bobbins = sets.iter().flat_map(|(ply_plan, set)| bobbin_tags(printer, *ply_plan, set)).chain(strands).collect();
    Tags {
        page,
        colours: words::colours(printer.plan),
        unit: weight(printer).0.0.to_owned(),
        bags: bags(printer, &sets),
        bobbins,
        skeins: sets.iter().flat_map(|(ply_plan, set)| skein_tags(printer, *ply_plan, set)).collect(),
    }
}

/// A strip on a bobbin: the bobbin, its strip there, and which strip of its braid that is, from 1.
type Piece<'a> = (&'a DealtBobbin, usize, usize);

/// One for each strip or portion, braid by braid as they are torn; none where nothing is divided.
fn bags(printer: &Printer, sets: &[(usize, &DealtSet)]) -> Vec<BagTag> {
    let mut of_braid: BTreeMap<(usize, usize), Vec<Piece>> = BTreeMap::new();
    let mut begun: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    // What goes on from an earlier bobbin of the same ply is the strip that was begun there.
    let mut last: BTreeMap<(usize, usize, usize, usize), usize> = BTreeMap::new();
    for (ply_plan, set) in sets {
        for (ply, bobbin) in set.bobbins.iter().enumerate() {
            for (k, strip) in bobbin.strips.iter().enumerate() {
                let number = last.entry((strip.supply, strip.braid, *ply_plan, ply)).or_default();
                if strip.along.0 < 1e-9 {
                    let begun = begun.entry((strip.supply, strip.braid)).or_default();
                    *begun += 1;
                    *number = *begun;
                }
                of_braid.entry((strip.supply, strip.braid)).or_default().push((bobbin, k, *number));
            }
        }
    }
    if of_braid.values().all(|pieces| pieces.len() == 1) {
        return Vec::new();
    }
    let of_one = |(braid, pieces): (&(usize, usize), &Vec<Piece>)| -> Vec<BagTag> {
        let torn = printer.plan.torn(braid.0, braid.1).map(|torn| torn.weights.len());
        let of = torn.unwrap_or(begun[braid]);
        pieces.iter().map(|piece| bag(printer, *piece, of)).collect()
    };
    of_braid.iter().flat_map(of_one).collect()
}

fn bag(printer: &Printer, (bobbin, k, piece): Piece, of: usize) -> BagTag {
    let supply = &printer.plan.supplies[bobbin.strips[k].supply];
    let what = if supply.in_braids { "strip" } else { "portion" };
    BagTag {
        // A torn strip has the number under which it was weighed.
        piece: format!(
            "{what} {} of {}",
            printer.label(bobbin.strips[k].torn.map_or(piece, |torn| torn + 1), "strip"),
            printer.label(of, "strips")
        ),
        bobbin: printer.label(bobbin.number, "bobbin"),
        start: bobbins::start_of(printer.plan, &bobbin.strips[k]),
        strip: strip(printer, bobbin, k),
    }
}

fn bobbin_tags(printer: &Printer, ply_plan: usize, set: &DealtSet) -> Vec<BobbinTag> {
    let plies = &printer.plan.ply_plans[ply_plan].plies;
    let tag = |(ply, bobbin): (usize, &DealtBobbin)| BobbinTag {
        number: printer.label(bobbin.number, "bobbin"),
        act: Act::Spin,
        twist: words::slant(printer.plan.singles[plies[ply].singles].twist),
        plies: 1,
        plan: name(printer.plan, ply_plan),
        set: bobbins::set_by_log(printer, bobbin.number)
            .unwrap_or_else(|| format!("set {}", printer.label(set.number, "set"))),
        ply: words::ply(printer, ply),
        weight: printer.amount(&format!("bobbin.{}.net", bobbin.number), weight(printer).0, None),
    };
    set.bobbins.iter().enumerate().map(tag).collect()
}

/// The bobbins that strands are plied onto before they are cabled.
fn strand_tags(printer: &Printer, ply_plan: usize, set: &DealtSet) -> Vec<BobbinTag> {
    let Some(strands) = printer.plan.yarn.construction.strands() else { return Vec::new() };
    let tag = |i: usize| BobbinTag {
        number: format!("{}{}", printer.label(set.number, "set"), words::strand(i)),
        act: Act::Ply,
        twist: words::slant(printer.plan.yarn.plied_twist),
        plies: printer.plan.yarn.plies.value as u8,
        plan: name(printer.plan, ply_plan),
        set: format!("set {}", printer.label(set.number, "set")),
        ply: format!("strand {}", words::strand(i)),
        weight: printer.amount(&format!("set.{}.strand", set.number), weight(printer).0, None),
    };
    (0..strands.value as usize).map(tag).collect()
}

fn skein_tags(printer: &Printer, ply_plan: usize, set: &DealtSet) -> Vec<SkeinTag> {
    let plan = printer.plan;
    let several =
        set.skeins.clone().count() > 1 || printer.ledger.deal.sets().any(|(_, set)| *set.skeins.end() != set.number);
    let length = printer.lead(In("m", Round::Places(0)), In("yd", Round::Places(0)));
    let tag = |number: usize| SkeinTag {
        number: printer.label(number, "skein"),
        act: match plan.yarn.construction {
            plan::Construction::Singles => Act::Spin,
            plan::Construction::Cabled(_) => Act::Cable,
            plan::Construction::Bobbins | plan::Construction::Chain | plan::Construction::BothEnds => Act::Ply,
        },
        twist: words::slant(plan.ply_direction()),
        plies: words::last_plies(plan),
        plan: name(plan, ply_plan),
        set: several.then(|| format!("set {}", printer.label(set.number, "set"))),
        length: printer.amount(&format!("skein.{number}.length"), length, None),
        weight: printer.amount(&format!("skein.{number}.weight"), weight(printer).0, None),
    };
    set.skeins.clone().map(tag).collect()
}

/// The name of a ply plan, where there are several.
fn name(plan: &plan::Plan, ply_plan: usize) -> Option<String> {
    (plan.ply_plans.len() > 1).then(|| plan.ply_plans[ply_plan].name.clone())
}
