//! Fills what the overview draws to one scale: need, have and what is left over, with the chance of running short.

use super::overview::{lot, wanted};
use super::print::{In, Of, Printer, Round, joined};
use super::words::yarn_length;
use crate::figures::Line;
use crate::plan::Garment;
use crate::sheets::marks::{Lens, Tick};
use crate::sheets::overview::{Balance, GarmentBalance, LeftOver};
use crate::units::{Kind, Unit, unit};

/// A scale of lengths that all lenses share.
struct Scale {
    least: f64,
    most: f64,
}

impl Scale {
    fn at(&self, x: f64) -> f64 {
        (x - self.least) / (self.most - self.least)
    }
}

pub(super) fn balance(printer: &Printer) -> Balance {
    let have = printer.ledger.get("yarn.length");
    // What one decides by is drawn; of several garments each is told in numbers.
    let wanted = wanted(printer.plan).map(|(stage, _)| stage);
    let needs: Vec<&Line> = wanted.iter().map(|stage| printer.ledger.get(&format!("{stage}.total"))).collect();
    let lows = needs.iter().map(|line| line.bands.low).chain([have.bands.low]);
    let highs = needs.iter().map(|line| line.bands.high).chain([have.bands.high]);
    let (low, high) = (lows.fold(f64::INFINITY, f64::min), highs.fold(0.0, f64::max));
    // What is left over is drawn in the same steps, and is wider than either; the numbers at its tips need room too.
    let left = wanted.map(|stage| printer.ledger.get(&format!("{stage}.left-over")));
    let widest = left.map_or(0.0, |line| line.bands.high - line.bands.low);
    let span = (1.16 * (high - low)).max(1.4 * widest).max(0.04 * high);
    let middle = f64::midpoint(low, high);
    let scale = Scale { least: (middle - span / 2.0).max(0.0), most: middle + span / 2.0 };
    let mut garments: Vec<GarmentBalance> =
        printer.plan.garments.iter().map(|garment| garment_balance(printer, garment, &scale)).collect();
    if printer.plan.garments.len() > 1 {
        garments.insert(0, all_balance(printer, &scale));
    }
    Balance { ticks: ticks(printer, &scale), have: lens(printer, "yarn.length", &scale), garments }
}

/// What one garment needs and what there is, on a scale of their own.
pub(super) fn need_and_have(printer: &Printer, place: &str) -> (Vec<Tick>, Lens, Lens) {
    let need = format!("{place}.total");
    let lines = [printer.ledger.get(&need), printer.ledger.get("yarn.length")];
    let low = lines.iter().map(|line| line.bands.low).fold(f64::INFINITY, f64::min);
    let high = lines.iter().map(|line| line.bands.high).fold(0.0, f64::max);
    let span = (1.16 * (high - low)).max(0.04 * high);
    let middle = f64::midpoint(low, high);
    let scale = Scale { least: (middle - span / 2.0).max(0.0), most: middle + span / 2.0 };
    (ticks(printer, &scale), lens(printer, &need, &scale), lens(printer, "yarn.length", &scale))
}

/// Round lengths along the scale, labelled in both systems; four to eight of them.
fn ticks(printer: &Printer, scale: &Scale) -> Vec<Tick> {
    let (lead, other) = printer.both("m", "yd");
    let (lead, other) = (length_unit(lead), length_unit(other));
    let (least, most) = (lead.from_base(scale.least), lead.from_base(scale.most));
    let step = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0]
        .into_iter()
        .find(|step| (most - least) / step <= 6.0)
        .unwrap_or(100_000.0);
    let first = (least / step).ceil() as i64;
    let last = (most / step).floor() as i64;
    (first..=last)
        .map(|i| {
            let x = i as f64 * step;
            let other_text = Round::Places(0).text(other.from_base(lead.to_base(x)));
            Tick {
                at: scale.at(lead.to_base(x)),
                label: joined(&printer.graduation(Round::Places(0).text(x)), lead.symbol),
                other: Some(joined(&printer.graduation(other_text), other.symbol)),
            }
        })
        .collect()
}

