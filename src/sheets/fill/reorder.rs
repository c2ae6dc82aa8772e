//! Fills the reorder note.

use super::print::{In, Printer, Round, joined};
use super::words::{self, weight};
use crate::figures::deal::{DealtBobbin, DealtStrip};
use crate::plan::{Fibre, Repeat, Section, Supply};
use crate::sheets::marks::{Amount, Page};
use crate::sheets::reorder_note::{Letter, ReorderNote, Stretch};
use crate::units::Kind;

pub(super) fn reorder_note(printer: &Printer, page: Page) -> ReorderNote {
    let all = printer.plan.supplies.iter().enumerate().filter(|(_, supply)| supply.is_first_piece());
    let letters = all.map(|(supply, _)| letter(printer, supply)).collect();
    ReorderNote { page, colours: words::colours(printer.plan), letters }
}

fn letter(printer: &Printer, index: usize) -> Letter {
    let plan = printer.plan;
    let before = last_bobbin(printer, index);
    let supply = &plan.supplies[index];
    let fibre = &plan.fibres[supply.fibre];
    let (one, several) = if supply.in_braids { ("braid", "braids") } else { ("lot", "lots") };
    Letter {
        lot: printer.as_written(&supply.name),
        one: one.to_owned(),
        several: several.to_owned(),
        base: printer.as_written(&base(fibre)),
        colour_name: supply.in_braids.then(|| printer.as_written(&supply.name)),
        dye_lot: supply.dye_lot.as_deref().map(|lot| printer.as_written(lot)),
        bought: supply.bought.map(|date| printer.as_written(&words::day_and_year(date))),
        had: Some(printer.label(supply.weights.len(), "braids")),
        weight: Some(weight_of_one(printer, supply)),
        has_length: supply.in_braids,
        length: length(printer, supply),
        wanted: wanted(printer, supply),
        by: before.and_then(|n| by(printer, n)),
        before: before.map(|n| printer.label(n, "bobbin")),
        stretches: stretches(printer, supply),
        orientation: orientation(printer, supply),
        instead: instead(printer, supply, fibre),
    }
}

/// "polwarth, combed top"; what it is made of where the name does not say it.
fn base(fibre: &Fibre) -> String {
    let content = fibre.words();
    let mut parts = vec![fibre.name.clone()];
    if !fibre.name.to_lowercase().contains(&content.to_lowercase()) {
        parts.push(content);
    }
    if fibre.superwash {
        parts.push("superwash".to_owned());
    }
    parts.extend(fibre.preparation.map(str::to_owned));
    parts.join(", ")
}

fn weight_of_one(printer: &Printer, supply: &Supply) -> Amount {
    let (lead, other) = weight(printer);
    printer.amount(&format!("{}.one", supply.place.path), lead, Some(other))
}

fn length(printer: &Printer, supply: &Supply) -> Option<Amount> {
    let reading = supply.length.as_ref()?;
    let (lead, other) = printer.both("m", "yd");
    let number = |symbol| printer.reading(reading, Kind::Length, In(symbol, Round::Plain(2)));
    Some(Amount { value: number(lead), unit: Some(lead.to_owned()), other: Some(joined(&number(other), other)) })
}

/// Whole braids that are lacking for all that the plan wants; a blank where none are, or nothing is wanted.
fn wanted(printer: &Printer, supply: &Supply) -> Option<String> {
    let of = match printer.plan.garments.as_slice() {
        [] => return None,
        [only] => format!("garment.{}", only.name),
        _ => "garments".to_owned(),
    };
    let name = format!("{of}.to-buy.{}", supply.name);
    (printer.ledger.get(&name).value >= 1.0).then(|| printer.value(&name, In("", Round::Places(0))))
}

/// The day on which a bobbin will be begun at the pace of the log.
fn by(printer: &Printer, bobbin: usize) -> Option<String> {
    let day = printer.ledger.pace.as_ref()?.begins(bobbin)?;
    Some(printer.as_written(&words::day_and_year(day)))
}

/// The first bobbin still to spin of the last set that takes of this supply: before it the fibre must be there.
fn last_bobbin(printer: &Printer, supply: usize) -> Option<usize> {
    let is_spun = |number: usize| printer.ledger.deal.logged.bobbin(number).is_some();
    let open = |bobbins: &[DealtBobbin]| bobbins.iter().map(|bobbin| bobbin.number).filter(|n| !is_spun(*n)).min();
    let sets = printer.ledger.deal.sets().map(|(_, set)| &set.bobbins);
    let of = |index: usize| &printer.plan.supplies[index].place;
    let takes = |strip: &DealtStrip| {
        of(strip.supply) == of(supply) || strip.beside.is_some_and(|(beside, _)| of(beside) == of(supply))
    };
    let taking = sets.filter(|bobbins| bobbins.iter().any(|bobbin| bobbin.strips.iter().any(takes)));
    taking.filter_map(|bobbins| open(bobbins)).last()
}

fn stretches(printer: &Printer, supply: &Supply) -> Vec<Stretch> {
    let whole: f64 = supply.sections.iter().map(|section| section.extent.value()).sum();
    let stretch = |section: &Section| Stretch {
        colour: section.colour,
        share: section.extent.value() / whole,
        length: words::extent(printer, &section.extent),
    };
    supply.sections.iter().map(stretch).collect()
}

/// What whoever dyes it must know of the order.
fn orientation(printer: &Printer, supply: &Supply) -> Option<String> {
    let name = |colour: usize| printer.as_written(&printer.plan.colours[colour].name);
    let (first, last) = (supply.sections.first()?, supply.sections.last()?);
    if supply.sections.len() == 1 {
        return Some(format!("All of it is {}.", name(first.colour)));
    }
    Some(match supply.repeat {
        Some(Repeat::Random) => format!("The {}s follow in no order.", words::colour(printer.plan)),
        _ if supply.is_mirrored() => {
            let middle = &supply.sections[supply.sections.len() / 2];
            format!(
                "From {} to {} and back again, as drawn; please keep this order.",
                name(first.colour),
                name(middle.colour)
            )
        }
        _ => format!(
            "One end is {}, the other {}; every braid must have the {}s in this order.",
            name(first.colour),
            name(last.colour),
            words::colour(printer.plan)
        ),
    })
}

/// What else would do, for the spinner to tick.
fn instead(printer: &Printer, supply: &Supply, fibre: &Fibre) -> Vec<String> {
    let spelt = words::colour(printer.plan);
    let mut instead = vec!["another dye lot of the same name".to_owned()];
    if wanted(printer, supply).is_none_or(|n| n != "1") {
        instead.push("fewer, if they are all you have".to_owned());
    }
    if supply.has_order() {
        instead.push(format!("the same {spelt}s in another order"));
    }
    instead.push(format!("the same {spelt} on another base"));
    instead.push(format!("undyed {}", printer.as_written(&fibre.name)));
    instead
}
