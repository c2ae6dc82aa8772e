//! Fills the ply plan.

use std::collections::BTreeSet;

use super::print::{In, Printer, Round, joined};
use super::spun;
use super::words::{self, portion, weight, yarn_length};
use crate::figures::deal::{DealtBobbin, DealtPlan, DealtSet, Tear, WorkOrder};
use crate::figures::even::{PairedSet, Plying};
use crate::figures::supplies::braid_name;
use crate::plan;
use crate::sheets::marks::Page;
use crate::sheets::ply_plan::{
    Construction, KateBobbin, Measured, Mending, Operation, PlyPlan, PlyPlanSheet, PlySet, Skein, Strand, Tearing,
};

pub(super) fn ply_plan(printer: &Printer, page: Page) -> PlyPlanSheet {
    let plan = printer.plan;
    let (lead, other) = yarn_length(printer);
    PlyPlanSheet {
        page,
        construction: construction(&plan.yarn.construction),
        ply_twist: words::slant(plan.ply_direction()),
        plies: words::last_plies(plan),
        operations: operations(plan),
        order: order(printer),
        rewind: rewind(plan),
        colours: words::colours(plan),
        plans: printer.ledger.deal.plans.iter().map(|dealt| one_plan(printer, dealt)).collect(),
        mending: Mending {
            length: printer.amount("yarn.mending", lead, Some(other)),
            words: "Wind it off the first skein after the wash, and keep it with the card.".to_owned(),
        },
        left_over: left_over(plan),
    }
}

/// What is done with what stays on a bobbin.
fn left_over(plan: &plan::Plan) -> Option<String> {
    let holder = words::holder(plan);
    match plan.yarn.construction {
        plan::Construction::Singles => None,
        plan::Construction::Chain | plan::Construction::BothEnds => Some(
            "Wind apart what is left of a single, weigh it and write the weight beside it. It serves for joins."
                .to_owned(),
        ),
        plan::Construction::Bobbins | plan::Construction::Cabled(_) => Some(format!(
            "Wind the left-overs of a {holder} apart, weigh them and write the weight beside it. They serve for joins, and show \
             which ply ran thin."
        )),
    }
}

fn construction(of: &plan::Construction) -> Construction {
    match of {
        plan::Construction::Bobbins => Construction::Bobbins,
        plan::Construction::Chain => Construction::Chain,
        plan::Construction::BothEnds => Construction::Ball,
        plan::Construction::Cabled(_) => Construction::Cabled,
        plan::Construction::Singles => Construction::Singles,
    }
}

/// The two operations of a cabled yarn.
fn operations(plan: &plan::Plan) -> Vec<Operation> {
    let Some(strands) = plan.yarn.construction.strands() else { return Vec::new() };
    let (strands, plied) = (strands.value as u8, plan.yarn.plied_twist);
    vec![
        Operation {
            twist: words::slant(plied),
            plies: plan.yarn.plies.value as u8,
            what: "ply each strand by itself, harder than a yarn".to_owned(),
        },
        Operation {
            twist: words::slant(plied.against()),
            plies: strands,
            what: format!("cable the {} strands against their plies", words::in_words(strands.into())),
        },
    ]
}

/// The order of work, where the bobbins force it or the plan asks for it.
fn order(printer: &Printer) -> Option<String> {
    let WorkOrder::SomeSets(sets) = printer.ledger.deal.order else { return None };
    if printer.ledger.deal.sets().count() <= sets {
        return None;
    }
    let why = match (&printer.plan.plying.order, &printer.plan.wheel.bobbins_owned) {
        (Some(_), _) | (_, None) => "As the plan asks".to_owned(),
        (None, Some(owned)) => {
            let storage = printer.plan.wheel.storage_bobbins.as_ref().map_or(0.0, |storage| storage.value);
            with_bobbins(printer, owned.value as usize, storage as usize)
        }
    };
    let skeined = if printer.plan.yarn.construction.is_plied() { "ply" } else { "skein" };
    let left = printer.ledger.deal.sets().count() - sets;
    Some(if sets == 1 {
        format!(
            "{why}, {skeined} each set before you spin the next. Keep its tied lengths: the next one is spun to them."
        )
    } else {
        let some = words::in_words(sets);
        let next = if left > sets { format!("spin the next {some}") } else { "spin the rest".to_owned() };
        format!(
            "{why}, spin {some} sets, {skeined} them, and {next}. Keep the tied lengths: the later ones are spun to them."
        )
    })
}

