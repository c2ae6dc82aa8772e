//! `[[expect]]`: what the spinner believes of a figure. Whether the figure exists is asked where figures are made.

use super::report::Report;
use super::{limits, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::Expect;
use crate::syntax::raw;
use crate::units::{Kind, UnitError, parse, parse_any};

/// All beliefs in order of writing, `None` in place of one that has a fault.
pub(super) fn expects(plan: &raw::Plan, report: &mut Report) -> Vec<Option<Expect>> {
    let all = Place::plan("expect");
    too_many(plan.expect.len(), limits::MOST_ENTRIES, "beliefs", &all.index(0), report);
    plan.expect.iter().enumerate().map(|(i, raw)| expect(raw, all.index(i), report)).collect()
}

fn expect(raw: &raw::Expect, place: Place, report: &mut Report) -> Option<Expect> {
    let figure = figure(raw, &place, report);
    let Some(raw::Quantity(is)) = &raw.is else {
        report.missing(
            "what the figure is expected to be is not said",
            place.key("is"),
            "write `is = \"1150 ± 100 m\"`",
        );
        return None;
    };
    let readings = readings(is, &place.key("is"), report);
    Some(Expect { figure: figure?, place, is: is.trim().to_owned(), readings: readings? })
}

/// A name such as `garment.pullover.yarn`: two parts or more, parted by dots.
fn figure(raw: &raw::Expect, place: &Place, report: &mut Report) -> Option<String> {
    let Some(figure) = raw.figure.as_deref().map(str::trim) else {
        report.missing(
            "which figure is expected is not said",
            place.key("figure"),
            "write `figure = \"garment.pullover.yarn\"`; the command `figures` lists all of them",
        );
        return None;
    };
    let is_sign = |sign: char| sign.is_alphanumeric() || matches!(sign, ' ' | '-' | '_');
    let has_parts = figure.contains('.') && figure.split('.').all(|part| !part.is_empty() && part.chars().all(is_sign));
    if !has_parts || figure.chars().count() > limits::LONGEST_TEXT {
        let fault = Diagnostic::new(
            Code::UnusableName,
            format!("expected the name of a figure, found {figure:?}"),
            place.key("figure"),
        );
        report.fault(
            fault
                .label("not of the form stage.quantity")
                .help("write a name such as `garment.pullover.yarn`; the command `figures` lists all of them"),
        );
        return None;
    }
    Some(figure.to_owned())
}

/// Every reading of the text: kind, value and give-or-take. Without `±`, half of the last digit written is taken.
fn readings(is: &str, place: &Place, report: &mut Report) -> Option<Vec<(Kind, f64, f64)>> {
    let readings: Vec<_> = parse_any(is)
        .into_iter()
        .map(|read| (read.kind, read.value, read.give_or_take.unwrap_or(read.step / 2.0)))
        .collect();
    if readings.is_empty() {
        // A length is as good as any: what cannot be read at all cannot be read as one either.
        let error = parse(is, Kind::Length).err().unwrap_or(UnitError::Empty);
        report.fault(super::unreadable::fault(&error, is, &limits::EXPECTED, place));
        return None;
    }
    Some(readings)
}
