//! Whether the bobbins allow what is planned: how many sets a ply plan takes, and the faults where that cannot be.

use super::deal::{DealtPlan, WorkOrder};
use super::supplies::Piece;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Construction, Dealing, Fill, Order, Plan, Ply, Reading};
use crate::units::Count;

/// More strips than these nobody tears, and no checklist could be followed; our choice.
const MOST_STRIPS: usize = 2000;

/// More sets than these are a slip of the pen; our choice.
const MOST_SETS: usize = 200;

/// How many sets: as few as the bobbins allow, so that every ply's strips deal out evenly. `heaviest` is the weight of fibre for
/// the heaviest ply of the whole ply plan, `whole` that for all of them.
pub(super) fn sets(
    plan: &Plan,
    index: usize,
    heaviest: f64,
    whole: f64,
    pieces: &[Vec<Piece>],
) -> Result<usize, Box<Diagnostic>> {
    let ply_plan = &plan.ply_plans[index];
    let holds = &plan.wheel.bobbin_holds;
    let plying = &plan.plying.bobbin_holds;
    let by_singles = heaviest / holds.value;
    let by_plied = if is_by_skein(plan) { whole / plying.value } else { 0.0 };
    let fewest = by_singles.max(by_plied).ceil().max(1.0) as usize;
    if fewest > MOST_SETS {
        return Err(Box::new(
            Diagnostic::new(
                Code::BobbinTooSmall,
                format!("expected at most {MOST_SETS} sets of bobbins, found {fewest}"),
                holds.place.clone(),
            )
            .label(format!("a bobbin holds {}", holds.text))
            .help("give a larger `bobbin-holds`, or check the weights of the fibre"),
        ));
    }
    let braids = |ply: &Ply| ply.lots.iter().map(|lot| pieces[*lot].len()).sum::<usize>();
    let strips = |ply: &Ply| ply.strips.map(|strips| strips as usize * braids(ply));
    if ply_plan.dealing == Dealing::InOrder {
        // A strip goes on where its bobbin ends, so that any number of strips fills any number of sets.
        let all = (0..ply_plan.plies.len()).map(|i| ply_plan.strips(i, fewest) * braids(&ply_plan.plies[i])).sum();
        return if all > MOST_STRIPS { Err(Box::new(too_many_strips(plan, all, fewest))) } else { Ok(fewest) };
    }
    let given: Vec<usize> = ply_plan.plies.iter().filter_map(strips).collect();
    let most = given.iter().copied().min().unwrap_or(fewest);
    if let Some(n) = (fewest..=most.max(fewest)).find(|n| given.iter().all(|strips| strips % n == 0)) {
        let all = ply_plan.plies.iter().map(|ply| strips(ply).unwrap_or(n * braids(ply))).sum();
        return if all > MOST_STRIPS { Err(Box::new(too_many_strips(plan, all, n))) } else { Ok(n) };
    }
    let (ply, total) = ply_plan
        .plies
        .iter()
        .enumerate()
        .find_map(|(i, ply)| strips(ply).filter(|total| total % fewest != 0).map(|total| (i, total)))
        .expect("invariant: some ply's strips do not deal out, else the search had ended");
    let braids = braids(&ply_plan.plies[ply]);
    let works = (1..)
        .find(|strips| (strips * braids).is_multiple_of(fewest) && strips * braids >= fewest)
        .expect("invariant: a multiple exists");
    Err(Box::new(
        Diagnostic::new(
            Code::StripsDoNotDeal,
            format!("expected strips that deal out over {fewest} or more sets, found {total}"),
            ply_plan.place.key("plies").index(ply).key("strips"),
        )
        .label(format!("{total} strips from {braids} {}, for this ply", if braids == 1 { "piece" } else { "pieces" }))
        .also(
            if by_plied > by_singles { plying.place.clone() } else { holds.place.clone() },
            "so small a bobbin asks for so many sets",
        )
        .help(if works > MOST_ADVISED {
            "leave `strips` out, and as many are torn as deal out".to_owned()
        } else {
            format!("`strips = {works}` deals out over {fewest} sets; so does leaving it out")
        }),
    ))
}

/// More strips of one braid nobody tears on the advice of a program; our choice.
const MOST_ADVISED: usize = 12;

fn too_many_strips(plan: &Plan, all: usize, n_sets: usize) -> Diagnostic {
    let holds = &plan.wheel.bobbin_holds;
    Diagnostic::new(
        Code::BobbinTooSmall,
        format!("expected at most {MOST_STRIPS} strips in one ply plan, found {all}"),
        holds.place.clone(),
    )
    .label(format!("a bobbin holds {}, so that there are {n_sets} sets", holds.text))
    .note("where a ply says no `strips`, each braid is torn into one for every set")
    .help("say fewer `strips` for each ply, take larger bobbins, or part the project into several plans")
}