/// What there is to wind singles on.
fn with_bobbins(printer: &Printer, owned: usize, storage: usize) -> String {
    if !matches!(printer.plan.wheel.machine.drive, plan::Drive::Spindle) {
        return format!("With {} bobbins", printer.label(owned + storage, "bobbins"));
    }
    let spindles =
        if owned == 1 { "a spindle".to_owned() } else { format!("{} spindles", printer.label(owned, "spindles")) };
    if storage == 0 {
        format!("With {spindles}")
    } else {
        format!("With {spindles} and {} bobbins", printer.label(storage, "bobbins"))
    }
}

/// Rewinding, where there is something to rewind onto, or a ball to wind.
fn rewind(plan: &plan::Plan) -> Option<String> {
    const COUNTED: &str = "Rewind singles onto storage bobbins through a counter: they lie more evenly, and length over \
                           weight is the best check of their grist. Rewound once, what was spun first is plied first.";
    match (&plan.yarn.construction, &plan.wheel.storage_bobbins) {
        (plan::Construction::BothEnds, _) => Some(format!(
            "Wind each single into a ball with both its ends free, and ply from the two. What was spun first meets what was spun \
             last, and {}s meet in reverse.",
            words::colour(plan)
        )),
        (_, Some(storage)) if storage.value > 0.0 => Some(COUNTED.to_owned()),
        _ => None,
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
        tearing: tearing(printer, dealt),
        why: why(printer, dealt),
        sets: match printer.ledger.evenness.plyings.iter().find(|plying| plying.ply_plan == dealt.ply_plan) {
            Some(plying) => paired_sets(printer, plying),
            None => dealt.sets.iter().map(|set| one_set(printer, dealt.ply_plan, set)).collect(),
        },
    }
}

/// Sets as the bobbins of the log are best put together, in the order of their skeins.
fn paired_sets(printer: &Printer, plying: &Plying) -> Vec<PlySet> {
    let mut order: Vec<usize> = (0..plying.sets.len()).collect();
    order.sort_by_key(|at| plying.sets[*at].skeins.first().copied().unwrap_or(usize::MAX));
    order.into_iter().map(|at| paired_set(printer, plying, at)).collect()
}

fn paired_set(printer: &Printer, plying: &Plying, at: usize) -> PlySet {
    let set = &plying.sets[at];
    let planned = spun::planned_as(printer, set);
    // What a set should be tells nothing of one that was put together otherwise.
    let (strands, runs_out) =
        planned.map_or_else(Default::default, |dealt| (strands(printer, dealt), runs_out(printer, dealt)));
    let off = spun::signed(printer, &format!("{}.off", spun::stage_of_set(printer, plying, at)));
    PlySet {
        number: printer.label(spun::set_number(printer, plying, at), "set"),
        kate: on_the_kate(printer, set),
        strands,
        runs_out,
        state: Some(format!("{}, {off}", spun::state(printer, set))),
        skeins: set.skeins.iter().filter_map(|number| skein(printer, *number)).collect(),
    }
}

/// Bobbins by their numbers as they stand on the kate. Those that may take each other's place become the plies in order.
fn on_the_kate(printer: &Printer, set: &PairedSet) -> Vec<KateBobbin> {
    let deal = &printer.ledger.deal;
    let mut bobbins: Vec<(usize, usize, &DealtBobbin)> = deal
        .sets()
        .flat_map(|(ply_plan, set)| set.bobbins.iter().map(move |bobbin| (ply_plan, bobbin)))
        .filter(|(_, bobbin)| set.bobbins.contains(&bobbin.number))
        .map(|(ply_plan, bobbin)| (deal.bobbins[bobbin.number - 1].ply, ply_plan, bobbin))
        .collect();
    bobbins.sort_by_key(|(ply, _, bobbin)| (*ply, bobbin.number));
    let each = bobbins.into_iter().enumerate();
    each.map(|(place, (ply, ply_plan, bobbin))| KateBobbin {
        ply: words::ply(printer, place),
        left: left_of(printer, set, bobbin.number),
        ..kate_bobbin(printer, ply_plan, ply, bobbin)
    })
    .collect()
}

