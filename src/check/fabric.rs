//! Fabric as it is measured: gauges, sizes of swatches, tools. Garments of the plan and samples of the log have them.

use std::marker::PhantomData;

use super::names;
use super::reading::{default, reading, reading_of_parsed};
use super::report::Report;
use super::unreadable;
use super::{defaults, limits};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Gauge, Reading, Shape, Stitch};
use crate::syntax::raw;
use crate::units::format::{exact, significant, with_unit};
use crate::units::{Area, Kind, Length, Parsed, Rows, Share, System, parse, parse_gauge, parse_size, unit};

/// The size of a tool as written; one that begins with a digit has to have its unit.
pub(super) fn tool_size(written: &raw::Quantity, place: &Place, report: &mut Report) -> Option<String> {
    if written.0.trim().starts_with(|sign: char| sign.is_ascii_digit()) {
        reading::<Length>(written, place, &limits::TOOL, report)?;
    }
    names::text(Some(&written.0), place, report)
}

/// A gauge, counted in a stitch; rows that are left out are taken from the stitches, where the stitch tells them.
pub(super) fn gauge(
    written: &raw::Quantity,
    place: &Place,
    stitch: Option<&Stitch>,
    system: System,
    report: &mut Report,
) -> Option<Gauge> {
    let read = match parse_gauge(&written.0) {
        Ok(read) => read,
        Err(error) => {
            report.fault(unreadable::fault(&error, &written.0, &limits::STITCHES, place));
            return None;
        }
    };
    // Stitches and rows are two readings under one key, each spread by itself: each has a place of its own.
    let rows_place = place.key("rows");
    let stitches = reading_of_parsed(&read.stitches, place, &limits::STITCHES, report);
    let rows = match &read.rows {
        Some(rows) => reading_of_parsed(rows, &rows_place, &limits::ROWS, report),
        None => assumed_rows(&read.stitches, place, stitch, system, report),
    };
    Some(Gauge { stitches: stitches?, rows: rows?, text: written.0.trim().to_owned() })
}

/// Rows from the stitches, where both go together in a known way.
fn assumed_rows(
    stitches: &Parsed,
    place: &Place,
    stitch: Option<&Stitch>,
    system: System,
    report: &mut Report,
) -> Option<Reading<Rows>> {
    let assumption = match stitch.map(|stitch| stitch.key) {
        Some("stocking") => &defaults::ROWS_STOCKING,
        Some("garter") => &defaults::ROWS_GARTER,
        _ => {
            let over = stitches.text.split_once('/').map_or("10 cm", |(_, over)| over.trim());
            let help =
                format!("count them on the swatch as well: `gauge = \"{} st, 26 rows / {over}\"`", stitches.number);
            report.missing("how many rows of this stitch go with its stitches is not known", place.key("rows"), help);
            return None;
        }
    };
    let share: Reading<Share> = default(assumption, place.key("rows"), system, report);
    // A unit of rows over the same length as the stitches; the tables hold the same lengths for both.
    let over = stitches.unit.symbol.replacen("st", "rows", 1);
    let unit = unit(Kind::Rows, &over).expect("invariant: every unit of stitches has one of rows over the same length");
    let value = stitches.value * share.value;
    Some(Reading {
        value,
        uncertainty: stitches.value * share.uncertainty,
        shape: Shape::LogNormal,
        place: share.place,
        text: with_unit(&significant(unit.from_base(value), 3), unit),
        unit,
        origin: share.origin,
        quantity: PhantomData,
    })
}

/// Width by height as an area, whose sides err together.
pub(super) fn size(written: &raw::Quantity, place: &Place, report: &mut Report) -> Option<Reading<Area>> {
    let size = match parse_size(&written.0) {
        Ok(size) => size,
        Err(error) => {
            report.fault(unreadable::fault(&error, &written.0, &limits::SWATCH_SIZE, place));
            return None;
        }
    };
    for side in [&size.width, &size.height] {
        if side.value <= 0.0 {
            let fault = Diagnostic::new(
                Code::NotPositive,
                format!("expected the sides of a swatch to be above zero, found {}", written.0),
                place.clone(),
            );
            report.fault(fault.label("not above zero"));
            return None;
        }
    }
    let symbol = if size.width.unit.system == System::Inch { "in²" } else { "cm²" };
    let in_unit = unit(Kind::Area, symbol)
        .expect("invariant: square inches and centimetres are in the table")
        .from_base(size.area());
    let text = format!("{} {symbol}", exact(in_unit));
    let parsed = parse(&text, Kind::Area)
        .map_err(|error| report.fault(unreadable::fault(&error, &written.0, &limits::SWATCH_SIZE, place)))
        .ok()?;
    let mut area = reading_of_parsed::<Area>(&parsed, place, &limits::SWATCH_SIZE, report)?;
    area.uncertainty = width_of(&size.width, &size.height, area.value).map_or(area.uncertainty, |width| width / 2.0);
    area.text = written.0.trim().to_owned();
    Some(area)
}

/// Give-or-take of an area whose sides say theirs: the shares of both add, as tape and fabric err the same way.
fn width_of(width: &Parsed, height: &Parsed, area: f64) -> Option<f64> {
    let shares = [width, height].map(|side| side.give_or_take.map(|width| width / side.value));
    let said: Vec<f64> = shares.into_iter().flatten().collect();
    (!said.is_empty()).then(|| area * said.iter().sum::<f64>())
}
