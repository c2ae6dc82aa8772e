//! Gates: low, target and high of a figure, rounded to what the tool can read, with what to do outside.

use super::print::{In, Printer, Round};
use crate::sheets::marks::{Gate, Remedy, Tick};
use crate::units::{Kind, unit};

/// What a reading under and over a gate means and asks for.
pub(super) struct Remedies {
    /// Under it: a word, and what to do.
    pub below: (&'static str, String),
    /// Over it.
    pub above: (&'static str, String),
}

/// The gate of a figure that has `.low` and `.high` beside it.
pub(super) fn gate(printer: &Printer, name: &str, shown: In, with_unit: bool, remedies: Remedies) -> Gate {
    let at = |suffix: &str| rounded(printer, &format!("{name}{suffix}"), shown);
    let (low, target, high) = (at(".low"), at(""), at(".high"));
    Gate {
        low: printer.value(&format!("{name}.low"), shown),
        target: printer.value(name, shown),
        high: printer.value(&format!("{name}.high"), shown),
        unit: with_unit.then(|| shown.0.to_owned()),
        target_at: place(target, low, high),
        ticks: Vec::new(),
        below: remedy(remedies.below),
        above: remedy(remedies.above),
    }
}

/// The same over a scale in steps of the tool.
pub(super) fn gate_with_scale(printer: &Printer, name: &str, shown: In, step: f64, remedies: Remedies) -> Gate {
    let mut gate = gate(printer, name, shown, true, remedies);
    let low = rounded(printer, &format!("{name}.low"), shown);
    let high = rounded(printer, &format!("{name}.high"), shown);
    // Wide gates take every second or fifth step, so that there are never more than nine.
    let steps = ((high - low) / step).round().max(1.0);
    let stride = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0].into_iter().find(|stride| steps / stride <= 4.0).unwrap_or(steps);
    let mut ticks: Vec<f64> = (-2..=6)
        .map(|i| low + f64::from(i) * stride * step)
        .filter(|t| (t - high).abs() > 0.4 * stride * step)
        .collect();
    ticks.push(high);
    ticks.push(high + stride * step);
    ticks.sort_by(f64::total_cmp);
    ticks.dedup_by(|a, b| (*a - *b).abs() < 0.4 * step);
    gate.ticks = ticks
        .into_iter()
        .map(|t| (place(t, low, high), t))
        .filter(|(at, t)| (-0.85..=1.85).contains(at) && *t > 0.0)
        .map(|(at, t)| Tick { at, label: printer.graduation(shown.1.text(t)), other: None })
        .collect();
    gate
}

/// A figure as it is printed, as a number.
fn rounded(printer: &Printer, name: &str, In(symbol, round): In) -> f64 {
    let line = printer.ledger.get(name);
    let unit = unit(line.kind, symbol).expect("invariant: a gate is shown in a unit of its kind");
    round.value(unit.from_base(line.value))
}

fn place(x: f64, low: f64, high: f64) -> f64 {
    if high > low { (x - low) / (high - low) } else { 0.5 }
}

fn remedy((word, act): (&'static str, String)) -> Remedy {
    Remedy { word: word.to_owned(), act }
}

/// How the weight of a checked length is printed: grams, since scales for so little read grams, in steps of the scale.
pub(super) fn check_weight(printer: &Printer) -> In {
    let step = scale_step(printer);
    In("g", Round::Places(if step < 0.1 { 2 } else { u32::from(step < 1.0) }))
}

/// One step of the scale, in grams.
pub(super) fn scale_step(printer: &Printer) -> f64 {
    printer.ledger.get("scale.step").value
}

/// The length that is weighed: "20 m", and the same in the other system.
pub(super) fn length_weighed(printer: &Printer, stage: &str) -> (String, String) {
    let place = format!("choice.{stage}.check-length");
    let (own, other) = printer.both("m", "yd");
    let chosen = |symbol, places| printer.chosen(&place, Kind::Length, In(symbol, Round::Places(places)));
    (chosen(own, 0), chosen(other, 1))
}

/// How often the checked length is weighed while a bobbin fills.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Often {
    /// At each quarter, since a quarter of the bobbin holds it.
    EachQuarter,
    /// At the half and when it is full.
    EachHalf,
    /// When it is full.
    Once,
}

impl Often {
    /// For the lightest of some loads, by their names in the ledger; below `stage` stands what the checked length weighs.
    pub(super) fn of(printer: &Printer, stage: &str, loads: impl Iterator<Item = String>) -> Self {
        let checked = printer.ledger.get(&format!("{stage}.check-weight")).value;
        let least = loads.map(|name| printer.ledger.get(&name).value).fold(f64::INFINITY, f64::min);
        match least / checked {
            times if times >= 4.0 => Self::EachQuarter,
            times if times >= 2.0 => Self::EachHalf,
            _ => Self::Once,
        }
    }

    /// Before "weigh".
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::EachQuarter => "each quarter",
            Self::EachHalf => "at ½ and full",
            Self::Once => "when full",
        }
    }
}