/// Into how many strips each braid is torn, all plies together, and which stay whole; nothing where there are no braids.
pub(super) fn tearing(printer: &Printer, dealt: &DealtPlan) -> Vec<Tearing> {
    let plan = printer.plan;
    let tears = || dealt.tears.iter().filter(|tear| plan.supplies[tear.supply].in_braids);
    let (mut torn, mut whole): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    // Of a braid that is torn already, and not for this ply plan alone or not all of it: how many strips there are.
    let there_are = |tear: &Tear| {
        let torn = plan.torn(tear.supply, tear.braid).map(|torn| torn.weights.len());
        torn.filter(|there_are| *there_are != tear.strips)
    };
    let entire: Vec<&Tear> = tears().filter(|tear| tear.part.is_none() && there_are(tear).is_none()).collect();
    let is_like = |a: &Tear, b: &Tear| a.supply == b.supply && a.strips == b.strips && strips_are_like(printer, a, b);
    for alike in entire.chunk_by(|a, b| is_like(a, b)) {
        let names = braids(printer, alike);
        if alike[0].strips == 1 {
            whole.push(names);
        } else {
            let each = if alike.len() > 1 { "each into" } else { "into" };
            torn.push(format!("{names} {each} {}", strips(printer, alike[0])));
        }
    }
    for tear in tears() {
        if let Some(there_are) = there_are(tear) {
            let [taken, there_are] = [tear.strips, there_are].map(|n| printer.label(n, "strips"));
            torn.push(format!("{taken} of the {there_are} strips of {}", braids(printer, &[tear])));
        } else if let Some(part) = &tear.part {
            let (lead, _) = portion(printer);
            let taken = joined(&printer.value(part, lead), lead.0);
            let of = braids(printer, &[tear]);
            torn.push(if tear.strips == 1 {
                format!("{taken} off {of}")
            } else {
                format!("{taken} of {of} into {}", strips(printer, tear))
            });
        }
    }
    let told = |does: &str, lots: Vec<String>| (!lots.is_empty()).then(|| Tearing { does: does.to_owned(), lots });
    let named = &plan.ply_plans[dealt.ply_plan];
    let before = told("First cut across", cut_across(printer, named));
    let after = [
        told("Draft together", drafted_together(printer, named)),
        told("Pull apart and spin", pulled_apart(printer, named)),
    ];
    let torn = [told("Tear lengthwise", torn), told("Do not tear", whole)];
    before.into_iter().chain(torn.into_iter().flatten()).chain(after.into_iter().flatten()).collect()
}

/// Which braids are cut across before they are torn.
fn cut_across(printer: &Printer, named: &plan::PlyPlan) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for supply in named.plies.iter().flat_map(plan::Ply::supplies) {
        let supply = &printer.plan.supplies[supply];
        let Some(cut) = supply.cut else { continue };
        let of = printer.label(cut.of, "pieces");
        let words = format!("{} into {of} pieces of one weight", printer.as_written(&supply.name));
        if !told.contains(&words) {
            told.push(words);
        }
    }
    told
}

/// What is drafted together, strip beside strip.
fn drafted_together(printer: &Printer, named: &plan::PlyPlan) -> Vec<String> {
    let name = |supply: usize| printer.as_written(&printer.plan.supplies[supply].name);
    let plies = named.plies.iter().enumerate().filter_map(|(i, ply)| Some((i, ply, ply.beside?)));
    plies
        .map(|(i, ply, beside)| {
            let lots: Vec<String> = ply.lots.iter().map(|lot| name(*lot)).collect();
            format!("for {} {} with {}, strip beside strip", words::ply(printer, i), words::and(&lots), name(beside))
        })
        .collect()
}

