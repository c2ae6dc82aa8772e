//! What is spun and plied, and what it is checked and set by: weights per length on the way, limits, settings.

use super::aim::Aim;
use super::expression::Figure;
use super::ledger::Book;
use super::settings::{Settings, settings};
use super::{assumed, fineness, folding, gates, thickness, twist};
use crate::diagnostics::Diagnostic;
use crate::plan::Plan;
use crate::units::{LinearDensity, Loft, Twist};

/// Enters the checks and settings for spinning and plying; what the wheel cannot give is a fault.
pub fn spin(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> Settings {
    let wound = book.enter(
        "singles.wound-tex",
        "weight per length of wound singles",
        folding::wound_singles(&aim.washed, &aim.plies, &aim.plying_shortens, &aim.keep, &aim.lightens),
    );
    let at_rest =
        book.enter("singles.rest-tex", "weight per length of singles at rest", folding::at_rest(&wound, &aim.stretch));
    // Every ply is spun apart, so that all of them average.
    fineness::fibres(book, plan, &at_rest, &aim.plies, faults);
    let n = aim.plies.value() as usize;
    let plied = book.enter(
        "plied.wound-tex",
        "weight per length of fresh plied yarn",
        folding::plied(&vec![wound.clone(); n], &aim.plying_shortens),
    );
    let step = gates::scale_step(book, plan);
    gates::weight_gate(book, plan, "singles", "singles", &wound, &step);
    gates::weight_gate(book, plan, "plied", "plied yarn", &plied, &step);
    gates::wraps_gate(book, plan, "singles", &aim.singles_wraps);
    gates::washed_gates(book, plan, aim);
    gates::twist_gates(book, plan, aim);
    cross_checks(book, plan, aim, &at_rest);
    let settings = settings(book, plan, aim, faults);
    fineness::staples(book, plan, faults);
    settings
}

/// Figures that no sheet but the workings prints: for whoever compares with a mill or a book.
fn cross_checks(book: &mut Book, plan: &Plan, aim: &Aim, at_rest: &Figure<LinearDensity>) {
    let fresh = book.figure::<Twist>("singles.fresh-twist");
    book.enter("singles.twist-factor", "twist factor of the singles", twist::twist_factor(&fresh, at_rest));
    book.enter(
        "washed.twist-factor",
        "twist factor of the plied yarn",
        twist::twist_factor(&aim.ply_twist, &aim.washed),
    );
    let angle = book.enter("singles.angle", "angle of the fibres", twist::singles_angle(&fresh, &aim.singles_wraps));
    book.enter("singles.contraction", "length that twist takes from a single", twist::contraction(&angle));
    let is_carded =
        plan.fibres.iter().any(|fibre| fibre.preparation.is_some_and(|preparation| preparation != "combed top"));
    let handbook = book.assume::<Loft>(if is_carded { &assumed::HANDBOOK_WOOLLEN } else { &assumed::HANDBOOK_LOFT });
    let grist = book.figure("washed.grist");
    book.enter(
        "washed.packed-diameter",
        "diameter by the mill handbooks",
        thickness::packed_diameter(&handbook, &grist),
    );
}
