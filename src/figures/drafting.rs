//! Whether strips can be drafted: how much thicker a strip is than the single that is spun from it.

use super::deal::{Deal, DealtPlan};
use super::expression::{Figure, Formula};
use super::folding;
use super::kinds::Spun;
use super::ledger::Book;
use crate::diagnostics::{Code, Diagnostic};
use crate::plan::{Plan, Supply};
use crate::units::format::decimals;
use crate::units::{Length, LinearDensity, Mass, Share, Standing};

/// A strip that is not this many times as heavy by its length as the single cannot be drafted to it evenly, and hardly holds
/// together while it is torn; our choice, the least draft that leaves a hand anything to do.
const LEAST: f64 = 2.0;

/// Enters how far each ply's strips are drafted, and notes strips that are too thin to tear. Braids of no known length are left out.
pub(super) fn drafts(book: &mut Book, plan: &Plan, singles: &[Spun], deal: &Deal, faults: &mut Vec<Diagnostic>) {
    for dealt in &deal.plans {
        for ply in 0..plan.ply_plans[dealt.ply_plan].plies.len() {
            faults.extend(draft(book, plan, singles, dealt, ply));
        }
    }
}

fn draft(book: &mut Book, plan: &Plan, singles: &[Spun], dealt: &DealtPlan, ply: usize) -> Option<Diagnostic> {
    let named = &plan.ply_plans[dealt.ply_plan];
    let bobbin = &dealt.sets[0].bobbins[ply];
    let weight = |k: usize| book.figure::<Mass>(&format!("bobbin.{}.strip.{}", bobbin.number, k + 1));
    let lightest = (0..bobbin.strips.len()).min_by(|a, b| weight(*a).value().total_cmp(&weight(*b).value()))?;
    let weight = weight(lightest);
    let supply = &plan.supplies[bobbin.strips[lightest].supply];
    let length = length(book, supply)?;
    let strip = folding::weighed(&weight, &length);
    let single = &singles[named.plies[ply].singles].wound;
    let noun = format!("draft from strip to single, ply {} of {}", ply + 1, named.name);
    let draft = book.enter(format!("draft.{}.{}", named.name, ply + 1), noun, drafted(&strip, single));
    (draft.value() < LEAST).then(|| too_thin(plan, dealt, ply, draft.value()))
}

/// How many times a strip is drawn out to become the single: their weights by length, one over the other.
pub fn drafted(strip: &Figure<LinearDensity>, single: &Figure<LinearDensity>) -> Figure<Share> {
    (strip / single).by(&Formula { source: "mass stays, length goes", standing: Standing::Standard })
}

/// The length of the piece of a braid that is torn: as it is said, else by its sections.
fn length(book: &mut Book, supply: &Supply) -> Option<Figure<Length>> {
    let whole = match &supply.length {
        Some(length) => book.reading(length, &format!("length of {}", supply.name)),
        None => super::expression::sum(&super::supplies::section_lengths(book, supply)?),
    };
    Some(match supply.cut {
        None => whole,
        Some(_) => whole * super::supplies::piece_share(book, supply),
    })
}

fn too_thin(plan: &Plan, dealt: &DealtPlan, ply: usize, draft: f64) -> Diagnostic {
    let named = &plan.ply_plans[dealt.ply_plan];
    let place = named.place.key("plies").index(ply);
    let place = if named.plies[ply].strips.is_some() { place.key("strips") } else { place };
    let message = format!(
        "expected strips at least {LEAST} times as heavy by their length as the singles, found {}",
        decimals(draft, 1)
    );
    let fault = Diagnostic::new(Code::StripTooThin, message, place).label("so many strips cannot be torn and drafted");
    fault.help("tear each braid into fewer strips, or plan finer singles")
}