/// What is pulled apart by its colours.
fn pulled_apart(printer: &Printer, named: &plan::PlyPlan) -> Vec<String> {
    let name = |colour: &usize| printer.as_written(&printer.plan.colours[*colour].name);
    let plies = named.plies.iter().enumerate().filter(|(_, ply)| !ply.colour_order.is_empty());
    plies
        .map(|(i, ply)| {
            let order: Vec<String> = ply.colour_order.iter().map(name).collect();
            format!(
                "for {} {}, in this order; sample it, for it drafts otherwise",
                words::ply(printer, i),
                order.join(", ")
            )
        })
        .collect()
}

/// How many strips; where they are to weigh unlike, how many of each weight.
fn strips(printer: &Printer, tear: &Tear) -> String {
    const TOLD: usize = 3;
    let all = |n: usize| if n == 1 { "1 strip".to_owned() } else { format!("{} strips", printer.label(n, "strips")) };
    let (lead, _) = portion(printer);
    match tear.groups.as_slice() {
        [] | [_] => all(tear.strips),
        few if few.len() <= TOLD => {
            let told = few.iter().map(|(n, figure)| format!("{} of {}", all(*n), printer.with_unit(figure, lead)));
            words::and(&told.collect::<Vec<_>>())
        }
        _ => format!("{}, each as its tag says", all(tear.strips)),
    }
}

/// Whether two braids are torn in the same words.
fn strips_are_like(printer: &Printer, a: &Tear, b: &Tear) -> bool {
    let told =
        |tear: &Tear| tear.groups.iter().map(|(n, figure)| (*n, printer.ledger.get(figure).value)).collect::<Vec<_>>();
    let (a, b) = (told(a), told(b));
    let is_alike = |((n, x), (m, y)): (&(usize, f64), &(usize, f64))| n == m && (x - y).abs() < 0.05;
    a.len() == b.len() && (a.len() < 2 || a.iter().zip(&b).all(is_alike))
}

/// Braids of one supply by their names; three and more in a row by the first and the last.
fn braids(printer: &Printer, tears: &[&Tear]) -> String {
    let name = |tear: &Tear| printer.as_written(&braid_name(&printer.plan.supplies[tear.supply], tear.braid));
    let runs = tears.chunk_by(|a, b| b.braid == a.braid + 1);
    let told = |run: &[&Tear]| match run {
        [first, _, .., last] => format!("{} to {}", name(first), printer.label(last.braid + 1, "braid")),
        few => few.iter().map(|tear| name(tear)).collect::<Vec<_>>().join(", "),
    };
    runs.map(told).collect::<Vec<_>>().join(", ")
}

/// Why these bobbins stand together.
fn why(printer: &Printer, dealt: &DealtPlan) -> String {
    match printer.ledger.evenness.plyings.iter().find(|plying| plying.ply_plan == dealt.ply_plan) {
        Some(plying) if plying.is_paired => {
            const UNLIKE: &str =
                "Of bobbins that weigh alike the one heavier for its length is the shorter, and runs out first.";
            format!("{} {UNLIKE}", spun::paired(printer, plying))
        }
        _ => why_planned(printer, dealt),
    }
}

/// The same before anything is weighed.
fn why_planned(printer: &Printer, dealt: &DealtPlan) -> String {
    let plan = printer.plan;
    match plan.yarn.construction {
        plan::Construction::Chain => {
            return format!(
                "Each single is drawn through itself in a chain of loops and lies three times side by side: its {}s stay \
                 together, and so do its thick and thin places.",
                words::colour(plan)
            );
        }
        plan::Construction::BothEnds => {
            return "Each single is plied with itself, from both its ends.".to_owned();
        }
        plan::Construction::Singles => {
            return "Each single is skeined as it is, and washed like all the others.".to_owned();
        }
        plan::Construction::Bobbins | plan::Construction::Cabled(_) => {}
    }
    if plan.singles.len() > 1 {
        return unlike(printer, dealt);
    }
    let holder = words::holder(plan);
    let weight = |bobbin: &DealtBobbin| printer.ledger.get(&format!("bobbin.{}.weight", bobbin.number)).value;
    let are_even = dealt.sets.iter().all(|set| {
        let weights: Vec<f64> = set.bobbins.iter().map(weight).collect();
        let (least, most) =
            (weights.iter().copied().fold(f64::INFINITY, f64::min), weights.iter().copied().fold(0.0, f64::max));
        most <= 1.01 * least
    });
    let carry = if are_even {
        format!("The {holder}s of a set carry the same weights, so that they run out together.")
    } else {
        format!("The {holder}s of a set do not carry the same weights: a lighter one runs out first.")
    };
    let ply_plan = &plan.ply_plans[dealt.ply_plan];
    let braided = ply_plan.plies.iter().any(|ply| plan.supplies[ply.lots[0]].in_braids);
    if ply_plan.dealing == plan::Dealing::InOrder && dealt.sets.len() > 1 {
        format!("{carry} Braids follow one another from set to set: ply the sets in this order.")
    } else if braided && is_spread(dealt) {
        format!("{carry} Every braid is spread over the skeins.")
    } else {
        carry
    }
}

