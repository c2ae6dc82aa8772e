//! `[garment.*]`: what the yarn is for, and the way to the length of yarn in it.
//!
//! Ways, best first: a measured swatch and the area, area and gauge in a stitch whose loops are known, a stated length.

use std::marker::PhantomData;

use super::names;
use super::reading::{default, optional, reading, reading_of_parsed};
use super::report::Report;
use super::unreadable;
use super::{defaults, limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Craft, Garment, Gauge, Need, Reading, Sample, Shape, Stitch, SwatchYarn};
use crate::syntax::raw;
use crate::units::format::{exact, significant, with_unit};
use crate::units::{Area, Kind, Length, Parsed, Rows, Share, System, parse, parse_gauge, parse_size, unit};

/// All garments, in order of writing, `None` in place of one that has a fault. `chosen` is the sample spun to.
pub(super) fn garments(plan: &raw::Plan, chosen: Option<&Sample>, system: System, report: &mut Report) -> Vec<Option<Garment>> {
    too_many(plan.garment.len(), limits::MOST_ENTRIES, "garments", &Place::plan("garment"), report);
    plan.garment.iter().map(|(name, raw)| garment(name, raw, chosen, system, report)).collect()
}

fn garment(name: &str, raw: &raw::Garment, chosen: Option<&Sample>, system: System, report: &mut Report) -> Option<Garment> {
    let place = Place::plan("garment").key(name);
    let is_named = names::check(name, &place, report);
    let craft = craft(raw, &place, system, report);
    let tool = tool(raw, craft, &place, report);
    let gauge = match &raw.gauge {
        Some(written) => Some(gauge(written, &place.key("gauge"), rows_default(raw), system, report)?),
        None => None,
    };
    let need = need(raw, craft, gauge.as_ref(), chosen, &place, system, report)?;
    let stitch = names::text(raw.stitch.as_deref(), &place.key("stitch"), report);
    Some(Garment { name: is_named.then(|| name.to_owned())?, place, craft, stitch, tool, gauge, need })
}

fn craft(raw: &raw::Garment, place: &Place, system: System, report: &mut Report) -> Craft {
    match raw.craft {
        Some(raw::Craft::Knit) => Craft::Knit,
        Some(raw::Craft::Crochet) => Craft::Crochet,
        Some(raw::Craft::Weave) => Craft::Weave,
        None => {
            report.assume(&defaults::CRAFT, place.key(defaults::CRAFT.key), system);
            Craft::Knit
        }
    }
}

/// Needles or hook as written: a size with its unit, or a word for one, such as "US 6".
fn tool(raw: &raw::Garment, craft: Craft, place: &Place, report: &mut Report) -> Option<String> {
    let (key, written) = match (&raw.needle, &raw.hook) {
        (Some(needle), None) => ("needle", needle),
        (None, Some(hook)) => ("hook", hook),
        (None, None) => return None,
        (Some(_), Some(_)) => {
            let fault = Diagnostic::new(Code::Contradiction, "expected needles or a hook, found both", place.key("hook"));
            report.fault(fault.label("a hook as well").also(place.key("needle"), "needles").help("keep the one that the craft takes"));
            return None;
        }
    };
    let fits = matches!((craft, key), (Craft::Knit, "needle") | (Craft::Crochet, "hook"));
    if !fits {
        let fault = Diagnostic::new(Code::Contradiction, format!("expected the tool of the craft, found a {key}"), place.key(key));
        report.fault(fault.label("not used in this craft").help("`needle` is for knitting, `hook` for crochet; weaving takes neither here"));
        return None;
    }
    tool_size(written, &place.key(key), report)
}

/// The size of a tool as written; one that begins with a digit has to have its unit.
pub(super) fn tool_size(written: &raw::Quantity, place: &Place, report: &mut Report) -> Option<String> {
    if written.0.trim().starts_with(|sign: char| sign.is_ascii_digit()) {
        reading::<Length>(written, place, &limits::TOOL, report)?;
    }
    names::text(Some(&written.0), place, report)
}

/// Stitch of a garment, if it is one whose yarn follows from the gauge alone.
fn known_stitch(written: &str) -> Option<Stitch> {
    match written.trim().to_lowercase().as_str() {
        "stocking stitch" | "stockinette" | "stockinette stitch" | "st st" => Some(Stitch::Stocking),
        "garter stitch" | "garter" => Some(Stitch::Garter),
        _ => None,
    }
}