/// Whether a set is to be one skein. A yarn that is not plied stays on the bobbin it is spun on.
fn is_by_skein(plan: &Plan) -> bool {
    plan.plying.fill == Fill::SkeinForEachSet && plan.yarn.construction.is_plied()
}

/// How many skeins a set of so much fibre gives: as many as the plying bobbin asks for, where whole bobbins are spun first.
pub(super) fn skeins_of_a_set(plan: &Plan, whole: f64) -> usize {
    if is_by_skein(plan) || !plan.yarn.construction.is_plied() {
        return 1;
    }
    (whole / plan.plying.bobbin_holds.value).ceil().max(1.0) as usize
}

/// The order of work that the bobbins owned allow, or the fault where they allow none, or not the one that is asked for.
pub(super) fn order(plan: &Plan, plans: &[DealtPlan], faults: &mut Vec<Diagnostic>) -> WorkOrder {
    let asked = plan.plying.order.as_ref();
    let of_asked = || match asked {
        Some((Order::SetBySet, _)) => WorkOrder::SomeSets(1),
        Some((Order::AllFirst, _)) | None => WorkOrder::AllFirst,
    };
    let Some(owned) = &plan.wheel.bobbins_owned else { return of_asked() };
    let storage = plan.wheel.storage_bobbins.as_ref().map_or(0, |storage| storage.value as usize);
    let have = owned.value as usize + storage;
    let Taken { in_a_set, to_ply_on, least } = taken(plan);
    if have < least {
        faults.push(too_few(plan, least, have, owned));
        return of_asked();
    }
    let sets: usize = plans.iter().map(|plan| plan.sets.len()).sum();
    let all = sets * in_a_set + to_ply_on;
    if have >= all || in_a_set == 0 {
        return of_asked();
    }
    if let Some((Order::AllFirst, place)) = asked {
        faults.push(too_few_for_all(owned, place, sets, &taken(plan), all, have));
    }
    match asked {
        Some((Order::SetBySet, _)) => WorkOrder::SomeSets(1),
        _ => WorkOrder::SomeSets(((have - to_ply_on) / in_a_set).max(1)),
    }
}

/// Bobbins that the construction takes.
struct Taken {
    /// For the singles of one set; none where they are wound off into balls.
    in_a_set: usize,
    /// To ply on.
    to_ply_on: usize,
    /// The fewest with which it can be done at all.
    least: usize,
}

fn taken(plan: &Plan) -> Taken {
    let in_a_set = plan.bobbins_in_a_set();
    match &plan.yarn.construction {
        // A ball is wound off the bobbin, which is then free to be plied on.
        Construction::BothEnds => Taken { in_a_set: 0, to_ply_on: 1, least: 1 },
        Construction::Singles => Taken { in_a_set: 1, to_ply_on: 0, least: 1 },
        Construction::Bobbins | Construction::Chain => Taken { in_a_set, to_ply_on: 1, least: in_a_set + 1 },
        // Strand after strand: the singles of the last one beside the strands plied before, and one to ply on.
        Construction::Cabled(strands) => {
            let strands = strands.value as usize;
            Taken { in_a_set, to_ply_on: 1, least: plan.yarn.plies.value as usize + strands }
        }
    }
}

fn too_few(plan: &Plan, least: usize, have: usize, owned: &Reading<Count>) -> Diagnostic {
    let label = match &plan.yarn.construction {
        Construction::Cabled(_) => "those of one strand, and one for each strand plied",
        Construction::Singles | Construction::BothEnds => "one to spin on",
        Construction::Chain => "one of singles, and one to ply on",
        Construction::Bobbins => "one for each ply, and one to ply on",
    };
    Diagnostic::new(
        Code::TooFewBobbins,
        format!("expected at least {least} bobbins, found {have}"),
        owned.place.clone(),
    )
    .label(label)
    .also(plan.yarn.plies.place.clone(), "so many plies")
    .help("count what singles are wound off onto as `storage-bobbins`, or take fewer plies")
}

fn too_few_for_all(
    owned: &Reading<Count>,
    order: &Place,
    sets: usize,
    Taken { in_a_set, to_ply_on, .. }: &Taken,
    all: usize,
    have: usize,
) -> Diagnostic {
    let bobbins = if *in_a_set == 1 { "bobbin" } else { "bobbins" };
    let and_one = if *to_ply_on == 0 { "" } else { ", and one to ply on" };
    Diagnostic::new(
        Code::TooFewBobbins,
        format!("expected {all} bobbins to spin all singles first, found {have}"),
        order.clone(),
    )
    .label(format!("{sets} sets of {in_a_set} {bobbins}{and_one}"))
    .also(owned.place.clone(), "so many bobbins")
    .help(format!(
        "rewind singles onto storage bobbins and say so, `storage-bobbins = {}`; or write `order = \"set by set\"`",
        all - owned.value as usize
    ))
}
