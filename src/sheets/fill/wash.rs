//! Fills the wash card.

use super::print::{In, Printer, Round, some_unit};
use super::words::{self, weight};
use crate::plan::{Agitation, Plan};
use crate::sheets::marks::{Amount, Page};
use crate::sheets::wash_card::{BathStep, WashCard, WashSkein};
use crate::units::Kind;

pub(super) fn wash_card(printer: &Printer, page: Page) -> WashCard {
    let plan = printer.plan;
    WashCard {
        page,
        temperature: temperature(printer),
        time: time(printer),
        agitation: agitation(plan.finish.agitation),
        drying: drying(printer),
        colours: words::colours_used(plan),
        loop_unit: printer.lead("cm", "in").to_owned(),
        weight_unit: weight(printer).0.0.to_owned(),
        skeins: skeins(printer),
        caution: caution(plan),
    }
}

/// From here on hands do not stand the bath for long: °C; our choice.
const HOT: f64 = 45.0;

fn temperature(printer: &Printer) -> BathStep {
    let reading = &printer.plan.finish.temperature;
    let (symbol, other_symbol) = printer.both("°C", "°F");
    let shown = |symbol, round| printer.reading(reading, Kind::Temperature, In(symbol, round));
    // Nobody runs a bath to a degree of Fahrenheit: where it is not what was written, it is told to five.
    let rounded = if other_symbol == "°F" { Round::Fives } else { Round::Places(0) };
    let (number, other) = (shown(symbol, Round::Places(0)), shown(other_symbol, rounded));
    let how = if reading.value >= HOT { "tongs or gloves" } else { "as warm as hands like it" };
    BathStep {
        amount: Some(Amount {
            value: number,
            unit: some_unit(symbol),
            other: Some(super::print::joined(&other, other_symbol)),
        }),
        how: Some(how.to_owned()),
        tray_unit: some_unit(symbol),
    }
}

/// In minutes up to three hours, then in hours.
fn time(printer: &Printer) -> BathStep {
    let reading = &printer.plan.finish.time;
    let symbol = if reading.value <= 3.0 * 3600.0 { "min" } else { "h" };
    BathStep {
        amount: Some(Amount {
            value: printer.reading(reading, Kind::Time, In(symbol, Round::Plain(3))),
            unit: some_unit(symbol),
            other: None,
        }),
        how: Some("until it is wet through".to_owned()),
        tray_unit: some_unit(symbol),
    }
}

fn in_words(text: String) -> Option<Amount> {
    Some(Amount { value: text, unit: None, other: None })
}

fn agitation(agitation: Agitation) -> BathStep {
    let how = match agitation {
        Agitation::None => "lower in, press under, do not swirl",
        Agitation::ALittle => "press and lift a few times",
        Agitation::Fulled => "rub and plunge, and look every minute",
    };
    BathStep { amount: in_words(agitation.words().to_owned()), how: Some(how.to_owned()), tray_unit: None }
}

/// Superwash wool grows when it is wet (from memory).
fn drying(printer: &Printer) -> BathStep {
    let is_superwash = printer.plan.fibres.iter().any(|fibre| fibre.superwash);
    BathStep {
        amount: in_words(printer.as_written(&printer.plan.finish.dry)),
        how: is_superwash.then(|| "superwash grows when wet: support it, dry it flat".to_owned()),
        tray_unit: None,
    }
}

fn skeins(printer: &Printer) -> Vec<WashSkein> {
    let plan = printer.plan;
    let (lead, other) = weight(printer);
    let skeins = |(ply_plan, set): (usize, &crate::figures::deal::DealtSet)| {
        let set_number = printer.label(set.number, "set");
        let from = (plan.ply_plans.len() > 1)
            .then(|| format!("{}, set {set_number}", printer.as_written(&plan.ply_plans[ply_plan].name)));
        let skein = move |n: usize| WashSkein {
            number: printer.label(n, "skein"),
            from: from.clone(),
            weight: printer.amount(&format!("skein.{n}.weight"), lead, Some(other)),
        };
        set.skeins.clone().map(skein).collect::<Vec<_>>()
    };
    printer.ledger.deal.sets().flat_map(skeins).collect()
}

/// The usual caution, which goes by what the fibre does in warm water; common practice, no source.
fn caution(plan: &Plan) -> String {
    let does = if plan.fibres.iter().any(crate::plan::Fibre::felts) {
        match plan.finish.agitation {
            Agitation::Fulled => " Felt cannot be undone.",
            Agitation::None | Agitation::ALittle => " Wool felts when it is rubbed or suddenly chilled.",
        }
    } else if plan.fibres.iter().any(|fibre| fibre.superwash) {
        " Superwash will not felt."
    } else {
        ""
    };
    format!("Hot water scalds: tongs or gloves, children away.{does} Soap by its label.")
}
