//! Text of the plan to readings: number, unit and give-or-take, held against what its key asks for.
//!
//! An entry of the plan without `±` is exact where it is a target and as good as its kind of reading otherwise; half
//! of the give-or-take, which holds nineteen times in twenty, is the standard uncertainty.

use std::marker::PhantomData;
use std::ops::RangeInclusive;

use super::defaults::{self, Assumption, Width};
use super::limits::{Measure, Spread};
use super::report::Report;
use super::unreadable::{self, corrected};
use crate::diagnostics::{Code, Diagnostic, File, Place};
use crate::plan::{Origin, Reading, Shape};
use crate::syntax::raw;
use crate::units::{Count, Kind, Parsed, Quantity, System, parse, unit};

/// Reads an entry; `None` if it cannot be read or is out of all proportion, which is then noted.
pub(super) fn reading<Q: Quantity>(
    written: &raw::Quantity,
    place: &Place,
    measure: &'static Measure,
    report: &mut Report,
) -> Option<Reading<Q>> {
    reading_of_text(&written.0, place, measure, report)
}

/// The same of an entry that may be left out.
pub(super) fn optional<Q: Quantity>(
    written: Option<&raw::Quantity>,
    place: &Place,
    measure: &'static Measure,
    report: &mut Report,
) -> Option<Reading<Q>> {
    written.and_then(|written| reading(written, place, measure, report))
}

/// The same of an entry that has a default. `None` only if what is written cannot be read.
pub(super) fn or_default<Q: Quantity>(
    written: Option<&raw::Quantity>,
    assumption: &'static Assumption,
    measure: &'static Measure,
    system: System,
    report: &mut Report,
) -> Option<Reading<Q>> {
    let place = Place::plan(assumption.key);
    match written {
        Some(written) => reading(written, &place, measure, report),
        None => Some(default(assumption, place, system, report)),
    }
}

/// The same of one reading or a list of them, each at its own place. Unreadable ones are noted and left out.
pub(super) fn several<Q: Quantity>(
    written: Option<&raw::Readings>,
    place: &Place,
    measure: &'static Measure,
    report: &mut Report,
) -> Vec<Reading<Q>> {
    let Some(written) = written else { return Vec::new() };
    let listed = written.0.iter().enumerate();
    listed.filter_map(|(i, one)| reading(one, &place.index(i), measure, report)).collect()
}

/// Reads a text that is part of an entry.
pub(super) fn reading_of_text<Q: Quantity>(
    text: &str,
    place: &Place,
    measure: &'static Measure,
    report: &mut Report,
) -> Option<Reading<Q>> {
    let parsed = match parse(text, Q::KIND) {
        Ok(parsed) => parsed,
        Err(error) => {
            report.fault(unreadable::fault(&error, text, measure, place));
            return None;
        }
    };
    reading_of_parsed(&parsed, place, measure, report)
}

/// Holds a quantity against what its key asks for.
pub(super) fn reading_of_parsed<Q: Quantity>(
    parsed: &Parsed,
    place: &Place,
    measure: &'static Measure,
    report: &mut Report,
) -> Option<Reading<Q>> {
    if parsed.readings_comma {
        report.fault(comma_read(parsed, place));
    }
    if let Some(fault) = proportion(parsed, measure, place) {
        report.fault(fault);
        return None;
    }
    let origin = match place.file {
        File::Plan => Origin::Entry,
        File::Log => Origin::Measured,
    };
    let width = parsed.give_or_take.unwrap_or_else(|| usual_width(parsed, place, measure, report));
    Some(assembled(parsed, width, place.clone(), origin))
}

/// A default as a reading; that it is taken is noted.
pub(super) fn default<Q: Quantity>(
    assumption: &'static Assumption,
    place: Place,
    system: System,
    report: &mut Report,
) -> Reading<Q> {
    report.assume(assumption, place.clone(), system);
    unnoted_default(assumption, place, system)
}

/// The same of a default that this plan has no use for.
pub(super) fn unnoted_default<Q: Quantity>(
    assumption: &'static Assumption,
    place: Place,
    system: System,
) -> Reading<Q> {
    let parsed = parse(assumption.text_in(system), Q::KIND)
        .expect("invariant: every numeric default is a quantity, as a test of the table says");
    let origin = Origin::Default(assumption.standing, assumption.reason);
    assembled(&parsed, parsed.give_or_take.unwrap_or(0.0), place, origin)
}

/// What an entry says without a number, as an exact reading: one kind of fibre is all of it.
///
/// # Panics
/// When the text is no quantity of this kind.
pub(super) fn certain<Q: Quantity>(text: &str, place: Place) -> Reading<Q> {
    let parsed = parse(text, Q::KIND).expect("invariant: what an entry stands for is a quantity");
    assembled(&parsed, 0.0, place, Origin::Entry)
}