fn length_unit(symbol: &str) -> &'static Unit {
    unit(Kind::Length, symbol).expect("invariant: metres and yards stand in the tables")
}

fn lens(printer: &Printer, name: &str, scale: &Scale) -> Lens {
    let (lead, _) = yarn_length(printer);
    let line = printer.ledger.get(name);
    let likely = line.value;
    Lens {
        low: printer.low(name, lead),
        likely: printer.value(name, lead),
        high: printer.high(name, lead),
        unit: lead.0.to_owned(),
        low_at: scale.at(line.bands.low),
        likely_at: scale.at(likely),
        high_at: scale.at(line.bands.high),
    }
}

fn garment_balance(printer: &Printer, garment: &Garment, scale: &Scale) -> GarmentBalance {
    let name = printer.as_written(&garment.name);
    let place = format!("garment.{}", garment.name);
    one_balance(printer, &place, name, buy(printer, &place), scale)
}

/// All garments of the plan from the one yarn.
fn all_balance(printer: &Printer, scale: &Scale) -> GarmentBalance {
    one_balance(printer, "garments", "all together".to_owned(), buy(printer, "garments"), scale)
}

/// The balance whose figures stand below `place` in the ledger.
fn one_balance(printer: &Printer, place: &str, name: String, buy: Option<String>, scale: &Scale) -> GarmentBalance {
    let chance = format!("{place}.chance-short");
    GarmentBalance {
        name,
        need: lens(printer, &format!("{place}.total"), scale),
        left_over: left_over(printer, &format!("{place}.left-over"), scale),
        short: chance_text(printer, &chance),
        short_of_100: (printer.ledger.get(&chance).value * 100.0).round() as u8,
        buy,
    }
}

/// What is left, on a scale of the same steps with its own zero, moved so that all of it lies on the drawing.
fn left_over(printer: &Printer, name: &str, scale: &Scale) -> LeftOver {
    let (lead, _) = yarn_length(printer);
    let line = printer.ledger.get(name);
    let span = scale.most - scale.least;
    let middle = f64::midpoint(line.bands.low, line.bands.high);
    let own = Scale { least: middle - span / 2.0, most: middle + span / 2.0 };
    let signed =
        |text: String| text.strip_prefix('\u{2212}').map_or_else(|| text.clone(), |short| format!("{short} short"));
    let likely = line.value;
    let likely_text = printer.value(name, lead);
    // What is short carries its unit before the word.
    let (told, unit) = match likely_text.strip_prefix('\u{2212}') {
        Some(short) => (format!("{short}\u{a0}{} short", lead.0), String::new()),
        None => (likely_text, lead.0.to_owned()),
    };
    LeftOver {
        lens: Lens {
            low: signed(printer.low(name, lead)),
            likely: told,
            high: signed(printer.high(name, lead)),
            unit,
            low_at: own.at(line.bands.low),
            likely_at: own.at(likely),
            high_at: own.at(line.bands.high),
        },
        nothing_at: own.at(0.0),
    }
}

/// A chance as a count of tries in a hundred.
pub(super) fn chance_text(printer: &Printer, name: &str) -> String {
    let chance = printer.ledger.get(name).value;
    printer.tries(chance, Of::Value(name.to_owned()))
}

/// What would have to be bought for the wished certainty; figures stand below `place` in the ledger.
pub(super) fn buy(printer: &Printer, place: &str) -> Option<String> {
    let parts: Vec<String> = printer
        .plan
        .supplies
        .iter()
        .filter_map(|supply| {
            let name = format!("{place}.to-buy.{}", supply.name);
            let n = printer.ledger.get(&name).value as usize;
            (n > 0).then(|| {
                let text = printer.value(&name, In("", Round::Places(0)));
                format!("{text} more {}{}", lot(printer, supply, n), printer.as_written(&supply.name))
            })
        })
        .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}
