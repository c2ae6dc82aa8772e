//! `[[ply-plan]]`: which fibre goes into which ply, and how much of the yarn is plied so.

use super::construction::Made;
use super::cut::Across;
use super::names;
use super::reading::{reading, whole};
use super::report::Report;
use super::singles::{self, Own};
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Colour, Construction, Dealing, Direction, End, Part, Ply, PlyPlan, Reading, Singles, Supply};
use crate::syntax::raw;
use crate::units::format::percent;
use crate::units::{Share, System};

/// A supply as the plan names it, known even where the supply itself has a fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct SupplyName<'a> {
    pub(super) name: &'a str,
    pub(super) in_braids: bool,
    /// Name of its fibre, if it is known.
    pub(super) fibre: Option<&'a str>,
}

/// Names of all there is to spin: braids in order of writing, then loose fibre.
pub(super) fn supply_names(plan: &raw::Plan) -> Vec<SupplyName<'_>> {
    let only_fibre = if plan.fibre.len() == 1 { plan.fibre.keys().next() } else { None };
    let braids = plan.braid.iter().map(|(name, braid)| SupplyName {
        name,
        in_braids: true,
        fibre: braid.fibre.as_ref().or(only_fibre).map(String::as_str),
    });
    let loose = plan.fibre.iter().filter(|(_, fibre)| fibre.weight.is_some());
    braids.chain(loose.map(|(name, _)| SupplyName { name, in_braids: false, fibre: Some(name) })).collect()
}

/// The ply plans, the kinds of singles in them, and which plies cut their braids across.
pub(super) type Plied = (Vec<PlyPlan>, Vec<Singles>, Vec<Across>);

/// The ply plans with the kinds of singles in them, `None` if one has a fault; the default one where there is none.
pub(super) fn ply_plans(
    plan: &raw::Plan,
    made: Option<&Made>,
    singles_twist: Direction,
    system: System,
    report: &mut Report,
) -> Option<Plied> {
    let supplies = supply_names(plan);
    let mut across = Vec::new();
    let (mut plans, own) = read(plan, &supplies, made, system, &mut across, report)?;
    let kinds = singles::kinds(&mut plans, &own, singles_twist, &supplies);
    Some((plans, kinds, across))
}