/// A whole number within these limits; `None` if it is not, which is then noted.
pub(super) fn whole(
    written: i64,
    place: &Place,
    what: &str,
    limits: RangeInclusive<i64>,
    report: &mut Report,
) -> Option<u32> {
    let within = u32::try_from(written).ok().filter(|_| limits.contains(&written));
    if within.is_none() {
        let (least, most) = (limits.start(), limits.end());
        let code = if written < *least { Code::NotPositive } else { Code::Implausible };
        let fault =
            Diagnostic::new(code, format!("expected {what} from {least} to {most}, found {written}"), place.clone());
        let label = if written < *least { "too few" } else { "too many" };
        report.fault(fault.label(label).help(format!("write a whole number from {least} to {most}, without quotes")));
    }
    within
}

/// A whole number as an exact reading.
pub(super) fn counted(number: u32, place: Place) -> Reading<Count> {
    let origin = match place.file {
        File::Plan => Origin::Entry,
        File::Log => Origin::Measured,
    };
    Reading {
        value: f64::from(number),
        uncertainty: 0.0,
        shape: Shape::LogNormal,
        place,
        text: number.to_string(),
        unit: unit(Kind::Count, "").expect("invariant: things are counted without a unit"),
        origin,
        quantity: PhantomData,
    }
}

fn assembled<Q: Quantity>(parsed: &Parsed, width: f64, place: Place, origin: Origin) -> Reading<Q> {
    Reading {
        value: parsed.value,
        uncertainty: width / 2.0,
        shape: if Q::KIND == Kind::Share { Shape::Normal } else { Shape::LogNormal },
        place,
        text: parsed.text.clone(),
        unit: parsed.unit,
        origin,
        quantity: PhantomData,
    }
}

/// Half the width of a reading that does not say it.
fn usual_width(parsed: &Parsed, place: &Place, measure: &'static Measure, report: &mut Report) -> f64 {
    match &measure.spread {
        Spread::Target => {
            report.note(defaults::exact_target());
            0.0
        }
        Spread::Reading(usual) => {
            report.note(usual.assumed());
            match usual.width {
                Width::Share(share) => parsed.value.abs() * share,
                Width::Radians(radians) => radians,
                Width::ScaleStep => parsed.step.min(finest_step(parsed)),
            }
        }
        Spread::AsDefault(assumption) => {
            report.note(assumption.width_assumed(place.clone()));
            let usual = parse(assumption.text, parsed.kind)
                .expect("invariant: every numeric default is a quantity, as a test of the table says");
            usual.give_or_take.unwrap_or(0.0)
        }
    }
}

/// The coarsest step that a household scale is taken to have, in the base unit.
fn finest_step(parsed: &Parsed) -> f64 {
    let step = if parsed.unit.system == System::Inch { "0.1 oz" } else { "1 g" };
    parse(step, parsed.kind).map_or(parsed.step, |step| step.value)
}

/// What is wrong with the size of a quantity that can be read.
fn proportion(parsed: &Parsed, measure: &Measure, place: &Place) -> Option<Diagnostic> {
    let limit = |text: &str| {
        parse(text, parsed.kind).expect("invariant: limits are quantities, as a test of their table says").value
    };
    let (least, most) = (limit(measure.least), limit(measure.most));
    let (what, text) = (measure.what, &parsed.text);
    if parsed.value <= 0.0 && least > 0.0 {
        let fault = Diagnostic::new(
            Code::NotPositive,
            format!("expected {what} to be above zero, found {text}"),
            place.clone(),
        );
        return Some(
            fault
                .label("not above zero")
                .help(format!("write what it is, such as {}", corrected(place, measure.ordinary))),
        );
    }
    if !(least..=most).contains(&parsed.value) {
        let message = format!("expected {what} between {} and {}, found {text}", measure.least, measure.most);
        return Some(Diagnostic::new(Code::Implausible, message, place.clone()).label("out of all proportion").help(
            format!("look at the number and at its unit; an ordinary plan has {}", corrected(place, measure.ordinary)),
        ));
    }
    let width = parsed.give_or_take.unwrap_or(0.0);
    if least > 0.0 && width > parsed.value {
        let message = format!("expected a give-or-take smaller than {what} itself, found {text}");
        return Some(
            Diagnostic::new(Code::Implausible, message, place.clone()).label("it could be less than nothing").help(
                "± stands for the half width that holds nineteen times in twenty, in the same unit as the number",
            ),
        );
    }
    None
}

fn comma_read(parsed: &Parsed, place: &Place) -> Diagnostic {
    let with_stop = parsed.text.replace(',', ".");
    Diagnostic::new(Code::CommaDecimal, format!("{} is read as {with_stop}", parsed.text), place.clone())
        .label("the comma is read as the mark of the decimals")
        .help(format!("to say so yourself, write {}", corrected(place, &with_stop)))
}