/// Whether every braid lies on bobbins of every set, of several.
fn is_spread(dealt: &DealtPlan) -> bool {
    let braids = |set: &DealtSet| -> BTreeSet<(usize, usize)> {
        set.bobbins.iter().flat_map(|bobbin| &bobbin.strips).map(|strip| (strip.supply, strip.braid)).collect()
    };
    let first = braids(&dealt.sets[0]);
    dealt.sets.len() > 1 && dealt.sets.iter().all(|set| braids(set) == first)
}

/// Plies of unlike weight: what each is of the yarn.
fn unlike(printer: &Printer, dealt: &DealtPlan) -> String {
    let plan = printer.plan;
    let plies = &plan.ply_plans[dealt.ply_plan].plies;
    let shares: Vec<String> = plies
        .iter()
        .enumerate()
        .map(|(ply, named)| {
            let kind = &plan.singles[named.singles];
            let share = printer.with_unit(&format!("{}.share", kind.stage()), In("%", Round::Places(0)));
            format!("{} ({share})", words::ply(printer, ply))
        })
        .collect();
    format!(
        "The {}s of a set carry one length and unlike weights, of the yarn’s weight {}.",
        words::holder(plan),
        words::and(&shares)
    )
}

fn one_set(printer: &Printer, ply_plan: usize, set: &DealtSet) -> PlySet {
    PlySet {
        number: printer.label(set.number, "set"),
        kate: set.bobbins.iter().enumerate().map(|(ply, bobbin)| kate_bobbin(printer, ply_plan, ply, bobbin)).collect(),
        strands: strands(printer, set),
        runs_out: runs_out(printer, set),
        state: None,
        skeins: set.skeins.clone().filter_map(|number| skein(printer, number)).collect(),
    }
}

/// The strands of a cabled set, lettered.
fn strands(printer: &Printer, set: &DealtSet) -> Vec<Strand> {
    let Some(strands) = printer.plan.yarn.construction.strands() else { return Vec::new() };
    let (lead, other) = yarn_length(printer);
    (0..strands.value as usize)
        .map(|i| Strand {
            name: words::strand(i),
            bobbins: printer.plan.yarn.plies.value as u8,
            length: Some(printer.amount(&format!("set.{}.strand-length", set.number), lead, Some(other))),
        })
        .collect()
}

/// Which of unlike plies runs out first, and how much longer the longest of the others is.
fn runs_out(printer: &Printer, set: &DealtSet) -> Option<String> {
    let holder = words::holder(printer.plan);
    let longer = |bobbin: &DealtBobbin| printer.ledger.find(&format!("bobbin.{}.longer", bobbin.number));
    let longest = set.bobbins.iter().filter_map(|bobbin| Some((bobbin, longer(bobbin)?)));
    let (bobbin, line) = longest.max_by(|a, b| a.1.value.total_cmp(&b.1.value))?;
    let first = set.bobbins.iter().min_by(|a, b| {
        let of = |bobbin| longer(bobbin).map_or(0.0, |line| line.value);
        of(a).total_cmp(&of(b))
    })?;
    let (lead, _) = yarn_length(printer);
    (line.value >= 0.5).then(|| {
        format!(
            "The first to run out is {holder} {}; {holder} {} has enough for {} more.",
            printer.label(first.number, "bobbin"),
            printer.label(bobbin.number, "bobbin"),
            printer.with_unit(&line.name, lead)
        )
    })
}

