//! Threads and lengths of a cloth on its loom.

use super::print::{In, Printer, Round};
use crate::plan::{Garment, Loom, Origin, Reading};
use crate::sheets::garment_sheet::MeasureRow;
use crate::sheets::marks::Amount;
use crate::units::{Kind, Length};

/// Ends or picks to a length.
pub(super) struct Threads {
    /// "ends to 10 cm".
    pub(super) name: String,
    /// So many.
    pub(super) amount: Amount,
    /// Whether the plan says them.
    pub(super) is_own: bool,
}

/// Ends and picks to a length, in the leading system with the other beside it.
pub(super) fn threads(printer: &Printer, garment: &Garment, loom: &Loom) -> [Threads; 2] {
    let one = |what: &str, own: Option<&dyn Fn(In) -> String>, is_own, (lead, other): (&'static str, &'static str)| {
        let figure = format!("garment.{}.{}", garment.name, if what == "ends" { "sett" } else { "picks" });
        let value = |symbol: &'static str| match own {
            Some(own) => own(In(symbol, Round::Halves)),
            None => printer.value(&figure, In(symbol, Round::Halves)),
        };
        let over = lead.split_once('/').map_or("", |(_, over)| over);
        let amount = Amount { value: value(lead), unit: None, other: Some(format!("{} {other}", value(other))) };
        Threads { name: format!("{what} to {over}"), amount, is_own }
    };
    let sett = loom.sett.as_ref();
    let picks = loom.picks.as_ref();
    let own_sett = sett.map(|sett| move |shown: In| printer.reading(sett, Kind::Ends, shown));
    let own_picks = picks.map(|picks| move |shown: In| printer.reading(picks, Kind::Picks, shown));
    let is_default = |origin: &Origin| matches!(origin, Origin::Default(..));
    [
        one(
            "ends",
            own_sett.as_ref().map(|own| own as &dyn Fn(In) -> String),
            sett.is_some(),
            printer.both("ends/10 cm", "ends/in"),
        ),
        one(
            "picks",
            own_picks.as_ref().map(|own| own as &dyn Fn(In) -> String),
            picks.is_some_and(|picks| !is_default(&picks.origin)),
            printer.both("picks/10 cm", "picks/in"),
        ),
    ]
}

/// Ends and picks to a length of the finished cloth.
pub(super) fn finished_threads(printer: &Printer, garment: &Garment) -> [Amount; 2] {
    let of = |what: &str, (lead, other): (&'static str, &'static str)| {
        let figure = format!("garment.{}.{what}-finished", garment.name);
        let shown = |symbol| printer.value(&figure, In(symbol, Round::Halves));
        Amount { value: shown(lead), unit: None, other: Some(format!("{} {other}", shown(other))) }
    };
    [of("ends", printer.both("ends/10 cm", "ends/in")), of("picks", printer.both("picks/10 cm", "picks/in"))]
}

/// What is wound up to a whole step is told of its spread to the nearest.
fn near(In(symbol, round): In) -> In {
    In(symbol, if let Round::Up(places) = round { Round::Places(places) } else { round })
}

/// What is measured and counted at the loom.
pub(super) fn at_the_loom(printer: &Printer, garment: &Garment, loom: &Loom) -> Vec<MeasureRow> {
    let figure = |what: &str| format!("garment.{}.{what}", garment.name);
    let short = printer.both(In("cm", Round::Halves), In("in", Round::Quarters));
    let row = |name: &str, amount: Amount, from: &str, give: Option<String>| MeasureRow {
        name: name.to_owned(),
        amount,
        from: from.to_owned(),
        give,
    };
    let reckoned = |name: &str, what: &str, (lead, other): (In, In)| {
        let of = figure(what);
        let give = printer
            .ledger
            .get(&of)
            .has_spread()
            .then(|| format!("{} to {}", printer.low(&of, near(lead)), printer.high(&of, near(lead))));
        row(name, printer.amount(&of, lead, Some(other)), "reckoned", give)
    };
    let said = |name: &str, reading: &Reading<Length>| {
        let text = |In(symbol, round)| printer.reading(reading, Kind::Length, In(symbol, round));
        let from = if matches!(reading.origin, Origin::Default(..)) { "usual" } else { "yours" };
        let (lead, other) = short;
        let amount = Amount {
            value: text(lead),
            unit: super::print::some_unit(lead.0),
            other: Some(super::print::joined(&text(other), other.0)),
        };
        row(name, amount, from, None)
    };
    let count = |name: &str, what: &str| {
        let amount = printer.amount(&figure(what), In("", Round::Places(0)), None);
        row(name, amount, "reckoned", None)
    };
    let mut rows = vec![
        count("ends in all", "ends"),
        reckoned("width in the reed", "reed-width", short),
        reckoned("to weave, as it lies on the loom", "woven-length", short),
        count("picks in all", "picks-in-all"),
    ];
    rows.extend(
        loom.fringe.as_ref().filter(|fringe| fringe.value > 0.0).map(|fringe| said("fringe at each end", fringe)),
    );
    rows.push(said("left on the loom", &loom.waste));
    let take_up = printer.reading(&loom.take_up, Kind::Share, In("%", Round::Places(0)));
    let from = if matches!(loom.take_up.origin, Origin::Default(..)) { "usual" } else { "yours" };
    let take_up = Amount { value: take_up, unit: super::print::some_unit("%"), other: None };
    rows.push(row("take-up of the warp, of what is woven", take_up, from, None));
    let warp = printer.both(In("cm", Round::Up(0)), In("in", Round::Up(0)));
    rows.push(reckoned("warp to wind", "warp-length", warp));
    let weight = super::words::weight(printer);
    rows.push(reckoned("cut off in the end, by weight", "wasted.weight", weight));
    rows
}
