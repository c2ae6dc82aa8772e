//! Fills the swatch card.

use super::loom::{Threads, finished_threads, threads};
use super::print::{In, Printer, Round};
use super::words::weight;
use crate::plan::{Craft, Fabric, Garment, Gauge};
use crate::sheets::marks::{Amount, Page, Setting};
use crate::sheets::swatch_card::{SwatchCard, SwatchCount, SwatchOf, SwatchTray};
use crate::units::Kind;

/// The card; `None` of a plan without garments.
pub(super) fn swatch_card(printer: &Printer, page: Page) -> Option<SwatchCard> {
    let cards: Vec<SwatchOf> = printer.plan.garments.iter().map(|garment| card(printer, garment)).collect();
    (!cards.is_empty()).then_some(SwatchCard { page, cards })
}

/// How wide and high a swatch is worked: a little more than is measured.
const SWATCH: f64 = 0.15;

fn card(printer: &Printer, garment: &Garment) -> SwatchOf {
    let is_woven = garment.craft == Craft::Weave;
    let (short, _) = printer.both("cm", "in");
    let tray = |name: &str, unit: &str| SwatchTray { name: name.to_owned(), unit: unit.to_owned() };
    let stitch = garment.stitch.clone();
    let stitch = stitch.or_else(|| Some(garment.known?.called(printer.plan.terms).to_owned()));
    SwatchOf {
        name: printer.as_written(&garment.name),
        stitch: stitch.map_or_else(|| "stitch of the pattern".to_owned(), |stitch| printer.as_written(&stitch)),
        tool: tool(printer, garment),
        begin: begin(printer, garment),
        counts: counts(printer, garment),
        trays: vec![
            tray("width, washed", short),
            tray(if is_woven { "length, washed" } else { "height, washed" }, short),
            tray("weight, dry", weight(printer).0.0),
        ],
        is_woven,
    }
}

fn tool(printer: &Printer, garment: &Garment) -> Setting {
    let name = match garment.craft {
        Craft::Knit => "needles",
        Craft::Crochet => "hook",
        Craft::Weave => "reed",
    };
    let value = garment.tool.as_deref().map_or_else(|| "to be found".to_owned(), |tool| printer.as_written(tool));
    Setting { name: name.to_owned(), amount: Amount { value, unit: None, other: None }, note: None, tray_unit: None }
}

/// The gauge that is expected: as the plan or the chosen sample has it, else by the grist.
fn expected(printer: &Printer, garment: &Garment) -> Option<(f64, f64)> {
    if let Some((gauge, _)) = &garment.gauge {
        return Some((gauge.stitches.value, gauge.rows.value));
    }
    let of = |name: &str| printer.ledger.find(name).map(|line| line.value);
    garment.known.and(of("gauge.stitches").zip(of("gauge.rows")))
}

fn begin(printer: &Printer, garment: &Garment) -> String {
    let size = printer.lead("15 cm", "6 in");
    if garment.craft == Craft::Weave {
        return printer.as_written(&format!(
            "Wind a warp for a cloth {size} wide, sley it as planned, and weave it as long as it is wide."
        ));
    }
    let Some((stitches, rows)) = expected(printer, garment) else {
        return printer
            .as_written(&format!("Work a square of at least {size}; wash it as the yarn was washed, dry it flat."));
    };
    // To the next even number of stitches, so that repeats of two come out.
    let n = ((stitches * SWATCH / 2.0).ceil() * 2.0) as usize;
    let m = (rows * SWATCH).ceil() as usize;
    let (begins, called) = match garment.craft {
        Craft::Crochet => ("Chain for", "stitches"),
        Craft::Knit | Craft::Weave => ("Cast on", "stitches"),
    };
    format!(
        "{begins} {} {called}, work {} rows; wash it as the yarn is washed, dry it flat.",
        printer.label(n, "stitches"),
        printer.label(m, "rows"),
    )
}

fn counts(printer: &Printer, garment: &Garment) -> Vec<SwatchCount> {
    let chosen = printer.plan.chosen().filter(|_| garment.craft == Craft::Knit);
    let of = |gauge: Option<&Gauge>| {
        (gauge.map(|gauge| amount_of(printer, gauge, true)), gauge.map(|gauge| amount_of(printer, gauge, false)))
    };
    let before = of(chosen.and_then(|sample| sample.gauge_before_wash.as_ref()));
    let after = of(chosen.and_then(|sample| sample.gauge.as_ref()));
    if let Fabric::Woven(loom) = &garment.fabric {
        // What is counted on a washed swatch is closer than what lies on the loom.
        let finished = finished_threads(printer, garment);
        let rows = threads(printer, garment, loom).into_iter().zip(finished);
        let row = |(loom, aim): (Threads, Amount)| SwatchCount {
            name: format!("{}; on the loom {}", loom.name, loom.amount.value),
            aim: Some(aim),
            before: None,
            after: None,
        };
        return rows.map(row).collect();
    }
    let over = printer.lead("10 cm", "4 in");
    if garment.craft == Craft::Weave {
        return vec![
            count(format!("ends to {over}"), None, None, None),
            count(format!("picks to {over}"), None, None, None),
        ];
    }
    let aims = match garment.own_gauge() {
        Some(gauge) => (Some(amount_of(printer, gauge, true)), Some(amount_of(printer, gauge, false))),
        None => (None, None),
    };
    vec![
        count(format!("stitches to {over}"), aims.0, before.0, after.0),
        count(format!("rows to {over}"), aims.1, before.1, after.1),
    ]
}

fn amount_of(printer: &Printer, gauge: &Gauge, stitches: bool) -> String {
    let (of_stitches, of_rows) = printer.lead(("st/10 cm", "rows/10 cm"), ("st/4 in", "rows/4 in"));
    if stitches {
        printer.reading(&gauge.stitches, Kind::Stitches, In(of_stitches, Round::Halves))
    } else {
        printer.reading(&gauge.rows, Kind::Rows, In(of_rows, Round::Halves))
    }
}

fn count(name: String, aim: Option<String>, before: Option<String>, after: Option<String>) -> SwatchCount {
    let amount = |value: Option<String>| value.map(|value| Amount { value, unit: None, other: None });
    SwatchCount { name, aim: amount(aim), before: amount(before), after: amount(after) }
}