/// From what the rows are taken where a gauge gives only stitches.
fn rows_default(raw: &raw::Garment) -> Stitch {
    raw.stitch.as_deref().and_then(known_stitch).unwrap_or(Stitch::Stocking)
}

/// A gauge; rows that are left out are taken from the stitches.
pub(super) fn gauge(written: &raw::Quantity, place: &Place, stitch: Stitch, system: System, report: &mut Report) -> Option<Gauge> {
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
        None => Some(assumed_rows(&read.stitches, rows_place, stitch, system, report)),
    };
    Some(Gauge { stitches: stitches?, rows: rows?, text: written.0.trim().to_owned() })
}

fn assumed_rows(stitches: &Parsed, place: Place, stitch: Stitch, system: System, report: &mut Report) -> Reading<Rows> {
    let assumption = match stitch {
        Stitch::Stocking => &defaults::ROWS_STOCKING,
        Stitch::Garter => &defaults::ROWS_GARTER,
    };
    let share: Reading<Share> = default(assumption, place, system, report);
    // A unit of rows over the same length as the stitches; the tables hold the same lengths for both.
    let over = stitches.unit.symbol.replacen("st", "rows", 1);
    let unit = unit(Kind::Rows, &over).expect("invariant: every unit of stitches has one of rows over the same length");
    let value = stitches.value * share.value;
    Reading {
        value,
        uncertainty: stitches.value * share.uncertainty,
        shape: Shape::LogNormal,
        place: share.place,
        text: with_unit(&significant(unit.from_base(value), 3), unit),
        unit,
        origin: share.origin,
        quantity: PhantomData,
    }
}

fn need(raw: &raw::Garment, craft: Craft, gauge: Option<&Gauge>, chosen: Option<&Sample>, place: &Place, system: System, report: &mut Report) -> Option<Need> {
    let (length_key, area_key) = (place.key("length"), place.key("area"));
    if raw.length.is_some() && raw.area.is_some() {
        let fault = Diagnostic::new(Code::Contradiction, "expected the length of yarn or the area, found both", area_key);
        report.fault(fault.label("leads to a second length").also(length_key, "the length is said here").help("keep the one that you trust more"));
        return None;
    }
    let swatch = match &raw.swatch {
        Some(written) => Some(swatch(written, &place.key("swatch"), report)?),
        None => None,
    };
    if let Some(written) = &raw.area {
        let area = reading(written, &area_key, &limits::GARMENT_AREA, report)?;
        return by_area(raw, craft, area, swatch, gauge, chosen, place, system, report);
    }
    if swatch.is_some() {
        report.missing("a swatch leads to the yarn by the area of the garment, which is not said", place.key("area"), "write `area = \"0.9 m2\"` beside it");
        return None;
    }
    match &raw.length {
        Some(written) => reading(written, &length_key, &limits::GARMENT_LENGTH, report).map(Need::Length),
        None => {
            no_way(gauge.is_some(), place, report);
            None
        }
    }
}

fn no_way(has_gauge: bool, place: &Place, report: &mut Report) {
    if report.was_refused(place) {
        return;
    }
    let help = if has_gauge {
        "the gauge needs an area: `area = \"0.9 m2\"`; or write the length that the pattern states: `length = \"1150 m\"`"
    } else {
        "write the length that the pattern states: `length = \"1150 m\"`; or an area and a gauge:\narea = \"0.9 m2\"\ngauge = \"19 st, 26 rows / 10 cm\""
    };
    let fault = Diagnostic::new(Code::NoWayToLength, "how much yarn the garment takes cannot be found", place.clone());
    report.fault(fault.label("no length, no area with a gauge or a swatch").help(help));
}

