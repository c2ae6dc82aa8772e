//! One quantity in every unit of its kind. Yarn numbers of both kinds are converted as one.

use super::Kind;
use super::error::UnitError;
use super::format::ten_digits;
use super::reading::{Parsed, parse, parse_any};
use super::table::table;
use super::unit::{Unit, unit};

/// A quantity in one unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The unit.
    pub unit: &'static Unit,
    /// The number in it, to ten significant digits.
    pub number: String,
    /// The give-or-take in it, to ten significant digits; for a reciprocal the same share of the number.
    pub give_or_take: Option<String>,
}

/// A quantity in every unit of its kind, or in the one named.
///
/// # Errors
/// Those of [`parse`]; for a unit that is not one of the kind, [`UnitError::WrongKind`] or [`UnitError::UnknownUnit`].
pub fn convert(text: &str, to: Option<&str>) -> Result<Vec<Row>, UnitError> {
    let parsed = read_any(text)?;
    match to {
        Some(symbol) => Ok(vec![row(&parsed, target(&parsed, symbol)?)?]),
        None => targets(&parsed).map(|unit| row(&parsed, unit)).collect(),
    }
}

/// The text as a quantity of whatever kind has its unit. A bare number is a number of things and nothing to convert.
fn read_any(text: &str) -> Result<Parsed, UnitError> {
    if let Some(parsed) = parse_any(text).into_iter().find(|parsed| !parsed.unit.symbol.is_empty()) {
        return Ok(parsed);
    }
    // The kind that knows the unit has the most to say; where none does, what a yarn number lacks is said.
    let errors = || Kind::ALL.into_iter().filter_map(|kind| parse(text, kind).err());
    let of_its_kind = errors().find(|error| {
        !matches!(
            error,
            UnitError::MissingUnit { .. }
                | UnitError::WrongKind { .. }
                | UnitError::UnknownUnit { .. }
                | UnitError::FoldedWithoutSystem { .. }
        )
    });
    match of_its_kind {
        Some(error) => Err(error),
        None => parse(text, Kind::Yield).map_err(|error| match error {
            UnitError::UnknownUnit { unit, nearest } => {
                let nearest =
                    nearest.or_else(|| Kind::ALL.into_iter().find_map(|kind| super::unit::nearest(kind, &unit)));
                UnitError::UnknownUnit { unit, nearest }
            }
            other => other,
        }),
    }
}

/// The units in which a quantity can be said. Things and money have none but their own.
fn targets(parsed: &Parsed) -> impl Iterator<Item = &'static Unit> {
    let kinds = [Some(parsed.kind), parsed.kind.reciprocal()].into_iter().flatten();
    let own = parsed.unit;
    let is_alone = matches!(parsed.kind, Kind::Count | Kind::Money);
    kinds.flat_map(table).filter(move |unit| if is_alone { *unit == own } else { !unit.symbol.is_empty() })
}

fn target(parsed: &Parsed, symbol: &str) -> Result<&'static Unit, UnitError> {
    let kinds = [Some(parsed.kind), parsed.kind.reciprocal()];
    let found = kinds.into_iter().flatten().find_map(|kind| unit(kind, symbol));
    let is_target = |unit: &Unit| targets(parsed).any(|target| target == unit);
    if let Some(found) = found.filter(|unit| is_target(unit)) {
        return Ok(found);
    }
    let written = symbol.trim().to_owned();
    match Kind::ALL.into_iter().find(|kind| unit(*kind, symbol).is_some()) {
        Some(found) => Err(UnitError::WrongKind { found, wanted: parsed.kind, unit: written }),
        None => {
            let nearest = kinds.into_iter().flatten().find_map(|kind| super::unit::nearest(kind, symbol));
            Err(UnitError::UnknownUnit { unit: written, nearest })
        }
    }
}

fn row(parsed: &Parsed, unit: &'static Unit) -> Result<Row, UnitError> {
    let number = parsed.in_unit(unit);
    if !number.is_finite() {
        return Err(UnitError::NoReciprocal { written: parsed.text.clone(), wanted: unit.kind });
    }
    Ok(Row { unit, number: ten_digits(number), give_or_take: parsed.give_or_take_in(unit).map(ten_digits) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str, to: &str) -> String {
        convert(text, Some(to)).expect(text)[0].number.clone()
    }

    #[test]
    fn yarn_numbers_convert_as_one_kind() {
        assert_eq!(number("2/24 worsted count", "tex"), "73.81765593");
        assert_eq!(number("50 tex", "Nm"), "20");
        assert_eq!(number("840 denier", "cotton count"), "6.327227651");
        let rows = convert("1000 yd/lb", None).expect("converts");
        assert_eq!(rows.len(), table(Kind::Yield).len() + table(Kind::LinearDensity).len());
    }

    #[test]
    fn give_or_take_goes_along() {
        let row = &convert("100 ± 10 tex", Some("m/100 g")).expect("converts")[0];
        assert_eq!((row.number.as_str(), row.give_or_take.as_deref()), ("1000", Some("100")));
    }

    #[test]
    fn degrees_of_both_sorts() {
        assert_eq!(number("113 F", "C"), "45");
        assert_eq!(number("30 deg", "rad"), "0.5235987756");
    }

    #[test]
    fn what_cannot_be_converted_says_why() {
        assert!(matches!(convert("50 tex", Some("g")), Err(UnitError::WrongKind { found: Kind::Mass, .. })));
        assert!(matches!(
            convert("50 tex", Some("deniar")),
            Err(UnitError::UnknownUnit { nearest: Some("denier"), .. })
        ));
        assert!(matches!(convert("19 EUR", Some("GBP")), Err(UnitError::WrongKind { .. })));
        assert!(matches!(convert("50", None), Err(UnitError::MissingUnit { .. })));
        assert!(matches!(convert("2/24", None), Err(UnitError::FoldedWithoutSystem { .. })));
        assert!(matches!(convert("0 tex", Some("yd/lb")), Err(UnitError::NoReciprocal { .. })));
        assert!(matches!(convert("1e300 g", None), Err(UnitError::OutOfRange { .. })));
        assert!(matches!(convert("12 wip", None), Err(UnitError::UnknownUnit { nearest: Some("wpi"), .. })));
        assert!(matches!(convert("64 count", None), Err(UnitError::CountWithoutSystem { .. })));
        assert!(matches!(convert("about 12 g", None), Err(UnitError::NotANumber { .. })));
        assert_eq!(convert("19 EUR", None).expect("converts").len(), 1);
    }
}
