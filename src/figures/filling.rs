//! How full a bobbin looks while it fills: the outer layers hold more, so that half of the wool is on it long after the yarn is
//! half-way out. Widths are shares of the width of a bobbin that holds all it can.

use super::assumed::CORE;
use super::deal::Deal;
use super::expression::dimension::square;
use super::expression::{Figure, Formula, rest, root};
use super::ledger::Book;
use crate::plan::{Drive, Machine, Plan, Reading};
use crate::units::{Mass, Share, Standing};

/// The parts of a load at which one looks before it is all on: the name of the figure, words, and the part.
const PARTS: [(&str, &str, f64); 3] =
    [("0.25", "quarter", 0.25), ("0.5", "half", 0.5), ("0.75", "three-quarters", 0.75)];

/// Width of the yarn on a bobbin: √(core² + wound × (1 − core²)), `wound` being the share of what the bobbin can hold.
pub(super) fn width(core: &Figure<Share>, wound: &Figure<Share>) -> Figure<Share> {
    let core = square(core);
    root(&(&core + wound * rest(&core))).by(&Formula {
        source: "the yarn fills the ring between core and rim; plane geometry",
        standing: Standing::Standard,
    })
}

/// Enters how wide each quarter of its load makes the fullest bobbin of singles, and of plied yarn. A spindle has no bobbin.
pub(super) fn fillings(book: &mut Book, plan: &Plan, deal: &Deal) {
    let of_singles = plan.singles.iter().enumerate().filter_map(|(kind, singles)| {
        let numbers = deal.sets().flat_map(|(ply_plan, set)| plan.ply_plans[ply_plan].plies.iter().zip(&set.bobbins));
        let own =
            numbers.filter(|(ply, _)| ply.singles == kind).map(|(_, bobbin)| format!("bobbin.{}.net", bobbin.number));
        Some((singles.at_wheel(), heaviest(book, own)?))
    });
    let of_singles: Vec<(String, Figure<Mass>)> = of_singles.collect();
    for (stage, load) in of_singles {
        filling(book, &stage, &plan.wheel.machine, &plan.wheel.bobbin_holds, &load);
    }
    if !plan.yarn.construction.is_plied() {
        return;
    }
    let skeins = deal.sets().flat_map(|(_, set)| set.skeins.clone()).map(|number| format!("skein.{number}.weight"));
    let Some(skein) = heaviest(book, skeins) else { return };
    let load = match plan.yarn.construction.strands() {
        Some(strands) => {
            filling(book, "cabling", plan.plying_machine(), &plan.plying.bobbin_holds, &skein);
            let strands = book.reading(strands, "strands cabled");
            skein / strands
        }
        None => skein,
    };
    filling(book, "plying", plan.plying_machine(), &plan.plying.bobbin_holds, &load);
}

/// The greatest of some weights, by their nominal values.
fn heaviest(book: &Book, names: impl Iterator<Item = String>) -> Option<Figure<Mass>> {
    let weights = names.map(|name| book.figure::<Mass>(&name));
    weights.max_by(|a, b| a.value().total_cmp(&b.value()))
}

/// The widths of one operation's fullest bobbin.
fn filling(book: &mut Book, stage: &str, machine: &Machine, holds: &Reading<Mass>, load: &Figure<Mass>) {
    if matches!(machine.drive, Drive::Spindle) {
        return;
    }
    let core = core(book, stage, machine);
    let holds = book.reading(holds, "what a bobbin holds");
    let load = (load / holds).by(&Formula { source: "ratio of two figures", standing: Standing::Standard });
    let load = book.enter(format!("{stage}.load"), "load of the fullest bobbin, of what it holds", load);
    for (words, name, part) in PARTS {
        let wound = Figure::<Share>::constant(words, part) * &load;
        book.enter(
            format!("{stage}.width-{name}"),
            format!("width of the bobbin, {words} of it on"),
            width(&core, &wound),
        );
    }
    book.enter(format!("{stage}.width-all"), "width of the bobbin, all of it on", width(&core, &load));
}

/// Width of the empty bobbin over that of the full one.
fn core(book: &mut Book, stage: &str, machine: &Machine) -> Figure<Share> {
    let Some(core) = &machine.core else { return book.assume(&CORE) };
    let [empty, full] =
        [(&core.empty, "empty bobbin"), (&core.full, "full bobbin")].map(|(one, words)| book.reading(one, words));
    let share = (empty / full).by(&Formula { source: "ratio of two readings", standing: Standing::Standard });
    book.enter(format!("{stage}.width-empty"), "width of the empty bobbin", share)
}