#[expect(clippy::too_many_arguments, reason = "one argument for each thing that a way to the length may need")]
fn by_area(
    raw: &raw::Garment,
    craft: Craft,
    area: Reading<Area>,
    swatch: Option<Swatch>,
    gauge: Option<&Gauge>,
    chosen: Option<&Sample>,
    place: &Place,
    system: System,
    report: &mut Report,
) -> Option<Need> {
    if let Some(Swatch { size, yarn }) = swatch {
        return Some(Need::Swatch { area, size, yarn });
    }
    let known = match raw.stitch.as_deref() {
        Some(stitch) => known_stitch(stitch),
        None if craft == Craft::Knit => Some(Stitch::Stocking),
        None => None,
    };
    let Some(stitch) = known.filter(|_| craft == Craft::Knit) else {
        needs_swatch(raw, craft, place, report);
        return None;
    };
    if raw.stitch.is_none() {
        report.assume(&defaults::STITCH, place.key(defaults::STITCH.key), system);
    }
    // A swatch of the chosen sample is taken to be in stocking stitch: the log does not say its stitch.
    let of_sample = chosen.filter(|_| stitch == Stitch::Stocking);
    if let Some((size, weight)) = of_sample.and_then(|sample| sample.swatch.clone()) {
        return Some(Need::Swatch { area, size, yarn: SwatchYarn::Weight(weight) });
    }
    let gauge = gauge.or_else(|| of_sample.and_then(|sample| sample.gauge.as_ref()));
    match gauge {
        Some(gauge) => Some(Need::Gauge { area, gauge: gauge.clone(), stitch }),
        None if report.was_refused(place) => None,
        None => {
            let fault = Diagnostic::new(Code::NoWayToLength, "an area alone does not tell how much yarn the garment takes", place.key("area"));
            report.fault(fault.label("an area without a gauge").help("write `gauge = \"19 st, 26 rows / 10 cm\"`, or a swatch: `swatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }`"));
            None
        }
    }
}

fn needs_swatch(raw: &raw::Garment, craft: Craft, place: &Place, report: &mut Report) {
    if report.was_refused(place) {
        return;
    }
    let (message, at) = match (&raw.stitch, craft) {
        (Some(stitch), Craft::Knit) => (format!("how much yarn {stitch:?} takes does not follow from the gauge"), place.key("stitch")),
        (_, Craft::Crochet) => ("how much yarn crochet takes does not follow from the gauge".to_owned(), place.key("area")),
        (_, Craft::Weave) => ("how much yarn cloth takes does not follow from its area".to_owned(), place.key("area")),
        (None, Craft::Knit) => return,
    };
    let fault = Diagnostic::new(Code::StitchNeedsSwatch, message, at).label("known for stocking stitch and garter stitch alone");
    report.fault(fault.help("work a swatch in it, and write `swatch = { size = \"15 x 15 cm\", weight = \"6.1 g\" }`; or a stated `length`"));
}

struct Swatch {
    size: Reading<Area>,
    yarn: SwatchYarn,
}

fn swatch(raw: &raw::GarmentSwatch, place: &Place, report: &mut Report) -> Option<Swatch> {
    let size = match &raw.size {
        Some(written) => size(written, &place.key("size"), report),
        None => {
            report.missing("the size of the swatch is not said", place.key("size"), "write `size = \"15 x 15 cm\"`");
            None
        }
    };
    let (weight_key, length_key) = (place.key("weight"), place.key("length"));
    let yarn = match (&raw.weight, &raw.length) {
        (Some(_), Some(_)) => {
            let fault = Diagnostic::new(Code::Contradiction, "expected the weight of the swatch or the length of yarn in it, found both", length_key);
            report.fault(fault.label("says it again").also(weight_key, "said here").help("keep the length if it was unravelled and measured, else the weight"));
            None
        }
        (None, None) => {
            report.missing("how much yarn is in the swatch is not said", place.key("weight"), "write `weight = \"6.1 g\"` or `length = \"14 m\"`");
            None
        }
        (weight @ Some(_), None) => optional(weight.as_ref(), &weight_key, &limits::SWATCH_WEIGHT, report).map(SwatchYarn::Weight),
        (None, length @ Some(_)) => optional(length.as_ref(), &length_key, &limits::SWATCH_LENGTH, report).map(SwatchYarn::Length),
    };
    Some(Swatch { size: size?, yarn: yarn? })
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
            let fault = Diagnostic::new(Code::NotPositive, format!("expected the sides of a swatch to be above zero, found {}", written.0), place.clone());
            report.fault(fault.label("not above zero"));
            return None;
        }
    }
    let symbol = if size.width.unit.system == System::Inch { "in²" } else { "cm²" };
    let in_unit = unit(Kind::Area, symbol).expect("invariant: square inches and centimetres are in the table").from_base(size.area());
    let text = format!("{} {symbol}", exact(in_unit));
    let parsed = parse(&text, Kind::Area).map_err(|error| report.fault(unreadable::fault(&error, &written.0, &limits::SWATCH_SIZE, place))).ok()?;
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