/// The ply plans, and what each of their plies says for itself.
fn read(
    plan: &raw::Plan,
    supplies: &[SupplyName<'_>],
    made: Option<&Made>,
    system: System,
    across: &mut Vec<Across>,
    report: &mut Report,
) -> Option<(Vec<PlyPlan>, Vec<Vec<Own>>)> {
    if plan.ply_plan.is_empty() {
        let plan = default_plan(supplies, made?, system, report)?;
        let own = vec![Own::default(); plan.plies.len()];
        return Some((vec![plan], vec![own]));
    }
    let all = Place::plan("ply-plan");
    if !too_many(plan.ply_plan.len(), limits::MOST_ENTRIES, "ply plans", &all.index(0), report) {
        return None;
    }
    let names =
        plan.ply_plan.iter().enumerate().filter_map(|(i, raw)| Some((raw.name.as_deref()?, all.index(i).key("name"))));
    names::check_unique(names, "ply plan", report);
    let shares = shares(&plan.ply_plan, &all, report);
    let read: Vec<_> = plan
        .ply_plan
        .iter()
        .enumerate()
        .map(|(i, raw)| {
            let place = all.index(i);
            let name = name(raw, i, plan.ply_plan.len(), &place, report);
            let whole = Whole { plan, supplies, made, system };
            let plies = filled(raw, &whole, &place, (i, &mut *across), report);
            let (plies, own): (Vec<Ply>, Vec<Own>) = plies?.into_iter().unzip();
            let dealing = match raw.deal {
                None | Some(raw::Dealing::Across) => Dealing::Across,
                Some(raw::Dealing::InOrder) => Dealing::InOrder,
            };
            Some((PlyPlan { name: name?, place, share: shares.as_ref()?.get(i).copied()?, dealing, plies }, own))
        })
        .collect();
    let read: Vec<(PlyPlan, Vec<Own>)> = read.into_iter().collect::<Option<_>>()?;
    Some(read.into_iter().unzip())
}

/// Says which supplies no ply plan uses.
pub(super) fn check_use(supplies: &[Supply], ply_plans: &[PlyPlan], report: &mut Report) {
    for (i, supply) in supplies.iter().enumerate() {
        let is_used = ply_plans.iter().any(|plan| plan.plies.iter().any(|ply| ply.takes(i)));
        if !is_used {
            let piece = supply.cut.map_or(String::new(), |cut| format!("piece {} of {} of ", cut.piece + 1, cut.of));
            let fault = Diagnostic::new(
                Code::Unused,
                format!("{piece}{:?} is in none of the ply plans", supply.name),
                supply.place.clone(),
            );
            report.fault(fault.label("will not be spun").help("name it in a ply, or take it out"));
        }
    }
}

/// Says which colours of a ply are missing where it is pulled apart by them, and which no strip of it has.
pub(super) fn check_colours(supplies: &[Supply], ply_plans: &[PlyPlan], colours: &[Colour], report: &mut Report) {
    for plan in ply_plans {
        for (i, ply) in plan.plies.iter().enumerate().filter(|(_, ply)| !ply.colour_order.is_empty()) {
            let place = plan.place.key("plies").index(i).key("colour-order");
            let spun = |colour: usize| {
                let mut bands = ply.supplies().flat_map(|lot| supplies[lot].bands());
                bands.any(|(spun, _)| spun == colour)
            };
            let names = |wanted: &dyn Fn(usize) -> bool| {
                let named = colours.iter().enumerate().filter(|(colour, _)| wanted(*colour));
                named.map(|(_, colour)| format!("{:?}", colour.name)).collect::<Vec<_>>().join(", ")
            };
            let lacking = names(&|colour| spun(colour) && !ply.colour_order.contains(&colour));
            let strange = names(&|colour| !spun(colour) && ply.colour_order.contains(&colour));
            for (found, message) in [
                (lacking, "expected every colour of the ply in its order, found some left out"),
                (strange, "expected colours that the ply has, found others"),
            ] {
                if !found.is_empty() {
                    let fault = Diagnostic::new(Code::DoesNotAddUp, message, place.clone()).label(found);
                    report.fault(fault.help("name each colour of its braids once, in the order of spinning"));
                }
            }
        }
    }
}

/// One plan of all there is to spin, in turn: of one supply all plies, of two in three plies the first one twice.
fn default_plan(supplies: &[SupplyName<'_>], made: &Made, system: System, report: &mut Report) -> Option<PlyPlan> {
    let place = Place::plan(defaults::PLY_PLAN.key);
    let n_plies = made.bobbins();
    if supplies.len() > n_plies {
        let into = if n_plies == 1 { "one bobbin".to_owned() } else { format!("{n_plies} plies") };
        let message = format!("{} lots of fibre do not go into {into} without a ply plan", supplies.len());
        if !report.was_refused(&place) {
            let fault = Diagnostic::new(Code::MissingKey, message, made.plies.place.clone());
            let label = if n_plies == 1 { "one single at a time" } else { "so many plies" };
            report.fault(fault.label(label).help(help_for_plan(supplies, n_plies)));
        }
        return None;
    }
    if supplies.is_empty() {
        return None;
    }
    report.assume(&defaults::PLY_PLAN, place.clone(), system);
    report.assume(&defaults::STRIPS, place.clone(), system);
    let ply = |i: usize| Ply {
        lots: vec![i % supplies.len()],
        beside: None,
        colour_order: Vec::new(),
        strips: None,
        from: End::Start,
        part: None,
        singles: 0,
    };
    let plies = (0..n_plies).map(ply).collect();
    Some(PlyPlan { name: "the yarn".to_owned(), place, share: 1.0, dealing: Dealing::Across, plies })
}

/// Two ply plans as they could be written for these supplies, which are more than plies.
fn help_for_plan(supplies: &[SupplyName<'_>], n_plies: usize) -> String {
    let plies = |first: usize| {
        let named =
            supplies.iter().cycle().skip(first).take(n_plies).map(|supply| {
                format!("{{ {} = {:?} }}", if supply.in_braids { "braid" } else { "fibre" }, supply.name)
            });
        named.collect::<Vec<_>>().join(", ")
    };
    format!(
        "say which goes into which ply, such as\n\
         [[ply-plan]]\nname = \"body\"\nshare = \"60 %\"\nplies = [{}]\n\n\
         [[ply-plan]]\nname = \"sleeves\"\nshare = \"rest\"\nplies = [{}]",
        plies(0),
        plies(n_plies)
    )
}

fn name(raw: &raw::PlyPlan, index: usize, n_plans: usize, place: &Place, report: &mut Report) -> Option<String> {
    match &raw.name {
        Some(name) => {
            let is_named = names::check(name, &place.key("name"), report);
            is_named.then(|| name.clone())
        }
        None if n_plans == 1 => Some("the yarn".to_owned()),
        None => {
            report.missing(
                format!("ply plan {} has no name", index + 1),
                place.key("name"),
                "with several ply plans, the sheets call each by its name: `name = \"body\"`",
            );
            None
        }
    }
}

/// Shares of the ply plans, which add up to one; `None` if they do not.
fn shares(plans: &[raw::PlyPlan], all: &Place, report: &mut Report) -> Option<Vec<f64>> {
    let written: Vec<_> =
        plans.iter().enumerate().map(|(i, plan)| share(plan, plans.len(), all.index(i), report)).collect();
    let written: Vec<Wanted> = written.into_iter().collect::<Option<_>>()?;
    let rests: Vec<&Place> =
        written.iter().filter_map(|wanted| if let Wanted::Rest(place) = wanted { Some(place) } else { None }).collect();
    if let [first, second, ..] = rests.as_slice() {
        let fault =
            Diagnostic::new(Code::DoesNotAddUp, "expected one ply plan to take the rest, found two", (*second).clone());
        report.fault(
            fault
                .label("the rest is taken already")
                .also((*first).clone(), "taken here")
                .help("write the share of one of them, such as `share = \"30 %\"`"),
        );
        return None;
    }
    let sum: f64 = written.iter().map(|wanted| if let Wanted::So(share) = wanted { *share } else { 0.0 }).sum();
    let has_rest = !rests.is_empty();
    let rest = 1.0 - sum;
    let does_add_up = if has_rest { rest > SLACK } else { rest.abs() <= SLACK };
    if !does_add_up {
        let found = percent(sum, 1);
        let message = if has_rest {
            format!("expected shares that leave a rest, found {found}")
        } else {
            format!("expected shares that add up to 100 %, found {found}")
        };
        let at = all.index(plans.len() - 1);
        let at = if plans.last().is_some_and(|plan| plan.share.is_some()) { at.key("share") } else { at };
        report.fault(
            Diagnostic::new(Code::DoesNotAddUp, message, at)
                .label("with the ones above")
                .help("the last one can take what is left: `share = \"rest\"`"),
        );
        return None;
    }
    Some(written.iter().map(|wanted| if let Wanted::So(share) = wanted { *share } else { rest }).collect())
}

/// By so much shares may miss the whole: what is lost in writing thirds as "33.3 %".
const SLACK: f64 = 0.0015;

enum Wanted {
    So(f64),
    Rest(Place),
}

fn share(plan: &raw::PlyPlan, n_plans: usize, place: Place, report: &mut Report) -> Option<Wanted> {
    let key = place.key("share");
    match &plan.share {
        Some(raw::Quantity(text)) if text.trim() == "rest" => Some(Wanted::Rest(key)),
        Some(written) => {
            reading::<Share>(written, &key, &limits::PLAN_SHARE, report).map(|share| Wanted::So(share.value))
        }
        None if n_plans == 1 => Some(Wanted::So(1.0)),
        None => {
            report.missing(
                "the share of a ply plan is not said",
                key,
                "write how much of the yarn is plied so: `share = \"70 %\"` or `share = \"rest\"`",
            );
            None
        }
    }
}

/// What the plies of a plan are read beside.
struct Whole<'a> {
    plan: &'a raw::Plan,
    supplies: &'a [SupplyName<'a>],
    made: Option<&'a Made>,
    system: System,
}

/// The plies, each with something to spin. `across` gets those that cut their braids across, of ply plan number `index`.
fn filled(
    raw: &raw::PlyPlan,
    whole: &Whole<'_>,
    place: &Place,
    (index, across): (usize, &mut Vec<Across>),
    report: &mut Report,
) -> Option<Vec<(Ply, Own)>> {
    let place = place.key("plies");
    if raw.plies.is_empty() {
        let help = "write `plies = [{ braid = \"north\" }, { braid = \"north\" }]` with names of your own";
        report.missing("the plies of a ply plan are not said", place, help);
        return None;
    }
    if report.was_refused(&place) {
        return None;
    }
    if let Some(made) = whole.made.filter(|made| made.bobbins() != raw.plies.len()) {
        report.fault(other_plies(raw.plies.len(), made, place));
        return None;
    }
    let plies: Vec<_> =
        raw.plies.iter().enumerate().map(|(i, ply)| one_ply(ply, whole, place.index(i), report)).collect();
    let asked = raw.plies.iter().enumerate().filter(|(_, ply)| ply.across.is_some());
    let asked: Vec<_> =
        asked.map(|(i, ply)| Across::read(ply, (index, i), place.index(i).key("across"), report)).collect();
    let plies: Vec<(Ply, Own)> = plies.into_iter().collect::<Option<_>>()?;
    across.extend(asked.into_iter().collect::<Option<Vec<_>>>()?);
    let named: Vec<Ply> = plies.iter().map(|(ply, _)| ply.clone()).collect();
    check_parts(&named, &place, report).then_some(plies)
}

/// A ply plan names a bobbin for each single of the yarn, and no other number.
fn other_plies(found: usize, made: &Made, place: Place) -> Diagnostic {
    let wanted = made.bobbins();
    let (message, help) = match &made.construction {
        Construction::Bobbins => (
            format!("expected {wanted} plies, as the yarn has, found {found}"),
            "name one braid or fibre for each ply; two plies may name the same",
        ),
        Construction::Chain => (
            format!("expected the one single of a chain ply, found {found}"),
            "a chain ply lays one single three times side by side: name its braid or fibre once; \
             to ply three bobbins, take `ply-from` out",
        ),
        Construction::BothEnds => (
            format!("expected the one single that is plied from both its ends, found {found}"),
            "name its braid or fibre once; to ply two bobbins, take `ply-from` out",
        ),
        Construction::Singles => (
            format!("expected the one single of this yarn, found {found}"),
            "name its braid or fibre once; several one after the other are several ply plans",
        ),
        Construction::Cabled(_) => (
            format!("expected {wanted} singles for the strands of the cable, found {found}"),
            "name one braid or fibre for each single, those of one strand together",
        ),
    };
    Diagnostic::new(Code::PliesDiffer, message, place)
        .label(if found < wanted { "too few" } else { "too many" })
        .also(made.plies.place.clone(), "the yarn")
        .help(help)
}

fn one_ply(raw: &raw::Ply, beside: &Whole<'_>, place: Place, report: &mut Report) -> Option<(Ply, Own)> {
    let &Whole { plan, supplies, system, .. } = beside;
    let lots = lots_of(raw, supplies, &place, report);
    let drafted_with = beside_of(raw, supplies, &place, report);
    let colour_order = colours_of(raw, plan, &place, report);
    let own = singles::own(raw, &place, report);
    let strips = match raw.strips {
        Some(strips) => {
            whole(strips, &place.key("strips"), "a number of strips", 1..=limits::MOST_STRIPS, report).map(Some)
        }
        None => {
            report.assume(&defaults::STRIPS, Place::plan("ply-plan"), system);
            Some(None)
        }
    };
    let part = match &raw.part {
        Some(written) => {
            let share: Option<Reading<Share>> = reading(written, &place.key("part"), &limits::PART, report);
            share.map(|share| Some(Part { share: share.value, text: share.text }))
        }
        None => Some(None),
    };
    let from = match raw.from {
        None | Some(raw::End::First) => End::Start,
        Some(raw::End::Other) => End::Other,
        Some(raw::End::Alternate) => End::Alternate,
    };
    let (lots, beside) = (lots?, drafted_with?);
    if !is_one_by_one(raw, &lots, beside, &place, report) {
        return None;
    }
    Some((Ply { lots, beside, colour_order: colour_order?, strips: strips?, from, part: part?, singles: 0 }, own?))
}

/// What a ply is spun from: one lot, or several braids one after the other.
fn lots_of(raw: &raw::Ply, supplies: &[SupplyName<'_>], place: &Place, report: &mut Report) -> Option<Vec<usize>> {
    let Some(named) = &raw.braids else { return supply_of(raw, supplies, place, report).map(|supply| vec![supply]) };
    let key = place.key("braids");
    if raw.braid.is_some() || raw.fibre.is_some() {
        let other = if raw.braid.is_some() { "braid" } else { "fibre" };
        let message = format!("expected `braids` or a {other}, found both");
        let fault = Diagnostic::new(Code::Contradiction, message, place.key(other)).label("named again here");
        report.fault(fault.also(key, "several are named here").help(format!("take `{other}` out")));
        return None;
    }
    if named.is_empty() {
        let help = "write `braids = [\"north\", \"south\"]` with names of your own";
        report.missing("what the ply is spun from is not said", key, help);
        return None;
    }
    let names = named.iter().enumerate().map(|(i, name)| (name.as_str(), key.index(i)));
    names::check_unique(names, "braid of a ply", report);
    let braids = || supplies.iter().filter(|supply| supply.in_braids).map(|supply| supply.name);
    let found: Vec<Option<usize>> = named
        .iter()
        .enumerate()
        .map(|(i, name)| names::find(name, braids(), ("braid", "braid"), &key.index(i), report))
        .collect();
    let found: Vec<usize> = found.into_iter().collect::<Option<_>>()?;
    let is_each_once = found.iter().enumerate().all(|(i, lot)| !found[..i].contains(lot));
    is_each_once.then_some(found)
}

/// What is drafted together with it; `None` where that cannot be found.
fn beside_of(raw: &raw::Ply, supplies: &[SupplyName<'_>], place: &Place, report: &mut Report) -> Option<Option<usize>> {
    let Some(name) = &raw.drafted_with else { return Some(None) };
    let braids = supplies.iter().map(|supply| supply.name);
    names::find(name, braids, ("braid", "braid"), &place.key("drafted-with"), report).map(Some)
}

/// The colours in the order in which a ply is spun, where it is pulled apart by them.
fn colours_of(raw: &raw::Ply, plan: &raw::Plan, place: &Place, report: &mut Report) -> Option<Vec<usize>> {
    let Some(named) = &raw.colour_order else { return Some(Vec::new()) };
    let key = place.key("colour-order");
    let names = named.iter().enumerate().map(|(i, name)| (name.as_str(), key.index(i)));
    names::check_unique(names, "colour of the order", report);
    let known = || plan.colours.keys().map(String::as_str);
    let find = |(i, name): (usize, &String)| names::find(name, known(), ("colour", "colours"), &key.index(i), report);
    let found: Vec<Option<usize>> = named.iter().enumerate().map(find).collect();
    found.into_iter().collect()
}

/// Whether what a ply says of its parts can be done with all that it is spun from.
fn is_one_by_one(raw: &raw::Ply, lots: &[usize], beside: Option<usize>, place: &Place, report: &mut Report) -> bool {
    if let Some(same) = beside.filter(|beside| lots.contains(beside)) {
        let message = "expected another braid to be drafted with, found the same one";
        let fault = Diagnostic::new(Code::Contradiction, message, place.key("drafted-with"));
        let first = if raw.braids.is_some() { "braids" } else { "braid" };
        report.fault(
            fault
                .label("named twice for this ply")
                .also(place.key(first), format!("lot {} of the plan", same + 1))
                .help("two strips of one braid drafted together are one strip twice as wide: say fewer `strips`"),
        );
        return false;
    }
    if raw.part.is_some() && (lots.len() > 1 || beside.is_some()) {
        let message = "expected a part of one braid, found several that the ply is spun from";
        let fault = Diagnostic::new(Code::Contradiction, message, place.key("part"));
        report.fault(
            fault
                .label("part of which?")
                .help("take `part` out: several braids go into a ply by what there is of them"),
        );
        return false;
    }
    true
}

fn supply_of(raw: &raw::Ply, supplies: &[SupplyName<'_>], place: &Place, report: &mut Report) -> Option<usize> {
    match (&raw.braid, &raw.fibre) {
        (Some(braid), None) => {
            let braids = supplies.iter().filter(|supply| supply.in_braids).map(|supply| supply.name);
            // Braids come first among the supplies, so that the index among braids is the one among supplies.
            names::find(braid, braids, ("braid", "braid"), &place.key("braid"), report)
        }
        (None, Some(fibre)) => supply_of_fibre(fibre, supplies, &place.key("fibre"), report),
        (Some(_), Some(_)) => {
            let fault =
                Diagnostic::new(Code::Contradiction, "expected a braid or a fibre, found both", place.key("fibre"));
            report.fault(
                fault
                    .label("named again here")
                    .also(place.key("braid"), "named here")
                    .help("keep the braid: it knows its fibre"),
            );
            None
        }
        (None, None) => {
            report.missing(
                "what the ply is spun from is not said",
                place.clone(),
                "write `{ braid = \"north\" }` or `{ fibre = \"corriedale\" }`, with names of your own",
            );
            None
        }
    }
}

/// The supply of a fibre: the loose fibre, or its only braid.
fn supply_of_fibre(fibre: &str, supplies: &[SupplyName<'_>], place: &Place, report: &mut Report) -> Option<usize> {
    if let Some(loose) = supplies.iter().position(|supply| !supply.in_braids && supply.name == fibre) {
        return Some(loose);
    }
    let braids: Vec<usize> =
        (0..supplies.len()).filter(|i| supplies[*i].in_braids && supplies[*i].fibre == Some(fibre)).collect();
    match braids.as_slice() {
        [only] => Some(*only),
        [] => names::find(fibre, supplies.iter().filter_map(|supply| supply.fibre), ("fibre", "fibre"), place, report),
        several => {
            let names: Vec<String> = several.iter().map(|i| format!("`braid = {:?}`", supplies[*i].name)).collect();
            let fault = Diagnostic::new(
                Code::AmbiguousName,
                format!("expected one lot of fibre, found {} of {fibre:?}", several.len()),
                place.clone(),
            );
            report.fault(fault.label("which of them?").help(format!("write {}", names.join(" or "))));
            None
        }
    }
}

/// Parts of one supply add up to at most one, and leave something where a ply takes what is left.
fn check_parts(plies: &[Ply], place: &Place, report: &mut Report) -> bool {
    let mut is_sound = true;
    for (i, ply) in plies.iter().enumerate() {
        // Said once for each supply, at the last ply that says its part.
        let of_same: Vec<&Ply> = plies.iter().filter(|other| other.takes(ply.lots[0])).collect();
        let is_last =
            ply.part.is_some() && plies[i + 1..].iter().all(|other| !other.takes(ply.lots[0]) || other.part.is_none());
        if !is_last {
            continue;
        }
        let sum: f64 = of_same.iter().filter_map(|other| other.part.as_ref()).map(|part| part.share).sum();
        let takes_rest = of_same.iter().any(|other| other.part.is_none());
        let most = if takes_rest { 1.0 - SLACK } else { 1.0 + SLACK };
        if sum > most {
            let found = percent(sum, 1);
            let message = if takes_rest {
                format!("expected parts that leave something for the other ply, found {found}")
            } else {
                format!("expected parts of one braid of at most 100 %, found {found}")
            };
            let fault =
                Diagnostic::new(Code::DoesNotAddUp, message, place.index(i).key("part")).label("with the parts above");
            report.fault(fault.help("plies that name one braid share it equally where no part is said"));
            is_sound = false;
        }
    }
    is_sound
}
