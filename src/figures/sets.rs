//! Whether the bobbins allow what is planned: how many sets a ply plan takes, and the faults where that cannot be.

use super::deal::Piece;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Plan;
use crate::units::format::decimals;

/// More strips than these nobody tears, and no checklist could be followed; our choice.
const MOST_STRIPS: usize = 2000;

/// More sets than these are a slip of the pen; our choice.
const MOST_SETS: usize = 200;

/// How many sets: as few as the bobbins allow, so that every ply's strips deal out evenly.
pub(super) fn sets(plan: &Plan, index: usize, per_ply: f64, pieces: &[Vec<Piece>]) -> Result<usize, Box<Diagnostic>> {
    let ply_plan = &plan.ply_plans[index];
    let whole = per_ply * plan.yarn.plies.value;
    let holds = &plan.wheel.bobbin_holds;
    let plying = &plan.plying.bobbin_holds;
    let fewest = (per_ply / holds.value).max(whole / plying.value).ceil().max(1.0) as usize;
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
    let strips = |ply: &crate::plan::Ply| ply.strips.map(|strips| strips as usize * pieces[ply.supply].len());
    let given: Vec<usize> = ply_plan.plies.iter().filter_map(strips).collect();
    let most = given.iter().copied().min().unwrap_or(fewest);
    if let Some(n) = (fewest..=most.max(fewest)).find(|n| given.iter().all(|strips| strips % n == 0)) {
        let all = ply_plan.plies.iter().map(|ply| strips(ply).unwrap_or(n * pieces[ply.supply].len())).sum();
        return if all > MOST_STRIPS { Err(Box::new(too_many_strips(plan, all, n))) } else { Ok(n) };
    }
    let (ply, total) = ply_plan
        .plies
        .iter()
        .enumerate()
        .find_map(|(i, ply)| strips(ply).filter(|total| total % fewest != 0).map(|total| (i, total)))
        .expect("invariant: some ply's strips do not deal out, else the search had ended");
    let braids = pieces[ply_plan.plies[ply].supply].len();
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
            if whole / plying.value > per_ply / holds.value { plying.place.clone() } else { holds.place.clone() },
            "so small a bobbin asks for so many sets",
        )
        .help(format!("`strips = {works}` deals out over {fewest} sets; so does leaving it out")),
    ))
}

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

/// Bobbins enough for one set and the plied yarn.
pub(super) fn owned(plan: &Plan, faults: &mut Vec<Diagnostic>) {
    let Some(owned) = &plan.wheel.bobbins_owned else { return };
    let wanted = plan.yarn.plies.value + 1.0;
    if owned.value < wanted {
        faults.push(
            Diagnostic::new(
                Code::TooFewBobbins,
                format!("expected at least {} bobbins, found {}", decimals(wanted, 0), owned.text),
                owned.place.clone(),
            )
            .label("one for each ply, and one to ply on")
            .also(Place::plan("yarn.plies"), "so many plies")
            .help("wind singles onto storage bobbins and count those too, or take fewer plies"),
        );
    }
}
