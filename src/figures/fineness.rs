//! Whether the fibre can be spun so fine: fibres across the singles, and how even that lets them be.

use super::expression::{Figure, Formula};
use super::kinds::{self, Spun};
use super::ledger::{Book, number};
use super::{assumed, fibre};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Fibre, FibreKind, Origin, Plan, Reading, Singles};
use crate::units::format::{decimals, significant, with_unit};
use crate::units::{Density, Kind, Length, Share, Standing, System, unit};

/// How many fibres lie in the singles, and how even that lets them and the plied yarn be; where the fineness is known.
pub(super) fn fibres(book: &mut Book, plan: &Plan, spun: &[Spun], faults: &mut Vec<Diagnostic>) {
    let finest = kinds::finest_of_each_fibre(plan, spun);
    let plies = plan.yarn.plies.value as usize;
    let averaging = plan.yarn.construction.averaging(plies);
    let averaging = number(book, "averaging", "plies that average", averaging, "those that were spun apart");
    for (i, (fibre, finest)) in plan.fibres.iter().zip(&finest).enumerate() {
        let name = |what: &str| format!("fibre.{}.{what}", fibre.name);
        if fibre.is_wool_or_hair() {
            let dry = book.assume::<Share>(&assumed::REGAIN_DRY);
            let damp = book.assume::<Share>(&assumed::REGAIN_DAMP);
            book.enter(name("damp"), format!("{} in damp air over dry", fibre.name), fibre::regain_factor(&damp, &dry));
        }
        let (Some(fineness), Some((kind, at_rest))) = (&fibre.fineness, finest) else { continue };
        let diameter = book.reading(fineness, "fibre diameter");
        let density = density(book, fibre);
        let variation = if fibre.is_mostly_wool_or_hair() {
            fibre::diameter_variation(&diameter)
        } else {
            book.assume::<Share>(&assumed::OTHER_VARIATION).by(&TAKEN)
        };
        let variation = book.enter(name("variation"), format!("variation of {} diameters", fibre.name), variation);
        let across = book.enter(
            name("across"),
            format!("{} fibres across the singles", fibre.name),
            fibre::fibres_across(at_rest, &density, &diameter, &variation),
        );
        let irregularity = book.enter(
            name("irregularity"),
            format!("least irregularity in {}", fibre.name),
            fibre::limit_irregularity(&across, &variation),
        );
        if spun.len() == 1 {
            book.enter(
                name("plied-irregularity"),
                format!("least irregularity of the plied yarn in {}", fibre.name),
                fibre::plied_irregularity(&irregularity, &averaging),
            );
        }
        if across.value() < FEW_FIBRES {
            let few = across.value() < TOO_FEW_FIBRES;
            let limit = number(book, "fewest-fibres", "fewest fibres", if few { 20 } else { 35 }, "the spinning limit");
            let finest = book.enter(
                name("finest"),
                format!("finest singles of {}", fibre.name),
                fibre::finest(&limit, &density, &diameter, &variation),
            );
            let kind = &plan.singles[*kind];
            faults.push(too_fine(plan, (i, kind), across.value(), finest.value(), at_rest.value(), few));
        }
    }
    unlike(book, plan, spun);
}

/// The least irregularity of unlike plies together, where it is known of each.
fn unlike(book: &mut Book, plan: &Plan, spun: &[Spun]) {
    if spun.len() == 1 {
        return;
    }
    let of_ply = |ply: &crate::plan::Ply| {
        let fibre = &plan.fibres[plan.supplies[ply.lots[0]].fibre];
        Some((spun[ply.singles].share.clone(), book.find::<Share>(&format!("fibre.{}.irregularity", fibre.name))?))
    };
    let plies: Option<Vec<_>> = plan.ply_plans[0].plies.iter().map(of_ply).collect();
    if let Some(plies) = plies {
        book.enter("yarn.irregularity", "least irregularity of the plied yarn", fibre::unlike_irregularity(&plies));
    }
}

static TAKEN: Formula = Formula { source: "as given", standing: Standing::OurChoice };

/// Density of a fibre: that of its kind, or of a blend by the volumes of its kinds.
fn density(book: &mut Book, fibre: &Fibre) -> Figure<Density> {
    if let [(kind, _)] = fibre.content.as_slice() {
        return kind_density(book, kind);
    }
    let part = |(kind, share): &(&FibreKind, Reading<Share>)| {
        (book.reading(share, &format!("share of {}", kind.name)), kind_density(book, kind))
    };
    let parts: Vec<(Figure<Share>, Figure<Density>)> = fibre.content.iter().map(part).collect();
    let words = format!("density of {}", fibre.name);
    book.enter(format!("fibre.{}.density", fibre.name), words, fibre::blend_density(&parts))
}

fn kind_density(book: &mut Book, kind: &FibreKind) -> Figure<Density> {
    book.fact(
        &format!("fibre-kind.{}", kind.name),
        &format!("density of {}", kind.name),
        kind.density * 1e6,
        format!("{} g/cm³", decimals(kind.density, 2)),
        kind.standing,
        kind.source,
    )
}

