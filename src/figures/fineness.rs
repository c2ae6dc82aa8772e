//! Whether the fibre can be spun so fine: fibres across the singles, and how even that lets them be.

use super::expression::Figure;
use super::ledger::{Book, number};
use super::{assumed, fibre};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Plan;
use crate::units::format::decimals;
use crate::units::{Density, LinearDensity, Share};

/// How many fibres lie in the singles, and how even that lets them be; where the fineness is known.
/// `finest` are the finest singles at rest of each fibre; none for a fibre that is not spun.
pub(super) fn fibres(
    book: &mut Book,
    plan: &Plan,
    finest: &[Option<Figure<LinearDensity>>],
    faults: &mut Vec<Diagnostic>,
) {
    for (i, (fibre, at_rest)) in plan.fibres.iter().zip(finest).enumerate() {
        let name = |what: &str| format!("fibre.{}.{what}", fibre.name);
        let dry = book.assume::<Share>(&assumed::REGAIN_DRY);
        let damp = book.assume::<Share>(&assumed::REGAIN_DAMP);
        book.enter(name("damp"), format!("{} in damp air over dry", fibre.name), fibre::regain_factor(&damp, &dry));
        let (Some(fineness), Some(at_rest)) = (&fibre.fineness, at_rest) else { continue };
        let diameter = book.reading(fineness, "fibre diameter");
        let density: Figure<Density> = book.fact(
            &format!("fibre-kind.{}", fibre.kind.name),
            &format!("density of {}", fibre.kind.name),
            fibre.kind.density * 1e6,
            format!("{} g/cm³", decimals(fibre.kind.density, 2)),
            fibre.kind.standing,
            fibre.kind.source,
        );
        let variation = book.enter(
            name("variation"),
            format!("variation of {} diameters", fibre.name),
            fibre::diameter_variation(&diameter),
        );
        let across = book.enter(
            name("across"),
            format!("{} fibres across the singles", fibre.name),
            fibre::fibres_across(at_rest, &density, &diameter, &variation),
        );
        book.enter(
            name("irregularity"),
            format!("least irregularity in {}", fibre.name),
            fibre::limit_irregularity(&across, &variation),
        );
        if across.value() < FEW_FIBRES {
            let few = across.value() < TOO_FEW_FIBRES;
            let limit = number(book, "fewest-fibres", "fewest fibres", if few { 20 } else { 35 }, "the spinning limit");
            let finest = book.enter(
                name("finest"),
                format!("finest singles of {}", fibre.name),
                fibre::finest(&limit, &density, &diameter, &variation),
            );
            faults.push(too_fine(plan, i, across.value(), finest.value(), at_rest.value(), few));
        }
    }
}

/// Fewer fibres than these in the cross-section are hard to spin: worsted 35 to 40, from memory.
const FEW_FIBRES: f64 = 35.0;

/// Fewer than these are refused; our choice.
const TOO_FEW_FIBRES: f64 = 20.0;

fn too_fine(plan: &Plan, fibre: usize, across: f64, finest: f64, at_rest: f64, refused: bool) -> Diagnostic {
    let yarn = &plan.yarn;
    let place = match (&yarn.grist, &yarn.wraps, &yarn.matched) {
        (Some(grist), ..) => grist.place.clone(),
        (None, Some(wraps), _) => wraps.place.clone(),
        (None, None, Some(matched)) => matched.place.clone(),
        (None, None, None) => plan.chosen().map_or_else(|| Place::plan("yarn"), |sample| sample.place.clone()),
    };
    let name = &plan.fibres[fibre].name;
    let limit = if refused { TOO_FEW_FIBRES } else { FEW_FIBRES };
    let code = if refused { Code::TooFine } else { Code::Fine };
    Diagnostic::new(
        code,
        format!("expected at least {limit} fibres across the singles, found {}", decimals(across, 0)),
        place,
    )
    .label(format!("asks for singles of {} tex", decimals(at_rest * 1000.0, 0)))
    .note(format!("{name} holds together from about {} tex in the singles", decimals(finest * 1000.0, 0)))
    .help(format!(
        "aim at a heavier yarn: about {} times as heavy per length, or take fewer plies or a finer fibre",
        decimals(finest / at_rest, 1)
    ))
}
