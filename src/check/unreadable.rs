//! What is said of a text that is no quantity of the kind its key asks for: a fault of its own for each way of failing.

use super::limits::Measure;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::units::UnitError;
use crate::units::format::ten_digits;

/// The fault that stands for a failed reading.
pub(super) fn fault(error: &UnitError, text: &str, measure: &Measure, place: &Place) -> Diagnostic {
    let text = text.trim();
    let fault = Diagnostic::new(code(error), message(error, text, measure), place.clone());
    fault.label(label(error)).help(help(error, text, measure, place))
}

fn code(error: &UnitError) -> Code {
    match error {
        UnitError::MissingUnit { .. } => Code::MissingUnit,
        UnitError::UnknownUnit { .. } => Code::UnknownUnit,
        UnitError::WrongKind { .. } => Code::WrongKind,
        UnitError::AmbiguousComma { .. } | UnitError::PartedThousands { .. } => Code::AmbiguousComma,
        UnitError::FoldedWithoutSystem { .. }
        | UnitError::CountWithoutSystem { .. }
        | UnitError::UnknownFolding { .. } => Code::CountWithoutSystem,
        UnitError::OutOfRange { .. } => Code::Implausible,
        UnitError::NoReciprocal { .. } | UnitError::NegativeGiveOrTake { .. } => Code::NotPositive,
        UnitError::NotAGauge { .. } | UnitError::NotASize { .. } => Code::UnreadableMeasure,
        UnitError::Empty | UnitError::TooLong { .. } | UnitError::NotANumber { .. } => Code::NotANumber,
    }
}

fn message(error: &UnitError, text: &str, measure: &Measure) -> String {
    let what = measure.what;
    match error {
        UnitError::MissingUnit { .. } => format!("{text} of what? expected the unit of {what}"),
        UnitError::Empty => format!("expected {what}, found nothing written"),
        UnitError::UnknownUnit { unit, .. } => format!("expected the unit of {what}, found {unit:?}"),
        UnitError::AmbiguousComma { as_decimal, as_thousands } => {
            format!("{text} could be {as_decimal} or {as_thousands}")
        }
        UnitError::FoldedWithoutSystem { .. } => format!("{text} is a folded count that does not say in which system"),
        UnitError::CountWithoutSystem { .. } => format!("{text} is a count that does not say in which system"),
        UnitError::OutOfRange { .. } => {
            format!("expected {what} between {} and {}, found {text}", measure.least, measure.most)
        }
        UnitError::NotAGauge { .. } => format!("expected a gauge, found {text:?}"),
        UnitError::NotASize { .. } => format!("expected a size, found {text:?}"),
        UnitError::WrongKind { found, wanted, .. } => {
            format!("expected {}, found {}: {text}", wanted.words(), found.words())
        }
        UnitError::NotANumber { .. } => format!("expected {what} to begin with a number, found \"{text}\""),
        other => other.to_string(),
    }
}

fn label(error: &UnitError) -> &'static str {
    match error {
        UnitError::MissingUnit { .. } => "a bare number",
        UnitError::UnknownUnit { .. } => "unknown unit",
        UnitError::WrongKind { .. } => "measures something else",
        UnitError::AmbiguousComma { .. } | UnitError::PartedThousands { .. } => "two readings",
        UnitError::FoldedWithoutSystem { .. } | UnitError::CountWithoutSystem { .. } => "in which system?",
        UnitError::UnknownFolding { .. } => "not written folded",
        UnitError::OutOfRange { .. } => "out of all proportion",
        UnitError::NoReciprocal { .. } => "nothing",
        UnitError::NegativeGiveOrTake { .. } => "below zero",
        UnitError::NotAGauge { .. } => "not a gauge",
        UnitError::NotASize { .. } => "not a size",
        UnitError::Empty => "empty",
        UnitError::TooLong { .. } => "too long",
        UnitError::NotANumber { .. } => "no number",
    }
}

fn help(error: &UnitError, text: &str, measure: &Measure, place: &Place) -> String {
    match error {
        UnitError::MissingUnit { could_be } => {
            if let Some(percent) = of_one(text, could_be) {
                return format!("write {}", corrected(place, &percent));
            }
            let offered: Vec<String> =
                could_be.iter().take(3).map(|symbol| corrected(place, &with_unit(text, symbol))).collect();
            format!("write {}", offered.join(" or "))
        }
        UnitError::UnknownUnit { unit, nearest: Some(near) } => {
            format!("write {}", corrected(place, &text.replacen(unit.as_str(), near, 1)))
        }
        UnitError::AmbiguousComma { .. } => format!(
            "write {} or {}",
            corrected(place, &text.replace(',', ".")),
            corrected(place, &text.replace(',', ""))
        ),
        UnitError::PartedThousands { meant, .. } => format!("write {meant}, with its unit"),
        UnitError::FoldedWithoutSystem { .. } | UnitError::CountWithoutSystem { .. } => {
            format!("write {} or {}", corrected(place, "2/24 worsted count"), corrected(place, "1000 yd/lb"))
        }
        UnitError::NotAGauge { .. } => format!("write {}", corrected(place, "19 st, 26 rows / 10 cm")),
        UnitError::NotASize { .. } => format!("write {}", corrected(place, "15 x 15 cm")),
        UnitError::OutOfRange { .. } => {
            format!("look at the number and at its unit; an ordinary plan has {}", corrected(place, measure.ordinary))
        }
        UnitError::NegativeGiveOrTake { .. } => {
            "± stands for the half width that holds nineteen times in twenty; leave its sign out".to_owned()
        }
        UnitError::UnknownFolding { .. } => format!("write {}", corrected(place, "1000 yd/lb")),
        UnitError::UnknownUnit { .. }
        | UnitError::WrongKind { .. }
        | UnitError::Empty
        | UnitError::NotANumber { .. }
        | UnitError::TooLong { .. } => {
            format!("write {}", corrected(place, measure.ordinary))
        }
        UnitError::NoReciprocal { .. } => format!("write what it is, such as {}", corrected(place, measure.ordinary)),
    }
}

/// A share of one that was written without its unit, in percent: "80 %" for 0.8.
fn of_one(text: &str, could_be: &[&'static str]) -> Option<String> {
    let share: f64 = text.parse().ok().filter(|share| *share > 0.0 && *share < 1.0)?;
    could_be.contains(&"%").then(|| with_unit(&ten_digits(share * 100.0), "%"))
}

/// A ratio is written without a space before its unit, everything else with one.
fn with_unit(number: &str, symbol: &str) -> String {
    if symbol.starts_with(':') { format!("{number}{symbol}") } else { format!("{number} {symbol}") }
}

/// The entry as it would stand in the file: `weight = "113 g"`, or the text alone within a list.
pub(super) fn corrected(place: &Place, text: &str) -> String {
    let key = place.path.rsplit('.').next().unwrap_or_default();
    let is_plain = !key.is_empty() && key.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
    if is_plain { format!("`{key} = \"{text}\"`") } else { format!("`\"{text}\"`") }
}