/// A short draw that lets in more at each treadle than a fibre is long; called once the settings are entered.
pub(super) fn staples(book: &mut Book, plan: &Plan, faults: &mut Vec<Diagnostic>) {
    for (i, fibre) in plan.fibres.iter().enumerate() {
        let Some(let_in) = longest_let_in(book, plan, i) else { continue };
        let Some(staple) = &fibre.staple else { continue };
        let length = book.reading(staple, &format!("staple of {}", fibre.name));
        let reach = book.enter(
            format!("fibre.{}.reach", fibre.name),
            format!("yarn let in at each treadle over the staple of {}", fibre.name),
            fibre::reach(&let_in, &length),
        );
        if reach.value() > 1.0 {
            faults.push(longer_than_staple(plan, fibre, staple, let_in.value()));
        }
    }
}

/// The most that is let in at each treadle of any singles of a fibre; none where treadles are counted for a draft instead.
fn longest_let_in(book: &Book, plan: &Plan, fibre: usize) -> Option<Figure<Length>> {
    if !plan.wheel.machine.lets_in_each_treadle(plan.draw()) {
        return None;
    }
    let plies = plan.ply_plans.iter().flat_map(|plan| &plan.plies);
    plies
        .filter(|ply| ply.supplies().any(|lot| plan.supplies[lot].fibre == fibre))
        .filter_map(|ply| {
            book.find::<Length>(&format!("{}.length", plan.singles[ply.singles].at_wheel()))
                .or_else(|| book.find("wheel.length"))
        })
        .max_by(|a, b| a.value().total_cmp(&b.value()))
}

fn longer_than_staple(plan: &Plan, fibre: &Fibre, staple: &Reading<Length>, let_in: f64) -> Diagnostic {
    let symbol = if plan.units == System::Inch { "in" } else { "cm" };
    let hand = unit(Kind::Length, symbol).expect("invariant: the tables have centimetres and inches");
    let written = |metres: f64| with_unit(&significant(hand.from_base(metres), 2), hand);
    let wish = written(staple.value / 2.0);
    let message =
        format!("expected at most {} let in at each treadle of {}, found {}", staple.text, fibre.name, written(let_in));
    let fault = Diagnostic::new(Code::LongerThanStaple, message, staple.place.clone());
    let fault = fault.label("no fibre reaches from hand to hand");
    let wished = &plan.wheel.length_per_treadle;
    let fault = match wished.origin {
        Origin::Entry | Origin::Measured => {
            fault.also(wished.place.clone(), "the nearest whorl to this lets in so much")
        }
        Origin::Default(..) => fault.note(format!("{} is taken where the plan does not say it", wished.text)),
    };
    fault.help(format!(
        "let in half a staple: `length-per-treadle = \"{wish}\"` under [wheel], with a slower whorl that gives it; \
         or spin with a long draw: `draw = \"long draw\"`"
    ))
}

/// Fewer fibres than these in the cross-section are hard to spin: worsted 35 to 40, from memory.
const FEW_FIBRES: f64 = 35.0;

/// Fewer than these are refused; our choice.
const TOO_FEW_FIBRES: f64 = 20.0;

fn too_fine(
    plan: &Plan,
    (fibre, kind): (usize, &Singles),
    across: f64,
    finest: f64,
    at_rest: f64,
    refused: bool,
) -> Diagnostic {
    let yarn = &plan.yarn;
    // What the chosen sample measured takes the place of what the plan asks for.
    let sampled = plan.chosen().and_then(|sample| match (&sample.weight, sample.wraps.first()) {
        (Some(weight), _) if sample.loops.is_some() => Some(weight.place.clone()),
        (_, wraps) => wraps.map(|wraps| wraps.place.clone()),
    });
    let place = match (&kind.grist, sampled, &yarn.grist, &yarn.wraps, &yarn.matched) {
        (Some(own), ..) => own.place.clone(),
        (None, Some(sampled), ..) => sampled,
        (None, None, Some(grist), ..) => grist.place.clone(),
        (None, None, None, Some(wraps), _) => wraps.place.clone(),
        (None, None, None, None, Some(matched)) => matched.place.clone(),
        (None, None, None, None, None) => Place::plan("yarn"),
    };
    let name = &plan.fibres[fibre].name;
    let limit = if refused { TOO_FEW_FIBRES } else { FEW_FIBRES };
    let code = if refused { Code::TooFine } else { Code::Fine };
    Diagnostic::new(
        code,
        format!("expected at least {limit} fibres across the singles, found {}", decimals(across, 0)),
        place,
    )
    .label(format!("asks for singles of {} tex", tex(at_rest)))
    .note(format!("{name} holds together from about {} tex in the singles", tex(finest)))
    .help(format!(
        "{}: about {} times as heavy per length, or take {}a finer fibre",
        if kind.grist.is_some() { "give this ply a heavier grist" } else { "aim at a heavier yarn" },
        decimals(finest / at_rest, 1),
        if kind.grist.is_some() { "" } else { "fewer plies or " },
    ))
}

/// A linear density of singles in tex: whole numbers, but of a few tex two digits.
fn tex(density: f64) -> String {
    let tex = density * 1000.0;
    if tex < 10.0 { significant(tex, 2) } else { decimals(tex, 0) }
}