/// What of a bobbin of the log will be left when the first of its set runs out; `None` where it is not told, and of a set that is plied.
fn left_of(printer: &Printer, set: &PairedSet, number: usize) -> Option<String> {
    let left = format!("logged.bobbin.{number}.left");
    let is_told = !set.is_plied && printer.ledger.find(&left).is_some_and(|line| line.value >= LEAST_LEFT);
    is_told.then(|| printer.with_unit(&left, portion(printer).0))
}

/// Grams that are worth telling; our choice.
const LEAST_LEFT: f64 = 0.5;

/// A skein as planned, and as the log has it; `None` of one that is in neither.
fn skein(printer: &Printer, number: usize) -> Option<Skein> {
    let ((length, other_length), (mass, other_mass)) = (yarn_length(printer), weight(printer));
    let amounts = |stage: &str| {
        let of = |what: &str, lead, other| printer.amount(&format!("{stage}.{what}"), lead, Some(other));
        (of("length", length, other_length), of("weight", mass, other_mass))
    };
    let logged = printer.ledger.deal.logged.skein(number);
    let measured = logged.map(|skein| {
        let (length, weight) = amounts(&skein.stage);
        Measured { length, weight, day: printer.as_written(&words::day(printer.plan.skeins[skein.entry].date)) }
    });
    let stage = format!("skein.{number}");
    let figure = format!("{stage}.length");
    let is_planned = printer.ledger.find(&figure).is_some();
    let between =
        || format!("{} to {}", printer.low(&figure, length), joined(&printer.high(&figure, length), length.0));
    // A skein that no plan has stands as it was measured.
    let (planned, length_between) =
        if is_planned { (amounts(&stage), Some(between())) } else { (amounts(&logged?.stage), None) };
    Some(Skein {
        number: printer.label(number, "skein"),
        length: planned.0,
        length_between,
        weight: planned.1,
        measured,
    })
}

fn kate_bobbin(printer: &Printer, ply_plan: usize, ply: usize, bobbin: &DealtBobbin) -> KateBobbin {
    let plan = printer.plan;
    let named = &plan.ply_plans[ply_plan].plies[ply];
    let n = bobbin.number;
    let left = format!("bobbin.{n}.left");
    let has_left = printer.ledger.get(&left).value >= 0.5;
    KateBobbin {
        number: printer.label(n, "bobbin"),
        ply: words::ply(printer, ply),
        passes: plan.yarn.construction.passes(plan.yarn.plies.value as usize) as u8,
        holds: words::and(&holds(printer, bobbin)),
        colours: coming_off(plan, named, bobbin),
        left: has_left.then(|| {
            printer.with_unit(&left, In(printer.lead("g", "oz"), printer.lead(Round::Places(0), Round::Places(1))))
        }),
    }
}

/// What lies on a bobbin, each lot by its name once.
fn holds(printer: &Printer, bobbin: &DealtBobbin) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let supplies = bobbin.strips.iter().flat_map(|strip| [Some(strip.supply), strip.beside.map(|(beside, _)| beside)]);
    for supply in supplies.flatten() {
        let name = printer.as_written(&printer.plan.supplies[supply].name);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// Colours in the order in which they come off a bobbin, strips that look alike once. What was spun last comes off first, so that
/// they come off against the order of spinning. None where they follow in no order.
fn coming_off(plan: &plan::Plan, named: &plan::Ply, bobbin: &DealtBobbin) -> Vec<usize> {
    if !named.colour_order.is_empty() {
        return named.colour_order.iter().rev().copied().collect();
    }
    let mut strips: Vec<Vec<usize>> = Vec::new();
    for strip in bobbin.strips.iter().rev() {
        let supply = &plan.supplies[strip.supply];
        if supply.repeat == Some(plan::Repeat::Random) {
            return Vec::new();
        }
        let mut colours: Vec<usize> = supply.bands().into_iter().map(|(colour, _)| colour).collect();
        if strip.from != plan::End::Other {
            colours.reverse();
        }
        if !strips.contains(&colours) {
            strips.push(colours);
        }
    }
    let mut colours = strips.concat();
    colours.dedup();
    colours
}
